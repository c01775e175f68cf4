// The solver library behind the cutting plan, and the only place that knows it: a linear program over patterns with its prices,
// and the same over whole numbers by branch and bound. For this room only.
//
// min sum cost_j x_j, sum over j of a_ij x_j >= demand_i, sum over the patterns of boards b of x_j <= count_b, x >= 0.
#pragma once

#include <optional>
#include <vector>

namespace pommel::stock {

/// A pattern as the solver sees it.
struct Column {
  std::size_t boards = 0;   ///< which boards it is cut from
  std::vector<int> counts;  ///< of each piece
};

struct MasterProblem {
  std::vector<int> demand;        ///< of each piece
  std::vector<int> counts;        ///< of each kind of boards
  std::vector<double> costs;      ///< of one board of each kind, above 0
  std::vector<Column> columns;
};

struct LinearSolution {
  double value = 0;
  std::vector<double> x;          ///< of each column
  std::vector<double> missing;    ///< of each demand: what no column serves
  std::vector<double> prices;     ///< of each demand, >= 0
  std::vector<double> scarcity;   ///< of each kind of boards, >= 0: what one more would be worth
};

/// The linear program, with a dear way out for each demand so that there always is a solution. REQUIRES: costs > 0.
LinearSolution solve_linear(const MasterProblem& problem);

struct WholeSolution {
  std::vector<int> x;
  bool proven = false;            ///< false: the limit of nodes was reached
};

/// Whole numbers of each column; nothing when there is no solution (or none was found within the limit; `proven_empty` tells).
std::optional<WholeSolution> solve_whole(const MasterProblem& problem, int nodes, bool& proven_empty);

}  // namespace pommel::stock
