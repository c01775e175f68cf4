#include "rules/joinery.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace pommel::rules {

double third_of_leg(double leg_width) { return leg_width / 3; }
double third_of_rail(double rail_thickness) { return rail_thickness / 3; }
double half_of_rail(double rail_thickness) { return rail_thickness / 2; }

std::optional<double> widest_on_hand(double wish, const std::vector<double>& widths) {
  constexpr double kSame = 1e-6;  // mm: a third of 24 must find the 8 mm chisel whatever the last bit says
  std::optional<double> best;
  for (const double width : widths) {
    if (width <= wish + kSame && (!best || width > *best)) best = width;
  }
  return best;
}

Span usual_tenon_length(double leg_width) { return {leg_width / 2, leg_width * 2 / 3}; }

double widest_tenon(double tenon_thickness) { return 5 * tenon_thickness; }

double free_depth(double square, double other_centre, double other_thickness) {
  return square - other_centre - other_thickness / 2;
}

bool pockets_meet(double square, const Pocket& a, const Pocket& b) {
  return a.depth > free_depth(square, b.centre, b.thickness) && b.depth > free_depth(square, a.centre, a.thickness);
}

double common_volume(double square, const Pocket& a, const Pocket& b, double height) {
  // how far `one` goes into the band that `other` occupies
  const auto into = [square](const Pocket& one, const Pocket& other) {
    const double band_start = free_depth(square, other.centre, other.thickness);
    return std::max(0.0, std::min(one.depth, band_start + other.thickness) - band_start);
  };
  return into(a, b) * into(b, a) * std::max(0.0, height);
}

double half_diagonal(double square) { return square / std::numbers::sqrt2; }

double withdrawal_bound(double width, double length, double shear_strength) { return 2 * width * length * shear_strength; }

double cheek_torsion_constant(double width, double length) {
  return 2 * width * length * (width * width + length * length) / 12;
}

double moment_bound(double width, double length, double shear_strength) {
  const double half_diagonal_of_cheek = std::hypot(width, length) / 2;
  if (half_diagonal_of_cheek <= 0) return 0;
  return shear_strength * cheek_torsion_constant(width, length) / half_diagonal_of_cheek;
}

}  // namespace pommel::rules
