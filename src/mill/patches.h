// Lattices over the surfaces that treatments make (facets.h): how close their nodes stand. Inside mill/ only.
#pragma once

#include <vector>

#include "mill/facets.h"

namespace pommel::mill {

/// One for each groove, reed and twist of each cell and each chord of its centre line; none for twists into which the ball fits
/// (its radius; 0: another body).
std::vector<Patch> patches_of(const std::vector<Cell>& cells, double tolerance, double ball);

}  // namespace pommel::mill
