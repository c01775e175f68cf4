#include <unistd.h>

#include <algorithm>

#include "base/files.h"
#include "base/names.h"
#include "base/text.h"

namespace pommel {

namespace {

// "out/", "out/." and "out" are one folder; its own name is needed for the sibling's.
std::filesystem::path tidied(const std::filesystem::path& target) {
  std::filesystem::path path = target.lexically_normal();
  return path.has_filename() ? path : path.parent_path();
}

// Before the number of the process that made it.
std::string hidden_name(const std::filesystem::path& target, std::string_view what) {
  return "." + target.filename().generic_string() + "." + std::string(what) + "-";
}

// Whether `name` is `hidden` and a number: no other name is ours to touch.
bool is_numbered(std::string_view name, std::string_view hidden) {
  if (!name.starts_with(hidden) || name.size() == hidden.size()) return false;
  return name.find_first_not_of("0123456789", hidden.size()) == std::string_view::npos;
}

// A folder that is copied to a disk where letters have no case, or where they are taken apart, would lose one of two files.
Result<Done> not_yet(std::string_view name, const std::set<std::string>& names) {
  const auto known = one_file_with({names.begin(), names.end()}, name);
  if (!known) return Done{};
  const std::string message = *known == name ? "'" + printable(name) + "' is written twice into one folder"
                                             : "'" + printable(*known) + "' and '" + printable(name) + "' are one file on some systems";
  return fail("files.twice", message, "give one of the two another name", {}, std::string(name));
}

}  // namespace

FolderInMaking::FolderInMaking(FileSystem& files, std::filesystem::path target, bool replace)
    : files_(files), target_(tidied(target)), replace_(replace) {
  temporary_ = target_.parent_path() / (hidden_name(target_, "in-making") + std::to_string(::getpid()));
}

FolderInMaking::~FolderInMaking() {
  if (made_ && !finished_) (void)files_.remove_all(temporary_);
}

Result<Done> FolderInMaking::claim() {
  if (claim_) return Done{};
  const std::string name = target_.filename().generic_string();
  if (name.empty() || name == "." || name == "..") {
    return fail("files.unsafe-name", "'" + target_.generic_string() + "' does not name a folder that can be made",
                "give the folder a name of its own");
  }
  if (files_.is_link(target_)) return leads_elsewhere(target_);
  auto claimed = files_.claim(target_);
  if (!claimed) return claimed.failure();
  claim_ = std::move(claimed).value();
  return clear_leftovers();
}

// Nobody else makes this folder now, so what stands beside it under our hidden names is of writers that were killed.
Result<Done> FolderInMaking::clear_leftovers() {
  const auto parent = target_.parent_path();
  for (const std::string& name : files_.list(parent.empty() ? std::filesystem::path(".") : parent)) {
    const bool aside = is_numbered(name, hidden_name(target_, "aside"));
    if (!aside && !is_numbered(name, hidden_name(target_, "in-making"))) continue;
    // killed between the renames of an exchange: the old folder has no name but this
    const bool only = aside && !files_.exists(target_);
    if (auto cleared = only ? files_.rename(parent / name, target_) : files_.remove_all(parent / name); !cleared) return cleared;
  }
  return Done{};
}

Result<Done> FolderInMaking::prepare() {
  if (made_) return Done{};
  if (auto claimed = claim(); !claimed) return claimed;
  made_ = true;  // even half made it is to be removed
  return files_.make_folder(temporary_);
}

Result<std::filesystem::path> FolderInMaking::place_for(std::string_view name) {
  std::string why = "it is empty";
  for (const std::string_view part : split(name, '/')) {
    if (is_safe_file_name(part, &why)) continue;
    return fail("files.unsafe-name", "'" + printable(name) + "' cannot be the name of a file in the folder: " + why,
                "choose another name", {}, std::string(name));
  }
  if (auto ready = prepare(); !ready) return ready.failure();
  std::filesystem::path path = temporary_ / std::string(name);
  if (auto made = files_.make_folder(path.parent_path()); !made) return made.failure();
  return path;
}

Result<Done> FolderInMaking::add(std::string_view name, std::string_view bytes) {
  if (auto once = not_yet(name, added_); !once) return once;
  if (auto once = not_yet(name, promised_); !once) return once;
  const auto path = place_for(name);
  if (!path) return path.failure();
  if (auto written = files_.write(*path, bytes); !written) return written;
  added_.emplace(name);
  return Done{};
}

Result<std::filesystem::path> FolderInMaking::path_for(std::string_view name) {
  if (auto once = not_yet(name, added_); !once) return once.failure();
  if (!promised_.contains(std::string(name))) {
    if (auto once = not_yet(name, promised_); !once) return once.failure();
  }
  auto path = place_for(name);
  if (path) promised_.emplace(name);
  return path;
}

Result<Done> FolderInMaking::finish() {
  if (auto ready = prepare(); !ready) return ready;
  for (const std::string& name : promised_) {
    const auto path = temporary_ / name;
    if (!files_.exists(path))
      return fail("files.missing", "'" + name + "' was not written into the folder", "", {}, name);
    if (auto flushed = files_.flush(path); !flushed) return flushed;
  }
  if (!files_.exists(target_)) {
    auto renamed = files_.rename(temporary_, target_);
    finished_ = renamed.ok();
    return renamed;
  }
  if (!replace_ || !files_.is_folder(target_)) {
    return fail("files.exists", "'" + target_.generic_string() + "' exists already",
                "choose another folder, or remove it first", {target_.generic_string(), 0, 0});
  }
  // once swapped, the temporary name holds the old folder
  if (auto swapped = files_.exchange(temporary_, target_); !swapped) return swapped;
  finished_ = true;
  if (!files_.remove_all(temporary_)) left_behind_ = temporary_;
  return Done{};
}

}  // namespace pommel
