// Gander, Golub and Strebel, "Least-squares fitting of circles and ellipses", BIT 34 (1994), their first example: the points below; the algebraic fit of
// the paper has centre (5.3794, 7.2532) and radius 3.0370, the geometric one (4.7398, 2.9835) and 4.7142. Points and results from memory; the geometric
// result is held against the condition for a least sum, too, which needs no memory.
#include <gtest/gtest.h>

#include <cmath>

#include "match/circle.h"

namespace pommel::match {
namespace {

std::vector<Sample> points() {
  std::vector<Sample> out;
  for (const auto& [x, r] : {std::pair{1.0, 7.0}, {2.0, 6.0}, {5.0, 8.0}, {7.0, 7.0}, {9.0, 5.0}, {3.0, 7.0}}) out.push_back({x, r, 1, 1, 0});
  return out;
}

TEST(GanderGolubStrebel, GeometricFit) {
  const auto c = geometric_circle(points(), 100);
  ASSERT_TRUE(c);
  EXPECT_NEAR(c->cx, 4.7398, 5e-5);
  EXPECT_NEAR(c->cr, 2.9835, 5e-5);
  EXPECT_NEAR(c->rho, 4.7142, 5e-5);
}

// At the least sum of squared distances the residuals are square to every direction in which centre and radius can move.
TEST(GanderGolubStrebel, NothingIsLeftToGain) {
  const auto c = geometric_circle(points(), 100);
  ASSERT_TRUE(c);
  double by_x = 0, by_r = 0, by_rho = 0;
  for (const Sample& s : points()) {
    const double d = std::hypot(s.x - c->cx, s.r - c->cr), e = d - c->rho;
    by_x += e * (s.x - c->cx) / d, by_r += e * (s.r - c->cr) / d, by_rho += e;
  }
  EXPECT_NEAR(by_x, 0, 1e-5);
  EXPECT_NEAR(by_r, 0, 1e-5);
  EXPECT_NEAR(by_rho, 0, 1e-5);
}

}  // namespace
}  // namespace pommel::match
