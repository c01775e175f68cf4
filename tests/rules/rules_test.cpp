#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "rules/joinery.h"
#include "rules/leg.h"
#include "rules/section.h"
#include "rules/wood.h"

namespace pommel::rules {
namespace {

using testing::HasSubstr;

constexpr double kPi = std::numbers::pi;

/// 50 mm square for 100 mm, a step down to `top`, then straight to `foot` at 700.
shape::Part leg(double top, double foot) {
  shape::Part part;
  part.length = 700;
  part.outline.pieces = {shape::clear_piece(0, 100, 0), shape::line_piece(100, top / 2, 700, foot / 2, 1)};
  for (int quarter = 0; quarter < 4; ++quarter) {
    part.faces.push_back({quarter * kPi / 2, {{shape::line_piece(0, 25, 700, 25)}}});
  }
  part.elements = {{"square", "head", 0, 100, 50, 50, 50, 50, false}, {"taper", "shaft", 100, 700, top, foot, foot, top, false}};
  return part;
}

shop::Wood cherry() {
  shop::Wood wood;
  wood.id = "cherry";
  wood.label = "black cherry";
  wood.mor_mpa = 85;
  wood.moe_mpa = 10300;
  return wood;
}

TEST(OnHand, WidestThatIsNotWider) {
  EXPECT_EQ(widest_on_hand(8, {12, 6, 8, 10}), 8);
  EXPECT_EQ(widest_on_hand(24.0 / 3, {8}), 8);
  EXPECT_EQ(widest_on_hand(7.9999999, {8}), 8);  // the last bits of a sum are no reason to take a narrower one
  EXPECT_EQ(widest_on_hand(7.99, {6, 8}), 6);
  EXPECT_EQ(widest_on_hand(5, {6, 8}), std::nullopt);
  EXPECT_EQ(widest_on_hand(5, {}), std::nullopt);
}

TEST(Pockets, MeetOnlyWhenBothAreDeepEnough) {
  EXPECT_FALSE(pockets_meet(60, {14, 8, 60}, {14, 8, 42}));
  EXPECT_TRUE(pockets_meet(60, {14, 8, 43}, {14, 8, 42.1}));
  // symmetrical in its two pockets, and the volume too
  const Pocket a{18, 10, 45}, b{14, 8, 43};
  EXPECT_EQ(pockets_meet(60, a, b), pockets_meet(60, b, a));
  EXPECT_DOUBLE_EQ(common_volume(60, a, b, 70), common_volume(60, b, a, 70));
  // through and past the other: the crossing is as wide as each tenon is thick, no more
  EXPECT_DOUBLE_EQ(common_volume(60, {20, 8, 60}, {20, 10, 60}, 50), 8 * 10 * 50);
}

TEST(Glue, NothingHoldsNothing) {
  EXPECT_EQ(moment_bound(0, 0, 6), 0);
  EXPECT_EQ(withdrawal_bound(50, 0, 6), 0);
}

TEST(Wood, RefusesMoistureOutsideTheEquation) {
  for (const auto& [from, to] : {std::pair{5.9, 12.0}, {6.0, 14.1}, {std::nan(""), 8.0}}) {
    const Result<double> change = width_change(100, 0.0025, from, to);
    ASSERT_FALSE(change.ok());
    EXPECT_EQ(change.reasons()[0].id, "rules.moisture-out-of-range");
  }
  EXPECT_EQ(width_change(100, 0.0025, 5, 12).reasons()[0].message,
            "the movement of a width of 100 mm from 5 to 12 % moisture is outside what the formula covers");
  EXPECT_FALSE(out_of_round(60, .001, .002, 12, 20).ok());
  EXPECT_LT(*width_change(100, 0.0025, 12, 6), 0);
  EXPECT_GT(*out_of_round(60, .001, .002, 12, 6), 0);
}

TEST(Leg, ThinnestOfATaperIsItsFoot) {
  const Thin thin = thinnest(leg(44, 28), 100, 700);
  EXPECT_NEAR(thin.x, 700, 1e-9);
  EXPECT_NEAR(thin.thickness, 28, 1e-9);
  EXPECT_EQ(thin.element, "shaft");
  EXPECT_FALSE(thin.square);
  EXPECT_TRUE(thinnest(leg(44, 28), 0, 90).square);
  EXPECT_NEAR(thinnest(leg(44, 28), 0, 90).thickness, 50, 1e-9);
}

TEST(Leg, TheStepIsSeenFromItsThinSide) { EXPECT_NEAR(thinnest(leg(20, 40), 0, 200).thickness, 20, 1e-9); }

TEST(Leg, APushStressesAStraightLegMostAtTheRails) {
  const Result<LegReport> report = leg_as_bar(leg(30, 30), 150, cherry(), 50);
  ASSERT_TRUE(report.ok());
  EXPECT_NEAR(report->weakest.x, 150, 1e-9);
  EXPECT_NEAR(report->stress, 50 * 550 / (kPi * 27000 / 32), 1e-9);
  EXPECT_NEAR(report->share_of_mor, report->stress / 85, 1e-12);
  EXPECT_NEAR(report->sway, 50 * std::pow(550, 3) / (3 * 10300 * kPi * std::pow(30, 4) / 64), 1e-9);
  EXPECT_NEAR(report->slenderness, 550.0 / 30, 1e-9);
  ASSERT_EQ(report->notes.size(), 1u);
  EXPECT_EQ(report->notes[0].id, "rules.thinnest");
  EXPECT_THAT(report->notes[0].message, HasSubstr("% of the average bending strength of clear black cherry"));
}

// Of a round taper d = d1 + k u, u up from the foot, the stress goes as u/d³, which is greatest where d = 3 k u: k u = d1/2.
TEST(Leg, AStrongTaperIsWeakestOnItsWay) {
  const double d0 = 44, d1 = 20, k = (d0 - d1) / 600;
  const Result<LegReport> report = leg_as_bar(leg(d0, d1), 100, cherry(), 50);
  ASSERT_TRUE(report.ok());
  EXPECT_NEAR(report->weakest.x, 700 - d1 / 2 / k, 0.5);
  const double arm = d1 / 2 / k, d = 1.5 * d1;
  EXPECT_NEAR(report->stress, 50 * arm / (kPi * d * d * d / 32), 1e-3);
}

TEST(Leg, WarnsOfSlenderAndOfThin) {
  const Result<LegReport> report = leg_as_bar(leg(11, 11), 100, cherry(), 50);
  ASSERT_TRUE(report.ok());
  ASSERT_EQ(report->notes.size(), 3u);
  EXPECT_EQ(report->notes[1].id, "rules.slender-leg");
  EXPECT_EQ(report->notes[1].message, "below the rails the leg is 54.5 times as long as it is thick at its thinnest");
  EXPECT_EQ(report->notes[1].remedy, "make the thinnest part at least 12 mm thick");
  EXPECT_EQ(report->notes[2].id, "rules.thin-leg");
  EXPECT_EQ(leg_as_bar(leg(40, 30), 100, cherry(), 50)->notes.size(), 1u);
}

TEST(Leg, RefusesWhatItCannotJudge) {
  EXPECT_EQ(leg_as_bar(leg(40, 30), 700, cherry()).reasons()[0].id, "rules.leg");
  EXPECT_EQ(leg_as_bar(leg(40, 30), std::nan(""), cherry()).reasons()[0].id, "rules.leg");
  EXPECT_EQ(leg_as_bar({}, 0, cherry()).reasons()[0].id, "rules.leg");
  shop::Wood unknown;
  unknown.id = "plum";
  EXPECT_EQ(leg_as_bar(leg(40, 30), 100, unknown).reasons()[0].message,
            "the wood 'plum' has no bending strength and stiffness to judge the leg by");
}

}  // namespace
}  // namespace pommel::rules
