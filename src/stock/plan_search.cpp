#include "stock/plan_search.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>

#include "stock/master.h"
#include "stock/sawing.h"

namespace pommel::stock {
namespace {

std::vector<int> demand_of(const PlanOrder& order) {
  std::vector<int> demand;
  for (const PlanPiece& piece : order.pieces) demand.push_back(piece.quantity);
  return demand;
}

// Patterns of one kind of boards, of either way.
struct Looked {
  std::vector<std::unique_ptr<Patterns>> ways;

  const Patterns* way(std::size_t index) const {
    for (const auto& one : ways)
      if (one->possible(index)) return one.get();
    return nullptr;
  }
};

// The counts of a set that must come from one board are all or none.
bool keeps_sets(const PlanOrder& order, const std::vector<int>& counts) {
  for (std::size_t i = 0; i < counts.size(); ++i)
    if (order.pieces[i].one_board == shop::OneBoard::rule && counts[i] != 0 && counts[i] != order.pieces[i].quantity) return false;
  return true;
}

// Nothing can be added to it: what covers at least the demand needs no other patterns, since fewer pieces always fit too.
bool is_greatest(const PlanOrder& order, const Counts& all, const Looked& looked, std::size_t index, const std::vector<int>& counts) {
  for (std::size_t i = 0; i < counts.size(); ++i) {
    if (counts[i] == order.pieces[i].quantity) continue;
    const bool whole_set = order.pieces[i].one_board == shop::OneBoard::rule;
    const std::size_t more = all.unit(i) * static_cast<std::size_t>(whole_set ? order.pieces[i].quantity : 1);
    if (looked.way(index + more)) return false;
  }
  return true;
}

Looked look_through(const PlanOrder& order, std::size_t boards, const Counts& all) {
  Looked looked;
  for (const bool rip_first : ways_of(order, boards)) looked.ways.push_back(std::make_unique<Patterns>(field_of(order, boards, rip_first), all));
  return looked;
}

MasterProblem empty_problem(const PlanOrder& order) {
  MasterProblem problem;
  problem.demand = demand_of(order);
  for (const PlanBoards& boards : order.boards) {
    problem.counts.push_back(boards.count);
    problem.costs.push_back(weighed(boards));
  }
  return problem;
}

}  // namespace

Mills cost_of(const PlanBoards& boards) {
  return static_cast<Mills>(std::llround(boards.board_feet * static_cast<double>(boards.price_per_board_foot.cents) * 1000));
}

double weighed(const PlanBoards& boards) { return static_cast<double>(cost_of(boards)) + 1 + (boards.for_sale ? 1 : 0); }

std::vector<bool> ways_of(const PlanOrder& order, std::size_t boards) {
  double least = std::numeric_limits<double>::infinity();
  for (const PlanPiece& piece : order.pieces) least = std::min(least, piece.width);
  const PlanBoards& board = order.boards[boards];
  const bool across = std::any_of(board.defects.begin(), board.defects.end(), [](const shop::Defect& defect) { return defect.across_to > 0; });
  // where a board holds one strip, every length of it holds one piece: ripping first says it all
  if (!across && 2 * least + order.kerf > board.width) return {true};
  return {true, false};
}

bool can_look_through(const PlanOrder& order) {
  double steps = 0;
  const double pairs = Counts(demand_of(order)).pairs();
  for (std::size_t b = 0; b < order.boards.size(); ++b)
    steps += pairs * static_cast<double>(ways_of(order, b).size() * (1 + order.boards[b].defects.size()));
  return steps <= static_cast<double>(order.effort.patterns);
}

void leave_out_surplus(PlannedBoard& board, std::vector<int>& wanted) {
  std::erase_if(board.pieces, [&](const PlacedPiece& piece) {
    if (wanted[piece.piece] == 0) return true;
    --wanted[piece.piece];
    return false;
  });
  std::erase_if(board.strips, [&](const PlannedBoard::Strip& strip) {
    return std::none_of(board.pieces.begin(), board.pieces.end(), [&](const PlacedPiece& piece) {
      const double at = board.rip_first ? piece.y : piece.x;
      return at >= strip.from && at < strip.to;
    });
  });
}

Found search_all_patterns(const PlanOrder& order) {
  const Counts all(demand_of(order));
  MasterProblem problem = empty_problem(order);
  std::vector<Looked> looked;
  for (std::size_t b = 0; b < order.boards.size(); ++b) {
    looked.push_back(look_through(order, b, all));
    for (std::size_t index = 1; index < all.size(); ++index) {
      if (!looked[b].way(index)) continue;
      const std::vector<int> counts = all.counts(index);
      if (keeps_sets(order, counts) && is_greatest(order, all, looked[b], index, counts)) problem.columns.push_back({b, counts});
    }
  }
  Found found;
  bool proven_empty = false;
  const auto whole = solve_whole(problem, order.effort.nodes, proven_empty);
  found.proven = whole ? whole->proven : proven_empty;
  if (!whole) return found;
  found.enough = true;
  std::vector<int> wanted = problem.demand;
  for (std::size_t j = 0; j < problem.columns.size(); ++j) {
    for (int n = 0; n < whole->x[j]; ++n) {
      const auto& [b, most] = problem.columns[j];
      std::vector<int> counts = most;
      for (std::size_t i = 0; i < counts.size(); ++i) wanted[i] -= counts[i] = std::min(counts[i], wanted[i]);
      if (all.index(counts) == 0) continue;
      found.layouts.push_back(looked[b].way(all.index(counts))->layout(all.index(counts)));
      found.layouts.back().boards = b;
      found.cost += cost_of(order.boards[b]);
    }
  }
  found.bound = found.proven ? static_cast<double>(found.cost) : solve_linear(problem).value - 2.0 * static_cast<double>(all.demand().size() + found.layouts.size());
  return found;
}

}  // namespace pommel::stock
