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
           double rho, const Settings& settings)
      : grid_(grid), part_(part), body_(body), wood_(wood), reaches_(std::move(reaches)), rho_(rho), settings_(settings),
        // along the ray is never nearer than square to the skin
        stands_(static_cast<float>(std::min(settings.cusp, settings.hand_work_from))) {}

  void row(std::size_t row, Amounts& to) {
    double x = grid_.x[row];
    if (x < 0 || x > part_.length) return;
    const auto columns = static_cast<std::size_t>(grid_.columns);
    run(row, grid_.begin[row], columns, wood_.starts[0].columns_of(row, start_), to);
    run(row, grid_.begin[row] + columns, grid_.creases_of(row), wood_.starts[0].creases_of(row, start_), to);
  }

  void standing(std::size_t row, std::size_t i, double top, Amounts& to) {
    double x = grid_.x[row], theta = grid_.angle(row, i - grid_.begin[row]);
    double height = height_above_skin(part_, x, theta, top);
    double allowed = settings_.cusp + reach_error(rho_, settings_.row_step, grid_.column_step(), top);
    if (height <= allowed) return;
    for (Reach& reach : reaches_) {
      if (reach.reaches(x, theta, top, allowed)) return to.left.push_back({row, i, static_cast<float>(height)});
    }
    if (height > settings_.hand_work_from) to.hand.push_back({row, i, static_cast<float>(height)});
  }

 private:
  // Rays [first, first + n) of a row.
  void run(std::size_t row, std::size_t first, std::size_t n, const float* start, Amounts& to) {
    const float *skin = body_.data() + first, *low = wood_.low.data() + first, *high = wood_.high.data() + first, *out = wood_.out.data() + first;
    for (std::size_t j = 0; j < n; ++j) {
      if (low[j] < skin[j] - static_cast<float>(kNoticed)) gouged(row, first + j, to);
      float least = high[j] >= start[j] ? low[j] : out[j], top = least < start[j] ? least : start[j];
      if (top - skin[j] > stands_) standing(row, first + j, static_cast<double>(top), to);
    }
  }

  // Square to the skin is no deeper than along the ray: what cannot be the deepest nor over the limit is left alone.
  void gouged(std::size_t row, std::size_t i, Amounts& to) {
    double low = static_cast<double>(wood_.low[i]), along = static_cast<double>(body_[i]) - low;
    if (along < static_cast<double>(to.deepest.amount) && along <= settings_.gouge_limit) return;
    auto depth = static_cast<float>(depth_below_skin(part_, grid_.x[row], grid_.angle(row, i - grid_.begin[row]), low));
    if (depth > to.deepest.amount) to.deepest = {row, i, depth};
    if (static_cast<double>(depth) > settings_.gouge_limit) to.gouge.push_back({row, i, depth});
  }

  const Grid& grid_;
  const shape::Part& part_;
  const std::vector<float>& body_;
  const Wood& wood_;
  std::vector<Reach> reaches_;
  double rho_;
  const Settings& settings_;
  float stands_;
  std::vector<float> start_;
};

void append(std::vector<OnRay>& all, const std::vector<OnRay>& more) { all.insert(all.end(), more.begin(), more.end()); }

// Rows of the map and, of each column of rays, column of the map.
struct Cells {
  Cells(const Grid& grid, Map& map) : map_(map), cell_((map.x1 - map.x0) / map.rows), around_(map.columns / (2 * std::numbers::pi)) {
    for (std::size_t j = 0; j < static_cast<std::size_t>(grid.columns); ++j) of_column_.push_back(column(grid.angle(0, j)));
  }
  std::size_t column(double theta) const { return static_cast<std::size_t>(std::min(map_.columns - 1.0, theta * around_)); }
  std::size_t row(double x) const {
    return static_cast<std::size_t>(std::min(map_.rows - 1.0, std::floor((x - map_.x0) / cell_))) * static_cast<std::size_t>(map_.columns);
  }
  std::size_t of(const Grid& grid, std::size_t row_of_grid, std::size_t k) const {
    return row(grid.x[row_of_grid]) + (k < of_column_.size() ? of_column_[k] : column(grid.angle(row_of_grid, k)));
  }

 private:
  const Map& map_;
  double cell_, around_;
  std::vector<std::size_t> of_column_;
};

}  // namespace

Result<Amounts> amounts(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Wood& wood,
                        const std::vector<Reach>& reaches, double rho, const Settings& settings, std::stop_token stop) {
  std::vector<Amounts> blocks((grid.rows() + kBlock - 1) / kBlock);
  std::atomic<std::size_t> next{0};
  auto work = [&] {
    RayJudge judge(grid, part, body, wood, reaches, rho, settings);
    for (std::size_t block = next++; block < blocks.size() && !stop.stop_requested(); block = next++) {
      for (std::size_t row = block * kBlock; row < std::min((block + 1) * kBlock, grid.rows()); ++row) judge.row(row, blocks[block]);
    }
  };
  {
    std::size_t threads = settings.threads > 0 ? static_cast<std::size_t>(settings.threads) : std::max(1u, std::thread::hardware_concurrency());
    std::vector<std::jthread> others;
    for (std::size_t k = 1; k < threads; ++k) others.emplace_back(work);
    work();
  }
  if (stop.stop_requested()) return fail("cancelled", "the check was stopped before its end");
  Amounts found;
  for (const Amounts& block : blocks) {
    append(found.gouge, block.gouge);
    append(found.left, block.left);
    append(found.hand, block.hand);
    if (block.deepest.amount > found.deepest.amount) found.deepest = block.deepest;
  }
  return found;
}

void judge_left_again(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Wood& wood, const std::vector<Reach>& reaches,
                      double rho, const Settings& settings, Amounts& amounts) {
  RayJudge judge(grid, part, body, wood, reaches, rho, settings);
  Amounts again;
  for (const OnRay& left : amounts.left) {
    double top = static_cast<double>(wood.top(0, left.row, left.ray - grid.begin[left.row], left.ray));
    if (top - static_cast<double>(body[left.ray]) > std::min(settings.cusp, settings.hand_work_from)) judge.standing(left.row, left.ray, top, again);
  }
  amounts.left = std::move(again.left);
  append(amounts.hand, again.hand);
  std::sort(amounts.hand.begin(), amounts.hand.end(), [](const OnRay& a, const OnRay& b) { return a.ray < b.ray; });
}

// Square to the skin is no more than along the ray: what cannot be the tallest is left alone.
OnRay tallest(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Wood& wood) {
  OnRay found;
  for (std::size_t row = 0; row < grid.rows(); ++row) {
    if (grid.x[row] < 0 || grid.x[row] > part.length) continue;
    for (std::size_t i = grid.begin[row]; i < grid.begin[row + 1]; ++i) {
      const std::size_t k = i - grid.begin[row];
      if (std::min(wood.out[i], wood.starts[0].highest(row)) - body[i] <= found.amount) continue;
      const float top = wood.top(0, row, k, i);
      if (top - body[i] <= found.amount) continue;
      const auto height = static_cast<float>(height_above_skin(part, grid.x[row], grid.angle(row, k), static_cast<double>(top)));
      if (height > found.amount) found = {row, i, height};
    }
  }
  return found;
}

Map unrolled(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Wood& wood, const Amounts& amounts, int rows,
             int columns) {
  Map map;
  map.x0 = grid.x.front();
  map.x1 = grid.x.back();
  map.rows = rows;
  map.columns = columns;
  std::size_t count = static_cast<std::size_t>(rows) * static_cast<std::size_t>(columns);
  map.deviation.assign(count, std::numeric_limits<float>::quiet_NaN());
  const Cells cells(grid, map);
  std::vector<OnRay> farthest(count, OnRay{0, 0, -1});
  for (std::size_t row = 0; row < grid.rows(); ++row) {
    if (grid.x[row] < 0 || grid.x[row] > part.length) continue;
    for (std::size_t i = grid.begin[row]; i < grid.begin[row + 1]; ++i) {
      std::size_t k = i - grid.begin[row];
      OnRay& there = farthest[cells.of(grid, row, k)];
      float here = wood.low[i] < body[i] ? body[i] - wood.low[i] : wood.top(0, row, k, i) - body[i];
      if (here > there.amount) there = {row, i, here};
    }
  }
  for (std::size_t at = 0; at < count; ++at) {
    const auto [row, ray, amount] = farthest[at];
    if (amount < 0) continue;
    double x = grid.x[row], theta = grid.angle(row, ray - grid.begin[row]);
    bool below = wood.low[ray] < body[ray];
    map.deviation[at] = static_cast<double>(amount) <= kNoticed ? 0.0f
                        : below ? -static_cast<float>(depth_below_skin(part, x, theta, static_cast<double>(wood.low[ray])))
                                : static_cast<float>(height_above_skin(part, x, theta, static_cast<double>(wood.top(0, row, ray - grid.begin[row], ray))));
  }
  for (const OnRay& gouge : amounts.gouge) {
    float& there = map.deviation[cells.of(grid, gouge.row, gouge.ray - grid.begin[gouge.row])];
    there = std::min(there, -gouge.amount);
  }
  return map;
}

}  // namespace pommel::proof
