// Mortises and bores as the pockets that are cut for them.
#pragma once

#include <vector>

#include "shape/part.h"

namespace pommel::shape {

/// Directions nearer than this are one face, rad.
inline constexpr double kSameDirection = 1e-9;

/// One plunge of the cutter: everything over x0..x1, t0..t1 from `bottom` outwards, with corners rounded in the plane of the face.
struct Pocket {
  double phi = 0;
  double x0 = 0, x1 = 0, t0 = 0, t1 = 0;
  double bottom = 0;  ///< distance of its bottom from the axis along phi; negative beyond the axis
  double corner_radius = 0;
};

/// The pockets of all mortises: one each, and one more for a haunch. A mortise without a face gives none (see problems()).
std::vector<Pocket> pockets(const Part& part);

/// The pockets of all bores: a round hole is a pocket whose corners are its radius; one more for a seat. One that goes through
/// reaches beyond the piece. A bore without a face gives none.
std::vector<Pocket> bore_pockets(const Part& part);

/// The wood on the bore's axis from its face's plane to where the section, before treatments, ends on the other side, mm; 0 where
/// there is no such face or the axis passes beside the section.
double thickness_at(const Part& part, const Bore& bore);
/// True when the bore is at least as deep as the wood is thick on its axis (within 1e-6 mm).
bool goes_through(const Part& part, const Bore& bore);

/// The face that looks along phi, or null.
const Face* face_looking(const Part& part, double phi);

}  // namespace pommel::shape
