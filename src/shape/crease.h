// Where the turned part's skin has its edges: knots along the piece, and how wide each face's flat is where the round cuts
// into it. The drawings and the mill read these; the field's own integrals are split at them.
#pragma once

#include <vector>

#include "shape/part.h"

namespace pommel::shape {

/// What is left of a face in the section at one x: the segment t0..t1 on it.
struct Flat {
  std::size_t face = 0;  ///< index into Part::faces
  double phi = 0;
  double d = 0;
  double t0 = 0, t1 = 0;
  bool corner0 = false,
       corner1 = false;  ///< that end is an arris with a neighbouring face; else the round cuts it there
};

/// The places where the outline, a face or the centre line of a flute or of reeds begins a new piece, and where a twist begins, is
/// faded in, begins to fade and ends; growing, each once.
std::vector<double> knots(const Part& part);

/// The places strictly between a and b where the round comes to touch a face (r = d), or to cut an arris (r = distance of the
/// arris from the axis), or where the bottom of a flute, the crown or the valleys of reeds come to touch what stands without them,
/// growing. REQUIRES: no knot lies between a and b.
std::vector<double> crossings(const Part& part, double a, double b);

/// The flats of the section at x, before treatments (ring.h has them with what flutes and reeds leave), in the order of Part::faces; faces that the others or the round leave nothing of are absent.
std::vector<Flat> flats_at(const Part& part, double x, Side side);

/// Half the width of the flat that a round of radius r leaves on a face at distance d: sqrt(r² - d²), 0 where r <= d.
double half_flat(double r, double d);

struct CurvePoint {
  double x = 0;  ///< along the piece
  double t = 0;  ///< across the face
};

/// The curves on one face where the round cuts it, on its side t > 0 (the other side is its mirror image where the face stands
/// alone or between equal neighbours): the pommel as a drawing shows it. One polyline for each stretch; the chords stay
/// within `tolerance` mm of the curve. REQUIRES: face < part.faces.size(), tolerance > 0.
std::vector<std::vector<CurvePoint>> pommel_curves(const Part& part, std::size_t face, double tolerance);

}  // namespace pommel::shape
