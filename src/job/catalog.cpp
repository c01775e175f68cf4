#include "job/catalog.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "job/proven.h"
#include "job/show.h"
#include "job/text.h"
#include "shop/read.h"

namespace pommel::job {
namespace {

using Asked = std::vector<std::pair<std::string, sheet::Entry>>;

bool has_errors(const std::vector<Diagnostic>& found) {
  return std::any_of(found.begin(), found.end(), [](const Diagnostic& one) { return one.severity == Severity::error; });
}

void hold_checks(Trial& trial) {
  for (const sheet::CheckResult& check : trial.sheet->checks(trial.column)) {
    if (!check.said || check.verdict != sheet::Verdict::fails) continue;
    (check.stop ? trial.problems : trial.warnings).push_back(*check.said);
  }
}

// What follows into the sheet, and what is to be said of it: afresh, since more follows once the boards are planned.
void hold_against_itself(Trial& trial) {
  trial.problems.clear();
  if (const auto set = trial.sheet->set_outcomes(trial.column, outcomes_to_stock(*trial.made)); !set.ok()) trial.problems = set.reasons();
  trial.warnings = beyond_proven(trial.card, *trial.sheet, trial.column);
  for (const auto* notes : {&trial.made->made.notes, &trial.made->made.set.notes}) trial.warnings.insert(trial.warnings.end(), notes->begin(), notes->end());
  for (const rules::PieceReport& report : trial.made->reports) trial.warnings.insert(trial.warnings.end(), report.warnings.begin(), report.warnings.end());
  hold_checks(trial);
}

// Both outcomes and measures, in the sheet's order.
std::vector<std::string> names_of(const Trial& trial) {
  std::vector<std::string> names;
  if (!trial.sheet) return names;
  names = trial.sheet->parameters();
  const auto outcomes = trial.sheet->outcomes();
  names.insert(names.end(), outcomes.begin(), outcomes.end());
  return names;
}

std::string told(const Trial& trial, const std::string& head) {
  std::string out;
  std::vector<std::string> said;
  for (const auto* list : {&trial.problems, &trial.warnings})
    for (const Diagnostic& one : *list) {
      if (one.severity == Severity::note || std::find(said.begin(), said.end(), one.message) != said.end()) continue;
      said.push_back(one.message);
      out += wrapped(head + ": " + one.message + (one.remedy.empty() ? "" : ": " + one.remedy), list == &trial.problems ? "  cannot be made: " : "  ! ", "    ");
    }
  return out;
}

}  // namespace

Result<CatalogTrials> CatalogTrials::open(const FileSystem& files, const designs::House& house) {
  Sink sink;
  shop::Shop shop = shop::read_shop(files, house.catalog / "shop", sink, [](const auto&, const auto&) {});
  if (sink.has_errors()) return Failure(sink.all());
  return CatalogTrials(files, house, std::move(shop));
}

Trial CatalogTrials::once(const std::string& id, const Asked& asked, const Worth& worth) const {
  Trial trial;
  trial.id = id;
  Sink sink;
  auto entry = designs::find_design(*files_, house_, id, {}, sink, {}, templates_.get());
  if (!entry || sink.has_errors()) {
    trial.problems = sink.all();
    return trial;
  }
  trial.card = entry->card;
  trial.design = entry->design;
  Loaded loaded;
  loaded.house = house_;
  loaded.shop = shop_;
  loaded.family = std::move(entry->family);
  loaded.design = std::move(entry->design);
  trial.sheet = family::make_sheet(loaded.family, loaded.design, nullptr, loaded.shop, asked, sink);
  trial.column = trial.sheet->column_count() - 1;
  trial.problems = sink.all();
  std::erase_if(trial.problems, [](const Diagnostic& one) { return one.severity != Severity::error; });
  if (has_errors(trial.problems)) return trial;
  Options options;
  options.boards = false;
  auto made = run_to_stock(loaded, *trial.sheet, trial.column, options);
  if (!made.ok()) {
    trial.problems = made.reasons();
    return trial;
  }
  trial.made = std::move(made).value();
  hold_against_itself(trial);
  if (worth && !(trial.does() && worth(trial))) return trial;
  if (const auto planned = add_boards(loaded, *trial.sheet, *trial.made); !planned.ok()) {
    trial.problems = planned.reasons();
    trial.made.reset();
    return trial;
  }
  hold_against_itself(trial);
  return trial;
}

Trial CatalogTrials::run(const std::string& id, const Asked& asked, const Worth& worth) const {
  Trial trial = once(id, asked, worth);
  const bool too_thick = std::any_of(trial.problems.begin(), trial.problems.end(), [](const Diagnostic& one) { return one.id == "stock.needs-glue-up"; });
  const sheet::Value* stock = too_thick && trial.sheet ? trial.sheet->value("stock", trial.column) : nullptr;
  const bool square_asked = std::any_of(asked.begin(), asked.end(), [](const auto& one) { return one.first == "square"; });
  const auto board = stock && !square_asked ? shop_.boards.find(stock->words()) : shop_.boards.end();
  if (board == shop_.boards.end()) return trial;
  // whole millimetres: what a maker would mill
  const std::string square = std::to_string(static_cast<int>(stock::largest_square(board->second))) + " mm";
  Asked thinner = asked;
  thinner.emplace_back("square", sheet::Entry{square, Place{"--with", 1, 1}, "square=" + square});
  if (Trial other = once(id, thinner, worth); other.does()) {
    other.would_do = "square=" + square;
    other.problems = std::move(trial.problems);
    return other;
  }
  return trial;
}

Result<Condition> read_condition(const std::string& text) {
  for (const char* comparison : {"<=", ">=", "<", ">", "="}) {
    const std::size_t at = text.find(comparison);
    if (at == std::string::npos) continue;
    Condition out{std::string(trimmed(std::string_view(text).substr(0, at))), comparison, std::string(trimmed(std::string_view(text).substr(at + std::string(comparison).size())))};
    if (!out.name.empty() && !out.size.empty()) return out;
    break;
  }
  return fail("catalog.condition", "'" + text + "' is no condition", "write it as 'thinnest_diameter >= 28 mm'");
}

Result<std::optional<bool>> holds(const Condition& condition, const Trial& trial) {
  const sheet::Value* value = trial.sheet ? trial.sheet->value(condition.name, trial.column) : nullptr;
  if (!value) return std::optional<bool>();
  const auto& [name, comparison, size] = condition;
  if (value->kind().form == sheet::Form::choice || value->kind().form == sheet::Form::text) {
    if (comparison == "=") return std::optional(value->words() == size);
    return fail("catalog.condition", "'" + name + "' is a word: it is equal or not", "write '" + name + " = " + value->words() + "'");
  }
  if (value->kind().form == sheet::Form::yes_no) {
    if (comparison == "=" && (size == "yes" || size == "no")) return std::optional(value->yes() == (size == "yes"));
    return fail("catalog.condition", "'" + name + "' is yes or no", "write '" + name + " = yes'");
  }
  const auto wanted = size_of(size, value->kind());
  if (!wanted) return fail("catalog.condition", "'" + size + "' is no size for '" + name + "', which is " + shown(*trial.sheet, name, trial.column), "lengths need a unit: 28 mm");
  const double difference = value->number() - *wanted;
  constexpr double kSame = 1e-9;  // a length in inches and back
  if (comparison == "=") return std::optional(std::abs(difference) <= kSame);
  const bool below = comparison[0] == '<', or_equal = comparison.size() == 2;
  return std::optional(below ? (or_equal ? difference <= kSame : difference < -kSame) : (or_equal ? difference >= -kSame : difference > kSame));
}

std::string shown(const Trial& trial, const std::string& name) {
  return trial.sheet && trial.sheet->value(name, trial.column) ? shown(*trial.sheet, name, trial.column) : "-";
}

std::vector<std::string> differing(const Trial& a, const Trial& b) {
  std::vector<std::string> names = names_of(a);
  for (const std::string& name : names_of(b))
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  std::erase_if(names, [&](const std::string& name) { return shown(a, name) == shown(b, name); });
  return names;
}

std::string compared(const Trial& a, const std::string& head_a, const Trial& b, const std::string& head_b) {
  std::vector<std::string> outcomes;
  for (const Trial* trial : {&a, &b})
    if (trial->sheet)
      for (const std::string& name : trial->sheet->outcomes()) outcomes.push_back(name);
  TextTable measures({false, true, true}), follows({false, true, true});
  measures.row({"", head_a, head_b});
  int of_own = 0;
  const std::vector<std::string> names = differing(a, b);
  for (const std::string& name : names) {
    const bool outcome = std::find(outcomes.begin(), outcomes.end(), name) != outcomes.end();
    of_own += outcome ? 0 : 1;
    (outcome ? follows : measures).row({name, shown(a, name), shown(b, name)});
  }
  std::string out = names.empty() ? "  no measure differs\n" : measures.text();
  if (!follows.empty()) out += (of_own > 0 ? "\n  and with it\n" : "  the outline differs, and with it\n") + follows.text();
  const std::vector<std::string> all = names_of(b);
  const auto alike = std::count_if(all.begin(), all.end(), [&](const std::string& name) { return shown(b, name) != "-" && shown(a, name) == shown(b, name); });
  out += "  alike in " + std::to_string(alike) + " others\n";
  return out + told(a, head_a) + (head_a == head_b ? "" : told(b, head_b));
}

}  // namespace pommel::job
