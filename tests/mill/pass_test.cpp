// Roughing and finishing: what every path must keep, whatever the part.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <random>
#include <string>

#include "mill/bench.h"
#include "mill/bodies.h"
#include "mill/feed.h"
#include "mill/finish.h"
#include "mill/judge.h"
#include "mill/lengthwise.h"
#include "mill/rough.h"
#include "mill/round.h"
#include "mill/simulate.h"
#include "mill/time.h"

namespace pommel::mill {
namespace {

using namespace testing;
using shape::Part;

constexpr double kQuarter = std::numbers::pi / 2;

Result<Rough> roughed(const Part& part, const shape::Blank& blank, const shop::Cutter& cutter = ball_cutter()) {
  return plan_roughing(part, blank, {}, cutter, machine(), {}, {});
}

FinishSettings coarse() {
  FinishSettings s;
  s.cusp = 0.05;
  return s;
}

// A square head, a sloped pommel, a wide bead, a gentle hollow and a taper: nothing tighter than the ball.
Part gentle_leg() {
  Turning t(30 * std::numbers::sqrt2);
  t.clear(25).line(16, 25, "pommel").arc(12, 25, 9, +1, "bead").arc(20, 25, 18, -1, "cove").line(30, 17);
  return t.part("gentle leg", shape::square_faces(60, t.length()));
}

struct Case {
  Part part;
  shape::Blank blank;
};

std::vector<Case> cases() {
  const Part leg = testing::leg("square"), round = thin_neck(), eight = octagon();
  return {{gentle_leg(), blank_for(gentle_leg(), 60)},
          {leg, blank_for(leg, 60)},
          {round, round_blank_for(round, 26)},
          {eight, blank_for(eight, 62)}};
}

std::string stage_at(const motion::Path& path, std::size_t i) {
  for (const motion::Stage& s : path.stages) {
    if (i >= s.first && i < s.first + s.count) return s.name;
  }
  return "";
}

bool turning(const std::string& stage) {
  return stage.find("round and round") != std::string::npos;
}

// What every path keeps: see each message.
void expect_invariants(const motion::Path& path, double clear, double prominence, const shop::Cutter& cutter) {
  const double speed = cutting_speed(cutter, machine());
  motion::Position at = path.start;
  EXPECT_DOUBLE_EQ(at.z, clear);
  double lowest = 1e9;  // since the cutter came down
  bool down = false;
  for (std::size_t i = 0; i < path.moves.size(); ++i) {
    const motion::Move& m = path.moves[i];
    const bool turns = m.to.a != at.a, along = m.to.x != at.x, round = turning(stage_at(path, i));
    EXPECT_EQ(m.to.y, 0);
    if (m.rapid) {
      ASSERT_TRUE(!turns || (at.z == clear && m.to.z == clear)) << "turned at rapid below the clear height";
      ASSERT_TRUE(!along || m.to.z == at.z) << "ran along at rapid on a slant";
      down = false;
    } else {
      ASSERT_GT(m.minutes, 0);
      ASSERT_TRUE(!turns || round) << "turned outside a turning pass";
      const double length = std::hypot(m.to.x - at.x, m.to.z - at.z, std::max(at.z, m.to.z) * (m.to.a - at.a));
      ASSERT_GE(m.minutes * (1 + 1e-9), length / speed) << "faster than the chip load allows";
      ASSERT_GE(m.minutes * (1 + 1e-9), std::fabs(m.to.a - at.a) / (4 * kQuarter) / machine().rapid_rotary)
          << "turned faster than the rotary can";
      ASSERT_GE(m.minutes * (1 + 1e-9), (at.z - m.to.z) / (0.4 * speed)) << "sank faster than the plunge feed";
      if (along && !round) {
        if (!down) lowest = at.z, down = true;
        const bool gentle = std::fabs(m.to.z - at.z) <= kGentle * std::fabs(m.to.x - at.x) + 1e-9;
        ASSERT_TRUE(gentle || m.to.z <= lowest + prominence + 1e-9) << "ran uphill";
        lowest = std::min(lowest, m.to.z);
      }
    }
    at = m.to;
  }
  EXPECT_DOUBLE_EQ(at.z, clear);
  std::size_t next = 0;
  for (const motion::Stage& s : path.stages) {
    EXPECT_GE(s.first, next);
    EXPECT_GT(s.count, 0u);
    next = s.first + s.count;
  }
  EXPECT_LE(next, path.moves.size());
}

TEST(Passes, KeepTheirInvariants) {
  for (const Case& c : cases()) {
    SCOPED_TRACE(c.part.name);
    const auto rough = roughed(c.part, c.blank);
    ASSERT_TRUE(rough.ok()) << render(rough.reasons());
    expect_invariants(rough->path, rough->clear_height, RoughSettings{}.prominence, ball_cutter());
    const auto finish = plan(c.part, c.blank, {}, ball_cutter(), machine(), coarse(), {}, &rough->wood);
    ASSERT_TRUE(finish.ok()) << render(finish.reasons());
    expect_invariants(finish->path, finish->clear_height, coarse().prominence, ball_cutter());
    EXPECT_FALSE(finish->path.moves.empty());
    const double clear = finish->clear_height;
    EXPECT_GE(clear, machine().jaw_swing + 5);
    EXPECT_GE(clear, (c.blank.section == shape::Blank::Section::square ? (c.blank.size / 2 + 0.8) * std::numbers::sqrt2
                                                                       : c.blank.size / 2 + 0.8) +
                         1.8 + 5);
    const motion::Path both = joined(rough->path, finish->path);
    expect_invariants(both, clear, std::max(RoughSettings{}.prominence, coarse().prominence), ball_cutter());
    EXPECT_EQ(both.moves.size(), rough->path.moves.size() + finish->path.moves.size() + 1);
  }
}

TEST(Finish, MovesStayOnTheSurface) {
  // points on feed moves, not only their ends: the ball there is within 0.005 mm of touching the part, plus what the
  // envelope is off
  const double rho = 3.175;
  for (const Case& c : cases()) {
    SCOPED_TRACE(c.part.name);
    const auto rough = roughed(c.part, c.blank);
    ASSERT_TRUE(rough.ok());
    const auto finish = plan(c.part, c.blank, {}, ball_cutter(), machine(), coarse(), {}, &rough->wood);
    ASSERT_TRUE(finish.ok());
    const Part waste_too = continued(c.part, rho, 30);
    Part moved = waste_too;  // the judge counts x from 0
    for (shape::Piece& p : moved.outline.pieces) p.x0 += 30, p.x1 += 30, p.cx += 30;
    for (shape::Face& f : moved.faces) {
      for (shape::Piece& p : f.d.pieces) p.x0 += 30, p.x1 += 30, p.cx += 30;
    }
    std::mt19937_64 random(21);
    double gouge = 0, excess = 0;
    int judged = 0;
    const auto& moves = finish->path.moves;
    while (judged < 400) {
      const std::size_t i = 1 + random() % (moves.size() - 1);
      const motion::Position &p = moves[i - 1].to, &q = moves[i].to;
      if (moves[i].rapid || p.x == q.x) continue;
      const double t = static_cast<double>(random() >> 11) * 0x1p-53;
      const double x = p.x + t * (q.x - p.x), z = p.z + t * (q.z - p.z), a = p.a + t * (q.a - p.a);
      const double miss = body_distance(moved, x + 30, z + rho, a, rho * 1.01 + 0.05) - rho;
      gouge = std::max(gouge, -miss);
      excess = std::max(excess, miss);
      ++judged;
    }
    EXPECT_LE(gouge, 0.005);
    EXPECT_LE(excess, 0.005 + 0.003);
  }
}

TEST(Finish, LeavesFinishedFlatsAloneAndRunsPastTheFoot) {
  const Part part = gentle_leg();
  const shape::Blank blank = blank_for(part, 60);
  const auto rough = roughed(part, blank);
  ASSERT_TRUE(rough.ok());
  const auto finish = plan(part, blank, {}, ball_cutter(), machine(), coarse(), {}, &rough->wood);
  ASSERT_TRUE(finish.ok());
  auto ends = [](const motion::Path& path) {
    std::pair<double, double> x{1e9, -1e9};
    for (const motion::Move& m : path.moves) {
      if (!m.rapid) x = {std::min(x.first, m.to.x), std::max(x.second, m.to.x)};
    }
    return x;
  };
  const auto [rough_first, rough_last] = ends(rough->path);
  const auto [finish_first, finish_last] = ends(finish->path);
  EXPECT_GE(rough_first, 25 - 0.5);  // the square stretch is 25 mm long
  EXPECT_GE(finish_first, 25 - 0.5);
  EXPECT_GE(finish_last, part.length + 3.175);
  EXPECT_LE(finish_last, part.length + 3.175 + 1);
  EXPECT_GT(rough_last, finish_last);  // the finishing pass does not rub on what roughing left standing
}

TEST(Finish, CutsNothingFromABlankThatIsThePart) {
  const Part part = cylinder();
  const auto finish = plan(part, round_blank_for(part, 50), {}, ball_cutter(), machine(), {}, {});
  ASSERT_TRUE(finish.ok()) << render(finish.reasons());
  EXPECT_TRUE(finish->path.moves.empty());
  EXPECT_TRUE(finish->path.stages.empty());
}

TEST(Finish, CutsOversizeFlatsWhenTheyAreNotFinished) {
  Part part = tapered_square();
  shape::Blank blank = blank_for(part, 62);
  blank.flats_finished = false;
  const auto rough = roughed(part, blank);
  ASSERT_TRUE(rough.ok()) << render(rough.reasons());
  const auto finish = plan(part, blank, {}, ball_cutter(), machine(), coarse(), {}, &rough->wood);
  ASSERT_TRUE(finish.ok());
  double least = 1e9;
  for (const motion::Move& m : finish->path.moves) least = std::min(least, m.rapid ? 1e9 : m.to.x);
  EXPECT_LE(least, -3.175);
}

TEST(Finish, LinesLieAsNearAsTheCuspAsks) {
  const Part part = cylinder();
  const auto finish = plan(part, round_blank_for(part, 52), {}, ball_cutter(), machine(), coarse(), {});
  ASSERT_TRUE(finish.ok()) << render(finish.reasons());
  ASSERT_EQ(finish->stretches.size(), 1u);
  const int lines = finish->stretches[0].lines;
  EXPECT_EQ(lines % 8, 0);
  EXPECT_LE(cusp_on_convex(3.175, 2 * std::numbers::pi * 25 / lines, 25), 0.05);
  EXPECT_GT(cusp_on_convex(3.175, 2 * std::numbers::pi * 25 / (lines - 8), 25), 0.05 - 1e-4);
}

// Rough and finish in simulation, the blank lying in each of the ways the shop admits: no wood at rapid, and the
// finishing pass meets no more than the allowance and the rough ridge.
TEST(Passes, InSimulation) {
  const double rho = 3.175;
  const Part part = gentle_leg();
  const shape::Blank blank = blank_for(part, 60);
  const auto rough = roughed(part, blank);
  ASSERT_TRUE(rough.ok());
  FinishSettings settings;
  settings.cusp = 0.1;
  const auto finish = plan(part, blank, {}, ball_cutter(), machine(), settings, {}, &rough->wood);
  ASSERT_TRUE(finish.ok());
  const motion::Path both = joined(rough->path, finish->path);
  const std::size_t finishing = rough->path.moves.size();
  for (const Sits& sits : {Sits{}, Sits{0.8, 1.0, 0.8, 0.3}, Sits{0.8, 1.0, 0.8, 0.3 + 3 * kQuarter / 2}}) {
    Simulation wood(blank, sits, 0.5);
    double rapid = 0, met = 0, deepest = 0;
    motion::Position at = both.start;
    for (std::size_t i = 0; i < both.moves.size(); ++i) {
      const motion::Move& m = both.moves[i];
      Simulation::along(at, m.to, m.rapid ? 0.5 : 0.3, [&](const motion::Position& p) {
        if (m.rapid) {
          if (p.z < 50) rapid = std::max(rapid, wood.depth(p, rho));
          return;
        }
        if (i % 16 == 0)
          (i >= finishing ? met : deepest) = std::max(i >= finishing ? met : deepest, wood.depth(p, rho));
        wood.cut(p, rho);
      });
      at = m.to;
    }
    EXPECT_LE(rapid, 0.001) << "wood met at rapid";
    EXPECT_LE(met, RoughSettings{}.allowance + 0.5 + 0.06)
        << "the finishing pass met more than the allowance and the rough ridge";
    EXPECT_GT(met, 0.1);
    EXPECT_LE(deepest, ball_cutter().max_depth_of_cut + 0.1);
    // what is left stands over the part by the cusp at most, and nowhere under it by more than the tolerance
    double over = 0, under = 0;
    for (int i = 0; i < wood.rows(); ++i) {
      const double x = wood.x(i);
      if (x < 45 || x > part.length - 0.5) continue;
      const double nr = part.outline.pieces[part.outline.index_at(x, shape::Side::after)].normal(x).nr;
      for (int j = 0; j < Simulation::kColumns; ++j) {
        const double stands = (wood.at(i, j) - slice(part, x, shape::Side::after).radius(Simulation::angle(j))) * nr;
        over = std::max(over, stands);
        under = std::max(under, -stands);
      }
    }
    EXPECT_LE(over, 0.1 + 0.02);
    EXPECT_GT(over, 0.03);
    EXPECT_LE(under, 0.006);
  }
}

// The longest way round and the fewest turns: each turn on a cylinder advances by the step of the flat formula.
TEST(Round, TurnsAreAsManyAsTheCuspAsks) {
  const double rho = 4, cusp = 0.04;
  const std::vector<LinePoint> level{{0, 20}, {30, 20}, {100, 20}};
  const double turns = turns_along(level, ball_foot(rho), cusp).back();
  EXPECT_NEAR(turns, 100 / step_on_flat(rho, cusp), 0.05 * turns);
  EXPECT_LE(cusp_on_flat(rho, 100 / turns), cusp);
  // turns of a roughing pass are coarse: the second order alone would leave 1.09 mm
  EXPECT_LE(cusp_on_flat(4, 100 / turns_along(level, ball_foot(4), 1).back()), 1);
  // half round a ball of radius 20 and half round a hollow of radius 20, by the ridge of each (feed.h)
  for (double sense : {1.0, -1.0}) {
    std::vector<LinePoint> arc;
    const double centre = 20 + sense * rho;
    for (int i = 0; i <= 400; ++i) {
      const double t = 0.8 * (i / 200.0 - 1);
      arc.push_back({centre * std::sin(t), 60 + sense * centre * std::cos(t)});
    }
    const double arc_turns = turns_along(arc, ball_foot(rho), cusp).back(), step = 20 * 1.6 / arc_turns;
    const double ridge = sense > 0 ? cusp_on_convex(rho, step, 20) : cusp_in_concave(rho, step, 20);
    EXPECT_LE(ridge, cusp);
    EXPECT_GE(ridge, 0.9 * cusp);
    EXPECT_TRUE(corners_along(arc, ball_foot(rho), cusp).empty());
  }
  // the foot of a plumb wall: one ring
  const std::vector<LinePoint> corner{{0, 30}, {0, 20}, {10, 20}};
  ASSERT_EQ(corners_along(corner, ball_foot(rho), cusp).size(), 1u);
  EXPECT_EQ(corners_along(corner, ball_foot(rho), cusp)[0].at, 1u);
  EXPECT_EQ(corners_along(corner, ball_foot(rho), cusp)[0].turns, 1);
}

using Vector = std::array<double, 3>;
Vector cross(const Vector& p, const Vector& q) {
  return {p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]};
}
double dot(const Vector& p, const Vector& q) {
  return p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
}

// A right-hand cutter turning clockwise seen from above: the tooth that stands on the side of the wood that is yet to be
// cut moves with the cutter where cutting is conventional, against it where the cutter climbs. In space, with cross
// products, no formula of pass.h.
TEST(Passes, AreConventionalUnlessClimbIsAskedFor) {
  const Part part = gentle_leg();
  const shape::Blank blank = blank_for(part, 60);
  for (bool climb : {false, true}) {
    RoughSettings settings;
    settings.climb = climb;
    const auto rough = plan_roughing(part, blank, {}, ball_cutter(), machine(), settings, {});
    ASSERT_TRUE(rough.ok()) << render(rough.reasons());
    int spirals = 0, lines = 0;
    double last_line = std::nan("");
    std::string last_stage;
    motion::Position at = rough->path.start;
    for (std::size_t i = 0; i < rough->path.moves.size(); ++i) {
      const motion::Position from = at, to = at = rough->path.moves[i].to;
      const std::string stage = stage_at(rough->path, i);
      if (rough->path.moves[i].rapid || from.x == to.x) continue;
      const bool round = turning(stage);
      if (!round && (stage != last_stage || std::isnan(last_line))) last_stage = stage, last_line = to.a;
      if (!round && to.a == last_line) continue;
      const double progress = to.a - last_line;
      last_line = to.a;
      const Vector up{0, std::cos(to.a), std::sin(to.a)}, growing{0, -std::sin(to.a), std::cos(to.a)};
      const Vector along{to.x > from.x ? 1.0 : -1.0, 0, 0};
      Vector ahead = along, uncut = growing;  // lengthwise
      if (!round && progress < 0) uncut = {0, -growing[1], -growing[2]};
      if (round) {
        uncut = along;
        ahead = growing;
        if (to.a < from.a) ahead = {0, -growing[1], -growing[2]};
      }
      const Vector tooth = cross({-up[0], -up[1], -up[2]}, uncut);
      EXPECT_EQ(dot(tooth, ahead) < 0, climb) << stage;
      ++(round ? spirals : lines);
    }
    EXPECT_GT(spirals, 3);
    EXPECT_GT(lines, 20);
  }
}

// Whichever way is asked for is taken; the choice by time is no slower than either.
TEST(Passes, TakeTheWayThatIsSoonerDone) {
  const Part part = gentle_leg();
  const shape::Blank blank = blank_for(part, 60);
  double minutes_of[3] = {};
  for (Way way : {Way::lengthwise, Way::round, Way::fastest}) {
    RoughSettings rough_settings;
    rough_settings.way = way;
    const auto rough = plan_roughing(part, blank, {}, ball_cutter(), machine(), rough_settings, {});
    ASSERT_TRUE(rough.ok());
    FinishSettings settings = coarse();
    settings.way = way;
    const auto finish = plan(part, blank, {}, ball_cutter(), machine(), settings, {}, &rough->wood);
    ASSERT_TRUE(finish.ok()) << render(finish.reasons());
    bool turns = false;
    for (const motion::Stage& s : finish->path.stages) turns |= turning(s.name);
    EXPECT_EQ(turns, way != Way::lengthwise);
    minutes_of[static_cast<int>(way)] = minutes(joined(rough->path, finish->path), machine());
  }
  EXPECT_LT(minutes_of[static_cast<int>(Way::fastest)], 0.6 * minutes_of[static_cast<int>(Way::lengthwise)]);
  EXPECT_LE(minutes_of[static_cast<int>(Way::fastest)], 1.02 * minutes_of[static_cast<int>(Way::round)]);
}

TEST(Passes, KeepWithinLimitedTurns) {
  const Part part = gentle_leg();
  shop::Machine m = machine();
  m.rotary_limit_turns = 2;
  const auto rough = plan_roughing(part, blank_for(part, 60), {}, ball_cutter(), m, {}, {});
  ASSERT_TRUE(rough.ok()) << render(rough.reasons());
  for (const motion::Move& move : rough->path.moves) {
    EXPECT_GE(move.to.a, 0);
    EXPECT_LT(move.to.a, 4 * kQuarter);
  }
}

TEST(Leftover, IsAnUpperBound) {
  // random balls: the mill's coarse map never says "free" where the fine simulation has wood
  const Part part = gentle_leg();
  const shape::Blank blank = blank_for(part, 60);
  Leftover map(blank, {}, Leftover::cell_for(3.175));
  Simulation wood(blank, {0.8, 1.0, 0.8, 1.1}, 0.25);
  std::mt19937_64 random(8);
  auto between = [&](double a, double b) { return a + (b - a) * static_cast<double>(random() >> 11) * 0x1p-53; };
  for (int k = 0; k < 300; ++k) {
    const double a = between(0, 4 * kQuarter), x = between(0, 100);
    const std::vector<LinePoint> line{{x, between(15, 40)}, {x + between(1, 30), between(15, 40)}};
    map.cut(line, a, ball_foot(3.175));
    Simulation::along({line[0].x, 0, line[0].z, a}, {line[1].x, 0, line[1].z, a}, 0.2,
                      [&](const motion::Position& p) { wood.cut(p, 3.175); });
  }
  for (int k = 0; k < 2000; ++k) {
    motion::Position p{between(-5, 130), 0, 0, between(0, 4 * kQuarter)};
    p.z = map.touch(p.x, p.a, ball_foot(3.175));
    EXPECT_EQ(wood.depth(p, 3.175), 0) << p.x << ' ' << p.a;
  }
}

TEST(Leftover, IsAnUpperBoundAfterSpirals) {
  const Part part = gentle_leg();
  const shape::Blank blank = blank_for(part, 60);
  Leftover map(blank, {}, Leftover::cell_for(3.175));
  Simulation wood(blank, {0.8, 1.0, 0.8, 1.1}, 0.25);
  std::mt19937_64 random(9);
  auto between = [&](double a, double b) { return a + (b - a) * static_cast<double>(random() >> 11) * 0x1p-53; };
  for (int k = 0; k < 6; ++k) {
    std::vector<motion::Position> path{{between(0, 100), 0, between(15, 40), between(-9, 9)}};
    for (int i = 0; i < 3; ++i) {
      const motion::Position& p = path.back();
      path.push_back({p.x + between(-4, 12), 0, std::max(12.0, p.z + between(-4, 4)), p.a + between(-9, 9)});
    }
    map.cut_turning(path, ball_foot(3.175));
    for (std::size_t i = 0; i + 1 < path.size(); ++i)
      Simulation::along(path[i], path[i + 1], 0.2, [&](const motion::Position& p) { wood.cut(p, 3.175); });
  }
  int lowered = 0;
  for (int k = 0; k < 2000; ++k) {
    motion::Position p{between(-5, 130), 0, 0, between(0, 4 * kQuarter)};
    p.z = map.touch(p.x, p.a, ball_foot(3.175));
    EXPECT_EQ(wood.depth(p, 3.175), 0) << p.x << ' ' << p.a;
    if (p.z < 29) ++lowered;
  }
  EXPECT_GT(lowered, 20);
}

TEST(Leftover, IsNoIdleBound) {
  // turned down to 25 mm all round in two layers with ridges of 0.5 mm: rapids may come down to about 27 mm
  Leftover map(round_blank_for(cylinder(), 56), {}, Leftover::cell_for(3.175));
  for (double z : {27.5, 25.0}) {
    const int lines = whole_lines(lines_on_round(3.175, 0.5, z, 0));
    for (int j = 0; j < lines; ++j) map.cut({{0, z}, {60, z}}, 4 * kQuarter * j / lines, ball_foot(3.175));
  }
  for (int j = 0; j < 100; ++j) {
    const double touch = map.touch(20 + 0.2 * j, 4 * kQuarter * j / 100, ball_foot(3.175));
    EXPECT_GT(touch, 25.5);
    EXPECT_LT(touch, 27.5);
  }
  EXPECT_GT(map.touch(-20, 0.3, ball_foot(3.175)), 28 + 0.8);  // where nothing was cut
  EXPECT_NEAR(Skyline(map).standing(-30, -20), 28 + 0.8 + 1.8, 1e-5);
}

std::string first_id(const std::vector<Diagnostic>& reasons) {
  return reasons.front().id;
}

TEST(Setup, RefusesWithAReason) {
  const Part part = gentle_leg();
  const shape::Blank blank = blank_for(part, 60);
  auto id = [&](const shape::Blank& b, const shop::Cutter& c, const shop::Machine& m) {
    const auto made = plan_roughing(part, b, {}, c, m, {}, {});
    return made.ok() ? std::string("ok") : first_id(made.reasons());
  };
  auto with = [](auto value, auto change) {
    change(value);
    return value;
  };
  const auto cutter = ball_cutter();
  const auto machine_ = machine();
  EXPECT_EQ(id(blank, cutter, machine_), "ok");
  EXPECT_EQ(id(blank, with(cutter, [](auto& c) { c.chip_load = 0; }), machine_), "mill.cutter");
  EXPECT_EQ(id(blank, with(cutter, [](auto& c) { c.diameter = std::nan(""); }), machine_), "mill.cutter");
  EXPECT_EQ(id(blank, cutter, with(machine_, [](auto& m) { m.rapid_z = 0; })), "mill.machine");
  EXPECT_EQ(id(with(blank, [](auto& b) { b.size = 0; }), cutter, machine_), "mill.blank");
  EXPECT_EQ(id(with(blank, [](auto& b) { b.x1 = 50; }), cutter, machine_), "mill.blank-short");
  EXPECT_EQ(id(with(blank, [](auto& b) { b.size = 58; }), cutter, machine_), "mill.blank-small");
  EXPECT_EQ(id(with(blank, [](auto& b) { b.size = 61; }), cutter, machine_), "mill.flats");
  EXPECT_EQ(id(blank, cutter, with(machine_, [](auto& m) { m.max_swing = 80; })), "mill.swing");
  EXPECT_EQ(id(blank, cutter, with(machine_, [](auto& m) { m.max_between_centres = 100; })), "mill.between-centres");
  EXPECT_EQ(id(blank, cutter, with(machine_, [](auto& m) { m.z_max = 40; })), "mill.travel");
  EXPECT_EQ(id(blank, cutter, with(machine_, [](auto& m) { m.x_max = 90; })), "mill.travel");
  EXPECT_EQ(id(with(blank, [&](auto& b) { b.x1 = part.length + 12; }), cutter, machine_), "mill.run-up");
  EXPECT_EQ(id(blank, cutter, with(machine_, [](auto& m) { m.rotary_limit_turns = 0.5; })), "mill.turns");
  EXPECT_EQ(id(blank, with(cutter, [](auto& c) { c.shank_diameter = 12, c.flute_length = 8; }), machine_),
            "mill.shank");
  EXPECT_EQ(id(blank, with(cutter, [](auto& c) { c.max_depth_of_cut = 0.6; }), machine_), "mill.allowance");
}

TEST(Setup, SaysHowMuchWasteIsMissing) {
  const Part part = gentle_leg();
  const auto rough = roughed(part, blank_for(part, 60));
  ASSERT_TRUE(rough.ok());
  shape::Blank blank = blank_for(part, 60);
  blank.x1 = part.length + 12;
  const auto made = plan(part, blank, {}, ball_cutter(), machine(), coarse(), {}, &rough->wood);
  ASSERT_FALSE(made.ok());
  // centre grip 10, keep-out 3, ball 3.175, run-up 3.675: 19.85 mm are needed, 12 are there
  EXPECT_EQ(made.reasons().front().message, "at the foot the cutter would come 7.85 mm too near to the tail centre");
  EXPECT_EQ(made.reasons().front().remedy, "leave 7.85 mm more waste at that end");
}

TEST(Setup, WasteBeyondAnEndIsEnoughAndNotFarTooMuch) {
  const Part part = gentle_leg();
  const double reach = (30 + 0.8) * std::numbers::sqrt2 + 1.8;
  const double waste =
      machine().centre_grip + waste_beyond_end(reach, 17, machine().tailstock_top, {}, {ball_cutter()}, machine());
  shape::Blank blank = blank_for(part, 60);
  blank.x1 = part.length + waste;
  EXPECT_TRUE(roughed(part, blank).ok());
  blank.x1 = part.length + waste - 6;
  EXPECT_FALSE(roughed(part, blank).ok());
}

// Knobs whose end falls ever more steeply, under balls up to a half inch: what the layers' ribs want depends on how the layers fall.
TEST(Setup, WasteBeyondSteepKnobsIsEnoughForBigBalls) {
  for (double diameter : {6.0, 8.0, 12.7}) {
    for (double end : {6.0, 9.0, 14.0}) {
      for (double half : {26.0, 30.5}) {
        Turning t(20);
        const double rho = (20 * 20 + 18 * 18) / (2 * 18.0) + (20 - end);
        t.line(30, 20).arc(24, end, std::max(rho, 22.0), +1, "knob");
        const Part part = t.part("knob");
        const shop::Cutter cutter = ball_cutter(diameter);
        const double reach = (half + 0.8) * std::numbers::sqrt2 + 1.8;
        shape::Blank blank = blank_for(part, 2 * half);
        blank.x1 = part.length + machine().centre_grip + waste_beyond_end(reach, end, machine().tailstock_top, {}, {cutter}, machine());
        const auto rough = roughed(part, blank, cutter);
        EXPECT_TRUE(rough.ok()) << diameter << ' ' << end << ' ' << half << ' ' << render(rough.reasons());
        if (!rough.ok()) continue;
        EXPECT_TRUE(plan(part, blank, {}, cutter, machine(), coarse(), {}, &rough->wood).ok());
      }
    }
  }
}

TEST(Finish, AsksForRoughingFirst) {
  const Part part = gentle_leg();
  const auto made = plan(part, blank_for(part, 60), {}, ball_cutter(), machine(), coarse(), {});
  ASSERT_FALSE(made.ok());
  EXPECT_EQ(first_id(made.reasons()), "mill.rough-first");
}

TEST(Passes, RefuseSettingsThatMakeNoSense) {
  const Part part = cylinder();
  const shape::Blank blank = round_blank_for(part, 54);
  for (double bad : {0.0, -1.0, std::nan(""), 1e9}) {
    FinishSettings finish;
    finish.cusp = bad;
    const auto made = plan(part, blank, {}, ball_cutter(), machine(), finish, {});
    ASSERT_FALSE(made.ok());
    EXPECT_EQ(first_id(made.reasons()), "mill.settings");
    RoughSettings rough;
    rough.along = bad;
    const auto second = plan_roughing(part, blank, {}, ball_cutter(), machine(), rough, {});
    ASSERT_FALSE(second.ok());
    EXPECT_EQ(first_id(second.reasons()), "mill.settings");
  }
}

TEST(Passes, StopWhenAsked) {
  const Part part = gentle_leg();
  std::stop_source stop;
  stop.request_stop();
  const auto rough = plan_roughing(part, blank_for(part, 60), {}, ball_cutter(), machine(), {}, stop.get_token());
  const auto finish = plan(part, blank_for(part, 60), {}, ball_cutter(), machine(), {}, stop.get_token());
  ASSERT_FALSE(rough.ok() || finish.ok());
  EXPECT_EQ(first_id(rough.reasons()), "cancelled");
  EXPECT_EQ(first_id(finish.reasons()), "cancelled");
}

TEST(Passes, SameInputSamePath) {
  const Part part = cylinder();
  const shape::Blank blank = round_blank_for(part, 54);
  const auto one = plan(part, blank, {}, ball_cutter(), machine(), coarse(), {}),
             two = plan(part, blank, {}, ball_cutter(), machine(), coarse(), {});
  ASSERT_TRUE(one.ok() && two.ok());
  EXPECT_EQ(one->path, two->path);
}

}  // namespace
}  // namespace pommel::mill
