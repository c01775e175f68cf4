// The seam to the file system: small enough to fake, careful enough to trust.
//
// Writing is all or nothing: a file is written to a temporary sibling, flushed to the disk, and renamed. A folder that must
// appear whole is built under a temporary name beside its place (see FolderInMaking) and renamed when complete.
#pragma once

#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace pommel {

/// Thread rule: implementations may be used from several threads when they touch different paths.
class FileSystem {
 public:
  virtual ~FileSystem() = default;

  /// The whole file. Fails with "files.cannot-read"; over `limit` bytes with "files.too-large".
  virtual Result<std::string> read(const std::filesystem::path& path, std::size_t limit = 64u << 20) const = 0;
  /// Replaces or creates the file, all or nothing. The folder must exist.
  virtual Result<Done> write(const std::filesystem::path& path, std::string_view bytes) = 0;
  virtual bool exists(const std::filesystem::path& path) const = 0;
  virtual bool is_folder(const std::filesystem::path& path) const = 0;
  /// Names (not paths) of what the folder holds, sorted by byte; empty when there is no such folder.
  virtual std::vector<std::string> list(const std::filesystem::path& folder) const = 0;
  virtual Result<Done> make_folder(const std::filesystem::path& path) = 0;  ///< with parents
  virtual Result<Done> rename(const std::filesystem::path& from, const std::filesystem::path& to) = 0;
  virtual Result<Done> remove_all(const std::filesystem::path& path) = 0;
};

/// The disk.
std::unique_ptr<FileSystem> real_files();

/// A disk in memory for tests; `fail_writes_after(n)` lets the (n+1)-th write, rename or make_folder fail.
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

  void fail_writes_after(int successes) { writes_left_ = successes; }
  const std::map<std::string, std::string>& files() const { return files_; }

 private:
  Result<Done> spend_write(const std::filesystem::path& path);

  std::map<std::string, std::string> files_;    // by generic path text
  std::map<std::string, bool> folders_;
  int writes_left_ = -1;  // negative: no limit
};

/// A folder that appears whole or not at all. The temporary sibling is removed by the destructor unless finish() succeeded.
class FolderInMaking {
 public:
  /// `target`'s parent must exist or be creatable. `replace`: whether an existing folder may be replaced; when false and
  /// the target exists, finish() fails with "files.exists".
  FolderInMaking(FileSystem& files, std::filesystem::path target, bool replace);
  ~FolderInMaking();
  FolderInMaking(const FolderInMaking&) = delete;
  FolderInMaking& operator=(const FolderInMaking&) = delete;

  /// `name` is one safe file name or several separated by '/'; anything else fails with "files.unsafe-name".
  Result<Done> add(std::string_view name, std::string_view bytes);
  /// Where a writer that needs a path (STEP) may write; the file must exist when finish() is called.
  Result<std::filesystem::path> path_for(std::string_view name);
  Result<Done> finish();

 private:
  FileSystem& files_;
  std::filesystem::path target_, temporary_;
  bool replace_, made_ = false, finished_ = false;
};

/// SHA-256 (FIPS 180-4) of the bytes as 64 lower-case hex digits.
std::string sha256(std::string_view bytes);

}  // namespace pommel
