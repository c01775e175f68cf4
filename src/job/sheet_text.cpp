#include <algorithm>

#include "job/job.h"
#include "job/show.h"
#include "job/text.h"

namespace pommel::job {
namespace {

std::string entry_of(const sheet::Sheet& sheet, const std::string& name, std::size_t column) {
  const auto cell = sheet.cell(name, column);
  return cell && cell->entry ? cell->entry->text : "";
}

// One group of rows; `names` all of it.
std::string group_text(const sheet::Sheet& sheet, const std::vector<std::string>& names, bool with_entries) {
  const std::size_t columns = sheet.column_count();
  std::vector<bool> right(columns + 1 + (with_entries ? 1 : 0), true);
  right.front() = false;
  if (with_entries) right.back() = false;
  TextTable table(right);
  for (const std::string& name : names) {
    std::vector<std::string> row{name};
    for (std::size_t column = 0; column < columns; ++column) {
      const auto cell = sheet.cell(name, column);
      // an asterisk: the order's own, not inherited
      row.push_back(shown(sheet, name, column) + (column > 0 && cell && cell->own ? " *" : ""));
    }
    if (with_entries) {
      const std::string entry = entry_of(sheet, name, columns - 1);
      row.push_back(entry.starts_with("=") ? entry : "");
    }
    table.row(std::move(row));
  }
  return table.text();
}

}  // namespace

std::string sheet_text(const sheet::Sheet& sheet) {
  std::string out = "MEASURES\n";
  std::string columns = "columns: ";
  for (std::size_t column = 0; column < sheet.column_count(); ++column) columns += (column ? ", " : "") + sheet.column_name(column);
  out += columns + (sheet.column_count() > 1 ? "; * its own, not inherited" : "") + "\n";
  for (const std::string& group : sheet.groups()) {
    std::vector<std::string> names;
    for (const std::string& name : sheet.parameters())
      if (sheet.parameter(name)->group == group) names.push_back(name);
    out += heading(group.empty() ? "other" : group) + group_text(sheet, names, true);
  }
  out += heading("What follows") + group_text(sheet, sheet.outcomes(), false);
  TextTable checks({false, false});
  for (const sheet::CheckResult& check : sheet.checks(sheet.column_count() - 1)) {
    const char* word = check.verdict == sheet::Verdict::holds ? "holds"
                       : check.verdict == sheet::Verdict::fails ? (check.stop ? "STOPS" : "warns")
                       : check.verdict == sheet::Verdict::not_yet_known ? "not yet known" : "cannot be checked";
    checks.row({check.name, word + std::string(check.said ? ": " + check.said->message : "")});
  }
  if (!checks.empty()) out += heading("Checks") + checks.text();
  return out;
}

}  // namespace pommel::job
