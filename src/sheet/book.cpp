// Building, settling and editing.
#include "sheet/book.h"

#include <algorithm>
#include <cassert>

#include "base/text.h"
#include "sheet/lexer.h"
#include "sheet/scale.h"

namespace pommel::sheet {
namespace {

bool is_name(std::string_view name) {
  return !name.empty() && name.size() <= 100 && is_word_start(name[0]) &&
         std::all_of(name.begin(), name.end(), is_word_part);
}

}  // namespace

Sheet::Book::Book(std::string first_column, Settings how) : settings(std::move(how)) {
  add_column(std::move(first_column));
}

// --- building

void Sheet::Book::complain(std::string id, std::string message, std::string remedy, const Place& place,
                           std::string read) {
  Diagnostic said;
  said.id = std::move(id);
  said.message = std::move(message);
  said.remedy = std::move(remedy);
  said.place = place;
  said.read = std::move(read);
  complaints_.push_back(std::move(said));
}

/// False when the name is taken already.
bool Sheet::Book::take_name(const std::string& name, const Place& place, Named named) {
  if (!is_name(name))
    complain("sheet.bad-name", in_quotes(name) + " cannot be a name in formulas",
             "use letters, digits and _ (at most 100), beginning with a letter: long_rail_depth", place, name);
  else if (is_reserved(name))
    complain("sheet.bad-name", in_quotes(name) + " is a word of the formulas", "choose another name", place, name);
  if (names_.emplace(name, named).second) return true;
  complain("sheet.doubled-name", in_quotes(name) + " stands twice in this sheet", "give one of the two another name", place,
           name);
  return false;
}

std::size_t Sheet::Book::add_row(RowType type, std::string name, std::size_t meta, std::optional<Kind> stated,
                                 const std::optional<Entry>& entry) {
  Row row;
  row.type = type;
  row.name = std::move(name);
  row.meta = meta;
  row.owner = rows.size();
  row.stated = row.kind = stated;
  if (entry) row.own[0].entry = *entry;
  rows.push_back(std::move(row));
  settled = false;
  return rows.size() - 1;
}

void Sheet::Book::add(Parameter parameter) {
  if (!take_name(parameter.name, parameter.place, {false, rows.size()})) return;
  if (!parameter.kind && !parameter.choices.empty()) parameter.kind = Kind::choice();
  const bool choice = parameter.kind == Kind::choice();
  if (choice && parameter.choices.empty())
    complain("sheet.no-choices", in_quotes(parameter.name) + " is a choice without choices", "list what can be chosen",
             parameter.place, parameter.name);
  if (!choice && !parameter.choices.empty())
    complain("sheet.choices-of-a-value", in_quotes(parameter.name) + " has choices, and is " + a_kind(*parameter.kind),
             "make its kind a choice, or take the choices out", parameter.place, parameter.name);
  for (const std::string& word : parameter.choices) number_for(word);
  const std::size_t meta = parameters.size();
  const std::size_t row = add_row(RowType::parameter, parameter.name, meta, parameter.kind, parameter.entry);
  for (const RowType which : {RowType::least, RowType::most}) {
    const auto& limit = which == RowType::least ? parameter.least : parameter.most;
    if (!limit) continue;
    const std::size_t at = add_row(which, parameter.name, meta, parameter.kind, limit);
    rows[at].owner = row;
    (which == RowType::least ? limits_[row].first : limits_[row].second) = at;
  }
  parameters.push_back(std::move(parameter));
}

void Sheet::Book::add(SizeList list) {
  if (!take_name(list.name, list.place, {true, size_lists.size()})) return;
  Sizes sizes;
  sizes.list = std::move(list);
  read_sizes(sizes);
  size_lists.push_back(std::move(sizes));
  settled = false;
}

void Sheet::Book::read_sizes(Sizes& sizes) const {
  const std::string& name = sizes.list.name;
  std::optional<Kind> kind;
  for (const Entry& entry : sizes.list.sizes) {
    std::optional<Fault> fault;
    if (formula_start(entry.text)) {
      fault = Fault{"sheet.list-problem",
                    "a size of a list is written out, not computed",
                    "write it as in 1/2 in",
                    {0, entry.text.size()}};
    } else {
      Wanted wanted{name, kind};
      const auto read = read_plain(entry.text, wanted, settings);
      if (const auto* wrong = std::get_if<Fault>(&read)) {
        fault = *wrong;
      } else if (const Value& value = std::get<Value>(read); value.kind().form != Form::number) {
        fault = Fault{"sheet.list-problem",
                      "a size is a number, and this is " + a_kind(value.kind()),
                      "write it as in 1/2 in",
                      {0, entry.text.size()}};
      } else {
        if (!kind) kind = Kind{Form::number, value.kind().dimension, false};
        sizes.values.push_back(value.number());
      }
    }
    if (fault) sizes.problems.push_back(placed(*fault, entry));
  }
  if (sizes.list.sizes.empty()) {
    Diagnostic none;
    none.id = "sheet.list-problem";
    none.message = in_quotes(name) + " is a list without sizes";
    none.remedy = "list at least one";
    none.place = sizes.list.place;
    none.read = name;
    sizes.problems.push_back(std::move(none));
  }
  if (sizes.problems.empty()) sizes.kind = kind;
}

void Sheet::Book::add(Use use) {
  if (!use_rows_.emplace(use.name, rows.size()).second) {
    complain("sheet.doubled-name", in_quotes(use.name) + " is computed twice", "give one of the two another name",
             use.entry.place, use.name);
    return;
  }
  uses.push_back(use);  // before its row: reading it asks what its words stand for
  add_row(RowType::use, use.name, uses.size() - 1, use.kind, use.entry);
}

void Sheet::Book::add(Check check) {
  const bool doubled =
      std::any_of(checks.begin(), checks.end(), [&](const Check& one) { return one.name == check.name; });
  if (doubled) {
    complain("sheet.doubled-name", in_quotes(check.name) + " stands twice among the checks",
             "give one of the two another name", check.that.place, check.name);
    return;
  }
  add_row(RowType::check, check.name, checks.size(), Kind::yes_no(), check.that);
  checks.push_back(std::move(check));
}

void Sheet::Book::add(Outcome outcome) {
  if (!take_name(outcome.name, {}, {false, rows.size()})) return;
  add_row(RowType::outcome, outcome.name, outcomes.size(), outcome.kind, std::nullopt);
  outcomes.push_back(std::move(outcome));
}

std::size_t Sheet::Book::add_column(std::string name) {
  for (const Column& column : columns)
    if (column.name == name) {
      complain("sheet.doubled-name", in_quotes(name) + " stands twice among the columns",
               "give one of the two another name", {}, name);
      break;
    }
  columns.push_back({std::move(name), {}, {}});
  settled = false;
  return columns.size() - 1;
}

// --- names

Meaning Sheet::Book::meaning(std::string_view name) const {
  const auto found = names_.find(std::string(name));
  if (found == names_.end()) return {};
  const Named& named = found->second;
  if (named.list) return {Meaning::What::list, named.index, size_lists[named.index].kind, nullptr};
  const Row& row = rows[named.index];
  if (row.type == RowType::outcome) return {Meaning::What::outcome, named.index, row.kind, nullptr};
  const auto& choices = parameters[row.meta].choices;
  return {Meaning::What::parameter, named.index, row.kind, choices.empty() ? nullptr : &choices};
}

std::string Sheet::Book::nearest(std::string_view name) const {
  std::vector<std::string> all;
  for (const Row& row : rows)
    if (row.type == RowType::parameter || row.type == RowType::outcome) all.push_back(row.name);
  for (const Sizes& sizes : size_lists) all.push_back(sizes.list.name);
  return nearest_name(name, all);
}

std::optional<std::size_t> Sheet::Book::find_row(std::string_view name) const {
  const auto found = names_.find(std::string(name));
  if (found == names_.end() || found->second.list) return std::nullopt;
  return found->second.index;
}

std::optional<std::size_t> Sheet::Book::find_use(std::string_view name) const {
  const auto found = use_rows_.find(std::string(name));
  if (found == use_rows_.end()) return std::nullopt;
  return found->second;
}

Failure Sheet::Book::unknown_name(std::string_view name) const {
  const std::string near = nearest(name);
  return fail("sheet.unknown-name", in_quotes(name) + " is no name of this sheet",
              near.empty() ? "look at the sheet for its names" : "did you mean " + in_quotes(near) + "?", {},
              std::string(name));
}

// --- entries

void Sheet::Book::read(const Row& row, Own& own) const {
  own.formula.reset();
  own.misread.reset();
  const auto start = formula_start(own.entry.text);
  own.plain = !start && row.type != RowType::check;
  if (own.plain) return;
  auto parsed = parse_formula(own.entry.text, start.value_or(0), settings);
  if (auto* formula = std::get_if<Formula>(&parsed))
    own.formula = std::move(*formula);
  else
    own.misread = std::get<Fault>(parsed);
  if (!own.formula || row.type != RowType::use) return;
  for (Node& node : own.formula->nodes) {
    if (node.op != Op::name) continue;
    const auto meant = uses[row.meta].stands_for.find(node.word);
    if (meant != uses[row.meta].stands_for.end()) node.word = meant->second;
  }
}

Wanted Sheet::Book::wanted_of(const Row& row) const {
  Wanted wanted;
  if (row.type != RowType::check) wanted.name = row.name;
  wanted.kind = row.kind;
  if (row.type == RowType::parameter && !parameters[row.meta].choices.empty())
    wanted.choices = &parameters[row.meta].choices;
  wanted.outcomes = row.type == RowType::check;
  return wanted;
}

void Sheet::Book::judge(const Row& row, Own& own) {
  own.faults.clear();
  own.value.reset();
  own.analysis = {};
  own.program = {};
  if (own.misread) {
    own.faults.push_back(*own.misread);
    return;
  }
  const bool limit = row.type == RowType::least || row.type == RowType::most;
  if (limit && row.kind && row.kind->form != Form::number) {
    own.faults.push_back({"sheet.limits-of-words",
                          in_quotes(row.name) + " is " + a_kind(*row.kind) + " and has no limits",
                          "take the limits out",
                          {0, own.entry.text.size()}});
    return;
  }
  if (own.plain) {
    // where the kind is not known only the entry that should have told it can be judged
    if (!row.kind && &own != &row.own.begin()->second) return;
    auto read_value = read_plain(own.entry.text, wanted_of(row), settings);
    if (const auto* fault = std::get_if<Fault>(&read_value)) {
      own.faults.push_back(*fault);
      return;
    }
    if (!row.kind) return;
    own.value = std::get<Value>(std::move(read_value));
    keep_words(*own.value);
    return;
  }
  own.analysis = analyse(*own.formula, own.entry.text, *this, wanted_of(row), settings);
  own.faults = own.analysis.faults;
  for (Meaning& one : own.analysis.meanings) one.choices = nullptr;  // rows may move
  if (!own.faults.empty() || own.analysis.waits_for || !row.kind) return;
  check_scale(row, own);
  if (own.faults.empty())
    own.program =
        Program(*own.formula, own.analysis, *this, [this](const std::string& word) { return number_for(word); });
}

/// The second judge of kinds. It speaks only where the first has overlooked something.
void Sheet::Book::check_scale(const Row& row, Own& own) const {
  if (scales_like(*own.formula, own.analysis.meanings, *this, *row.kind) != Scaling::disagrees) return;
  own.faults.push_back(
      {"sheet.does-not-scale",
       "this does not grow as " + a_kind(*row.kind) + " does when lengths, angles, money and times grow",
       "check the units and the signs in it", own.formula->root().span});
}

double Sheet::Book::number_for(const std::string& word) {
  const auto [found, fresh] = word_numbers_.emplace(word, static_cast<double>(words_.size()));
  if (fresh) words_.push_back(word);
  return found->second;
}

void Sheet::Book::keep_words(const Value& value) {
  if (value.kind().form == Form::choice || value.kind().form == Form::text) number_for(value.words());
}

double Sheet::Book::slot_of(const Value& value) const {
  switch (value.kind().form) {
    case Form::number:
      return value.number();
    case Form::yes_no:
      return value.yes() ? 1 : 0;
    case Form::choice:
    case Form::text:
      break;
  }
  // every word has its number before it is a value: choices when the row is added, texts when they are read
  const auto found = word_numbers_.find(value.words());
  assert(found != word_numbers_.end());
  return found->second;
}

const Own* Sheet::Book::entry_of(std::size_t row, std::size_t column) const {
  const auto& own = rows[row].own;
  auto found = own.find(column);
  if (found == own.end()) found = own.find(0);
  return found == own.end() ? nullptr : &found->second;
}

// --- kinds

/// The rows whose kinds must be known before this row's, without doubles.
std::vector<std::size_t> Sheet::Book::kind_reads(std::size_t at) const {
  std::vector<std::size_t> reads;
  const Row& row = rows[at];
  if (row.stated || row.own.empty() || !row.own.begin()->second.formula) return reads;
  for (const Node& node : row.own.begin()->second.formula->nodes) {
    if (node.op != Op::name) continue;
    const auto read_row = find_row(node.word);
    if (read_row && std::find(reads.begin(), reads.end(), *read_row) == reads.end()) reads.push_back(*read_row);
  }
  return reads;
}

bool Sheet::Book::kind_is_circular(std::size_t at) const {
  std::vector<char> seen(rows.size(), 0);
  std::vector<std::size_t> open{at};
  while (!open.empty()) {
    const std::size_t row = open.back();
    open.pop_back();
    for (const std::size_t read_row : kind_reads(row)) {
      if (read_row == at) return true;
      if (seen[read_row]) continue;
      seen[read_row] = 1;
      open.push_back(read_row);
    }
  }
  return false;
}

/// From the first entry; nothing while what it reads is not known. REQUIRES: kind_is_circular() was asked.
std::optional<Kind> Sheet::Book::told_kind(const Row& row) const {
  if (row.own.empty()) return std::nullopt;
  const Own& first = row.own.begin()->second;
  if (first.misread) return std::nullopt;
  Wanted wanted = wanted_of(row);
  wanted.kind.reset();
  if (!first.plain) return analyse(*first.formula, first.entry.text, *this, wanted, settings).kind;
  const auto value = read_plain(first.entry.text, wanted, settings);
  return std::holds_alternative<Value>(value) ? std::optional(std::get<Value>(value).kind()) : std::nullopt;
}

/// The kinds of rows that do not state one, each after those that its first entry reads. Rows in a cycle stay without.
void Sheet::Book::tell_kinds() {
  std::vector<std::vector<std::size_t>> reads(rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    rows[i].kind = rows[i].stated;
    reads[i] = kind_reads(i);
  }
  const Links order(std::vector<std::span<const std::size_t>>(reads.begin(), reads.end()));
  for (const std::size_t i : order.order())
    if (!rows[i].stated && rows[i].owner == i && !order.circular(i)) rows[i].kind = told_kind(rows[i]);
  for (Row& row : rows)
    if (row.type == RowType::least || row.type == RowType::most) row.kind = rows[row.owner].kind;
}

// --- settling and editing

Changes Sheet::Book::settle() {
  for (Row& row : rows)
    for (auto& [column, own] : row.own) read(row, own);
  tell_kinds();
  for (Row& row : rows)
    for (auto& [column, own] : row.own) judge(row, own);
  settled = true;
  Changes changes;
  for (std::size_t column = 0; column < columns.size(); ++column) {
    columns[column].cells.resize(rows.size());
    relink(column);
    for (const std::size_t row : columns[column].links.order()) renew(row, column, "the sheet was settled", changes);
  }
  return changes;
}

Result<Changes> Sheet::Book::set_entry(std::string_view name, std::size_t column, std::optional<Entry> entry) {
  const auto row = find_row(name);
  if (!row || rows[*row].type != RowType::parameter) {
    if (!row) return unknown_name(name);
    return fail("sheet.not-an-entry", in_quotes(name) + " is an outcome and takes no entry",
                "set the parameters it comes from", {}, std::string(name));
  }
  if (column >= columns.size())
    return fail("sheet.unknown-column", "there is no column " + std::to_string(column + 1),
                "the sheet has " + std::to_string(columns.size()));
  auto& own = rows[*row].own;
  if (column == 0) parameters[rows[*row].meta].entry = entry;
  if (entry) {
    Own fresh;
    fresh.entry = std::move(*entry);
    own[column] = std::move(fresh);
  } else {
    own.erase(column);
  }
  if (!settled) return Changes{};
  if (const auto set = own.find(column); set != own.end()) read(rows[*row], set->second);
  return after_edit(*row, column);
}

/// The row's entry in `column` was set or taken out; it has been read, not judged.
Changes Sheet::Book::after_edit(std::size_t at, std::size_t column) {
  Row& row = rows[at];
  if (!row.stated) {
    // a new kind concerns every formula that reads the row; where still none is told, another entry may now be the one that should have told it
    const auto told = kind_is_circular(at) ? std::nullopt : told_kind(row);
    const bool told_by_another = !told && (row.own.empty() || column <= row.own.begin()->first);
    if (told != row.kind || told_by_another) return settle();
  }
  if (const auto set = row.own.find(column); set != row.own.end()) judge(row, set->second);
  Changes changes;
  for (std::size_t i = column; i < (column == 0 ? columns.size() : column + 1); ++i) {
    if (i != column && row.own.contains(i)) continue;
    std::vector<Seed> seeds{{at, "its own entry"}};
    const Own* now = entry_of(at, i);
    const auto before = columns[i].links.inputs(at);
    const std::span<const std::size_t> after =
        now ? std::span<const std::size_t>(now->analysis.inputs) : std::span<const std::size_t>{};
    if (!std::equal(before.begin(), before.end(), after.begin(), after.end())) {
      for (const auto& [tangled, first] : columns[i].links.tangles())
        seeds.push_back({tangled, "its place in a cycle"});
      relink(i);
      for (const auto& [tangled, first] : columns[i].links.tangles())
        seeds.push_back({tangled, "its place in a cycle"});
    }
    wave(i, seeds, changes);
  }
  return changes;
}

Result<Changes> Sheet::Book::set_outcomes(std::size_t column,
                                          const std::vector<std::pair<std::string, Value>>& values) {
  if (column >= columns.size())
    return fail("sheet.unknown-column", "there is no column " + std::to_string(column + 1),
                "the sheet has " + std::to_string(columns.size()));
  std::vector<std::pair<std::size_t, Value>> taken;
  for (const auto& [name, value] : values) {
    const auto row = find_row(name);
    if (!row) return unknown_name(name);
    if (rows[*row].type != RowType::outcome)
      return fail("sheet.not-an-outcome", in_quotes(name) + " is a parameter, not an outcome", "set its entry", {}, name);
    const Kind& kind = *rows[*row].kind;
    if (value.kind().form != kind.form || value.kind().dimension != kind.dimension)
      return fail("sheet.wrong-kind",
                  "the outcome " + in_quotes(name) + " is " + a_kind(kind) + ", and was given " + a_kind(value.kind()),
                  "this is a fault of the stage that gave it", {}, name);
    taken.emplace_back(*row, kind.form == Form::number ? Value::number(value.number(), kind) : value);
  }
  if (!settled) settle();
  std::vector<Seed> seeds;
  for (auto& [row, value] : taken) {
    keep_words(value);
    Now now;
    now.state = CellState::ok;
    now.slot = slot_of(value);
    now.value = std::move(value);
    if (columns[column].cells[row] == now) continue;
    columns[column].cells[row] = std::move(now);
    seeds.push_back({row, "it was given"});
  }
  Changes changes;
  wave(column, seeds, changes);
  return changes;
}

Changes Sheet::Book::clear_outcomes(std::size_t column) {
  assert(column < columns.size());
  std::vector<Seed> seeds;
  for (std::size_t row = 0; row < columns[column].cells.size(); ++row) {
    if (rows[row].type != RowType::outcome || columns[column].cells[row] == Now{}) continue;
    columns[column].cells[row] = Now{};
    seeds.push_back({row, "it was taken away"});
  }
  Changes changes;
  wave(column, seeds, changes);
  return changes;
}

}  // namespace pommel::sheet
