// Programs that cut joints: a sound one passes, and every way of being wrong is found with its measure.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "pieces.h"
#include "proof/joints.h"

namespace pommel::proof {
namespace {

using namespace testing;

// A mortise 40 by 10 and 9 deep, 3 mm beside the middle of face B, corners as a cutter of 8 mm leaves them; a bore of 8 in face A.
struct Jointed {
  shape::Part part = with_pieces({shape::clear_piece(0, 200)});
  shop::Cutter cutter;
  shop::Machine machine = open_machine();
  Settings settings;
  double depth = 9, half_x = 20 - 4, half_t = 5 - 4, middle_t = 3, clear = 50;
  double phi = kPi / 2;
  motion::Path path;

  Jointed() {
    part.faces = shape::square_faces(60, 200);
    shape::Mortise m;
    m.id = "long-rail";
    m.phi = kPi / 2;
    m.x0 = 80, m.x1 = 120, m.t0 = -2, m.t1 = 8, m.depth = 9, m.corner_radius = 4;
    part.mortises = {m};
    cutter = ball(8, 40);
    cutter.form = shop::Cutter::Form::flat;
    cutter.max_depth_of_cut = 4;
    machine.z_min = -60;
  }

  void add(double x, double t, double z, bool rapid = false) {
    double y = machine.x_towards_foot ? -t : t;
    path.moves.push_back({{x, y, z, phi}, rapid, rapid ? 0 : 0.05, static_cast<int>(path.moves.size()) + 1});
  }

  // Layers of 3 mm: down a ramp along the middle, then once round.
  void mill() {
    path = {};
    path.cutter = "ball";
    path.rpm = 12000;
    path.start = {100, 0, clear, phi};
    add(100 - half_x, middle_t - half_t, clear, true);
    add(100 - half_x, middle_t - half_t, 31, true);
    for (double z = 27; z >= 30 - depth - 1e-9; z -= 3) {
      add(100 + half_x, middle_t - half_t, z);
      add(100 - half_x, middle_t - half_t, z);
      add(100 - half_x, middle_t + half_t, z);
      add(100 + half_x, middle_t + half_t, z);
      add(100 + half_x, middle_t - half_t, z);
      add(100 - half_x, middle_t - half_t, z);
    }
    add(100 - half_x, middle_t - half_t, clear, true);
  }

  Proof proved() {
    auto result = prove_joint_paths({path}, part, blank_for(part, shape::Blank::Section::square, 60, 20), {cutter}, machine, settings, {});
    EXPECT_TRUE(result.ok()) << render(result.ok() ? std::vector<Diagnostic>{} : result.reasons());
    return std::move(result).value();
  }
};

const Finding* found(const Proof& proof, const std::string& id) {
  for (const Finding& f : proof.findings) {
    if (f.id == id) return &f;
  }
  return nullptr;
}

TEST(Joints, ASoundMortisePasses) {
  Jointed j;
  j.mill();
  Proof proof = j.proved();
  EXPECT_TRUE(proof.passed()) << report(proof);
  ASSERT_EQ(proof.joints.size(), 1u);
  EXPECT_EQ(proof.joints[0].id, "long-rail");
  EXPECT_TRUE(proof.joints[0].touched);
  EXPECT_EQ(proof.joints[0].too_deep, 0);
  EXPECT_EQ(proof.joints[0].left, 0);
  EXPECT_EQ(proof.joints[0].corners, 0);
}

TEST(Joints, SquareCornersAreLeftToTheChisel) {
  Jointed j;
  j.part.mortises[0].corner_radius = 0;
  j.mill();
  Proof proof = j.proved();
  EXPECT_TRUE(proof.passed()) << report(proof);
  EXPECT_NEAR(proof.joints[0].corners, 9, 1e-6);
}

TEST(Joints, EveryWayOfBeingWrongIsFound) {
  struct Case {
    const char* id;
    void (*set)(Jointed&);
    double amount;
  };
  for (const Case& one : {Case{"proof.joint-floor", [](Jointed& j) { j.part.mortises[0].depth = 8.9; }, 0.1},
                          Case{"proof.joint-left", [](Jointed& j) { j.part.mortises[0].depth = 9.1; }, 0.1},
                          Case{"proof.joint-side", [](Jointed& j) { j.half_t += 0.03; }, 9},
                          Case{"proof.joint-side", [](Jointed& j) { j.middle_t = -3; }, 9},
                          Case{"proof.joint-left", [](Jointed& j) { j.half_t -= 0.05; }, 9},
                          Case{"proof.joint-left", [](Jointed& j) { j.half_x -= 0.5; }, 9},
                          Case{"proof.joint-side", [](Jointed& j) { j.machine.x_towards_foot = false, j.mill(), j.machine.x_towards_foot = true; }, 9},
                          Case{"proof.joint-side", [](Jointed& j) { j.phi = 0; }, 9},
                          Case{"proof.depth", [](Jointed& j) { j.cutter.max_depth_of_cut = 2; }, 3},
                          Case{"proof.plunge", [](Jointed& j) { j.cutter.ramp = 0.03; }, 3},
                          Case{"proof.rapid", [](Jointed& j) { j.mill(), j.path.moves[2].rapid = true; }, 3},
                          Case{"proof.shank", [](Jointed& j) { j.cutter.flute_length = 5, j.cutter.shank_diameter = 12; }, 4},
                          Case{"proof.turn-in-wood", [](Jointed& j) { j.mill(), j.path.moves.back().to = {100, 0, 10, 0}; }, 0}}) {
    Jointed j;
    one.set(j);
    if (j.path.moves.empty()) j.mill();
    Proof proof = j.proved();
    const Finding* f = found(proof, one.id);
    ASSERT_NE(f, nullptr) << one.id << " " << one.amount << "\n" << report(proof);
    EXPECT_FALSE(proof.passed());
    if (one.amount > 0) {
      EXPECT_THAT(f->message, ::testing::HasSubstr(one.amount < 1 ? "0.1 mm" : std::to_string(static_cast<int>(one.amount)) + " mm"));
    }
  }
}

TEST(Joints, ABoreIsHeldToItsDepthAndPlace) {
  for (double off : {0.0, 0.1}) {
    Jointed j;
    j.part.mortises.clear();
    shape::Bore bore;
    bore.id = "bolt";
    bore.phi = kPi / 2;
    bore.x = 150, bore.t = -5, bore.diameter = 8, bore.depth = 20;
    j.part.bores = {bore};
    j.path.cutter = "ball";
    j.path.rpm = 12000;
    j.path.start = {150, 5, 50, kPi / 2};
    for (double z = 27; z > 10; z -= 3) {
      j.add(150 + off, -5, z);
      j.add(150 + off, -5, z + 1, true);
    }
    j.add(150 + off, -5, 10);
    j.add(150 + off, -5, 50, true);
    Proof proof = j.proved();
    EXPECT_EQ(proof.passed(), off == 0) << report(proof);
    EXPECT_EQ(found(proof, "proof.joint-side") != nullptr, off > 0);
    EXPECT_EQ(proof.joints[0].too_deep, 0);
  }
}

// A bolt's hole that comes out in the floor of a mortise is another program's: the mortise's own has not touched it.
TEST(Joints, AMortiseOverTheFarEndOfAHoleLeavesTheHoleAlone) {
  Jointed j;
  shape::Bore bolt;
  bolt.id = "bolt";
  bolt.phi = 3 * kPi / 2;  // enters opposite the mortise, at the place that is its middle there
  bolt.x = 100, bolt.t = -3, bolt.diameter = 6, bolt.depth = 60;
  j.part.bores = {bolt};
  j.mill();
  Proof proof = j.proved();
  EXPECT_TRUE(proof.passed()) << report(proof);
  for (const JointCheck& joint : proof.joints) EXPECT_EQ(joint.touched, joint.id == "long-rail") << joint.id;
}

// The mortise milled by the fixture's cutter, which leaves its square corners, and a hole of 4 mm pecked into the same face by a narrow one.
Result<Proof> milled_and_pecked(Jointed& j, double x, double t, double depth, const std::vector<double>& heights) {
  shape::Bore bore;
  bore.id = "hole";
  bore.phi = kPi / 2;
  bore.x = x, bore.t = t, bore.diameter = 4, bore.depth = depth;
  j.part.mortises[0].corner_radius = 0;
  j.part.bores = {bore};
  j.mill();
  motion::Path wide = j.path;
  wide.cutter = "wide";
  shop::Cutter first = j.cutter, narrow = j.cutter;
  first.id = "wide", narrow.id = "narrow", narrow.diameter = 4;
  j.path = {"narrow", 12000, {x, -t, 50, kPi / 2}, {}, {}};
  for (const double z : heights) j.add(x, t, z);
  j.add(x, t, 50, true);
  return prove_joint_paths({wide, j.path}, j.part, blank_for(j.part, shape::Blank::Section::square, 60, 20), {first, narrow}, j.machine, {}, {});
}

// Each joint is held to the corners of the cutter that cut it, not to those of a narrower one that cut another in the same face.
TEST(Joints, CornersAreThoseOfTheCutterThatCutTheJoint) {
  Jointed j;
  const auto proof = milled_and_pecked(j, 160, 0, 6, {27, 24});
  ASSERT_TRUE(proof.ok()) << render(proof.reasons());
  EXPECT_TRUE(proof->passed()) << report(*proof);
  EXPECT_NEAR(proof->joints[0].corners, 9, 1e-6);
}

// The recess of a plate with a slot in its middle, whose narrow cutter goes down inside of the recess: the recess's own corners are left for the
// chisel, and were once held to the slot's cutter, so that hook plates were refused.
TEST(Joints, CornersOfARecessAreNotThoseOfTheCutterOfASlotInIt) {
  Jointed sound, small;
  const auto proof = milled_and_pecked(sound, 100, 3, 14, {18, 16});
  ASSERT_TRUE(proof.ok()) << render(proof.reasons());
  EXPECT_TRUE(proof->passed()) << report(*proof);
  EXPECT_NEAR(proof->joints[0].corners, 9, 1e-6);
  // a recess that the wide cutter left too small is seen as before
  small.part.mortises[0].t1 += 0.05;
  const auto left = milled_and_pecked(small, 100, 3, 14, {18, 16});
  ASSERT_TRUE(left.ok()) << render(left.reasons());
  EXPECT_NE(found(*left, "proof.joint-left"), nullptr) << report(*left);
}

TEST(Joints, WhatMakesNoSenseIsAFailure) {
  Jointed j;
  j.mill();
  auto prove_with = [&](const shape::Part& part, motion::Path path) {
    return prove_joint_paths({std::move(path)}, part, blank_for(part, shape::Blank::Section::square, 60, 20), {j.cutter}, j.machine, {}, {});
  };
  shape::Part plain = j.part;
  plain.mortises.clear();
  EXPECT_EQ(prove_with(plain, j.path).reasons().at(0).id, "proof.no-joint");
  EXPECT_EQ(prove_with(j.part, {}).reasons().at(0).id, "proof.empty");
  motion::Path wild = j.path;
  wild.moves[1].to.y = std::nan("");
  EXPECT_EQ(prove_with(j.part, wild).reasons().at(0).id, "proof.position");
  std::stop_source source;
  source.request_stop();
  auto stopped = prove_joint_paths({j.path}, j.part, blank_for(j.part, shape::Blank::Section::square, 60, 20), {j.cutter}, j.machine, {}, source.get_token());
  EXPECT_EQ(stopped.reasons().at(0).id, "cancelled");
}

}  // namespace
}  // namespace pommel::proof
