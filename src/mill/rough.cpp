#include "mill/rough.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "base/number.h"
#include "mill/feed.h"
#include "mill/left.h"

namespace pommel::mill {
namespace {

constexpr double kShaving = 0.002;  // mm: less wood than this is none
constexpr double kRowStep = 0.5;    // mm between the samples of a rough line
constexpr double kBetweenBeginnings = 0.2;  // mm of ribs that a beginning between two of those looked at may ask for
constexpr double kLeastRest = 0.5;  // mm beyond its allowance that an earlier cutter may have left for the next pass to take along

// Where a layer's lines end in the waste they leave ribs between them. Its lines stand 2 w apart at its floor, so 2 w
// top/floor at the floor of the layer above; the ball clears that width up to sqrt(rho² - w²) past the line's end, and
// the rest of its reach is ribs. Each layer stops so much short of the one above, and the finishing pass short of them
// all, that none runs into ribs.
double rib(double ball, double cusp, double top, double floor) {
  const double half = std::sqrt(ball * ball - (ball - cusp) * (ball - cusp));
  const double widest = std::min(ball, half * top / floor);
  return ball - std::sqrt(ball * ball - widest * widest) + 0.1;
}

/// The layers of a job, outermost first: the floor of each, and how far its lines run past those of the finishing pass.
struct Layer {
  double floor = 0, longer = 0;
};

std::vector<Layer> layers_of(double highest, double lowest, double depth, double ball, double cusp) {
  std::vector<Layer> layers{{highest - depth, 0}};
  while (layers.back().floor > lowest) layers.push_back({layers.back().floor - depth, 0});
  double longer = 0;
  for (std::size_t k = layers.size(); k-- > 0;) {
    const double top = k > 0 ? layers[k - 1].floor : highest;
    longer += rib(ball, cusp, top, std::max({layers[k].floor, lowest, ball}));
    layers[k].longer = longer;
  }
  return layers;
}

/// The heights that decide where a layer has wood, each an envelope of a prism (so of the direction alone).
struct Wood {
  Envelope nominal;    // the blank as ordered, under the cutter's end grown by the allowance
  Envelope tolerated;  // the largest blank; moving it by `shift` any way is the same as growing the cutter by it
};

Result<Wood> wood_of(const Setup& setup, double allowance) {
  const double far = 4 * (setup.radius() + allowance + setup.shift);
  const shop::Cutter end = flutes_only(setup.cutter);
  auto nominal = Envelope::of(blank_body(setup.blank, 0, -far, far), end, {.allowance = allowance});
  if (!nominal.ok()) return nominal.failure();
  auto tolerated = Envelope::of(blank_body(setup.blank, setup.tolerance.oversize, -far, far), end, {.allowance = setup.shift});
  if (!tolerated.ok()) return tolerated.failure();
  return Wood{*nominal, *tolerated};
}

// Tip height below which the layer at `floor` has wood at direction a; `before` is the height of the layer above.
double wood_below(const Wood& wood, double floor, double before, double a) {
  const double standing = wood.tolerated.tip_height(0, a) - kShaving;
  if (floor >= standing) return -std::numeric_limits<double>::infinity();
  return std::min({wood.nominal.tip_height(0, a) - kShaving, before - kShaving, standing});
}

// The lowest tip of the whole job where there is wood at all; +infinity when there is none.
Result<double> lowest_tip(const Setup& setup, const Surface& surface, const Wood& wood, std::stop_token stop) {
  constexpr int kColumns = 144;
  std::vector<double> rows;
  for (double x = -setup.run_up; x <= setup.length + setup.run_up; x += kRowStep) rows.push_back(x);
  Heights grid, left;
  if (auto filled = surface.envelope->fill(rows, kColumns, grid, stop); !filled.ok()) return filled.failure();
  if (surface.left) {
    if (auto filled = surface.left->fill(rows, kColumns, left, stop); !filled.ok()) return filled.failure();
  }
  double lowest = std::numeric_limits<double>::infinity();
  for (int j = 0; j < kColumns; ++j) {
    const double below = wood.nominal.tip_height(0, grid.angle(j)) - kShaving;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const double filled = grid.at(i, j);
      if (surface.wood(filled, surface.left ? left.at(i, j) : 0, below)) lowest = std::min(lowest, surface.lowest(filled));
    }
  }
  return lowest;
}

double ridge_of(double cusp, const shop::Cutter& cutter) {
  return std::min({cusp, cutter.max_depth_of_cut / 3, cutter.diameter / 8});
}

// What a layer leaves between its lines or turns, so that much less deep are the layers.
double step_down(const RoughSettings& settings, const shop::Cutter& cutter) {
  return cutter.max_depth_of_cut -
         std::max(ridge_of(settings.cusp, cutter), ridge_of(settings.round_cusp, cutter));
}

}  // namespace

double waste_beyond_end(double blank_reach, double least_radius, double holder_top, const RoughSettings& settings,
                        const std::vector<shop::Cutter>& cutters, const shop::Machine& machine) {
  const double lowest = kLeastCore * least_radius;  // no tip goes lower (setup.h, continued), but for what the map of the wood sees
  double widest = 0, body = 0;
  for (const shop::Cutter& c : cutters) {
    widest = std::max(widest, c.diameter / 2);
    body = std::max({body, c.diameter / 2, lowest + c.flute_length < holder_top ? c.shank_diameter / 2 : 0,
                     lowest + c.shank_length < holder_top ? c.collet_diameter / 2 : 0});
  }
  const shop::Cutter& first = cutters.front();
  const double cusp = ridge_of(settings.cusp, first), depth = step_down(settings, first);
  // where the layers begin is known to a millimetre or so only, and the ribs depend on it: the worst beginning within a depth
  constexpr int kBeginnings = 64;
  double ribs = 0;
  for (int k = 0; depth > 0 && k < kBeginnings; ++k)
    ribs = std::max(ribs, layers_of(blank_reach + 1 - depth * k / kBeginnings, lowest, depth, first.diameter / 2, cusp).front().longer);
  return run_past_end(widest) + ribs + kBetweenBeginnings + body + machine.keep_out;
}

Result<Rough> plan_roughing(const shape::Part& turned, const shape::Blank& blank,
                            const shape::BlankTolerance& tolerance, const shop::Cutter& cutter,
                            const shop::Machine& machine, const RoughSettings& settings, std::stop_token stop,
                            const Earlier* earlier) {
  if (auto can = must_plunge(cutter); !can.ok()) return can.failure();
  Result<Setup> made = set_up(turned, blank, tolerance, cutter, machine, settings.widest);
  if (!made.ok()) return made.failure();
  const Setup& setup = *made;
  if (!(settings.cusp >= 0.01 && settings.round_cusp >= 0.01 && settings.along >= 1e-4 && settings.along < settings.allowance &&
        settings.prominence > 0 && settings.plunge_share > 0 && settings.plunge_share <= 1)) {
    return fail("mill.settings", "roughing was given a cusp or tolerance that makes no sense",
                "ask for a cusp of some tenths of a millimetre");
  }
  const double cusp = ridge_of(settings.cusp, cutter), depth = step_down(settings, cutter);
  if (!(settings.allowance > 0 && cusp > 0) || settings.allowance > depth) {
    return fail("mill.allowance",
                "an allowance of " + format_number(settings.allowance, 2) +
                    " mm leaves the finishing pass more than the cutter's depth of cut",
                "leave less, or allow the cutter more depth");
  }
  auto envelope = envelope_of(setup, setup.part, settings.allowance);
  if (!envelope.ok()) return envelope.failure();
  auto wood = wood_of(setup, settings.allowance);
  if (!wood.ok()) return wood.failure();
  std::optional<Envelope> left;
  if (earlier) {
    auto standing = envelope_left(setup, *earlier, {.allowance = earlier->allowance, .least = kLeastRest});
    if (!standing.ok()) return standing.failure();
    left = *standing;
  }
  Surface surface{&*envelope, setup.foot.ball() ? settings.allowance : 0, -std::numeric_limits<double>::infinity(), {},
                  left ? &*left : nullptr, kLeastRest};
  const Result<double> lowest = lowest_tip(setup, surface, *wood, stop);
  if (!lowest.ok()) return lowest.failure();

  Rough rough{{cutter.id, revolutions(cutter, machine), {0, 0, setup.clear_height, 0}, {}, {}},
              earlier ? *earlier->wood : Leftover(blank, tolerance, Leftover::cell_for(setup.radius())),
              0,
              setup.clear_height};
  double before = setup.clear_height;
  const std::vector<Layer> layers = std::isfinite(*lowest)
                                        ? layers_of(Skyline(rough.wood).highest(), *lowest, depth, setup.radius(), cusp)
                                        : std::vector<Layer>{};
  for (const auto& [floor, longer] : layers) {
    Setup reaching = setup;
    if (!earlier) reaching.run_up += longer;
    surface.floor = floor;
    surface.below = [&, floor = floor](double a) { return wood_below(*wood, floor, before, a); };
    const PassSettings how{.name = settings.name + ", layer " + std::to_string(rough.layers + 1),
                           .allowance = settings.allowance,
                           .way = settings.way,
                           .cusp = cusp,
                           .round_cusp = ridge_of(settings.round_cusp, cutter),
                           .along = settings.along,
                           .row_step = kRowStep,
                           .prominence = settings.prominence,
                           .plunge_share = settings.plunge_share,
                           .both_ways = false,
                           .climb = settings.climb,
                           .memo = settings.memo};
    auto pass = cut_pass(reaching, surface, how, rough.wood, rough.path, stop);
    if (!pass.ok()) return pass.failure();
    take_off(rough.wood, pass->cuts, setup.foot);
    if (!pass->cuts.empty()) ++rough.layers;
    before = floor;
  }
  if (auto inside = within_machine(rough.path, setup); !inside.ok()) return inside.failure();
  return rough;
}

void wind_on(motion::Path& path, double from, const shop::Machine& machine) {
  if (machine.rotary_limit_turns > 0) return;
  constexpr double kTurn = 2 * std::numbers::pi;
  const double turns = kTurn * std::round((from - path.start.a) / kTurn);
  path.start.a += turns;
  for (motion::Move& move : path.moves) move.to.a += turns;
}

motion::Path joined(const motion::Path& first, const motion::Path& then) {
  assert(first.cutter == then.cutter);
  if (first.moves.empty()) return then;
  motion::Path path = first;
  if (then.moves.empty()) return path;
  const std::size_t bridge = path.moves.size();
  path.moves.push_back({then.start, true, 0, 0});
  path.moves.insert(path.moves.end(), then.moves.begin(), then.moves.end());
  for (motion::Stage stage : then.stages) {
    stage.first += bridge + 1;
    path.stages.push_back(std::move(stage));
  }
  return path;
}

}  // namespace pommel::mill
