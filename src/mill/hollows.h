// What a ball cannot reach in flutes, between reeds and in the hollows of a twist. Inside mill/ only.
#pragma once

#include <vector>

#include "mill/envelope.h"
#include "mill/reach.h"

namespace pommel::mill {

/// Adds the stretches, head to foot, of flutes, then of reeds, then of twists: alike all round, so the worst of them speaks for all.
/// `part`: continued; `envelope`: of it. The wood left is the least distance of the hollow's deepest line from a ball that rolls along it,
/// looked at every quarter of a millimetre.
void add_hollows(const shape::Part& part, double length, const Envelope& envelope, double least, std::vector<Quirk>& into);

}  // namespace pommel::mill
