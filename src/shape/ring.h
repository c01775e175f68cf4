// One section of the turned part, square to its axis, with everything looked up once: the outline, the faces, and what flutes, reeds
// and twist take away. For whoever asks many angles at one x, and for whoever must know where the skin has its edges.
//
// The section is the lower envelope R(theta) of its makers: the round (a circle about the axis, or the twisted one), the faces, the
// arcs of flutes and of reeds. Where two makers meet there is an edge; every crossing of two makers but those of a twist is in
// closed form (circles and lines), and so is the area.
//
// A value without pointers into the part; several threads may ask one Ring at once.
#pragma once

#include <cstddef>
#include <vector>

#include "shape/angle.h"
#include "shape/part.h"

namespace pommel::shape {

/// What makes a stretch of the skin.
enum class Maker { round, face, flute, reed };

/// A stretch of the section's boundary with one maker, in the direction of growing theta.
struct RingArc {
  Maker maker = Maker::round;
  std::size_t index = 0;  ///< into Part::faces, flutes or reedings; of a round no meaning
  int reed = 0;           ///< which of the reeding's reeds, 0 to count - 1
  double theta0 = 0;      ///< radians, in [0, 2 pi)
  double theta1 = 0;      ///< above theta0, by at most 2 pi
};

class Ring {
 public:
  /// The circle about the axis, or the twisted outline middle + swing cos(starts (theta - psi)).
  struct Round {
    double middle = 0, swing = 0;  ///< mm; infinite middle: nothing is turned here
    int starts = 0;
    double psi = 0;       ///< radians
    double psi_x = 0;     ///< d psi / dx, radians a mm
    double middle_x = 0, swing_x = 0;  ///< their slopes along x
  };
  struct Plane {
    std::size_t index = 0;
    double phi = 0, d = 0, d_x = 0;
    SinCos turn;  ///< of phi
  };
  struct Groove {
    std::size_t index = 0;
    double theta = 0, c = 0, c_x = 0, g = 0;
    SinCos turn;      ///< of theta
  };
  struct Reeds {
    std::size_t index = 0;
    int count = 0;
    double phase = 0, c = 0, c_x = 0, g = 0;
  };

  std::vector<Round> rounds;  ///< one; two where both sides of a knot are laid over each other
  std::vector<Plane> planes;
  std::vector<Groove> grooves;
  std::vector<Reeds> reeds;

  /// True when flutes, reeds or a twist are there at all.
  bool treated() const;
  /// R(x, theta), mm; as radius_at.
  double radius(double theta) const;

  /// The make-up of the whole turn, in order; the first begins at the first edge in [0, 2 pi) or, where there is no edge, at 0.
  /// Crossings of a twist with faces, flutes and reeds are looked for in steps of a 48th of its hollow, pairs within a step where the
  /// gap turns back, then halved to rounding.
  std::vector<RingArc> arcs() const;
  /// Angles in [0, 2 pi), growing, at which two makers meet: the section's corners, and the valleys between reeds.
  std::vector<double> creases() const;

  /// Area inside, mm², exact up to rounding; +infinity when nothing closes it.
  double area() const;
  /// Least and greatest R, mm.
  double least() const;
  double greatest() const;
};

/// REQUIRES: x within the part, profiles not empty. At a knot the pieces on `side`.
Ring ring_at(const Part& part, double x, Side side);

/// The section of the wood that both have. REQUIRES: both of one part.
Ring overlaid(const Ring& a, const Ring& b);

/// Angles of the section's edges at x in [0, 2 pi), growing: arrises, where the round meets a face, a groove's edges on round and
/// faces (theta ± acos((r² + c² - g²) / (2 r c)) on a round of radius r), valleys between reeds.
std::vector<double> crease_angles(const Part& part, double x, Side side);

/// What is left of the core: the least distance of the turned part's skin from its axis and where it is. Exact, but for a twist,
/// whose hollow is searched between its knots (nine samples, sharpened).
struct Core {
  double x = 0, radius = 0;  ///< mm
};
Core least_radius(const Part& part);

/// How far the twist has faded in at x, 0 to 1 (f(x) of Twist), and its slope.
double fade_at(const Twist& twist, double x);
double fade_slope(const Twist& twist, double x);

}  // namespace pommel::shape
