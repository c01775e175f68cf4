// A round blank's program begins with the witness flat; the judge takes it for waste, and refuses one that is not where it belongs.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "mill/foot.h"
#include "mill/setup.h"
#include "mill/simulate.h"
#include "program/reader.h"
#include "program/replay.h"
#include "whole/house.h"

namespace pommel::job {
namespace {

using ::testing::HasSubstr;

Result<Column> column_of(Loaded& of, const std::string& form, const std::string& machine = "rotary-degrees") {
  of = whole::House().load("catalog/designs/low-table.yaml");
  of.order.emplace();
  of.order->machine = machine, of.order->cutter = "ball-8", of.order->cusp = 0.2;
  if (form == "round") of.order->rough = "bull-nose-12";
  Sink sink;
  const auto sheet = family::make_sheet(of.family, of.design, &*of.order, of.shop, whole::entries({{"blank_form", form}}), sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  return run_column(of, sheet, sheet.column_count() - 1, {});
}

// The waste about the flat, cut with every move of the text.
mill::testing::Simulation waste_after(const Programs& programs, const TurningRequest& request, const mill::WitnessFlat& flat) {
  shape::Blank here = request.blank;
  here.x0 = flat.x0 - 2, here.x1 = flat.x1 + 2;
  mill::testing::Simulation wood(here, {}, 0.5);
  Sink sink;
  for (const Program& program : programs) {
    const auto replayed = program::replay(program::read(program.text, "text", sink, program::read_options(request.machine)), request.machine);
    EXPECT_TRUE(replayed.ok()) << render(replayed.reasons());
    for (const motion::Path& path : replayed->paths) {
      const auto cutters = request.cutters();
      const mill::Foot foot = *mill::foot_of(*std::find_if(cutters.begin(), cutters.end(), [&](const shop::Cutter& c) { return c.id == path.cutter; }));
      motion::Position from = path.start;
      for (const motion::Move& move : path.moves) {
        const bool near = std::max(from.x, move.to.x) > here.x0 - foot.radius() && std::min(from.x, move.to.x) < here.x1 + foot.radius();
        if (near) mill::testing::Simulation::along(from, move.to, 0.2, [&](const motion::Position& p) { foot.ball() ? void(wood.cut(p, foot.corner)) : wood.cut(p, foot); });
        from = move.to;
      }
    }
  }
  return wood;
}

TEST(WitnessFlat, ARoundBlanksProgramBeginsWithOneAndLeavesItLevel) {
  Loaded of;
  const auto column = column_of(of, "round");
  ASSERT_TRUE(column.ok()) << render(column.reasons());
  const TurningRequest& request = column->requests.front();
  const Turning& turning = *column->turnings.front();
  ASSERT_EQ(request.blank.section, shape::Blank::Section::round);
  ASSERT_TRUE(turning.witness.has_value());
  EXPECT_EQ(turning.stretches.front().name, "witness flat");
  EXPECT_GT(turning.stretches.front().minutes, 0.2);
  EXPECT_LT(turning.stretches.front().minutes, 3);
  EXPECT_GE(turning.witness->x1 - turning.witness->x0, 15 - 1e-9);  // the blank was planned for it
  const auto programs = write_and_prove(request, turning, {}, {});
  ASSERT_TRUE(programs.ok()) << render(programs.reasons());
  for (const Program& program : *programs) EXPECT_TRUE(program.proof.passed()) << proof::report(program.proof);
  const auto wood = waste_after(*programs, request, *turning.witness);
  int looked_at = 0;
  for (int i = 0; i < wood.rows(); ++i) {
    if (wood.x(i) < turning.witness->x0 || wood.x(i) > turning.witness->x1) continue;
    for (int j = 0; j < mill::testing::Simulation::kColumns; ++j) {
      const double a = mill::testing::Simulation::angle(j), r = wood.at(i, j);
      if (std::cos(a) < 0 || std::fabs(r * std::sin(a)) > turning.witness->width / 2) continue;
      const double over = r * std::cos(a) - turning.witness->height;
      EXPECT_GT(over, -0.002) << wood.x(i) << " " << j;
      EXPECT_LT(over, 0.03) << wood.x(i) << " " << j;
      ++looked_at;
    }
  }
  EXPECT_GT(looked_at, 30 * 20);
}

TEST(WitnessFlat, NoneOnASquareBlank) {
  for (const char* form : {"milled", "oversize"}) {
    Loaded of;
    const auto column = column_of(of, form);
    ASSERT_TRUE(column.ok()) << render(column.reasons());
    for (const auto& turning : column->turnings) {
      EXPECT_FALSE(turning->witness.has_value());
      for (const PassStretch& stretch : turning->stretches) EXPECT_NE(stretch.name, "witness flat");
    }
  }
}

// The turning's motions with the flat's own changed, judged.
proof::Proof judged(const TurningRequest& request, const Turning& turning, const std::function<void(motion::Position&)>& misplace) {
  std::vector<motion::Path> paths = turning.paths;
  const motion::Stage& stage = paths.front().stages.front();
  EXPECT_EQ(stage.name, "witness flat");
  for (std::size_t i = stage.first; i < stage.first + stage.count; ++i) misplace(paths.front().moves[i].to);
  misplace(paths.front().start);
  proof::Settings settings;
  settings.cusp = request.agreed_cusp();
  settings.rough_only = {"bull-nose-12"};
  auto proof = proof::prove_paths(paths, request.turned, request.blank, request.tolerance, request.cutters(), request.machine, settings, {});
  EXPECT_TRUE(proof.ok()) << render(proof.reasons());
  return std::move(proof).value();
}

std::vector<std::string> errors_of(const proof::Proof& proof) {
  std::vector<std::string> out;
  for (const proof::Finding& finding : proof.findings)
    if (finding.severity == Severity::error) out.push_back(finding.id);
  return out;
}

TEST(WitnessFlat, TheJudgeRefusesOneThatIsMisplaced) {
  Loaded of;
  const auto column = column_of(of, "round");
  ASSERT_TRUE(column.ok()) << render(column.reasons());
  const TurningRequest& request = column->requests.front();
  const Turning& turning = *column->turnings.front();
  const double clear = turning.clear_height, height = turning.witness->height;
  EXPECT_THAT(errors_of(judged(request, turning, [](motion::Position&) {})), ::testing::IsEmpty());
  // into the piece: 40 mm behind the head it is thinner than the flat is high, so it is let down to the axis by half
  const auto gouged = judged(request, turning, [&](motion::Position& p) { p.x += 60 - turning.witness->x0, p.z -= p.z < clear ? height / 2 : 0; });
  EXPECT_THAT(errors_of(gouged), ::testing::Contains("proof.gouge"));
  EXPECT_EQ(gouged.gouge.stage, "witness flat");
  // into the waste so deep that it no longer holds the piece
  const auto thin = judged(request, turning, [&](motion::Position& p) { p.z -= p.z < clear ? height * 0.75 : 0; });
  EXPECT_THAT(errors_of(thin), ::testing::Contains("proof.waste"));
  const auto said = std::find_if(thin.findings.begin(), thin.findings.end(), [](const proof::Finding& f) { return f.id == "proof.waste"; });
  ASSERT_NE(said, thin.findings.end());
  EXPECT_THAT(said->message, HasSubstr("in the waste beside the head"));
  EXPECT_EQ(said->stage, "witness flat");
  // over the stub beside the foot: let down into it, and yet not below what holds the piece
  const double stub = mill::stub_diameter(request.turned, false, request.widest()) / 2, middle = (turning.witness->x0 + turning.witness->x1) / 2;
  ASSERT_GT(stub, 0);
  const auto over = judged(request, turning, [&](motion::Position& p) { p.x = request.turned.length + 7 + 0.05 * (p.x - middle), p.z -= p.z < clear ? height - 0.8 * stub : 0; });
  EXPECT_THAT(errors_of(over), ::testing::Contains("proof.stub"));
  EXPECT_THAT(errors_of(over), ::testing::Not(::testing::Contains("proof.gouge")));
  EXPECT_THAT(errors_of(over), ::testing::Not(::testing::Contains("proof.waste")));
  const auto refused = std::find_if(over.findings.begin(), over.findings.end(), [](const proof::Finding& f) { return f.id == "proof.stub"; });
  ASSERT_NE(refused, over.findings.end());
  EXPECT_THAT(refused->message, HasSubstr("over the stub beside the foot"));
  EXPECT_THAT(refused->message, HasSubstr(" mm, 0 deg, "));
  EXPECT_EQ(refused->stage, "witness flat");
  // into the chuck
  const auto held = judged(request, turning, [](motion::Position& p) { p.x -= 8; });
  EXPECT_THAT(errors_of(held), ::testing::Contains("proof.chuck"));
}

TEST(WitnessFlat, WithoutRoomTheTurningIsPlannedWithoutIt) {
  Loaded of;
  const auto column = column_of(of, "round");
  ASSERT_TRUE(column.ok()) << render(column.reasons());
  TurningRequest request = column->requests.front();
  request.blank.x0 += 15;
  const auto turning = plan_turning(request, {});
  ASSERT_TRUE(turning.ok()) << render(turning.reasons());
  EXPECT_FALSE(turning->witness.has_value());
  EXPECT_NE(turning->stretches.front().name, "witness flat");
}

}  // namespace
}  // namespace pommel::job
