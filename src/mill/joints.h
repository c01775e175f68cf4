// Joints on the rotary machine: mortises with their haunches, bores with their seats, cut while the piece stays on its
// centres.
//
// The piece is turned first and jointed afterwards, on the same centres: with holes in it the turning cutter would meet
// edges, and the square is weaker. Each face is brought under the cutter at the clear height and the rotary stands
// while it is cut (Stage::indexed). Every pocket is cut by one flat cutter:
//   - the widest that is no wider than the pocket and leaves its corners (no wider than twice their radius; corners
//   that are to be
//     square are left to the chisel), whose flutes reach the floor and whose shank and collet nut stay above all wood;
//   - into the wood along a ramp in the middle of the pocket (a helix in a round one; straight down, by pecks, in a
//   hole as wide as
//     the cutter), layer by layer, no layer deeper than the cutter may go;
//   - each layer from the middle outwards, the last ring to size by itself; at the floor that ring is run once more
//   with nothing to cut.
// What cannot be cut so is left to the bench with the reason; a joint is cut in whole or not at all.
//
// Sideways. The machine's axes are right-handed (ISO 841) and z looks out of the wood: where the machine's x grows
// towards the foot its y grows against t of the face (shape/part.h), y = -t; where it grows towards the head, y = t. A
// machine without a free Y cuts only in the middle of a face, and only as wide as its cutter: were the piece turned
// instead, the sides would lean like a wedge's.
//
// Thread rule: functions have no state.
#pragma once

#include <stop_token>
#include <string>
#include <vector>

#include "base/result.h"
#include "motion/motion.h"
#include "shape/blank.h"
#include "shape/part.h"
#include "shop/shop.h"

namespace pommel::mill {

/// From common practice in wood, no source.
struct JointSettings {
  double finish = 0.2;        ///< mm at the sides left to the ring that cuts to size
  double step_over = 0.4;     ///< of the cutter's diameter between rings, above 0, at most 0.45
  double ramp_angle = 0.05;   ///< radians between ramp and floor (0.05: 2.9 degrees), above 0, at most 0.5; a cutter's own where that is less
  double plunge_share = 0.4;  ///< of the cutting speed, straight down and for the fall of ramps
  bool climb = false;         ///< the rings run so that the teeth at the wall move against the cutter (pass.h)
};

/// A pocket that was cut, and by what.
struct JointCut {
  std::string joint;   ///< id
  std::string pocket;  ///< "the mortise 'rail'", "the haunch of the mortise 'rail'"
  std::string cutter;  ///< id

  bool operator==(const JointCut&) const = default;
};

/// A joint left for the bench. Reasons, `why.id`:
///   "mill.joint-no-cutter"  no flat cutter narrow enough;
///   "mill.joint-corner"     none that leaves its corners' radius;
///   "mill.joint-plunge"     none that goes straight down, in a pocket with no room for a ramp;
///   "mill.joint-flutes"     the flutes do not reach its floor;
///   "mill.joint-reach"      shank or collet nut would come down among the corners of the wood;
///   "mill.joint-wedge"      wider than any fitting cutter, and no free Y;
///   "mill.joint-off-middle" beside the middle of its face, and no free Y;
///   "mill.joint-travel", "mill.joint-turns"  beyond the machine's travels, or its rotary's turns;
///   "mill.joint-chuck"      too near to the chuck or the tail centre;
///   "mill.joint-axial", "mill.joint-end"     bores along the axis, sawn ends: the centres are in the way.
struct BenchJoint {
  std::string joint;  ///< id; "head" or "foot" for a sawn end
  Diagnostic why;     ///< a warning

  bool operator==(const BenchJoint&) const = default;
};

struct JointPlan {
  std::vector<motion::Path> paths;  ///< a cutter each; no path twice with one cutter
  double minutes = 0;               ///< with the machine's accelerations (time.h), tool changes not counted
  std::vector<JointCut> cuts;       ///< in the order of cutting
  std::vector<Diagnostic>
      notes;  ///< "mill.joint-order", "mill.joint-chisel", "mill.joint-no-brake", "mill.cutter" (left out: figures)
  std::vector<BenchJoint> bench;
};

/// Fails with
///   "mill.settings": a setting that is out of its range; "mill.part": the part is not sound; "cancelled";
///   those of set_up() (setup.h) but for the cutters', when there is a flat cutter and a joint.
/// The blank counts as turned to the part where it is not finished: its finished flats may stand proud by all that
/// `tolerance` admits.
Result<JointPlan> plan_joints(const shape::Part& part, const shape::Blank& blank,
                              const shape::BlankTolerance& tolerance, const std::vector<shop::Cutter>& cutters,
                              const shop::Machine& machine, const JointSettings& settings, std::stop_token stop);

}  // namespace pommel::mill
