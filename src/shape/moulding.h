// The arcs of the mouldings, in the plane of x and radius. For shape/, which builds outlines with them, and match/, which
// fits them. All sizes are radii and lengths in mm; each
// function appends pieces that begin at (x0, r0) and end at (x1, r1) to the bit.
#pragma once

#include <vector>

#include "shape/outline.h"
#include "shape/profile.h"

namespace pommel::shape {

/// Where an element's curve begins and ends, and who owns it.
struct Span {
  double x0 = 0, r0 = 0, x1 = 0, r1 = 0;
  int element = -1;

  double length() const { return x1 - x0; }
};

using Pieces = std::vector<Piece>;

/// One arc. Bulging (+1): level at its greater end when longer than high, else plumb at its smaller end. Hollow (-1): level at
/// its smaller end, else plumb at its greater end. With l the length and h the difference of radii the circle through both
/// ends that is level at one has rho = (l² + h²)/(2 h), the one that is plumb at one (l² + h²)/(2 l). Never overhangs.
void quarter(const Span& span, int bulge, Pieces& out);

/// One arc through both ends whose crest (+1) or bottom (-1) has radius `extreme`. False, and nothing appended, when it would
/// overhang. REQUIRES: both ends at or on the inner side of the extreme, not both on it.
/// With a, b the depths of the ends below the crest, which stands c after the start: c² + a² = 2 rho a and
/// (l - c)² + b² = 2 rho b, so c = a (l² + b² - a b) / (a l + sqrt(a b (l² + (b - a)²))).
bool crested(const Span& span, double extreme, int bulge, Pieces& out);

/// Two hollow arcs, level where they meet at radius `bottom`, c = l a/(a + b) after the start. False when they would overhang
/// (a + b > l). REQUIRES: bottom below both ends.
bool scotia(const Span& span, double bottom, Pieces& out);

/// Two arcs alike, tangent half-way; `bulge_at_greater` +1: cyma reversa, -1: cyma recta.
void cyma(const Span& span, int bulge_at_greater, Pieces& out);

/// The sphere about the axis through both ends.
void ball(const Span& span, Pieces& out);

/// Two straight cuts that meet at radius `bottom`, c = l a/(a + b) after the start. REQUIRES: bottom below both ends.
void vee(const Span& span, double bottom, Pieces& out);

/// The cubic spline through radii at places, continuous in r, r' and r''. A free end has r'' = 0, a level one r' = 0.
/// Source: the tridiagonal system for the second derivatives, e.g. Numerical Recipes, section 3.3.
/// REQUIRES: at least two stations, places growing, the first and last those of the span.
struct RadiusAt {
  double x = 0, r = 0;
};
void spline(const std::vector<RadiusAt>& stations, bool level_start, bool level_end, int element, Pieces& out);

}  // namespace pommel::shape
