// A cutter over triangles and straight edges: the heights at which it touches one of them.
//
// The frame is that of the cutter at (x0, a): x along the piece, l sideways (growing direction), h upwards from the rotary
// axis. With t(s) the height of the cutter's skin above its tip at the distance s from its own axis, a point (x, l, h)
// holds the cutter's reference point, which stands `reference` above the tip, up to
//
//     h + reference - t(s),   s² = (x - x0)² + l²,   s <= radius.
//
// All forms of shop::Cutter have a convex t, made of a level disc, a corner and a flank (shop/shop.h), so each question
// has one answer:
//   - a plane with the unit normal (nx, nl, nh), nh > 0, is touched where t' = nlat / nh, nlat² = nx² + nl²;
//   - along a straight edge h + reference - t(s) is concave: its greatest value stands where the rise of the edge over
//     its run, k, equals t'(s) tau / s, with tau the run from the nearest point to the axis; closed for every
//     piece of the meridian but the corner of a bull nose, where the rising equation is bracketed.
#pragma once

#include <array>

#include "base/result.h"
#include "shop/shop.h"

namespace pommel::mill {

using Vector = std::array<double, 3>;

class MeshCutter {
 public:
  /// Fails with "mill.cutter" where the cutter's measures are not finite, not positive or contradict each other.
  static Result<MeshCutter> of(const shop::Cutter& cutter);

  double radius() const { return radius_; }        ///< mm, of what cuts
  double reference() const { return reference_; }  ///< mm above the tip: a ball's centre, else 0 or the tip's ball's centre
  bool is_ball() const { return ball_; }

  /// t(s) for 0 <= s <= radius().
  double skin(double s) const;

  /// The point of the meridian that touches a plane, and the support max over s of nlat s - nh (t(s) - reference).
  struct Support {
    double s = 0, value = 0;
  };
  /// REQUIRES: nlat >= 0, nh > 0, nlat² + nh² = 1.
  Support support(double nlat, double nh) const;

  /// Height of the reference point over the edge that runs from (dx, l, h), dx = x - x0, `length` along the unit vector
  /// (ux, ul, uh); -infinity when the cutter passes beside.
  double over_edge(double dx, double l, double h, double ux, double ul, double uh, double length) const;

  /// The same over one point.
  double over_point(double dx, double l, double h) const;

 private:
  double run_to_touch(double beside, double rise) const;
  double run_in_corner(double beside, double rise, double most) const;

  double radius_ = 0, reference_ = 0;
  double disc_ = 0, corner_ = 0;         // radii, mm
  double turned_ = 0, turned_high_ = 0;  // where the flank begins: s and t
  double steep_ = 0;                     // dt/ds of the flank, infinite where there is none
  bool ball_ = false;
};

}  // namespace pommel::mill
