// Mortise and tenon, against figures worked by hand from the geometry and from the formulas named beside them.
#include "rules/joinery.h"

#include <gtest/gtest.h>

namespace pommel::rules {
namespace {

// Trade practice (no single source; the rules disagree): a 20 mm rail into a 45 mm leg.
TEST(Joinery, RulesOfProportionDisagree) {
  EXPECT_NEAR(third_of_leg(45), 15.0, 1e-12);
  EXPECT_NEAR((20 - third_of_leg(45)) / 2, 2.5, 1e-12);  // shoulders nobody cuts
  EXPECT_LT((20 - third_of_leg(45)) / 2, kLeastCheek);
  EXPECT_NEAR(third_of_rail(20), 6.7, 0.05);
  EXPECT_NEAR(half_of_rail(20), 10, 1e-12);
  EXPECT_NEAR(usual_tenon_length(45).least, 22.5, 1e-12);
  EXPECT_NEAR(usual_tenon_length(45).greatest, 30, 1e-12);
  EXPECT_DOUBLE_EQ(widest_tenon(8), 40);
}

// Geometry: two boxes square to one another. Centred: they meet beyond (a - t)/2.
TEST(Joinery, CentredMortisesMeet) {
  const Pocket shallow{22.5, 15, 15}, deep{22.5, 15, 20};
  EXPECT_DOUBLE_EQ(free_depth(45, 22.5, 15), 15.0);
  EXPECT_FALSE(pockets_meet(45, shallow, shallow));
  EXPECT_TRUE(pockets_meet(45, deep, deep));
  EXPECT_DOUBLE_EQ(common_volume(45, deep, deep, 60), 1500);
  EXPECT_FALSE(pockets_meet(45, shallow, deep));
  EXPECT_EQ(common_volume(45, shallow, deep, 60), 0);
}

// Geometry: off centre, they meet when d > a - c - t/2.
TEST(Joinery, MortisesOffCentreMeet) {
  EXPECT_DOUBLE_EQ(free_depth(60, 14, 8), 42.0);
  EXPECT_FALSE(pockets_meet(60, {14, 8, 42}, {14, 8, 42}));
  EXPECT_TRUE(pockets_meet(60, {14, 8, 44}, {14, 8, 44}));
  EXPECT_DOUBLE_EQ(common_volume(60, {14, 8, 44}, {14, 8, 44}, 70), 280);
}

// Withdrawal 2 w L tau, and both cheeks in torsion about their middle, M = tau J / r: w = 50, L = 38, tau = 6 MPa. Upper bounds.
TEST(Joinery, GlueBounds) {
  EXPECT_DOUBLE_EQ(withdrawal_bound(50, 38, 6), 22800);
  EXPECT_NEAR(cheek_torsion_constant(50, 38), 1248933.33, 0.005);
  EXPECT_NEAR(moment_bound(50, 38, 6) / 1000, 238.645, 5e-4);
}

// Direction of A. Kasal, C. Eckelman et al., BioResources 10(4) 7009-7020 (2015), abstract: the moment a joint holds rises with
// the tenon's width and length, with length more. The bound rises with both.
TEST(Joinery, MomentRisesWithWidthAndLength) {
  EXPECT_GT(moment_bound(50, 42, 6), moment_bound(50, 38, 6));
  EXPECT_GT(moment_bound(55, 38, 6), moment_bound(50, 38, 6));
}

// Common practice, from Pythagoras: the half-profile must reach half the diagonal of the square: 50 mm, 70.711 across.
TEST(Joinery, HalfDiagonal) { EXPECT_NEAR(2 * half_diagonal(50), 70.711, 5e-4); }

}  // namespace
}  // namespace pommel::rules
