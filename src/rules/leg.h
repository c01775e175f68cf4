// A turned leg as a bar: where it is thinnest, where a push at the foot breaks it first, how slender it is.
#pragma once

#include <string>
#include <vector>

#include "base/quantity.h"
#include "base/result.h"
#include "shape/part.h"
#include "shop/shop.h"

namespace pommel::rules {

/// A section of a turned part, judged by the largest circle in it, or the square where its corners are whole.
struct Thin {
  double x = 0;         ///< mm from the head
  double thickness = 0; ///< mm, diameter or square
  bool square = false;
  std::string element;  ///< label of the element it lies in
};

/// Where the part is thinnest (the first such place from the head), looked for at every knot, at both ends of every
/// element and every 0.5 mm between. Within `from`..`to`, mm, clipped to the part.
Thin thinnest(const shape::Part& part, double from, double to);

/// "24 mm thick at 310 mm from the head (neck)".
std::string described(const Thin& thin, const LengthFormat& shown);

/// Where a load bends a piece most.
struct Stressed {
  Thin at;
  double stress = 0;  ///< MPa
};

/// The worst that a single sideways `force` does between x = from and x = to, where the piece is held as a beam free to turn at both: wherever it
/// pushes, the greatest stress of all sections is F a b/((a + b) W) of the section it pushes on, a and b from the ends. Stations as in thinnest().
/// REQUIRES: 0 <= from < to <= part.length.
Stressed worst_under_load(const shape::Part& part, double from, double to, double force);

/// The eased edge or rounding of a foot is not where a leg is thin: leg_as_bar looks for `thin` above these last mm.
inline constexpr double kFootEase = 10;

/// What a leg says as a bar held at x = `held` (the lower edge of its rails) and pushed sideways at the foot.
struct LegReport {
  Thin thin;            ///< thinnest below the rails and above the last kFootEase of the foot
  Thin weakest;         ///< where the bending stress of the push is greatest
  double stress = 0;    ///< MPa there
  double share_of_mor = 0;  ///< stress over the wood's average modulus of rupture; not an allowable stress
  double sway = 0;      ///< mm at the foot, were the whole free length as thin as `thin` (an upper bound)
  double slenderness = 0;   ///< free length over the thinnest thickness
  std::vector<Diagnostic> notes;
};

/// Side push at the foot, N, by which legs are compared when no other is stated (a convention of this program, no standard).
inline constexpr double kSidePush = 50;

/// Notes: "rules.slender-leg" (warning) when the free length is more than 50 times the thinnest thickness (the limit l_e/d
/// of the National Design Specification for wood columns, from memory); "rules.thin-leg" (warning) when the push uses
/// more than a third of the modulus of rupture; "rules.thinnest" (note) always, with the numbers.
/// Fails with "rules.leg" when `held` is not inside the leg or the wood has no strength figures.
Result<LegReport> leg_as_bar(const shape::Part& leg, double held, const shop::Wood& wood, double push = kSidePush,
                             const LengthFormat& shown = {});

}  // namespace pommel::rules
