#include "mill/lengthwise.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.h"
#include "mill/feed.h"
#include "mill/line.h"
#include "shape/crease.h"

namespace pommel::mill {
namespace {

constexpr double kAboveWood = 2;   // mm that a rapid keeps above whatever may stand
constexpr double kJoin = 0.5;      // mm: gaps in a line shorter than this are run through
constexpr double kNothing = 1e-9;  // mm: moves shorter than this are no moves

std::string place(double x) {
  return format_number(x, 1);
}

// The rows of a stretch: even, and crowded where the ball rolls over a corner, at whose side its path is plumb.
std::vector<double> rows_of(const Stretch& stretch, const Setup& setup, double ball, double step) {
  std::vector<double> rows;
  const auto spaces = static_cast<int>(std::max(1.0, std::ceil((stretch.x1 - stretch.x0) / step)));
  for (int i = 0; i <= spaces; ++i) rows.push_back(stretch.x0 + (stretch.x1 - stretch.x0) * i / spaces);
  constexpr int kRoll = 20;
  for (double knot : shape::knots(setup.part)) {
    if (knot < stretch.x0 - ball || knot > stretch.x1 + ball) continue;
    for (int k = -kRoll; k <= kRoll; ++k) rows.push_back(knot + ball * std::sin(std::numbers::pi / 2 * k / kRoll));
  }
  std::sort(rows.begin(), rows.end());
  auto outside = [&](double x) { return x < stretch.x0 || x > stretch.x1; };
  std::erase_if(rows, outside);
  rows.erase(std::unique(rows.begin(), rows.end(), [](double a, double b) { return b - a < 1e-5; }), rows.end());
  return rows;
}

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

/// Turns runs into moves.
class Writer {
 public:
  Writer(const Setup& setup, const Leftover& wood, const LengthwiseSettings& settings, motion::Path& path)
      : setup_(setup),
        wood_(wood),
        skyline_(wood),
        settings_(settings),
        path_(path),
        speed_(cutting_speed(setup.cutter, setup.machine)) {}

  void begin(const std::string& name) { path_.stages.push_back({name, path_.moves.size(), 0}); }
  void end() {
    motion::Stage& stage = path_.stages.back();
    stage.count = path_.moves.size() - stage.first;
    if (stage.count == 0) path_.stages.pop_back();
  }

  void cut(double a, const std::vector<LinePoint>& run) {
    const LinePoint &start = run.front(), &last = run.back();
    if (path_.moves.empty()) path_.start = {start.x, 0, setup_.clear_height, a};
    rapid({start.x, 0, setup_.clear_height, a});
    const double above = std::max(wood_.touch(start.x, a, setup_.ball()), start.z) + kAboveWood;
    if (above < setup_.clear_height) rapid({start.x, 0, above, a});
    feed({start.x, 0, start.z, a}, settings_.plunge_share * speed_);
    for (const LinePoint& p : run) go_down({p.x, 0, p.z, a});
    // out at feed: the far side of a valley may still stand proud of the ball's side
    const double free = wood_.touch(last.x, a, setup_.ball());
    if (free > last.z) feed({last.x, 0, std::min(free, setup_.clear_height), a}, speed_);
    rapid({last.x, 0, setup_.clear_height, a});
    for (const LinePoint& p : run) look_at_shank(p);
  }

  Result<Done> shank_is_clear() const {
    if (rub_ <= 0) return Done{};
    return fail(
        "mill.shank",
        "at x " + place(rub_at_.x) + " mm the " + rub_part_ + " would rub on standing wood by " +
            format_number(rub_, 1) + " mm",
        "take a cutter that reaches " + format_number(rub_, 1) + " mm further, or leave that place to the hand");
  }

 private:
  motion::Position now() const { return path_.moves.empty() ? path_.start : path_.moves.back().to; }

  void rapid(const motion::Position& to) {
    const motion::Position from = now();
    if (from == to) return;
    path_.moves.push_back({to, true, 0, 0});
  }

  // The cutter's tip cuts badly: no move sinks faster than the plunge feed, nor deeper at once than half of what the
  // cutter may enter. Beside a tall wall that keeps what one move takes off it small, and the judge sees it so.
  void go_down(const motion::Position& to) {
    const motion::Position from = now();
    const double down = from.z - to.z, length = std::hypot(to.x - from.x, down);
    if (down <= 0) return feed(to, speed_);
    const double speed = std::min(speed_, settings_.plunge_share * speed_ * length / down);
    const int pieces = std::max(1, static_cast<int>(std::ceil(2 * down / setup_.cutter.max_depth_of_cut)));
    if (pieces > 1 && std::fabs(to.x - from.x) <= settings_.along) {
      // beside a wall: away from it first, then plumb down; over a place where the ball may stand it may also stand
      // higher
      feed({to.x, 0, from.z, to.a}, speed_);
      for (int k = 1; k <= pieces; ++k)
        feed({to.x, 0, from.z - down * k / pieces, to.a}, settings_.plunge_share * speed_);
      return;
    }
    for (int k = 1; k < pieces; ++k) {
      const double t = static_cast<double>(k) / pieces;
      feed({from.x + t * (to.x - from.x), 0, from.z - t * down, to.a}, speed);
    }
    feed(to, speed);
  }

  void feed(const motion::Position& to, double speed) {
    const motion::Position from = now();
    const double r = std::max(from.z, to.z);
    if (true_length(from, to, r) < kNothing) return;
    path_.moves.push_back({to, false, feed_minutes(from, to, r, speed, setup_.machine), 0});
  }

  // Conservative: any wood within the shank's (the collet's) radius along x, whatever its direction, must be lower than
  // its lower end.
  void look_at_shank(const LinePoint& p) {
    const shop::Cutter& c = setup_.cutter;
    auto look = [&](double radius, double bottom, const char* part) {
      if (radius <= setup_.ball()) return;  // it stays within what the ball has cleared
      const double over = skyline_.standing(p.x - radius, p.x + radius) - bottom;
      if (over > rub_) rub_ = over, rub_at_ = p, rub_part_ = part;
    };
    look(c.shank_diameter / 2, p.z + c.flute_length, "shank");
    if (c.shank_length > 0) look(c.collet_diameter / 2, p.z + c.shank_length, "collet");
  }

  const Setup& setup_;
  const Leftover& wood_;
  Skyline skyline_;
  const LengthwiseSettings& settings_;
  motion::Path& path_;
  double speed_;
  double rub_ = 0;
  LinePoint rub_at_;
  const char* rub_part_ = "";
};

/// All lines of one stretch, as downhill runs.
class StretchLines {
 public:
  StretchLines(const Setup& setup, const Surface& surface, const LengthwiseSettings& settings, const Stretch& stretch)
      : surface_(surface),
        settings_(settings),
        rows_(rows_of(stretch, setup, surface.envelope->ball_radius(), settings.row_step)),
        lines_(stretch.lines) {}

  Result<Done> prepare(Heights& grid, std::stop_token stop) {
    return surface_.envelope->fill(rows_, lines_, grid, stop);
  }

  std::vector<std::vector<LinePoint>> runs(const Heights& grid, int column) {
    const double a = grid.angle(column), below = surface_.below(a);
    samples_.clear();
    wood_.clear();
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      const double centre = grid.at(i, column);
      samples_.push_back({rows_[i], surface_.tip_of(centre)});
      wood_.push_back(centre - surface_.ball < below);
    }
    std::vector<std::vector<LinePoint>> found;
    for (const auto& [first, last] : spans_of(samples_, wood_)) {
      const std::vector<LinePoint> span(samples_.begin() + static_cast<std::ptrdiff_t>(first),
                                        samples_.begin() + static_cast<std::ptrdiff_t>(last) + 1);
      // of the tolerance, a fifth to the samples and three fifths to leaving points out; the rest is kept
      const auto fine = refined(
          span, [&](double x) { return surface_.tip(x, a); }, settings_.along / 5);
      for (auto& run : downhill(simplified(fine, settings_.along * 3 / 5), settings_.prominence))
        found.push_back(std::move(run));
    }
    return found;
  }

 private:
  const Surface& surface_;
  const LengthwiseSettings& settings_;
  std::vector<double> rows_;
  int lines_;
  std::vector<LinePoint> samples_;
  std::vector<char> wood_;
};

}  // namespace

Result<Lengthwise> cut_lengthwise(const Setup& setup, const Surface& surface, const LengthwiseSettings& settings,
                                  const Leftover& wood, motion::Path& path, std::stop_token stop) {
  Result<std::vector<Stretch>> stretches = stretches_of(setup, surface, settings, stop);
  if (!stretches.ok()) return stretches.failure();
  Lengthwise done;
  done.stretches = *stretches;
  Writer writer(setup, wood, settings, path);
  Heights grid;
  bool forward = true;  // round one way in one stretch, back in the next: the rotary never winds up
  for (const Stretch& stretch : done.stretches) {
    StretchLines lines(setup, surface, settings, stretch);
    if (auto ready = lines.prepare(grid, stop); !ready.ok()) return ready.failure();
    writer.begin(settings.name + ", x " + place(stretch.x0) + " to " + place(stretch.x1));
    for (int k = 0; k < stretch.lines; ++k) {
      if (stop.stop_requested()) return fail("mill.cancelled", "stopped");
      const int column = forward ? k : stretch.lines - 1 - k;
      for (auto& run : lines.runs(grid, column)) {
        if (run.size() < 2) continue;
        writer.cut(grid.angle(column), run);
        done.cuts.push_back({grid.angle(column), std::move(run)});
      }
    }
    writer.end();
    forward = !forward;
  }
  if (auto clear = writer.shank_is_clear(); !clear.ok()) return clear.failure();
  return done;
}

}  // namespace pommel::mill
