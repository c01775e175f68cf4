// Mortise and tenon: proportions, whether two tenons meet in a leg, and what glue could hold at most.
//
// Lengths in mm, forces in N, stresses in MPa (N/mm²), moments in N mm. Every function is pure; preconditions are asserted
// nowhere, because a measure that makes no sense is refused by the room that reads it: given finite numbers, these
// functions return finite numbers unless they say otherwise.
#pragma once

#include <optional>
#include <vector>

namespace pommel::rules {

/// Rules of proportion for a tenon's thickness. Trade practice, no single source, and they disagree: a 20 mm rail into a
/// 45 mm leg is given 15.0 by the first and 6.7 by the second.
double third_of_leg(double leg_width);
double third_of_rail(double rail_thickness);
double half_of_rail(double rail_thickness);

/// The widest of `widths` that is at most `wish` (within 1e-6 mm); nothing when all are wider, or there are none.
std::optional<double> widest_on_hand(double wish, const std::vector<double>& widths);

struct Span {
  double least = 0, greatest = 0;
};

/// A tenon is half to two thirds as long as the mortised piece is wide (common practice, no source).
Span usual_tenon_length(double leg_width);

/// A tenon wider than five times its thickness is split in two or haunched (trade practice, no single source).
double widest_tenon(double tenon_thickness);

/// A cheek shoulder under 1/8 in is a shoulder nobody cuts (common practice, no source).
inline constexpr double kLeastCheek = 25.4 / 8;

/// How deep a mortise may go before it meets the one in the neighbouring face: a - c - t/2, mm, from the geometry of two
/// boxes square to one another. `square`: the leg's width a; `other_centre`: the other mortise's middle from its outer
/// face c; `other_thickness`: t. Centred mortises, c = a/2: (a - t)/2.
double free_depth(double square, double other_centre, double other_thickness);

/// One of two mortises in neighbouring inner faces of a leg.
struct Pocket {
  double centre = 0;     ///< its middle from the leg's outer face beside it
  double thickness = 0;  ///< across
  double depth = 0;      ///< from the face it is cut in
};

/// Whether the two pockets run into one another where they stand at the same height: each is deeper than its free depth.
bool pockets_meet(double square, const Pocket& a, const Pocket& b);

/// The volume they share over `height` of common height, mm³; 0 when they do not meet.
double common_volume(double square, const Pocket& a, const Pocket& b, double height);

/// Half the diagonal of a square: the radius its corners turn in, and what the half-profile must reach for the corners to
/// stay (common practice, from Pythagoras).
double half_diagonal(double square);

/// Greatest pull that the glue on both cheeks could hold, N: 2 w L tau. An upper bound: full contact, uniform stress,
/// neither wood nor shoulder failing first. `width` w and `length` L of the tenon; `shear_strength` tau of the bond.
double withdrawal_bound(double width, double length, double shear_strength);

/// Greatest moment in the rail's plane, N mm, with both cheeks in torsion about their middle: tau J / r with
/// J = 2 w L (w² + L²)/12 and r half the cheek's diagonal. An upper bound as above. 0 when the tenon has no area.
double moment_bound(double width, double length, double shear_strength);
/// J of the above, mm⁴.
double cheek_torsion_constant(double width, double length);

}  // namespace pommel::rules
