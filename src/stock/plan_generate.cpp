// Patterns made as they are needed, and whole numbers of them: by fixing one board after another with the patterns made anew for
// what is left, and by branch and bound over all patterns that were made.
#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

#include "stock/master.h"
#include "stock/plan_search.h"
#include "stock/pricing.h"

namespace pommel::stock {
namespace {

constexpr double kWhole = 1e-6;   // a number this near to a whole one is whole
constexpr int kTries = 4;         // dives, each taking another board first

class Generation {
 public:
  explicit Generation(const PlanOrder& order) : order_(order) {
    for (const PlanPiece& piece : order.pieces) all_.push_back(piece.quantity);
    for (std::size_t b = 0; b < order.boards.size(); ++b) {
      fields_.emplace_back();
      for (const bool rip_first : ways_of(order, b)) fields_.back().push_back(field_of(order, b, rip_first));
      counts_.push_back(order.boards[b].count);
      costs_.push_back(weighed(order.boards[b]));
    }
  }

  Found run() {
    Found found;
    double bound = 0;
    const LinearSolution root = solve(all_, counts_, &bound);
    const double left_out = std::accumulate(root.missing.begin(), root.missing.end(), 0.0);
    if (left_out > kWhole && !out_of_columns_) {
      found.proven = true;
      return found;
    }
    found.bound = rounded_up(bound);
    std::optional<std::vector<std::size_t>> best;
    for (int first = 0; first < kTries && !at_bound(best, found.bound); ++first) keep(best, dive(first));
    if (!at_bound(best, found.bound)) keep(best, branch_and_bound());
    if (!best) return found;
    found.enough = true;
    found.cost = cost(*best);
    found.proven = at_bound(best, found.bound);
    std::vector<int> wanted = all_;
    for (const std::size_t pattern : *best) {
      found.layouts.push_back(boards_[pattern]);
      leave_out_surplus(found.layouts.back(), wanted);
    }
    return found;
  }

 private:
  // The linear program of what is left, with patterns made until none is worth its board.
  LinearSolution solve(const std::vector<int>& wanted, const std::vector<int>& counts, double* bound) {
    for (;;) {
      const MasterProblem problem = problem_of(wanted, counts);
      LinearSolution solution = solve_linear(problem);
      bool made = false;
      double least = 0;
      for (std::size_t i = 0; i < wanted.size(); ++i) least += solution.prices[i] * wanted[i];
      for (std::size_t b = 0; b < counts.size(); ++b) {
        if (counts[b] == 0) continue;
        double value = 0;
        for (const Field& field : fields_[b]) {
          Priced priced = best_pattern(field, solution.prices, wanted);
          value = std::max(value, priced.value);
          if (priced.value > (costs_[b] + solution.scarcity[b]) * (1 + 1e-9) + kWhole) made = remember(b, std::move(priced.board)) || made;
        }
        // with the prices as they are, a board is worth no more than `value`: what it is worth beyond its cost is taken off
        least -= counts[b] * std::max(0.0, value - costs_[b]);
      }
      if (bound) *bound = std::max(*bound, least);
      out_of_columns_ = out_of_columns_ || patterns_.size() >= static_cast<std::size_t>(order_.effort.columns);
      if (!made || out_of_columns_) return solution;
    }
  }

  bool remember(std::size_t b, PlannedBoard board) {
    Column column{b, counts_of(board, all_.size())};
    for (std::size_t i = 0; i < all_.size(); ++i) column.counts[i] = std::min(column.counts[i], all_[i]);
    if (!known_.insert({b, column.counts}).second) return false;
    board.boards = b;
    patterns_.push_back(std::move(column));
    boards_.push_back(std::move(board));
    return true;
  }

  // Every pattern, with no more of a piece than is wanted; equal ones once. `origin_` says which pattern each column was.
  MasterProblem problem_of(const std::vector<int>& wanted, const std::vector<int>& counts) {
    MasterProblem problem{wanted, counts, costs_, {}};
    origin_.clear();
    std::set<std::pair<std::size_t, std::vector<int>>> seen;
    for (std::size_t p = 0; p < patterns_.size(); ++p) {
      if (counts[patterns_[p].boards] == 0) continue;
      Column column = patterns_[p];
      int pieces = 0;
      for (std::size_t i = 0; i < wanted.size(); ++i) pieces += column.counts[i] = std::min(column.counts[i], wanted[i]);
      if (pieces == 0 || !seen.insert({column.boards, column.counts}).second) continue;
      problem.columns.push_back(std::move(column));
      origin_.push_back(p);
    }
    return problem;
  }

  // Whole boards of the linear solution are taken; where there is none, the one nearest to whole, at the first such choice the
  // `first`-nearest.
  std::optional<std::vector<std::size_t>> dive(int first) {
    std::vector<int> wanted = all_, counts = counts_;
    std::vector<std::size_t> taken;
    while (std::accumulate(wanted.begin(), wanted.end(), 0) > 0) {
      const LinearSolution solution = solve(wanted, counts, nullptr);
      const MasterProblem problem = problem_of(wanted, counts);
      if (solution.x.size() != problem.columns.size() || std::accumulate(solution.missing.begin(), solution.missing.end(), 0.0) > kWhole) return std::nullopt;
      std::vector<int> take(solution.x.size(), 0);
      int whole = 0;
      for (std::size_t j = 0; j < take.size(); ++j) whole += take[j] = static_cast<int>(std::floor(solution.x[j] + kWhole));
      if (whole == 0) {
        std::vector<std::size_t> order(take.size());
        std::iota(order.begin(), order.end(), 0);
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return solution.x[a] > solution.x[b] + 1e-9; });
        take[order[std::min<std::size_t>(static_cast<std::size_t>(first), order.size() - 1)]] = 1;
        first = 0;
      }
      for (std::size_t j = 0; j < take.size(); ++j) {
        const Column& column = problem.columns[j];
        take[j] = std::min(take[j], counts[column.boards]);
        counts[column.boards] -= take[j];
        for (int n = 0; n < take[j]; ++n) taken.push_back(origin_[j]);
        for (std::size_t i = 0; i < wanted.size(); ++i) wanted[i] = std::max(0, wanted[i] - take[j] * column.counts[i]);
      }
    }
    return taken;
  }

  std::optional<std::vector<std::size_t>> branch_and_bound() {
    const MasterProblem problem = problem_of(all_, counts_);
    bool empty = false;
    const auto whole = solve_whole(problem, order_.effort.nodes, empty);
    if (!whole) return std::nullopt;
    std::vector<std::size_t> taken;
    for (std::size_t j = 0; j < whole->x.size(); ++j) taken.insert(taken.end(), static_cast<std::size_t>(whole->x[j]), origin_[j]);
    return taken;
  }

  Mills cost(const std::vector<std::size_t>& taken) const {
    Mills sum = 0;
    for (const std::size_t pattern : taken) sum += cost_of(order_.boards[patterns_[pattern].boards]);
    return sum;
  }

  void keep(std::optional<std::vector<std::size_t>>& best, std::optional<std::vector<std::size_t>> found) const {
    if (found && (!best || cost(*found) < cost(*best))) best = std::move(found);
  }

  bool at_bound(const std::optional<std::vector<std::size_t>>& best, double bound) const {
    return best && static_cast<double>(cost(*best)) <= bound + 0.5;
  }

  // Costs are sums of boards' costs, so a bound rises to the next multiple of what divides them all. The weight that prefers
  // fewer boards is taken off first: no plan takes more boards than pieces.
  double rounded_up(double bound) const {
    Mills step = 0;
    for (const PlanBoards& boards : order_.boards) step = std::gcd(step, cost_of(boards));
    const double bare = std::max(0.0, bound * (1 - 1e-9) - 2.0 * std::accumulate(all_.begin(), all_.end(), 0));
    return step > 0 ? std::ceil(bare / static_cast<double>(step) - 1e-9) * static_cast<double>(step) : bare;
  }

  const PlanOrder& order_;
  std::vector<int> all_, counts_;
  std::vector<double> costs_;
  std::vector<std::vector<Field>> fields_;  // of each kind of boards, a way each
  std::vector<Column> patterns_;
  std::vector<PlannedBoard> boards_;        // beside patterns_
  std::set<std::pair<std::size_t, std::vector<int>>> known_;
  std::vector<std::size_t> origin_;
  bool out_of_columns_ = false;
};

}  // namespace

Found search_made_patterns(const PlanOrder& order) { return Generation(order).run(); }

}  // namespace pommel::stock
