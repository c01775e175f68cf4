// The maker's own texts behind an order, for whoever changes them and looks at once what follows (the window).
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "job/load.h"

namespace pommel::job {

/// Of an order and its design, as written or, where they were written for an older version of the family, brought up to date and saying so: names
/// of measures in them are those of the sheet.
struct Sources {
  std::filesystem::path order_file, design_file;
  std::string order, design;
  std::string design_read;  ///< as it stands on the disk
};

/// Fails with the disk's reasons, and where a file has changed so that it cannot be brought up to date. REQUIRES: `loaded` has an order that was read from
/// `order_file`.
Result<Sources> sources_of(const FileSystem& files, const Loaded& loaded, const std::filesystem::path& order_file);

/// The order and its design read again from these texts, the shop as it is in `loaded`. All problems go to `sink`, with their lines; use the result only when
/// it has no errors.
std::optional<Loaded> reloaded(const FileSystem& files, const Loaded& loaded, const Sources& sources, Sink& sink);

/// The same with the shop's files read again. Fails with their problems.
Result<Loaded> with_shop_again(const FileSystem& files, const Loaded& loaded);

}  // namespace pommel::job
