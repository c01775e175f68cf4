#include "proof/second_look.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "proof/sweep.h"

namespace pommel::proof {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kStep = std::numbers::pi / 720;  // 0.25 degrees
constexpr double kTouch = 1e-9;                   // mm: gaps that meet are one

using Gap = std::pair<double, double>;  // entry, exit

motion::Position between(const motion::Position& from, const motion::Position& to, double share) {
  return {from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share, from.z + (to.z - from.z) * share,
          from.a + (to.a - from.a) * share};
}

// The gaps that one move makes; only where its direction comes within `window` of the ray's can it meet the ray.
void gaps_of(const Tool& tool, const motion::Position& from, const motion::Position& to, double x, double theta, double window,
             std::vector<Gap>& gaps) {
  auto add = [&](double s0, double s1) {
    const motion::Position a = between(from, to, s0), b = between(from, to, s1);
    if (const auto met = Sweep(tool, a, b).meet(x, theta)) gaps.emplace_back(met->entry, met->exit);
  };
  const double turn = to.a - from.a;
  if (std::fabs(turn) < 1e-12) return add(0, 1);
  const double low = std::min(from.a, to.a), high = std::max(from.a, to.a);
  for (double k = std::ceil((low - window - theta) / kTurn); theta + k * kTurn - window <= high; ++k) {
    const double a0 = std::max(low, theta + k * kTurn - window), a1 = std::min(high, theta + k * kTurn + window);
    if (a0 > a1) continue;
    const int steps = std::max(1, static_cast<int>(std::ceil((a1 - a0) / kStep)));
    for (int i = 0; i < steps; ++i) {
      const double s0 = (a0 + (a1 - a0) * i / steps - from.a) / turn, s1 = (a0 + (a1 - a0) * (i + 1) / steps - from.a) / turn;
      add(std::clamp(std::min(s0, s1), 0.0, 1.0), std::clamp(std::max(s0, s1), 0.0, 1.0));
    }
  }
}

}  // namespace

double standing_on(std::span<const Worked> all, double x, double theta, double start) {
  std::vector<Gap> gaps;
  for (const Worked& worked : all) {
    // a ray that has wood out to `start` is met at no point nearer than the cutter's least height allows: the window is widest there
    const double wide = worked.tool->radius;
    motion::Position at = worked.path->start;
    for (const motion::Move& move : worked.path->moves) {
      const double least = std::min(at.z, move.to.z);
      const double window = least > wide ? std::asin(wide / least) : kTurn / 4;
      if (!move.rapid && std::min(at.x, move.to.x) - wide < x && std::max(at.x, move.to.x) + wide > x && least < start)
        gaps_of(*worked.tool, at, move.to, x, theta, window, gaps);
      at = move.to;
    }
  }
  std::sort(gaps.begin(), gaps.end(), [](const Gap& a, const Gap& b) { return a.second > b.second; });
  double top = start;
  for (const Gap& gap : gaps) {
    if (gap.second < top - kTouch) break;
    top = std::min(top, gap.first);
  }
  return top;
}

}  // namespace pommel::proof
