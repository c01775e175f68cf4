// Two thousand parts drawn at random, each the whole way: field, boundary, envelope, program, check. Ten of them where every change is tested;
// POMMEL_PARTS=FROM-UNTIL takes those (from 0, UNTIL not among them), one line a part on stdout, so a long run can be cut into pieces and gone on
// with. The table in DEVELOPERS.md was counted from such lines.
//
// Each stage is judged by something that does not know it: the field's volume and radii by the boundary of the modelling kernel, the envelope by the
// kernel's distance from the ball's centre, the program by cutting the blank in simulation with its text read back.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <numbers>

#include "mill/envelope.h"
#include "program/reader.h"
#include "properties/drawn_parts.h"
#include "solid/solid.h"
#include "whole/coarse.h"

namespace pommel::properties {
namespace {

using shape::Random;

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kVolumeGate = 1e-5, kTreatedVolumeGate = 1e-4;  // relative
constexpr double kRadiusGate = 2e-4, kTreatedRadiusGate = 0.02;  // mm along a ray: faces are moved by up to 1e-4 mm (solid.cpp); solid::kRadiusGate
constexpr double kGougeGate = 0.0005, kTouchGate = 0.01;         // mm: the ball in the wood, and off it
constexpr double kWeave = 0.001;                                 // mm: how near woven surfaces of treatments are to the field (solid/weave.h)
constexpr int kPlaces = 16;

bool treated(const shape::Part& part) { return !part.flutes.empty() || !part.reedings.empty() || !part.twists.empty(); }

struct Fate {
  std::string stage, why;  // "made", "refused: ID", or which stage was wrong
};

// Each of these gives "" where all held, else what did not.

std::string boundary_fault(const shape::Part& part, const solid::Solid& solid) {
  const double field = shape::turned_volume(part), off = std::fabs(solid::volume(solid) - field) / field;
  return off <= (treated(part) ? kTreatedVolumeGate : kVolumeGate) ? "" : "volume off by " + std::to_string(off);
}

std::string radius_fault(const shape::Part& part, solid::Probe& probe, Random& random) {
  const double gate = treated(part) ? kTreatedRadiusGate : kRadiusGate;
  for (int i = 0; i < kPlaces; ++i) {
    const double x = random.between(0.5, part.length - 0.5), theta = random.between(0, kTurn), field = shape::radius_at(part, x, theta);
    const auto boundary = probe.radius(x, theta);
    if (!boundary || std::fabs(*boundary - field) > gate)
      return "radius " + std::to_string(field) + " at x " + std::to_string(x) + ", " + std::to_string(theta) + " where the boundary has " + (boundary ? std::to_string(*boundary) : "none");
  }
  return {};
}

// Half of the places near knots, where creases are.
std::string envelope_fault(const shape::Part& part, solid::Probe& probe, double ball, Random& random) {
  const auto envelope = mill::Envelope::of(part, ball);
  if (!envelope.ok()) return envelope.reasons().front().id;
  const double woven = treated(part) ? kWeave : 0;
  for (int i = 0; i < kPlaces; ++i) {
    const auto& pieces = part.outline.pieces;
    const double near_knot = pieces[static_cast<std::size_t>(random.below(static_cast<int>(pieces.size())))].x0 + random.between(-ball, ball);
    const double x = std::clamp(i % 2 == 0 ? random.between(0, part.length) : near_knot, 0.0, part.length), a = random.between(0, kTurn);
    const double c = envelope->centre_height(x, a), off = probe.distance({x, c * std::cos(a), c * std::sin(a)}) - ball;
    if (!(off >= -kGougeGate - woven && off <= kTouchGate + woven)) return "ball off by " + std::to_string(off) + " at x " + std::to_string(x) + ", " + std::to_string(a);
  }
  return {};
}

// The text read back moves where the plan moves: as far along and as low, to the last digit written.
std::string text_fault(const std::string& text, const std::vector<motion::Path>& paths, const shop::Machine& machine) {
  Sink sink;
  const program::Program program = program::read(text, "drawn", sink);
  if (sink.has_errors()) return render(sink.all());
  double lowest = 1e9, low = 1e9;
  for (const motion::Path& path : paths)
    for (const motion::Move& move : path.moves) lowest = std::min(lowest, move.to.z);
  for (const program::Step& step : program.steps)
    if (step.knows(program::Axis::z)) low = std::min(low, step.at(program::Axis::z));
  const double digit = std::pow(10, -machine.x_decimals);
  return std::fabs(low - lowest) <= digit ? "" : "the text goes down to " + std::to_string(low) + ", the plan to " + std::to_string(lowest);
}

Fate check_fate(const job::TurningRequest& request, const std::string& text) {
  const auto proof = proof::prove(text, request.turned, request.blank, request.tolerance, request.cutter, request.machine, whole::coarse(request), {});
  if (!proof.ok()) return {"no check", proof.reasons().front().id};
  if (!proof->passed()) return {"not released", proof->findings.front().id + " " + proof->findings.front().message};
  if (!proof::released(text, *proof).ok()) return {"not released", "other text"};
  return {"made", ""};
}

Fate program_fate(const job::TurningRequest& request) {
  const auto turning = job::plan_turning(request, {});
  if (!turning.ok()) return {"refused: " + turning.reasons().front().id, turning.reasons().front().message};
  const auto texts = program::write_all(turning->paths, request.machine, {});
  if (!texts.ok()) return {"refused: " + texts.reasons().front().id, texts.reasons().front().message};
  if (const std::string fault = text_fault(texts->front(), turning->paths, request.machine); !fault.empty()) return {"text off", fault};
  return check_fate(request, texts->front());
}

Fate fate_of(std::size_t number) {
  const job::TurningRequest request = drawn_request(number);
  const shape::Part& part = request.turned;
  Random random(90'000 + number);
  if (const auto problems = shape::problems(part); !problems.empty()) return {"unsound", problems.front().id + " " + problems.front().message};
  const auto solid = solid::turned(part);
  if (!solid.ok()) return {"refused: " + solid.reasons().front().id, solid.reasons().front().message};
  if (const std::string fault = boundary_fault(part, *solid); !fault.empty()) return {"boundary off", fault};
  solid::Probe probe(*solid);
  if (const std::string fault = radius_fault(part, probe, random); !fault.empty()) return {"field off", fault};
  if (const std::string fault = envelope_fault(part, probe, request.cutter.diameter / 2, random); !fault.empty()) return {"envelope off", fault};
  return program_fate(request);
}

// Deep pieces beside whose pommels a spiral's end brought the shank to wood that was higher than the flutes reach, however slim the shank: the check
// refused them. Now lines come down along the pommel, and none of them rubs.
TEST(DrawnParts, ShanksKeepClearOfPommels) {
  for (std::size_t number : {267, 530, 1118}) {
    const Fate fate = program_fate(drawn_request(number));
    EXPECT_EQ(fate.stage, "made") << "part " << number << ": " << fate.why;
  }
  const auto turning = job::plan_turning(drawn_request(530), {});
  ASSERT_TRUE(turning.ok()) << render(turning.reasons());
  ASSERT_EQ(turning->notes.size(), 1u);
  EXPECT_EQ(turning->notes.front().message,
            "the 8 mm ball, long reach goes lengthwise at x 436.9 to 442.2 mm: beside it wood stands higher than its flutes of 38 mm reach, and going round its shank would rub");
}

// Reeds whose first crown lies in an odd direction: lines at whole shares of a turn met none of the valleys between them, and 0.2 mm more than the ridge was left.
TEST(DrawnParts, ValleysInOddDirectionsHaveALine) {
  const Fate fate = program_fate(drawn_request(39));
  EXPECT_EQ(fate.stage, "made") << fate.why;
}

struct Range {
  std::size_t from = 10, until = 20;
};

Range range() {
  Range out;
  if (const char* asked = std::getenv("POMMEL_PARTS")) {
    const bool read = std::sscanf(asked, "%zu-%zu", &out.from, &out.until) == 2;
    EXPECT_TRUE(read && out.from < out.until) << "POMMEL_PARTS=FROM-UNTIL, not " << asked;
  }
  return out;
}

TEST(DrawnParts, EachIsMadeOrRefusedWithAReason) {
  std::map<std::string, int> counts;
  for (std::size_t number = range().from; number < range().until; ++number) {
    const Fate fate = fate_of(number);
    ++counts[fate.stage];
    EXPECT_TRUE(fate.stage == "made" || fate.stage.starts_with("refused: ")) << "part " << number << ": " << fate.stage << ", " << fate.why << "\n" << shape::dump(drawn_part(number));
    std::printf("part %zu: %s %s\n", number, fate.stage.c_str(), fate.why.c_str());
    std::fflush(stdout);
  }
  for (const auto& [what, count] : counts) std::printf("%d %s\n", count, what.c_str());
  EXPECT_GE(10 * counts["made"], 9 * static_cast<int>(range().until - range().from)) << "a mill that refuses everything would gouge nothing, too";
}

}  // namespace
}  // namespace pommel::properties
