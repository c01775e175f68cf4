// Where a pass is divided along the piece, how many lines or turns each stretch needs, and which way it is cut.
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "mill/feed.h"
#include "mill/lengthwise.h"
#include "mill/line.h"
#include "mill/pass.h"
#include "mill/round.h"
#include "mill/time.h"
#include "shape/crease.h"
#include "shape/ring.h"

namespace pommel::mill {
namespace {

constexpr double kLook = 0.25;  // mm between the rows looked at
constexpr int kColumns = 144;   // 2.5 degrees: arrises of square, hexagon and octagon get a column
constexpr double kThin = 0.5;   // mm: least radius for counting lines
constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kBeside = 2e-4;   // radians: at 25 mm from the axis 0.005 mm
constexpr double kValleyLook = 4;  // mm between the sections in which valleys are looked for
constexpr double kAlike = 1e-4;    // mm: tips that differ by less all round are those of a round section
constexpr double kShankAway = 0.1;  // mm that a shank keeps above wood, or a round stretch is none: its moves lie so near to the rows looked at
constexpr double kEdgeLike = 11;    // a hollow 1.1 times the ball: narrower ones are edges to it
constexpr double kSteep = 0.5;      // radians that the piece may lean where lines turn with a twist
constexpr double kLeastRound = 2;  // mm: shorter stretches of a round section are cut with their neighbours

/// One row of the piece as the pass sees it.
struct Row {
  double x = 0;
  bool cut = false;
  double top = -std::numeric_limits<double>::infinity();  // greatest tip height
  double cut_top = kThin;                                 // the same where there is wood to remove
  bool round = false;                                     // the tip stands alike all round, and the cutter may go round there
  bool rubs = false;                                      // it stands alike, but the shank would rub if it went round
  double share = 0;                                       // of the directions that have wood to remove
  double spread = 0;                                      // mm of the ball's way for a radian round, where the section is treated
  const shape::Twist* twist = nullptr;                    // lines turn with it there
};

// How far the surface leans there, on its steeper side, radians.
double lean_at(const std::vector<Row>& rows, std::size_t i) {
  const auto rise = [&](std::size_t k) { return std::fabs(rows[k + 1].top - rows[k].top) / (rows[k + 1].x - rows[k].x); };
  return std::atan(std::max(i > 0 ? rise(i - 1) : 0, i + 1 < rows.size() ? rise(i) : 0));
}

std::vector<double> even_rows(double from, double to, double step) {
  const auto spaces = static_cast<std::size_t>(std::max(1.0, std::ceil((to - from) / step)));
  std::vector<double> rows;
  for (std::size_t i = 0; i <= spaces; ++i)
    rows.push_back(from + (to - from) * static_cast<double>(i) / static_cast<double>(spaces));
  return rows;
}

// How far the ball's centre (another end's rim) goes for a radian round the piece where it goes farthest, mm: over the walls of grooves it goes up and down,
// too. Centres S apart round a hollow of radius g leave S²/8 (1/rho + 1/(g - rho)), as many more than on a flat.
double spread_of(const Setup& setup, const Surface& surface, const Heights& grid, std::size_t i) {
  const double x = grid.x(i), step = grid.angle(1);
  if (!shape::ring_at(setup.part, x, shape::Side::before).treated()) return 0;
  auto centre = [&](int j) { return surface.tip_of(grid.at(i, j % kColumns)) + setup.foot.corner; };
  double most = 0;
  for (int j = 0; j < kColumns; ++j) most = std::max(most, std::hypot(centre(j), (centre(j + 1) - centre(j)) / step));
  double hollow = 1;
  for (const shape::Ring::Groove& groove : shape::ring_at(setup.part, x, shape::Side::before).grooves)
    if (setup.foot.ball() && groove.g > 1.1 * setup.radius()) hollow = std::max(hollow, std::sqrt(groove.g / (groove.g - setup.radius())));
  return most * hollow;
}

// Whether the shank of a cutter that turns about the piece there with its tip at that height meets standing wood: above its flutes it is a cylinder,
// which comes to what stands beside it from all sides.
bool shank_rubs(const Setup& setup, const Skyline& standing, double x, double tip) {
  const double reach = setup.cutter.shank_diameter / 2;
  return reach > 0 && standing.standing(x - reach - kLook, x + reach + kLook) > tip + setup.cutter.flute_length - kShankAway;
}

double lead_of(const shape::Twist& twist) {
  return kTurn / twist.pitch;
}

// The twist that finishing lines are to turn with at x, or none.
const shape::Twist* twist_at(const Setup& setup, const PassSettings& settings, double x) {
  if (!settings.both_ways || settings.way == Way::lengthwise) return nullptr;  // lines of one way only would wind the rotary up
  const auto twist = std::find_if(setup.part.twists.begin(), setup.part.twists.end(), [x](const shape::Twist& t) { return x > t.x0 && x < t.x1; });
  if (twist == setup.part.twists.end()) return nullptr;
  const double limit = setup.machine.rotary_limit_turns;
  if (limit > 0 && (twist->x1 - twist->x0) / std::fabs(twist->pitch) + 2 > limit) return nullptr;
  const shape::Ring ring = shape::ring_at(setup.part, x, shape::Side::before);
  return ring.grooves.empty() && ring.reeds.empty() ? &*twist : nullptr;
}

// The centres' way for a radian round as spread_of has it, taken square to lines that turn with the twist: the part of it that goes round is shorter by
// q = 1 / sqrt(1 + (c lead)²). Centres S apart over skin of curvature k there (hollow below 0), whose centres' own is k' = k / (1 + rho k), leave
// S² (1 - rho k') / (8 rho): as many more than on a flat in hollows; in one that is an edge to the ball a line runs.
double spread_along(const Setup& setup, const Surface& surface, const Heights& grid, std::size_t i, const shape::Twist& twist) {
  const double step = grid.angle(1), rho = setup.foot.corner;
  const auto centre = [&](int j) { return surface.tip_of(grid.at(i, (j + kColumns) % kColumns)) + rho; };
  double most = 0;
  for (int j = 0; j < kColumns; ++j) {
    const double c = std::max(centre(j), kThin), rise = (centre(j + 1) - centre(j - 1)) / (2 * step), bend = (centre(j + 1) - 2 * centre(j) + centre(j - 1)) / (step * step);
    const double q = 1 / std::hypot(1, c * lead_of(twist)), way = std::hypot(c * q, rise);
    const double hollow = 1 - rho * (std::pow(q, 4) * c - bend) * c * q / std::pow(way, 3);  // exact at crests and bottoms, where the rise is 0
    most = std::max(most, hollow > 1 && hollow < kEdgeLike ? way * std::sqrt(hollow) : way);
  }
  return most;
}

Result<std::vector<Row>> look_along(const Setup& setup, const Surface& surface, const PassSettings& settings, const Leftover& wood, std::stop_token stop) {
  Heights grid;
  const std::vector<double> x = even_rows(-setup.run_up, setup.length + setup.run_up, kLook);
  if (auto filled = surface.envelope->fill(x, kColumns, grid, stop); !filled.ok()) return filled.failure();
  Heights left;
  if (surface.left) {
    if (auto filled = surface.left->fill(x, kColumns, left, stop); !filled.ok()) return filled.failure();
  }
  std::vector<double> below;
  for (int j = 0; j < kColumns; ++j) below.push_back(surface.below(grid.angle(j)));
  const Skyline standing(wood);
  std::vector<Row> rows(x.size());
  for (std::size_t i = 0; i < x.size(); ++i) {
    Row& row = rows[i];
    row.x = x[i];
    double least = std::numeric_limits<double>::infinity();
    for (int j = 0; j < kColumns; ++j) {
      const double filled = grid.at(i, j), tip = surface.tip_of(filled);
      row.top = std::max(row.top, tip);
      least = std::min(least, tip);
      if (!surface.wood(filled, surface.left ? left.at(i, j) : 0, below[static_cast<std::size_t>(j)])) continue;
      row.cut = true;
      row.cut_top = std::max(row.cut_top, tip);
      row.share += 1.0 / kColumns;
    }
    const bool alike = row.top - least <= kAlike;
    row.rubs = alike && settings.spare_shank && shank_rubs(setup, standing, row.x, row.top);
    row.round = alike && !row.rubs;
    if (!row.cut || alike) continue;
    if (!settings.spare_shank || !shank_rubs(setup, standing, row.x, least)) row.twist = twist_at(setup, settings, row.x);
    row.spread = row.twist ? spread_along(setup, surface, grid, i, *row.twist) : spread_of(setup, surface, grid, i);
  }
  for (std::size_t i = 0; i < rows.size(); ++i)
    if (rows[i].twist && lean_at(rows, i) > kSteep) rows[i].twist = nullptr, rows[i].spread = spread_of(setup, surface, grid, i);
  return rows;
}

// Greatest R²/d of the flats that the pass cuts between two places: those that lie deeper than the blank's own.
double flattest(const Setup& setup, double x0, double x1) {
  const bool square = setup.blank.section == shape::Blank::Section::square;
  double most = 0;
  for (double x : even_rows(std::max(0.0, x0), std::min(setup.length, std::max(x1, 0.0)), 1)) {
    if (x < 0 || x > setup.length) continue;
    for (const shape::Flat& flat : shape::flats_at(setup.part, x, shape::Side::before)) {
      const double quarter = std::remainder(flat.phi, std::acos(-1.0) / 2);
      if (square && std::fabs(quarter) < 1e-9 && flat.d > setup.blank.size / 2 - 1e-3) continue;
      const double t = std::max(std::fabs(flat.t0), std::fabs(flat.t1));
      most = std::max(most, (flat.d * flat.d + t * t) / flat.d);
    }
  }
  return most;
}

using Rows = std::vector<Row>;

// Directions of valleys whose bottoms are edges to this cutter: between reeds, and of grooves as narrow as it. A line beside such a bottom leaves a ridge that
// grows with the way to it, not with its square.
std::vector<Valley> narrow_valleys(const Setup& setup, double x0, double x1) {
  std::vector<Valley> found;
  const auto add = [&](double theta, double x) {
    const double a = theta - kTurn * std::floor(theta / kTurn);
    const auto known = std::find_if(found.begin(), found.end(), [&](const Valley& v) { return std::fabs(std::remainder(v.a - a, kTurn)) <= kBeside; });
    if (known == found.end()) found.push_back({a, x - kValleyLook, x + kValleyLook});
    else known->x1 = x + kValleyLook;
  };
  for (double x : even_rows(std::max(0.0, x0), std::min(setup.length, std::max(x1, 0.0)), kValleyLook)) {
    const shape::Ring ring = shape::ring_at(setup.part, std::min(x, setup.length), shape::Side::before);
    for (const shape::Ring::Groove& groove : ring.grooves)
      if (groove.g < 1.1 * setup.radius()) add(groove.theta, x);
    for (const shape::Ring::Reeds& reeds : ring.reeds)
      for (int k = 0; k < reeds.count; ++k) add(reeds.phase + (k + 0.5) * kTurn / reeds.count, x);
  }
  std::sort(found.begin(), found.end(), [](const Valley& v, const Valley& w) { return v.a < w.a; });
  return found;
}

bool met(const Valley& valley, int lines) { return std::fabs(std::remainder(valley.a, kTurn / lines)) <= kBeside; }

// The least number of lines (of whole_lines), no fewer than these, of which one runs along each valley; these where half as many more would not do: then
// the valleys get lines of their own (valleys_beside).
int with_lines_in(const std::vector<Valley>& valleys, int lines) {
  for (int n = lines; n <= lines + std::max(lines / 2, 96); n += 8)
    if (std::all_of(valleys.begin(), valleys.end(), [n](const Valley& v) { return met(v, n); })) return n;
  return lines;
}

// The valleys along which none of the even lines runs. What roughing leaves in them the finishing pass takes.
std::vector<Valley> valleys_beside(const Setup& setup, const PassSettings& settings, double x0, double x1, int lines) {
  if (settings.allowance > 0) return {};
  std::vector<Valley> valleys = narrow_valleys(setup, x0, x1);
  std::erase_if(valleys, [&](const Valley& v) { return met(v, lines); });
  return valleys;
}

// Lines round the piece from row a to row b.
int lines_of(const Setup& setup, const PassSettings& settings, const Rows& rows, std::size_t a, std::size_t b) {
  const std::vector<Valley> valleys = narrow_valleys(setup, rows[a].x, rows[b].x);
  double lines = 0;
  if (settings.stepover > 0) {
    lines = 2 * std::numbers::pi * flattest(setup, rows[a].x, rows[b].x) / settings.stepover;
    for (std::size_t k = a; k <= b; ++k) lines = std::max(lines, 2 * std::numbers::pi * std::max(rows[k].cut_top, rows[k].spread) / settings.stepover);
    return with_lines_in(valleys, whole_lines(lines));
  }
  lines = lines_on_flat(setup.radius(), settings.cusp, flattest(setup, rows[a].x, rows[b].x));
  for (std::size_t k = a; k <= b; ++k) {
    lines = std::max(lines, lines_on_round(setup.foot, settings.cusp, rows[k].cut_top, lean_at(rows, k)));
    lines = std::max(lines, 2 * std::numbers::pi * rows[k].spread / step_on_flat(setup.radius(), settings.cusp));
  }
  return with_lines_in(valleys, whole_lines(lines));
}

// Lines round the piece that turn with the twist from row a to row b: one in each of its hollows.
int lines_along(const Setup& setup, const PassSettings& settings, const Rows& rows, std::size_t a, std::size_t b, const shape::Twist& twist) {
  const double step = settings.stepover > 0 ? settings.stepover : step_on_flat(setup.foot.corner, settings.cusp);
  double lines = 0;
  for (std::size_t k = a; k <= b; ++k) lines = std::max(lines, kTurn * rows[k].spread / step);
  int whole = whole_lines(lines);
  while (whole % twist.starts != 0) whole += 8;
  return whole;
}

std::vector<LinePoint> tops(const Rows& rows, std::size_t a, std::size_t b) {
  std::vector<LinePoint> line;
  for (std::size_t k = a; k <= b; ++k) line.push_back({rows[k].x, rows[k].top});
  return line;
}

// Seconds: every turn at the chip load's speed over the wood or the rotary's greatest, and three rings.
double round_seconds(const Setup& setup, const std::vector<LinePoint>& line, const std::vector<double>& turns) {
  const double speed = cutting_speed(setup.cutter, setup.machine);
  auto turn = [&](double r) {
    return 60 * std::max(2 * std::numbers::pi * std::max(r, kThin) / speed, 1 / setup.machine.rapid_rotary);
  };
  double seconds = 2 * turn(line.front().z) + turn(line.back().z);
  for (std::size_t i = 0; i + 1 < line.size(); ++i)
    seconds += (turns[i + 1] - turns[i]) * turn((line[i].z + line[i + 1].z) / 2);
  return seconds;
}

// Seconds: the way of each line that has wood, and with each crest a way to the clear height and back.
double lengthwise_seconds(const Setup& setup, const PassSettings& settings, const Rows& rows, std::size_t a,
                          std::size_t b, int lines, std::size_t runs) {
  const shop::Machine& m = setup.machine;
  const double speed = cutting_speed(setup.cutter, m) / 60;
  double way = 0, sunk = 0, share = 0;
  for (std::size_t k = a; k <= b; ++k) {
    share = std::max(share, rows[k].share);
    if (k > a) way += std::hypot(rows[k].x - rows[k - 1].x, rows[k].top - rows[k - 1].top);
    if (k > a) sunk += std::fabs(rows[k].top - rows[k - 1].top);
  }
  auto axis = [](double length, double rapid, double a_max) {
    return trapezoid_seconds(length, rapid / 60, a_max > 0 ? a_max : std::numeric_limits<double>::infinity(), 0, 0);
  };
  const double lift = setup.clear_height - rows[a].top;
  const double each_run = 2 * axis(std::max(0.0, lift), m.rapid_z, m.accel_z) +
                          axis((rows[b].x - rows[a].x) / static_cast<double>(runs), m.rapid_x, m.accel_x) +
                          3 / (settings.plunge_share * speed);
  return lines * share * (way / speed + sunk / (settings.plunge_share * speed) + static_cast<double>(runs) * each_run);
}

/// Gathers the stretches of a pass.
class Divider {
 public:
  Divider(const Setup& setup, const PassSettings& settings, const Rows& rows)
      : setup_(setup), settings_(settings), rows_(rows) {}

  /// The rows from a to b, all with wood but perhaps the outermost.
  void divide(std::size_t a, std::size_t b) {
    std::size_t done = a;
    for (std::size_t i = a; i <= b; ++i) {
      if (!rows_[i].round) continue;
      std::size_t end = i;
      while (end < b && rows_[end + 1].round) ++end;
      if (may_go_round(i, end)) {
        if (i > done) lengthwise(done, i);
        found_.push_back(round_);
        done = end;
      }
      i = end;
    }
    if (b > done) lengthwise(done, b);
  }

  std::vector<Stretch> found() && { return std::move(found_); }

 private:
  std::vector<std::size_t> turns_of(std::size_t a, std::size_t b) const {
    std::vector<double> heights;
    for (std::size_t k = a; k <= b; ++k) heights.push_back(rows_[k].top);
    return turning_points(heights, settings_.prominence);
  }

  // Whether the round stretch from row a to row b is to be cut round and round; round_ is it then.
  bool may_go_round(std::size_t a, std::size_t b) {
    if (settings_.way == Way::lengthwise || rows_[b].x - rows_[a].x < kLeastRound) return false;
    const std::vector<LinePoint> line = tops(rows_, a, b);
    const std::vector<double> turns = turns_along(line, setup_.foot, settings_.round_cusp, settings_.stepover);
    const double limit = setup_.machine.rotary_limit_turns;
    if (limit > 0 && turns.back() + 4 > limit) return false;
    round_ = {rows_[a].x, rows_[b].x, 0, Way::round, turns.back(), rows_[a].top >= rows_[b].top};
    if (settings_.way == Way::round) return true;
    const int lines = lines_of(setup_, settings_, rows_, a, b);
    round_.lines = lines;
    return round_seconds(setup_, line, turns) <=
           lengthwise_seconds(setup_, settings_, rows_, a, b, lines, turns_of(a, b).size() - 1);
  }

  // Lines that turn with a twist where they may, straight ones beside them.
  void lengthwise(std::size_t first, std::size_t last) {
    for (std::size_t i = first; i < last;) {
      const shape::Twist* twist = twist_between(i);
      std::size_t end = i + 1;
      while (end < last && twist_between(end) == twist) ++end;
      if (!twist) straight(i, end);
      else along(i, end, *twist);
      i = end;
    }
  }

  // The twist between row i and the next one.
  const shape::Twist* twist_between(std::size_t i) const { return rows_[i].twist ? rows_[i].twist : rows_[i + 1].twist; }

  void along(std::size_t a, std::size_t b, const shape::Twist& twist) {
    const double lead = lead_of(twist), hollow = twist.phase + lead * (rows_[a].x - twist.x0) + std::numbers::pi / twist.starts;
    found_.push_back({rows_[a].x, rows_[b].x, lines_along(setup_, settings_, rows_, a, b, twist), Way::lengthwise, 0, rows_[a].top >= rows_[b].top, false,
                      lead, hollow, {}});
  }

  void straight(std::size_t first, std::size_t last) {
    const std::vector<std::size_t> turns = turns_of(first, last);
    for (std::size_t t = 0; t + 1 < turns.size(); ++t) {
      const std::size_t a = first + turns[t], b = first + turns[t + 1];
      const bool rubs = std::any_of(rows_.begin() + static_cast<std::ptrdiff_t>(a) + 1, rows_.begin() + static_cast<std::ptrdiff_t>(b), [](const Row& row) { return row.rubs; });
      const int lines = lines_of(setup_, settings_, rows_, a, b);
      found_.push_back({rows_[a].x, rows_[b].x, lines, Way::lengthwise, 0, rows_[a].top >= rows_[b].top, rubs, 0, 0,
                        valleys_beside(setup_, settings_, rows_[a].x, rows_[b].x, lines)});
    }
  }

  const Setup& setup_;
  const PassSettings& settings_;
  const Rows& rows_;
  Stretch round_;
  std::vector<Stretch> found_;
};

}  // namespace

Result<std::vector<Stretch>> stretches_of(const Setup& setup, const Surface& surface, const PassSettings& settings,
                                          const Leftover& wood, std::stop_token stop) {
  Result<std::vector<Row>> looked = look_along(setup, surface, settings, wood, stop);
  if (!looked.ok()) return looked.failure();
  const std::vector<Row>& rows = *looked;
  Divider divider(setup, settings, rows);
  for (std::size_t i = 0; i < rows.size();) {
    if (!rows[i].cut) {
      ++i;
      continue;
    }
    std::size_t end = i;
    while (end < rows.size() && rows[end].cut) ++end;
    // one row more on both sides: the wood begins somewhere between
    divider.divide(i > 0 ? i - 1 : 0, std::min(end, rows.size() - 1));
    i = end;
  }
  return std::move(divider).found();
}

}  // namespace pommel::mill
