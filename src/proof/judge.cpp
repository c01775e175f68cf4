#include "proof/judge.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <thread>

#include "proof/body.h"

namespace pommel::proof {
namespace {

constexpr double kNoticed = 1e-3;  // mm, radial: nearer to the skin than this is on it

// Calls work(first, last) on slabs of rows, one a thread.
template <class F>
void by_rows(std::size_t rows, int threads, const F& work) {
  std::size_t wanted = threads > 0 ? static_cast<std::size_t>(threads) : std::max(1u, std::thread::hardware_concurrency());
  // finer slabs than threads would balance better, but the first row of each costs nothing: interleave instead
  std::size_t n = std::min(wanted, std::max<std::size_t>(1, rows));
  std::vector<std::jthread> others;
  for (std::size_t k = 1; k < n; ++k) others.emplace_back([&, k] { work(k, n); });
  work(std::size_t{0}, n);
}

class RayJudge {
 public:
  RayJudge(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Cut& wood, const Reach& reach,
           double rho, const Settings& settings, Amounts& to)
      : grid_(grid), part_(part), body_(body), wood_(wood), reach_(reach), rho_(rho), settings_(settings), to_(to) {}

  void row(std::size_t row) const {
    double x = grid_.x[row];
    if (x < 0 || x > part_.length) return;
    for (std::size_t i = grid_.begin[row]; i < grid_.begin[row + 1]; ++i) ray(row, i);
  }

 private:
  void ray(std::size_t row, std::size_t i) const {
    double skin = static_cast<double>(body_[i]), low = static_cast<double>(wood_.low[i]);
    double top = static_cast<double>(wood_.tops[0][i]);
    if (low < skin - kNoticed) {
      double depth = depth_below_skin(part_, grid_.x[row], grid_.angle(row, i - grid_.begin[row]), low);
      to_.gouge[i] = static_cast<float>(depth);
      to_.deviation[i] = -to_.gouge[i];
    }
    if (top > skin + kNoticed) standing(row, i, top);
  }

  void standing(std::size_t row, std::size_t i, double top) const {
    double x = grid_.x[row], theta = grid_.angle(row, i - grid_.begin[row]);
    double height = height_above_skin(part_, x, theta, top);
    if (to_.gouge[i] == 0) to_.deviation[i] = static_cast<float>(height);
    if (height <= std::min(settings_.cusp, settings_.hand_work_from)) return;
    double allowed = settings_.cusp + reach_error(rho_, settings_.row_step, grid_.column_step(), top);
    double depth = 0;
    if (height > allowed) {
      depth = reach_.depth_from_above(x, theta, top);
      if (depth <= allowed) depth = reach_.depth_within_reach(x, theta, top);
    }
    if (depth > allowed) {
      to_.left[i] = static_cast<float>(depth);
    } else if (height > settings_.hand_work_from && height > allowed) {
      to_.hand[i] = static_cast<float>(height);
    }
  }

  const Grid& grid_;
  const shape::Part& part_;
  const std::vector<float>& body_;
  const Cut& wood_;
  const Reach& reach_;
  double rho_;
  const Settings& settings_;
  Amounts& to_;
};

}  // namespace

Result<Amounts> amounts(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Cut& wood,
                        const Reach& reach, double rho, const Settings& settings, std::stop_token stop) {
  Amounts found;
  for (std::vector<float>* of : {&found.gouge, &found.left, &found.hand, &found.deviation}) of->assign(grid.rays(), 0.0f);
  RayJudge judge(grid, part, body, wood, reach, rho, settings, found);
  by_rows(grid.rows(), settings.threads, [&](std::size_t first, std::size_t step) {
    for (std::size_t row = first; row < grid.rows() && !stop.stop_requested(); row += step) judge.row(row);
  });
  if (stop.stop_requested()) return fail("cancelled", "the check was stopped before its end");
  return found;
}

Map unrolled(const Grid& grid, const shape::Part& part, const std::vector<float>& deviation, int rows, int columns) {
  Map map;
  map.x0 = grid.x.front();
  map.x1 = grid.x.back();
  map.rows = rows;
  map.columns = columns;
  map.deviation.assign(static_cast<std::size_t>(rows) * static_cast<std::size_t>(columns),
                       std::numeric_limits<float>::quiet_NaN());
  double cell = (map.x1 - map.x0) / rows;
  for (std::size_t row = 0; row < grid.rows(); ++row) {
    double x = grid.x[row];
    if (x < 0 || x > part.length) continue;
    auto i = static_cast<std::size_t>(std::min(rows - 1.0, std::floor((x - map.x0) / cell)));
    for (std::size_t k = 0; k < grid.begin[row + 1] - grid.begin[row]; ++k) {
      auto j = static_cast<std::size_t>(std::min(columns - 1.0, grid.angle(row, k) / (2 * std::numbers::pi) * columns));
      float& at = map.deviation[i * static_cast<std::size_t>(columns) + j];
      float here = deviation[grid.begin[row] + k];
      if (std::isnan(at) || std::fabs(here) > std::fabs(at)) at = here;
    }
  }
  return map;
}

}  // namespace pommel::proof
