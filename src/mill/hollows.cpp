#include "mill/hollows.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

#include "shape/angle.h"
#include "shape/ring.h"

namespace pommel::mill {
namespace {

constexpr double kStep = 0.25;  // mm
constexpr double kSame = 1e-6;  // mm: the skin is the treatment's own there

struct Deepest {
  double x = 0, theta = 0, r = 0, centre = 0;
};

// The lines along which hollows are deepest: each gives a direction for a section where it shows.
class Line {
 public:
  enum class Kind { flute, reeds, twist };
  Line(Kind kind, std::size_t index) : kind_(kind), index_(index) {}

  std::optional<double> direction(const shape::Ring& ring) const {
    if (kind_ == Kind::twist) {
      const shape::Ring::Round& round = ring.rounds.front();
      return round.swing > 0 ? std::optional(round.psi + shape::kTurn / 2 / round.starts) : std::nullopt;
    }
    for (const auto& groove : ring.grooves)
      if (kind_ == Kind::flute && groove.index == index_ && ring.radius(groove.theta) > groove.c - groove.g - kSame) return groove.theta;
    for (const auto& reeds : ring.reeds) {
      const double valley = reeds.phase + shape::kTurn / reeds.count / 2;
      const double across = reeds.c * std::sin(shape::kTurn / reeds.count / 2);
      const double depth = reeds.c * std::cos(shape::kTurn / reeds.count / 2) + std::sqrt(std::max(0.0, (reeds.g - across) * (reeds.g + across)));
      if (kind_ == Kind::reeds && reeds.index == index_ && ring.radius(valley) > depth - kSame) return valley;
    }
    return std::nullopt;
  }

 private:
  Kind kind_;
  std::size_t index_;
};

std::vector<Deepest> along(const shape::Part& part, double length, const Envelope& envelope, const Line& line) {
  std::vector<Deepest> found;
  for (double x = 0; x <= length; x += kStep) {
    const shape::Ring ring = shape::ring_at(part, x, shape::Side::before);
    if (const auto theta = line.direction(ring)) found.push_back({x, *theta, ring.radius(*theta), envelope.centre_height(x, *theta)});
  }
  return found;
}

double gap_at(const std::vector<Deepest>& line, std::size_t i, double rho) {
  const Deepest& p = line[i];
  double nearest = std::numeric_limits<double>::infinity();
  const auto wide = static_cast<std::size_t>(2 * rho / kStep) + 1;
  for (std::size_t k = i > wide ? i - wide : 0; k < std::min(line.size(), i + wide + 1); ++k) {
    const double turn = line[k].theta - p.theta, across = line[k].centre * std::sin(turn), up = line[k].centre * std::cos(turn) - p.r;
    nearest = std::min(nearest, std::hypot(line[k].x - p.x, across, up));
  }
  return nearest - rho;
}

// Stretches of the line with a gap.
std::vector<Quirk> stretches_of(const std::vector<Deepest>& line, double rho, double least, const std::string& name) {
  std::vector<Quirk> found;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const double gap = gap_at(line, i, rho);
    if (gap < least) continue;
    if (found.empty() || line[i].x > found.back().x1 + 1.5 * kStep) found.push_back({name, line[i].x, line[i].x, gap, line[i].x});
    Quirk& open = found.back();
    open.x1 = line[i].x;
    if (gap > open.deepest) open.deepest = gap, open.deepest_x = line[i].x;
  }
  return found;
}

// One after the other, or one for what lies over one another.
void merge(const std::vector<Quirk>& more, std::vector<Quirk>& into) {
  for (const Quirk& one : more) {
    auto same = std::find_if(into.begin(), into.end(), [&](const Quirk& known) { return known.element == one.element && one.x0 <= known.x1 && known.x0 <= one.x1; });
    if (same == into.end()) {
      into.push_back(one);
      continue;
    }
    same->x0 = std::min(same->x0, one.x0), same->x1 = std::max(same->x1, one.x1);
    if (one.deepest > same->deepest) same->deepest = one.deepest, same->deepest_x = one.deepest_x;
  }
}

}  // namespace

void add_hollows(const shape::Part& part, double length, const Envelope& envelope, double least, std::vector<Quirk>& into) {
  std::vector<Quirk> found;
  auto look = [&](Line::Kind kind, std::size_t index, const std::string& name) {
    merge(stretches_of(along(part, length, envelope, Line(kind, index)), envelope.ball_radius(), least, name), found);
  };
  for (std::size_t k = 0; k < part.flutes.size(); ++k) look(Line::Kind::flute, k, "flutes");
  for (std::size_t k = 0; k < part.reedings.size(); ++k) look(Line::Kind::reeds, k, "between the reeds");
  if (!part.twists.empty()) look(Line::Kind::twist, 0, "hollows of the twist");
  into.insert(into.end(), found.begin(), found.end());
}

}  // namespace pommel::mill
