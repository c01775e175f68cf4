#include "base/disk.h"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

namespace pommel::disk {

namespace fs = std::filesystem;

namespace {

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
    case EFBIG:
      return "it is larger than a file may be here";
    case EROFS:
      return "the disk can only be read";
    case EIO:
      return "the disk has a fault";
    case ENODEV:
    case ENXIO:
    case ESTALE:
      return "the disk is gone";
    case EMFILE:
    case ENFILE:
      return "too many files are open";
    case ENAMETOOLONG:
      return "the name is too long";
    case ELOOP:
      return "its links lead in a circle";
    case EXDEV:
      return "it is on another disk";
    case ENOLCK:
    case EOPNOTSUPP:
      return "this disk cannot keep two writers apart: it knows no locks";
    default:
      return "system error " + std::to_string(error);
  }
}

// Whether the name still leads to the file that is open: somebody may have renamed or removed it since.
bool still_named(const Descriptor& file, const fs::path& path) {
  struct stat open {}, named {};
  return ::fstat(file.number(), &open) == 0 && ::lstat(path.c_str(), &named) == 0 && open.st_dev == named.st_dev &&
         open.st_ino == named.st_ino;
}

// Takes away what a dead process left. False, with errno, when a living one holds it or the disk refuses.
bool clear_left(const fs::path& path) {
  const Descriptor left(path, O_RDONLY | O_NOFOLLOW | O_NONBLOCK);
  if (!left.ok()) return errno == ENOENT || (errno == ELOOP && ::unlink(path.c_str()) == 0);  // ELOOP: a link; it goes, not its end
  if (again([&] { return ::flock(left.number(), LOCK_EX | LOCK_NB); }) != 0) return false;
  return !still_named(left, path) || ::unlink(path.c_str()) == 0;
}

}  // namespace

Descriptor::Descriptor(const fs::path& path, int flags, mode_t mode)
    : number_(again([&] { return ::open(path.c_str(), flags | O_CLOEXEC, mode); })) {}

Descriptor::~Descriptor() {
  const int error = errno;
  if (number_ >= 0) ::close(number_);
  errno = error;
}

Failure cannot(std::string_view verb, const fs::path& path, int error) {
  const std::string name = path.generic_string();
  return fail("files.cannot-" + std::string(verb), "cannot " + std::string(verb) + " '" + name + "': " + reason(error),
              "check the name, the rights and the room on the disk", {name, 0, 0});
}

fs::path folder_of(const fs::path& path) {
  return path.has_parent_path() ? path.parent_path() : fs::path(".");
}

Result<Done> make_folders(const fs::path& path, std::vector<fs::path>& made) {
  std::vector<fs::path> missing;
  std::error_code error;
  for (fs::path at = path; !at.empty() && !fs::is_directory(at, error); at = at.parent_path()) missing.push_back(at);
  for (; !missing.empty(); missing.pop_back()) {
    const fs::path& next = missing.back();
    if (!next.has_filename()) continue;  // "a/" is "a"
    if (::mkdir(next.c_str(), 0777) == 0) {
      made.push_back(next);
      if (auto flushed = flush_folder_of(next); !flushed) return flushed;
    } else if (const int why = errno; why != EEXIST || !fs::is_directory(next, error)) {
      return cannot("write", path, why == EEXIST ? ENOTDIR : why);
    }
  }
  return Done{};
}

Result<Done> flush_folder_of(const fs::path& path) {
  const Descriptor folder(folder_of(path), O_RDONLY | O_DIRECTORY);
  if (folder.ok() && (again([&] { return ::fsync(folder.number()); }) == 0 || errno == EINVAL)) return Done{};
  const std::string name = path.generic_string();
  return fail("files.unconfirmed", "'" + name + "' was written, and the disk has not confirmed it: " + reason(errno),
              "look at the disk, and write it again", {name, 0, 0});
}

bool write_all(int file, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t count = again([&] { return ::write(file, bytes.data(), bytes.size()); });
    if (count < 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(count));
  }
  return true;
}

Descriptor new_held_file(const fs::path& path) {
  constexpr mode_t kNew = 0666;     // less the umask
  constexpr int kMostRounds = 100;  // each is lost to another process that was quicker
  for (int round = 0; round < kMostRounds; ++round) {
    Descriptor file(path, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW, kNew);
    if (file.ok()) {
      // between the two calls it may be taken for a dead process's
      if (again([&] { return ::flock(file.number(), LOCK_EX | LOCK_NB); }) == 0) {
        if (still_named(file, path)) return file;
      } else if (errno != EWOULDBLOCK) {
        const int error = errno;
        ::unlink(path.c_str());
        errno = error;
        return Descriptor();
      }
    } else if (errno != EEXIST || !clear_left(path)) {
      return Descriptor();
    }
  }
  errno = EWOULDBLOCK;
  return Descriptor();
}

}  // namespace pommel::disk
