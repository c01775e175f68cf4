// The order's file: written all at once, and a copy of unsaved changes that outlives a kill.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "base/files.h"

namespace pommel::ui {

/// What a session has decided: the order's text and, where its outline was changed, that of its design.
struct Draft {
  std::string order, design;

  bool operator==(const Draft&) const = default;
};

class OrderFile {
 public:
  /// `text`: of the order's file as it was read. `kept_in`: the folder for copies of unsaved changes. REQUIRES: `files` outlives this.
  OrderFile(FileSystem& files, std::filesystem::path path, std::string text, std::filesystem::path kept_in);

  FileSystem& files() const { return files_; }
  const std::filesystem::path& path() const { return path_; }
  bool saved(const Draft& draft) const { return draft.order == text_ && draft.design.empty(); }

  /// Writes the file, all or nothing, to `path` (its own or another, which is then its own), and forgets the copy. Fails with
  /// "ui.changed-on-disk" where somebody else has changed its own file since, and with the disk's reasons.
  Result<Done> save(const std::string& text, const std::filesystem::path& path);

  /// A copy of unsaved changes; of what is saved none is kept. A copy that cannot be written is told, not fatal.
  Result<Done> keep(const Draft& draft);
  void forget();
  /// The copy that an ended session left: nothing where there is none, it cannot be read, or it says what the file says.
  std::optional<Draft> left_behind() const;

 private:
  std::filesystem::path copy_path(const char* ending) const;

  FileSystem& files_;
  std::filesystem::path path_;
  std::string text_;
  std::filesystem::path kept_in_;
};

}  // namespace pommel::ui
