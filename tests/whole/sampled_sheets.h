// Sheets of a family drawn at random, as a shop might order them: what a design is proven for and a tenth of that range beyond it at both ends, the
// other measures about the design's own, and wood that is on hand and thick enough for the square. So refusals are those that orders meet, and are counted.
#pragma once

#include <random>
#include <string>
#include <vector>

#include "job/load.h"
#include "whole/house.h"

namespace pommel::whole {

/// The same numbers from the same seed with any library: no distribution of the standard library is used.
class Dice {
 public:
  explicit Dice(unsigned seed) : engine_(seed) {}
  double between(double low, double high) { return low + (high - low) * (static_cast<double>(engine_()) / 4294967296.0); }
  std::size_t below(std::size_t count) { return engine_() % count; }

 private:
  std::mt19937 engine_;
};

designs::House catalog();
job::Loaded loaded(const std::string& design);
/// Every design of the family, in the order of their names.
std::vector<job::Loaded> designs_of(const std::string& family);

/// What to write over the design's own measures.
Extra sampled_sheet(const job::Loaded& of, Dice& dice);

/// "farmhouse-vase, square 60.1 mm ...": for messages.
std::string told(const job::Loaded& of, const Extra& extra);

}  // namespace pommel::whole
