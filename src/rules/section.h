// Bars under load: how stiff and how stressed a section is. The thinnest part rules.
//
// Formulas as in W. C. Young, Roark's Formulas for Stress and Strain, and S. Timoshenko and J. Gere, Mechanics of
// Materials (from memory). Lengths in mm, forces in N, moments in N mm, E in MPa (N/mm²). Pure functions; a length, section
// or modulus of zero makes an infinite or undefined answer, which the caller must not ask for.
#pragma once

namespace pommel::rules {

enum class Section {
  round,   ///< `width` is the diameter
  square,  ///< `width` is the side
  octagon  ///< regular, `width` across flats
};

double area(Section section, double width);                    ///< mm²
double second_moment(Section section, double width);           ///< I about any central axis, mm⁴
double section_modulus(Section section, double width);         ///< I over the distance to the flat or rim: W = 2 I / width, mm³
double polar_moment_of_round(double diameter);                 ///< J = pi d⁴/32, mm⁴
double radius_of_gyration(Section section, double width);      ///< sqrt(I/A), mm

/// How a bar is held at its ends.
enum class Held {
  pinned,           ///< both ends free to tilt
  built_in,         ///< both ends fixed
  built_in_pinned,  ///< one end fixed, the other free to tilt
  cantilever        ///< one end fixed, the other free: the load is at the free end
};

/// Deflection under a single load F at mid-length (at the end for a cantilever), mm: FL³/48EI pinned, /192 built in,
/// 7FL³/768EI built in and pinned, FL³/3EI cantilever.
double deflection(Held held, double force, double length, double moe, double second_moment);

/// Bending stress M/W, MPa, of mid-length load on pinned ends: M = FL/4; cantilever: M = FL.
double bending_stress(double moment, double section_modulus);
double moment_at_middle(double force, double length);  ///< pinned ends, FL/4
double moment_at_root(double force, double length);    ///< cantilever, FL

/// Euler's load pi² E I / L² for pinned ends, N; `length` is the effective length for other ends.
double euler_load(double length, double moe, double second_moment);

/// Twist of a round bar, radians: T L / (G J). For wood along the grain G is about E/16 (from memory).
double twist(double torque, double length, double shear_modulus, double diameter);
/// Greatest shear stress of a round bar in torsion, MPa: 16 T / (pi d³).
double torsion_stress(double torque, double diameter);

/// First whirling speed of a bar turning on its ends, turns a minute: omega = (pi/L)² sqrt(EI / rho A), times 2.2669 for
/// built-in ends and 1.562 for built in and pinned; a cantilever's factor is 0.3562. `density` in kg/m³.
double whirl_rpm(Held held, Section section, double width, double length, double moe, double density);

}  // namespace pommel::rules
