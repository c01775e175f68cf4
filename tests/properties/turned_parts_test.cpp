// What turning a piece about its axis, looking at it in a mirror and drawing it to another scale must not change.
//
// Mirrored twice is the same bits: directions of faces are whole eighths of a turn, which are taken from a turn without rounding. Those of flutes and
// reeds are any number: a direction below half a turn is rounded once when it is taken from a whole one, by half a unit in the last place of a turn.
// Heights are held within 1e-9 mm of those at places within 1e-9 mm: the rounding of a length of half a metre is 1e-13 mm, and a few hundred steps stand
// between it and a height.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <utility>

#include "mill/envelope.h"
#include "program/reader.h"
#include "properties/drawn_parts.h"
#include "shape/ring.h"

namespace pommel::properties {
namespace {

using shape::Random;

constexpr double kRounding = 1e-9;             // mm
constexpr double kTurnRounding = 0x1p-51 + 0x1p-53;  // radians: half a unit in the last place of a whole turn, and of a quarter
constexpr double kQuarter = std::numbers::pi / 2;
constexpr std::size_t kParts = 100;            // five of them treated, two of these twisted
constexpr double kBall = 4, kLeastRadius = 7;  // mm: of the cutter; of any of these parts, about
constexpr double kTwisted = 0.0015;            // mm, EnvelopeSettings::crease_tolerance: chords over twists are laid from another end in the mirror

/// One envelope over another part, seen at the places that must be alike: x and heights `scale` times as great, directions by `sign` and `turn`.
struct Alike {
  double scale = 1, sign = 1, turn = 0;

  /// mm at the first part's size: the greatest difference of heights.
  double worst(const shape::Part& part, const shape::Part& other, Random& random) const {
    const mill::EnvelopeSettings usual, scaled{usual.crease_tolerance * scale, usual.never_gouge, 0};
    const auto one = mill::Envelope::of(part, kBall, usual), two = mill::Envelope::of(other, kBall * scale, scaled);
    if (!one.ok() || !two.ok()) return ADD_FAILURE() << "no envelope", 0;
    double off = 0;
    for (int i = 0; i < 60; ++i) {
      const double x = random.between(0, part.length), a = random.between(0, 4 * kQuarter);
      off = std::max(off, beyond(*one, x, a, two->centre_height(x * scale, sign * a + turn) / scale));
    }
    return off;
  }

 private:
  // mm by which `height` is none of those that the envelope has within kRounding of the place, along and round: beside a wall it falls by any height there.
  static double beyond(const mill::Envelope& envelope, double x, double a, double height) {
    double low = envelope.centre_height(x, a), high = low;
    for (const auto& [dx, da] : {std::pair{kRounding, 0.0}, {-kRounding, 0.0}, {0.0, kRounding / kLeastRadius}, {0.0, -kRounding / kLeastRadius}}) {
      const double near = envelope.centre_height(x + dx, a + da);
      low = std::min(low, near), high = std::max(high, near);
    }
    return std::max({0.0, low - height, height - high});
  }
};

std::vector<double> directions(const shape::Part& part) {
  std::vector<double> out;
  for (const shape::Face& face : part.faces) out.push_back(face.phi);
  for (const shape::Flute& flute : part.flutes) out.push_back(flute.theta);
  for (const shape::Reeding& reeding : part.reedings) out.push_back(reeding.phase);
  for (const shape::Twist& twist : part.twists) out.push_back(twist.phase);
  return out;
}

void with_directions(shape::Part& part, const std::vector<double>& all) {
  std::size_t next = 0;
  for (shape::Face& face : part.faces) face.phi = all[next++];
  for (shape::Flute& flute : part.flutes) flute.theta = all[next++];
  for (shape::Reeding& reeding : part.reedings) reeding.phase = all[next++];
  for (shape::Twist& twist : part.twists) twist.phase = all[next++];
}

TEST(TurnedParts, MirroredTwiceIsTheSamePart) {
  for (std::size_t number = 0; number < 2000; ++number) {
    const shape::Part part = drawn_part(number);
    shape::Part twice = shape::mirrored(shape::mirrored(part));
    const std::vector<double> before = directions(part), after = directions(twice);
    for (std::size_t i = 0; i < before.size(); ++i) ASSERT_NEAR(after[i], before[i], i < part.faces.size() ? 0 : kTurnRounding) << number;
    with_directions(twice, before);
    ASSERT_EQ(twice, part) << number;
  }
}

TEST(TurnedParts, AMirroredTwistIsAnotherPiece) {
  int twisted = 0;
  for (std::size_t number = 19; number < 2000; number += 20) {
    const shape::Part part = drawn_part(number);
    if (part.twists.empty()) continue;
    ++twisted;
    EXPECT_EQ(shape::mirrored(part).twists.front().pitch, -part.twists.front().pitch) << number;
    EXPECT_NE(shape::canonical_text(shape::mirrored(part), false), shape::canonical_text(part, false)) << number;
  }
  EXPECT_GT(twisted, 40);
}

TEST(TurnedParts, MirroredTwiceIsTheSameProgramByteForByte) {
  for (std::size_t number : {1u, 2u}) {
    job::TurningRequest request = drawn_request(number);
    const std::string text = program_of(request);
    EXPECT_GT(text.size(), 1000u);
    request.turned = shape::mirrored(shape::mirrored(request.turned));
    EXPECT_EQ(program_of(request), text) << number;
  }
}

TEST(TurnedParts, AMirroredPieceHasTheMirroredEnvelope) {
  Random random(1);
  for (std::size_t number = 0; number < kParts; ++number) {
    const shape::Part part = drawn_part(number);
    EXPECT_LE((Alike{1, -1, 0}.worst(part, shape::mirrored(part), random)), part.twists.empty() ? kRounding : kTwisted) << number;
  }
}

TEST(TurnedParts, AQuarterTurnTurnsTheEnvelopeAndNothingElse) {
  Random random(2);
  for (std::size_t number = 0; number < kParts; ++number) {
    const shape::Part part = drawn_part(number);
    const int quarters = 1 + static_cast<int>(number % 3);
    const shape::Part turned = shape::turned_by(part, quarters);
    EXPECT_EQ(shape::canonical_text(turned, false), shape::canonical_text(part, false)) << number;
    EXPECT_LE((Alike{1, 1, quarters * kQuarter}.worst(part, turned, random)), kRounding) << number;
  }
}

// By powers of two, which doubles take without rounding: what differed would be a length in the code that does not scale.
TEST(TurnedParts, PartAndCutterScaledScaleTheEnvelope) {
  Random random(3);
  for (std::size_t number = 0; number < kParts; ++number) {
    const double by = std::array{2.0, 0.5, 8.0, 0.25}[number % 4];
    EXPECT_LE((Alike{by, 1, 0}.worst(drawn_part(number), shape::scaled(drawn_part(number), by), random)), kRounding) << number << " by " << by;
  }
}

/// A way of the tip over wood that does not turn meanwhile.
struct Way {
  double x0, z0, x1, z1;  // mm

  /// mm from a point down to it: 0 where the tip went as low there.
  double under(double x, double z) const {
    const double dx = x1 - x0, dz = z1 - z0, way = dx * dx + dz * dz;
    const double t = way > 0 ? std::clamp(((x - x0) * dx + (z - z0) * dz) / way, 0.0, 1.0) : 0;
    if (passes(x) && z >= (dx == 0 ? std::min(z0, z1) : z0 + (x - x0) * dz / dx)) return 0;
    return std::hypot(x - x0 - t * dx, z - z0 - t * dz);
  }

  bool passes(double x) const { return x >= std::min(x0, x1) && x <= std::max(x0, x1); }
};
using Ways = std::map<long, std::vector<Way>>;  // by the direction of the wood, in thousandths of a degree within a turn

// Of a text; `turned` degrees are added to every direction.
Ways ways_of(const std::string& text, const shop::Machine& machine, double turned) {
  Sink sink;
  const program::Program program = program::read(text, "turned", sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  Ways out;
  const program::Step* last = nullptr;
  for (const program::Step& step : program.steps) {
    const auto at = [&](program::Axis axis) { return step.at(axis); };
    if (last && last->at(program::Axis::a) == at(program::Axis::a)) {
      const long direction = std::lround((at(program::Axis::a) * machine.rotary_sense + turned) * 1000) % 360'000;
      out[(direction + 360'000) % 360'000].push_back({last->at(program::Axis::x), last->at(program::Axis::z), at(program::Axis::x), at(program::Axis::z)});
    }
    if (step.knows(program::Axis::a) && step.knows(program::Axis::x)) last = &step;
  }
  return out;
}

double nearest(const std::vector<Way>& ways, double x, double z) {
  double least = 1e9;
  for (const Way& way : ways) least = std::min(least, way.under(x, z));
  return least;
}

// mm: the most that one's ways go lower than the other's at any direction.
double lower(const Ways& one, const Ways& other) {
  double most = 0;
  for (const auto& [direction, ways] : one) {
    const auto found = other.find(direction);
    if (found == other.end()) return 1e9;
    for (const Way& way : ways) most = std::max(most, nearest(found->second, way.x1, way.z1));
  }
  return most;
}

// Lines stand at whole shares of a turn, as many as eight divide, so a quarter turn takes lines to lines. Lines are run from either end in turns, beginning
// with the one at 0 degrees, so a few are run from the other end, and come down there; the points that stay of a line are then others, each within 0.005 mm of
// the skin (PassSettings::along) and rounded to 0.001 mm. Only lengthwise: a turn round a round stretch is alike all round, and stays where it is.
TEST(TurnedParts, AQuarterTurnTurnsTheProgramByNinetyDegrees) {
  constexpr double kAlong = 0.005, kDigit = 0.001;
  for (std::size_t number : {1u, 5u}) {
    job::TurningRequest request = drawn_request(number);
    request.way = mill::Way::lengthwise;
    const Ways straight = ways_of(program_of(request), request.machine, 90);
    request.turned = shape::turned_by(request.turned, 1);
    const Ways turned = ways_of(program_of(request), request.machine, 0);
    EXPECT_GT(straight.size(), 30u);
    EXPECT_LE(lower(straight, turned), kAlong + kDigit) << number;
    EXPECT_LE(lower(turned, straight), kAlong + kDigit) << number;
  }
}

// Where all four quarters are alike the turned piece is the piece: the text does not change by a byte.
TEST(TurnedParts, AQuarterTurnOfAPieceOfFourAlikeQuartersChangesNoByteOfItsProgram) {
  for (std::size_t number : {0u, 2u}) {
    job::TurningRequest request = drawn_request(number);
    const std::string text = program_of(request);
    request.turned = shape::turned_by(request.turned, 1);
    EXPECT_EQ(program_of(request), text) << number;
  }
}

}  // namespace
}  // namespace pommel::properties
