// Every form of cutter: its body, its way past a ray, the removal with it, and whole proofs, also with one cutter after the other.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

#include "pieces.h"
#include "proof/any_turn.h"
#include "proof/body.h"
#include "proof/kernel.h"
#include "proof/sweep.h"

namespace pommel::proof {
namespace {

using namespace testing;
using Form = shop::Cutter::Form;
using Section = shape::Blank::Section;

shop::Cutter of_form(Form form, double diameter = 8) {
  shop::Cutter cutter = ball(diameter);
  cutter.form = form;
  cutter.id = "cutter";
  if (form == Form::tapered_ball) cutter.tip_radius = 1.5, cutter.half_angle = 0.12;
  if (form == Form::bull_nose) cutter.tip_radius = 1.2;
  if (form == Form::vee) cutter.half_angle = 0.6, cutter.tip_flat = 0.4;
  return cutter;
}

const Form kForms[] = {Form::ball, Form::tapered_ball, Form::flat, Form::bull_nose, Form::vee};

// Distance to the cutting part's surface by very many places of its meridian; negative inside.
double slow_distance(const Tool& tool, double s, double h) {
  double least = std::max(0.0, s - tool.radius);
  least = h >= tool.height(tool.radius) ? std::fabs(s - tool.radius) : std::hypot(s - tool.radius, h - tool.height(tool.radius));
  for (int i = 0; i <= 20000; ++i) {
    double at = tool.radius * i / 20000;
    least = std::min(least, std::hypot(s - at, h - tool.height(at)));
  }
  return s < tool.radius && h > tool.height(s) ? -least : least;
}

TEST(Cutters, DistancesToTheirBodiesAreExact) {
  std::mt19937_64 random(7);
  auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  for (Form form : kForms) {
    Tool tool = tool_of(of_form(form)).value();
    for (int i = 0; i < 150; ++i) {
      double s = between(0, 6), h = between(-2, 12), slow = slow_distance(tool, s, h);
      // the side begins in a kink, or goes on from the arc: near its lower end the samples are coarse along h
      EXPECT_NEAR(tool.distance_outside(s, h) - tool.depth_inside(s, h), slow, 2e-2) << static_cast<int>(form) << " " << s << " " << h;
      EXPECT_LE(tool.distance_outside(s, h) + tool.depth_inside(s, h), std::fabs(slow) + 1e-9);
    }
  }
}

TEST(Cutters, WhatIsNoCutterIsRefused) {
  for (auto spoil : {+[](shop::Cutter& c) { c.form = Form::vee, c.half_angle = 0; }, +[](shop::Cutter& c) { c.form = Form::bull_nose, c.tip_radius = 5; },
                     +[](shop::Cutter& c) { c.form = Form::tapered_ball, c.half_angle = 0.1; }, +[](shop::Cutter& c) { c.flute_length = std::nan(""); },
                     +[](shop::Cutter& c) { c.form = Form::vee, c.half_angle = 0.02; }}) {
    shop::Cutter cutter = ball(8);
    spoil(cutter);
    auto tool = tool_of(cutter);
    ASSERT_FALSE(tool.ok());
    EXPECT_EQ(tool.reasons()[0].id, "proof.cutter");
  }
}

// Signed distance of the point t on the ray from the nearest of very many places of the cutter on its way: negative inside.
double from_places(const Tool& tool, const motion::Position& from, const motion::Position& to, double x, double theta, double t) {
  double least = 1e9;
  for (int i = 0; i <= 1500; ++i) {
    double u = i / 1500.0, phi = theta - from.a - (to.a - from.a) * u, dx = x - from.x - (to.x - from.x) * u;
    double s = std::hypot(dx, t * std::sin(phi)), h = t * std::cos(phi) - from.z - (to.z - from.z) * u;
    least = std::min(least, tool.distance_outside(s, h) - tool.depth_inside(s, h));
  }
  return least;
}

TEST(Cutters, TheirWayPastARayAgreesWithVeryManyPlaces) {
  std::mt19937_64 random(11);
  auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  for (Form form : kForms) {
    Tool tool = tool_of(of_form(form)).value();
    double worst = 0;
    int met = 0, missed = 0;
    for (int i = 0; i < 120; ++i) {
      motion::Position from{between(-2, 2), 0, between(6, 20), between(-3, 3)}, to{between(-2, 2), 0, between(6, 20), from.a};
      if (i % 4 == 1) to.z = from.z;
      if (i % 4 == 2) to.x = from.x;
      if (i % 4 == 3) to.a += between(-0.3, 0.3);
      double x = between(-4, 4), theta = from.a + between(-0.3, 0.3);
      auto meeting = meet_move(tool, from, to, x, theta);
      if (meeting) {
        ++met;
        double off = std::fabs(from_places(tool, from, to, x, theta, meeting->entry));
        EXPECT_LT(off, 5e-3) << "form " << static_cast<int>(form) << ", kind " << i % 4;
        worst = std::max(worst, off);
        // along the ray up to the exit it stays inside
        double middle = (meeting->entry + std::min(meeting->exit, 40.0)) / 2;
        EXPECT_LT(from_places(tool, from, to, x, theta, middle), 1e-3);
      } else {
        ++missed;
        for (double t = 1; t < 40; t += 2) EXPECT_GT(from_places(tool, from, to, x, theta, t), -5e-3) << "form " << static_cast<int>(form) << ", kind " << i % 4 << ", t " << t;
      }
    }
    EXPECT_GT(met, 25);
    EXPECT_GT(missed, 10);
    EXPECT_LT(worst, 5e-3) << static_cast<int>(form);  // 1500 places of a way of up to 15 mm are 0.01 mm apart
  }
}

// What the fast loops leave of a ray that the slow way clears lies so near the skin of what is swept that it is the error they state: beside
// an upright side that may be long along the ray.
void expect_grazed(const Tool& tool, const motion::Position& from, const motion::Position& to, double x, double theta, const Meeting& slow, double low) {
  const double until = std::min(low, slow.exit);
  for (double share : {0.25, 0.5, 0.75, 1.0})
    EXPECT_GT(from_places(tool, from, to, x, theta, slow.entry + share * (until - slow.entry)), -2e-3) << tool.disc << " " << tool.corner << ", x " << x << " theta " << theta << ", " << from.x << " " << from.z << " " << from.a << " to " << to.x << " " << to.z << " " << to.a;
}

TEST(Cutters, TheRemovalTakesWhatTheirMovesMeet) {
  std::mt19937_64 random(5);
  auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  shape::Part part = rod(12, 30);
  shape::Blank blank = blank_for(part, Section::square, 40, 5);
  Grid grid = std::move(make_grid(part, blank, 0.5, 240)).value();
  for (Form form : kForms) {
    Tool tool = tool_of(of_form(form)).value();
    PathMaker maker({-5, 0, 40, 0});
    for (int pass = 0; pass < 6; ++pass) {
      double a = between(0, 6.28), x = -5, z = between(12, 15);
      maker.rapid(x, 40, a).feed(x, z, a);
      while (x < 35) {
        x += between(0.2, 3);
        z = std::clamp(z + between(-1, 1), 12.0, 15.0);
        maker.feed(x, z, a);
      }
      maker.feed(x - 20, z, a + 1.3).rapid(x - 20, 40, a + 1.3);  // back on a spiral
    }
    Cut wood = cut_one(grid, blank, maker.path, of_form(form));
    int rays = 0;
    for (std::size_t row = 3; row < grid.rows(); row += 7) {
      for (std::size_t j = 0; j < 240; j += 5) {
        double theta = grid.angle(row, j);
        std::optional<Meeting> slow;
        motion::Position start, end;
        const motion::Position* from = &maker.path.start;
        for (const motion::Move& move : maker.path.moves) {
          const auto met = meet_move(tool, *from, move.to, grid.x[row], theta);
          if (met && (!slow || met->entry < slow->entry)) slow = met, start = *from, end = move.to;
          from = &move.to;
        }
        double low = static_cast<double>(wood.low[grid.begin[row] + j]);
        if ((!slow || slow->entry >= 20) && low >= kNone) continue;  // beyond the wood nothing is made
        ++rays;
        ASSERT_TRUE(slow);
        // a ball leaves such a spiral along chords
        EXPECT_GE(low, slow->entry - (form == Form::ball ? 2e-3 : 3e-4)) << static_cast<int>(form) << " " << grid.x[row] << " " << j;
        if (form == Form::ball) EXPECT_LE(low, slow->entry + 0.05);
        else if (low > slow->entry + 5e-3) expect_grazed(tool, start, end, grid.x[row], theta, *slow, low);
      }
    }
    EXPECT_GT(rays, 200);
  }
}

// One move over fresh wood at a time: the fast loops against the slow way, which looks at one ray and bisects the true path. A fast entry is a
// real place of the cutter, so it is never nearer to the axis.
int hold_to_the_true_path(Form form, const motion::Position& from, const motion::Position& to, const Grid& grid, const shape::Blank& blank) {
  const Tool tool = tool_of(of_form(form)).value();
  PathMaker maker(from);
  maker.feed(to.x, to.z, to.a);
  const Cut wood = cut_one(grid, blank, maker.path, of_form(form));
  int met = 0;
  for (std::size_t row = grid.first_row_from(14); grid.x[row] < 27; row += 5) {
    for (std::size_t j = row % 7; j < 360; j += 7) {
      const auto slow = meet_move(tool, from, to, grid.x[row], grid.angle(row, j));
      const double low = static_cast<double>(wood.low[grid.begin[row] + j]);
      if (!slow) continue;
      EXPECT_GT(low, slow->entry - 5e-4) << static_cast<int>(form) << " " << grid.x[row] << " " << j;
      if (low > slow->entry + 4e-3) expect_grazed(tool, from, to, grid.x[row], grid.angle(row, j), *slow, low);
      ++met;
    }
  }
  return met;
}

TEST(Cutters, GoingRoundEveryFormEntersRaysWhereItsTruePathDoes) {
  std::mt19937_64 random(17);
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  const shape::Part part = rod(25, 40);
  const Grid grid = std::move(make_grid(part, blank_for(part, Section::round, 60), 0.4, 360)).value();
  for (Form form : kForms) {
    if (form == Form::ball) continue;  // turn_test.cpp
    const Tool tool = tool_of(of_form(form)).value();
    int met = 0, turns = 0;
    for (int i = 0; turns < 16; ++i) {
      const double z = i % 3 == 0 ? 8 : 20;
      const motion::Position from{20, 0, z, between(-9, 9)};
      // level, climbing, along, both
      const motion::Position to{20 + (i % 4 > 1 ? between(-1.5, 1.5) : 0), 0, z + (i % 2 == 1 ? between(-1, 1) : 0), from.a + between(0.3, kWidestTurn) * (i % 5 < 2 ? -1 : 1)};
      if (!any_turn_between(from, to, tool, 0.001)) continue;
      ++turns;
      met += hold_to_the_true_path(form, from, to, grid, blank_for(part, Section::round, 60));
    }
    EXPECT_GT(met, 500) << static_cast<int>(form);
  }
}

TEST(Cutters, SlidingEveryFormEntersRaysWhereItsTruePathDoes) {
  std::mt19937_64 random(19);
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  const shape::Part part = rod(25, 40);
  const Grid grid = std::move(make_grid(part, blank_for(part, Section::round, 60), 0.4, 360)).value();
  for (Form form : kForms) {
    int met = 0;
    for (int i = 0; i < 16; ++i) {
      const double z = i % 3 == 0 ? 8 : 20;
      const motion::Position from{between(16, 24), 0, z, between(-9, 9)};
      met += hold_to_the_true_path(form, from, {from.x + between(-4, 4), 0, z + (i % 2 == 1 ? between(-3, 3) : 0), from.a}, grid, blank_for(part, Section::round, 60));
    }
    EXPECT_GT(met, 100) << static_cast<int>(form);
  }
}

TEST(Cutters, SteepClimbsAndTurnsNearTheAxisAreMetOneRayAtATime) {
  const Tool tool = tool_of(of_form(Form::bull_nose)).value();
  EXPECT_TRUE(any_turn_between({0, 0, 20, 0}, {0.3, 0, 20, 1}, tool, 0.001));
  EXPECT_FALSE(any_turn_between({0, 0, 20, 0}, {0.3, 0, 20, 0}, tool, 0.001));  // no turn
  EXPECT_FALSE(any_turn_between({0, 0, 1, 0}, {0.3, 0, 1, 1}, tool, 0.001));    // round the axis itself
  EXPECT_FALSE(any_turn_between({0, 0, 5, 0}, {0, 0, 30, 0.8}, tool, 0.001));   // up like a stair
}

struct Work {
  shape::Part part = rod(20, 40);
  shape::Blank blank = blank_for(part, Section::round, 46, 12);
  std::vector<shop::Cutter> cutters;
  std::vector<motion::Path> paths;
  Settings settings;

  Proof proved() const {
    auto result = prove_paths(paths, part, blank, {}, cutters, open_machine(), settings, {});
    EXPECT_TRUE(result.ok()) << render(result.ok() ? std::vector<Diagnostic>{} : result.reasons());
    return std::move(result).value();
  }
};

bool has(const Proof& proof, const std::string& id) {
  return std::any_of(proof.findings.begin(), proof.findings.end(), [&](const Finding& f) { return f.id == id; });
}

motion::Path for_cutter(motion::Path path, const std::string& id) {
  path.cutter = id;
  return path;
}

TEST(Cutters, EachFormIsProvedOnARodAndItsGougeMeasured) {
  for (Form form : kForms) {
    Work work;
    work.settings.cusp = 0.2;  // a point leaves more than a ball
    work.cutters = {of_form(form)};
    if (form == Form::vee) work.cutters[0].half_angle = 1.4, work.cutters[0].flute_length = 20, work.cutters[0].tip_flat = 1;
    work.paths = {for_cutter(lengthwise(-6, 46, 20, 180, 30), "cutter")};
    Proof good = work.proved();
    EXPECT_TRUE(good.passed()) << static_cast<int>(form) << report(good);
    EXPECT_LT(good.gouge.amount, 1e-3);
    work.paths[0].moves[5u * 45 + 2].to.z -= 0.05;
    work.paths[0].moves[5u * 45 + 1].to.z -= 0.05;
    Proof bad = work.proved();
    EXPECT_NEAR(bad.gouge.amount, 0.05, 0.002) << static_cast<int>(form);
    EXPECT_NEAR(bad.gouge.degrees, 90, 8);
    EXPECT_FALSE(bad.passed());
  }
}

TEST(Cutters, TheWoodCarriesOverAndTheSetIsJudged) {
  Work work;  // a groove 2 mm wide that the first cutter cannot enter
  work.part = with_pieces({shape::line_piece(0, 20, 18, 20), shape::line_piece(18, 18, 20.4, 18), shape::line_piece(20.4, 20, 40, 20)});
  work.cutters = {of_form(Form::ball), of_form(Form::flat, 2)};
  work.cutters[1].id = "small";
  PathMaker groove({19.2, 0, 30, 0});
  groove.feed(19.2, 18, 0).feed(19.2, 18, 2 * kPi).rapid(19.2, 30, 2 * kPi);
  work.paths = {for_cutter(lengthwise(-6, 46, 20, 250, 30), "cutter"), for_cutter(groove.path, "small")};
  Proof proof = work.proved();
  EXPECT_FALSE(has(proof, "proof.gouge")) << report(proof);
  EXPECT_EQ(proof.cutter, "cutter, then small");
  ASSERT_EQ(proof.after.size(), 2u);
  EXPECT_GT(proof.after[0].stands.amount, 0.2);  // the ball cannot enter it all
  PathMaker wide({18 + 1.0, 0, 30, 0});
  wide.feed(19, 18, 0).feed(19, 18, 2 * kPi).feed(19.4, 18, 2 * kPi).feed(19.4, 18, 4 * kPi).rapid(19.4, 30, 4 * kPi);
  work.paths[1] = for_cutter(wide.path, "small");
  Proof whole = work.proved();
  EXPECT_TRUE(whole.passed()) << report(whole);
  EXPECT_TRUE(whole.hand_work.empty());
}

TEST(Cutters, WhatOnlyARoughingCutterReachesIsHandWork) {
  Work work;  // a groove that the ball cannot enter; the narrow square end could, and only takes off waste above it
  work.part = with_pieces({shape::line_piece(0, 20, 18.7, 20), shape::line_piece(18.7, 18, 19.7, 18), shape::line_piece(19.7, 20, 40, 20)});
  work.cutters = {of_form(Form::flat, 0.8), of_form(Form::ball)};
  work.cutters[0].id = "small";
  PathMaker above({19.2, 0, 30, 0});
  above.feed(19.2, 21, 0).feed(19.2, 21, 2 * kPi).rapid(19.2, 30, 2 * kPi);
  work.paths = {for_cutter(above.path, "small"), for_cutter(lengthwise(-6, 46, 20, 250, 30), "cutter")};
  EXPECT_TRUE(has(work.proved(), "proof.leftover"));
  work.settings.rough_only = {"small"};
  const Proof proof = work.proved();
  EXPECT_TRUE(proof.passed()) << report(proof);
  ASSERT_FALSE(proof.hand_work.empty());
  EXPECT_GT(proof.hand_work[0].worst.amount, 0.5);
}

TEST(Cutters, OfSeveralTheProgramMustSayWhich) {
  Work work;
  work.cutters = {of_form(Form::ball), of_form(Form::flat)};
  work.cutters[1].id = "other";
  work.paths = {for_cutter(lengthwise(-6, 46, 20, 180, 30), "third")};
  auto proof = prove_paths(work.paths, work.part, work.blank, {}, work.cutters, open_machine(), {}, {});
  ASSERT_FALSE(proof.ok());
  EXPECT_EQ(proof.reasons()[0].id, "proof.which-cutter");
  EXPECT_THAT(proof.reasons()[0].message, ::testing::HasSubstr("cutter 'third', which is not among those of the check: cutter, other"));
}

TEST(Cutters, TheHolderIsSeenInWood) {
  Work work;
  work.cutters = {of_form(Form::ball)};
  shop::Cutter& c = work.cutters[0];
  c.flute_length = 10, c.shank_diameter = 8, c.shank_length = 12, c.collet_diameter = 8, c.collet_length = 3;
  c.holder_diameter = 30, c.holder_length = 50;
  work.settings.cusp = 1;
  work.paths = {for_cutter(lengthwise(-6, 46, 20, 40, 40), "cutter")};
  EXPECT_TRUE(work.proved().passed()) << report(work.proved());
  c.shank_length = 0.1, c.flute_length = 4, c.collet_length = 0;  // 4 mm over the tip: 24 from the axis, the oversize blank reaches 23.8
  EXPECT_TRUE(work.proved().passed());
  c.shank_length = 3, c.flute_length = 4;
  work.paths = {for_cutter(lengthwise(-6, 46, 19.5, 40, 40), "cutter")};
  EXPECT_TRUE(has(work.proved(), "proof.shank"));
}

// --- treatments --------------------------------------------------------------------------------------------------------

TEST(Treated, AFluteCutWithItsBallIsProvedAndItsGougeMeasured) {
  Work work;
  shape::Flute flute;
  flute.theta = 1;
  flute.radius = 4;
  flute.centre.pieces = {shape::line_piece(0, 22, 40, 22)};
  work.part.flutes = {flute};
  work.settings.map_rows = 20, work.settings.map_columns = 36;
  work.cutters = {of_form(Form::ball)};
  motion::Path path = lengthwise(-6, 46, 20, 240, 30);
  auto add = [&](double x, double z, double a, bool rapid) { path.moves.push_back({{x, 0, z, a}, rapid, rapid ? 0 : 0.1, static_cast<int>(path.moves.size()) + 1}); };
  motion::Path without = path;
  for (double z : {18.0, 17.95}) {
    path = without;
    add(-6, 30, 2 * kPi + 1, true);
    add(-6, z, 2 * kPi + 1, false);
    add(46, z, 2 * kPi + 1, false);
    add(46, 30, 2 * kPi + 1, true);
    work.paths = {for_cutter(path, "cutter")};
    Proof proof = work.proved();
    EXPECT_NEAR(proof.gouge.amount, 18 - z, z == 18 ? 1e-3 : 2e-3);
    EXPECT_FALSE(has(proof, "proof.leftover")) << report(proof);
  }
  work.paths = {for_cutter(without, "cutter")};
  EXPECT_TRUE(has(work.proved(), "proof.leftover"));
}

}  // namespace
}  // namespace pommel::proof
