// Round numbers and repeated sizes, where the readings allow them.
//
// A size that is round, or the same as another's, is one number less to say, so it is taken where it costs less than that number's price, and no
// more than two standard deviations. Lengths and diameters are tried in the order of how little they would be moved for their uncertainty; each one
// taken moves the others along with it (conditioning a normal distribution: p - C a (a'p - v)/(a'C a), C less the same square), so that what is
// still free stays the best fit.
#pragma once

#include "match/segment.h"

namespace pommel::match {

/// REQUIRES: the chain is fitted. `step` in mm, above 0: what counts as round.
void tidy(Chain& chain, const Run& run, double step);

}  // namespace pommel::match
