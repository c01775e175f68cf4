// The moves of a path, one after the other, on some neighbouring rows of rays: see removal.h. Private to the removal.
#pragma once

#include <algorithm>
#include <cstdint>
#include <numbers>
#include <stop_token>
#include <utility>
#include <vector>

#include "proof/any_turn.h"
#include "proof/kernel.h"
#include "proof/removal.h"
#include "proof/stroke.h"
#include "proof/sweep.h"
#include "proof/turn.h"

namespace pommel::proof {

inline constexpr double kTurn = 2 * std::numbers::pi;
inline constexpr double kRounding = 1e-4;  // mm of single precision

/// asin(q) from above for q in [0, 1]: equal at both ends, 4 % over at most in between.
inline double arc_sine_bound(double q) { return q + (std::numbers::pi / 2 - 1) * q * q * q; }

inline float single(double v) { return static_cast<float>(v); }

/// What every slab reads.
struct Shared {
  const Grid& grid;
  const Tool& tool;
  const CutSettings& settings;
  const motion::Path& path;
  std::vector<std::uint32_t> run = {};   ///< a move: feed moves on along x in one direction that follow each other have one number
  std::vector<float> row_top = {};       ///< highest start of a row, whatever the blank
  std::vector<float> most = {}, most_crease = {};  ///< the farthest any blank reaches: of a column all along, of each crease ray
  std::vector<float> crease_sine = {}, crease_cosine = {};
  float by_side = 0;                     ///< mm above the tip from which on the cutter's side takes less than side_slice

  const motion::Position& from(std::size_t move) const { return move == 0 ? path.start : path.moves[move - 1].to; }
};

/// Rows [first, last) with the moves that may touch them, and what was met there.
struct Slab {
  std::size_t first = 0, last = 0;
  std::vector<std::uint32_t> moves;
  std::vector<Hit> hits;
  double greatest_depth = 0;
};

/// Columns of RayTable, owned.
class Rays {
 public:
  explicit Rays(std::size_t n) {
    for (std::vector<float>& column : columns_) column.resize(n + kBeyond);
  }
  std::vector<float>& sine() { return columns_[0]; }
  std::vector<float>& cosine() { return columns_[1]; }
  /// The other columns from sine and cosine, for entries [0, n).
  void complete(const Stroke& stroke, std::size_t n);
  RayTable from(std::size_t j) const;

 private:
  std::vector<float> columns_[9];
};

/// Makes the moves on one slab after the other; a thread has one.
class SlabWorker {
 public:
  SlabWorker(const Shared& shared, Wood& wood);

  void work(Slab& slab, const std::stop_token& stop);

 private:
  enum class Doing { cut, look, crash };

  struct Worst {
    double amount = 0, x = 0, theta = 0;
    void take(double candidate, double at_x, double at_theta) {
      if (candidate > amount) *this = {candidate, at_x, at_theta};
    }
  };
  // A lengthwise pass is many short feed moves on and on along x in one direction a. Most of them take nothing on a given
  // row that another does not take as well; they are queued so that the deepest can be found first (make_queued()).
  struct Queued {
    std::size_t move = 0;
    Stroke stroke;                    ///< of a ball
    double lowest = 0;                ///< of its tip
    std::size_t first = 0, last = 0;  ///< rows
    std::size_t slice = 0;            ///< index of its first row's slice
  };
  // What one cutter takes of a row's plane: half its chord, the height of its lowest point, and of the tip when it does.
  struct Slice {
    double chord = 0, bottom = 1e300, tip = 1e300;
  };
  using Rows = std::pair<std::size_t, std::size_t>;

  // one move
  void begin_move();
  void end_move(std::size_t index);
  bool sinks_too_steeply(std::size_t index) const;
  void make(std::size_t index);
  void make_strokes(const motion::Position& from, const motion::Position& to, Doing doing);
  bool make_turns(const motion::Position& from, const motion::Position& to);
  Rows rows_near(double x_low, double x_high, double reach) const;
  double highest_start(Rows rows) const;
  // only a ball is moved along chords
  double chord_error() const { return tool_.is_ball() ? shared_.settings.chord_error : 1e9; }

  // runs of moves along x
  bool queue(std::size_t index);
  void make_queued();
  void make_rows_of(const Queued& one);
  bool hidden(const Queued& one, std::size_t row, const Slice& lowest) const;
  Slice lowest_slice(const Stroke& stroke, double x) const;
  Slice lowest_slice(const Sweep& sweep, double x) const;

  // what may be met round the piece: a window of columns
  bool set_window(double a, double turn, double half);
  void open_window(const Stroke& stroke);
  void open_window_round(double a, double sweep, double half);
  void open_window_any(const motion::Position& from, const motion::Position& to);
  void fill_window();
  std::size_t window_size() const;
  bool turn_creases(std::size_t row, double sine_most);
  std::pair<long, long> columns_within(double half, double turn) const;
  template <class F>
  void for_runs(long first, long last, const F& strike_run) const;

  // a row against what is swept
  void sweep(const motion::Position& from, const motion::Position& to, Doing doing);
  template <class T>
  void sweep_turn(const T& turn);
  void sweep_row(const Stroke& stroke, std::size_t row, Doing doing);
  template <class T>
  void sweep_row_round(const T& turn, std::size_t row);
  bool make_turn(const motion::Position& from, const motion::Position& to);
  double half_of(const Turn& turn, double off) const;
  double half_of(const AnyTurn& turn, double off) const;
  double least_of(const Turn& turn, double off) const;
  double least_of(const AnyTurn& turn, double off) const;
  void sweep_row_any(const Sweep& any, std::size_t row, Doing doing);
  void slide_row(const motion::Position& from, const motion::Position& to, std::size_t row, Doing doing);
  void strike(const RayTable& table, const RowStroke& of_row, std::size_t run, std::size_t row, std::size_t column, float least, Doing doing);
  void strike_known(const RayTable& table, std::size_t run, std::size_t row, std::size_t column, Doing doing);
  RowStroke row_stroke(const Stroke& stroke, double x) const;
  RowTurn row_turn(const Turn& turn, double x) const;
  RowAnyTurn row_turn(const AnyTurn& turn, double x) const;
  RowSlide row_slide(const motion::Position& from, const motion::Position& to, double x) const;
  float cut_round(const RowTurn& row, const float* psi, std::size_t n, float least, const WoodRun& wood) const;
  float cut_round(const RowAnyTurn& row, const float* psi, std::size_t n, float least, const WoodRun& wood) const;
  WoodRun wood_of(std::size_t row, std::size_t column);
  void note_depth(float depth, std::size_t row, std::size_t column, std::size_t run);
  double crease_turned(std::size_t row, std::size_t k, double sweep) const;

  // wood where none may be met
  float wood_within(float entry, float exit, std::size_t blank, std::size_t row, std::size_t k) const;
  void look_for_wood(std::size_t run, std::size_t row, std::size_t column);
  void look_at_shafts(const motion::Position& from, const motion::Position& to, double top);
  void look_at_shaft(const Tool::Shaft& shaft, const motion::Position& from, const motion::Position& to);
  void look_at_shaft_row(std::size_t row, double reach, double height, double middle, double turn);

  const Shared& shared_;
  const Grid& grid_;
  const Tool& tool_;
  const Kernels& kernels_;
  Wood& wood_;
  Slab* slab_ = nullptr;
  double step_;
  bool flanked_;  ///< the cutter has a leaning flank
  Meridian form_;
  Rays window_, crease_;
  double window_a_ = 1e300, frame_ = 0, frame_sine_ = 0, frame_cosine_ = 1;
  long window_low_ = 0, window_count_ = 0;
  bool window_whole_ = false;
  std::vector<float> entry_, exit_, tip_;
  std::vector<float> turned_, crease_turned_;  // angles of rays, from the beginning of a turn
  std::vector<float> row_start_, crease_start_;  // of a first blank that is not the same all along
  std::vector<Worst> met_, shank_;             // of each blank
  Worst depth_;
  std::vector<Queued> queued_;
  std::vector<Slice> slices_, best_;  // best_: a row
};

// Calls strike(first, run, column) on the runs of neighbouring columns of the window's entries [first, last]: it may go over the seam.
template <class F>
void SlabWorker::for_runs(long first, long last, const F& strike_run) const {
  long count = last - first + 1;
  while (count > 0) {
    long column = (((window_low_ + first) % grid_.columns) + grid_.columns) % grid_.columns;
    long run = std::min(count, grid_.columns - column);
    strike_run(static_cast<std::size_t>(first), static_cast<std::size_t>(run), static_cast<std::size_t>(column));
    first += run;
    count -= run;
  }
}

}  // namespace pommel::proof
