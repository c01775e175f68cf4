// Volume and skin of the turned part: integrals of the exact section between the places where its make-up changes.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "shape/part.h"
#include "shape/quadrature.h"
#include "shape/section.h"

namespace pommel::shape {
namespace {

// Calls use(slab, a, b) for each stretch on which the section has one make-up.
template <class F>
void for_each_stretch(const Part& part, const F& use) {
  for (const Slab& slab : slabs(part)) {
    double a = slab.a;
    for (double x : crossings(slab)) {
      use(slab, a, x);
      a = x;
    }
    use(slab, a, slab.b);
  }
}

// Skin of the stretch for each mm of x: the round over its open angle, and the flats.
double skin_at(const Slab& slab, double x) {
  Section section = slab.section(x);
  double sum = 0;
  double open = section.open_angle();
  if (open > 0) sum += open * section.r * std::hypot(1, slab.round->slope(x));
  for (const Flat& flat : section.flats()) {
    auto side =
        std::find_if(slab.sides.begin(), slab.sides.end(), [&](const Slab::Side& s) { return s.face == flat.face; });
    sum += (flat.t1 - flat.t0) * std::hypot(1, side->d->slope(x));
  }
  return sum;
}

// The wall square to the axis at a knot: what either section has and the other has not.
double wall_at(const Part& part, double x) {
  Section before = section_at(part, x, Side::before), after = section_at(part, x, Side::after);
  Section both = before;
  both.r = std::min(before.r, after.r);
  both.planes.insert(both.planes.end(), after.planes.begin(), after.planes.end());
  return std::max(0.0, before.area() + after.area() - 2 * both.area());
}

// The size of the section, for tolerances only: the greatest at a knot.
double rough_reach(const Part& part) {
  double found = 0;
  for (double x : knots(part))
    found = std::max({found, section_at(part, x, Side::before).reach(), section_at(part, x, Side::after).reach()});
  return found;
}

}  // namespace

double turned_volume(const Part& part) {
  double rough = rough_reach(part), box = 4 * rough * rough * part.length;
  double sum = 0;
  for_each_stretch(part, [&](const Slab& slab, double a, double b) {
    sum += integral([&](double x) { return slab.section(x).area(); }, a, b, 1e-13 * box);
  });
  return sum;
}

double turned_area(const Part& part) {
  double box = 8 * rough_reach(part) * part.length;
  double sum = section_area(part, 0, Side::after) + section_area(part, part.length, Side::before);
  for (double x : knots(part)) {
    if (x > 0 && x < part.length) sum += wall_at(part, x);
  }
  for_each_stretch(part, [&](const Slab& slab, double a, double b) {
    sum += integral([&](double x) { return skin_at(slab, x); }, a, b, 1e-9 * box);
  });
  return sum;
}

}  // namespace pommel::shape
