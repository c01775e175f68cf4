// Computing cells, and the wave of what changed.
#include <algorithm>
#include <cmath>
#include <queue>

#include "base/number.h"
#include "base/text.h"
#include "sheet/book.h"

namespace pommel::sheet {
namespace {

/// A count this near to a whole number is that number; what is left is the rounding of its arithmetic.
constexpr double kNearlyWhole = 1e-9;

}  // namespace

void Sheet::Book::relink(std::size_t column) {
  std::vector<std::span<const std::size_t>> inputs(rows.size());
  for (std::size_t row = 0; row < rows.size(); ++row)
    if (const Own* own = entry_of(row, column)) inputs[row] = own->analysis.inputs;
  columns[column].links = Links(inputs);
}

Now Sheet::Book::compute(std::size_t at, std::size_t column, const Own* own, Program* program) const {
  const Row& row = rows[at];
  if (row.type == RowType::outcome) return columns[column].cells[at];
  Now now;
  now.state = CellState::failed;
  if (!own) {
    now.trouble = Fault{"sheet.no-value", in_quotes(row.name) + " has no value", "give it one", {}};
    return now;
  }
  if (columns[column].links.circular(at)) {
    now.trouble = Fault{"sheet.cycle", {}, {}, {}};
    return now;
  }
  if (!own->faults.empty()) return now;
  if (blocked(*own, column, now)) return now;
  if (!row.kind) {
    now.state = CellState::blocked;
    now.because_of = row.owner;  // the kind of a limit is its parameter's
    return now;
  }
  if (own->value) return settled_value(row, *own->value);
  return computed_formula(row, column, *own, *program, words_);
}

/// A cell that reads one without a value; a row whose kind is not known has none in any column. Problems come before
/// outcomes that are merely not there yet.
bool Sheet::Book::blocked(const Own& own, std::size_t column, Now& now) const {
  std::optional<std::size_t> missing;
  for (const std::size_t input : own.analysis.inputs) {
    const Now& read = columns[column].cells[input];
    if (read.state == CellState::failed || read.state == CellState::blocked) {
      now.state = CellState::blocked;
      now.because_of = read.state == CellState::failed ? input : read.because_of;
      return true;
    }
    if (read.state == CellState::empty && !missing) missing = input;
  }
  if (!missing) return false;
  now.state = CellState::empty;
  now.because_of = missing;
  return true;
}

Now Sheet::Book::computed_formula(const Row& row, std::size_t column, const Own& own, Program& program,
                                  const std::vector<std::string>& words) const {
  std::vector<double> inputs;
  inputs.reserve(own.analysis.inputs.size());
  for (const std::size_t input : own.analysis.inputs) inputs.push_back(columns[column].cells[input].slot);
  Stop stop;
  if (const auto result = program.run(inputs, stop)) return finished(row, *result, own, words);
  Now now;
  now.state = CellState::failed;
  now.trouble = trouble_of(stop, own);
  return now;
}

/// The number a formula came out with, as a value of the row's kind.
Now Sheet::Book::finished(const Row& row, double slot, const Own& own, const std::vector<std::string>& words) const {
  Now now;
  now.state = CellState::failed;
  switch (row.kind->form) {
    case Form::yes_no:
      return settled_value(row, Value::yes_no(slot != 0));
    case Form::choice:
    case Form::text: {
      const std::string& word = words[static_cast<std::size_t>(slot)];
      return settled_value(row, row.kind->form == Form::choice ? Value::choice(word) : Value::text(word));
    }
    case Form::number:
      break;
  }
  const double whole = std::round(slot);
  if (row.kind->whole && std::abs(slot - whole) > kNearlyWhole) {
    now.trouble =
        Fault{"sheet.not-whole", in_quotes(row.name) + " came out as " + format_number(slot, 9) + ", and a count is whole",
              "round it: round(...), floor(...) or ceil(...)", own.formula->root().span};
    return now;
  }
  return settled_value(row, Value::number(row.kind->whole ? whole : slot, *row.kind));
}

/// A value of the row's kind, with its slot; a choice must be one of the row's.
Now Sheet::Book::settled_value(const Row& row, Value value) const {
  Now now;
  if (row.type == RowType::parameter && row.kind->form == Form::choice) {
    const auto& choices = parameters[row.meta].choices;
    if (std::find(choices.begin(), choices.end(), value.words()) == choices.end()) {
      now.state = CellState::failed;
      now.trouble = Fault{"sheet.not-a-choice",
                          in_quotes(row.name) + " came out as " + in_quotes(value.words()) + ", which is no choice of it",
                          "add it to the choices, or correct the formula",
                          {}};
      return now;
    }
  }
  now.state = CellState::ok;
  now.slot = slot_of(value);
  now.value = std::move(value);
  return now;
}

Fault Sheet::Book::trouble_of(const Stop& stop, const Own& own) const {
  const Node& node = own.formula->nodes[stop.node];
  const Span& span = node.span;
  const std::string read = in_quotes(std::string_view(own.entry.text).substr(span.begin, span.end - span.begin));
  const auto shown = [&](double value) {
    const Kind& kind = own.analysis.kinds[node.parts.empty() ? stop.node : node.parts[0]];
    if (!std::isfinite(value)) return std::string("beyond all numbers");
    return value < 0 ? exact_entry(Value::number(value, kind), settings) : show(Value::number(value, kind), settings);
  };
  if (!stop.said.empty())
    return {"sheet.formula", "this formula cannot be computed (" + stop.said + ")",
            "compute a part of it in a row of its own", span};
  switch (stop.mishap) {
    case Mishap::divided_by_zero:
      return {"sheet.divided-by-zero", read + " divides by 0", "see that what stands below the line is never 0", span};
    case Mishap::root_of_negative:
      return {"sheet.root-of-negative", "the square root is taken of " + shown(stop.values[0]),
              "see that what stands in the brackets is never below 0", span};
    case Mishap::no_power:
      return {"sheet.no-power", read + " has no value", "raise what is above 0, or use whole powers", span};
    case Mishap::no_step:
      return {"sheet.no-step", "the step is " + shown(stop.values[1]) + ", and must be above 0",
              "write it as in " + std::string(node.function->shape), span};
    case Mishap::no_size: {
      const double largest = *std::max_element(stop.values.begin() + 1, stop.values.end());
      return {"sheet.no-size",
              "no size is large enough: " + shown(stop.values[0]) + " is needed, and the largest is " + shown(largest),
              "add a larger size, or make the measure smaller", span};
    }
    case Mishap::not_finite:
    case Mishap::none:
      break;
  }
  return {"sheet.too-large", read + " is beyond all numbers", "check its figures", span};
}

/// Computes one row and tells who asked.
void Sheet::Book::renew(std::size_t at, std::size_t column, const std::string& why, Changes& changes) {
  auto& own = rows[at].own;
  auto found = own.find(column);
  if (found == own.end()) found = own.find(0);
  Own* entry = found == own.end() ? nullptr : &found->second;
  Now now = compute(at, column, entry, entry ? &entry->program : nullptr);
  Now& before = columns[column].cells[at];
  const bool changed = !(now == before);
  if (changed) {
    before = std::move(now);
    changes.push_back({rows[at].type, rows[at].name, column});
  }
  if (recorder) recorder->push_back({{rows[at].type, rows[at].name, column}, why, changed});
}

/// By rank, so that every row is computed once, after all it reads.
void Sheet::Book::wave(std::size_t column, const std::vector<Seed>& seeds, Changes& changes) {
  const Links& links = columns[column].links;
  using Waiting = std::pair<std::size_t, std::size_t>;  // rank, row
  std::priority_queue<Waiting, std::vector<Waiting>, std::greater<>> waiting;
  std::map<std::size_t, std::string> why;
  for (const Seed& seed : seeds)
    if (why.emplace(seed.row, seed.why).second) waiting.emplace(links.rank(seed.row), seed.row);
  while (!waiting.empty()) {
    const std::size_t row = waiting.top().second;
    waiting.pop();
    const std::size_t before = changes.size();
    const bool given = rows[row].type == RowType::outcome;  // its cell was set already
    if (given) {
      changes.push_back({RowType::outcome, rows[row].name, column});
      if (recorder) recorder->push_back({changes.back(), why.at(row), true});
    } else {
      renew(row, column, why.at(row), changes);
    }
    if (changes.size() == before) continue;
    for (const std::size_t reader : links.dependents(row))
      if (why.emplace(reader, rows[row].name).second) waiting.emplace(links.rank(reader), reader);
  }
}

Result<Value> Sheet::Book::evaluate(const Entry& entry, const std::optional<Kind>& wanted, std::size_t column) const {
  if (!settled) return fail("sheet.not-settled", "the sheet is not computed yet", "settle it first");
  Row row;
  row.type = RowType::use;
  row.kind = wanted;
  Own own;
  own.entry = entry;
  read(row, own);
  const auto failed = [&own](const std::vector<Fault>& faults) {
    std::vector<Diagnostic> reasons;
    for (const Fault& fault : faults) reasons.push_back(placed(fault, own.entry));
    return Failure(std::move(reasons));
  };
  if (own.misread) return failed({*own.misread});
  if (own.plain) {
    const auto value = read_plain(entry.text, {{}, wanted, nullptr, false}, settings);
    if (const auto* fault = std::get_if<Fault>(&value)) return failed({*fault});
    return std::get<Value>(value);
  }
  own.analysis = analyse(*own.formula, entry.text, *this, {{}, wanted, nullptr, false}, settings);
  if (!own.analysis.faults.empty()) return failed(own.analysis.faults);
  Now now;
  if (blocked(own, column, now)) return need(*now.because_of, column).failure();
  row.kind = own.analysis.kind;
  check_scale(row, own);
  if (!own.faults.empty()) return failed(own.faults);
  auto words = words_;
  const auto number_of = [&](const std::string& word) {
    const auto found = std::find(words.begin(), words.end(), word);
    if (found != words.end()) return static_cast<double>(found - words.begin());
    words.push_back(word);
    return static_cast<double>(words.size() - 1);
  };
  Program program(*own.formula, own.analysis, *this, number_of);
  if (row.kind->form == Form::choice || row.kind->form == Form::text) {
    // no cell keeps the word, so it needs no number in the sheet
    std::vector<double> inputs;
    for (const std::size_t input : own.analysis.inputs) inputs.push_back(columns[column].cells[input].slot);
    Stop stop;
    const auto slot = program.run(inputs, stop);
    if (!slot) return failed({trouble_of(stop, own)});
    const std::string& word = words[static_cast<std::size_t>(*slot)];
    return row.kind->form == Form::choice ? Value::choice(word) : Value::text(word);
  }
  now = computed_formula(row, column, own, program, words);
  if (now.value) return *now.value;
  return failed({*now.trouble});
}

}  // namespace pommel::sheet
