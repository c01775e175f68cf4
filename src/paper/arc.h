// Bulged ways as circles and as chords.
#pragma once

#include <vector>

#include "paper/page.h"

namespace pommel::paper {

/// The circle that a bulged way follows.
struct Arc {
  double x = 0, y = 0, radius = 0;
  double from = 0, sweep = 0;  ///< radians, turning from x towards y
};
/// REQUIRES: a.bulge != 0.
Arc arc_of(const Vertex& a, const Vertex& b);

/// The path as chords: arcs in steps of 5 degrees or less. A closed one ends on its first point.
std::vector<Vertex> flattened(const std::vector<Vertex>& points, bool closed);

}  // namespace pommel::paper
