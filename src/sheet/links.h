// Who reads whom in one column, and in which order to compute.
#pragma once

#include <cstddef>
#include <map>
#include <span>
#include <vector>

namespace pommel::sheet {

/// Rows by number. A row's rank is above that of every row it reads, except for rows in a cycle, which come first.
class Links {
 public:
  Links() = default;
  /// `inputs[row]`: the rows it reads, without doubles. Linear in rows and reads.
  explicit Links(const std::vector<std::span<const std::size_t>>& inputs);

  std::span<const std::size_t> inputs(std::size_t row) const { return of(row, input_start_, inputs_); }
  std::span<const std::size_t> dependents(std::size_t row) const { return of(row, dependent_start_, dependents_); }
  std::size_t rank(std::size_t row) const { return rank_[row]; }
  /// All rows by rank.
  const std::vector<std::size_t>& order() const { return order_; }
  /// For every row in a cycle the first row of those that are tangled with it; the key rows are exactly the circular
  /// ones.
  const std::map<std::size_t, std::size_t>& tangles() const { return tangles_; }
  bool circular(std::size_t row) const { return !tangles_.empty() && tangles_.contains(row); }
  /// A shortest cycle through the row: row, ..., row. REQUIRES: circular(row).
  std::vector<std::size_t> way_back(std::size_t row) const;

 private:
  std::span<const std::size_t> of(std::size_t row, const std::vector<std::size_t>& start,
                                  const std::vector<std::size_t>& flat) const {
    return {flat.data() + start[row], flat.data() + start[row + 1]};
  }
  void rank_from(std::vector<std::size_t> waiting);
  void find_tangles();

  std::vector<std::size_t> input_start_, inputs_, dependent_start_, dependents_, rank_, order_;
  std::map<std::size_t, std::size_t> tangles_;
};

}  // namespace pommel::sheet
