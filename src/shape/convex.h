// Convex polygons in the section plane, for what mortises take out of it. Inside shape/ only.
#pragma once

#include <vector>

namespace pommel::shape {

struct Point {
  double y = 0, z = 0;
};

/// Counter-clockwise; fewer than three points: empty.
using Convex = std::vector<Point>;

/// The part of the polygon where y * ny + z * nz <= d.
Convex clipped(const Convex& polygon, double ny, double nz, double d);
/// `polygon` without `hole`, as convex polygons that do not overlap.
std::vector<Convex> without(const Convex& polygon, const Convex& hole);
/// Area of the polygon inside the circle of radius r about the origin; r may be infinite.
double area_in_circle(const Convex& polygon, double r);

}  // namespace pommel::shape
