// The slow, obvious judge for whole cutters: the least distance from any point of the wood to the cutter's body (negative: how deep it
// is inside), by looking everywhere. It reads the cutter's meridian from what shop/shop.h says of it and the wood from shape/ring.h, and
// shares nothing with the kernel under test.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include "mill/judge.h"
#include "shape/crease.h"
#include "shape/part.h"
#include "shape/ring.h"
#include "shop/shop.h"

namespace pommel::mill::testing {

/// Distance in the meridian plane from (q, h above the tip) to one body that goes on upwards for ever; negative inside.
struct Meridian {
  double z, flat, corner, outer, half_angle;  // half_angle 0: a disc rounded at its rim

  double distance(double q, double h) const {
    if (half_angle == 0) {
      const double beside = q - flat, below = z + corner - h;
      const double core = beside > 0 && below > 0 ? std::hypot(beside, below) : std::max(beside, below);
      return core - corner;
    }
    const double top = z + (outer - flat) / std::tan(half_angle), c = std::cos(half_angle), s = std::sin(half_angle);
    const double off = (q - flat) * c - (h - z) * s, along = (q - flat) * s + (h - z) * c, length = std::hypot(outer - flat, top - z);
    if (off <= 0 && q <= outer && h >= z) return std::max({off, q - outer, z - h});
    const double level = q <= flat ? std::fabs(h - z) : std::hypot(q - flat, h - z);
    const double wall = h >= top ? std::fabs(q - outer) : std::hypot(q - outer, h - top);
    const double flank = along < 0 || along > length ? std::numeric_limits<double>::infinity() : std::fabs(off);
    return std::min({level, wall, flank});
  }
};

inline std::vector<Meridian> meridians(const shop::Cutter& c) {
  using Form = shop::Cutter::Form;
  const double r = c.diameter / 2;
  std::vector<Meridian> out;
  if (c.form == Form::ball) out.push_back({0, 0, r, r, 0});
  if (c.form == Form::flat) out.push_back({0, r, 0, r, 0});
  if (c.form == Form::bull_nose) out.push_back({0, r - c.tip_radius, c.tip_radius, r, 0});
  if (c.form == Form::tapered_ball || c.form == Form::vee) {
    const double flat = c.form == Form::vee ? c.tip_flat / 2 : 0, s = std::sin(c.half_angle), k = std::cos(c.half_angle);
    out.push_back({0, flat, c.tip_radius, flat + c.tip_radius, 0});
    out.push_back({c.tip_radius * (1 - s), flat + c.tip_radius * k, 0, r, c.half_angle});
  }
  if (c.shank_diameter > 0) out.push_back({c.flute_length, c.shank_diameter / 2, 0, c.shank_diameter / 2, 0});
  if (c.collet_diameter > 0) out.push_back({c.shank_length, c.collet_diameter / 2, 0, c.collet_diameter / 2, 0});
  if (c.holder_diameter > 0) out.push_back({c.shank_length + c.collet_length, c.holder_diameter / 2, 0, c.holder_diameter / 2, 0});
  return out;
}

struct PlacedCutter {
  std::vector<Meridian> bodies;
  double x0, tip, a;

  double reach() const {
    double widest = 0;
    for (const Meridian& m : bodies) widest = std::max(widest, m.outer);
    return widest;
  }
  /// To the point at (x, direction a + u, `along` mm from the axis).
  double distance(double x, double u, double along) const {
    const double q = std::hypot(x - x0, along * std::sin(u)), h = along * std::cos(u) - tip;
    double least = std::numeric_limits<double>::infinity();
    for (const Meridian& m : bodies) least = std::min(least, m.distance(q, h));
    return least;
  }
  /// To all points of the ray up to `radius`: each body by itself, since the distance to a convex body has one dip.
  double distance_to_ray(double x, double u, double radius) const {
    double least = std::numeric_limits<double>::infinity();
    for (const Meridian& m : bodies) {
      auto along = [&](double r) { return m.distance(std::hypot(x - x0, r * std::sin(u)), r * std::cos(u) - tip); };
      least = std::min({least, along(radius), golden_minimum(along, 0, radius, 40)});
    }
    return least;
  }
};

struct SectionGap {
  double least = 0;
  bool at_edge = false;  ///< only a look at the section's own edges has found it
};

/// `filled`: the section is a wall, all of it counts; else its rim. `edges`: between two that stand closer than the rays a search follows
/// either, so each is looked at by itself, which takes several times as long.
inline SectionGap section_gap(const PlacedCutter& cutter, const shape::Part& part, double x, shape::Side side, bool filled, bool edges) {
  const shape::Ring ring = shape::ring_at(part, x, side);
  auto gap = [&](double u) {
    const double r = ring.radius(cutter.a + u);
    return filled ? cutter.distance_to_ray(x, u, r) : cutter.distance(x, u, r);
  };
  constexpr int kRays = 40;
  auto angle = [&](int i) { return std::numbers::pi / 2 * std::pow(std::abs(i) / double(kRays), 1.5) * (i < 0 ? -1 : 1); };
  std::vector<double> y(2 * kRays + 1);
  for (int i = -kRays; i <= kRays; ++i) y[static_cast<std::size_t>(i + kRays)] = gap(angle(i));
  double least = *std::min_element(y.begin(), y.end());
  for (int i = -kRays; i <= kRays; ++i) {
    const auto k = static_cast<std::size_t>(i + kRays);
    if ((k > 0 && y[k - 1] < y[k]) || (k + 1 < y.size() && y[k + 1] < y[k]) || y[k] > least + 0.15) continue;
    least = std::min(least, golden_minimum(gap, angle(std::max(-kRays, i - 1)), angle(std::min(kRays, i + 1)), 26));
  }
  SectionGap found{least, false};
  if (!edges || !ring.treated()) return found;
  for (const double edge : ring.creases()) {
    const double u = std::remainder(edge - cutter.a, 2 * std::numbers::pi);
    const double there = std::fabs(u) < std::numbers::pi / 2 ? gap(u) : found.least;
    if (there < found.least - 1e-6) found = {there, true};
  }
  return found;
}

/// Of one body, whose distance has few dips.
inline double body_gap(const shape::Part& part, const PlacedCutter& cutter) {
  const double reach = cutter.reach() + 0.05, first = part.outline.start(), last = part.outline.end();
  std::vector<double> ends{std::max(first, cutter.x0 - reach), std::min(last, cutter.x0 + reach)};
  if (ends[0] > ends[1]) return std::numeric_limits<double>::infinity();
  for (double x : shape::knots(part)) {
    if (x > ends[0] && x < ends[1]) ends.push_back(x);
  }
  std::sort(ends.begin(), ends.end());
  double least = std::numeric_limits<double>::infinity();
  for (double x : ends) {
    for (shape::Side side : {shape::Side::before, shape::Side::after}) least = std::min(least, section_gap(cutter, part, x, side, true, true).least);
  }
  for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
    const double a = ends[i], b = ends[i + 1];
    if (b - a < 1e-9) continue;
    const int steps = std::clamp(static_cast<int>((b - a) / reach * 24), 6, 40);
    std::vector<double> x(static_cast<std::size_t>(steps) + 1), y(x.size());
    std::vector<bool> at_edge(x.size());
    for (int k = 0; k <= steps; ++k) {
      const auto n = static_cast<std::size_t>(k);
      x[n] = a + (b - a) * (1 - std::cos(std::numbers::pi * k / steps)) / 2;
      const SectionGap there = section_gap(cutter, part, x[n], k == 0 ? shape::Side::after : shape::Side::before, false, true);
      y[n] = there.least, at_edge[n] = there.at_edge;
      least = std::min(least, y[n]);
    }
    for (std::size_t k = 0; k < x.size(); ++k) {
      if ((k > 0 && y[k - 1] < y[k]) || (k + 1 < y.size() && y[k + 1] < y[k]) || y[k] > least + 1) continue;
      const bool edges = at_edge[k] || (k > 0 && at_edge[k - 1]) || (k + 1 < x.size() && at_edge[k + 1]);
      auto inside = [&](double p) { return section_gap(cutter, part, p, shape::Side::before, false, edges).least; };
      least = std::min(least, golden_minimum(inside, x[k > 0 ? k - 1 : 0], x[std::min(k + 1, x.size() - 1)], 24));
    }
  }
  return least;
}

/// Least distance of the wood from the cutter; -depth when it is inside. Infinite when no wood is near.
inline double cutter_gap(const shape::Part& part, const PlacedCutter& cutter) {
  const double highest = shape::reach(part);
  double least = std::numeric_limits<double>::infinity();
  for (const Meridian& body : cutter.bodies) {
    if (cutter.tip + body.z < highest + 3) least = std::min(least, body_gap(part, {{body}, cutter.x0, cutter.tip, cutter.a}));
  }
  return least;
}

}  // namespace pommel::mill::testing
