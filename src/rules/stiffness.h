// How much a piece between chuck and centre gives under the cutter: bending, wind-up, its first tone, its stubs.
//
// The bar is fixed where the chuck grips and pinned at the centre. It is taken as slices of constant section, so the
// integrals below are exact for stepped bars (rules of statics: Gere & Timoshenko, Mechanics of Materials):
//   bending    y = integral of M m / (E I) dx, with the reaction at the centre from y(centre) = 0; a uniform bar loaded at
//              its middle gives 7 F L³ / (768 E I);
//   wind-up    phi = integral of T / (G J) dx;
//   first tone by Stodola's iteration (the deflected shape under its own inertia), a uniform bar: 3.9266² sqrt(E I / rho A)
//              / (2 pi L²);
//   stub       tau = 16 T / (pi d³), sigma = 32 M / (pi d³).
//
// Assumed, each printed beside its figures: G = E/16 (from memory); shear strength along the grain = MOR/8 (hardwoods of
// Wood Handbook FPL-GTR-190 table 5-3 lie between a sixth and a ninth, from memory); the force at the cutter (no source).
// J of a section that is not round is taken as that of the circle inside it, so wind-up is an upper bound.
//
// Units: mm, N, MPa; density in kg/m³.
#pragma once

#include <string>
#include <vector>

#include "shape/part.h"
#include "shop/shop.h"

namespace pommel::rules {

/// Constant section from x0 to x1, counted from the chuck.
struct Slice {
  double x0 = 0, x1 = 0;
  double area = 0;     ///< mm²
  double inertia = 0;  ///< mm⁴, about the axis about which it bends most easily
  double torsion = 0;  ///< mm⁴
  double radius = 0;   ///< mm, farthest from the axis
};

/// From the chuck's face (0) to the centre's point. REQUIRES of all that take one: not empty, contiguous, all above 0.
struct Bar {
  std::vector<Slice> slices;
  double length() const { return slices.back().x1; }
};

/// How a piece is held: x of the grips' faces in the part's own coordinates, and the diameter of the stubs that tie it to the
/// waste (0: the waste has the end's own section).
struct Holding {
  double head_face = 0, foot_face = 0;  ///< head_face <= 0, foot_face >= length
  bool chuck_at_head = true;
  double head_stub = 0, foot_stub = 0;
};

/// The turned part with its waste, in slices of `step` mm at most. REQUIRES: a sound part, step > 0.
Bar bar_of(const shape::Part& turned, const Holding& held, double step = 2);

/// mm at the place `at` from the chuck where the force pushes. REQUIRES: 0 <= at <= length.
double deflection(const Bar& bar, double at, double force, double moe);
/// Moment at the chuck for that load, N mm (absolute value).
double moment_at_chuck(const Bar& bar, double at, double force);
/// Radians between the chuck and the place `to` for a torque (N mm) there.
double wind_up(const Bar& bar, double to, double torque, double shear_modulus);
/// Hz.
double first_tone(const Bar& bar, double moe, double density);
inline constexpr double kStubFactor = 3;   ///< of safety
inline constexpr double kLeastStub = 20;   ///< mm
/// The diameter that a stub needs, mm: torsion and bending each with the factor, never below kLeastStub.
double least_stub(double torque, double moment, const shop::Wood& wood);

struct Load {
  double force = 50;            ///< N at the cutter: an assumption, no source
  double teeth_per_second = 0;  ///< revolutions times teeth
  double turns_per_second = 0;  ///< greatest of the rotary
};

struct Stiffness {
  double bend = 0, bend_at = 0;  ///< mm, greatest under the load; mm from the head
  double twist = 0, twist_at = 0;  ///< mm at the skin, greatest; mm from the head
  double tone = 0;               ///< Hz
  double stub = 0;               ///< mm that the stubs need at least
  std::vector<std::string> lines;       ///< each figure with its source, in bench words
  std::vector<Diagnostic> warnings;     ///< "rules.bends", "rules.winds-up", "rules.rings", "rules.whirls", each with remedies
};

/// All of it for a piece as it is when all is cut, the weakest it gets.
Stiffness stiffness(const shape::Part& turned, const Holding& held, const shop::Wood& wood, const Load& load);

}  // namespace pommel::rules
