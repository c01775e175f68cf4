#include "mill/lengthwise.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mill/line.h"
#include "mill/line_memo.h"

namespace pommel::mill {
namespace {

constexpr double kJoin = 0.5;  // mm: gaps in a line shorter than this are run through
constexpr double kValleyRows = 5;  // of a pass's spacing of samples, along a valley: each is asked for alone, and refined() halves where it bends
constexpr double kStandsOver = 3;  // mm that wood may stand over the beginning of a run: the allowance, and what a blank may be off

// The runs of samples (first, last) where there is wood to remove, each with a sample more on both sides.
std::vector<std::pair<std::size_t, std::size_t>> spans_of(const std::vector<LinePoint>& samples,
                                                          const std::vector<char>& wood) {
  std::vector<std::pair<std::size_t, std::size_t>> spans;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    if (!wood[i]) continue;
    std::size_t end = i;
    while (end + 1 < samples.size() && wood[end + 1]) ++end;
    const std::size_t first = i > 0 ? i - 1 : 0, last = std::min(end + 1, samples.size() - 1);
    if (!spans.empty() && samples[first].x - samples[spans.back().second].x < kJoin) {
      spans.back().second = last;
    } else {
      spans.emplace_back(first, last);
    }
    i = end;
  }
  return spans;
}

// Where one run begins farther above another than the flutes reach, the higher is cut first: the lower one's shank comes to the wood that it takes.
void higher_first(std::vector<std::vector<LinePoint>>& runs, double flute_length) {
  if (runs.size() < 2) return;
  const auto lower = [](const auto& a, const auto& b) { return a.front().z < b.front().z; };
  const auto [low, high] = std::minmax_element(runs.begin(), runs.end(), lower);
  if (high->front().z + kStandsOver - low->front().z <= flute_length) return;
  std::stable_sort(runs.begin(), runs.end(), [&](const auto& a, const auto& b) { return lower(b, a); });
}

// What fill() gives there.
double filled_at(const Envelope& envelope, double x, double a) {
  return envelope.tip_height(x, a) + envelope.reference();
}

/// All lines of one stretch, as downhill runs.
class StretchLines {
 public:
  StretchLines(const Setup& setup, const Surface& surface, const PassSettings& settings, const Stretch& stretch)
      : surface_(surface),
        settings_(settings),
        rows_(rows_of(stretch, setup, setup.foot.grown(settings.allowance), settings.row_step)),
        valley_rows_(stretch.valleys.empty() ? std::vector<double>{} : rows_of(stretch, setup, setup.foot.grown(settings.allowance), kValleyRows * settings.row_step)),
        lines_(stretch.lines),
        x0_(stretch.x0),
        lead_(stretch.lead),
        first_(stretch.first),
        flute_length_(setup.cutter.flute_length) {}

  Result<Done> prepare(Heights& grid, std::stop_token stop) {
    std::vector<double> first;
    if (lead_ != 0) std::transform(rows_.begin(), rows_.end(), std::back_inserter(first), [this](double x) { return turned(first_, x); });
    if (surface_.left) {
      if (auto filled = surface_.left->fill(rows_, lines_, left_, stop, first); !filled.ok()) return filled;
    }
    return surface_.envelope->fill(rows_, lines_, grid, stop, first);
  }

  Runs even_runs(const Heights& grid, int column) {
    const double a = first_ + grid.angle(column), straight_below = surface_.below(a);
    samples_.clear();
    wood_.clear();
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      const double filled = grid.at(i, column);
      samples_.push_back({rows_[i], surface_.tip_of(filled)});
      wood_.push_back(surface_.wood(filled, surface_.left ? left_.at(i, column) : 0, lead_ == 0 ? straight_below : surface_.below(turned(a, rows_[i]))));
    }
    return runs_of(a);
  }

  /// A line along a valley, where it runs.
  Runs valley_runs(const Valley& valley) {
    const double below = surface_.below(valley.a);
    samples_.clear();
    wood_.clear();
    for (double x : valley_rows_) {
      if (x < valley.x0 || x > valley.x1) continue;
      const double filled = filled_at(*surface_.envelope, x, valley.a);
      samples_.push_back({x, surface_.tip_of(filled)});
      wood_.push_back(surface_.wood(filled, surface_.left ? filled_at(*surface_.left, x, valley.a) : 0, below));
    }
    return runs_of(valley.a);
  }

 private:
  double turned(double a, double x) const { return a + lead_ * (x - x0_); }

  Runs runs_of(double a) const {
    Runs found;
    for (const auto& [first, last] : spans_of(samples_, wood_)) {
      const std::vector<LinePoint> span(samples_.begin() + static_cast<std::ptrdiff_t>(first),
                                        samples_.begin() + static_cast<std::ptrdiff_t>(last) + 1);
      // of the tolerance, a fifth to the samples and three fifths to leaving points out; the rest is kept
      const auto fine = refined(
          span, [&](double x) { return surface_.tip(x, turned(a, x)); }, settings_.along / 5);
      for (auto& run : downhill(simplified(fine, settings_.along * 3 / 5), settings_.prominence))
        found.push_back(std::move(run));
    }
    higher_first(found, flute_length_);
    return found;
  }

  const Surface& surface_;
  const PassSettings& settings_;
  std::vector<double> rows_, valley_rows_;
  int lines_;
  double x0_, lead_, first_, flute_length_;
  Heights left_;
  std::vector<LinePoint> samples_;
  std::vector<char> wood_;
};

// The lines of a stretch: from an earlier plan, where all that they depend on is the same.
Result<std::shared_ptr<const StretchRuns>> runs_of_stretch(const Setup& setup, const Surface& surface, const PassSettings& settings, const Stretch& stretch,
                                                           Heights& grid, std::stop_token stop) {
  LineMemo* const memo = surface.left ? nullptr : settings.memo;  // what is left depends on all that was cut before
  const std::string key = memo ? key_of(setup, surface, settings, stretch) : "";
  if (auto known = memo ? memo->find(key) : nullptr) return known;
  StretchLines lines(setup, surface, settings, stretch);
  if (auto ready = lines.prepare(grid, stop); !ready.ok()) return ready.failure();
  // where the piece is the same after a quarter or half turn, a line is worked out once
  const int distinct = stretch.lines % setup.alike == 0 ? stretch.lines / setup.alike : stretch.lines;
  auto runs = std::make_shared<StretchRuns>();
  for (int column = 0; column < distinct; ++column) {
    if (stop.stop_requested()) return fail("cancelled", "stopped");
    runs->even.push_back(lines.even_runs(grid, column));
  }
  for (const Valley& valley : stretch.valleys) {
    if (stop.stop_requested()) return fail("cancelled", "stopped");
    runs->valleys.push_back(lines.valley_runs(valley));
  }
  if (memo) memo->keep(key, runs);
  return std::shared_ptr<const StretchRuns>(std::move(runs));
}

/// A line of a stretch: one of the even ones, or along a valley.
struct Direction {
  double a = 0;  // radians, at the stretch's x0 where lines turn with a twist
  const Runs* runs = nullptr;
};

// As the piece turns.
std::vector<Direction> directions_of(const Stretch& stretch, const StretchRuns& runs, bool growing) {
  std::vector<Direction> all;
  for (int k = 0; k < stretch.lines; ++k)
    all.push_back({stretch.first + 2 * std::numbers::pi * k / stretch.lines, &runs.even[static_cast<std::size_t>(k) % runs.even.size()]});
  for (std::size_t v = 0; v < stretch.valleys.size(); ++v) all.push_back({stretch.valleys[v].a, &runs.valleys[v]});
  std::stable_sort(all.begin(), all.end(), [](const Direction& a, const Direction& b) { return a.a < b.a; });
  if (!growing) std::reverse(all.begin(), all.end());
  return all;
}

void run_straight(const std::vector<LinePoint>& run, Mover& mover) {
  for (const LinePoint& p : run) mover.line_to(p);
}

// Straight moves of all axes in proportion: x and the rotary of a lead are exact.
std::vector<motion::Position> run_turning(const std::vector<LinePoint>& run, double lead, Mover& mover) {
  std::vector<motion::Position> turning{{run.front().x, 0, run.front().z, mover.a()}};
  for (std::size_t i = 1; i < run.size(); ++i) mover.turn_to(run[i], lead * (run[i].x - run[i - 1].x), turning);
  return turning;
}

}  // namespace

bool gentle(const std::vector<LinePoint>& run) {
  for (std::size_t i = 0; i + 1 < run.size(); ++i) {
    if (std::fabs(run[i + 1].z - run[i].z) > kGentle * std::fabs(run[i + 1].x - run[i].x)) return false;
  }
  return true;
}

Result<Done> cut_lengthwise(const Setup& setup, const Surface& surface, const PassSettings& settings,
                            const Stretch& stretch, Heights& grid, Mover& mover, std::vector<Cut>& cuts,
                            std::stop_token stop) {
  const auto known = runs_of_stretch(setup, surface, settings, stretch, grid, stop);
  if (!known.ok()) return known.failure();
  const bool growing = stretch.falls == settings.climb;  // pass.h: conventional when da dx < 0
  for (const Direction& direction : directions_of(stretch, **known, growing)) {
    if (stop.stop_requested()) return fail("cancelled", "stopped");
    for (auto run : *direction.runs) {
      if (run.size() < 2) continue;
      if (settings.both_ways && gentle(run) &&
          std::fabs(run.back().x - mover.x()) < std::fabs(run.front().x - mover.x())) {
        std::reverse(run.begin(), run.end());
      }
      mover.enter(run.front(), mover.near(direction.a + stretch.lead * (run.front().x - stretch.x0)));
      Cut cut{direction.a, {}, {}};
      if (stretch.lead == 0) run_straight(run, mover), cut.points = std::move(run);
      else cut.turning = run_turning(run, stretch.lead, mover);
      mover.leave();
      cuts.push_back(std::move(cut));
    }
  }
  return Done{};
}

}  // namespace pommel::mill
