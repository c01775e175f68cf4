// What a cutter whose axis passes through the rotary axis can reach at best without touching the part: found here by brute force over the
// rays, sharing nothing with the room that plans the passes.
//
// The lowest free height of the tip at (x0, a) is the greatest, over the skin's rays (x, theta, R) within the cutter's radius sideways, of
// R cos(phi) - t(hypot(x - x0, R sin(phi))), phi = theta - a (and of R cos(phi) - the shaft's lower end under a wider shank, collet nut or
// holder). A point of wood is within reach by d when some cutter so placed has it d deep inside; that is its normal distance above the
// surface the cutter can make (at most the cutter's radius).
//
// Error: places are taken on the grid and the skin on its rays, so a place may come out too low by
// ((ds/2)² + (R dtheta/2)²)/2 (1/rho + 1/R_skin), ds the way along the skin from row to row (at most sqrt 2
// row steps, see grid.h), and by as much too high for want of a place between. Edges of the body stand on rays of their own.
// reach_error() is the bound for skin no sharper than the ball. A cutter with a level tip or a straight flank can rest on the skin between
// two rays as far as the skin bulges there: read the skin's own radius for rho.
//
// Thread rule: a Reach remembers the heights it has worked out; each thread has its own.
#pragma once

#include <vector>

#include "proof/grid.h"
#include "proof/tool.h"

namespace pommel::proof {

/// mm: see above. `radius`: distance from the axis at which it is asked.
double reach_error(double rho, double row_step, double column_step, double radius);
/// The rho of reach_error() for a cutter: the radius of its arc, no more than its own; of one without an arc its radius.
double rounding(const Tool& tool);

class Reach {
 public:
  /// The cutter's axis may stand at x0 in [x_low, x_high]. `body` as of body_radii(). Keeps references to `grid` and `body`.
  Reach(const Grid& grid, const std::vector<float>& body, const Tool& tool, double x_low, double x_high);

  /// Whether some placement has the point deeper than `by` inside the cutter. REQUIRES: by >= 0.
  bool reaches(double x, double theta, double t, double by) { return deepest(x, theta, t, by, true) > by + 1e-9; }
  /// How deep the point is in the best placed cutter, mm, at most its radius; 0 out of reach.
  double depth_within_reach(double x, double theta, double t) { return deepest(x, theta, t, 0, false); }
  /// Lowest free height of the tip at a place of the grid, mm; at least 0.
  double tip_height(std::size_t place, std::size_t column);

  const std::vector<double>& places() const { return places_; }

 private:
  double deepest(double x, double theta, double t, double from, bool enough);
  double ball_deepest(double x, double theta, double t, double from, bool enough);
  struct Columns;
  template <class F>
  void over_places(double x, double theta, double t, const F& look);
  double compute_height(std::size_t place, std::size_t column);
  double over_row(std::size_t row, double x0, std::size_t column, double highest) const;
  double over_round_row(std::size_t row, double x0, std::size_t column, double highest) const;
  double under_shafts(double x0, double a, double height) const;
  bool is_round(std::size_t row) const { return greatest_[row] - least_[row] < 1e-5f; }
  bool know_place(std::size_t place);
  bool round_within(std::size_t place, double wide) const;
  double greatest_within(std::size_t place, double wide) const;

  const Grid& grid_;
  const std::vector<float>& body_;
  Tool tool_;
  std::vector<double> places_;
  std::vector<float> least_, greatest_;  // R of a row
  std::vector<std::vector<float>> heights_;  // of the tip, of places that were asked for; below 0: not yet computed; one where the skin is round
  float greatest_of_all_ = 0;
  std::vector<double> crease_sine_, crease_cosine_;
  std::vector<float> sine_, cosine_;     // of the columns, a quarter turn to each side
};

}  // namespace pommel::proof
