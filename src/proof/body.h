// The turned part as the judge measures against it.
//
// The body is the intersection of the revolved outline with one extruded half-space a face, so its outside is the union of
// their outsides, and the depth of a point under the skin is exactly the least of plane distances: to the curve r(x) in
// the plane (x, distance from the axis), and to each d_f(x) in the plane (x, height over the axis along phi_f). Radial
// differences exaggerate on steep walls; these depths do not. The part's end planes are skin like the rest. Where treatments (flutes, reeds,
// twists) shape the skin, it is R(x, theta) of shape/part.h and its distance is searched.
#pragma once

#include <vector>

#include "proof/grid.h"

namespace pommel::proof {

/// Least distance from the point (x, v) to the curve of the profile with its walls at jumps, mm; at most `limit` (that is
/// what comes back when nothing is nearer). Exact for lines and arcs; cubics are searched to 1e-9 mm.
double distance_to_curve(const shape::Profile& profile, double x, double v, double limit);

/// Normal depth below the skin of the point at distance t from the axis, mm; 0 when it is outside.
double depth_below_skin(const shape::Part& part, double x, double theta, double t);

/// How far the point at distance t stands off the body, mm; 0 inside. It is the greatest of the distances to the outline
/// and to the faces it stands outside of: exact over smooth skin, a lower bound beyond an arris.
double height_above_skin(const shape::Part& part, double x, double theta, double t);

/// The closed body's R(x, theta) on every ray, mm; 0 on rows outside the part. At a knot the greater of both sides.
std::vector<float> body_radii(const Grid& grid, const shape::Part& part);

/// Label of the element at x, empty where there is none; at a boundary the one that begins.
std::string element_at(const shape::Part& part, double x);

}  // namespace pommel::proof
