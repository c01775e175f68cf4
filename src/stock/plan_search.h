// The two searches behind plan_boards: over all patterns, and over patterns made as they are needed. For this room only.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "stock/plan.h"

namespace pommel::stock {

/// Thousandths of a cent: what boards cost before anything is rounded.
using Mills = std::int64_t;
Mills cost_of(const PlanBoards& boards);

struct Found {
  std::vector<PlannedBoard> layouts;  ///< without numbers; no piece oftener than it is wanted
  Mills cost = 0;
  double bound = 0;      ///< in Mills: no plan costs less
  bool proven = false;
  bool enough = false;   ///< false: the boards do not hold all pieces (proven where `proven`); then there are no layouts
};

/// Whether all patterns can be looked through within the order's effort.
bool can_look_through(const PlanOrder& order);

/// Over all patterns; sets whose one_board is a rule come from one board.
/// REQUIRES: can_look_through(order).
Found search_all_patterns(const PlanOrder& order);

/// Over patterns made as needed; sets on one board are not looked after.
Found search_made_patterns(const PlanOrder& order);

/// Ways of sawing that can matter for boards: ripping first alone where they hold one strip.
std::vector<bool> ways_of(const PlanOrder& order, std::size_t boards);

/// What the search optimises: the cost, and of equal costs the plan with fewer boards and fewer to buy.
double weighed(const PlanBoards& boards);

/// Takes from each layout what is wanted still; what is cut already is left out. `wanted` is what is left.
void leave_out_surplus(PlannedBoard& board, std::vector<int>& wanted);

}  // namespace pommel::stock
