#include "rules/wood.h"

#include <cassert>
#include <cmath>

#include "base/number.h"

namespace pommel::rules {
namespace {

constexpr double kLeastMoisture = 6, kGreatestMoisture = 14;  // Eq. 13-2

bool within_reach(double moisture) { return moisture >= kLeastMoisture && moisture <= kGreatestMoisture; }

}  // namespace

Result<double> width_change(double width, double coefficient, double moisture_from, double moisture_to) {
  if (!std::isfinite(width) || !std::isfinite(coefficient) || !within_reach(moisture_from) || !within_reach(moisture_to)) {
    return fail("rules.moisture-out-of-range",
                "the movement of a width of " + format_number(width, 3) + " mm from " + format_number(moisture_from, 2) +
                    " to " + format_number(moisture_to, 2) + " % moisture is outside what the formula covers",
                "give moisture contents between 6 and 14 % (Wood Handbook, Eq. 13-2)");
  }
  return width * coefficient * (moisture_to - moisture_from);
}

Result<double> out_of_round(double diameter, double c_radial, double c_tangential, double moisture_from, double moisture_to) {
  const Result<double> change = width_change(diameter, c_tangential - c_radial, moisture_from, moisture_to);
  if (!change) return change;
  return std::abs(*change);
}

double coefficient_from_shrinkage(double shrinkage) {
  assert(shrinkage > 0 && shrinkage < 150);
  return 1 / (3000 / shrinkage - 20);
}

double density(double specific_gravity, double moisture) { return 1000 * specific_gravity * (1 + moisture / 100); }

}  // namespace pommel::rules
