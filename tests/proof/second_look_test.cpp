// A sound leg was refused: beside the wall of a cove a spiral had undercut a ray and then cleared it from outside, two hundredths apart, and the
// removal, which remembers one gap of a ray, went on to count the wood between as standing.
#include "proof/second_look.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "shop/shop.h"

namespace pommel::proof {
namespace {

Tool ball(double diameter) {
  shop::Cutter cutter;
  cutter.id = "ball";
  cutter.form = shop::Cutter::Form::ball;
  cutter.diameter = diameter;
  cutter.flute_length = 30;
  cutter.shank_diameter = diameter;
  cutter.shank_length = 60;
  auto tool = tool_of(cutter);
  EXPECT_TRUE(tool.ok());
  return *tool;
}

// Whether the ball or the flutes above it stand over the point of the ray at distance t.
bool within(const Tool& tool, const motion::Position& at, double x, double theta, double t) {
  const double h = t * std::cos(theta - at.a) - at.z, s = std::hypot(x - at.x, t * std::sin(theta - at.a));
  return h < tool.flute && tool.depth_inside(s, h) > 0;
}

// From outside inwards in steps of 0.005 mm: the first point that no place along any move takes.
double slowly(const Tool& tool, const motion::Path& path, double x, double theta, double start) {
  for (double t = start; t > 1; t -= 0.005) {
    bool gone = false;
    motion::Position at = path.start;
    for (const motion::Move& move : path.moves) {
      for (int k = 0; k <= 400 && !gone && !move.rapid; ++k) {
        const double s = k / 400.0;
        gone = within(tool, {at.x + (move.to.x - at.x) * s, 0, at.z + (move.to.z - at.z) * s, at.a + (move.to.a - at.a) * s}, x, theta, t);
      }
      at = move.to;
    }
    if (!gone) return t;
  }
  return 1;
}

TEST(SecondLook, KeepsEveryGapOfARay) {
  // two lines beside the ray, 10 degrees to either side at radius 20 and higher up, then one over it that comes down to their gaps
  const Tool tool = ball(8);
  motion::Path path;
  path.start = {-20, 0, 40, 0.17};
  path.moves = {{{20, 0, 16, 0.17}, false, 1, 0}};
  const Worked worked[] = {{&path, &tool}};
  const double undercut = standing_on(worked, 0, 0, 30);
  EXPECT_EQ(undercut, 30);  // the gap stands under wood that nobody took
  path.moves.push_back({{20, 0, 60, 0.17}, true, 0, 0});
  path.moves.push_back({{20, 0, 60, 0}, true, 0, 0});
  path.moves.push_back({{20, 0, 24, 0}, false, 1, 0});
  path.moves.push_back({{-20, 0, 24, 0}, false, 1, 0});
  EXPECT_NEAR(standing_on(worked, 0, 0, 30), slowly(tool, path, 0, 0, 30), 0.01);
}

TEST(SecondLook, RapidsDoNotCut) {
  const Tool tool = ball(8);
  motion::Path path;
  path.start = {-20, 0, 10, 0};
  path.moves = {{{20, 0, 10, 0}, true, 0, 0}};
  const Worked worked[] = {{&path, &tool}};
  EXPECT_EQ(standing_on(worked, 0, 0, 25), 25);
}

TEST(SecondLook, AgreesWithASlowModelOnRandomMoves) {
  const Tool tool = ball(8);
  std::mt19937 random(20260517);
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<>(a, b)(random); };
  int lower = 0;
  for (int run = 0; run < 40; ++run) {
    motion::Path path;
    path.start = {between(-6, 6), 0, between(16, 26), between(-0.4, 0.4)};
    for (int i = 0; i < 6; ++i) path.moves.push_back({{between(-6, 6), 0, between(16, 26), between(-0.4, 0.4)}, false, 1, 0});
    const Worked worked[] = {{&path, &tool}};
    const double mine = standing_on(worked, 0, 0, 28), slow = slowly(tool, path, 0, 0, 28);
    // never lower than the truth; a slit narrower than a step of the turn may be kept
    EXPECT_GE(mine, slow - 0.012) << run;
    EXPECT_LE(mine, slow + 0.25) << run;
    lower += mine < 27;
  }
  EXPECT_GT(lower, 12);
}

}  // namespace
}  // namespace pommel::proof
