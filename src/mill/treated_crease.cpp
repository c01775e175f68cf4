#include "mill/treated_crease.h"

#include <array>
#include <cstdint>
#include <numeric>

#include "shape/crease.h"
#include "shape/ring.h"

namespace pommel::mill {
namespace {

using shape::Maker;
using shape::Ring;
using shape::RingArc;

constexpr double kNarrow = 1e-4;  // mm along the piece: nearer to the end of a curve than this its corners count alone
constexpr double kSliver = 1e-4;  // mm round the piece: a reed's crown touches the round it is cut in, and rounding has them cross there
constexpr int kLeastParts = 4;    // between two places where curves may begin or end

bool same_maker(const RingArc& a, const RingArc& b) {
  return a.maker == b.maker && a.index == b.index && a.reed == b.reed;
}

/// The edges of one section, in order round it.
struct Section {
  double x = 0;
  std::vector<RingArc> arcs;   // arcs[k] begins at edge k; one arc alone: no edge
  std::vector<Point> corners;  // of the greater radius where the skin steps
};

Point at_angle(double x, double r, double theta) {
  return {x, r * std::cos(theta), r * std::sin(theta)};
}

// What is narrower than a sliver goes to its neighbours.
std::vector<RingArc> without_slivers(const Ring& ring) {
  std::vector<RingArc> arcs = ring.arcs(), kept;
  if (arcs.size() < 2) return arcs;
  const double least = kSliver / ring.radius(arcs.front().theta0);
  std::erase_if(arcs, [&](const RingArc& arc) { return arc.theta1 - arc.theta0 < least; });
  for (const RingArc& arc : arcs) {
    if (kept.empty() || !same_maker(kept.back(), arc)) kept.push_back(arc);
  }
  if (kept.size() > 1 && same_maker(kept.back(), kept.front())) kept.erase(kept.begin());
  return kept;
}

Section section_at(const Ring& ring, double x) {
  Section s{x, without_slivers(ring), {}};
  if (s.arcs.size() < 2) return s;
  for (const RingArc& arc : s.arcs) {
    constexpr double kBeside = 1e-10;
    const double r = std::max(ring.radius(arc.theta0 - kBeside), ring.radius(arc.theta0 + kBeside));
    s.corners.push_back(at_angle(x, r, arc.theta0));
  }
  return s;
}

/// How many places q's arcs must be turned to be p's, makers alike and edges as near as they can be; nothing where they are unlike.
std::optional<std::size_t> turned_to(const Section& p, const Section& q) {
  const std::size_t n = p.arcs.size();
  if (q.arcs.size() != n) return std::nullopt;
  std::optional<std::size_t> best;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t shift = 0; shift < n; ++shift) {
    double apart = 0;
    bool alike = true;
    for (std::size_t k = 0; k < n && alike; ++k) {
      const RingArc &a = p.arcs[k], &b = q.arcs[(k + shift) % n];
      alike = same_maker(a, b);
      apart += std::fabs(std::remainder(a.theta0 - b.theta0, shape::kTurn));
    }
    if (alike && apart < least) least = apart, best = shift;
  }
  return best;
}

/// Follows the edges of a cell from section to section.
class EdgeWalk {
 public:
  EdgeWalk(const shape::Part& part, const Cell& cell, Tracer& tracer) : part_(part), cell_(cell), tracer_(tracer) {}

  void walk() {
    std::vector<double> ends = shape::crossings(part_, cell_.x0, cell_.x1);
    ends.insert(ends.begin(), cell_.x0);
    ends.push_back(cell_.x1);
    for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
      for (int k = 0; k < kLeastParts; ++k) {
        const double a = ends[i] + (ends[i + 1] - ends[i]) * k / kLeastParts, b = ends[i] + (ends[i + 1] - ends[i]) * (k + 1) / kLeastParts;
        if (a < b) between(section(a), section(a + (b - a) / 2), section(b));
      }
    }
  }

 private:
  Section section(double x) const {
    Ring ring = shape::ring_at(part_, x, x >= cell_.x1 ? shape::Side::before : shape::Side::after);
    // what can show nowhere in the cell costs most of the crossings
    if (!cell_.round.clear()) {
      const double r = cell_.round.value(x);
      std::erase_if(ring.planes, [&](const Ring::Plane& plane) { return plane.d > r + 1e-9; });
      std::erase_if(ring.grooves, [&](const Ring::Groove& groove) { return groove.c - groove.g > r + 1e-9; });
    }
    return section_at(ring, x);
  }

  void between(const Section& a, const Section& m, const Section& b) {
    const Section first = section(a.x + (m.x - a.x) / 2), last = section(m.x + (b.x - m.x) / 2);
    if (chords(a, {&first, &m, &last}, b)) return;
    if (b.x - a.x < kNarrow) {
      for (const Section* s : {&a, &m, &b})
        for (const Point& corner : s->corners) tracer_.chord(corner, corner, true);
      return;
    }
    between(a, first, m);
    between(m, last, b);
  }

  // True when every edge runs on from a to b so straight that a chord will do: then they are added.
  bool chords(const Section& a, const std::array<const Section*, 3>& inside, const Section& b) {
    const auto to_b = turned_to(a, b);
    if (!to_b) return false;
    const std::size_t n = a.corners.size();
    std::vector<double> sag(n, 0);
    for (const Section* s : inside) {
      const auto turn = turned_to(a, *s);
      if (!turn) return false;
      for (std::size_t k = 0; k < n; ++k)
        sag[k] = std::max(sag[k], distance_to_chord(s->corners[(k + *turn) % n], a.corners[k], b.corners[(k + *to_b) % n]));
    }
    if (std::any_of(sag.begin(), sag.end(), [&](double one) { return one > 0.8 * tracer_.tolerance(); })) return false;
    for (std::size_t k = 0; k < n; ++k) tracer_.chord(a.corners[k], b.corners[(k + *to_b) % n], sag[k] > Tracer::kStraight);
    return true;
  }

  const shape::Part& part_;
  const Cell& cell_;
  Tracer& tracer_;
};

/// The make-up of one side of a knot.
struct Rims {
  Ring ring;
  std::vector<RingArc> arcs;

  /// Numbers that are alike on both sides where an arc goes on smoothly.
  std::array<double, 8> course(const RingArc& arc) const {
    auto by_index = [&](const auto& list) { return std::find_if(list.begin(), list.end(), [&](const auto& one) { return one.index == arc.index; }); };
    switch (arc.maker) {
      case Maker::round: {
        const Ring::Round& r = ring.rounds.front();
        return {arc.theta0, arc.theta1, r.middle, r.middle_x, r.swing, r.swing_x, r.swing == 0 ? 0 : r.psi, r.swing == 0 ? 0 : r.psi_x};
      }
      case Maker::face: {
        const auto plane = by_index(ring.planes);
        return {arc.theta0, arc.theta1, plane->d, plane->d_x};
      }
      case Maker::flute: {
        const auto groove = by_index(ring.grooves);
        return {arc.theta0, arc.theta1, groove->c, groove->c_x};
      }
      case Maker::reed:
        break;
    }
    const auto reeds = by_index(ring.reeds);
    return {arc.theta0, arc.theta1, reeds->c, reeds->c_x};
  }

  bool has(const RingArc& arc, const std::array<double, 8>& course_of_it) const {
    return std::any_of(arcs.begin(), arcs.end(), [&](const RingArc& own) {
      if (!same_maker(own, arc)) return false;
      const auto mine = course(own);
      return std::equal(mine.begin(), mine.end(), course_of_it.begin(), [](double a, double b) { return a == b || std::fabs(a - b) < 1e-9; });
    });
  }
};

Rims rims_of(const shape::Part& part, double x, shape::Side side) {
  Ring ring = shape::ring_at(part, x, side);
  std::vector<RingArc> arcs = ring.arcs();
  return {std::move(ring), std::move(arcs)};
}

void add_arcs(const Rims& own, const Rims* beyond, double x, Tracer& tracer) {
  for (const RingArc& arc : own.arcs) {
    if (arc.maker == Maker::round && own.ring.rounds.front().swing == 0) continue;
    if (beyond && beyond->has(arc, own.course(arc))) continue;
    auto corner = [&](double theta) { return at_angle(x, own.ring.radius(theta), theta); };
    if (arc.maker == Maker::face) tracer.straight(corner(arc.theta0), corner(arc.theta1));
    // in quarters at most: the middle of a whole turn's chord lies on the axis
    else for (int k = 0; k < 4; ++k) tracer.trace(corner, arc.theta0 + (arc.theta1 - arc.theta0) * k / 4, arc.theta0 + (arc.theta1 - arc.theta0) * (k + 1) / 4);
  }
}

}  // namespace

void add_treated_edges(const shape::Part& part, const Cell& cell, Tracer& tracer) {
  EdgeWalk(part, cell, tracer).walk();
}

void add_treated_rims(const shape::Part& part, double x, bool before, bool after, Tracer& tracer) {
  std::optional<Rims> left, right;
  if (before) left = rims_of(part, x, shape::Side::before);
  if (after) right = rims_of(part, x, shape::Side::after);
  if (left) add_arcs(*left, right ? &*right : nullptr, x, tracer);
  if (right) add_arcs(*right, left ? &*left : nullptr, x, tracer);
}

}  // namespace pommel::mill
