#include "match/gaps.h"

#include <algorithm>
#include <array>

#include "match/circle.h"

namespace pommel::match {
namespace {

constexpr std::array<std::size_t, 4> kReaches = {3, 6, 12, 24};  // readings on either side
constexpr double kQuiet = 1.6;  // squared deviations a reading, at most; chance alone gives 1

bool one_curve(std::span<const Sample> some) {
  const double allowed = kQuiet * static_cast<double>(some.size());
  if (fitted_line(some).cost <= allowed) return true;
  const auto circle = geometric_circle(some, 3);
  return circle && circle->cost <= allowed;
}

/// How far on either side one curve reaches; 0: not even to the third reading.
std::size_t reach(std::span<const Sample> all, std::size_t gap) {
  std::size_t best = 0;
  for (std::size_t w : kReaches) {
    if (gap < w || gap + w > all.size() || !one_curve(all.subspan(gap - w, 2 * w))) break;
    best = w;
  }
  return best;
}

}  // namespace

std::vector<char> gaps_to_try(std::span<const Sample> samples) {
  std::vector<char> out(samples.size() + 1, 1);
  std::size_t last = 0;
  for (std::size_t gap = 1; gap < samples.size(); ++gap) {
    out[gap] = 2 * (gap - last) >= reach(samples, gap);
    if (out[gap]) last = gap;
  }
  return out;
}

}  // namespace pommel::match
