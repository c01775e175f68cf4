#include "mill/envelope.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include "mill/crease.h"
#include "mill/section.h"

namespace pommel::mill {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr float kNothing = -std::numeric_limits<float>::infinity();

// A round candidate counts as lying on the body up to this far outside the faces, mm. Where the round just grazes a
// face (a 60 mm round in a 60 mm square) rounding must not leave a direction to neither.
constexpr double kGraze = 1e-6;

using Row = lanes::native_simd<float>;
using One = lanes::simd<double, lanes::simd_abi::scalar>;

/// A contact on the round: one height for every direction in which the outline stands inside the faces.
struct RoundContact {
  const Cell* cell = nullptr;
  double x = 0, r = 0;
  double height = 0;
};

/// A contact on a face: height D / cos(a - phi) for a - phi between the two limits.
struct FaceContact {
  std::size_t face = 0;  // in Part::faces
  double phi = 0, offset = 0;
  double from = 0, to = 0;  // radians from phi
};

struct Arc {
  double from = 0, to = 0;
};

/// What a row of positions needs besides the creases. Reused from row to row.
struct Contacts {
  std::vector<RoundContact> rounds;
  std::vector<FaceContact> faces;
  std::vector<double> at;
};

// The directions (from < to < from + one turn) in which a circle of radius r stands inside the faces of the cell at x.
// `whole` when it does all round.
std::vector<Arc> open_arcs(const Cell& cell, double x, double r, bool& whole) {
  std::vector<Arc> cut;
  const double inside = r - kGraze;
  for (const CellFace& face : cell.faces) {
    const double d = face.d.value(x);
    if (inside <= d) continue;
    const double half = std::acos(d / inside);
    cut.push_back({face.phi - half, face.phi + half});
  }
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

// Whether direction a, taken to within half a turn of the arc's middle, lies in the arc.
bool holds(const Arc& arc, double a) {
  const double middle = (arc.from + arc.to) / 2;
  return std::fabs(std::remainder(a - middle, kTurn)) <= (arc.to - arc.from) / 2;
}

/// The columns of one fill: directions, and 1/cos(a - phi) for each face.
struct Columns {
  int count = 0;
  std::size_t stride = 0;
  double step = 0;
  std::vector<float> cos, sin;
  std::vector<std::vector<float>> secant;

  Columns(int columns, const std::vector<double>& phis) : count(columns), step(kTurn / columns) {
    stride = (static_cast<std::size_t>(columns) + Row::size() - 1) / Row::size() * Row::size();
    cos.resize(stride);
    sin.resize(stride);
    for (std::size_t j = 0; j < stride; ++j) {
      cos[j] = static_cast<float>(std::cos(step * static_cast<double>(j)));
      sin[j] = static_cast<float>(std::sin(step * static_cast<double>(j)));
    }
    for (double phi : phis) {
      std::vector<float>& table = secant.emplace_back(stride);
      for (std::size_t j = 0; j < stride; ++j) {
        table[j] = static_cast<float>(1 / std::cos(step * static_cast<double>(j) - phi));
      }
    }
  }

  /// Calls run(first, last) for the columns whose direction lies in the arc, in at most two or three runs.
  template <class Run>
  void each_in(const Arc& arc, const Run& run) const {
    auto first = static_cast<long>(std::ceil(arc.from / step));
    const auto last = std::min(static_cast<long>(std::floor(arc.to / step)), first + count - 1);
    while (first <= last) {
      const long turn = first >= 0 ? first / count : -((count - 1 - first) / count);
      const long end = std::min(last, (turn + 1) * count - 1);
      run(static_cast<std::size_t>(first - turn * count), static_cast<std::size_t>(end - turn * count));
      first = end + 1;
    }
  }
};

// The directions in which the ball at x0 can touch the segment at all; nothing when it passes beside.
bool window_of(const Segment& s, double x0, Arc& window) {
  const double beside = std::max({0.0, s.least_x() - x0, x0 - s.greatest_x()});
  const double half2 = (s.rho - beside) * (s.rho + beside);
  if (half2 < 0) return false;
  const double half = std::sqrt(half2);
  auto pad = [&](double reach) { return half < reach ? std::asin(half / reach) : kTurn / 4; };
  window = {s.theta0 - pad(s.reach0), s.theta1 + pad(s.reach1)};
  return true;
}

void raise(float* row, std::size_t first, std::size_t last, float height) {
  for (std::size_t j = first; j <= last; ++j) row[j] = std::max(row[j], height);
}

void raise_by_face(float* row, std::size_t first, std::size_t last, float offset, const float* secant) {
  for (std::size_t j = first; j <= last; ++j) row[j] = std::max(row[j], offset * secant[j]);
}

// Whole vectors of columns: a few more than asked for, which a point of the body may always claim.
void raise_by_segment(float* row, std::size_t first, std::size_t last, const Segment& s, double x0,
                      const Columns& columns) {
  for (std::size_t j = first - first % Row::size(); j <= last; j += Row::size()) {
    const Row cos(&columns.cos[j], lanes::element_aligned), sin(&columns.sin[j], lanes::element_aligned);
    const Row old(row + j, lanes::element_aligned);
    lanes::max(old, height_over(s, x0, cos, sin)).copy_to(row + j, lanes::element_aligned);
  }
}

}  // namespace

struct Envelope::Body {
  double rho = 0;
  std::vector<double> phis;  // of Part::faces
  std::vector<Cell> cells;
  Creases creases;

  void contacts_at(double x0, Contacts& into) const;
  void fill_row(double x0, const Columns& columns, Contacts& scratch, float* row) const;
  double height_at(double x0, double a) const;

 private:
  void round_contacts(const Cell& cell, double x0, Contacts& into) const;
  void face_contacts(const Cell& cell, double x0, Contacts& into) const;
};

void Envelope::Body::round_contacts(const Cell& cell, double x0, Contacts& into) const {
  if (cell.round.clear()) return;
  into.at.clear();
  cell.round.contacts(x0, into.at);
  for (double x : into.at) {
    const double r = cell.round.value(x);
    into.rounds.push_back({&cell, x, r, r + rho * cell.round.normal(x).nr});
  }
  // the circles at both ends: over each the ball rolls with its centre on a circle of its own
  for (double x : {cell.x0, cell.x1}) {
    const double v = (rho - (x - x0)) * (rho + (x - x0));
    if (v < 0) continue;
    const double r = cell.round.value(x);
    into.rounds.push_back({&cell, x, r, r + std::sqrt(v)});
  }
}

void Envelope::Body::face_contacts(const Cell& cell, double x0, Contacts& into) const {
  for (std::size_t f = 0; f < cell.faces.size(); ++f) {
    const CellFace& face = cell.faces[f];
    if (!face.shows) continue;
    into.at.clear();
    face.d.contacts(x0, into.at);
    for (double x : into.at) {
      const Span span = span_at(cell, f, x);
      if (span.left >= span.right) continue;
      const double offset = face.d.value(x) + rho * face.d.normal(x).nr;
      into.faces.push_back(
          {face.index, face.phi, offset, std::atan2(span.left, offset), std::atan2(span.right, offset)});
    }
  }
}

void Envelope::Body::contacts_at(double x0, Contacts& into) const {
  into.rounds.clear();
  into.faces.clear();
  auto cell = std::lower_bound(cells.begin(), cells.end(), x0 - rho, [](const Cell& c, double x) { return c.x1 < x; });
  for (; cell != cells.end() && cell->x0 <= x0 + rho; ++cell) {
    round_contacts(*cell, x0, into);
    face_contacts(*cell, x0, into);
  }
  std::sort(into.rounds.begin(), into.rounds.end(),
            [](const RoundContact& p, const RoundContact& q) { return p.height > q.height; });
}

void Envelope::Body::fill_row(double x0, const Columns& columns, Contacts& scratch, float* row) const {
  contacts_at(x0, scratch);
  // highest first: once one holds all round, the lower ones say nothing
  std::vector<std::pair<Arc, float>> partial;
  float base = kNothing;
  for (const RoundContact& contact : scratch.rounds) {
    bool whole = false;
    for (const Arc& arc : open_arcs(*contact.cell, contact.x, contact.r, whole)) {
      partial.emplace_back(arc, static_cast<float>(contact.height));
    }
    if (!whole) continue;
    base = static_cast<float>(contact.height);
    break;
  }
  std::fill(row, row + columns.stride, base);
  for (const auto& [arc, height] : partial) {
    columns.each_in(arc, [&, h = height](std::size_t first, std::size_t last) { raise(row, first, last, h); });
  }
  for (const FaceContact& c : scratch.faces) {
    columns.each_in({c.phi + c.from, c.phi + c.to}, [&](std::size_t first, std::size_t last) {
      raise_by_face(row, first, last, static_cast<float>(c.offset), columns.secant[c.face].data());
    });
  }
  for (int index : creases.near(x0)) {
    const Segment& s = creases.all()[static_cast<std::size_t>(index)];
    Arc window;
    if (!window_of(s, x0, window)) continue;
    columns.each_in({window.from - columns.step, window.to + columns.step},
                    [&](std::size_t first, std::size_t last) { raise_by_segment(row, first, last, s, x0, columns); });
  }
}

double Envelope::Body::height_at(double x0, double a) const {
  Contacts contacts;
  contacts_at(x0, contacts);
  double height = -kInfinity;
  for (const RoundContact& c : contacts.rounds) {
    if (c.height <= height) break;
    bool whole = false;
    const std::vector<Arc> open = open_arcs(*c.cell, c.x, c.r, whole);
    if (whole || std::any_of(open.begin(), open.end(), [&](const Arc& arc) { return holds(arc, a); }))
      height = c.height;
  }
  for (const FaceContact& c : contacts.faces) {
    if (holds({c.phi + c.from, c.phi + c.to}, a)) height = std::max(height, c.offset / std::cos(a - c.phi));
  }
  const One cos = std::cos(a), sin = std::sin(a);
  for (int index : creases.near(x0)) {
    const Segment& s = creases.all()[static_cast<std::size_t>(index)];
    Arc window;
    if (!window_of(s, x0, window)) continue;
    height = std::max(height, static_cast<double>(height_over(s, x0, cos, sin)[0]));
  }
  return height;
}

namespace {

bool sound(const shape::Piece& p, bool may_be_clear) {
  for (double v : {p.x0, p.x1, p.r0, p.r1, p.cx, p.cr, p.rho, p.c[0], p.c[1], p.c[2], p.c[3]}) {
    if (!std::isfinite(v) || std::fabs(v) > 1e6) return false;
  }
  if (!(p.x0 < p.x1)) return false;
  if (p.kind == shape::Piece::Kind::clear) return may_be_clear;
  return p.r0 >= 0 && p.r1 >= 0 && (p.kind != shape::Piece::Kind::arc || p.rho > 0);
}

bool sound(const shape::Profile& profile, double start, double length) {
  if (profile.pieces.empty() || std::fabs(profile.start() - start) > 1e-6) return false;
  for (std::size_t i = 0; i < profile.pieces.size(); ++i) {
    if (!sound(profile.pieces[i], true)) return false;
    if (i > 0 && profile.pieces[i].x0 != profile.pieces[i - 1].x1) return false;
  }
  return std::fabs(profile.end() - profile.start() - length) < 1e-6;
}

// Clear stretches need faces all round with no gap of half a turn.
bool closed(const Cell& cell) {
  if (!cell.round.clear()) return true;
  std::vector<double> phis;
  for (const CellFace& face : cell.faces) phis.push_back(std::remainder(face.phi, kTurn));
  if (phis.size() < 3) return false;
  std::sort(phis.begin(), phis.end());
  double widest = phis.front() + kTurn - phis.back();
  for (std::size_t i = 0; i + 1 < phis.size(); ++i) widest = std::max(widest, phis[i + 1] - phis[i]);
  return widest < std::numbers::pi - 1e-6;
}

}  // namespace

Result<Envelope> Envelope::of(const shape::Part& turned, double ball_radius, const EnvelopeSettings& settings) {
  if (!(ball_radius > 0 && ball_radius < 1000)) {
    return fail("mill.ball", "the ball has no radius that a cutter could have",
                "give the cutter's diameter in millimetres");
  }
  bool good = !turned.outline.pieces.empty() && settings.crease_tolerance > 0;
  const double start = good ? turned.outline.start() : 0;
  good = good && sound(turned.outline, start, turned.length);
  for (const shape::Face& face : turned.faces)
    good = good && sound(face.d, start, turned.length) && std::fabs(face.phi) < 100;
  if (!good)
    return fail("mill.part", "the part '" + turned.name + "' is not sound, so no cutter path can be made",
                "check the outline first");

  std::vector<Cell> cells = cells_of(turned, ball_radius);
  for (const Cell& cell : cells) {
    if (!closed(cell)) {
      return fail("mill.open-section", "the part '" + turned.name + "' has a square stretch whose faces do not close",
                  "give it faces all round, or a diameter there");
    }
  }
  std::vector<double> phis;
  for (const shape::Face& face : turned.faces) phis.push_back(face.phi);
  Creases creases(cells, ball_radius, settings.crease_tolerance, settings.never_gouge);
  return Envelope(
      std::make_shared<const Body>(Body{ball_radius, std::move(phis), std::move(cells), std::move(creases)}));
}

double Envelope::ball_radius() const {
  return body_->rho;
}

double Envelope::centre_height(double x0, double a) const {
  return body_->height_at(x0, a);
}

Result<Done> Envelope::fill(std::span<const double> rows, int columns, Heights& into, std::stop_token stop) const {
  assert(std::is_sorted(rows.begin(), rows.end()));
  constexpr std::size_t kMostPositions = 250'000'000;  // a gigabyte
  if (columns < 1 || columns > 1'000'000 || rows.size() > kMostPositions / static_cast<std::size_t>(columns)) {
    return fail("mill.grid", "the grid of cutter positions is too large", "ask for a coarser cusp");
  }
  const Columns table(columns, body_->phis);
  into.x_.assign(rows.begin(), rows.end());
  into.columns_ = columns;
  into.stride_ = table.stride;
  // grown, never shrunk: the buffer stays warm
  if (into.values_.size() < rows.size() * table.stride) into.values_.resize(rows.size() * table.stride);
  Contacts scratch;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (stop.stop_requested()) return fail("mill.cancelled", "stopped");
    body_->fill_row(rows[i], table, scratch, &into.values_[i * table.stride]);
  }
  return Done{};
}

double Heights::angle(int column) const {
  return kTurn * column / columns_;
}

}  // namespace pommel::mill
