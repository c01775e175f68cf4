// What is told of a turning's passes: re-entries, what machine and piece have to bear.
#include <gtest/gtest.h>

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
    const auto& moves = turning->path.moves;
    if (stretch.first_move > 0) {
      EXPECT_EQ(moves[stretch.first_move - 1].to.z, turning->clear_height);
    }
  }
  EXPECT_GT(sum, 0);
  EXPECT_LE(sum, turning->minutes * (1 + 1e-9));
  const auto entries = re_entries(*turning, text);
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
  const auto lines = pass_lines(asked, *turning, "a\nb\n");
  ASSERT_EQ(lines.size(), 6u);
  EXPECT_EQ(lines[0].substr(0, 45), "2 lines, 0 MB (the machine takes 2 MB), at mo");
  EXPECT_NE(lines[1].find("by hand"), std::string::npos);
  EXPECT_NE(lines[2].find("Wood Handbook"), std::string::npos);
  ASSERT_FALSE(turning->notes.empty());
  EXPECT_EQ(turning->notes.front().id, "job.blocks");
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

}  // namespace
}  // namespace pommel::job
