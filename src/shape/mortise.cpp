// What mortises, bores and sawn ends take out of the turned part. At one x each pocket is a rectangle in the section plane, narrowed where its
// corners are round; the wood lost is their union inside the section, and its integral along the piece is the volume.
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "shape/convex.h"
#include "shape/mortise.h"
#include "shape/part.h"
#include "shape/quadrature.h"
#include "shape/ring.h"
#include "shape/section.h"

namespace pommel::shape {
namespace {

// Halvings of a stretch with treatments, whose edges pass the cuts in places not known beforehand.
constexpr int kHalvings = 7;

// Cut of one pocket at x; empty outside its ends.
Convex cut_at(const Pocket& pocket, double x, double outward) {
  if (x <= pocket.x0 || x >= pocket.x1) return {};
  double narrowed = 0, rho = pocket.corner_radius;
  double from_end = std::min(x - pocket.x0, pocket.x1 - x);
  if (from_end < rho) narrowed = rho - std::sqrt(from_end * (2 * rho - from_end));
  double t0 = pocket.t0 + narrowed, t1 = pocket.t1 - narrowed;
  if (!(t1 > t0)) return {};
  SinCos turn = sin_cos(pocket.phi);
  auto point = [&](double n, double t) { return Point{n * turn.cos - t * turn.sin, n * turn.sin + t * turn.cos}; };
  return {point(pocket.bottom, t0), point(outward, t0), point(outward, t1), point(pocket.bottom, t1)};
}

// What a sawn end takes of the section at x: the half-plane beyond its plane, in a square that holds the whole section.
Convex beyond(const EndCut& cut, double x, double outward) {
  double sign = cut.at_head ? -1 : 1, past = sign * (x - cut.x);  // above 0: beyond the plane on the axis
  Convex all{{-outward, -outward}, {outward, -outward}, {outward, outward}, {-outward, outward}};
  double lean = std::tan(cut.angle);
  if (lean == 0) return past > 0 ? all : Convex{};
  // kept where past <= lean n, n = y cos(phi) + z sin(phi): taken where n lean <= past
  SinCos turn = sin_cos(cut.phi);
  double s = lean > 0 ? 1 : -1;
  return clipped(all, s * turn.cos, s * turn.sin, past / std::fabs(lean));
}

// Wedges narrower than this are cut by two half-planes; a round arc is cut into such, radians.
constexpr double kWedge = kTurn / 4;
// A twist is taken as rounds over this angle each, each with the mean square radius.
constexpr double kTwistStep = kTurn / 720;

Convex in_wedge(const Convex& polygon, double theta0, double theta1) {
  SinCos a = sin_cos(theta0), b = sin_cos(theta1);
  Convex half = clipped(polygon, a.sin, -a.cos, 0);
  return half.empty() ? half : clipped(half, -b.sin, b.cos, 0);
}

Convex moved(Convex polygon, double y, double z) {
  for (Point& p : polygon) {
    p.y -= y;
    p.z -= z;
  }
  return polygon;
}

// Within the wedge, a circle of radius g about a centre at c: of a groove the near side bounds the wood, of a reed the far side. The
// chord between the arc's ends parts the wedge: below it the triangle, beyond it the circle's segment.
double under_circle(const Convex& wedge, double c, double g, double centre, double r0, double r1, double theta0, double theta1, bool far) {
  SinCos a = sin_cos(theta0), b = sin_cos(theta1), turn = sin_cos(centre);
  double py = r0 * a.cos, pz = r0 * a.sin, qy = r1 * b.cos, qz = r1 * b.sin;
  double ny = qz - pz, nz = py - qy, d = py * ny + pz * nz;
  Convex below = clipped(wedge, ny, nz, d);
  double within = below.empty() ? 0 : area_in_circle(below, std::numeric_limits<double>::infinity());
  Convex segment = far ? clipped(wedge, -ny, -nz, -d) : below;
  double round = segment.empty() ? 0 : area_in_circle(moved(std::move(segment), c * turn.cos, c * turn.sin), g);
  return far ? within + round : within - round;
}

double under_round(const Ring::Round& round, const Convex& polygon, double theta0, double theta1) {
  double sum = 0, step = round.swing == 0 ? kWedge : kTwistStep;
  int pieces = 1 + static_cast<int>((theta1 - theta0) / step);
  for (int i = 0; i < pieces; ++i) {
    double a = theta0 + (theta1 - theta0) * i / pieces, b = theta0 + (theta1 - theta0) * (i + 1) / pieces, middle = (a + b) / 2;
    double r = round.middle + round.swing * std::cos(round.starts * (middle - round.psi));
    Convex wedge = in_wedge(polygon, a, b);
    if (!wedge.empty()) sum += area_in_circle(wedge, r);
  }
  return sum;
}

// The polygon's wood between the axis and one arc of the section.
double under_arc(const Ring& ring, const RingArc& arc, const Convex& polygon) {
  if (arc.maker == Maker::round) return under_round(ring.rounds[arc.index], polygon, arc.theta0, arc.theta1);
  Convex wedge = in_wedge(polygon, arc.theta0, arc.theta1);
  if (wedge.empty()) return 0;
  double inward = 1e-9 * (arc.theta1 - arc.theta0);  // the arc's own maker at its ends, not its neighbour
  double r0 = ring.radius(arc.theta0 + inward), r1 = ring.radius(arc.theta1 - inward);
  if (arc.maker == Maker::face) {
    for (const Ring::Plane& plane : ring.planes) {
      if (plane.index == arc.index) wedge = clipped(wedge, plane.turn.cos, plane.turn.sin, plane.d);
    }
    return wedge.empty() ? 0 : area_in_circle(wedge, std::numeric_limits<double>::infinity());
  }
  for (const Ring::Groove& groove : ring.grooves) {
    if (arc.maker == Maker::flute && groove.index == arc.index)
      return under_circle(wedge, groove.c, groove.g, groove.theta, r0, r1, arc.theta0, arc.theta1, false);
  }
  for (const Ring::Reeds& reeds : ring.reeds) {
    if (arc.maker == Maker::reed && reeds.index == arc.index)
      return under_circle(wedge, reeds.c, reeds.g, reeds.phase + arc.reed * kTurn / reeds.count, r0, r1, arc.theta0, arc.theta1, true);
  }
  return 0;
}

// Area of a polygon inside the section.
double area_in(const Ring* ring, const Section& section, Convex polygon) {
  if (!ring) {
    for (const HalfPlane& plane : section.planes) polygon = clipped(polygon, plane.turn.cos, plane.turn.sin, plane.d);
    return area_in_circle(polygon, section.r);
  }
  double sum = 0;
  for (const RingArc& arc : ring->arcs()) sum += under_arc(*ring, arc, polygon);
  return sum;
}

// What is cut at one x, as convex pieces that do not overlap.
std::vector<Convex> cuts_at(const Part& part, const std::vector<Pocket>& pockets, double x, double outward) {
  std::vector<Convex> all, found;
  for (const Pocket& pocket : pockets) all.push_back(cut_at(pocket, x, outward));
  for (const EndCut& cut : part.end_cuts) all.push_back(beyond(cut, x, outward));
  std::vector<Convex> before;
  for (const Convex& cut : all) {
    if (cut.empty()) continue;
    std::vector<Convex> fresh{cut};
    for (const Convex& other : before) {
      std::vector<Convex> left;
      for (const Convex& piece : fresh) {
        for (Convex& rest : without(piece, other)) left.push_back(std::move(rest));
      }
      fresh = std::move(left);
    }
    before.push_back(cut);
    found.insert(found.end(), fresh.begin(), fresh.end());
  }
  return found;
}

double lost_at(const Part& part, const Slab& slab, const std::vector<Pocket>& pockets, double x, double outward) {
  double hole = 0, sum = 0;  // radius of the axial bore here
  for (const AxialBore& bore : part.axial_bores) {
    if (x > bore.x0 && x < bore.x1) hole = std::max(hole, bore.diameter / 2);
  }
  const std::vector<Convex> cuts = cuts_at(part, pockets, x, outward);
  if (cuts.empty()) return kTurn / 2 * hole * hole;
  const Section section = slab.section(x);
  const std::optional<Ring> ring = slab.treated ? std::optional<Ring>(ring_at(part, x, Side::after)) : std::nullopt;
  for (const Convex& cut : cuts) {
    sum += area_in(ring ? &*ring : nullptr, section, cut);
    if (hole > 0) sum -= area_in_circle(cut, hole);
  }
  return sum + kTurn / 2 * hole * hole;
}

}  // namespace

std::vector<Pocket> pockets(const Part& part) {
  std::vector<Pocket> found;
  for (const Mortise& m : part.mortises) {
    const Face* face = face_looking(part, m.phi);
    if (!face) continue;
    double plane = face->d.value((m.x0 + m.x1) / 2, Side::after);
    found.push_back({m.phi, m.x0, m.x1, m.t0, m.t1, plane - m.depth, m.corner_radius});
    if (m.haunch_length > 0 && m.haunch_depth > 0) {
      found.push_back({m.phi, m.x0 - m.haunch_length, m.x1, m.t0, m.t1, plane - m.haunch_depth, m.corner_radius});
    }
  }
  return found;
}

const Face* face_looking(const Part& part, double phi) {
  for (const Face& face : part.faces) {
    double off = std::remainder(face.phi - phi, kTurn);
    if (std::fabs(off) <= kSameDirection) return &face;
  }
  return nullptr;
}

double thickness_at(const Part& part, const Bore& bore) {
  const Face* face = face_looking(part, bore.phi);
  if (!face || !(bore.x >= 0 && bore.x <= part.length)) return 0;
  const Section section = section_at(part, bore.x, Side::after);
  double plane = face->d.value(bore.x, Side::after), far = std::numeric_limits<double>::infinity();
  if (!std::isfinite(plane) || std::fabs(bore.t) >= section.r) return 0;
  SinCos turn = sin_cos(bore.phi);
  // along (-n) from the axis' foot at t: -n cos(phi_j - phi) + t sin(phi_j - phi) <= d_j
  for (const HalfPlane& other : section.planes) {
    double c = other.turn.cos * turn.cos + other.turn.sin * turn.sin, s = other.turn.sin * turn.cos - other.turn.cos * turn.sin;
    if (std::fabs(c) <= kAngleSnap && bore.t * s >= other.d) return 0;
    if (c < -kAngleSnap) far = std::min(far, (other.d - bore.t * s) / -c);
  }
  if (std::isfinite(section.r)) far = std::min(far, std::sqrt((section.r - bore.t) * (section.r + bore.t)));
  return std::isfinite(far) ? plane + far : 0;
}

bool goes_through(const Part& part, const Bore& bore) {
  constexpr double kThrough = 1e-6;
  double thick = thickness_at(part, bore);
  return thick > 0 && bore.depth >= thick - kThrough;
}

std::vector<Pocket> bore_pockets(const Part& part) {
  std::vector<Pocket> found;
  for (const Bore& b : part.bores) {
    const Face* face = face_looking(part, b.phi);
    if (!face || !(b.x >= 0 && b.x <= part.length)) continue;
    double plane = face->d.value(b.x, Side::after);
    if (!std::isfinite(plane)) continue;
    auto hole = [&](double diameter, double bottom) {
      double r = diameter / 2;
      found.push_back({b.phi, b.x - r, b.x + r, b.t - r, b.t + r, bottom, r});
    };
    hole(b.diameter, goes_through(part, b) ? -2 * reach(part) - 1 : plane - b.depth);
    if (b.seat_diameter > 0 && b.seat_depth > 0) hole(b.seat_diameter, plane - b.seat_depth);
  }
  return found;
}

double mortised_volume(const Part& part) {
  std::vector<Pocket> all = pockets(part);
  const std::vector<Pocket> bores = bore_pockets(part);
  all.insert(all.end(), bores.begin(), bores.end());
  if (all.empty() && part.axial_bores.empty() && part.end_cuts.empty()) return 0;
  double outward = reach(part) + 1, box = 0;
  std::vector<double> at = knots(part);
  auto add = [&](double x) {
    if (x > 0 && x < part.length) at.push_back(x);
  };
  for (const Pocket& pocket : all) {
    for (double x : {pocket.x0, pocket.x0 + pocket.corner_radius, pocket.x1 - pocket.corner_radius, pocket.x1}) add(x);
    box += (pocket.x1 - pocket.x0) * (pocket.t1 - pocket.t0) * (outward - pocket.bottom);
  }
  for (const AxialBore& bore : part.axial_bores) {
    add(bore.x0);
    add(bore.x1);
    box += (bore.x1 - bore.x0) * bore.diameter * bore.diameter;
  }
  for (const EndCut& cut : part.end_cuts) {
    double spread = outward * std::fabs(std::tan(cut.angle));
    for (double x : {cut.x - spread, cut.x, cut.x + spread}) add(x);
    box += 4 * outward * outward * (spread + 1);
  }
  std::sort(at.begin(), at.end());
  at.erase(std::unique(at.begin(), at.end()), at.end());
  // a leaning end and a round hole pass corners of the section in places not known beforehand
  const bool crooked = !part.end_cuts.empty() || !part.bores.empty();
  double sum = 0;
  for (const Slab& slab : slabs(part)) {
    for (std::size_t i = 0; i + 1 < at.size(); ++i) {
      if (at[i] < slab.a || at[i + 1] > slab.b) continue;
      auto lost = [&](double x) { return lost_at(part, slab, all, x, outward); };
      if (slab.treated) sum += integral(lost, at[i], at[i + 1], 1e-8 * box, 1e-9 * box, kHalvings);
      else sum += integral(lost, at[i], at[i + 1], 1e-12 * box, crooked ? 1e-12 * box : 0);
    }
  }
  return sum;
}

}  // namespace pommel::shape
