// A maker's file line by line, for edits that leave every other line as it is. Inside yaml/ only.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/text.h"
#include "yaml/document.h"

namespace pommel::yaml {

struct Lines {
  std::vector<std::string> lines;
  bool ends_with_break = false;

  explicit Lines(std::string_view text) : ends_with_break(text.ends_with('\n')) {
    for (const std::string_view line : split(text, '\n')) lines.emplace_back(line);
    if (ends_with_break) lines.pop_back();
  }
  std::string text() const {
    std::string out;
    for (std::size_t i = 0; i < lines.size(); ++i) out += lines[i] + (i + 1 < lines.size() || ends_with_break ? "\n" : "");
    return out;
  }
  auto at(std::size_t line) { return lines.begin() + static_cast<std::ptrdiff_t>(line); }
};

inline std::size_t line_index(const Node& node) { return static_cast<std::size_t>(node.place().line) - 1; }

inline std::string indent_of(const std::string& line) { return line.substr(0, line.find_first_not_of(' ')); }

inline bool begins_its_line(const Lines& file, const Node& key) {
  return static_cast<int>(indent_of(file.lines[line_index(key)]).size()) + 1 == key.place().column;
}

}  // namespace pommel::yaml
