// The radial field R(x, theta) and what can be said of it at one place.
#include <algorithm>
#include <cmath>
#include <limits>

#include "shape/part.h"
#include "shape/section.h"

namespace pommel::shape {

double radius_at(const Part& part, double x, double theta, Side side) {
  double radius = part.outline.value(x, side);
  for (const Face& face : part.faces) {
    double c = sin_cos(theta - face.phi).cos;
    if (c > 0) radius = std::min(radius, face.d.value(x, side) / c);
  }
  return radius;
}

double radius_at(const Part& part, double x, double theta) {
  return std::max(radius_at(part, x, theta, Side::before), radius_at(part, x, theta, Side::after));
}

double least_face_distance(const Part& part, double x, Side side) {
  double least = std::numeric_limits<double>::infinity();
  for (const Face& face : part.faces) least = std::min(least, face.d.value(x, side));
  return least;
}

double section_area(const Part& part, double x, Side side) {
  return section_at(part, x, side).area();
}

namespace {

// The greatest of f between a and b when it is smooth there: the best of nine samples, sharpened by golden section.
template <class F>
double greatest_between(const F& f, double a, double b) {
  constexpr int kSamples = 8;
  int best = 0;
  double found = f(a);
  for (int i = 1; i <= kSamples; ++i) {
    double v = f(a + (b - a) * i / kSamples);
    if (v > found) {
      found = v;
      best = i;
    }
  }
  double lo = a + (b - a) * std::max(0, best - 1) / kSamples,
         hi = a + (b - a) * std::min(kSamples, best + 1) / kSamples;
  constexpr double kGolden = 0.6180339887498949;
  for (int step = 0; step < 60; ++step) {
    double p = hi - kGolden * (hi - lo), q = lo + kGolden * (hi - lo);
    double fp = f(p), fq = f(q);
    found = std::max({found, fp, fq});
    if (fp < fq) {
      lo = p;
    } else {
      hi = q;
    }
  }
  return found;
}

}  // namespace

double reach(const Part& part) {
  double found = 0;
  for (const Slab& slab : slabs(part)) {
    std::vector<double> at = crossings(slab);
    at.push_back(slab.a);
    at.push_back(slab.b);
    for (double x : level_points(*slab.round)) {
      if (x > slab.a && x < slab.b) at.push_back(x);
    }
    std::sort(at.begin(), at.end());
    auto reach_at = [&](double x) { return slab.section(x).reach(); };
    for (std::size_t i = 0; i + 1 < at.size(); ++i)
      found = std::max(found, greatest_between(reach_at, at[i], at[i + 1]));
  }
  return found;
}

}  // namespace pommel::shape
