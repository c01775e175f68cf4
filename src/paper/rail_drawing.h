// Drawings of the straight pieces: rails with their tenons, boards, bases, lengths of handrail. For this room only.
#pragma once

#include <vector>

#include "job/job.h"
#include "paper/piece.h"

namespace pommel::paper {

/// Lying sheets, one drawing for all straight pieces alike: both ends from the outer side and from above, with what lies between broken out where the sheet is too short for it,
/// every size of tenon, haunch and shoulders, how many, and of what wood. Nothing where the frame has none. REQUIRES: a Painting that
/// is ready().
std::vector<Page> rail_drawings(const job::Job& job, const Heading& heading);

}  // namespace pommel::paper
