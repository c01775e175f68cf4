// One table told twice: to the sheet and to the naive evaluator. Whatever is added or edited goes to both, and compare() holds every cell, limit and
// check of the one against the other: the same value to the bit, or no value in either.
#pragma once

#include <optional>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "sheet/formula_writer.h"
#include "sheet/naive.h"
#include "sheet/support.h"

namespace pommel::sheet {

/// What comparisons met: a test that never meets a cycle tests none.
struct Met {
  int values = 0, refused = 0, cycles = 0;                       // cells
  int hold = 0, fail = 0, waiting = 0, cannot = 0, limits = 0;  // checks; limits that are known
};

class Twins {
 public:
  /// A sheet of `columns` columns with nothing in it.
  explicit Twins(int columns);

  void add_list(const std::string& name, const std::vector<std::pair<std::string, double>>& texts_and_mm);
  void add_choice(const std::string& name, const std::string& entry, const std::vector<std::string>& choices);
  /// `stated`: whether the kind is said, or left to the first entry. Limits where they are given.
  void add_row(const std::string& name, const Kind& kind, bool stated, const std::string& entry, const std::optional<std::string>& least = {},
               const std::optional<std::string>& most = {});
  void add_outcome(const std::string& name, const Kind& kind);
  void add_check(const std::string& formula);
  /// A column's own entry, before the sheet is settled or after.
  Changes set(const std::string& name, int column, const std::string& entry);
  Changes clear(const std::string& name, int column);
  Changes set_outcomes(int column, const std::vector<std::pair<std::string, Value>>& values);
  Changes clear_outcomes(int column);

  /// A fatal failure of the test that says `where`, the cell and the whole sheet, at the first cell that is not the same in both.
  void compare(const std::string& where, Met& met) const;

  Sheet sheet;
  const naive::Table& table() const { return table_; }

 private:
  void compare_cell(const std::string& where, const std::string& name, int column, naive::Evaluator& judge, Met& met) const;
  void compare_checks(const std::string& where, int column, naive::Evaluator& judge, Met& met) const;

  naive::Table table_;
};

}  // namespace pommel::sheet
