// The second route by which kinds are checked, blind to the rules of the first: compute the formula again with length,
// angle, money and time scaled by independent factors. A length must scale with the length's factor alone, a plain
// number with none; a sum of unlike things scales like nothing.
//
// Inputs take probe values, not today's, so that a 0 mm hides nothing. Conditions, min, max, choose and the roundings
// are replaced by weighted sums of all their parts: those scale as they should exactly when every part does, so a
// branch not taken today is judged too. Each comparison's two sides are judged by themselves.
#pragma once

#include "sheet/analysis.h"
#include "sheet/formula.h"

namespace pommel::sheet {

enum class Scaling {
  agrees,
  disagrees,
  no_verdict,  ///< the probe came out as 0 or beyond numbers, where every scaling looks alike
};

/// `meanings`: of the formula's names, as analyse() gives them, all with known kinds. Text, choices and yes/no scale
/// with nothing.
Scaling scales_like(const Formula& formula, const std::vector<Meaning>& meanings, const Scope& scope, const Kind& kind);

}  // namespace pommel::sheet
