// Area of a section's outline by Green's theorem, with the segments of its arcs: held against the closed form of shape/.
#pragma once

#include <cmath>
#include <vector>

#include "paper/arc.h"
#include "paper/page.h"

namespace pommel::paper {

inline double area_within(const std::vector<Vertex>& line) {
  double area = 0;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const Vertex &a = line[i], &b = line[(i + 1) % line.size()];
    area += (a.x * b.y - b.x * a.y) / 2;
    if (a.bulge == 0) continue;
    const Arc arc = arc_of(a, b);
    area += arc.radius * arc.radius * (arc.sweep - std::sin(arc.sweep)) / 2;
  }
  return area;
}

}  // namespace pommel::paper
