#include "match/suspects.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "match/circle.h"

namespace pommel::match {
namespace {

constexpr double kDeviations = 10;  // a reading foretold within so many deviations, and the next, is supported
constexpr double kNearly = 0.25;    // mm
constexpr double kClose = 1.2;      // mm: of two readings so close together each supports the other
constexpr double kReach = 4;        // a pair foretells no farther than so many times its own width

double tolerance(const Sample& s) { return kNearly + kDeviations * s.sr; }

bool on_line(const Sample& a, const Sample& b, const Sample& s) {
  const double width = std::fabs(b.x - a.x), away = std::min(std::fabs(s.x - a.x), std::fabs(s.x - b.x));
  const bool between = (s.x - a.x) * (s.x - b.x) <= 0;
  if (width <= 0 || (!between && away > kReach * width)) return false;
  const double r = a.r + (b.r - a.r) * (s.x - a.x) / (b.x - a.x);
  return std::fabs(r - s.r) <= tolerance(s);
}

/// Square to the circle through three: distance of the fourth.
bool on_circle(const Sample& a, const Sample& b, const Sample& c, const Sample& s) {
  const auto circle = circle_through(a, b, c);
  return circle && std::fabs(std::hypot(s.x - circle->cx, s.r - circle->cr) - circle->rho) <= tolerance(s);
}

bool supported(std::span<const Sample> all, std::size_t k) {
  const Sample& s = all[k];
  const auto at = [&](int step) -> const Sample* {
    const auto i = static_cast<std::ptrdiff_t>(k) + step;
    return i >= 0 && i < static_cast<std::ptrdiff_t>(all.size()) ? &all[static_cast<std::size_t>(i)] : nullptr;
  };
  for (int step : {-1, 1}) {
    const Sample* n = at(step);
    if (n && std::fabs(n->x - s.x) <= kClose && std::fabs(n->r - s.r) <= tolerance(s) + std::fabs(n->x - s.x)) return true;
  }
  for (const auto& [i, j] : {std::pair{-2, -1}, {1, 2}, {-1, 1}}) {
    if (at(i) && at(j) && on_line(*at(i), *at(j), s)) return true;
  }
  for (const auto& [i, j, l] : {std::array{-3, -2, -1}, {-2, -1, 1}, {-1, 1, 2}, {1, 2, 3}}) {
    if (at(i) && at(j) && at(l) && on_circle(*at(i), *at(j), *at(l), s)) return true;
  }
  return false;
}

}  // namespace

std::vector<char> suspects(std::span<const Sample> samples) {
  std::vector<char> out(samples.size(), 0);
  for (std::size_t k = 0; k < samples.size(); ++k) out[k] = !supported(samples, k);
  return out;
}

}  // namespace pommel::match
