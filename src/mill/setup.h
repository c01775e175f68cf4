// How the blank stands on the machine, and what follows for every pass: the part as the cutter should see it, the wood
// that may be there, the height at which nothing stands, and where the cutter must not go.
#pragma once

#include "base/result.h"
#include "mill/foot.h"
#include "motion/motion.h"
#include "shape/blank.h"
#include "shape/part.h"
#include "shop/shop.h"

namespace pommel::mill {

/// The part with its ends continued into the waste, for a ball of radius rho: its own x, from -reach to length + reach.
///
/// An end that is level or rises outwards goes on level. An end that falls outwards goes on along its tangent far
/// enough for the ball to touch the very end, rho tan(p/2) for a slope of p, then level; but never thinner than 0.6 of
/// the end, so that the waste still holds the piece. What the ball then cannot reach is a quirk (reach.h). Faces and
/// square stretches go on level. Centre lines of flutes and reeds go on as the outline does.
shape::Part continued(const shape::Part& turned, double rho, double reach);

/// The blank as a part of its own: `grown` mm added on each flat (or on the radius), from x0 to x1. Square flats look
/// along faces A to D.
shape::Part blank_body(const shape::Blank& blank, double grown, double x0, double x1);

inline constexpr double kLeastCore = 0.6;  ///< of an end's radius that the waste beside it keeps

/// mm across of the waste that the passes leave beside a turned end, for balls of radius rho: the end's own, or its tangent's; 0 where the end is not
/// turned.
double stub_diameter(const shape::Part& turned, bool at_head, double rho);

/// mm that lines run past a turned end for a cutter of that radius: it and half a millimetre.
double run_past_end(double radius);

struct Setup {
  shape::Part part;   ///< continued
  double length = 0;  ///< of the part itself
  double run_up = 0;  ///< mm that lines go on past both ends of the part
  double clear_height =
      0;             ///< mm above the axis: over the blank with all tolerances, jaws and tailstock, and 5 mm more
  int alike = 1;  ///< the turned part is the same after a quarter turn (4), after a half (2) or not before a whole one: its lines repeat
  double shift = 0;  ///< mm that any point of the blank may lie beside its place: off centre and bow together
  shop::Cutter cutter;
  Foot foot;  ///< its end
  shop::Machine machine;
  shape::Blank blank;
  shape::BlankTolerance tolerance;

  double radius() const { return cutter.diameter / 2; }
};

/// Fails with "mill.plunge" for a cutter that sinks along ramps only: where a line along the piece begins the cutter comes straight down.
Result<Done> must_plunge(const shop::Cutter& cutter);

/// `widest`: mm, radius of another cutter of the same job: the ends are continued and run past for the wider of the two, so that no later
/// pass of either meets wood there that the earlier left. Fails with
///   "mill.no-foot": a cutter that turnings are not cut with;
///   "mill.cutter", "mill.machine", "mill.blank": figures that are missing or make no sense;
///   "mill.part": the part is not sound;
///   "mill.blank-short", "mill.blank-small": the part does not fit into the blank;
///   "mill.flats": the flats are said to be finished, but the blank is not as wide as the part's square;
///   "mill.swing", "mill.between-centres": the blank with its tolerances does not fit the machine;
///   "mill.travel": the height for rapids is beyond the machine's travel.
Result<Setup> set_up(const shape::Part& turned, const shape::Blank& blank, const shape::BlankTolerance& tolerance,
                     const shop::Cutter& cutter, const shop::Machine& machine, double widest = 0);

/// The envelope knows every form, the turning's passes over it roll balls. Fails with "mill.no-ball".
Result<Done> check_ball(const shop::Cutter& cutter);

/// Holds every position of the path against travels, turns, chuck and tail centre. Fails with
///   "mill.run-up": cutter, shank or collet would come nearer than the keep-out to chuck or centre; says how much waste
///   to add; "mill.travel", "mill.turns": beyond the machine's travels.
Result<Done> within_machine(const motion::Path& path, const Setup& setup);

}  // namespace pommel::mill
