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

#include "mill/section.h"

namespace pommel::mill {

namespace lanes = std::experimental;

/// A straight piece of a crease from (x, y, z), `length` along the unit vector u; y and z as in shape/part.h.
struct Segment {
  double x = 0, y = 0, z = 0;
  double ux = 0, uy = 0, uz = 0;
  double length = 0;
  double rho = 0;                 ///< of the ball that is rolled over it
  double theta0 = 0, theta1 = 0;  ///< directions of its ends, theta0 <= theta1 < theta0 + pi
  double reach0 = 0, reach1 = 0;  ///< their distances from the axis

  double least_x() const { return std::min(x, x + length * ux); }
  double greatest_x() const { return std::max(x, x + length * ux); }
};

/// The segments of a body, found by place along the piece.
class Creases {
 public:
  /// `tolerance` > 0, mm. Without `never_gouge` the chords are rolled with the ball's own radius.
  Creases(const std::vector<Cell>& cells, double rho, double tolerance, bool never_gouge);

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

}  // namespace pommel::mill
