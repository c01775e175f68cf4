// The cutting plan as it goes to the saw: board by board, drawn to one scale, with the rough sizes of the pieces. For this room only.
#pragma once

#include <vector>

#include "job/job.h"
#include "paper/piece.h"

namespace pommel::paper {

/// Lying sheets: for each stock the pieces by their letters, then every board; boards that are sawn alike stand once. Pieces are numbered in
/// the board where there is no room for more than their letter. REQUIRES: a Painting that is ready().
std::vector<Page> plan_pages(const std::vector<stock::CuttingPlan>& plans, const Heading& heading);

}  // namespace pommel::paper
