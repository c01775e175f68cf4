// The judge of distances, itself judged by hand-worked bodies and by a slow search over the field.
#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <limits>
#include <numbers>
#include <random>

#include "solid/legs.h"
#include "solid/mesh.h"
#include "solid/solid.h"

namespace pommel::solid {
namespace {

using namespace testing;
using std::numbers::pi;

Point at(double x, double radius, double theta) {
  return {x, radius * std::cos(theta), radius * std::sin(theta)};
}

TEST(Probe, DistancesOfASquarePost) {
  const Result<Solid> post = turned(part_of(Turning(0).clear(100, 1), 4, 20));
  ASSERT_TRUE(post.ok());
  Probe probe(*post);
  EXPECT_NEAR(probe.distance({50, 0, 0}), -20, 1e-6);
  EXPECT_NEAR(probe.distance({50, 25, 3}), 5, 1e-6);
  EXPECT_NEAR(probe.distance({50, 23, 24}), 5, 1e-6);    // over an arris
  EXPECT_NEAR(probe.distance({103, 24, 32}), 13, 1e-6);  // over a corner: 3, 4, 12
  EXPECT_NEAR(probe.distance({1, 0, 0}), -1, 1e-6);
  EXPECT_NEAR(probe.distance({50, 20, 0}), 0, 1e-6);
  const Point near = probe.nearest({50, 25, 3});
  EXPECT_NEAR(near.y, 20, 1e-6);
  EXPECT_NEAR(near.z, 3, 1e-6);
  EXPECT_TRUE(std::isnan(probe.distance({std::nan(""), 0, 0})));
  EXPECT_TRUE(std::isnan(probe.distance({0, std::numeric_limits<double>::infinity(), 0})));
}

TEST(Probe, DistancesOfRoundBodiesAlsoFromTheAxis) {
  const Result<Solid> rod = turned(part_of(Turning(20).cylinder(100)));
  ASSERT_TRUE(rod.ok());
  Probe probe(*rod);
  EXPECT_NEAR(probe.distance({50, 0, 0}), -20, 1e-6);
  EXPECT_NEAR(probe.distance({50, 26, 0}), 6, 1e-6);
  EXPECT_NEAR(probe.distance({-3, 24, 0}), 5, 1e-6);
  const Result<Solid> ball = turned(part_of(Turning(0).bulge(25, 25, 25).bulge(25, 0, 25)));
  ASSERT_TRUE(ball.ok());
  Probe of_ball(*ball);
  EXPECT_NEAR(of_ball.distance({25, 30, 40}), 25, 1e-6);
  EXPECT_NEAR(of_ball.distance({25, 0, 0}), -25, 1e-6);
  EXPECT_NEAR(of_ball.distance({25, 3, 4}), -20, 1e-6);
}

TEST(Probe, RadiusAtAWallIsTheGreater) {
  const Result<Solid> solid = turned(part_of(Turning(20).cylinder(50).wall(12).cylinder(50)));
  ASSERT_TRUE(solid.ok());
  Probe probe(*solid);
  EXPECT_NEAR(*probe.radius(50, 1), 20, 1e-6);
  EXPECT_NEAR(*probe.radius(49.9, 1), 20, 1e-6);
  EXPECT_NEAR(*probe.radius(50.1, 1), 12, 1e-6);
  EXPECT_FALSE(probe.radius(101, 1).has_value());
  EXPECT_FALSE(probe.radius(-1, 1).has_value());
  EXPECT_FALSE(probe.radius(std::nan(""), 1).has_value());
}

// Least distance to the field's own surface near the point, on a grid refined around the best place.
double slow_distance(const shape::Part& part, const Point& p) {
  double best = std::numeric_limits<double>::infinity(), bx = p.x, bt = std::atan2(p.z, p.y), wx = 30, wt = 1.2;
  for (int round = 0; round < 9; ++round) {
    const double cx = bx, ct = bt;
    for (int i = -40; i <= 40; ++i) {
      for (int j = -40; j <= 40; ++j) {
        const double x = std::clamp(cx + wx * i / 40, 0.0, part.length), t = ct + wt * j / 40;
        const Point q = at(x, shape::radius_at(part, x, t), t);
        const double d = std::hypot(q.x - p.x, q.y - p.y, q.z - p.z);
        if (d < best) best = d, bx = x, bt = t;
      }
    }
    wx *= 0.3, wt *= 0.3;
  }
  return best;
}

TEST(Probe, AgreesWithASlowSearchOverTheField) {
  const shape::Part part = bench_leg();
  const Result<Solid> solid = turned(part);
  ASSERT_TRUE(solid.ok());
  Probe probe(*solid);
  std::mt19937 engine(3);
  const auto between = [&](double a, double b) { return a + (b - a) * (static_cast<double>(engine()) / 4294967296.0); };
  double worst_over = 0;
  int points = 0;
  for (int i = 0; i < 150; ++i) {
    const double x = between(40, 680), theta = between(0, 2 * pi);
    const double r = shape::radius_at(part, x, theta), off = between(0.2, 3);
    const double d = probe.distance(at(x, r + off, theta));
    ASSERT_GT(d, 0) << x << " " << theta;
    // the search finds a true surface point, so it can only be farther; walls have no points in the field
    const double slow = slow_distance(part, at(x, r + off, theta));
    EXPECT_LE(d, slow + 1e-6) << x << " " << theta;
    worst_over = std::max(worst_over, slow - d);
    if (slow - d < 1e-3) ++points;
  }
  EXPECT_GE(points, 120) << "the rest stand nearest to a wall";
  std::printf("distance: %d of 150 within 0.001 mm of the slow search\n", points);
}

TEST(Probe, TheNearestPointIsOnTheBoundaryAndTheSidesAreRight) {
  const shape::Part part = bench_leg();
  const Result<Solid> solid = turned(part);
  ASSERT_TRUE(solid.ok());
  const auto built = std::chrono::steady_clock::now();
  Probe probe(*solid);
  const auto since = std::chrono::steady_clock::now();
  std::mt19937 engine(4);
  const auto between = [&](double a, double b) { return a + (b - a) * (static_cast<double>(engine()) / 4294967296.0); };
  constexpr int kPoints = 4000;
  int wrong_side = 0, off_boundary = 0, not_lipschitz = 0;
  double last = 0;
  Point before{};
  for (int i = 0; i < kPoints; ++i) {
    const double x = between(0.5, part.length - 0.5), theta = between(0, 2 * pi);
    const double r = shape::radius_at(part, x, theta);
    double radius = i % 5 == 0 ? between(0, r) : r + between(-2, 4);
    if (std::abs(radius - r) < 1e-4) radius = r + 0.01;
    const Point p = at(x, radius, theta);
    const double d = probe.distance(p);
    if ((d > 0) != (radius > r)) ++wrong_side;
    const Point q = probe.nearest(p);
    const double step = std::hypot(q.x - p.x, q.y - p.y, q.z - p.z);
    if (std::abs(step - std::abs(d)) > 1e-9 || std::abs(d) > std::abs(radius - r) + 1e-5) ++off_boundary;
    // a distance changes by no more than the way gone
    if (i > 0 && std::abs(d - last) > std::hypot(p.x - before.x, p.y - before.y, p.z - before.z) + 1e-6)
      ++not_lipschitz;
    last = d, before = p;
  }
  EXPECT_EQ(wrong_side, 0);
  EXPECT_EQ(off_boundary, 0);
  EXPECT_EQ(not_lipschitz, 0);
  const std::chrono::duration<double, std::milli> building = since - built;
  const std::chrono::duration<double, std::micro> asking = std::chrono::steady_clock::now() - since;
  std::printf("probe: built in %.1f ms, %.0f us a question\n", building.count(), asking.count() / (2 * kPoints));
}

// Points over the rim of a hollow were said to be in the wood: the nearest point is the rim, the kernel gave it as a place of the hollow, and
// there the hollow's own normal leans away from them.
TEST(Probe, OverARimTheSideIsNotToldByTheFaceThatBendsAway) {
  const shape::Part part = part_of(Turning(20).cylinder(10).hollow(9, 24.3, 10).wall(23.4).bulge(20, 30, 30).cylinder(5));
  const Result<Solid> solid = turned(part);
  ASSERT_TRUE(solid.ok());
  Probe probe(*solid);
  std::mt19937 engine(5);
  const auto between = [&](double a, double b) { return a + (b - a) * (static_cast<double>(engine()) / 4294967296.0); };
  for (int i = 0; i < 500; ++i) {
    const double x = 19 + between(-0.5, 0.5), theta = between(0, 2 * pi), r = 24.3 + between(-0.5, 0.5), skin = shape::radius_at(part, x, theta);
    if (std::abs(r - skin) < 1e-4) continue;
    EXPECT_EQ(probe.distance(at(x, r, theta)) > 0, r > skin) << x << " " << r << " " << theta;
  }
}

TEST(Probe, SeesTheMortises) {
  const Result<Solid> solid = jointed(bench_leg_jointed());
  ASSERT_TRUE(solid.ok());
  Probe probe(*solid);
  // face A at 30 mm, mortise 38 deep from t 6 to 16: its floor lies at y = -8
  EXPECT_NEAR(probe.distance({80, -3, 11}), 5, 1e-5);
  EXPECT_LT(probe.distance({80, -10, 11}), 0);
  EXPECT_GT(probe.distance({80, 20, 11}), 0);
}

}  // namespace
}  // namespace pommel::solid
