// Claims on the disk. For src/base alone; others ask FileSystem::claim.
#pragma once

#include <filesystem>
#include <memory>

#include "base/files.h"

namespace pommel::disk {

/// As FileSystem::claim.
Result<std::unique_ptr<Claim>> claim(const std::filesystem::path& path);

}  // namespace pommel::disk
