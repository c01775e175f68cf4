// One plane facet under one body of the cutter. Inside mill/ only.
#pragma once

#include <algorithm>
#include <cmath>

#include "mill/crease.h"
#include "mill/meridian.h"
#include "mill/tracer.h"

namespace pommel::mill {

/// A parallelogram p + u e + v f with u, v from 0 to 1, or the triangle of it with u + v <= 1.
struct Facet {
  Point p, e, f;
  Point n;         ///< unit normal, away from the wood
  Point du, dv;    ///< u = du . (P - p), v = dv . (P - p)
  double length_e = 0, length_f = 0;
  bool triangle = false;
};

inline Point minus(const Point& a, const Point& b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
inline double dot(const Point& a, const Point& b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
inline Point cross(const Point& a, const Point& b) { return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x}; }

inline Facet facet_of(const Point& p, const Point& q, const Point& s, bool triangle) {
  Facet t{p, minus(q, p), minus(s, p), {}, {}, {}, 0, 0, triangle};
  Point n = cross(t.e, t.f);
  const double area2 = dot(n, n), sense = n.y * p.y + n.z * p.z < 0 ? -1 : 1, per = sense / std::sqrt(area2);
  const Point du = cross(t.f, n), dv = cross(n, t.e);
  t.du = {du.x / area2, du.y / area2, du.z / area2};
  t.dv = {dv.x / area2, dv.y / area2, dv.z / area2};
  t.n = {n.x * per, n.y * per, n.z * per};
  t.length_e = std::sqrt(dot(t.e, t.e)), t.length_f = std::sqrt(dot(t.f, t.f));
  return t;
}

/// Where the body stands on the plane of a facet, for directions whose cosine and sine are given.
template <class V>
struct FacetHit {
  V height;   ///< of the tip; -infinity where the place is not on the facet
  V x, y, z;  ///< the place, x from the cutter's
};

/// `slack`, mm: places no farther outside the facet count.
template <class V>
FacetHit<V> stand_on(const Facet& t, const CutterBody& body, double x0, const V& cos_a, const V& sin_a, double slack) {
  using T = typename V::value_type;
  const T nx = static_cast<T>(t.n.x), ny = static_cast<T>(t.n.y), nz = static_cast<T>(t.n.z);
  const T px = static_cast<T>(t.p.x - x0), py = static_cast<T>(t.p.y), pz = static_cast<T>(t.p.z);
  const bool cone = body.kind == CutterBody::Kind::cone;
  const T wide = static_cast<T>(cone ? body.outer : body.flat), corner = static_cast<T>(body.corner);
  const V nl = nz * cos_a - ny * sin_a, nh = ny * cos_a + nz * sin_a;
  V reach = corner;
  if (wide > T(0)) reach = wide / lanes::sqrt(lanes::max(V(T(1e-12)), nx * nx + nl * nl)) + corner;
  const V safe = lanes::max(nh, V(T(1e-6)));
  FacetHit<V> hit;
  hit.x = -reach * nx;
  const V l = -reach * nl;
  const V h = (V(nx * px + ny * py + nz * pz) - nx * hit.x - nl * l) / safe;
  hit.y = h * cos_a - l * sin_a, hit.z = h * sin_a + l * cos_a;
  const V ox = hit.x - px, oy = hit.y - py, oz = hit.z - pz;
  const V u = static_cast<T>(t.du.x) * ox + static_cast<T>(t.du.y) * oy + static_cast<T>(t.du.z) * oz;
  const V v = static_cast<T>(t.dv.x) * ox + static_cast<T>(t.dv.y) * oy + static_cast<T>(t.dv.z) * oz;
  const T su = static_cast<T>(slack / t.length_e), sv = static_cast<T>(slack / t.length_f);
  auto on = nh > V(T(1e-6)) && u >= V(-su) && v >= V(-sv);
  if (t.triangle) on = on && u + v <= V(T(1) + su + sv);
  else on = on && u <= V(T(1) + su) && v <= V(T(1) + sv);
  const T raised = static_cast<T>(cone ? (body.outer - body.flat) * body.slope : 0);
  hit.height = h + corner * nh - (raised + corner + static_cast<T>(body.z));
  where(!on, hit.height) = -std::numeric_limits<T>::infinity();
  return hit;
}

}  // namespace pommel::mill
