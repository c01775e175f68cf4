// The order's file: saved entry by entry with the maker's comments kept, and a copy of unsaved changes that outlives a kill.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>

#include "base/files.h"

namespace pommel::ui {

class OrderFile {
 public:
  using Entries = std::map<std::string, std::string>;

  /// `text`: of the order's file as it was read. `kept_in`: the folder for copies of unsaved changes. REQUIRES: `files` outlives this.
  OrderFile(FileSystem& files, std::filesystem::path path, std::string text, std::filesystem::path kept_in);

  const std::filesystem::path& path() const { return path_; }
  bool saved(const Entries& entries) const { return entries == saved_; }

  /// Writes the file, all or nothing, to `path` (its own or another, which is then its own), and forgets the copy. Fails with
  /// "ui.changed-on-disk" where somebody else has changed its own file since, with family::saved_order's reasons and the disk's.
  Result<Done> save(const Entries& entries, const std::filesystem::path& path);

  /// A copy of unsaved changes; of saved entries none is kept. A copy that cannot be written is told, not fatal.
  Result<Done> keep(const Entries& entries);
  void forget();
  /// Entries of a copy that an ended session left: nothing where there is none, it cannot be read, or it says what the file says.
  std::optional<Entries> left_behind() const;

 private:
  std::filesystem::path copy_path() const;

  FileSystem& files_;
  std::filesystem::path path_;
  std::string text_;
  std::filesystem::path kept_in_;
  Entries saved_;
};

}  // namespace pommel::ui
