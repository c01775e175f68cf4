// Stiffness against closed forms: Gere & Timoshenko, Mechanics of Materials; Roark's Formulas for Stress and Strain.
#include "rules/stiffness.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "rules/section.h"
#include "shape/faces.h"

namespace pommel::rules {
namespace {

Slice round_section(double x0, double x1, double d) {
  const double pi = std::numbers::pi;
  return {x0, x1, pi * d * d / 4, pi * std::pow(d, 4) / 64, pi * std::pow(d, 4) / 32, d / 2};
}

shape::Part cylinder(double d, double length) {
  shape::Part part;
  part.length = length;
  part.outline.pieces = {shape::line_piece(0, d / 2, length, d / 2)};
  return part;
}

TEST(Stiffness, UniformBarLoadedAtItsMiddle) {
  const double inertia = std::numbers::pi * std::pow(28, 4) / 64;
  for (int pieces : {1, 2, 7, 350}) {
    Bar bar;
    for (int i = 0; i < pieces; ++i) bar.slices.push_back(round_section(700.0 * i / pieces, 700.0 * (i + 1) / pieces, 28));
    const double exact = 7 * 50 * std::pow(700, 3) / (768 * 10300 * inertia);
    EXPECT_NEAR(deflection(bar, 350, 50, 10300) / exact, 1, 1e-9);
    EXPECT_NEAR(deflection(bar, 350, 50, 10300), 0.503, 0.0005);
    EXPECT_NEAR(moment_at_chuck(bar, 350, 50), 3 * 50 * 700.0 / 16, 1e-6);
    EXPECT_NEAR(deflection(bar, 700, 50, 10300), 0, 1e-12);
  }
  const Bar cut = bar_of(cylinder(28, 700), {0, 700, true, 0, 0});
  EXPECT_NEAR(deflection(cut, 350, 50, 10300), 7 * 50 * std::pow(700, 3) / (768 * 10300 * inertia), 1e-6);
}

// By hand: I from 0 to 1, I/2 from 1 to 2 (E I = 1, F = 1 at x = 1). The pushed integral over 0..1 of (1 - x)(2 - x) is 5/6;
// the held one is 7/3 + 2/3 = 3; so the centre holds 5/18. Deflection: 1/3 - 5/18 * 5/6 = 11/108.
TEST(Stiffness, SteppedBarByHand) {
  const Bar bar{{{0, 1, 1, 1, 1, 1}, {1, 2, 1, 0.5, 1, 1}}};
  EXPECT_NEAR(deflection(bar, 1, 1, 1), 11.0 / 108, 1e-12);
  EXPECT_NEAR(moment_at_chuck(bar, 1, 1), 1 - 2 * 5.0 / 18, 1e-12);
}

TEST(Stiffness, WindUp) {
  const Bar bar{{round_section(0, 200, 28), round_section(200, 500, 28)}};
  EXPECT_NEAR(wind_up(bar, 500, 700, 10300.0 / 16) * 180 / std::numbers::pi, 0.516, 0.0005);
  const Bar stepped{{round_section(0, 100, 40), round_section(100, 200, 20)}};
  const double j = std::numbers::pi * std::pow(20, 4) / 32;
  EXPECT_NEAR(wind_up(stepped, 150, 1000, 600), 1000 / 600.0 * (100 / (16 * j) + 50 / j), 1e-12);
}

TEST(Stiffness, FirstTone) {
  // fixed and pinned: 3.926602² sqrt(E I / rho A) / (2 pi L²)
  const double d = 50, length = 1200, e = 10300, density = 560;
  const Bar bar{{round_section(0, 500, d), round_section(500, length, d)}};
  const double exact = 3.926602 * 3.926602 * std::sqrt(e * d * d / 16 / (density * 1e-12)) / (length * length) / (2 * std::numbers::pi);
  EXPECT_NEAR(first_tone(bar, e, density) / exact, 1, 1e-4);
  // 1.562 times the pinned bar's 3508.7 turns a minute
  EXPECT_NEAR(first_tone(bar, e, density) * 60, 3508.7 * 1.562, 3);
}

TEST(Stiffness, Stubs) {
  EXPECT_NEAR(torsion_stress(3000, 12), 8.84, 0.005);
  EXPECT_NEAR(torsion_stress(3000, 20), 1.91, 0.005);
  shop::Wood wood;
  wood.mor_mpa = 85;
  EXPECT_EQ(least_stub(3000, 0, wood), kLeastStub);
  const double thick = least_stub(60000, 0, wood);
  EXPECT_NEAR(kStubFactor * torsion_stress(60000, thick), 85.0 / 8, 1e-9);
  const double bent = least_stub(0, 90000, wood);
  EXPECT_NEAR(kStubFactor * bending_stress(90000, section_modulus(Section::round, bent)), 85, 1e-9);
}

TEST(Stiffness, SectionsOfSquares) {
  shape::Part part;
  part.length = 100;
  part.outline.pieces = {shape::clear_piece(0, 100)};
  part.faces = shape::square_faces(50, 100);
  const Bar bar = bar_of(part, {-20, 130, false, 0, 20});
  ASSERT_GT(bar.slices.size(), 10u);
  EXPECT_EQ(bar.slices.front().x0, 0);
  EXPECT_EQ(bar.length(), 150);
  EXPECT_NEAR(bar.slices.front().radius, 10, 1e-12);  // the foot's stub is at the chuck
  EXPECT_NEAR(bar.slices.back().area, 2500, 1e-4);
  EXPECT_NEAR(bar.slices.back().inertia, 520833.33, 0.5);
  for (std::size_t i = 0; i + 1 < bar.slices.size(); ++i) EXPECT_EQ(bar.slices[i].x1, bar.slices[i + 1].x0);
}

TEST(Stiffness, WarnsWithRemedies) {
  shop::Wood wood;
  wood.mor_mpa = 85, wood.moe_mpa = 10300, wood.specific_gravity = 0.5, wood.source = "Wood Handbook";
  Load load;
  load.teeth_per_second = 600, load.turns_per_second = 0.5;
  const Stiffness stout = stiffness(cylinder(60, 700), {-60, 760, true, 40, 40}, wood, load);
  EXPECT_TRUE(stout.warnings.empty());
  EXPECT_EQ(stout.lines.size(), 4u);
  load.turns_per_second = 30;
  const Stiffness slim = stiffness(cylinder(20, 900), {-60, 960, true, 20, 20}, wood, load);
  std::vector<std::string> ids;
  for (const Diagnostic& d : slim.warnings) ids.push_back(d.id);
  EXPECT_EQ(ids, (std::vector<std::string>{"rules.bends", "rules.winds-up", "rules.whirls"}));
  load.teeth_per_second = slim.tone * 1.1, load.turns_per_second = 0;
  EXPECT_EQ(stiffness(cylinder(20, 900), {-60, 960, true, 20, 20}, wood, load).warnings.back().id, "rules.rings");
}

}  // namespace
}  // namespace pommel::rules
