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
  /// Of the equations for the second derivatives m: low m before + mid m + up m after = right; h and chord of the piece that begins here.
  struct Row {
    double h = 0, chord = 0, low = 0, mid = 1, up = 0, right = 0, m = 0;
  };
  const std::size_t n = at.size();
  std::vector<Row> rows(n);
  for (std::size_t i = 0; i + 1 < n; ++i) {
    rows[i].h = at[i + 1].x - at[i].x;
    rows[i].chord = (at[i + 1].r - at[i].r) / rows[i].h;
  }
  for (std::size_t i = 1; i + 1 < n; ++i) {
    Row& row = rows[i];
    row.low = rows[i - 1].h;
    row.mid = 2 * (rows[i - 1].h + row.h);
    row.up = row.h;
    row.right = 6 * (row.chord - rows[i - 1].chord);
  }
  if (level_start) {
    Row& row = rows.front();
    row.mid = 2 * row.h;
    row.up = row.h;
    row.right = 6 * row.chord;
  }
  if (level_end) {
    Row& row = rows.back();
    row.low = rows[n - 2].h;
    row.mid = 2 * rows[n - 2].h;
    row.right = -6 * rows[n - 2].chord;
  }
  for (std::size_t i = 1; i < n; ++i) {
    const double w = rows[i].low / rows[i - 1].mid;
    rows[i].mid -= w * rows[i - 1].up;
    rows[i].right -= w * rows[i - 1].right;
  }
  for (std::size_t i = n; i-- > 0;) rows[i].m = (rows[i].right - (i + 1 < n ? rows[i].up * rows[i + 1].m : 0)) / rows[i].mid;
  for (std::size_t i = 0; i + 1 < n; ++i) {
    const auto& [h, chord, low, mid, up, right, m] = rows[i];
    const double after = rows[i + 1].m, slope = chord - h * (2 * m + after) / 6;
    Piece piece = cubic_piece(at[i].x, at[i + 1].x, {at[i].r, slope, m / 2, (after - m) / (6 * h)}, element);
    piece.r1 = at[i + 1].r;
    out.push_back(piece);
  }
}

}  // namespace pommel::shape
