// How wood moves and what it weighs.
//
// Source: USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), chapters 4 and 13. Moisture contents in
// percent, lengths in mm, densities in kg/m³.
#pragma once

#include "base/result.h"

namespace pommel::rules {

/// Change of a width across the grain, mm (positive: it swells): D C (M_to - M_from), Eq. 13-2. `coefficient` per percent,
/// C_R or C_T of Table 13-5. Fails with "rules.moisture-out-of-range" outside 6 to 14 percent, where the equation is not
/// meant to hold, and for numbers that are not finite.
Result<double> width_change(double width, double coefficient, double moisture_from, double moisture_to);

/// How far a round turned at `moisture_from` goes oval at `moisture_to`, mm between its largest and least diameter:
/// D |C_T - C_R| |M_to - M_from|. Fails as width_change.
Result<double> out_of_round(double diameter, double c_radial, double c_tangential, double moisture_from, double moisture_to);

/// The coefficient that follows from a shrinkage S in percent (green to oven-dry, Table 4-3) when wood begins to shrink at
/// 30 percent and widths are referred to 10 percent: C = 1/(3000/S - 20). Agrees with Table 13-5 to its digits.
/// REQUIRES: 0 < shrinkage < 150.
double coefficient_from_shrinkage(double shrinkage);

/// Density at moisture content M with G the specific gravity at that same M: 1000 G (1 + M/100), chapter 4.
double density(double specific_gravity, double moisture);

}  // namespace pommel::rules
