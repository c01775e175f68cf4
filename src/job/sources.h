// The maker's own texts behind an order, for whoever changes them and looks at once what follows (the window).
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "job/load.h"

namespace pommel::job {

/// A design of the catalog.
struct DesignFile {
  std::filesystem::path file;
  std::string text;  ///< as written or, where it was written for an older version of the family, brought up to date and saying so
  std::string read;  ///< as it stands on the disk
  int version = 1;   ///< of its family, for which names of measures in `text` are
};

/// Of an order and its design, names of measures in them being those of the sheet: brought up to date as DesignFile::text.
struct Sources {
  std::filesystem::path order_file;
  std::string order;
  DesignFile design;
};

/// By its name, its id, or of an earlier revision as "id@2". Fails with "designs.unknown-design", the file's own problems and the disk's reasons.
Result<DesignFile> design_file(const FileSystem& files, const designs::House& house, const std::string& id);

/// Fails with the disk's reasons, and where a file has changed so that it cannot be brought up to date. REQUIRES: `loaded` has an order that was read from
/// `order_file`.
Result<Sources> sources_of(const FileSystem& files, const Loaded& loaded, const std::filesystem::path& order_file);

/// The order's text naming that design, for the version of its family; its sheet is left as it is, though its measures may be none of the other's.
/// Fails with yaml's reasons.
Result<std::string> of_design(const std::string& order, const std::string& file, const std::string& name, const DesignFile& design);

/// The order and the design that it is of read again from `sources`, the shop as it is in `loaded`. All problems go to `sink`, with their lines; use the result
/// only when it has no errors.
std::optional<Loaded> reloaded(const FileSystem& files, const Loaded& loaded, const Sources& sources, Sink& sink);

/// The same with the shop's files read again. Fails with their problems.
Result<Loaded> with_shop_again(const FileSystem& files, const Loaded& loaded);

}  // namespace pommel::job
