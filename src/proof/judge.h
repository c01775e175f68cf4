// From wood on rays to amounts that mean something: gouge, leftover, hand work.
#pragma once

#include <stop_token>
#include <vector>

#include "proof/grid.h"
#include "proof/reach.h"
#include "proof/removal.h"

namespace pommel::proof {

/// What was found on one ray.
struct OnRay {
  std::size_t row = 0, ray = 0;  ///< ray: its index among all
  float amount = 0;              ///< mm
};

/// In the order of rows and rays.
struct Amounts {
  std::vector<OnRay> gouge;  ///< mm normal below the skin, over Settings::gouge_limit
  OnRay deepest;             ///< the greatest gouge, however small; of several alike the first; amount 0: none
  std::vector<OnRay> left;   ///< where a cutter reaches deeper than the cusp into what stands: mm normal above the skin, at most its radius
  std::vector<OnRay> hand;   ///< mm normal above the skin where no cutter reaches
};

/// `reaches`: of all the cutters that have been at work. The cusp that is let pass on a ray is Settings::cusp and the reach_error() of
/// its distance from the axis for the sharpest of them. Fails with "cancelled".
Result<Amounts> amounts(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Wood& wood,
                        const std::vector<Reach>& reaches, double rho, const Settings& settings, std::stop_token stop);

/// Judges what is left on the rays that `amounts` has under `left` anew: their state in `wood` has changed.
void judge_left_again(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Wood& wood, const std::vector<Reach>& reaches,
                      double rho, const Settings& settings, Amounts& amounts);

/// Where most wood stands above the skin, mm normal; amount 0: nowhere any.
OnRay tallest(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Wood& wood);

/// Of each cell the ray that is farthest from the skin along itself; its normal distance. A gouge over the limit is shown before anything else.
Map unrolled(const Grid& grid, const shape::Part& part, const std::vector<float>& body, const Wood& wood, const Amounts& amounts, int rows,
             int columns);

}  // namespace pommel::proof
