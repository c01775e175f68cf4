#include "proof/reach.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "proof/reach_kernel.h"

namespace pommel::proof {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;

std::size_t wrapped(long column, int columns) {
  long c = column % columns;
  return static_cast<std::size_t>(c < 0 ? c + columns : c);
}

}  // namespace

double reach_error(double rho, double row_step, double column_step, double radius) {
  double a = row_step * std::numbers::sqrt2 / 2, b = radius * column_step / 2;
  return (a * a + b * b) / rho;
}

Reach::Reach(const Grid& grid, const std::vector<float>& body, const shop::Cutter& cutter, double x_low, double x_high)
    : grid_(grid), body_(body), rho_(cutter.diameter / 2), flute_(cutter.flute_length - rho_), widest_(rho_) {
  auto add = [&](double diameter, double bottom) {
    if (diameter / 2 <= rho_) return;
    shafts_.emplace_back(diameter / 2, bottom - rho_);
    widest_ = std::max(widest_, diameter / 2);
  };
  add(cutter.shank_diameter, cutter.flute_length);
  if (cutter.shank_length > 0) add(cutter.collet_diameter, std::max(cutter.shank_length, cutter.flute_length));
  double step = grid.rows() > 1 ? (grid.x.back() - grid.x.front()) / static_cast<double>(grid.rows() - 1) : 1;
  // past the blank's ends too: a ball there shapes the edge of a part that fills its blank
  for (double over = std::ceil(rho_ / step); over >= 1; --over) places_.push_back(grid.x.front() - over * step);
  places_.insert(places_.end(), grid.x.begin(), grid.x.end());
  for (double over = 1; over <= std::ceil(rho_ / step); ++over) places_.push_back(grid.x.back() + over * step);
  std::erase_if(places_, [&](double x) { return x < x_low || x > x_high; });
  for (std::size_t row = 0; row < grid.rows(); ++row) {
    auto from = body.begin() + static_cast<std::ptrdiff_t>(grid.begin[row]);
    auto to = body.begin() + static_cast<std::ptrdiff_t>(grid.begin[row + 1]);
    auto [least, greatest] = std::minmax_element(from, to);
    least_.push_back(*least);
    greatest_.push_back(*greatest);
  }
  heights_ = std::vector<std::atomic<float>>(places_.size() * static_cast<std::size_t>(grid.columns));
}

double Reach::centre_height(std::size_t place, std::size_t column) const {
  std::atomic<float>& kept = heights_[place * static_cast<std::size_t>(grid_.columns) + column];
  float known = kept.load(std::memory_order_relaxed);
  if (known > 0) return static_cast<double>(known);
  auto height = static_cast<float>(compute_height(places_[place], column));
  kept.store(height, std::memory_order_relaxed);
  return static_cast<double>(height);
}

double Reach::compute_height(double x0, std::size_t column) const {
  double a = static_cast<double>(column) * grid_.column_step();
  long columns = grid_.columns;
  // sines and cosines of the columns from a, over the widest window: a quarter turn to each side
  long most = columns / 4;
  thread_local std::vector<float> sine, cosine;
  if (sine.size() != static_cast<std::size_t>(2 * most + 1)) {
    sine.clear();
    cosine.clear();
    for (long j = -most; j <= most; ++j) {
      sine.push_back(static_cast<float>(std::sin(static_cast<double>(j) * grid_.column_step())));
      cosine.push_back(static_cast<float>(std::cos(static_cast<double>(j) * grid_.column_step())));
    }
  }
  float highest = static_cast<float>(rho_);
  for (std::size_t row = grid_.first_row_from(x0 - rho_); row < grid_.rows() && grid_.x[row] < x0 + rho_; ++row) {
    double off = grid_.x[row] - x0, reach2 = rho_ * rho_ - off * off;
    double reach = std::sqrt(std::max(0.0, reach2));
    if (static_cast<double>(greatest_[row]) + reach <= static_cast<double>(highest)) continue;  // cannot be the highest
    double q = least_[row] > 0 ? reach / static_cast<double>(least_[row]) : 1;
    long half = q < 1 ? std::min(most, static_cast<long>(std::ceil(std::asin(q) / grid_.column_step()))) : most;
    const float* radius = body_.data() + grid_.begin[row];
    for (long j = -half; j <= half;) {
      std::size_t from = wrapped(static_cast<long>(column) + j, grid_.columns);
      long run = std::min(half - j + 1, columns - static_cast<long>(from));
      highest = highest_centre(radius + from, sine.data() + (j + most), cosine.data() + (j + most),
                               static_cast<std::size_t>(run), static_cast<float>(reach2), highest);
      j += run;
    }
    for (std::size_t k = 0; k < grid_.creases_of(row); ++k) {
      double phi = grid_.crease[grid_.crease_begin(row) + k] - a;
      auto s = static_cast<float>(std::sin(phi)), c = static_cast<float>(std::cos(phi));
      highest = highest_centre(radius + columns + k, &s, &c, 1, static_cast<float>(reach2), highest);
    }
  }
  return shafts_.empty() ? static_cast<double>(highest) : under_shafts(x0, a, static_cast<double>(highest));
}

double Reach::under_shafts(double x0, double a, double height) const {
  for (const auto& [radius, bottom] : shafts_) {
    for (std::size_t row = grid_.first_row_from(x0 - radius); row < grid_.rows() && grid_.x[row] < x0 + radius; ++row) {
      if (static_cast<double>(greatest_[row]) - bottom <= height) continue;
      double off = grid_.x[row] - x0, reach2 = radius * radius - off * off;
      std::size_t rays = static_cast<std::size_t>(grid_.columns) + grid_.creases_of(row);
      for (std::size_t k = 0; k < rays; ++k) {
        double r = static_cast<double>(body_[grid_.begin[row] + k]), phi = grid_.angle(row, k) - a;
        double l = r * std::sin(phi), h = r * std::cos(phi);
        if (h > 0 && l * l < reach2) height = std::max(height, h - bottom);
      }
    }
  }
  return height;
}

double Reach::depth_at(std::size_t place, std::size_t column, double x, double theta, double t) const {
  double off = x - places_[place];
  double phi = theta - static_cast<double>(column) * grid_.column_step();
  double l = t * std::sin(phi), h = t * std::cos(phi);
  double aside2 = off * off + l * l;
  if (aside2 >= rho_ * rho_ || h <= 0) return 0;
  double c = centre_height(place, column);
  double under = std::max(0.0, c - h);  // beside the shaft above the centre only the sideways distance counts
  return std::max(0.0, rho_ - std::sqrt(aside2 + under * under));
}

double Reach::depth_from_above(double x, double theta, double t) const {
  if (places_.empty()) return 0;
  auto near = std::lower_bound(places_.begin(), places_.end(), x);
  if (near == places_.end()) --near;
  auto place = static_cast<std::size_t>(near - places_.begin());
  return depth_at(place, wrapped(std::lround(theta / grid_.column_step()), grid_.columns), x, theta, t);
}

double Reach::depth_within_reach(double x, double theta, double t) const {
  double best = 0;
  auto first = std::lower_bound(places_.begin(), places_.end(), x - rho_);
  auto last = std::upper_bound(places_.begin(), places_.end(), x + rho_);
  double half = t > rho_ ? std::asin(rho_ / t) : kTurn / 4;
  long middle = std::lround(theta / grid_.column_step()), span = static_cast<long>(std::ceil(half / grid_.column_step()));
  for (auto at = first; at != last; ++at) {
    for (long j = middle - span; j <= middle + span; ++j) {
      best = std::max(best, depth_at(static_cast<std::size_t>(at - places_.begin()), wrapped(j, grid_.columns), x, theta, t));
    }
  }
  return best;
}

}  // namespace pommel::proof
