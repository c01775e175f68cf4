// One straight stroke of the ball's centre in the frame of a direction a, and how a move is cut into strokes.
#pragma once

#include <algorithm>
#include <cmath>

#include "motion/motion.h"

namespace pommel::proof {

struct Stroke {
  double a = 0;                    ///< direction of the frame, radians
  double x = 0, c = 0;             ///< first centre: along the piece, height along a; it lies on the frame's height axis
  double ux = 1, ul = 0, uh = 0;   ///< unit direction: along, lateral (towards growing theta), up
  double length = 0;               ///< mm
  double turn = 0;                 ///< signed radians from a to the other end's direction
  double x_low = 0, x_high = 0;    ///< range of the centres
  double c_low = 0;                ///< least distance of the centres from the axis (at most)
};

/// How many strokes a move needs (1 without a turn).
inline double strokes_for(const motion::Position& from, const motion::Position& to, double rho, double chord_error) {
  double turn = std::fabs(to.a - from.a);
  if (turn == 0) return 1;
  double c = std::max({0.0, from.z + rho, to.z + rho});
  double bend = c * turn * turn + 2 * std::fabs(to.z - from.z) * turn;
  constexpr double kWidest = 0.0872664625997165;  // 5 degrees: the windows of rays assume small turns
  return std::max({1.0, std::ceil(std::sqrt(bend / (8 * chord_error))), std::ceil(turn / kWidest)});
}

/// The stroke between two positions whose directions are near. The end with the lower centre comes last, so that a stroke
/// straight along a ray resolves to its deepest ball. A centre below the axis counts as on it.
inline Stroke stroke_between(motion::Position from, motion::Position to, double rho) {
  if (to.z > from.z) std::swap(from, to);
  Stroke s;
  double c0 = std::max(0.0, from.z + rho), c1 = std::max(0.0, to.z + rho);
  s.a = from.a;
  s.x = from.x;
  s.c = c0;
  s.turn = to.a - from.a;
  double dx = to.x - from.x, dl = c1 * std::sin(s.turn), dh = c1 * std::cos(s.turn) - c0;
  if (s.turn == 0) dh = c1 - c0;
  s.length = std::sqrt(dx * dx + dl * dl + dh * dh);
  if (s.length > 0) {
    s.ux = dx / s.length;
    s.ul = dl / s.length;
    s.uh = dh / s.length;
  }
  s.x_low = std::min(from.x, to.x);
  s.x_high = std::max(from.x, to.x);
  s.c_low = c1 * std::cos(s.turn / 2);
  return s;
}

inline motion::Position between(const motion::Position& from, const motion::Position& to, double share) {
  return {from.x + (to.x - from.x) * share, 0, from.z + (to.z - from.z) * share, from.a + (to.a - from.a) * share};
}

/// Calls f(from, to) for each stroke of the move, in order.
template <class F>
void for_each_stroke(const motion::Position& from, const motion::Position& to, double rho, double chord_error, const F& f) {
  double n = strokes_for(from, to, rho, chord_error);
  motion::Position last = from;
  for (double i = 1; i < n; ++i) {
    motion::Position next = between(from, to, i / n);
    f(last, next);
    last = next;
  }
  f(last, to);
}

}  // namespace pommel::proof
