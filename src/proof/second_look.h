// A second look at rays on which wood seems to be left.
//
// The removal remembers one gap of a ray (removal.h), so that wood undercut from the side can count as standing although later moves have taken
// it: rather too often than too seldom. Where that makes a leftover, the ray is cut again by itself, every move along its true path (sweep.h),
// and every gap is kept. What then still stands is left; wood is never thought gone that no move has met.
#pragma once

#include <span>
#include <stop_token>
#include <vector>

#include "motion/motion.h"
#include "proof/grid.h"
#include "proof/tool.h"

namespace pommel::proof {

/// A cutter and its motions, in the order of the program.
struct Worked {
  const motion::Path* path = nullptr;
  const Tool* tool = nullptr;
};

/// The outermost wood, mm from the axis, that all the moves leave of a ray that reached out to `start`. Rapids do not cut. Turning moves are looked
/// at in steps of at most 0.25 degrees: the gaps between them count as wood, so the answer is never too low.
double standing_on(std::span<const Worked> all, double x, double theta, double start);

/// More rays than this are not looked at again: such a program has more wrong with it than an undercut.
inline constexpr std::size_t kMostSecondLooks = 4000;

}  // namespace pommel::proof
