// Gives the steps of a read program their meaning on one machine: where the cutter's tip goes, seen from the wood, and
// how long each move takes. Written without a look at the writer: a mistake of one is not repeated by the other.
//
// Words to wood. x is the X word, turned round where the machine's X grows towards the head. z is the Z word. y is the
// word of the linear axis left over on a machine with a rotary in degrees (0 while the program does not name it: the
// set-up has put it over the axis); on a machine whose rotary hangs on a linear drive y is 0. a is the rotary word
// times pi / 180 (degrees), or times 2 / diameter (millimetres on the unrolled surface), times the machine's sense.
//
// Counting. Where the rotary's word begins anew at 360, it goes to each angle by the shorter way. A reset (G92 on the rotary)
// names the angle anew and turns nothing; where turns are limited, it is the word that must stay within them.
//
// Time of a feed move, NISTIR 6556: G93, 1/F minutes (3.5.19). A control that counts the rotary on a fixed surface of diameter d:
// the length of the path with that arc, hypot(straight, turn d / 2), over F. G94 (2.1.2.5): with any motion of X, Y or Z, the length
// of that straight path over F, *as if the rotary axes were not moving*; a rotary axis alone, its degrees over F. The
// word of a rotary that hangs on a linear drive counts as a length like the others: the controller does not know that
// it turns wood.
#pragma once

#include <vector>

#include "base/result.h"
#include "motion/motion.h"
#include "program/reader.h"
#include "shop/shop.h"

namespace pommel::program {

struct Replayed {
  /// One path for each tool that cuts. `cutter` is the text of the last comment "cutter: ..." before its first move,
  /// stages begin at comments "stage: ...". Its start is the place from which all of the machine's axes are known
  /// (first path), or where the last one ended. Moves that move nothing are left out, unless G93 gives them time.
  std::vector<motion::Path> paths;
  /// program.helix-trap  G94 moves that turn and travel at once: F counts the straight part alone, so that the wood
  /// passes
  ///                     the tip more than twice as fast as F says (the worst one is named)
  /// program.rpm-changes the spindle changes speed while one tool cuts
  std::vector<Diagnostic> warnings;
};

/// How a machine's programs are read: with the M words of its own lock and unlock lines.
ReadOptions read_options(const shop::Machine& machine);

/// Fails, going on to collect up to 50 reasons with their lines, with
///   program.machine       the description is incomplete or contradicts itself
///   program.axis          a word for an axis that the machine has not
///   program.arc-on-rotary an arc
///   program.first-move    the first move is not one of Z alone (the height is not known while others move)
///   program.unknown-start a feed move before every axis has a place
///   program.spindle       a feed move with the spindle standing, turning backwards, or beyond the machine's speed
///   program.travel        beyond the machine's travel (x measured from the head), by more than half a last decimal
///   program.feed-limit    a feed that needs more of an axis than it can, rounding of the words allowed for
///   program.no-motion     nothing moves
///   program.locked        the rotary is to turn while its brake holds it
///   program.modulo        a word outside 0 to 360 on a rotary whose count begins anew there, or a move of half a turn: nobody
///                         knows which way it goes
///   program.zero-shift    a zero other than the rotary's is moved, or on a machine that has no reset
/// Places are lines of `file`. REQUIRES: `program` was read without errors.
Result<Replayed> replay(const Program& program, const shop::Machine& machine, std::string_view file = {});

}  // namespace pommel::program
