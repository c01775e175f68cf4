// From wood on rays to amounts that mean something: gouge, leftover, hand work.
#pragma once

#include <stop_token>
#include <vector>

#include "proof/grid.h"
#include "proof/reach.h"
#include "proof/removal.h"

namespace pommel::proof {

/// One entry a ray; 0 where there is none.
struct Amounts {
  std::vector<float> gouge;      ///< mm normal below the skin, all of it however small
  std::vector<float> left;       ///< mm normal above what the cutter reaches, where over the cusp
  std::vector<float> hand;       ///< mm normal above the skin where the cutter cannot reach
  std::vector<float> deviation;  ///< mm normal: wood above the skin, or minus the gouge; 0 on rows outside the part
};

/// The cusp that is let pass on a ray is Settings::cusp and the reach_error() of its distance from the axis.
/// Fails with "cancelled".
Result<Amounts> amounts(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Cut& wood,
                        const Reach& reach, double rho, const Settings& settings, std::stop_token stop);

Map unrolled(const Grid& grid, const shape::Part& part, const std::vector<float>& deviation, int rows, int columns);

}  // namespace pommel::proof
