#include "match/compare.h"

#include <algorithm>
#include <cmath>

namespace pommel::match {
namespace {

/// Distance from the nearest of the pieces at x and its neighbours: a reading beside a wall may belong to either side.
void add(const shape::Profile& outline, double x, double r, Comparison& into) {
  if (x < outline.start() - 0.5 || x > outline.end() + 0.5) return;
  const double inside = std::clamp(x, outline.start(), outline.end());
  const std::size_t at = outline.index_at(inside, shape::Side::after);
  double best = 1e30;
  for (std::size_t i = at == 0 ? 0 : at - 1; i <= std::min(at + 1, outline.pieces.size() - 1); ++i) {
    const shape::Piece& p = outline.pieces[i];
    if (p.kind == shape::Piece::Kind::clear) {
      if (i == at) return;
      continue;
    }
    const double beyond = std::max({0.0, p.x0 - inside, inside - p.x1});
    if (beyond > 0.5) continue;
    const double d = off(p, x, r).distance;
    if (std::fabs(d) < std::fabs(best)) best = d;
  }
  if (best < 1e29) into.readings.push_back({x, best});
}

void total_up(Comparison& c) {
  double sum = 0, squares = 0;
  for (const Compared& r : c.readings) {
    sum += r.off, squares += r.off * r.off;
    if (std::fabs(r.off) > std::fabs(c.most)) c.most = r.off, c.most_at = r.x;
  }
  if (c.readings.empty()) return;
  const double n = static_cast<double>(c.readings.size());
  c.mean = sum / n;
  c.rms = std::sqrt(squares / n);
}

}  // namespace

Comparison compared(const shape::Profile& outline, const std::vector<Measure>& measures, double head) {
  Comparison out;
  for (const Measure& m : measures) {
    if (m.of == Measure::Of::round) add(outline, m.x - head, m.diameter / 2, out);
  }
  total_up(out);
  return out;
}

Comparison compared(const shape::Profile& outline, const Recognition& recognition, double step) {
  Comparison out;
  for (const Found& f : recognition.elements) {
    shape::Pieces pieces;
    if (f.square || !draw(f.stroke, pieces)) continue;
    for (double x = f.stroke.x0 + step / 2; x < f.stroke.x1; x += step) add(outline, x, radius_of(pieces, x), out);
  }
  total_up(out);
  return out;
}

}  // namespace pommel::match
