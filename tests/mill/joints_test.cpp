// Joints: a flat cutter is swept along the moves, exactly, over points of the face; what stands afterwards is held
// against the joint.
#include "mill/joints.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <random>
#include <string>

#include "mill/bench.h"
#include "mill/bodies.h"
#include "mill/feed.h"
#include "mill/time.h"

namespace pommel::mill {
namespace {

using namespace testing;

constexpr double kQuarter = std::numbers::pi / 2;
constexpr double kLimit = 0.02;  // mm: size of a joint
constexpr double kHalf = 30;     // the square's

shop::Machine bench_machine() {
  shop::Machine m = machine();
  m.z_min = -60;
  m.y_word = "Y", m.y_min = -60, m.y_max = 60, m.rapid_y = 3000, m.accel_y = 400;
  m.lock = {"M10"}, m.unlock = {"M11"};
  return m;
}

shop::Machine without_y() {
  shop::Machine m = bench_machine();
  m.y_word.clear(), m.y_min = m.y_max = m.rapid_y = m.accel_y = 0;
  return m;
}

shop::Cutter flat(double diameter, double flutes = 60, double shank_length = 80) {
  shop::Cutter c = ball_cutter(diameter);
  c.id = "flat-" + std::to_string(static_cast<int>(std::lround(diameter)));
  c.form = shop::Cutter::Form::flat;
  c.flute_length = flutes, c.shank_diameter = diameter, c.shank_length = shank_length;
  c.max_depth_of_cut = diameter / 2;
  return c;
}

std::vector<shop::Cutter> flats() {
  return {flat(4), flat(6), flat(8), flat(12), ball_cutter()};
}

Part square_leg() {
  Turning t(kHalf * std::numbers::sqrt2);
  t.clear(160).step(24).line(200, 15);
  return t.part("leg", shape::square_faces(2 * kHalf, t.length()));
}

shape::Mortise mortise(const std::string& id, int face, double x0, double x1, double t0, double t1, double depth,
                       double corner) {
  shape::Mortise m;
  m.id = id, m.phi = face * kQuarter, m.x0 = x0, m.x1 = x1, m.t0 = t0, m.t1 = t1, m.depth = depth,
  m.corner_radius = corner;
  return m;
}

shape::Bore bore(const std::string& id, int face, double x, double t, double diameter, double depth) {
  shape::Bore b;
  b.id = id, b.phi = face * kQuarter, b.x = x, b.t = t, b.diameter = diameter, b.depth = depth;
  return b;
}

Result<JointPlan> plan(const Part& part, const shop::Machine& m = bench_machine(),
                       const std::vector<shop::Cutter>& cutters = flats(), const JointSettings& settings = {}) {
  return plan_joints(part, blank_for(part, 2 * kHalf), {}, cutters, m, settings, {});
}

// ---- the model ----

struct Hole {
  double phi, x0, x1, t0, t1, bottom, corner;
};

// Signed distance to the outline, below 0 inside.
double outside(const Hole& h, double x, double t) {
  const double hx = (h.x1 - h.x0) / 2 - h.corner, ht = (h.t1 - h.t0) / 2 - h.corner;
  const double dx = std::fabs(x - (h.x0 + h.x1) / 2) - hx, dt = std::fabs(t - (h.t0 + h.t1) / 2) - ht;
  return std::hypot(std::max(dx, 0.0), std::max(dt, 0.0)) + std::min(std::max(dx, dt), 0.0) - h.corner;
}

struct Stroke {
  double x0, t0, z0, x1, t1, z1;
};

// The lowest place of a level disc of radius r over the point while it goes along the stroke; infinite where it does
// not pass.
double lowest(const Stroke& s, double r, double x, double t) {
  const double none = std::numeric_limits<double>::infinity();
  const double ux = s.x1 - s.x0, ut = s.t1 - s.t0, px = x - s.x0, pt = t - s.t0, uu = ux * ux + ut * ut;
  if (uu < 1e-18) return std::hypot(px, pt) <= r ? std::min(s.z0, s.z1) : none;
  const double along = (px * ux + pt * ut) / uu, square = along * along - (px * px + pt * pt - r * r) / uu;
  if (square < 0) return none;
  const double from = std::max(0.0, along - std::sqrt(square)), to = std::min(1.0, along + std::sqrt(square));
  if (from > to) return none;
  return std::min(s.z0 + from * (s.z1 - s.z0), s.z0 + to * (s.z1 - s.z0));
}

const shop::Cutter& cutter_of(const std::vector<shop::Cutter>& cutters, const std::string& id) {
  return *std::find_if(cutters.begin(), cutters.end(), [&](const shop::Cutter& c) { return c.id == id; });
}

struct Swept {
  std::vector<Stroke> strokes;
  double radius = 0, deepest = 0;
};

std::vector<Swept> sweeps_on(const JointPlan& plan, double phi, const shop::Machine& m,
                             const std::vector<shop::Cutter>& cutters) {
  const double sideways = m.x_towards_foot ? -1 : 1;
  std::vector<Swept> out;
  for (const motion::Path& path : plan.paths) {
    const shop::Cutter& c = cutter_of(cutters, path.cutter);
    Swept swept{{}, c.diameter / 2, c.max_depth_of_cut};
    motion::Position at = path.start;
    for (const motion::Move& move : path.moves) {
      if (!move.rapid && std::fabs(std::remainder(move.to.a - phi, 4 * kQuarter)) < 1e-9)
        swept.strokes.push_back({at.x, sideways * at.y, at.z, move.to.x, sideways * move.to.y, move.to.z});
      at = move.to;
    }
    out.push_back(std::move(swept));
  }
  return out;
}

// Points over the face: coarse all over, and rows just inside and outside of every outline.
std::vector<std::pair<double, double>> points_for(const std::vector<Hole>& holes) {
  std::vector<std::pair<double, double>> points;
  for (double x = 2; x < 158; x += 1.7)
    for (double t = -29; t <= 29; t += 1.3) points.push_back({x, t});
  for (const Hole& h : holes) {
    const double mx = (h.x0 + h.x1) / 2, mt = (h.t0 + h.t1) / 2, far = std::hypot(h.x1 - h.x0, h.t1 - h.t0);
    for (double x = h.x0 + 0.1; x < h.x1; x += 0.6)
      for (double t = h.t0 + 0.1; t < h.t1; t += 0.6) points.push_back({x, t});
    for (int i = 0; i < 120; ++i) {
      const double cx = std::cos(i * 4 * kQuarter / 120), ct = std::sin(i * 4 * kQuarter / 120);
      for (const double wanted : {-0.2, -1.05 * kLimit, 1.05 * kLimit, 0.2}) {
        double low = 0, high = far;
        for (int k = 0; k < 50; ++k) {
          const double mid = (low + high) / 2;
          (outside(h, mx + mid * cx, mt + mid * ct) < wanted ? low : high) = mid;
        }
        points.push_back({mx + low * cx, mt + low * ct});
      }
    }
  }
  return points;
}

// What the wood must be after the cutting: the floor of the deepest hole over the point, or untouched.
void expect_cut_to_size(const JointPlan& plan, const std::vector<Hole>& all, const shop::Machine& m,
                        const std::vector<shop::Cutter>& cutters, const std::string& who) {
  const double top = kHalf + 0.8 + 1.0 + 0.8;
  for (int face = 0; face < 4; ++face) {
    std::vector<Hole> holes;
    for (const Hole& h : all) {
      if (h.phi == face * kQuarter) holes.push_back(h);
    }
    const std::vector<Swept> sweeps = sweeps_on(plan, face * kQuarter, m, cutters);
    int floors = 0, wrong = 0;
    double over = 0;
    for (const auto& [x, t] : points_for(holes)) {
      double least = top, most = top;
      for (const Hole& h : holes) {
        const double d = outside(h, x, t);
        if (d < kLimit) least = std::min(least, h.bottom);
        if (d < -kLimit) most = std::min(most, h.bottom);
      }
      double wood = top;
      for (const Swept& swept : sweeps) {
        for (const Stroke& s : swept.strokes) {
          const double z = lowest(s, swept.radius, x, t);
          if (z < wood) {
            over = std::max(over, wood - z - swept.deepest);
            wood = z;
          }
        }
      }
      wrong += wood < least - 1e-6 || wood > most + 1e-6;
      floors += most < top;
      if (wrong == 1 && (wood < least - 1e-6 || wood > most + 1e-6))
        ADD_FAILURE() << who << ", face " << face << " at x " << x << ", t " << t << ": " << wood << " not in " << least
                      << ".." << most;
    }
    EXPECT_EQ(wrong, 0) << who;
    EXPECT_LE(over, 1e-6) << who << ": deeper in one move than the cutter may go";
    if (!holes.empty()) {
      EXPECT_GT(floors, 50) << who;
    }
  }
}

// What every path keeps, whatever it cuts.
void expect_invariants(const JointPlan& plan, const shop::Machine& m, const std::vector<shop::Cutter>& cutters,
                       const JointSettings& settings = {}) {
  const double clear = (kHalf + 0.8) * std::numbers::sqrt2 + 1.8 + 5;
  double minutes_of_all = 0;
  for (const motion::Path& path : plan.paths) {
    minutes_of_all += minutes(path, m);
    EXPECT_NEAR(path.start.z, clear, 1e-9);
    EXPECT_DOUBLE_EQ(path.moves.back().to.z, path.start.z);
    const shop::Cutter& c = cutter_of(cutters, path.cutter);
    EXPECT_DOUBLE_EQ(path.rpm, revolutions(c, m));
    const double speed = cutting_speed(c, m);
    std::size_t counted = 0;
    for (const motion::Stage& s : path.stages) {
      EXPECT_EQ(s.first, counted);
      counted += s.count;
      for (std::size_t i = s.first; i < s.first + s.count; ++i) {
        const motion::Position from = i == 0 ? path.start : path.moves[i - 1].to;
        const motion::Move& move = path.moves[i];
        EXPECT_EQ(move.rapid, !s.indexed);
        const double flat = std::hypot(move.to.x - from.x, move.to.y - from.y), fall = from.z - move.to.z;
        if (move.rapid) {
          EXPECT_DOUBLE_EQ(from.z, path.start.z);
          EXPECT_DOUBLE_EQ(move.to.z, path.start.z);
          EXPECT_LE(std::fabs(move.to.a - from.a), kQuarter + 1e-9);
          continue;
        }
        EXPECT_EQ(move.to.a, from.a);
        EXPECT_GT(move.minutes, 0);
        EXPECT_GT(std::hypot(flat, fall), 0);
        if (flat > 0) {
          EXPECT_LE(std::hypot(flat, fall) / move.minutes, speed * (1 + 1e-9));
          EXPECT_LE(fall / flat, std::tan(settings.ramp_angle) * (1 + 1e-6))
              << "a ramp too steep, " << s.name << " at " << i - s.first << " from " << from.x << " " << from.y << " "
              << from.z << " to " << move.to.x << " " << move.to.y << " " << move.to.z;
          if (fall > 0) {
            EXPECT_LE(fall / move.minutes, speed * settings.plunge_share * (1 + 1e-9));
          }
        }
        if (!m.has_free_y()) {
          EXPECT_EQ(move.to.y, 0);
        }
      }
    }
    EXPECT_EQ(counted, path.moves.size());
  }
  EXPECT_DOUBLE_EQ(plan.minutes, minutes_of_all);
}

Hole hole_of(const shape::Mortise& m, double corner) {
  return {m.phi, m.x0, m.x1, m.t0, m.t1, kHalf - m.depth, corner};
}

std::string ids(const std::vector<BenchJoint>& bench) {
  std::string out;
  for (const BenchJoint& b : bench) out += b.joint + " " + b.why.id + ";";
  return out;
}

const Diagnostic* note_of(const JointPlan& plan, const std::string& id) {
  for (const Diagnostic& d : plan.notes) {
    if (d.id == id) return &d;
  }
  return nullptr;
}

// ---- joints cut to size ----

TEST(Joints, MortiseWithRoundEndsIsOneCutterWide) {
  Part part = square_leg();
  part.mortises = {mortise("rail", 0, 30, 80, -4, 4, 32, 4)};
  const auto done = plan(part);
  ASSERT_TRUE(done.ok());
  EXPECT_EQ(ids(done->bench), "");
  ASSERT_EQ(done->cuts.size(), 1u);
  EXPECT_EQ(done->cuts[0], (JointCut{"rail", "the mortise 'rail'", "flat-8"}));
  expect_cut_to_size(*done, {hole_of(part.mortises[0], 4)}, bench_machine(), flats(), "round ends");
  expect_invariants(*done, bench_machine(), flats());
  EXPECT_FALSE(note_of(*done, "mill.joint-chisel"));
  EXPECT_GT(done->minutes, 0.1);
}

TEST(Joints, SquareCornersAreLeftToTheChisel) {
  Part part = square_leg();
  part.mortises = {mortise("rail", 1, 30, 80, 3, 13, 20, 0)};
  const auto done = plan(part);
  ASSERT_TRUE(done.ok());
  EXPECT_EQ(done->cuts.at(0).cutter, "flat-8");
  expect_cut_to_size(*done, {hole_of(part.mortises[0], 4)}, bench_machine(), flats(), "square ends");
  ASSERT_TRUE(note_of(*done, "mill.joint-chisel"));
  EXPECT_EQ(note_of(*done, "mill.joint-chisel")->message,
            "the mortise 'rail' keeps corners of radius 4 mm from the cutter 'flat-8'");
  EXPECT_EQ(note_of(*done, "mill.joint-chisel")->remedy, "chisel them square");
}

TEST(Joints, NarrowCornersTakeANarrowCutter) {
  Part part = square_leg();
  part.mortises = {mortise("rail", 2, 30, 80, -12, 8, 18, 3)};
  const auto done = plan(part);
  ASSERT_TRUE(done.ok());
  EXPECT_EQ(done->cuts.at(0).cutter, "flat-6");
  expect_cut_to_size(*done, {hole_of(part.mortises[0], 3)}, bench_machine(), flats(), "corners of 3 mm");
}

TEST(Joints, HaunchIsCutFirstAndTheMortiseFromItsFloor) {
  Part part = square_leg();
  shape::Mortise m = mortise("rail", 3, 40, 90, -5, 5, 28, 4.5);
  m.haunch_length = 20, m.haunch_depth = 9;
  part.mortises = {m};
  const auto done = plan(part);
  ASSERT_TRUE(done.ok());
  ASSERT_EQ(done->cuts.size(), 2u);
  EXPECT_EQ(done->cuts[0].pocket, "the haunch of the mortise 'rail'");
  EXPECT_EQ(done->cuts[1].pocket, "the mortise 'rail'");
  Hole haunch = hole_of(m, 4.5);
  haunch.x0 -= 20, haunch.bottom = kHalf - 9;
  expect_cut_to_size(*done, {haunch, hole_of(m, 4.5)}, bench_machine(), flats(), "haunch");
  expect_invariants(*done, bench_machine(), flats());
}

TEST(Joints, BoresByPecksByHelixAndWithASeat) {
  Part part = square_leg();
  part.bores = {bore("peg", 0, 30, 7, 8, 25), bore("bolt", 0, 70, -8, 7, 30), bore("wide", 1, 100, 0, 30, 10)};
  part.bores[1].seat_diameter = 15, part.bores[1].seat_depth = 6;
  const auto done = plan(part);
  ASSERT_TRUE(done.ok());
  EXPECT_EQ(ids(done->bench), "");
  std::vector<Hole> holes;
  auto add = [&](const shape::Bore& b, double d, double deep) {
    holes.push_back({b.phi, b.x - d / 2, b.x + d / 2, b.t - d / 2, b.t + d / 2, kHalf - deep, d / 2});
  };
  for (const shape::Bore& b : part.bores) add(b, b.diameter, b.depth);
  add(part.bores[1], 15, 6);
  std::map<std::string, std::string> by;
  for (const JointCut& c : done->cuts) by[c.pocket] = c.cutter;
  EXPECT_EQ(by["the bore 'peg'"], "flat-8");
  EXPECT_EQ(by["the bore 'bolt'"], "flat-6");
  EXPECT_EQ(by["the seat of the bore 'bolt'"], "flat-12");
  expect_cut_to_size(*done, holes, bench_machine(), flats(), "bores");
  expect_invariants(*done, bench_machine(), flats());
}

TEST(Joints, APeckLiftsTheChipsOut) {
  Part part = square_leg();
  part.bores = {bore("peg", 0, 30, 0, 8, 24)};
  const auto done = plan(part);
  ASSERT_TRUE(done.ok());
  const double top = kHalf + 2.6;
  int lifts = 0;
  motion::Position at = done->paths.at(0).start;
  for (const motion::Move& move : done->paths[0].moves) {
    EXPECT_EQ(move.to.x, 30);
    lifts += move.to.z > at.z && at.z < top;
    at = move.to;
  }
  // 26.6 mm in pecks of at most 4 mm: seven, each lifted out of
  EXPECT_EQ(lifts, 7);
}

// Without teeth in its middle a cutter is never led down more steeply than it bears: not where the ramp would be steeper, not by pecks.
TEST(Joints, ACutterThatDoesNotPlungeSinksAlongItsRamp) {
  constexpr double kRamp = 0.02;  // radians: less than the 0.05 of the settings
  std::vector<shop::Cutter> ramping = flats();
  for (shop::Cutter& cutter : ramping) cutter.ramp = kRamp;
  Part part = square_leg();
  part.mortises = {mortise("m", 0, 30, 80, -5, 5, 24, 5)};
  part.bores = {bore("wide", 1, 100, 0, 30, 10)};
  const auto done = plan(part, bench_machine(), ramping);
  ASSERT_TRUE(done.ok());
  EXPECT_EQ(ids(done->bench), "");
  double steepest = 0;
  for (const motion::Path& path : done->paths) {
    motion::Position at = path.start;
    for (const motion::Move& move : path.moves) {
      const double down = at.z - move.to.z, way = std::hypot(move.to.x - at.x, move.to.y - at.y);
      if (!move.rapid && down > 1e-9 && way > 1e-9) steepest = std::max(steepest, down / way);
      // straight down only above the wood
      if (!move.rapid && down > 1e-9 && way <= 1e-9) {
        EXPECT_GE(move.to.z, kHalf + 2.6 - 1e-9);
      }
      at = move.to;
    }
  }
  EXPECT_NEAR(steepest, std::tan(kRamp), 1e-6);
  part.bores = {bore("peg", 0, 30, 0, 8, 24)};
  part.mortises.clear();
  // a narrower one has room to go round in it
  const auto helix = plan(part, bench_machine(), ramping);
  ASSERT_TRUE(helix.ok());
  ASSERT_EQ(helix->cuts.size(), 1u);
  EXPECT_EQ(helix->cuts[0].cutter, "flat-6");
  shop::Cutter as_wide = flat(8);
  as_wide.ramp = kRamp;
  const auto left = plan(part, bench_machine(), {as_wide});
  ASSERT_TRUE(left.ok());
  ASSERT_EQ(left->bench.size(), 1u);
  EXPECT_EQ(left->bench[0].why.id, "mill.joint-plunge");
  EXPECT_EQ(left->bench[0].why.message, "the bore 'peg' is left for the bench: the cutter 'flat-8' does not go straight down, and there is no room for a ramp");
}

TEST(Joints, ABoreThroughThePieceGoesOnBeyondIt) {
  Part part = square_leg();
  part.bores = {bore("bolt", 0, 60, 0, 8, 60)};
  shop::Cutter longest = flat(8, 70, 90);
  const auto done = plan(part, bench_machine(), {longest});
  ASSERT_TRUE(done.ok());
  EXPECT_EQ(ids(done->bench), "");
  double low = 0;
  for (const motion::Move& move : done->paths.at(0).moves) low = std::min(low, move.to.z);
  EXPECT_NEAR(low, -kHalf - 2.6 - 0.5, 1e-9);
}

TEST(Joints, RandomMortisesOnRandomFaces) {
  std::mt19937 random(20240611);
  auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  for (int round = 0; round < 24; ++round) {
    Part part = square_leg();
    const double wide = between(4.2, 24), middle = between(-1, 1) * (29 - wide / 2), from = between(30, 60);
    const double length = between(wide, 70), corner = round % 3 == 0 ? 0 : between(2.1, wide / 2);
    shape::Mortise m = mortise("m", static_cast<int>(between(0, 3.999)), from, from + length, middle - wide / 2,
                               middle + wide / 2, between(3, 26), corner);
    if (round % 4 == 1) m.haunch_length = between(1, 25), m.haunch_depth = between(1, m.depth);
    part.mortises = {m};
    shop::Machine bench = bench_machine();
    bench.x_towards_foot = round % 2 == 0;
    JointSettings settings;
    settings.climb = round % 5 == 0, settings.finish = round % 7 == 0 ? 0 : 0.2;
    const auto done = plan(part, bench, flats(), settings);
    ASSERT_TRUE(done.ok()) << done.reasons()[0].message;
    ASSERT_EQ(ids(done->bench), "") << round << ": " << shape::dump(part);
    const double left = corner > 0 ? corner : cutter_of(flats(), done->cuts[0].cutter).diameter / 2;
    std::vector<Hole> holes{hole_of(m, left)};
    if (m.haunch_length > 0) {
      holes.push_back(hole_of(m, left));
      holes[1].x0 -= m.haunch_length, holes[1].bottom = kHalf - m.haunch_depth;
    }
    expect_cut_to_size(*done, holes, bench, flats(), "round " + std::to_string(round));
    expect_invariants(*done, bench, flats(), settings);
  }
}

// The model itself must see a joint that is 0.05 mm off.
TEST(Joints, TheModelSeesAJointThatIsOff) {
  Part part = square_leg();
  part.mortises = {mortise("rail", 0, 30, 60, -6, 5, 12, 4)};
  const auto done = plan(part);
  ASSERT_TRUE(done.ok());
  for (const double off : {-0.05, 0.05}) {
    Hole moved = hole_of(part.mortises[0], 4);
    moved.t0 += off, moved.t1 += off;
    const std::vector<Swept> sweeps = sweeps_on(*done, 0, bench_machine(), flats());
    int wrong = 0;
    for (const auto& [x, t] : points_for({moved})) {
      double wood = kHalf;
      for (const Swept& s : sweeps)
        for (const Stroke& stroke : s.strokes) wood = std::min(wood, lowest(stroke, s.radius, x, t));
      const double d = outside(moved, x, t);
      wrong += (d < -kLimit && wood > moved.bottom + 1e-6) || (d > kLimit && wood < kHalf - 1e-6);
    }
    EXPECT_GT(wrong, 20);
  }
}

// A tooth at the side of growing x moves to growing t: conventional is where the cutter goes that way too (pass.h).
TEST(Joints, RingsRunConventionalUnlessAskedToClimb) {
  Part part = square_leg();
  part.mortises = {mortise("rail", 0, 30, 60, -8, 8, 10, 6)};
  for (const bool climb : {false, true}) {
    JointSettings settings;
    settings.climb = climb;
    const auto done = plan(part, bench_machine(), flats(), settings);
    ASSERT_TRUE(done.ok());
    const auto& moves = done->paths.at(0).moves;
    const double floor = kHalf - 10;
    std::size_t last = moves.size() - 1;
    while (std::fabs(moves[last].to.z - floor) > 1e-9) --last;
    // at the side of greatest x
    double greatest = 0, sense = 0;
    for (std::size_t i = 1; i <= last; ++i) {
      if (std::fabs(moves[i].to.z - floor) > 1e-9 || std::fabs(moves[i].to.x - moves[i - 1].to.x) > 1e-9) continue;
      if (moves[i].to.x < greatest - 1e-9) continue;
      greatest = moves[i].to.x, sense = -(moves[i].to.y - moves[i - 1].to.y);
    }
    EXPECT_EQ(sense > 0, !climb);
    EXPECT_NEAR(greatest, 60 - 6, 0.01);
  }
}

// ---- order and notes ----

TEST(Joints, WhatWeakensLeastIsCutFirstFaceByFace) {
  Part part = square_leg();
  part.mortises = {mortise("big", 0, 20, 100, -4, 4, 40, 4), mortise("small", 0, 110, 130, -4, 4, 8, 4),
                   mortise("other", 2, 20, 50, -4, 4, 6, 4)};
  part.bores = {bore("peg", 1, 140, 0, 8, 25)};
  const auto done = plan(part);
  ASSERT_TRUE(done.ok());
  ASSERT_EQ(done->paths.size(), 1u);
  std::string order;
  for (const JointCut& c : done->cuts) order += c.joint + " ";
  EXPECT_EQ(order, "other peg small big ");
  ASSERT_TRUE(note_of(*done, "mill.joint-order"));
  EXPECT_EQ(note_of(*done, "mill.joint-order")->message,
            "the joints are cut after the turning, on the same centres, while the square head is still whole: the "
            "turning cutter "
            "would otherwise meet holes; face by face, what weakens the piece least first, so that it stays stiff: "
            "face C, face "
            "B and face A");
  expect_invariants(*done, bench_machine(), flats());
}

TEST(Joints, AMachineWithoutABrakeIsSaid) {
  Part part = square_leg();
  part.mortises = {mortise("rail", 0, 30, 80, -4, 4, 20, 4)};
  shop::Machine bench = bench_machine();
  EXPECT_FALSE(note_of(*plan(part, bench), "mill.joint-no-brake"));
  bench.lock.clear(), bench.unlock.clear();
  ASSERT_TRUE(note_of(*plan(part, bench), "mill.joint-no-brake"));
}

TEST(Joints, NothingToCutIsNoFault) {
  const auto done = plan(square_leg());
  ASSERT_TRUE(done.ok());
  EXPECT_TRUE(done->paths.empty());
  EXPECT_TRUE(done->notes.empty());
  EXPECT_TRUE(done->bench.empty());
  EXPECT_EQ(done->minutes, 0);
}

// ---- without a free Y ----

TEST(Joints, WithoutFreeYACutterOfJustTheWidthIsWanted) {
  Part part = square_leg();
  part.mortises = {mortise("one", 0, 30, 80, -4, 4, 20, 4), mortise("wide", 1, 30, 80, -5, 5, 20, 4),
                   mortise("beside", 2, 30, 80, 2, 10, 20, 4)};
  part.bores = {bore("peg", 3, 30, 0, 8, 20), bore("odd", 3, 60, 0, 9, 20)};
  const auto done = plan(part, without_y());
  ASSERT_TRUE(done.ok());
  EXPECT_EQ(ids(done->bench), "wide mill.joint-wedge;beside mill.joint-off-middle;odd mill.joint-wedge;");
  EXPECT_EQ(done->bench[0].why.message,
            "the mortise 'wide' is left for the bench: 'test machine' has no free Y and no flat cutter of just 10 mm; "
            "turning "
            "the piece to widen it would make a wedge");
  EXPECT_EQ(done->bench[0].why.severity, Severity::warning);
  EXPECT_EQ(done->bench[1].why.message,
            "the mortise 'beside' is left for the bench: it lies 6 mm beside the middle of its face, and 'test "
            "machine' has no "
            "free Y");
  expect_cut_to_size(*done, {hole_of(part.mortises[0], 4), {3 * kQuarter, 26, 34, -4, 4, kHalf - 20, 4}}, without_y(),
                     flats(), "no free Y");
  expect_invariants(*done, without_y(), flats());
}

// ---- what is left for the bench ----

TEST(Joints, EveryReasonForTheBench) {
  Part part = square_leg();
  part.mortises = {mortise("m", 0, 30, 80, -4, 4, 30, 4)};
  auto reason = [](const Result<JointPlan>& done) {
    if (!done.ok()) return "failed: " + done.reasons()[0].message;
    if (done->bench.size() != 1 || !done->paths.empty()) return std::string("not left");
    EXPECT_FALSE(done->bench[0].why.remedy.empty());
    return done->bench[0].why.id + ": " + done->bench[0].why.message;
  };
  const std::string left = "the mortise 'm' is left for the bench: ";
  EXPECT_EQ(reason(plan(part, bench_machine(), {flat(12), ball_cutter()})),
            "mill.joint-no-cutter: " + left + "no flat cutter in the list is 8 mm wide or less");
  EXPECT_EQ(reason(plan(part, bench_machine(), {})),
            "mill.joint-no-cutter: " + left + "no flat cutter in the list is 8 mm wide or less");
  EXPECT_EQ(reason(plan(part, bench_machine(), {flat(8, 25)})),
            "mill.joint-flutes: " + left + "it needs flutes 32.6 mm long, and the cutter 'flat-8' has 25 mm");
  EXPECT_EQ(
      reason(plan(part, bench_machine(), {flat(8, 35, 40)})),
      "mill.joint-reach: " + left + "the collet nut of 'flat-8' would come 5.36 mm below the corners of the wood");
  shop::Cutter thick = flat(8, 35, 90);
  thick.shank_diameter = 12;
  EXPECT_EQ(reason(plan(part, bench_machine(), {thick})),
            "mill.joint-reach: " + left + "the shank of 'flat-8' would come 10.36 mm below the corners of the wood");
  shop::Machine small = bench_machine();
  small.z_min = 5;
  EXPECT_EQ(reason(plan(part, small)),
            "mill.joint-travel: " + left +
                "the cutter would have to go to x 45.62, y 0, z 3.62 mm, beyond the travel of 'test machine'");
  shop::Machine crowded = bench_machine();
  crowded.chuck_grip = 90, crowded.jaw_swing = 45;
  EXPECT_EQ(reason(plan(part, crowded)),
            "mill.joint-chuck: " + left + "the cutter would come 3 mm too near to the chuck");
  Part corner = square_leg();
  corner.mortises = {mortise("m", 0, 30, 80, -5, 5, 20, 1.5)};
  EXPECT_EQ(reason(plan(corner)),
            "mill.joint-corner: " + left +
                "no flat cutter that fits it is 3 mm wide or less, as its corners of radius 1.5 mm need");
  Part turned = square_leg();
  turned.mortises = {mortise("m", 2, 30, 80, -4, 4, 20, 4)};
  shop::Machine short_of_turns = bench_machine();
  short_of_turns.counting = shop::Machine::Counting::limited;
  short_of_turns.rotary_limit_turns = 0.3;
  EXPECT_EQ(reason(plan(turned, short_of_turns)),
            "mill.joint-turns: " + left + "the rotary of 'test machine' does not turn as far as face C");
  turned.mortises[0].phi = 3 * kQuarter;
  const auto back = plan(turned, short_of_turns);
  ASSERT_TRUE(back.ok());
  ASSERT_EQ(back->paths.size(), 1u);
  EXPECT_NEAR(back->paths[0].start.a, -kQuarter, 1e-12);
}

TEST(Joints, BoresAlongTheAxisAndSawnEndsAreForTheBench) {
  Part part = square_leg();
  part.axial_bores = {{"wire", 8, 0, 100}};
  part.end_cuts = {{false, 350, 0.05, 0}};
  const auto done = plan(part);
  ASSERT_TRUE(done.ok());
  EXPECT_EQ(ids(done->bench), "wire mill.joint-axial;foot mill.joint-end;");
  EXPECT_EQ(done->bench[0].why.message,
            "the bore 'wire' along the axis is left for the bench: the centres hold the piece there");
  EXPECT_EQ(done->bench[1].why.message,
            "the cut across the foot is left for the bench: the piece hangs between its ends");
}

TEST(Joints, AJointIsCutInWholeOrNotAtAll) {
  Part part = square_leg();
  shape::Mortise m = mortise("rail", 0, 50, 90, -4, 4, 30, 4);
  m.haunch_length = 10, m.haunch_depth = 5;
  part.mortises = {m};
  const auto done = plan(part, bench_machine(), {flat(8, 20)});
  ASSERT_TRUE(done.ok());
  EXPECT_EQ(ids(done->bench), "rail mill.joint-flutes;");
  EXPECT_TRUE(done->paths.empty());
}

TEST(Joints, ALongerNarrowerCutterIsTakenWhereTheWidestDoesNotReach) {
  Part part = square_leg();
  part.mortises = {mortise("rail", 0, 30, 80, -5, 5, 30, 4)};
  const auto done = plan(part, bench_machine(), {flat(6), flat(8, 20)});
  ASSERT_TRUE(done.ok());
  EXPECT_EQ(done->cuts.at(0).cutter, "flat-6");
}

// ---- failures ----

TEST(Joints, Failures) {
  Part part = square_leg();
  part.mortises = {mortise("m", 0, 30, 80, -4, 4, 30, 4)};
  auto id = [](const Result<JointPlan>& done) { return done.ok() ? std::string("none") : done.reasons()[0].id; };
  JointSettings bad;
  bad.ramp_angle = 0;
  EXPECT_EQ(id(plan(part, bench_machine(), flats(), bad)), "mill.settings");
  bad = {};
  bad.step_over = std::numeric_limits<double>::quiet_NaN();
  EXPECT_EQ(id(plan(part, bench_machine(), flats(), bad)), "mill.settings");
  Part through = part;
  through.mortises[0].depth = 70;
  EXPECT_EQ(id(plan(through)), "mill.part");
  shop::Machine low = bench_machine();
  low.z_max = 40;
  EXPECT_EQ(id(plan(part, low)), "mill.travel");
  EXPECT_EQ(id(plan_joints(part, blank_for(part, 50), {}, flats(), bench_machine(), {}, {})), "mill.blank-small");
  std::stop_source stop;
  stop.request_stop();
  EXPECT_EQ(id(plan_joints(part, blank_for(part, 60), {}, flats(), bench_machine(), {}, stop.get_token())),
            "cancelled");
}

TEST(Joints, ACutterWithoutFiguresIsLeftOutAndNamed) {
  Part part = square_leg();
  part.mortises = {mortise("m", 0, 30, 80, -4, 4, 20, 4)};
  shop::Cutter bad = flat(8);
  bad.shank_length = 0;
  const auto done = plan(part, bench_machine(), {bad, flat(6)});
  ASSERT_TRUE(done.ok());
  EXPECT_EQ(done->cuts.at(0).cutter, "flat-6");
  ASSERT_TRUE(note_of(*done, "mill.cutter"));
  EXPECT_EQ(note_of(*done, "mill.cutter")->message,
            "the cutter 'flat-8' is left out for the joints: it lacks a figure, or one makes no sense");
  bad.diameter = std::numeric_limits<double>::quiet_NaN();
  EXPECT_TRUE(plan(part, bench_machine(), {bad}).ok());
}

}  // namespace
}  // namespace pommel::mill
