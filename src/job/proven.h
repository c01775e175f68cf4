// Whether a design is made at sizes for which it is proven.
#pragma once

#include <vector>

#include "designs/card.h"
#include "sheet/sheet.h"

namespace pommel::job {

/// A warning "job.beyond-proven" for each measure outside the design's proven range, and "job.proven" for a range that names no measure or
/// whose sizes are not of its kind.
std::vector<Diagnostic> beyond_proven(const designs::Card& card, const sheet::Sheet& sheet, std::size_t column);

}  // namespace pommel::job
