// What the mortises take out of the turned part. At one x each pocket is a rectangle in the section plane, narrowed where its
// corners are round; the wood lost is their union inside the section, and its integral along the piece is the volume.
#include <algorithm>
#include <cmath>

#include "shape/convex.h"
#include "shape/mortise.h"
#include "shape/part.h"
#include "shape/quadrature.h"
#include "shape/section.h"

namespace pommel::shape {
namespace {

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

double lost_at(const Section& section, const std::vector<Pocket>& pockets, double x, double outward) {
  double sum = 0;
  std::vector<Convex> before;
  for (const Pocket& pocket : pockets) {
    Convex cut = cut_at(pocket, x, outward);
    if (cut.empty()) continue;
    std::vector<Convex> fresh{cut};
    for (const Convex& other : before) {
      std::vector<Convex> left;
      for (const Convex& piece : fresh) {
        for (Convex& part : without(piece, other)) left.push_back(std::move(part));
      }
      fresh = std::move(left);
    }
    before.push_back(std::move(cut));
    for (Convex piece : fresh) {
      for (const HalfPlane& plane : section.planes) piece = clipped(piece, plane.turn.cos, plane.turn.sin, plane.d);
      sum += area_in_circle(piece, section.r);
    }
  }
  return sum;
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

double mortised_volume(const Part& part) {
  std::vector<Pocket> all = pockets(part);
  if (all.empty()) return 0;
  double outward = reach(part) + 1, box = 0;
  std::vector<double> at = knots(part);
  for (const Pocket& pocket : all) {
    for (double x : {pocket.x0, pocket.x0 + pocket.corner_radius, pocket.x1 - pocket.corner_radius, pocket.x1}) {
      if (x > 0 && x < part.length) at.push_back(x);
    }
    box += (pocket.x1 - pocket.x0) * (pocket.t1 - pocket.t0) * (outward - pocket.bottom);
  }
  std::sort(at.begin(), at.end());
  at.erase(std::unique(at.begin(), at.end()), at.end());
  double sum = 0;
  for (const Slab& slab : slabs(part)) {
    for (std::size_t i = 0; i + 1 < at.size(); ++i) {
      if (at[i] < slab.a || at[i + 1] > slab.b) continue;
      auto lost = [&](double x) { return lost_at(slab.section(x), all, x, outward); };
      sum += integral(lost, at[i], at[i + 1], 1e-12 * box);
    }
  }
  return sum;
}

}  // namespace pommel::shape
