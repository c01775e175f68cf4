// Cutting along the piece, line beside line.
//
// A line runs downhill, from its crest to its valley: with the grain of a turned piece, from large to small. A line that
// nowhere leans more than 1 in 20 is not uphill in grain terms whichever way it is run: the fibres of a board run out of
// true by as much themselves (Wood Handbook FPL-GTR-190, ch. 5, slope of grain; the limit of 1 in 20 is common practice).
// Where lines may be run both ways, such a line begins at the end that is nearer to the cutter.
//
// The piece is turned from line to line at the clear height; what else is between two lines see mover.h.
#pragma once

#include "mill/mover.h"
#include "mill/pass.h"

namespace pommel::mill {

inline constexpr double kGentle = 0.05;  ///< greatest slope of a line that may be run either way

/// All lines of one stretch. `grid` is scratch, kept warm from stretch to stretch. Fails with "cancelled",
/// "mill.grid".
Result<Done> cut_lengthwise(const Setup& setup, const Surface& surface, const PassSettings& settings,
                            const Stretch& stretch, Heights& grid, Mover& mover, std::vector<Cut>& cuts,
                            std::stop_token stop);

/// Whether the run leans nowhere more than kGentle.
bool gentle(const std::vector<LinePoint>& run);

}  // namespace pommel::mill
