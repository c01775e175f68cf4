// The openings that a part's joints make in its faces: of a mortise and its haunch, of a bore and its seat, one each. A hole that goes
// through opens on the far side too, where it may be cut from as well.
#pragma once

#include <string>
#include <vector>

#include "shape/part.h"

namespace pommel::proof {

/// A rectangle with round corners in the plane (x, t) of its face; a circle is a square with corners as large as it.
struct Opening {
  std::string id;                                ///< of the mortise or bore
  double phi = 0;                                ///< direction of its face, radians
  double x = 0, t = 0;                           ///< middle, mm
  double half_x = 0, half_t = 0, corner = 0;     ///< mm
  double bottom = 0;                             ///< distance from the axis along phi, mm; -infinity: through

  /// Signed distance from its outline, mm, negative inside; with corners of at least `corner_least`.
  double from_outline(double px, double pt, double corner_least = 0) const;
};

struct OutlinePoint {
  double x = 0, t = 0;
};
/// Points at the signed distance `beside` from the outline, at most `step` apart along it.
std::vector<OutlinePoint> along_outline(const Opening& opening, double beside, double step);

std::vector<Opening> openings_of(const shape::Part& part);

}  // namespace pommel::proof
