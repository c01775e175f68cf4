// What a ball cutter whose axis passes through the rotary axis can reach at best without touching the part: found here by
// brute force over the rays, sharing nothing with the room that plans the passes.
//
// The lowest free height of the ball's centre at (x0, a) is the greatest, over the skin's rays (x, theta, R) within the
// ball's radius sideways, of R cos(phi) + sqrt(rho² - (x - x0)² - R² sin²(phi)), phi = theta - a (and of R cos(phi) + rho -
// flutes under a wider shank or collet). A point of wood is within reach by d when some ball so placed has it d deep
// inside; that is its normal distance above the surface the cutter can make (at most the ball's radius).
//
// Error: places are taken on the grid and the skin on its rays, so a centre may come out too low by
// ((ds/2)² + (R dtheta/2)²)/2 (1/rho + 1/R_skin), ds the way along the skin from row to row (at most sqrt 2
// row steps, see grid.h), and by as much too high for want of a place between. Edges of the body stand on rays of their own. reach_error() is the bound for skin no sharper than the ball.
//
// Thread rule: several threads may ask one Reach at once.
#pragma once

#include <atomic>
#include <vector>

#include "proof/grid.h"
#include "shop/shop.h"

namespace pommel::proof {

/// mm: see above. `radius`: distance from the axis at which it is asked.
double reach_error(double rho, double row_step, double column_step, double radius);

class Reach {
 public:
  /// Centres may stand at x0 in [x_low, x_high]. `body` as of body_radii().
  Reach(const Grid& grid, const std::vector<float>& body, const shop::Cutter& cutter, double x_low, double x_high);

  /// How deep the point is in the best placed ball, mm, at most the ball's radius; 0 out of reach.
  double depth_within_reach(double x, double theta, double t) const;
  /// The same for the one placement nearest above the point: a quick lower bound.
  double depth_from_above(double x, double theta, double t) const;
  /// Lowest free height of the ball's centre at a place of the grid, mm; at least the ball's radius (tip on the axis).
  double centre_height(std::size_t place, std::size_t column) const;

  const std::vector<double>& places() const { return places_; }

 private:
  double compute_height(double x0, std::size_t column) const;
  double under_shafts(double x0, double a, double height) const;
  double depth_at(std::size_t place, std::size_t column, double x, double theta, double t) const;

  const Grid& grid_;
  const std::vector<float>& body_;
  double rho_, flute_, widest_;
  std::vector<std::pair<double, double>> shafts_;  // radius, bottom above the centre
  std::vector<double> places_;
  std::vector<float> least_, greatest_;            // R of a row
  mutable std::vector<std::atomic<float>> heights_;  // 0: not yet computed; every thread would write the same value
};

}  // namespace pommel::proof
