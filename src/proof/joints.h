// The judge of programs that cut joints: mortises and bores milled with the rotary standing, the cutter beside the axis where it must be.
//
// In each direction that lies under the cutter the wood is kept as heights over points of the plane (x, t) (t across the face, growing with
// theta; shape/part.h): every 0.1 mm, and in rows close along the outline of each joint, 0.021, 0.045 and 0.1 mm inside and outside of it. At
// a point the lowest place of the cutter's surface along a move is exact for level moves and plunges and searched to 1e-6 mm along ramps.
//
// What is held against what:
//   - floor: nowhere in a joint lower than its bottom, nor higher where a cutter of its width gets to, by more than Settings::gouge_limit
//     (under the edge of a cutter that is not level there: by the height of its tip);
//   - sides and all the rest: outside every joint's outline nothing below the skin is touched;
//   - corners that the cutter leaves round are hand work; a joint of the part that the program does not touch is named, not blamed: it may be
//     another program's or the bench's;
//   - a program that cuts no joint at all is one for another piece, or another way round;
//   - the waste at the ends stands as thick as the blank: cutting into it is no fault, a rapid into it is;
//   - rapids in wood, shank, collet nut and holder in wood, more depth in one move than the cutter is meant for, turning in the wood,
//     the machine's limits (proof/limits.h).
//
// The machine's axes are right-handed (ISO 841) and z looks out of the wood, so where x grows from head to foot its y grows against theta: t = -y;
// where x grows towards the head t = y. A program that has it the other way round mills every joint that is not in its face's middle on
// the wrong side, and is refused here.
//
// Thread rule: functions have no state.
#pragma once

#include "proof/proof.h"

namespace pommel::proof {

/// Judges the text against the jointed part; findings "proof.joint-floor", "proof.joint-side", "proof.joint-left", "proof.no-joint-cut", "proof.turn-in-wood",
/// "proof.rapid", "proof.shank", "proof.depth", "proof.plunge" and those of the limits. Proof::joints says what was measured of each joint; figures of a turning
/// stay empty. Failures as for prove(), and "proof.no-joint": the part has none.
Result<Proof> prove_joints(std::string_view program_text, const shape::Part& jointed, const shape::Blank& blank,
                           const std::vector<shop::Cutter>& cutters, const shop::Machine& machine, const Settings& settings, std::stop_token stop);
/// The same for motions; such a proof releases nothing.
Result<Proof> prove_joint_paths(const std::vector<motion::Path>& paths, const shape::Part& jointed, const shape::Blank& blank,
                                const std::vector<shop::Cutter>& cutters, const shop::Machine& machine, const Settings& settings, std::stop_token stop);

}  // namespace pommel::proof
