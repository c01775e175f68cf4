#include "match/vase.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "match/linear.h"

namespace pommel::match {
namespace {

constexpr double kHeld = 1e-6;  // a radius that no reading holds stays where it is

double cubic_at(const shape::Pieces& pieces, double u) {
  std::size_t i = 0;
  while (i + 1 < pieces.size() && u > pieces[i].x1) ++i;
  const double v = u - pieces[i].x0;
  const auto& c = pieces[i].c;
  return c[0] + v * (c[1] + v * (c[2] + v * c[3]));
}

/// The equations of one layout: a row for each reading, weighted, with its radius at the right.
struct Equations {
  std::size_t numbers = 0;
  std::vector<double> rows, right;

  Equations(const Layout& layout, std::span<const Sample> samples, const Stroke& s) : numbers(layout.at.size()), rows(samples.size() * numbers), right(samples.size()) {
    for (std::size_t i = 0; i < samples.size(); ++i) {
      const double u = (samples[i].x - s.x0) / s.length(), w = 1 / samples[i].sr;
      for (std::size_t j = 0; j < numbers; ++j) rows[i * numbers + j] = w * cubic_at(layout.units[j], u);
      right[i] = w * samples[i].r;
    }
  }

  const double* row(std::size_t i) const { return &rows[i * numbers]; }

  /// Factors the normal equations and solves them. False when they cannot be.
  bool solve(Matrix& normal, std::vector<double>& radii) const {
    normal.clear(numbers);
    radii.assign(numbers, 0);
    for (std::size_t i = 0; i < right.size(); ++i) {
      for (std::size_t a = 0; a < numbers; ++a) {
        radii[a] += row(i)[a] * right[i];
        for (std::size_t b = 0; b <= a; ++b) normal.at(a, b) += row(i)[a] * row(i)[b];
      }
    }
    for (std::size_t a = 0; a < numbers; ++a) normal.at(a, a) += kHeld;
    if (!normal.factor()) return false;
    normal.solve(radii);
    return true;
  }
};

}  // namespace

Layout layout_of(std::vector<double> inner) {
  Layout layout;
  layout.at = std::move(inner);
  layout.at.insert(layout.at.begin(), 0);
  layout.at.push_back(1);
  for (std::size_t j = 0; j < layout.at.size(); ++j) {
    std::vector<shape::RadiusAt> radii;
    for (std::size_t i = 0; i < layout.at.size(); ++i) radii.push_back({layout.at[i], i == j ? 1.0 : 0.0});
    layout.units.emplace_back();
    shape::spline(radii, false, false, -1, layout.units.back());
  }
  return layout;
}

const std::vector<Layout>& layouts(int stations) {
  static const auto table = [] {
    std::array<std::vector<Layout>, kMostStations + 1> all;
    for (double a = 0.2; a < 0.85; a += 0.15) all[1].push_back(layout_of({a}));
    for (double a = 0.15; a < 0.7; a += 0.15) {
      for (double b = a + 0.2; b < 0.95; b += 0.15) all[2].push_back(layout_of({a, b}));
    }
    for (double a : {0.1, 0.2, 0.3}) {
      for (double b : {0.4, 0.5, 0.6}) all[3].push_back(layout_of({a, b, 0.8})), all[3].push_back(layout_of({a, b, 0.9}));
    }
    all[4] = {layout_of({0.2, 0.4, 0.6, 0.8}), layout_of({0.1, 0.3, 0.5, 0.8}), layout_of({0.2, 0.45, 0.75, 0.92})};
    return all;
  }();
  return table[static_cast<std::size_t>(stations)];
}

bool spread(const Layout& layout, std::span<const Sample> samples, Stroke& s) {
  Matrix normal;
  std::vector<double> radii;
  if (!Equations(layout, samples, s).solve(normal, radii)) return false;
  s.stations.clear();
  s.r0 = radii.front(), s.r1 = radii.back();
  for (std::size_t j = 1; j + 1 < radii.size(); ++j) s.stations.push_back({layout.at[j], radii[j]});
  return true;
}

namespace {

// With residuals e and the hat matrix H of the fit to all, leaving out the readings S lowers the sum of squares by e_S' (I - H_SS)^-1 e_S (Cook and
// Weisberg, Residuals and Influence in Regression, 1982, section 2.2, for one; the same for two).
std::array<LeftOut, 3> best_pair(const Layout& layout, std::span<const Sample> samples, const Stroke& s, std::size_t most) {
  constexpr double kFree = 1e-3;  // of 1 - h: less, and the reading alone holds a number
  std::array<LeftOut, 3> best;
  const Equations equations(layout, samples, s);
  Matrix normal;
  std::vector<double> radii;
  if (!equations.solve(normal, radii)) return best;
  const std::size_t n = samples.size(), m = equations.numbers;
  std::vector<double> e(n), g(n * m), f(n);  // g: rows of A L^-T, so that H is g g'; f: 1 - h
  const auto hat = [&](std::size_t i, std::size_t j) { return std::inner_product(&g[i * m], &g[i * m] + m, &g[j * m], 0.0); };
  double all = 0;
  for (std::size_t i = 0; i < n; ++i) {
    e[i] = equations.right[i] - std::inner_product(equations.row(i), equations.row(i) + m, radii.begin(), 0.0);
    for (std::size_t a = 0; a < m; ++a) {
      double sum = equations.row(i)[a];
      for (std::size_t b = 0; b < a; ++b) sum -= normal.at(a, b) * g[i * m + b];
      g[i * m + a] = sum / normal.at(a, a);
    }
    f[i] = 1 - hat(i, i);
    all += e[i] * e[i];
  }
  best[0].total = all;
  for (std::size_t i = 0; i < n && most > 0; ++i) {
    if (f[i] < kFree) continue;
    const double one = all - e[i] * e[i] / f[i] + kOutlier;
    if (one < best[1].total) best[1] = {one, {i}};
    for (std::size_t j = i + 1; j < n && most > 1; ++j) {
      const double h = hat(i, j), det = f[i] * f[j] - h * h;
      if (det < kFree * kFree) continue;
      const double two = all - (e[i] * e[i] * f[j] + 2 * e[i] * e[j] * h + e[j] * e[j] * f[i]) / det + 2 * kOutlier;
      if (two < best[2].total) best[2] = {two, {i, j}};
    }
  }
  return best;
}

}  // namespace

std::array<LeftOut, 3> best_left_out(const Layout& layout, std::span<const Sample> samples, const Stroke& s, std::size_t held_by) {
  const std::size_t n = samples.size(), most = std::min(1 + n / 8, n > held_by ? n - held_by : 0);
  std::array<LeftOut, 3> best = best_pair(layout, samples, s, most);
  LeftOut& many = best[2];
  while (many.which.size() > 1 && many.which.size() < most && many.total < best[1].total) {  // pairs show each other up; what else is wrong shows once they are gone
    std::vector<Sample> rest;
    std::vector<std::size_t> whose;
    for (std::size_t i = 0; i < n; ++i) {
      if (!std::ranges::count(many.which, i)) rest.push_back(samples[i]), whose.push_back(i);
    }
    const auto more = best_pair(layout, rest, s, most - many.which.size());
    const LeftOut& gain = more[2].total < more[1].total ? more[2] : more[1];
    if (gain.total >= more[0].total) break;
    many.total = gain.total + kOutlier * static_cast<double>(many.which.size());
    for (std::size_t i : gain.which) many.which.push_back(whose[i]);
  }
  return best;
}

}  // namespace pommel::match
