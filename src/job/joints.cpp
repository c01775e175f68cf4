#include "job/joints.h"

#include <algorithm>

#include "job/stated.h"
#include "mill/time.h"
#include "proof/joints.h"

namespace pommel::job {
namespace {

int quarters_to_turning(const frame::Set& set, const frame::Member& member) {
  const frame::Kind& turned = set.turned_kinds[static_cast<std::size_t>(member.turned_kind)];
  return turned.quarters[static_cast<std::size_t>(std::find(turned.members.begin(), turned.members.end(), member.id) - turned.members.begin())];
}

// Leaves every joint that is not spoken of yet to the bench.
void leave_all(const shape::Part& part, const Diagnostic& why, mill::JointPlan& plan) {
  const auto leave = [&](const std::string& id) { plan.bench.push_back({id, why}); };
  for (const shape::Mortise& mortise : part.mortises) leave(mortise.id);
  for (const shape::Bore& bore : part.bores) leave(bore.id);
  for (const shape::AxialBore& bore : part.axial_bores) leave(bore.id);
  for (const shape::EndCut& end : part.end_cuts) leave(end.at_head ? "head" : "foot");
}

Diagnostic reason(std::string id, std::string message, std::string remedy) {
  Diagnostic said = fail(std::move(id), std::move(message), std::move(remedy)).reasons.front();
  said.severity = Severity::warning;
  return said;
}

}  // namespace

bool JointWork::cuts(const std::string& joint) const {
  return std::any_of(plan.cuts.begin(), plan.cuts.end(), [&](const mill::JointCut& cut) { return cut.joint == joint; });
}

const Diagnostic* JointWork::left_because(const std::string& joint) const {
  const auto left = std::find_if(plan.bench.begin(), plan.bench.end(), [&](const mill::BenchJoint& one) { return one.joint == joint; });
  return left == plan.bench.end() ? nullptr : &left->why;
}

int JointWork::mortises_cut() const {
  return static_cast<int>(std::count_if(jointed.mortises.begin(), jointed.mortises.end(), [&](const shape::Mortise& m) { return cuts(m.id); }));
}

int JointWork::mortises_left() const { return static_cast<int>(jointed.mortises.size()) - mortises_cut(); }

int JointWork::bores_left() const {
  const auto left = std::count_if(jointed.bores.begin(), jointed.bores.end(), [&](const shape::Bore& b) { return !cuts(b.id); });
  return static_cast<int>(left) + static_cast<int>(jointed.axial_bores.size());
}

int JointWork::to_chisel() const {
  return static_cast<int>(std::count_if(jointed.mortises.begin(), jointed.mortises.end(),
                                        [&](const shape::Mortise& m) { return m.corner_radius <= 0 && cuts(m.id); }));
}

shape::Part as_turned(const frame::Set& set, const frame::Member& member) { return shape::turned_by(member.part, quarters_to_turning(set, member)); }

bool has_joints(const shape::Part& part) {
  return !part.mortises.empty() || !part.bores.empty() || !part.axial_bores.empty() || !part.end_cuts.empty();
}

Result<JointWork> plan_joint_work(const JointRequest& request, std::stop_token stop) {
  const frame::Set& set = *request.set;
  const std::string& id = set.jointed_kinds[request.kind].members.front();
  const frame::Member& member = *std::find_if(set.members.begin(), set.members.end(), [&](const frame::Member& m) { return m.id == id; });
  JointWork work;
  work.kind = request.kind;
  work.turning = static_cast<std::size_t>(member.turned_kind);
  work.quarters = quarters_to_turning(set, member);
  work.jointed = as_turned(set, member);
  if (!request.wanted) {
    leave_all(work.jointed, reason("job.joints-bench", "left for the bench: the order says so", ""), work.plan);
    return work;
  }
  const TurningRequest& before = *request.turning;
  auto plan = mill::plan_joints(work.jointed, before.blank, before.tolerance, *request.cutters, before.machine, {}, stop);
  if (stop.stop_requested()) return fail("cancelled", "stopped before it was done");
  if (!plan.ok()) {
    const Diagnostic& why = plan.reasons().front();
    leave_all(work.jointed, reason(why.id, "left for the bench: " + why.message, why.remedy), work.plan);
    return work;
  }
  work.plan = std::move(plan).value();
  for (const motion::Path& path : work.plan.paths) {
    work.cutters.push_back(*std::find_if(request.cutters->begin(), request.cutters->end(), [&](const shop::Cutter& c) { return c.id == path.cutter; }));
    work.clear_height = path.start.z;
  }
  return work;
}

std::size_t program_count(const JointWork& work, const shop::Machine& machine) { return file_count(work.plan.paths, machine); }

Result<std::vector<Program>> write_and_prove(const JointWork& work, const TurningRequest& turning, const std::vector<program::Header>& headers,
                                             std::stop_token stop) {
  std::vector<Program> out;
  for (std::size_t file = 0; file < headers.size(); ++file) {
    auto text = write_file(work.plan.paths, turning.machine, file, headers[file]);
    if (!text.ok()) return text.failure();
    auto proof = proof::prove_joints(*text, work.jointed, turning.blank, work.cutters, turning.machine, {}, stop);
    if (!proof.ok()) return proof.failure();
    auto program = stated(std::move(text).value(), std::move(proof).value());
    if (!program.ok()) return program.failure();
    out.push_back(std::move(program).value());
  }
  return out;
}

std::vector<program::StageTime> joint_stages(const JointWork& work, const shop::Machine& machine, std::size_t file, std::string_view text) {
  std::vector<PassStretch> stretches;
  const auto [first, end] = paths_in_file(work.plan.paths, machine, file);
  for (std::size_t i = first; i < end; ++i) {
    const motion::Path& path = work.plan.paths[i];
    for (const motion::Stage& stage : path.stages) {
      if (!stage.indexed) continue;
      double minutes = 0;
      for (std::size_t k = stage.first; k < stage.first + stage.count; ++k) minutes += path.moves[k].rapid ? 0 : path.moves[k].minutes;
      stretches.push_back({stage.name, minutes, i, stage.first});
    }
  }
  return re_entries(stretches, text);
}

}  // namespace pommel::job
