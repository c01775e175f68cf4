#include "proof/removal.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <thread>
#include <tuple>

#include "proof/kernel.h"
#include "proof/stroke.h"

namespace pommel::proof {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kMostStrokes = 1e8;
constexpr double kShankStep = 1.0;       // mm along x in which a long move is looked at for shank and collet
constexpr double kTouch = 0.01;          // mm of wood at the shank that is the simulation's own noise
constexpr std::size_t kLongestQueue = 4096;
constexpr std::size_t kMostHits = 20'000;  // a thread's; a program that wrong needs no longer list

// asin(q) from above for q in [0, 1]: equal at both ends, 4 % over at most in between.
double arc_sine_bound(double q) { return q + (std::numbers::pi / 2 - 1) * q * q * q; }

// Columns of RayTable, owned.
class Rays {
 public:
  explicit Rays(std::size_t n) {
    for (std::vector<float>& column : columns_) column.resize(n);
  }
  std::vector<float>& sine() { return columns_[0]; }
  std::vector<float>& cosine() { return columns_[1]; }

  // The other columns from sine and cosine, for entries [0, n).
  void complete(const Stroke& stroke, std::size_t n) {
    auto ul = static_cast<float>(stroke.ul), uh = static_cast<float>(stroke.uh);
    auto turn = static_cast<float>(std::fabs(stroke.turn));
    float *s = columns_[0].data(), *c = columns_[1].data();
    for (std::size_t j = 0; j < n; ++j) {
      float k = ul * s[j] + uh * c[j];
      float across = std::max(1 - k * k, 1e-7f);
      float sigma = std::max(std::fabs(s[j]) + turn, 1e-6f);
      float up = c[j] - turn;
      columns_[2][j] = k;
      columns_[3][j] = across;
      columns_[4][j] = 1 / across;
      columns_[5][j] = sigma * sigma;
      columns_[6][j] = 1 / sigma;
      columns_[7][j] = up > 0 ? up * up : -1;
      columns_[8][j] = 1 / std::max(c[j] + turn, 1e-3f);
    }
  }

  RayTable from(std::size_t j) const {
    return {columns_[0].data() + j, columns_[1].data() + j, columns_[2].data() + j, columns_[3].data() + j,
            columns_[4].data() + j, columns_[5].data() + j, columns_[6].data() + j, columns_[7].data() + j,
            columns_[8].data() + j};
  }

 private:
  std::vector<float> columns_[9];
};

struct Shape {
  double rho = 0, flute = 0;
  struct Shaft {
    double radius = 0, bottom = 0;  ///< bottom: mm above the tip
  };
  std::vector<Shaft> shafts;  ///< shank, collet
  double widest = 0;
};

Shape shape_of(const shop::Cutter& cutter) {
  Shape shape;
  shape.rho = cutter.diameter / 2;
  shape.flute = cutter.flute_length;
  shape.widest = shape.rho;
  auto add = [&](double diameter, double bottom) {
    if (!(diameter > 0)) return;
    shape.shafts.push_back({diameter / 2, std::max(bottom, cutter.flute_length)});
    shape.widest = std::max(shape.widest, diameter / 2);
  };
  add(cutter.shank_diameter, cutter.flute_length);
  if (cutter.shank_length > 0) add(cutter.collet_diameter, cutter.shank_length);
  return shape;
}

// One thread's slab of rows: it walks the whole path and touches its own rows only.
class Slab {
 public:
  Slab(const Grid& grid, const Shape& shape, const CutSettings& settings, std::size_t first, std::size_t last,
       const std::vector<float>& row_top, Cut& wood)
      : grid_(grid), shape_(shape), settings_(settings), first_(first), last_(last), row_top_(row_top), wood_(wood),
        step_(grid.column_step()), window_(static_cast<std::size_t>(grid.columns) + 2), crease_(16),
        entry_(window_size()), exit_(window_size()), tip_(window_size()), met_(wood.tops.size()), shank_(wood.tops.size()) {
    high_.assign(grid.begin[last] - grid.begin[first], -kNone);
    const double side = shape.rho - std::min(settings.side_slice, shape.rho / 2);
    by_side_ = static_cast<float>(shape.rho - std::sqrt(shape.rho * shape.rho - side * side));
    tops_.resize(wood.tops.size());
    best_.resize(last - first);
  }

  void walk(const motion::Path& path, double depth_limit, const std::stop_token& stop) {
    motion::Position from = path.start;
    for (std::size_t i = 0; i < path.moves.size(); ++i) {
      if ((i & 255u) == 0 && stop.stop_requested()) return;
      const motion::Move& move = path.moves[i];
      if (!queue(from, move, i)) {
        make_queued(depth_limit);
        begin_move();
        make(from, move, i == 0);
        end_move(i, move.rapid, depth_limit);
      }
      from = move.to;
    }
    make_queued(depth_limit);
  }

  std::vector<Hit> hits;
  double greatest_depth = 0;

 private:
  enum class Doing { cut, look, crash };

  struct Worst {
    double amount = 0, x = 0, theta = 0;
    void take(double candidate, double at_x, double at_theta) {
      if (candidate <= amount) return;
      *this = {candidate, at_x, at_theta};
    }
  };

  std::size_t window_size() const { return static_cast<std::size_t>(grid_.columns) + 2; }

  void begin_move() {
    std::fill(met_.begin(), met_.end(), Worst{});
    std::fill(shank_.begin(), shank_.end(), Worst{});
    depth_ = {};
  }

  void end_move(std::size_t index, bool rapid, double depth_limit) {
    auto note = [&](Hit::Kind kind, std::size_t blank, const Worst& worst) {
      if (hits.size() < kMostHits) hits.push_back({kind, index, blank, worst.amount, worst.x, worst.theta});
    };
    for (std::size_t b = 0; b < met_.size(); ++b) {
      if (rapid && met_[b].amount > settings_.rapid_clearance) note(Hit::Kind::rapid, b, met_[b]);
      if (shank_[b].amount > kTouch) note(Hit::Kind::shank, b, shank_[b]);
    }
    if (rapid) return;
    greatest_depth = std::max(greatest_depth, depth_.amount);
    if (depth_limit > 0 && depth_.amount > depth_limit + settings_.depth_slack) note(Hit::Kind::depth, 0, depth_);
  }

  // Rows of this slab within `reach` of [x_low, x_high].
  std::pair<std::size_t, std::size_t> rows_near(double x_low, double x_high, double reach) const {
    if (x_high + reach < grid_.x[first_] || x_low - reach > grid_.x[last_ - 1]) return {0, 0};
    std::size_t a = std::max(first_, grid_.first_row_from(x_low - reach));
    std::size_t b = std::min(last_, grid_.first_row_from(x_high + reach));
    return {a, std::max(a, b)};
  }

  double highest_start(std::pair<std::size_t, std::size_t> rows) const {
    float top = 0;
    for (std::size_t row = rows.first; row < rows.second; ++row) top = std::max(top, row_top_[row]);
    return top;
  }

  void make(const motion::Position& from, const motion::Move& move, bool first) {
    double x_low = std::min(from.x, move.to.x), x_high = std::max(from.x, move.to.x);
    auto rows = rows_near(x_low, x_high, shape_.widest);
    if (rows.first == rows.second) return;
    // nothing of the cutter is nearer to the axis than its tip
    double top = highest_start(rows);
    if (std::min(from.z, move.to.z) > top) return;
    auto strokes = [&](const auto& each) { for_each_stroke(from, move.to, shape_.rho, settings_.chord_error, each); };
    // Straight up, the cutter sweeps only where it stands already (as far as its flutes reach over all wood). Any other rapid is
    // looked at as a whole before it takes anything away.
    bool straight_up = !first && from.x == move.to.x && from.a == move.to.a && move.to.z > from.z && from.z + shape_.flute > top;
    if (move.rapid && straight_up) return;
    if (move.rapid) {
      strokes([&](const motion::Position& a, const motion::Position& b) { sweep(stroke_between(a, b, shape_.rho), Doing::look); });
    }
    strokes([&](const motion::Position& a, const motion::Position& b) {
      sweep(stroke_between(a, b, shape_.rho), move.rapid ? Doing::crash : Doing::cut);
      look_at_shafts(a, b, top);
    });
  }

  // A lengthwise pass is many short feed moves on and on along x in one direction a. Most of them take nothing on a given
  // row that another does not take as well; they are queued so that the deepest can be found first (make_queued()).
  struct Queued {
    std::size_t move = 0;
    Stroke stroke;
    std::size_t first = 0, last = 0;  ///< rows
    std::size_t slice = 0;            ///< index of its first row's slice
  };
  // What one ball takes of a row's plane: half its chord and the height of its lowest point.
  struct Slice {
    double chord = 0, bottom = 1e300;
  };

  // True when the move needs nothing more now: it is queued, or it cuts nothing here. Moves that turn, go back, plunge, are
  // rapid, or may bring the shank to wood must be made in their order.
  bool queue(const motion::Position& from, const motion::Move& move, std::size_t index) {
    if (move.rapid || from.a != move.to.a || from.x == move.to.x) return false;
    auto wide = rows_near(std::min(from.x, move.to.x), std::max(from.x, move.to.x), shape_.widest);
    if (wide.first == wide.second) return true;
    double top = highest_start(wide), lowest = std::min(from.z, move.to.z);
    if (lowest > top) return true;
    if (lowest + shape_.flute <= top) return false;
    bool forward = move.to.x > from.x;
    if (!queued_.empty() && (queued_.size() >= kLongestQueue || queued_.front().stroke.a != from.a || forward != forward_)) return false;
    forward_ = forward;
    Queued one{index, stroke_between(from, move.to, shape_.rho), 0, 0, slices_.size()};
    std::tie(one.first, one.last) = rows_near(one.stroke.x_low, one.stroke.x_high, shape_.rho);
    for (std::size_t row = one.first; row < one.last; ++row) {
      Slice slice = lowest_slice(one.stroke, grid_.x[row]);
      slices_.push_back(slice);
      Slice& best = best_[row - first_];
      if (slice.bottom < best.bottom || (slice.bottom == best.bottom && slice.chord > best.chord)) best = slice;
    }
    queued_.push_back(one);
    return true;
  }

  // The lowest slice that the stroke takes of the plane at x; chord 0 when it does not reach it.
  Slice lowest_slice(const Stroke& s, double x) const {
    double dx = x - s.x, w = dx * s.ux - s.c * s.uh, across = std::max(1 - s.uh * s.uh, 1e-12);
    double b = -s.c - w * s.uh, m = dx * s.uh + s.c * s.ux;
    double under = b * b - across * (m * m - shape_.rho * shape_.rho);
    double t = (-b - std::sqrt(std::max(0.0, under))) / across;
    double at = std::clamp(w + t * s.uh, 0.0, s.length), off = dx - at * s.ux;
    double chord2 = shape_.rho * shape_.rho - off * off;
    if (chord2 <= 0) return {};
    double chord = std::sqrt(chord2);
    return {chord, s.c + at * s.uh - chord};
  }

  // A slice lies inside another one with the shaft above it when that one is as wide and as low: the widest slice a
  // stroke can make of a row and the lowest bottom it can reach there, held against the best slice of the row.
  bool hidden(const Stroke& stroke, std::size_t row, const Slice& lowest) const {
    const Slice& best = best_[row - first_];
    double off = std::max({0.0, stroke.x_low - grid_.x[row], grid_.x[row] - stroke.x_high});
    double widest2 = shape_.rho * shape_.rho - off * off;
    if (lowest.bottom < best.bottom || widest2 > best.chord * best.chord) return false;
    return lowest.bottom > best.bottom || lowest.chord < best.chord;  // the best itself is not hidden
  }

  void make_queued(double depth_limit) {
    for (const Queued& one : queued_) {
      begin_move();
      bool opened = false;
      for (std::size_t row = one.first; row < one.last; ++row) {
        if (queued_.size() > 1 && hidden(one.stroke, row, slices_[one.slice + row - one.first])) continue;
        if (!opened) open_window(one.stroke);
        opened = true;
        sweep_row(one.stroke, row, Doing::cut);
      }
      end_move(one.move, false, depth_limit);
    }
    for (const Queued& one : queued_) {
      for (std::size_t row = one.first; row < one.last; ++row) best_[row - first_] = {};
    }
    queued_.clear();
    slices_.clear();
  }

  // Window of columns around the stroke; true when it is the whole turn.
  void open_window(const Stroke& stroke) {
    double q = stroke.c_low > shape_.rho ? shape_.rho / stroke.c_low : 1;
    double half = q < 1 ? arc_sine_bound(q) : std::numbers::pi;
    double a = stroke.a - kTurn * std::floor(stroke.a / kTurn);
    auto low = static_cast<long>(std::floor((a - half + std::min(0.0, stroke.turn)) / step_));
    auto high = static_cast<long>(std::ceil((a + half + std::max(0.0, stroke.turn)) / step_));
    long columns = grid_.columns;
    bool whole = high - low + 1 >= columns;
    if (whole) {
      low = 0;
      high = columns - 1;
    }
    bool same = stroke.a == window_a_ && low == window_low_ && high - low + 1 == window_count_;
    frame_ = a;
    window_whole_ = whole;
    window_low_ = low;
    window_count_ = high - low + 1;
    if (!same) fill_window(a);
    window_a_ = stroke.a;
    window_.complete(stroke, static_cast<std::size_t>(window_count_));
  }

  void fill_window(double a) {
    double sa = std::sin(a), ca = std::cos(a);
    long column = ((window_low_ % grid_.columns) + grid_.columns) % grid_.columns;
    for (long j = 0; j < window_count_; ++j) {
      auto at = static_cast<std::size_t>(column);
      window_.sine()[static_cast<std::size_t>(j)] = static_cast<float>(grid_.sines[at] * ca - grid_.cosines[at] * sa);
      window_.cosine()[static_cast<std::size_t>(j)] = static_cast<float>(grid_.cosines[at] * ca + grid_.sines[at] * sa);
      if (++column == grid_.columns) column = 0;
    }
  }

  void sweep(const Stroke& stroke, Doing doing) {
    auto rows = rows_near(stroke.x_low, stroke.x_high, shape_.rho);
    if (rows.first == rows.second) return;
    open_window(stroke);
    for (std::size_t row = rows.first; row < rows.second; ++row) sweep_row(stroke, row, doing);
  }

  RowStroke row_stroke(const Stroke& s, double x) const {
    double dx = x - s.x, w = dx * s.ux - s.c * s.uh;
    // |W x u|² from its parts: the difference of squares would lose digits
    double i = -dx * s.ul, j = dx * s.uh + s.c * s.ux, k = s.c * s.ul;
    double rho = shape_.rho;
    auto f = [](double v) { return static_cast<float>(v); };
    return {f(dx), f(s.c), f(s.ux), f(s.ul), f(s.uh), f(s.length), f(w), f(i * i + j * j + k * k - rho * rho),
            f(rho), f(rho * rho), f(shape_.flute - rho), s.ux == 0 && s.ul == 0 ? 1.0f : 0.0f};
  }

  void sweep_row(const Stroke& stroke, std::size_t row, Doing doing) {
    double x = grid_.x[row];
    double off = std::max({0.0, stroke.x_low - x, x - stroke.x_high});
    double reach2 = shape_.rho * shape_.rho - off * off;
    if (reach2 <= 0) return;
    double reach = std::sqrt(reach2);
    RowStroke of_row = row_stroke(stroke, x);
    long first = 0, count = window_count_;
    if (!window_whole_) {
      double half = arc_sine_bound(std::min(1.0, reach / stroke.c_low));
      first = std::max(0L, static_cast<long>((frame_ - half + std::min(0.0, stroke.turn)) / step_ - static_cast<double>(window_low_)));
      long last = std::min(window_count_ - 1, static_cast<long>(std::ceil((frame_ + half + std::max(0.0, stroke.turn)) / step_ -
                                                                           static_cast<double>(window_low_))));
      count = last - first + 1;
    }
    // the window may run over the seam: at most two runs of neighbouring columns
    while (count > 0) {
      long column = (((window_low_ + first) % grid_.columns) + grid_.columns) % grid_.columns;
      long run = std::min(count, grid_.columns - column);
      strike(of_row, window_, static_cast<std::size_t>(first), static_cast<std::size_t>(run), row,
             static_cast<std::size_t>(column), doing);
      first += run;
      count -= run;
    }
    if (grid_.creases_of(row) > 0) sweep_creases(stroke, of_row, row, reach, doing);
  }

  void sweep_creases(const Stroke& stroke, const RowStroke& of_row, std::size_t row, double reach, Doing doing) {
    const double* angles = grid_.crease.data() + grid_.crease_begin(row);
    double sine_most = stroke.c_low > reach ? reach / stroke.c_low + std::fabs(stroke.turn) : 2;
    for (std::size_t k = 0; k < grid_.creases_of(row); ++k) {
      double s = std::sin(angles[k] - frame_), c = std::cos(angles[k] - frame_);
      if (sine_most < 1 && (c < 0 || std::fabs(s) > sine_most)) continue;
      crease_.sine()[0] = static_cast<float>(s);
      crease_.cosine()[0] = static_cast<float>(c);
      crease_.complete(stroke, 1);
      strike(of_row, crease_, 0, 1, row, static_cast<std::size_t>(grid_.columns) + k, doing);
    }
  }

  // Rays [column, column + run) of the row, whose table entries begin at `first`.
  void strike(const RowStroke& of_row, const Rays& rays, std::size_t first, std::size_t run, std::size_t row,
              std::size_t column, Doing doing) {
    RayTable table = rays.from(first);
    meet(of_row, table, run, entry_.data(), exit_.data(), tip_.data());
    std::size_t at = grid_.begin[row] + column;
    float* high = high_.data() + (at - grid_.begin[first_]);
    if (doing == Doing::look) {
      look_for_wood(run, row, column, high);
      return;
    }
    for (std::size_t b = 0; b < tops_.size(); ++b) tops_[b] = wood_.tops[b].data() + at;
    float depth = take_away(table, run, entry_.data(), exit_.data(), tip_.data(), by_side_, wood_.low.data() + at,
                            high, tops_.data(), tops_.size());
    if (doing == Doing::cut) depth_.take(static_cast<double>(depth), grid_.x[row], grid_.angle(row, column + run / 2));
  }

  // Length of wood in [entry, exit] of a ray: wood is [0, low) and (high, top].
  static float wood_within(float entry, float exit, float low, float high, float top) {
    float inner = std::min({exit, low, top}) - entry;
    float outer = low < top ? std::min(exit, top) - std::max(high, entry) : 0.0f;
    return std::max(inner, outer);
  }

  void look_for_wood(std::size_t run, std::size_t row, std::size_t column, const float* high) {
    std::size_t at = grid_.begin[row] + column;
    for (std::size_t j = 0; j < run; ++j) {
      if (entry_[j] >= kNone) continue;
      for (std::size_t b = 0; b < met_.size(); ++b) {
        float wood = wood_within(entry_[j], exit_[j], wood_.low[at + j], high[j], wood_.tops[b][at + j]);
        if (wood > 0) met_[b].take(static_cast<double>(wood), grid_.x[row], grid_.angle(row, column + j));
      }
    }
  }

  // Shank and collet at the two ends of a stroke and, on long ones, every kShankStep between, as one box each: a little more
  // than they fill, never less.
  void look_at_shafts(const motion::Position& from, const motion::Position& to, double top) {
    double lowest = std::min(from.z, to.z);
    for (const Shape::Shaft& shaft : shape_.shafts) {
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

  void look_at_shaft(const Shape::Shaft& shaft, const motion::Position& from, const motion::Position& to) {
    double height = std::min(from.z, to.z) + shaft.bottom;
    double x_low = std::min(from.x, to.x), x_high = std::max(from.x, to.x);
    auto rows = rows_near(x_low, x_high, shaft.radius);
    if (rows.first == rows.second || height > highest_start(rows)) return;
    double middle = (from.a + to.a) / 2, turn = std::fabs(to.a - from.a) / 2;
    for (std::size_t row = rows.first; row < rows.second; ++row) {
      double off = std::max({0.0, x_low - grid_.x[row], grid_.x[row] - x_high});
      double reach2 = shaft.radius * shaft.radius - off * off;
      if (reach2 > 0) look_at_shaft_row(row, std::sqrt(reach2), height, middle, turn);
    }
  }

  void look_at_shaft_row(std::size_t row, double reach, double height, double middle, double turn) {
    double half = height > 0 ? std::atan2(reach, height) + turn : std::numbers::pi;
    std::size_t rays = static_cast<std::size_t>(grid_.columns) + grid_.creases_of(row);
    auto look = [&](std::size_t k) {
      double theta = grid_.angle(row, k);
      double phi = std::max(0.0, std::fabs(std::remainder(theta - middle, kTurn)) - turn);
      double c = std::cos(phi), s = std::sin(phi);
      if (c <= 0 || height * s > reach * c) return;
      std::size_t at = grid_.begin[row] + k;
      auto entry = static_cast<float>(std::max(0.0, height / c)), exit = static_cast<float>(s > 1e-6 ? reach / s : 1e6);
      for (std::size_t b = 0; b < shank_.size(); ++b) {
        float wood = wood_within(entry, exit, wood_.low[at], high_[at - grid_.begin[first_]], wood_.tops[b][at]);
        if (wood > 0) shank_[b].take(static_cast<double>(wood) * c, grid_.x[row], theta);
      }
    };
    long columns = grid_.columns;
    auto low = static_cast<long>(std::floor((middle - kTurn * std::floor(middle / kTurn) - half) / step_));
    long count = std::min(columns, static_cast<long>(std::ceil(2 * half / step_)) + 2);
    for (long j = 0; j < count; ++j) look(static_cast<std::size_t>((((low + j) % columns) + columns) % columns));
    for (std::size_t k = static_cast<std::size_t>(columns); k < rays; ++k) look(k);
  }

  const Grid& grid_;
  const Shape& shape_;
  const CutSettings& settings_;
  std::size_t first_, last_;
  const std::vector<float>& row_top_;
  Cut& wood_;
  double step_;
  Rays window_, crease_;
  double window_a_ = 1e300, frame_ = 0;
  long window_low_ = 0, window_count_ = 0;
  bool window_whole_ = false;
  std::vector<float> high_, entry_, exit_, tip_;
  std::vector<float*> tops_;
  std::vector<Worst> met_, shank_;
  Worst depth_;
  float by_side_ = 0;  ///< mm above the tip from which on the ball's side takes less than side_slice
  std::vector<Queued> queued_;
  std::vector<Slice> slices_, best_;  // best_: a row
  bool forward_ = true;
};

std::vector<float> highest_of_rows(const Grid& grid, const std::vector<std::vector<float>>& starts) {
  std::vector<float> top(grid.rows(), 0.0f);
  for (const std::vector<float>& start : starts) {
    for (std::size_t row = 0; row < grid.rows(); ++row) {
      for (std::size_t i = grid.begin[row]; i < grid.begin[row + 1]; ++i) top[row] = std::max(top[row], start[i]);
    }
  }
  return top;
}

// Rows split so that each slab has about the same work: the moves' rows are counted.
std::vector<std::size_t> slab_ends(const Grid& grid, const motion::Path& path, std::size_t slabs) {
  std::vector<double> change(grid.rows() + 1, 0);
  motion::Position from = path.start;
  for (const motion::Move& move : path.moves) {
    change[grid.first_row_from(std::min(from.x, move.to.x))] += 1;
    change[grid.first_row_from(std::max(from.x, move.to.x))] -= 1;
    from = move.to;
  }
  std::vector<double> sum(grid.rows() + 1, 0);
  double load = 0;
  for (std::size_t row = 0; row < grid.rows(); ++row) {
    load += change[row];
    sum[row + 1] = sum[row] + load + 1;
  }
  std::vector<std::size_t> ends{0};
  for (std::size_t k = 1; k < slabs; ++k) {
    double share = sum.back() * static_cast<double>(k) / static_cast<double>(slabs);
    auto row = static_cast<std::size_t>(std::lower_bound(sum.begin(), sum.end(), share) - sum.begin());
    if (row > ends.back() && row < grid.rows()) ends.push_back(row);
  }
  ends.push_back(grid.rows());
  return ends;
}

// Two slabs may both have seen a move meet wood: the worse of them counts.
std::vector<Hit> merged(std::vector<Hit> hits) {
  auto key = [](const Hit& h) { return std::tuple(h.move, h.blank, static_cast<int>(h.kind)); };
  std::sort(hits.begin(), hits.end(), [&](const Hit& a, const Hit& b) {
    return key(a) != key(b) ? key(a) < key(b) : std::tuple(-a.amount, a.x, a.theta) < std::tuple(-b.amount, b.x, b.theta);
  });
  hits.erase(std::unique(hits.begin(), hits.end(), [&](const Hit& a, const Hit& b) { return key(a) == key(b); }), hits.end());
  return hits;
}

}  // namespace

double strokes_of(const motion::Path& path, double rho, double chord_error) {
  double count = 0;
  const motion::Position* from = &path.start;
  for (const motion::Move& move : path.moves) {
    count += strokes_for(*from, move.to, rho, chord_error);
    from = &move.to;
  }
  return count;
}

Result<Cut> cut(const Grid& grid, std::vector<std::vector<float>> starts, const motion::Path& path,
                const shop::Cutter& cutter, const CutSettings& settings, std::stop_token stop) {
  Shape shape = shape_of(cutter);
  if (strokes_of(path, shape.rho, settings.chord_error) > kMostStrokes) {
    return fail("proof.too-much", "the program turns so far that the check would not end",
                "look for a rotary word that jumps by many turns");
  }
  Cut wood;
  wood.low.assign(grid.rays(), kNone);
  std::vector<float> row_top = highest_of_rows(grid, starts);
  wood.tops = std::move(starts);
  std::size_t wanted = settings.threads > 0 ? static_cast<std::size_t>(settings.threads)
                                            : std::max(1u, std::thread::hardware_concurrency());
  std::vector<std::size_t> ends = slab_ends(grid, path, std::min(wanted, grid.rows()));
  std::vector<Slab> slabs;
  for (std::size_t k = 0; k + 1 < ends.size(); ++k) {
    slabs.emplace_back(grid, shape, settings, ends[k], ends[k + 1], row_top, wood);
  }
  {
    std::vector<std::jthread> others;
    for (std::size_t k = 1; k < slabs.size(); ++k) {
      others.emplace_back([&, k] { slabs[k].walk(path, cutter.max_depth_of_cut, stop); });
    }
    slabs[0].walk(path, cutter.max_depth_of_cut, stop);
  }
  if (stop.stop_requested()) return fail("cancelled", "the check was stopped before its end");
  for (const Slab& slab : slabs) {
    wood.hits.insert(wood.hits.end(), slab.hits.begin(), slab.hits.end());
    wood.greatest_depth = std::max(wood.greatest_depth, slab.greatest_depth);
  }
  wood.hits = merged(std::move(wood.hits));
  return wood;
}

namespace {

// Entry of the ray into what the stroke sweeps, or nothing.
std::optional<double> entry_of(const Stroke& s, double rho, double x, double theta) {
  double phi = theta - s.a, sine = std::sin(phi), cosine = std::cos(phi);
  double dx = x - s.x, k = s.ul * sine + s.uh * cosine, w = dx * s.ux - s.c * s.uh;
  double across = std::max(1 - k * k, 1e-12), b = -s.c * cosine - w * k;
  double gap = dx * dx + s.c * s.c - w * w - rho * rho;
  double t = (-b - std::sqrt(std::max(0.0, b * b - across * gap))) / across;
  double at = std::clamp(w + t * k, 0.0, s.length);
  double h = s.c + at * s.uh, l = at * s.ul, off = dx - at * s.ux;
  double q = l * cosine - h * sine, v = rho * rho - off * off - q * q;
  if (v <= 0) return {};
  double p = l * sine + h * cosine, root = std::sqrt(v);
  if (p + root <= 0) return {};
  return std::max(0.0, p - root);
}

}  // namespace

std::size_t deepest_move(const motion::Path& path, double rho, double chord_error, double x, double theta, double& entry) {
  std::size_t found = path.moves.size();
  entry = static_cast<double>(kNone);
  const motion::Position* from = &path.start;
  for (std::size_t i = 0; i < path.moves.size(); ++i) {
    const motion::Position& to = path.moves[i].to;
    if (std::min(from->x, to.x) - rho < x && x < std::max(from->x, to.x) + rho &&
        std::min(from->z, to.z) < entry) {
      for_each_stroke(*from, to, rho, chord_error, [&](const motion::Position& a, const motion::Position& b) {
        std::optional<double> e = entry_of(stroke_between(a, b, rho), rho, x, theta);
        if (e && *e < entry) {
          entry = *e;
          found = i;
        }
      });
    }
    from = &to;
  }
  return found;
}

}  // namespace pommel::proof
