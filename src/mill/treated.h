// What flutes, reeds and a twist make of one stretch of the part, between two knots. shape/part.h has their formulas.
//
// The body is what all makers of the skin leave together: round or twisted round, faces, grooves, reeds. So a point of one maker's
// surface is a point of the body where each of the others leaves it. A candidate of the envelope that lies on wood another maker has taken
// away would lift the cutter; `left_by_others` finds it out.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "shape/part.h"
#include "shape/ring.h"

namespace pommel::mill {

/// A flute on the stretch: the circle of radius `radius` about the centre at distance centre(x) in the direction theta.
struct CellGroove {
  double theta = 0, cos = 1, sin = 0, radius = 0;
  shape::Piece centre;
};

/// Reeds on the stretch.
struct CellReeds {
  int count = 0;
  double phase = 0, radius = 0;
  shape::Piece centre;

  double crown(int reed) const { return phase + shape::kTurn * reed / count; }
  /// mm from the axis to the skin of the reeds at theta.
  double skin(double x, double theta) const;
};

/// A maker of the skin in its stretch: which list, and which of it.
struct Owner {
  shape::Maker maker = shape::Maker::round;
  std::size_t index = 0;

  bool operator==(const Owner&) const = default;
};

struct Treatments {
  std::vector<CellGroove> grooves;
  std::vector<CellReeds> reeds;
  std::optional<shape::Twist> twist;

  bool any() const { return twist || !grooves.empty() || !reeds.empty(); }
  /// Whether grooves and reeds leave the point at x; what owns it is not asked. `slack`, mm: points no farther outside count as left.
  bool leave(const Owner& owner, double x, double y, double z, double slack) const;
};

/// What is there in the middle between a and b. REQUIRES: no knot lies between them.
Treatments treatments_between(const shape::Part& part, double a, double b);

/// Distance of the twisted outline from the axis where the plain one stands at r.
double twisted_radius(const shape::Twist& twist, double r, double x, double theta);

}  // namespace pommel::mill
