// The makers of a section, their crossings, and the lower envelope made of them.
#include "shape/ring.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace pommel::shape {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
// Edges nearer than this are one, radians: at 100 mm from the axis 1e-10 mm.
constexpr double kOneEdge = 1e-12;
// Where between two crossings the nearest maker is asked for: not in the middle, where a reed's crown touches the round it is cut in.
constexpr double kBeside = 0.381966;

double in_turn(double angle) {
  double within = std::fmod(angle, kTurn);
  if (within < 0) within += kTurn;
  return within >= kTurn ? 0 : within;
}

double off(double angle, double from) {
  return std::remainder(angle - from, kTurn);
}

double near_branch(double c, double g, double cos, double sin) {
  double across = c * sin;
  return c * cos - std::sqrt((g - across) * (g + across));
}

double far_branch(double c, double g, double cos, double sin) {
  double across = c * sin;
  return c * cos + std::sqrt(std::max(0.0, (g - across) * (g + across)));
}

double radius_of(const Ring::Round& round, double theta) {
  if (round.swing == 0) return round.middle;
  return round.middle + round.swing * std::cos(round.starts * (theta - round.psi));
}

double radius_of(const Ring::Plane& plane, double theta) {
  double c = sin_cos(theta - plane.phi).cos;
  return c > 0 ? plane.d / c : kInfinity;
}

double radius_of(const Ring::Groove& groove, double theta) {
  SinCos a = sin_cos(theta - groove.theta);
  return a.cos > 0 && std::fabs(groove.c * a.sin) <= groove.g ? near_branch(groove.c, groove.g, a.cos, a.sin) : kInfinity;
}

// The groove reaches so far to both sides at most, radians.
double half_of(const Ring::Groove& groove) {
  return groove.c > groove.g ? std::asin(groove.g / groove.c) : kQuarterTurn;
}

double in_sector(const Ring::Reeds& reeds, double theta) {
  return std::remainder(theta - reeds.phase, kTurn / reeds.count);
}

double radius_of(const Ring::Reeds& reeds, double theta) {
  const double within = in_sector(reeds, theta);  // far from a quarter turn: nothing to keep exact
  return far_branch(reeds.c, reeds.g, std::cos(within), std::sin(within));
}

// The maker that is nearest to the axis at theta. The angle's sine and cosine are taken once and turned to each maker's own.
RingArc maker_at(const Ring& ring, double theta) {
  double s = std::sin(theta), c = std::cos(theta), least = kInfinity;
  RingArc found;
  for (const Ring::Round& round : ring.rounds) {
    double r = radius_of(round, theta);
    if (r < least) {
      least = r;
      found = {Maker::round, static_cast<std::size_t>(&round - ring.rounds.data()), 0, 0, 0};
    }
  }
  for (const Ring::Plane& plane : ring.planes) {
    double cos = c * plane.turn.cos + s * plane.turn.sin;
    if (cos > 0 && plane.d < least * cos) {
      least = plane.d / cos;
      found = {Maker::face, plane.index, 0, 0, 0};
    }
  }
  for (const Ring::Reeds& reeds : ring.reeds) {
    double r = radius_of(reeds, theta);
    if (r < least) {
      least = r;
      int which = static_cast<int>(std::lround((theta - reeds.phase) / (kTurn / reeds.count)));
      found = {Maker::reed, reeds.index, (which % reeds.count + reeds.count) % reeds.count, 0, 0};
    }
  }
  for (const Ring::Groove& groove : ring.grooves) {
    double cos = c * groove.turn.cos + s * groove.turn.sin, sin = s * groove.turn.cos - c * groove.turn.sin;
    if (!(cos > 0) || std::fabs(groove.c * sin) > groove.g) continue;
    double r = near_branch(groove.c, groove.g, cos, sin);
    if (r < least) {
      least = r;
      found = {Maker::flute, groove.index, 0, 0, 0};
    }
  }
  return found;
}

// A maker as a curve for crossings: a circle of radius g about a centre at distance c in the direction theta (c = 0: the round), or
// the line square to theta at distance c (g = 0). It speaks for angles within `half` of theta.
struct Curve {
  double theta = 0, c = 0, g = 0, half = kTurn;
  bool line = false;
  const Ring::Round* twisted = nullptr;
};

std::vector<Curve> curves_of(const Ring& ring) {
  std::vector<Curve> curves;
  for (const Ring::Round& round : ring.rounds) {
    if (!std::isfinite(round.middle)) continue;
    curves.push_back({0, 0, round.middle, kTurn, false, round.swing == 0 ? nullptr : &round});
  }
  for (const Ring::Plane& plane : ring.planes) curves.push_back({plane.phi, plane.d, 0, kQuarterTurn, true, nullptr});
  for (const Ring::Groove& groove : ring.grooves)
    curves.push_back({groove.theta, groove.c, groove.g, half_of(groove), false, nullptr});
  for (const Ring::Reeds& reeds : ring.reeds) {
    for (int k = 0; k < reeds.count; ++k)
      curves.push_back({reeds.phase + k * kTurn / reeds.count, reeds.c, reeds.g, kTurn / reeds.count / 2, false, nullptr});
  }
  return curves;
}

using Angles = std::vector<double>;

void take(const Curve& p, const Curve& q, double angle, Angles& found) {
  constexpr double kSlack = 1e-9;
  if (std::fabs(off(angle, p.theta)) <= p.half + kSlack && std::fabs(off(angle, q.theta)) <= q.half + kSlack)
    found.push_back(in_turn(angle));
}

void cross_lines(const Curve& p, const Curve& q, Angles& found) {
  SinCos turn = sin_cos(q.theta - p.theta);
  if (std::fabs(turn.sin) <= kAngleSnap) return;
  take(p, q, p.theta + std::atan2((q.c - p.c * turn.cos) / turn.sin, p.c), found);
}

void cross_line(const Curve& line, const Curve& circle, Angles& found) {
  SinCos turn = sin_cos(circle.theta - line.theta);
  double beside = line.c - circle.c * turn.cos;
  if (std::fabs(beside) > circle.g) return;
  double across = circle.c * turn.sin, half = std::sqrt((circle.g - beside) * (circle.g + beside));
  for (double t : {across - half, across + half}) take(line, circle, line.theta + std::atan2(t, line.c), found);
}

// Both circles in the frame whose first axis runs through p's centre.
void cross_circles(const Curve& p, const Curve& q, Angles& found) {
  SinCos turn = sin_cos(q.theta - p.theta);
  double dx = q.c * turn.cos - p.c, dy = q.c * turn.sin, apart = std::hypot(dx, dy);
  if (!(apart > 0)) return;
  double along = (apart * apart + (p.g - q.g) * (p.g + q.g)) / (2 * apart);
  if (std::fabs(along) > p.g) return;
  double aside = std::sqrt((p.g - along) * (p.g + along));
  double mx = p.c + dx / apart * along, my = dy / apart * along;
  for (double s : {-aside, aside})
    take(p, q, p.theta + std::atan2(my + dx / apart * s, mx - dy / apart * s), found);
}

template <class F>
double halved(const F& gap, double lo, double hi) {
  bool below = gap(lo) < 0;
  for (int step = 0; step < 60; ++step) {
    double m = lo + (hi - lo) / 2;
    if ((gap(m) < 0) == below) lo = m;
    else hi = m;
  }
  return lo + (hi - lo) / 2;
}

// Where between a and b the gap comes nearest to nothing, by golden section. REQUIRES: one such place between them.
template <class F>
double nearest_to_nothing(const F& gap, double a, double b) {
  constexpr double kGolden = 0.6180339887498949;
  for (int step = 0; step < 40; ++step) {
    double p = b - kGolden * (b - a), q = a + kGolden * (b - a);
    if (std::fabs(gap(p)) < std::fabs(gap(q))) b = q;
    else a = p;
  }
  return a + (b - a) / 2;
}

// The twisted outline against another maker, whose radius `other` gives: sign changes between steps, and pairs of them within one
// step where the gap turns back towards nothing.
template <class F>
void cross_twist(const Ring::Round& twist, double from, double to, const F& other, Angles& found) {
  const int steps = std::max(24, static_cast<int>(48 * twist.starts * (to - from) / kTurn) + 1);
  auto gap = [&](double theta) { return std::min(other(theta), 1e9) - radius_of(twist, theta); };
  auto at = [&](int i) { return from + (to - from) * i / steps; };
  double before = gap(from), middle = gap(at(1));
  if ((before < 0) != (middle < 0)) found.push_back(in_turn(halved(gap, from, at(1))));
  for (int i = 1; i < steps; ++i) {
    double after = gap(at(i + 1));
    if ((middle < 0) != (after < 0)) {
      found.push_back(in_turn(halved(gap, at(i), at(i + 1))));
    } else if ((before < 0) == (middle < 0) && std::fabs(middle) <= std::fabs(before) && std::fabs(middle) <= std::fabs(after)) {
      double turn = nearest_to_nothing(gap, at(i - 1), at(i + 1));
      if ((gap(turn) < 0) != (middle < 0)) {
        found.push_back(in_turn(halved(gap, at(i - 1), turn)));
        found.push_back(in_turn(halved(gap, turn, at(i + 1))));
      }
    }
    before = middle;
    middle = after;
  }
}

void cross_twists(const Ring& ring, Angles& found) {
  for (const Ring::Round& round : ring.rounds) {
    if (round.swing == 0 || !std::isfinite(round.middle)) continue;
    for (const Ring::Round& other : ring.rounds) {
      if (&other < &round || (&other != &round && other.swing == 0))
        cross_twist(round, 0, kTurn, [&](double theta) { return radius_of(other, theta); }, found);
    }
    constexpr double kInside = 1e-9;  // just off the ends, where a maker speaks no more
    for (const Ring::Plane& plane : ring.planes) {
      double half = kQuarterTurn - kInside;
      cross_twist(round, plane.phi - half, plane.phi + half, [&](double theta) { return radius_of(plane, theta); }, found);
    }
    for (const Ring::Groove& groove : ring.grooves) {
      double half = half_of(groove) - kInside;
      cross_twist(round, groove.theta - half, groove.theta + half, [&](double theta) { return radius_of(groove, theta); }, found);
    }
    for (const Ring::Reeds& reeds : ring.reeds) {
      double half = kTurn / reeds.count / 2;
      for (int k = 0; k < reeds.count; ++k) {
        double crown = reeds.phase + 2 * k * half;
        cross_twist(round, crown - half, crown + half, [&](double theta) { return radius_of(reeds, theta); }, found);
      }
    }
  }
}

// Every angle at which the envelope can change its maker; some are below others and change nothing.
Angles candidates(const Ring& ring) {
  Angles found;
  const std::vector<Curve> curves = curves_of(ring);
  for (std::size_t i = 0; i < curves.size(); ++i) {
    const Curve& p = curves[i];
    for (std::size_t j = i + 1; j < curves.size(); ++j) {
      const Curve& q = curves[j];
      if (p.twisted || q.twisted || std::fabs(off(p.theta, q.theta)) > p.half + q.half + 1e-9) continue;
      if (p.line && q.line) cross_lines(p, q, found);
      else if (p.line) cross_line(p, q, found);
      else if (q.line) cross_line(q, p, found);
      else cross_circles(p, q, found);
    }
    if (!p.line && p.half < kTurn) {
      found.push_back(in_turn(p.theta - p.half));
      found.push_back(in_turn(p.theta + p.half));
    }
  }
  cross_twists(ring, found);
  std::sort(found.begin(), found.end());
  found.erase(std::unique(found.begin(), found.end(), [](double a, double b) { return b - a < kOneEdge; }), found.end());
  if (found.size() > 1 && found.front() + kTurn - found.back() < kOneEdge) found.pop_back();
  return found;
}

bool same_maker(const RingArc& a, const RingArc& b) {
  return a.maker == b.maker && a.index == b.index && a.reed == b.reed;
}

const Ring::Plane& plane_of(const Ring& ring, const RingArc& arc) {
  return *std::find_if(ring.planes.begin(), ring.planes.end(), [&](const Ring::Plane& p) { return p.index == arc.index; });
}

// 1/2 of the integral of R² over the arc: the wood between it and the axis.
double area_of(const Ring::Round& round, double theta0, double theta1) {
  double turn = theta1 - theta0;
  if (round.swing == 0) return round.middle * round.middle / 2 * turn;
  double n = round.starts, u0 = n * (theta0 - round.psi), u1 = n * (theta1 - round.psi);
  double plain = round.middle * round.middle * turn, mixed = 2 * round.middle * round.swing * (std::sin(u1) - std::sin(u0)) / n;
  double squared = round.swing * round.swing * (turn / 2 + (std::sin(2 * u1) - std::sin(2 * u0)) / (4 * n));
  return (plain + mixed + squared) / 2;
}

// An arc of a circle about (c, 0), from angle a0 to a1 about the axis; by Green: (g² d(beta) + centre x chord)/2.
double area_of_circle(double c, double g, double a0, double a1, bool far) {
  auto inner = [&](double a) { return std::asin(std::clamp(c * std::sin(a) / g, -1.0, 1.0)); };
  double beta = far ? (a1 + inner(a1)) - (a0 + inner(a0)) : (a1 - inner(a1)) - (a0 - inner(a0));
  auto height = [&](double a) {
    double s = std::sin(a), co = std::cos(a);
    double across = std::clamp(c * s, -g, g);
    double r = c * co + (far ? 1 : -1) * std::sqrt((g - across) * (g + across));
    return r * s;
  };
  return (g * g * beta + c * (height(a1) - height(a0))) / 2;
}

double area_under(const Ring& ring, const RingArc& arc) {
  switch (arc.maker) {
    case Maker::round:
      return area_of(ring.rounds[arc.index], arc.theta0, arc.theta1);
    case Maker::face: {
      const Ring::Plane& plane = plane_of(ring, arc);
      double a0 = off(arc.theta0, plane.phi), a1 = a0 + (arc.theta1 - arc.theta0);
      return plane.d * plane.d * (std::tan(a1) - std::tan(a0)) / 2;
    }
    case Maker::flute: {
      const Ring::Groove& groove = *std::find_if(ring.grooves.begin(), ring.grooves.end(),
                                                 [&](const Ring::Groove& g) { return g.index == arc.index; });
      double a0 = off(arc.theta0, groove.theta);
      return area_of_circle(groove.c, groove.g, a0, a0 + (arc.theta1 - arc.theta0), false);
    }
    case Maker::reed:
      break;
  }
  const Ring::Reeds& reeds =
      *std::find_if(ring.reeds.begin(), ring.reeds.end(), [&](const Ring::Reeds& r) { return r.index == arc.index; });
  double a0 = off(arc.theta0, reeds.phase + arc.reed * kTurn / reeds.count);
  return area_of_circle(reeds.c, reeds.g, a0, a0 + (arc.theta1 - arc.theta0), true);
}

// The angles of an arc at which its maker is level: crowns, bottoms, the middles of faces.
void add_levels(const Ring& ring, const RingArc& arc, Angles& at) {
  auto keep = [&](double angle) {
    double from = in_turn(angle - arc.theta0);
    if (from < arc.theta1 - arc.theta0) at.push_back(arc.theta0 + from);
  };
  if (arc.maker == Maker::face) keep(plane_of(ring, arc).phi);
  for (const Ring::Groove& groove : ring.grooves) {
    if (arc.maker == Maker::flute && groove.index == arc.index) keep(groove.theta);
  }
  for (const Ring::Reeds& reeds : ring.reeds) {
    if (arc.maker == Maker::reed && reeds.index == arc.index) keep(reeds.phase + arc.reed * kTurn / reeds.count);
  }
  if (arc.maker != Maker::round || ring.rounds[arc.index].swing == 0) return;
  const Ring::Round& round = ring.rounds[arc.index];
  for (int half = 0; half < 2 * round.starts; ++half) keep(round.psi + half * kTurn / (2 * round.starts));
}

Angles level_angles(const Ring& ring) {
  Angles at;
  for (const RingArc& arc : ring.arcs()) {
    at.push_back(arc.theta0);
    add_levels(ring, arc, at);
  }
  return at;
}

Ring::Round round_at(const Part& part, double x, Side side) {
  Ring::Round round;
  const Piece& piece = part.outline.pieces[part.outline.index_at(x, side)];
  round.middle = piece.value(x);
  if (!std::isfinite(round.middle)) return round;
  round.middle_x = piece.slope(x);
  for (const Twist& twist : part.twists) {
    if (x <= twist.x0 || x >= twist.x1) continue;
    double depth = twist.depth * fade_at(twist, x) / 2, depth_x = twist.depth * fade_slope(twist, x) / 2;
    round.middle -= depth;
    round.middle_x -= depth_x;
    round.swing = depth;
    round.swing_x = depth_x;
    round.starts = twist.starts;
    round.psi_x = kTurn / twist.pitch;
    round.psi = twist.phase + (x - twist.x0) * round.psi_x;
  }
  return round;
}

double eased(double u) {
  return u >= 1 ? 1 : u <= 0 ? 0 : u * u * (3 - 2 * u);
}

double eased_slope(double u) {
  return u >= 1 || u <= 0 ? 0 : 6 * u * (1 - u);
}

}  // namespace

double fade_at(const Twist& twist, double x) {
  return eased((x - twist.x0) / twist.fade0) * eased((twist.x1 - x) / twist.fade1);
}

double fade_slope(const Twist& twist, double x) {
  double u = (x - twist.x0) / twist.fade0, v = (twist.x1 - x) / twist.fade1;
  return eased_slope(u) / twist.fade0 * eased(v) - eased(u) * eased_slope(v) / twist.fade1;
}

bool Ring::treated() const {
  return !grooves.empty() || !reeds.empty() ||
         std::any_of(rounds.begin(), rounds.end(), [](const Round& round) { return round.swing != 0; });
}

// Whoever stands no nearer anywhere than what is there is passed over; the angle's sine and cosine are taken once, where somebody asks, and turned to each
// maker's own.
double Ring::radius(double theta) const {
  double least = kInfinity;
  for (const Round& round : rounds) least = std::min(least, radius_of(round, theta));
  for (const Reeds& one : reeds) least = std::min(least, radius_of(one, theta));
  const bool round_alone = std::all_of(planes.begin(), planes.end(), [&](const Plane& plane) { return plane.d >= least; }) &&
                           std::all_of(grooves.begin(), grooves.end(), [&](const Groove& groove) { return groove.c - groove.g >= least; });
  if (round_alone) return least;
  const SinCos at = sin_cos(theta);
  for (const Plane& plane : planes) {
    const double cos = at.cos * plane.turn.cos + at.sin * plane.turn.sin;
    if (cos > 0) least = std::min(least, plane.d / cos);
  }
  for (const Groove& groove : grooves) {
    if (groove.c - groove.g >= least) continue;
    const double cos = at.cos * groove.turn.cos + at.sin * groove.turn.sin, sin = at.sin * groove.turn.cos - at.cos * groove.turn.sin;
    if (cos > 0 && std::fabs(groove.c * sin) <= groove.g) least = std::min(least, near_branch(groove.c, groove.g, cos, sin));
  }
  return least;
}

std::vector<RingArc> Ring::arcs() const {
  const Angles at = candidates(*this);
  std::vector<RingArc> found;
  if (at.empty()) {
    found.push_back(maker_at(*this, 0));
    found.back().theta1 = kTurn;
    return found;
  }
  for (std::size_t i = 0; i < at.size(); ++i) {
    double a = at[i], b = i + 1 < at.size() ? at[i + 1] : at.front() + kTurn;
    RingArc arc = maker_at(*this, a + (b - a) * kBeside);
    arc.theta0 = a;
    arc.theta1 = b;
    if (!found.empty() && same_maker(found.back(), arc)) found.back().theta1 = b;
    else found.push_back(arc);
  }
  if (found.size() == 1) return found;
  if (same_maker(found.back(), found.front())) {  // one arc over the place where the turn began
    found.back().theta1 = found.front().theta1 + kTurn;
    found.erase(found.begin());
  }
  return found;
}

std::vector<double> Ring::creases() const {
  const std::vector<RingArc> all = arcs();
  std::vector<double> found;
  if (all.size() < 2) return found;
  for (const RingArc& arc : all) found.push_back(arc.theta0);
  return found;
}

double Ring::area() const {
  double sum = 0;
  for (const RingArc& arc : arcs()) sum += area_under(*this, arc);
  return sum;
}

double Ring::least() const {
  double found = kInfinity;
  for (double theta : level_angles(*this)) found = std::min(found, radius(theta));
  return found;
}

double Ring::greatest() const {
  double found = 0;
  for (double theta : level_angles(*this)) found = std::max(found, radius(theta));
  return found;
}

Ring ring_at(const Part& part, double x, Side side) {
  Ring ring;
  ring.rounds.push_back(round_at(part, x, side));
  for (std::size_t f = 0; f < part.faces.size(); ++f) {
    const Profile& d = part.faces[f].d;
    const Piece& piece = d.pieces[d.index_at(x, side)];
    if (piece.kind == Piece::Kind::clear) continue;
    ring.planes.push_back({f, part.faces[f].phi, piece.value(x), piece.slope(x), sin_cos(part.faces[f].phi)});
  }
  for (std::size_t f = 0; f < part.flutes.size(); ++f) {
    const Flute& flute = part.flutes[f];
    const Piece& piece = flute.centre.pieces[flute.centre.index_at(x, side)];
    if (piece.kind == Piece::Kind::clear) continue;
    ring.grooves.push_back({f, flute.theta, piece.value(x), piece.slope(x), flute.radius, sin_cos(flute.theta)});
  }
  for (std::size_t r = 0; r < part.reedings.size(); ++r) {
    const Reeding& reeding = part.reedings[r];
    const Piece& piece = reeding.centre.pieces[reeding.centre.index_at(x, side)];
    if (piece.kind == Piece::Kind::clear) continue;
    ring.reeds.push_back({r, reeding.count, reeding.phase, piece.value(x), piece.slope(x), reeding.radius});
  }
  return ring;
}

Ring overlaid(const Ring& a, const Ring& b) {
  Ring both = a;
  both.rounds.insert(both.rounds.end(), b.rounds.begin(), b.rounds.end());
  // each maker keeps its own name: the second ring's stand after the first's
  std::size_t faces = 0, grooves = 0, reeds = 0;
  for (const Ring::Plane& plane : a.planes) faces = std::max(faces, plane.index + 1);
  for (const Ring::Groove& groove : a.grooves) grooves = std::max(grooves, groove.index + 1);
  for (const Ring::Reeds& one : a.reeds) reeds = std::max(reeds, one.index + 1);
  for (Ring::Plane plane : b.planes) {
    plane.index += faces;
    both.planes.push_back(plane);
  }
  for (Ring::Groove groove : b.grooves) {
    groove.index += grooves;
    both.grooves.push_back(groove);
  }
  for (Ring::Reeds one : b.reeds) {
    one.index += reeds;
    both.reeds.push_back(one);
  }
  return both;
}

std::vector<double> crease_angles(const Part& part, double x, Side side) {
  return ring_at(part, x, side).creases();
}

}  // namespace pommel::shape
