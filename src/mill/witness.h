// The witness flat: a level place in the waste of a round blank, by which A0 is found again when the piece has slipped in the chuck.
//
// It lies beside the chuck where no pass of the turning comes, so that it stands to the end; it is square to face A's direction and cut
// first, before anything can slip. Lines run along x at a row of directions about that one; at each the cutter stands on the plane.
//
// Over a plane at the height h an end with a level disc of radius f and a rim rounded by c stands at
//     tip = (h + c + f |sin a|) / cos a - c
// when the wood is turned by a: the rim's centre is c over the plane. It touches the plane (h + c) tan |a| + f / cos a beside the
// middle, outwards of what it clears. Between a line and the next one outwards, s beside it, what is left stands no higher than the
// sag of their rounded rims, c - sqrt(c² - s²/4), nor than s tan a, where the next one's disc leans over it.
#pragma once

#include <optional>
#include <stop_token>
#include <vector>

#include "mill/setup.h"

namespace pommel::mill {

/// mm above the axis: tip of a cutter that stands on the plane at `height` when the wood is turned by a. REQUIRES: |a| < a quarter turn.
double tip_over_plane(const Foot& foot, double height, double a);

/// Directions from 0 upwards, radians, of lines that lay a plane bare from its middle to `half` mm beside it, with ridges of `cusp` mm at
/// most; the lines at their opposites do the other side. REQUIRES: height, half and cusp above 0.
std::vector<double> lines_over_plane(const Foot& foot, double height, double half, double cusp);

struct WitnessFlat {
  double x0 = 0, x1 = 0;  ///< mm from the head: it is level between them
  double height = 0;      ///< mm above the axis
  double width = 0;       ///< mm across, at least: on the least blank that the shop admits
};

struct Witness {
  WitnessFlat flat;
  motion::Path path;  ///< of one stage, "witness flat"
};

/// mm of waste beside the chuck that a round blank needs over waste_beyond_end(), so that it has room for a flat 15 mm long. `cutters`: all of
/// the job, the one that roughs first. REQUIRES: at least one.
double witness_waste(const std::vector<shop::Cutter>& cutters);

/// `passes`: of the whole turning; the flat keeps out of what they touch. `cutters`: of the job, among them every pass's; the first pass's
/// cuts the flat. None for a square blank, and where the waste or the machine's travel leaves no room for one 12 mm long.
/// `climb`: else conventional (pass.h). Fails as set_up() and within_machine() do, and with "mill.shank", "cancelled".
/// REQUIRES: a pass at least.
Result<std::optional<Witness>> plan_witness(const shape::Part& turned, const shape::Blank& blank, const shape::BlankTolerance& tolerance,
                                            const std::vector<shop::Cutter>& cutters, const shop::Machine& machine,
                                            const std::vector<motion::Path>& passes, bool climb, std::stop_token stop);

}  // namespace pommel::mill
