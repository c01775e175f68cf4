#include "proof/body.h"

#include <gtest/gtest.h>

#include <random>

#include "pieces.h"

namespace pommel::proof {
namespace {

using namespace testing;
using shape::arc_piece;
using shape::clear_piece;
using shape::line_piece;

shape::Part leg() {
  shape::Part part = with_pieces({clear_piece(0, 80), line_piece(80, 43, 90, 20), arc_piece(90, 20, 102, 20, 6.5, 1),
                                  line_piece(102, 18, 110, 18), line_piece(110, 18, 200, 12)});
  part.faces = shape::square_faces(60, part.length);
  return part;
}

TEST(Body, DepthUnderACylinderAConeAndAFace) {
  shape::Part part = leg();
  EXPECT_NEAR(depth_below_skin(part, 106, 1, 17.5), 0.5, 1e-12);
  double slope = 6.0 / 90;
  EXPECT_NEAR(depth_below_skin(part, 150, 1, 10), (18 - 40 * slope - 10) / std::hypot(1, slope), 1e-12);
  EXPECT_NEAR(depth_below_skin(part, 40, 0, 29), 1, 1e-12);
  // under an arris: the nearer of both faces, not along the ray
  EXPECT_NEAR(depth_below_skin(part, 40, kPi / 4, 41), 30 - 41 / std::sqrt(2.0), 1e-12);
  EXPECT_EQ(depth_below_skin(part, 40, 0, 30.5), 0);
}

TEST(Body, BesideAWallTheDepthIsTheWayToTheWall) {
  shape::Part part = with_pieces({line_piece(0, 30, 50, 30), line_piece(50, 15, 100, 15)});
  EXPECT_NEAR(depth_below_skin(part, 49.9, 0, 20), 0.1, 1e-12);
  EXPECT_EQ(depth_below_skin(part, 50, 0, 20), 0);
  EXPECT_NEAR(depth_below_skin(part, 50, 0, 14), 1, 1e-12);
  EXPECT_NEAR(depth_below_skin(part, 50.1, 0, 14.9), 0.1, 1e-12);
  EXPECT_NEAR(height_above_skin(part, 50.1, 0, 20), 0.1, 1e-12);
}

TEST(Body, TheEndsAreSkin) {
  shape::Part part = rod(20, 100);
  EXPECT_NEAR(depth_below_skin(part, 0.01, 0, 15), 0.01, 1e-12);
  EXPECT_NEAR(depth_below_skin(part, 99, 0, 15), 1, 1e-12);
}

// The slow model: the nearest of very many points on the skin.
double nearest_skin(const shape::Part& part, double x, double theta, double t) {
  double y = t * std::cos(theta), z = t * std::sin(theta), least = 1e9;
  double reach = shape::radius_at(part, x, theta) - t + 0.05;
  for (double px = std::max(0.0, x - reach); px <= std::min(part.length, x + reach); px += reach / 150) {
    for (double pt = theta - reach / t; pt <= theta + reach / t; pt += reach / t / 150) {
      double r = shape::radius_at(part, px, pt);
      least = std::min(least, std::sqrt((px - x) * (px - x) + std::pow(r * std::cos(pt) - y, 2) + std::pow(r * std::sin(pt) - z, 2)));
    }
  }
  return least;
}

TEST(Body, DepthAgreesWithTheNearestOfManyPoints) {
  shape::Part part = leg();
  std::mt19937_64 random(7);
  auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  for (int i = 0; i < 60; ++i) {
    double x = between(60, 198), theta = between(0, 2 * kPi);
    if (std::fabs(x - 102) < 2) continue;  // the field has no points on the wall there
    double r = std::min(shape::radius_at(part, x, theta, shape::Side::before), shape::radius_at(part, x, theta, shape::Side::after));
    double t = r - between(0.02, 1.5);
    double depth = depth_below_skin(part, x, theta, t), slow = nearest_skin(part, x, theta, t);
    EXPECT_LE(depth, slow + 1e-9) << x << " " << theta;
    EXPECT_NEAR(depth, slow, 0.02) << x << " " << theta;  // the many points stand up to 0.02 apart
  }
}

TEST(Body, ACubicIsSearched) {
  shape::Part part = rod(20, 100);
  shape::Piece& piece = part.outline.pieces[0];
  piece.kind = shape::Piece::Kind::cubic;
  piece.c = {20, 0.3, -0.012, 0.0001};
  piece.r1 = piece.value(100);
  for (double x = 10; x < 90; x += 7.3) {
    for (double under : {0.05, 0.5, 2.0}) {
      double t = piece.value(x) - under, least = 1e9;
      for (double px = x - 3; px < x + 3; px += 1e-4) least = std::min(least, std::hypot(px - x, piece.value(px) - t));
      EXPECT_NEAR(depth_below_skin(part, x, 1, t), least, 1e-7);
    }
  }
}

TEST(Body, RadiiOnRaysAreTheField) {
  shape::Part part = leg();
  shape::Blank blank = blank_for(part, shape::Blank::Section::square, 60);
  Grid grid = std::move(make_grid(part, blank, 0.5, 360)).value();
  std::vector<float> radii = body_radii(grid, part);
  for (std::size_t row = 0; row < grid.rows(); ++row) {
    for (std::size_t k = 0; k < grid.begin[row + 1] - grid.begin[row]; ++k) {
      bool outside = grid.x[row] < 0 || grid.x[row] > part.length;
      double field = outside ? 0 : shape::radius_at(part, grid.x[row], grid.angle(row, k));
      ASSERT_NEAR(radii[grid.begin[row] + k], field, 1e-5);
    }
  }
}

TEST(Grid, HasRowsOnKnotsAndRaysOnShoulderCurves) {
  shape::Part part = leg();
  shape::Blank blank = blank_for(part, shape::Blank::Section::square, 60);
  Grid grid = std::move(make_grid(part, blank, 0.25, 720)).value();
  for (double x : {-10.0, 0.0, 80.0, 90.0, 102.0, 110.0, 200.0, 210.0}) EXPECT_EQ(grid.x[grid.first_row_from(x)], x);
  for (std::size_t row = 1; row < grid.rows(); ++row) ASSERT_LE(grid.x[row] - grid.x[row - 1], 0.25 + 1e-9);
  std::size_t row = grid.first_row_from(83.1);
  double r = shape::radius_at(part, grid.x[row], kPi / 4);
  ASSERT_EQ(grid.creases_of(row), 8u);  // the round cuts each face twice; the arrises are gone
  EXPECT_NEAR(grid.angle(row, 720), std::acos(30 / r), 1e-9);
  for (double at : {-11.0, -10.0, -3.21, 0.0, 80.0, 80.1, 209.99, 210.0, 211.0}) {
    std::size_t slow = 0;
    while (slow < grid.rows() && grid.x[slow] < at) ++slow;
    EXPECT_EQ(grid.first_row_from(at), slow) << at;
  }
}

TEST(Grid, TwentyMillionRaysAtMost) {
  const shape::Part part = rod(20, 100);
  const shape::Blank blank = blank_for(part, shape::Blank::Section::round, 40);
  const std::size_t rows = make_grid(part, blank, 0.5, 720)->rows();
  const int most = static_cast<int>(20'000'000 / rows);
  const auto grid = make_grid(part, blank, 0.5, most);
  ASSERT_TRUE(grid.ok());
  ASSERT_EQ(grid->rays(), rows * static_cast<std::size_t>(most));
  const auto more = make_grid(part, blank, 0.5, most + 1);
  ASSERT_FALSE(more.ok());
  EXPECT_EQ(more.reasons()[0].id, "proof.too-much");
}

}  // namespace
}  // namespace pommel::proof
