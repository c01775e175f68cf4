// What is told of a turning's passes: re-entries, what machine and piece have to bear.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "job/turning.h"

namespace pommel::job {
namespace {

TurningRequest request() {
  TurningRequest out;
  out.turned.name = "baluster";
  out.turned.length = 120;
  out.turned.outline.pieces = {shape::line_piece(0, 20, 60, 20), shape::line_piece(60, 20, 120, 17)};
  out.blank.section = shape::Blank::Section::round;
  out.blank.size = 44, out.blank.x0 = -80, out.blank.x1 = 200;
  shop::Cutter& c = out.cutter;
  c.id = "ball";
  c.diameter = 8, c.flute_length = 38, c.shank_diameter = 8, c.shank_length = 62, c.collet_diameter = 28, c.collet_length = 30;
  c.rpm = 18000, c.chip_load = 0.12, c.max_depth_of_cut = 8;
  shop::Machine& m = out.machine;
  m.id = "router";
  m.x_min = -150, m.x_max = 1500, m.z_min = -20, m.z_max = 160;
  m.rapid_x = 15000, m.rapid_z = 8000, m.rapid_rotary = 30, m.feed_max = 6000;
  m.accel_x = 1200, m.accel_z = 1000, m.accel_rotary = 5;
  m.max_rpm = 24000, m.jaw_swing = 30, m.tailstock_top = 30, m.chuck_grip = 40, m.centre_grip = 30, m.keep_out = 12;
  return out;
}

bool any_round(const Turning& turning) {
  for (const PassStretch& stretch : turning.stretches)
    if (stretch.name.find("round and round") != std::string::npos) return true;
  return false;
}

TEST(TurningPasses, ReEntriesNameTheLineOfTheirComment) {
  const auto turning = plan_turning(request(), {});
  ASSERT_TRUE(turning.ok()) << render(turning.reasons());
  ASSERT_GE(turning->stretches.size(), 2u);
  double sum = 0;
  std::string text = "G21\n";
  for (const PassStretch& stretch : turning->stretches) {
    text += "G0 Z60\n(stage: " + stretch.name + ")\nG1 X1\n";
    sum += stretch.minutes;
    // the cutter is at the clear height where a stretch begins
    const auto& moves = turning->paths[stretch.path].moves;
    if (stretch.first_move > 0) {
      EXPECT_EQ(moves[stretch.first_move - 1].to.z, turning->clear_height);
    }
  }
  EXPECT_GT(sum, 0);
  EXPECT_LE(sum, turning->minutes * (1 + 1e-9));
  const auto entries = re_entries(turning->stretches, text);
  ASSERT_EQ(entries.size(), turning->stretches.size());
  for (std::size_t i = 0; i < entries.size(); ++i) {
    EXPECT_EQ(entries[i].name, turning->stretches[i].name);
    EXPECT_EQ(entries[i].line, static_cast<int>(3 + 3 * i));
  }
}

TEST(TurningPasses, TellWhatTheMachineHasToBear) {
  TurningRequest asked = request();
  asked.machine.largest_file = 2e6, asked.machine.blocks_per_second = 0.1;
  shop::Wood cherry;
  cherry.moe_mpa = 10300, cherry.mor_mpa = 85, cherry.specific_gravity = 0.5, cherry.source = "Wood Handbook";
  asked.wood = cherry;
  const auto turning = plan_turning(asked, {});
  ASSERT_TRUE(turning.ok()) << render(turning.reasons());
  EXPECT_GT(turning->blocks.turns, 20);
  ASSERT_TRUE(turning->stiffness.has_value());
  const auto lines = pass_lines(asked, *turning, {"a\nb\n"});
  ASSERT_EQ(lines.size(), 7u);
  EXPECT_EQ(lines[0].substr(0, 45), "2 lines, 0 MB (the machine takes 2 MB), at mo");
  EXPECT_EQ(lines[1], "ridges of the last passes at most 0.04 mm; roughing is conventional, finishing conventional where lines run one way");
  EXPECT_NE(lines[2].find("by hand"), std::string::npos);
  EXPECT_NE(lines[3].find("Wood Handbook"), std::string::npos);
  ASSERT_FALSE(turning->notes.empty());
  EXPECT_EQ(turning->notes.front().id, "job.blocks");
}

// A stub is as thick as torsion and bending ask, never below 20 mm, unless a thinner one is asked for.
TEST(TurningPasses, ThinStubsAreRefusedUnlessAskedFor) {
  TurningRequest thin = request();
  thin.turned.outline.pieces = {shape::line_piece(0, 20, 60, 20), shape::line_piece(60, 20, 120, 9.5)};
  shop::Wood cherry;
  cherry.moe_mpa = 10300, cherry.mor_mpa = 85, cherry.specific_gravity = 0.5, cherry.source = "Wood Handbook";
  thin.wood = cherry;
  const auto refused = plan_turning(thin, {});
  ASSERT_FALSE(refused.ok());
  ASSERT_EQ(refused.reasons().size(), 1u);
  EXPECT_EQ(render(refused.reasons()),
            "error: the waste beside the turned foot would be 18.8 mm thick, and a stub should keep 20 mm [job.thin-stub]\n"
            "   do: make the foot thicker, or leave it square; or say thin_stubs: yes in the order, and take light passes there\n");
  thin.thin_stubs = true;
  const auto said = plan_turning(thin, {});
  ASSERT_TRUE(said.ok()) << render(said.reasons());
  const auto note = std::find_if(said->notes.begin(), said->notes.end(), [](const Diagnostic& d) { return d.id == "job.thin-stub"; });
  ASSERT_NE(note, said->notes.end());
  EXPECT_EQ(note->severity, Severity::warning);
  // the memo gives the same motions, and judges them for each request by itself
  TurningMemo memo;
  ASSERT_TRUE(memo.plan(thin, {}).ok());
  thin.thin_stubs = false;
  EXPECT_FALSE(memo.plan(thin, {}).ok());
  EXPECT_EQ(memo.computed(), 1u);
}

TEST(TurningPasses, GoTheWayThatIsAskedFor) {
  TurningRequest asked = request();
  asked.way = mill::Way::lengthwise;
  const auto along = plan_turning(asked, {});
  const auto fastest = plan_turning(request(), {});
  ASSERT_TRUE(along.ok() && fastest.ok());
  EXPECT_FALSE(any_round(*along));
  EXPECT_TRUE(any_round(*fastest));
  EXPECT_LT(fastest->minutes, along->minutes);
  EXPECT_NE(asked.key(), request().key());
}

shop::Cutter cutter(const std::string& id, shop::Cutter::Form form, double diameter, double corner = 0) {
  shop::Cutter c = request().cutter;
  c.id = c.label = id, c.form = form, c.diameter = c.shank_diameter = diameter, c.tip_radius = corner, c.max_depth_of_cut = diameter / 2;
  return c;
}

// A rod with a cove of 3 mm radius, which the ball of 8 mm cannot enter.
TurningRequest with_a_cove(bool cove) {
  TurningRequest out = request();
  out.turned.length = 50;
  out.turned.outline.pieces = {shape::line_piece(0, 20, 22, 20), shape::line_piece(22, 20, 28, 20), shape::line_piece(28, 20, 50, 18)};
  if (cove) out.turned.outline.pieces[1] = shape::arc_piece(22, 20, 28, 20, 3.2, -1);
  out.blank.x1 = 130;
  out.machine.tool_change = {"M5", "T{tool} M6", "S{rpm} M3"};
  out.rough = cutter("bull", shop::Cutter::Form::bull_nose, 12, 2);
  out.fine = cutter("fine", shop::Cutter::Form::ball, 4);
  return out;
}

TEST(TurningCutters, RoughFinishAndCutFinelyAndTheTextIsProved) {
  TurningRequest asked = with_a_cove(true);
  asked.way = mill::Way::lengthwise;
  const auto turning = plan_turning(asked, {});
  ASSERT_TRUE(turning.ok()) << render(turning.reasons());
  ASSERT_EQ(turning->paths.size(), 3u);
  EXPECT_EQ(turning->paths[0].cutter, "bull");
  EXPECT_EQ(turning->paths[2].cutter, "fine");
  EXPECT_TRUE(turning->hand_work.empty());
  EXPECT_EQ(cutters_in_words(asked, *turning), "bull, then the " + asked.cutter.label + ", then the fine");
  // nothing is wound back between two cutters
  for (std::size_t i = 1; i < 3; ++i) EXPECT_LT(std::fabs(turning->paths[i].start.a - turning->paths[i - 1].moves.back().to.a), 3.2);
  for (const motion::Move& move : turning->paths[2].moves) {
    if (!move.rapid) {
      EXPECT_NEAR(move.to.x, 25, 7);
    }
  }
  const auto program = write_and_prove(asked, *turning, {}, {});
  ASSERT_TRUE(program.ok()) << render(program.reasons());
  EXPECT_TRUE(program->front().proof.passed()) << proof::report(program->front().proof);
  ASSERT_EQ(program->front().proof.after.size(), 3u);
  EXPECT_TRUE(program->front().proof.hand_work.empty());
  const auto entries = re_entries(turning->stretches, program->front().text);
  for (const program::StageTime& entry : entries) EXPECT_GT(entry.line, 0) << entry.name;
}

TEST(TurningPasses, ATextThatTheControlCannotTakeIsRefusedWithWhatToDo) {
  TurningRequest asked = request();
  asked.machine.largest_file = 200;
  const auto turning = plan_turning(asked, {});
  ASSERT_TRUE(turning.ok());
  const auto program = write_and_prove(asked, *turning, {}, {});
  ASSERT_FALSE(program.ok());
  EXPECT_EQ(program.reasons().front().id, "program.too-large");
  EXPECT_NE(program.reasons().front().remedy.find("coarser `cusp`"), std::string::npos);
}

TEST(TurningCutters, AFineOneWithNothingToDoIsSaid) {
  const auto turning = plan_turning(with_a_cove(false), {});
  ASSERT_TRUE(turning.ok()) << render(turning.reasons());
  EXPECT_EQ(turning->paths.size(), 2u);
  ASSERT_FALSE(turning->notes.empty());
  EXPECT_EQ(turning->notes.front().id, "job.nothing-fine");
}

TEST(TurningCutters, AStepoverIsTakenAsGiven) {
  TurningRequest asked = with_a_cove(false);
  asked.rough.reset(), asked.fine.reset();
  asked.way = mill::Way::round;
  asked.stepover = 0.5;
  const auto near = plan_turning(asked, {});
  asked.stepover = 1;
  const auto wide = plan_turning(asked, {});
  ASSERT_TRUE(near.ok() && wide.ok());
  const auto turns = [](const Turning& turning) {
    double least = 1e9, most = -1e9;
    for (const motion::Stage& stage : turning.paths[0].stages) {
      if (!stage.name.starts_with("finish")) continue;
      for (std::size_t i = stage.first + 3; i < stage.first + stage.count; ++i) {
        least = std::min(least, turning.paths[0].moves[i].to.a), most = std::max(most, turning.paths[0].moves[i].to.a);
      }
    }
    return (most - least) / (2 * 3.14159265358979);
  };
  // the skin and the run past both ends, 50 + 9 mm; rings and the way down come on top
  EXPECT_NEAR(turns(*near) - turns(*wide), 59 / 0.5 - 59, 2);
  EXPECT_NEAR(asked.agreed_cusp(), 1 / 16.0 + 0.01, 1e-12);
}

}  // namespace
}  // namespace pommel::job
