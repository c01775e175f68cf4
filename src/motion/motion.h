// The common language of mill, program and proof: where the cutter's tip goes, seen from the wood.
//
// Part coordinates: x along the piece from the head; z the height of the cutter's tip above the rotary axis, measured along
// the cutter; y sideways (0: cutter axis through the rotary axis); a the direction theta of the wood that lies under the
// cutter, radians, unbounded (it counts turns). The wood turns by -a to bring that direction up: which way the machine's
// word runs is the machine's business (program/), not ours.
//
// Header only, plain data: the judge (program/reader, proof/) and the accused (mill/, program/writer) share these nouns and
// nothing that computes.
#pragma once

#include <string>
#include <vector>

namespace pommel::motion {

struct Position {
  double x = 0, y = 0, z = 0;  ///< mm
  double a = 0;                ///< radians

  bool operator==(const Position&) const = default;
};

/// A straight move, all axes in proportion, from where the last one ended.
struct Move {
  Position to;
  bool rapid = false;
  double minutes = 0;  ///< wished duration of a feed move, > 0; ignored on rapids
  int line = 0;        ///< line of the program text it was read from; 0 when not read

  bool operator==(const Move&) const = default;
};

/// Named runs of moves, for messages ("pass: finish, lengthwise") and re-entry.
struct Stage {
  std::string name;
  std::size_t first = 0, count = 0;  ///< in Path::moves
  bool indexed = false;              ///< cut with the rotary standing: a machine with a brake holds it meanwhile

  bool operator==(const Stage&) const = default;
};

/// One cutter's work from its first position.
struct Path {
  std::string cutter;  ///< id in the shop's list
  double rpm = 0;
  Position start;      ///< where the tip is before the first move: clear of everything
  std::vector<Move> moves;
  std::vector<Stage> stages;

  bool operator==(const Path&) const = default;
};

}  // namespace pommel::motion
