// A section of the turned skin, seen from one side square to the piece's axis.
//
// The eye looks along -phi. A point of the section at the angle theta stands at t = R sin(theta - phi) across the view, growing as theta
// does, and at h = R cos(theta - phi) towards the eye. Lines of sight lie within the section's plane, so what is hidden is decided in the
// section alone. For this room only.
//
// A value; several threads may ask one at once.
#pragma once

#include <vector>

#include "shape/ring.h"

namespace pommel::paper {

class SkinSection {
 public:
  /// At a knot by the pieces on `side`. REQUIRES: x within the part.
  SkinSection(const shape::Part& part, double x, shape::Side side, double phi);

  double x() const { return x_; }
  const shape::Ring& ring() const { return ring_; }
  /// As the ring's, without slivers below 1e-4 radians.
  const std::vector<shape::RingArc>& arcs() const { return arcs_; }
  /// t of the shadow's edges, mm, within 1e-6.
  double low() const { return low_; }
  double high() const { return high_; }
  double t(double theta) const;
  /// True when no other skin of this section stands more than 0.03 mm nearer to the eye at the same t.
  bool seen(double theta) const;

  struct Span {
    double t0 = 0, t1 = 0;
  };
  /// What is seen of the skin between two angles, as stretches of t, growing; looked at in steps of 1.5 degrees.
  std::vector<Span> seen_between(double theta0, double theta1) const;
  /// Angles at which the skin turns away from the eye or back to it on a reed or a twist, but for the shadow's own edges.
  std::vector<double> folds() const;

 private:
  struct Point {
    double theta, t, h;
  };
  Point at(double theta) const;
  double sharpened(std::size_t i, double sign) const;
  void shelve();
  std::size_t shelf(double t) const;

  double x_, phi_;
  shape::Ring ring_;
  std::vector<shape::RingArc> arcs_;
  std::vector<Point> skin_;  ///< all round from the first arc on, closed: chords of 1.5 degrees and less, with every edge
  double low_ = 0, high_ = 0;
  std::vector<std::size_t> chords_, from_;  ///< the chords that come over each of the even shelves of t, from chords_[from_[shelf]] on
};

}  // namespace pommel::paper
