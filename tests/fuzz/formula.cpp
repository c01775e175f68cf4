// Entries of the sheet (sheet/sheet.h). The naive evaluator of tests/sheet, which shares no code with it, judges every formula that both accept; it knows
// fewer units, so that what it refuses says nothing.
#include <string>

#include "fuzz/fuzz.h"
#include "sheet/formula.h"
#include "sheet/naive.h"
#include "sheet/sheet.h"

namespace pommel::fuzz {
namespace {

struct Row {
  const char *name, *text;
};
constexpr Row kAround[] = {{"height", "720 mm"}, {"square", "= height / 12"}, {"count", "4"}, {"tilt", "15 deg"}, {"plain", "yes"}};

sheet::Parameter row(std::string name, std::string text) {
  sheet::Parameter made;
  made.name = std::move(name);
  made.entry = sheet::Entry{std::move(text), {}, {}};
  return made;
}

bool no_quarrel(const naive::Answer& answer, const sheet::Value* value) {
  if (!answer.ok || !value) return true;
  switch (value->kind().form) {
    case sheet::Form::yes_no: return answer.number == (value->yes() ? 1 : 0);
    case sheet::Form::choice:
    case sheet::Form::text: return answer.word == value->words();
    default: return answer.number == value->number();
  }
}

}  // namespace

void try_one(std::string_view bytes) {
  if (bytes.size() > 400) return;  // the judge takes exponential time
  const std::string text = "= " + std::string(bytes);
  sheet::Sheet sheet("family");
  naive::Table table;
  const auto add = [&](const std::string& name, const std::string& entry) {
    sheet.add(row(name, entry));
    table.order.push_back(name);
    table.rows[name].entries[0] = entry;
  };
  for (const Row& one : kAround) add(one.name, one.text);
  add("tried", text);
  sheet.settle();
  must_be_told_well(sheet.diagnostics(), text, "no file");
  naive::Evaluator judge(table);
  must(no_quarrel(judge.cell("tried", 0), sheet.value("tried", 0)), "the sheet and the naive evaluator agree on a value");
}

}  // namespace pommel::fuzz
