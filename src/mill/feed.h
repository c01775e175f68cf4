// Cusps and feeds in closed form: how far apart the lines of a pass may lie, and how long each move takes.
//
// All formulas are exact plane geometry of a ball of radius rho. The ridge between two neighbouring lines:
//   on a flat, lines s apart:           h = rho - sqrt(rho² - s²/4)
//   round a cylinder of radius r, lines an arc s apart, p = s/r:
//                                       h = (r + rho) cos(p/2) - sqrt(rho² - (r + rho)² sin²(p/2)) - r
//   in a hollow of radius r > rho:      h = r - (r - rho) cos(p/2) - sqrt(rho² - (r - rho)² sin²(p/2))
#pragma once

#include "mill/foot.h"
#include "motion/motion.h"
#include "shop/shop.h"

namespace pommel::mill {

/// mm. REQUIRES: 0 <= step <= 2 rho (on the flat), steps near enough that the balls meet (round the cylinder, in the
/// hollow).
double cusp_on_flat(double rho, double step);
double cusp_on_convex(double rho, double step, double r);
double cusp_in_concave(double rho, double step, double r);

/// The widest arc on a cylinder of radius r whose ridge is no higher than `cusp`, mm. By the law of cosines on the
/// triangle of axis, ball's centre and ridge: cos(p/2) = ((r + rho)² + (r + cusp)² - rho²) / (2 (r + rho)(r + cusp)).
/// REQUIRES: rho > 0, r > 0, 0 < cusp < rho.
double step_on_convex(double rho, double cusp, double r);
/// The same on a flat: 2 sqrt(2 rho cusp - cusp²).
double step_on_flat(double rho, double cusp);

/// Lines round the piece for a wanted cusp, not rounded. On a round of radius r, whose skin leans by `lean` along the
/// piece (its normal is that far from square to the axis: 0 on a cylinder, a quarter turn on a wall). Centres S apart
/// on a circle of radius r + rho leave, to second order, S²/8 (1/rho - cos(lean)/(r + rho)); level, the exact form of
/// step_on_convex is used when it asks for more.
double lines_on_round(double rho, double cusp, double r, double lean);
/// The same for any end. A level disc of radius f, s beside its middle, leaves sqrt(r² + s²) - r on a level round; where the skin leans by
/// p its rim stands (f - sqrt(f² - s²)) tan(p) higher there, and a rounded rim lifts it by corner (1 - cos p). What a ball as wide would
/// need is enough for any of them: along the lean its rim is wider than the ball.
double lines_on_round(const Foot& foot, double cusp, double r, double lean);
/// On flats whose greatest R²/d is `flat`: a turn by da moves the contact on a flat at distance d by d da / cos² = R²/d
/// da.
double lines_on_flat(double rho, double cusp, double flat);
/// The next multiple of eight, so that faces and arrises of a square get lines of their own.
int whole_lines(double lines);

/// mm/min of the cutter through the wood: revolutions * flutes * chip load (common practice, no source), at most the
/// machine's feed.
double cutting_speed(const shop::Cutter& cutter, const shop::Machine& machine);
/// min(cutter's, machine's) revolutions a minute.
double revolutions(const shop::Cutter& cutter, const shop::Machine& machine);

/// The path of the cutter over the wood at distance r from the axis: sqrt(dx² + dy² + dz² + (r da)²), mm.
double true_length(const motion::Position& from, const motion::Position& to, double r);

/// Minutes of a straight feed move at `speed` mm/min over the wood at distance r, no axis faster than its rapid, and
/// no faster than the machine feeds even where rounded words make the move longer: a move of a few ticks does not go at full speed.
double feed_minutes(const motion::Position& from, const motion::Position& to, double r, double speed,
                    const shop::Machine& machine);
/// Least minutes that the axes' rapid speeds allow.
double rapid_minutes(const motion::Position& from, const motion::Position& to, const shop::Machine& machine);

}  // namespace pommel::mill
