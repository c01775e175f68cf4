#include "mill/treated.h"

#include <algorithm>
#include <cmath>

#include "shape/angle.h"

namespace pommel::mill {
namespace {

// The piece of the centre line over x; a line that ends before the outline does (its ends were continued) is clear beyond.
const shape::Piece* centre_over(const shape::Profile& centre, double x) {
  if (centre.pieces.empty() || x < centre.start() || x > centre.end()) return nullptr;
  const shape::Piece& piece = centre.pieces[centre.index_at(x, shape::Side::before)];
  return piece.kind == shape::Piece::Kind::clear ? nullptr : &piece;
}

bool outside(const CellGroove& groove, double x, double y, double z, double slack) {
  const double along = y * groove.cos + z * groove.sin, across = z * groove.cos - y * groove.sin;
  const double off = along - groove.centre.value(x);
  const double least = groove.radius - slack;
  return along <= 0 || off * off + across * across >= least * least;
}

}  // namespace

double CellReeds::skin(double x, double theta) const {
  const double a = std::remainder(theta - phase, shape::kTurn / count), c = centre.value(x), across = c * std::sin(a);
  return c * std::cos(a) + std::sqrt(std::max(0.0, (radius - across) * (radius + across)));
}

bool Treatments::leave(const Owner& owner, double x, double y, double z, double slack) const {
  for (std::size_t k = 0; k < grooves.size(); ++k) {
    if (owner.maker == shape::Maker::flute && owner.index == k) continue;
    if (!outside(grooves[k], x, y, z, slack)) return false;
  }
  for (std::size_t k = 0; k < reeds.size(); ++k) {
    if (owner.maker == shape::Maker::reed && owner.index == k) continue;
    if (std::hypot(y, z) > reeds[k].skin(x, std::atan2(z, y)) + slack) return false;
  }
  return true;
}

Treatments treatments_between(const shape::Part& part, double a, double b) {
  const double middle = a + (b - a) / 2;
  Treatments found;
  for (const shape::Flute& flute : part.flutes) {
    const shape::Piece* centre = centre_over(flute.centre, middle);
    if (!centre) continue;
    const shape::SinCos turn = shape::sin_cos(flute.theta);
    found.grooves.push_back({flute.theta, turn.cos, turn.sin, flute.radius, *centre});
  }
  for (const shape::Reeding& reeding : part.reedings) {
    if (const shape::Piece* centre = centre_over(reeding.centre, middle)) found.reeds.push_back({reeding.count, reeding.phase, reeding.radius, *centre});
  }
  for (const shape::Twist& twist : part.twists) {
    if (twist.x0 < middle && middle < twist.x1) found.twist = twist;
  }
  return found;
}

double twisted_radius(const shape::Twist& twist, double r, double x, double theta) {
  const double psi = twist.phase + shape::kTurn * (x - twist.x0) / twist.pitch;
  return r - twist.depth * shape::fade_at(twist, x) * (1 - std::cos(twist.starts * (theta - psi))) / 2;
}

}  // namespace pommel::mill
