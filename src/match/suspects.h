// Readings that nothing near them supports: where a wrong one may be looked for.
//
// A reading is supported when its neighbours foretell it: the nearest one by itself where it stands close, two before or two after it or one on either
// side by a straight line, three of them by a circle. A wrong reading is hardly ever supported; a right one is unsupported where an edge or a wrong
// neighbour is near. So this decides nothing: figures are fitted with the suspects and without them, and the criterion (cut.h) chooses.
#pragma once

#include <span>
#include <vector>

#include "match/chain.h"

namespace pommel::match {

/// By sample: 1 for a suspect. REQUIRES: places growing.
std::vector<char> suspects(std::span<const Sample> samples);

}  // namespace pommel::match
