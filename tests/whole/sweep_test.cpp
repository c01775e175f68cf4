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
#include <random>

#include "base/number.h"
#include "mill/envelope.h"
#include "solid/solid.h"
#include "whole/house.h"
#include "whole/spared.h"

namespace pommel::whole {
namespace {

constexpr double kVolumeGate = 1e-4;    // relative
constexpr double kRadiusGate = 0.02;    // mm
constexpr double kTouchGate = 0.01;     // mm: the ball may stand so far off the wood
constexpr double kGougeGate = 0.0005;   // mm: and so deep in it, which is single precision and the kernel's edges
constexpr int kSets = 50, kQuarters = 4, kFew = 6, kRadii = 24, kPositions = 500, kNearCreases = 100;
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

// What a family is swept over: measures that a maker changes, far enough for some sets to be refused.
struct Swept {
  const char* measure;
  double low, high;
};
using Ranges = std::vector<Swept>;  // mm; a measure whose bounds are alike in kind "count" has no place here

const Ranges& ranges_of(const std::string& family) {
  static const std::map<std::string, Ranges> all = {
      {"table-leg",
       {{"table_height", 420, 1100}, {"top_thickness", 15, 45}, {"square", 40, 110}, {"long_rail_depth", 45, 160}, {"short_rail_depth", 45, 160},
        {"rail_thickness", 15, 30}, {"rail_set_back", 0, 10}, {"rail_drop", 0, 10}, {"glide_height", 0, 60}, {"table_length", 900, 2600}, {"table_width", 600, 1300}}},
      {"bed-post",
       {{"mattress_thickness", 100, 350}, {"rail_height", 300, 560}, {"head_post_height", 800, 1500}, {"foot_post_height", 560, 1200}, {"square", 52, 95},
        {"rail_depth", 90, 190}, {"rail_thickness", 18, 30}, {"rail_set_back", 4, 20}, {"headboard_height", 600, 1000}, {"glide_height", 0, 60}}},
      {"baluster",
       {{"rise", 150, 215}, {"going", 200, 320}, {"nosing", 0, 40}, {"rail_height", 800, 1100}, {"rail_depth", 30, 80}, {"plough", 0, 15}, {"square", 32, 70},
        {"top_block", 60, 220}, {"foot_block", 50, 220}, {"foot_pin", 20, 45}}},
      {"lamp-column",
       {{"lamp_height", 220, 700}, {"square", 45, 95}, {"base_width", 90, 240}, {"base_thickness", 20, 45}, {"foot_tenon", 14, 40}, {"drill_reach", 200, 420},
        {"seat", 16, 36}, {"seat_depth", 4, 16}}}};
  return all.at(family);
}

Extra swept(const std::string& family, Dice& dice) {
  Extra extra;
  for (const auto& [measure, low, high] : ranges_of(family)) extra.emplace_back(measure, format_fixed(dice.between(low, high), 3) + " mm");
  return extra;
}

std::vector<job::Loaded> designs_of(const std::string& family) {
  std::vector<job::Loaded> designs;
  for (const std::string& name : design_names())
    if (job::Loaded one = loaded(name); one.design.family == family) designs.push_back(std::move(one));
  return designs;
}

std::string told(const job::Loaded& of, const Extra& extra) {
  std::string what = of.design.id;
  for (const auto& [name, text] : extra) what += ", " + name + " " + text;
  return what;
}

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

// Two hundred sheets of table legs in four quarters, which test runners can start side by side; of each other family a handful, all two hundred
// where POMMEL_SWEEP_ALL is set.
struct Part {
  std::string family;
  unsigned quarter = 0;
  int sets = 0;
};
class Sweep : public ::testing::TestWithParam<Part> {};

TEST_P(Sweep, BoundaryAndFieldAgree) {
  const auto& [family, quarter, few] = GetParam();
  const int sets = few < kSets && std::getenv("POMMEL_SWEEP_ALL") ? kQuarters * kSets : few;
  const std::vector<job::Loaded> designs = designs_of(family);
  ASSERT_FALSE(designs.empty());
  Worst worst;
  Dice dice(20260302 + quarter);
  Refused refused;
  int tried = 0, made_sets = 0;
  for (; made_sets < sets && tried < 8 * sets; ++tried) {
    const job::Loaded& of = designs[static_cast<std::size_t>(tried) % designs.size()];
    const Extra extra = swept(family, dice);
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
  for (unsigned quarter = 0; quarter < kQuarters; ++quarter) all.push_back({"table-leg", quarter, kSets});
  for (const char* family : {"bed-post", "baluster", "lamp-column"}) all.push_back({family, 0, kFew});
  return all;
}

std::string name_of(const std::string& family, const std::string& more = {}) {
  std::string name = family + more;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
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
    const Extra extra = swept(family, dice);
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
  EXPECT_GE(made, kSets / 5) << "too few to say anything";
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
