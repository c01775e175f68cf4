// For this room only: from the cuts of all runs to what is told of them.
#pragma once

#include "match/recognise.h"

namespace pommel::match {

struct Cuts {
  double head = 0, foot = 0, square = 0;
  const std::vector<Between>& squares;
  const std::vector<Run>& runs;
  const std::vector<Cut>& cuts;  ///< beside the runs
  Prices prices;
};

Recognition told(const std::vector<Measure>& measures, const Cuts& cuts);

}  // namespace pommel::match
