#include "stock/master.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <CbcHeuristic.hpp>
#include <CbcHeuristicDiveFractional.hpp>
#include <CbcModel.hpp>
#include <ClpSimplex.hpp>
#include <CoinPackedMatrix.hpp>
#include <OsiClpSolverInterface.hpp>

namespace pommel::stock {
namespace {

// Rows: the demands, then the boards. A way out for each demand may stand behind the columns.
struct Sparse {
  CoinPackedMatrix matrix;
  std::vector<double> lower, upper, cost, row_lower, row_upper;
};

double way_out_cost(const MasterProblem& problem) {
  double dearest = 1;
  for (const double cost : problem.costs) dearest = std::max(dearest, cost);
  return 50 * dearest;
}

Sparse sparse_of(const MasterProblem& problem, bool with_ways_out) {
  const std::size_t demands = problem.demand.size(), boards = problem.counts.size(), columns = problem.columns.size();
  Sparse out;
  std::vector<int> rows, starts{0};
  std::vector<double> entries;
  for (const Column& column : problem.columns) {
    for (std::size_t i = 0; i < demands; ++i) {
      if (column.counts[i] == 0) continue;
      rows.push_back(static_cast<int>(i));
      entries.push_back(column.counts[i]);
    }
    rows.push_back(static_cast<int>(demands + column.boards));
    entries.push_back(1);
    starts.push_back(static_cast<int>(rows.size()));
    out.cost.push_back(problem.costs[column.boards]);
  }
  for (std::size_t i = 0; with_ways_out && i < demands; ++i) {
    rows.push_back(static_cast<int>(i));
    entries.push_back(1);
    starts.push_back(static_cast<int>(rows.size()));
    out.cost.push_back(way_out_cost(problem));
  }
  const int all = static_cast<int>(columns + (with_ways_out ? demands : 0));
  out.matrix = CoinPackedMatrix(true, static_cast<int>(demands + boards), all, static_cast<int>(entries.size()), entries.data(), rows.data(), starts.data(), nullptr);
  out.lower.assign(static_cast<std::size_t>(all), 0);
  out.upper.assign(static_cast<std::size_t>(all), COIN_DBL_MAX);
  for (const int wanted : problem.demand) {
    out.row_lower.push_back(wanted);
    out.row_upper.push_back(COIN_DBL_MAX);
  }
  for (const int count : problem.counts) {
    out.row_lower.push_back(0);
    out.row_upper.push_back(count);
  }
  return out;
}

}  // namespace

LinearSolution solve_linear(const MasterProblem& problem) {
  const Sparse sparse = sparse_of(problem, true);
  ClpSimplex simplex;
  simplex.setLogLevel(0);
  simplex.loadProblem(sparse.matrix, sparse.lower.data(), sparse.upper.data(), sparse.cost.data(), sparse.row_lower.data(), sparse.row_upper.data());
  simplex.primal();
  const std::size_t columns = problem.columns.size(), demands = problem.demand.size();
  LinearSolution out;
  out.value = simplex.objectiveValue();
  const double *x = simplex.primalColumnSolution(), *duals = simplex.dualRowSolution();
  out.x.assign(x, x + columns);
  out.missing.assign(x + columns, x + columns + demands);
  for (std::size_t i = 0; i < demands; ++i) out.prices.push_back(std::max(0.0, duals[i]));
  for (std::size_t b = 0; b < problem.counts.size(); ++b) out.scarcity.push_back(std::max(0.0, -duals[demands + b]));
  return out;
}

std::optional<WholeSolution> solve_whole(const MasterProblem& problem, int nodes, bool& proven_empty) {
  proven_empty = problem.columns.empty();
  if (proven_empty) return std::nullopt;
  const Sparse sparse = sparse_of(problem, false);
  OsiClpSolverInterface solver;
  solver.messageHandler()->setLogLevel(0);
  solver.getModelPtr()->setLogLevel(0);
  solver.loadProblem(sparse.matrix, sparse.lower.data(), sparse.upper.data(), sparse.cost.data(), sparse.row_lower.data(), sparse.row_upper.data());
  const int columns = static_cast<int>(problem.columns.size());
  for (int j = 0; j < columns; ++j) solver.setInteger(j);
  CbcModel model(solver);
  model.setLogLevel(0);
  model.solver()->messageHandler()->setLogLevel(0);
  model.setMaximumNodes(nodes);
  CbcRounding rounding(model);
  model.addHeuristic(&rounding);
  CbcHeuristicDiveFractional dive(model);
  model.addHeuristic(&dive);
  model.initialSolve();
  if (model.solver()->isProvenPrimalInfeasible()) {
    proven_empty = true;
    return std::nullopt;
  }
  model.branchAndBound();
  proven_empty = model.isProvenInfeasible();
  if (!model.bestSolution()) return std::nullopt;
  WholeSolution out;
  out.proven = model.isProvenOptimal();
  for (int j = 0; j < columns; ++j) out.x.push_back(static_cast<int>(std::lround(model.bestSolution()[j])));
  return out;
}

}  // namespace pommel::stock
