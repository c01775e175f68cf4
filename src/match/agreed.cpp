#include "match/agreed.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>

#include "match/circle.h"

namespace pommel::match {
namespace {

/// Keeps the cheapest of the curves that it is shown.
template <class Curve>
struct Cheapest {
  std::span<const Sample> samples;
  double least = 1e30;
  Curve curve = {};

  void show(const Curve& next) {
    double sum = 0;
    for (const Sample& s : samples) {
      sum += std::min(squared_deviation(next, s), kOutlier);
      if (sum >= least) return;
    }
    least = sum, curve = next;
  }

  /// Marks what lies off it once it is fitted to those that agree: through two or three readings alone it may miss a right one. Nothing where all are as
  /// cheap together.
  template <class Fit>
  std::vector<char> off(std::ptrdiff_t agreeing, const Fit& fitted) const {
    if (least > 1e29) return {};
    std::vector<Sample> agree;
    std::ranges::copy_if(samples, std::back_inserter(agree), [&](const Sample& s) { return squared_deviation(curve, s) <= kOutlier; });
    if (std::ssize(agree) < agreeing) return {};
    const std::optional<Curve> settled = fitted(agree), all = fitted(samples);
    if (!settled) return {};
    std::vector<char> out;
    double cost = 0;
    for (const Sample& s : samples) {
      const double e2 = squared_deviation(*settled, s);
      out.push_back(e2 > kOutlier);
      cost += std::min(e2, kOutlier);
    }
    if (!std::ranges::count(out, 1) || (all && all->cost <= cost)) out.clear();
    return out;
  }
};

}  // namespace

std::vector<char> off_the_circle(std::span<const Sample> samples) {
  const std::size_t n = samples.size();
  if (n > kMostAgreeing) return {};
  Cheapest<Circle> best{samples};
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 1; j < n; ++j) {
      for (std::size_t k = j + 1; k < n; ++k) {
        if (const auto circle = circle_through(samples[i], samples[j], samples[k])) best.show(*circle);
      }
    }
  }
  return best.off(4, [](std::span<const Sample> agree) { return geometric_circle(agree); });
}

std::vector<char> off_the_line(std::span<const Sample> samples) {
  const std::size_t n = samples.size();
  if (n > kMostAgreeing) return {};
  Cheapest<Line> best{samples};
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 1; j < n; ++j) {
      if (!(samples[j].x > samples[i].x)) continue;
      const double b = (samples[j].r - samples[i].r) / (samples[j].x - samples[i].x);
      best.show({samples[i].r - b * samples[i].x, b, 0});
    }
  }
  return best.off(3, [](std::span<const Sample> agree) { return std::optional(fitted_line(agree)); });
}

}  // namespace pommel::match
