#include "proof/judge.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <limits>
#include <numbers>
#include <thread>

#include "proof/body.h"

namespace pommel::proof {
namespace {

constexpr double kNoticed = 1e-3;  // mm, radial: nearer to the skin than this is on it

constexpr std::size_t kBlock = 128;  // rows that a thread judges at once: what it has learnt of the reach serves the next row

class RayJudge {
 public:
  RayJudge(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Wood& wood, std::vector<Reach> reaches,
           double rho, const Settings& settings, Amounts& to)
      : grid_(grid), part_(part), body_(body), wood_(wood), reaches_(std::move(reaches)), rho_(rho), settings_(settings), to_(to) {}

  void row(std::size_t row) {
    double x = grid_.x[row];
    if (x < 0 || x > part_.length) return;
    for (std::size_t i = grid_.begin[row]; i < grid_.begin[row + 1]; ++i) ray(row, i);
  }

  void again(std::size_t row, std::size_t i) {
    to_.left[i] = to_.hand[i] = 0;
    ray(row, i);
  }

 private:
  void ray(std::size_t row, std::size_t i) {
    double skin = static_cast<double>(body_[i]), low = static_cast<double>(wood_.low[i]);
    if (low < skin - kNoticed) {
      to_.gouge[i] = static_cast<float>(depth_below_skin(part_, grid_.x[row], grid_.angle(row, i - grid_.begin[row]), low));
    }
    double top = static_cast<double>(wood_.top(0, row, i - grid_.begin[row], i));
    // along the ray is never nearer than square to the skin
    if (top - skin > std::min(settings_.cusp, settings_.hand_work_from)) standing(row, i, top);
  }

  void standing(std::size_t row, std::size_t i, double top) {
    double x = grid_.x[row], theta = grid_.angle(row, i - grid_.begin[row]);
    double height = height_above_skin(part_, x, theta, top);
    double allowed = settings_.cusp + reach_error(rho_, settings_.row_step, grid_.column_step(), top);
    if (height <= allowed) return;
    for (Reach& reach : reaches_) {
      if (!reach.reaches(x, theta, top, allowed)) continue;
      to_.left[i] = static_cast<float>(height);
      return;
    }
    if (height > settings_.hand_work_from) to_.hand[i] = static_cast<float>(height);
  }

  const Grid& grid_;
  const shape::Part& part_;
  const std::vector<float>& body_;
  const Wood& wood_;
  std::vector<Reach> reaches_;
  double rho_;
  const Settings& settings_;
  Amounts& to_;
};

}  // namespace

Result<Amounts> amounts(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Wood& wood,
                        const std::vector<Reach>& reaches, double rho, const Settings& settings, std::stop_token stop) {
  Amounts found;
  for (std::vector<float>* of : {&found.gouge, &found.left, &found.hand}) of->assign(grid.rays(), 0.0f);
  std::atomic<std::size_t> next{0};
  auto work = [&] {
    RayJudge judge(grid, part, body, wood, reaches, rho, settings, found);
    for (std::size_t first = kBlock * next++; first < grid.rows() && !stop.stop_requested(); first = kBlock * next++) {
      for (std::size_t row = first; row < std::min(first + kBlock, grid.rows()); ++row) judge.row(row);
    }
  };
  {
    std::size_t threads = settings.threads > 0 ? static_cast<std::size_t>(settings.threads) : std::max(1u, std::thread::hardware_concurrency());
    std::vector<std::jthread> others;
    for (std::size_t k = 1; k < threads; ++k) others.emplace_back(work);
    work();
  }
  if (stop.stop_requested()) return fail("cancelled", "the check was stopped before its end");
  return found;
}

void judge_again(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Wood& wood, const std::vector<Reach>& reaches,
                 double rho, const Settings& settings, const std::vector<std::pair<std::size_t, std::size_t>>& rows_and_rays, Amounts& amounts) {
  RayJudge judge(grid, part, body, wood, reaches, rho, settings, amounts);
  for (const auto& [row, ray] : rows_and_rays) judge.again(row, ray);
}

Map unrolled(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Wood& wood, const Amounts& amounts, int rows,
             int columns) {
  Map map;
  map.x0 = grid.x.front();
  map.x1 = grid.x.back();
  map.rows = rows;
  map.columns = columns;
  std::size_t cells = static_cast<std::size_t>(rows) * static_cast<std::size_t>(columns);
  map.deviation.assign(cells, std::numeric_limits<float>::quiet_NaN());
  std::vector<std::pair<std::size_t, std::size_t>> farthest(cells);  // row and ray
  std::vector<float> by(cells, -1.0f);
  double cell = (map.x1 - map.x0) / rows, around = columns / (2 * std::numbers::pi);
  for (std::size_t row = 0; row < grid.rows(); ++row) {
    double x = grid.x[row];
    if (x < 0 || x > part.length) continue;
    auto i = static_cast<std::size_t>(std::min(rows - 1.0, std::floor((x - map.x0) / cell)));
    for (std::size_t k = 0; k < grid.begin[row + 1] - grid.begin[row]; ++k) {
      auto j = static_cast<std::size_t>(std::min(columns - 1.0, grid.angle(row, k) * around));
      std::size_t at = i * static_cast<std::size_t>(columns) + j, ray = grid.begin[row] + k;
      float here = amounts.gouge[ray] > 0 ? amounts.gouge[ray] : std::fabs(wood.top(0, row, k, ray) - body[ray]);
      if (here <= by[at]) continue;
      by[at] = here;
      farthest[at] = {row, ray};
    }
  }
  for (std::size_t at = 0; at < cells; ++at) {
    if (by[at] < 0) continue;
    auto [row, ray] = farthest[at];
    double over = static_cast<double>(wood.top(0, row, ray - grid.begin[row], ray)) - static_cast<double>(body[ray]);
    map.deviation[at] = amounts.gouge[ray] > 0 ? -amounts.gouge[ray]
                        : over > kNoticed
                            ? static_cast<float>(height_above_skin(part, grid.x[row], grid.angle(row, ray - grid.begin[row]),
                                                                   static_cast<double>(wood.top(0, row, ray - grid.begin[row], ray))))
                            : 0.0f;
  }
  return map;
}

}  // namespace pommel::proof
