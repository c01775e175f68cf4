#include "shape/profile.h"

#include <gtest/gtest.h>

#include <cmath>

namespace pommel::shape {
namespace {

TEST(Piece, LineRunsStraightAndHitsItsEnds) {
  Piece line = line_piece(10, 30, 30, 20);
  EXPECT_EQ(line.value(10), 30);
  EXPECT_EQ(line.value(30), 20);
  EXPECT_DOUBLE_EQ(line.value(20), 25);
  EXPECT_DOUBLE_EQ(line.slope(12), -0.5);
  Normal n = line.normal(12);
  EXPECT_NEAR(n.nx, 1 / std::sqrt(5.0), 1e-15);
  EXPECT_NEAR(n.nr, 2 / std::sqrt(5.0), 1e-15);
}

TEST(Piece, HalfRoundBeadIsPlumbAtItsEnds) {
  Piece bead = arc_piece(100, 20, 110, 20, 5, 1);
  EXPECT_NEAR(bead.value(105), 25, 1e-12);
  EXPECT_NEAR(bead.value(102), 24, 1e-12);  // 3-4-5
  EXPECT_EQ(bead.slope(100), INFINITY);
  EXPECT_EQ(bead.slope(110), -INFINITY);
  EXPECT_EQ(bead.normal(100).nx, -1);
  EXPECT_EQ(bead.normal(100).nr, 0);
  EXPECT_NEAR(bead.normal(102).nx, -0.6, 1e-12);
  EXPECT_NEAR(bead.normal(102).nr, 0.8, 1e-12);
  EXPECT_NEAR(bead.greatest(), 25, 1e-12);
  EXPECT_EQ(bead.least(), 20);
}

TEST(Piece, HollowArcHasItsCentreOutside) {
  Piece cove = arc_piece(0, 20, 8, 20, 5, -1);
  EXPECT_NEAR(cove.cr, 23, 1e-12);
  EXPECT_NEAR(cove.value(4), 18, 1e-12);
  EXPECT_NEAR(cove.least(), 18, 1e-12);
  EXPECT_LT(cove.slope(1), 0);
  EXPECT_LT(cove.normal(1).nx / cove.normal(1).nr, 4.0 / 3 + 1e-12);
}

TEST(Piece, SlopeIsTheDerivativeOfValueAndTheNormalItsPerpendicular) {
  for (const Piece& piece : {line_piece(0, 10, 7, 12), arc_piece(0, 10, 7, 12, 9, 1), arc_piece(0, 10, 7, 12, 6, -1),
                             cubic_piece(0, 7, {10, 0.5, -0.3, 0.04})}) {
    for (double x : {0.7, 2.1, 3.5, 6.2}) {
      double h = 1e-5, slope = (piece.value(x + h) - piece.value(x - h)) / (2 * h);
      EXPECT_NEAR(piece.slope(x), slope, 1e-8);
      Normal n = piece.normal(x);
      EXPECT_NEAR(n.nx + n.nr * piece.slope(x), 0, 1e-12);
      EXPECT_NEAR(std::hypot(n.nx, n.nr), 1, 1e-14);
    }
  }
}

TEST(Piece, CubicKnowsItsExtremes) {
  Piece cubic = cubic_piece(5, 9, {10, 3, -2.25, 0.375});  // slope 3 - 4.5 u + 1.125 u²
  std::vector<double> level = level_points(cubic);
  ASSERT_EQ(level.size(), 2u);
  for (double x : level) EXPECT_NEAR(cubic.slope(x), 0, 1e-12);
  double least = 1e9, greatest = 0;
  for (int i = 0; i <= 100000; ++i) {
    double v = cubic.value(5 + 4 * i / 100000.0);
    least = std::min(least, v);
    greatest = std::max(greatest, v);
  }
  EXPECT_NEAR(cubic.least(), least, 1e-8);
  EXPECT_NEAR(cubic.greatest(), greatest, 1e-8);
}

TEST(Piece, ClearPieceIsInfinite) {
  Piece clear = clear_piece(0, 10);
  EXPECT_EQ(clear.value(0), INFINITY);
  EXPECT_EQ(clear.value(10), INFINITY);
  EXPECT_EQ(clear.least(), INFINITY);
}

TEST(Profile, SidesOfAKnotAndTheClosedBody) {
  Profile profile{{line_piece(0, 30, 10, 30), line_piece(10, 20, 25, 22), line_piece(25, 22, 40, 22)}};
  EXPECT_EQ(profile.index_at(0, Side::before), 0u);
  EXPECT_EQ(profile.index_at(10, Side::before), 0u);
  EXPECT_EQ(profile.index_at(10, Side::after), 1u);
  EXPECT_EQ(profile.index_at(24, Side::before), 1u);
  EXPECT_EQ(profile.index_at(40, Side::after), 2u);
  EXPECT_EQ(profile.value(10, Side::before), 30);
  EXPECT_EQ(profile.value(10, Side::after), 20);
  EXPECT_EQ(profile.value(10), 30);
}

}  // namespace
}  // namespace pommel::shape
