// Plain text of 80 columns: the few shapes that the pages of a job folder are made of.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pommel::job {

inline constexpr std::size_t kColumns = 80;

/// Letters of UTF-8 text (code points), for aligning.
std::size_t letters(std::string_view text);
/// Padded with blanks to `width` letters; longer text stays whole.
std::string padded(std::string_view text, std::size_t width);
std::string right_aligned(std::string_view text, std::size_t width);
/// Broken at blanks into lines of at most kColumns letters, each begun with `indent`, later ones with `further`.
std::string wrapped(std::string_view text, std::string_view indent = "", std::string_view further = "");
/// A heading with a line under it and a blank line before.
std::string heading(std::string_view text);

/// Rows of cells, each column as wide as its widest cell; numbers right-aligned where `right` says so.
class TextTable {
 public:
  explicit TextTable(std::vector<bool> right) : right_(std::move(right)) {}
  /// REQUIRES: as many cells as columns.
  void row(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
  bool empty() const { return rows_.empty(); }
  std::string text(std::string_view indent = "  ") const;

 private:
  std::vector<bool> right_;
  std::vector<std::vector<std::string>> rows_;
};

}  // namespace pommel::job
