// Gander, Golub and Strebel, "Least-squares fitting of circles and ellipses", BIT 34 (1994), their first example. The points were read in the help of a
// published implementation of that paper (fitcircle.m, R. Brown, 2007: x = [1 2 5 7 9 3; 7 6 8 7 5 7]). The paper's own figures could not be read; from
// memory they are (4.7398, 2.9835) and 4.7142 for the geometric fit. The digits below are computed apart from this program: with the radius as the mean
// distance the sum depends on the centre alone, and its gradient was brought to nothing by the secant method with forty digits (mpmath).
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
  constexpr double kSettled = 1e-5;  // a fit ends where a round gains less than 1e-12 of the sum: some 1e-6 in place
  EXPECT_NEAR(c->cx, 4.739782410906074, kSettled);
  EXPECT_NEAR(c->cr, 2.983532699292475, kSettled);
  EXPECT_NEAR(c->rho, 4.714226037792110, kSettled);
  EXPECT_NEAR(c->cost, 1.227599078183656, 1e-9);
}

// The circle of least algebraic sum, x² + r² = 2 cx x + 2 cr r + c in the sense of least squares: the normal equations solved with forty digits, as above.
TEST(GanderGolubStrebel, AlgebraicFit) {
  const auto c = algebraic_circle(points());
  ASSERT_TRUE(c);
  EXPECT_NEAR(c->cx, 4.742331288343558, 1e-12);
  EXPECT_NEAR(c->cr, 3.835122699386503, 1e-12);
  EXPECT_NEAR(c->rho, 4.108761522345449, 1e-12);
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
