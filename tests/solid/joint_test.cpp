// Mortises let into the turned part: volumes against the field and by hand.
#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <numbers>
#include <random>

#include "base/diagnostic.h"
#include "solid/legs.h"
#include "solid/solid.h"

namespace pommel::solid {
namespace {

using namespace testing;
using std::numbers::pi;

shape::Part square_post(double across) {
  return part_of(Turning(0).clear(300, 1), 4, across / 2);
}

shape::Mortise mortise(int quarter, double x0, double x1, double t0, double t1, double depth, double corner = 0) {
  shape::Mortise m;
  m.id = "m" + std::to_string(quarter) + "-" + std::to_string(static_cast<int>(x0));
  m.phi = quarter * pi / 2;
  m.x0 = x0, m.x1 = x1, m.t0 = t0, m.t1 = t1, m.depth = depth, m.corner_radius = corner;
  return m;
}

double volume_jointed(const shape::Part& part) {
  const Result<Solid> solid = jointed(part);
  EXPECT_TRUE(solid.ok()) << (solid.ok() ? "" : render(solid.reasons()));
  return solid.ok() ? volume(*solid) : 0;
}

TEST(Jointed, WithoutMortisesItIsTheTurnedPart) {
  EXPECT_NEAR(volume_jointed(square_post(50)), 750000, 1);
}

TEST(Jointed, OneSquareMortise) {
  shape::Part part = square_post(45);
  part.mortises = {mortise(0, 30, 90, -7.5, 7.5, 20)};
  EXPECT_NEAR(volume_jointed(part), 45.0 * 45 * 300 - 60 * 15 * 20, 1);
}

TEST(Jointed, RoundEnds) {
  shape::Part part = square_post(45);
  part.mortises = {mortise(1, 30, 90, -4, 4, 25, 4)};
  EXPECT_NEAR(volume_jointed(part), 45.0 * 45 * 300 - (52 * 8 + pi * 16) * 25, 1);
  part.mortises = {mortise(1, 30, 90, -6, 6, 25, 3)};
  EXPECT_NEAR(volume_jointed(part), 45.0 * 45 * 300 - (60 * 12 - (4 - pi) * 9) * 25, 1);
}

TEST(Jointed, TwoCentredMortisesMeetAndTheirCommonWoodCountsOnce) {
  // a = 45, t = 15, depth 20, height 60: common volume 1500 mm3
  shape::Part part = square_post(45);
  part.mortises = {mortise(0, 30, 90, -7.5, 7.5, 20), mortise(1, 30, 90, -7.5, 7.5, 20)};
  EXPECT_NEAR(volume_jointed(part), 45.0 * 45 * 300 - (2 * 60 * 15 * 20 - 1500), 1);
}

TEST(Jointed, HaunchOpenAtTheHead) {
  shape::Part part = square_post(45);
  part.mortises = {mortise(0, 30, 90, -5, 5, 25)};
  part.mortises[0].haunch_length = 30;
  part.mortises[0].haunch_depth = 10;
  EXPECT_NEAR(volume_jointed(part), 45.0 * 45 * 300 - (60 * 10 * 25 + 30 * 10 * 10), 1);
}

TEST(Jointed, OpenMortiseAtTheHead) {
  shape::Part part = square_post(45);
  part.mortises = {mortise(0, 0, 60, -5, 5, 25)};
  ASSERT_TRUE(shape::problems(part).empty()) << render(shape::problems(part));
  EXPECT_NEAR(volume_jointed(part), 45.0 * 45 * 300 - 60 * 10 * 25, 1);
}

TEST(Jointed, AMortiseWithoutAFaceIsRefused) {
  shape::Part part = part_of(Turning(20).cylinder(100));
  part.mortises = {mortise(0, 30, 60, -5, 5, 10)};
  EXPECT_FALSE(jointed(part).ok());
}

TEST(Jointed, BenchLegBothWays) {
  for (const double corner : {0.0, 2.0, 5.0}) {
    const shape::Part part = bench_leg_jointed(corner);
    const double wanted = shape::turned_volume(part) - shape::mortised_volume(part);
    EXPECT_NEAR(volume_jointed(part), wanted, 1e-6 * wanted) << corner;
  }
}

TEST(Jointed, ABoreItsSeatAndOneThroughByHand) {
  shape::Part part = square_post(45);
  shape::Bore bolt;
  bolt.id = "bolt", bolt.x = 60, bolt.diameter = 10, bolt.depth = 45, bolt.seat_diameter = 26, bolt.seat_depth = 8;
  shape::Bore blind;
  blind.id = "blind", blind.phi = pi / 2, blind.x = 150, blind.t = 4, blind.diameter = 8, blind.depth = 20;
  part.bores = {bolt, blind};
  const double taken = pi * (13 * 13 * 8 + 25 * 37 + 16 * 20);
  EXPECT_NEAR(volume_jointed(part), 45.0 * 45 * 300 - taken, 1);
}

TEST(Jointed, AWireWayAlongTheAxis) {
  shape::Part part = part_of(Turning(20).cylinder(300));
  part.axial_bores = {{"wire", 12, 0, 300}};
  EXPECT_NEAR(volume_jointed(part), pi * (400 - 36) * 300, 1);
  part.axial_bores = {{"socket", 16, 0, 50}};
  EXPECT_NEAR(volume_jointed(part), pi * (400 * 300 - 64 * 50), 1);
}

TEST(Jointed, RakedEnds) {
  // a plane through the axis at x takes from a body with two equal halves as much as it leaves
  shape::Part part = square_post(40);
  part.end_cuts = {{true, 30, 0.6, 0}, {false, 270, 0.6, pi}};
  EXPECT_NEAR(volume_jointed(part), 40.0 * 40 * 240, 1);
  const Result<Solid> solid = jointed(part);
  ASSERT_TRUE(solid.ok());
  Probe probe(*solid);
  // the head grows longer in the direction of face A
  EXPECT_LT(probe.distance({25, 15, 0}), 0);
  EXPECT_GT(probe.distance({25, -15, 0}), 0);
  EXPECT_LT(probe.distance({275, -15, 0}), 0);
}

TEST(Jointed, FromTheTurnedSolidItIsTheSame) {
  const shape::Part part = bench_leg_jointed();
  const Result<Solid> round = turned(part);
  ASSERT_TRUE(round.ok());
  const Result<Solid> once = jointed(*round, part), whole = jointed(part);
  ASSERT_TRUE(once.ok() && whole.ok());
  EXPECT_EQ(volume(*once), volume(*whole));
  EXPECT_EQ(census(*once).faces, census(*whole).faces);
  // another leg's turning does not pass for this one's
  EXPECT_FALSE(jointed(*turned(random_leg(3, Shoulder::sloped)), part).ok());
}

TEST(Jointed, SweptMortises) {
  const auto since = std::chrono::steady_clock::now();
  double worst = 0;
  int parts = 0;
  for (unsigned seed = 0; seed < 30; ++seed) {
    std::mt19937 engine(seed);
    const auto between = [&](double a, double b) {
      return a + (b - a) * (static_cast<double>(engine()) / 4294967296.0);
    };
    shape::Part part = random_leg(50000 + seed, static_cast<Shoulder>(seed % 4));
    const double half = part.faces[0].d.pieces[0].r0, head = part.outline.pieces[0].x1;
    const double x0 = between(0.25, 0.4) * head, x1 = between(0.6, 0.95) * head;
    for (int quarter = 0; quarter < 2 + static_cast<int>(seed % 2); ++quarter) {
      const double width = between(0.2, 0.5) * half, t0 = between(-0.6, 0.3) * half;
      shape::Mortise m = mortise(quarter, x0, x1, t0, t0 + width, between(0.4, 1.2) * half,
                                 seed % 3 == 0   ? 0
                                 : seed % 3 == 1 ? width / 2
                                                 : width / 5);
      if (seed % 2) m.haunch_length = x0 * between(0.3, 1), m.haunch_depth = between(0.1, 0.3) * half;
      if (seed % 4 == 1) m.haunch_length = x0, m.corner_radius = 0;
      part.mortises.push_back(m);
    }
    ASSERT_TRUE(shape::problems(part).empty()) << seed << render(shape::problems(part));
    const Result<Solid> solid = jointed(part);
    ASSERT_TRUE(solid.ok()) << "seed " << seed << render(solid.reasons()) << shape::dump(part);
    const double wanted = shape::turned_volume(part) - shape::mortised_volume(part);
    worst = std::max(worst, std::abs(volume(*solid) - wanted) / wanted);
    ++parts;
  }
  EXPECT_EQ(parts, 30);
  EXPECT_LT(worst, 1e-4);
  const double s = std::chrono::duration<double>(std::chrono::steady_clock::now() - since).count();
  std::printf("jointed: %d parts, worst volume %.2e, %.1f s\n", parts, worst, s);
}

}  // namespace
}  // namespace pommel::solid
