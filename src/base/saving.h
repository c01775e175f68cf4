// Saving over a file that was read before: one writer at a time, and never over what somebody else has written since.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <string_view>

#include "base/files.h"

namespace pommel {

/// Claims the file and holds it against `before`, what was read of it. Fails with "files.held", with "files.changed-on-disk" and
/// `otherwise` as what to do, and with why it cannot be read. While the claim lives, whoever asks as we do waits.
Result<std::unique_ptr<Claim>> claim_unchanged(FileSystem& files, const std::filesystem::path& path, std::string_view before,
                                               const std::string& otherwise);

/// Writes the file where it is still `before`. Fails as claim_unchanged() and write() do; the file is the old one then.
Result<Done> save_over(FileSystem& files, const std::filesystem::path& path, std::string_view before, std::string_view text,
                       const std::string& otherwise);

/// Writes a file where none is. Fails with "files.exists", with "files.held", and as write() does.
Result<Done> save_new(FileSystem& files, const std::filesystem::path& path, std::string_view text);

}  // namespace pommel
