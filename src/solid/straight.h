// Straight pieces as exact boundaries: a rail with its tenons, a board, a base. The kernel's work is as in solid.h.
//
// Coordinates are the piece's own: x along it, millimetres.
#pragma once

#include <stop_token>
#include <string>
#include <vector>

#include "solid/solid.h"

namespace pommel::solid {

/// x0..x1, y0..y1, z0..z1, its four long edges rounded by `corner`.
struct Bar {
  double x0 = 0, x1 = 0, y0 = 0, y1 = 0, z0 = 0, z1 = 0;
  double corner = 0;
};

/// A round hole from a point on, along a unit vector.
struct Drill {
  Point from, towards;
  double diameter = 0, length = 0;
};

/// A saw's plane through a point: what lies on the side of the unit vector `away` comes off.
struct SawCut {
  Point at, away;
};

/// All wood of the bars, less grooves, holes and what is sawn off.
struct Straight {
  std::string name;
  std::vector<Bar> bars, grooves;
  std::vector<Drill> drills;
  std::vector<SawCut> saw_cuts;
};

/// Fails with "solid.kernel", "cancelled", "solid.pieces" where the bars do not hang together, "solid.invalid". REQUIRES: at least one bar;
/// each with its ends in order.
Result<Solid> straight(const Straight& piece, std::stop_token stop = {});

}  // namespace pommel::solid
