// What a turned piece, its rails and its glue do in the room and under load, in figures and in bench words: movement through the
// seasons, the oval of a round, the slenderest part as a column, a push, bond areas.
//
// Every line names its formula and source. Strengths are averages of clear wood, not allowable stresses: local code and a licensed
// person decide. Lengths in mm, forces in N, stresses in MPa, humidities as fractions, moisture contents in percent.
#pragma once

#include <string>
#include <vector>

#include "base/quantity.h"
#include "base/result.h"
#include "shape/part.h"
#include "shop/shop.h"

namespace pommel::rules {

/// Moisture content of wood that lies long in air of this humidity, percent: Wood Handbook, FPL-GTR-190, Eq. 4-5 with the
/// coefficients for °C (from memory; at 70 °F they give Table 4-2 within 0.1). Fails with "rules.humidity" outside 0 to 0.95 and
/// 0 to 60 °C.
Result<double> moisture_in_air(double humidity, double celsius);

/// Moisture contents between which wood in that room moves. Fails as moisture_in_air; "rules.moisture-out-of-range" outside 6 to
/// 14 percent, for which Eq. 13-2 is meant.
struct Season {
  double dry = 0, damp = 0;  ///< percent
};
Result<Season> season_of(const shop::Room& room);

/// A turned piece as it stands.
struct PieceReport {
  double square_movement = 0;  ///< mm across flat rings, over the season
  double out_of_round = 0;     ///< mm, of the thickest round
  double slenderness = 0;      ///< length over the thinnest place
  double buckling = 0;         ///< N, Euler's load of a column as thin as that all along, pinned at both ends
  double push_share = 0;       ///< stress of kSidePush at the far end over the average bending strength; 0 where nothing holds the piece
  std::vector<std::string> lines;
  std::vector<Diagnostic> warnings;
};

/// `jointed`: the piece with its mortises; it is held at the lower end of the lowest one. `square`: of its blank.
/// Fails as season_of, and with "rules.leg" where the wood has no strength figures.
Result<PieceReport> report_on(const shape::Part& jointed, const std::string& label, double square, const shop::Wood& wood, const shop::Room& room,
                              const LengthFormat& shown);

/// A rail's tenon across the grain in a mortise along the grain: width times C_T times the season's change, in words.
/// Fails as season_of.
Result<std::string> rail_movement(const std::string& label, double tenon_width, const shop::Wood& wood, const shop::Room& room, const LengthFormat& shown);

/// Shear strength that glue lines are reckoned with, MPa: an assumption, no source; good glue fails in the wood beside it.
inline constexpr double kBondStrength = 6;

/// Both cheeks of a tenon: area 2 w L, what pulls it out and what racks it at most (rules/joinery.h), in words.
std::string tenon_bond(const std::string& label, double width, double length, const LengthFormat& shown);

/// Glue lines of a glue-up: `lines` of `width` by `length`, mm², and in words.
double glue_up_bond(int lines, double width, double length);
std::string glue_up_words(const std::string& label, int lines, double width, double length, const LengthFormat& shown);

}  // namespace pommel::rules
