#include "mill/crease.h"

#include <array>
#include <numbers>

namespace pommel::mill {
namespace {

struct Point {
  double x = 0, y = 0, z = 0;
};

Point on_face(const CellFace& face, double x, double t) {
  const double d = face.d.value(x);
  return {x, d * face.cos - t * face.sin, d * face.sin + t * face.cos};
}

Segment segment_between(const Point& p, const Point& q, double rho) {
  Segment s{p.x, p.y, p.z, q.x - p.x, q.y - p.y, q.z - p.z, 0, rho, 0, 0, 0, 0};
  s.length = std::sqrt(s.ux * s.ux + s.uy * s.uy + s.uz * s.uz);
  if (s.length > 0) s.ux /= s.length, s.uy /= s.length, s.uz /= s.length;
  s.theta0 = std::atan2(p.z, p.y);
  s.reach0 = std::hypot(p.y, p.z);
  s.reach1 = std::hypot(q.y, q.z);
  // the turn from p to q, less than half a turn because the segment does not pass through the axis
  s.theta1 = s.theta0 + std::atan2(p.y * q.z - p.z * q.y, p.y * q.y + p.z * q.z);
  if (s.theta1 < s.theta0) {
    std::swap(s.theta0, s.theta1);
    std::swap(s.reach0, s.reach1);
  }
  return s;
}

double distance_to_chord(const Point& m, const Point& p, const Point& q) {
  const double ux = q.x - p.x, uy = q.y - p.y, uz = q.z - p.z;
  const double wx = m.x - p.x, wy = m.y - p.y, wz = m.z - p.z;
  const double length2 = ux * ux + uy * uy + uz * uz;
  const double t = length2 > 0 ? std::clamp((wx * ux + wy * uy + wz * uz) / length2, 0.0, 1.0) : 0;
  return std::sqrt((wx - t * ux) * (wx - t * ux) + (wy - t * uy) * (wy - t * uy) + (wz - t * uz) * (wz - t * uz));
}

/// Splits curves into chords and collects them.
class Tracer {
 public:
  Tracer(double rho, double tolerance, bool never_gouge, std::vector<Segment>& into)
      : rho_(rho), curved_rho_(never_gouge ? rho + tolerance : rho), tolerance_(tolerance), into_(into) {}

  void straight(const Point& p, const Point& q) { into_.push_back(segment_between(p, q, rho_)); }

  template <class Curve>
  void trace(const Curve& curve, double a, double b, int depth = 0) {
    const Point p = curve(a), q = curve(b);
    double sag = 0;
    for (int k = 1; k < 8; ++k) sag = std::max(sag, distance_to_chord(curve(a + (b - a) * k / 8), p, q));
    if (sag <= kStraight || sag <= tolerance_ || depth >= kDeepest) {
      into_.push_back(segment_between(p, q, sag <= kStraight ? rho_ : curved_rho_));
      into_.back().curved = sag > kStraight;
      return;
    }
    const double middle = a + (b - a) / 2;
    trace(curve, a, middle, depth + 1);
    trace(curve, middle, b, depth + 1);
  }

 private:
  static constexpr double kStraight = 1e-9;  // mm
  static constexpr int kDeepest = 40;        // halvings: a metre down to a thousand-millionth of a millimetre

  double rho_, curved_rho_, tolerance_;
  std::vector<Segment>& into_;
};

// The rim of a cell's end across its faces. A face that goes on alike on the other side of the knot has no edge there.
struct Rim {
  std::size_t face = 0;  // in Part::faces
  double d = 0, nx = 0;
  Span span;
  Point p, q;

  bool goes_on_as(const Rim& other) const {
    auto near = [](double a, double b) { return std::fabs(a - b) < 1e-9; };
    return face == other.face && near(d, other.d) && near(nx, other.nx) && near(span.left, other.span.left) &&
           near(span.right, other.span.right);
  }
};

std::vector<Rim> rims_at(const Cell& cell, double x) {
  std::vector<Rim> found;
  for (std::size_t f = 0; f < cell.faces.size(); ++f) {
    const CellFace& face = cell.faces[f];
    const Span span = span_at(cell, f, x);
    if (span.left >= span.right) continue;
    const double d = face.d.value(x);
    found.push_back(
        {face.index, d, face.d.normal(x).nx, span, on_face(face, x, span.left), on_face(face, x, span.right)});
  }
  return found;
}

void add_rims(const std::vector<Rim>& rims, const std::vector<Rim>& beyond, Tracer& tracer) {
  for (const Rim& rim : rims) {
    const bool smooth =
        std::any_of(beyond.begin(), beyond.end(), [&](const Rim& other) { return rim.goes_on_as(other); });
    if (!smooth) tracer.straight(rim.p, rim.q);
  }
}

void add_knots(const std::vector<Cell>& cells, Tracer& tracer) {
  for (std::size_t i = 0; i <= cells.size(); ++i) {
    const std::vector<Rim> before = i > 0 ? rims_at(cells[i - 1], cells[i - 1].x1) : std::vector<Rim>{};
    const std::vector<Rim> after = i < cells.size() ? rims_at(cells[i], cells[i].x0) : std::vector<Rim>{};
    add_rims(before, after, tracer);
    add_rims(after, before, tracer);
  }
}

void add_edges(const Cell& cell, Tracer& tracer) {
  for (const FaceStretch& stretch : stretches(cell)) {
    const std::size_t f = stretch.face;
    const CellFace& face = cell.faces[f];
    auto shoulder = [&](double side) {
      tracer.trace([&](double x) { return on_face(face, x, side * half_in_round(cell, f, x)); }, stretch.x0,
                   stretch.x1);
    };
    // an arris is the right edge of one face and the left edge of its neighbour: taken once
    if (stretch.right_by_round) {
      shoulder(1);
    } else {
      auto arris = [&](double x) { return on_face(face, x, between_neighbours(cell, f, x).right); };
      tracer.trace(arris, stretch.x0, stretch.x1);
    }
    if (stretch.left_by_round) shoulder(-1);
  }
}

}  // namespace

Creases::Creases(const std::vector<Cell>& cells, double rho, double tolerance, bool never_gouge) {
  Tracer tracer(rho, tolerance, never_gouge, segments_);
  add_knots(cells, tracer);
  for (const Cell& cell : cells) add_edges(cell, tracer);
  index();
}

void Creases::index() {
  if (segments_.empty()) return;
  double last = -std::numeric_limits<double>::infinity();
  first_ = std::numeric_limits<double>::infinity();
  for (const Segment& s : segments_) {
    first_ = std::min(first_, s.least_x() - s.rho);
    last = std::max(last, s.greatest_x() + s.rho);
  }
  step_ = std::max(segments_.front().rho / 2, (last - first_) / 20000);
  bins_.resize(static_cast<std::size_t>((last - first_) / step_) + 1);
  auto bin = [&](double x) {
    return std::min(bins_.size() - 1, static_cast<std::size_t>(std::max(0.0, (x - first_) / step_)));
  };
  for (std::size_t i = 0; i < segments_.size(); ++i) {
    const Segment& s = segments_[i];
    const std::size_t to = bin(s.greatest_x() + s.rho);
    for (std::size_t b = bin(s.least_x() - s.rho); b <= to; ++b) bins_[b].push_back(static_cast<int>(i));
  }
}

const std::vector<int>& Creases::near(double x0) const {
  const double place = (x0 - first_) / step_;
  if (bins_.empty() || !(place >= 0) || place >= static_cast<double>(bins_.size())) return none_;
  return bins_[static_cast<std::size_t>(place)];
}

}  // namespace pommel::mill
