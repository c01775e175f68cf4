#include "job/text.h"

#include <algorithm>
#include <cassert>

#include "base/text.h"

namespace pommel::job {

std::size_t letters(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

std::string padded(std::string_view text, std::size_t width) {
  const std::size_t count = letters(text);
  return std::string(text) + std::string(count < width ? width - count : 0, ' ');
}

std::string right_aligned(std::string_view text, std::size_t width) {
  const std::size_t count = letters(text);
  return std::string(count < width ? width - count : 0, ' ') + std::string(text);
}

std::string wrapped(std::string_view text, std::string_view indent, std::string_view further) {
  std::string out, line(indent);
  bool fresh = true;
  for (std::string_view word : split(text, ' ')) {
    if (word.empty()) continue;
    if (!fresh && letters(line) + 1 + letters(word) > kColumns) {
      out += line + "\n";
      line = std::string(further);
      fresh = true;
    }
    if (!fresh) line += ' ';
    line += word;
    fresh = false;
  }
  return out + line + "\n";
}

std::string heading(std::string_view text) { return "\n" + std::string(text) + "\n" + std::string(letters(text), '-') + "\n"; }

std::string TextTable::text(std::string_view indent) const {
  std::vector<std::size_t> widths(right_.size(), 0);
  for (const auto& row : rows_) {
    assert(row.size() == right_.size());
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], letters(row[i]));
  }
  std::string out;
  for (const auto& row : rows_) {
    std::string line(indent);
    for (std::size_t i = 0; i < row.size(); ++i)
      line += (right_[i] ? right_aligned(row[i], widths[i]) : padded(row[i], widths[i])) + (i + 1 < row.size() ? "  " : "");
    out += std::string(line.substr(0, line.find_last_not_of(' ') + 1)) + "\n";
  }
  return out;
}

}  // namespace pommel::job
