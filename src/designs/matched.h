// A design for a turning that was recognised: commented YAML that the readers of family/ take, with its measures proposed.
//
// What stretches and what keeps: long plain curves (vase, entasis, taper, cylinder, beads longer than 60 mm) share what the fixed lengths leave, by
// their lengths as found; mouldings, blocks and everything short keep theirs. A piece without any long curve gives its longest element the share.
// Diameters are told as parts of the square, so that thinner stock gives a thinner leg of the same look. Elements that repeat take one measure.
//
// Which family: the maker says, or the ends of the piece do (family_for). matched_plan.h says what each family makes of the turning.
#pragma once

#include <string>
#include <vector>

#include "base/quantity.h"
#include "base/result.h"
#include "match/recognise.h"

namespace pommel::designs {

struct MatchedNames {
  std::string design;  ///< what it is called
  std::string source;  ///< the file that it was matched from, for the comment
  LengthFormat lengths;  ///< in which lengths are written: millimetre or inch
  std::string family;    ///< one of matched_families(); empty: as family_for() chooses
  std::string stock;     ///< boards that are thick enough, by their id; empty: the family's own
};

/// Ids of the families that a turning can become.
const std::vector<std::string>& matched_families();

/// "table leg" of "table-leg".
std::string family_in_words(std::string id);

struct FamilyChoice {
  std::string family;
  std::string why;  ///< "it has a square block at its head and a turned foot"
};

/// The family that a turning looks like by its ends:
///     square at the head, turned foot                       table-leg
///     block or pin at the head, block or pin at the foot    baluster; one of pins alone only from 600 mm on
///     turned head, a block, turned below it                 bed-post
///     turned all along, or from the head to a pin           lamp-column
/// Fails with "match.no-family" for a turned head over a square foot, which could be several.
Result<FamilyChoice> family_for(const match::Recognition& found);

/// The finished section of the piece in this family, mm: the square that was measured, or what its greatest diameter is turned from.
double matched_square(const match::Recognition& found);

/// Fails with "match.no-family" where the family has no use for a piece that begins or ends like this; says what it needs.
Result<std::string> matched_design(const match::Recognition& found, const MatchedNames& names);

}  // namespace pommel::designs
