#include "shape/moulding.h"

#include <algorithm>
#include <cmath>

namespace pommel::shape {
namespace {

// Beyond this radius, mm, an arc's ends drown in the rounding of its centre (1e-16 of it is the 1e-9 mm of profile.h within a
// factor of ten); a parabola of the same curvature is then nearer to it than 1e-7 mm over a metre.
constexpr double kFlattest = 1e6;

// An arc may pass its plumb tangent by this much, mm: rounding of a true half-round.
constexpr double kPlumbMiss = 1e-9;

void add_arc(const Span& s, double cx, double cr, double rho, int bulge, Pieces& out) {
  if (rho <= kFlattest) {
    out.push_back(arc_about(s.x0, s.r0, s.x1, s.r1, cx, cr, rho, bulge, s.element));
    return;
  }
  double l = s.length(), bend = std::isfinite(rho) ? -bulge / (2 * rho) : 0;
  Piece piece = cubic_piece(s.x0, s.x1, {s.r0, (s.r1 - s.r0) / l - bend * l, bend, 0}, s.element);
  piece.r1 = s.r1;
  out.push_back(piece);
}

}  // namespace

void quarter(const Span& s, int bulge, Pieces& out) {
  double l = s.length(), h = std::fabs(s.r1 - s.r0);
  bool level_at_start = (s.r0 > s.r1) == (bulge > 0);
  if (l >= h) {
    double rho = (l * l + h * h) / (2 * h);
    add_arc(s, level_at_start ? s.x0 : s.x1, (level_at_start ? s.r0 : s.r1) - bulge * rho, rho, bulge, out);
  } else {
    double rho = (l * l + h * h) / (2 * l);
    add_arc(s, level_at_start ? s.x1 - rho : s.x0 + rho, level_at_start ? s.r1 : s.r0, rho, bulge, out);
  }
}

bool crested(const Span& s, double extreme, int bulge, Pieces& out) {
  double l = s.length(), a = bulge * (extreme - s.r0), b = bulge * (extreme - s.r1);
  double c = a > 0 ? a * (l * l + b * b - a * b) / (a * l + std::sqrt(a * b * (l * l + (b - a) * (b - a)))) : 0;
  // from the deeper end: the other may lie on the crest itself
  double rho = a >= b ? (c * c + a * a) / (2 * a) : ((l - c) * (l - c) + b * b) / (2 * b);
  if (std::max(a, b) > rho + kPlumbMiss) return false;
  add_arc(s, s.x0 + c, extreme - bulge * rho, rho, bulge, out);
  return true;
}

bool scotia(const Span& s, double bottom, Pieces& out) {
  double l = s.length(), a = s.r0 - bottom, b = s.r1 - bottom;
  if (a + b > l + kPlumbMiss) return false;
  double xm = s.x0 + l * a / (a + b);
  double ca = xm - s.x0, cb = s.x1 - xm;
  double rho_a = (ca * ca + a * a) / (2 * a), rho_b = (cb * cb + b * b) / (2 * b);
  add_arc({s.x0, s.r0, xm, bottom, s.element}, xm, bottom + rho_a, rho_a, -1, out);
  add_arc({xm, bottom, s.x1, s.r1, s.element}, xm, bottom + rho_b, rho_b, -1, out);
  return true;
}

void cyma(const Span& s, int bulge_at_greater, Pieces& out) {
  double xm = s.x0 + s.length() / 2, rm = (s.r0 + s.r1) / 2;
  int first = s.r0 > s.r1 ? bulge_at_greater : -bulge_at_greater;
  quarter({s.x0, s.r0, xm, rm, s.element}, first, out);
  quarter({xm, rm, s.x1, s.r1, s.element}, -first, out);
}

void ball(const Span& s, Pieces& out) {
  double l = s.length();
  double c = l / 2 + (s.r1 - s.r0) * (s.r1 + s.r0) / (2 * l);
  add_arc(s, s.x0 + c, 0, std::hypot(c, s.r0), 1, out);
}

void vee(const Span& s, double bottom, Pieces& out) {
  double a = s.r0 - bottom, b = s.r1 - bottom, xm = s.x0 + s.length() * a / (a + b);
  out.push_back(line_piece(s.x0, s.r0, xm, bottom, s.element));
  out.push_back(line_piece(xm, bottom, s.x1, s.r1, s.element));
}

void spline(const std::vector<RadiusAt>& at, bool level_start, bool level_end, int element, Pieces& out) {
  std::size_t n = at.size();
  std::vector<double> h(n - 1), chord(n - 1);
  for (std::size_t i = 0; i + 1 < n; ++i) {
    h[i] = at[i + 1].x - at[i].x;
    chord[i] = (at[i + 1].r - at[i].r) / h[i];
  }
  // rows: low[i] m[i-1] + mid[i] m[i] + up[i] m[i+1] = right[i], m the second derivatives
  std::vector<double> low(n, 0), mid(n, 1), up(n, 0), right(n, 0), m(n, 0);
  for (std::size_t i = 1; i + 1 < n; ++i) {
    low[i] = h[i - 1];
    mid[i] = 2 * (h[i - 1] + h[i]);
    up[i] = h[i];
    right[i] = 6 * (chord[i] - chord[i - 1]);
  }
  if (level_start) {
    mid[0] = 2 * h[0];
    up[0] = h[0];
    right[0] = 6 * chord[0];
  }
  if (level_end) {
    low[n - 1] = h[n - 2];
    mid[n - 1] = 2 * h[n - 2];
    right[n - 1] = -6 * chord[n - 2];
  }
  for (std::size_t i = 1; i < n; ++i) {
    double w = low[i] / mid[i - 1];
    mid[i] -= w * up[i - 1];
    right[i] -= w * right[i - 1];
  }
  for (std::size_t i = n; i-- > 0;) m[i] = (right[i] - (i + 1 < n ? up[i] * m[i + 1] : 0)) / mid[i];
  for (std::size_t i = 0; i + 1 < n; ++i) {
    double slope = chord[i] - h[i] * (2 * m[i] + m[i + 1]) / 6;
    Piece piece =
        cubic_piece(at[i].x, at[i + 1].x, {at[i].r, slope, m[i] / 2, (m[i + 1] - m[i]) / (6 * h[i])}, element);
    piece.r1 = at[i + 1].r;
    out.push_back(piece);
  }
}

}  // namespace pommel::shape
