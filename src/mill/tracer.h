// Curves on the skin into the straight segments of crease.h. Inside mill/ only.
#pragma once

#include <algorithm>
#include <cmath>
#include <vector>

#include "mill/crease.h"

namespace pommel::mill {

struct Point {
  double x = 0, y = 0, z = 0;
};

inline Segment segment_between(const Point& p, const Point& q, double rho) {
  Segment s{p.x, p.y, p.z, q.x - p.x, q.y - p.y, q.z - p.z, 0, rho, 0, 0, 0, 0};
  s.length = std::sqrt(s.ux * s.ux + s.uy * s.uy + s.uz * s.uz);
  if (s.length > 0) s.ux /= s.length, s.uy /= s.length, s.uz /= s.length;
  s.theta0 = std::atan2(p.z, p.y);
  s.reach0 = std::hypot(p.y, p.z);
  s.reach1 = std::hypot(q.y, q.z);
  // the turn from p to q, less than half a turn because the segment does not pass through the axis
  s.theta1 = s.theta0 + std::atan2(p.y * q.z - p.z * q.y, p.y * q.y + p.z * q.z);
  if (s.theta1 < s.theta0) {
    std::swap(s.theta0, s.theta1);
    std::swap(s.reach0, s.reach1);
  }
  return s;
}

inline double distance_to_chord(const Point& m, const Point& p, const Point& q) {
  const double ux = q.x - p.x, uy = q.y - p.y, uz = q.z - p.z;
  const double wx = m.x - p.x, wy = m.y - p.y, wz = m.z - p.z;
  const double length2 = ux * ux + uy * uy + uz * uz;
  const double t = length2 > 0 ? std::clamp((wx * ux + wy * uy + wz * uz) / length2, 0.0, 1.0) : 0;
  return std::sqrt((wx - t * ux) * (wx - t * ux) + (wy - t * uy) * (wy - t * uy) + (wz - t * uz) * (wz - t * uz));
}

/// Splits curves into chords and collects them.
class Tracer {
 public:
  Tracer(double rho, double tolerance, bool never_gouge, std::vector<Segment>& into)
      : rho_(rho), curved_rho_(never_gouge ? rho + tolerance : rho), tolerance_(tolerance), into_(into) {}

  void straight(const Point& p, const Point& q) { chord(p, q, false); }
  /// `curved`: the chord stands for something that leaves it, by no more than the tolerance.
  void chord(const Point& p, const Point& q, bool curved) {
    into_.push_back(segment_between(p, q, curved ? curved_rho_ : rho_));
    into_.back().curved = curved;
  }
  double tolerance() const { return tolerance_; }

  template <class Curve>
  void trace(const Curve& curve, double a, double b, int depth = 0) {
    const Point p = curve(a), q = curve(b);
    double sag = 0;
    for (int k = 1; k < 8; ++k) sag = std::max(sag, distance_to_chord(curve(a + (b - a) * k / 8), p, q));
    if (sag <= kStraight || sag <= tolerance_ || depth >= kDeepest) {
      return chord(p, q, sag > kStraight);
    }
    const double middle = a + (b - a) / 2;
    trace(curve, a, middle, depth + 1);
    trace(curve, middle, b, depth + 1);
  }

  static constexpr double kStraight = 1e-9;  ///< mm

 private:
  static constexpr int kDeepest = 40;        // halvings: a metre down to a thousand-millionth of a millimetre

  double rho_, curved_rho_, tolerance_;
  std::vector<Segment>& into_;
};

}  // namespace pommel::mill
