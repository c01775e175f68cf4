// The leg that the checks are timed on: 720 mm, 60 mm square, its middle turned (6 mm beads, coves, vase, taper to 14 mm), a 4 mm ball.
// Two texts: the one the house plans, roughing and finishing, and one as dense as a plan can be: a line every half degree over the whole
// leg, its tip asked every 0.4 mm and merged to 0.005 mm.
#pragma once

#include <string>
#include <vector>

#include "motion/motion.h"
#include "shape/blank.h"
#include "shape/part.h"
#include "shop/shop.h"

namespace pommel::bench {

struct Leg {
  shape::Part part;
  shape::Blank blank;
  shape::BlankTolerance tolerance;
  shop::Cutter cutter;
  shop::Machine machine;
  motion::Path planned, dense;
};

/// Made once. Ends the process with the reasons on standard error when it cannot be planned.
const Leg& leg();

/// The same with square head, taper and foot longer or shorter, so that it is `length` mm long (from 300), planned. Made anew each time.
Leg planned_leg(double length);

/// Its text for its machine.
std::string text_of(const Leg& leg, const motion::Path& path);

}  // namespace pommel::bench
