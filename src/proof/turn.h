// The ball on its way round: a move that turns the wood while height and place along the piece change a little.
//
// Turned by s from its beginning the centre stands at the angle s, at lambda s along x and at c = c0 + kappa s above the axis. The
// point at p on the ray at the angle psi, u = X - lambda s along x from the centre, is d from the centre with
//     d² = u² + p² + c² - 2 p c cos(psi - s).
// The ray is entered at the least p for which some s has d <= rho, and there d is least over s:
//     sin(psi - s) = (kappa (c - p cos(psi - s)) - u lambda) / (p c),
// with s brought into [0, sweep]; d² is convex in s while psi - s is below a right angle. The right side changes little with s, so this is a
// fixed point, begun at the centre nearest round (s = psi) with p of the ball that stands there.
//
// Error. Any s is a place of the ball, so an entry that is found is never too deep. With
//     f = (|kappa| + |lambda|) rho / (p c) >= |sin(psi - s)| at the entry,
//     g = (lambda² + kappa²) / (p c) + |kappa| / sqrt(p c) + f sqrt(c / p),
// n steps leave s off by at most e = f gⁿ, so d² too great by p c e², d and the entry's place by at most sqrt(p c) e: n is chosen
// so that this is less than half of chord_error. Moves for which three steps are not enough are cut into chords (proof/stroke.h).
#pragma once

#include <cmath>
#include <optional>

#include "motion/motion.h"
#include "proof/stroke.h"

namespace pommel::proof {

struct Turn {
  double a = 0;                  ///< direction at its beginning, radians; it turns towards growing theta
  double x = 0, c = 0;           ///< first centre
  double lambda = 0, kappa = 0;  ///< mm a radian, along x and up
  double sweep = 0;              ///< radians, above 0
  double x_low = 0, x_high = 0;  ///< range of the centres
  double c_low = 0;              ///< least height of the centres
  int steps = 1;
};

/// Turns of at most this many radians: with what the ball reaches to both sides (kWidestReach at most) less than a full one.
inline constexpr double kWidestTurn = 2.5;
/// The ball reaches asin(rho / c) round; nearer to the axis than this, moves are cut into chords.
inline constexpr double kNearestCentre = 1.15;

/// Nothing for a move that does not turn, or turns so little or climbs so steeply that chords serve better.
/// REQUIRES: at most kWidestTurn from end to end.
inline std::optional<Turn> turn_between(motion::Position from, motion::Position to, double rho, double chord_error) {
  if (strokes_for(from, to, rho, chord_error) < 2) return {};
  if (to.a < from.a) std::swap(from, to);
  Turn turn;
  turn.c_low = std::min(from.z, to.z) + rho;
  if (turn.c_low < kNearestCentre * rho) return {};
  turn.a = from.a;
  turn.x = from.x;
  turn.c = from.z + rho;
  turn.sweep = to.a - from.a;
  turn.lambda = (to.x - from.x) / turn.sweep;
  turn.kappa = (to.z - from.z) / turn.sweep;
  turn.x_low = std::min(from.x, to.x);
  turn.x_high = std::max(from.x, to.x);
  double p = turn.c_low - rho, pc = p * turn.c_low, climb = std::fabs(turn.kappa), along = std::fabs(turn.lambda);
  double f = (climb + along) * rho / pc;
  double g = (climb * climb + along * along) / pc + climb / std::sqrt(pc) + f * std::sqrt(turn.c_low / p);
  for (double off = std::sqrt(pc) * f * g; off > chord_error / 2; off *= g) {
    if (++turn.steps > 3 || g > 0.5) return {};
  }
  return turn;
}

}  // namespace pommel::proof
