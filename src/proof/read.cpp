#include "proof/read.h"

#include <algorithm>

#include "program/reader.h"
#include "program/replay.h"

namespace pommel::proof {

Result<ReadText> read_text(std::string_view program_text, const shop::Machine& machine, const std::string& name) {
  Sink sink;
  program::Program program = program::read(program_text, name, sink, program::read_options(machine));
  if (sink.has_errors()) return Failure(sink.all());
  auto replayed = program::replay(program, machine, name);
  if (!replayed) return replayed.failure();
  ReadText read{std::move(replayed->paths), {}};
  auto warn = [&](const Diagnostic& d) {
    if (d.severity != Severity::note) read.warnings.push_back({Severity::warning, d.id, d.message, d.remedy, d.place.line, {}});
  };
  for (const Diagnostic& d : sink.all()) warn(d);
  for (const Diagnostic& d : replayed->warnings) warn(d);
  return read;
}

Result<std::vector<const shop::Cutter*>> cutters_for(const std::vector<motion::Path>& paths, const std::vector<shop::Cutter>& cutters) {
  const bool in_turn = paths.size() == cutters.size() && std::all_of(paths.begin(), paths.end(), [](const motion::Path& path) { return path.cutter.empty(); });
  std::vector<const shop::Cutter*> out;
  for (const motion::Path& path : paths) {
    const auto named = std::find_if(cutters.begin(), cutters.end(), [&](const shop::Cutter& cutter) { return cutter.id == path.cutter; });
    if (in_turn) {
      out.push_back(&cutters[out.size()]);
    } else if (named != cutters.end() || cutters.size() == 1) {
      out.push_back(named != cutters.end() ? &*named : &cutters.front());
    } else {
      std::string known;
      for (const shop::Cutter& cutter : cutters) known += (known.empty() ? "" : ", ") + cutter.id;
      return fail("proof.which-cutter", path.cutter.empty() ? "the program does not say which cutter is in the spindle"
                                                            : "the program is for cutter '" + path.cutter + "', which is not among those of the check: " + known,
                  "write a comment (cutter: name) before each cutter's first move");
    }
  }
  return out;
}

}  // namespace pommel::proof
