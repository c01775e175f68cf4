#include "mill/facets.h"

#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "mill/facet_contact.h"
#include "mill/patches.h"
#include "mill/contact.h"

namespace pommel::mill {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kLoose = 1e-3;   // mm: single precision over a row; whatever it lets through is asked again in double
constexpr double kStrict = 1e-7;  // mm
constexpr double kLeft = 1e-6;    // mm outside another maker that still counts as left by it
constexpr double kBeside = 2e-3;  // mm: the same of reeds, whose facets stand outside them where their crowns touch the round

using One = lanes::simd<double, lanes::simd_abi::scalar>;

/// A height and the place on the lattice that holds the body there.
struct Hold {
  double height = -kInfinity;
  Point at;
};

Hold hold_on(const Facet& t, const CutterBody& body, double x0, double cos, double sin) {
  const FacetHit<One> hit = stand_on<One>(t, body, x0, cos, sin, kStrict);
  return {hit.height[0], {x0 + hit.x[0], hit.y[0], hit.z[0]}};
}

double ball_place(const Segment& s, double rho, double x0, double cos, double sin) {
  const double dx = s.x - x0, l = s.z * cos - s.y * sin, ul = s.uz * cos - s.uy * sin, uh = s.uy * cos + s.uz * sin;
  const double m2 = s.ux * s.ux + ul * ul + 1e-20, cross = dx * ul - l * s.ux;
  const double q = std::max(0.0, rho * rho - cross * cross / m2);
  return std::clamp(uh * std::sqrt(q / m2) - (dx * s.ux + l * ul) / m2, 0.0, s.length);
}

Hold hold_on(const Segment& s, const CutterBody& body, double x0, double cos, double sin) {
  double t = 0, height = 0;
  if (body.ball()) {
    t = ball_place(s, body.outer, x0, cos, sin);
    height = height_over<One>(s, x0, cos, sin)[0] - body.corner - body.z;
  } else {
    const One c = cos, n = sin;
    t = place_over(over::seen<One>(s, s.x - x0, body.outer, c, n), s, body, x0)[0];
    height = tip_over<One>(s, body, x0, c, n)[0];
  }
  return {height, {s.x + t * s.ux, s.y + t * s.uy, s.z + t * s.uz}};
}

/// The columns in which a body can stand on something whose corners are given.
class Window {
 public:
  void take(double y, double z) {
    const double a = std::atan2(z, y);
    if (!any_) first_ = a;
    const double off = any_ ? std::remainder(a - first_, kTurn) : 0;
    least_ = any_ ? std::min(least_, off) : off;
    most_ = any_ ? std::max(most_, off) : off;
    any_ = true;
  }
  Arc padded(double by) const { return {first_ + least_ - by, first_ + most_ + by}; }
  double width() const { return most_ - least_; }

 private:
  bool any_ = false;
  double first_ = 0, least_ = 0, most_ = 0;
};

/// Whether the facets on both sides of an edge through `at` bulge, n being the normal of one and `beyond` the far corner of the other. A body touches a
/// hollow edge at its ends alone, which bulging ones have, too.
bool bulges(const Point& n, const Point& at, const Point& beyond) { return dot(n, minus(beyond, at)) < 1e-12; }

/// The edges of the strip from row i to row i + 1 beside node k that a body can roll over: take(p, q, normal of a facet beside it, the other's or none).
template <class Take>
void edges_of_triangles(const Patch& patch, std::size_t i, std::size_t k, const Facet& lower, const Facet& upper, const Take& take) {
  const Point &p = patch.node(i, k), &q = patch.node(i + 1, k), &r = patch.node(i, k + 1), &s = patch.node(i + 1, k + 1);
  const std::size_t left = k > 0 ? k - 1 : patch.across - 1;
  if ((k == 0 && !patch.closed) || bulges(lower.n, p, patch.node(i + 1, left))) take(p, q, &lower.n, static_cast<const Point*>(nullptr));
  if (i == 0 || bulges(lower.n, p, patch.node(i - 1, k + 1))) take(p, r, &lower.n, static_cast<const Point*>(nullptr));
  if (bulges(lower.n, q, s)) take(q, r, &lower.n, &upper.n);
}

/// Everything of one patch under one body at one row, handed to `take(window, element)` one by one: facets and the edges between them. `only`: of one
/// direction (both its ends).
template <class Take>
class Visit {
 public:
  Visit(const Patch& patch, const CutterBody& body, double x0, const std::optional<Arc>& only, const Take& take)
      : patch_(patch), body_(body), x0_(x0), take_(take), one_(only.has_value()) {
    if (only) cos_ = std::cos(only->from), sin_ = std::sin(only->from);
  }

  void all() {
    const std::vector<double>& x = patch_.x;
    if (x.front() > x0_ + body_.outer || x.back() < x0_ - body_.outer) return;
    auto after = std::lower_bound(x.begin(), x.end(), x0_ - body_.outer);
    std::size_t i = after == x.begin() ? 0 : static_cast<std::size_t>(after - x.begin()) - 1;
    for (; i + 1 < x.size() && x[i] <= x0_ + body_.outer; ++i) {
      for (std::size_t k = 0; k < patch_.strips(); ++k) strip(i, k);
    }
    if (patch_.rims) rim(0), rim(x.size() - 1);
  }

 private:
  void strip(std::size_t i, std::size_t k) {
    const Point &p = patch_.node(i, k), &q = patch_.node(i + 1, k), &r = patch_.node(i, k + 1), &s = patch_.node(i + 1, k + 1);
    if (one_ && beside(p, q, r, s)) return;
    if (patch_.planar) {
      const Facet t = facet_of(p, q, r, false);
      facet(t, {p, q, r, s}, 4);
      if (patch_.ridges && k > 0) edge(p, q, &t.n, nullptr);
      return;
    }
    const Facet lower = facet_of(p, q, r, true), upper = facet_of(s, r, q, true);
    facet(lower, {p, q, r, r}, 3);
    facet(upper, {s, r, q, q}, 3);
    edges_of_triangles(patch_, i, k, lower, upper, [&](const Point& from, const Point& to, const Point* n, const Point* m) { edge(from, to, n, m); });
  }

  // Whether all four stand on one side of a body in the one direction that is asked for.
  bool beside(const Point& p, const Point& q, const Point& r, const Point& s) const {
    double least = kInfinity, most = -kInfinity;
    for (const Point* at : {&p, &q, &r, &s}) {
      const double l = at->z * cos_ - at->y * sin_;
      least = std::min(least, l), most = std::max(most, l);
    }
    return least > body_.outer || most < -body_.outer;
  }

  void rim(std::size_t i) {
    for (std::size_t k = 0; k < patch_.strips(); ++k) edge(patch_.node(i, k), patch_.node(i, k + 1), nullptr, nullptr);
  }

  void facet(const Facet& t, const std::array<Point, 4>& corners, int count) {
    const double along = body_.corner * t.n.x, beside = (body_.kind == CutterBody::Kind::cone ? body_.outer : body_.flat) + 1e-6;
    double least = kInfinity, most = -kInfinity;
    Window window;
    double nearest = kInfinity;
    for (int c = 0; c < count; ++c) {
      const Point& p = corners[static_cast<std::size_t>(c)];
      least = std::min(least, p.x), most = std::max(most, p.x);
      window.take(p.y + body_.corner * t.n.y, p.z + body_.corner * t.n.z);
      nearest = std::min(nearest, std::hypot(p.y + body_.corner * t.n.y, p.z + body_.corner * t.n.z));
    }
    if (x0_ < least + along - beside || x0_ > most + along + beside) return;
    const double pad = body_.ball() ? 0 : beside < nearest ? std::asin(beside / nearest) : kTurn / 4;
    take_(window.padded(pad + 1e-6), t);
  }

  // A ball rolls over an edge between the normals of its two facets and over a corner between those of all around it; what is missing
  // of them is taken to turn as much again.
  void edge(const Point& p, const Point& q, const Point* n, const Point* m) {
    if (std::min(p.x, q.x) > x0_ + body_.outer || std::max(p.x, q.x) < x0_ - body_.outer) return;
    const Segment s = segment_between(p, q, body_.outer);
    if (body_.ball() && n) {
      Window window;
      for (const Point& at : {p, q}) {
        window.take(at.y + body_.outer * n->y, at.z + body_.outer * n->z);
        if (m) window.take(at.y + body_.outer * m->y, at.z + body_.outer * m->z);
      }
      take_(window.padded(window.width() + patch_.turn), s);
      return;
    }
    const double beside = std::max({0.0, s.least_x() - x0_, x0_ - s.greatest_x()});
    const double half = std::sqrt(std::max(0.0, (s.rho - beside) * (s.rho + beside)));
    auto pad = [&](double reach) { return half < reach ? std::asin(half / reach) : kTurn / 4; };
    take_(Arc{std::min(s.theta0 - pad(s.reach0), s.theta1 - pad(s.reach1)), std::max(s.theta0 + pad(s.reach0), s.theta1 + pad(s.reach1))}, s);
  }

  const Patch& patch_;
  const CutterBody& body_;
  double x0_;
  const Take& take_;
  bool one_ = false;
  double cos_ = 1, sin_ = 0;
};

template <class Take>
void visit(const Patch& patch, const CutterBody& body, double x0, const std::optional<Arc>& only, const Take& take) {
  Visit<Take>(patch, body, x0, only, take).all();
}

Row tips(const Facet& t, const CutterBody& body, double x0, const Row& cos, const Row& sin) {
  return stand_on<Row>(t, body, x0, cos, sin, kLoose).height;
}

Row tips(const Segment& s, const CutterBody& body, double x0, const Row& cos, const Row& sin) {
  if (body.ball()) return height_over(s, x0, cos, sin) - Row(static_cast<float>(body.corner + body.z));
  return tip_over(s, body, x0, cos, sin);
}

bool shows(const Patch& patch, const Cell& cell, const Point& at) {
  if (patch.half_sector > 0 && std::fabs(std::remainder(std::atan2(at.z, at.y) - patch.crown, kTurn)) > patch.half_sector + 1e-9) return false;
  return left_by_others(cell, patch.owner, at.x, at.y, at.z, patch.half_sector > 0 ? kBeside : kLeft);
}

}  // namespace

namespace {

StripBound bound_of(const Patch& patch, std::size_t i, std::size_t k) {
  Window window;
  double least = kInfinity, greatest = 0;
  for (const Point* at : {&patch.node(i, k), &patch.node(i + 1, k), &patch.node(i, k + 1), &patch.node(i + 1, k + 1)}) {
    const double reach = std::hypot(at->y, at->z);
    window.take(at->y, at->z);
    least = std::min(least, reach), greatest = std::max(greatest, reach);
  }
  // what is between the corners is no nearer to the axis than their chord
  const double half = std::min(window.width() / 2, kTurn / 4);
  double from = std::fmod(window.padded(0).from, kTurn);
  if (from < 0) from += kTurn;
  return {static_cast<float>(from), static_cast<float>(window.width()), static_cast<float>(least * std::cos(half)), static_cast<float>(greatest)};
}

void add_bounds(Patch& patch) {
  patch.least_reach = kInfinity;
  for (std::size_t i = 0; i + 1 < patch.x.size(); ++i)
    for (std::size_t k = 0; k < patch.strips(); ++k) {
      patch.bounds.push_back(bound_of(patch, i, k));
      patch.least_reach = std::min(patch.least_reach, static_cast<double>(patch.bounds.back().least));
    }
}

/// One row of columns raised to a body's heights over one patch.
class RowOverPatch {
 public:
  RowOverPatch(const Facets::Over& over, const Patch& patch, double x0, const Columns& columns, float* row)
      : over_(over), patch_(patch), cell_(over.cells[patch.cell]), body_(patch.planar ? over.body : over.grown), x0_(x0), columns_(columns), row_(row) {}

  void raise() {
    const std::vector<double>& x = patch_.x;
    if (x.front() > x0_ + body_.outer || x.back() < x0_ - body_.outer) return;
    const auto after = std::lower_bound(x.begin(), x.end(), x0_ - body_.outer);
    const std::size_t first = after == x.begin() ? 0 : static_cast<std::size_t>(after - x.begin()) - 1;
    if (!patch_.planar) stand_on_nodes(first);
    for (std::size_t i = first; i + 1 < x.size() && x[i] <= x0_ + body_.outer; ++i) strips(i);
    if (patch_.rims) visit_rims();
  }

 private:
  /// The facets and edges of a strip.
  struct Elements {
    std::vector<Facet> facets;
    std::vector<Segment> edges;
  };

  // A node of a twist is a point of the wood, over which the body may always claim to stand. Some of them, so that the strips have something to be
  // held against.
  void stand_on_nodes(std::size_t first) {
    constexpr std::size_t kEvery = 2;
    for (std::size_t i = first; i < patch_.x.size() && patch_.x[i] <= x0_ + over_.body.outer; i += kEvery) {
      const double beside = std::fabs(patch_.x[i] - x0_), half = std::sqrt(std::max(0.0, (over_.body.outer - beside) * (over_.body.outer + beside)));
      for (std::size_t k = 0; k < patch_.across; k += kEvery) stand_on_node(patch_.node(i, k), half);
    }
  }

  void stand_on_node(const Point& at, double half) {
    const double reach = std::hypot(at.y, at.z);
    if (!shows(patch_, cell_, at)) return;
    const double pad = half < reach ? std::asin(half / reach) : kTurn / 4, theta = std::atan2(at.z, at.y);
    columns_.each_in({theta - pad, theta + pad}, [&](std::size_t from, std::size_t to) {
      for (std::size_t j = from - from % Row::size(); j <= to; j += Row::size()) {
        const Row cos(&columns_.cos[j], lanes::element_aligned), sin(&columns_.sin[j], lanes::element_aligned), old(row_ + j, lanes::element_aligned);
        lanes::max(old, over_node(at, cos, sin)).copy_to(row_ + j, lanes::element_aligned);
      }
    });
  }

  Row over_node(const Point& s, const Row& cos, const Row& sin) const {
    const CutterBody& body = over_.body;
    const Row dx = static_cast<float>(s.x - x0_), l = Row(static_cast<float>(s.z)) * cos - Row(static_cast<float>(s.y)) * sin, h = Row(static_cast<float>(s.y)) * cos + Row(static_cast<float>(s.z)) * sin;
    const Row q = lanes::sqrt(dx * dx + l * l), past = lanes::max(Row(0), q - Row(static_cast<float>(body.flat)));
    const Row corner = static_cast<float>(body.corner);
    Row rise = body.kind == CutterBody::Kind::cone ? Row(past * Row(static_cast<float>(body.slope))) : Row(corner - lanes::sqrt(lanes::max(Row(0), corner * corner - past * past)));
    // within rounding of the rim the rise is as steep as can be: left out
    where(q > Row(static_cast<float>(body.outer - 1e-3)), rise) = std::numeric_limits<float>::infinity();
    return h - rise + Row(static_cast<float>(over_.reference - body.z - kLoose));
  }

  void strips(std::size_t i) {
    const double beside = std::max({0.0, patch_.x[i] - x0_, x0_ - patch_.x[i + 1]});
    if (beside > body_.outer) return;
    const double half = std::sqrt((body_.outer - beside) * (body_.outer + beside));
    const double pad = half < patch_.least_reach ? std::asin(half / patch_.least_reach) : kTurn / 4;
    for (std::size_t k = 0; k < patch_.strips(); ++k) {
      const StripBound& bound = patch_.bounds[i * patch_.strips() + k];
      const double from = static_cast<double>(bound.from), width = static_cast<double>(bound.width);
      std::optional<Elements> elements;
      columns_.each_in({from - pad - 1e-6, from + width + pad + 1e-6}, [&](std::size_t first, std::size_t last) {
        for (std::size_t j = first - first % Row::size(); j <= last; j += Row::size()) {
          if (!could_raise(bound, beside, j)) continue;
          if (!elements) elements = elements_of(i, k);
          for (const Facet& facet : elements->facets) raise_vector(facet, j);
          for (const Segment& edge : elements->edges) raise_vector(edge, j);
        }
      });
    }
  }

  // Whether the body over any point of the strip could stand higher than some column of the vector has it.
  bool could_raise(const StripBound& bound, double beside, std::size_t j) const {
    const double half_vector = columns_.step * (Row::size() - 1) / 2.0, half_strip = static_cast<double>(bound.width) / 2;
    double apart = columns_.angle(j) + half_vector - (static_cast<double>(bound.from) + half_strip);
    if (apart > kTurn / 2) apart -= kTurn;
    if (apart < -kTurn / 2) apart += kTurn;
    const double d = std::max(0.0, std::fabs(apart) - half_strip - half_vector), d2 = d * d;
    const double aside = std::max(0.0, static_cast<double>(bound.least) * d * (1 - d2 / 6)), q = std::sqrt(beside * beside + aside * aside);
    if (q > body_.outer) return false;
    const double most = static_cast<double>(bound.greatest) * (1 - d2 / 2 + d2 * d2 / 24) - body_.rise(q) + over_.reference + kLoose;
    const float highest = static_cast<float>(most);
    for (std::size_t k = 0; k < Row::size(); ++k)
      if (row_[j + k] < highest) return true;
    return false;
  }

  Elements elements_of(std::size_t i, std::size_t k) const {
    const Point &p = patch_.node(i, k), &q = patch_.node(i + 1, k), &r = patch_.node(i, k + 1), &s = patch_.node(i + 1, k + 1);
    Elements found;
    auto edge = [&](const Point& from, const Point& to, const Point*, const Point*) { found.edges.push_back(segment_between(from, to, body_.outer)); };
    if (patch_.planar) {
      found.facets = {facet_of(p, q, r, false)};
      if (patch_.ridges && k > 0) edge(p, q, nullptr, nullptr);
      return found;
    }
    found.facets = {facet_of(p, q, r, true), facet_of(s, r, q, true)};
    edges_of_triangles(patch_, i, k, found.facets[0], found.facets[1], edge);
    return found;
  }

  template <class Element>
  void raise_vector(const Element& element, std::size_t j) {
    const Row cos(&columns_.cos[j], lanes::element_aligned), sin(&columns_.sin[j], lanes::element_aligned), old(row_ + j, lanes::element_aligned);
    const auto higher = tips(element, body_, x0_, cos, sin) + Row(static_cast<float>(over_.reference)) > old;
    if (none_of(higher)) return;
    for (std::size_t k = 0; k < Row::size(); ++k)
      if (higher[k]) settle(element, j + k);
  }

  template <class Element>
  void settle(const Element& element, std::size_t j) {
    const double a = columns_.angle(j);
    const Hold hold = hold_on(element, body_, x0_, std::cos(a), std::sin(a));
    const float height = static_cast<float>(hold.height + over_.reference);
    if (height > row_[j] && shows(patch_, cell_, hold.at)) row_[j] = height;
  }

  void visit_rims() {
    for (std::size_t i : {std::size_t{0}, patch_.x.size() - 1})
      for (std::size_t k = 0; k < patch_.strips(); ++k) {
        const Segment s = segment_between(patch_.node(i, k), patch_.node(i, k + 1), body_.outer);
        if (s.least_x() > x0_ + body_.outer || s.greatest_x() < x0_ - body_.outer) continue;
        auto pad = [&](double reach) { return body_.outer < reach ? std::asin(body_.outer / reach) : kTurn / 4; };
        columns_.each_in({std::min(s.theta0 - pad(s.reach0), s.theta1 - pad(s.reach1)), std::max(s.theta0 + pad(s.reach0), s.theta1 + pad(s.reach1))}, [&](std::size_t first, std::size_t last) {
          for (std::size_t j = first - first % Row::size(); j <= last; j += Row::size()) raise_vector(s, j);
        });
      }
  }

  const Facets::Over& over_;
  const Patch& patch_;
  const Cell& cell_;
  const CutterBody& body_;
  double x0_;
  const Columns& columns_;
  float* row_;
};

}  // namespace

Facets::Facets(const std::vector<Cell>& cells, double tolerance, double ball) : patches_(patches_of(cells, tolerance, ball)) {
  for (Patch& patch : patches_) add_bounds(patch);
}

void Facets::leave_to_ball(std::size_t cell, const Owner& owner) {
  for (Patch& patch : patches_)
    if (patch.cell == cell && patch.owner == owner) patch.asked_for = false;
}

void Facets::raise(const Over& over, double x0, const Columns& columns, float* row) const {
  for (const Patch& patch : patches_)
    if (patch.asked_for) RowOverPatch(over, patch, x0, columns, row).raise();
}

namespace {

void raise_to(double& height, const Patch& patch, const Facets::Over& over, double x0, double a) {
  const double cos = std::cos(a), sin = std::sin(a);
  visit(patch, patch.planar ? over.body : over.grown, x0, Arc{a, a}, [&](const Arc& window, const auto& element) {
    if (!holds(window, a)) return;
    const Hold hold = hold_on(element, patch.planar ? over.body : over.grown, x0, cos, sin);
    if (hold.height + over.reference > height && shows(patch, over.cells[patch.cell], hold.at)) height = hold.height + over.reference;
  });
}

}  // namespace

double Facets::height_at(const Over& over, double x0, double a) const {
  double height = -kInfinity;
  for (const Patch& patch : patches_)
    if (patch.asked_for) raise_to(height, patch, over, x0, a);
  return height;
}

double Facets::height_of(const Over& over, std::size_t cell, const Owner& owner, double x0, double a) const {
  double height = -kInfinity;
  for (const Patch& patch : patches_)
    if (patch.cell == cell && patch.owner == owner) raise_to(height, patch, over, x0, a);
  return height;
}

}  // namespace pommel::mill
