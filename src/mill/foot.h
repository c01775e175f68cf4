// The end of a cutter as the turning's passes see it: a level disc whose rim is rounded. A ball has no disc, a flat end no
// rounding, a bull nose both. What it leaves between two lines or two turns follows from these two figures alone.
#pragma once

#include "base/result.h"
#include "shop/shop.h"

namespace pommel::mill {

struct Foot {
  double flat = 0;    ///< mm: radius of the level disc
  double corner = 0;  ///< mm: rounding of its rim

  double radius() const { return flat + corner; }
  bool ball() const { return flat == 0; }
  /// mm above the tip at the radius q. REQUIRES: 0 <= q <= radius().
  double rise(double q) const;
  /// The same end with `by` mm around it.
  Foot grown(double by) const { return {flat, corner + by}; }

  bool operator==(const Foot&) const = default;
};

inline Foot ball_foot(double rho) {
  return {0, rho};
}

/// Fails with "mill.no-foot" for a cutter whose end is none of the three.
Result<Foot> foot_of(const shop::Cutter& cutter);

/// The cutter with nothing behind its flutes: for envelopes of wood that shank and nut are held against elsewhere.
shop::Cutter flutes_only(shop::Cutter cutter);

}  // namespace pommel::mill
