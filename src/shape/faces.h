// The faces of common sections, and faces changed along the piece. Distances are from the axis (half the width), mm.
#pragma once

#include <vector>

#include "base/result.h"
#include "shape/part.h"

namespace pommel::shape {

/// Faces A, B, C, D at width / 2, along the whole length. REQUIRES: both > 0.
std::vector<Face> square_faces(double width, double length);

/// `sides` faces at across_flats / 2, the first looking along theta = 0, the rest in the direction of growing theta.
/// REQUIRES: sides >= 3, sizes > 0.
std::vector<Face> polygon_faces(int sides, double across_flats, double length);

/// From x0 to x1 the face moves straight from where it is to d1; beyond x1 it stays at d1.
struct FaceTaper {
  std::vector<std::size_t> faces;  ///< indices: 0 is face A
  double x0 = 0, x1 = 0;           ///< 0 <= x0 < x1 <= length
  double d1 = 0;                   ///< > 0

  bool operator==(const FaceTaper&) const = default;
};

/// Fails with "faces.taper": a face that is not there (or is clear at x0), ends out of order or out of the piece, d1 not
/// positive.
Result<std::vector<Face>> tapered(std::vector<Face> faces, const FaceTaper& taper);

/// The face is not there from x0 to x1. Fails with "faces.clear": no such face, ends out of order or out of the piece.
Result<std::vector<Face>> cleared(std::vector<Face> faces, std::size_t face, double x0, double x1);

}  // namespace pommel::shape
