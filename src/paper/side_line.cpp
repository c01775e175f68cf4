#include "paper/side_line.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>

#include "paper/arc.h"
#include "paper/skin_lines.h"
#include "paper/skin_section.h"
#include "shape/crease.h"

namespace pommel::paper {
namespace {

using shape::Part;
using shape::Piece;
using shape::Side;

constexpr double kQuarter = std::numbers::pi / 2;
constexpr double kSame = 1e-7;  // mm

// What makes the edge on a stretch: a piece of the outline, or of a face seen at a slant (1 / cos).
struct Maker {
  const Piece* piece = nullptr;
  double stretch = 1;

  double value(double x) const { return piece->value(std::clamp(x, piece->x0, piece->x1)) * stretch; }
};

Maker maker_at(const Part& part, double x, double theta) {
  Maker best{&part.outline.pieces[part.outline.index_at(x, Side::after)], 1};
  double least = best.value(x);
  for (const shape::Face& face : part.faces) {
    const double aslant = std::fabs(std::remainder(theta - face.phi, 4 * kQuarter));
    if (aslant > kQuarter - 1e-9) continue;
    const Maker other{&face.d.pieces[face.d.index_at(x, Side::after)], aslant < 1e-9 ? 1 : 1 / std::cos(aslant)};
    if (other.value(x) < least) {
      best = other;
      least = other.value(x);
    }
  }
  return best;
}

// The circle through three points of a curve, as the bulge of the way from a to b; 0 where they stand in a line.
double bulge_through(const Vertex& a, const Vertex& m, const Vertex& b) {
  const double ax = a.x - m.x, ay = a.y - m.y, bx = b.x - m.x, by = b.y - m.y;
  const double cross = ax * by - ay * bx, dot = ax * bx + ay * by;
  if (std::fabs(cross) < 1e-12 * std::hypot(ax, ay) * std::hypot(bx, by)) return 0;
  // the angle at m over the chord is half of the turn that the arc leaves out
  const double inside = std::atan2(std::fabs(cross), dot), sweep = 2 * (std::numbers::pi - inside);
  return (cross > 0 ? -1 : 1) * std::tan(sweep / 4);  // from a over m to b it turns the other way than about m
}

using Curve = std::function<double(double)>;

bool follows(const Curve& curve, const Vertex& a, const Vertex& b, double bulge) {
  for (const double at : {0.125, 0.25, 0.375, 0.625, 0.75, 0.875}) {
    const double x = a.x + (b.x - a.x) * at, y = curve(x);
    double off = 0;
    if (bulge == 0) {
      off = std::fabs((b.x - a.x) * (a.y - y) - (a.x - x) * (b.y - a.y)) / std::hypot(b.x - a.x, b.y - a.y);
    } else {
      const Arc arc = arc_of({a.x, a.y, bulge}, b);
      off = std::fabs(std::hypot(x - arc.x, y - arc.y) - arc.radius);
    }
    if (off > kArcFit) return false;
  }
  return true;
}

// Arcs along any curve, halved until they follow it; the last vertex is left to the caller.
void add_fit(const Curve& curve, double x0, double x1, int depth, std::vector<Vertex>& out) {
  const double middle = (x0 + x1) / 2;
  const Vertex a{x0, curve(x0)}, m{middle, curve(middle)}, b{x1, curve(x1)};
  const double bulge = bulge_through(a, m, b);
  if (depth > 0 && !follows(curve, a, b, bulge)) {
    add_fit(curve, x0, middle, depth - 1, out);
    add_fit(curve, middle, x1, depth - 1, out);
    return;
  }
  out.push_back({a.x, a.y, bulge});
}

// One stretch on which one maker rules. The vertex of its end is left to the caller.
void add_stretch(const Maker& maker, double x0, double x1, std::vector<Vertex>& out) {
  const Piece& piece = *maker.piece;
  if (piece.kind == Piece::Kind::line) {
    out.push_back({x0, maker.value(x0), 0});
  } else if (piece.kind == Piece::Kind::arc && maker.stretch == 1) {
    const double chord = std::hypot(x1 - x0, piece.value(x1) - piece.value(x0));
    const double half = std::asin(std::min(1.0, chord / (2 * piece.rho)));
    out.push_back({x0, piece.value(x0), -piece.bulge * std::tan(half / 2)});  // wood that bulges turns from growing r back to x
  } else {
    add_fit([&](double x) { return maker.value(x); }, x0, x1, 12, out);
  }
}

std::vector<double> stops(const Part& part) {
  const std::vector<double> knots = shape::knots(part);
  std::vector<double> out;
  for (std::size_t i = 0; i + 1 < knots.size(); ++i) {
    out.push_back(knots[i]);
    for (const double x : shape::crossings(part, knots[i], knots[i + 1])) out.push_back(x);
  }
  out.push_back(knots.back());
  return out;
}

void push(std::vector<Vertex>& line, const Vertex& vertex) {
  if (!line.empty() && std::fabs(line.back().x - vertex.x) < kSame && std::fabs(line.back().y - vertex.y) < kSame) line.back().bulge = vertex.bulge;
  else line.push_back(vertex);
}

}  // namespace

std::vector<Vertex> side_line(const Part& part, double theta) {
  std::vector<Vertex> out;
  const std::vector<double> at = stops(part);
  for (std::size_t i = 0; i + 1 < at.size(); ++i) {
    const double x0 = at[i], x1 = at[i + 1];
    if (x1 - x0 < kSame) continue;
    const Maker maker = maker_at(part, (x0 + x1) / 2, theta);
    std::vector<Vertex> stretch;
    add_stretch(maker, x0, x1, stretch);
    stretch.push_back({x1, maker.value(x1), 0});
    for (const Vertex& vertex : stretch) push(out, vertex);
  }
  return out;
}

namespace {

// The shadow's edge from head to foot on the side of `sign`, where it is no single line of the field.
std::vector<Vertex> traced_side(const Part& part, double phi, int sign) {
  std::vector<Vertex> out;
  for (const std::vector<double>& span : spans_of(part)) {
    constexpr std::size_t kPiece = 12;  // places of a span that one arc may be tried over
    for (std::size_t i = 0; i + 1 < span.size(); i += kPiece) {
      const double x0 = span[i], x1 = span[std::min(i + kPiece, span.size() - 1)];
      if (x1 - x0 < kSame) continue;
      const Curve curve = [&](double x) {
        const SkinSection section(part, x, x >= span.back() ? Side::before : Side::after, phi);
        return sign < 0 ? section.low() : section.high();
      };
      std::vector<Vertex> stretch;
      add_fit(curve, x0, x1, 8, stretch);
      stretch.push_back({x1, curve(x1), 0});
      for (const Vertex& vertex : stretch) push(out, vertex);
    }
  }
  return out;
}

}  // namespace

std::vector<Vertex> contour(const Part& part, double phi) {
  const bool traced = needs_tracing(part, phi);
  std::vector<Vertex> out = traced ? traced_side(part, phi, -1) : side_line(part, phi - kQuarter);
  if (!traced)
    for (Vertex& vertex : out) vertex = {vertex.x, -vertex.y, -vertex.bulge};
  const std::vector<Vertex> back = traced ? traced_side(part, phi, 1) : side_line(part, phi + kQuarter);
  for (std::size_t i = back.size(); i-- > 0;) out.push_back({back[i].x, back[i].y, i > 0 ? -back[i - 1].bulge : 0});
  return out;
}

std::vector<Vertex> section_line(const Part& part, double x) {
  const shape::Ring ring = shape::ring_at(part, x, Side::after);
  const auto at = [&](double theta) {
    const double r = ring.radius(theta);
    const shape::SinCos turn = shape::sin_cos(theta);
    return Vertex{r * turn.cos, r * turn.sin, 0};
  };
  std::vector<Vertex> out;
  for (const shape::RingArc& arc : ring.arcs()) {
    const bool twist = arc.maker == shape::Maker::round && ring.rounds.front().swing != 0;
    const double turn = arc.theta1 - arc.theta0, most = twist ? kQuarter / 45 : 2 * kQuarter;  // other makers are circles and lines
    const int steps = arc.maker == shape::Maker::face ? 1 : std::max(1, static_cast<int>(std::ceil(turn / most - 1e-9)));
    for (int i = 0; i < steps; ++i) {
      const double a = arc.theta0 + turn * i / steps, b = arc.theta0 + turn * (i + 1) / steps;
      Vertex corner = at(a);
      if (arc.maker != shape::Maker::face) corner.bulge = bulge_through(corner, at((a + b) / 2), at(b));
      out.push_back(corner);
    }
  }
  return out;
}

}  // namespace pommel::paper
