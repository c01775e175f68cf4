// A design for a turning that was recognised: commented YAML that the readers of family/ take, with its measures proposed.
//
// What stretches and what keeps: long plain curves (vase, entasis, taper, cylinder, beads longer than 60 mm) share what the fixed lengths leave, by
// their lengths as found; mouldings, blocks and everything short keep theirs. A piece without any long curve gives its longest element the share.
// Diameters are told as parts of the square, so that thinner stock gives a thinner leg of the same look. Elements that repeat take one measure.
#pragma once

#include <string>

#include "base/quantity.h"
#include "base/result.h"
#include "match/recognise.h"

namespace pommel::designs {

struct MatchedNames {
  std::string design;  ///< what it is called
  std::string source;  ///< the file that it was matched from, for the comment
  LengthFormat lengths;  ///< in which lengths are written: millimetre or inch
};

/// Fails with "match.no-family" for a piece that does not begin with a square: no family of ours takes it.
Result<std::string> matched_design(const match::Recognition& found, const MatchedNames& names);

}  // namespace pommel::designs
