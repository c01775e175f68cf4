#include "mill/witness.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

#include "mill/feed.h"
#include "mill/mover.h"

namespace pommel::mill {
namespace {

constexpr double kDepth = 1.5;        // mm below the skin of the least blank
constexpr double kLongest = 20;       // mm along the piece
constexpr double kWished = 15;        // mm that a blank is made longer for
constexpr double kShortest = 12;      // mm: the foot of a dial gauge or a small square still stands on it
constexpr double kRidge = 0.02;       // mm
constexpr double kRoughRidge = 0.3;   // mm, of layers above it
constexpr double kLeastHeight = 0.6;  // of the blank's radius: a flat nearer to the axis would be the weakest place
constexpr double kPlungeShare = 0.4;  // of the cutting speed
constexpr double kAlong = 0.005;      // mm: moves along the piece are straight
constexpr double kNothing = 1e-6;     // mm

double beside(const Foot& foot, double height, double a) { return (height + foot.corner) * std::tan(a) + foot.flat / std::cos(a); }

// How far outwards the next line may lie, when it is cut at a.
double greatest_step(const Foot& foot, double a, double cusp) {
  const double rims = foot.corner > 0 ? step_on_flat(foot.corner, std::min(cusp, foot.corner / 2)) : 0;
  const double disc = a > 0 ? std::min(cusp / std::tan(a), 2 * foot.flat * std::cos(a)) : 2 * foot.flat;
  return std::max(rims, disc);
}

// Where the passes come nearest to the chuck with the cutter's side, mm along the piece.
double nearest_cut(const std::vector<motion::Path>& passes, const std::vector<shop::Cutter>& cutters, bool at_head) {
  double nearest = at_head ? std::numeric_limits<double>::infinity() : -std::numeric_limits<double>::infinity();
  for (const motion::Path& path : passes) {
    const auto cutter = std::find_if(cutters.begin(), cutters.end(), [&](const shop::Cutter& c) { return c.id == path.cutter; });
    assert(cutter != cutters.end());
    motion::Position from = path.start;
    for (const motion::Move& move : path.moves) {
      const double radius = cutter->diameter / 2;
      if (!move.rapid) nearest = at_head ? std::min({nearest, from.x - radius, move.to.x - radius}) : std::max({nearest, from.x + radius, move.to.x + radius});
      from = move.to;
    }
  }
  return nearest;
}

/// Where the cutter goes: places along the piece that its axis runs between, and the plane.
struct Place {
  double from = 0, to = 0;       // growing x
  double least = 0, most = 0;    // mm: how near to and how far from the axis the blank's skin may lie there
  double height = 0;
};

/// Finds room for the flat between chuck and passes.
class Room {
 public:
  Room(const Setup& setup, double cut) : setup_(setup), at_head_(setup.machine.head_at_chuck), sense_(at_head_ ? 1 : -1) {
    const shape::Blank& blank = setup.blank;
    face_ = at_head_ ? blank.x0 + setup.machine.chuck_grip : blank.x1 - setup.machine.chuck_grip;
    last_ = sense_ * (cut - face_) - setup.radius();
  }

  std::optional<Place> place() const {
    Place out = plane();
    if (out.height < kLeastHeight * setup_.blank.size / 2) return std::nullopt;
    const double first = nearest(out.height);
    if (last_ - first < kShortest) return std::nullopt;
    const double end = std::min(last_, first + kLongest);
    out.from = face_ + sense_ * first, out.to = face_ + sense_ * end;
    if (out.from > out.to) std::swap(out.from, out.to);
    return out;
  }

 private:
  // A bow lifts the blank by nothing at its ends (a parabola between); the place farthest from the chuck counts.
  Place plane() const {
    const shape::Blank& blank = setup_.blank;
    const double u = std::clamp((setup_.machine.chuck_grip + last_ + setup_.radius()) / blank.length(), 0.0, 0.5);
    const double off = setup_.tolerance.off_centre + setup_.tolerance.bow * 4 * u * (1 - u);
    const double least = blank.size / 2 - off;
    return {0, 0, least, blank.size / 2 + setup_.tolerance.oversize + off, least - kDepth};
  }

  // How near to the jaws the cutter's axis may come, its tip at z: keep-out and travel.
  double nearest(double z) const {
    const shop::Cutter& c = setup_.cutter;
    const shop::Machine& m = setup_.machine;
    double body = setup_.radius();
    if (z + c.flute_length < m.jaw_swing) body = std::max(body, c.shank_diameter / 2);
    if (c.shank_length > 0 && z + c.shank_length < m.jaw_swing) body = std::max(body, c.collet_diameter / 2);
    return std::max(m.keep_out + body, at_head_ ? m.x_min - face_ : face_ - m.x_max);
  }

  const Setup& setup_;
  bool at_head_;
  double sense_, face_ = 0;
  double last_ = 0;  // from the jaws' face: where the cutter's axis may be last
};

// Of the plane's layers, outermost first, ending with itself.
std::vector<double> layers_of(const Place& place, const shop::Cutter& cutter) {
  const double deep = place.most - place.height;
  const auto count = static_cast<int>(std::ceil(deep / (cutter.max_depth_of_cut - std::min(kRoughRidge, cutter.max_depth_of_cut / 3))));
  std::vector<double> out;
  for (int k = count - 1; k >= 0; --k) out.push_back(place.height + deep * k / count);
  return out;
}

// Both sides of the plane, falling; on a machine whose turns are limited within the first turn.
std::vector<double> both_sides(std::vector<double> half, const shop::Machine& machine) {
  std::vector<double> out(half.rbegin(), half.rend());
  for (double a : half)
    if (a > 0) out.push_back(machine.rotary_limit_turns > 0 ? 2 * std::numbers::pi - a : -a);
  return out;
}

// Lines run towards growing x, so they are conventional where their directions fall.
Result<Done> cut_plane(const Setup& setup, const Place& place, bool climb, Mover& mover, Leftover& wood, std::stop_token stop) {
  for (double height : layers_of(place, setup.cutter)) {
    const double half = std::sqrt((place.most - height) * (place.most + height));
    const double ridge = height == place.height ? kRidge : std::min(kRoughRidge, setup.cutter.max_depth_of_cut / 3);
    std::vector<double> lines = both_sides(lines_over_plane(setup.foot, height, half, ridge), setup.machine);
    if (climb) std::reverse(lines.begin(), lines.end());
    std::vector<std::pair<double, std::vector<LinePoint>>> cuts;
    for (double a : lines) {
      if (stop.stop_requested()) return fail("cancelled", "stopped");
      const double tip = tip_over_plane(setup.foot, height, a);
      const std::vector<LinePoint> line{{place.from, tip}, {place.to, tip}};
      mover.enter(line.front(), mover.near(a));
      mover.line_to(line.back());
      mover.leave();
      cuts.emplace_back(a, line);
    }
    for (const auto& [a, line] : cuts) wood.cut(line, a, setup.foot);
  }
  return Done{};
}

}  // namespace

double tip_over_plane(const Foot& foot, double height, double a) {
  return (height + foot.corner + foot.flat * std::fabs(std::sin(a))) / std::cos(a) - foot.corner;
}

std::vector<double> lines_over_plane(const Foot& foot, double height, double half, double cusp) {
  assert(height > 0 && half > 0 && cusp > 0);
  // the direction whose place is farthest out while `allowed` says so, from a direction that is
  const auto farthest = [](double a, const auto& allowed) {
    double low = a, high = std::numbers::pi / 2;
    for (int k = 0; k < 60; ++k) {
      const double middle = (low + high) / 2;
      (allowed(middle) ? low : high) = middle;
    }
    return low;
  };
  std::vector<double> out{0};
  double at = foot.flat;
  while (at < half) {
    out.push_back(farthest(out.back(), [&](double a) {
      const double next = beside(foot, height, a);
      return next <= half && next - at <= greatest_step(foot, a, cusp);
    }));
    at = beside(foot, height, out.back());
    if (half - at < kNothing) break;
  }
  return out;
}

double witness_waste(const std::vector<shop::Cutter>& cutters) {
  double widest = 0;
  for (const shop::Cutter& cutter : cutters) widest = std::max(widest, cutter.diameter / 2);
  return kWished + cutters.front().diameter / 2 + widest;
}

Result<std::optional<Witness>> plan_witness(const shape::Part& turned, const shape::Blank& blank, const shape::BlankTolerance& tolerance,
                                            const std::vector<shop::Cutter>& cutters, const shop::Machine& machine,
                                            const std::vector<motion::Path>& passes, bool climb, std::stop_token stop) {
  assert(!passes.empty());
  if (blank.section != shape::Blank::Section::round) return std::optional<Witness>{};
  const auto cutter = std::find_if(cutters.begin(), cutters.end(), [&](const shop::Cutter& c) { return c.id == passes.front().cutter; });
  assert(cutter != cutters.end());
  auto setup = set_up(turned, blank, tolerance, *cutter, machine);
  if (!setup.ok()) return setup.failure();
  const auto place = Room(*setup, nearest_cut(passes, cutters, machine.head_at_chuck)).place();
  if (!place) return std::optional<Witness>{};

  Witness out;
  out.flat = {place->from, place->to, place->height, 2 * std::sqrt((place->least - place->height) * (place->least + place->height))};
  out.path = {cutter->id, revolutions(*cutter, machine), {0, 0, setup->clear_height, 0}, {}, {}};
  Leftover wood(blank, tolerance, Leftover::cell_for(setup->radius()));
  Mover mover(*setup, wood, kPlungeShare, kAlong, false, out.path);
  mover.begin("witness flat");
  if (auto cut = cut_plane(*setup, *place, climb, mover, wood, stop); !cut.ok()) return cut.failure();
  mover.rise();
  mover.end();
  if (auto clear = mover.shank_is_clear(); !clear.ok()) return clear.failure();
  if (auto inside = within_machine(out.path, *setup); !inside.ok()) return inside.failure();
  return std::optional<Witness>{std::move(out)};
}

}  // namespace pommel::mill
