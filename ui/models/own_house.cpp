#include "ui/models/own_house.h"

#include <cstdlib>

namespace pommel::ui {
namespace {

namespace fs = std::filesystem;

Result<Done> copy_into(const FileSystem& files, const fs::path& from, FolderInMaking& to, const std::string& prefix = "", int depth = 0) {
  constexpr int kDeepest = 8;
  if (depth > kDeepest) return fail("ui.too-deep", "'" + from.generic_string() + "' has folders in folders without end", "copy it by hand");
  for (const std::string& name : files.list(from)) {
    if (files.is_folder(from / name)) {
      if (const auto done = copy_into(files, from / name, to, prefix + name + "/", depth + 1); !done.ok()) return done;
      continue;
    }
    const auto bytes = files.read(from / name);
    if (!bytes.ok()) return bytes.failure();
    if (const auto added = to.add(prefix + name, *bytes); !added.ok()) return added;
  }
  return Done{};
}

}  // namespace

fs::path own_house_folder() {
  const char* const data = std::getenv("XDG_DATA_HOME");
  const char* const home = std::getenv("HOME");
  return (data && *data ? fs::path(data) : fs::path(home ? home : ".") / ".local" / "share") / "pommel";
}

Result<Done> make_own_house(FileSystem& files, const fs::path& installed, const fs::path& own) {
  // the catalog last: where it is, the house is whole
  for (const char* part : {"templates", "catalog"}) {
    if (files.exists(own / part)) continue;
    if (!files.is_folder(installed / part))
      return fail("ui.no-house", "the house that comes with the tool is not where it should be, at '" + (installed / part).generic_string() + "'",
                  "install the tool, or start the window in the folder of its source, or name an order");
    FolderInMaking making(files, own / part, false);
    // another first start may be at it: what it made is taken
    if (const auto claimed = making.claim(); !claimed.ok()) return claimed;
    if (files.exists(own / part)) continue;
    if (const auto copied = copy_into(files, installed / part, making); !copied.ok()) return copied;
    if (const auto finished = making.finish(); !finished.ok()) return finished;
  }
  return Done{};
}

}  // namespace pommel::ui
