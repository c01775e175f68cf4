#include "mill/leftover.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace pommel::mill {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kTurn = 2 * std::numbers::pi;
// Between its corners the underside of a ball over a cell is no higher than at them, but for c (1 - cos) of half a
// cell: 0.005 mm for cells of 1 mm at 30 mm; twice that is kept.
constexpr double kCornerSlack = 0.01;
constexpr int kDiscs = 4;  // inside a bull nose

// The farthest from the axis that a blank may reach at theta. A square moved anywhere by `shift` stays inside the
// square grown by it, and inside the circle round its corners grown by it.
double blank_reach(const shape::Blank& blank, const shape::BlankTolerance& tolerance, double theta) {
  const double half = blank.size / 2 + tolerance.oversize, shift = tolerance.off_centre + tolerance.bow;
  if (blank.section == shape::Blank::Section::round) return half + shift;
  const double flat = (half + shift) / std::max(std::fabs(std::cos(theta)), std::fabs(std::sin(theta)));
  return std::min(flat, half * std::numbers::sqrt2 + shift);
}

}  // namespace

double Leftover::cell_for(double rho) {
  return std::clamp(rho / 4, 0.3, 1.0);
}

Leftover::Leftover(const shape::Blank& blank, const shape::BlankTolerance& tolerance, double cell) : x0_(blank.x0) {
  rows_ = std::max<std::size_t>(1, static_cast<std::size_t>(std::ceil(blank.length() / cell)));
  step_ = blank.length() / static_cast<double>(rows_);
  const double widest = blank_reach(blank, tolerance, kTurn / 8);
  columns_ = 8 * std::clamp(std::lround(kTurn * widest / cell / 8), 8L, 1000L);
  spacing_ = kTurn / static_cast<double>(columns_);
  std::vector<float> row;
  for (long j = 0; j < columns_; ++j) {
    const double from = spacing_ * static_cast<double>(j), to = from + spacing_, middle = from + spacing_ / 2;
    edge_cos_.push_back(std::cos(from));
    edge_sin_.push_back(std::sin(from));
    middle_cos_.push_back(std::cos(middle));
    middle_sin_.push_back(std::sin(middle));
    // the reach has its extremes at multiples of an eighth of a turn, which are edges of cells
    const double reach = std::max(blank_reach(blank, tolerance, from), blank_reach(blank, tolerance, to));
    row.push_back(std::nextafter(static_cast<float>(reach), std::numeric_limits<float>::infinity()));
  }
  greatest_ = *std::max_element(row.begin(), row.end());
  for (std::size_t i = 0; i < rows_; ++i) radius_.insert(radius_.end(), row.begin(), row.end());
}

std::size_t Leftover::wrapped(long column) const {
  const long j = column % columns_;
  return static_cast<std::size_t>(j < 0 ? j + columns_ : j);
}

std::pair<std::size_t, std::size_t> Leftover::rows_near(double x, double reach) const {
  const double from = std::floor((x - reach - x0_) / step_), to = std::ceil((x + reach - x0_) / step_);
  const double all = static_cast<double>(rows_);
  if (!(from < all) || !(to > 0)) return {0, 0};
  return {static_cast<std::size_t>(std::max(0.0, from)), static_cast<std::size_t>(std::min(all, to))};
}

void Leftover::cut(const std::vector<LinePoint>& line, double a, const Foot& foot) {
  for (std::size_t i = 0; i < line.size(); ++i) {
    const LinePoint& to = line[i];
    const LinePoint& from = line[i > 0 ? i - 1 : 0];
    // balls half a cell apart: their union is less than what was swept
    const double pieces = std::max(1.0, std::ceil(std::hypot(to.x - from.x, to.z - from.z) / (step_ / 2)));
    for (double k = 1; k <= pieces; ++k) {
      const double t = k / pieces, x = from.x + t * (to.x - from.x), z = from.z + t * (to.z - from.z);
      if (foot.ball()) {
        cut_ball(x, z + foot.corner, a, foot.corner);
        continue;
      }
      const int discs = foot.corner > 0 ? kDiscs : 1;
      for (int d = 0; d < discs; ++d) {
        const double radius = foot.flat + (discs > 1 ? foot.corner * d / (discs - 1) : 0);
        cut_disc(x, z + foot.rise(radius), a, radius);
      }
    }
  }
}

/// Where the ball's centre passed over one column of cells.
struct Leftover::Sweep {
  long column = 0;
  double least_x = 0, most_x = 0, most_z = 0;
};

void Leftover::cut_turning(const std::vector<motion::Position>& path, const Foot& foot) {
  bool begun = false;  // an edge was crossed: the column after it is swept from its edge
  Sweep sweep;
  auto see = [&](double x, double z) {
    sweep.least_x = std::min(sweep.least_x, x), sweep.most_x = std::max(sweep.most_x, x);
    sweep.most_z = std::max(sweep.most_z, z);
  };
  double sense = 0;
  for (std::size_t i = 0; i + 1 < path.size(); ++i) {
    const motion::Position &p = path[i], &q = path[i + 1];
    if (q.a != p.a) {
      const double now = q.a > p.a ? 1 : -1;
      begun = begun && now == sense;
      sense = now;
    }
    const double from = p.a / spacing_, to = q.a / spacing_;
    // edges crossed by this move, in its order; the one it stands on at the start was the last move's
    const double first = sense > 0 ? std::floor(from) + 1 : std::ceil(from) - 1;
    for (double edge = first; q.a != p.a && sense * (to - edge) >= 0; edge += sense) {
      const double t = (edge - from) / (to - from), x = p.x + t * (q.x - p.x), z = p.z + t * (q.z - p.z);
      see(x, z);
      if (begun) {
        sweep.column = std::lround(sense > 0 ? edge - 1 : edge);
        lower_column(sweep, foot);
      }
      sweep = {0, x, x, z};
      begun = true;
    }
    see(q.x, q.z);
  }
}

void Leftover::lower_column(const Sweep& sweep, const Foot& foot) {
  const std::size_t column = wrapped(sweep.column);
  const auto [first, end] = rows_near((sweep.least_x + sweep.most_x) / 2, foot.radius());
  for (std::size_t i = first; i < end; ++i) {
    const double beside = std::max(edge(i + 1) - sweep.least_x, sweep.most_x - edge(i));
    if (beside >= foot.radius()) continue;
    const double under = sweep.most_z + foot.rise(beside) + kCornerSlack;
    float& reach = radius_[i * static_cast<std::size_t>(columns_) + column];
    reach = std::min(reach, static_cast<float>(std::max(0.0, under)));
  }
}

// Lowers the cells within `reach` along and `widest` round. fill(dx, sine, cosine, under, out) tells of a ray beside the cutter by its
// offset along x and its angle: the underside on it, and how far out it is clear.
template <class Fill>
void Leftover::lower_cells(double x, double reach, double widest, double a, const Fill& fill) {
  const auto [first, end] = rows_near(x, reach);
  if (first >= end) return;
  const long left = static_cast<long>(std::floor((a - widest) / spacing_)),
             right = static_cast<long>(std::ceil((a + widest) / spacing_));
  const auto across = static_cast<std::size_t>(right - left + 1);
  const double cos_a = std::cos(a), sin_a = std::sin(a);
  // two rows of corners at a time
  corners_.assign(4 * across, 0);
  double *under = &corners_[0], *out = &corners_[across], *next_under = &corners_[2 * across],
         *next_out = &corners_[3 * across];
  auto fill_row = [&](std::size_t row, double* to_under, double* to_out) {
    for (std::size_t k = 0; k < across; ++k) {
      const std::size_t j = wrapped(left + static_cast<long>(k));
      fill(edge(row) - x, std::fabs(edge_sin_[j] * cos_a - edge_cos_[j] * sin_a), edge_cos_[j] * cos_a + edge_sin_[j] * sin_a,
           to_under[k], to_out[k]);
    }
  };
  fill_row(first, under, out);
  for (std::size_t i = first; i < end; ++i) {
    fill_row(i + 1, next_under, next_out);
    float* row = &radius_[i * static_cast<std::size_t>(columns_)];
    for (std::size_t k = 0; k + 1 < across; ++k) {
      float& farthest = row[wrapped(left + static_cast<long>(k))];
      if (farthest > std::min({out[k], out[k + 1], next_out[k], next_out[k + 1]})) continue;
      farthest = std::min(farthest, static_cast<float>(std::max({under[k], under[k + 1], next_under[k], next_under[k + 1]})));
    }
    std::swap(under, next_under);
    std::swap(out, next_out);
  }
}

void Leftover::cut_ball(double x, double centre, double a, double rho) {
  if (centre <= 0) return;
  lower_cells(x, rho, std::asin(std::min(1.0, rho / centre)), a, [&](double dx, double sine, double cosine, double& under, double& out) {
    const double q2 = (rho - dx) * (rho + dx), v = q2 - centre * centre * sine * sine;
    under = v > 0 ? std::max(0.0, centre * cosine - std::sqrt(v)) + kCornerSlack : kInfinity;
    out = v <= 0 ? 0 : sine > 0 ? std::sqrt(q2) / sine : kInfinity;
  });
}

// The underside of a disc at the height z is z / cos p on a ray at the angle p, where z tan p is within the disc.
void Leftover::cut_disc(double x, double height, double a, double radius) {
  if (height <= 0) return;
  lower_cells(x, radius, std::atan(radius / height), a, [&](double dx, double sine, double cosine, double& under, double& out) {
    const double q2 = (radius - dx) * (radius + dx);
    const bool meets = cosine > 0 && q2 > 0 && height * sine <= std::sqrt(q2) * cosine;
    under = meets ? height / cosine + kCornerSlack : kInfinity;
    out = !meets ? 0 : sine > 0 ? std::sqrt(q2) / sine : kInfinity;
  });
}

// A ray of wood out to R at the angle p from the cutter holds a ball of half-width q at the greatest, over r <= R, of
// r cos p + sqrt(q² - r² sin² p): at r = R while R sin p <= q cos p, else q / sin p at r = q cos p / sin p. A disc of half-width q stands
// on it at R cos p while R sin p <= q, else at q / tan p.
double Leftover::touch(double x, double a, const Foot& foot) const {
  const bool ball = foot.ball();
  const double half_cell = std::hypot(step_, greatest_ * spacing_) / 2, grown = foot.radius() + half_cell;
  double highest = -kInfinity;
  const auto [first, end] = rows_near(x, grown);
  const long middle = std::lround(a / spacing_), wide = columns_ / 8 + 1;
  const double cos_a = std::cos(a), sin_a = std::sin(a);
  for (std::size_t i = first; i < end; ++i) {
    const double dx = edge(i) + step_ / 2 - x, q2 = (grown - dx) * (grown + dx);
    if (q2 <= 0) continue;
    const double q = std::sqrt(q2);
    // rays farther round than an eighth of a turn hold it at no more than q / sin 45 (a disc: q / tan 45)
    highest = std::max(highest, ball ? q * std::numbers::sqrt2 : q);
    const float* row = &radius_[i * static_cast<std::size_t>(columns_)];
    for (long k = middle - wide; k <= middle + wide; ++k) {
      const std::size_t j = wrapped(k);
      const double sine = std::fabs(middle_sin_[j] * cos_a - middle_cos_[j] * sin_a),
                   cosine = middle_cos_[j] * cos_a + middle_sin_[j] * sin_a;
      const double r = row[j];
      double held = 0;
      if (ball) held = r * sine <= q * cosine ? r * cosine + std::sqrt(std::max(0.0, q2 - r * r * sine * sine)) : q / sine;
      else held = (r * sine <= q ? r * cosine : q * cosine / sine) + half_cell;
      highest = std::max(highest, held);
    }
  }
  return ball ? highest - foot.corner : highest;
}

Skyline::Skyline(const Leftover& wood) : x0_(wood.x0_), step_(wood.step_) {
  for (auto row = wood.radius_.begin(); row != wood.radius_.end(); row += wood.columns_) {
    rows_.push_back(*std::max_element(row, row + wood.columns_));
  }
}

double Skyline::standing(double from, double to) const {
  const double first = std::max(0.0, std::floor((from - x0_) / step_));
  const double end = std::min(static_cast<double>(rows_.size()), std::ceil((to - x0_) / step_));
  if (!(first < end)) return 0;
  return *std::max_element(rows_.begin() + static_cast<std::ptrdiff_t>(first),
                           rows_.begin() + static_cast<std::ptrdiff_t>(end));
}

double Skyline::highest() const {
  return *std::max_element(rows_.begin(), rows_.end());
}

}  // namespace pommel::mill
