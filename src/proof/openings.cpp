#include "proof/openings.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "shape/mortise.h"

namespace pommel::proof {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;

std::string id_of(const shape::Part& part, const shape::Pocket& pocket) {
  for (const shape::Mortise& m : part.mortises) {
    bool within = pocket.x1 <= m.x1 + 1e-9 && pocket.x0 >= m.x0 - m.haunch_length - 1e-9 && pocket.t0 == m.t0 && pocket.t1 == m.t1;
    if (within && std::fabs(std::remainder(m.phi - pocket.phi, kTurn)) < shape::kSameDirection) return m.id;
  }
  return "mortise";
}

void add_bore(const shape::Part& part, const shape::Bore& b, std::vector<Opening>& all) {
  const shape::Face* face = shape::face_looking(part, b.phi);
  double d = face != nullptr ? face->d.value(b.x) : shape::radius_at(part, b.x, b.phi);
  bool through = b.depth >= d + shape::radius_at(part, b.x, b.phi + kTurn / 2) - 1e-9;
  double r = b.diameter / 2, seat = b.seat_diameter / 2, none = -std::numeric_limits<double>::infinity();
  all.push_back({b.id, b.phi, b.x, b.t, r, r, r, through ? none : d - b.depth});
  if (seat > 0) all.push_back({b.id, b.phi, b.x, b.t, seat, seat, seat, d - b.seat_depth});
  if (through) all.push_back({b.id, b.phi + kTurn / 2, b.x, -b.t, r, r, r, none});
}

}  // namespace

double Opening::from_outline(double px, double pt, double corner_least) const {
  double r = std::min({std::max(corner, corner_least), half_x, half_t});
  double qx = std::fabs(px - x) - (half_x - r), qt = std::fabs(pt - t) - (half_t - r);
  return std::hypot(std::max(qx, 0.0), std::max(qt, 0.0)) + std::min(std::max(qx, qt), 0.0) - r;
}

// Rays from its middle, brought to the wanted distance by bisection.
std::vector<OutlinePoint> along_outline(const Opening& o, double beside, double step) {
  double round = 4 * (o.half_x + o.half_t), a = 2 * o.half_x, b = 2 * o.half_t;
  auto n = static_cast<int>(std::ceil(round / step));
  std::vector<OutlinePoint> points;
  for (int i = 0; i < n; ++i) {
    // along the rectangle's border by its length, so that long sides are as dense as short ones
    double way = round * i / n, ux, ut;
    if (way < a) ux = way - o.half_x, ut = -o.half_t;
    else if (way < a + b) ux = o.half_x, ut = way - a - o.half_t;
    else if (way < 2 * a + b) ux = o.half_x - (way - a - b), ut = o.half_t;
    else ux = -o.half_x, ut = o.half_t - (way - 2 * a - b);
    double low = 0, high = 2;
    for (int k = 0; k < 40; ++k) {
      double middle = (low + high) / 2;
      (o.from_outline(o.x + ux * middle, o.t + ut * middle) < beside ? low : high) = middle;
    }
    points.push_back({o.x + ux * low, o.t + ut * low});
  }
  return points;
}

std::vector<Opening> openings_of(const shape::Part& part) {
  std::vector<Opening> all;
  for (const shape::Pocket& p : shape::pockets(part)) {
    all.push_back({id_of(part, p), p.phi, (p.x0 + p.x1) / 2, (p.t0 + p.t1) / 2, (p.x1 - p.x0) / 2, (p.t1 - p.t0) / 2, p.corner_radius, p.bottom});
  }
  for (const shape::Bore& b : part.bores) add_bore(part, b, all);
  return all;
}

}  // namespace pommel::proof
