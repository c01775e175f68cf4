// The order's file: written all at once, and a copy of unsaved changes that outlives a kill.
//
// The copy is one file, so that it is the one before or the one after wherever a kill falls: a line with the checksum of what
// follows and the length of the order's text, then that text, then the design's. While a session has the order open it holds a claim on
// the copy, so that of two sessions one alone keeps, takes up and forgets it.
#pragma once

#include <filesystem>
#include <memory>
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
  /// "files.changed-on-disk" where somebody else has changed its own file since, with "files.held" while
  /// another process writes it, and with the disk's reasons.
  Result<Done> save(const std::string& text, const std::filesystem::path& path);

  /// Takes the copy for this session alone, until it ends or let_go(). Fails with "files.held" while another session has the order open:
  /// then that one's copy is neither looked at nor touched by the others below.
  Result<Done> hold_copy();
  void let_go() { claim_.reset(); }
  /// A copy of unsaved changes; of what is saved none is kept. A copy that cannot be written is told, not fatal. Holds the copy first.
  Result<Done> keep(const Draft& draft);
  void forget();
  /// The copy that an ended session left: nothing where there is none, it is damaged, or it says what the file says.
  std::optional<Draft> left_behind() const;
  /// Gives a copy that is damaged (cut off, changed, no order's text) another name beside it, so that no later copy takes its place,
  /// and returns that. Nothing where there is none or it is whole.
  std::optional<std::filesystem::path> set_damaged_apart();

 private:
  std::filesystem::path copy_path() const;
  bool has_copy() const;
  std::optional<Draft> whole_copy() const;

  FileSystem& files_;
  std::filesystem::path path_;
  std::string text_;
  std::filesystem::path kept_in_;
  std::unique_ptr<Claim> claim_;
  bool held_by_another_ = false;
};

}  // namespace pommel::ui
