// Turnings with several cutters: what flat ends and bull noses leave, and what the next cutter then does.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <random>

#include "mill/bench.h"
#include "mill/bodies.h"
#include "mill/feed.h"
#include "mill/finish.h"
#include "mill/left.h"
#include "mill/reach.h"
#include "mill/rough.h"
#include "mill/round.h"
#include "mill/judge.h"
#include "mill/simulate.h"

namespace pommel::mill {
namespace {

using namespace testing;
using shape::Part;

constexpr double kTurn = 2 * std::numbers::pi;

shop::Cutter flat_cutter(double diameter = 12) {
  shop::Cutter c = ball_cutter(diameter);
  c.id = "flat", c.form = shop::Cutter::Form::flat;
  return c;
}

shop::Cutter bull_nose(double diameter = 12, double corner = 2) {
  shop::Cutter c = ball_cutter(diameter);
  c.id = "bull nose", c.form = shop::Cutter::Form::bull_nose, c.tip_radius = corner;
  return c;
}

// A square head, a sloped pommel, a bead, a cove of 5 mm radius and a taper.
Part leg_with_a_cove() {
  Turning t(30 * std::numbers::sqrt2);
  t.clear(25).line(16, 25, "pommel").arc(12, 25, 9, +1, "bead").line(3, 25).arc(10, 25, 5.2, -1, "cove").line(30, 17);
  return t.part("leg with a cove", shape::square_faces(60, t.length()));
}

TEST(Feet, AreWhatTheCutterListSays) {
  EXPECT_EQ(*foot_of(ball_cutter(8)), (Foot{0, 4}));
  EXPECT_EQ(*foot_of(flat_cutter(8)), (Foot{4, 0}));
  EXPECT_EQ(*foot_of(bull_nose(12, 2)), (Foot{4, 2}));
  shop::Cutter vee = ball_cutter(12);
  vee.form = shop::Cutter::Form::vee;
  EXPECT_EQ(foot_of(vee).reasons().front().id, "mill.no-foot");
  EXPECT_DOUBLE_EQ((Foot{4, 2}).rise(4), 0);
  EXPECT_DOUBLE_EQ((Foot{4, 2}).rise(6), 2);
  EXPECT_DOUBLE_EQ((Foot{0, 5}).rise(3), 1);
}

TEST(LeftoverOfAnyEnd, IsAnUpperBound) {
  const Part part = leg_with_a_cove();
  const shape::Blank blank = blank_for(part, 60);
  for (const Foot& foot : {Foot{6, 0}, Foot{4, 2}}) {
    Leftover map(blank, {}, Leftover::cell_for(6));
    Simulation wood(blank, {0.8, 1.0, 0.8, 1.1}, 0.25);
    std::mt19937_64 random(8);
    auto between = [&](double a, double b) { return a + (b - a) * static_cast<double>(random() >> 11) * 0x1p-53; };
    for (int k = 0; k < 60; ++k) {
      const double a = between(0, kTurn), x = between(0, 60);
      const std::vector<LinePoint> line{{x, between(18, 40)}, {x + between(1, 20), between(18, 40)}};
      map.cut(line, a, foot);
      Simulation::along({line[0].x, 0, line[0].z, a}, {line[1].x, 0, line[1].z, a}, 0.2,
                        [&](const motion::Position& p) { wood.cut(p, foot); });
    }
    std::vector<motion::Position> spiral{{70, 0, 24, 0}, {80, 0, 22, 3 * kTurn}, {80, 0, 22, 4 * kTurn}};
    map.cut_turning(spiral, foot);
    for (std::size_t i = 0; i + 1 < spiral.size(); ++i)
      Simulation::along(spiral[i], spiral[i + 1], 0.2, [&](const motion::Position& p) { wood.cut(p, foot); });
    int lowered = 0;
    for (int k = 0; k < 3000; ++k) {
      motion::Position p{between(-5, 95), 0, 0, between(0, kTurn)};
      p.z = map.touch(p.x, p.a, foot);
      EXPECT_LE(wood.height_over(p, foot), 1e-9) << p.x << ' ' << p.a;
      if (p.z < 30) ++lowered;
    }
    EXPECT_GT(lowered, 20);
  }
}

// Polygons about a circle: N tangent flats stand over it by r (1 / cos(pi / N) - 1) at their corners.
TEST(Feet, AFlatEndNeedsAsManyLinesAsAPolygonHasSides) {
  for (double lines : {12.0, 20.0, 30.0}) {
    const double r = 25, cusp = r / std::cos(kTurn / 2 / lines) - r;
    EXPECT_NEAR(lines_on_round(Foot{20, 0}, cusp, r, 0), lines, 1e-6);
  }
  EXPECT_EQ(lines_on_round(Foot{0, 4}, 0.5, 25, 0.2), lines_on_round(4.0, 0.5, 25, 0.2));
  // on a wall it is no better than a ball as wide
  EXPECT_DOUBLE_EQ(lines_on_round(Foot{6, 0}, 0.5, 25, 1.5), lines_on_round(6.0, 0.5, 25, 1.5));
}

TEST(Feet, AFlatEndLeavesStepsOnALean) {
  const double lean = 0.3, cusp = 0.4;
  const std::vector<LinePoint> line{{0, 20}, {30 * std::cos(lean), 20 + 30 * std::sin(lean)}};
  EXPECT_NEAR(turns_along(line, {6, 0}, cusp).back(), 30 * std::sin(lean) * std::cos(lean) / cusp, 1e-9);
  const std::vector<LinePoint> level{{0, 20}, {42, 20}};
  EXPECT_NEAR(turns_along(level, {6, 0}, cusp).back(), 42 / (0.7 * 12), 1e-9);
  EXPECT_LT(turns_along(line, {4, 2}, cusp).back(), turns_along(line, {4, 0}, cusp).back());
}

struct Roughed {
  double rapid = 0, deepest = 0, most = 0, under = 0;
};

// Cuts the blank with the path; `after` holds what stands over and under the part, square to it, between x0 and x1.
Roughed in_simulation(const motion::Path& path, const Part& part, const shape::Blank& blank, const Foot& foot, double x0, double x1) {
  Roughed out;
  Simulation wood(blank, {0.8, 1.0, 0.8, 0.3}, 1);
  motion::Position at = path.start;
  for (std::size_t i = 0; i < path.moves.size(); ++i) {
    const motion::Move& m = path.moves[i];
    Simulation::along(at, m.to, 1, [&](const motion::Position& p) {
      if (m.rapid) {
        if (p.z < 50) out.rapid = std::max(out.rapid, wood.height_over(p, foot));
        return;
      }
      if (i % 16 == 0) out.deepest = std::max(out.deepest, wood.height_over(p, foot));
      wood.cut(p, foot);
    });
    at = m.to;
  }
  for (int i = 0; i < wood.rows(); ++i) {
    const double x = wood.x(i);
    if (x < x0 || x > x1) continue;
    const double nr = part.outline.pieces[part.outline.index_at(x, shape::Side::after)].normal(x).nr;
    for (int j = 0; j < Simulation::kColumns; ++j) {
      const double stands = (wood.at(i, j) - slice(part, x, shape::Side::after).radius(Simulation::angle(j))) * nr;
      out.most = std::max(out.most, stands), out.under = std::max(out.under, -stands);
    }
  }
  return out;
}

TEST(Roughing, WithFlatEndsAndBullNosesKeepsItsWord) {
  const Part part = leg_with_a_cove();
  const shape::Blank blank = blank_for(part, 60);
  for (const shop::Cutter& cutter : {flat_cutter(), bull_nose()}) {
    SCOPED_TRACE(cutter.id);
    for (Way way : {Way::lengthwise, Way::fastest}) {
      if ((way == Way::lengthwise) != (cutter.id == "flat")) continue;  // one each: both take long in simulation
      RoughSettings settings;
      settings.way = way;
      const auto rough = plan_roughing(part, blank, {}, cutter, machine(), settings, {});
      ASSERT_TRUE(rough.ok()) << render(rough.reasons());
      const Roughed taper = in_simulation(rough->path, part, blank, *foot_of(cutter), part.length - 28, part.length - 2);
      EXPECT_LE(taper.rapid, 0.001) << "wood met at rapid";
      EXPECT_LE(taper.deepest, cutter.max_depth_of_cut + 0.15);
      EXPECT_LE(taper.under, 0.0);
      EXPECT_GE(taper.most, settings.allowance - 0.1);
      EXPECT_LE(taper.most, settings.allowance + (way == Way::lengthwise ? settings.cusp : 1.0) + 0.1);
    }
  }
}

struct Share {
  double cut = 0, air = 0;  // mm of feed, over the wood
  double of_air() const { return air / (cut + air); }
};

// By kinds of passes: what of the feed's way removes no wood from the blank as ordered.
std::array<Share, 2> air_of(const motion::Path& path, const shape::Blank& blank, double rho, std::size_t finishing) {
  std::array<Share, 2> out;
  Simulation wood(blank, {}, 0.5);
  motion::Position at = path.start;
  for (std::size_t i = 0; i < path.moves.size(); ++i) {
    const motion::Move& m = path.moves[i];
    motion::Position from = at;
    Share& share = out[i >= finishing ? 1 : 0];
    if (!m.rapid) {
      Simulation::along(at, m.to, 0.7, [&](const motion::Position& p) {
        const double way = true_length(from, p, std::max(from.z, p.z));
        (wood.cut(p, rho) ? share.cut : share.air) += way;
        from = p;
      });
    }
    at = m.to;
  }
  return out;
}

// Measured: 47 % and 15 % of the leg's roughing and finishing are air, 4 % and 1 % of the rod's. Of the leg's nine tenths lie in the layers that
// knock the corners off the square: going round about its flats takes less time there than a lift for every line. A round
// blank has none of that, and keeps to what the way down to the wood and the bound for it ask. The limits are a little over.
TEST(Roughing, CutsLittleAir) {
  const Part leg = leg_with_a_cove(), rod = cylinder();
  struct Row {
    Part part;
    shape::Blank blank;
    double rough, finish;
  };
  for (const Row& row : {Row{leg, blank_for(leg, 60), 0.50, 0.17}, Row{rod, round_blank_for(rod, 60), 0.06, 0.03}}) {
    const shop::Cutter cutter = ball_cutter(8);
    const auto rough = plan_roughing(row.part, row.blank, {}, cutter, machine(), {}, {});
    ASSERT_TRUE(rough.ok()) << render(rough.reasons());
    FinishSettings settings;
    settings.cusp = 0.1;
    const auto finish = plan(row.part, row.blank, {}, cutter, machine(), settings, {}, &rough->wood);
    ASSERT_TRUE(finish.ok()) << render(finish.reasons());
    const motion::Path both = joined(rough->path, finish->path);
    const auto [roughing, finishing] = air_of(both, row.blank, 4, rough->path.moves.size());
    EXPECT_LT(roughing.of_air(), row.rough) << row.part.name;
    EXPECT_LT(finishing.of_air(), row.finish) << row.part.name;
  }
}

TEST(Left, ClosedFormsOfAHollow) {
  // the foot of a plumb wall: rho (sqrt 2 - 1); a flat end reaches it
  Turning t(30);
  t.line(40, 30).step(20).line(40, 20);
  const Part step = t.part("step");
  const auto ball = left_by(ball_cutter(8), continued(step, 4, 20), step.length, {});
  ASSERT_TRUE(ball.ok());
  EXPECT_NEAR(ball->deepest, 4 * (std::numbers::sqrt2 - 1), 0.01);
  EXPECT_NEAR(ball->deepest_x, 40, 0.06);
  shop::Cutter slim = flat_cutter(12);
  slim.shank_diameter = 12, slim.collet_length = 0, slim.collet_diameter = 0;
  const auto flat = left_by(slim, continued(step, 6, 20), step.length, {});
  ASSERT_TRUE(flat.ok());
  EXPECT_FALSE(flat->any()) << flat->deepest;
  // an allowance that was left on purpose is no wood left
  const auto rough = left_by(slim, continued(step, 6, 20), step.length, {.allowance = 0.5});
  ASSERT_TRUE(rough.ok());
  EXPECT_LT(rough->deepest, 0.5 * (std::numbers::sqrt2 - 1) + 0.01);
}

TEST(Left, AgreesWithTheQuirksOfABall) {
  const Part part = leg("ogee");
  const auto found = quirks(part, 4);
  const auto left = left_by(ball_cutter(8), continued(part, 4, 20), part.length, {});
  ASSERT_TRUE(found.ok() && left.ok());
  ASSERT_FALSE(found->empty());
  double deepest = 0;
  for (const Quirk& quirk : *found) deepest = std::max(deepest, quirk.deepest);
  EXPECT_NEAR(left->deepest, deepest, 0.01);
  // over the piece as it is left the ball stands as high as over the piece itself, but for the chords of creases
  const Part whole = continued(part, 4, 20);
  const auto over_left = Envelope::of(left->part, 4), over_part = Envelope::of(whole, 4);
  ASSERT_TRUE(over_left.ok() && over_part.ok()) << render(over_left.reasons());
  for (double x = 0; x < part.length; x += 0.37) {
    for (double a = 0; a < kTurn; a += 0.21) {
      EXPECT_GE(over_left->centre_height(x, a), over_part->centre_height(x, a) - 0.006) << x << ' ' << a;
      // the slack of its chords, on a slope
      EXPECT_LE(over_left->centre_height(x, a), over_part->centre_height(x, a) + 0.2) << x << ' ' << a;
    }
  }
}

// Where a line begins the cutter comes straight down.
TEST(Passes, ACutterThatDoesNotPlungeTurnsNothing) {
  const Part part = leg_with_a_cove();
  const shape::Blank blank = blank_for(part, 60);
  shop::Cutter flat = flat_cutter(), ball = ball_cutter(8);
  flat.ramp = ball.ramp = 0.05;
  const auto rough = plan_roughing(part, blank, {}, flat, machine(), {}, {});
  const auto finish = plan(part, blank, {}, ball, machine(), {}, {});
  ASSERT_FALSE(rough.ok());
  ASSERT_FALSE(finish.ok());
  EXPECT_EQ(rough.reasons().front().id, "mill.plunge");
  EXPECT_EQ(finish.reasons().front().id, "mill.plunge");
}

// A cutter of 12 mm cannot enter the cove; the ball of 6 mm takes that out in layers first, and the rest of the piece not again.
TEST(Roughing, TheNextCutterRoughsOnlyWhatWasLeft) {
  const Part part = leg_with_a_cove();
  const shape::Blank blank = blank_for(part, 60);
  const auto first = plan_roughing(part, blank, {}, flat_cutter(), machine(), {.widest = 6}, {});
  ASSERT_TRUE(first.ok()) << render(first.reasons());
  RoughSettings settings;
  settings.name = "rough out", settings.widest = 6;
  const Earlier earlier{flat_cutter(), settings.allowance, &first->wood};
  const auto second = plan_roughing(part, blank, {}, ball_cutter(6), machine(), settings, {}, &earlier);
  ASSERT_TRUE(second.ok()) << render(second.reasons());
  ASSERT_FALSE(second->path.moves.empty());
  double least = 1e9, most = -1e9;
  motion::Position at = second->path.start;
  for (const motion::Move& m : second->path.moves) {
    if (!m.rapid && m.to.z < 30) least = std::min(least, m.to.x), most = std::max(most, m.to.x);
    at = m.to;
  }
  // the root between pommel and bead lies at 41, the cove from 56 to 66
  EXPECT_GT(least, 36);
  EXPECT_LT(most, 70);
  EXPECT_LT(second->path.moves.size(), first->path.moves.size());
}

TEST(Fine, CutsOnlyWhatTheFinishLeftAndNothingWhereNothingIsLeft) {
  const Part part = leg_with_a_cove();
  const shape::Blank blank = blank_for(part, 60);
  const auto rough = plan_roughing(part, blank, {}, ball_cutter(12), machine(), {.widest = 6}, {});
  ASSERT_TRUE(rough.ok()) << render(rough.reasons());
  FinishSettings finishing;
  finishing.cusp = 0.05, finishing.keep_wood = true, finishing.widest = 6;
  const auto finish = plan(part, blank, {}, ball_cutter(12), machine(), finishing, {}, &rough->wood);
  ASSERT_TRUE(finish.ok()) << render(finish.reasons());
  ASSERT_TRUE(finish->wood.has_value());
  FinishSettings fine = finishing;
  fine.name = "fine";
  const Earlier earlier{ball_cutter(12), 0, &*finish->wood};
  const auto rest = plan_roughing(part, blank, {}, ball_cutter(4), machine(), {.name = "rough out", .widest = 6}, {}, &earlier);
  ASSERT_TRUE(rest.ok()) << render(rest.reasons());
  const Earlier then{ball_cutter(12), 0, &rest->wood};
  const auto last = plan(part, blank, {}, ball_cutter(4), machine(), fine, {}, nullptr, &then);
  ASSERT_TRUE(last.ok()) << render(last.reasons());
  ASSERT_FALSE(last->path.moves.empty());
  for (const Stretch& s : last->stretches) {
    const bool pommel = s.x1 > 25 && s.x0 < 45, cove = s.x1 > 50 && s.x0 < 70;
    EXPECT_TRUE(pommel || cove) << s.x0 << ' ' << s.x1;
    EXPECT_LT(s.x1 - s.x0, 20);
  }
  // a plain cylinder has nothing left
  const Part rod = cylinder();
  const shape::Blank dowel = round_blank_for(rod, 54);
  const Leftover wood(dowel, {}, 1);
  const Earlier done{ball_cutter(8), 0, &wood};
  const auto none = plan(rod, dowel, {}, ball_cutter(4), machine(), finishing, {}, nullptr, &done);
  ASSERT_TRUE(none.ok()) << render(none.reasons());
  EXPECT_TRUE(none->path.moves.empty());
}

}  // namespace
}  // namespace pommel::mill
