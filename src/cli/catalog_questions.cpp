#include "cli/catalog_questions.h"

#include <algorithm>

#include <nlohmann/json.hpp>

#include "base/text.h"
#include "job/catalog.h"
#include "job/show.h"
#include "job/text.h"

namespace pommel::cli {
namespace {

using Json = nlohmann::ordered_json;

// A design that no condition speaks of, or whose family has not the measure that was given, is another question's.
struct Answer {
  job::Trial trial;
  std::vector<std::string> unmet;  ///< conditions that do not hold
  bool speaks = true;              ///< false: the conditions speak of other designs
  bool does() const { return trial.does() && unmet.empty(); }
};

bool is_beside_the_question(const job::Trial& trial) {
  return std::any_of(trial.problems.begin(), trial.problems.end(), [](const Diagnostic& one) { return one.id == "sheet.unknown-name" && one.place.file == "--with"; });
}

std::string measures_of(const job::Trial& trial) {
  std::vector<std::string> parts;
  for (const family::MadePiece& piece : trial.made->made.pieces) parts.push_back(piece.wanted.label + " " + format_length(piece.part.length, {}));
  parts.push_back("square " + format_length(trial.made->made.pieces.front().wanted.square, {}));
  parts.push_back("thinnest " + format_length(trial.made->thinnest_diameter, {}));
  const sheet::Value* boards = trial.sheet->value("boards_price", trial.column);
  if (boards) parts.push_back("boards " + job::shown(*trial.sheet, "boards_price", trial.column));
  return joined(parts, ", ");
}

std::string text_of(const Answer& answer) {
  std::string out = answer.trial.id + "\n";
  if (answer.trial.made) out += job::wrapped((answer.trial.would_do.empty() ? "" : "with " + answer.trial.would_do + " it would do: ") + measures_of(answer.trial), "  ", "    ");
  for (const std::string& condition : answer.unmet) out += job::wrapped("not: " + condition, "  ", "    ");
  std::vector<std::string> said;
  for (const auto* list : {&answer.trial.problems, &answer.trial.warnings})
    for (const Diagnostic& one : *list)
      if (one.severity != Severity::note && std::find(said.begin(), said.end(), one.message) == said.end()) {
        said.push_back(one.message);
        out += job::wrapped(one.message, "  ! ", "    ");
      }
  return out;
}

Json json_of(const Answer& answer) {
  Json out = {{"id", answer.trial.id}, {"does", answer.does()}, {"would_do_with", answer.trial.would_do}, {"unmet", answer.unmet}, {"problems", Json::array()}, {"warnings", Json::array()}};
  for (const Diagnostic& one : answer.trial.problems) out["problems"].push_back(one.message);
  for (const Diagnostic& one : answer.trial.warnings)
    if (one.severity != Severity::note) out["warnings"].push_back(one.message);
  if (answer.trial.made) out["thinnest_diameter"] = answer.trial.made->thinnest_diameter;
  return out;
}

// What is printed of the answers; those with their frames and sheets would fill the memory of a small computer at a few thousand designs.
struct Said {
  std::string does, nearly, does_not;
  Json list = Json::array();

  void add(const Answer& answer, bool json) {
    if (json) list.push_back(json_of(answer));
    else (answer.does() ? does : !answer.trial.would_do.empty() && answer.unmet.empty() ? nearly : does_not) += text_of(answer);
  }
  std::string text() const {
    std::string out;
    if (!does.empty()) out += job::heading("Would do") + does;
    if (!nearly.empty()) out += job::heading("Would do with another square") + nearly;
    if (!does_not.empty()) out += job::heading("Would not do") + does_not;
    return out.empty() ? "no design answers to that\n" : out;
  }
};

// What the conditions make of a trial.
Result<Answer> held_against(job::Trial trial, const std::vector<job::Condition>& conditions) {
  Answer answer{std::move(trial), {}, true};
  answer.speaks = !is_beside_the_question(answer.trial);
  for (const job::Condition& condition : conditions) {
    const auto held = job::holds(condition, answer.trial);
    if (!held.ok()) return held.failure();
    if (!held->has_value()) answer.speaks = answer.speaks && !answer.trial.problems.empty();
    else if (!**held) answer.unmet.push_back(condition.name + " is " + job::shown(*answer.trial.sheet, condition.name, answer.trial.column));
  }
  return answer;
}

// A design that fails a condition without its boards is not planned.
Result<Answer> answer_of(const job::CatalogTrials& trials, const std::string& id, const std::vector<std::pair<std::string, sheet::Entry>>& asked, const std::vector<job::Condition>& conditions) {
  const auto may_do = [&](const job::Trial& trial) {
    return std::none_of(conditions.begin(), conditions.end(), [&](const job::Condition& condition) {
      const auto held = job::holds(condition, trial);
      return held.ok() && held->has_value() && !**held;
    });
  };
  return held_against(trials.run(id, asked, may_do), conditions);
}

}  // namespace

int find_by_measure(const Shared& shared, const designs::House& house, const std::vector<std::string>& ids, const Arguments& asked) {
  Sink sink;
  const auto entries = with_entries(asked.with, sink);
  std::vector<job::Condition> conditions;
  for (const std::string& text : asked.where) {
    auto condition = job::read_condition(text);
    if (condition.ok()) conditions.push_back(std::move(condition).value());
    else sink.add(condition.reasons());
  }
  const auto trials = job::CatalogTrials::open(*shared.files, house);
  if (!trials.ok()) sink.add(trials.reasons());
  if (sink.has_errors()) return show(sink.all(), shared);
  Said said;
  for (const std::string& id : ids) {
    auto answer = answer_of(*trials, id, entries, conditions);
    if (!answer.ok()) return show(answer.reasons(), shared);
    if (answer->speaks) said.add(*answer, shared.json);
  }
  return print(shared.json ? said.list.dump(2) + "\n" : said.text()) ? kDone : kCannotWrite;
}

int compare(const Shared& shared, const designs::House& house, const Arguments& asked) {
  Sink sink;
  const auto entries = with_entries(asked.with, sink);
  const auto trials = job::CatalogTrials::open(*shared.files, house);
  if (!trials.ok()) sink.add(trials.reasons());
  if (asked.compare.size() == 1 && entries.empty()) sink.add(fail("catalog.compare", "'" + asked.compare.front() + "' is to be compared with what?", "name a second design or revision, or a size by --with").reasons);
  if (sink.has_errors()) return show(sink.all(), shared);
  const bool itself = asked.compare.size() == 1;
  const std::string &first = asked.compare.front(), &second = asked.compare.back();
  const job::Trial a = trials->run(first, itself ? decltype(entries){} : entries), b = trials->run(second, entries);
  for (const job::Trial* trial : {&a, &b})
    if (!trial->sheet) return show(trial->problems, shared);
  if (shared.json) {
    Json out = {{"first", first}, {"second", second}, {"differ", Json::object()}};
    for (const std::string& name : job::differing(a, b)) out["differ"][name] = {job::shown(a, name), job::shown(b, name)};
    return print(out.dump(2) + "\n") ? kDone : kCannotWrite;
  }
  std::string text = job::compared(a, itself ? "as catalogued" : first, b, itself ? "so" : second);
  const std::vector<designs::Revision>& revisions = b.card.revisions.size() > a.card.revisions.size() ? b.card.revisions : a.card.revisions;
  if (!itself && a.card.id == b.card.id)
    for (const designs::Revision& one : revisions) text += job::wrapped("revision " + std::to_string(one.number) + ", " + one.date + ": " + one.what + ", " + one.why, "  ", "    ");
  return print(text) ? kDone : kCannotWrite;
}

int update_files(const Shared& shared, const designs::House& house, const std::vector<std::string>& names) {
  int exit = kDone;
  for (const std::string& name : names) {
    const auto done = designs::update_file(*shared.files, house, name);
    if (!done.ok()) exit = show(done.reasons(), shared);
    else if (!print(*done + "\n")) return kCannotWrite;
  }
  return exit;
}

}  // namespace pommel::cli
