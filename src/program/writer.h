// Writes motions as the text of a program for one machine description.
//
// Which side of the wood is under the cutter. The rotary word counts how far the wood is turned, and the cutter stands
// still above it: to bring another side of the wood under the cutter, the wood turns the other way. Seen from the foot,
// looking at the head (x towards the eye), directions of the wood grow counter-clockwise: face A, B, C, D at 0, 90,
// 180, 270 degrees. `a` of a motion is the direction that lies under the cutter.
//
//            a = 0                       a = 90                      a = 270, that is -90
//             | |                          | |                         | |
//             | |  cutter                  | |                         | |
//             \_/                          \_/                         \_/
//          +---A---+                    +---B---+                   +---D---+
//          |       |     the wood       |       |     the wood      |       |
//        B |   o   | D   has turned   C |   o   | A   has turned  A |   o   | C
//          |       |     clockwise      |       |     counter-      |       |
//          +---C---+                    +---D---+     clockwise     +---B---+
//
// A machine that follows ISO 841 and has its X along ours turns the workpiece counter-clockwise in this picture when
// its word A grows: A90 shows face D, so the word is -a (Machine::rotary_sense = -1). Where the wood is seen from the
// other end the word runs with a (+1). The machine description says which; rotary_drawing() draws it for that machine.
//
// The words. X is x when it grows towards the foot, else -x: its zero is the head end either way. Z is z: its zero is
// the rotary axis. Y is y on a machine with a rotary in degrees, with its zero over the rotary axis. The rotary word is
// sense * a in degrees, or, where the rotary hangs on a linear drive, sense * a * d / 2 in millimetres (pi * d a turn
// of the stated diameter d). Every word is rounded from its own absolute value, so that no error adds up.
//
// Feeds. G93: F = 1/minutes on every feed line (NISTIR 6556, 3.5.19). G94: F = length / minutes, the length being what
// the machine reckons with (NISTIR 6556, 2.1.2.5): that of X Y Z alone when any of them moves, else the degrees; where
// the rotary hangs on a linear drive its millimetres count as a length like the others. The words as rounded are
// measured.
//
// Thread rule: everything here is a function of its arguments.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "motion/motion.h"
#include "shop/shop.h"

namespace pommel::program {

/// What the first comments say. Any text is allowed: it is made letters, digits and harmless signs of ASCII and
/// broken into comments; each that goes on begins with "... ", so that no words of the text can begin one.
struct Header {
  std::string program;             ///< name of the program, {program} in the machine's own lines
  std::string piece;               ///< what is cut
  std::string cutter;              ///< what the maker calls the cutter, {cutter}; the path's id when empty
  std::string date;                ///< {date}; when empty, machine lines that ask for it are left out
  std::vector<std::string> notes;  ///< further comments
};

/// Counting. Unbounded, the rotary word grows as the path does. Limited with reset lines: once past half the limit at a rapid, at
/// the latest before the limit, the reset lines name the present angle anew without turning, less whole turns, and the words go on
/// from there; the ticks taken off are kept whole, so that no error adds up. Modulo: the word is the angle's rest after whole turns,
/// and a move of half a turn or more is written in parts, since the control takes the shorter way.
///
/// Stages marked indexed are cut between the machine's lock and unlock lines; nothing turns while it is locked.
///
/// The program: the machine's header lines, comments, "G21 G90 G93" (or G94), the spindle unless the header's {rpm} has
/// started it, Z to the start's height, the other axes to the start, the moves with a comment "stage: name" before each
/// stage (and, where it begins at the start's height, with units, feed mode and place said anew: a point at which a stopped program can be taken up), the footer ("M5" and "M2" when it ends nothing). Moves too small to change a word are left out.
///
/// Fails with
///   program.machine       the description is incomplete or contradicts itself
///   program.header-field  a header line asks for a field that does not exist, or is no line of a program
///   program.empty         no moves
///   program.stages        stages overlap or reach past the moves
///   program.number        a coordinate or time is not a finite number, or is beyond any machine
///   program.sideways      y on a machine whose Y turns the wood
///   program.travel        a move beyond the machine's travel (x measured from the head, z from the axis)
///   program.no-time       a feed move without a time above zero
///   program.feed-limit    a feed faster than the machine's axes go
///   program.feed-rounding a feed word that would be off by more than 2 % after rounding
///   program.rpm           the spindle speed is not above zero or beyond the machine's
/// and names the move and its stage. At most three of a kind are listed.
Result<std::string> write(const motion::Path& path, const shop::Machine& machine, const Header& header);

/// The programs of several cutters' paths in their order: one text with the machine's tool change lines between, or a text for each
/// path where the machine wants a file a cutter. Fails as write(), and with
///   program.tool-change   several cutters on a machine without lines for the change, or a path that ends below its start
///   program.too-large     more bytes than the control takes
Result<std::vector<std::string>> write_all(const std::vector<motion::Path>& paths, const shop::Machine& machine,
                                           const Header& header);

/// What a program asks of the control.
struct Figures {
  std::size_t blocks = 0, bytes = 0;
  double turns = 0;    ///< of the rotary, both ways together
  double busiest = 0;  ///< blocks a second at the shortest feed move
};
Figures figures_of(const std::string& text, const std::vector<motion::Path>& paths);

/// A block of lines (each at most 78 characters, with a newline) for the set-up text: the piece end on before and after
/// a quarter turn of this machine's rotary word, and what is where. REQUIRES: rotary_sense is +1 or -1.
std::string rotary_drawing(const shop::Machine& machine);

}  // namespace pommel::program
