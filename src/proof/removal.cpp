#include "proof/removal.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <numbers>
#include <thread>
#include <tuple>

#include "proof/kernel.h"
#include "proof/stroke.h"
#include "proof/sweep.h"

namespace pommel::proof {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kMostStrokes = 1e8;
constexpr double kShankStep = 1.0;       // mm along x in which a long move is looked at for shank and collet
constexpr double kTouch = 0.01;          // mm of wood at the shank that is the simulation's own noise
constexpr std::size_t kLongestQueue = 4096;
constexpr std::size_t kMostHits = 2'000;  // a slab's; a program that wrong needs no longer list
constexpr std::size_t kSlabRays = 36'000;  // three figures and two starts each: 0.7 MB, what a second cache holds

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

// What every slab reads.
struct Shared {
  const Grid& grid;
  const Tool& tool;
  const CutSettings& settings;
  const motion::Path& path;
  std::vector<std::uint32_t> run;      // a move: feed moves on along x in one direction that follow each other have one number
  std::vector<float> row_top;          // highest start of a row, whatever the blank
  std::vector<float> most, most_crease;  // the farthest any blank reaches: of a column all along, of each crease ray
  std::vector<float> crease_sine, crease_cosine;
  float by_side = 0;                   // mm above the tip from which on the cutter's side takes less than side_slice

  const motion::Position& from(std::size_t move) const { return move == 0 ? path.start : path.moves[move - 1].to; }
};

// Rows [first, last) with the moves that may touch them.
struct Slab {
  std::size_t first = 0, last = 0;
  std::vector<std::uint32_t> moves;
  std::vector<Hit> hits;
  double greatest_depth = 0;
};

// Makes the moves on one slab after the other; a thread has one.
class Worker {
 public:
  Worker(const Shared& shared, Wood& wood)
      : shared_(shared), grid_(shared.grid), tool_(shared.tool), wood_(wood), step_(grid_.column_step()), flanked_(tool_.corner_end < tool_.radius),
        window_(window_size()), crease_(window_size()), entry_(window_size()), exit_(window_size()), tip_(window_size()), met_(wood.starts.size()),
        shank_(wood.starts.size()) {}

  void work(Slab& slab, const std::stop_token& stop) {
    slab_ = &slab;
    best_.assign(slab.last - slab.first, {});
    std::size_t done = 0;
    for (std::size_t i : slab.moves) {
      if ((++done & 255u) == 0 && stop.stop_requested()) break;
      if (queue(i)) continue;
      make_queued();
      begin_move();
      make(i);
      end_move(i);
    }
    make_queued();
  }

 private:
  enum class Doing { cut, look, crash };

  struct Worst {
    double amount = 0, x = 0, theta = 0;
    void take(double candidate, double at_x, double at_theta) {
      if (candidate <= amount) return;
      *this = {candidate, at_x, at_theta};
    }
  };

  // As many as a row may have: columns and creases apart.
  std::size_t window_size() const {
    std::size_t creases = 0;
    for (std::size_t row = 0; row < grid_.rows(); ++row) creases = std::max(creases, grid_.creases_of(row));
    return std::max(creases, static_cast<std::size_t>(grid_.columns)) + 2;
  }

  void begin_move() {
    std::fill(met_.begin(), met_.end(), Worst{});
    std::fill(shank_.begin(), shank_.end(), Worst{});
    depth_ = {};
  }

  void end_move(std::size_t index) {
    bool rapid = shared_.path.moves[index].rapid;
    auto note = [&](Hit::Kind kind, std::size_t blank, const Worst& worst) {
      if (slab_->hits.size() < kMostHits) slab_->hits.push_back({kind, index, blank, worst.amount, worst.x, worst.theta});
    };
    for (std::size_t b = 0; b < met_.size(); ++b) {
      if (rapid && met_[b].amount > shared_.settings.rapid_clearance) note(Hit::Kind::rapid, b, met_[b]);
      if (shank_[b].amount > kTouch) note(Hit::Kind::shank, b, shank_[b]);
    }
    if (rapid) return;
    slab_->greatest_depth = std::max(slab_->greatest_depth, depth_.amount);
    if (tool_.max_depth > 0 && depth_.amount > tool_.max_depth + shared_.settings.depth_slack) note(Hit::Kind::depth, 0, depth_);
  }

  // Rows of this slab within `reach` of [x_low, x_high].
  std::pair<std::size_t, std::size_t> rows_near(double x_low, double x_high, double reach) const {
    if (x_high + reach < grid_.x[slab_->first] || x_low - reach > grid_.x[slab_->last - 1]) return {0, 0};
    std::size_t a = std::max(slab_->first, grid_.first_row_from(x_low - reach));
    std::size_t b = std::min(slab_->last, grid_.first_row_from(x_high + reach));
    return {a, std::max(a, b)};
  }

  double highest_start(std::pair<std::size_t, std::size_t> rows) const {
    float top = 0;
    for (std::size_t row = rows.first; row < rows.second; ++row) top = std::max(top, shared_.row_top[row]);
    return static_cast<double>(top);
  }

  void make(std::size_t index) {
    const motion::Position& from = shared_.from(index);
    const motion::Move& move = shared_.path.moves[index];
    double x_low = std::min(from.x, move.to.x), x_high = std::max(from.x, move.to.x);
    auto rows = rows_near(x_low, x_high, tool_.widest);
    if (rows.first == rows.second) return;
    // nothing of the cutter is nearer to the axis than its tip
    double top = highest_start(rows);
    if (std::min(from.z, move.to.z) > top) return;
    // Straight up, the cutter sweeps only where it stands already (as far as its flutes reach over all wood). Any other rapid is
    // looked at as a whole before it takes anything away.
    bool straight_up = index > 0 && from.x == move.to.x && from.a == move.to.a && move.to.z > from.z && from.z + tool_.flute > top;
    if (move.rapid && straight_up) return;
    auto strokes = [&](const auto& each) { for_each_stroke(from, move.to, tool_.radius, chord_error(), each); };
    if (move.rapid) strokes([&](const motion::Position& a, const motion::Position& b) { sweep(a, b, Doing::look); });
    strokes([&](const motion::Position& a, const motion::Position& b) {
      sweep(a, b, move.rapid ? Doing::crash : Doing::cut);
      look_at_shafts(a, b, top);
    });
  }

  // only a ball is moved along chords
  double chord_error() const { return tool_.is_ball() ? shared_.settings.chord_error : 1e9; }

  // A lengthwise pass is many short feed moves on and on along x in one direction a. Most of them take nothing on a given
  // row that another does not take as well; they are queued so that the deepest can be found first (make_queued()).
  struct Queued {
    std::size_t move = 0;
    Stroke stroke;                    ///< of a ball
    std::size_t sweep = 0;            ///< index into sweeps_, of any other cutter
    double lowest = 0;                ///< of its tip
    std::size_t first = 0, last = 0;  ///< rows
    std::size_t slice = 0;            ///< index of its first row's slice
  };
  // What one cutter takes of a row's plane: half its chord, the height of its lowest point, and of the tip when it does.
  struct Slice {
    double chord = 0, bottom = 1e300, tip = 1e300;
  };

  // True when the move needs nothing more now: it is queued, or it cuts nothing here. Moves that turn, go back, plunge, are
  // rapid, or may bring the shank to wood must be made in their order.
  bool queue(std::size_t index) {
    const motion::Position& from = shared_.from(index);
    const motion::Move& move = shared_.path.moves[index];
    if (move.rapid || from.a != move.to.a || from.x == move.to.x) return false;
    double x_low = std::min(from.x, move.to.x), x_high = std::max(from.x, move.to.x);
    auto wide = rows_near(x_low, x_high, tool_.widest);
    if (wide.first == wide.second) return true;
    double top = highest_start(wide), lowest = std::min(from.z, move.to.z);
    if (lowest > top) return true;
    if (lowest + tool_.flute <= top) return false;
    if (!queued_.empty() && (queued_.size() >= kLongestQueue || shared_.run[queued_.front().move] != shared_.run[index])) make_queued();
    Queued one;
    one.move = index;
    one.lowest = lowest;
    one.slice = slices_.size();
    std::tie(one.first, one.last) = rows_near(x_low, x_high, tool_.radius);
    if (tool_.is_ball()) {
      one.stroke = stroke_between(from, move.to, tool_.radius);
    } else {
      one.sweep = sweeps_.size();
      sweeps_.emplace_back(tool_, from, move.to);
    }
    for (std::size_t row = one.first; row < one.last; ++row) {
      Slice slice = tool_.is_ball() ? lowest_slice(one.stroke, grid_.x[row]) : lowest_slice(sweeps_[one.sweep], grid_.x[row]);
      slices_.push_back(slice);
      Slice& best = best_[row - slab_->first];
      if (slice.bottom < best.bottom || (slice.bottom == best.bottom && slice.chord > best.chord)) best = slice;
    }
    queued_.push_back(one);
    return true;
  }

  // The lowest slice that the stroke takes of the plane at x; chord 0 when it does not reach it.
  Slice lowest_slice(const Stroke& s, double x) const {
    double rho = tool_.radius;
    double dx = x - s.x, w = dx * s.ux - s.c * s.uh, across = std::max(1 - s.uh * s.uh, 1e-12);
    double b = -s.c - w * s.uh, m = dx * s.uh + s.c * s.ux;
    double under = b * b - across * (m * m - rho * rho);
    double t = (-b - std::sqrt(std::max(0.0, under))) / across;
    double at = std::clamp(w + t * s.uh, 0.0, s.length), off = dx - at * s.ux;
    double chord2 = rho * rho - off * off;
    if (chord2 <= 0) return {};
    double chord = std::sqrt(chord2), centre = s.c + at * s.uh;
    return {chord, centre - chord, centre - rho};
  }

  Slice lowest_slice(const Sweep& sweep, double x) const {
    double off = 0, tip = 0, bottom = sweep.lowest(x, off, tip), chord2 = tool_.radius * tool_.radius - off * off;
    return bottom < 1e8 ? Slice{std::sqrt(std::max(0.0, chord2)), bottom, tip} : Slice{};
  }

  // A slice lies inside another one with the shaft above it when that one is as wide and as low (and, of a cutter with a leaning
  // flank, its tip is as low: such slices narrow towards their sides): the widest slice a stroke can make of a row and the lowest
  // bottom it can reach there, held against the best slice of the row.
  bool hidden(const Queued& one, std::size_t row, const Slice& lowest) const {
    const Slice& best = best_[row - slab_->first];
    const motion::Position &from = shared_.from(one.move), &to = shared_.path.moves[one.move].to;
    double off = std::max({0.0, std::min(from.x, to.x) - grid_.x[row], grid_.x[row] - std::max(from.x, to.x)});
    double widest2 = tool_.radius * tool_.radius - off * off;
    if (lowest.bottom < best.bottom || widest2 > best.chord * best.chord) return false;
    if (flanked_ && one.lowest < best.tip) return false;
    return lowest.bottom > best.bottom || lowest.chord < best.chord;  // the best itself is not hidden
  }

  void make_queued() {
    for (const Queued& one : queued_) {
      begin_move();
      bool opened = false;
      for (std::size_t row = one.first; row < one.last; ++row) {
        const Slice& slice = slices_[one.slice + row - one.first];
        if (slice.bottom >= 1e8 || (queued_.size() > 1 && hidden(one, row, slice))) continue;
        if (tool_.is_ball()) {
          if (!opened) open_window(one.stroke);
          sweep_row(one.stroke, row, Doing::cut);
        } else {
          if (!opened) open_window_any(shared_.from(one.move), shared_.path.moves[one.move].to);
          sweep_row_any(sweeps_[one.sweep], row, Doing::cut);
        }
        opened = true;
      }
      end_move(one.move);
    }
    for (const Queued& one : queued_) {
      for (std::size_t row = one.first; row < one.last; ++row) best_[row - slab_->first] = {};
    }
    queued_.clear();
    slices_.clear();
    sweeps_.clear();
  }

  // Window of columns `half` to both sides of the directions from a to a + turn; true when it was there already.
  bool set_window(double a, double turn, double half) {
    double frame = a - kTurn * std::floor(a / kTurn);
    auto low = static_cast<long>(std::floor((frame - half + std::min(0.0, turn)) / step_));
    auto high = static_cast<long>(std::ceil((frame + half + std::max(0.0, turn)) / step_));
    window_whole_ = high - low + 1 >= grid_.columns;
    if (window_whole_) {
      low = 0;
      high = grid_.columns - 1;
    }
    bool same = a == window_a_ && low == window_low_ && high - low + 1 == window_count_;
    frame_ = frame;
    window_low_ = low;
    window_count_ = high - low + 1;
    if (!same) fill_window(frame);
    window_a_ = a;
    return same;
  }

  void open_window(const Stroke& stroke) {
    double q = stroke.c_low > tool_.radius ? tool_.radius / stroke.c_low : 1;
    set_window(stroke.a, stroke.turn, q < 1 ? arc_sine_bound(q) : std::numbers::pi);
    window_.complete(stroke, static_cast<std::size_t>(window_count_));
  }

  void open_window_any(const motion::Position& from, const motion::Position& to) {
    double lowest = std::min(from.z, to.z);
    double half = lowest > 1e-3 ? std::atan2(tool_.radius, lowest) + 1e-6 : std::numbers::pi;
    set_window(from.a, to.a - from.a, half);
  }

  void fill_window(double frame) {
    frame_sine_ = std::sin(frame);
    frame_cosine_ = std::cos(frame);
    long column = ((window_low_ % grid_.columns) + grid_.columns) % grid_.columns;
    for (long j = 0; j < window_count_; ++j) {
      auto at = static_cast<std::size_t>(column);
      window_.sine()[static_cast<std::size_t>(j)] = static_cast<float>(grid_.sines[at] * frame_cosine_ - grid_.cosines[at] * frame_sine_);
      window_.cosine()[static_cast<std::size_t>(j)] = static_cast<float>(grid_.cosines[at] * frame_cosine_ + grid_.sines[at] * frame_sine_);
      if (++column == grid_.columns) column = 0;
    }
  }

  void sweep(const motion::Position& from, const motion::Position& to, Doing doing) {
    auto rows = rows_near(std::min(from.x, to.x), std::max(from.x, to.x), tool_.radius);
    if (rows.first == rows.second) return;
    if (tool_.is_ball()) {
      Stroke stroke = stroke_between(from, to, tool_.radius);
      open_window(stroke);
      for (std::size_t row = rows.first; row < rows.second; ++row) sweep_row(stroke, row, doing);
      return;
    }
    Sweep any(tool_, from, to);
    open_window_any(from, to);
    for (std::size_t row = rows.first; row < rows.second; ++row) sweep_row_any(any, row, doing);
  }

  RowStroke row_stroke(const Stroke& s, double x) const {
    double dx = x - s.x, w = dx * s.ux - s.c * s.uh;
    // |W x u|² from its parts: the difference of squares would lose digits
    double i = -dx * s.ul, j = dx * s.uh + s.c * s.ux, k = s.c * s.ul;
    double rho = tool_.radius;
    auto f = [](double v) { return static_cast<float>(v); };
    return {f(dx), f(s.c), f(s.ux), f(s.ul), f(s.uh), f(s.length), f(w), f(i * i + j * j + k * k - rho * rho),
            f(rho), f(rho * rho), f(tool_.flute - rho), s.ux == 0 && s.ul == 0 ? 1.0f : 0.0f};
  }

  // Calls strike(first, run, column) on the runs of neighbouring columns of the window's entries [first, last]: it may go over the seam.
  template <class F>
  void for_runs(long first, long last, const F& strike_run) {
    long count = last - first + 1;
    while (count > 0) {
      long column = (((window_low_ + first) % grid_.columns) + grid_.columns) % grid_.columns;
      long run = std::min(count, grid_.columns - column);
      strike_run(static_cast<std::size_t>(first), static_cast<std::size_t>(run), static_cast<std::size_t>(column));
      first += run;
      count -= run;
    }
  }

  void sweep_row(const Stroke& stroke, std::size_t row, Doing doing) {
    double x = grid_.x[row];
    double off = std::max({0.0, stroke.x_low - x, x - stroke.x_high});
    double reach2 = tool_.radius * tool_.radius - off * off;
    if (reach2 <= 0) return;
    double reach = std::sqrt(reach2);
    RowStroke of_row = row_stroke(stroke, x);
    long first = 0, last = window_count_ - 1;
    if (!window_whole_) {
      double half = arc_sine_bound(std::min(1.0, reach / stroke.c_low));
      double from = static_cast<double>(window_low_);
      first = std::max(0L, static_cast<long>((frame_ - half + std::min(0.0, stroke.turn)) / step_ - from));
      last = std::min(last, static_cast<long>(std::ceil((frame_ + half + std::max(0.0, stroke.turn)) / step_ - from)));
    }
    for_runs(first, last, [&](std::size_t entry, std::size_t run, std::size_t column) {
      RayTable table = window_.from(entry);
      meet(of_row, table, run, entry_.data(), exit_.data(), tip_.data());
      strike(table, run, row, column, doing);
    });
    if (grid_.creases_of(row) == 0) return;
    double sine_most = stroke.c_low > reach ? reach / stroke.c_low + std::fabs(stroke.turn) : 2;
    if (!turn_creases(row, sine_most)) return;
    std::size_t n = grid_.creases_of(row);
    crease_.complete(stroke, n);
    RayTable table = crease_.from(0);
    meet(of_row, table, n, entry_.data(), exit_.data(), tip_.data());
    strike(table, n, row, static_cast<std::size_t>(grid_.columns), doing);
  }

  // Sines and cosines of the row's creases from the frame; false when none of them is near it.
  bool turn_creases(std::size_t row, double sine_most) {
    const std::size_t n = grid_.creases_of(row), begin = grid_.crease_begin(row);
    auto sa = static_cast<float>(frame_sine_), ca = static_cast<float>(frame_cosine_);
    bool near = sine_most >= 1;
    for (std::size_t k = 0; k < n; ++k) {
      float s = shared_.crease_sine[begin + k], c = shared_.crease_cosine[begin + k];
      float sine = s * ca - c * sa, cosine = c * ca + s * sa;
      crease_.sine()[k] = sine;
      crease_.cosine()[k] = cosine;
      near = near || (cosine > 0 && std::fabs(static_cast<double>(sine)) <= sine_most);
    }
    return near;
  }

  void sweep_row_any(const Sweep& any, std::size_t row, Doing doing) {
    double x = grid_.x[row];
    auto take = [&](std::size_t j, double theta) {
      auto met = any.meet(x, theta);
      entry_[j] = met ? static_cast<float>(met->entry) : kNone;
      exit_[j] = met ? static_cast<float>(met->exit) : -kNone;
      tip_[j] = met ? static_cast<float>(met->tip) : 0;
    };
    for_runs(0, window_count_ - 1, [&](std::size_t entry, std::size_t run, std::size_t column) {
      for (std::size_t j = 0; j < run; ++j) take(j, grid_.angle(row, column + j));
      strike(window_.from(entry), run, row, column, doing);
    });
    const std::size_t n = grid_.creases_of(row);
    if (n == 0 || !turn_creases(row, 2)) return;
    for (std::size_t k = 0; k < n; ++k) take(k, grid_.angle(row, static_cast<std::size_t>(grid_.columns) + k));
    strike(crease_.from(0), n, row, static_cast<std::size_t>(grid_.columns), doing);
  }

  // Rays [column, column + run) of the row, which meet the cutter as entry_, exit_ and tip_ say.
  void strike(const RayTable& table, std::size_t run, std::size_t row, std::size_t column, Doing doing) {
    if (doing == Doing::look) return look_for_wood(run, row, column);
    std::size_t at = grid_.begin[row] + column;
    auto columns = static_cast<std::size_t>(grid_.columns);
    const float* most = column < columns ? shared_.most.data() + column : shared_.most_crease.data() + grid_.crease_begin(row) + (column - columns);
    WoodRun wood{wood_.low.data() + at, wood_.high.data() + at, wood_.out.data() + at, wood_.starts[0].data() + at, most};
    float depth = take_away(table, run, entry_.data(), exit_.data(), tip_.data(), shared_.by_side, wood);
    if (doing == Doing::cut) depth_.take(static_cast<double>(depth), grid_.x[row], grid_.angle(row, column + run / 2));
  }

  // Length of wood in [entry, exit] of a ray: wood is [0, low) and (high, top].
  float wood_within(float entry, float exit, std::size_t blank, std::size_t ray) const {
    float low = wood_.low[ray], top = wood_.top(blank, ray);
    float inner = std::min({exit, low, top}) - entry;
    float outer = low < top ? std::min(exit, top) - std::max(wood_.high[ray], entry) : 0.0f;
    return std::max(inner, outer);
  }

  void look_for_wood(std::size_t run, std::size_t row, std::size_t column) {
    std::size_t at = grid_.begin[row] + column;
    for (std::size_t j = 0; j < run; ++j) {
      if (entry_[j] >= kNone) continue;
      for (std::size_t b = 0; b < met_.size(); ++b) {
        float wood = wood_within(entry_[j], exit_[j], b, at + j);
        if (wood > 0) met_[b].take(static_cast<double>(wood), grid_.x[row], grid_.angle(row, column + j));
      }
    }
  }

  // Shank, collet nut and holder at the two ends of a stroke and, on long ones, every kShankStep between, as one box each: a little
  // more than they fill, never less.
  void look_at_shafts(const motion::Position& from, const motion::Position& to, double top) {
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

  void look_at_shaft(const Tool::Shaft& shaft, const motion::Position& from, const motion::Position& to) {
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

  void look_at_shaft_row(std::size_t row, double reach, double height, double middle, double turn) {
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
      std::size_t at = grid_.begin[row] + k;
      auto entry = static_cast<float>(std::max(0.0, height / c)), exit = static_cast<float>(s > 1e-6 ? reach / s : 1e6);
      for (std::size_t b = 0; b < shank_.size(); ++b) {
        float wood = wood_within(entry, exit, b, at);
        if (wood > 0) shank_[b].take(static_cast<double>(wood) * c, grid_.x[row], theta);
      }
    };
    long columns = grid_.columns;
    auto low = static_cast<long>(std::floor((middle - kTurn * std::floor(middle / kTurn) - half) / step_));
    long count = std::min(columns, static_cast<long>(std::ceil(2 * half / step_)) + 2);
    for (long j = 0; j < count; ++j) look(static_cast<std::size_t>((((low + j) % columns) + columns) % columns));
    for (std::size_t k = static_cast<std::size_t>(columns); k < rays; ++k) look(k);
  }

  const Shared& shared_;
  const Grid& grid_;
  const Tool& tool_;
  Wood& wood_;
  Slab* slab_ = nullptr;
  double step_;
  bool flanked_;  ///< the cutter has a leaning flank
  Rays window_, crease_;
  double window_a_ = 1e300, frame_ = 0, frame_sine_ = 0, frame_cosine_ = 1;
  long window_low_ = 0, window_count_ = 0;
  bool window_whole_ = false;
  std::vector<float> entry_, exit_, tip_;
  std::vector<Worst> met_, shank_;
  Worst depth_;
  std::vector<Queued> queued_;
  std::vector<Sweep> sweeps_;
  std::vector<Slice> slices_, best_;  // best_: a row
};

std::vector<std::uint32_t> runs_of(const motion::Path& path) {
  std::vector<std::uint32_t> run(path.moves.size());
  const motion::Position* from = &path.start;
  std::uint32_t id = 0;
  int last = 0;  // sense along x of the run that is open
  for (std::size_t i = 0; i < run.size(); ++i) {
    const motion::Move& move = path.moves[i];
    int sense = move.rapid || move.to.a != from->a ? 0 : (move.to.x > from->x) - (move.to.x < from->x);
    if (sense == 0 || sense != last) ++id;
    run[i] = id;
    last = sense;
    from = &move.to;
  }
  return run;
}

// The farthest starts, by row, by column and of each crease ray.
void take_starts(const Wood& wood, Shared& shared) {
  const Grid& grid = shared.grid;
  auto columns = static_cast<std::size_t>(grid.columns);
  shared.row_top.assign(grid.rows(), 0.0f);
  shared.most.assign(columns, 0.0f);
  shared.most_crease.assign(grid.crease.size(), 0.0f);
  for (const std::vector<float>& start : wood.starts) {
    for (std::size_t row = 0; row < grid.rows(); ++row) {
      const float* of = start.data() + grid.begin[row];
      float top = shared.row_top[row];
      for (std::size_t j = 0; j < columns; ++j) {
        top = std::max(top, of[j]);
        shared.most[j] = std::max(shared.most[j], of[j]);
      }
      for (std::size_t k = 0; k < grid.creases_of(row); ++k) {
        float& most = shared.most_crease[grid.crease_begin(row) + k];
        most = std::max(most, of[columns + k]);
        top = std::max(top, of[columns + k]);
      }
      shared.row_top[row] = top;
    }
  }
  for (double angle : grid.crease) {
    shared.crease_sine.push_back(static_cast<float>(std::sin(angle)));
    shared.crease_cosine.push_back(static_cast<float>(std::cos(angle)));
  }
}

std::vector<Slab> slabs_of(const Shared& shared) {
  const Grid& grid = shared.grid;
  std::size_t rows = std::max<std::size_t>(8, kSlabRays / static_cast<std::size_t>(grid.columns));
  std::vector<Slab> slabs;
  std::vector<double> top;
  for (std::size_t first = 0; first < grid.rows(); first += rows) {
    Slab& slab = slabs.emplace_back();
    slab.first = first;
    slab.last = std::min(grid.rows(), first + rows);
    top.push_back(static_cast<double>(*std::max_element(shared.row_top.begin() + static_cast<std::ptrdiff_t>(first),
                                                        shared.row_top.begin() + static_cast<std::ptrdiff_t>(slab.last))));
  }
  double wide = shared.tool.widest;
  for (std::size_t i = 0; i < shared.path.moves.size(); ++i) {
    const motion::Position &from = shared.from(i), &to = shared.path.moves[i].to;
    double low = std::min(from.x, to.x) - wide, high = std::max(from.x, to.x) + wide, z = std::min(from.z, to.z);
    for (std::size_t k = grid.first_row_from(low) / rows; k < slabs.size() && grid.x[slabs[k].first] <= high; ++k) {
      if (z <= top[k]) slabs[k].moves.push_back(static_cast<std::uint32_t>(i));
    }
  }
  return slabs;
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

// Threads take slab after slab.
void work_all(const Shared& shared, Wood& wood, std::vector<Slab>& slabs, const std::stop_token& stop) {
  std::size_t wanted = shared.settings.threads > 0 ? static_cast<std::size_t>(shared.settings.threads)
                                                   : std::max(1u, std::thread::hardware_concurrency());
  std::atomic<std::size_t> next{0};
  auto work = [&] {
    Worker worker(shared, wood);
    for (std::size_t k = next++; k < slabs.size() && !stop.stop_requested(); k = next++) worker.work(slabs[k], stop);
  };
  std::vector<std::jthread> others;
  for (std::size_t k = 1; k < std::min(wanted, slabs.size()); ++k) others.emplace_back(work);
  work();
}

}  // namespace

Wood uncut(std::vector<std::vector<float>> starts) {
  Wood wood;
  wood.starts = std::move(starts);
  std::size_t rays = wood.starts.front().size();
  wood.low.assign(rays, kNone);
  wood.high.assign(rays, -kNone);
  wood.out.assign(rays, kNone);
  return wood;
}

double strokes_of(const motion::Path& path, double rho, double chord_error) {
  double count = 0;
  const motion::Position* from = &path.start;
  for (const motion::Move& move : path.moves) {
    count += strokes_for(*from, move.to, rho, chord_error);
    from = &move.to;
  }
  return count;
}

Result<Met> cut(const Grid& grid, Wood& wood, const motion::Path& path, const Tool& tool, const CutSettings& settings, std::stop_token stop) {
  if (strokes_of(path, tool.radius, settings.chord_error) > kMostStrokes) {
    return fail("proof.too-much", "the program turns so far that the check would not end",
                "look for a rotary word that jumps by many turns");
  }
  Shared shared{grid, tool, settings, path, runs_of(path), {}, {}, {}, {}, {}, 0};
  double slack = tool.is_ball() ? 0 : 1e-3;  // a level tip enters at its own height
  shared.by_side = static_cast<float>(tool.height(tool.radius - std::min(settings.side_slice, tool.radius / 2)) + slack);
  take_starts(wood, shared);
  std::vector<Slab> slabs = slabs_of(shared);
  work_all(shared, wood, slabs, stop);
  if (stop.stop_requested()) return fail("cancelled", "the check was stopped before its end");
  Met met;
  for (const Slab& slab : slabs) {
    met.hits.insert(met.hits.end(), slab.hits.begin(), slab.hits.end());
    met.greatest_depth = std::max(met.greatest_depth, slab.greatest_depth);
  }
  met.hits = merged(std::move(met.hits));
  return met;
}

Result<Cut> cut(const Grid& grid, std::vector<std::vector<float>> starts, const motion::Path& path, const shop::Cutter& cutter,
                const CutSettings& settings, std::stop_token stop) {
  auto tool = tool_of(cutter);
  if (!tool) return tool.failure();
  Wood wood = uncut(std::move(starts));
  auto met = cut(grid, wood, path, *tool, settings, stop);
  if (!met) return met.failure();
  Cut done{wood.low, {}, std::move(met->hits), met->greatest_depth};
  for (std::size_t b = 0; b < wood.starts.size(); ++b) {
    std::vector<float>& top = done.tops.emplace_back(grid.rays());
    for (std::size_t i = 0; i < top.size(); ++i) top[i] = wood.top(b, i);
  }
  return done;
}

std::size_t deepest_move(const motion::Path& path, const Tool& tool, double x, double theta, double& entry) {
  std::size_t found = path.moves.size();
  entry = static_cast<double>(kNone);
  const motion::Position* from = &path.start;
  for (std::size_t i = 0; i < path.moves.size(); ++i) {
    const motion::Position& to = path.moves[i].to;
    bool near = std::min(from->x, to.x) - tool.radius < x && x < std::max(from->x, to.x) + tool.radius && std::min(from->z, to.z) < entry;
    std::optional<Meeting> met = near ? meet_move(tool, *from, to, x, theta) : std::nullopt;
    if (met && met->entry < entry) {
      entry = met->entry;
      found = i;
    }
    from = &to;
  }
  return found;
}

}  // namespace pommel::proof
