// For this room only: gaps between readings where no edge need be looked for at first.
//
// Where one circle or line passes through w readings on either side of a gap within their noise, an edge in that gap is a smooth one (a taper that goes
// over into a vase) or none, and it may as well stand w/2 readings on: that moves no curve by more than its noise. So such gaps are tried at that
// spacing only, and what is found is moved reading by reading afterwards (improve.h). Where anything happens every gap is tried. What this saves grows with
// the square of how closely smooth curves were measured.
#pragma once

#include <span>
#include <vector>

#include "match/chain.h"

namespace pommel::match {

/// By gap (i is the one before sample i; 0 and the last always): 1 where the first cut tries an edge. REQUIRES: places growing.
std::vector<char> gaps_to_try(std::span<const Sample> samples);

}  // namespace pommel::match
