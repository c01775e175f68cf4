// The slow, obvious judge: distance from the ball's centre to the body, by looking everywhere. It knows only that a
// section is what the outline's circle and the faces leave, and shares nothing with the kernel under test.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include "shape/part.h"

namespace pommel::mill::testing {

/// One section: r and the faces at an x, by the pieces on one side of a knot.
struct Slice {
  double r = 0;
  std::vector<double> phi, d;

  double radius(double theta) const {
    double found = r;
    for (std::size_t f = 0; f < phi.size(); ++f) {
      const double c = std::cos(theta - phi[f]);
      if (c > 1e-9) found = std::min(found, d[f] / c);
    }
    return found;
  }
};

inline Slice slice(const shape::Part& part, double x, shape::Side side) {
  Slice s;
  s.r = part.outline.value(x, side);
  for (const shape::Face& face : part.faces) {
    s.phi.push_back(face.phi);
    s.d.push_back(face.d.value(x, side));
  }
  return s;
}

template <class F>
double golden_minimum(const F& f, double a, double b, int steps) {
  constexpr double g = 0.6180339887498949;
  double p = b - g * (b - a), q = a + g * (b - a), fp = f(p), fq = f(q);
  for (int i = 0; i < steps; ++i) {
    if (fp < fq) {
      b = q, q = p, fq = fp, p = b - g * (b - a), fp = f(p);
    } else {
      a = p, p = q, fp = fq, q = a + g * (b - a), fq = f(q);
    }
  }
  return std::min(fp, fq);
}

/// Distance in the plane from the point at height c in direction a to the filled section.
inline double plane_distance(const Slice& s, double c, double a) {
  auto to_ray = [&](double u) {  // to the part of the ray at angle a + u that is wood
    const double along = std::clamp(c * std::cos(u), 0.0, s.radius(a + u));
    return std::hypot(c * std::cos(u) - along, c * std::sin(u));
  };
  constexpr int kRays = 50;
  constexpr double kWide = std::numbers::pi / 2;
  int best = 0;
  double least = std::numeric_limits<double>::infinity();
  for (int i = -kRays; i <= kRays; ++i) {
    // crowded under the cutter
    const double u = kWide * std::pow(std::abs(i) / double(kRays), 1.5) * (i < 0 ? -1 : 1);
    if (const double here = to_ray(u); here < least) least = here, best = i;
  }
  auto angle = [&](int i) { return kWide * std::pow(std::abs(i) / double(kRays), 1.5) * (i < 0 ? -1 : 1); };
  return std::min(least, golden_minimum(to_ray, angle(best - 1), angle(best + 1), 40));
}

/// Distance from the ball's centre at (x0, height c, direction a) to the body; points farther than `within` along x do
/// not count.
inline double body_distance(const shape::Part& part, double x0, double c, double a, double within) {
  auto at = [&](double x, shape::Side side) { return std::hypot(x - x0, plane_distance(slice(part, x, side), c, a)); };
  std::vector<double> ends{std::max(0.0, x0 - within), std::min(part.length, x0 + within)};
  if (ends[0] >= ends[1] && ends[0] != 0 && ends[1] != part.length) return std::numeric_limits<double>::infinity();
  auto take = [&](const shape::Profile& profile) {
    for (const shape::Piece& p : profile.pieces) {
      if (p.x0 > ends[0] && p.x0 < ends[1]) ends.push_back(p.x0);
    }
  };
  take(part.outline);
  for (const shape::Face& face : part.faces) take(face.d);
  std::sort(ends.begin(), ends.end());
  double least = std::numeric_limits<double>::infinity();
  for (double x : ends) {
    x = std::clamp(x, 0.0, part.length);
    least = std::min({least, at(x, shape::Side::before), at(x, shape::Side::after)});
  }
  for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
    const double x_a = ends[i], x_b = ends[i + 1];
    if (x_b - x_a < 1e-9) continue;
    const int steps = std::clamp(static_cast<int>((x_b - x_a) / within * 24), 8, 48);
    std::vector<double> x(steps + 1), y(steps + 1);
    for (int k = 0; k <= steps; ++k) {
      x[k] = x_a + (x_b - x_a) * (1 - std::cos(std::numbers::pi * k / steps)) / 2;
      y[k] = at(x[k], k == 0 ? shape::Side::after : shape::Side::before);
    }
    for (int k = 0; k <= steps; ++k) {  // every dip is followed down
      if ((k > 0 && y[k - 1] < y[k]) || (k < steps && y[k + 1] < y[k]) || y[k] > least + 0.3) continue;
      auto inside = [&](double p) { return at(p, shape::Side::before); };
      least = std::min(least, golden_minimum(inside, x[std::max(0, k - 1)], x[std::min(steps, k + 1)], 30));
    }
  }
  return least;
}

}  // namespace pommel::mill::testing
