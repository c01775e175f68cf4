// The seam to the file system: small enough to fake, careful enough to trust.
//
// Writing is all or nothing: a file is written to a temporary sibling, flushed to the disk, and renamed; its folder is flushed
// after that. A folder that must appear whole is built under a temporary name beside its place (see FolderInMaking) and renamed
// when complete. Whoever must be alone with a file or folder claims it. What a killed process leaves (a temporary sibling, a
// file that says who held a claim) is in nobody's way, and the next one that writes to the same place takes it away.
#pragma once

#include <filesystem>
#include <map>
#include <memory>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace pommel {

/// While it lives no other claim on its path is given, to this process or another. It ends with the object, and with the
/// process, however that ends.
class Claim {
 public:
  virtual ~Claim() = default;
};

/// Thread rule: implementations may be used from several threads when they touch different paths.
class FileSystem {
 public:
  virtual ~FileSystem() = default;

  /// The whole file. Fails with "files.cannot-read"; over `limit` bytes with "files.too-large".
  virtual Result<std::string> read(const std::filesystem::path& path, std::size_t limit = 64u << 20) const = 0;
  /// Replaces or creates the file, all or nothing. The folder must exist. Fails with "files.link" where a link stands (nothing
  /// is written through it), "files.held" when another process is writing this very file and does not end within a second,
  /// "files.cannot-write", and "files.unconfirmed" when the file is there whole and the disk did not say that it is safe.
  virtual Result<Done> write(const std::filesystem::path& path, std::string_view bytes) = 0;
  virtual bool exists(const std::filesystem::path& path) const = 0;
  virtual bool is_folder(const std::filesystem::path& path) const = 0;
  /// Whether a link stands there, wherever it leads. Here: there are none.
  virtual bool is_link(const std::filesystem::path& path) const;
  /// Names (not paths) of what the folder holds, sorted by byte; empty when there is no such folder.
  virtual std::vector<std::string> list(const std::filesystem::path& folder) const = 0;
  virtual Result<Done> make_folder(const std::filesystem::path& path) = 0;  ///< with parents
  virtual Result<Done> rename(const std::filesystem::path& from, const std::filesystem::path& to) = 0;
  virtual Result<Done> remove_all(const std::filesystem::path& path) = 0;
  /// Swaps two folders of one parent. Here by three renames, undone when a later one fails; a file system that can do it in
  /// one step does.
  virtual Result<Done> exchange(const std::filesystem::path& a, const std::filesystem::path& b);
  /// Waits until a file written by others (through its path) is on the disk. Here: nothing to wait for.
  virtual Result<Done> flush(const std::filesystem::path& path);
  /// Asks to be the only one that writes `path` until the claim ends. Fails at once with "files.held", which says who holds
  /// it, and with "files.cannot-write". On the disk a file '.NAME.lock' stands beside it as long; its folder is made when it
  /// is not there, and goes again with the claim when it is still empty.
  virtual Result<std::unique_ptr<Claim>> claim(const std::filesystem::path& path) = 0;
};

/// The disk.
std::unique_ptr<FileSystem> real_files();

/// A disk in memory for tests. After `fail_writes_after(n, m)` n writes, renames, exchanges or make_folders succeed and the
/// next m fail ("files.cannot-write"); removing and claiming never fail for that.
class MemoryFiles : public FileSystem {
 public:
  Result<std::string> read(const std::filesystem::path& path, std::size_t limit = 64u << 20) const override;
  Result<Done> write(const std::filesystem::path& path, std::string_view bytes) override;
  bool exists(const std::filesystem::path& path) const override;
  bool is_folder(const std::filesystem::path& path) const override;
  std::vector<std::string> list(const std::filesystem::path& folder) const override;
  Result<Done> make_folder(const std::filesystem::path& path) override;
  Result<Done> rename(const std::filesystem::path& from, const std::filesystem::path& to) override;
  Result<Done> remove_all(const std::filesystem::path& path) override;
  Result<Done> exchange(const std::filesystem::path& a, const std::filesystem::path& b) override;
  Result<std::unique_ptr<Claim>> claim(const std::filesystem::path& path) override;

  void fail_writes_after(int successes, int failures = kEveryLater) {
    writes_left_ = successes;
    failures_left_ = failures;
  }
  const std::map<std::string, std::string>& files() const { return files_; }

 private:
  static constexpr int kEveryLater = 1 << 30;

  Result<Done> spend_write(const std::filesystem::path& path);
  void move(const std::string& from, const std::string& to);

  std::map<std::string, std::string> files_;  // by generic path text
  std::set<std::string> folders_;
  std::shared_ptr<std::set<std::string>> claimed_ = std::make_shared<std::set<std::string>>();  // outlived by claims
  int writes_left_ = kEveryLater, failures_left_ = 0;
};

/// A folder that appears whole or not at all, by one writer at a time. The temporary sibling is removed by the destructor unless
/// finish() succeeded.
class FolderInMaking {
 public:
  /// `target`'s parent must exist or be creatable. `replace`: whether an existing folder may be replaced, with all that it
  /// holds; when false and the target exists, or when it is a file, finish() fails with "files.exists"; where a link stands,
  /// with "files.link". Nothing is written before the first claim(), add() or path_for().
  FolderInMaking(FileSystem& files, std::filesystem::path target, bool replace);
  ~FolderInMaking();
  FolderInMaking(const FolderInMaking&) = delete;
  FolderInMaking& operator=(const FolderInMaking&) = delete;

  /// Takes the target for this object alone until it ends, and clears away what writers that were killed left beside it: a
  /// folder half made, or the one they were about to replace, which is put back where none stands. Fails with "files.held",
  /// "files.link" and the disk's reasons. Asked for by whatever comes first; call it before long work.
  Result<Done> claim();
  /// `name` is one safe file name or several separated by '/'; anything else fails with "files.unsafe-name", and a
  /// name already given, or one that is one file with it somewhere (base/names.h), with "files.twice".
  Result<Done> add(std::string_view name, std::string_view bytes);
  /// Where a writer that needs a path (STEP) may write; the file must exist when finish() is called
  /// ("files.missing").
  Result<std::filesystem::path> path_for(std::string_view name);
  /// Afterwards the target holds exactly what was added, or, on failure, what it held before. No call may follow success.
  Result<Done> finish();
  /// Where the replaced folder still stands when it could not be removed after success; empty otherwise.
  const std::filesystem::path& left_behind() const { return left_behind_; }
  const std::filesystem::path& target() const { return target_; }

 private:
  Result<Done> prepare();
  Result<Done> clear_leftovers();
  Result<std::filesystem::path> place_for(std::string_view name);

  FileSystem& files_;
  std::filesystem::path target_, temporary_, left_behind_;
  std::set<std::string> added_, promised_;  // names
  std::unique_ptr<Claim> claim_;
  bool replace_, made_ = false, finished_ = false;
};

/// The refusal of a place where a link stands, "files.link".
Failure leads_elsewhere(const std::filesystem::path& link);

/// SHA-256 (FIPS 180-4) of the bytes as 64 lower-case hex digits.
std::string sha256(std::string_view bytes);

}  // namespace pommel
