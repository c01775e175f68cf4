// Two routes to one leg, on every design of the catalog and on two hundred swept sheets of the table-leg family: the boundary
// (solid) against the radial field (shape), and the envelope (mill) against the boundary.
//
// Both routes of a part share the field, so the envelope is judged by the distance from the ball's centre to the exact boundary,
// never by a height.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <numbers>
#include <random>

#include "base/number.h"
#include "mill/envelope.h"
#include "solid/solid.h"
#include "whole/house.h"

namespace pommel::whole {
namespace {

constexpr double kVolumeGate = 1e-4;    // relative
constexpr double kRadiusGate = 0.02;    // mm
constexpr double kTouchGate = 0.01;     // mm: the ball may stand so far off the wood
constexpr double kGougeGate = 0.0005;   // mm: and so deep in it, which is single precision and the kernel's edges
constexpr int kSets = 50, kQuarters = 4, kRadii = 24, kPositions = 500, kNearCreases = 100;
constexpr double kTurn = 2 * std::numbers::pi;

// The same numbers from the same seed with any library: no distribution of the standard library is used.
class Dice {
 public:
  explicit Dice(unsigned seed) : engine_(seed) {}
  double between(double low, double high) { return low + (high - low) * (static_cast<double>(engine_()) / 4294967296.0); }
  std::size_t below(std::size_t count) { return engine_() % count; }

 private:
  std::mt19937 engine_;
};

designs::House catalog() { return {std::filesystem::path(POMMEL_SOURCE_DIR) / "catalog", std::filesystem::path(POMMEL_SOURCE_DIR) / "templates"}; }

std::vector<std::string> design_names() { return designs::design_names(*real_files(), catalog()); }

job::Loaded loaded(const std::string& design) {
  Sink sink;
  auto out = job::load(*real_files(), catalog(), catalog().catalog / "designs" / (design + ".yaml"), sink);
  EXPECT_TRUE(out && !sink.has_errors()) << render(sink.all());
  return out ? std::move(*out) : job::Loaded{};
}

Result<family::Made> make(const job::Loaded& of, const Extra& extra) {
  Sink sink;
  const auto sheet = family::make_sheet(of.family, of.design, nullptr, of.shop, entries(extra), sink);
  if (sink.has_errors()) return Failure(sink.all());
  return family::make(of.family, of.design, sheet, sheet.column_count() - 1, of.shop, {});
}

struct Worst {
  double volume = 0, radius = 0;
  int parts = 0, radii = 0;
};

void compare(const shape::Part& leg, const std::string& what, Dice& dice, Worst& worst) {
  const auto solid = solid::turned(leg);
  ASSERT_TRUE(solid.ok()) << what << "\n" << render(solid.reasons()) << shape::dump(leg);
  const double field = shape::turned_volume(leg), volume = std::abs(solid::volume(*solid) - field) / field;
  EXPECT_LT(volume, kVolumeGate) << what;
  worst.volume = std::max(worst.volume, volume);
  ++worst.parts;
  solid::Probe probe(*solid);
  for (int i = 0; i < kRadii; ++i) {
    const auto& pieces = leg.outline.pieces;
    const double anywhere = dice.between(0, leg.length), near_knot = pieces[dice.below(pieces.size())].x0 + dice.between(-0.3, 0.3);
    const double x = std::clamp(i % 3 == 0 ? near_knot : anywhere, 1e-3, leg.length - 1e-3);
    const double theta = i % 4 == 1 ? std::numbers::pi / 4 * static_cast<double>(dice.below(8)) : dice.between(0, kTurn);
    const auto found = probe.radius(x, theta);
    ASSERT_TRUE(found) << what << " x " << x << " theta " << theta;
    const double off = std::abs(*found - shape::radius_at(leg, x, theta));
    EXPECT_LT(off, kRadiusGate) << what << " x " << x << " theta " << theta;
    worst.radius = std::max(worst.radius, off);
    ++worst.radii;
  }
}

TEST(Catalogue, BoundaryAndFieldAgreeOnEveryDesign) {
  ASSERT_FALSE(design_names().empty());
  Worst worst;
  Dice dice(7);
  for (const std::string& name : design_names()) {
    const auto made = make(loaded(name), {});
    ASSERT_TRUE(made.ok()) << name << "\n" << render(made.reasons());
    compare(made->pieces.front().part, name, dice, worst);
  }
  EXPECT_EQ(worst.parts, static_cast<int>(design_names().size()));
  std::printf("designs: %d, radii %d, worst volume %.2e, worst radius %.2e mm\n", worst.parts, worst.radii, worst.volume, worst.radius);
}

Extra swept(Dice& dice) {
  const auto mm = [&](double low, double high) { return format_fixed(dice.between(low, high), 3) + " mm"; };
  return {{"table_height", mm(420, 1100)},    {"top_thickness", mm(15, 45)},      {"square", mm(40, 110)},          {"long_rail_depth", mm(45, 160)},
          {"short_rail_depth", mm(45, 160)},  {"rail_thickness", mm(15, 30)},     {"rail_set_back", mm(0, 10)},     {"rail_drop", mm(0, 10)},
          {"glide_height", mm(0, 60)},        {"table_length", mm(900, 2600)},    {"table_width", mm(600, 1300)}};
}

// Two hundred sheets in four quarters, which test runners can start side by side.
class Sweep : public ::testing::TestWithParam<unsigned> {};

TEST_P(Sweep, BoundaryAndFieldAgreeOnFiftySheets) {
  std::vector<job::Loaded> designs;
  for (const std::string& name : design_names()) designs.push_back(loaded(name));
  ASSERT_FALSE(designs.empty());
  Worst worst;
  Dice dice(20260302 + GetParam());
  std::map<std::string, int> refused;
  int tried = 0;
  for (; worst.parts < kSets && tried < 4 * kSets; ++tried) {
    const job::Loaded& of = designs[static_cast<std::size_t>(tried) % designs.size()];
    const Extra extra = swept(dice);
    const auto made = make(of, extra);
    if (!made.ok()) {
      // refused by a diagnostic that says why; the first reason is counted
      ASSERT_FALSE(made.reasons().front().id.empty());
      EXPECT_FALSE(made.reasons().front().message.empty());
      ++refused[made.reasons().front().id];
      continue;
    }
    std::string what = of.design.id;
    for (const auto& [name, text] : extra) what += ", " + name + " " + text;
    compare(made->pieces.front().part, what, dice, worst);
  }
  EXPECT_EQ(worst.parts, kSets) << "of " << tried << " tried";
  std::printf("sweep: %d parts of %d tried, radii %d, worst volume %.2e, worst radius %.2e mm; refused:", worst.parts, tried, worst.radii, worst.volume, worst.radius);
  for (const auto& [id, count] : refused) std::printf(" %s %d", id.c_str(), count);
  std::printf("\n");
}

INSTANTIATE_TEST_SUITE_P(Quarters, Sweep, ::testing::Range(0u, static_cast<unsigned>(kQuarters)));

// --- the envelope

struct Position {
  double x = 0, a = 0;
};

// Half-diagonal creases: within the ball's radius of an arris, a knot's rim or the curve where the shoulder meets a face.
std::vector<Position> positions(const shape::Part& leg, double ball) {
  Dice dice(500);
  std::vector<Position> out;
  const auto within = [&](double x) { return std::clamp(x, ball, leg.length - ball); };
  const auto& pieces = leg.outline.pieces;
  const double head = leg.elements.front().x1, shoulder = leg.elements.at(1).x1;
  for (int i = 0; i < kNearCreases; ++i) {
    const double beside = dice.between(-ball, ball), corner = std::numbers::pi / 4 + std::numbers::pi / 2 * static_cast<double>(dice.below(4));
    if (i % 3 == 0) out.push_back({dice.between(ball, head), corner + std::asin(beside / shape::radius_at(leg, head / 2, corner))});
    else if (i % 3 == 1) out.push_back({within(pieces[dice.below(pieces.size())].x0 + beside), dice.between(0, kTurn)});
    else out.push_back({within(dice.between(head, shoulder) + beside), dice.between(0, kTurn)});
  }
  while (out.size() < kPositions) out.push_back({dice.between(ball, leg.length - ball), dice.between(0, kTurn)});
  return out;
}

struct Touch {
  double gouge = 0, gap = 0;  // worst, mm
  int bad = 0;
};

template <class Height>
Touch judge(const shape::Part& leg, double ball, solid::Probe& probe, const Height& height) {
  Touch touch;
  for (const Position& at : positions(leg, ball)) {
    const double c = height(at.x, at.a);
    const double off = probe.distance({at.x, c * std::cos(at.a), c * std::sin(at.a)}) - ball;
    touch.gouge = std::max(touch.gouge, -off);
    touch.gap = std::max(touch.gap, off);
    if (!(off >= -kGougeGate && off <= kTouchGate)) ++touch.bad;  // also where it is no number
  }
  return touch;
}

TEST(Envelope, TheBallTouchesTheExactBoundary) {
  for (const std::string& name : design_names()) {
    const job::Loaded of = loaded(name);
    const auto made = make(of, {});
    ASSERT_TRUE(made.ok()) << name;
    const shape::Part& leg = made->pieces.front().part;
    const double ball = of.shop.cutters.at("ball-8").diameter / 2;
    const auto solid = solid::turned(leg);
    ASSERT_TRUE(solid.ok()) << name;
    solid::Probe probe(*solid);
    const auto envelope = mill::Envelope::of(leg, ball);
    ASSERT_TRUE(envelope.ok()) << name << "\n" << render(envelope.reasons());
    const Touch touch = judge(leg, ball, probe, [&](double x, double a) { return envelope->centre_height(x, a); });
    EXPECT_EQ(touch.bad, 0) << name << ": deepest " << touch.gouge << ", farthest off " << touch.gap;

    // the same judge refuses an envelope that was only looked at every millimetre and every five degrees
    const double dx = 1, da = kTurn / 72;
    const Touch coarse = judge(leg, ball, probe, [&](double x, double a) {
      const double i = std::floor(x / dx), j = std::floor(a / da), u = x / dx - i, v = a / da - j;
      const auto at = [&](double m, double n) { return envelope->centre_height(m * dx, n * da); };
      return (1 - u) * ((1 - v) * at(i, j) + v * at(i, j + 1)) + u * ((1 - v) * at(i + 1, j) + v * at(i + 1, j + 1));
    });
    EXPECT_GT(coarse.bad, kPositions / 20) << name;
    EXPECT_GT(coarse.gouge, kTouchGate) << name;
    std::printf("%s: %d positions, deepest %.6f mm, farthest off %.6f mm; coarse: %d bad, deepest %.3f mm\n", name.c_str(), kPositions, touch.gouge, touch.gap, coarse.bad,
                coarse.gouge);
  }
}

}  // namespace
}  // namespace pommel::whole
