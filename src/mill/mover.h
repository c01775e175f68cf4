// Turns a pass into moves: how the cutter gets to where it cuts, goes down, and gets away.
//
// No move sinks faster than the plunge feed. Coming down: rapid to 2 mm above whatever may stand there (leftover.h: an
// upper bound for the blank with all tolerances and what earlier passes took off it), from there at the plunge feed.
//
// Between two cuts the piece is turned at the clear height only. Where it need not be turned, the cutter lifts no
// higher than 2 mm over whatever may stand between the two places in any direction, and runs along there.
#pragma once

#include <string>

#include "mill/leftover.h"
#include "mill/setup.h"

namespace pommel::mill {

class Mover {
 public:
  /// `wood`: what may stand when the pass begins. `spare_shank`: pass.h. All arguments outlive the mover.
  Mover(const Setup& setup, const Leftover& wood, double plunge_share, double along, bool spare_shank, motion::Path& path);

  void begin(const std::string& stage);
  void end();

  /// The direction a with the whole turns that bring it nearest to where the rotary stands; on a machine with limited
  /// turns always within the first.
  double near(double a) const;
  /// mm along x where the cutter stands.
  double x() const { return now().x; }
  /// Where the rotary stands.
  double a() const { return now().a; }

  /// To the start of a line at (x, z) in the direction a, at feed for the last 2 mm above what may stand there.
  void enter(const LinePoint& at, double a);
  /// To the start of a turning run: down at feed to what may stand there in any direction, and from there to the depth
  /// within one turn. `sense` +1: a grows. Adds its positions to `turning`.
  void enter_turning(const LinePoint& at, double a, double sense, std::vector<motion::Position>& turning);
  /// Cuts straight on to (x, z) at the present direction.
  void line_to(const LinePoint& to);
  /// Cuts on while the piece turns by `turn`, in moves short enough that the speed over the wood holds as the radius
  /// changes. Adds its positions to `turning`.
  void turn_to(const LinePoint& to, double turn, std::vector<motion::Position>& turning);
  /// Out of the wood at feed: the far side of a valley may still stand proud of the cutter's side.
  void leave();
  /// Up to the clear height, at the end of a pass.
  void rise();

  /// Fails with "mill.shank" when shank or collet came into standing wood on any move so far.
  Result<Done> shank_is_clear() const;

 private:
  motion::Position now() const { return path_.moves.empty() ? path_.start : path_.moves.back().to; }
  double standing_round(double x0, double x1) const;
  void travel(double x, double a, double down_to);
  void rapid(const motion::Position& to);
  void feed(const motion::Position& to, double speed);
  void go_down(const motion::Position& to);
  void look_at_shank(const motion::Position& p, bool turning);

  const Setup& setup_;
  const Leftover& wood_;
  Skyline skyline_;
  double plunge_share_, along_;
  bool spare_shank_;
  motion::Path& path_;
  double speed_;
  double rub_ = 0, rub_x_ = 0;
  const char* rub_part_ = "";
};

}  // namespace pommel::mill
