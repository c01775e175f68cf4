#include "paper/arc.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace pommel::paper {

std::vector<Vertex> flattened(const std::vector<Vertex>& points, bool closed) {
  std::vector<Vertex> out;
  const std::size_t ways = points.size() < 2 ? 0 : points.size() - (closed ? 0 : 1);
  for (std::size_t i = 0; i < ways; ++i) {
    const Vertex &a = points[i], &b = points[(i + 1) % points.size()];
    out.push_back({a.x, a.y, 0});
    if (a.bulge == 0) continue;
    const Arc arc = arc_of(a, b);
    const int steps = std::max(4, static_cast<int>(std::fabs(arc.sweep) / (2 * std::numbers::pi) * 72));
    for (int k = 1; k < steps; ++k) {
      const double angle = arc.from + arc.sweep * k / steps;
      out.push_back({arc.x + arc.radius * std::cos(angle), arc.y + arc.radius * std::sin(angle), 0});
    }
  }
  if (ways > 0) out.push_back({points[ways % points.size()].x, points[ways % points.size()].y, 0});
  return out;
}

Arc arc_of(const Vertex& a, const Vertex& b) {
  // with u = tan(sweep / 4): the middle of the chord lies (1 - u²) / (2 u) half chords from the centre
  const double u = a.bulge, dx = b.x - a.x, dy = b.y - a.y;
  const double off = (1 - u * u) / (4 * u);
  Arc arc;
  arc.x = (a.x + b.x) / 2 - dy * off;
  arc.y = (a.y + b.y) / 2 + dx * off;
  arc.radius = std::hypot(a.x - arc.x, a.y - arc.y);
  arc.from = std::atan2(a.y - arc.y, a.x - arc.x);
  arc.sweep = 4 * std::atan(u);
  return arc;
}

}  // namespace pommel::paper
