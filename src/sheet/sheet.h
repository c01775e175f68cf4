// The sheet: named parameters in rows, variants in columns, checks and outcomes below, recalculated as a spreadsheet
// is.
//
// HOW AN ENTRY IS WRITTEN
//   A plain entry is a value as a maker writes it:   28 1/4   28-1/4"   2' 4 1/4"   717.5 mm   30 deg   4   0.48   15 %
//     1.25 m2   3 sqft   12 bdft   85 EUR   $85   45 min   1.5 h   85 EUR/h   85 EUR per h   yes   12/4 rough   "any
//     words" Where the row's kind is not stated, the unit tells it (`22 mm` is a length; `4` a count; `0.48` a ratio;
//     `yes` a yes/no; words in quotes a text). A length without a unit takes Settings::plain_length, or is refused: "22
//     what?".
//   A formula begins with an equals sign:            = table_height - 3/4 in
//     Numbers     750 mm   3/4 in   28 1/4 in   28 1/4"   2' 4 1/4"   15 %   0   A unit belongs to the number before
//     it, its
//                 fraction included. A fraction is written without blanks, a mixed number with one blank: `28 1/4 in`.
//                 `28-1/4 in` subtracts, in a formula (and then asks: 28 what?). `1+7/8 in` is 1 plus 7/8 in: 1 what?
//                 Rates use `per`: `85 EUR per h` (a slash always divides). `4 mm^2` is refused: `4 mm2` or `(4 mm)^2`?
//                 A bare 0 goes with every kind.
//     Names       letters, digits and _, beginning with a letter: long_rail_depth. `pi`, `yes` and `no` are built in.
//     Signs       + - * / ^   < <= > >= == !=   and or not   condition ? this : that   ( )
//     Choosing    choose(finish, "oil", 12 EUR, "lacquer", 20 EUR)   by a choice parameter; every choice must be named,
//     or
//                 one value more at the end serves all others. `finish == "oil"` asks for one.
//     Rounding    round_up(x, 1/16 in)  round_down(x, step)  round_to(x, step): to a step, of x's own kind
//                 next_size(x, router_bits): the smallest of a list that is not smaller than x; the list may be written
//                 out, next_size(x, 6 mm, 8 mm, 10 mm). ceil(x)  floor(x)  round(x): plain numbers to whole ones;
//                 halves go away from zero. A billionth of a step is forgiven, so that 0.75 in is a whole number of
//                 sixteenths.
//     Others      min(a, b, ...)  max(a, b, ...)  abs(x)  sqrt(x)  sin(a)  cos(a)  tan(a)  atan2(y, x)
//
// KINDS. A formula's kind is worked out from its parts (and held against a second evaluation with length, angle, money
// and time scaled by independent factors, through every branch, taken today or not): `height + 3` is the error "3
// what?".
//
// COLUMNS. The first column holds the family's or design's own entries. Every other column inherits each entry from the
// first unless it has its own; an inherited formula is computed with the column's own values.
//
// OUTCOMES are results that come from outside after a stage (blank length, machine time, price), per column. Checks may
// read them; a parameter, a limit or a use that reads one is an error, so that the walk never turns back.
//
// FAILURES. Everything wrong is a Diagnostic of the cell it stands in, and all of them are told at once. A cell that
// needs a failed cell is `blocked` and says in one note which; it adds no error of its own. Cells that need nothing
// failed keep their values.
//
// Rules: after add_*() call settle() once; until then entries are only stored. After that every edit recomputes only
// what it changed, and a wave stops at a value that came out the same to the bit. A copy is independent. A Sheet
// belongs to one thread at a time, reading included.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/diagnostic.h"
#include "base/result.h"
#include "sheet/kind.h"
#include "sheet/value.h"

namespace pommel::sheet {

/// A text as the maker wrote it, and where its first character stands. `source_line` is the whole line of the file, for
/// the caret; without a line in a file (Place::line == 0) the entry itself is shown as the line.
struct Entry {
  std::string text;
  Place place;
  std::string source_line;
  bool is_literal = true;  ///< it stands in its line as it is; a text that goes on in a further line, or has escapes, does not

  bool operator==(const Entry&) const = default;
};

struct Parameter {
  std::string name;
  std::optional<Kind> kind;          ///< absent: told by the first entry
  std::optional<Entry> entry;        ///< the first column's own; a row without any entry is an error of the columns
  std::optional<Entry> least, most;  ///< limits, included; plain entries or formulas of the same kind
  std::vector<std::string> choices;  ///< for choices: all of them; makes the kind a choice
  std::string note, group;
  Place place;  ///< where the row's name stands
};

/// Sizes on hand, for next_size(x, name).
struct SizeList {
  std::string name;
  std::vector<Entry> sizes;  ///< plain entries of one kind, any order; at least one
  std::string note;
  Place place;
};

/// A measure that something outside needs computed (an outline element's length): follows the parameters like one of
/// them, but no formula can name it. Names are free ("outline/3/length"), of their own name space.
struct Use {
  std::string name;
  std::optional<Kind> kind;  ///< absent: whatever the entry gives
  Entry entry;
  std::map<std::string, std::string> stands_for = {};  ///< words of this formula that mean a row by another name: post_length -> head_post_length
};

struct Check {
  std::string name;     ///< free text, unique among checks
  Entry that;           ///< a yes/no formula, with or without the leading '='
  std::string message;  ///< said when it does not hold
  bool stop = false;    ///< whether nothing may be made while it does not hold; else a warning
};

struct Outcome {
  std::string name;
  Kind kind;
  std::string stage;  ///< which stage gives it: "mill"; for messages
  std::string note;
};

enum class CellState {
  ok,       ///< has a value
  empty,    ///< an outcome that is not there yet
  failed,   ///< a problem of its own
  blocked,  ///< needs a cell that has a problem
};

struct Cell {
  CellState state = CellState::empty;
  bool own = false;                  ///< the entry is this column's own (always so in the first column)
  std::optional<Entry> entry;        ///< own or inherited; absent for outcomes and rows without one
  std::optional<Value> value;        ///< when ok
  std::optional<Value> least, most;  ///< limits in this column, where they are known
  std::vector<Diagnostic> problems;  ///< also "sheet.outside-limits" of a cell that is ok; the note of a blocked one
};

enum class RowType { parameter, outcome, least, most, use, check };

/// A cell whose value or state changed. For `least` and `most` the name is the parameter's.
struct Change {
  RowType type = RowType::parameter;
  std::string name;
  std::size_t column = 0;

  bool operator==(const Change&) const = default;
};
using Changes = std::vector<Change>;  ///< by column, then in order of computing

/// Why a cell was computed again.
struct Recomputed {
  Change cell;
  std::string because;  ///< the input that changed, or "its own entry", "the sheet was settled", "its place in a cycle"
  bool changed = false;  ///< false: the value came out the same and the wave stopped here

  bool operator==(const Recomputed&) const = default;
};

enum class Verdict { holds, fails, not_yet_known, cannot_be_checked };

struct CheckResult {
  std::string name;
  bool stop = false;
  Verdict verdict = Verdict::not_yet_known;
  std::optional<Diagnostic>
      said;                 ///< when it fails: "sheet.check", an error for a stop, else a warning, with its message
  std::string waiting_for;  ///< when not yet known: the first outcome that is missing
};

class Sheet {
 public:
  explicit Sheet(std::string first_column, Settings settings = {});
  Sheet(const Sheet&);
  Sheet(Sheet&&) noexcept;
  Sheet& operator=(const Sheet&);
  Sheet& operator=(Sheet&&) noexcept;
  ~Sheet();

  // --- Building. Problems (doubled or unusable names) go to diagnostics(); the first of two doubles stays.

  void add(Parameter row);
  void add(SizeList list);
  void add(Use use);
  void add(Check check);
  void add(Outcome outcome);
  std::size_t add_column(std::string name);
  /// Works out kinds, order and every value. Linear in the sheet; some tens of milliseconds for 300 rows x 12 columns,
  /// most of it spent on making each formula ready once. An edit afterwards takes microseconds for each cell it
  /// reaches.
  Changes settle();

  // --- Editing. Recomputes only what changed; before settle() it only stores and returns no changes. A wrong entry is
  // kept, and its cell fails. Fails with "sheet.unknown-name" (nearest name given) or "sheet.unknown-column".

  Result<Changes> set_entry(std::string_view parameter, std::size_t column, Entry entry);
  /// The column inherits again; in the first column the row loses its entry.
  Result<Changes> clear_entry(std::string_view parameter, std::size_t column);
  /// Also fails with "sheet.wrong-kind"; then nothing of the batch is taken.
  Result<Changes> set_outcomes(std::size_t column, const std::vector<std::pair<std::string, Value>>& values);
  Changes clear_outcomes(std::size_t column);  ///< REQUIRES: column < column_count()

  /// Appends to `recorder` at each recalculation; nullptr stops. Not copied with the sheet.
  void record_into(std::vector<Recomputed>* recorder);

  // --- Reading. Column indices: REQUIRES column < column_count().

  const Settings& settings() const;
  std::size_t column_count() const;
  const std::string& column_name(std::size_t column) const;
  std::optional<std::size_t> find_column(std::string_view name) const;

  std::vector<std::string> parameters() const;  ///< in the order of adding, as all that follow
  std::vector<std::string> outcomes() const;
  std::vector<std::string> uses() const;
  std::vector<std::string> groups() const;  ///< distinct, by first appearance; "" for rows without
  const Parameter* parameter(
      std::string_view name) const;  ///< with the first column's entry; nullptr when there is none
  const Outcome* outcome(std::string_view name) const;
  const SizeList* size_list(std::string_view name) const;
  /// Stated or told by the first entry; nothing for unknown names and rows whose kind could not be told.
  std::optional<Kind> kind_of(std::string_view parameter_or_outcome) const;

  /// Nothing for an unknown name.
  std::optional<Cell> cell(std::string_view parameter_or_outcome, std::size_t column) const;
  /// nullptr when there is no such name or no value. Stays valid until the next edit.
  const Value* value(std::string_view parameter_or_outcome, std::size_t column) const;
  const Value* use(std::string_view name, std::size_t column) const;
  /// The value, or the cell's problems; "sheet.unknown-name" for an unknown one.
  Result<Value> need(std::string_view parameter_or_outcome, std::size_t column) const;
  Result<Value> need_use(std::string_view name, std::size_t column) const;

  /// Names that the cell's own formula reads (parameters and outcomes), by first appearance.
  std::vector<std::string> inputs_of(std::string_view parameter, std::size_t column) const;
  /// Cells that read this one in this column, in row order.
  Changes dependents_of(std::string_view parameter_or_outcome, std::size_t column) const;

  std::vector<CheckResult> checks(std::size_t column) const;
  /// Everything wrong with the sheet as written, without the notes of blocked cells and without checks; by row, then
  /// column; a problem that an inherited entry shows in many columns is told once.
  std::vector<Diagnostic> diagnostics() const;
  /// The problems that concern one column: its own, inherited and general ones.
  std::vector<Diagnostic> diagnostics(std::size_t column) const;
  /// No errors in diagnostics(column). Checks are not asked.
  bool sound(std::size_t column) const;

  /// Computes an entry once against a column without keeping it. `wanted`: the kind it must have.
  Result<Value> evaluate(const Entry& entry, const std::optional<Kind>& wanted, std::size_t column) const;

  /// The whole sheet as stable text, a line for each row and cell, exact values in internal units.
  std::string dump() const;
  /// For tests: recomputes and cross-checks everything; the first contradiction in words, or nothing.
  std::optional<std::string> broken_invariant() const;

 private:
  class Book;
  std::unique_ptr<Book> book_;
};

}  // namespace pommel::sheet
