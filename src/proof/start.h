// How far the wood of a blank reaches from the rotary axis before anything is cut, however the blank lies.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "proof/grid.h"

namespace pommel::proof {

/// How the blank lies between the centres.
struct Lie {
  std::string name;
  double oversize = 0;    ///< mm more on each flat, or on the radius
  double off_centre = 0;  ///< mm: its axis beside the rotary axis, all along
  double bow = 0;         ///< mm: its axis beside the rotary axis at mid-length, nothing at its ends; a parabola between
  /// Where it is off or bowed to, radians. Without one: the union over all directions, since nobody knows how the maker
  /// will put the blank in.
  std::optional<double> direction;
};

/// As planned, off centre, bowed, oversize.
std::vector<Lie> lies(const shape::BlankTolerance& tolerance);

/// Distance from the rotary axis to the far side of the wood along theta at x, mm; 0 outside the blank's ends or where the
/// axis lies outside the wood. A square blank's flats look along 0, 90, 180, 270 degrees. Exact: a ray against the moved
/// section, or against the section grown by a disc (its corners rounded) for the union over all directions.
double start_radius(const shape::Blank& blank, const Lie& lie, double x, double theta);

/// start_radius on every ray.
std::vector<float> start_radii(const Grid& grid, const shape::Blank& blank, const Lie& lie);

}  // namespace pommel::proof
