#include "mill/crease.h"

#include <array>
#include <numbers>

#include "mill/tracer.h"
#include "mill/treated_crease.h"

namespace pommel::mill {
namespace {

Point on_face(const CellFace& face, double x, double t) {
  const double d = face.d.value(x);
  return {x, d * face.cos - t * face.sin, d * face.sin + t * face.cos};
}

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

void add_knots(const shape::Part& part, const std::vector<Cell>& cells, Tracer& tracer) {
  for (std::size_t i = 0; i <= cells.size(); ++i) {
    const Cell* left = i > 0 ? &cells[i - 1] : nullptr;
    const Cell* right = i < cells.size() ? &cells[i] : nullptr;
    if ((left && left->treated()) || (right && right->treated())) {
      add_treated_rims(part, left ? left->x1 : right->x0, left, right, tracer);
      continue;
    }
    const std::vector<Rim> before = left ? rims_at(*left, left->x1) : std::vector<Rim>{};
    const std::vector<Rim> after = right ? rims_at(*right, right->x0) : std::vector<Rim>{};
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

Creases::Creases(const shape::Part& part, const std::vector<Cell>& cells, double rho, double tolerance, bool never_gouge) {
  Tracer tracer(rho, tolerance, never_gouge, segments_);
  add_knots(part, cells, tracer);
  for (const Cell& cell : cells) {
    if (cell.treated()) add_treated_edges(part, cell, tracer);
    else add_edges(cell, tracer);
  }
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
