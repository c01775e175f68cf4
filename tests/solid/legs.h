// Parts for the tests of this room, put together piece by piece, without the outline builder of shape/.
#pragma once

#include <random>
#include <string>

#include "shape/part.h"

namespace pommel::solid::testing {

enum class Shoulder { square_cut, rounded, sloped, ogee };

/// Lays pieces one after another from (0, r).
class Turning {
 public:
  explicit Turning(double r) : r_(r) {}

  Turning& wall(double r);                      ///< a step to radius r
  Turning& clear(double length, double after);  ///< a square stretch; the outline goes on at radius `after`
  Turning& line(double length, double r);
  Turning& cylinder(double length) { return line(length, r_); }
  Turning& bulge(double length, double r, double rho);  ///< arc, wood outside
  Turning& hollow(double length, double r, double rho);
  Turning& half_round(double length) { return bulge(length, r_, length / 2); }
  Turning& half_hollow(double length) { return hollow(length, r_, length / 2); }
  Turning& crest(double length, double rise);  ///< symmetric bulge of that rise
  Turning& dip(double length, double depth);
  Turning& cubic(double length, double r, double slope0, double slope1);
  /// From the square's half-diagonal down (or up, `towards_square`) to radius r.
  Turning& shoulder(Shoulder kind, double length, double from, double to);

  double x() const { return x_; }
  double r() const { return r_; }
  shape::Profile profile() const { return profile_; }

 private:
  Turning& add(shape::Piece piece);

  shape::Profile profile_;
  double x_ = 0, r_;
};

shape::Profile constant(double length, double d);
/// The piece with `sides` faces at distance d, the first looking along phi.
shape::Part part_of(const Turning& turning, int sides = 0, double d = 0, double phi = 0);

/// A leg with square head and turned foot: 30 to 90 mm square, 300 to 1000 mm long, every number of `kind` from the
/// generator. About a third of its sizes are degenerate: equal to the square, to its half-diagonal, or to a neighbour.
shape::Part random_leg(unsigned seed, Shoulder kind);

/// A leg as a shop would make it: 60 mm square, 720 mm, square head of 150 mm, rounded pommel, beads, coves, vase,
/// taper.
shape::Part bench_leg();
/// Its two mortises on face A and face B with haunches; at 38 mm deep they meet, at 12 they do not.
shape::Part bench_leg_jointed(double corner_radius = 0, double depth = 38);

}  // namespace pommel::solid::testing
