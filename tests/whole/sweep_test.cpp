// Two routes to one piece, on designs of the catalog and on swept sheets of every family: the boundary (solid) against the radial field (shape), and
// the envelope (mill) against the boundary. Beside them wide sweeps through frame, field and blank alone.
//
// Both routes of a part share the field, so the envelope is judged by the distance from the ball's centre to the exact boundary,
// never by a height.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <numbers>

#include "mill/envelope.h"
#include "solid/solid.h"
#include "whole/sampled_sheets.h"
#include "whole/spared.h"

namespace pommel::whole {
namespace {

constexpr double kVolumeGate = 1e-4;    // relative
constexpr double kRadiusGate = 0.02;    // mm
constexpr double kTouchGate = 0.01;     // mm: the ball may stand so far off the wood
constexpr double kGougeGate = 0.0005;   // mm: and so deep in it, which is single precision and the kernel's edges
constexpr int kSets = 50, kQuarters = 4, kFew = 6, kRadii = 24, kPositions = 500, kNearCreases = 100;
constexpr double kTurn = 2 * std::numbers::pi;

std::vector<std::string> design_names() { return designs::design_names(*real_files(), catalog()); }

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

std::string name_of(const std::string& family, const std::string& more = {}) {
  std::string name = family + more;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
}

// Of pieces that one outline turns at two lengths the first is looked at; finials and sections by themselves.
std::vector<shape::Part> unlike(const family::Made& made) {
  std::vector<shape::Part> parts;
  for (const family::MadePiece& piece : made.pieces)
    if (parts.empty() || piece.part.elements.size() != parts.front().elements.size()) parts.push_back(piece.part);
  return parts;
}

class Catalogue : public ::testing::TestWithParam<std::string> {};

TEST_P(Catalogue, BoundaryAndFieldAgree) {
  Worst worst;
  Dice dice(7);
  const auto made = make(loaded(GetParam()), {});
  ASSERT_TRUE(made.ok()) << render(made.reasons());
  for (const shape::Part& part : unlike(*made)) compare(part, GetParam(), dice, worst);
  EXPECT_GT(worst.radii, 0);
  std::printf("%s: %d, radii %d, worst volume %.2e, worst radius %.2e mm\n", GetParam().c_str(), worst.parts, worst.radii, worst.volume, worst.radius);
}

INSTANTIATE_TEST_SUITE_P(Designs, Catalogue, ::testing::ValuesIn(design_names()), [](const auto& of) { return name_of(of.param); });

// What each family's own file offers to cut into its shaft, on the piece that it turns by itself.
struct Work {
  std::string family, work;

  friend void PrintTo(const Work& one, std::ostream* out) { *out << one.family << ", " << one.work; }
};
class OwnShaft : public ::testing::TestWithParam<Work> {};

TEST_P(OwnShaft, BoundaryAndFieldAgree) {
  const auto& [family, work] = GetParam();
  job::Loaded of = loaded(design_names().front());
  Sink sink;
  of.family = family::read_family(repository_text("templates/" + family + ".yaml"), family + ".yaml", family, sink);
  of.design = family::Design{};
  of.design.name = of.design.family = family;
  ASSERT_FALSE(sink.has_errors()) << render(sink.all());
  const auto made = make(of, {{"shaft_work", work}});
  ASSERT_TRUE(made.ok()) << render(made.reasons());
  const shape::Part& part = made->pieces.front().part;
  EXPECT_EQ(part.flutes.empty(), work != "fluted");
  EXPECT_EQ(part.reedings.empty(), work != "reeded");
  EXPECT_EQ(part.twists.empty(), work != "twisted");
  EXPECT_EQ(part.faces.size(), work == "octagonal" ? 8u : 4u);
  Worst worst;
  Dice dice(11);
  compare(part, family + ", " + work, dice, worst);
}

std::vector<Work> works() {
  std::vector<Work> all;
  for (const char* family : {"table-leg", "bed-post", "baluster", "lamp-column"})
    for (const char* work : {"fluted", "reeded", "twisted", "octagonal"}) all.push_back({family, work});
  return all;
}

INSTANTIATE_TEST_SUITE_P(Families, OwnShaft, ::testing::ValuesIn(works()), [](const auto& of) { return name_of(of.param.family, "_" + of.param.work); });

// Why sets were refused, by the first reason's id.
class Refused {
 public:
  void count(const std::vector<Diagnostic>& reasons, const std::string& what) {
    ASSERT_FALSE(reasons.empty()) << what;
    EXPECT_FALSE(reasons.front().id.empty()) << what;
    EXPECT_FALSE(reasons.front().message.empty()) << what;
    ++counts_[reasons.front().id];
  }
  std::string text() const {
    std::string out;
    for (const auto& [id, count] : counts_) out += " " + id + " " + std::to_string(count);
    return out;
  }

 private:
  std::map<std::string, int> counts_;
};

// A handful of sheets of each family, since a boundary with reeds or a twist takes seconds; two hundred where POMMEL_SWEEP_ALL is set. Table legs in four
// quarters, which test runners can start side by side.
struct Part {
  std::string family;
  unsigned quarter = 0;
  int sets = 0;
};
class Sweep : public ::testing::TestWithParam<Part> {};

TEST_P(Sweep, BoundaryAndFieldAgree) {
  const auto& [family, quarter, few] = GetParam();
  const int sets = !std::getenv("POMMEL_SWEEP_ALL") ? few : family == "table-leg" ? kSets : kQuarters * kSets;
  const std::vector<job::Loaded> designs = designs_of(family);
  ASSERT_FALSE(designs.empty());
  Worst worst;
  Dice dice(20260302 + quarter);
  Refused refused;
  int tried = 0, made_sets = 0;
  for (; made_sets < sets && tried < 8 * sets; ++tried) {
    const job::Loaded& of = designs[static_cast<std::size_t>(tried) % designs.size()];
    const Extra extra = sampled_sheet(of, dice);
    const auto made = make(of, extra);
    if (made.ok()) {
      compare(made->pieces[static_cast<std::size_t>(tried) % made->pieces.size()].part, told(of, extra), dice, worst);
      ++made_sets;
    } else {
      refused.count(made.reasons(), told(of, extra));
    }
  }
  EXPECT_EQ(made_sets, sets) << "of " << tried << " tried";
  std::printf("%s: %d parts of %d tried, radii %d, worst volume %.2e, worst radius %.2e mm; refused:%s\n", family.c_str(), worst.parts, tried, worst.radii, worst.volume, worst.radius,
              refused.text().c_str());
}

std::vector<Part> parts() {
  std::vector<Part> all;
  for (unsigned quarter = 0; quarter < kQuarters; ++quarter) all.push_back({"table-leg", quarter, kFew});
  for (const char* family : {"bed-post", "baluster", "lamp-column"}) all.push_back({family, 0, kFew});
  return all;
}

INSTANTIATE_TEST_SUITE_P(Families, Sweep, ::testing::ValuesIn(parts()),
                         [](const auto& of) { return name_of(of.param.family, "_" + std::to_string(of.param.quarter)); });

// Two hundred sheets a family through frame, field and blank.
class WideSweep : public ::testing::TestWithParam<const char*> {};

TEST_P(WideSweep, EachSheetIsMadeOrRefusedWithAReason) {
  const std::string family = GetParam();
  const std::vector<job::Loaded> designs = designs_of(family);
  ASSERT_FALSE(designs.empty());
  Dice dice(20260303);
  Refused refused;
  int made = 0;
  for (int tried = 0; tried < kQuarters * kSets; ++tried) {
    const job::Loaded& of = designs[static_cast<std::size_t>(tried) % designs.size()];
    const Extra extra = sampled_sheet(of, dice);
    const std::string what = told(of, extra);
    Sink sink;
    const auto sheet = family::make_sheet(of.family, of.design, nullptr, of.shop, entries(extra), sink);
    if (sink.has_errors()) {
      refused.count(sink.all(), what);
      continue;
    }
    const auto column = job::run_to_stock(of, sheet, sheet.column_count() - 1, {});
    if (!column.ok()) {
      refused.count(column.reasons(), what);
      continue;
    }
    ++made;
    for (std::size_t i = 0; i < column->made.pieces.size(); ++i) {
      const shape::Part& part = column->made.pieces[i].part;
      EXPECT_TRUE(shape::problems(part).empty()) << what;
      EXPECT_GE(column->blanks[i].plan.blank.length(), part.length) << what;
      EXPECT_GT(column->thinnest_diameter, 0) << what;
    }
    for (const frame::Member& member : column->made.set.members) EXPECT_TRUE(shape::problems(member.part).empty()) << what << ", " << member.id;
  }
  EXPECT_GE(made, kQuarters * kSets / 2) << "refused:" << refused.text();
  std::printf("%s: %d of %d sheets made; refused:%s\n", family.c_str(), made, kQuarters * kSets, refused.text().c_str());
}

INSTANTIATE_TEST_SUITE_P(Families, WideSweep, ::testing::Values("table-leg", "bed-post", "baluster", "lamp-column"), [](const auto& of) { return name_of(of.param); });

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
  for (const std::string& name : designs_for_long_tests(*real_files(), catalog())) {
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
