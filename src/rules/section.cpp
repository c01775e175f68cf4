#include "rules/section.h"

#include <cmath>
#include <numbers>

namespace pommel::rules {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kSqrt2 = std::numbers::sqrt2;

double fourth(double value) { return value * value * value * value; }

}  // namespace

double area(Section section, double width) {
  switch (section) {
    case Section::round: return kPi * width * width / 4;
    case Section::square: return width * width;
    case Section::octagon: return 2 * (kSqrt2 - 1) * width * width;  // 0.8284271 s²
  }
  return 0;
}

double second_moment(Section section, double width) {
  switch (section) {
    case Section::round: return kPi * fourth(width) / 64;
    case Section::square: return fourth(width) / 12;
    // regular n-gon, inradius s/2, half angle pi/8: A/24 (3 (s/2)² ... ) reduces to (4 sqrt2 - 5) s⁴ / 12 = 0.0547379 s⁴
    case Section::octagon: return (4 * kSqrt2 - 5) * fourth(width) / 12;
  }
  return 0;
}

double section_modulus(Section section, double width) { return 2 * second_moment(section, width) / width; }

double polar_moment_of_round(double diameter) { return kPi * fourth(diameter) / 32; }

double radius_of_gyration(Section section, double width) {
  return std::sqrt(second_moment(section, width) / area(section, width));
}

double deflection(Held held, double force, double length, double moe, double moment) {
  const double bar = force * length * length * length / (moe * moment);
  switch (held) {
    case Held::pinned: return bar / 48;
    case Held::built_in: return bar / 192;
    case Held::built_in_pinned: return 7 * bar / 768;
    case Held::cantilever: return bar / 3;
  }
  return 0;
}

double bending_stress(double moment, double modulus) { return moment / modulus; }
double moment_at_middle(double force, double length) { return force * length / 4; }
double moment_at_root(double force, double length) { return force * length; }

double euler_load(double length, double moe, double moment) { return kPi * kPi * moe * moment / (length * length); }

double twist(double torque, double length, double shear_modulus, double diameter) {
  return torque * length / (shear_modulus * polar_moment_of_round(diameter));
}

double torsion_stress(double torque, double diameter) { return 16 * torque / (kPi * diameter * diameter * diameter); }

double whirl_rpm(Held held, Section section, double width, double length, double moe, double density) {
  double factor = 1;
  switch (held) {
    case Held::pinned: break;
    // (beta L / pi)² with beta L the first root of cos cosh = 1, tan = tanh, cos cosh = -1
    case Held::built_in: factor = 2.2669; break;
    case Held::built_in_pinned: factor = 1.562; break;
    case Held::cantilever: factor = 0.3562; break;
  }
  // N/mm² = 1e6 Pa, mm⁴ = 1e-12 m⁴, mm² = 1e-6 m²: EI/(rho A) in m⁴/s² is E I / (rho A) with a bare factor of one
  const double stiffness = moe * second_moment(section, width) / (density * area(section, width));
  const double metres = length / 1000;
  const double omega = factor * (kPi / metres) * (kPi / metres) * std::sqrt(stiffness);
  return omega * 60 / (2 * kPi);
}

}  // namespace pommel::rules
