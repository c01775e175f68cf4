#include "proof/grid.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "shape/crease.h"

namespace pommel::proof {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kSameRow = 1e-7;     // mm: anchors nearer than this are one row
constexpr double kSameAngle = 1e-7;   // radians: a crease this near a column needs no ray of its own
constexpr double kFinestRow = 0.002;  // mm: where the skin is plumb, rows come no nearer than this
constexpr std::size_t kMostRays = 20'000'000;  // about 1 GB with all that is kept of each

double in_turn(double angle) {
  double a = std::fmod(angle, kTurn);
  if (a < 0) a += kTurn;
  return a >= kTurn ? 0 : a;
}

// mm into the wood from a wall square to the axis. A ray that runs along a wall d inside it sees no more than d of a gouge in it.
constexpr double kBehindWall[] = {0.021, 0.03, 0.045, 0.07, 0.1, 0.15};

// Further rows behind the walls: the part's ends and where a profile jumps. The rest stay where they are.
void add_rows_behind_walls(const shape::Part& part, std::vector<double>& rows) {
  const double first = rows.front(), last = rows.back();
  auto behind = [&](double wall, double into) {
    for (double d : kBehindWall) {
      double x = wall + into * d;
      if (x > first && x < last) rows.push_back(x);
    }
  };
  auto walls_of = [&](const shape::Profile& profile) {
    for (std::size_t i = 0; i + 1 < profile.pieces.size(); ++i) {
      double x = profile.pieces[i].x1, before = profile.value(x, shape::Side::before), after = profile.value(x, shape::Side::after);
      if (before > after + kBehindWall[0]) behind(x, -1);
      if (after > before + kBehindWall[0]) behind(x, 1);
    }
  };
  behind(0, 1);
  behind(part.length, -1);
  walls_of(part.outline);
  for (const shape::Face& face : part.faces) walls_of(face.d);
  std::sort(rows.begin(), rows.end());
  rows.erase(std::unique(rows.begin(), rows.end(), [](double a, double b) { return b - a < kSameRow; }), rows.end());
}

std::vector<double> anchors(const shape::Part& part, const shape::Blank& blank) {
  std::vector<double> at{blank.x0, blank.x1, 0, part.length};
  auto ends_of = [&](const shape::Profile& profile) {
    for (const shape::Piece& piece : profile.pieces) at.insert(at.end(), {piece.x0, piece.x1});
  };
  for (const shape::Flute& flute : part.flutes) ends_of(flute.centre);
  for (const shape::Reeding& reeding : part.reedings) ends_of(reeding.centre);
  for (const shape::Twist& twist : part.twists) at.insert(at.end(), {twist.x0, twist.x0 + twist.fade0, twist.x1 - twist.fade1, twist.x1});
  std::vector<double> knots = shape::knots(part);
  at.insert(at.end(), knots.begin(), knots.end());
  for (std::size_t i = 0; i + 1 < knots.size(); ++i) {
    std::vector<double> more = shape::crossings(part, knots[i], knots[i + 1]);
    at.insert(at.end(), more.begin(), more.end());
  }
  std::sort(at.begin(), at.end());
  std::vector<double> kept;
  for (double x : at) {
    if (x < blank.x0 || x > blank.x1) continue;
    if (kept.empty() || x - kept.back() > kSameRow) kept.push_back(x);
  }
  return kept;
}

// How much the skin rises or falls between two rows with no knot between them; stretches that are clear do neither.
double rise(const shape::Part& part, double a, double b) {
  if (a < 0 || b > part.length) return 0;
  auto of = [&](const shape::Profile& profile) {
    if (profile.pieces.empty() || a < profile.start() || b > profile.end()) return 0.0;
    double r0 = profile.value(a, shape::Side::after), r1 = profile.value(b, shape::Side::before);
    return std::isfinite(r0) && std::isfinite(r1) ? std::fabs(r1 - r0) : 0;
  };
  double most = of(part.outline);
  for (const shape::Face& face : part.faces) most = std::max(most, of(face.d));
  for (const shape::Flute& flute : part.flutes) most = std::max(most, of(flute.centre));
  for (const shape::Reeding& reeding : part.reedings) most = std::max(most, of(reeding.centre));
  return most;
}

// Rows from a to before b: halved until the skin between neighbours rises no more than a row step either, so that a steep shoulder
// is seen as closely as a level stretch.
void add_rows(const shape::Part& part, double a, double b, double row_step, std::vector<double>& rows) {
  if (b - a <= kFinestRow || rise(part, a, b) <= row_step) return rows.push_back(a);
  double middle = a + (b - a) / 2;
  add_rows(part, a, middle, row_step, rows);
  add_rows(part, middle, b, row_step, rows);
}

void add_creases(const shape::Part& part, double x, shape::Side side, std::vector<double>& angles) {
  for (const shape::Flat& flat : shape::flats_at(part, x, side)) {
    angles.push_back(in_turn(flat.phi + std::atan2(flat.t0, flat.d)));
    angles.push_back(in_turn(flat.phi + std::atan2(flat.t1, flat.d)));
  }
  // where a flute's arc meets the round, law of cosines; a flute on a face has its edges between two columns
  double r = part.outline.value(x, side);
  for (const shape::Flute& flute : part.flutes) {
    if (x < flute.centre.start() || x > flute.centre.end()) continue;
    double c = flute.centre.value(x, side), edge = (r * r + c * c - flute.radius * flute.radius) / (2 * r * c);
    if (!std::isfinite(edge) || std::fabs(edge) >= 1) continue;
    angles.push_back(in_turn(flute.theta - std::acos(edge)));
    angles.push_back(in_turn(flute.theta + std::acos(edge)));
  }
}

std::vector<double> creases_at(const shape::Part& part, double x, double column_step) {
  std::vector<double> angles, kept;
  if (x < 0 || x > part.length) return kept;
  add_creases(part, x, shape::Side::before, angles);
  add_creases(part, x, shape::Side::after, angles);
  std::sort(angles.begin(), angles.end());
  for (double a : angles) {
    double off = std::fabs(a / column_step - std::round(a / column_step)) * column_step;
    if (off < kSameAngle || (!kept.empty() && a - kept.back() < kSameAngle)) continue;
    kept.push_back(a);
  }
  return kept;
}

void fill_buckets(Grid& grid) {
  double length = grid.x.back() - grid.x.front();
  grid.bucket = length / static_cast<double>(grid.rows());
  std::size_t row = 0;
  for (std::size_t i = 0; i <= grid.rows(); ++i) {
    double from = grid.x.front() + static_cast<double>(i) * grid.bucket;
    while (row < grid.rows() && grid.x[row] < from) ++row;
    grid.buckets.push_back(row);
  }
}

}  // namespace

double Grid::column_step() const { return kTurn / columns; }

double Grid::angle(std::size_t row, std::size_t k) const {
  auto n = static_cast<std::size_t>(columns);
  return k < n ? static_cast<double>(k) * column_step() : crease[crease_begin(row) + k - n];
}

std::size_t Grid::first_row_from(double at) const {
  double place = (at - x.front()) / bucket;
  if (!(place > 0)) return 0;
  if (place >= static_cast<double>(buckets.size() - 1)) return at > x.back() ? rows() : rows() - 1;
  std::size_t row = buckets[static_cast<std::size_t>(place)];
  while (row > 0 && x[row - 1] >= at) --row;
  while (row < rows() && x[row] < at) ++row;
  return row;
}

Result<Grid> make_grid(const shape::Part& turned, const shape::Blank& blank, double row_step, int columns) {
  auto too_much = [] {
    return fail("proof.too-much", "the check would need more rays than memory allows",
                "take a larger row step or fewer columns");
  };
  if (blank.length() / row_step * columns > static_cast<double>(kMostRays)) return too_much();
  Grid grid;
  grid.columns = columns;
  grid.row_step = row_step;
  std::vector<double> at = anchors(turned, blank);
  for (std::size_t i = 0; i + 1 < at.size(); ++i) {
    int pieces = std::max(1, static_cast<int>(std::ceil((at[i + 1] - at[i]) / row_step - 1e-9)));
    auto row = [&](int k) { return k == pieces ? at[i + 1] : at[i] + (at[i + 1] - at[i]) * k / pieces; };
    for (int k = 0; k < pieces; ++k) add_rows(turned, row(k), row(k + 1), row_step, grid.x);
  }
  grid.x.push_back(at.back());
  add_rows_behind_walls(turned, grid.x);
  grid.begin.push_back(0);
  for (double x : grid.x) {
    std::vector<double> creases = creases_at(turned, x, grid.column_step());
    grid.crease.insert(grid.crease.end(), creases.begin(), creases.end());
    grid.begin.push_back(grid.begin.back() + static_cast<std::size_t>(columns) + creases.size());
  }
  if (grid.rays() > kMostRays) return too_much();
  for (int j = 0; j < columns; ++j) {
    grid.sines.push_back(std::sin(j * grid.column_step()));
    grid.cosines.push_back(std::cos(j * grid.column_step()));
  }
  fill_buckets(grid);
  return grid;
}

}  // namespace pommel::proof
