// Everything by which the house writes, as one kind of thing: a folder before, the act, and what may stand there afterwards.
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "base/files.h"

namespace pommel::faults {

using State = std::map<std::string, std::string>;  // files by their names in the folder, with their bytes; a folder ends with '/'

struct Save {
  std::string name;
  std::function<void(FileSystem& files, const std::filesystem::path& folder)> prepare;
  /// From what stands there, old or new, to the new state.
  std::function<Result<Done>(FileSystem& files, const std::filesystem::path& folder)> act;
};

/// The job folder, fresh and replaced; an order, the copy of unsaved changes; a design anew and its next revision; the shop's
/// rates; an older file brought up to date.
const std::vector<Save>& saves();

/// All that stands below a folder.
State state_of(const std::filesystem::path& folder);
/// The same without what is hidden: locks and temporary siblings.
State seen(const State& state);

/// The names under which two states differ, one a line; empty when they are the same.
std::string difference(const State& one, const State& other);

}  // namespace pommel::faults
