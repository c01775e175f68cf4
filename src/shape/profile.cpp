#include "shape/profile.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

namespace pommel::shape {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

// An arc's end whose foot is this near to the circle's side (relative to its radius) is meant to be plumb: a few roundings of
// the centre. The tangent there is 1.4e-7 rad off plumb at most.
constexpr double kPlumb = 1e-14;

// rho² - u² without cancellation between the squares.
double half_chord(double rho, double u) {
  return std::sqrt(std::max(0.0, (rho - u) * (rho + u)));
}

/// Where a piece is level between its ends: at most two places, in no order. No list is made: fits ask for them a million times.
class LevelPoints {
 public:
  explicit LevelPoints(const Piece& piece) {
    if (piece.kind == Piece::Kind::arc) keep(piece, piece.cx);
    if (piece.kind != Piece::Kind::cubic) return;
    // c1 + 2 c2 u + 3 c3 u² = 0, by the form that keeps both roots when c3 is small (Numerical Recipes, 5.6)
    const double a = 3 * piece.c[3], b = 2 * piece.c[2], c = piece.c[1], disc = b * b - 4 * a * c;
    if (disc < 0) return;
    const double q = -(b + std::copysign(std::sqrt(disc), b)) / 2;
    if (a != 0) keep(piece, piece.x0 + q / a);
    if (q != 0) keep(piece, piece.x0 + c / q);
  }
  const double* begin() const { return at_; }
  const double* end() const { return at_ + count_; }

 private:
  void keep(const Piece& piece, double x) {
    if (x > piece.x0 && x < piece.x1) at_[count_++] = x;
  }

  double at_[2] = {};
  int count_ = 0;
};

double cubic_slope(const Piece& piece, double x) {
  double u = x - piece.x0;
  return piece.c[1] + u * (2 * piece.c[2] + 3 * u * piece.c[3]);
}

// The component of the arc's outward normal along x; exactly -1 or 1 where the tangent is plumb.
double arc_nx(const Piece& piece, double x) {
  double nx = piece.bulge * (x - piece.cx) / piece.rho;
  return std::fabs(nx) >= 1 - kPlumb ? std::copysign(1.0, nx) : nx;
}

}  // namespace

double Piece::value(double x) const {
  if (kind == Kind::clear) return kInfinity;
  if (x <= x0) return r0;
  if (x >= x1) return r1;
  double u = x - x0;
  switch (kind) {
    case Kind::line:
      return r0 + (r1 - r0) * (u / (x1 - x0));
    case Kind::arc:
      return cr + bulge * half_chord(rho, x - cx);
    case Kind::cubic:
      return c[0] + u * (c[1] + u * (c[2] + u * c[3]));
    case Kind::clear:
      break;
  }
  return kInfinity;
}

double Piece::slope(double x) const {
  switch (kind) {
    case Kind::line:
      return (r1 - r0) / (x1 - x0);
    case Kind::arc: {
      double nx = arc_nx(*this, x);
      if (std::fabs(nx) == 1) return -nx * kInfinity;
      return -bulge * (x - cx) / half_chord(rho, x - cx);
    }
    case Kind::cubic:
      return cubic_slope(*this, x);
    case Kind::clear:
      break;
  }
  return 0;
}

Normal Piece::normal(double x) const {
  if (kind == Kind::arc) {
    double nx = arc_nx(*this, x);
    return {nx, half_chord(1, nx)};
  }
  double s = slope(x);
  double long_side = std::hypot(1, s);
  return {-s / long_side, 1 / long_side};
}

double Piece::least() const {
  if (kind == Kind::clear) return kInfinity;
  double found = std::min(r0, r1);
  for (double x : LevelPoints(*this)) found = std::min(found, value(x));
  return found;
}

double Piece::greatest() const {
  if (kind == Kind::clear) return kInfinity;
  double found = std::max(r0, r1);
  for (double x : LevelPoints(*this)) found = std::max(found, value(x));
  return found;
}

Piece line_piece(double x0, double r0, double x1, double r1, int element) {
  Piece piece;
  piece.kind = Piece::Kind::line;
  piece.x0 = x0;
  piece.r0 = r0;
  piece.x1 = x1;
  piece.r1 = r1;
  piece.element = element;
  return piece;
}

Piece arc_about(double x0, double r0, double x1, double r1, double cx, double cr, double rho, int bulge, int element) {
  Piece piece = line_piece(x0, r0, x1, r1, element);
  piece.kind = Piece::Kind::arc;
  piece.cx = cx;
  piece.cr = cr;
  piece.rho = rho;
  piece.bulge = bulge;
  return piece;
}

Piece arc_piece(double x0, double r0, double x1, double r1, double rho, int bulge, int element) {
  double dx = x1 - x0, dr = r1 - r0;
  double chord = std::hypot(dx, dr);
  assert(rho >= chord / 2 * (1 - 1e-9));
  // The centre lies below the chord of a bulging arc and above that of a hollow one.
  double away = bulge * half_chord(rho, chord / 2) / chord;
  return arc_about(x0, r0, x1, r1, (x0 + x1) / 2 + away * dr, (r0 + r1) / 2 - away * dx, rho, bulge, element);
}

Piece cubic_piece(double x0, double x1, const std::array<double, 4>& c, int element) {
  double u = x1 - x0;
  Piece piece = line_piece(x0, c[0], x1, c[0] + u * (c[1] + u * (c[2] + u * c[3])), element);
  piece.kind = Piece::Kind::cubic;
  piece.c = c;
  return piece;
}

Piece clear_piece(double x0, double x1, int element) {
  Piece piece = line_piece(x0, 0, x1, 0, element);
  piece.kind = Piece::Kind::clear;
  return piece;
}

std::vector<double> level_points(const Piece& piece) {
  const LevelPoints found(piece);
  std::vector<double> growing(found.begin(), found.end());
  std::sort(growing.begin(), growing.end());
  return growing;
}

std::size_t Profile::index_at(double x, Side side) const {
  assert(!pieces.empty());
  auto starts_after = [&](double at, const Piece& piece) {
    return side == Side::after ? at < piece.x0 : at <= piece.x0;
  };
  auto next = std::upper_bound(pieces.begin(), pieces.end(), x, starts_after);
  return next == pieces.begin() ? 0 : static_cast<std::size_t>(next - pieces.begin()) - 1;
}

double Profile::value(double x) const {
  return std::max(value(x, Side::before), value(x, Side::after));
}

std::vector<Piece> pieces_within(const Profile& profile, double a, double b, double out) {
  std::vector<Piece> kept;
  for (const Piece& whole : profile.pieces) {
    double x0 = std::max(whole.x0, a), x1 = std::min(whole.x1, b);
    if (!(x0 < x1)) continue;
    Piece piece = whole;
    piece.x0 = x0;
    piece.x1 = x1;
    if (whole.kind != Piece::Kind::clear) {
      piece.r0 = whole.value(x0) + out;
      piece.r1 = whole.value(x1) + out;
    }
    if (whole.kind == Piece::Kind::arc) piece.cr = whole.cr + out;
    if (whole.kind == Piece::Kind::cubic) {
      double u = x0 - whole.x0;
      piece.c = {piece.r0, whole.slope(x0), whole.c[2] + 3 * whole.c[3] * u, whole.c[3]};
    }
    kept.push_back(piece);
  }
  return kept;
}

}  // namespace pommel::shape
