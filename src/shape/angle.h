// Sines and cosines that are exact at quarter turns, so that a part turned by a quarter keeps its numbers.
#pragma once

#include <cmath>
#include <numbers>

namespace pommel::shape {

inline constexpr double kTurn = 2 * std::numbers::pi;
inline constexpr double kQuarterTurn = std::numbers::pi / 2;

/// An angle this near to a quarter turn is that quarter turn: a few roundings of a sum of angles below 100 rad. At a metre
/// from the axis it is 1e-10 mm.
inline constexpr double kAngleSnap = 1e-13;

struct SinCos {
  double sin = 0;
  double cos = 1;
};

/// REQUIRES: finite.
inline SinCos sin_cos(double angle) {
  int quarters = 0;
  double rest = std::remquo(angle, kQuarterTurn, &quarters);
  double s = 0, c = 1;
  if (std::fabs(rest) > kAngleSnap) {
    s = std::sin(rest);
    c = std::cos(rest);
  }
  switch (quarters & 3) {
    case 0:
      return {s, c};
    case 1:
      return {c, -s};
    case 2:
      return {-s, -c};
    default:
      return {-c, s};
  }
}

/// The same direction in [0, 2 pi), turned by whole quarters; exact where the angle is itself a whole number of quarters.
/// REQUIRES: finite.
inline double turned_direction(double angle, int quarters) {
  double whole = std::floor(angle / kQuarterTurn + kAngleSnap);
  double rest = angle - whole * kQuarterTurn;
  if (std::fabs(rest) <= kAngleSnap) rest = 0;
  int quarter = static_cast<int>(std::fmod(std::fmod(whole + quarters, 4.0) + 4.0, 4.0));
  return quarter * kQuarterTurn + rest;
}

}  // namespace pommel::shape
