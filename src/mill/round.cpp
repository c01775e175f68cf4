#include "mill/round.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "mill/feed.h"
#include "mill/line.h"

namespace pommel::mill {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr int kLook = 8;            // directions that are looked at: alike, as the section is round
constexpr double kOverlap = 0.7;    // of a disc's width is the most that a turn advances
constexpr double kLeastShare = 0.25;  // of the centres' way that counts as the contacts' at least
// A corner: within a fifth of a step the contact jumps by a tenth of one; by three tenths and more a full ring is
// made. In a narrow hollow that is no corner such places follow one another: then half a step apart is near enough, unless
// the bend is sharp or half as much again.
constexpr double kCornerWindow = 0.2, kCornerJump = 0.1, kFullRing = 0.3, kSharp = 0.3, kStronger = 1.5;

double lean(const std::vector<LinePoint>& line, std::size_t i) {
  return std::atan2(line[i + 1].z - line[i].z, line[i + 1].x - line[i].x);
}

// The curve that the tip follows, finely sampled, at growing x.
Result<std::vector<LinePoint>> curve_of(const Setup& setup, const Surface& surface, const PassSettings& settings,
                                        const Stretch& stretch, Heights& grid, std::stop_token stop) {
  const std::vector<double> rows = rows_of(stretch, setup, setup.foot.grown(settings.allowance), settings.row_step);
  if (auto filled = surface.envelope->fill(rows, kLook, grid, stop); !filled.ok()) return filled.failure();
  std::vector<LinePoint> samples;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    double highest = grid.at(i, 0);
    for (int j = 1; j < kLook; ++j) highest = std::max(highest, static_cast<double>(grid.at(i, j)));
    samples.push_back({rows[i], surface.tip_of(highest)});
  }
  return refined(
      samples, [&](double x) { return surface.tip(x, 0); }, settings.along / 5);
}

/// A place that the spiral goes through: turns since its beginning, and those for which it stays there.
struct Station {
  LinePoint at;
  double turns = 0, stay = 0;
};

// The curve with points left out, corners and ends kept.
std::vector<Station> stations_of(const std::vector<LinePoint>& curve, const Foot& foot, const PassSettings& settings) {
  const double tolerance = settings.along * 3 / 5;
  const double cusp = settings.stepover > 0 ? settings.stepover * settings.stepover / (8 * foot.corner) : settings.round_cusp;
  const std::vector<double> turns = turns_along(curve, foot, cusp, settings.stepover);
  std::vector<Corner> corners = corners_along(curve, foot, cusp);
  corners.push_back({curve.size() - 1, 1});
  std::vector<Station> way{{curve.front(), 0, 1}};
  std::size_t from = 0;
  for (const auto& [ring, stay] : corners) {
    const std::vector<LinePoint> piece(curve.begin() + static_cast<std::ptrdiff_t>(from),
                                       curve.begin() + static_cast<std::ptrdiff_t>(ring) + 1);
    std::size_t fine = from;
    for (const LinePoint& p : simplified(piece, tolerance)) {
      while (!(curve[fine] == p)) ++fine;
      if (fine > from) way.push_back({p, turns[fine], fine == ring ? stay : 0});
    }
    from = ring;
  }
  return way;
}

void turn_back(std::vector<Station>& way) {
  std::reverse(way.begin(), way.end());
  const double all = way.front().turns;
  for (Station& station : way) station.turns = all - station.turns;
}

// mm between contacts on a level surface. The second order is off by some percents where the curvature changes within a
// turn; so much closer the turns lie.
double step_of(double rho, double cusp) {
  return 0.97 * step_on_flat(rho, std::min(cusp, rho));
}

// Turns that a disc needs from p to q: see round.h.
double disc_turns(const LinePoint& p, const LinePoint& q, const Foot& foot, double cusp) {
  const double dx = std::fabs(q.x - p.x), dz = std::fabs(q.z - p.z), way = std::hypot(dx, dz);
  if (way <= 0) return 0;
  return std::max({dx * dz / way / cusp, dx / (kOverlap * 2 * foot.flat), dz / foot.radius()});
}

}  // namespace

std::vector<double> turns_along(const std::vector<LinePoint>& line, const Foot& foot, double cusp, double stepover) {
  std::vector<double> turns(line.size(), 0.0);
  const double rho = foot.corner, flat = step_of(rho, cusp);
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const double centres = std::hypot(line[i + 1].x - line[i].x, line[i + 1].z - line[i].z);
    // the change of direction over this piece: half of the bends at its two ends
    double bend = 0;
    if (i > 0) bend += (lean(line, i) - lean(line, i - 1)) / 2;
    if (i + 2 < line.size()) bend += (lean(line, i + 1) - lean(line, i)) / 2;
    const double contacts = std::max(kLeastShare * centres, centres + rho * bend);
    if (stepover > 0) {
      turns[i + 1] = turns[i] + contacts / stepover;
      continue;
    }
    const double by_rounding = rho > 0 ? std::sqrt(contacts * centres) / flat : std::numeric_limits<double>::infinity();
    turns[i + 1] = turns[i] + (foot.ball() ? by_rounding : std::min(by_rounding, disc_turns(line[i], line[i + 1], foot, cusp)));
  }
  return turns;
}

std::vector<Corner> corners_along(const std::vector<LinePoint>& line, const Foot& foot, double cusp) {
  if (foot.corner <= 0) return {};
  const double rho = foot.corner, step = step_of(rho, cusp), window = kCornerWindow * step;
  std::vector<double> way(line.size(), 0.0), bend(line.size(), 0.0);
  for (std::size_t i = 0; i + 1 < line.size(); ++i)
    way[i + 1] = way[i] + std::hypot(line[i + 1].x - line[i].x, line[i + 1].z - line[i].z);
  for (std::size_t i = 1; i + 1 < line.size(); ++i) bend[i] = lean(line, i) - lean(line, i - 1);
  std::vector<Corner> found;
  double last = 0;  // jump of the last one found
  for (std::size_t i = 1; i + 1 < line.size(); ++i) {
    if (bend[i] <= 0) continue;
    double sum = 0;
    std::size_t end = i, sharpest = i;
    for (; end + 1 < line.size() && way[end] - way[i] <= window; ++end) {
      sum += bend[end];
      if (bend[end] > bend[sharpest]) sharpest = end;
    }
    const double jump = rho * sum / step;
    if (jump < kCornerJump) continue;
    const bool near = !found.empty() && way[sharpest] - way[found.back().at] < step / 2;
    if (near && sum < kSharp && jump < kStronger * last) continue;
    last = jump;
    found.push_back({sharpest, jump < kFullRing ? jump : 1});
    i = end - 1;
  }
  return found;
}

Result<Done> cut_round(const Setup& setup, const Surface& surface, const PassSettings& settings, const Stretch& stretch,
                       Heights& grid, Mover& mover, std::vector<Cut>& cuts, std::stop_token stop) {
  Result<std::vector<LinePoint>> curve = curve_of(setup, surface, settings, stretch, grid, stop);
  if (!curve.ok()) return curve.failure();
  std::vector<Station> way = stations_of(*curve, setup.foot, settings);
  if (!stretch.falls) turn_back(way);
  // pass.h: conventional when da dx > 0
  const double sense = stretch.falls == settings.climb ? -1 : 1;
  Cut cut;
  mover.enter_turning(way.front().at, mover.a(), sense, cut.turning);
  for (std::size_t i = 1; i < way.size(); ++i) {
    if (stop.stop_requested()) return fail("cancelled", "stopped");
    mover.turn_to(way[i].at, sense * kTurn * (way[i].turns - way[i - 1].turns), cut.turning);
    if (way[i].stay > 0) mover.turn_to(way[i].at, sense * kTurn * way[i].stay, cut.turning);
  }
  mover.leave();
  cuts.push_back(std::move(cut));
  return Done{};
}

}  // namespace pommel::mill
