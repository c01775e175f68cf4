#include "mill/envelope.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include "mill/standing.h"

namespace pommel::mill {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kInfinity = std::numeric_limits<double>::infinity();

}  // namespace

struct Envelope::Body {
  double radius = 0, reference = 0;
  std::vector<double> phis;         // of Part::faces
  std::vector<Standing> standings;  // lowest first
  bool tangents = false;

  void fill_row(double x0, const Columns& columns, Contacts& scratch, float* row) const;
};

void Envelope::Body::fill_row(double x0, const Columns& columns, Contacts& scratch, float* row) const {
  standings.front().fill_row(x0, columns, scratch, row, true);
  for (std::size_t i = 1; i < standings.size(); ++i) {
    // what is behind the cutting part seldom reaches any wood
    const float bound = static_cast<float>(standings[i].bound(x0));
    if (bound > *std::min_element(row, row + columns.count)) standings[i].fill_row(x0, columns, scratch, row, false);
  }
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


Result<Done> sound_part(const shape::Part& turned, const EnvelopeSettings& settings) {
  bool good = !turned.outline.pieces.empty() && settings.crease_tolerance > 0;
  const double start = good ? turned.outline.start() : 0;
  good = good && sound(turned.outline, start, turned.length);
  for (const shape::Face& face : turned.faces)
    good = good && sound(face.d, start, turned.length) && std::fabs(face.phi) < 100;
  if (!good)
    return fail("mill.part", "the part '" + turned.name + "' is not sound, so no cutter path can be made",
                "check the outline first");
  return Done{};
}

}  // namespace

Result<Envelope> Envelope::made(const shape::Part& turned, const std::vector<CutterBody>& bodies, double radius, double reference,
                                const EnvelopeSettings& settings) {
  if (auto good = sound_part(turned, settings); !good.ok()) return good.failure();
  Body body{radius, reference, {}, {}, false};
  for (const shape::Face& face : turned.faces) body.phis.push_back(face.phi);
  for (const CutterBody& one : bodies) {
    body.standings.emplace_back(turned, one, reference, settings.crease_tolerance, settings.never_gouge);
    body.tangents = body.tangents || !one.ball();
  }
  for (const Cell& cell : body.standings.front().cells()) {
    if (!closed(cell)) {
      return fail("mill.open-section", "the part '" + turned.name + "' has a square stretch whose faces do not close",
                  "give it faces all round, or a diameter there");
    }
  }
  return Envelope(std::make_shared<const Body>(std::move(body)));
}

Result<Envelope> Envelope::of(const shape::Part& turned, double ball_radius, const EnvelopeSettings& settings) {
  if (!(ball_radius > 0 && ball_radius < 1000)) {
    return fail("mill.ball", "the ball has no radius that a cutter could have",
                "give the cutter's diameter in millimetres");
  }
  return made(turned, {ball_body(ball_radius)}, ball_radius, ball_radius, settings);
}

Result<Envelope> Envelope::of(const shape::Part& turned, const shop::Cutter& cutter, const EnvelopeSettings& settings) {
  const auto bodies = bodies_of(cutter, settings.allowance);
  if (!bodies.ok()) return bodies.failure();
  return made(turned, *bodies, cutter.diameter / 2, 0, settings);
}

double Envelope::reference() const {
  return body_->reference;
}

double Envelope::ball_radius() const {
  return body_->radius;
}

double Envelope::centre_height(double x0, double a) const {
  double height = -kInfinity;
  for (const Standing& standing : body_->standings) height = std::max(height, standing.height_at(x0, a));
  return height + (body_->radius - body_->reference);
}

double Envelope::tip_height(double x0, double a) const {
  return stand(x0, a).tip;
}

Envelope::Stand Envelope::stand(double x0, double a) const {
  Stand found{-kInfinity, Holding::nothing};
  for (const Standing& standing : body_->standings) {
    const double tip = standing.height_at(x0, a) - body_->reference;
    if (tip > found.tip) found = {tip, standing.body().part};
  }
  return found;
}

Result<Done> Envelope::fill(std::span<const double> rows, int columns, Heights& into, std::stop_token stop, std::span<const double> first) const {
  assert(std::is_sorted(rows.begin(), rows.end()));
  assert(first.empty() || first.size() == rows.size());
  constexpr std::size_t kMostPositions = 250'000'000;  // a gigabyte
  if (columns < 1 || columns > 1'000'000 || rows.size() > kMostPositions / static_cast<std::size_t>(columns)) {
    return fail("mill.grid", "the grid of cutter positions is too large", "ask for a coarser cusp");
  }
  if (stop.stop_requested()) return fail("cancelled", "stopped");  // before the memory is asked for
  Columns table(columns, body_->phis, body_->tangents);
  into.x_.assign(rows.begin(), rows.end());
  into.columns_ = columns;
  into.stride_ = table.stride;
  // grown, never shrunk: the buffer stays warm
  if (into.values_.size() < rows.size() * table.stride) into.values_.resize(rows.size() * table.stride);
  Contacts scratch;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (stop.stop_requested()) return fail("cancelled", "stopped");
    if (!first.empty() && first[i] != table.first) table = Columns(columns, body_->phis, body_->tangents, first[i]);
    body_->fill_row(rows[i], table, scratch, &into.values_[i * table.stride]);
  }
  return Done{};
}

double Heights::angle(int column) const {
  return kTurn * column / columns_;
}

}  // namespace pommel::mill
