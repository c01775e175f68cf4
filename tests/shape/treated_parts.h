// Parts with flutes, reeds and twists, made by hand without the builders: random, with fixed seeds.
#pragma once

#include "shape/sample_parts.h"

namespace pommel::shape {

/// A profile at one height from x0 to x1, clear elsewhere; at both ends it rises by `rise` over `run` mm.
Profile raised_profile(double length, double x0, double x1, double height, double run, double rise);
/// A turned column with a square foot and a square head, and treatments by `make`: 1 flutes, 2 reeds, 4 twist, any sum of them;
/// 8: an octagon all along instead of the square.
Part treated_part(std::uint64_t start, int make);

}  // namespace pommel::shape
