#include "sheet/links.h"

#include <algorithm>
#include <optional>

namespace pommel::sheet {

Links::Links(const std::vector<std::span<const std::size_t>>& inputs) {
  const std::size_t rows = inputs.size();
  input_start_.assign(rows + 1, 0);
  dependent_start_.assign(rows + 1, 0);
  for (std::size_t row = 0; row < rows; ++row) {
    input_start_[row + 1] = input_start_[row] + inputs[row].size();
    inputs_.insert(inputs_.end(), inputs[row].begin(), inputs[row].end());
    for (const std::size_t input : inputs[row]) ++dependent_start_[input + 1];
  }
  for (std::size_t row = 0; row < rows; ++row) dependent_start_[row + 1] += dependent_start_[row];
  dependents_.resize(inputs_.size());
  std::vector<std::size_t> next(dependent_start_.begin(), dependent_start_.end() - 1);
  for (std::size_t row = 0; row < rows; ++row)
    for (const std::size_t input : inputs[row]) dependents_[next[input]++] = row;

  std::vector<std::size_t> waiting(rows);
  for (std::size_t row = 0; row < rows; ++row) waiting[row] = inputs[row].size();
  rank_from(waiting);
  if (order_.size() == rows) return;
  find_tangles();
  for (std::size_t row = 0; row < rows; ++row) {
    waiting[row] = 0;
    if (circular(row)) continue;
    for (const std::size_t input : inputs[row]) waiting[row] += circular(input) ? 0 : 1;
  }
  rank_from(waiting);
}

/// Kahn's ordering; `waiting`: reads of a row that are not ranked yet. Rows in cycles that wait for nothing come first.
void Links::rank_from(std::vector<std::size_t> waiting) {
  const std::size_t rows = waiting.size();
  order_.clear();
  rank_.assign(rows, 0);
  for (std::size_t row = 0; row < rows; ++row)
    if (circular(row)) order_.push_back(row);
  for (std::size_t row = 0; row < rows; ++row)
    if (waiting[row] == 0 && !circular(row)) order_.push_back(row);
  for (std::size_t at = 0; at < order_.size(); ++at) {
    rank_[order_[at]] = at;
    if (circular(order_[at])) continue;
    for (const std::size_t reader : dependents(order_[at]))
      if (!circular(reader) && --waiting[reader] == 0) order_.push_back(reader);
  }
}

namespace {

/// Tarjan's strongly connected components (R. Tarjan, Depth-first search and linear graph algorithms, SIAM J. Comput.
/// 1, 1972) with an explicit stack.
class Components {
 public:
  explicit Components(const Links& links, std::size_t rows)
      : links_(links), number_(rows, 0), low_(rows, 0), on_stack_(rows, 0) {}

  /// Calls found(members) for each component reached from `root`.
  template <class Found>
  void from(std::size_t root, const Found& found) {
    if (number_[root] != 0) return;
    enter(root);
    while (!open_.empty()) {
      const std::size_t row = open_.back().row;
      const auto inputs = links_.inputs(row);
      if (open_.back().next < inputs.size()) {
        const std::size_t input = inputs[open_.back().next++];
        if (number_[input] == 0)
          enter(input);
        else if (on_stack_[input])
          low_[row] = std::min(low_[row], number_[input]);
        continue;
      }
      open_.pop_back();
      if (!open_.empty()) low_[open_.back().row] = std::min(low_[open_.back().row], low_[row]);
      if (low_[row] == number_[row]) found(leave(row));
    }
  }

 private:
  struct Visit {
    std::size_t row, next;
  };

  void enter(std::size_t row) {
    number_[row] = low_[row] = ++count_;
    on_stack_[row] = 1;
    stack_.push_back(row);
    open_.push_back({row, 0});
  }
  std::vector<std::size_t> leave(std::size_t row) {
    const auto first = std::find(stack_.begin(), stack_.end(), row);
    std::vector<std::size_t> members(first, stack_.end());
    stack_.erase(first, stack_.end());
    for (const std::size_t one : members) on_stack_[one] = 0;
    return members;
  }

  const Links& links_;
  std::vector<std::size_t> number_, low_;  // from 1; 0: not visited
  std::vector<char> on_stack_;
  std::vector<std::size_t> stack_;
  std::vector<Visit> open_;
  std::size_t count_ = 0;
};

}  // namespace

void Links::find_tangles() {
  std::vector<char> ranked(rank_.size(), 0);
  for (const std::size_t row : order_) ranked[row] = 1;
  Components components(*this, rank_.size());
  for (std::size_t row = 0; row < rank_.size(); ++row) {
    if (ranked[row]) continue;
    components.from(row, [this](const std::vector<std::size_t>& members) {
      const auto own = inputs(members.front());
      const bool tangled = members.size() > 1 || std::find(own.begin(), own.end(), members.front()) != own.end();
      const std::size_t first = *std::min_element(members.begin(), members.end());
      if (tangled)
        for (const std::size_t member : members) tangles_.emplace(member, first);
    });
  }
}

/// Breadth first along the inputs, so that the path is a shortest one.
std::vector<std::size_t> Links::way_back(std::size_t row) const {
  std::vector<std::optional<std::size_t>> from(rank_.size());
  std::vector<std::size_t> open{row};
  for (std::size_t at = 0; at < open.size(); ++at) {
    for (const std::size_t input : inputs(open[at])) {
      if (input == row) {
        std::vector<std::size_t> way{row};
        for (std::size_t step = open[at]; step != row; step = *from[step]) way.push_back(step);
        way.push_back(row);
        std::reverse(way.begin(), way.end());
        return way;
      }
      if (from[input]) continue;
      from[input] = open[at];
      open.push_back(input);
    }
  }
  return {};
}

}  // namespace pommel::sheet
