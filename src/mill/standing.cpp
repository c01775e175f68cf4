#include "mill/standing.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace pommel::mill {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr float kNothing = -std::numeric_limits<float>::infinity();

using One = lanes::simd<double, lanes::simd_abi::scalar>;

// Sharp edges stay sharp over chords, which costs up to 1 + sqrt 2 tolerances instead of two: the chords are so much finer.
double chord_tolerance(const CutterBody& body, double tolerance) {
  return body.corner > 0 ? tolerance : tolerance * 0.8;
}

// The skin as the body can stand on it: for bodies that are no balls curved faces are chords.
shape::Part skin_under(const shape::Part& part, const CutterBody& body, double tolerance) {
  return body.ball() ? part : chorded(part, chord_tolerance(body, tolerance));
}

// The directions in which the body at x0 can touch the segment at all; nothing when it passes beside.
bool window_of(const Segment& s, double x0, Arc& window) {
  const double beside = std::max({0.0, s.least_x() - x0, x0 - s.greatest_x()});
  const double half2 = (s.rho - beside) * (s.rho + beside);
  if (half2 < 0) return false;
  const double half = std::sqrt(half2);
  auto pad = [&](double reach) { return half < reach ? std::asin(half / reach) : kTurn / 4; };
  // it is beside the segment only where both ends are on the same side of it
  const double pad0 = pad(s.reach0), pad1 = pad(s.reach1);
  window = {std::min(s.theta0 - pad0, s.theta1 - pad1), std::max(s.theta0 + pad0, s.theta1 + pad1)};
  return true;
}

// Whole vectors of columns: a few more than asked for, which a point of the body may always claim.
template <class Height>
void raise_vectors(float* row, std::size_t first, std::size_t last, const Columns& columns, const Height& height) {
  for (std::size_t j = first - first % Row::size(); j <= last; j += Row::size()) {
    const Row cos(&columns.cos[j], lanes::element_aligned), sin(&columns.sin[j], lanes::element_aligned);
    const Row old(row + j, lanes::element_aligned);
    lanes::max(old, height(cos, sin)).copy_to(row + j, lanes::element_aligned);
  }
}

void raise_by_face(const FaceContact& c, std::size_t first, std::size_t last, const Columns& columns, float* row) {
  const float offset = static_cast<float>(c.offset), wide = static_cast<float>(c.wide), less = static_cast<float>(c.less);
  const float* secant = columns.secant[c.face].data();
  if (wide == 0) {
    for (std::size_t j = first; j <= last; ++j) row[j] = std::max(row[j], offset * secant[j] - less);
    return;
  }
  const float* tangent = columns.tangent[c.face].data();
  for (std::size_t j = first; j <= last; ++j) row[j] = std::max(row[j], offset * secant[j] + wide * tangent[j] - less);
}

}  // namespace

Standing::Standing(const shape::Part& part, const CutterBody& body, double reference, double tolerance, bool never_gouge)
    : Standing(body, skin_under(part, body, tolerance), reference, tolerance, never_gouge) {}

Standing::Standing(const CutterBody& body, const shape::Part& skin, double reference, double tolerance, bool never_gouge)
    : body_(body),
      chord_body_(never_gouge ? body.mitred(chord_tolerance(body, tolerance)) : body),
      reference_(reference),
      drop_(body.z + body.corner - reference),
      cells_(cells_of(skin, body.corner, body.slope)),
      creases_(skin, cells_, body.outer, chord_tolerance(body, tolerance), never_gouge),
      facets_(cells_, chord_tolerance(body, tolerance), body.ball() ? body.corner : 0) {
  if (body.ball()) smooth_.emplace(cells_, body.corner, facets_);
}

double Standing::bound(double x0) const {
  double highest = -kInfinity;
  auto cell = std::lower_bound(cells_.begin(), cells_.end(), x0 - body_.outer, [](const Cell& c, double x) { return c.x1 < x; });
  for (; cell != cells_.end() && cell->x0 <= x0 + body_.outer; ++cell) highest = std::max(highest, cell->reach);
  return highest - body_.z + reference_;
}

void Standing::raise_by_rounds(const Columns& columns, const Contacts& contacts, float* row, bool fresh) const {
  // highest first: once one holds all round, the lower ones say nothing
  std::vector<std::pair<Arc, float>> partial;
  float base = kNothing;
  for (const RoundContact& contact : contacts.rounds) {
    bool whole = false;
    for (const Arc& arc : open_arcs(*contact.cell, contact.x, contact.r, whole)) {
      partial.emplace_back(arc, static_cast<float>(contact.height));
    }
    if (!whole) continue;
    base = static_cast<float>(contact.height);
    break;
  }
  auto raise = [&](std::size_t first, std::size_t last, float height) {
    for (std::size_t j = first; j <= last; ++j) row[j] = std::max(row[j], height);
  };
  if (fresh) std::fill(row, row + columns.stride, base);
  else if (base > kNothing) raise(0, columns.stride - 1, base);
  for (const auto& [arc, height] : partial) {
    columns.each_in(arc, [&, h = height](std::size_t first, std::size_t last) { raise(first, last, h); });
  }
}

void Standing::raise_by_faces(double x0, const Columns& columns, const Contacts& contacts, float* row) const {
  for (const FaceContact& c : contacts.faces) {
    columns.each_in({c.phi + c.from, c.phi + c.to},
                    [&](std::size_t first, std::size_t last) { raise_by_face(c, first, last, columns, row); });
  }
  for (const LeaningFace& leaning : contacts.leaning) {
    const double phi = leaning.cell->faces[leaning.face].phi;
    columns.each_in({phi - kTurn / 4, phi + kTurn / 4}, [&](std::size_t first, std::size_t last) {
      for (std::size_t j = first; j <= last; ++j) {
        const double height = over_leaning(leaning, body_, drop_, x0, columns.angle(j));
        row[j] = std::max(row[j], static_cast<float>(height));
      }
    });
  }
}

void Standing::raise_by_creases(double x0, const Columns& columns, float* row) const {
  const float drop = static_cast<float>(drop_), reference = static_cast<float>(reference_);
  for (int index : creases_.near(x0)) {
    const Segment& s = creases_.all()[static_cast<std::size_t>(index)];
    Arc window;
    if (!window_of(s, x0, window)) continue;
    const CutterBody& body = s.curved ? chord_body_ : body_;
    columns.each_in({window.from - columns.step, window.to + columns.step}, [&](std::size_t first, std::size_t last) {
      if (body_.ball()) {
        raise_vectors(row, first, last, columns, [&](const Row& cos, const Row& sin) { return height_over(s, x0, cos, sin) - drop; });
      } else {
        raise_vectors(row, first, last, columns, [&](const Row& cos, const Row& sin) { return tip_over(s, body, x0, cos, sin) + reference; });
      }
    });
  }
}

void Standing::fill_row(double x0, const Columns& columns, Contacts& scratch, float* row, bool fresh) const {
  contacts_at(cells_, body_, drop_, x0, scratch);
  raise_by_rounds(columns, scratch, row, fresh);
  raise_by_faces(x0, columns, scratch, row);
  raise_by_creases(x0, columns, row);
  if (smooth_) smooth_->raise(over(), facets_, drop_, x0, columns, row);
  if (!facets_.empty()) facets_.raise(over(), x0, columns, row);
}

double Standing::height_at(double x0, double a) const {
  Contacts contacts;
  contacts_at(cells_, body_, drop_, x0, contacts);
  double height = -kInfinity;
  for (const RoundContact& c : contacts.rounds) {
    if (c.height <= height) break;
    bool whole = false;
    const std::vector<Arc> open = open_arcs(*c.cell, c.x, c.r, whole);
    if (whole || std::any_of(open.begin(), open.end(), [&](const Arc& arc) { return holds(arc, a); }))
      height = c.height;
  }
  for (const FaceContact& c : contacts.faces) {
    if (holds({c.phi + c.from, c.phi + c.to}, a))
      height = std::max(height, c.offset / std::cos(a - c.phi) + c.wide * std::fabs(std::tan(a - c.phi)) - c.less);
  }
  for (const LeaningFace& leaning : contacts.leaning) height = std::max(height, over_leaning(leaning, body_, drop_, x0, a));
  const One cos = std::cos(a), sin = std::sin(a);
  for (int index : creases_.near(x0)) {
    const Segment& s = creases_.all()[static_cast<std::size_t>(index)];
    Arc window;
    if (!window_of(s, x0, window)) continue;
    const One stood = body_.ball() ? height_over(s, x0, cos, sin) - One(drop_)
                                  : tip_over(s, s.curved ? chord_body_ : body_, x0, cos, sin) + One(reference_);
    height = std::max(height, static_cast<double>(stood[0]));
  }
  if (smooth_) height = std::max(height, smooth_->height_at(over(), facets_, drop_, x0, a));
  if (!facets_.empty()) height = std::max(height, facets_.height_at(over(), x0, a));
  return height;
}

}  // namespace pommel::mill
