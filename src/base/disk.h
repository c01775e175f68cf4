// What the disk's own files share: descriptors, reasons, and new files that their writer alone holds. For src/base alone.
#pragma once

#include <sys/stat.h>
#include <sys/types.h>

#include <cerrno>
#include <filesystem>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/result.h"

namespace pommel::disk {

/// A system call again as long as a signal interrupts it.
template <class Call>
auto again(Call call) {
  auto result = call();
  while (result < 0 && errno == EINTR) result = call();
  return result;
}

/// A descriptor that is closed once; -1 when there is none.
class Descriptor {
 public:
  explicit Descriptor(int number = -1) : number_(number) {}
  Descriptor(const std::filesystem::path& path, int flags, mode_t mode = 0);
  ~Descriptor();
  Descriptor(Descriptor&& other) noexcept : number_(std::exchange(other.number_, -1)) {}
  Descriptor& operator=(Descriptor&&) = delete;

  bool ok() const { return number_ >= 0; }
  int number() const { return number_; }

 private:
  int number_;
};

/// "files.cannot-VERB" with the reason in our words, not the system's: those follow the locale.
Failure cannot(std::string_view verb, const std::filesystem::path& path, int error);

std::filesystem::path folder_of(const std::filesystem::path& path);

/// Makes the folders that are not there, each flushed into the one above. `made`: these, outermost first, also on failure.
Result<Done> make_folders(const std::filesystem::path& path, std::vector<std::filesystem::path>& made);

/// A rename is on the disk when its folder is. Some file systems cannot flush a folder (EINVAL): then nothing is to be waited
/// for. Fails with "files.unconfirmed", of `path`: it is there, and may be gone after a loss of power.
Result<Done> flush_folder_of(const std::filesystem::path& path);

bool write_all(int file, std::string_view bytes);

/// A new empty file, locked by flock(2) as long as its descriptor is open, so that a process that ends, however it does, holds
/// nothing. One that a dead process left is replaced; that of a living one gives no descriptor and EWOULDBLOCK in errno.
/// Whoever has it takes it away or renames it before closing it.
Descriptor new_held_file(const std::filesystem::path& path);

}  // namespace pommel::disk
