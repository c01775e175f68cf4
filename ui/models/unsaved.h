// How copies of unsaved work are written: one file, so that its parts cannot come from different moments, and a checksum, so that a damaged one is not taken up.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "base/files.h"

namespace pommel::ui {

/// A line with the mark, the checksum of `texts` and, where there is something, `said`; then the texts. REQUIRES: no line's end in mark and said.
std::string sealed(std::string_view mark, const std::string& texts, const std::string& said = {});

struct Unsealed {
  std::string_view said, texts;
};
/// Nothing where the mark is another or the checksum does not hold. Looks into `copy`.
std::optional<Unsealed> unsealed(std::string_view mark, std::string_view copy);

/// Gives a damaged copy the first free name of those beside it ("leg.damaged-1.yaml"); nothing where the disk refuses.
std::optional<std::filesystem::path> set_apart(FileSystem& files, const std::filesystem::path& copy);

}  // namespace pommel::ui
