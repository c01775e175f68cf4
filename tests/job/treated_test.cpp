// Treated pieces all the way: planned, written, read back, cut in simulation and judged.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "job/turning.h"
#include "shape/treatments.h"

namespace pommel::job {
namespace {

using shape::Part;

shape::Part rod(double length, double r0, double r1) {
  Part part;
  part.name = "treated rod";
  part.length = length;
  part.outline.pieces = {shape::line_piece(0, r0, length, r1)};
  shape::ElementMark mark;
  mark.kind = mark.label = "shaft";
  mark.x1 = length;
  part.elements.push_back(mark);
  return part;
}

Part fluted_rod() {
  auto part = shape::fluted(rod(40, 18, 16), {.x0 = 6, .x1 = 40, .count = 6, .width = 9, .depth = 2.5, .run_out0 = 10, .run_out1 = 0});
  return std::move(part).value();
}

Part reeded_rod() {
  auto part = shape::reeded(rod(36, 16, 15), {.x0 = 4, .x1 = 32, .count = 8, .depth = 1.2, .run_out0 = 8, .run_out1 = 8});
  return std::move(part).value();
}

Part twisted_rod() {
  auto part = shape::twisted(rod(40, 18, 18), {.x0 = 1, .x1 = 39, .starts = 2, .pitch = 60, .depth = 4, .fade0 = 15, .fade1 = 15});
  return std::move(part).value();
}

TurningRequest request(Part part) {
  TurningRequest out;
  out.blank.section = shape::Blank::Section::round;
  out.blank.size = 38, out.blank.x0 = -80, out.blank.x1 = part.length + 80;
  out.turned = std::move(part);
  shop::Cutter& c = out.cutter;
  c.id = "ball";
  c.diameter = 6, c.flute_length = 38, c.shank_diameter = 6, c.shank_length = 62, c.collet_diameter = 28, c.collet_length = 30;
  c.rpm = 18000, c.chip_load = 0.12, c.max_depth_of_cut = 8;
  shop::Machine& m = out.machine;
  m.id = "router";
  m.x_min = -150, m.x_max = 1500, m.z_min = -20, m.z_max = 160;
  m.rapid_x = 15000, m.rapid_z = 8000, m.rapid_rotary = 30, m.feed_max = 6000;
  m.accel_x = 1200, m.accel_z = 1000, m.accel_rotary = 5;
  m.max_rpm = 24000, m.jaw_swing = 30, m.tailstock_top = 30, m.chuck_grip = 40, m.centre_grip = 30, m.keep_out = 12;
  return out;
}

class EveryTreatment : public ::testing::TestWithParam<Part (*)()> {};

TEST_P(EveryTreatment, GoesFromPartToProvedProgram) {
  const TurningRequest asked = request(GetParam()());
  const auto turning = plan_turning(asked, {});
  ASSERT_TRUE(turning.ok()) << render(turning.reasons());
  const auto program = write_and_prove(asked, *turning, {}, {});
  ASSERT_TRUE(program.ok()) << render(program.reasons());
  EXPECT_TRUE(program->front().proof.passed()) << proof::report(program->front().proof);
}

INSTANTIATE_TEST_SUITE_P(Treated, EveryTreatment, ::testing::Values(&fluted_rod, &reeded_rod, &twisted_rod));

// The check sees the treatment: a cut 0.05 mm too deep in a flute.
TEST(Treated, HarmInAFluteIsSeen) {
  const TurningRequest asked = request(fluted_rod());
  auto turning = plan_turning(asked, {});
  ASSERT_TRUE(turning.ok()) << render(turning.reasons());
  const Turning sound = *turning;
  int harmed = 0;
  for (motion::Move& move : turning->paths.back().moves) {
    // the first flute looks along face A, which is up at rotary 0; its bottom is one long move
    if (move.rapid || std::fabs(std::remainder(move.to.a, 2 * std::numbers::pi)) > 1e-6 || move.to.x < 12) continue;
    move.to.z -= 0.05, ++harmed;
  }
  ASSERT_GT(harmed, 0);
  const auto program = write_and_prove(asked, *turning, {}, {});
  ASSERT_TRUE(program.ok()) << render(program.reasons());
  EXPECT_FALSE(program->front().proof.passed());
  EXPECT_NEAR(program->front().proof.gouge.amount, 0.05, 0.01);
  EXPECT_NEAR(std::remainder(program->front().proof.gouge.degrees, 360), 0, 8);
}

}  // namespace
}  // namespace pommel::job
