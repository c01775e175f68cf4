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
constexpr double kWoven = 0.001;                               // mm
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

double distance(const shape::Part& part, double x, double theta, double centre_x, double centre_height, double a) {
  const double r = shape::radius_at(part, x, theta);
  return std::hypot(x - centre_x, r * std::cos(theta - a) - centre_height, r * std::sin(theta - a));
}

// From the ball's centre to the skin as the field has it: looked at all round the place, then nearer and nearer about the nearest.
double field_distance(const shape::Part& part, double x, double a, double height, double ball) {
  constexpr int kLooks = 120;
  const double wide = 1.5 * ball / std::max(height - ball, ball);  // radians
  double best_x = x, best_theta = a, best = distance(part, x, a, x, height, a);
  const auto look = [&](double from_x, double from_theta, double step_x, double step_theta, int looks) {
    for (int i = -looks; i <= looks; ++i)
      for (int j = -looks; j <= looks; ++j) {
        const double at_x = std::clamp(from_x + i * step_x, 0.0, part.length), at_theta = from_theta + j * step_theta, off = distance(part, at_x, at_theta, x, height, a);
        if (off < best) best = off, best_x = at_x, best_theta = at_theta;
      }
  };
  look(x, a, ball / kLooks, wide / kLooks, kLooks);
  for (double finer = 1; finer > 1e-6; finer /= 2) look(best_x, best_theta, finer * ball / kLooks, finer * wide / kLooks, 2);
  return best;
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
    // a woven boundary has its own thousandth of a millimetre (solid/weave.h): where it says that the ball is in the wood, the field is asked, too
    const bool only_woven = off < -kGougeGate && off >= -kGougeGate - kWoven && field_distance(part, x, a, c, ball) - ball >= -kGougeGate;
    if (!(off >= -kGougeGate && off <= kTouchGate) && !only_woven) return "ball off by " + std::to_string(off) + " at x " + std::to_string(x) + ", " + std::to_string(a);
  }
  return {};
}

job::TurningRequest request_of(const job::Loaded& of, const job::Column& column, std::size_t piece) {
  const shop::Machine& machine = *job::machine_of(of);
  job::TurningRequest request{column.made.pieces[piece].part, column.blanks[piece].plan.blank, {machine.blank_off_centre, machine.blank_bow, machine.blank_oversize}, of.shop.cutters.at("ball-8"), machine};
  request.turned.mortises.clear(), request.turned.bores.clear(), request.turned.axial_bores.clear(), request.turned.end_cuts.clear();
  if (is_coarse()) request.cusp = kCoarseRidge;
  request.thin_stubs = of.design.thin_stubs.value_or(of.family.thin_stubs.value_or(false));  // as an order without a word of its own
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
    return std::move(program->front().proof);
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

// Of two hundred sheets of table legs one had the ball 0.0007 mm in the woven boundary of its twist: by the field it touches the skin there.
TEST(WovenBoundary, WhereItStoodInTheBallsWayTheFieldIsTouched) {
  const job::Loaded of = loaded("barley-twist");
  const Extra extra = {{"table_height", "738.395 mm"}, {"square", "58.736 mm"}, {"table_length", "1072.732 mm"}, {"table_width", "775.276 mm"}, {"long_rail_depth", "75.479 mm"},
                       {"short_rail_depth", "88.884 mm"}, {"top_thickness", "30.711 mm"}, {"rail_thickness", "20.920 mm"}, {"rail_set_back", "7.379 mm"}, {"rail_drop", "1.719 mm"},
                       {"glide_height", "14.346 mm"}, {"stock", "white-oak-12/4-rough"}};
  Sink sink;
  const auto sheet = family::make_sheet(of.family, of.design, nullptr, of.shop, entries(extra), sink);
  ASSERT_FALSE(sink.has_errors()) << render(sink.all());
  const auto column = job::run_to_stock(of, sheet, sheet.column_count() - 1, {});
  ASSERT_TRUE(column.ok()) << render(column.reasons());
  const shape::Part& part = column->made.pieces.front().part;
  const double ball = 4, x = 265.921202, a = 1.264697;
  const auto envelope = mill::Envelope::of(part, ball);
  ASSERT_TRUE(envelope.ok());
  const double height = envelope->centre_height(x, a);
  EXPECT_NEAR(field_distance(part, x, a, height, ball), ball, kGougeGate);
  EXPECT_NEAR(field_distance(part, x, a, height - 0.01, ball), ball - 0.01, 0.005);  // it would see the ball in the wood
}

INSTANTIATE_TEST_SUITE_P(Families, WholeSweep, ::testing::Values("table-leg", "bed-post", "baluster", "lamp-column"), [](const auto& of) {
  std::string name = of.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

}  // namespace
}  // namespace pommel::whole
