// A cutter as a few convex bodies of revolution about its own axis, each open upwards: the cutter comes down along its axis, so what is
// above a body only ever follows where the body has been. The lowest permissible height of the cutter is the greatest of its bodies'.
//
// A body is `rounded` (a level disc of radius `flat` whose rim is rounded by `corner`: ball, flat end, bull nose, shank, collet nut,
// holder) or a `cone` (the flank of a tapered ball or a vee above its tip: level up to `flat`, then rising `slope` for each mm of radius).
#pragma once

#include <array>
#include <vector>

#include "base/result.h"
#include "shop/shop.h"

namespace pommel::mill {

/// Which part of the cutter stands on the wood.
enum class Holding { nothing, cutting, shank, collet, holder };

struct CutterBody {
  enum class Kind { rounded, cone };
  Kind kind = Kind::rounded;
  Holding part = Holding::cutting;
  double z = 0;       ///< mm from the cutter's tip up to the body's lowest point
  double flat = 0;    ///< mm: radius of its level disc
  double corner = 0;  ///< mm: rounding of the disc's rim; 0 for a cone
  double outer = 0;   ///< mm: its greatest radius (flat + corner; of a cone where the flank ends)
  double slope = 0;   ///< cone: cot of the half angle; 0: rounded

  bool ball() const { return kind == Kind::rounded && flat == 0 && corner > 0; }
  /// Height above the cutter's tip at radius q >= 0; +infinity beyond `outer`.
  double rise(double q) const;
  /// The body with `by` mm around it: exact when rounded; a cone keeps its edges sharp, at most sqrt 2 `by` away. `by` >= 0.
  CutterBody grown(double by) const;
  /// The same with sharp edges kept sharp: no rounding where there was none.
  CutterBody mitred(double by) const;

  bool operator==(const CutterBody&) const = default;
};

CutterBody ball_body(double radius);

/// The bodies of a cutter, lowest first, with `allowance` mm around each; bodies that stand wholly behind a lower one are left out.
/// Fails with "mill.cutter-form": figures that do not make a cutter of that form.
Result<std::vector<CutterBody>> bodies_of(const shop::Cutter& cutter, double allowance);

}  // namespace pommel::mill
