#include "stock/measure.h"

#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "base/text.h"

namespace pommel::stock {

double board_feet(double thickness, double width, double length, shop::Rates::BoardRule rule) {
  const double inches = std::max(1.0, thickness / kInch);
  const double surface = (width / kInch) * (length / (12 * kInch)) / 12;  // square feet
  switch (rule) {
    case shop::Rates::BoardRule::exact: return inches * surface;
    case shop::Rates::BoardRule::surface_measure: return inches * std::floor(surface + 0.5);
    // a board of exactly 8 feet must not become 9 by the last bit of a conversion from mm
    case shop::Rates::BoardRule::round_up: return std::ceil(inches * surface - 1e-9);
  }
  return 0;
}

double nominal_thickness(const std::string& nominal) {
  const auto parts = split(nominal, '/');
  if (parts.size() != 2) return 0;
  const auto quarters = parse_number(trimmed(parts[0]));
  const auto of = parse_number(trimmed(parts[1]));
  if (!quarters || !of || *quarters <= 0 || *of <= 0) return 0;
  return *quarters / *of * kInch;
}

std::string rule_words(shop::Rates::BoardRule rule) {
  switch (rule) {
    case shop::Rates::BoardRule::exact: return "exact board measure of the rough blanks";
    case shop::Rates::BoardRule::surface_measure: return "surface measure of whole boards, rounded to a square foot each";
    case shop::Rates::BoardRule::round_up: return "board measure rounded up to the next board foot";
  }
  return {};
}

}  // namespace pommel::stock
