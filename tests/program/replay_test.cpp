#include "program/replay.h"

#include <gtest/gtest.h>

#include <numbers>

#include "machines.h"

namespace pommel::program {
namespace {

Result<Replayed> replayed(const std::string& text, const shop::Machine& machine) {
  Sink sink;
  const Program program = read(text, "leg.nc", sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  return replay(program, machine, "leg.nc");
}

const std::string kStart = "G21 G90 G93\nS9000 M3\nG0 Z60\nX0 A0\n";

struct Row {
  const char* text;  // after kStart, before M2
  const char* expected;
};

const Row kRefused[] = {
    {"G1 B10 F1\n", "leg.nc:5: error: this machine has no such axis [program.axis]\n   do: it has X, Z and A\n"},
    {"Y0\nG2 X10 Y0 I5 F1\n",
     "leg.nc:6: error: arcs are not used on a rotary job [program.arc-on-rotary]\n   do: write short lines instead\n"},
    {"M5\nG1 X1 F1\nX2 F1\n",
     "leg.nc:6: error: the spindle stands still at a feed move [program.spindle]\n   do: write S and M3 before it\n"},
    {"M4\nG1 X1 F1\n",
     "leg.nc:6: error: the spindle turns backwards at a feed move [program.spindle]\n   do: write M3 instead of M4\n"},
    {"M6\nG1 X1 F1\n",
     "leg.nc:6: error: the spindle stands still at a feed move [program.spindle]\n   do: write S and M3 before it\n"},
    {"S25000\nG1 X1 F1\n",
     "leg.nc:6: error: the spindle turns faster than the machine can at a feed move [program.spindle]\n   do: write S24000 "
     "or less\n"},
    {"X1500.001\n",
     "leg.nc:5: error: x 1500 mm is beyond the machine's travel, -150 to 1500 mm [program.travel]\n   do: shorten the "
     "work, or place the piece differently\n"},
    {"G0 Z-20.5\n",
     "leg.nc:5: error: z -20.5 mm is beyond the machine's travel, -20 to 160 mm [program.travel]\n   do: shorten the "
     "work, or place the piece differently\n"},
    {"G1 X100 F41\n",
     "leg.nc:5: error: the feed would have to do 4100 mm a minute; the machine does 4000 [program.feed-limit]\n   do: "
     "give the move more time\n"},
    {"G1 A360 F12.5\n",
     "leg.nc:5: error: the rotary would have to do 12.5 turns a minute; the machine does 12 [program.feed-limit]\n   "
     "do: give the move more time\n"},
    {"G1 Z20 F80\n",
     "leg.nc:5: error: z would have to do 3200 mm a minute; the machine does 3000 [program.feed-limit]\n   do: give "
     "the move more time\n"},
};

TEST(Replay, RefusesWhatTheMachineCannotDo) {
  for (const Row& row : kRefused) {
    const auto got = replayed(kStart + row.text + "M2\n", degrees_machine());
    ASSERT_FALSE(got.ok()) << row.text;
    EXPECT_EQ(render(got.reasons()), row.expected);
  }
}

const Row kStarts[] = {
    {"G0 X0\nZ60\nA0\n",
     "leg.nc:3: error: the first move is not one of Z alone: others move at an unknown height [program.first-move]\n   "
     "do: lift the cutter first\n"},
    {"G0 X0 Z60 A0\n",
     "leg.nc:3: error: the first move is not one of Z alone: others move at an unknown height [program.first-move]\n   "
     "do: lift the cutter first\n"},
    {"G0 Z60\nG1 X0 F1\nA0 F1\n",
     "leg.nc:4: error: a feed move while the place of an axis is not known [program.unknown-start]\n   do: go to the "
     "start at rapid first\n"
     "leg.nc:5: error: a feed move while the place of an axis is not known [program.unknown-start]\n   do: go to the "
     "start at rapid first\n"},
    {"", "leg.nc:3: error: nothing moves in this program [program.no-motion]\n"},
};

TEST(Replay, AsksForASafeStart) {
  for (const Row& row : kStarts) {
    const auto got = replayed(std::string("G21 G90 G93\nS9000 M3\n") + row.text + "M2\n", degrees_machine());
    ASSERT_FALSE(got.ok()) << row.text;
    EXPECT_EQ(render(got.reasons()), row.expected);
  }
}

TEST(Replay, AnUnrolledMachineHasNoA) {
  const auto got = replayed("G21 G90 G94\nS9000 M3\nG0 Z60\nX0 Y0\nG1 A10 F1\nM2\n", unrolled_machine());
  ASSERT_FALSE(got.ok());
  EXPECT_EQ(got.reasons()[0].id, "program.axis");
}

struct SenseRow {
  bool unrolled;
  int sense;
  bool x_towards_foot;
  double x, a;  // of "X10" and a quarter turn of the word
};

TEST(Replay, WordsToWood) {
  const double quarter = std::numbers::pi / 2;
  const SenseRow rows[] = {{false, -1, true, 10, -quarter},
                           {false, 1, true, 10, quarter},
                           {false, -1, false, -10, -quarter},
                           {true, -1, true, 10, -quarter},
                           {true, 1, false, -10, quarter}};
  for (const SenseRow& row : rows) {
    shop::Machine m = row.unrolled ? unrolled_machine() : degrees_machine();
    m.rotary_sense = row.sense;
    m.x_towards_foot = row.x_towards_foot;
    const std::string word = row.unrolled ? "Y47.12389" : "A90";
    const auto got =
        replayed("G21 G90 G94\nS9000 M3\nG0 Z60\nX0 " + word.substr(0, 1) + "0\nG0 X10\n" + word + "\nM2\n", m);
    ASSERT_TRUE(got.ok()) << render(got.reasons());
    EXPECT_DOUBLE_EQ(got->paths[0].moves[1].to.x, row.x);
    EXPECT_NEAR(got->paths[0].moves[1].to.a, row.a, 1e-7);
  }
}

TEST(Replay, ToolsSplitPathsAndCommentsNameStages) {
  const auto got = replayed(
      "(cutter: ball-6)\nG21 G90 G93\nM6 T1\nS9000 M3\nG0 Z60\nX0 A0\n(stage: one)\nG1 X10 F10\n(between stages)\nX20 "
      "F10\n"
      "(cutter: ball-4)\nM6 T2\nS8000 M3\n(stage: two)\nX30 F5\nM2\n",
      degrees_machine());
  ASSERT_TRUE(got.ok()) << render(got.reasons());
  ASSERT_EQ(got->paths.size(), 2u);
  EXPECT_EQ(got->paths[0].stages, (std::vector<motion::Stage>{{"one", 0, 1}}));
  EXPECT_EQ(got->paths[0].cutter, "ball-6");
  EXPECT_EQ(got->paths[1].cutter, "ball-4");
  EXPECT_EQ(got->paths[1].rpm, 8000);
  EXPECT_EQ(got->paths[1].start, got->paths[0].moves.back().to);
  EXPECT_EQ(got->paths[1].moves[0].line, 15);
}

TEST(Replay, WarnsWhenTheSpindleChangesSpeed) {
  const auto got = replayed(kStart + "G1 X10 F10\nS8000\nX20 F10\nM2\n", degrees_machine());
  ASSERT_TRUE(got.ok());
  ASSERT_EQ(got->warnings.size(), 1u);
  EXPECT_EQ(render(got->warnings[0]),
            "leg.nc:7: warning: the spindle changes from 9000 to 8000 rpm while this tool cuts [program.rpm-changes]\n"
            "   do: check that this is meant\n");
}

}  // namespace
}  // namespace pommel::program
