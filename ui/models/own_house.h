// The maker's own house: catalog, templates and shop, copied from what came with the tool on the first start, so that designs, orders, machines and
// rates can be changed and are found by the command line, too.
#pragma once

#include <filesystem>

#include "base/files.h"
#include "base/result.h"

namespace pommel::ui {

/// $XDG_DATA_HOME/pommel, or ~/.local/share/pommel.
std::filesystem::path own_house_folder();

/// Copies catalog/ and templates/ of `installed` into `own`, unless a catalog is there; each of them appears whole or not at all. Fails with "ui.no-house" where `installed` is none, and with the disk's reasons.
Result<Done> make_own_house(FileSystem& files, const std::filesystem::path& installed, const std::filesystem::path& own);

}  // namespace pommel::ui
