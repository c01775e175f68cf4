// Where a slab's worker looks for wood that nothing may meet: at rapid, and at shank, collet nut and holder.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "proof/slab_worker.h"

namespace pommel::proof {
namespace {

constexpr double kShankStep = 1.0;  // mm along x in which a long move is looked at for shank and collet

}  // namespace

// Length of wood in [entry, exit] of a ray: wood is [0, low) and (high, top].
float SlabWorker::wood_within(float entry, float exit, std::size_t blank, std::size_t row, std::size_t k) const {
  std::size_t ray = grid_.begin[row] + k;
  float low = wood_.low[ray], top = wood_.top(blank, row, k, ray);
  float inner = std::min({exit, low, top}) - entry;
  float outer = low < top ? std::min(exit, top) - std::max(wood_.high[ray], entry) : 0.0f;
  return std::max(inner, outer);
}

void SlabWorker::look_for_wood(std::size_t run, std::size_t row, std::size_t column) {
  for (std::size_t j = 0; j < run; ++j) {
    if (entry_[j] >= shared_.row_top[row]) continue;
    for (std::size_t b = 0; b < met_.size(); ++b) {
      float wood = wood_within(entry_[j], exit_[j], b, row, column + j);
      if (wood > 0) met_[b].take(static_cast<double>(wood), grid_.x[row], grid_.angle(row, column + j));
    }
  }
}

// Shank, collet nut and holder at the two ends of a stroke and, on long ones, every kShankStep between, as one box each: a little
// more than they fill, never less.
void SlabWorker::look_at_shafts(const motion::Position& from, const motion::Position& to, double top) {
  double lowest = std::min(from.z, to.z);
  for (const Tool::Shaft& shaft : tool_.shafts) {
    if (lowest + shaft.bottom > top) continue;
    double n = std::max(1.0, std::ceil(std::fabs(to.x - from.x) / kShankStep));
    motion::Position last = from;
    for (double i = 1; i <= n; ++i) {
      motion::Position next = between(from, to, i / n);
      look_at_shaft(shaft, last, next);
      last = next;
    }
  }
}

void SlabWorker::look_at_shaft(const Tool::Shaft& shaft, const motion::Position& from, const motion::Position& to) {
  double height = std::min(from.z, to.z) + shaft.bottom;
  double x_low = std::min(from.x, to.x), x_high = std::max(from.x, to.x);
  auto rows = rows_near(x_low, x_high, shaft.radius);
  if (rows.first == rows.second || height > highest_start(rows)) return;
  double middle = (from.a + to.a) / 2, turn = std::fabs(to.a - from.a) / 2;
  for (std::size_t row = rows.first; row < rows.second; ++row) {
    double off = std::max({0.0, x_low - grid_.x[row], grid_.x[row] - x_high});
    double reach2 = shaft.radius * shaft.radius - off * off;
    if (reach2 > 0 && height <= static_cast<double>(shared_.row_top[row])) look_at_shaft_row(row, std::sqrt(reach2), height, middle, turn);
  }
}

void SlabWorker::look_at_shaft_row(std::size_t row, double reach, double height, double middle, double turn) {
  // nothing stands above row_top, so a ray farther round than this comes to the box's height beyond all wood
  double top = static_cast<double>(shared_.row_top[row]);
  double half = height > 0 ? std::min(std::atan2(reach, height), std::acos(std::min(1.0, height / top))) + turn + 1e-9 : std::numbers::pi;
  std::size_t rays = static_cast<std::size_t>(grid_.columns) + grid_.creases_of(row);
  auto look = [&](std::size_t k) {
    double theta = grid_.angle(row, k);
    double phi = std::max(0.0, std::fabs(std::remainder(theta - middle, kTurn)) - turn);
    if (phi > half) return;
    double c = std::cos(phi), s = std::sin(phi);
    if (c <= 0 || height * s > reach * c) return;
    float entry = static_cast<float>(std::max(0.0, height / c)), exit = static_cast<float>(s > 1e-6 ? reach / s : 1e6);
    for (std::size_t b = 0; b < shank_.size(); ++b) {
      float wood = wood_within(entry, exit, b, row, k);
      if (wood > 0) shank_[b].take(static_cast<double>(wood) * c, grid_.x[row], theta);
    }
  };
  long columns = grid_.columns;
  auto low = static_cast<long>(std::floor((middle - kTurn * std::floor(middle / kTurn) - half) / step_));
  long count = std::min(columns, static_cast<long>(std::ceil(2 * half / step_)) + 2);
  for (long j = 0; j < count; ++j) look(static_cast<std::size_t>((((low + j) % columns) + columns) % columns));
  for (std::size_t k = static_cast<std::size_t>(columns); k < rays; ++k) look(k);
}

}  // namespace pommel::proof
