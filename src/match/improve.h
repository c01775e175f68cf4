// For this room only: single changes of a cut, tried until none is better (cut.h has the criterion).
#pragma once

#include "match/cut.h"

namespace pommel::match {

Cut improved(const Run& run, Cut cut, const Prices& prices);

}  // namespace pommel::match
