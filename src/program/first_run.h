// A first program for a machine: marks on a scrap cylinder that show its sense, zero and degrees a turn before any leg is cut.
#pragma once

#include <string>

#include "base/result.h"
#include "motion/motion.h"
#include "shop/shop.h"

namespace pommel::program {

/// A round scrap that runs true, x = 0 at its head end, and how the marks are cut.
struct Scrap {
  double diameter = 50, length = 150;  ///< mm; the length free of chuck and centre
  double depth = 0.5;                  ///< mm that the marks go below the skin
  double feed = 600;                   ///< mm/min over the wood
};

/// The marks, seen from above with the head to the left (the direction of the wood a grows downwards there):
///
///     |         F, 24 mm high, its middle on a = 0: foot of the stem at a > 0, arms towards the foot of the piece
///     |
///    ring       line on a = 0 from x = 75, round by a growing quarter turn at x = 110, line back on a = 90 degrees to x = 75
///    x = 15
///
/// The ring is an eighth of a turn to either side of a = 0. Fails with program.scrap when the scrap is too small for the marks or
/// does not fit the machine, and with program.machine when the machine's speeds are not stated.
Result<motion::Path> first_run(const shop::Machine& machine, const shop::Cutter& cutter, const Scrap& scrap = {});

/// What to see on the scrap when all is right, and what each wrong setting shows instead; plain text, 80 columns.
std::string first_run_text(const shop::Machine& machine, const Scrap& scrap = {});

}  // namespace pommel::program
