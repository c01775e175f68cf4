// Wood in a room, a piece as a column, glue lines: against the Wood Handbook's tables and figures worked from the formulas.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <numbers>

#include "rules/piece.h"

namespace pommel::rules {
namespace {

using testing::Contains;
using testing::HasSubstr;

// Wood Handbook, Table 4-2, at 70 F (from memory): the equation gives it within a tenth.
TEST(MoistureInAir, AgreesWithTheTable) {
  const double seventy = (70 - 32) / 1.8;
  for (const auto& [humidity, moisture] : {std::pair{0.30, 6.2}, std::pair{0.50, 9.2}, std::pair{0.65, 12.0}, std::pair{0.80, 16.0}})
    EXPECT_NEAR(*moisture_in_air(humidity, seventy), moisture, 0.1) << humidity;
  EXPECT_FALSE(moisture_in_air(0.99, 20).ok());
  EXPECT_FALSE(moisture_in_air(0.5, -5).ok());
}

shop::Wood cherry() {
  shop::Wood wood;
  wood.id = "cherry";
  wood.label = "black cherry";
  wood.mor_mpa = 85;
  wood.moe_mpa = 10300;
  wood.c_radial = 0.00126;
  wood.c_tangential = 0.00248;
  return wood;
}

/// A round of 50 mm and 700 mm long, `held` over its first 100 mm by a mortise.
shape::Part round_bar(bool held) {
  shape::Part part;
  part.length = 700;
  part.outline.pieces = {shape::line_piece(0, 25, 700, 25)};
  for (int quarter = 0; quarter < 4; ++quarter) part.faces.push_back({quarter * std::numbers::pi / 2, {{shape::line_piece(0, 30, 700, 30)}}});
  part.elements = {{"cylinder", "shaft", 0, 700, 50, 50, 50, 50, false}};
  if (held) {
    shape::Mortise mortise;
    mortise.x0 = 20;
    mortise.x1 = 100;
    part.mortises.push_back(mortise);
  }
  return part;
}

// Euler of 700 mm, diameter 50, E 10300: 63648.9 N (from the formula); slenderness 14.
TEST(PieceReport, OfARoundBar) {
  const shop::Room room{0.30, 0.65, (70 - 32) / 1.8};
  const auto season = season_of(room);
  ASSERT_TRUE(season.ok());
  const auto free = report_on(round_bar(false), "leg", 60, cherry(), room, {});
  ASSERT_TRUE(free.ok());
  EXPECT_NEAR(free->buckling, 63648.9, 0.05);
  EXPECT_NEAR(free->slenderness, 14, 1e-9);
  EXPECT_EQ(free->push_share, 0);
  EXPECT_NEAR(free->square_movement, 60 * 0.00248 * (season->damp - season->dry), 1e-12);
  EXPECT_NEAR(free->out_of_round, 50 * 0.00122 * (season->damp - season->dry), 1e-12);
  // held at 100: 50 N x 600 mm over pi 50^3 / 32 = 12271.85 mm3: 2.4446 MPa of 85
  const auto held = report_on(round_bar(true), "leg", 60, cherry(), room, {});
  ASSERT_TRUE(held.ok());
  EXPECT_NEAR(held->push_share, 2.4446 / 85, 1e-5);
  EXPECT_THAT(held->lines, Contains(HasSubstr("2.44 MPa")));
}

// Eq. 13-2 is meant for 6 to 14 %: at 90 % humidity wood holds more.
TEST(PieceReport, RefusesAirBeyondTheFormula) {
  const auto damp = report_on(round_bar(false), "leg", 60, cherry(), {0.30, 0.90, 21}, {});
  ASSERT_FALSE(damp.ok());
  EXPECT_EQ(damp.reasons().front().id, "rules.moisture-out-of-range");
}

// w 50, L 38, tau 6: 22800 N and 238.645 N m, upper bounds; both cheeks 38 cm2.
TEST(Bond, OfATenon) {
  const std::string words = tenon_bond("rail", 50, 38, {});
  EXPECT_THAT(words, HasSubstr("glue 38 cm2"));
  EXPECT_THAT(words, HasSubstr("22.8 kN"));
  EXPECT_THAT(words, HasSubstr("239 N m"));
}

TEST(Bond, OfAGlueUp) { EXPECT_DOUBLE_EQ(glue_up_bond(2, 90, 800), 144000); }

}  // namespace
}  // namespace pommel::rules
