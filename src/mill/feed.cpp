#include "mill/feed.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace pommel::mill {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;

// sqrt(a² - b²) without cancellation between the squares.
double leg_of(double a, double b) {
  return std::sqrt(std::max(0.0, (a - b) * (a + b)));
}

// How much longer a move can be in the text than as planned, mm: both words of each end are rounded by half a tick. A move of a few ticks would
// else be asked to go faster than the machine does.
double longest_rounding(const shop::Machine& machine) {
  const double unit = machine.inches ? 25.4 : 1;
  return std::numbers::sqrt2 * unit * std::pow(10.0, -machine.x_decimals);
}

}  // namespace

double cusp_on_flat(double rho, double step) {
  return rho - leg_of(rho, step / 2);
}

double cusp_on_convex(double rho, double step, double r) {
  const double half = step / r / 2, centre = r + rho;
  return centre * std::cos(half) - leg_of(rho, centre * std::sin(half)) - r;
}

double cusp_in_concave(double rho, double step, double r) {
  const double half = step / r / 2, centre = r - rho;
  return r - centre * std::cos(half) - leg_of(rho, centre * std::sin(half));
}

double step_on_convex(double rho, double cusp, double r) {
  const double centre = r + rho, ridge = r + cusp;
  const double cosine = (centre * centre + ridge * ridge - rho * rho) / (2 * centre * ridge);
  return 2 * r * std::acos(std::clamp(cosine, -1.0, 1.0));
}

double step_on_flat(double rho, double cusp) {
  return 2 * std::sqrt(cusp * (2 * rho - cusp));
}

double lines_on_round(double rho, double cusp, double r, double lean) {
  const double centre = r + rho;
  const double apart = std::sqrt(8 * cusp / (1 / rho - std::cos(lean) / centre));
  return std::max(kTurn * centre / apart, kTurn * r / step_on_convex(rho, cusp, r));
}

double lines_on_round(const Foot& foot, double cusp, double r, double lean) {
  const double as_a_ball = lines_on_round(foot.radius(), cusp, r, lean);
  if (foot.ball()) return as_a_ball;
  const auto ridge = [&](double s) {
    return std::hypot(r, s) - r + (foot.flat - leg_of(foot.flat, s)) * std::tan(lean) + foot.corner * (1 - std::cos(lean));
  };
  double low = 0, high = foot.flat;
  for (int i = 0; i < 40; ++i) (ridge((low + high) / 2) <= cusp ? low : high) = (low + high) / 2;
  return low > 0 ? std::min(as_a_ball, std::numbers::pi / std::atan(low / r)) : as_a_ball;
}

double lines_on_flat(double rho, double cusp, double flat) {
  return kTurn * flat / step_on_flat(rho, cusp);
}

int whole_lines(double lines) {
  return std::max(1, static_cast<int>(std::ceil(std::min(lines, 1e6) / 8))) * 8;
}

double revolutions(const shop::Cutter& cutter, const shop::Machine& machine) {
  return machine.max_rpm > 0 ? std::min(cutter.rpm, machine.max_rpm) : cutter.rpm;
}

double cutting_speed(const shop::Cutter& cutter, const shop::Machine& machine) {
  const double speed = revolutions(cutter, machine) * cutter.flutes * cutter.chip_load;
  return machine.feed_max > 0 ? std::min(speed, machine.feed_max) : speed;
}

double true_length(const motion::Position& from, const motion::Position& to, double r) {
  return std::hypot(std::hypot(to.x - from.x, to.y - from.y), to.z - from.z, r * (to.a - from.a));
}

double rapid_minutes(const motion::Position& from, const motion::Position& to, const shop::Machine& machine) {
  double minutes = 0;
  auto need = [&](double distance, double speed) {
    if (speed > 0) minutes = std::max(minutes, std::fabs(distance) / speed);
  };
  need(to.x - from.x, machine.rapid_x);
  need(to.y - from.y, machine.rapid_y);
  need(to.z - from.z, machine.rapid_z);
  need((to.a - from.a) / kTurn, machine.rapid_rotary);
  return minutes;
}

double feed_minutes(const motion::Position& from, const motion::Position& to, double r, double speed,
                    const shop::Machine& machine) {
  const double straight = std::hypot(to.x - from.x, to.y - from.y, to.z - from.z);
  const double most = machine.feed_max > 0 ? (straight + longest_rounding(machine)) / machine.feed_max : 0;
  return std::max({true_length(from, to, r) / speed, rapid_minutes(from, to, machine), most});
}

}  // namespace pommel::mill
