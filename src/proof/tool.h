// A cutter as the judge sees it: a body of revolution about its own axis that takes wood with everything below the end of its
// flutes, and a row of cylinders above that must not touch wood.
//
// The cutting part is convex: its lower surface t(s), the height over the tip at distance s from the cutter's axis, is a level disc, then
// an arc, then a straight flank, up to the radius (shop::Cutter says which form has what).
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "shop/shop.h"

namespace pommel::proof {

struct Tool {
  std::string id;
  double disc = 0;           ///< mm: radius of the level part of the tip
  double corner = 0;         ///< mm: radius of the arc
  double corner_end = 0;     ///< mm: s at which the arc ends and the flank begins
  double corner_height = 0;  ///< mm: t there
  double rise = 0;           ///< dt/ds along the flank; not used where corner_end is the radius
  double radius = 0;         ///< mm
  double flute = 0;          ///< mm from the tip to the end of the flutes
  double max_depth = 0;      ///< mm; 0: not known
  double fall = 0;           ///< mm down a mm of way over the wood, the most that it bears where wood is; 0: it goes straight down, too
  struct Shaft {
    double radius = 0, bottom = 0;  ///< mm; bottom: over the tip
    const char* name = "";          ///< "shank", "collet nut", "holder"
  };
  std::vector<Shaft> shafts;
  double widest = 0;  ///< mm: greatest radius of all

  /// Whether a move that goes down by `down` over `way` mm of wood is steeper than it bears.
  bool too_steep(double down, double way) const { return fall > 0 && down > 1e-6 && down > 1.02 * fall * way; }
  bool is_ball() const { return disc == 0 && corner == radius; }
  /// t(s), mm. REQUIRES: 0 <= s <= radius.
  double height(double s) const;
  /// dt/ds; infinite on an upright end of the arc. At a kink the one outside.
  double slope(double s) const;
  /// How deep a point at distance s from the cutter's axis and height h over its tip is in the cutting part (taken as going on upwards
  /// without end), mm: the distance to its surface, exact; 0 outside.
  double depth_inside(double s, double h) const;
  /// How far such a point stands off the cutting part, mm; 0 inside. Exact.
  double distance_outside(double s, double h) const;
};

/// Fails with "proof.cutter" when the figures describe no cutter: diameter and flutes above 0, flutes at least as long as the
/// form is high, angles between 0 and 90 degrees, everything finite and below a metre.
Result<Tool> tool_of(const shop::Cutter& cutter);

}  // namespace pommel::proof
