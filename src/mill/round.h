// Cutting round and round: on a stretch whose section is round, the piece turns under the cutter, which goes slowly along.
//
// The tip's way along the stretch is one curve in (x, z), the same all round. It is run as a spiral: a turn on the way
// down into the wood, a full ring, turns that advance, a full ring at the end. So both ends are clean surfaces of
// revolution. The spiral is made of straight moves in x, z and the rotary; along the curve they stay within the pass's
// tolerance of it, and round the piece they are exact.
//
// How far a turn may advance follows from the curvature where the cutter touches. Two balls whose contacts lie ds apart
// along a surface of curvature k (convex above 0) leave a ridge of ds² (1/rho + k)/8 to second order (feed.h); their
// centres are dS = ds (1 + rho k) apart, so
//     ridge = ds dS / (8 rho),    turns = integral of sqrt(ds dS) / step,
// step being that of a level skin, where it is known exactly (step_on_flat). By the second order, sqrt(8 rho cusp), coarse turns
// left a tenth more than their ridge, and the layer below met more wood than its cutter is meant for.
// On an edge ds vanishes; a quarter of dS is the least taken for it, so that edges are not jumped over. In a corner that
// the ball cannot enter dS vanishes while the contact jumps: no turn on the other side helps there, so the spiral stays
// in it for a ring, or where the jump is small for as many turns as it has steps.
//
// A flat end has steps instead of ridges: on skin that leans by p a turn that advances dS leaves a step of dS sin p cos p,
// square to the skin. It advances by seven tenths of its width at most, and sinks by its radius at most. A bull nose is as
// good as the better of its rounding and the disc inside it.
#pragma once

#include "mill/mover.h"
#include "mill/pass.h"

namespace pommel::mill {

/// Cuts the stretch. `grid` is scratch. Fails with "cancelled", "mill.grid".
/// REQUIRES: the section is round on the whole stretch.
Result<Done> cut_round(const Setup& setup, const Surface& surface, const PassSettings& settings, const Stretch& stretch,
                       Heights& grid, Mover& mover, std::vector<Cut>& cuts, std::stop_token stop);

/// Turns from the first point to each, for a cutter's end and a wished ridge; or with a stepover that is given (above 0), the contacts' way
/// over that. Growing from 0.
std::vector<double> turns_along(const std::vector<LinePoint>& line, const Foot& foot, double cusp, double stepover = 0);

/// A point of a line at which the contact jumps in a corner, and the turns for which the spiral stays there. A flat end has none.
struct Corner {
  std::size_t at = 0;
  double turns = 0;
};
std::vector<Corner> corners_along(const std::vector<LinePoint>& line, const Foot& foot, double cusp);

}  // namespace pommel::mill
