// A copy of what stands on the matching bench and is not saved: it outlives a kill.
//
// Readings belong to no file before they are saved, so copies are numbered: readings-1.txt, readings-2.txt ... in the folder of unsaved changes. A
// session keeps the first that nobody claims and that holds nothing; it claims it as long as it lives. One that holds something and is claimed by
// nobody was left by a session that was ended: it is offered, and never written over.
//
// A copy is one file: a line with the checksum of what follows, then what is written in the fields ("square: 64 mm"), an empty line, the table.
#pragma once

#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>

#include "base/files.h"

namespace pommel::ui {

struct BenchDraft {
  std::map<std::string, std::string> fields;  ///< what is written, by the field's name; one line each
  std::string table;                          ///< ReadingsModel::text()

  bool operator==(const BenchDraft&) const = default;
};

class BenchCopy {
 public:
  /// REQUIRES: `files` outlives this.
  BenchCopy(FileSystem& files, std::filesystem::path kept_in) : files_(files), kept_in_(std::move(kept_in)) {}

  /// Whether an ended session left readings in that folder.
  static bool any_left(FileSystem& files, const std::filesystem::path& kept_in);

  /// Keeps it for this session. Fails with the disk's reasons, and with "files.held" when all copies are others'.
  Result<Done> keep(const BenchDraft& draft);
  /// Takes away what this session kept.
  void forget();

  /// The first whole copy that an ended session left, claimed for this one until it is taken or thrown away. A damaged one is given another name beside it,
  /// which damaged() then says, so that nothing takes its place.
  std::optional<BenchDraft> left_behind();
  const std::optional<std::filesystem::path>& damaged() const { return damaged_; }
  /// What was left is this session's own from now on, kept until it is saved. REQUIRES: left_behind() gave something.
  void take_left();
  void throw_left_away();

 private:
  struct Held {
    std::filesystem::path file;
    std::unique_ptr<Claim> claim;
  };
  std::optional<Held> free_copy(bool with_something);

  FileSystem& files_;
  std::filesystem::path kept_in_;
  std::optional<Held> own_, left_;
  std::optional<std::filesystem::path> damaged_;
};

}  // namespace pommel::ui
