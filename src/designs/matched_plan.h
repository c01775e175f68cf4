// For this room only: what a family asks of a turning that was matched. A plan says which of its words the outline's lengths stand for and which sizes
// of the sheet give a piece as long as the original; matched.cpp writes it down.
//
//     table-leg     square at the head, joints there; table_height gives the length
//     baluster      a block or a pin at each end; the stair is not known from it, so a usual one is written and rail_height gives the length
//     bed-post      turned above a block (the lowest square that is not the foot) and below it; post heights give the length. What stands below the
//                   block keeps its length, so that the block stays where the rails are
//     lamp-column   no joint but the foot's tenon, a pin: the original's, or one added below it; lamp_height gives the length
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "designs/matched.h"

namespace pommel::designs {

/// How one element is written where the family has a word for it.
struct PlannedElement {
  std::string length;        ///< a formula without its '='; empty: as measured
  std::string start;         ///< the same of its diameter
  std::string name;          ///< a label
  bool may_share = true;     ///< whether its length may stretch with the piece
  bool pin = false;          ///< written as a pin, whatever a level of its length is called
};

struct SheetLine {
  std::string name, value, note;  ///< value as it is written; note: a comment behind it, or empty
};

struct MatchedPlan {
  std::string family;
  std::string why;        ///< what was seen that this family was chosen, bench words
  double square = 0;      ///< finished section that diameters are parts of, mm
  std::vector<SheetLine> sheet;
  std::vector<PlannedElement> elements;  ///< by element of the recognition
  std::vector<std::string> added;        ///< elements below the original's foot, as they are written
  std::vector<std::string> remarks;      ///< what the maker should know of the proposal, a sentence each
};

/// A length as a design says it.
std::string written_length(double mm, LengthUnit unit);

/// Fails with "match.no-family".
Result<MatchedPlan> plan_for(const match::Recognition& found, const MatchedNames& names);

}  // namespace pommel::designs
