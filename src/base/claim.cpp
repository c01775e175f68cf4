#include "base/claim.h"

#include <fcntl.h>
#include <unistd.h>

#include <array>
#include <ctime>

#include "base/disk.h"
#include "base/text.h"

namespace pommel::disk {

namespace fs = std::filesystem;

namespace {

// "process 812 on bench, since 2026-03-02 09:14:07 UTC". For people: nothing is decided by it.
std::string who_we_are() {
  std::array<char, 256> host{};
  if (::gethostname(host.data(), host.size() - 1) != 0) host = {'?'};
  const std::time_t now = std::time(nullptr);
  std::tm utc{};
  ::gmtime_r(&now, &utc);
  std::array<char, 32> when{};
  (void)std::strftime(when.data(), when.size(), "%Y-%m-%d %H:%M:%S", &utc);  // digits alone: no locale
  return "process " + std::to_string(::getpid()) + " on " + host.data() + ", since " + when.data() + " UTC\n";
}

std::string holder_of(const fs::path& lock) {
  const Descriptor file(lock, O_RDONLY | O_NOFOLLOW | O_NONBLOCK);
  std::array<char, 400> says{};
  const ssize_t count = file.ok() ? again([&] { return ::read(file.number(), says.data(), says.size()); }) : 0;
  const std::string who = printable(trimmed(std::string_view(says.data(), count > 0 ? static_cast<std::size_t>(count) : 0)));
  return who.empty() ? "another process" : who;
}

// Folders that were made for a claim go again with it, unless something is in them by then.
struct MadeFolders {
  std::vector<fs::path> folders;  // outermost first

  MadeFolders() = default;
  MadeFolders(MadeFolders&&) = default;
  MadeFolders& operator=(MadeFolders&&) = delete;
  ~MadeFolders() {
    for (auto folder = folders.rbegin(); folder != folders.rend(); ++folder) ::rmdir(folder->c_str());
  }
};

class HeldOnDisk : public Claim {
 public:
  HeldOnDisk(MadeFolders made, Descriptor file, fs::path lock) : made_(std::move(made)), file_(std::move(file)), lock_(std::move(lock)) {}
  ~HeldOnDisk() override { ::unlink(lock_.c_str()); }  // while it is still ours: the descriptor is closed after this

 private:
  MadeFolders made_;
  Descriptor file_;
  fs::path lock_;
};

}  // namespace

Result<std::unique_ptr<Claim>> claim(const fs::path& path) {
  const fs::path lock = folder_of(path) / ("." + path.filename().generic_string() + ".lock");
  constexpr int kMostRounds = 10;
  for (int round = 1;; ++round) {
    MadeFolders made;
    if (auto ready = make_folders(folder_of(path), made.folders); !ready) return ready.failure();
    Descriptor file = new_held_file(lock);
    if (file.ok()) {
      (void)write_all(file.number(), who_we_are());  // on a full disk it stays empty, and holds all the same
      return std::unique_ptr<Claim>(std::make_unique<HeldOnDisk>(std::move(made), std::move(file), lock));
    }
    if (errno == EWOULDBLOCK) {
      return fail("files.held", "'" + path.generic_string() + "' is being written by " + holder_of(lock), "wait until that has ended, or end it",
                  {path.generic_string(), 0, 0});
    }
    // another claim's end took the folder away with it
    if (errno != ENOENT || round == kMostRounds) return cannot("write", path, errno);
  }
}

}  // namespace pommel::disk
