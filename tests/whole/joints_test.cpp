// Joints on every machine of the shop: milled and proved from the text where the machine and the cutters can, else left to the bench with the
// reason; never half.
#include <gtest/gtest.h>

#include <algorithm>

#include "job/joints.h"
#include "proof/joints.h"
#include "whole/house.h"

namespace pommel::whole {
namespace {

// Tenons of 8 mm in the middle of their legs: as wide as a cutter of the shop, so that a machine without a free Y can cut them, too.
constexpr const char* kCentred = R"(design: centred
family: table-leg
sheet:
  table_length: 700 mm
  table_width: 500 mm
  table_height: 380 mm
  square: 46 mm
  long_rail_depth: 60 mm
  short_rail_depth: 50 mm
  rail_thickness: 16 mm
  rail_set_back: 15 mm
  tenon_rule: half of the rail
  tenon_thickness: 8 mm
  tenon_length: 17 mm
  top_shoulder: 10 mm
  haunch_depth: 6 mm
outline:
  - square: {length: = head_length}
  - pommel: {length: 10 mm, cut: square, end: = square * 0.8}
  - taper:  {share: 1, start: = square * 0.7, step: yes, end: 28 mm}
)";

job::Column column_of(const std::string& design, const std::string& machine, const std::string& more = {}) {
  House house;
  house.put("catalog/designs/low-table.yaml", design);
  house.put("catalog/orders/one.yaml", "order: One\nnumber: \"1\"\nunits: mm\ndesign: low-table\nmachine: " + machine + "\ncutter: ball-8\n" + more);
  const job::Loaded loaded = house.load("catalog/orders/one.yaml");
  Sink sink;
  const auto sheet = family::make_sheet(loaded.family, loaded.design, &*loaded.order, loaded.shop, {}, sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  auto column = job::run_column(loaded, sheet, family::kOrder, {});
  EXPECT_TRUE(column.ok()) << machine << "\n" << render(column.reasons());
  return column.ok() ? std::move(column).value() : job::Column{};
}

std::vector<job::Program> programs_of(const job::Column& column, const job::JointWork& work) {
  const job::TurningRequest& turning = column.requests[work.turning];
  std::vector<program::Header> headers(job::program_count(work, turning.machine));
  auto programs = job::write_and_prove(work, turning, headers, {});
  EXPECT_TRUE(programs.ok()) << render(programs.reasons());
  return programs.ok() ? std::move(programs).value() : std::vector<job::Program>{};
}

std::vector<std::string> touched(const std::vector<job::Program>& programs) {
  std::vector<std::string> out;
  for (const job::Program& program : programs)
    for (const proof::JointCheck& joint : program.proof.joints)
      if (joint.touched && std::find(out.begin(), out.end(), joint.id) == out.end()) out.push_back(joint.id);
  return out;
}

void every_joint_is_milled_and_proved(const job::Column& column, const std::string& machine) {
  ASSERT_FALSE(column.joints.empty()) << machine;
  for (const job::JointWork& work : column.joints) {
    ASSERT_TRUE(work.on_machine()) << machine << ": " << (work.plan.bench.empty() ? "" : work.plan.bench.front().why.message);
    EXPECT_TRUE(work.plan.bench.empty());
    const auto programs = programs_of(column, work);
    for (const job::Program& program : programs) EXPECT_TRUE(program.proof.passed()) << machine << "\n" << proof::report(program.proof);
    EXPECT_EQ(touched(programs).size(), work.jointed.mortises.size()) << machine;
  }
}

TEST(Joints, AnyMachineMillsMortisesAsWideAsItsCutterInTheMiddle) {
  for (const char* machine : {"rotary-degrees", "rotary-for-y", "rotary-inches", "rotary-lock", "rotary-modulo", "rotary-surface-feed"})
    every_joint_is_milled_and_proved(column_of(kCentred, machine), machine);
}

TEST(Joints, OnlyAFreeYMillsThemBesideTheMiddle) {
  for (const char* machine : {"rotary-degrees", "rotary-lock", "rotary-modulo"}) every_joint_is_milled_and_proved(column_of(kSmallDesign, machine), machine);
  for (const char* machine : {"rotary-for-y", "rotary-inches", "rotary-surface-feed"}) {
    const job::Column column = column_of(kSmallDesign, machine);
    EXPECT_EQ(column.joint_minutes, 0);
    EXPECT_EQ(column.bench_joints, 8) << machine;
    for (const job::JointWork& work : column.joints) {
      EXPECT_FALSE(work.on_machine()) << machine;
      for (const shape::Mortise& mortise : work.jointed.mortises) {
        ASSERT_NE(work.left_because(mortise.id), nullptr) << machine;
        EXPECT_EQ(work.left_because(mortise.id)->id, "mill.joint-off-middle") << machine;
      }
    }
  }
}

// Left and right are mirror images.
TEST(Joints, MirroredPiecesGetMirroredMortises) {
  const job::Column column = column_of(kSmallDesign, "rotary-degrees");
  ASSERT_EQ(column.joints.size(), 2u);
  EXPECT_NE(column.joints[0].jointed, column.joints[1].jointed);
  // a program for one is refused for the other
  const auto programs = programs_of(column, column.joints[0]);
  ASSERT_EQ(programs.size(), 1u);
  const job::TurningRequest& turning = column.requests.front();
  const auto other = proof::prove_joints(programs[0].text, column.joints[1].jointed, turning.blank, column.joints[0].cutters, turning.machine, {}, {});
  ASSERT_TRUE(other.ok());
  EXPECT_FALSE(other->passed());
}

// Two cutters: a bore through each leg beside its mortises, by a pecking cutter; a machine without lines for a change gets a file a cutter, and
// each is proved by itself.
TEST(Joints, AFileACutterWhereTheMachineWantsIt) {
  const std::string bored = std::string(kCentred) + "joints:\n  - bore: {name: pin, face: A, at: = head_length - 8 mm, diameter: 6 mm, depth: 12 mm}\n";
  for (const char* machine : {"rotary-degrees", "rotary-inches"}) {
    const job::Column column = column_of(bored, machine);
    ASSERT_FALSE(column.joints.empty());
    const job::JointWork& work = column.joints.front();
    ASSERT_EQ(work.cutters.size(), 2u) << machine << (work.plan.bench.empty() ? "" : work.plan.bench.front().why.message);
    const auto programs = programs_of(column, work);
    EXPECT_EQ(programs.size(), column.requests.front().machine.file_a_cutter ? 2u : 1u) << machine;
    for (const job::Program& program : programs) EXPECT_TRUE(program.proof.passed()) << machine << "\n" << proof::report(program.proof);
    EXPECT_EQ(touched(programs).size(), work.jointed.mortises.size() + work.jointed.bores.size()) << machine;
  }
}

TEST(Joints, TheOrdersWishIsTheReason) {
  const job::Column column = column_of(kSmallDesign, "rotary-degrees", "joints: bench\n");
  for (const job::JointWork& work : column.joints) {
    EXPECT_EQ(job::program_count(work, column.requests.front().machine), 0u);
    for (const mill::BenchJoint& left : work.plan.bench) EXPECT_EQ(left.why.id, "job.joints-bench");
    EXPECT_EQ(work.plan.bench.size(), work.jointed.mortises.size());
  }
}

}  // namespace
}  // namespace pommel::whole
