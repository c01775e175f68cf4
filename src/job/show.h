// How values of the sheet and joints are written on the job's pages.
#pragma once

#include <string>

#include "frame/member.h"
#include "sheet/sheet.h"

namespace pommel::job {

/// The value of a cell for reading, "-" when there is none; plain ratios with at most three decimals.
std::string shown(const sheet::Sheet& sheet, const std::string& name, std::size_t column);

/// A mortise as a maker marks it out: "face D, for rail-front: 9/16" to 3 5/8" from the head, 13/32" wide, 15/32" in from face A,
/// 1 1/8" deep; haunch 9/16" long and 11/32" deep above it". REQUIRES: the mortise is on one of the four faces of a square.
std::string mortise_text(const shape::Mortise& mortise, double square, const LengthFormat& lengths);

}  // namespace pommel::job
