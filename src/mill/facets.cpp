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
    edge(p, q, &lower.n, nullptr);
    edge(p, r, &lower.n, nullptr);
    edge(q, r, &lower.n, &upper.n);
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

Facets::Facets(const std::vector<Cell>& cells, double tolerance, double ball) : patches_(patches_of(cells, tolerance, ball)) {}

void Facets::leave_to_ball(std::size_t cell, const Owner& owner) {
  for (Patch& patch : patches_)
    if (patch.cell == cell && patch.owner == owner) patch.asked_for = false;
}

void Facets::raise(const Over& over, double x0, const Columns& columns, float* row) const {
  const float reference = static_cast<float>(over.reference);
  for (const Patch& patch : patches_) {
    if (!patch.asked_for) continue;
    const Cell& cell = over.cells[patch.cell];
    const CutterBody& body = patch.planar ? over.body : over.grown;
    visit(patch, body, x0, std::nullopt, [&](const Arc& window, const auto& element) {
      auto settle = [&](std::size_t j) {
        const double a = columns.step * static_cast<double>(j);
        const Hold hold = hold_on(element, body, x0, std::cos(a), std::sin(a));
        const float height = static_cast<float>(hold.height + over.reference);
        if (height > row[j] && shows(patch, cell, hold.at)) row[j] = height;
      };
      columns.each_in(window, [&](std::size_t first, std::size_t last) {
        for (std::size_t j = first - first % Row::size(); j <= last; j += Row::size()) {
          const Row cos(&columns.cos[j], lanes::element_aligned), sin(&columns.sin[j], lanes::element_aligned), old(row + j, lanes::element_aligned);
          const auto higher = tips(element, body, x0, cos, sin) + Row(reference) > old;
          if (none_of(higher)) continue;
          for (std::size_t k = 0; k < Row::size(); ++k)
            if (higher[k]) settle(j + k);
        }
      });
    });
  }
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
