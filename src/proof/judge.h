// From wood on rays to amounts that mean something: gouge, leftover, hand work.
#pragma once

#include <stop_token>
#include <utility>
#include <vector>

#include "proof/grid.h"
#include "proof/reach.h"
#include "proof/removal.h"

namespace pommel::proof {

/// One entry a ray; 0 where there is none.
struct Amounts {
  std::vector<float> gouge;  ///< mm normal below the skin, all of it however small
  std::vector<float> left;   ///< where a cutter reaches deeper than the cusp into what stands: mm normal above the skin, at most its radius
  std::vector<float> hand;   ///< mm normal above the skin where no cutter reaches
};

/// `reaches`: of all the cutters that have been at work. The cusp that is let pass on a ray is Settings::cusp and the reach_error() of
/// its distance from the axis for the sharpest of them. Fails with "cancelled".
Result<Amounts> amounts(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Wood& wood,
                        const std::vector<Reach>& reaches, double rho, const Settings& settings, std::stop_token stop);

/// Judges the wood of single rays anew, whose state in `wood` has changed; each with its row.
void judge_again(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Wood& wood, const std::vector<Reach>& reaches,
                 double rho, const Settings& settings, const std::vector<std::pair<std::size_t, std::size_t>>& rows_and_rays, Amounts& amounts);

/// Of each cell the ray that is farthest from the skin along itself; its normal distance.
Map unrolled(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Wood& wood, const Amounts& amounts, int rows,
             int columns);

}  // namespace pommel::proof
