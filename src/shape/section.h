// Sections of the turned part square to its axis, before treatments: a circle of radius r (infinite where nothing is turned) cut by
// half-planes.
// Inside shape/ only.
#pragma once

#include <vector>

#include "shape/angle.h"
#include "shape/crease.h"
#include "shape/part.h"

namespace pommel::shape {

/// The half-plane  y cos(phi) + z sin(phi) <= d.
struct HalfPlane {
  std::size_t face = 0;
  double phi = 0, d = 0;
  SinCos turn;  ///< of phi
};

struct Section {
  double r = 0;
  std::vector<HalfPlane> planes;

  std::vector<Flat> flats() const;
  /// Exact up to rounding; +infinity when neither the round nor the faces close it. Sum over the flats of d (t1 - t0)/2 plus the
  /// sector r²/2 of the angle that no flat covers.
  double area() const;
  /// The angle in which the round itself is the skin, in [0, 2 pi].
  double open_angle() const;
  /// Greatest distance of any point from the axis.
  double reach() const;
};

/// The part between two neighbouring knots: each profile is one piece there.
struct Slab {
  double a = 0, b = 0;
  const Piece* round = nullptr;  ///< null when the part has no outline
  struct Side {
    std::size_t face;
    double phi;
    SinCos turn;
    const Piece* d;
  };
  std::vector<Side> sides;  ///< the faces that are there
  struct Groove {
    double theta, radius;
    const Piece* centre;
  };
  struct Reeds {
    int count;
    double radius;
    const Piece* centre;
  };
  std::vector<Groove> grooves;
  std::vector<Reeds> reeds;
  bool treated = false;  ///< flutes, reeds or a twist are there: the section is a Ring's, see ring.h

  /// Without treatments.
  Section section(double x) const;
};

/// REQUIRES: profiles not empty. The slabs point into `part`.
std::vector<Slab> slabs(const Part& part);
/// Places strictly inside the slab where its section changes its make-up; see crossings().
std::vector<double> crossings(const Slab& slab);

Section section_at(const Part& part, double x, Side side);

}  // namespace pommel::shape
