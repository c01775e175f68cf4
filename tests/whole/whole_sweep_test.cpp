// Drawn sheets of every family the whole way: field, boundary, blank, envelope, checked program. One sheet a family where every change is tested;
// POMMEL_SWEEP_ALL=200 takes so many, coarsely (coarse.h), one line a sheet on stdout, which is how the table in DEVELOPERS.md was counted.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <numbers>

#include "job/column.h"
#include "mill/envelope.h"
#include "solid/solid.h"
#include "whole/coarse.h"
#include "whole/sampled_sheets.h"

namespace pommel::whole {
namespace {

constexpr double kVolumeGate = 1e-4, kTwistVolumeGate = 1e-3;  // relative
constexpr double kTouchGate = 0.01, kGougeGate = 0.0005;       // mm: the ball off the wood, and in it
constexpr int kPlaces = 12;

int sheets() {
  const char* all = std::getenv("POMMEL_SWEEP_ALL");
  return all ? std::max(1, std::atoi(all)) : 1;
}

bool is_coarse() { return sheets() > 1; }

// "" where all held, else what did not.
std::string boundary_fault(const shape::Part& part, const solid::Solid& solid) {
  const double field = shape::turned_volume(part), off = std::abs(solid::volume(solid) - field) / field;
  return off <= (part.twists.empty() ? kVolumeGate : kTwistVolumeGate) ? "" : "volume off by " + std::to_string(off);
}

std::string envelope_fault(const shape::Part& part, const solid::Solid& solid, double ball, Dice& dice) {
  const auto envelope = mill::Envelope::of(part, ball);
  if (!envelope.ok()) return "envelope: " + envelope.reasons().front().id;
  solid::Probe probe(solid);
  for (int i = 0; i < kPlaces; ++i) {
    const auto& pieces = part.outline.pieces;
    const double near_knot = pieces[dice.below(pieces.size())].x0 + dice.between(-ball, ball), anywhere = dice.between(ball, part.length - ball);
    const double x = std::clamp(i % 2 == 0 ? anywhere : near_knot, ball, part.length - ball), a = dice.between(0, 2 * std::numbers::pi);
    const double c = envelope->centre_height(x, a), off = probe.distance({x, c * std::cos(a), c * std::sin(a)}) - ball;
    if (!(off >= -kGougeGate && off <= kTouchGate)) return "ball off by " + std::to_string(off) + " at x " + std::to_string(x) + ", " + std::to_string(a);
  }
  return {};
}

job::TurningRequest request_of(const job::Loaded& of, const job::Column& column, std::size_t piece) {
  const shop::Machine& machine = *job::machine_of(of);
  job::TurningRequest request{column.made.pieces[piece].part, column.blanks[piece].plan.blank, {machine.blank_off_centre, machine.blank_bow, machine.blank_oversize}, of.shop.cutters.at("ball-8"), machine};
  request.turned.mortises.clear(), request.turned.bores.clear(), request.turned.axial_bores.clear(), request.turned.end_cuts.clear();
  if (is_coarse()) request.cusp = kCoarseRidge;
  request.wood = of.shop.woods.at(column.blanks[piece].board.wood);
  return request;
}

struct Fate {
  std::string stage, why;  // "made", "refused", "no boundary" ...
};

Result<proof::Proof> checked(const job::TurningRequest& request, const job::Turning& turning) {
  if (!is_coarse()) {
    auto program = job::write_and_prove(request, turning, {}, {});
    if (!program.ok()) return program.failure();
    return std::move(program->proof);
  }
  const auto texts = program::write_all(turning.paths, request.machine, {});
  if (!texts.ok()) return texts.failure();
  return proof::prove(texts->front(), request.turned, request.blank, request.tolerance, request.cutter, request.machine, coarse(request), {});
}

Fate fate_of(const job::Loaded& of, const Extra& extra, std::size_t number, Dice& dice) {
  Sink sink;
  const auto sheet = family::make_sheet(of.family, of.design, nullptr, of.shop, entries(extra), sink);
  if (sink.has_errors()) return {"refused", sink.all().front().id};
  const auto column = job::run_to_stock(of, sheet, sheet.column_count() - 1, {});
  if (!column.ok()) return {"refused", column.reasons().front().id};
  const std::size_t piece = number % column->made.pieces.size();
  const shape::Part& part = column->made.pieces[piece].part;
  if (!shape::problems(part).empty()) return {"unsound", shape::problems(part).front().id};
  const auto solid = solid::turned(part);
  if (!solid.ok()) return {"no boundary", solid.reasons().front().id};
  if (const std::string fault = boundary_fault(part, *solid); !fault.empty()) return {"boundary off", fault};
  const job::TurningRequest request = request_of(of, *column, piece);
  if (const std::string fault = envelope_fault(part, *solid, request.cutter.diameter / 2, dice); !fault.empty()) return {"envelope off", fault};
  const auto turning = job::plan_turning(request, {});
  if (!turning.ok()) return {"refused by the mill", turning.reasons().front().id};
  const auto proof = checked(request, *turning);
  if (!proof.ok()) return {"no check", proof.reasons().front().id};
  if (!proof->passed()) return {"not released", proof->findings.empty() ? "" : proof->findings.front().id + " " + proof->findings.front().message};
  return {"made", ""};
}

class WholeSweep : public ::testing::TestWithParam<const char*> {};

// Refusals are answers; a boundary, an envelope or a program that is wrong is none.
TEST_P(WholeSweep, EachSheetBecomesACheckedProgramOrIsRefusedWithAReason) {
  const std::vector<job::Loaded> designs = designs_of(GetParam());
  ASSERT_FALSE(designs.empty());
  Dice dice(20260701);
  std::map<std::string, int> counts;
  for (std::size_t i = 0; i < static_cast<std::size_t>(sheets()); ++i) {
    const job::Loaded& of = designs[i % designs.size()];
    const Extra extra = sampled_sheet(of, dice);
    const Fate fate = fate_of(of, extra, i, dice);
    ++counts[fate.stage + (fate.stage.starts_with("refused") ? ": " + fate.why : "")];
    EXPECT_TRUE(fate.stage == "made" || fate.stage.starts_with("refused")) << told(of, extra) << ": " << fate.stage << ", " << fate.why;
    if (fate.stage.starts_with("refused")) { EXPECT_FALSE(fate.why.empty()); }
    std::printf("%s %zu: %s %s\n", of.design.id.c_str(), i, fate.stage.c_str(), fate.why.c_str());
    std::fflush(stdout);
  }
  for (const auto& [what, count] : counts) std::printf("%s: %d %s\n", GetParam(), count, what.c_str());
}

INSTANTIATE_TEST_SUITE_P(Families, WholeSweep, ::testing::Values("table-leg", "bed-post", "baluster", "lamp-column"), [](const auto& of) {
  std::string name = of.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

}  // namespace
}  // namespace pommel::whole
