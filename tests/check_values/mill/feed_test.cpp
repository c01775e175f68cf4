// Cusps, feeds and times against figures from outside.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "mill/feed.h"
#include "mill/time.h"

namespace pommel::mill {
namespace {

constexpr double kPi = std::numbers::pi;

// Exact plane geometry, computed independently of this code to six places.
TEST(CheckValues, CuspHeights) {
  EXPECT_NEAR(cusp_on_flat(3, 1), 0.041960, 5e-7);
  EXPECT_NEAR(cusp_on_flat(3, 0.5), 0.010435, 5e-7);
  EXPECT_NEAR(cusp_on_flat(6.35, 1), 0.019716, 5e-7);
  EXPECT_NEAR(cusp_on_flat(0.125 * 25.4, 0.020 * 25.4) / 25.4, 0.000401, 5e-7);
  EXPECT_NEAR(cusp_on_convex(3, 1, 10), 0.054956, 5e-7);
  EXPECT_NEAR(cusp_on_convex(3, 1, 50), 0.044536, 5e-7);
  EXPECT_NEAR(cusp_in_concave(3, 1, 10), 0.029218, 5e-7);
  EXPECT_NEAR(cusp_in_concave(3, 1, 50), 0.039394, 5e-7);
  // second order: (s²/8)(1/R ± 1/r), and concave < flat < convex
  EXPECT_NEAR(cusp_on_convex(3, 0.01, 10), 1e-4 / 8 * (1 / 3.0 + 0.1), 1e-10);
  EXPECT_NEAR(cusp_in_concave(3, 0.01, 10), 1e-4 / 8 * (1 / 3.0 - 0.1), 1e-10);
}

TEST(CheckValues, StepsAreTheInverseOfCusps) {
  for (double rho : {1.5, 3.175, 6.35}) {
    for (double cusp : {0.005, 0.02, 0.1}) {
      EXPECT_NEAR(cusp_on_flat(rho, step_on_flat(rho, cusp)), cusp, 1e-12);
      for (double r : {4.0, 20.0, 45.0}) EXPECT_NEAR(cusp_on_convex(rho, step_on_convex(rho, cusp, r), r), cusp, 1e-12);
    }
  }
}

TEST(CheckValues, LinesRoundThePiece) {
  // on a cylinder the exact form, give or take its second order; on a wall the flat form for the centres' own spacing
  EXPECT_NEAR(lines_on_round(3, 0.054956, 10, 0), 2 * kPi * 10 / 1.0, 0.2);
  EXPECT_GE(lines_on_round(3, 0.054956, 10, 0), 2 * kPi * 10 / 1.0 - 1e-3);
  EXPECT_NEAR(lines_on_round(3, 0.041960, 10, kPi / 2), 2 * kPi * 13 / 1.0, 0.4);
  EXPECT_NEAR(lines_on_flat(3, 0.041960, 10), 2 * kPi * 10 / 1.0, 1e-3);
  EXPECT_EQ(whole_lines(62.9), 64);
  EXPECT_EQ(whole_lines(64.0), 64);
  EXPECT_EQ(whole_lines(0), 8);
}

shop::Machine machine() {
  shop::Machine m;
  m.rapid_x = m.rapid_z = 1e5, m.rapid_rotary = 1e4, m.feed_max = 1e5;
  return m;
}

// Feed = rpm * flutes * chip load (common practice, no source).
TEST(CheckValues, FeedFromChipLoad) {
  shop::Cutter c;
  c.rpm = 18000, c.flutes = 2, c.chip_load = 0.1;
  EXPECT_DOUBLE_EQ(cutting_speed(c, machine()), 3600);
  shop::Machine slow = machine();
  slow.feed_max = 3000;
  EXPECT_DOUBLE_EQ(cutting_speed(c, slow), 3000);
  slow.max_rpm = 9000;
  EXPECT_DOUBLE_EQ(cutting_speed(c, slow), 1800);
}

// NISTIR 6556 (Kramer, Proctor, Messina 2000), 3.5.19: in inverse time a move takes 1/F minutes. F here is 1/minutes of
// the true path over the wood.
TEST(CheckValues, InverseTimeOfTrueSurfaceSpeed) {
  const motion::Position o{0, 0, 25, 0};
  const double five = 5 * kPi / 180;
  EXPECT_NEAR(1 / feed_minutes(o, {0, 0, 25, five}, 25, 2000, machine()), 916.73247, 5e-6);
  EXPECT_NEAR(true_length(o, {10, 0, 25, kPi / 2}, 25), 40.52315, 5e-6);
  EXPECT_NEAR(1 / feed_minutes(o, {10, 0, 25, kPi / 2}, 25, 1500, machine()), 37.015879, 5e-7);
  const motion::Position helix{100, 0, 25, 200 * kPi};
  EXPECT_NEAR(true_length(o, helix, 25), 15708.28157, 5e-6);
  EXPECT_NEAR(feed_minutes(o, helix, 25, 1500, machine()), 10.4721877, 5e-8);
  EXPECT_NEAR(1 / feed_minutes(o, helix, 25, 1500, machine()), 0.09549103, 5e-9);
}

TEST(CheckValues, FeedsNeverOutrunAnAxis) {
  shop::Machine m = machine();
  m.rapid_rotary = 10;  // turns a minute
  EXPECT_DOUBLE_EQ(feed_minutes({0, 0, 1, 0}, {0, 0, 1, 2 * kPi}, 1, 1e6, m), 0.1);
  m.rapid_x = 100;
  EXPECT_DOUBLE_EQ(feed_minutes({0, 0, 1, 0}, {50, 0, 1, 0}, 1, 1e6, m), 0.5);
}

// Uniformly accelerated motion.
TEST(CheckValues, Trapezoids) {
  EXPECT_NEAR(trapezoid_seconds(100, 50, 500, 0, 0), 2.1, 1e-12);
  EXPECT_NEAR(trapezoid_seconds(5, 50, 500, 0, 0), 0.2, 1e-12);
  EXPECT_NEAR(trapezoid_seconds(2, 50, 500, 0, 0), 0.1264911, 5e-8);
  EXPECT_NEAR(trapezoid_seconds(10, 50, 500, 50, 50), 0.2, 1e-12);
}

// The circle within delta of a corner: v = sqrt(a R), R = delta sin(t/2) / (1 - sin(t/2)).
TEST(CheckValues, CornerSpeeds) {
  EXPECT_NEAR(corner_speed(500, 0.02, 60 * kPi / 180), 3.162278, 5e-7);
  EXPECT_NEAR(corner_speed(500, 0.02, 90 * kPi / 180), 4.913465, 5e-7);
  EXPECT_NEAR(corner_speed(500, 0.02, 135 * kPi / 180), 11.016838, 5e-7);
  EXPECT_TRUE(std::isinf(corner_speed(500, 0.02, kPi)));
}

motion::Move feed(double x, double z, double minutes) {
  return {{x, 0, z, 0}, false, minutes, 0};
}

TEST(CheckValues, MinutesOfPaths) {
  shop::Machine m = machine();
  m.accel_x = m.accel_z = 500;
  motion::Path path;
  path.start = {0, 0, 30, 0};
  EXPECT_EQ(minutes(path, m), 0);
  path.moves = {feed(100, 30, 100 / 3000.0)};  // 50 mm/s
  EXPECT_NEAR(60 * minutes(path, m), 2.1, 1e-9);
  // the same in two moves straight on: no stop between
  path.moves = {feed(40, 30, 40 / 3000.0), feed(100, 30, 60 / 3000.0)};
  EXPECT_NEAR(60 * minutes(path, m), 2.1, 1e-9);
  // back again: a full stop at the turn
  path.moves = {feed(100, 30, 100 / 3000.0), feed(0, 30, 100 / 3000.0)};
  EXPECT_NEAR(60 * minutes(path, m), 4.2, 1e-6);
  // round a square corner at 4.913465 mm/s
  path.moves = {feed(100, 30, 100 / 3000.0), feed(100, 130, 100 / 3000.0)};
  EXPECT_NEAR(60 * minutes(path, m), 2 * trapezoid_seconds(100, 50, 500, 0, 4.913465), 1e-6);
  // the wished durations are a lower bound
  EXPECT_GE(minutes(path, m), 200 / 3000.0);
}

// Sideways too: 100 mm at 50 mm/s and 500 mm/s² take 2.1 s at feed and at rapid, and no feed outruns the axis.
TEST(CheckValues, MinutesSideways) {
  shop::Machine m = machine();
  m.rapid_y = 3000;
  m.accel_y = 500;
  motion::Path path;
  path.start = {0, 0, 30, 0};
  path.moves = {{{0, 100, 30, 0}, true, 0, 0}};
  EXPECT_NEAR(60 * minutes(path, m), 2.1, 1e-9);
  path.moves = {{{0, 100, 30, 0}, false, 100 / 3000.0, 0}};
  EXPECT_NEAR(60 * minutes(path, m), 2.1, 1e-9);
  EXPECT_NEAR(rapid_minutes({0, 0, 30, 0}, {0, 100, 30, 0}, m), 100 / 3000.0, 1e-12);
  EXPECT_NEAR(feed_minutes({0, 0, 30, 0}, {0, 100, 30, 0}, 30, 6000, m), 100 / 3000.0, 1e-12);
}

// Looking ahead over many short moves: straight on they are one move; the corner's speed is reached from far off.
TEST(CheckValues, MinutesLookAhead) {
  shop::Machine m = machine();
  m.accel_x = m.accel_z = 500;
  motion::Path path;
  path.start = {0, 0, 30, 0};
  for (int i = 1; i <= 1000; ++i) path.moves.push_back(feed(0.1 * i, 30, 0.1 / 3000));
  EXPECT_NEAR(60 * minutes(path, m), 2.1, 1e-9);
  for (const auto& [degrees, speed] : {std::pair{60.0, 3.162278}, {90.0, 4.913465}, {135.0, 11.016838}}) {
    // between the moves stands this angle: straight on would be 180
    motion::Path bent;
    bent.start = path.start;
    const double t = (180 - degrees) * kPi / 180;
    for (int i = 1; i <= 200; ++i) bent.moves.push_back(feed(0.5 * i, 30, 0.5 / 3000));
    for (int i = 1; i <= 200; ++i)
      bent.moves.push_back(feed(100 + 0.5 * i * std::cos(t), 30 + 0.5 * i * std::sin(t), 0.5 / 3000));
    m.accel_x = m.accel_z = 500 * 0.5;  // along a slant each axis has its share; the corner is judged by the slower leg
    const double a = 250, slant = a / std::max(std::fabs(std::cos(t)), std::fabs(std::sin(t)));
    const double corner = corner_speed(std::min(a, slant), 0.02, degrees * kPi / 180);
    EXPECT_NEAR(corner, speed * std::sqrt(0.5), 1e-6);
    EXPECT_NEAR(60 * minutes(bent, m),
                trapezoid_seconds(100, 50, a, 0, corner) + trapezoid_seconds(100, 50, slant, corner, 0), 1e-6);
    m.accel_x = m.accel_z = 500;
  }
}

TEST(CheckValues, MinutesOfTurns) {
  // 10 turns at half a turn a second, 2 turns/s² to get there and to stop: 20 s and a quarter
  shop::Machine m = machine();
  m.accel_rotary = 2;
  motion::Path path;
  path.start = {0, 0, 30, 0};
  path.moves = {{{0, 0, 30, 20 * kPi}, false, 20.0 / 60, 0}};
  EXPECT_NEAR(60 * minutes(path, m), 20.25, 1e-9);
  EXPECT_NEAR(blocks(path, m).turns, 10, 1e-12);
}

TEST(CheckValues, BlocksASecond) {
  shop::Machine m = machine();
  m.accel_x = m.accel_z = 500;
  motion::Path path;
  path.start = {0, 0, 30, 0};
  for (int i = 1; i <= 1000; ++i) path.moves.push_back(feed(0.1 * i, 30, 0.1 / 3000));
  EXPECT_EQ(blocks(path, m).count, 1000u);
  EXPECT_NEAR(blocks(path, m).most_a_second, 500, 1e-6);
  m.blocks_per_second = 100;  // a thousand lines take ten seconds, however short
  EXPECT_NEAR(60 * minutes(path, m), 10, 0.2);
  EXPECT_GE(60 * minutes(path, m), 10);
  m.blocks_per_second = 1e6;
  EXPECT_NEAR(60 * minutes(path, m), 2.1, 1e-9);
}

// A move of 0.0018 mm can be written as 0.001 by 0.002 mm and longer: its time must do for that, or the text asks for more than the machine feeds.
TEST(CheckValues, AMoveOfAFewTicksIsNotTooFastOnceItsWordsAreRounded) {
  shop::Machine m = machine();
  m.feed_max = 6000;
  m.x_decimals = 3;
  const motion::Position from{10.0004, 0, 20, 0}, to{10.0022, 0, 20, 0};
  const double minutes = feed_minutes(from, to, 20, 4320, m);
  EXPECT_LE(std::hypot(0.0018 + 0.001, 0.001) / minutes, 6000 * (1 + 1e-12));
  m.inches = true;  // a tick is 0.0001 in
  m.x_decimals = 4;
  EXPECT_LE((0.0018 + 0.00254) / feed_minutes(from, to, 20, 4320, m), 6000);
  // a move of a millimetre goes as it is wished
  EXPECT_NEAR(feed_minutes(from, {11.0004, 0, 20, 0}, 20, 4320, m), 1 / 4320.0, 1e-12);
}

}  // namespace
}  // namespace pommel::mill
