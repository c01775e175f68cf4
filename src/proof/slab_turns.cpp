// The moves of a slab's worker that go round (turn.h, any_turn.h), and the straight ones of cutters that are no balls.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "proof/slab_worker.h"

namespace pommel::proof {

// False when the move is none that goes round as turn.h or any_turn.h follow it.
bool SlabWorker::make_turns(const motion::Position& from, const motion::Position& to) {
  if (from.a == to.a) return false;
  double n = std::ceil(std::fabs(to.a - from.a) / kWidestTurn);
  motion::Position last = from;
  for (double i = 1; i <= n; ++i) {
    motion::Position next = i < n ? between(from, to, i / n) : to;
    if (!make_turn(last, next)) {
      if (n == 1) return false;
      make_strokes(last, next, Doing::cut);
    }
    last = next;
  }
  return true;
}

bool SlabWorker::make_turn(const motion::Position& from, const motion::Position& to) {
  if (tool_.is_ball()) {
    auto turn = turn_between(from, to, tool_.radius, shared_.settings.chord_error);
    if (turn) sweep_turn(*turn);
    return turn.has_value();
  }
  auto turn = any_turn_between(from, to, tool_, shared_.settings.chord_error);
  if (turn) sweep_turn(*turn);
  return turn.has_value();
}

void SlabWorker::open_window_round(double a, double sweep, double half) {
  set_window(a, sweep, half);
  window_a_ = 1e300;  // the tables of a stroke are not filled
  for (long j = 0; j < window_count_; ++j) {
    double turned = static_cast<double>(window_low_ + j) * step_ - frame_;
    // of a window that goes all round, the way to the nearest of the turn
    if (window_whole_) turned -= kTurn * std::round((turned - sweep / 2) / kTurn);
    turned_[static_cast<std::size_t>(j)] = single(turned);
  }
}

template <class T>
void SlabWorker::sweep_turn(const T& turn) {
  auto rows = rows_near(turn.x_low, turn.x_high, tool_.radius);
  if (rows.first == rows.second) return;
  open_window_round(turn.a, turn.sweep, half_of(turn, 0));
  for (std::size_t row = rows.first; row < rows.second; ++row) sweep_row_round(turn, row);
}

// How far round the cutter reaches to each side of itself in rows `off` from its places, and how near to the axis.
double SlabWorker::half_of(const Turn& turn, double off) const {
  return arc_sine_bound(std::sqrt(tool_.radius * tool_.radius - off * off) / turn.c_low);
}
double SlabWorker::half_of(const AnyTurn& turn, double off) const {
  return std::atan2(std::sqrt(tool_.radius * tool_.radius - off * off), turn.z_low + tool_.height(off)) + 1e-6;
}
double SlabWorker::least_of(const Turn& turn, double off) const { return turn.c_low - std::sqrt(tool_.radius * tool_.radius - off * off); }
double SlabWorker::least_of(const AnyTurn& turn, double off) const { return turn.z_low + tool_.height(off); }

RowTurn SlabWorker::row_turn(const Turn& turn, double x) const {
  double rho = tool_.radius;
  return {single(x - turn.x), single(turn.lambda), single(turn.c), single(turn.kappa), single(turn.sweep),
          single(rho), single(rho * rho), single(tool_.flute - rho), turn.steps};
}

RowAnyTurn SlabWorker::row_turn(const AnyTurn& turn, double x) const {
  return {single(x - turn.x), single(turn.lambda), single(turn.z), single(turn.kappa), single(turn.sweep), single(turn.climbs), single(turn.slides), turn.halvings};
}

float SlabWorker::cut_round(const RowTurn& row, const float* psi, std::size_t n, float least, const WoodRun& wood) const {
  return kernels_.cut_turn(row, psi, n, least, shared_.by_side, wood);
}
float SlabWorker::cut_round(const RowAnyTurn& row, const float* psi, std::size_t n, float least, const WoodRun& wood) const {
  return kernels_.cut_any_turn(row, form_, psi, n, least, shared_.by_side, wood);
}

template <class T>
void SlabWorker::sweep_row_round(const T& turn, std::size_t row) {
  double x = grid_.x[row];
  double off = std::max({0.0, turn.x_low - x, x - turn.x_high});
  if (off >= tool_.radius) return;
  const auto of_row = row_turn(turn, x);
  const double half = half_of(turn, off);
  const float least = single(least_of(turn, off) - kRounding);
  auto [first, last] = columns_within(half, turn.sweep);
  for_runs(first, last, [&](std::size_t entry, std::size_t run, std::size_t column) {
    note_depth(cut_round(of_row, turned_.data() + entry, run, least, wood_of(row, column)), row, column, run);
  });
  std::size_t columns = static_cast<std::size_t>(grid_.columns), creases = grid_.creases_of(row);
  bool near = false;
  for (std::size_t k = 0; k < creases; ++k) {
    double turned = crease_turned(row, k, turn.sweep);
    crease_turned_[k] = single(std::clamp(turned, -half, turn.sweep + half));  // beyond, it is missed there as well
    near = near || (turned > -half && turned < turn.sweep + half);
  }
  if (near) note_depth(cut_round(of_row, crease_turned_.data(), creases, least, wood_of(row, columns)), row, columns, creases);
}

// The crease's angle from the beginning of the turn, by the way that is nearest to its middle.
double SlabWorker::crease_turned(std::size_t row, std::size_t k, double sweep) const {
  double turned = grid_.crease[grid_.crease_begin(row) + k] - frame_;
  return turned - kTurn * std::round((turned - sweep / 2) / kTurn);
}

// Counted from the place on the move that is nearest to the row: single precision has its digits there.
RowSlide SlabWorker::row_slide(const motion::Position& from, const motion::Position& to, double x) const {
  const double way = to.x - from.x, climb = (to.z - from.z) / way, first = std::min(0.0, way), last = std::max(0.0, way), nearest = std::clamp(x - from.x, first, last);
  return {single(x - from.x - nearest), single(first - nearest), single(last - nearest), single(from.z + climb * nearest), single(climb), single(std::min(from.z, to.z)),
          slide_halvings(tool_, climb, shared_.settings.chord_error)};
}

// A straight move along x of a cutter that is no ball.
void SlabWorker::slide_row(const motion::Position& from, const motion::Position& to, std::size_t row, Doing doing) {
  const double x = grid_.x[row], off = std::max({0.0, std::min(from.x, to.x) - x, x - std::max(from.x, to.x)});
  if (off >= tool_.radius) return;
  const RowSlide of_row = row_slide(from, to, x);
  const double lowest = std::min(from.z, to.z) + tool_.height(off);
  const double half = lowest > 1e-3 ? std::atan2(std::sqrt(tool_.radius * tool_.radius - off * off), lowest) + 1e-6 : std::numbers::pi;
  const float least = single(std::max(0.0, lowest) - kRounding);
  const auto cut = [&](const RayTable& table, std::size_t run, std::size_t column) {
    const float depth = kernels_.cut_slide(of_row, form_, table, run, least, shared_.by_side, wood_of(row, column));
    if (doing == Doing::cut) note_depth(depth, row, column, run);
  };
  const auto [first, last] = columns_within(half, 0);
  for_runs(first, last, [&](std::size_t entry, std::size_t run, std::size_t column) { cut(window_.from(entry), run, column); });
  const std::size_t n = grid_.creases_of(row);
  if (n > 0 && turn_creases(row, half < 1.5 ? std::sin(half) : 2)) cut(crease_.from(0), n, static_cast<std::size_t>(grid_.columns));
}

}  // namespace pommel::proof
