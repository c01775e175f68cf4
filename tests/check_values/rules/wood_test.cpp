// Movement and weight of wood, against USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010).
#include "rules/wood.h"

#include <gtest/gtest.h>

namespace pommel::rules {
namespace {

// Chapter 13, the example beneath Eq. 13-2: a white fir board 9.15 in wide at 8 percent is 9.217 in wide at 11 percent. Its
// tangential coefficient there, .00245, from Table 13-5 (from memory; 9.15 x .00245 x 3 = .067).
TEST(Wood, WhiteFirExampleOfEquation13_2) {
  const double width = 9.15 * 25.4;
  EXPECT_NEAR((width + *width_change(width, 0.00245, 8, 11)) / 25.4, 9.217, 5e-4);
}

// 100 mm of tangential width from 6 to 12 percent by Eq. 13-2 with the coefficients of Table 13-5.
TEST(Wood, HundredMillimetresFromSixToTwelvePercent) {
  struct Row { const char* species; double c_tangential, mm; };
  const Row rows[] = {{"black cherry", .00248, 1.488}, {"black walnut", .00274, 1.644}, {"sugar maple", .00353, 2.118},
                      {"white oak", .00365, 2.190}, {"American beech", .00431, 2.586}};
  for (const Row& row : rows) EXPECT_NEAR(*width_change(100, row.c_tangential, 6, 12), row.mm, 5e-4) << row.species;
}

// Table 13-5 from the shrinkage of Table 4-3: C = 1/(3000/S - 20).
TEST(Wood, CoefficientsFollowFromShrinkage) {
  EXPECT_NEAR(coefficient_from_shrinkage(7.1), .002484, 5e-7);   // black cherry, table: .00248
  EXPECT_NEAR(coefficient_from_shrinkage(7.8), .002743, 5e-7);   // black walnut, table: .00274
  EXPECT_NEAR(coefficient_from_shrinkage(11.9), .004308, 5e-7);  // American beech, table: .00431
}

// Black cherry, C_R .00126 and C_T .00248 (Table 13-5): a 60 mm round, 6 to 12 percent.
TEST(Wood, ARoundGoesOval) { EXPECT_NEAR(*out_of_round(60, .00126, .00248, 6, 12), 0.439, 5e-4); }

// Chapter 4: density = 1000 G (1 + M/100).
TEST(Wood, DensityAtMoistureContent) { EXPECT_DOUBLE_EQ(density(0.50, 12), 560); }

}  // namespace
}  // namespace pommel::rules
