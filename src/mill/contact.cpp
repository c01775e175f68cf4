#include "mill/contact.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace pommel::mill {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kInfinity = std::numeric_limits<double>::infinity();

// A round candidate counts as lying on the body up to this far outside the faces, mm. Where the round just grazes a
// face (a 60 mm round in a 60 mm square) rounding must not leave a direction to neither.
constexpr double kGraze = 1e-6;

// Contacts of one body on one cell's round, gathered.
class RoundContacts {
 public:
  RoundContacts(const Cell& cell, const CutterBody& body, double drop, double x0, Contacts& into)
      : cell_(cell), body_(body), drop_(drop), x0_(x0), into_(into) {}

  void gather() {
    if (body_.kind == CutterBody::Kind::cone) {
      for (double q : {body_.flat, body_.outer})
        for (double x : {x0_ - q, x0_ + q}) point(x);
      for (double x : cell_.steep) point(x);
    } else {
      rounded_rim(-body_.flat);
      if (body_.flat > 0) rounded_rim(body_.flat);
      for (double x : cell_.level) point(x);
    }
    // the circles at both ends: over each the body rolls with its middle on a circle of its own
    point(cell_.x0);
    point(cell_.x1);
  }

 private:
  void rounded_rim(double beside) {
    into_.at.clear();
    cell_.round.contacts(x0_ - beside, into_.at);
    for (double x : into_.at) {
      const double r = cell_.round.value(x);
      into_.rounds.push_back({&cell_, x, r, r + body_.corner * cell_.round.normal(x).nr - drop_});
    }
  }

  // Any point of the round may hold the body up.
  void point(double x) {
    const double q = std::fabs(x - x0_);
    if (x < cell_.x0 || x > cell_.x1 || q > body_.outer) return;
    const double r = cell_.round.value(x);
    if (body_.ball()) {
      into_.rounds.push_back({&cell_, x, r, r + std::sqrt((body_.corner - q) * (body_.corner + q)) - drop_});
    } else {
      into_.rounds.push_back({&cell_, x, r, r - body_.rise(q) + body_.z + body_.corner - drop_});
    }
  }

  const Cell& cell_;
  const CutterBody& body_;
  double drop_, x0_;
  Contacts& into_;
};

// A ball's contacts on a face, or any rounded body's where the face does not lean: its rim reaches `wide` past the ball within.
void level_contact(const CellFace& face, const Span& span, double offset, double wide, double less, Contacts& into) {
  if (wide == 0) {
    into.faces.push_back({face.index, face.phi, offset, 0, less, std::atan2(span.left, offset), std::atan2(span.right, offset)});
    return;
  }
  // (offset sin b + wide) / cos b = t at the ends of what is left of the face
  auto turned = [&](double t) { return t <= wide ? 0 : std::acos(wide / std::hypot(t, offset)) - std::atan2(offset, t); };
  if (span.right > wide) into.faces.push_back({face.index, face.phi, offset, wide, less, turned(span.left), turned(span.right)});
  if (-span.left > wide) into.faces.push_back({face.index, face.phi, offset, wide, less, -turned(-span.left), -turned(-span.right)});
}

// The upper rim of a cone stands as much higher as its flank rises.
double raised(const CutterBody& body) {
  return body.kind == CutterBody::Kind::cone ? (body.outer - body.flat) * body.slope : 0;
}

void face_contacts(const Cell& cell, const CutterBody& body, double drop, double x0, Contacts& into) {
  const bool cone = body.kind == CutterBody::Kind::cone;
  const double corner = body.corner, wide = cone ? body.outer : body.flat;
  for (std::size_t f = 0; f < cell.faces.size(); ++f) {
    const CellFace& face = cell.faces[f];
    if (!face.shows) continue;
    if (wide > 0 && face.d.normal(cell.x0).nx != 0) {
      into.leaning.push_back({&cell, f});
      continue;
    }
    into.at.clear();
    face.d.contacts(x0, into.at);
    for (double x : into.at) {
      const double offset = face.d.value(x) + corner * face.d.normal(x).nr;
      auto take = [&](const Span& span) { level_contact(face, span, offset, wide, drop + raised(body), into); };
      if (cell.treated()) {
        for (const Span& span : openings_at(cell, f, x)) take(span);
      } else if (const Span span = span_at(cell, f, x); span.left < span.right) {
        take(span);
      }
    }
  }
}

// The directions in which grooves and reeds take a circle of radius r away.
void cut_by_treatments(const Cell& cell, double x, double r, std::vector<Arc>& cut) {
  // half the angle in which the circle stands inside one of radius g about a centre at distance c; 0: nowhere
  auto half_inside = [&](double c, double g) {
    const double cosine = (r * r + (c - g) * (c + g)) / (2 * r * c);
    return cosine >= 1 ? 0 : std::acos(std::max(-1.0, cosine));
  };
  for (const CellGroove& groove : cell.treatments.grooves) {
    if (const double half = half_inside(groove.centre.value(x), groove.radius); half > 0) cut.push_back({groove.theta - half, groove.theta + half});
  }
  for (const CellReeds& reeds : cell.treatments.reeds) {
    const double share = kTurn / reeds.count / 2, half = half_inside(reeds.centre.value(x), reeds.radius);
    for (int k = 0; k < reeds.count && half < share; ++k) cut.push_back({reeds.crown(k) + half, reeds.crown(k) + 2 * share - half});
  }
  for (Arc& arc : cut) {
    const double whole = kTurn * std::floor(arc.from / kTurn);
    arc.from -= whole, arc.to -= whole;
  }
}

}  // namespace

std::vector<Arc> open_arcs(const Cell& cell, double x, double r, bool& whole) {
  std::vector<Arc> cut;
  const double inside = r - kGraze;
  for (const CellFace& face : cell.faces) {
    const double d = face.d.value(x);
    if (inside <= d) continue;
    const double half = std::acos(d / inside);
    cut.push_back({face.phi - half, face.phi + half});
  }
  if (cell.treated()) cut_by_treatments(cell, x, inside, cut);
  whole = cut.empty();
  if (whole) return {};
  std::sort(cut.begin(), cut.end(), [](const Arc& a, const Arc& b) { return a.from < b.from; });
  double covered = -kInfinity;
  for (const Arc& arc : cut) covered = std::max(covered, arc.to - kTurn);
  std::vector<Arc> open;
  for (const Arc& arc : cut) {
    if (arc.from > covered && std::isfinite(covered)) open.push_back({covered, arc.from});
    covered = std::max(covered, arc.to);
  }
  return open;
}

bool holds(const Arc& arc, double a) {
  const double middle = (arc.from + arc.to) / 2;
  return std::fabs(std::remainder(a - middle, kTurn)) <= (arc.to - arc.from) / 2;
}

void contacts_at(const std::vector<Cell>& cells, const CutterBody& body, double drop, double x0, Contacts& into) {
  into.rounds.clear();
  into.faces.clear();
  into.leaning.clear();
  const double reach = body.outer;
  auto cell = std::lower_bound(cells.begin(), cells.end(), x0 - reach, [](const Cell& c, double x) { return c.x1 < x; });
  for (; cell != cells.end() && cell->x0 <= x0 + reach; ++cell) {
    // a twisted round is no plain one anywhere: facets.h has it
    if (!cell->round.clear() && !cell->treatments.twist) RoundContacts(*cell, body, drop, x0, into).gather();
    face_contacts(*cell, body, drop, x0, into);
  }
  std::sort(into.rounds.begin(), into.rounds.end(),
            [](const RoundContact& p, const RoundContact& q) { return p.height > q.height; });
}

double over_leaning(const LeaningFace& leaning, const CutterBody& body, double drop, double x0, double a) {
  const Cell& cell = *leaning.cell;
  const CellFace& face = cell.faces[leaning.face];
  const shape::Normal n = face.d.normal(cell.x0);
  const double b = face.phi - a, sin_b = std::sin(b), cos_b = std::cos(b);
  if (n.nr * cos_b < 1e-9) return -kInfinity;
  const double wide = body.kind == CutterBody::Kind::cone ? body.outer : body.flat;
  const double nl = n.nr * sin_b, k = wide / std::hypot(n.nx, nl) + body.corner;
  double x = x0 - k * n.nx;
  if (x < cell.x0 - kGraze || x > cell.x1 + kGraze) return -kInfinity;
  x = std::clamp(x, cell.x0, cell.x1);
  const double l = -k * nl, h = (face.d.value(x) - l * sin_b) / cos_b, t = l * cos_b - h * sin_b;
  const Span span = span_at(cell, leaning.face, x);
  if (t < span.left - kGraze || t > span.right + kGraze || span.left >= span.right) return -kInfinity;
  if (cell.treated() && !left_by_others(cell, {shape::Maker::face, leaning.face}, x, face.d.value(x) * face.cos - t * face.sin, face.d.value(x) * face.sin + t * face.cos, kGraze))
    return -kInfinity;
  return h + body.corner * n.nr * cos_b - raised(body) - drop;
}

}  // namespace pommel::mill
