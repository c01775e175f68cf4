// Where a pass is divided along the piece, and how many lines each stretch needs.
#include <algorithm>
#include <cmath>
#include <limits>

#include "mill/feed.h"
#include "mill/lengthwise.h"
#include "mill/line.h"
#include "shape/crease.h"

namespace pommel::mill {
namespace {

constexpr double kLook = 0.25;  // mm between the rows looked at
constexpr int kColumns = 144;   // 2.5 degrees: arrises of square, hexagon and octagon get a column
constexpr double kThin = 0.5;   // mm: least radius for counting lines

/// One row of the piece as the pass sees it.
struct Row {
  double x = 0;
  bool cut = false;
  double top = -std::numeric_limits<double>::infinity();  // greatest tip height
  double cut_top = kThin;                                 // the same where there is wood to remove
};

std::vector<double> even_rows(double from, double to, double step) {
  const auto spaces = static_cast<std::size_t>(std::max(1.0, std::ceil((to - from) / step)));
  std::vector<double> rows;
  for (std::size_t i = 0; i <= spaces; ++i)
    rows.push_back(from + (to - from) * static_cast<double>(i) / static_cast<double>(spaces));
  return rows;
}

Result<std::vector<Row>> look_along(const Setup& setup, const Surface& surface, std::stop_token stop) {
  Heights grid;
  const std::vector<double> x = even_rows(-setup.run_up, setup.length + setup.run_up, kLook);
  if (auto filled = surface.envelope->fill(x, kColumns, grid, stop); !filled.ok()) return filled.failure();
  std::vector<double> below;
  for (int j = 0; j < kColumns; ++j) below.push_back(surface.below(grid.angle(j)));
  std::vector<Row> rows(x.size());
  for (std::size_t i = 0; i < x.size(); ++i) {
    Row& row = rows[i];
    row.x = x[i];
    for (int j = 0; j < kColumns; ++j) {
      const double lowest = grid.at(i, j) - surface.ball, tip = std::max(lowest, surface.floor);
      row.top = std::max(row.top, tip);
      if (lowest >= below[static_cast<std::size_t>(j)]) continue;
      row.cut = true;
      row.cut_top = std::max(row.cut_top, tip);
    }
  }
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

// How far the surface leans there, on its steeper side, radians.
double lean_at(const std::vector<Row>& rows, std::size_t i) {
  double rise = 0;
  if (i > 0) rise = std::fabs(rows[i].top - rows[i - 1].top);
  if (i + 1 < rows.size()) rise = std::max(rise, std::fabs(rows[i + 1].top - rows[i].top));
  return std::atan2(rise, rows[1].x - rows[0].x);
}

}  // namespace

Result<std::vector<Stretch>> stretches_of(const Setup& setup, const Surface& surface,
                                          const LengthwiseSettings& settings, std::stop_token stop) {
  Result<std::vector<Row>> looked = look_along(setup, surface, stop);
  if (!looked.ok()) return looked.failure();
  const std::vector<Row>& rows = *looked;
  std::vector<Stretch> found;
  for (std::size_t i = 0; i < rows.size();) {
    if (!rows[i].cut) {
      ++i;
      continue;
    }
    std::size_t end = i;
    while (end < rows.size() && rows[end].cut) ++end;
    // one row more on both sides: the wood begins somewhere between
    const std::size_t first = i > 0 ? i - 1 : 0, last = std::min(end, rows.size() - 1);
    std::vector<double> tops;
    for (std::size_t k = first; k <= last; ++k) tops.push_back(rows[k].top);
    const std::vector<std::size_t> turns = turning_points(tops, settings.prominence);
    for (std::size_t t = 0; t + 1 < turns.size(); ++t) {
      const std::size_t a = first + turns[t], b = first + turns[t + 1];
      double lines = lines_on_flat(surface.ball, settings.cusp, flattest(setup, rows[a].x, rows[b].x));
      for (std::size_t k = a; k <= b; ++k) {
        lines = std::max(lines, lines_on_round(surface.ball, settings.cusp, rows[k].cut_top, lean_at(rows, k)));
      }
      found.push_back({rows[a].x, rows[b].x, whole_lines(lines)});
    }
    i = end;
  }
  return found;
}

}  // namespace pommel::mill
