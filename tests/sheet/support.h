// Short ways to build sheets in tests.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "sheet/sheet.h"

namespace pommel::sheet {

inline Entry entry(std::string text) {
  return {std::move(text), {}, {}};
}

/// An entry as it stands in a file: `leg.yaml`, the line as given, the entry from `column` on.
inline Entry in_file(std::string text, int line, int column, std::string source_line) {
  return {std::move(text), {"leg.yaml", line, column}, std::move(source_line)};
}

inline Parameter row(std::string name, std::string text, std::optional<Kind> kind = {}) {
  Parameter made;
  made.name = std::move(name);
  made.kind = kind;
  made.entry = entry(std::move(text));
  return made;
}

inline Parameter choice(std::string name, std::string text, std::vector<std::string> choices) {
  Parameter made = row(std::move(name), std::move(text));
  made.choices = std::move(choices);
  return made;
}

using Rows = std::vector<std::pair<std::string, std::string>>;

/// Parameters without stated kinds, settled.
inline Sheet sheet_of(const Rows& rows, Settings settings = {}) {
  Sheet sheet("family", std::move(settings));
  for (const auto& [name, text] : rows) sheet.add(row(name, text));
  sheet.settle();
  return sheet;
}

inline double number(const Sheet& sheet, std::string_view name, std::size_t column = 0) {
  const Value* value = sheet.value(name, column);
  EXPECT_NE(value, nullptr) << name << "\n" << render(sheet.diagnostics());
  return value ? value->number() : 0;
}

inline std::vector<std::string> names(const Changes& changes) {
  std::vector<std::string> all;
  for (const Change& one : changes) all.push_back(one.name);
  return all;
}

inline std::vector<std::string> ids(const std::vector<Diagnostic>& found) {
  std::vector<std::string> all;
  for (const Diagnostic& one : found) all.push_back(one.id);
  return all;
}

}  // namespace pommel::sheet
