// Parts drawn by number, each with the blank, the machine and the cutter it is milled with: the same number gives the same part for ever.
#pragma once

#include "job/turning.h"
#include "shape/sample_parts.h"

namespace pommel::properties {

/// Squares, octagons, tapered faces, turned stretches of all kinds; every twentieth has flutes, reeds or a twist or several of them. 250 to 500 mm
/// long, 40 to 90 mm thick.
shape::Part drawn_part(std::size_t number);

/// Its turning with a ball of the shop (numbers choose among three; the smallest where there are hollows), at ridges so coarse (0.4 mm) that a part takes a second or two.
job::TurningRequest drawn_request(std::size_t number);

/// The turning of any part in the same way; `cutter` is one of the shop's.
job::TurningRequest request_for(const shape::Part& part, const std::string& cutter);

/// The text of the planned turning; empty, with the reasons told as a failure of the test, when something refuses.
std::string program_of(const job::TurningRequest& request);

}  // namespace pommel::properties
