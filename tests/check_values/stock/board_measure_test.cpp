// Board measure against published figures.
#include <gtest/gtest.h>

#include "stock/measure.h"

namespace pommel::stock {
namespace {

using Rule = shop::Rates::BoardRule;
constexpr double kFoot = 12 * 25.4;

// Exact by definition: 1 BF = 144 in³ = 0.002359737216 m³.
TEST(BoardMeasure, BoardFootIsAHundredAndFortyFourCubicInches) {
  EXPECT_NEAR(kBoardFoot, 0.002359737216e9, 1e-3);
  EXPECT_NEAR(board_feet(25.4, 12 * 25.4, kFoot, Rule::exact), 1.0, 1e-12);
}

// American Hardwood Export Council's account of NHLA practice (quoted at second hand): surface measure W L / 12 rounded to a
// whole number, then times the thickness.
TEST(BoardMeasure, SurfaceMeasureRows) {
  struct Row { double thickness, width, length, expected; };
  for (const Row& row : {Row{2, 6.25, 8, 8}, Row{1, 6.5, 8, 4}, Row{1, 8, 12, 8}, Row{1, 10, 13, 11}})
    EXPECT_DOUBLE_EQ(board_feet(row.thickness * 25.4, row.width * 25.4, row.length * kFoot, Rule::surface_measure), row.expected)
        << row.width << " x " << row.length;
  EXPECT_NEAR(board_feet(2 * 25.4, 6.25 * 25.4, 8 * kFoot, Rule::exact), 8.3333333333, 1e-9);
}

// The same source: thinner than an inch counts as an inch.
TEST(BoardMeasure, UnderAnInchCountsAsAnInch) {
  EXPECT_NEAR(board_feet(0.5 * 25.4, 12 * 25.4, kFoot, Rule::exact), 1.0, 1e-12);
}

// Common practice, no source: retail yards round up.
TEST(BoardMeasure, RoundUp) {
  EXPECT_DOUBLE_EQ(board_feet(2 * 25.4, 6.25 * 25.4, 8 * kFoot, Rule::round_up), 9);
  EXPECT_DOUBLE_EQ(board_feet(25.4, 12 * 25.4, 8 * kFoot, Rule::round_up), 8);
}

// Trade sizes: n/4 is n quarters of an inch.
TEST(BoardMeasure, NominalThickness) {
  EXPECT_DOUBLE_EQ(nominal_thickness("12/4"), 76.2);
  EXPECT_DOUBLE_EQ(nominal_thickness("4/4"), 25.4);
  EXPECT_EQ(nominal_thickness("thick"), 0);
  EXPECT_EQ(nominal_thickness("12/0"), 0);
}

}  // namespace
}  // namespace pommel::stock
