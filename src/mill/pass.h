// A pass: the cutter follows a surface stretch by stretch, lengthwise or round and round, whichever is sooner done.
//
// The rows that have wood are divided where the section stops being round, and the rest at the crests and valleys of the
// piece. On a stretch whose section is round throughout (the envelope is the same all round), the cutter may go round and
// round (round.h); elsewhere it goes lengthwise (lengthwise.h). Round stretches of a pass are cut first: lines that run
// downhill towards them then end over wood that is already away.
//
// The choice is by computed time (stretches.cpp): turns times the way round at each radius, the rotary's greatest speed
// held, against lines times their way with what each costs in lifts. A machine whose turns are limited gets no pass that
// needs more of them.
//
// Where wood that is higher than the flutes reach stands beside a round stretch (a pommel's wall with its allowance, say),
// the cutter does not go round: it would come to the wall from the side, and its shank would rub, however slim. Lines come
// down along the wall, so the shank follows where the flutes have been, and lines beside it come after them. So finishing
// does; in roughing the layers above have taken the wall's wood down to the allowance, which the whole cutter keeps.
//
// Along a rope twist finishing lines turn with it (Stretch::lead), each along one place of its strands from end to end, one of them in every
// hollow. Straight ones go over every strand: a barley twist leg took 124,600 moves for it, up and down, and takes 9,300. Where grooves or
// reeds cross the twist, the outline is steep, the rotary has too few turns, or the order asks for lengthwise passes, they run straight.
//
// Climb and conventional. The spindle turns clockwise seen from above (M3), so with up = the direction of the wood under
// the cutter a tooth at the offset p from the cutter's axis moves as (-up) x p. In the frame (along x, sideways = growing
// theta, up), whose handedness is the left one, that is: a tooth on the side of growing x moves to growing theta, a tooth
// on the side of growing theta moves to falling x. Conventional is where the teeth in the wood move as the cutter moves
// over it; climb where they move against it. Hence
//     round and round, progressing along dx:      conventional when  da dx > 0;
//     lengthwise along dx, lines progressing da:  conventional when  da dx < 0.
#pragma once

#include <functional>
#include <stop_token>
#include <string>
#include <vector>

#include "mill/envelope.h"
#include "mill/leftover.h"
#include "mill/setup.h"

namespace pommel::mill {

/// Which way a stretch is cut. `fastest` is a wish only: round and round where the section is round and that takes less
/// time.
enum class Way { lengthwise, round, fastest };

/// What a pass follows: the tip goes to max(envelope, floor), where that is lower than `below` and than what is left of the wood.
struct Surface {
  const Envelope* envelope = nullptr;     ///< of the cutter's end with the allowance all round
  double lift = 0;                        ///< mm: the cutter's tip above that of the envelope's (a ball grown by the allowance)
  double floor = 0;                       ///< mm; -infinity: none
  std::function<double(double a)> below;  ///< tip height under which there is wood to remove at direction a
  const Envelope* left = nullptr;         ///< the same end over what earlier cutters left (left.h); none: the blank stands
  double least = 0;                       ///< mm: what is left is wood to remove where it holds the tip so much higher

  /// Of a height that fill() gave.
  double lowest(double filled) const { return filled - envelope->reference() + lift; }
  double tip_of(double filled) const { return std::max(lowest(filled), floor); }
  double tip(double x, double a) const { return std::max(envelope->tip_height(x, a) + lift, floor); }
  /// Whether there is wood to remove: `filled` by the envelope, `standing` by the one of what is left.
  bool wood(double filled, double standing, double below_here) const {
    return lowest(filled) < below_here && (!left || standing - left->reference() > tip_of(filled) + least);
  }
};

class LineMemo;

/// A cutter that has worked before another one.
struct Earlier {
  shop::Cutter cutter;
  double allowance = 0;            ///< mm that it left all over
  const Leftover* wood = nullptr;  ///< what may stand after it
};

struct PassSettings {
  std::string name;           ///< of the stages: "finish"
  double allowance = 0;       ///< mm of wood that the pass leaves all over: the surface has it
  Way way = Way::fastest;     ///< lengthwise: everywhere; round: wherever the section is round
  double cusp = 0.02;         ///< mm: ridge between neighbouring lines
  double round_cusp = 0.02;   ///< mm: ridge between neighbouring turns
  double stepover = 0;        ///< mm along the skin between neighbouring lines or turns, where it is given and not the ridges; else 0
  double along = 0.005;       ///< mm: moves stay this near to the surface
  double row_step = 0.1;      ///< mm between the samples along x
  double prominence = 0.3;    ///< mm: lower crests and shallower valleys do not split a line
  double plunge_share = 0.4;  ///< of the cutting speed, for coming down into wood
  bool both_ways = false;     ///< gentle lines may be run from either end (lengthwise.h)
  bool climb = false;         ///< else conventional; of no effect on lines run both ways
  bool spare_shank = false;   ///< no turns where they would bring the shank to wood
  LineMemo* memo = nullptr;   ///< lines of earlier passes (line_memo.h); none: all are worked out
};

/// A valley along the piece that gets a line of its own: its direction, radians in [0, 2 pi), and the stretch on which it runs, mm.
struct Valley {
  double a = 0, x0 = 0, x1 = 0;
};

struct Stretch {
  double x0 = 0, x1 = 0;  ///< mm
  int lines = 0;          ///< round the piece, were it cut lengthwise
  Way way = Way::lengthwise;
  double turns = 0;       ///< of a round stretch, rings at its ends not counted
  bool falls = true;      ///< towards growing x
  bool for_shank = false;  ///< lengthwise, since the shank would rub somewhere if the cutter went round
  double lead = 0;         ///< radians for each mm along: its lines turn with a twist; 0: they run straight
  double first = 0;        ///< radians: the direction of one of them at x0
  std::vector<Valley> valleys = {};  ///< growing a: further lines, where none of the even ones runs along a narrow valley
};

/// What was cut, for the state of the wood: a line at one direction, or a path that turns.
struct Cut {
  double a = 0;
  std::vector<LinePoint> points;
  std::vector<motion::Position> turning;
};

struct Pass {
  std::vector<Stretch> stretches;  ///< head to foot
  std::vector<Cut> cuts;
};

/// Adds the pass to the path (whose last position is at the clear height, or which has none yet). `wood`: what may
/// stand when the pass begins. Fails with
///   "mill.shank": shank or collet would rub on standing wood; says where and what reach it needs;
///   "cancelled", "mill.grid".
Result<Pass> cut_pass(const Setup& setup, const Surface& surface, const PassSettings& settings, const Leftover& wood,
                      motion::Path& path, std::stop_token stop);

/// The wood after the cuts.
void take_off(Leftover& wood, const std::vector<Cut>& cuts, const Foot& foot);

/// The stretches of the pass, head to foot. `wood`: what stands when it begins.
Result<std::vector<Stretch>> stretches_of(const Setup& setup, const Surface& surface, const PassSettings& settings,
                                          const Leftover& wood, std::stop_token stop);

/// The rows of a stretch: even, and crowded where the cutter rolls over a corner, at whose side its path is plumb. `rolling`: its end with
/// the allowance all round.
std::vector<double> rows_of(const Stretch& stretch, const Setup& setup, const Foot& rolling, double step);

}  // namespace pommel::mill
