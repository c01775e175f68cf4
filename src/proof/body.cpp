#include "proof/body.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "proof/length.h"
#include "shape/ring.h"

namespace pommel::proof {
namespace {

using shape::Piece;
using shape::Side;

// mm: a cut is measured sharply up to the deeper, of which a sound program has none; standing wood, of which a blank has much, up to the lesser.
constexpr double kSharpBelow = 2, kSharpAbove = 0.5;

double to_segment(double px, double pv, double ax, double av, double bx, double bv) {
  double dx = bx - ax, dv = bv - av;
  double m = dx * dx + dv * dv;
  double s = m > 0 ? std::clamp(((px - ax) * dx + (pv - av) * dv) / m, 0.0, 1.0) : 0;
  return length_of(ax + s * dx - px, av + s * dv - pv);
}

double to_arc(const Piece& arc, double px, double pv) {
  double ends = std::min(length_of(arc.x0 - px, arc.r0 - pv), length_of(arc.x1 - px, arc.r1 - pv));
  double from = length_of(px - arc.cx, pv - arc.cr);
  if (from == 0) return std::min(ends, arc.rho);
  double near_x = arc.cx + (px - arc.cx) * arc.rho / from;
  bool right_half = (pv - arc.cr) * arc.bulge >= 0;
  return right_half && near_x >= arc.x0 && near_x <= arc.x1 ? std::fabs(from - arc.rho) : ends;
}

// The least distance lies near the best of the samples; golden section sharpens it there. A missed second dip would make
// the distance too great, which finds more fault, never less.
double to_cubic(const Piece& cubic, double px, double pv, double limit) {
  double a = std::max(cubic.x0, px - limit), b = std::min(cubic.x1, px + limit);
  auto distance = [&](double x) { return length_of(x - px, cubic.value(x) - pv); };
  constexpr int kSamples = 16;
  int best = 0;
  double found = distance(a);
  for (int i = 1; i <= kSamples; ++i) {
    double d = distance(a + (b - a) * i / kSamples);
    if (d < found) {
      found = d;
      best = i;
    }
  }
  double lo = a + (b - a) * std::max(0, best - 1) / kSamples, hi = a + (b - a) * std::min(kSamples, best + 1) / kSamples;
  constexpr double kGolden = 0.6180339887498949;
  while (hi - lo > 1e-9) {
    double p = hi - kGolden * (hi - lo), q = lo + kGolden * (hi - lo);
    double dp = distance(p), dq = distance(q);
    found = std::min({found, dp, dq});
    if (dp < dq) {
      hi = q;
    } else {
      lo = p;
    }
  }
  return found;
}

double to_piece(const Piece& piece, double px, double pv, double limit) {
  switch (piece.kind) {
    case Piece::Kind::line: return to_segment(px, pv, piece.x0, piece.r0, piece.x1, piece.r1);
    case Piece::Kind::arc: return to_arc(piece, px, pv);
    case Piece::Kind::cubic: return to_cubic(piece, px, pv, limit);
    case Piece::Kind::clear: return limit;
  }
  return limit;
}

double value_at_end(const Piece& piece, bool start) {
  if (piece.kind == Piece::Kind::clear) return 1e9;
  return start ? piece.r0 : piece.r1;
}

// r(x) or d(x) of the closed body: the greater side at a knot.
double closed_value(const shape::Profile& profile, double x) { return profile.value(x); }

bool treated(const shape::Part& part) { return !part.flutes.empty() || !part.reedings.empty() || !part.twists.empty(); }

/// The nearest place of a treated skin to the point (x, theta, t) so far, and how it is looked for.
class NearestOnSkin {
 public:
  NearestOnSkin(const shape::Part& part, double x, double theta, double t, double limit) : part_(part), x_(x), theta_(theta), t_(t), least_(limit), near_x_(x), near_theta_(theta) {}

  /// Looks at places `half` steps to each side in both directions about the nearest one. True when that moved.
  bool look_around(int half, double step_x, double step_theta) {
    const double mid_x = near_x_, mid_theta = near_theta_, before = least_;
    for (int i = -half; i <= half; ++i) {
      const double at_x = std::clamp(mid_x + step_x * i, 0.0, part_.length);
      const shape::Ring ring = shape::ring_at(part_, at_x, Side::before);
      for (int j = -half; j <= half; ++j) look_at(at_x, mid_theta + step_theta * j, ring);
      // where the skin steps the greater side counts; a lesser one is wood's skin, too
      if (at_x == x_) look_along(at_x, mid_theta, half, step_theta, shape::ring_at(part_, at_x, Side::after), ring);
    }
    return least_ < before;
  }
  double distance() const { return least_; }

 private:
  void look_along(double at_x, double mid_theta, int half, double step, const shape::Ring& ring, const shape::Ring& other) {
    for (int j = -half; j <= half; ++j)
      if (ring.radius(mid_theta + step * j) > other.radius(mid_theta + step * j)) look_at(at_x, mid_theta + step * j, ring);
  }
  void look_at(double at_x, double at_theta, const shape::Ring& ring) {
    const double r = ring.radius(at_theta), turn = at_theta - theta_, across = r * std::sin(turn), up = r * std::cos(turn) - t_;
    const double away = std::sqrt((at_x - x_) * (at_x - x_) + across * across + up * up);
    if (away < least_) least_ = away, near_x_ = at_x, near_theta_ = at_theta;
  }

  const shape::Part& part_;
  double x_, theta_, t_, least_, near_x_, near_theta_;
};

// Distance from (x, theta, t) to the skin R(x, theta) of a part with treatments, at most `limit`: the nearest of some places of the skin within the
// limit, then of those around it, a step that finds nothing nearer being halved. A place of the skin is never nearer than the skin is, so a search that
// ends beside the nearest finds too much fault, never too little. Beyond `sharp` mm one look is enough.
double to_treated_skin(const shape::Part& part, double x, double theta, double t, double limit, double sharp) {
  constexpr int kHalvings = 9, kMoves = 24;
  NearestOnSkin nearest(part, x, theta, t, limit);
  const bool far = limit > sharp;
  const int half = limit > 0.5 ? 4 : 2;
  double step_x = limit / half, step_theta = (t > limit ? std::asin(limit / t) : std::numbers::pi) / half;
  nearest.look_around(half, step_x, step_theta);
  for (int halved = 0, moves = 0; !far && halved < kHalvings && moves < kMoves; ++moves) {
    if (moves > 0 && nearest.look_around(1, step_x, step_theta)) continue;
    step_x /= 2, step_theta /= 2, ++halved;
  }
  return nearest.distance();
}

}  // namespace

double distance_to_curve(const shape::Profile& profile, double x, double v, double limit) {
  double least = limit;
  std::size_t i = profile.index_at(std::clamp(x - limit, profile.start(), profile.end()), Side::before);
  for (; i < profile.pieces.size() && profile.pieces[i].x0 <= x + limit; ++i) {
    const Piece& piece = profile.pieces[i];
    if (piece.x1 >= x - least && piece.x0 <= x + least) least = std::min(least, to_piece(piece, x, v, least));
    if (i + 1 == profile.pieces.size()) break;
    double before = value_at_end(piece, false), after = value_at_end(profile.pieces[i + 1], true);
    if (before != after) least = std::min(least, to_segment(x, v, piece.x1, before, piece.x1, after));
  }
  return least;
}

double depth_below_skin(const shape::Part& part, double x, double theta, double t) {
  double limit = std::min({shape::radius_at(part, x, theta) - t, x, part.length - x});
  if (!(limit > 0)) return 0;
  double depth = limit;
  if (closed_value(part.outline, x) - t < 0) return 0;
  depth = distance_to_curve(part.outline, x, t, depth);
  for (const shape::Face& face : part.faces) depth = distance_to_curve(face.d, x, t * std::cos(theta - face.phi), depth);
  return treated(part) ? to_treated_skin(part, x, theta, t, depth, kSharpBelow) : depth;
}

double height_above_skin(const shape::Part& part, double x, double theta, double t) {
  double height = 0;
  auto stand_off = [&](const shape::Profile& profile, double v) {
    double over = v - closed_value(profile, x);
    if (over > height) height = std::max(height, distance_to_curve(profile, x, v, over));
  };
  stand_off(part.outline, t);
  for (const shape::Face& face : part.faces) stand_off(face.d, t * std::cos(theta - face.phi));
  if (!treated(part)) return height;
  double over = t - shape::radius_at(part, x, theta);
  return over > 0 ? std::max(height, to_treated_skin(part, x, theta, t, over, kSharpAbove)) : 0;
}

namespace {

// Radius and face distances at one side of a row.
struct SideOfRow {
  double r = 0;
  std::vector<double> d;  // of each face
  bool operator==(const SideOfRow&) const = default;
};

SideOfRow side_of_row(const shape::Part& part, double x, Side side) {
  SideOfRow row{part.outline.value(x, side), {}};
  for (const shape::Face& face : part.faces) row.d.push_back(face.d.value(x, side));
  return row;
}

// Raises the radii of a row's columns to R of one side; cosines[f][j] = cos(theta_j - phi_f).
void raise_columns(const SideOfRow& of, const std::vector<std::vector<double>>& cosines, std::size_t columns, float* radii) {
  std::vector<double> row(columns, of.r);
  for (std::size_t f = 0; f < of.d.size(); ++f) {
    if (of.d[f] >= of.r) continue;  // the face lies outside the round
    const double d = of.d[f], *cosine = cosines[f].data();
    // d / cosine < r, without a division where the face looks away or is not met
    for (std::size_t j = 0; j < columns; ++j) {
      if (cosine[j] * row[j] > d) row[j] = d / cosine[j];
    }
  }
  for (std::size_t j = 0; j < columns; ++j) radii[j] = std::max(radii[j], static_cast<float>(row[j]));
}

}  // namespace

std::vector<float> body_radii(const Grid& grid, const shape::Part& part) {
  if (treated(part)) {
    std::vector<float> radii(grid.rays(), 0.0f);
    for (std::size_t row = 0; row < grid.rows(); ++row) {
      if (grid.x[row] < 0 || grid.x[row] > part.length) continue;
      const shape::Ring before = shape::ring_at(part, grid.x[row], Side::before), after = shape::ring_at(part, grid.x[row], Side::after);
      for (std::size_t i = grid.begin[row]; i < grid.begin[row + 1]; ++i) {
        const double theta = grid.angle(row, i - grid.begin[row]);
        radii[i] = static_cast<float>(std::max(before.radius(theta), after.radius(theta)));
      }
    }
    return radii;
  }
  std::vector<std::vector<double>> cosines;
  for (const shape::Face& face : part.faces) {
    std::vector<double>& of = cosines.emplace_back();
    for (int j = 0; j < grid.columns; ++j) of.push_back(std::cos(j * grid.column_step() - face.phi));
  }
  const auto columns = static_cast<std::size_t>(grid.columns);
  std::vector<float> radii(grid.rays(), 0.0f);
  for (std::size_t row = 0; row < grid.rows(); ++row) {
    double x = grid.x[row];
    if (x < 0 || x > part.length) continue;
    float* row_radii = radii.data() + grid.begin[row];
    const SideOfRow before = side_of_row(part, x, Side::before), after = side_of_row(part, x, Side::after);
    raise_columns(before, cosines, columns, row_radii);
    if (after != before) raise_columns(after, cosines, columns, row_radii);
    for (std::size_t k = columns; k < columns + grid.creases_of(row); ++k) {
      for (Side side : {Side::before, Side::after})
        row_radii[k] = std::max(row_radii[k], static_cast<float>(shape::radius_at(part, x, grid.angle(row, k), side)));
    }
  }
  return radii;
}

std::string element_at(const shape::Part& part, double x) {
  std::string label;
  for (const shape::ElementMark& mark : part.elements) {
    if (x >= mark.x0 && x <= mark.x1) label = mark.label.empty() ? mark.kind : mark.label;
  }
  return label;
}

}  // namespace pommel::proof
