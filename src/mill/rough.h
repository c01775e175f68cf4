// Roughing: from the blank down in layers, so that the finishing pass meets only the allowance.
//
// Layer by layer the tip goes to max(envelope + allowance, layer height), lengthwise or round and round as in pass.h
// with coarser lines, conventional unless climb is asked for: a drive with play is not dragged along by the cutter.
// The allowance is true normal depth: the envelope is that of a ball larger by it. The layers are
// max_depth_of_cut apart less the ridge that the layer above has left between its lines, so the cutter never enters
// deeper than it may. Whether a layer has wood at a place is settled by formula, not by a map: the blank with all
// tolerances stands above the tip, and the layer before did not yet reach the allowance there.
//
// A cutter that is not the finishing one may leave whole hollows: then the finishing one roughs those in layers first (left.h).
//
// What the finishing pass then meets, measured as its ball's penetration, is at most the allowance and the ridge on
// rounds and flats; in an inside corner of angle 2b it is the allowance over sin b. That holds for a ball no smaller
// than this one: a smaller one also enters hollows that were closed to this.
#pragma once

#include <stop_token>
#include <string>
#include <vector>

#include "mill/pass.h"

namespace pommel::mill {

struct RoughSettings {
  double allowance = 0.5;  ///< mm of wood left for finishing, square to the surface
  double cusp =
      0.5;  ///< mm: ridge between neighbouring lines; at most a third of the depth of cut and a quarter of the ball
  double round_cusp = 1.0;    ///< mm: ridge between neighbouring turns; bounded as the cusp is
  double along = 0.05;        ///< mm: moves stay this near to the surface
  double prominence = 1.0;    ///< mm: lower crests do not split a line
  double plunge_share = 0.4;  ///< of the cutting speed
  Way way = Way::fastest;
  bool climb = false;
  std::string name = "rough";  ///< of the stages
  double widest = 0;           ///< mm: radius of the widest cutter of the job (setup.h)
  LineMemo* memo = nullptr;    ///< pass.h
};

struct Rough {
  motion::Path path;  ///< no moves where nothing stands above the allowance
  Leftover wood;      ///< what may stand afterwards
  int layers = 0;
  double clear_height = 0;
};

/// With a ball, a flat end or a bull nose. `earlier`: another cutter that has roughed before: then only what it could not reach is
/// cut, and no moves are where it left nothing. Fails as set_up(), cut_pass() and within_machine() do, and with
///   "mill.settings": a cusp, tolerance or share that is no such thing;
///   "mill.allowance": no allowance, or with the cusp more than the depth of cut.
Result<Rough> plan_roughing(const shape::Part& turned, const shape::Blank& blank,
                            const shape::BlankTolerance& tolerance, const shop::Cutter& cutter,
                            const shop::Machine& machine, const RoughSettings& settings, std::stop_token stop,
                            const Earlier* earlier = nullptr);

/// Waste in mm that roughing and finishing want between a turned end of the part and what grips the blank there: for
/// the lines to run past the end, for the ribs of each layer, and for the cutter to keep its distance. `blank_reach`:
/// farthest point of the blank from the axis, with tolerances; `least_radius`: of the part; `holder_top`: how far chuck
/// or centre reach from it. An upper bound, whatever the end's form: lines end by construction where the run past the end and the layers'
/// ribs say, and more layers that begin higher or go lower only add ribs. `cutters`: all of the job, the one that roughs first.
/// REQUIRES: at least one.
double waste_beyond_end(double blank_reach, double least_radius, double holder_top, const RoughSettings& settings,
                        const std::vector<shop::Cutter>& cutters, const shop::Machine& machine);

/// Adds whole turns to a path, so that it begins nearest to where the rotary stands, and nothing is wound back. Not on a machine whose
/// turns are limited.
void wind_on(motion::Path& path, double from, const shop::Machine& machine);

/// One path of one cutter from two: `then` begins where `first` left off, at the clear height.
/// REQUIRES: both of the same cutter, planned for the same blank and machine.
motion::Path joined(const motion::Path& first, const motion::Path& then);

}  // namespace pommel::mill
