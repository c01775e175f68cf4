#include "mill/finish.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/number.h"
#include "mill/feed.h"
#include "mill/left.h"

namespace pommel::mill {
namespace {

constexpr double kShaving = 0.002;  // mm: less wood than this is none
constexpr double kRowStep = 0.1;    // mm between the samples of a line
// Of the wished ridge, for turns: on steep skin beside walls the check, which counts wood as standing until its ray is
// cleared from outside, found three times the second order's ridge (0.128 mm for 0.04) between turns spaced for all of it.
constexpr double kTurnShare = 0.6;

bool sensible(const FinishSettings& s, double ball) {
  return s.cusp >= 0.001 && s.cusp < ball / 2 && s.stepover >= 0 && s.stepover < 2 * ball && s.along >= 1e-4 && s.along < 1 && s.prominence > 0 &&
         s.plunge_share > 0 && s.plunge_share <= 1;
}

// The deepest that a ball on the surface stands below the blank as ordered, along the cutter, mm.
double deepest(const std::vector<Cut>& cuts, const Surface& surface) {
  double most = 0;
  for (const Cut& cut : cuts) {
    const double blank = surface.below(cut.a);
    for (const LinePoint& p : cut.points) most = std::max(most, blank - p.z);
    for (const motion::Position& p : cut.turning) most = std::max(most, surface.below(p.a) - p.z);
  }
  return most;
}

}  // namespace

Result<Finish> plan(const shape::Part& turned, const shape::Blank& blank, const shape::BlankTolerance& tolerance,
                    const shop::Cutter& cutter, const shop::Machine& machine, const FinishSettings& settings,
                    std::stop_token stop, const Leftover* roughed, const Earlier* earlier) {
  if (auto ball = check_ball(cutter); !ball.ok()) return ball.failure();
  if (auto can = must_plunge(cutter); !can.ok()) return can.failure();
  Result<Setup> made = set_up(turned, blank, tolerance, cutter, machine, settings.widest);
  if (!made.ok()) return made.failure();
  const Setup& setup = *made;
  const double rho = setup.foot.corner;
  if (!sensible(settings, rho)) {
    return fail("mill.settings", "the finishing pass was given a cusp or tolerance that makes no sense",
                "ask for a cusp between 0.001 mm and half the ball's radius");
  }
  const double above = settings.along / 2;
  auto envelope = Envelope::of(setup.part, rho + above);
  if (!envelope.ok()) return envelope.failure();
  auto wood = Envelope::of(blank_body(blank, 0, -4 * rho, 4 * rho), rho);
  if (!wood.ok()) return wood.failure();
  std::optional<Envelope> left;
  if (earlier) {
    auto standing = envelope_left(setup, *earlier, {.allowance = earlier->allowance});
    if (!standing.ok()) return standing.failure();
    left = *standing;
    roughed = earlier->wood;
  }

  Finish finish;
  finish.clear_height = setup.clear_height;
  finish.path = {cutter.id, revolutions(cutter, machine), {0, 0, setup.clear_height, 0}, {}, {}};
  const Leftover whole(blank, tolerance, Leftover::cell_for(rho));
  const Leftover& before = roughed ? *roughed : whole;
  const Surface surface{&*envelope, above, -std::numeric_limits<double>::infinity(),
                        [&](double a) { return wood->tip_height(0, a) - kShaving; }, left ? &*left : nullptr, kShaving};
  const PassSettings how{.name = settings.name,
                         .way = settings.way,
                         .cusp = settings.cusp,
                         .round_cusp = kTurnShare * settings.cusp,
                         .stepover = settings.stepover,
                         .along = above,
                         .row_step = kRowStep,
                         .prominence = settings.prominence,
                         .plunge_share = settings.plunge_share,
                         .both_ways = true,
                         .climb = settings.climb,
                         .spare_shank = true,
                         .memo = settings.memo};
  auto pass = cut_pass(setup, surface, how, before, finish.path, stop);
  if (!pass.ok()) return pass.failure();
  if (const double depth = deepest(pass->cuts, surface); !roughed && depth > cutter.max_depth_of_cut) {
    return fail("mill.rough-first",
                "the finishing pass would enter " + format_number(depth, 1) + " mm deep where the cutter may enter " +
                    format_number(cutter.max_depth_of_cut, 1) + " mm",
                "rough the blank in layers first");
  }
  if (auto inside = within_machine(finish.path, setup); !inside.ok()) return inside.failure();
  finish.stretches = pass->stretches;
  finish.least_tip = setup.clear_height;
  if (settings.keep_wood) {
    finish.wood = before;
    take_off(*finish.wood, pass->cuts, setup.foot);
  }
  for (const motion::Move& move : finish.path.moves) finish.least_tip = std::min(finish.least_tip, move.to.z);
  return finish;
}

}  // namespace pommel::mill
