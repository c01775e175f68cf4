// Ridges between two passes of a ball, against plane geometry. Source of the figures: exact geometry.
//   flat:    h = R - sqrt(R² - s²/4)
//   convex radius rho, arc step s, phi = s/rho:  h = (rho + R) cos(phi/2) - sqrt(R² - (rho + R)² sin²(phi/2)) - rho
#include <gtest/gtest.h>

#include <cmath>

#include "proof/removal.h"
#include "proof/start.h"

namespace pommel::proof {
namespace {

struct Row {
  double ball, step, convex;  // ball radius, arc step, radius of the rod; 0: flat (rings side by side along the piece)
  double ridge;
};

shape::Part rod(double radius) {
  shape::Part part;
  part.length = 40;
  part.outline.pieces = {shape::line_piece(0, radius, 40, radius)};
  return part;
}

Cut cut_rod(double radius, const Grid& grid, const shape::Blank& blank, double ball, const std::vector<motion::Position>& passes,
            bool lengthwise) {
  motion::Path path;
  path.start = {5, 0, radius + 20, 0};
  for (motion::Position p : passes) {
    auto add = [&](double x, double z, double a) { path.moves.push_back({{x, 0, z, a}, false, 1, 0}); };
    add(p.x, radius + 20, p.a);
    add(p.x, radius, p.a);
    lengthwise ? add(p.x + 20, radius, p.a) : add(p.x, radius, p.a + 1);
    add(path.moves.back().to.x, radius + 20, path.moves.back().to.a);
  }
  shop::Cutter cutter;
  cutter.diameter = 2 * ball;
  cutter.flute_length = 50;
  CutSettings settings;
  settings.chord_error = 1e-5;
  return std::move(cut(grid, {Start(grid, blank, {})}, path, cutter, settings, {})).value();
}

TEST(Scallop, BetweenLengthwisePassesOnARod) {
  for (Row row : {Row{3, 1, 10, 0.054956}, Row{3, 1, 50, 0.044536}}) {
    shape::Part part = rod(row.convex);
    shape::Blank blank{shape::Blank::Section::round, 2 * row.convex + 10, 0, 40};
    Grid grid = std::move(make_grid(part, blank, 0.25, 720)).value();
    double middle = 100 * grid.column_step(), half = row.step / row.convex / 2;
    Cut wood = cut_rod(row.convex, grid, blank, row.ball, {{5, 0, 0, middle - half}, {5, 0, 0, middle + half}}, true);
    std::size_t ray = grid.begin[grid.first_row_from(15)] + 100;
    EXPECT_NEAR(static_cast<double>(wood.tops[0][ray]) - row.convex, row.ridge, 5e-6) << row.convex;
    EXPECT_NEAR(static_cast<double>(wood.low[ray]) - row.convex, row.ridge, 5e-6) << row.convex;
  }
}

TEST(Scallop, BetweenRingsSideBySide) {
  for (Row row : {Row{3, 1.0, 0, 0.041960}, Row{3, 0.5, 0, 0.010435}, Row{6.35, 1, 0, 0.019716}, Row{3.175, 0.508, 0, 0.0101726}}) {
    double radius = 20;
    shape::Part part = rod(radius);
    shape::Blank blank{shape::Blank::Section::round, 50, 0, 40};
    Grid grid = std::move(make_grid(part, blank, 0.25, 720)).value();
    Cut wood = cut_rod(radius, grid, blank, row.ball, {{15 - row.step / 2, 0, 0, 0}, {15 + row.step / 2, 0, 0, 0}}, false);
    std::size_t ray = grid.begin[grid.first_row_from(15)] + 60;
    // the turning moves are cut along chords: up to chord_error too deep, never too shallow
    EXPECT_NEAR(static_cast<double>(wood.tops[0][ray]) - radius, row.ridge, 2e-5) << row.step;
  }
}

// A polygon of n flats cut by a ball large enough to seem flat would leave r (1/cos(pi/n) - 1); a ball's own passes leave less
// than that and more than nothing: the ridge of the closed form at n passes round the rod.
TEST(Scallop, AllRoundARodEveryRidgeIsTheSame) {
  double radius = 10, ball = 3;
  int passes = 48;
  shape::Part part = rod(radius);
  shape::Blank blank{shape::Blank::Section::square, 30, 0, 40};
  Grid grid = std::move(make_grid(part, blank, 0.25, 720)).value();
  std::vector<motion::Position> all;
  for (int i = 0; i < passes; ++i) all.push_back({5, 0, 0, 2 * M_PI * i / passes});
  Cut wood = cut_rod(radius, grid, blank, ball, all, true);
  double half = M_PI / passes, c = radius + ball;
  double ridge = c * std::cos(half) - std::sqrt(ball * ball - std::pow(c * std::sin(half), 2)) - radius;
  std::size_t row = grid.begin[grid.first_row_from(15)];
  double highest = 0, lowest = 1;
  for (std::size_t j = 0; j < 720; ++j) {
    highest = std::max(highest, static_cast<double>(wood.tops[0][row + j]) - radius);
    lowest = std::min(lowest, static_cast<double>(wood.tops[0][row + j]) - radius);
  }
  // passes stand 7.5 degrees apart, so a ray at 3.75 degrees is not there: 3.5 and 4 are the nearest
  double near = 3.5 * M_PI / 180;
  double at_ray = c * std::cos(near) - std::sqrt(ball * ball - std::pow(c * std::sin(near), 2)) - radius;
  EXPECT_NEAR(highest, at_ray, 1e-5);
  EXPECT_LT(highest, ridge);
  EXPECT_NEAR(lowest, 0, 1e-5);
}

}  // namespace
}  // namespace pommel::proof
