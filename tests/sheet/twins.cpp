#include "sheet/twins.h"

#include <algorithm>
#include <bit>

namespace pommel::sheet {
namespace {

naive::Kind plain_kind(const Kind& kind) {
  const Dimension& d = kind.dimension;
  const auto form = kind.form == Form::number   ? naive::Form::number
                    : kind.form == Form::yes_no ? naive::Form::yes_no
                                                : naive::Form::word;
  return {form, {d.length, d.angle, d.money, d.time}, kind.whole};
}

bool same_bits(double a, double b) {
  return std::bit_cast<std::uint64_t>(a) == std::bit_cast<std::uint64_t>(b);
}

bool agrees(const naive::Answer& answer, const std::optional<Value>& value) {
  if (answer.ok != value.has_value()) return false;
  if (!value) return true;
  if (value->kind().form == Form::choice) return value->words() == answer.word;
  return same_bits(value->kind().form == Form::yes_no ? value->yes() : value->number(), answer.number);
}

std::size_t index(int column) {
  return static_cast<std::size_t>(column);
}

}  // namespace

Twins::Twins(int columns) : sheet("family") {
  for (int i = 1; i < columns; ++i) sheet.add_column("variant " + std::to_string(i));
  table_.columns = columns;
}

void Twins::add_list(const std::string& name, const std::vector<std::pair<std::string, double>>& texts_and_mm) {
  SizeList list{name, {}, "", {}};
  for (const auto& [text, mm] : texts_and_mm) {
    list.sizes.push_back(entry(text));
    table_.lists[name].push_back(mm);
  }
  sheet.add(std::move(list));
}

void Twins::add_choice(const std::string& name, const std::string& text, const std::vector<std::string>& choices) {
  sheet.add(choice(name, text, choices));
  naive::Row twin;
  twin.stated = naive::Kind{naive::Form::word, {}, false};
  twin.choices = choices;
  twin.entries[0] = text;
  table_.order.push_back(name);
  table_.rows[name] = twin;
}

void Twins::add_row(const std::string& name, const Kind& kind, bool stated, const std::string& text, const std::optional<std::string>& least,
                    const std::optional<std::string>& most) {
  Parameter made = row(name, text);
  naive::Row twin;
  if (stated) {
    made.kind = kind;
    twin.stated = plain_kind(kind);
  }
  twin.entries[0] = text;
  if (least) made.least = entry(*least);
  if (most) made.most = entry(*most);
  twin.least = least;
  twin.most = most;
  table_.order.push_back(name);
  table_.rows[name] = twin;
  sheet.add(std::move(made));
}

void Twins::add_outcome(const std::string& name, const Kind& kind) {
  sheet.add(Outcome{name, kind, "quote", ""});
  table_.outcomes[name].kind = plain_kind(kind);
}

void Twins::add_check(const std::string& formula) {
  table_.checks[formula] = formula;
  sheet.add(Check{formula, entry(formula), "not so", false});
}

Changes Twins::set(const std::string& name, int column, const std::string& text) {
  table_.rows[name].entries[column] = text;
  const auto changed = sheet.set_entry(name, index(column), entry(text));
  EXPECT_TRUE(changed.ok()) << name;
  return changed.ok() ? *changed : Changes{};
}

Changes Twins::clear(const std::string& name, int column) {
  table_.rows[name].entries.erase(column);
  const auto changed = sheet.clear_entry(name, index(column));
  EXPECT_TRUE(changed.ok()) << name;
  return changed.ok() ? *changed : Changes{};
}

Changes Twins::set_outcomes(int column, const std::vector<std::pair<std::string, Value>>& values) {
  const auto changed = sheet.set_outcomes(index(column), values);
  EXPECT_TRUE(changed.ok());
  for (const auto& [name, value] : values) table_.outcomes[name].values[column] = value.number();
  return changed.ok() ? *changed : Changes{};
}

Changes Twins::clear_outcomes(int column) {
  for (auto& [name, outcome] : table_.outcomes) outcome.values.erase(column);
  return sheet.clear_outcomes(index(column));
}

void Twins::compare_cell(const std::string& where, const std::string& name, int column, naive::Evaluator& judge, Met& met) const {
  const std::string at = where + ": " + name + " in column " + std::to_string(column);
  const Cell cell = *sheet.cell(name, index(column));
  const auto answer = judge.cell(name, column);
  ASSERT_TRUE(agrees(answer, cell.value)) << at << ", naive " << answer.ok << " " << answer.number << "\n" << sheet.dump();
  const auto found = ids(cell.problems);
  const bool circular = std::find(found.begin(), found.end(), "sheet.cycle") != found.end();
  ASSERT_EQ(circular, judge.circular(name, column)) << at << "\n" << sheet.dump();
  const naive::Row& row = table_.rows.at(name);
  for (const bool most : {false, true}) {
    if (!(most ? row.most : row.least)) continue;
    const auto limit = judge.limit(name, most, column);
    ASSERT_TRUE(agrees(limit, most ? cell.most : cell.least)) << at << (most ? ", most" : ", least") << "\n" << sheet.dump();
    met.limits += limit.ok;
  }
  met.cycles += circular;
  ++(answer.ok ? met.values : met.refused);
}

void Twins::compare_checks(const std::string& where, int column, naive::Evaluator& judge, Met& met) const {
  for (const CheckResult& check : sheet.checks(index(column))) {
    const auto answer = judge.check(check.name, column);
    const Verdict wanted = answer.missing       ? Verdict::not_yet_known
                           : !answer.ok         ? Verdict::cannot_be_checked
                           : answer.number != 0 ? Verdict::holds
                                                : Verdict::fails;
    ASSERT_EQ(check.verdict, wanted) << where << ": " << check.name << " in column " << column << "\n" << sheet.dump();
    met.hold += wanted == Verdict::holds;
    met.fail += wanted == Verdict::fails;
    met.waiting += wanted == Verdict::not_yet_known;
    met.cannot += wanted == Verdict::cannot_be_checked;
  }
}

void Twins::compare(const std::string& where, Met& met) const {
  naive::Evaluator judge(table_);
  for (int column = 0; column < table_.columns; ++column) {
    for (const std::string& name : table_.order) {
      compare_cell(where, name, column, judge, met);
      if (::testing::Test::HasFatalFailure()) return;
    }
    compare_checks(where, column, judge, met);
    if (::testing::Test::HasFatalFailure()) return;
  }
  const auto broken = sheet.broken_invariant();
  ASSERT_FALSE(broken.has_value()) << where << ": " << *broken << "\n" << sheet.dump();
}

}  // namespace pommel::sheet
