// How long the machine really takes: every move starts and ends at a speed that its corners and its axes' accelerations
// allow.
//
// Each move is a straight piece in x, y, z and in the arc of the wood under the cutter. It wishes to run at its own
// speed (its length over its minutes; rapids as fast as the axes go). At a corner the path is thought rounded by a
// circle that stays within `corner` mm of it: v = sqrt(a R), R = corner sin(t/2) / (1 - sin(t/2)), t the angle between
// the two moves (180 degrees: straight on). A pass backwards and a pass forwards make the corner speeds reachable, then
// each move is a trapezoid. A control that takes so many lines a second gives every move at least that share of a second.
#pragma once

#include <cstddef>
#include <vector>

#include "motion/motion.h"
#include "shop/shop.h"

namespace pommel::mill {

struct TimeSettings {
  double corner = 0.02;  ///< mm: how far the controller may cut a corner
};

/// Minutes for the whole path from its start. An acceleration that the machine does not state counts as unbounded.
double minutes(const motion::Path& path, const shop::Machine& machine, const TimeSettings& settings = {});

/// What a path asks of the control.
struct Blocks {
  std::size_t count = 0;      ///< moves, each a line of the program
  double most_a_second = 0;   ///< over any kWindow moves one after the other, were they run at their wished speeds
  double turns = 0;           ///< that the rotary winds from its least to its greatest angle
  double least_a = 0, most_a = 0;  ///< radians: those
  static constexpr std::size_t kWindow = 20;  ///< a control buffers at least that many
};
Blocks blocks(const motion::Path& path, const shop::Machine& machine);
/// Of several cutters' paths, one after the other.
Blocks blocks(const std::vector<motion::Path>& paths, const shop::Machine& machine);

/// Seconds for a length (mm) with acceleration a (mm/s²), wished speed v, from speed v0 to v1 (mm/s).
/// Standing start and end: L/v + v/a when L >= v²/a, else 2 sqrt(L/a).
/// REQUIRES: v0, v1 <= v, reachable over the length.
double trapezoid_seconds(double length, double v, double a, double v0, double v1);

/// mm/s through a corner of angle t between the moves (radians; pi is straight on: +infinity).
double corner_speed(double a, double corner, double t);

}  // namespace pommel::mill
