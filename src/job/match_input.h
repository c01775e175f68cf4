// What is known of an existing turning, whichever form it has, as measures and wishes: for `pommel match` and for the window.
#pragma once

#include <array>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
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

/// What was drawn or scanned with readings and notes taken of the same piece, both counted from one place. What the readings say of head, foot and
/// square stands over what the drawing says.
MatchRead with_readings(MatchRead drawn, const MatchRead& readings);

/// Rows of readings as they are written: place, diameter, uncertainty, note (exchange/readings.h).
using ReadingCells = std::array<std::string, 4>;
std::vector<ReadingCells> reading_cells(std::string_view text, const std::string& file, Sink& sink);

}  // namespace pommel::job
