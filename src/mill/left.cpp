#include "mill/left.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "mill/envelope.h"
#include "mill/foot.h"

namespace pommel::mill {
namespace {

using shape::Piece;

constexpr double kStep = 0.05;   // mm between places of the cutter and between samples
constexpr double kSlack = 0.01;  // mm that the chords of what is left stand higher than its samples
constexpr double kInfinity = std::numeric_limits<double>::infinity();

/// The plane of one profile with the cutter in it.
struct Plane {
  Foot foot;
  std::vector<double> x, tip;  // growing x

  template <class Visit>
  void near(double at, double reach, const Visit& visit) const {
    for (auto i = static_cast<std::size_t>(std::lower_bound(x.begin(), x.end(), at - reach) - x.begin()); i < x.size() && x[i] <= at + reach; ++i)
      visit(std::fabs(x[i] - at), tip[i]);
  }

  /// How far the cutter's end stays away from the point, mm.
  double gap(double at, double r, double reach) const {
    double nearest2 = kInfinity;
    near(at, reach, [&](double beside, double z) {
      const double dx = std::max(0.0, beside - foot.flat), dz = std::max(0.0, z + foot.corner - r);
      nearest2 = std::min(nearest2, dx * dx + dz * dz);
    });
    return std::sqrt(nearest2) - foot.corner;
  }

  /// The lowest that it clears there.
  double standing(double at) const {
    double lowest = kInfinity;
    near(at, foot.radius(), [&](double beside, double z) { lowest = std::min(lowest, z + foot.rise(beside)); });
    return lowest;
  }
};

// The profile as a round of its own, cut off at `top` where it is clear.
shape::Part alone(const shape::Profile& profile, double top) {
  shape::Part part;
  part.outline = profile;
  for (Piece& p : part.outline.pieces) {
    if (p.kind == Piece::Kind::clear) p = shape::line_piece(p.x0, top, p.x1, top, p.element);
  }
  part.length = profile.end() - profile.start();
  return part;
}

// Even places, and where the cutter stands beside a knot with its rim or the side of its rounding.
std::vector<double> places_over(const shape::Profile& profile, const Foot& foot, double allowance) {
  std::vector<double> places;
  const double from = profile.start(), to = profile.end();
  const auto spaces = static_cast<int>(std::ceil((to - from) / kStep));
  for (int i = 0; i <= spaces; ++i) places.push_back(from + (to - from) * i / spaces);
  for (const Piece& p : profile.pieces) {
    for (double side : {-1.0, 1.0}) {
      for (double beside : {0.0, foot.flat, (foot.radius() + allowance) * (1 + 1e-12)}) places.push_back(std::clamp(p.x0 + side * beside, from, to));
    }
  }
  std::sort(places.begin(), places.end());
  return places;
}

Result<Plane> plane_of(const shop::Cutter& cutter, const shape::Part& round, double allowance) {
  const auto foot = foot_of(cutter);
  if (!foot.ok()) return foot.failure();
  const auto envelope = Envelope::of(round, cutter, {.allowance = allowance});
  if (!envelope.ok()) return envelope.failure();
  Plane plane{*foot, places_over(round.outline, *foot, allowance), {}};
  for (double x : plane.x) plane.tip.push_back(envelope->tip_height(x, 0));
  return plane;
}

/// A stretch of the profile where wood is left, in samples from end to end.
struct Hollow {
  std::vector<double> x, r;
};

/// Finds the hollows of a profile and closes them.
class Closer {
 public:
  Closer(const Plane& plane, const shape::Part& round, double length, const LeftSettings& settings)
      : plane_(plane), outline_(round.outline), length_(length), settings_(settings) {}

  std::vector<Hollow> hollows(Left& found) {
    std::vector<Hollow> all;
    bool open = false;
    for (const Piece& piece : outline_.pieces) {
      const auto spaces = static_cast<int>(std::max(1.0, std::ceil((piece.x1 - piece.x0) / kStep)));
      for (int i = 0; i <= spaces; ++i) {
        const double x = i == spaces ? piece.x1 : piece.x0 + (piece.x1 - piece.x0) * i / spaces;
        const double beyond = beyond_allowance(x, piece.value(x));
        const bool hollow = x >= 0 && x <= length_ && beyond > settings_.least;
        if (hollow && beyond > found.deepest) found.deepest = beyond, found.deepest_x = x;
        // the upper end of a wall has been reached, its foot perhaps not: one place, no end of the hollow
        if (!hollow && open && x > all.back().x.back()) open = false;
        if (!hollow) continue;
        if (!open) all.emplace_back();
        open = true;
        if (all.back().x.empty() || x > all.back().x.back()) all.back().x.push_back(x), all.back().r.push_back(plane_.standing(x) + kSlack);
      }
    }
    return all;
  }

 private:
  double beyond_allowance(double x, double r) const {
    const double reach = 2 * plane_.foot.radius() + 1, near = plane_.gap(x, r, reach);
    // what stands farther beside may be nearer still over a deep slot
    return (near > reach ? plane_.gap(x, r, near + plane_.foot.radius()) : near) - settings_.allowance;
  }

  const Plane& plane_;
  const shape::Profile& outline_;
  double length_;
  const LeftSettings& settings_;
};

void append(std::vector<Piece>& into, std::vector<Piece> pieces) {
  into.insert(into.end(), std::make_move_iterator(pieces.begin()), std::make_move_iterator(pieces.end()));
}

// The profile with its hollows closed; what is clear stays so.
shape::Profile closed(const shape::Profile& profile, const std::vector<Hollow>& hollows) {
  shape::Profile out;
  double done = profile.start();
  for (const Hollow& hollow : hollows) {
    if (hollow.x.size() < 2) continue;
    if (hollow.x.front() > done) append(out.pieces, shape::pieces_within(profile, done, hollow.x.front()));
    for (std::size_t i = 0; i + 1 < hollow.x.size(); ++i)
      out.pieces.push_back(shape::line_piece(hollow.x[i], hollow.r[i], hollow.x[i + 1], hollow.r[i + 1]));
    done = hollow.x.back();
  }
  if (done < profile.end()) append(out.pieces, shape::pieces_within(profile, done, profile.end()));
  return out;
}

double highest(const shape::Profile& profile) {
  double most = 0;
  for (const Piece& p : profile.pieces) {
    if (p.kind != Piece::Kind::clear) most = std::max(most, p.greatest());
  }
  return most;
}

Result<Done> close(shape::Profile& profile, double top, const shop::Cutter& cutter, double length, const LeftSettings& settings, Left& found) {
  const shape::Part round = alone(profile, top);
  const auto plane = plane_of(cutter, round, settings.allowance);
  if (!plane.ok()) return plane.failure();
  const std::vector<Hollow> hollows = Closer(*plane, round, length, settings).hollows(found);
  if (!hollows.empty()) profile = closed(profile, hollows);
  return Done{};
}

}  // namespace

Result<Left> left_by(const shop::Cutter& cutter, const shape::Part& part, double length, const LeftSettings& settings) {
  Left found{part, 0, 0};
  // whatever flutes, reeds and twists take away counts as left: their hollows are no profile that could be closed
  found.part.flutes.clear(), found.part.reedings.clear(), found.part.twists.clear();
  double top = highest(part.outline);
  for (const shape::Face& face : part.faces) top = std::max(top, 2 * highest(face.d));
  if (auto done = close(found.part.outline, top, cutter, length, settings, found); !done.ok()) return done.failure();
  for (shape::Face& face : found.part.faces) {
    if (auto done = close(face.d, top, cutter, length, settings, found); !done.ok()) return done.failure();
  }
  return found;
}

Result<Envelope> envelope_left(const Setup& setup, const Earlier& earlier, const LeftSettings& settings) {
  const auto left = left_by(earlier.cutter, setup.part, setup.length, settings);
  if (!left.ok()) return left.failure();
  return envelope_of(setup, left->part, 0);
}

Result<Envelope> envelope_of(const Setup& setup, const shape::Part& part, double allowance) {
  if (setup.foot.ball()) return Envelope::of(part, setup.foot.corner + allowance);
  return Envelope::of(part, setup.cutter, {.allowance = allowance});
}

}  // namespace pommel::mill
