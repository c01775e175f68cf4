// Cutting along the piece, line beside line: what roughing and finishing have in common.
//
// The pass is divided into stretches at the crests and valleys of the piece; all lines of one stretch are cut before
// the next. A line runs downhill, from its crest to its valley: with the grain of a turned piece, from large to small.
// At its end the cutter leaves the wood at feed, goes up at rapid to the clear height, and only there turns the piece
// and goes back.
//
// No move sinks faster than the plunge feed. Coming down: rapid to 2 mm above whatever may stand there (leftover.h: an
// upper bound for the blank with all tolerances and what earlier passes took off it), from there at the plunge feed.
#pragma once

#include <functional>
#include <stop_token>
#include <string>
#include <vector>

#include "mill/envelope.h"
#include "mill/leftover.h"
#include "mill/setup.h"

namespace pommel::mill {

/// What a pass follows: the tip goes to max(envelope, floor), where that is lower than `below`.
struct Surface {
  const Envelope* envelope = nullptr;     ///< of a ball as large as the cutter's and the allowance together
  double ball = 0;                        ///< the cutter's, mm
  double floor = 0;                       ///< mm; -infinity: none
  std::function<double(double a)> below;  ///< tip height under which there is wood to remove at direction a

  double tip_of(double centre) const { return std::max(centre - ball, floor); }
  double tip(double x, double a) const { return tip_of(envelope->centre_height(x, a)); }
};

struct LengthwiseSettings {
  std::string name;           ///< of the stages: "finish"
  double cusp = 0.02;         ///< mm: ridge between neighbouring lines
  double along = 0.005;       ///< mm: moves stay this near to the surface
  double row_step = 0.1;      ///< mm between the samples along x
  double prominence = 0.3;    ///< mm: lower crests and shallower valleys do not split a line
  double plunge_share = 0.4;  ///< of the cutting speed, for coming down into wood
};

struct Stretch {
  double x0 = 0, x1 = 0;  ///< mm
  int lines = 0;          ///< round the piece
};

/// A line as it was cut: for the state of the wood.
struct Cut {
  double a = 0;
  std::vector<LinePoint> points;
};

struct Lengthwise {
  std::vector<Stretch> stretches;
  std::vector<Cut> cuts;
};

/// Adds the pass to the path (whose last position is at the clear height, or which has none yet). `wood`: what may
/// stand when the pass begins. Fails with
///   "mill.shank": shank or collet would rub on standing wood; says where and what reach it needs;
///   "mill.cancelled", "mill.grid".
Result<Lengthwise> cut_lengthwise(const Setup& setup, const Surface& surface, const LengthwiseSettings& settings,
                                  const Leftover& wood, motion::Path& path, std::stop_token stop);

/// The stretches of the pass, head to foot.
Result<std::vector<Stretch>> stretches_of(const Setup& setup, const Surface& surface,
                                          const LengthwiseSettings& settings, std::stop_token stop);

}  // namespace pommel::mill
