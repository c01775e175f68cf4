// The inside of a Sheet: rows of every type in one list, their own entries by column, and for each column the cells and
// the links between them.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <unordered_map>
#include <variant>
#include <vector>

#include "sheet/analysis.h"
#include "sheet/links.h"
#include "sheet/plain.h"
#include "sheet/program.h"
#include "sheet/sheet.h"

namespace pommel::sheet {

/// One entry, read and judged. Shared by all columns that inherit it.
struct Own {
  Entry entry;
  std::optional<Formula> formula;  // of an entry with an equals sign, when it could be read
  bool plain = false;
  std::optional<Fault> misread;  // found while reading
  // found while judging, for the row's kind:
  std::vector<Fault> faults;   // misread included
  std::optional<Value> value;  // of a plain entry without faults
  Analysis analysis;           // of a formula
  Program program;             // of a formula without faults that waits for nothing
};

struct Row {
  RowType type = RowType::parameter;
  std::string name;
  std::size_t meta = 0;   // which parameter, outcome, use or check
  std::size_t owner = 0;  // of a limit: its parameter's row; else the row itself
  std::optional<Kind> stated, kind;
  std::map<std::size_t, Own> own;  // by column
};

/// A cell as computed. Equal cells stop a wave.
struct Now {
  CellState state = CellState::empty;
  std::optional<Value> value;             // when ok
  double slot = 0;                        // the value as formulas compute with it
  std::optional<Fault> trouble;           // found while computing; of a circular cell only the id
  std::optional<std::size_t> because_of;  // blocked: the row that has the problem; an empty check: the missing outcome

  bool operator==(const Now&) const = default;
};

struct Column {
  std::string name;
  std::vector<Now> cells;  // by row
  Links links;
};

/// A list of sizes, read.
struct Sizes {
  SizeList list;
  std::optional<Kind> kind;  // nothing when it has a problem
  std::vector<double> values;
  std::vector<Diagnostic> problems;
};

class Sheet::Book : public Scope {
 public:
  Book(std::string first_column, Settings how);

  // building
  void add(Parameter row);
  void add(SizeList list);
  void add(Use use);
  void add(Check check);
  void add(Outcome outcome);
  std::size_t add_column(std::string name);
  Changes settle();

  // editing
  Result<Changes> set_entry(std::string_view parameter, std::size_t column, std::optional<Entry> entry);
  Result<Changes> set_outcomes(std::size_t column, const std::vector<std::pair<std::string, Value>>& values);
  Changes clear_outcomes(std::size_t column);

  // reading
  std::optional<std::size_t> find_row(std::string_view name) const;  // parameters and outcomes
  std::optional<std::size_t> find_use(std::string_view name) const;
  const Own* entry_of(std::size_t row, std::size_t column) const;  // own or inherited
  std::vector<Diagnostic> problems(std::size_t row, std::size_t column) const;
  std::vector<Diagnostic> diagnostics(std::optional<std::size_t> only) const;
  Cell cell(std::size_t row, std::size_t column) const;
  CheckResult check(std::size_t row, std::size_t column) const;
  Result<Value> need(std::size_t row, std::size_t column) const;
  Failure unknown_name(std::string_view name) const;
  Result<Value> evaluate(const Entry& entry, const std::optional<Kind>& wanted, std::size_t column) const;
  std::string dump() const;
  std::optional<std::string> broken_invariant() const;

  // Scope
  Meaning meaning(std::string_view name) const override;
  std::string nearest(std::string_view name) const override;
  const std::vector<double>& sizes(std::size_t list) const override { return size_lists[list].values; }
  const std::string& stage_of(std::size_t row) const override { return outcomes[rows[row].meta].stage; }

  Settings settings;
  std::vector<Row> rows;
  std::vector<Column> columns;
  std::vector<Parameter> parameters;
  std::vector<Outcome> outcomes;
  std::vector<Use> uses;
  std::vector<Check> checks;
  std::vector<Sizes> size_lists;
  std::vector<Recomputed>* recorder = nullptr;
  bool settled = false;

 private:
  struct Named {
    bool list = false;
    std::size_t index = 0;
  };
  /// A row to compute again.
  struct Seed {
    std::size_t row;
    std::string why;
  };

  // building
  bool take_name(const std::string& name, const Place& place, Named named);
  std::size_t add_row(RowType type, std::string name, std::size_t meta, std::optional<Kind> stated,
                      const std::optional<Entry>& entry);
  void complain(std::string id, std::string message, std::string remedy, const Place& place, std::string read);
  void read_sizes(Sizes& sizes) const;
  void tell_kinds();

  // entries
  void read(const Row& row, Own& own) const;
  void judge(const Row& row, Own& own);
  Wanted wanted_of(const Row& row) const;
  std::vector<std::size_t> kind_reads(std::size_t row) const;
  bool kind_is_circular(std::size_t row) const;
  std::optional<Kind> told_kind(const Row& row) const;
  void check_scale(const Row& row, Own& own) const;

  // computing
  void relink(std::size_t column);
  Now compute(std::size_t row, std::size_t column, const Own* own, Program* program) const;
  Now computed_formula(const Row& row, std::size_t column, const Own& own, Program& program,
                       const std::vector<std::string>& words) const;
  bool blocked(const Own& own, std::size_t column, Now& now) const;
  Now finished(const Row& row, double slot, const Own& own, const std::vector<std::string>& words) const;
  Now settled_value(const Row& row, Value value) const;
  Fault trouble_of(const Stop& stop, const Own& own) const;
  Changes after_edit(std::size_t row, std::size_t column);
  void wave(std::size_t column, const std::vector<Seed>& seeds, Changes& changes);
  void renew(std::size_t row, std::size_t column, const std::string& why, Changes& changes);
  double slot_of(const Value& value) const;
  double number_for(const std::string& word);
  void keep_words(const Value& value);

  // telling
  Diagnostic told_trouble(std::size_t row, std::size_t column) const;
  std::optional<Diagnostic> outside_limits(std::size_t row, std::size_t column) const;
  const Value* limit(std::size_t parameter, std::size_t column, RowType which) const;
  std::string path_text(std::size_t row, std::size_t column) const;
  void tell_row(std::size_t row, std::optional<std::size_t> only, std::vector<Diagnostic>& to) const;
  std::optional<std::string> broken_column(std::size_t column) const;

  std::unordered_map<std::string, Named> names_;  // parameters, outcomes and lists
  std::unordered_map<std::string, std::size_t> use_rows_;
  std::map<std::size_t, std::pair<std::optional<std::size_t>, std::optional<std::size_t>>>
      limits_;  // parameter row -> least, most
  std::unordered_map<std::string, double> word_numbers_;
  std::vector<std::string> words_;
  std::vector<Diagnostic> complaints_;
};

}  // namespace pommel::sheet
