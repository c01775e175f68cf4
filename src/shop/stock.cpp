#include <algorithm>

#include "shop/shop.h"

namespace pommel::shop {

std::vector<Lot> Stock::all_lots() const {
  std::vector<Lot> all;
  Lot usual;
  usual.width = width;
  usual.length = length;
  usual.count = count;
  usual.price_per_board_foot = price_per_board_foot;
  all.push_back(usual);
  all.insert(all.end(), lots.begin(), lots.end());
  return all;
}

double Stock::longest() const {
  double most = length;
  for (const Lot& lot : lots) most = std::max(most, lot.length);
  return most - 2 * end_trim;
}

double Stock::widest() const {
  double most = width;
  for (const Lot& lot : lots) most = std::max(most, lot.width);
  return most;
}

}  // namespace pommel::shop
