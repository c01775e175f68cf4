#include "mill/line_memo.h"

#include <algorithm>
#include <cstring>
#include <numbers>

#include "base/files.h"
#include "shape/crease.h"

namespace pommel::mill {
namespace {

constexpr std::size_t kMostPoints = 4'000'000;
constexpr double kMargin = 1;  // mm beside the cutter's reach

/// Gathers figures as they are in memory.
class Figures {
 public:
  template <class... T>
  void add(const T&... values) {
    (one(static_cast<double>(values)), ...);
  }
  const std::string& all() const { return all_; }

 private:
  void one(double value) {
    char bytes[sizeof value];
    std::memcpy(bytes, &value, sizeof value);
    all_.append(bytes, sizeof value);
  }

  std::string all_;
};

/// The wood that a stretch depends on: from the last knot before it to the first behind it, since there its outermost cells are cut.
struct Near {
  double from = 0, to = 0;

  void add(Figures& figures, const shape::Profile& profile) const {
    for (const shape::Piece& p : profile.pieces) {
      if (p.x1 <= from || p.x0 >= to) continue;
      const double x0 = std::max(p.x0, from), x1 = std::min(p.x1, to);
      // clear stretches and level ones are the same however far they go on
      if (p.kind == shape::Piece::Kind::clear) figures.add(p.kind, x0, x1);
      else if (p.kind == shape::Piece::Kind::line && p.r0 == p.r1) figures.add(p.kind, x0, x1, p.r0);
      else figures.add(p.kind, p.x0, p.x1, p.r0, p.r1, p.cx, p.cr, p.rho, p.bulge, p.c[0], p.c[1], p.c[2], p.c[3]);
    }
    figures.add(-1);
  }
};

Near near(const shape::Part& part, double from, double to) {
  const std::vector<double> knots = shape::knots(part);
  const auto behind = std::lower_bound(knots.begin(), knots.end(), to), before = std::upper_bound(knots.begin(), knots.end(), from);
  return {before != knots.begin() ? *std::prev(before) : from, behind != knots.end() ? *behind : to};
}

void add_part(Figures& figures, const shape::Part& part, const Near& near) {
  figures.add(near.from, near.to);
  near.add(figures, part.outline);
  for (const shape::Face& face : part.faces) figures.add(face.phi), near.add(figures, face.d);
  for (const shape::Flute& flute : part.flutes) figures.add(flute.theta, flute.radius), near.add(figures, flute.centre);
  for (const shape::Reeding& reeds : part.reedings) figures.add(reeds.count, reeds.phase, reeds.radius), near.add(figures, reeds.centre);
  for (const shape::Twist& t : part.twists) {
    if (t.x1 > near.from && t.x0 < near.to) figures.add(t.x0, t.x1, t.starts, t.pitch, t.depth, t.fade0, t.fade1, t.phase);
  }
}

void add_cutter(Figures& figures, const shop::Cutter& c) {
  figures.add(c.form, c.diameter, c.flute_length, c.shank_diameter, c.shank_length, c.collet_diameter, c.collet_length, c.tip_radius, c.half_angle, c.tip_flat,
              c.holder_diameter, c.holder_length);
}

// The envelope of a ball knows the ball alone, that of a cutter all that hangs over the wood.
double reach_of(const shop::Cutter& c, const Surface& surface) {
  if (surface.envelope->reference() > 0) return surface.envelope->ball_radius();
  return std::max({surface.envelope->ball_radius(), c.diameter / 2, c.shank_diameter / 2, c.collet_diameter / 2, c.holder_diameter / 2});
}

std::size_t points_of(const StretchRuns& runs) {
  std::size_t points = 0;
  for (const auto* lines : {&runs.even, &runs.valleys})
    for (const Runs& line : *lines)
      for (const auto& run : line) points += run.size();
  return points;
}

}  // namespace

std::string key_of(const Setup& setup, const Surface& surface, const PassSettings& settings, const Stretch& stretch) {
  Figures figures;
  const double reach = reach_of(setup.cutter, surface) + settings.allowance + kMargin;
  add_cutter(figures, setup.cutter);
  figures.add(surface.envelope->ball_radius(), surface.envelope->reference(), surface.lift, surface.floor, surface.least);
  figures.add(settings.allowance, settings.along, settings.row_step, settings.prominence, setup.alike);
  figures.add(setup.blank.section, setup.blank.size, setup.tolerance.oversize, setup.shift);
  figures.add(stretch.x0, stretch.x1, stretch.lines, stretch.lead, stretch.first);
  for (const Valley& valley : stretch.valleys) figures.add(valley.a, valley.x0, valley.x1);
  for (int k = 0; k < stretch.lines; ++k) figures.add(surface.below(stretch.first + 2 * std::numbers::pi * k / stretch.lines));
  add_part(figures, setup.part, near(setup.part, stretch.x0 - reach, stretch.x1 + reach));
  return sha256(figures.all());
}

std::shared_ptr<const StretchRuns> LineMemo::find(const std::string& key) {
  const std::lock_guard hold(guard_);
  const auto found = known_.find(key);
  ++(found != known_.end() ? counts_.recalled : counts_.missed);
  if (found == known_.end()) return nullptr;
  found->second.asked = ++clock_;
  return found->second.runs;
}

void LineMemo::keep(const std::string& key, std::shared_ptr<const StretchRuns> runs) {
  const std::lock_guard hold(guard_);
  const std::size_t points = points_of(*runs);
  const auto [at, fresh] = known_.try_emplace(key, Kept{std::move(runs), points, ++clock_});
  if (!fresh) return;  // two threads worked it out at once
  points_ += points;
  while (points_ > kMostPoints && known_.size() > 1) forget_the_oldest();
}

void LineMemo::forget_the_oldest() {
  const auto oldest = std::min_element(known_.begin(), known_.end(), [](const auto& a, const auto& b) { return a.second.asked < b.second.asked; });
  points_ -= oldest->second.points;
  known_.erase(oldest);
}

LineMemo::Counts LineMemo::counts() const {
  const std::lock_guard hold(guard_);
  return counts_;
}

}  // namespace pommel::mill
