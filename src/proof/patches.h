// Connected patches of the surface: from amounts on rays to the lines of a report.
#pragma once

#include <vector>

#include "proof/grid.h"
#include "proof/judge.h"

namespace pommel::proof {

/// Patches of rays, worst first (ties: by x, then angle). Rays belong together when they are at most two row steps
/// and 6 degrees apart (over 360 degrees too), so that the ridges between passes do not part one quirk into many; a crease ray counts
/// with the column nearest to it. Lines and stages stay empty. REQUIRES: amounts above 0, in the order of rows and rays.
std::vector<Patch> patches(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const std::vector<OnRay>& amounts);

}  // namespace pommel::proof
