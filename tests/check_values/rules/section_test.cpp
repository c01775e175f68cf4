// Bars and bending, against figures worked from the formulas of W. C. Young, Roark's Formulas for Stress and Strain, and
// J. Gere and S. Timoshenko, Mechanics of Materials (formulas from memory; figures computed apart from this program).
#include "rules/section.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace pommel::rules {
namespace {

constexpr double kPi = std::numbers::pi;

TEST(Section, SecondMomentsOfFiftyMillimetres) {
  EXPECT_NEAR(second_moment(Section::square, 50), 520833.33, 0.005);
  EXPECT_NEAR(second_moment(Section::round, 50), 306796.16, 0.005);
  EXPECT_NEAR(second_moment(Section::octagon, 50), 342111.59, 0.05);  // 0.05473785 x 50⁴ to its own digits
  EXPECT_NEAR(area(Section::octagon, 1), 0.8284271, 5e-8);
  EXPECT_NEAR(second_moment(Section::octagon, 1), 0.05473785, 5e-9);
  EXPECT_NEAR(section_modulus(Section::round, 20), kPi * 8000 / 32, 1e-9);
  EXPECT_NEAR(section_modulus(Section::square, 30), 27000.0 / 6, 1e-9);
  EXPECT_NEAR(radius_of_gyration(Section::round, 40), 10, 1e-12);  // d/4
}

// The octagon's I from its eight triangles, apart from the closed form: base b, height h about the apex at the centre.
TEST(Section, OctagonFromItsTriangles) {
  const double s = 50, h = s / 2, b = 2 * h * std::tan(kPi / 8);
  // polar moment of a triangle about its apex: b h³/4 + b³ h/48; I is half of the sum's eight
  const double polar = 8 * (b * h * h * h / 4 + b * b * b * h / 48);
  EXPECT_NEAR(second_moment(Section::octagon, s), polar / 2, 1e-6);
}

struct Bar { double length, diameter, pinned, built_in, euler; };

TEST(Section, DeflectionAndEulerOfTwoBars) {
  // E = 10300 MPa, F = 50 N
  const Bar bars[] = {{700, 50, 0.113067, 0.028267, 63648.9}, {900, 32, 1.432350, 0.358088, 6459.84}};
  for (const Bar& bar : bars) {
    const double i = second_moment(Section::round, bar.diameter);
    EXPECT_NEAR(deflection(Held::pinned, 50, bar.length, 10300, i), bar.pinned, 5e-7);
    EXPECT_NEAR(deflection(Held::built_in, 50, bar.length, 10300, i), bar.built_in, 6e-7);
    EXPECT_NEAR(euler_load(bar.length, 10300, i), bar.euler, bar.euler * 1e-6);
  }
  const double thick = deflection(Held::pinned, 50, 700, 10300, second_moment(Section::round, 50));
  const double thin = deflection(Held::pinned, 50, 700, 10300, second_moment(Section::round, 25));
  EXPECT_DOUBLE_EQ(thin / thick, 16);
}

TEST(Section, FixedAtOneEndPinnedAtTheOther) {
  EXPECT_NEAR(deflection(Held::built_in_pinned, 50, 700, 10300, second_moment(Section::round, 28)), 0.503, 5e-4);
}

TEST(Section, BendingStress) {
  // 222.411 N (50 lb) at the middle of 850 mm, simply supported
  const double moment = moment_at_middle(222.411, 850);
  EXPECT_NEAR(bending_stress(moment, section_modulus(Section::square, 32)), 8.654, 5e-4);
  EXPECT_NEAR(bending_stress(moment, section_modulus(Section::round, 25)), 30.810, 5e-4);
  EXPECT_NEAR(bending_stress(moment, section_modulus(Section::round, 20)), 60.176, 5e-4);
  // 200 lb = 889.644 N at 36 in on a 90 mm square
  EXPECT_NEAR(bending_stress(moment_at_root(889.644, 914.4), section_modulus(Section::square, 90)), 6.695, 5e-4);
}

TEST(Section, Torsion) {
  // G = E/16 (from memory), E = 10300: 28 mm round, 500 long, 0.7 N m
  EXPECT_NEAR(twist(700, 500, 10300.0 / 16, 28) * 180 / kPi, 0.516, 5e-4);
  EXPECT_NEAR(torsion_stress(3000, 12), 8.84, 5e-3);
  EXPECT_NEAR(torsion_stress(3000, 20), 1.91, 5e-3);
}

TEST(Section, WhirlingSpeeds) {
  EXPECT_NEAR(whirl_rpm(Held::pinned, Section::round, 25, 1000, 200000, 7850), 2973.249, 5e-4);
  EXPECT_NEAR(whirl_rpm(Held::pinned, Section::round, 50, 1200, 10300, 560), 3508.7, 0.05);
  EXPECT_NEAR(whirl_rpm(Held::pinned, Section::round, 60, 2000, 10300, 560), 1515.7, 0.05);
  EXPECT_NEAR(whirl_rpm(Held::built_in, Section::round, 60, 2000, 10300, 560) / 1515.7, 2.2669, 1e-4);
  EXPECT_NEAR(whirl_rpm(Held::built_in_pinned, Section::round, 60, 2000, 10300, 560) / 1515.7, 1.562, 1e-4);
}

}  // namespace
}  // namespace pommel::rules
