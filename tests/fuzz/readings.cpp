// Calliper readings (exchange/readings.h): what was accepted is finite and above nothing.
#include <cmath>

#include "exchange/readings.h"
#include "fuzz/fuzz.h"

namespace pommel::fuzz {

void try_one(std::string_view bytes) {
  Sink sink;
  const auto readings = exchange::read_readings(bytes, "leg.csv", LengthUnit::millimetre, sink);
  must_be_told_well(sink.all(), bytes, "leg.csv");
  if (sink.has_errors()) return;
  must(!readings.empty(), "readings, or a reason why there are none");
  for (const exchange::Reading& one : readings) {
    must(std::isfinite(one.x), "a place is finite");
    must(!one.diameter || (std::isfinite(*one.diameter) && *one.diameter > 0), "a diameter is above nothing");
    must(!one.uncertainty || (std::isfinite(*one.uncertainty) && *one.uncertainty > 0), "an uncertainty is above nothing");
    must(one.place.line >= 1, "a reading has its row");
  }
}

}  // namespace pommel::fuzz
