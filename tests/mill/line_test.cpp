#include "mill/line.h"

#include <gtest/gtest.h>

#include <cmath>

#include "mill/bodies.h"
#include "mill/reach.h"
#include "mill/roots.h"
#include "mill/setup.h"
#include "mill/treated_bodies.h"
#include "shape/ring.h"

namespace pommel::mill {
namespace {

TEST(Line, TurnsAtCrestsAndValleysAboveTheProminence) {
  const std::vector<double> heights{5, 6, 7, 6.9, 7.1, 4, 2, 2.1, 1.9, 3, 8};
  EXPECT_EQ(turning_points(heights, 0.5), (std::vector<std::size_t>{0, 4, 8, 10}));
  EXPECT_EQ(turning_points(heights, 0.05), (std::vector<std::size_t>{0, 2, 3, 4, 6, 7, 8, 10}));
  EXPECT_EQ(turning_points(heights, 100), (std::vector<std::size_t>{0, 10}));
  EXPECT_EQ(turning_points(std::vector<double>{1}, 0.1), (std::vector<std::size_t>{0}));
  EXPECT_TRUE(turning_points(std::vector<double>{}, 0.1).empty());
  EXPECT_EQ(turning_points(std::vector<double>{3, 3, 3, 3}, 0.1), (std::vector<std::size_t>{0, 3}));
}

TEST(Line, RunsDownhill) {
  const std::vector<LinePoint> line{{0, 5}, {1, 9}, {2, 3}, {3, 4}};
  const auto runs = downhill(line, 0.5);
  ASSERT_EQ(runs.size(), 3u);
  EXPECT_EQ(runs[0], (std::vector<LinePoint>{{1, 9}, {0, 5}}));
  EXPECT_EQ(runs[1], (std::vector<LinePoint>{{1, 9}, {2, 3}}));
  EXPECT_EQ(runs[2], (std::vector<LinePoint>{{3, 4}, {2, 3}}));
}

double off(const std::vector<LinePoint>& line, double x, double z) {
  double least = 1e9;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const LinePoint &p = line[i], &q = line[i + 1];
    const double ux = q.x - p.x, uz = q.z - p.z;
    const double t = std::clamp(((x - p.x) * ux + (z - p.z) * uz) / (ux * ux + uz * uz), 0.0, 1.0);
    least = std::min(least, std::hypot(x - p.x - t * ux, z - p.z - t * uz));
  }
  return least;
}

TEST(Line, RefinesCornersAndWallsAndKeepsTheTolerance) {
  // a quarter round, then a wall of 6 mm, then a valley whose corner lies between the samples
  auto tip = [](double x) {
    if (x < 3) return 20 + std::sqrt(9 - x * x);
    if (x < 3.0473) return 20.0;
    return 10 + std::fabs(x - 5.0137);
  };
  std::vector<LinePoint> samples;
  for (int i = 0; i <= 80; ++i) samples.push_back({i / 10.0, tip(i / 10.0)});
  const auto fine = refined(samples, tip, 0.001);
  const auto few = simplified(fine, 0.003);
  EXPECT_LT(few.size(), 80u);
  for (int i = 0; i <= 8000; ++i) EXPECT_LE(off(few, i / 1000.0, tip(i / 1000.0)), 0.005) << i / 1000.0;
  EXPECT_GT(off(samples, 3.03, 20.0), 0.005);  // the samples alone cut the wall's edge
}

TEST(Roots, FindSwingsBetweenSamples) {
  // two roots 1e-4 apart at the top of a parabola, and none when it stays below
  auto swing = [](double lift) { return [lift](double x) { return lift - (x - 0.3217) * (x - 0.3217); }; };
  const auto found = sign_changes(swing(2.5e-9), 0, 1);
  ASSERT_EQ(found.size(), 2u);
  EXPECT_NEAR(found[0], 0.3217 - 5e-5, 1e-7);
  EXPECT_NEAR(found[1], 0.3217 + 5e-5, 1e-7);
  EXPECT_TRUE(sign_changes(swing(-1e-9), 0, 1).empty());
}

const Quirk* near(const std::vector<Quirk>& all, double x) {
  for (const Quirk& q : all) {
    if (q.x0 - 0.1 <= x && x <= q.x1 + 0.1) return &q;
  }
  return nullptr;
}

TEST(Reach, ClosedForms) {
  const double rho = 3;
  // a vee of 2 x 3 mm, 4 deep: sin b = 3/5; a wall; a cove of radius 2 as deep as its radius
  testing::Turning t(20);
  t.line(30, 20).line(3, 16, "vee").line(3, 20, "vee").line(20, 20).step(14).line(30, 14, "neck").step(20).line(10, 20);
  t.arc(4, 20, 2, -1, "tight cove").line(20, 20).arc(20, 20, 20, -1, "wide cove").line(10, 20);
  const auto found = quirks(t.part("quirky"), rho);
  ASSERT_TRUE(found.ok());
  ASSERT_EQ(found->size(), 4u);
  const Quirk* vee = near(*found, 33);
  ASSERT_TRUE(vee);
  EXPECT_EQ(vee->element, "vee");
  EXPECT_NEAR(vee->deepest, rho * (1 / 0.6 - 1), 1e-3);
  EXPECT_NEAR(vee->deepest_x, 33, 1e-9);
  for (double foot : {56.0, 86.0}) {
    const Quirk* wall = near(*found, foot);
    ASSERT_TRUE(wall);
    EXPECT_EQ(wall->element, "neck");
    EXPECT_NEAR(wall->deepest, rho * (std::sqrt(2.0) - 1), 1e-3);
    EXPECT_NEAR(wall->x1 - wall->x0, rho, 0.6);
  }
  // over the tight cove the ball stands on both rims: its lowest point is rho - sqrt(rho² - 4) below them
  const Quirk* cove = near(*found, 98);
  ASSERT_TRUE(cove);
  EXPECT_EQ(cove->element, "tight cove");
  EXPECT_NEAR(cove->deepest, 2 - (rho - std::sqrt(rho * rho - 4)), 1e-3);
}

// Flutes and reeds from end to end of a cylinder, where all is a section: a ball over a flute narrower than itself stands on both rims, one over a
// valley on the two reeds beside it.
TEST(Reach, ClosedFormsOfFlutesAndOfValleysBetweenReeds) {
  const double rho = 4, radius = 20;
  testing::Turning t(radius);
  t.line(100, radius, "cylinder");
  const shape::Part fluted = testing::made(shape::fluted(t.part("fluted"), {.x0 = 0, .x1 = 100, .count = 6, .width = 5, .depth = 2, .run_out0 = 0, .run_out1 = 0, .ends = shape::RunOut::straight}));
  const auto groove = shape::ring_at(fluted, 50, shape::Side::before).grooves.front();
  const double rim = std::acos((radius * radius + groove.c * groove.c - groove.g * groove.g) / (2 * radius * groove.c));
  const double over_rims = radius * std::cos(rim) + std::sqrt(rho * rho - std::pow(radius * std::sin(rim), 2));
  auto found = quirks(fluted, rho);
  ASSERT_TRUE(found.ok());
  ASSERT_EQ(found->size(), 1u);
  EXPECT_EQ(found->front().element, "flutes");
  EXPECT_NEAR(found->front().deepest, over_rims - (groove.c - groove.g) - rho, 1e-3);
  EXPECT_GT(found->front().deepest, 0.3);

  const shape::Part reeded = testing::made(shape::reeded(t.part("reeded"), {.x0 = 0, .x1 = 100, .count = 12, .depth = 1.2, .run_out0 = 0, .run_out1 = 0}));
  const auto reeds = shape::ring_at(reeded, 50, shape::Side::before).reeds.front();
  const double half = shape::kTurn / reeds.count / 2, up = reeds.c * std::cos(half), across = reeds.c * std::sin(half);
  const double valley = up + std::sqrt(reeds.g * reeds.g - across * across), centre = up + std::sqrt(std::pow(reeds.g + rho, 2) - across * across);
  found = quirks(reeded, rho);
  ASSERT_TRUE(found.ok());
  ASSERT_EQ(found->size(), 1u);
  EXPECT_EQ(found->front().element, "between the reeds");
  EXPECT_NEAR(found->front().deepest, centre - valley - rho, 1e-3);
  EXPECT_GT(found->front().deepest, 0.2);
}

TEST(Reach, NothingLeftOnWhatTheBallReaches) {
  for (const shape::Part& part : {testing::cylinder(), testing::cone(), testing::tapered_square()}) {
    const auto found = quirks(part, 3);
    ASSERT_TRUE(found.ok());
    EXPECT_TRUE(found->empty()) << part.name << ' ' << found->front().element << ' ' << found->front().deepest;
  }
}

TEST(Reach, EndsAreReachedWhereTheWasteAllows) {
  // a ball foot: its end falls away steeply, and the waste beside it is cut deep enough for the cutter to touch the
  // very end
  testing::Turning t(20);
  t.line(30, 20).arc(16, 12, 20, +1, "ball");
  const auto found = quirks(t.part("ball foot"), 3);
  ASSERT_TRUE(found.ok());
  EXPECT_TRUE(found->empty()) << found->front().deepest;
  const shape::Part with_waste = continued(t.part("ball foot"), 3, 16);
  EXPECT_DOUBLE_EQ(with_waste.outline.start(), -16);
  EXPECT_DOUBLE_EQ(with_waste.outline.end(), t.length() + 16);
  EXPECT_LT(with_waste.outline.pieces.back().r1, 12);
  EXPECT_GE(with_waste.outline.pieces.back().r1, 0.6 * 12);
}

}  // namespace
}  // namespace pommel::mill
