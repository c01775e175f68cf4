// Where an element of a mesh can be touched: a hull of points, cut by a slab across the axis, seen from the axis.
// For this room only.
#pragma once

#include <array>

#include "mill/mesh_skin.h"

namespace pommel::mill {

/// Directions from < to <= from + pi, or all of them.
struct Window {
  bool none = false, all = false;
  double from = 0, to = 0;
};

/// The cutter's reference points of all touches with one element lie within `reach` of the hull, sideways and along x.
/// The hull is a segment (2 points), a triangle (3) or a prism over four points (0 to 3, and 4 to 7 in the same order).
struct Hull {
  std::array<Vector, 8> points{};
  int count = 0;
  double reach = 0;
  bool front = true;  ///< touched on the side of the axis that looks to the cutter
  bool back = false;  ///< touched beyond the axis: the height is negative, the direction the opposite one

  double least_x() const;
  double greatest_x() const;
  /// The directions in which the hull stands between x = from and x = to; its front side.
  Window window(double from, double to) const;
};

}  // namespace pommel::mill
