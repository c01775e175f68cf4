#include "base/files.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <cstdio>
#include <system_error>

namespace pommel {

namespace {

namespace fs = std::filesystem;

// The reason in the language of the program, not of the system: strerror follows the locale.
std::string reason(int error) {
  switch (error) {
    case ENOENT:
      return "there is no such file or folder";
    case EACCES:
    case EPERM:
      return "it is not permitted";
    case EISDIR:
      return "it is a folder";
    case ENOTDIR:
      return "a file stands where a folder should be";
    case EEXIST:
    case ENOTEMPTY:
      return "it exists";
    case ENOSPC:
    case EDQUOT:
      return "the disk is full";
    case EROFS:
      return "the disk can only be read";
    case ENAMETOOLONG:
      return "the name is too long";
    case ELOOP:
      return "its links lead in a circle";
    case EXDEV:
      return "it is on another disk";
    default:
      return "system error " + std::to_string(error);
  }
}

Failure cannot(std::string_view verb, const fs::path& path, int error) {
  const std::string name = path.generic_string();
  return fail("files.cannot-" + std::string(verb), "cannot " + std::string(verb) + " '" + name + "': " + reason(error),
              "check the name, the rights and the room on the disk", {name, 0, 0});
}

// A descriptor that is closed once.
class Descriptor {
 public:
  Descriptor(const fs::path& path, int flags, mode_t mode = 0)
      : number_(::open(path.c_str(), flags | O_CLOEXEC, mode)) {}
  ~Descriptor() { (void)close(); }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;

  bool ok() const { return number_ >= 0; }
  int number() const { return number_; }
  bool close() {
    if (number_ < 0) return true;
    return ::close(std::exchange(number_, -1)) == 0;
  }

 private:
  int number_;
};

bool write_all(int file, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t count = ::write(file, bytes.data(), bytes.size());
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(count));
  }
  return true;
}

fs::path folder_of(const fs::path& path) {
  return path.has_parent_path() ? path.parent_path() : fs::path(".");
}

// A rename is on the disk when its folder is. Some file systems cannot flush a folder (EINVAL): then nothing is to be
// waited for.
Result<Done> flush_folder(const fs::path& folder) {
  const Descriptor open(folder, O_RDONLY | O_DIRECTORY);
  if (!open.ok() || (::fsync(open.number()) != 0 && errno != EINVAL)) return cannot("write", folder, errno);
  return Done{};
}

// The file's rights are kept when it is replaced.
mode_t mode_for(const fs::path& path, mode_t otherwise) {
  struct stat now {};
  return ::stat(path.c_str(), &now) == 0 && S_ISREG(now.st_mode) ? now.st_mode & 07777 : otherwise;
}

Result<Done> write_new(const fs::path& temporary, std::string_view bytes, const fs::path& path) {
  constexpr mode_t kNew = 0666;  // less the umask
  Descriptor file(temporary, O_WRONLY | O_CREAT | O_EXCL, kNew);
  if (!file.ok()) return cannot("write", path, errno);
  const mode_t mode = mode_for(path, 0);
  const bool done = write_all(file.number(), bytes) && (mode == 0 || ::fchmod(file.number(), mode) == 0) &&
                    ::fsync(file.number()) == 0;
  if (!done || !file.close()) return cannot("write", path, errno);
  return Done{};
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
      const ssize_t count = ::read(file.number(), chunk, sizeof chunk);
      if (count < 0 && errno == EINTR) continue;
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
    static std::atomic<unsigned> count{0};
    const std::string name = ".write-" + std::to_string(::getpid()) + "-" + std::to_string(count++);
    const fs::path temporary = folder_of(path) / name;
    auto written = write_new(temporary, bytes, path);
    if (written && ::rename(temporary.c_str(), path.c_str()) != 0) written = cannot("write", path, errno);
    if (written) return flush_folder(folder_of(path));
    ::unlink(temporary.c_str());
    return written;
  }

  bool exists(const fs::path& path) const override {
    std::error_code error;
    return fs::exists(fs::symlink_status(path, error));  // a link that leads nowhere stands there, too
  }

  bool is_folder(const fs::path& path) const override {
    std::error_code error;
    return fs::is_directory(path, error);
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
    std::error_code error;
    fs::create_directories(path, error);
    if (error) return cannot("write", path, error.value());
    return Done{};
  }

  Result<Done> rename(const fs::path& from, const fs::path& to) override {
    if (is_folder(to)) return cannot("write", to, EEXIST);  // rename(2) would take an empty one
    if (::rename(from.c_str(), to.c_str()) != 0) return cannot("write", to, errno);
    return flush_folder(folder_of(to));
  }

  Result<Done> remove_all(const fs::path& path) override {
    std::error_code error;
    fs::remove_all(path, error);
    if (error) return cannot("remove", path, error.value());
    return Done{};
  }

  Result<Done> exchange(const fs::path& a, const fs::path& b) override {
#ifdef RENAME_EXCHANGE
    if (::renameat2(AT_FDCWD, a.c_str(), AT_FDCWD, b.c_str(), RENAME_EXCHANGE) == 0) return flush_folder(folder_of(b));
    if (errno != EINVAL && errno != ENOSYS) return cannot("write", b, errno);
#endif
    return FileSystem::exchange(a, b);
  }

  Result<Done> flush(const fs::path& path) override {
    const Descriptor file(path, O_RDONLY | O_NONBLOCK);
    if (!file.ok() || ::fsync(file.number()) != 0) return cannot("write", path, errno);
    return Done{};
  }
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

Result<Done> FileSystem::flush(const fs::path&) {
  return Done{};
}

std::unique_ptr<FileSystem> real_files() {
  return std::make_unique<RealFiles>();
}

}  // namespace pommel
