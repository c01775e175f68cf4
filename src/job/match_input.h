// What is known of an existing turning, whichever form it has, as measures and wishes: for `pommel match` and for the window.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/files.h"
#include "match/recognise.h"

namespace pommel::job {

struct MatchInput {
  std::filesystem::path file;  ///< .dxf, .svg, .stl; any other ending: readings
  std::string unit, square, uncertainty, place_uncertainty, gap = "0.1 mm", axis = "found";  ///< as given
  bool end_for_end = false;
};

struct MatchRead {
  std::vector<match::Measure> measures;
  match::Wishes wishes;
  match::Options options;
  std::vector<std::string> remarks;  ///< bench words on the original: how it was laid, bow, ovality of a mesh
};

/// Problems of options and file go to `sink`, all at once; those of options have the option's name ("--square") as their file. Nothing when it has errors.
std::optional<MatchRead> read_for_match(const MatchInput& input, const FileSystem& files, Sink& sink);
/// The same of bytes in hand: the file gives only the name and, by its ending, the form.
std::optional<MatchRead> read_for_match(const MatchInput& input, const std::string& bytes, Sink& sink);

}  // namespace pommel::job
