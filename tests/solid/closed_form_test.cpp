// Volumes, areas and boxes of bodies that can be worked out by hand.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "base/diagnostic.h"
#include "solid/legs.h"
#include "solid/solid.h"

namespace pommel::solid {
namespace {

using namespace testing;
using std::numbers::pi;
using std::numbers::sqrt2;

Solid made(const shape::Part& part) {
  Result<Solid> solid = turned(part);
  EXPECT_TRUE(solid.ok()) << (solid.ok() ? "" : render(solid.reasons()));
  return solid.ok() ? *solid : *turned(part_of(Turning(1).cylinder(1)));
}

void expect_near(double found, double wanted, const char* what) {
  EXPECT_NEAR(found, wanted, 1e-6 * wanted) << what;
}

TEST(ClosedForm, Frustum) {
  const Solid s = made(part_of(Turning(30).line(100, 20)));
  expect_near(volume(s), 198967.5347, "volume");
  expect_near(area(s), 15786.3077 + pi * (900 + 400), "lateral and both ends");
  const Box box = bounds(s);
  EXPECT_NEAR(box.low.x, 0, 1e-3);
  EXPECT_NEAR(box.high.x, 100, 1e-3);
  EXPECT_NEAR(box.low.y, -30, 1e-3);
  EXPECT_NEAR(box.high.z, 30, 1e-3);
}

TEST(ClosedForm, SphereCapEndsOnTheAxis) {
  // R = 30, height 10: base radius sqrt(900 - 400)
  const Solid s = made(part_of(Turning(0).bulge(10, std::sqrt(500), 30)));
  expect_near(volume(s), 8377.5804, "volume");
  expect_near(area(s), 1884.9556 + pi * 500, "cap and base");
}

TEST(ClosedForm, WholeBall) {
  const Solid s = made(part_of(Turning(0).bulge(25, 25, 25).bulge(25, 0, 25)));
  expect_near(volume(s), 4 * pi / 3 * 15625, "volume");
  expect_near(area(s), 4 * pi * 625, "area");
}

TEST(ClosedForm, BeadAndCoveByPappus) {
  // half-round of r = 5 on a cylinder of 40 mm diameter; centroid of a half-disc at 4r/3pi
  const double rod = pi * 400 * 30;
  const Solid bead = made(part_of(Turning(20).cylinder(10).half_round(10).cylinder(10)));
  expect_near(volume(bead), rod + 5458.4010, "bead");
  const Solid cove = made(part_of(Turning(20).cylinder(10).half_hollow(10).cylinder(10)));
  expect_near(volume(cove), rod - 4411.2034, "cove");
}

TEST(ClosedForm, SquareCutByCircle) {
  // square of 50 mm: D = 60 and D = 70; above 50 sqrt 2 the square is whole
  for (const auto& [diameter, section] : {std::pair{60.0, 2377.2778},
                                          {70.0, 2499.4932},
                                          {70.711, 2500.0},
                                          {80.0, 2500.0},
                                          {50.0, pi * 625},
                                          {50 * sqrt2, 2500.0}}) {
    const Solid s = made(part_of(Turning(diameter / 2).cylinder(40), 4, 25));
    EXPECT_NEAR(volume(s), 40 * section, 40 * section * 1e-6) << diameter;
  }
}

TEST(ClosedForm, PlainPrisms) {
  expect_near(volume(made(part_of(Turning(0).clear(100, 1), 4, 25))), 250000, "square");
  expect_near(area(made(part_of(Turning(0).clear(100, 1), 4, 25))), 4 * 5000 + 2 * 2500, "square's skin");
  // octagon across flats s: 2 (sqrt 2 - 1) s²
  expect_near(volume(made(part_of(Turning(0).clear(100, 1), 8, 25))), 100 * 0.8284271247 * 2500, "octagon");
  expect_near(volume(made(part_of(Turning(0).clear(100, 1), 6, 20, 0.3))), 100 * 2 * std::sqrt(3) * 400,
              "hexagon, turned");
  expect_near(volume(made(part_of(Turning(0).clear(100, 1), 3, 10))), 100 * 3 * std::sqrt(3) * 100, "triangle");
}

TEST(ClosedForm, TaperedSquareIsAFrustumOfAPyramid) {
  shape::Part part = part_of(Turning(0).clear(300, 1), 4, 30);
  for (auto& face : part.faces) face.d = {{shape::line_piece(0, 30, 300, 15)}};
  expect_near(volume(made(part)), 300.0 / 3 * (3600 + 900 + std::sqrt(3600.0 * 900)), "volume");
}

TEST(ClosedForm, TwoSidedTaperBelowAStraightHead) {
  // faces A and B run in from 25 to 15 over the lower 200 of 300 mm; C and D stay: sections (25 + d)²
  shape::Part part = part_of(Turning(0).clear(300, 1), 4, 25);
  for (int i : {0, 1})
    part.faces[static_cast<std::size_t>(i)].d = {
        {shape::line_piece(0, 25, 100, 25), shape::line_piece(100, 25, 300, 15)}};
  expect_near(volume(made(part)), 100 * 2500 + 200.0 / 3 * (2500 + 1600 + 2000), "volume");
}

TEST(ClosedForm, PlacedKeepsItsSizeAndMovesItsBox) {
  const Solid s = made(part_of(Turning(0).clear(100, 1), 4, 10));
  const Result<Solid> up = placed(s, {{5, 6, 700}, {0, 0, -1}, {1, 0, 0}});
  ASSERT_TRUE(up.ok());
  expect_near(volume(*up), 40000, "volume");
  const Box box = bounds(*up);
  EXPECT_NEAR(box.low.z, 600, 1e-3);
  EXPECT_NEAR(box.high.z, 700, 1e-3);
  EXPECT_NEAR(box.low.x, -5, 1e-3);
  EXPECT_NEAR(box.high.y, 16, 1e-3);
}

}  // namespace
}  // namespace pommel::solid
