// Guards: openings and infill load. International Residential Code 2018, R312.1 and table R301.5 (50 lb on one square foot); the openings of
// turned balusters and the stresses are computed from the stated formulas.
#include "rules/guard.h"

#include <gtest/gtest.h>

#include <numbers>

#include "rules/section.h"
#include "shape/faces.h"

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

shape::Part rod(double length, double diameter) {
  shape::Part part;
  part.length = length;
  part.outline.pieces = {shape::line_piece(0, diameter / 2, length, diameter / 2)};
  return part;
}

TEST(Guard, OnAnEvenRodTheWorstPlaceIsTheMiddle) {
  // the same figures as above, found by looking for them; 850 mm free between 40 mm of head and 30 mm of foot
  const Stressed worst = worst_under_load(rod(920, 25), 40, 890, kInfillLoad);
  EXPECT_NEAR(worst.stress, 30.810, 0.0005);
  EXPECT_NEAR(worst.at.x, 465, 0.5);
  shape::Part square = rod(850, 25);
  square.outline.pieces = {shape::clear_piece(0, 850)};
  square.faces = shape::square_faces(32, 850);
  EXPECT_NEAR(worst_under_load(square, 0, 850, kInfillLoad).stress, 8.654, 0.0005);
}

TEST(Guard, OnAnUnevenRodTheWorstPlaceIsWhereMomentOverModulusIsGreatest) {
  // 20 thick to 200 of 850, 30 beyond: at 200 the moment is F 200 x 650/850, W = pi 20^3/32 = 785.398: 43.310 MPa; in the thick middle
  // F 850/4 over pi 30^3/32 = 2650.72: 17.830
  shape::Part part = rod(850, 30);
  part.outline.pieces = {shape::line_piece(0, 10, 200, 10), shape::line_piece(200, 15, 850, 15)};
  const Stressed worst = worst_under_load(part, 0, 850, kInfillLoad);
  EXPECT_NEAR(worst.stress, kInfillLoad * 200 * 650 / 850 / (std::numbers::pi * 8000 / 32), 1e-6);
  EXPECT_NEAR(worst.at.x, 200, 1e-9);
  EXPECT_NEAR(worst.at.thickness, 20, 1e-9);
}

TEST(Guard, AFootSpansSoManyAtLeast) {
  EXPECT_EQ(sharing_infill(130), 2);      // 2.34
  EXPECT_EQ(sharing_infill(101.6), 3);    // exactly
  EXPECT_EQ(sharing_infill(86.7), 3);
  EXPECT_EQ(sharing_infill(400), 1);
}

TEST(Guard, TheInfillNoteWarnsWhereSharedStressIsHighOrOneAloneWouldBreak) {
  shop::Wood wood;
  wood.label = "oak";
  wood.mor_mpa = 100;
  const Thin thin{400, 20, false, "neck"};
  EXPECT_EQ(infill_notes(thin, 850, 30, 2, wood).front().severity, Severity::note);
  // 70 shared by two is 35 %: a little more than a third, and 20 x cbrt(0.35 x 3) = 20.33, rounded up
  const Diagnostic warned = infill_notes(thin, 850, 70, 2, wood).front();
  EXPECT_EQ(warned.severity, Severity::warning);
  EXPECT_EQ(warned.remedy, "make it 20.4 mm thick or more there, or choose a stronger wood");
  // four share 110: 27.5 %, but one alone breaks
  EXPECT_EQ(infill_notes(thin, 850, 110, 4, wood).front().severity, Severity::warning);
}

}  // namespace
}  // namespace pommel::rules
