#include "shape/crease.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "shape/section.h"

namespace pommel::shape {
namespace {

// The curve over one stretch, by halving until the chord's quarter points are near enough. The parameter s in [0, 1] eases x
// at both ends, where t may run like a square root.
struct CurveTracer {
  const Slab& slab;
  std::size_t face;
  double a, b, tolerance;
  std::vector<CurvePoint>& points;

  CurvePoint at(double s) const {
    double x = s <= 0 ? a : s >= 1 ? b : a + (b - a) * (s * s * (3 - 2 * s));
    auto side =
        std::find_if(slab.sides.begin(), slab.sides.end(), [&](const Slab::Side& one) { return one.face == face; });
    return {x, half_flat(slab.round->value(x), side->d->value(x))};
  }

  static double off_chord(const CurvePoint& p, const CurvePoint& q, const CurvePoint& m) {
    double dx = q.x - p.x, dt = q.t - p.t, chord = std::hypot(dx, dt);
    return chord == 0 ? std::hypot(m.x - p.x, m.t - p.t) : std::fabs((m.x - p.x) * dt - (m.t - p.t) * dx) / chord;
  }

  void trace(double s0, const CurvePoint& p, double s1, const CurvePoint& q, int depth) {
    double sm = (s0 + s1) / 2;
    CurvePoint m = at(sm), m1 = at((s0 + sm) / 2), m3 = at((sm + s1) / 2);
    double off = std::max({off_chord(p, q, m), off_chord(p, q, m1), off_chord(p, q, m3)});
    if (depth > 0 && off > tolerance) {
      trace(s0, p, sm, m, depth - 1);
      trace(sm, m, s1, q, depth - 1);
    } else {
      points.push_back(q);
    }
  }
};

bool round_cuts_face(const Slab& slab, std::size_t face, double x) {
  for (const Flat& flat : slab.section(x).flats()) {
    if (flat.face == face) return !flat.corner1;
  }
  return false;
}

}  // namespace

std::vector<std::vector<CurvePoint>> pommel_curves(const Part& part, std::size_t face, double tolerance) {
  assert(face < part.faces.size() && tolerance > 0);
  constexpr int kDepth = 14;
  std::vector<std::vector<CurvePoint>> curves;
  for (const Slab& slab : slabs(part)) {
    std::vector<double> at = crossings(slab);
    at.insert(at.begin(), slab.a);
    at.push_back(slab.b);
    for (std::size_t i = 0; i + 1 < at.size(); ++i) {
      if (!round_cuts_face(slab, face, (at[i] + at[i + 1]) / 2)) continue;
      std::vector<CurvePoint> points;
      CurveTracer tracer{slab, face, at[i], at[i + 1], tolerance, points};
      CurvePoint p = tracer.at(0), q = tracer.at(1);
      // one curve runs on through a knot where it does not jump
      bool runs_on =
          !curves.empty() && curves.back().back().x == p.x && std::fabs(curves.back().back().t - p.t) <= 1e-9;
      if (!runs_on) curves.push_back({p});
      tracer.trace(0, p, 1, q, kDepth);
      curves.back().insert(curves.back().end(), points.begin(), points.end());
    }
  }
  return curves;
}

}  // namespace pommel::shape
