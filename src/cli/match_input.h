// What `pommel match` reads, whichever form it has, as measures and wishes.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/files.h"
#include "match/recognise.h"

namespace pommel::cli {

struct MatchInput {
  std::filesystem::path file;
  std::string unit, square, uncertainty, place_uncertainty, gap = "0.1 mm", axis = "found";  ///< as given
  bool end_for_end = false;
};

struct MatchRead {
  std::vector<match::Measure> measures;
  match::Wishes wishes;
  match::Options options;
  std::vector<std::string> remarks;  ///< bench words on the original: how it was laid, bow, ovality of a mesh
};

/// Problems of options and file go to `sink`, all at once. Nothing when it has errors.
std::optional<MatchRead> read_for_match(const MatchInput& input, const FileSystem& files, Sink& sink);

}  // namespace pommel::cli
