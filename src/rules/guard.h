// Guards of stairs: what may pass between balusters, how high the rail stands, what the thinnest one bears.
//
// Published figures are given with their edition. Local adoption governs, and a licensed person decides: nothing here says that a stair
// complies. Lengths in mm, forces in N, stresses in MPa. Pure functions.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "rules/leg.h"

namespace pommel::rules {

/// What a published guard rule says of a stair in a dwelling.
struct GuardRule {
  std::string_view id;      ///< the word of the family file
  std::string_view source;  ///< with its edition, to stand beside each figure
  double stair_opening;     ///< a sphere of this diameter must not pass at the open side of a stair
  double level_opening;     ///< the same on a landing
  double stair_height;      ///< least height of the rail above the nosing line
};

/// "IRC 2018" (International Residential Code, 2018, R312.1: 4 3/8 in at the open side of stairs, 4 in elsewhere, 34 in high at stairs) and
/// "AD K 2013" (Approved Document K, England, 2013: 100 mm sphere, 900 mm on stairs in dwellings).
const std::vector<GuardRule>& guard_rules();
/// nullptr for an unknown id.
const GuardRule* guard_rule(std::string_view id);

/// Clear width between two upright balusters `spacing` apart, centre to centre square to their axes, where both are `diameter` thick. Between
/// turned balusters the thin parts govern. On a raked run the thin part of one stands beside a thicker part of the next, so the true opening is
/// no wider than this: the safe side.
double clear_opening(double spacing, double diameter);

/// The least number of balusters that leave no clear opening wider than `limit` in a clear run between two posts, n balusters of `diameter`
/// and n + 1 openings: ceil((run - limit)/(limit + diameter)); 0 when the run itself is no wider. REQUIRES: limit + diameter > 0.
int balusters_for(double run, double diameter, double limit);
/// The clear opening that n balusters of `diameter` leave in a clear run: (run - n diameter)/(n + 1).
double opening_of(double run, int balusters, double diameter);

/// The infill load of guards: 50 lb on one square foot (IRC 2018 table R301.5; IBC 1607.8.1), N.
inline constexpr double kInfillLoad = 222.4110807630;
/// mm: the side of that square foot.
inline constexpr double kInfillSide = 304.8;

/// Bending stress in a round of `diameter` when the whole load stands on one baluster at mid-height of `free_length`, simply supported:
/// (F L / 4)/(pi d³/32). The safe side: neighbours share the load on a foot of width. Formulas as in rules/section.h.
double infill_stress(double force, double free_length, double diameter);

/// How many upright balusters `spacing` apart a foot of width spans at least, wherever it stands: floor(304.8/spacing), and never less than one.
/// REQUIRES: spacing > 0.
int sharing_infill(double spacing);

/// Above this share of the wood's average modulus of rupture infill_notes() warns (a convention of this program, no standard: an average of clear
/// wood allows neither for knots and slope of grain nor for a long load).
inline constexpr double kInfillShare = 1.0 / 3;

/// What the load does, in words: "rules.infill", a note with the figures and who decides. `stress`: with all of it on one baluster. It is a warning
/// where the stress, shared by `sharing` balusters, takes more than kInfillShare of the wood's strength, or where one alone would break, and says the
/// thickness that would do. REQUIRES: wood.mor_mpa > 0.
std::vector<Diagnostic> infill_notes(const Thin& weakest, double free_length, double stress, int sharing, const shop::Wood& wood, const LengthFormat& shown = {});

}  // namespace pommel::rules
