// Any convex cutter on its way round: what turn.h is for balls.
//
// Turned by s from its beginning the cutter's axis stands at the angle s, at lambda s along x, and its tip at z = z0 + kappa s. The
// point at p on the ray at the angle psi is, with w = psi - s, at u = X - lambda s along x, l = p sin w sideways and p cos w up, so it is
//     F = p cos w - z - t(S),  S = hypot(u, l),
// inside the cutter's lower surface t (proof/tool.h; nothing is inside where S is above the radius). The ray is entered at the least p for
// which the greatest F over w is 0, and over the arc of w where the cutter can be met F rises to one place and falls from there on. Its parts
// rise to p sin w = kappa (the tip's own climb) and to the place where S is least, u lambda + p² sin w cos w = 0, so the place of the deepest
// entry lies between these, brought into the move; the sign of dF/dw, at the place where the cutter standing there is entered, halves what is
// between. Where the ray passes beside the cutter standing there, the last p within its radius tells, p cos w - z there being concave too. Along
// the ray Newton's steps come from below: F is concave in p.
//
// Error. Any w is a place of the cutter, so an entry found is never too deep. With the bracket D = |kappa| / z + r |lambda| / z² wide, n
// halvings leave w off by at most D / 2ⁿ; F loses by that at most p D² / 2ⁿ where only the tip's climb bends it and p² D² / 4ⁿ / (2 corner)
// on the rounding of the tip; beside a kink (a tip without rounding under a flank) p D / 2ⁿ. n makes each less than a quarter of chord_error.
// A straight move is the same with the place along x for w: the tip's own climb and the place over the row bound it.
// Moves that would need more than kMostHalvings, or whose bracket is wider than kWidestBracket, are met one ray at a time (proof/sweep.h).
#pragma once

#include <algorithm>
#include <cmath>
#include <optional>

#include "motion/motion.h"
#include "proof/tool.h"
#include "proof/turn.h"

namespace pommel::proof {

struct AnyTurn {
  double a = 0;                  ///< direction at its beginning, radians; it turns towards growing theta
  double x = 0, z = 0;           ///< first place of the tip
  double lambda = 0, kappa = 0;  ///< mm a radian, along x and up
  double sweep = 0;              ///< radians, above 0
  double x_low = 0, x_high = 0, z_low = 0;
  double climbs = 0;             ///< radians: where F's first part is greatest, or a little farther
  double slides = 0;             ///< radians a mm of u: the same of its second part
  int halvings = 0;
};

inline constexpr double kLowestTip = 0.45;  ///< of the cutter's radius: nearer to the axis it reaches farther round than the loops' series
inline constexpr double kWidestBracket = 0.35;  ///< radians
inline constexpr double kPad = 1.15;            ///< for w / (sin w cos w) within that
inline constexpr int kMostHalvings = 12;

/// Nothing for a move that does not turn, and for those that are met one ray at a time: see above.
/// REQUIRES: at most kWidestTurn from end to end.
inline std::optional<AnyTurn> any_turn_between(motion::Position from, motion::Position to, const Tool& tool, double chord_error) {
  if (from.a == to.a) return {};
  if (to.a < from.a) std::swap(from, to);
  AnyTurn turn;
  turn.z_low = std::min(from.z, to.z);
  if (turn.z_low < kLowestTip * tool.radius) return {};
  turn.a = from.a;
  turn.x = from.x, turn.z = from.z;
  turn.sweep = to.a - from.a;
  turn.lambda = (to.x - from.x) / turn.sweep;
  turn.kappa = (to.z - from.z) / turn.sweep;
  turn.x_low = std::min(from.x, to.x), turn.x_high = std::max(from.x, to.x);
  turn.climbs = kPad * turn.kappa / turn.z_low;
  turn.slides = -kPad * turn.lambda / (turn.z_low * turn.z_low);
  const double wide = std::fabs(turn.climbs) + (tool.radius + std::fabs(turn.lambda) * kWidestBracket) * std::fabs(turn.slides);
  if (wide > kWidestBracket) return {};
  const double p = std::max(from.z, to.z) + tool.height(tool.radius), most = chord_error / 4;
  const bool kink = tool.corner == 0 && tool.disc < tool.radius;
  double off = wide;
  for (; turn.halvings <= kMostHalvings; ++turn.halvings, off /= 2) {
    const bool near = p * wide * off <= most && (tool.corner == 0 || p * p * off * off <= 2 * tool.corner * most) && (!kink || p * off <= most);
    if (near) return turn;
  }
  return {};
}

/// How often the place of the deepest entry on a straight move is brought nearer: between the place over the row and, towards the lower end of a
/// move that climbs by `climb` mm a mm, the cutter's side. On a rounding the rest costs its square, beside a kink itself times the climb.
inline int slide_halvings(const Tool& tool, double climb, double chord_error) {
  if (climb == 0) return 0;
  const double most = chord_error / 4, round = tool.corner > 0 && tool.corner_end == tool.radius ? std::sqrt(2 * tool.corner * most / (1 + climb * climb)) : 0;
  const double near = std::max(round, most / std::min(1.0, std::fabs(climb)));
  return std::clamp(static_cast<int>(std::ceil(std::log2(tool.radius / near))), 0, 16);
}

}  // namespace pommel::proof
