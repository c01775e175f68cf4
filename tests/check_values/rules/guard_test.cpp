// Guards: openings and infill load. International Residential Code 2018, R312.1 and table R301.5 (50 lb on one square foot); the openings of
// turned balusters and the stresses are computed from the stated formulas.
#include "rules/guard.h"

#include <gtest/gtest.h>

#include "rules/section.h"

namespace pommel::rules {
namespace {

TEST(Guard, TheOpeningIsGovernedByTheThinParts) {
  // clear run 1000, turned 45 to 25 thick, limit 101.6 (4 in): by the thick part seven would do and leave 85.6; at the thin part that is 105.6
  EXPECT_EQ(balusters_for(1000, 45, 101.6), 7);
  EXPECT_NEAR(opening_of(1000, 7, 45), 85.625, 1e-9);
  EXPECT_GT(opening_of(1000, 7, 45) + 20, 101.6);
  EXPECT_NEAR(opening_of(1000, 8, 45) + 20, 91.1, 0.02);
  EXPECT_LT(opening_of(1000, 8, 45) + 20, 101.6);
}

TEST(Guard, ALimitThatJustFitsNeedsNoFurtherBaluster) {
  // 3 openings of 100 and 2 balusters of 40 fill 380
  EXPECT_EQ(balusters_for(380, 40, 100), 2);
  EXPECT_EQ(balusters_for(380.001, 40, 100), 3);
  EXPECT_EQ(balusters_for(100, 40, 100), 0);
}

TEST(Guard, PublishedFigures) {
  const GuardRule* irc = guard_rule("IRC 2018");
  ASSERT_NE(irc, nullptr);
  EXPECT_NEAR(irc->stair_opening, 111.125, 1e-9);  // 4 3/8 in
  EXPECT_NEAR(irc->level_opening, 101.6, 1e-9);    // 4 in
  EXPECT_NEAR(irc->stair_height, 863.6, 1e-9);     // 34 in
  const GuardRule* uk = guard_rule("AD K 2013");
  ASSERT_NE(uk, nullptr);
  EXPECT_EQ(uk->stair_opening, 100);
  EXPECT_EQ(uk->stair_height, 900);
  EXPECT_EQ(guard_rule("none"), nullptr);
}

TEST(Guard, InfillLoadOnOneBaluster) {
  EXPECT_NEAR(kInfillLoad, 222.411, 0.0005);
  EXPECT_NEAR(infill_stress(kInfillLoad, 850, 25), 30.810, 0.0005);
  EXPECT_NEAR(infill_stress(kInfillLoad, 850, 20), 60.176, 0.0005);
  EXPECT_NEAR(bending_stress(moment_at_middle(kInfillLoad, 850), section_modulus(Section::square, 32)), 8.654, 0.0005);
}

}  // namespace
}  // namespace pommel::rules
