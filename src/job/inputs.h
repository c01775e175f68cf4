// The files that a job is made from, for its manifest.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "job/load.h"

namespace pommel::job {

/// Collects what was read, named from the house.
class Inputs {
 public:
  /// REQUIRES: `house` outlives it.
  explicit Inputs(const designs::House& house) : house_(house) {}

  void saw(const std::filesystem::path& path, const std::string& text);
  /// What was read before, but for the files that `but` says yes to by their name: those are read anew.
  template <class But>
  void keep(const std::vector<InputFile>& before, const But& but) {
    for (const InputFile& file : before)
      if (!but(file.name)) files_.push_back(file);
  }
  /// By name.
  std::vector<InputFile> take();

 private:
  const designs::House& house_;
  std::vector<InputFile> files_;
};

/// Whether a file of that name is one of the shop's.
bool of_the_shop(const std::string& name);

}  // namespace pommel::job
