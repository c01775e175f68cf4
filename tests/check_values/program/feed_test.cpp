// Feed words against figures computed from NISTIR 6556 (August 2000): 2.1.2.5, what F counts in G94, and 3.5.19, F =
// 1/minutes in G93. Geometry of the figures: a surface of radius r turning by dA passes the tip with r * dA; a helix of
// length sqrt(dX^2 + (r dA)^2).
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "program/reader.h"
#include "program/replay.h"
#include "program/writer.h"

namespace pommel::program {
namespace {

shop::Machine machine(shop::Machine::Feed feed, int feed_decimals) {
  shop::Machine m;
  m.id = "bench";
  m.confirmed = true;
  m.feed = feed;
  m.x_min = -100;
  m.x_max = 1000;
  m.z_min = -50;
  m.z_max = 200;
  m.y_word = "Y";
  m.y_min = -100;
  m.y_max = 100;
  m.rapid_x = m.rapid_y = m.rapid_z = m.feed_max = 10000;
  m.rapid_rotary = 2000;
  m.max_rpm = 24000;
  m.feed_decimals = feed_decimals;
  return m;
}

/// One feed move by dx and dA (degrees) at the height r, taking its way over `speed`.
motion::Path path(double r, double dx, double da_degrees, double speed) {
  motion::Path p;
  p.cutter = "ball";
  p.rpm = 18000;
  p.start = {0, 0, r, 0};
  const double a = da_degrees * std::numbers::pi / 180;
  p.moves.push_back({{dx, 0, r, a}, false, std::hypot(dx, r * a) / speed, 0});
  return p;
}

std::string written(const motion::Path& p, const shop::Machine& m) {
  const auto text = write(p, m, {});
  return text.ok() ? text.value() : render(text.reasons());
}

struct Row {
  const char* what;
  double r, dx, da, speed;
  shop::Machine::Feed feed;
  int decimals;
  const char* line;  // in the text (sense -1: the word is -a)
};

const Row kRows[] = {
    {"A alone, 180 v / (pi r)", 25, 0, 5, 2000, shop::Machine::Feed::per_minute, 4, "G1 A-5 F4583.6624\n"},
    {"A alone, a step of 5 degrees", 25, 0, 5, 2000, shop::Machine::Feed::inverse_time, 5, "G1 A-5 F916.73247\n"},
    {"X and A, L = 40.52315", 25, 10, 90, 1500, shop::Machine::Feed::inverse_time, 6, "G1 X10 A-90 F37.015879\n"},
    {"helix, L = 15708.28157", 25, 100, 36000, 1500, shop::Machine::Feed::inverse_time, 8,
     "G1 X100 A-36000 F0.09549103\n"},
};

TEST(FeedWords, AsComputedFromTheReport) {
  for (const Row& row : kRows) {
    const std::string text = written(path(row.r, row.dx, row.da, row.speed), machine(row.feed, row.decimals));
    EXPECT_NE(text.find(row.line), std::string::npos) << row.what << "\n" << text;
  }
}

Result<Replayed> replayed(const std::string& text, const shop::Machine& m) {
  Sink sink;
  const Program program = read(text, "p.nc", sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  return replay(program, m, "p.nc");
}

TEST(FeedWords, ReadBackAsTime) {
  const shop::Machine m = machine(shop::Machine::Feed::inverse_time, 8);
  const auto got = replayed(written(path(25, 100, 36000, 1500), m), m);
  ASSERT_TRUE(got.ok()) << render(got.reasons());
  EXPECT_NEAR(got->paths[0].moves[0].minutes, 10.4721877, 1e-6);
  EXPECT_TRUE(got->warnings.empty());
}

const char* const kTrap = "G21 G90 G94\nS18000 M3\nG0 Z25\nX0 A0\nG1 X100 A36000 F1500\nM5\nM2\n";

// F1500 for that helix commands 100/1500 min: 157.08 times too fast.
TEST(FeedWords, TheHelixTrapIsNamed) {
  const auto got = replayed(kTrap, machine(shop::Machine::Feed::per_minute, 3));
  ASSERT_TRUE(got.ok()) << render(got.reasons());
  EXPECT_NEAR(got->paths[0].moves[0].minutes, 100.0 / 1500, 1e-12);
  ASSERT_EQ(got->warnings.size(), 1u);
  EXPECT_EQ(
      render(got->warnings[0]),
      "p.nc:5: warning: 1 move turns and travels at once under G94: F counts the straight part alone, and the wood "
      "passes "
      "the tip 157.1 times as fast as F says [program.helix-trap]\n   do: check that this is meant, or use G93\n");
}

// and on a machine whose rotary does 20 turns a minute it is an error: 1500 turns a minute
TEST(FeedWords, TheHelixTrapIsTooFastForTheMachine) {
  shop::Machine m = machine(shop::Machine::Feed::per_minute, 3);
  m.rapid_rotary = 20;
  const auto got = replayed(kTrap, m);
  ASSERT_FALSE(got.ok());
  EXPECT_EQ(got.reasons()[0].id, "program.feed-limit");
  EXPECT_EQ(got.reasons()[0].message, "the rotary would have to do 1500 turns a minute; the machine does 20");
}

// NISTIR 6556, 2.1.2.5 A: the rotary is left out; B: it alone counts in degrees.
TEST(FeedWords, PerMinuteCountsTheStraightPartOrTheDegrees) {
  const auto got = replayed("G21 G90 G94\nS9000 M3\nG0 Z25\nX0 Y0 A0\nG1 X30 Y40 A10 F100\nA70 F120\nM2\n",
                            machine(shop::Machine::Feed::per_minute, 3));
  ASSERT_TRUE(got.ok()) << render(got.reasons());
  EXPECT_DOUBLE_EQ(got->paths[0].moves[0].minutes, 0.5);
  EXPECT_DOUBLE_EQ(got->paths[0].moves[1].minutes, 0.5);
}

// An unrolled surface is pi * d wide (common practice, no source): d = 60 gives 188.496 mm a turn, a length like the
// others.
TEST(FeedWords, UnrolledTurnsCountAsLength) {
  shop::Machine m = machine(shop::Machine::Feed::per_minute, 3);
  m.rotary = shop::Machine::Rotary::unrolled_mm;
  m.y_word.clear();
  m.rotary_word = "Y";
  m.rotary_sense = 1;
  m.unrolled_diameter = 60;
  motion::Path p = path(25, 0, 360, 1500);
  p.moves[0].minutes = 0.5;
  const std::string text = written(p, m);
  EXPECT_NE(text.find("G1 Y188.496 F376.992\n"), std::string::npos) << text;
  const auto got = replayed(text, m);
  ASSERT_TRUE(got.ok()) << render(got.reasons());
  EXPECT_NEAR(got->paths[0].moves[0].minutes, 0.5, 1e-6);
  EXPECT_NEAR(got->paths[0].moves[0].to.a, 2 * std::numbers::pi, 0.0005 / 30);
}

// A control that counts the rotary on a fixed surface of 50 mm: 30 mm along and 90 degrees, an arc of pi 50 / 4, in half a minute.
// In inches the same move has F / 25.4.
TEST(FeedWords, ArcOnAFixedSurface) {
  shop::Machine m = machine(shop::Machine::Feed::surface, 3);
  m.feed_diameter = 50;
  motion::Path p = path(25, 30, 90, 1500);
  p.moves[0].minutes = 0.5;
  // 2 hypot(30, 39.26991) = 98.836
  EXPECT_NE(written(p, m).find("G1 X30 A-90 F98.836\n"), std::string::npos) << written(p, m);
  const auto got = replayed(written(p, m), m);
  ASSERT_TRUE(got.ok()) << render(got.reasons());
  EXPECT_NEAR(got->paths[0].moves[0].minutes, 0.5, 1e-5);
  m.inches = true;
  // 98.836 / 25.4 = 3.8912
  EXPECT_NE(written(p, m).find("G1 X1.181 A-90 F3.89"), std::string::npos) << written(p, m);
  EXPECT_NEAR(replayed(written(p, m), m)->paths[0].moves[0].minutes, 0.5, 2e-4);
}

}  // namespace
}  // namespace pommel::program
