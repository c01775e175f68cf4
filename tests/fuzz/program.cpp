// Program text (program/reader.h): whatever it says, steps are finite and belong to its lines, and reading it twice gives the same.
#include <cmath>
#include <string>

#include "fuzz/fuzz.h"
#include "program/reader.h"

namespace pommel::fuzz {

void try_one(std::string_view bytes) {
  if (has_lone_return(bytes)) return;
  constexpr const char* kFile = "leg.ngc";
  Sink sink, again;
  const program::Program read = program::read(bytes, kFile, sink);
  must_be_told_well(sink.all(), bytes, kFile);
  for (const program::Step& step : read.steps) {
    for (const double place : step.to) must(std::isfinite(place), "a step ends somewhere");
    must(std::isfinite(step.feed) && step.feed >= 0, "a feed is finite");
    must(step.line >= 1 && step.line <= read.lines, "a step belongs to a line");
  }
  for (const program::Arc& arc : read.arcs) must(std::isfinite(arc.radius) && arc.radius > 0 && std::isfinite(arc.sweep), "an arc is finite");
  must(program::dump(program::read(bytes, kFile, again)) == program::dump(read), "read twice, the same");
  must(again.all().size() == sink.all().size(), "read twice, the same is said");
}

}  // namespace pommel::fuzz
