// The radial field R(x, theta), what can be said of it at one place, and where it is greatest and least.
#include <algorithm>
#include <cmath>
#include <limits>

#include "shape/part.h"
#include "shape/ring.h"
#include "shape/section.h"

namespace pommel::shape {

double radius_at(const Part& part, double x, double theta, Side side) {
  double radius = part.outline.value(x, side);
  for (const Face& face : part.faces) {
    double c = sin_cos(theta - face.phi).cos;
    if (c > 0) radius = std::min(radius, face.d.value(x, side) / c);
  }
  return part.flutes.empty() && part.reedings.empty() && part.twists.empty() ? radius
                                                                             : ring_at(part, x, side).radius(theta);
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
  if (const Ring ring = ring_at(part, x, side); ring.treated()) return ring.area();
  return section_at(part, x, side).area();
}

namespace {

struct Greatest {
  double x = 0, value = 0;
};

// The greatest of f between a and b when it is smooth there: the best of nine samples, sharpened by golden section.
template <class F>
Greatest greatest_between(const F& f, double a, double b) {
  constexpr int kSamples = 8;
  int best = 0;
  Greatest found{a, f(a)};
  auto keep = [&](double x, double v) {
    if (v > found.value) found = {x, v};
  };
  for (int i = 1; i <= kSamples; ++i) {
    double x = i == kSamples ? b : a + (b - a) * i / kSamples, v = f(x);
    if (v > found.value) best = i;
    keep(x, v);
  }
  double lo = a + (b - a) * std::max(0, best - 1) / kSamples,
         hi = a + (b - a) * std::min(kSamples, best + 1) / kSamples;
  constexpr double kGolden = 0.6180339887498949;
  for (int step = 0; step < 60; ++step) {
    double p = hi - kGolden * (hi - lo), q = lo + kGolden * (hi - lo);
    double fp = f(p), fq = f(q);
    keep(p, fp);
    keep(q, fq);
    if (fp < fq) {
      lo = p;
    } else {
      hi = q;
    }
  }
  return found;
}

// Where the make-up of the slab's section may change, with both ends, growing.
std::vector<double> stations(const Slab& slab) {
  std::vector<double> at = crossings(slab);
  at.insert(at.end(), {slab.a, slab.b});
  for (double x : level_points(*slab.round)) {
    if (x > slab.a && x < slab.b) at.push_back(x);
  }
  std::sort(at.begin(), at.end());
  return at;
}

}  // namespace

double reach(const Part& part) {
  double found = 0;
  for (const Slab& slab : slabs(part)) {
    const std::vector<double> at = stations(slab);
    auto reach_at = [&](double x) {
      return slab.treated ? ring_at(part, x, x < slab.b ? Side::after : Side::before).greatest() : slab.section(x).reach();
    };
    for (std::size_t i = 0; i + 1 < at.size(); ++i)
      found = std::max(found, greatest_between(reach_at, at[i], at[i + 1]).value);
  }
  return found;
}

namespace {

void keep_less(Core& core, double x, double radius) {
  if (radius < core.radius) core = {x, radius};
}

// The piece's least places on [a, b] of it: its ends there and where it is level.
std::vector<double> low_points(const Piece& piece, double a, double b) {
  std::vector<double> at{a, b};
  for (double x : level_points(piece)) {
    if (x > a && x < b) at.push_back(x);
  }
  return at;
}

const Piece& piece_on(const Profile& profile, const Slab& slab) {
  return profile.pieces[profile.index_at(slab.a, Side::after)];
}

// The least of a lower envelope is the least of its makers: of a face d, of a groove its bottom, of reeds their valleys (which are
// least where the centre stands least or highest, being concave in it).
void least_of_makers(const Part& part, const Slab& slab, Core& core) {
  auto each = [&](const Piece& piece, auto radius) {
    if (piece.kind == Piece::Kind::clear) return;
    for (double x : low_points(piece, slab.a, slab.b)) keep_less(core, x, radius(piece.value(x)));
  };
  auto same = [](double r) { return r; };
  each(*slab.round, same);
  for (const Slab::Side& side : slab.sides) each(*side.d, same);
  for (const Flute& flute : part.flutes) each(piece_on(flute.centre, slab), [&](double c) { return c - flute.radius; });
  for (const Reeding& reeding : part.reedings) {
    each(piece_on(reeding.centre, slab), [&](double c) {
      SinCos half = sin_cos(kTurn / reeding.count / 2);
      return c * half.cos + std::sqrt(std::max(0.0, reeding.radius * reeding.radius - c * c * half.sin * half.sin));
    });
  }
}

}  // namespace

Core least_radius(const Part& part) {
  Core core{0, std::numeric_limits<double>::infinity()};
  for (const Slab& slab : slabs(part)) {
    least_of_makers(part, slab, core);
    for (const Twist& twist : part.twists) {
      if (slab.a < twist.x0 || slab.b > twist.x1 || slab.round->kind == Piece::Kind::clear) continue;
      auto hollow = [&](double x) { return twist.depth * fade_at(twist, x) - slab.round->value(x); };
      const Greatest deepest = greatest_between(hollow, slab.a, slab.b);
      keep_less(core, deepest.x, -deepest.value);
    }
  }
  return core;
}

}  // namespace pommel::shape
