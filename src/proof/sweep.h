// Any convex cutter on its way along a move against one ray from the axis: double precision, one ray at a time, the move's true path
// (no chords). The ball has a faster route (proof/kernel.h); this one also judges that.
//
// A ray at distance dx along x and angle phi sideways from the cutter is met at the least p with
//     p cos(phi) >= z + t(hypot(dx, p sin(phi))),
// found by Newton's steps from below, which cannot overshoot because t is convex. Along a move without a turn the meeting is a convex
// function of the way gone, so the surface that the cutter sweeps has a lowest point over every lateral distance, at a place that
// depends on the slope alone; with a turn (at most 5 degrees at once) the sign of the derivative is bisected.
#pragma once

#include <optional>

#include "motion/motion.h"
#include "proof/tool.h"

namespace pommel::proof {

/// Where a ray enters and leaves; tip: height of the cutter's tip along its own axis at that moment, mm.
struct Meeting {
  double entry = 0, exit = 0, tip = 0;
};

/// One move (or a piece of one) of at most 5 degrees of turn.
class Sweep {
 public:
  /// Keeps a reference to `tool`.
  Sweep(const Tool& tool, const motion::Position& from, const motion::Position& to);

  /// The least entry into what is swept, with the exit at that same place of the cutter (what is swept reaches at least so far);
  /// nothing when the ray misses the cutter. `x` mm, `theta` radians (any turn).
  std::optional<Meeting> meet(double x, double theta) const;
  /// The lowest point that a move without a turn along x sweeps straight under its path in the plane at x, mm; 1e9 out of reach. `off`: how
  /// far before that plane the cutter then stands, `tip`: at which height.
  double lowest(double x, double& off, double& tip) const { return lowest_at(x - from_.x, 0, off, tip); }

 private:
  std::optional<Meeting> at(double share, double dx, double phi, double& growth) const;
  std::optional<Meeting> straight(double dx, double phi) const;
  std::optional<Meeting> turning(double dx, double phi) const;
  std::optional<Meeting> leaving(double entry, double d, double z, double sine, double cosine) const;
  double ahead(double l, double half) const;
  double lowest_at(double dx, double l, double& d, double& z) const;

  const Tool& tool_;
  motion::Position from_, to_;
  double dx_ = 0, dz_ = 0, da_ = 0;
  double slope_ = 0;                          ///< |dz/dx| of a move without a turn along x
};

/// The deepest entry of a whole move, cut into pieces of at most 5 degrees; nothing when it misses.
std::optional<Meeting> meet_move(const Tool& tool, const motion::Position& from, const motion::Position& to, double x, double theta);

}  // namespace pommel::proof
