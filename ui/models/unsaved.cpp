#include "ui/models/unsaved.h"

namespace pommel::ui {

std::string sealed(std::string_view mark, const std::string& texts, const std::string& said) {
  return std::string(mark) + sha256(texts) + (said.empty() ? "" : " " + said) + "\n" + texts;
}

std::optional<Unsealed> unsealed(std::string_view mark, std::string_view copy) {
  const std::size_t end = copy.find('\n');
  if (!copy.starts_with(mark) || end == std::string_view::npos) return std::nullopt;
  const std::string_view line = copy.substr(mark.size(), end - mark.size()), texts = copy.substr(end + 1);
  const std::size_t blank = line.find(' ');
  if (line.substr(0, blank) != sha256(texts)) return std::nullopt;
  return Unsealed{blank == std::string_view::npos ? std::string_view() : line.substr(blank + 1), texts};
}

std::optional<std::filesystem::path> set_apart(FileSystem& files, const std::filesystem::path& copy) {
  for (int number = 1;; ++number) {
    const auto apart = copy.parent_path() / (copy.stem().string() + ".damaged-" + std::to_string(number) + copy.extension().string());
    if (files.exists(apart)) continue;
    if (!files.rename(copy, apart).ok()) return std::nullopt;
    return apart;
  }
}

}  // namespace pommel::ui
