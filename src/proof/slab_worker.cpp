#include "proof/slab_worker.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

namespace pommel::proof {
namespace {

constexpr double kTouch = 0.01;          // mm of wood at the shank that is the simulation's own noise
constexpr std::size_t kLongestQueue = 4096;
constexpr std::size_t kMostHits = 2'000;  // a slab's; a program that wrong needs no longer list

}  // namespace

void Rays::complete(const Stroke& stroke, std::size_t n) {
  auto ul = single(stroke.ul), uh = single(stroke.uh), turn = single(std::fabs(stroke.turn));
  const float *s = columns_[0].data(), *c = columns_[1].data();
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

RayTable Rays::from(std::size_t j) const {
  return {columns_[0].data() + j, columns_[1].data() + j, columns_[2].data() + j, columns_[3].data() + j,
          columns_[4].data() + j, columns_[5].data() + j, columns_[6].data() + j, columns_[7].data() + j,
          columns_[8].data() + j};
}

SlabWorker::SlabWorker(const Shared& shared, Wood& wood)
    : shared_(shared), grid_(shared.grid), tool_(shared.tool), kernels_(kernels()), wood_(wood), step_(grid_.column_step()),
      flanked_(tool_.corner_end < tool_.radius),
      form_{single(tool_.disc), single(tool_.corner), single(tool_.corner_end), single(tool_.corner_height), single(tool_.rise), single(tool_.radius), single(tool_.flute)},
      window_(window_size()), crease_(window_size()), met_(wood.starts.size()), shank_(wood.starts.size()) {
  for (std::vector<float>* of : {&entry_, &exit_, &tip_, &turned_, &crease_turned_}) of->resize(window_size() + kBeyond);
}

void SlabWorker::work(Slab& slab, const std::stop_token& stop) {
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

// ---------------------------------------------------------------------------------------------------------- one move

void SlabWorker::begin_move() {
  std::fill(met_.begin(), met_.end(), Worst{});
  std::fill(shank_.begin(), shank_.end(), Worst{});
  depth_ = {};
}

void SlabWorker::end_move(std::size_t index) {
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
  if (depth_.amount > shared_.settings.sunk_skin && sinks_too_steeply(index)) note(Hit::Kind::sink, 0, depth_);
}

// The way over the wood is reckoned at the higher end of the move, as the cutter meets the wood there first.
bool SlabWorker::sinks_too_steeply(std::size_t index) const {
  const motion::Position &from = shared_.from(index), &to = shared_.path.moves[index].to;
  return tool_.too_steep(from.z - to.z, std::hypot(to.x - from.x, from.z * (to.a - from.a)));
}

// Rows of this slab within `reach` of [x_low, x_high].
SlabWorker::Rows SlabWorker::rows_near(double x_low, double x_high, double reach) const {
  if (x_high + reach < grid_.x[slab_->first] || x_low - reach > grid_.x[slab_->last - 1]) return {0, 0};
  std::size_t a = std::max(slab_->first, grid_.first_row_from(x_low - reach));
  std::size_t b = std::min(slab_->last, grid_.first_row_from(x_high + reach));
  return {a, std::max(a, b)};
}

double SlabWorker::highest_start(Rows rows) const {
  float top = 0;
  for (std::size_t row = rows.first; row < rows.second; ++row) top = std::max(top, shared_.row_top[row]);
  return static_cast<double>(top);
}

void SlabWorker::make(std::size_t index) {
  const motion::Position& from = shared_.from(index);
  const motion::Move& move = shared_.path.moves[index];
  double x_low = std::min(from.x, move.to.x), x_high = std::max(from.x, move.to.x);
  auto rows = rows_near(x_low, x_high, tool_.widest);
  if (rows.first == rows.second) return;
  // nothing of the cutter is nearer to the axis than its tip
  double top = highest_start(rows), lowest = std::min(from.z, move.to.z);
  if (lowest > top) return;
  // Straight up, the cutter sweeps only where it stands already (as far as its flutes reach over all wood). Any other rapid is
  // looked at as a whole before it takes anything away.
  bool straight_up = index > 0 && from.x == move.to.x && from.a == move.to.a && move.to.z > from.z && from.z + tool_.flute > top;
  if (move.rapid && straight_up) return;
  if (move.rapid) make_strokes(from, move.to, Doing::look);
  bool shafts_clear = lowest + tool_.flute > top;
  if (shafts_clear && !move.rapid && make_turns(from, move.to)) return;
  const Doing doing = move.rapid ? Doing::crash : Doing::cut;
  if (shafts_clear) return make_strokes(from, move.to, doing);
  // stroke by stroke: what a shaft may meet is what the strokes before it have left
  for_each_stroke(from, move.to, tool_.radius, chord_error(), [&](const motion::Position& a, const motion::Position& b) {
    sweep(a, b, doing);
    look_at_shafts(a, b, top);
  });
}

void SlabWorker::make_strokes(const motion::Position& from, const motion::Position& to, Doing doing) {
  for_each_stroke(from, to, tool_.radius, chord_error(), [&](const motion::Position& a, const motion::Position& b) { sweep(a, b, doing); });
}

// ---------------------------------------------------------------------------------------------- runs of moves along x

// True when the move needs nothing more now: it is queued, or it cuts nothing here. Moves that turn, go back, plunge, are
// rapid, or may bring the shank to wood must be made in their order.
bool SlabWorker::queue(std::size_t index) {
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
  if (tool_.is_ball()) one.stroke = stroke_between(from, move.to, tool_.radius);
  const Sweep any(tool_, from, move.to);
  for (std::size_t row = one.first; row < one.last; ++row) {
    Slice slice = tool_.is_ball() ? lowest_slice(one.stroke, grid_.x[row]) : lowest_slice(any, grid_.x[row]);
    slices_.push_back(slice);
    Slice& best = best_[row - slab_->first];
    if (slice.bottom < best.bottom || (slice.bottom == best.bottom && slice.chord > best.chord)) best = slice;
  }
  queued_.push_back(one);
  return true;
}

// The lowest slice that the stroke takes of the plane at x; chord 0 when it does not reach it.
SlabWorker::Slice SlabWorker::lowest_slice(const Stroke& s, double x) const {
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

SlabWorker::Slice SlabWorker::lowest_slice(const Sweep& sweep, double x) const {
  double off = 0, tip = 0, bottom = sweep.lowest(x, off, tip), chord2 = tool_.radius * tool_.radius - off * off;
  return bottom < 1e8 ? Slice{std::sqrt(std::max(0.0, chord2)), bottom, tip} : Slice{};
}

// A slice lies inside another one with the shaft above it when that one is as wide and as low (and, of a cutter with a leaning
// flank, its tip is as low: such slices narrow towards their sides): the widest slice a stroke can make of a row and the lowest
// bottom it can reach there, held against the best slice of the row.
bool SlabWorker::hidden(const Queued& one, std::size_t row, const Slice& lowest) const {
  const Slice& best = best_[row - slab_->first];
  const motion::Position &from = shared_.from(one.move), &to = shared_.path.moves[one.move].to;
  double off = std::max({0.0, std::min(from.x, to.x) - grid_.x[row], grid_.x[row] - std::max(from.x, to.x)});
  double widest2 = tool_.radius * tool_.radius - off * off;
  if (lowest.bottom < best.bottom || widest2 > best.chord * best.chord) return false;
  if (flanked_ && one.lowest < best.tip) return false;
  return lowest.bottom > best.bottom || lowest.chord < best.chord;  // the best itself is not hidden
}

void SlabWorker::make_queued() {
  for (const Queued& one : queued_) {
    begin_move();
    make_rows_of(one);
    end_move(one.move);
  }
  for (const Queued& one : queued_) {
    for (std::size_t row = one.first; row < one.last; ++row) best_[row - slab_->first] = {};
  }
  queued_.clear();
  slices_.clear();
}

void SlabWorker::make_rows_of(const Queued& one) {
  bool opened = false;
  for (std::size_t row = one.first; row < one.last; ++row) {
    const Slice& slice = slices_[one.slice + row - one.first];
    if (slice.bottom >= 1e8 || (queued_.size() > 1 && hidden(one, row, slice))) continue;
    if (tool_.is_ball()) {
      if (!opened) open_window(one.stroke);
      sweep_row(one.stroke, row, Doing::cut);
    } else {
      const motion::Position &from = shared_.from(one.move), &to = shared_.path.moves[one.move].to;
      if (!opened) open_window_any(from, to);
      slide_row(from, to, row, Doing::cut);
    }
    opened = true;
  }
}

// -------------------------------------------------------------------------------- what may be met round the piece

// As many as a row may have: columns and creases apart.
std::size_t SlabWorker::window_size() const {
  std::size_t creases = 0;
  for (std::size_t row = 0; row < grid_.rows(); ++row) creases = std::max(creases, grid_.creases_of(row));
  return std::max(creases, static_cast<std::size_t>(grid_.columns)) + 2;
}

// Window of columns `half` to both sides of the directions from a to a + turn; true when it was there already.
bool SlabWorker::set_window(double a, double turn, double half) {
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
  window_a_ = a;
  return same;
}

void SlabWorker::open_window(const Stroke& stroke) {
  double q = stroke.c_low > tool_.radius ? tool_.radius / stroke.c_low : 1;
  if (!set_window(stroke.a, stroke.turn, q < 1 ? arc_sine_bound(q) : std::numbers::pi)) fill_window();
  window_.complete(stroke, static_cast<std::size_t>(window_count_));
}

void SlabWorker::open_window_any(const motion::Position& from, const motion::Position& to) {
  double lowest = std::min(from.z, to.z);
  double half = lowest > 1e-3 ? std::atan2(tool_.radius, lowest) + 1e-6 : std::numbers::pi;
  if (!set_window(from.a, to.a - from.a, half)) fill_window();
}

void SlabWorker::fill_window() {
  frame_sine_ = std::sin(frame_);
  frame_cosine_ = std::cos(frame_);
  long column = ((window_low_ % grid_.columns) + grid_.columns) % grid_.columns;
  for (long j = 0; j < window_count_; ++j) {
    auto at = static_cast<std::size_t>(column);
    window_.sine()[static_cast<std::size_t>(j)] = single(grid_.sines[at] * frame_cosine_ - grid_.cosines[at] * frame_sine_);
    window_.cosine()[static_cast<std::size_t>(j)] = single(grid_.cosines[at] * frame_cosine_ + grid_.sines[at] * frame_sine_);
    if (++column == grid_.columns) column = 0;
  }
}

// Entries of the window that lie `half` to both sides of the turn, first and last.
std::pair<long, long> SlabWorker::columns_within(double half, double turn) const {
  if (window_whole_) return {0, window_count_ - 1};
  double from = static_cast<double>(window_low_);
  return {std::max(0L, static_cast<long>((frame_ - half + std::min(0.0, turn)) / step_ - from)),
          std::min(window_count_ - 1, static_cast<long>(std::ceil((frame_ + half + std::max(0.0, turn)) / step_ - from)))};
}

// Sines and cosines of the row's creases from the frame; false when none of them is near it.
bool SlabWorker::turn_creases(std::size_t row, double sine_most) {
  const std::size_t n = grid_.creases_of(row), begin = grid_.crease_begin(row);
  auto sa = single(frame_sine_), ca = single(frame_cosine_);
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

// ------------------------------------------------------------------------------------------ a row against what is swept

void SlabWorker::sweep(const motion::Position& from, const motion::Position& to, Doing doing) {
  auto rows = rows_near(std::min(from.x, to.x), std::max(from.x, to.x), tool_.radius);
  if (rows.first == rows.second) return;
  if (tool_.is_ball()) {
    Stroke stroke = stroke_between(from, to, tool_.radius);
    open_window(stroke);
    for (std::size_t row = rows.first; row < rows.second; ++row) sweep_row(stroke, row, doing);
    return;
  }
  const bool slides = from.a == to.a && from.x != to.x && doing != Doing::look;
  const Sweep any(tool_, from, to);
  open_window_any(from, to);
  for (std::size_t row = rows.first; row < rows.second; ++row) {
    if (slides) slide_row(from, to, row, doing);
    else sweep_row_any(any, row, doing);
  }
}

RowStroke SlabWorker::row_stroke(const Stroke& s, double x) const {
  double dx = x - s.x, w = dx * s.ux - s.c * s.uh;
  // |W x u|² from its parts: the difference of squares would lose digits
  double i = -dx * s.ul, j = dx * s.uh + s.c * s.ux, k = s.c * s.ul;
  double rho = tool_.radius;
  return {single(dx), single(s.c), single(s.ux), single(s.ul), single(s.uh), single(s.length), single(w), single(i * i + j * j + k * k - rho * rho),
          single(rho), single(rho * rho), single(tool_.flute - rho), s.ux == 0 && s.ul == 0 ? 1.0f : 0.0f};
}

void SlabWorker::sweep_row(const Stroke& stroke, std::size_t row, Doing doing) {
  double x = grid_.x[row];
  double off = std::max({0.0, stroke.x_low - x, x - stroke.x_high});
  double reach2 = tool_.radius * tool_.radius - off * off;
  if (reach2 <= 0) return;
  double reach = std::sqrt(reach2);
  RowStroke of_row = row_stroke(stroke, x);
  float least = single(stroke.c_low - reach - kRounding);
  auto [first, last] = columns_within(arc_sine_bound(std::min(1.0, reach / stroke.c_low)), stroke.turn);
  for_runs(first, last, [&](std::size_t entry, std::size_t run, std::size_t column) { strike(window_.from(entry), of_row, run, row, column, least, doing); });
  std::size_t creases = grid_.creases_of(row);
  if (creases == 0) return;
  double sine_most = stroke.c_low > reach ? reach / stroke.c_low + std::fabs(stroke.turn) : 2;
  if (!turn_creases(row, sine_most)) return;
  crease_.complete(stroke, creases);
  strike(crease_.from(0), of_row, creases, row, static_cast<std::size_t>(grid_.columns), least, doing);
}

void SlabWorker::sweep_row_any(const Sweep& any, std::size_t row, Doing doing) {
  double x = grid_.x[row];
  auto take = [&](std::size_t j, double theta) {
    auto met = any.meet(x, theta);
    entry_[j] = met ? single(met->entry) : kNone;
    exit_[j] = met ? single(met->exit) : -kNone;
    tip_[j] = met ? single(met->tip) : 0;
  };
  for_runs(0, window_count_ - 1, [&](std::size_t entry, std::size_t run, std::size_t column) {
    for (std::size_t j = 0; j < run; ++j) take(j, grid_.angle(row, column + j));
    strike_known(window_.from(entry), run, row, column, doing);
  });
  const std::size_t n = grid_.creases_of(row);
  if (n == 0 || !turn_creases(row, 2)) return;
  for (std::size_t k = 0; k < n; ++k) take(k, grid_.angle(row, static_cast<std::size_t>(grid_.columns) + k));
  strike_known(crease_.from(0), n, row, static_cast<std::size_t>(grid_.columns), doing);
}

// Rays [column, column + run) of the row against a stroke of the ball.
void SlabWorker::strike(const RayTable& table, const RowStroke& of_row, std::size_t run, std::size_t row, std::size_t column, float least, Doing doing) {
  if (doing == Doing::look) {
    kernels_.meet(of_row, table, run, entry_.data(), exit_.data(), tip_.data());
    return look_for_wood(run, row, column);
  }
  float depth = kernels_.cut_stroke(of_row, table, run, least, shared_.by_side, wood_of(row, column));
  if (doing == Doing::cut) note_depth(depth, row, column, run);
}

// The same where they meet the cutter as entry_, exit_ and tip_ say.
void SlabWorker::strike_known(const RayTable& table, std::size_t run, std::size_t row, std::size_t column, Doing doing) {
  if (doing == Doing::look) return look_for_wood(run, row, column);
  float depth = kernels_.take_away(table.cosine, run, entry_.data(), exit_.data(), tip_.data(), shared_.by_side, wood_of(row, column));
  if (doing == Doing::cut) note_depth(depth, row, column, run);
}

void SlabWorker::note_depth(float depth, std::size_t row, std::size_t column, std::size_t run) {
  depth_.take(static_cast<double>(depth), grid_.x[row], grid_.angle(row, column + run / 2));
}

// The wood from a column on, or from the row's first crease.
WoodRun SlabWorker::wood_of(std::size_t row, std::size_t column) {
  std::size_t at = grid_.begin[row] + column;
  bool creases = column >= static_cast<std::size_t>(grid_.columns);
  const Start& start = wood_.starts.front();
  return {wood_.low.data() + at, wood_.high.data() + at, wood_.out.data() + at,
          creases ? start.creases_of(row, crease_start_) : start.columns_of(row, row_start_) + column,
          creases ? shared_.most_crease.data() + grid_.crease_begin(row) : shared_.most.data() + column};
}

}  // namespace pommel::proof
