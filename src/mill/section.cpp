#include "mill/section.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "mill/roots.h"
#include "shape/angle.h"
#include "shape/crease.h"

namespace pommel::mill {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kSameKnot = 1e-9;  // mm: knots of two profiles that differ by less are one

bool finite(const Span& span) {
  return std::isfinite(span.left) && std::isfinite(span.right);
}

// Places inside the cell where the edges of face f change their kind or the face comes and goes.
std::vector<double> turning_places(const Cell& cell, std::size_t f) {
  std::vector<double> found;
  auto look = [&](auto&& function) {
    for (double x : sign_changes(function, cell.x0, cell.x1)) found.push_back(x);
  };
  const OffsetPiece& d = cell.faces[f].d;
  if (finite(between_neighbours(cell, f, cell.x0))) {
    look([&](double x) {
      const Span span = between_neighbours(cell, f, x);
      return span.right - span.left;
    });
  }
  if (!cell.round.clear()) {
    look([&](double x) { return cell.round.value(x) - d.value(x); });
    auto past_corner = [&](double x, double t) { return cell.round.value(x) - std::hypot(d.value(x), t); };
    look([&](double x) { return past_corner(x, between_neighbours(cell, f, x).right); });
    look([&](double x) { return past_corner(x, between_neighbours(cell, f, x).left); });
  }
  std::sort(found.begin(), found.end());
  return found;
}

bool never_shows(const Cell& cell, std::size_t f) {
  return !cell.round.clear() && cell.round.piece().greatest() <= cell.faces[f].d.piece().least();
}

std::vector<double> merged_knots(const shape::Part& part) {
  std::vector<double> knots = shape::knots(part);
  auto same = [](double a, double b) { return b - a < kSameKnot; };
  knots.erase(std::unique(knots.begin(), knots.end(), same), knots.end());
  return knots;
}

const shape::Piece& piece_over(const shape::Profile& profile, double x) {
  const double inside = std::clamp(x, profile.start(), profile.end());
  return profile.pieces[profile.index_at(inside, shape::Side::before)];
}

}  // namespace

Span between_neighbours(const Cell& cell, std::size_t f, double x) {
  const CellFace& own = cell.faces[f];
  const double d = own.d.value(x);
  Span span{-kInfinity, kInfinity};
  for (std::size_t g = 0; g < cell.faces.size(); ++g) {
    if (g == f) continue;
    const CellFace& other = cell.faces[g];
    const double c = other.cos * own.cos + other.sin * own.sin;
    const double s = other.sin * own.cos - other.cos * own.sin;
    const double room = other.d.value(x) - d * c;
    if (std::fabs(s) <= shape::kAngleSnap) {
      // looking the same way: the nearer one stands, of two alike the first
      if (c > 0 && (room < 0 || (room == 0 && g < f))) return {0, 0};
    } else if (s > 0) {
      span.right = std::min(span.right, room / s);
    } else {
      span.left = std::max(span.left, room / s);
    }
  }
  return span;
}

double half_in_round(const Cell& cell, std::size_t f, double x) {
  if (cell.round.clear()) return kInfinity;
  const double r = cell.round.value(x), d = cell.faces[f].d.value(x);
  return r <= d ? 0 : std::sqrt((r - d) * (r + d));
}

Span span_at(const Cell& cell, std::size_t f, double x) {
  const Span faces = between_neighbours(cell, f, x);
  const double half = half_in_round(cell, f, x);
  return {std::max(faces.left, -half), std::min(faces.right, half)};
}

std::vector<FaceStretch> stretches(const Cell& cell) {
  std::vector<FaceStretch> found;
  for (std::size_t f = 0; f < cell.faces.size(); ++f) {
    if (never_shows(cell, f)) continue;
    std::vector<double> ends = turning_places(cell, f);
    ends.insert(ends.begin(), cell.x0);
    ends.push_back(cell.x1);
    for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
      const double middle = ends[i] + (ends[i + 1] - ends[i]) / 2;
      const Span faces = between_neighbours(cell, f, middle);
      const double half = half_in_round(cell, f, middle);
      if (std::max(faces.left, -half) >= std::min(faces.right, half)) continue;
      found.push_back({f, ends[i], ends[i + 1], -half > faces.left, half < faces.right});
    }
  }
  return found;
}

std::vector<Cell> cells_of(const shape::Part& part, double rho) {
  const std::vector<double> knots = merged_knots(part);
  std::vector<Cell> cells;
  for (std::size_t i = 0; i + 1 < knots.size(); ++i) {
    const double a = knots[i], b = knots[i + 1], middle = a + (b - a) / 2;
    Cell cell{a, b, OffsetPiece(piece_over(part.outline, middle), rho, a, b), {}};
    for (std::size_t f = 0; f < part.faces.size(); ++f) {
      const shape::Piece& d = piece_over(part.faces[f].d, middle);
      if (d.kind == shape::Piece::Kind::clear) continue;
      const shape::SinCos turn = shape::sin_cos(part.faces[f].phi);
      cell.faces.push_back({f, part.faces[f].phi, turn.cos, turn.sin, OffsetPiece(d, rho, a, b), false});
    }
    for (const FaceStretch& stretch : stretches(cell)) cell.faces[stretch.face].shows = true;
    cells.push_back(std::move(cell));
  }
  return cells;
}

}  // namespace pommel::mill
