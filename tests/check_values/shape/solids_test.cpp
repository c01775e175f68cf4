// Volumes, areas and sections against closed forms. The formulas are school geometry: frustum and spherical cap from any
// table of solids; Pappus' theorem (a turned area's volume is the area times the path of its centroid, half a disc's centroid
// lying 4r/(3 pi) from its diameter); the common body of two equal crossed cylinders (Archimedes, Method: 16 r³/3, skin
// 16 r²). Where a number stands it was worked from the formula beside it, outside this program.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "shape/faces.h"
#include "shape/outline.h"
#include "shape/part.h"

namespace pommel::shape {
namespace {

constexpr double kPi = std::numbers::pi;

Part bar(const Profile& outline, std::vector<Face> faces = {}) {
  Part part;
  part.length = outline.end();
  part.outline = outline;
  part.faces = std::move(faces);
  return part;
}

Part octagonal(double across, double length) {
  return bar({{clear_piece(0, length)}}, polygon_faces(8, across, length));
}

TEST(Solids, Frustum) {
  Part part = bar({{line_piece(0, 30, 100, 20)}});
  // pi h (R² + R r + r²)/3; pi (R + r) sqrt(h² + (R - r)²)
  EXPECT_NEAR(turned_volume(part), 198967.5347, 5e-5);
  EXPECT_NEAR(turned_area(part) - kPi * (900 + 400), 15786.3077, 1e-4);
}

TEST(Solids, SphericalCap) {
  // radius 30, height 10: from the pole, where r = 0, to the parallel of radius sqrt(10 (60 - 10))
  double rim = std::sqrt(500.0);
  Part part = bar({{arc_about(0, 0, 10, rim, 30, 0, 30, 1)}});
  ASSERT_TRUE(problems(part).empty());
  EXPECT_NEAR(turned_volume(part), 8377.5804, 1e-4);            // pi h² (3 R - h)/3
  EXPECT_NEAR(turned_area(part) - kPi * 500, 1884.9556, 1e-4);  // 2 pi R h
}

TEST(Solids, BallElementIsAZoneOfTheSphere) {
  ElementSpec neck, ball, foot;
  neck.kind = foot.kind = ElementKind::cylinder;
  neck.length = 10;
  neck.start = 24;
  ball.kind = ElementKind::ball;
  ball.start = 24;
  ball.end = 32;
  ball.greatest = 40;
  foot.share = 1;
  Result<BuiltOutline> built = build_outline({neck, ball, foot}, 58, StockSection::square(60));
  ASSERT_TRUE(built.ok());
  // zone of height h = 28 between a = 12 and b = 16: pi h (3 a² + 3 b² + h²)/6
  double zone = kPi * 28 * (3 * 144 + 3 * 256 + 784) / 6;
  EXPECT_NEAR(turned_volume(bar(built->outline)), kPi * 144 * 10 + zone + kPi * 256 * 20, 1e-4);
}

// A groove or ring with a half-round section of radius 5 on a bar of diameter 40.
TEST(Solids, BeadAndCoveByPappus) {
  for (auto [kind, change] : {std::pair{ElementKind::bead, 5458.4010}, std::pair{ElementKind::cove, -4411.2034}}) {
    ElementSpec neck, middle, rest;
    neck.kind = rest.kind = ElementKind::cylinder;
    neck.length = 20;
    neck.start = 40;
    middle.kind = kind;
    middle.length = 10;
    rest.share = 1;
    Result<BuiltOutline> built = build_outline({neck, middle, rest}, 60, StockSection::square(60));
    ASSERT_TRUE(built.ok());
    Part part = bar(built->outline, square_faces(60, 60));
    double plain = kPi * 400 * 60;
    EXPECT_NEAR(turned_volume(part) - plain, change, 1e-4);
    // Pappus for the skin: the half circle of length pi r has its centroid 2 r/pi from the diameter
    double out = kind == ElementKind::bead ? 1 : -1;
    double skin = 2 * kPi * (20 + out * 10 / kPi) * 5 * kPi;
    EXPECT_NEAR(turned_area(part), 2 * kPi * 20 * 50 + skin + 2 * kPi * 400, 1e-6 * turned_area(part));
  }
}

// Circle of diameter D in a square of 50: pi R² - 4 (R² acos(h/R) - h sqrt(R² - h²)), h = 25.
TEST(Solids, SectionOfASquareAndACircle) {
  struct Row {
    double diameter, area;
  };
  for (const Row& row : {Row{60, 2377.2778}, Row{70, 2499.4932}, Row{70.711, 2500}, Row{90, 2500}, Row{50, 625 * kPi},
                         Row{40, 400 * kPi}}) {
    Part part = bar({{line_piece(0, row.diameter / 2, 10, row.diameter / 2)}}, square_faces(50, 10));
    EXPECT_NEAR(section_area(part, 5, Side::after), row.area, 5e-5) << row.diameter;
    EXPECT_NEAR(turned_volume(part), row.area * 10, 5e-4) << row.diameter;
  }
  // the same by eighths: 8 (h²/2 tan p + R²/2 (pi/4 - p)), p = acos(h/R), at a thousand radii
  for (int i = 1; i < 1000; ++i) {
    double h = 25, r = h + (h * std::numbers::sqrt2 - h) * i / 1000, p = std::acos(h / r);
    Part part = bar({{line_piece(0, r, 10, r)}}, square_faces(50, 10));
    EXPECT_NEAR(section_area(part, 5, Side::after), 8 * (h * h / 2 * std::tan(p) + r * r / 2 * (kPi / 4 - p)), 1e-9);
  }
}

TEST(Solids, OctagonHasItsTableArea) {
  // 2 tan(pi/8) s² = 0.8284271 s²
  EXPECT_NEAR(section_area(octagonal(50, 100), 50, Side::after), 0.8284271247 * 2500, 1e-6);
  EXPECT_NEAR(turned_volume(octagonal(50, 100)), 0.8284271247 * 250000, 1e-3);
  EXPECT_NEAR(reach(octagonal(50, 100)), 25 / std::cos(kPi / 8), 1e-12);
}

TEST(Solids, SquareTaperedOnFourSidesIsAFrustumOfAPyramid) {
  Part part = bar({{clear_piece(0, 300)}}, *tapered(square_faces(60, 300), {{0, 1, 2, 3}, 0, 300, 15}));
  EXPECT_NEAR(turned_volume(part), 300.0 * (3600 + 900 + 1800) / 3, 1e-6);
  double slant = std::hypot(300, 15);
  EXPECT_NEAR(turned_area(part), 3600 + 900 + 4 * slant * (60 + 30) / 2, 1e-6 * turned_area(part));
  // on two neighbouring sides: the section is (30 + d)², d from 30 to 15
  Part two = bar({{clear_piece(0, 300)}}, *tapered(square_faces(60, 300), {{0, 1}, 0, 300, 15}));
  EXPECT_NEAR(turned_volume(two), 300.0 * (3600 + 2025 + 2700) / 3, 1e-6);
}

// Two faces curved as a cylinder across the bar leave what two crossed cylinders of radius 25 have in common.
TEST(Solids, CrossedCylinders) {
  Profile curve{{arc_about(0, 0, 50, 0, 25, 0, 25, 1)}};
  Part part = bar({{line_piece(0, 25, 50, 25)}}, {{0, curve}, {kPi, curve}});
  EXPECT_NEAR(turned_volume(part), 250000.0 / 3, 1e-9 * 83333);  // 16 r³/3
  EXPECT_NEAR(turned_area(part), 10000, 1e-2);                   // 16 r²
}

TEST(Solids, StepsHaveWalls) {
  Part part = bar({{line_piece(0, 20, 50, 20), line_piece(50, 12, 90, 12)}});
  EXPECT_NEAR(turned_area(part), 2 * kPi * (20 * 50 + 12 * 40) + 2 * kPi * 400,
              1e-6);  // both ends and the wall: twice the large disc
  Part square = bar({{clear_piece(0, 50), line_piece(50, 12, 90, 12)}}, square_faces(40, 90));
  EXPECT_NEAR(turned_area(square), 4 * 40 * 50 + 2 * kPi * 12 * 40 + 2 * 1600, 1e-6);
}

// Two mortises let into neighbouring faces. In a square of a, the centre c from the outer face and width t: they meet when
// the depth exceeds a - c - t/2; then their common body is a square prism of that excess.
Part two_mortises(double a, double centre, double t, double depth, double height) {
  Part part = bar({{clear_piece(0, 200)}}, square_faces(a, 200));
  double off = a / 2 - centre;
  part.mortises.push_back({"a", "", 0, 50, 50 + height, -off - t / 2, -off + t / 2, depth, 0, 0, 0});
  part.mortises.push_back({"b", "", kPi / 2, 50, 50 + height, off - t / 2, off + t / 2, depth, 0, 0, 0});
  return part;
}

TEST(Mortises, CommonVolumeOfTwoOffCentre) {
  for (int quarters = 0; quarters < 4; ++quarters) {
    Part part = turned_by(two_mortises(60, 14, 8, 44, 70), quarters);
    ASSERT_TRUE(problems(part).empty());
    EXPECT_NEAR(2 * 8 * 44 * 70 - mortised_volume(part), 280, 1e-8);  // 2 x 2 x 70
    EXPECT_NEAR(2 * 8 * 44 * 70 - mortised_volume(mirrored(part)), 280, 1e-8);
    EXPECT_NEAR(mortised_volume(turned_by(two_mortises(60, 14, 8, 42, 70), quarters)), 2 * 8 * 42 * 70,
                1e-8);  // just do not meet
  }
}

TEST(Mortises, CommonVolumeOfTwoCentred) {
  Part part = two_mortises(45, 22.5, 15, 20, 60);
  EXPECT_NEAR(2 * 15 * 20 * 60 - mortised_volume(part), 1500, 1e-8);  // 5 x 5 x 60
  EXPECT_NEAR(mortised_volume(two_mortises(45, 22.5, 15, 15, 60)), 2 * 15 * 15 * 60, 1e-8);
}

}  // namespace
}  // namespace pommel::shape
