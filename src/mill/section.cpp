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

// Of a polygon the corners of the greatest distances bound all others: its faces are no farther, in the directions they look in.
double reach_of(const Cell& cell) {
  if (!cell.round.clear()) return cell.round.piece().greatest();
  Cell outermost = cell;
  for (CellFace& face : outermost.faces) {
    const double d = face.d.piece().greatest();
    face.d = OffsetPiece(shape::line_piece(cell.x0, d, cell.x1, d), 0, cell.x0, cell.x1);
  }
  double reach = 0;
  for (std::size_t f = 0; f < outermost.faces.size(); ++f) {
    const Span span = between_neighbours(outermost, f, cell.x0);
    if (span.left < span.right) reach = std::max({reach, std::hypot(outermost.faces[f].d.value(cell.x0), std::max(-span.left, span.right))});
  }
  return reach;
}

std::vector<double> steep_points(const Cell& cell, double slope) {
  std::vector<double> found;
  const shape::Piece& piece = cell.round.piece();
  if (piece.kind != shape::Piece::Kind::arc && piece.kind != shape::Piece::Kind::cubic) return found;
  // as nr of the normal, which stays finite where the slope does not
  const double lean = slope / std::sqrt(1 + slope * slope);
  for (double side : {-1.0, 1.0}) {
    for (double x : sign_changes([&](double at) { return cell.round.normal(at).nx - side * lean; }, cell.x0, cell.x1)) found.push_back(x);
  }
  return found;
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

double Cell::round_at(double x, double theta) const {
  const double r = round.value(x);
  return treatments.twist && !round.clear() ? twisted_radius(*treatments.twist, r, x, theta) : r;
}

bool left_by_others(const Cell& cell, const Owner& owner, double x, double y, double z, double slack) {
  if (owner.maker != shape::Maker::round && !cell.round.clear()) {
    const double reach = std::hypot(y, z);
    // most points are asked of a plain round, or stand inside the hollow of a twisted one
    const double round = cell.treatments.twist ? cell.round_at(x, std::atan2(z, y)) : cell.round.value(x);
    if (reach > round + slack) return false;
  }
  for (std::size_t f = 0; f < cell.faces.size(); ++f) {
    const CellFace& face = cell.faces[f];
    if (owner.maker == shape::Maker::face && owner.index == f) continue;
    if (y * face.cos + z * face.sin > face.d.value(x) + slack) return false;
  }
  return cell.treatments.leave(owner, x, y, z, slack);
}

namespace {

// Where a circle of radius g about the centre at distance c in the direction theta meets the face's line.
void circle_on_face(const CellFace& face, double d, double theta, double c, double g, std::vector<double>& into) {
  const double turn = theta - face.phi, beside = d - c * std::cos(turn);
  if (std::cos(turn) <= 0 || std::fabs(beside) >= g) return;
  const double across = c * std::sin(turn), half = std::sqrt((g - beside) * (g + beside));
  into.push_back(across - half);
  into.push_back(across + half);
}

// Places across the face at which something may begin or cease to cut it.
std::vector<double> edges_on_face(const Cell& cell, std::size_t f, double x, const Span& span) {
  const CellFace& face = cell.faces[f];
  const double d = face.d.value(x);
  std::vector<double> at;
  for (const CellGroove& groove : cell.treatments.grooves) circle_on_face(face, d, groove.theta, groove.centre.value(x), groove.radius, at);
  for (const CellReeds& reeds : cell.treatments.reeds) {
    for (int k = 0; k < reeds.count; ++k) {
      circle_on_face(face, d, reeds.crown(k), reeds.centre.value(x), reeds.radius, at);
      const double valley = std::remainder(reeds.crown(k) + shape::kTurn / reeds.count / 2 - face.phi, shape::kTurn);
      if (std::fabs(valley) < 1.5) at.push_back(d * std::tan(valley));
    }
  }
  if (cell.treatments.twist) {
    auto past = [&](double t) { return cell.round_at(x, face.phi + std::atan2(t, d)) - std::hypot(d, t); };
    for (double t : sign_changes(past, span.left, span.right)) at.push_back(t);
  }
  std::erase_if(at, [&](double t) { return t <= span.left || t >= span.right; });
  std::sort(at.begin(), at.end());
  return at;
}

}  // namespace

std::vector<Span> openings_at(const Cell& cell, std::size_t f, double x) {
  const Span span = span_at(cell, f, x);
  if (span.left >= span.right) return {};
  if (!cell.treated()) return {span};
  const CellFace& face = cell.faces[f];
  const double d = face.d.value(x);
  std::vector<double> ends = edges_on_face(cell, f, x, span);
  ends.insert(ends.begin(), span.left);
  ends.push_back(span.right);
  std::vector<Span> found;
  for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
    const double t = (ends[i] + ends[i + 1]) / 2;
    if (!left_by_others(cell, {shape::Maker::face, f}, x, d * face.cos - t * face.sin, d * face.sin + t * face.cos, 1e-9)) continue;
    if (!found.empty() && found.back().right == ends[i]) found.back().right = ends[i + 1];
    else found.push_back({ends[i], ends[i + 1]});
  }
  return found;
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

std::vector<Cell> cells_of(const shape::Part& part, double rho, double slope) {
  const std::vector<double> knots = merged_knots(part);
  std::vector<Cell> cells;
  for (std::size_t i = 0; i + 1 < knots.size(); ++i) {
    const double a = knots[i], b = knots[i + 1], middle = a + (b - a) / 2;
    Cell cell{a, b, OffsetPiece(piece_over(part.outline, middle), rho, a, b), {}, 0, {}, {}, {}};
    cell.level = shape::level_points(cell.round.piece());
    if (slope > 0) cell.steep = steep_points(cell, slope);
    for (std::size_t f = 0; f < part.faces.size(); ++f) {
      const shape::Piece& d = piece_over(part.faces[f].d, middle);
      if (d.kind == shape::Piece::Kind::clear) continue;
      const shape::SinCos turn = shape::sin_cos(part.faces[f].phi);
      cell.faces.push_back({f, part.faces[f].phi, turn.cos, turn.sin, OffsetPiece(d, rho, a, b), false});
    }
    cell.reach = reach_of(cell);
    cell.treatments = treatments_between(part, a, b);
    for (const FaceStretch& stretch : stretches(cell)) cell.faces[stretch.face].shows = true;
    cells.push_back(std::move(cell));
  }
  return cells;
}

namespace {

// One chord for [a, b] lifted over the curve, or two halves of it when that would take more than the tolerance.
void add_chords(const shape::Piece& curve, double a, double b, double tolerance, std::vector<shape::Piece>& into) {
  const double ra = curve.value(a), rb = curve.value(b);
  double above = 0, below = 0;
  for (int k = 1; k < 16; ++k) {
    const double miss = curve.value(a + (b - a) * k / 16) - (ra + (rb - ra) * k / 16);
    above = std::max(above, miss), below = std::max(below, -miss);
  }
  if (above + below > 0.9 * tolerance && b - a > 1e-4) {
    const double middle = a + (b - a) / 2;
    add_chords(curve, a, middle, tolerance, into);
    add_chords(curve, middle, b, tolerance, into);
    return;
  }
  const double lift = above > 1e-12 ? 1.05 * above : 0;  // sixteenths see a bulge to within two hundredths
  into.push_back(shape::line_piece(a, ra + lift, b, rb + lift, curve.element));
}

}  // namespace

std::vector<shape::Piece> chords_over(const shape::Piece& curve, double tolerance) {
  std::vector<shape::Piece> pieces;
  if (curve.kind == shape::Piece::Kind::arc || curve.kind == shape::Piece::Kind::cubic) add_chords(curve, curve.x0, curve.x1, tolerance, pieces);
  else pieces.push_back(curve);
  return pieces;
}

shape::Part chorded(const shape::Part& part, double tolerance) {
  shape::Part out = part;
  for (shape::Face& face : out.faces) {
    std::vector<shape::Piece> pieces;
    for (const shape::Piece& p : face.d.pieces) {
      for (shape::Piece& chord : chords_over(p, tolerance)) pieces.push_back(std::move(chord));
    }
    face.d.pieces = std::move(pieces);
  }
  return out;
}

}  // namespace pommel::mill
