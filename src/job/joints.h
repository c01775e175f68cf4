// The joints of one distinct piece, cut on the turning's own centres: planned, written and judged from the text; or left for the bench, each
// with the reason.
//
// The machine cuts them unless the order says `joints: bench`: the piece hangs on its centres with its faces known to the rotary, so that a
// mortise cut there stands square to the axis and in its place without being marked out; what the machine or the shop's cutters cannot do is
// left for the bench in whole. It is a program of its own beside the turning's, so that a maker can leave it out.
//
// Members of one kind are the same piece, turned by quarters in the frame: one program serves them all. It is planned for the piece as it lies
// after its turning's program, which may be a quarter turn from how the frame's first member counts its faces.
#pragma once

#include <string>
#include <vector>

#include "frame/member.h"
#include "job/turning.h"
#include "mill/joints.h"

namespace pommel::job {

struct JointWork {
  std::size_t kind = 0;     ///< in Set::jointed_kinds
  std::size_t turning = 0;  ///< in Set::turned_kinds: what is turned before
  shape::Part jointed;      ///< as it lies on the machine after that turning
  int quarters = 0;         ///< from the kind's first member to that
  mill::JointPlan plan;
  std::vector<shop::Cutter> cutters;  ///< of plan.paths, beside them
  double clear_height = 0;            ///< mm above the axis, where something is cut

  bool on_machine() const { return !plan.paths.empty(); }
  /// Whether the joint of this id is cut; of a mortise without its corners.
  bool cuts(const std::string& joint) const;
  /// Why it is not; nullptr when it is.
  const Diagnostic* left_because(const std::string& joint) const;
  int mortises_cut() const;
  int mortises_left() const;
  int bores_left() const;    ///< bores along the axis too
  /// Mortises that are cut and keep round corners where square ones are wanted.
  int to_chisel() const;
};

/// The member's part as it lies on the machine after its turning's program.
shape::Part as_turned(const frame::Set& set, const frame::Member& member);

bool has_joints(const shape::Part& part);

/// What the joints of one kind are asked of.
struct JointRequest {
  const frame::Set* set = nullptr;
  std::size_t kind = 0;
  bool wanted = true;        ///< false: the order leaves them to the bench
  const TurningRequest* turning = nullptr;  ///< the turning before
  const std::vector<shop::Cutter>* cutters = nullptr;
};

/// A set-up that the machine cannot take leaves all joints to the bench with that reason. Fails with "cancelled" alone.
Result<JointWork> plan_joint_work(const JointRequest& request, std::stop_token stop);

/// Programs of the work in the order in which they run: one, or where the machine wants it or cannot change cutters a file a cutter. Fails with
/// program's or proof's reasons. As write_and_prove(): a proof that did not pass is a Program all the same.
Result<std::vector<Program>> write_and_prove(const JointWork& work, const TurningRequest& turning, const std::vector<program::Header>& headers,
                                             std::stop_token stop);
/// How many programs that are, and the cutters of each.
std::size_t program_count(const JointWork& work, const shop::Machine& machine);

/// The stages of the `file`-th program with their minutes and, found in the text, their lines.
std::vector<program::StageTime> joint_stages(const JointWork& work, const shop::Machine& machine, std::size_t file, std::string_view text);

}  // namespace pommel::job
