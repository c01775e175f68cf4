// The most valuable pattern of one board when each piece has a price: what makes the patterns of large orders, one by one, and what
// bounds them. For this room only.
//
// Pieces in one clear stretch of a strip are counted exactly, none oftener than it is wanted; over the strips of a board together a
// piece may be. So the value is an upper bound of what any pattern is worth, and exact where a board holds one strip.
#pragma once

#include <vector>

#include "stock/sawing.h"

namespace pommel::stock {

struct Priced {
  double value = 0;
  PlannedBoard board;  ///< the pattern with that value
};

/// REQUIRES: prices >= 0 and demand, both beside field.pieces.
Priced best_pattern(const Field& field, const std::vector<double>& prices, const std::vector<int>& demand);

/// Pieces of a board by kind.
std::vector<int> counts_of(const PlannedBoard& board, std::size_t kinds);

}  // namespace pommel::stock
