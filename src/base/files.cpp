#include "base/files.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <ctime>
#include <system_error>

#include "base/claim.h"
#include "base/disk.h"

namespace pommel {

namespace {

namespace fs = std::filesystem;

using disk::again, disk::cannot, disk::Descriptor, disk::folder_of;

// The file's rights are kept when it is replaced.
mode_t mode_for(const fs::path& path, mode_t otherwise) {
  struct stat now {};
  return ::stat(path.c_str(), &now) == 0 && S_ISREG(now.st_mode) ? now.st_mode & 07777 : otherwise;
}

// Another process that writes the same file is done in a moment, unless it was stopped.
Descriptor temporary_in_turn(const fs::path& temporary) {
  constexpr timespec kPause{0, 20'000'000};
  constexpr int kMostTries = 50;
  for (int i = 1;; ++i) {
    Descriptor file = disk::new_held_file(temporary);
    if (file.ok() || errno != EWOULDBLOCK || i == kMostTries) return file;
    ::nanosleep(&kPause, nullptr);
  }
}

bool fill(const Descriptor& file, std::string_view bytes, mode_t mode) {
  return disk::write_all(file.number(), bytes) && (mode == 0 || ::fchmod(file.number(), mode) == 0) &&
         again([&] { return ::fsync(file.number()); }) == 0;
}

class RealFiles : public FileSystem {
 public:
  Result<std::string> read(const fs::path& path, std::size_t limit) const override {
    // not blocking: a pipe without a writer would hold us for ever
    const Descriptor file(path, O_RDONLY | O_NONBLOCK);
    if (!file.ok()) return cannot("read", path, errno);
    struct stat about {};
    if (::fstat(file.number(), &about) != 0) return cannot("read", path, errno);
    if (S_ISDIR(about.st_mode)) return cannot("read", path, EISDIR);
    if (!S_ISREG(about.st_mode))
      return fail("files.cannot-read", "cannot read '" + path.generic_string() + "': it is no plain file",
                  "name a plain file", {path.generic_string(), 0, 0});
    std::string bytes;
    const std::size_t expected = static_cast<std::size_t>(about.st_size);
    bytes.reserve(std::min(expected, limit) + 1);
    for (char chunk[1 << 16];;) {
      const ssize_t count = again([&] { return ::read(file.number(), chunk, sizeof chunk); });
      if (count < 0) return cannot("read", path, errno);
      if (count == 0) return bytes;
      bytes.append(chunk, static_cast<std::size_t>(count));
      if (bytes.size() > limit) {
        return fail("files.too-large",
                    "'" + path.generic_string() + "' is larger than " + std::to_string(limit) + " bytes",
                    "check that this is the right file", {path.generic_string(), 0, 0});
      }
    }
  }

  Result<Done> write(const fs::path& path, std::string_view bytes) override {
    if (is_link(path)) return leads_elsewhere(path);
    // one name for each file, so that what a killed process left is found by the next that writes the same
    const fs::path temporary = folder_of(path) / (".write-" + sha256(path.filename().generic_string()).substr(0, 16));
    const Descriptor file = temporary_in_turn(temporary);
    if (!file.ok() && errno == EWOULDBLOCK) {
      return fail("files.held", "'" + path.generic_string() + "' is being written by another process", "try again when that has ended",
                  {path.generic_string(), 0, 0});
    }
    if (!file.ok()) return cannot("write", path, errno);
    if (fill(file, bytes, mode_for(path, 0)) && ::rename(temporary.c_str(), path.c_str()) == 0) return disk::flush_folder_of(path);
    auto failed = cannot("write", path, errno);
    ::unlink(temporary.c_str());
    return failed;
  }

  bool exists(const fs::path& path) const override {
    std::error_code error;
    return fs::exists(fs::symlink_status(path, error));  // a link that leads nowhere stands there, too
  }

  bool is_folder(const fs::path& path) const override {
    std::error_code error;
    return fs::is_directory(path, error);
  }

  bool is_link(const fs::path& path) const override {
    std::error_code error;
    return fs::is_symlink(path, error);
  }

  std::vector<std::string> list(const fs::path& folder) const override {
    std::vector<std::string> names;
    std::error_code error;
    fs::directory_iterator at(folder, error);
    for (const fs::directory_iterator end; !error && at != end; at.increment(error))
      names.push_back(at->path().filename().generic_string());
    std::sort(names.begin(), names.end());
    return names;
  }

  Result<Done> make_folder(const fs::path& path) override {
    std::vector<fs::path> made;
    return disk::make_folders(path, made);
  }

  Result<Done> rename(const fs::path& from, const fs::path& to) override {
    if (is_folder(to)) return cannot("write", to, EEXIST);  // rename(2) would take an empty one
    if (::rename(from.c_str(), to.c_str()) != 0) return cannot("write", to, errno);
    return disk::flush_folder_of(to);
  }

  Result<Done> remove_all(const fs::path& path) override {
    std::error_code error;
    fs::remove_all(path, error);
    if (error) return cannot("remove", path, error.value());
    return Done{};
  }

  Result<Done> exchange(const fs::path& a, const fs::path& b) override {
#ifdef RENAME_EXCHANGE
    if (::renameat2(AT_FDCWD, a.c_str(), AT_FDCWD, b.c_str(), RENAME_EXCHANGE) == 0) return disk::flush_folder_of(b);
    if (errno != EINVAL && errno != ENOSYS) return cannot("write", b, errno);
#endif
    return FileSystem::exchange(a, b);
  }

  Result<Done> flush(const fs::path& path) override {
    const Descriptor file(path, O_RDONLY | O_NONBLOCK);
    if (!file.ok() || again([&] { return ::fsync(file.number()); }) != 0) return cannot("write", path, errno);
    return Done{};
  }

  Result<std::unique_ptr<Claim>> claim(const fs::path& path) override { return disk::claim(path); }
};

}  // namespace

Result<Done> FileSystem::exchange(const fs::path& a, const fs::path& b) {
  const fs::path aside =
      b.parent_path() / ("." + b.filename().generic_string() + ".aside-" + std::to_string(::getpid()));
  if (auto first = rename(b, aside); !first) return first;
  auto failed = rename(a, b);
  if (failed) {
    failed = rename(aside, a);
    if (failed || !rename(b, a)) return failed;  // b keeps the new one; the old one stays aside
  }
  if (rename(aside, b)) return failed;
  return fail("files.stranded",
              "'" + b.generic_string() + "' could not be replaced and stands now at '" + aside.generic_string() + "'",
              "rename it back by hand", {b.generic_string(), 0, 0});
}

bool FileSystem::is_link(const fs::path&) const {
  return false;
}

Result<Done> FileSystem::flush(const fs::path&) {
  return Done{};
}

Failure leads_elsewhere(const fs::path& link) {
  const std::string name = link.generic_string();
  return fail("files.link", "'" + name + "' is a link, and nothing is written through one: it may lead out of its folder",
              "name the place it leads to, or remove the link", {name, 0, 0});
}

std::unique_ptr<FileSystem> real_files() {
  return std::make_unique<RealFiles>();
}

}  // namespace pommel
