// Volume and skin of the turned part: integrals of the exact section between the places where its make-up changes.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "shape/part.h"
#include "shape/quadrature.h"
#include "shape/ring.h"
#include "shape/section.h"

namespace pommel::shape {
namespace {

// Halvings of a treated stretch: where a twist crosses other makers in places not known beforehand the integrand has kinks, which
// halving only narrows: after eight of them to 1/256 of the stretch.
constexpr int kHalvings = 8;

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

// Skin of one maker for each mm of x: the integral over its angles of sqrt(R² + R_theta² + R² R_x²). Faces in closed form; a groove or
// a reed is an arc of a circle whose centre moves by c_x: g sqrt(1 + (c_x cos b)²) over the angles b about that centre.
double skin_of_circle(double c, double c_x, double g, double a0, double a1, bool far) {
  auto inner = [&](double a) { return std::asin(std::clamp(c * std::sin(a) / g, -1.0, 1.0)); };
  double b0 = far ? a0 + inner(a0) : a0 - inner(a0), b1 = far ? a1 + inner(a1) : a1 - inner(a1);
  double from = std::min(b0, b1), to = std::max(b0, b1);
  return integral([&](double b) { return g * std::hypot(1, c_x * std::cos(b)); }, from, to, 1e-9 * g, 1e-10 * g);
}

double skin_of_round(const Ring::Round& round, double theta0, double theta1) {
  if (round.swing == 0) return round.middle * std::hypot(1, round.middle_x) * (theta1 - theta0);
  auto skin = [&](double theta) {
    double u = round.starts * (theta - round.psi), co = std::cos(u), si = std::sin(u);
    double r = round.middle + round.swing * co, r_theta = -round.swing * round.starts * si;
    double r_x = round.middle_x + round.swing_x * co + round.swing * round.starts * round.psi_x * si;
    return std::sqrt(r * r + r_theta * r_theta + r * r * r_x * r_x);
  };
  double sum = 0;
  int pieces = 1 + static_cast<int>((theta1 - theta0) * round.starts / kQuarterTurn);
  for (int i = 0; i < pieces; ++i) {
    double a = theta0 + (theta1 - theta0) * i / pieces, b = theta0 + (theta1 - theta0) * (i + 1) / pieces;
    sum += integral(skin, a, b, 1e-9 * round.middle, 1e-10 * round.middle);
  }
  return sum;
}

template <class Makers>
const auto& named(const Makers& makers, std::size_t index) {
  return *std::find_if(makers.begin(), makers.end(), [&](const auto& one) { return one.index == index; });
}

double skin_of_arc(const Ring& ring, const RingArc& arc) {
  double turn = arc.theta1 - arc.theta0;
  auto from = [&](double theta) { return std::remainder(arc.theta0 - theta, kTurn); };
  switch (arc.maker) {
    case Maker::round:
      return skin_of_round(ring.rounds[arc.index], arc.theta0, arc.theta1);
    case Maker::face: {
      const Ring::Plane& plane = named(ring.planes, arc.index);
      double a = from(plane.phi);
      return plane.d * (std::tan(a + turn) - std::tan(a)) * std::hypot(1, plane.d_x);
    }
    case Maker::flute: {
      const Ring::Groove& groove = named(ring.grooves, arc.index);
      double a = from(groove.theta);
      return skin_of_circle(groove.c, groove.c_x, groove.g, a, a + turn, false);
    }
    case Maker::reed:
      break;
  }
  const Ring::Reeds& reeds = named(ring.reeds, arc.index);
  double a = from(reeds.phase + arc.reed * kTurn / reeds.count);
  return skin_of_circle(reeds.c, reeds.c_x, reeds.g, a, a + turn, true);
}

double treated_skin_at(const Part& part, double x) {
  const Ring ring = ring_at(part, x, Side::after);
  double sum = 0;
  for (const RingArc& arc : ring.arcs()) sum += skin_of_arc(ring, arc);
  return sum;
}

// Skin of the stretch for each mm of x, without treatments: the round over its open angle, and the flats.
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
  const Ring one = ring_at(part, x, Side::before), other = ring_at(part, x, Side::after);
  if (one.treated() || other.treated()) return std::max(0.0, one.area() + other.area() - 2 * overlaid(one, other).area());
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
    if (slab.treated) {
      double tolerance = 1e-9 * box * (b - a) / part.length;
      sum += integral([&](double x) { return ring_at(part, x, Side::after).area(); }, a, b, tolerance, tolerance / 64, kHalvings);
    } else {
      sum += integral([&](double x) { return slab.section(x).area(); }, a, b, 1e-13 * box);
    }
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
    if (slab.treated) {
      double tolerance = 1e-7 * box * (b - a) / part.length;
      sum += integral([&](double x) { return treated_skin_at(part, x); }, a, b, tolerance, tolerance / 64, kHalvings);
    } else {
      sum += integral([&](double x) { return skin_at(slab, x); }, a, b, 1e-9 * box);
    }
  });
  return sum;
}

}  // namespace pommel::shape
