#include "match/circle.h"

#include <gtest/gtest.h>

#include <cmath>

#include "match/by_hand.h"

namespace pommel::match {
namespace {

std::vector<Sample> on_arc(double cx, double cr, double rho, double from, double to, int n, double noise, std::uint64_t seed) {
  testing::Chance chance(seed);
  std::vector<Sample> out;
  for (int i = 0; i < n; ++i) {
    const double a = from + (to - from) * i / (n - 1);
    out.push_back({cx + rho * std::cos(a) + noise * chance.normal(), cr + rho * std::sin(a) + noise * chance.normal(), 0.05, 0.05, i});
  }
  return out;
}

TEST(Circle, IsFoundExactlyWithoutErrors) {
  const auto c = geometric_circle(on_arc(100, 12, 30, 0.6, 2.2, 9, 0, 1));
  ASSERT_TRUE(c);
  EXPECT_NEAR(c->cx, 100, 1e-8);
  EXPECT_NEAR(c->cr, 12, 1e-8);
  EXPECT_NEAR(c->rho, 30, 1e-8);
}

// The stated deviation must be the one that repeated fits show: 400 noisy arcs against what each fit says of itself.
TEST(Circle, KnowsHowSureItIs) {
  double squares = 0, said = 0;
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    const auto c = geometric_circle(on_arc(0, 10, 20, 0.4, 2.7, 12, 0.05, seed));
    ASSERT_TRUE(c);
    squares += c->cx * c->cx;
    said += c->sd_cx * c->sd_cx;
  }
  EXPECT_NEAR(squares / said, 1, 0.25);
}

TEST(Circle, OnTheAxisHasItsCentreThere) {
  const auto c = circle_on_axis(on_arc(50, 0, 25, 0.8, 2.3, 7, 0, 1));
  ASSERT_TRUE(c);
  EXPECT_NEAR(c->cx, 50, 1e-8);
  EXPECT_NEAR(c->rho, 25, 1e-8);
  EXPECT_EQ(c->cr, 0);
}

TEST(Circle, RefusesPointsOnALine) {
  std::vector<Sample> line;
  for (int i = 0; i < 5; ++i) line.push_back({1.0 * i, 20 + 0.5 * i, 0.05, 0.05, i});
  EXPECT_FALSE(algebraic_circle(line));
  EXPECT_FALSE(geometric_circle(std::span(line).first(2)));
}

}  // namespace
}  // namespace pommel::match
