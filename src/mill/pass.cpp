#include "mill/pass.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.h"
#include "mill/lengthwise.h"
#include "mill/mover.h"
#include "mill/round.h"
#include "shape/crease.h"

namespace pommel::mill {
namespace {

std::string stage_name(const PassSettings& settings, const Stretch& stretch) {
  return settings.name + (stretch.way == Way::round ? ", round and round" : stretch.lead != 0 ? ", along the twist" : ", lengthwise") + ", x " +
         format_number(stretch.x0, 1) + " to " + format_number(stretch.x1, 1);
}

// Round stretches first; those beside walls that the shank must not come to last: by then the lines down the walls are cut.
std::vector<const Stretch*> in_order(const std::vector<Stretch>& stretches) {
  std::vector<const Stretch*> out;
  for (const Stretch& stretch : stretches) out.push_back(&stretch);
  const auto turn = [](const Stretch* s) { return s->way == Way::round ? 0 : s->for_shank ? 2 : 1; };
  std::stable_sort(out.begin(), out.end(), [&](const Stretch* a, const Stretch* b) { return turn(a) < turn(b); });
  return out;
}

}  // namespace

std::vector<double> rows_of(const Stretch& stretch, const Setup& setup, const Foot& rolling, double step) {
  std::vector<double> rows;
  const auto spaces = static_cast<int>(std::max(1.0, std::ceil((stretch.x1 - stretch.x0) / step)));
  for (int i = 0; i <= spaces; ++i) rows.push_back(stretch.x0 + (stretch.x1 - stretch.x0) * i / spaces);
  constexpr int kRoll = 20;
  for (double knot : shape::knots(setup.part)) {
    if (knot < stretch.x0 - rolling.radius() || knot > stretch.x1 + rolling.radius()) continue;
    for (int k = -kRoll; k <= kRoll; ++k)
      rows.push_back(knot + rolling.corner * std::sin(std::numbers::pi / 2 * k / kRoll) + std::copysign(rolling.flat, k));
  }
  std::sort(rows.begin(), rows.end());
  auto outside = [&](double x) { return x < stretch.x0 || x > stretch.x1; };
  std::erase_if(rows, outside);
  rows.erase(std::unique(rows.begin(), rows.end(), [](double a, double b) { return b - a < 1e-5; }), rows.end());
  return rows;
}

void take_off(Leftover& wood, const std::vector<Cut>& cuts, const Foot& foot) {
  for (const Cut& cut : cuts) {
    if (cut.turning.empty())
      wood.cut(cut.points, cut.a, foot);
    else
      wood.cut_turning(cut.turning, foot);
  }
}

Result<Pass> cut_pass(const Setup& setup, const Surface& surface, const PassSettings& settings, const Leftover& wood,
                      motion::Path& path, std::stop_token stop) {
  Result<std::vector<Stretch>> stretches = stretches_of(setup, surface, settings, wood, stop);
  if (!stretches.ok()) return stretches.failure();
  Pass done;
  done.stretches = *stretches;
  Mover mover(setup, wood, settings.plunge_share, settings.along, settings.spare_shank, path);
  Heights grid;
  for (const Stretch* stretch : in_order(done.stretches)) {
    mover.begin(stage_name(settings, *stretch));
    const auto cut = stretch->way == Way::round
                         ? cut_round(setup, surface, settings, *stretch, grid, mover, done.cuts, stop)
                         : cut_lengthwise(setup, surface, settings, *stretch, grid, mover, done.cuts, stop);
    if (!cut.ok()) return cut.failure();
    mover.rise();
    mover.end();
  }
  if (auto clear = mover.shank_is_clear(); !clear.ok()) return clear.failure();
  return done;
}

}  // namespace pommel::mill
