// What the sheet says: problems, cells, checks, the dump, and whether it is in order.
#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "base/text.h"
#include "sheet/book.h"

namespace pommel::sheet {
namespace {

std::string raw(const Value& value) {
  switch (value.kind().form) {
    case Form::number:
      return format_exact(value.number());
    case Form::yes_no:
      return value.yes() ? "yes" : "no";
    case Form::choice:
    case Form::text:
      return "\"" + value.words() + "\"";
  }
  return {};
}

}  // namespace

// --- problems

/// `a -> b -> a`: a reads b, b reads a.
std::string Sheet::Book::path_text(std::size_t row, std::size_t column) const {
  std::string text;
  for (const std::size_t step : columns[column].links.way_back(row))
    text += (text.empty() ? "" : " -> ") + rows[step].name;
  return text;
}

/// REQUIRES: the cell has trouble.
Diagnostic Sheet::Book::told_trouble(std::size_t at, std::size_t column) const {
  Fault fault = *columns[column].cells[at].trouble;
  const Row& row = rows[at];
  const Own* own = entry_of(at, column);
  if (fault.id == "sheet.cycle") {
    const std::size_t next = columns[column].links.way_back(at)[1];
    fault.message = "this goes round in a circle: " + path_text(at, column);
    fault.remedy = "give one of them a value of its own";
    for (const Node& node : own->formula->nodes)
      if (node.op == Op::name && node.word == rows[next].name) {
        fault.span = node.span;
        break;
      }
  }
  if (column > 0) fault.message += " (in column " + in_quotes(columns[column].name) + ")";
  if (!own) {
    Diagnostic said = placed(fault, {});
    said.place = parameters[row.meta].place;
    said.read = row.name;
    said.source_line.clear();
    return said;
  }
  if (fault.span == Span{}) fault.span = {0, own->entry.text.size()};
  return placed(fault, own->entry);
}

const Value* Sheet::Book::limit(std::size_t parameter, std::size_t column, RowType which) const {
  const auto found = limits_.find(parameter);
  if (found == limits_.end()) return nullptr;
  const auto& row = which == RowType::least ? found->second.first : found->second.second;
  if (!row || *row >= columns[column].cells.size()) return nullptr;
  const Now& now = columns[column].cells[*row];
  return now.value ? &*now.value : nullptr;
}

std::optional<Diagnostic> Sheet::Book::outside_limits(std::size_t at, std::size_t column) const {
  const Now& now = columns[column].cells[at];
  if (!now.value || now.value->kind().form != Form::number) return std::nullopt;
  const Value *least = limit(at, column, RowType::least), *most = limit(at, column, RowType::most);
  const double amount = now.value->number();
  const bool below = least && amount < least->number(), above = most && amount > most->number();
  if (!below && !above) return std::nullopt;
  const std::string allowed = least && most
                                  ? "choose between " + show(*least, settings) + " and " + show(*most, settings)
                              : least ? "choose at least " + show(*least, settings)
                                      : "choose at most " + show(*most, settings);
  Fault fault;
  fault.id = "sheet.outside-limits";
  fault.message = in_quotes(rows[at].name) + " is " + show(*now.value, settings) +
                  (below ? ", less than its least, " : ", more than its most, ") +
                  show(below ? *least : *most, settings);
  fault.remedy = allowed;
  if (least && most && least->number() > most->number()) {
    fault.id = "sheet.crossed-limits";
    fault.message = "the least " + in_quotes(rows[at].name) + ", " + show(*least, settings) + ", is more than the most, " +
                    show(*most, settings);
    fault.remedy = "correct the limits";
  }
  if (column > 0) fault.message += " (in column " + in_quotes(columns[column].name) + ")";
  const Own& own = *entry_of(at, column);
  fault.span = {0, own.entry.text.size()};
  return placed(fault, own.entry);
}

std::vector<Diagnostic> Sheet::Book::problems(std::size_t at, std::size_t column) const {
  std::vector<Diagnostic> found;
  const Own* own = entry_of(at, column);
  if (own)
    for (const Fault& fault : own->faults) found.push_back(placed(fault, own->entry));
  if (at >= columns[column].cells.size()) return found;
  const Now& now = columns[column].cells[at];
  if (now.trouble) found.push_back(told_trouble(at, column));
  if (const auto outside = outside_limits(at, column)) found.push_back(*outside);
  if (now.state != CellState::blocked) return found;
  const std::string needed = in_quotes(rows[*now.because_of].name);
  const bool itself = !rows[at].kind && *now.because_of == rows[at].owner;
  Fault note{"sheet.blocked",
             itself ? "the kind of " + needed + " is not known while its first entry has a problem"
                    : "needs " + needed + ", which has a problem",
             {},
             {0, own ? own->entry.text.size() : 0}};
  Diagnostic said = placed(note, own ? own->entry : Entry{});
  said.severity = Severity::note;
  found.push_back(std::move(said));
  return found;
}

/// What the row adds to the sheet's problems. Faults of an entry are told once; what an inherited entry runs into is
/// told for the first column that has it.
void Sheet::Book::tell_row(std::size_t at, std::optional<std::size_t> only, std::vector<Diagnostic>& to) const {
  const Row& row = rows[at];
  for (const auto& [column, own] : row.own) {
    if (only && column != *only && (column != 0 || row.own.contains(*only))) continue;
    for (const Fault& fault : own.faults) to.push_back(placed(fault, own.entry));
  }
  std::vector<Diagnostic> told;  // without the name of the column
  const auto tell = [&](const Diagnostic& said, std::size_t column) {
    Diagnostic plain = said;
    if (column > 0) plain.message.resize(plain.message.rfind(" (in column "));
    if (std::find(told.begin(), told.end(), plain) != told.end()) return;
    told.push_back(std::move(plain));
    to.push_back(said);
  };
  for (std::size_t column = 0; column < columns.size(); ++column) {
    if ((only && column != *only) || at >= columns[column].cells.size()) continue;
    if (const auto outside = outside_limits(at, column)) tell(*outside, column);
    const Now& now = columns[column].cells[at];
    if (!now.trouble) continue;
    const auto& tangles = columns[column].links.tangles();
    if (now.trouble->id == "sheet.cycle" && tangles.at(at) != at) continue;  // its first row tells the cycle
    tell(told_trouble(at, column), column);
  }
}

std::vector<Diagnostic> Sheet::Book::diagnostics(std::optional<std::size_t> only) const {
  std::vector<Diagnostic> found = complaints_;
  for (const Sizes& sizes : size_lists) found.insert(found.end(), sizes.problems.begin(), sizes.problems.end());
  for (std::size_t row = 0; row < rows.size(); ++row) tell_row(row, only, found);
  return found;
}

// --- cells

Cell Sheet::Book::cell(std::size_t at, std::size_t column) const {
  Cell told;
  const Own* own = entry_of(at, column);
  told.own = column == 0 || rows[at].own.contains(column);
  if (own) told.entry = own->entry;
  told.problems = problems(at, column);
  if (at >= columns[column].cells.size()) return told;
  const Now& now = columns[column].cells[at];
  told.state = now.state;
  told.value = now.value;
  if (const Value* least = limit(at, column, RowType::least)) told.least = *least;
  if (const Value* most = limit(at, column, RowType::most)) told.most = *most;
  return told;
}

Result<Value> Sheet::Book::need(std::size_t at, std::size_t column) const {
  if (at < columns[column].cells.size() && columns[column].cells[at].value) return *columns[column].cells[at].value;
  auto reasons = problems(at, column);
  if (at < columns[column].cells.size()) {
    const Now& now = columns[column].cells[at];
    if (now.state == CellState::blocked && *now.because_of != at) {
      const auto root = problems(*now.because_of, column);
      reasons.insert(reasons.end(), root.begin(), root.end());
    }
  }
  if (reasons.empty())
    return fail("sheet.no-value", in_quotes(rows[at].name) + " is not there yet", "compute the stage that gives it", {},
                rows[at].name);
  return Failure(std::move(reasons));
}

CheckResult Sheet::Book::check(std::size_t at, std::size_t column) const {
  const Check& asked = checks[rows[at].meta];
  CheckResult result{asked.name, asked.stop, Verdict::cannot_be_checked, std::nullopt, {}};
  if (at >= columns[column].cells.size()) return result;
  const Now& now = columns[column].cells[at];
  if (now.state == CellState::empty) {
    result.verdict = Verdict::not_yet_known;
    result.waiting_for = rows[*now.because_of].name;
  }
  if (now.state != CellState::ok) return result;
  result.verdict = now.value->yes() ? Verdict::holds : Verdict::fails;
  if (now.value->yes()) return result;
  Diagnostic said = placed({"sheet.check", asked.message, {}, {0, asked.that.text.size()}}, asked.that);
  said.severity = asked.stop ? Severity::error : Severity::warning;
  result.said = std::move(said);
  return result;
}

// --- text and invariants

std::string Sheet::Book::dump() const {
  static constexpr std::string_view kTypes[] = {"parameter", "outcome", "least", "most", "use", "check"};
  static constexpr std::string_view kStates[] = {"ok", "empty", "failed", "blocked"};
  std::string text;
  for (std::size_t at = 0; at < rows.size(); ++at) {
    const Row& row = rows[at];
    text += std::string(kTypes[static_cast<std::size_t>(row.type)]) + " " + row.name + ": " +
            (row.kind ? kind_name(*row.kind) : "kind not known") + "\n";
    for (std::size_t column = 0; column < columns.size(); ++column) {
      text += "  " + columns[column].name + ": ";
      const Own* own = entry_of(at, column);
      if (own) text += row.own.contains(column) ? "[" + own->entry.text + "] " : "inherits ";
      if (at >= columns[column].cells.size()) {
        text += "not settled\n";
        continue;
      }
      const Now& now = columns[column].cells[at];
      text += now.value ? raw(*now.value) : std::string(kStates[static_cast<std::size_t>(now.state)]);
      if (now.because_of) text += " by " + rows[*now.because_of].name;
      for (const Diagnostic& one : problems(at, column))
        if (one.severity != Severity::note) text += " {" + one.id + "}";
      text += "\n";
    }
  }
  return text;
}

std::optional<std::string> Sheet::Book::broken_column(std::size_t column) const {
  const Column& own_column = columns[column];
  for (std::size_t at = 0; at < rows.size(); ++at) {
    const Row& row = rows[at];
    const Now& now = own_column.cells[at];
    const std::string where = row.name + " in " + own_column.name;
    const Own* own = entry_of(at, column);
    if ((now.state == CellState::ok) != now.value.has_value()) return where + " has a state and a value that disagree";
    if (now.value && row.kind && row.kind->form != now.value->kind().form) return where + " is not of the row's kind";
    if (now.value && row.kind->form == Form::number && !(now.value->kind() == *row.kind))
      return where + " is not of the row's kind";
    const auto linked = own_column.links.inputs(at);
    const std::span<const std::size_t> read =
        own ? std::span<const std::size_t>(own->analysis.inputs) : std::span<const std::size_t>{};
    if (!std::equal(linked.begin(), linked.end(), read.begin(), read.end()))
      return where + " is linked to other rows than it reads";
    for (const std::size_t input : linked) {
      const auto readers = own_column.links.dependents(input);
      if (std::find(readers.begin(), readers.end(), at) == readers.end())
        return where + " is unknown to " + rows[input].name;
      if (!own_column.links.circular(at) && own_column.links.rank(input) >= own_column.links.rank(at))
        return where + " comes before what it reads";
    }
  }
  return std::nullopt;
}

std::optional<std::string> Sheet::Book::broken_invariant() const {
  if (!settled) return std::nullopt;
  Book fresh(*this);  // judged again from the entries alone
  fresh.recorder = nullptr;
  fresh.settle();
  for (std::size_t at = 0; at < rows.size(); ++at) {
    if (!(rows[at].kind == fresh.rows[at].kind)) return rows[at].name + " has another kind than its entries tell";
    for (const auto& [column, own] : rows[at].own) {
      const Own& again = fresh.rows[at].own.at(column);
      if (own.faults != again.faults || own.analysis.inputs != again.analysis.inputs || !(own.value == again.value))
        return rows[at].name + " was judged otherwise than it is now";
    }
  }
  for (std::size_t column = 0; column < columns.size(); ++column) {
    if (const auto broken = broken_column(column)) return broken;
    for (std::size_t at = 0; at < rows.size(); ++at)
      if (!(columns[column].cells[at] == fresh.columns[column].cells[at]))
        return rows[at].name + " in " + columns[column].name + " is not what a fresh sheet gives";
  }
  return std::nullopt;
}

}  // namespace pommel::sheet
