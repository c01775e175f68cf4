#include "match/figure.h"

#include <algorithm>
#include <cmath>

namespace pommel::match {
namespace {

constexpr double kShortest = 0.05;  // mm of length below which nothing is drawn
constexpr double kThinnest = 0.1;   // mm of radius
constexpr double kAlike = 1e-7;     // mm: ends nearer than this are alike

// An arc whose ends rise less than this is drawn level: its centre would be beyond all sense.
constexpr double kLeastRise = 1e-5;

bool draw_arc(const Stroke& s, const shape::Span& span, int bulge, shape::Pieces& out) {
  const double beyond = bulge > 0 ? s.extreme - std::max(s.r0, s.r1) : std::min(s.r0, s.r1) - s.extreme;
  if (beyond < 0 || beyond + std::fabs(s.r1 - s.r0) < kLeastRise) return false;
  return s.extreme >= kThinnest && shape::crested(span, s.extreme, bulge, out);
}

bool draw_vase(const Stroke& s, shape::Pieces& out) {
  std::vector<shape::RadiusAt> at{{s.x0, s.r0}};
  for (const InnerStation& inner : s.stations) at.push_back({s.x0 + s.length() * inner.at, inner.radius});
  at.push_back({s.x1, s.r1});
  for (std::size_t i = 0; i + 1 < at.size(); ++i) {
    if (at[i + 1].x - at[i].x < 0.02 * s.length() || at[i + 1].r < kThinnest) return false;
  }
  shape::spline(at, s.level_start, s.level_end, -1, out);
  return true;
}

}  // namespace

double Stroke::size(int k) const {
  switch (k) {
    case 0: return x0;
    case 1: return x1;
    case 2: return r0;
    case 3: return r1;
    case 4: return extreme;
    default: {
      const InnerStation& inner = stations[static_cast<std::size_t>(k - 5) / 2];
      return (k - 5) % 2 == 0 ? inner.radius : inner.at;
    }
  }
}

void Stroke::set(int k, double value) {
  switch (k) {
    case 0: x0 = value; break;
    case 1: x1 = value; break;
    case 2: r0 = value; break;
    case 3: r1 = value; break;
    case 4: extreme = value; break;
    default: {
      InnerStation& inner = stations[static_cast<std::size_t>(k - 5) / 2];
      ((k - 5) % 2 == 0 ? inner.radius : inner.at) = value;
    }
  }
}

bool ends_alike(const Stroke& s) {
  return s.figure == Figure::level || s.figure == Figure::half_bulge || s.figure == Figure::half_hollow || (s.alike && may_be_alike(s.figure));
}

bool may_be_alike(Figure figure) {
  return figure == Figure::arc_bulge || figure == Figure::arc_hollow || figure == Figure::ball || figure == Figure::vee;
}

bool has_extreme(Figure figure) {
  return figure == Figure::arc_bulge || figure == Figure::arc_hollow || figure == Figure::scotia || figure == Figure::vee;
}

std::optional<Radii> radii_of(const Stroke& stroke) {
  shape::Pieces pieces;
  if (!draw(stroke, pieces)) return std::nullopt;
  Radii out{pieces.front().least(), pieces.front().greatest()};
  for (const shape::Piece& p : pieces) out = {std::min(out.least, p.least()), std::max(out.greatest, p.greatest())};
  return out;
}

std::optional<CrestOrBottom> crest_or_bottom(const Stroke& s) {
  if (has_extreme(s.figure)) return CrestOrBottom{s.extreme, s.figure == Figure::arc_bulge};
  const bool bulges = s.figure == Figure::half_bulge || s.figure == Figure::ball;
  const auto radii = bulges || s.figure == Figure::half_hollow ? radii_of(s) : std::nullopt;
  if (!radii) return std::nullopt;
  return CrestOrBottom{bulges ? radii->greatest : radii->least, bulges};
}

bool is_arc(Figure figure) { return figure >= Figure::half_bulge && figure <= Figure::arc_hollow; }

int freedoms(const Stroke& stroke) {
  return (ends_alike(stroke) ? 1 : 2) + (has_extreme(stroke.figure) ? 1 : 0) + 2 * static_cast<int>(stroke.stations.size());
}

bool draw(const Stroke& s, shape::Pieces& out) {
  out.clear();
  const double l = s.length(), h = std::fabs(s.r1 - s.r0);
  if (!(l >= kShortest) || !(std::min(s.r0, s.r1) >= kThinnest)) return false;
  const shape::Span span{s.x0, s.r0, s.x1, s.r1, -1}, alike{s.x0, s.r0, s.x1, s.r0, -1};
  switch (s.figure) {
    case Figure::level: out.push_back(shape::line_piece(s.x0, s.r0, s.x1, s.r0)); return true;
    case Figure::slope: out.push_back(shape::line_piece(s.x0, s.r0, s.x1, s.r1)); return true;
    case Figure::half_bulge: return shape::crested(alike, s.r0 + l / 2, 1, out);
    case Figure::half_hollow: return s.r0 - l / 2 >= kThinnest && shape::crested(alike, s.r0 - l / 2, -1, out);
    case Figure::quarter_bulge:
    case Figure::quarter_hollow:
      if (h < kLeastRise) return false;
      shape::quarter(span, s.figure == Figure::quarter_bulge ? 1 : -1, out);
      return true;
    case Figure::ball: shape::ball(span, out); return out.front().cx >= s.x0 - kAlike && out.front().cx <= s.x1 + kAlike;
    case Figure::arc_bulge: return draw_arc(s, span, 1, out);
    case Figure::arc_hollow: return draw_arc(s, span, -1, out);
    case Figure::cyma_recta:
    case Figure::cyma_reversa:
      if (h < kLeastRise) return false;
      shape::cyma(span, s.figure == Figure::cyma_reversa ? 1 : -1, out);
      return true;
    case Figure::scotia:
      return s.extreme >= kThinnest && std::min(s.r0, s.r1) - s.extreme > kLeastRise && shape::scotia(span, s.extreme, out);
    case Figure::vee:
      if (s.extreme < kThinnest || std::min(s.r0, s.r1) - s.extreme < kLeastRise) return false;
      shape::vee(span, s.extreme, out);
      return true;
    case Figure::vase: return draw_vase(s, out);
  }
  return false;
}

Off off(const shape::Piece& p, double x, double r) {
  if (p.kind == shape::Piece::Kind::arc) {
    const double dx = x - p.cx, dr = r - p.cr, d = std::sqrt(dx * dx + dr * dr);
    if (d == 0) return {-p.rho * p.bulge, 0, 1};
    return {p.bulge * (d - p.rho), p.bulge * dx / d, p.bulge * dr / d};
  }
  const auto [radius, slope] = rise_of(p, x);
  const double s = std::sqrt(1 + slope * slope);
  return {(r - radius) / s, -slope / s, 1 / s};
}

const shape::Piece& owner(const shape::Pieces& pieces, double x) {
  std::size_t i = 0;
  while (i + 1 < pieces.size() && x > pieces[i].x1) ++i;
  return pieces[i];
}

Off off(const shape::Pieces& pieces, double x, double r) { return off(owner(pieces, x), x, r); }

double radius_of(const shape::Pieces& pieces, double x) {
  const shape::Piece& p = owner(pieces, x);
  if (p.kind != shape::Piece::Kind::arc) {
    const Off o = off(p, x, 0);
    return -o.distance / o.nr;
  }
  const double u = x - p.cx;
  return p.cr + p.bulge * std::sqrt(std::max(0.0, (p.rho - u) * (p.rho + u)));
}

}  // namespace pommel::match
