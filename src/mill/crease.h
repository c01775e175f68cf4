// Creases: where the body's skin has an edge, and the ball rolls over it.
//
// Three kinds, all found face by face (section.h): the rims of knots (straight across each face; the round's part of a
// rim is a circle about the axis and needs no segment), the arrises between faces, and the curves where the round cuts
// a face. Straight ones are one segment; curved ones become chords within a tolerance, over which a ball larger by that
// tolerance is rolled: so chords, which lie inside the wood, never let the ball gouge.
//
// The ball over a segment. In the frame of the cutter at (x0, a), with l sideways and h upwards, let the segment run
// from (dx, l, h) along the unit vector (ux, ul, uh), and m² = ux² + ul². The height h + t uh + sqrt(rho² - (dx + t
// ux)² - (l + t ul)²) is concave in t, so its greatest value on the segment stands at its stationary point clamped to
// the ends:
//
//     q = rho² - (dx ul - l ux)² / m²,        t = uh sqrt(q / m²) - (dx ux + l ul) / m².
//
// The clamp supplies the balls at the ends, so corners need nothing of their own.
#pragma once

#include <algorithm>
#include <cmath>
#include <experimental/simd>
#include <limits>
#include <vector>

#include "mill/meridian.h"
#include "mill/section.h"

namespace pommel::mill {

namespace lanes = std::experimental;

/// A straight piece of a crease from (x, y, z), `length` along the unit vector u; y and z as in shape/part.h.
struct Segment {
  double x = 0, y = 0, z = 0;
  double ux = 0, uy = 0, uz = 0;
  double length = 0;
  double rho = 0;                 ///< of the ball that is rolled over it, or the greatest radius of another body
  double theta0 = 0, theta1 = 0;  ///< directions of its ends, theta0 <= theta1 < theta0 + pi
  double reach0 = 0, reach1 = 0;  ///< their distances from the axis
  bool curved = false;            ///< a chord of something curved: rho is larger by the tolerance

  double least_x() const { return std::min(x, x + length * ux); }
  double greatest_x() const { return std::max(x, x + length * ux); }
};

/// The segments of a body, found by place along the piece.
class Creases {
 public:
  /// `rho`: the ball's radius, or another body's greatest. `tolerance` > 0, mm. Without `never_gouge` the chords are rolled with the ball's own radius.
  /// `part`: what the cells were made of.
  Creases(const shape::Part& part, const std::vector<Cell>& cells, double rho, double tolerance, bool never_gouge);

  const std::vector<Segment>& all() const { return segments_; }
  /// Indices of the segments that may come within their ball's radius of x0 along the piece (some may not).
  const std::vector<int>& near(double x0) const;

 private:
  void index();

  std::vector<Segment> segments_;
  double first_ = 0, step_ = 1;
  std::vector<std::vector<int>> bins_;
  std::vector<int> none_;
};

/// Height of the ball's centre over one segment for the directions whose cosine and sine are given; -infinity where it
/// passes beside. V is a vector of numbers: single precision over a row of columns, or one double.
template <class V>
V height_over(const Segment& s, double x0, const V& cos_a, const V& sin_a) {
  using T = typename V::value_type;
  const V dx = static_cast<T>(s.x - x0), ux = static_cast<T>(s.ux), rho2 = static_cast<T>(s.rho * s.rho);
  const T y = static_cast<T>(s.y), z = static_cast<T>(s.z), uy = static_cast<T>(s.uy), uz = static_cast<T>(s.uz);
  const V l = z * cos_a - y * sin_a, h = y * cos_a + z * sin_a;
  const V ul = uz * cos_a - uy * sin_a, uh = uy * cos_a + uz * sin_a;
  // a segment along the cutter has m = 0: the added speck sends t to the upper end, which is right
  const V per_m2 = T(1) / (ux * ux + ul * ul + T(1e-20));
  const V cross = dx * ul - l * ux;
  const V q = lanes::max(V(0), rho2 - cross * cross * per_m2);
  V t = uh * lanes::sqrt(q * per_m2) - (dx * ux + l * ul) * per_m2;
  t = lanes::min(lanes::max(t, V(0)), V(static_cast<T>(s.length)));
  const V px = dx + t * ux, pl = l + t * ul;
  const V v = rho2 - px * px - pl * pl;
  V c = h + t * uh + lanes::sqrt(lanes::max(v, V(0)));
  where(v < T(0), c) = -std::numeric_limits<T>::infinity();
  return c;
}

// The other bodies over the same segment. Let p be the least lateral distance of its line from the cutter's axis and w run along it,
// seen from above: q² = p² + w², and the height grows by k = uh / m for each mm of w. What is sought is the greatest of
// k w - rise(q) over a stretch of w: the rise is convex and grows with q, which is convex in w, so the sum is concave and its greatest
// value stands at its stationary point clamped to the stretch.
//   - level disc: at the higher end of the stretch within the disc;
//   - cone of slope c: w = p e / sqrt(1 - e²) with e = k / c (|e| >= 1: outermost), not within `flat` and not beyond `outer`;
//   - rounded rim: by halving the stretch where the slope changes its sign.

namespace over {

/// The segment seen from a row of cutters: where its line is nearest to each axis and the stretch of t that is within `outer`.
template <class V>
struct Seen {
  V l, h, ul, uh, m2, nearest, from, to, p2;
  typename V::mask_type within;
};

template <class V>
Seen<V> seen(const Segment& s, typename V::value_type dx, typename V::value_type outer, const V& cos_a, const V& sin_a) {
  using T = typename V::value_type;
  const V ux = static_cast<T>(s.ux);
  const V y = static_cast<T>(s.y), z = static_cast<T>(s.z), uy = static_cast<T>(s.uy), uz = static_cast<T>(s.uz);
  Seen<V> v;
  v.l = z * cos_a - y * sin_a, v.h = y * cos_a + z * sin_a;
  v.ul = uz * cos_a - uy * sin_a, v.uh = uy * cos_a + uz * sin_a;
  v.m2 = ux * ux + v.ul * v.ul + T(1e-20);
  const V per_m2 = T(1) / v.m2;
  v.nearest = -(dx * ux + v.l * v.ul) * per_m2;
  const V cross = dx * v.ul - v.l * ux;
  v.p2 = cross * cross * per_m2;
  where(v.m2 < T(1e-12), v.p2) = dx * dx + v.l * v.l;  // plumb
  const V half = lanes::sqrt(lanes::max(V(0), (V(outer) * outer - v.p2) * per_m2));
  v.from = lanes::max(V(0), lanes::min(v.nearest - half, V(static_cast<T>(s.length))));
  v.to = lanes::max(V(0), lanes::min(v.nearest + half, V(static_cast<T>(s.length))));
  // by the stretch, not by the place found: at the rim of a disc rounding would lose it
  v.within = v.p2 <= V(outer * outer) && v.nearest - half <= V(static_cast<T>(s.length)) && v.nearest + half >= V(0);
  return v;
}

template <class V>
V disc_place(const Seen<V>& v) {
  V t = v.to;
  where(v.uh < V(0), t) = v.from;
  return t;
}

template <class V>
V cone_place(const Seen<V>& v, typename V::value_type flat, typename V::value_type slope) {
  using T = typename V::value_type;
  const V m = lanes::sqrt(v.m2), e = lanes::abs(v.uh) / (m * slope);
  const V least = lanes::sqrt(lanes::max(V(0), V(flat * flat) - v.p2));
  V w = lanes::sqrt(v.p2 / lanes::max(V(T(1e-12)), T(1) - e * e)) * e;
  where(e >= V(1), w) = V(T(1e9));
  w = lanes::max(w, least) / m;
  where(v.uh < V(0), w) = -w;
  return lanes::min(lanes::max(v.nearest + w, v.from), v.to);
}

template <class V>
V rounded_place(const Seen<V>& v, typename V::value_type dx, typename V::value_type ux, typename V::value_type flat,
                typename V::value_type corner) {
  using T = typename V::value_type;
  constexpr int kHalvings = sizeof(T) == 4 ? 20 : 44;
  V from = v.from, to = v.to;
  for (int i = 0; i < kHalvings; ++i) {
    const V t = T(0.5) * (from + to);
    const V px = dx + t * ux, pl = v.l + t * v.ul;
    const V q = lanes::sqrt(px * px + pl * pl), past = lanes::max(V(0), q - flat);
    const V upright = lanes::sqrt(lanes::max(V(0), V(corner * corner) - past * past));
    const auto rises = v.uh * upright * q > past * (px * ux + pl * v.ul);
    where(rises, from) = t;
    where(!rises, to) = t;
  }
  return T(0.5) * (from + to);
}

}  // namespace over

/// Where on the segment a body that is no ball stands: mm from its start.
template <class V>
V place_over(const over::Seen<V>& v, const Segment& s, const CutterBody& body, double x0) {
  using T = typename V::value_type;
  const T flat = static_cast<T>(body.flat);
  if (body.kind == CutterBody::Kind::cone) return over::cone_place(v, flat, static_cast<T>(body.slope));
  if (body.corner == 0) return over::disc_place(v);
  return over::rounded_place(v, static_cast<T>(s.x - x0), static_cast<T>(s.ux), flat, static_cast<T>(body.corner));
}

/// Height of the cutter's tip where `body` stands on the segment; -infinity where it passes beside. Not for balls: height_over.
template <class V>
V tip_over(const Segment& s, const CutterBody& body, double x0, const V& cos_a, const V& sin_a) {
  using T = typename V::value_type;
  const T dx = static_cast<T>(s.x - x0), ux = static_cast<T>(s.ux);
  const T outer = static_cast<T>(body.outer), flat = static_cast<T>(body.flat), corner = static_cast<T>(body.corner);
  const over::Seen<V> v = over::seen(s, dx, outer, cos_a, sin_a);
  const bool cone = body.kind == CutterBody::Kind::cone;
  const V t = place_over(v, s, body, x0);
  const V px = dx + t * ux, pl = v.l + t * v.ul, q = lanes::sqrt(px * px + pl * pl);
  const V past = lanes::max(V(0), q - flat);
  V rise = cone ? V(past * static_cast<T>(body.slope))
                : V(corner - lanes::sqrt(lanes::max(V(0), V(corner * corner) - past * past)));
  where(!v.within, rise) = std::numeric_limits<T>::infinity();
  return v.h + t * v.uh - rise - static_cast<T>(body.z);
}

}  // namespace pommel::mill
