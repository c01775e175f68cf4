#include "mill/time.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <vector>

#include "mill/feed.h"

namespace pommel::mill {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

/// One move as the planner of a controller sees it. Lengths in mm, times in seconds.
struct Leg {
  double ux = 0, uz = 0, ua = 0, uy = 0;  // direction; ua in mm of arc
  double length = 0, speed = 0, acceleration = 0;
};

Leg leg_of(const motion::Position& from, const motion::Move& move, const shop::Machine& machine) {
  // the arc is taken at the tip's height; near the axis a millimetre keeps the turn from vanishing
  const double r = std::max(1.0, (from.z + move.to.z) / 2);
  Leg leg;
  leg.length = true_length(from, move.to, r);
  if (leg.length <= 0) return leg;
  leg.ux = (move.to.x - from.x) / leg.length;
  leg.uy = (move.to.y - from.y) / leg.length;
  leg.uz = (move.to.z - from.z) / leg.length;
  leg.ua = r * (move.to.a - from.a) / leg.length;
  const double seconds = 60 * (move.rapid ? rapid_minutes(from, move.to, machine) : move.minutes);
  leg.speed = seconds > 0 ? leg.length / seconds : kInfinity;
  leg.acceleration = kInfinity;
  auto limit = [&](double share, double axis) {
    if (axis > 0 && share != 0) leg.acceleration = std::min(leg.acceleration, axis / std::fabs(share));
  };
  limit(leg.ux, machine.accel_x);
  limit(leg.uy, machine.accel_y);
  limit(leg.uz, machine.accel_z);
  limit(leg.ua, machine.accel_rotary * 2 * std::numbers::pi * r);
  return leg;
}

double through(const Leg& p, const Leg& q, double corner) {
  const double cosine =
      p.ux * q.ux + p.uy * q.uy + p.uz * q.uz + p.ua * q.ua;  // of the turn; the angle between is pi minus it
  const double between = std::numbers::pi - std::acos(std::clamp(cosine, -1.0, 1.0));
  return std::min({p.speed, q.speed, corner_speed(std::min(p.acceleration, q.acceleration), corner, between)});
}

// The fastest speed at the far end of a leg entered at v.
double reachable(double v, const Leg& leg) {
  return std::isinf(leg.acceleration) ? kInfinity : std::sqrt(v * v + 2 * leg.acceleration * leg.length);
}

}  // namespace

double corner_speed(double a, double corner, double t) {
  const double s = std::sin(t / 2);
  if (s >= 1 - 1e-12) return kInfinity;
  if (std::isinf(a)) return s > 0 ? kInfinity : 0;
  return std::sqrt(a * corner * s / (1 - s));
}

double trapezoid_seconds(double length, double v, double a, double v0, double v1) {
  if (std::isinf(a)) return std::isinf(v) ? 0 : length / v;
  // the peak that the length allows: (p² - v0²)/2a + (p² - v1²)/2a = length
  const double peak = std::min(v, std::sqrt(a * length + (v0 * v0 + v1 * v1) / 2));
  const double ramps = (2 * peak * peak - v0 * v0 - v1 * v1) / (2 * a);
  return (2 * peak - v0 - v1) / a + std::max(0.0, length - ramps) / peak;
}

double minutes(const motion::Path& path, const shop::Machine& machine, const TimeSettings& settings) {
  std::vector<Leg> legs;
  motion::Position at = path.start;
  for (const motion::Move& move : path.moves) {
    const Leg leg = leg_of(at, move, machine);
    if (leg.length > 0) legs.push_back(leg);
    at = move.to;
  }
  if (legs.empty()) return 0;
  std::vector<double> speed(legs.size() + 1, 0.0);  // at the corners
  for (std::size_t i = 1; i < legs.size(); ++i) speed[i] = through(legs[i - 1], legs[i], settings.corner);
  for (std::size_t i = legs.size(); i-- > 0;) speed[i] = std::min(speed[i], reachable(speed[i + 1], legs[i]));
  for (std::size_t i = 0; i < legs.size(); ++i) speed[i + 1] = std::min(speed[i + 1], reachable(speed[i], legs[i]));
  double seconds = 0;
  const double least = machine.blocks_per_second > 0 ? 1 / machine.blocks_per_second : 0;
  for (std::size_t i = 0; i < legs.size(); ++i) {
    seconds += std::max(
        least, trapezoid_seconds(legs[i].length, legs[i].speed, legs[i].acceleration, speed[i], speed[i + 1]));
  }
  return seconds / 60;
}

Blocks blocks(const motion::Path& path, const shop::Machine& machine) {
  Blocks out;
  out.count = path.moves.size();
  std::vector<double> at{0};  // seconds since the start
  motion::Position from = path.start;
  double least = from.a, most = from.a;
  for (const motion::Move& move : path.moves) {
    at.push_back(at.back() + 60 * (move.rapid ? rapid_minutes(from, move.to, machine) : move.minutes));
    from = move.to;
    least = std::min(least, from.a), most = std::max(most, from.a);
  }
  out.least_a = least, out.most_a = most;
  out.turns = (most - least) / (2 * std::numbers::pi);
  for (std::size_t i = 0; i + Blocks::kWindow < at.size(); ++i) {
    const double spent = at[i + Blocks::kWindow] - at[i];
    if (spent > 0) out.most_a_second = std::max(out.most_a_second, static_cast<double>(Blocks::kWindow) / spent);
  }
  return out;
}

Blocks blocks(const std::vector<motion::Path>& paths, const shop::Machine& machine) {
  Blocks out;
  for (std::size_t i = 0; i < paths.size(); ++i) {
    const Blocks one = blocks(paths[i], machine);
    out.count += one.count;
    out.most_a_second = std::max(out.most_a_second, one.most_a_second);
    out.least_a = i > 0 ? std::min(out.least_a, one.least_a) : one.least_a;
    out.most_a = i > 0 ? std::max(out.most_a, one.most_a) : one.most_a;
  }
  out.turns = (out.most_a - out.least_a) / (2 * std::numbers::pi);
  return out;
}

}  // namespace pommel::mill
