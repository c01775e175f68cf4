// The finishing pass: the ball runs over the envelope, lengthwise line beside line or round and round (pass.h), only where
// the blank has wood to remove.
//
// Moves never lie below the envelope: they follow one of a ball larger by half of `along`, and stay within the other half of it.
//
// The lines lie so near that the ridge between them is no higher than the wished cusp at the largest radius of each
// stretch (feed.h). Along a line the moves stay within `along` of the envelope. Lines go on past both
// ends of the part by the ball's radius and half a millimetre, where there is wood to cut there; a square end that is
// not cut is left alone.
//
// After another cutter only what that one could not reach is cut (left.h).
//
// "Wood to remove" is settled by the blank's own envelope: where the ball over the blank as ordered stands no higher
// than over the part (by 0.002 mm), nothing is cut. So the flats of a square milled to its finished section are not
// touched.
#pragma once

#include <optional>
#include <stop_token>
#include <string>

#include "mill/pass.h"

namespace pommel::mill {

struct FinishSettings {
  double cusp = 0.02;         ///< mm
  double stepover = 0;        ///< mm along the skin; above 0 it is taken as given, whatever ridge it leaves
  double along = 0.005;       ///< mm
  double prominence = 0.3;    ///< mm: lower crests and shallower valleys do not split a line
  double plunge_share = 0.4;  ///< of the cutting speed
  Way way = Way::fastest;
  bool climb = false;
  std::string name = "finish";  ///< of the stages
  bool keep_wood = false;       ///< work out what stands afterwards, for a further cutter
  double widest = 0;            ///< mm: radius of the widest cutter of the job (setup.h)
  LineMemo* memo = nullptr;     ///< pass.h
};

struct Finish {
  motion::Path path;  ///< no moves where the blank is the part already
  std::vector<Stretch> stretches;
  double clear_height = 0;  ///< mm: of all rapids along and round
  double least_tip = 0;     ///< mm: the lowest the tip goes
  std::optional<Leftover> wood = {};  ///< what may stand afterwards, where that was asked for
};

/// `roughed`: the wood after roughing; without it the blank stands whole. `earlier`: another cutter that has finished before: then
/// only what it left beyond its reach is cut, and no moves are where it left nothing. Fails as set_up(), cut_pass() and
/// within_machine() do, and with
///   "mill.settings": cusp, tolerance or shares that are no such thing;
///   "mill.rough-first": without roughing the cutter would enter deeper than it may.
Result<Finish> plan(const shape::Part& turned, const shape::Blank& blank, const shape::BlankTolerance& tolerance,
                    const shop::Cutter& cutter, const shop::Machine& machine, const FinishSettings& settings,
                    std::stop_token stop, const Leftover* roughed = nullptr, const Earlier* earlier = nullptr);

}  // namespace pommel::mill
