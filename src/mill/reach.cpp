#include "mill/reach.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <utility>

#include "base/number.h"
#include "mill/envelope.h"
#include "mill/hollows.h"
#include "mill/setup.h"
#include "shape/crease.h"

namespace pommel::mill {
namespace {

constexpr double kStep = 0.05;  // mm between samples; a ball's gap between two is off by step² / 8 rho

/// A profile as a round of its own, cut off at `top` where it is clear or higher.
shape::Part alone(const shape::Profile& profile, double top) {
  shape::Part part;
  part.outline = profile;
  for (shape::Piece& p : part.outline.pieces) {
    if (p.kind == shape::Piece::Kind::clear) p = shape::line_piece(p.x0, top, p.x1, top, p.element);
  }
  part.length = profile.end() - profile.start();
  return part;
}

struct Sample {
  double x = 0, r = 0, gap = 0;
  const shape::Piece* piece = nullptr;
};

// Even samples of each piece with both its ends.
std::vector<Sample> samples_of(const shape::Profile& profile) {
  std::vector<Sample> samples;
  for (const shape::Piece& p : profile.pieces) {
    const auto spaces = static_cast<int>(std::max(1.0, std::ceil((p.x1 - p.x0) / kStep)));
    for (int i = 0; i <= spaces; ++i) {
      const double x = i == spaces ? p.x1 : p.x0 + (p.x1 - p.x0) * i / spaces;
      samples.push_back({x, p.value(x), 0, &p});
    }
  }
  return samples;
}

// Places of the ball: even, at the knots, and beside walls, where it stands in the corner.
std::vector<double> balls_over(const shape::Profile& profile, double rho) {
  std::vector<double> places;
  const double from = profile.start(), to = profile.end();
  const auto spaces = static_cast<int>(std::ceil((to - from) / kStep));
  for (int i = 0; i <= spaces; ++i) places.push_back(from + (to - from) * i / spaces);
  for (const shape::Piece& p : profile.pieces) {
    for (double x : {p.x0, p.x1}) {
      for (double beside : {-rho * (1 + 1e-12), 0.0, rho * (1 + 1e-12)}) {
        if (x + beside >= from && x + beside <= to) places.push_back(x + beside);
      }
    }
  }
  std::sort(places.begin(), places.end());
  return places;
}

// The nearest of the balls. Each sample's is looked for from the one of the sample before downhill: most often that one touches, nearer than `near`,
// and which of those is nearest says nothing; otherwise from all that can be nearer.
class NearestBall {
 public:
  NearestBall(std::vector<double> places, std::vector<double> centres, double near) : places_(std::move(places)), centres_(std::move(centres)), near2_(near * near) {}

  double from(const Sample& s) {
    const auto away2 = [&](std::size_t i) { return (s.x - places_[i]) * (s.x - places_[i]) + (centres_[i] - s.r) * (centres_[i] - s.r); };
    double least = away2(last_);
    const auto go = [&](std::size_t to) {
      const double there = away2(to);
      if (!(there < least)) return false;
      least = there;
      last_ = to;
      return true;
    };
    while (last_ + 1 < places_.size() && go(last_ + 1)) {}
    while (last_ > 0 && go(last_ - 1)) {}
    if (least <= near2_) return std::sqrt(least);
    const double window = std::sqrt(least);
    auto i = static_cast<std::size_t>(std::lower_bound(places_.begin(), places_.end(), s.x - window) - places_.begin());
    for (; i < places_.size() && places_[i] <= s.x + window; ++i) go(i);
    return std::sqrt(least);
  }

 private:
  std::vector<double> places_, centres_;
  double near2_ = 0;
  std::size_t last_ = 0;
};

// Gaps below `least` may be told too large, but not up to it.
Result<std::vector<Sample>> gaps_of(const shape::Part& round, double rho, double least) {
  const Result<Envelope> envelope = Envelope::of(round, rho);
  if (!envelope.ok()) return envelope.failure();
  std::vector<double> places = balls_over(round.outline, rho), centres;
  for (double x0 : places) centres.push_back(envelope->centre_height(x0, 0));
  NearestBall nearest(std::move(places), std::move(centres), rho + least / 2);
  std::vector<Sample> samples = samples_of(round.outline);
  for (Sample& s : samples) s.gap = nearest.from(s) - rho;
  return samples;
}

using Shown = std::function<bool(double x, shape::Side side)>;

// Neighbouring samples with a gap become one quirk.
void collect(const std::vector<Sample>& samples, double length, double least, const Shown& shown,
             const std::function<std::string(const Sample&)>& name, std::vector<Quirk>& into) {
  const Sample* deepest = nullptr;
  Quirk open;
  auto close = [&] {
    if (deepest) {
      open.element = name(*deepest);
      open.deepest = deepest->gap;
      open.deepest_x = deepest->x;
      into.push_back(open);
    }
    deepest = nullptr;
  };
  for (const Sample& s : samples) {
    const shape::Side side = s.x == s.piece->x0 ? shape::Side::after : shape::Side::before;
    if (s.x < 0 || s.x > length) continue;
    if (s.gap < least || !shown(s.x, side)) {
      // a wall has two samples at its place, the upper one reached: they do not end the quirk at its foot
      if (!deepest || s.x > open.x1) close();
      continue;
    }
    if (!deepest) open = {"", s.x, s.x, 0, s.x};
    if (!deepest || s.gap > deepest->gap) deepest = &s;
    open.x1 = s.x;
  }
  close();
}

// Whether any of the section's rim at x is the round's.
bool round_shows(const shape::Part& part, double x, shape::Side side) {
  double covered = 0;
  for (const shape::Flat& flat : shape::flats_at(part, x, side))
    covered += std::atan2(flat.t1, flat.d) - std::atan2(flat.t0, flat.d);
  return covered < 2 * std::numbers::pi - 1e-9;
}

struct Alone {
  std::size_t face = 0;
  shape::Part part;
  std::vector<Sample> gaps;  // of its pieces
};

}  // namespace

Result<std::vector<Quirk>> quirks(const shape::Part& turned, double ball_radius, const ReachSettings& settings) {
  if (auto sound = Envelope::of(turned, ball_radius); !sound.ok()) return sound.failure();
  const shape::Part part = continued(turned, ball_radius, 4 * ball_radius + 4);
  const double top = shape::reach(turned);  // no wood stands farther out
  std::vector<Quirk> found;
  const shape::Part round = alone(part.outline, top);
  auto outline = gaps_of(round, ball_radius, settings.least);
  if (!outline.ok()) return outline.failure();
  auto element = [&](const Sample& s) {
    const auto i = static_cast<std::size_t>(std::max(0, s.piece->element));
    return s.piece->element >= 0 && i < turned.elements.size() ? turned.elements[i].label : std::string("outline");
  };
  collect(
      *outline, turned.length, settings.least, [&](double x, shape::Side side) { return round_shows(part, x, side); },
      element, found);
  std::vector<Alone> faces;  // of one curve each: most pieces have four alike
  for (std::size_t f = 0; f < part.faces.size(); ++f) {
    auto seen = std::find_if(faces.begin(), faces.end(), [&](const Alone& known) { return part.faces[known.face].d == part.faces[f].d; });
    if (seen == faces.end()) {
      Alone face{f, alone(part.faces[f].d, top), {}};
      auto gaps = gaps_of(face.part, ball_radius, settings.least);
      if (!gaps.ok()) return gaps.failure();
      face.gaps = std::move(gaps).value();
      seen = faces.insert(faces.end(), std::move(face));
    }
    auto shown = [&](double x, shape::Side side) {
      const auto flats = shape::flats_at(part, x, side);
      return std::any_of(flats.begin(), flats.end(), [&](const shape::Flat& flat) { return flat.face == f; });
    };
    auto name = [&](const Sample&) {
      return "face at " + format_number(part.faces[f].phi * 180 / std::numbers::pi, 1) + " deg";
    };
    collect(seen->gaps, turned.length, settings.least, shown, name, found);
  }
  if (!part.flutes.empty() || !part.reedings.empty() || !part.twists.empty()) {
    const auto envelope = Envelope::of(part, ball_radius);
    if (!envelope.ok()) return envelope.failure();
    add_hollows(part, turned.length, *envelope, settings.least, found);
  }
  return found;
}

}  // namespace pommel::mill
