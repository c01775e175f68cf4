#include "shape/section.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace pommel::shape {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

// Flats shorter than this are rounding, mm.
constexpr double kNoFlat = 1e-12;
// Open angles below this are rounding of the flats' angles, rad.
constexpr double kNoAngle = 1e-13;

struct Cut {
  double t0 = -kInfinity, t1 = kInfinity;
  bool empty = false;
};

// What the other half-planes leave of plane i's own line, on which t runs. On it the plane j reads
// d_i cos(phi_j - phi_i) + t sin(phi_j - phi_i) <= d_j.
Cut cut_by_planes(const std::vector<HalfPlane>& planes, std::size_t i) {
  Cut cut;
  const HalfPlane& own = planes[i];
  for (std::size_t j = 0; j < planes.size(); ++j) {
    if (j == i) continue;
    const HalfPlane& other = planes[j];
    double c = other.turn.cos * own.turn.cos + other.turn.sin * own.turn.sin;
    double s = other.turn.sin * own.turn.cos - other.turn.cos * own.turn.sin;
    double room = other.d - own.d * c;
    if (std::fabs(s) <= kAngleSnap) {
      // looking the same way: the nearer one stands, of two alike the first
      if (c > 0 && (room < 0 || (room == 0 && j < i))) cut.empty = true;
    } else if (s > 0) {
      cut.t1 = std::min(cut.t1, room / s);
    } else {
      cut.t0 = std::max(cut.t0, room / s);
    }
  }
  return cut;
}

template <class F>
double bisected(const F& f, double a, double b) {
  double fa = f(a);
  for (int step = 0; step < 200; ++step) {
    double m = a + (b - a) / 2;
    if (m <= a || m >= b) break;
    double fm = f(m);
    if ((fm < 0) == (fa < 0)) {
      a = m;
    } else {
      b = m;
    }
  }
  return a + (b - a) / 2;
}

// Sign changes of f in (a, b), looked for between 48 equal steps: a pair nearer together than that is missed, which costs the
// integrals some halvings and nothing else.
template <class F>
void find_roots(const F& f, double a, double b, std::vector<double>& roots) {
  constexpr int kSteps = 48;
  double x0 = a, f0 = f(a);
  for (int i = 1; i <= kSteps; ++i) {
    double x1 = i == kSteps ? b : a + (b - a) * i / kSteps;
    double f1 = f(x1);
    if ((f0 < 0) != (f1 < 0)) {
      double root = bisected(f, x0, x1);
      if (root > a && root < b) roots.push_back(root);
    }
    x0 = x1;
    f0 = f1;
  }
}

double corner_distance(const Slab::Side& p, const Slab::Side& q, double x) {
  double s = q.turn.sin * p.turn.cos - q.turn.cos * p.turn.sin;
  double c = q.turn.cos * p.turn.cos + q.turn.sin * p.turn.sin;
  double dp = p.d->value(x);
  return std::hypot(dp, (q.d->value(x) - dp * c) / s);
}

}  // namespace

std::vector<Flat> Section::flats() const {
  std::vector<Flat> found;
  for (std::size_t i = 0; i < planes.size(); ++i) {
    const HalfPlane& plane = planes[i];
    if (r <= plane.d) continue;
    Cut cut = cut_by_planes(planes, i);
    double round = half_flat(r, plane.d);
    Flat flat{plane.face,       plane.phi,      plane.d, std::max(cut.t0, -round), std::min(cut.t1, round),
              cut.t0 >= -round, cut.t1 <= round};
    if (!cut.empty && flat.t1 - flat.t0 > kNoFlat) found.push_back(flat);
  }
  return found;
}

double Section::open_angle() const {
  double open = kTurn;
  for (const Flat& flat : flats()) open -= std::atan2(flat.t1, flat.d) - std::atan2(flat.t0, flat.d);
  return open < kNoAngle * static_cast<double>(planes.size() + 1) ? 0 : open;
}

double Section::area() const {
  double sum = 0, open = kTurn;
  for (const Flat& flat : flats()) {
    sum += flat.d * (flat.t1 - flat.t0) / 2;
    open -= std::atan2(flat.t1, flat.d) - std::atan2(flat.t0, flat.d);
  }
  if (open < kNoAngle * static_cast<double>(planes.size() + 1)) return sum;
  return sum + r * r / 2 * open;
}

double Section::reach() const {
  if (open_angle() > 0) return r;
  double found = 0;
  for (const Flat& flat : flats()) found = std::max({found, std::hypot(flat.d, flat.t0), std::hypot(flat.d, flat.t1)});
  return found;
}

Section Slab::section(double x) const {
  Section section;
  section.r = round ? round->value(x) : kInfinity;
  section.planes.reserve(sides.size());
  for (const Side& side : sides) section.planes.push_back({side.face, side.phi, side.d->value(x), side.turn});
  return section;
}

std::vector<double> knots(const Part& part) {
  std::vector<double> found;
  auto take = [&](const Profile& profile) {
    for (const Piece& piece : profile.pieces) {
      found.push_back(piece.x0);
      found.push_back(piece.x1);
    }
  };
  take(part.outline);
  for (const Face& face : part.faces) take(face.d);
  for (const Flute& flute : part.flutes) take(flute.centre);
  for (const Reeding& reeding : part.reedings) take(reeding.centre);
  for (const Twist& twist : part.twists)
    found.insert(found.end(), {twist.x0, twist.x0 + twist.fade0, twist.x1 - twist.fade1, twist.x1});
  std::sort(found.begin(), found.end());
  found.erase(std::unique(found.begin(), found.end()), found.end());
  return found;
}

namespace {

const Piece& piece_from(const Profile& profile, double a) {
  return profile.pieces[profile.index_at(a, Side::after)];
}

// REQUIRES: no knot of the part strictly within the slab.
void add_treatments(const Part& part, Slab& slab) {
  for (const Flute& flute : part.flutes) {
    const Piece& centre = piece_from(flute.centre, slab.a);
    if (centre.kind != Piece::Kind::clear) slab.grooves.push_back({flute.theta, flute.radius, &centre});
  }
  for (const Reeding& reeding : part.reedings) {
    const Piece& centre = piece_from(reeding.centre, slab.a);
    if (centre.kind != Piece::Kind::clear) slab.reeds.push_back({reeding.count, reeding.radius, &centre});
  }
  bool twisted = std::any_of(part.twists.begin(), part.twists.end(),
                             [&](const Twist& t) { return t.x0 <= slab.a && slab.b <= t.x1; });
  slab.treated = twisted || !slab.grooves.empty() || !slab.reeds.empty();
}

}  // namespace

std::vector<Slab> slabs(const Part& part) {
  std::vector<Slab> found;
  std::vector<double> at = knots(part);
  for (std::size_t i = 0; i + 1 < at.size(); ++i) {
    Slab slab;
    slab.a = at[i];
    slab.b = at[i + 1];
    slab.round = &part.outline.pieces[part.outline.index_at(slab.a, Side::after)];
    for (std::size_t f = 0; f < part.faces.size(); ++f) {
      const Face& face = part.faces[f];
      const Piece& d = face.d.pieces[face.d.index_at(slab.a, Side::after)];
      if (d.kind != Piece::Kind::clear) slab.sides.push_back({f, face.phi, sin_cos(face.phi), &d});
    }
    add_treatments(part, slab);
    found.push_back(std::move(slab));
  }
  return found;
}

namespace {

// Where the bottom of a groove or the crown or valley of a reed comes to touch the skin that stands without them.
void cross_treatments(const Slab& slab, std::vector<double>& roots) {
  auto skin = [&](double x, double theta) {
    double least = slab.round->value(x);
    for (const Slab::Side& side : slab.sides) {
      double c = sin_cos(theta - side.phi).cos;
      if (c > 0) least = std::min(least, side.d->value(x) / c);
    }
    return least;
  };
  for (const Slab::Groove& groove : slab.grooves)
    find_roots([&](double x) { return groove.centre->value(x) - groove.radius - skin(x, groove.theta); }, slab.a, slab.b, roots);
  for (const Slab::Reeds& reeds : slab.reeds) {
    SinCos half = sin_cos(kTurn / reeds.count / 2);
    find_roots([&](double x) { return reeds.centre->value(x) + reeds.radius - slab.round->value(x); }, slab.a, slab.b, roots);
    auto valley = [&](double c) {
      return c * half.cos + std::sqrt(std::max(0.0, reeds.radius * reeds.radius - c * c * half.sin * half.sin));
    };
    find_roots([&](double x) { return valley(reeds.centre->value(x)) - slab.round->value(x); }, slab.a, slab.b, roots);
  }
}

}  // namespace

std::vector<double> crossings(const Slab& slab) {
  std::vector<double> roots;
  if (slab.round->kind == Piece::Kind::clear && !slab.treated) return roots;
  const auto& sides = slab.sides;
  for (std::size_t i = 0; slab.round->kind != Piece::Kind::clear && i < sides.size(); ++i) {
    find_roots([&](double x) { return slab.round->value(x) - sides[i].d->value(x); }, slab.a, slab.b, roots);
    for (std::size_t j = i + 1; j < sides.size(); ++j) {
      if (std::fabs(sin_cos(sides[j].phi - sides[i].phi).sin) <= kAngleSnap) continue;
      find_roots([&](double x) { return slab.round->value(x) - corner_distance(sides[i], sides[j], x); }, slab.a,
                 slab.b, roots);
    }
  }
  if (slab.treated) cross_treatments(slab, roots);
  std::sort(roots.begin(), roots.end());
  // faces alike cross at the same place but for rounding
  double near = 1e-9 * (slab.b - slab.a);
  auto alike = [&](double p, double q) { return q - p < near; };
  roots.erase(std::unique(roots.begin(), roots.end(), alike), roots.end());
  // a shoulder that begins on the arris crosses it at its own knot
  std::erase_if(roots, [&](double x) { return x - slab.a < near || slab.b - x < near; });
  return roots;
}

std::vector<double> crossings(const Part& part, double a, double b) {
  for (Slab& slab : slabs(part)) {
    if (slab.a > a || slab.b < b) continue;
    slab.a = a;
    slab.b = b;
    return crossings(slab);
  }
  return {};
}

Section section_at(const Part& part, double x, Side side) {
  Section section;
  section.r = part.outline.value(x, side);
  for (std::size_t f = 0; f < part.faces.size(); ++f) {
    double d = part.faces[f].d.value(x, side);
    if (std::isfinite(d)) section.planes.push_back({f, part.faces[f].phi, d, sin_cos(part.faces[f].phi)});
  }
  return section;
}

std::vector<Flat> flats_at(const Part& part, double x, Side side) {
  return section_at(part, x, side).flats();
}

double half_flat(double r, double d) {
  return r <= d ? 0 : std::sqrt((r - d) * (r + d));
}

}  // namespace pommel::shape
