// What is known of an existing turning, whichever form it has, as measures and wishes: for `pommel match` and for the window.
#pragma once

#include <array>
#include <filesystem>
#include <memory>
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

  bool operator==(const MatchInput&) const = default;
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

/// Reads as read_for_match does, and answers from its last reading while options, name and bytes are the same: whoever edits readings beside a scan of a
/// million triangles waits for the fit alone, not for the scan (1.5 s) at each edit.
/// Thread rule: one thread at a time.
class ReadOnce {
 public:
  /// REQUIRES: bytes, which nobody changes any more; other contents are other bytes, at another address while these are kept here.
  std::optional<MatchRead> read(const MatchInput& input, const std::shared_ptr<const std::string>& bytes, Sink& sink);
  /// Lets go of bytes and reading.
  void forget() { bytes_.reset(), read_.reset(), said_.clear(); }
  /// How often something was really read.
  int times() const { return times_; }

 private:
  int times_ = 0;
  MatchInput input_;
  std::shared_ptr<const std::string> bytes_;  // kept, so that no others come to stand at their address
  std::optional<MatchRead> read_;
  std::vector<Diagnostic> said_;
};

/// What was drawn or scanned with readings and notes taken of the same piece, both counted from one place. What the readings say of head, foot and
/// square stands over what the drawing says.
MatchRead with_readings(MatchRead drawn, const MatchRead& readings);

/// Rows of readings as they are written: place, diameter, uncertainty, note (exchange/readings.h).
using ReadingCells = std::array<std::string, 4>;
std::vector<ReadingCells> reading_cells(std::string_view text, const std::string& file, Sink& sink);

}  // namespace pommel::job
