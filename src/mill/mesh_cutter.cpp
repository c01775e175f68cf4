#include "mill/mesh_cutter.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace pommel::mill {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kFits = 1e-9;  // mm: measures that agree to this agree

bool within(double value, double least, double most) {
  return std::isfinite(value) && value >= least && value <= most;
}

}  // namespace

Result<MeshCutter> MeshCutter::of(const shop::Cutter& cutter) {
  using Form = shop::Cutter::Form;
  const auto refuse = [&](const std::string& what) {
    return fail("mill.cutter", "cutter '" + cutter.id + "': " + what, "mend the cutter's measures in the shop's list");
  };
  if (!within(cutter.diameter, 1e-3, 1000)) return refuse("the diameter must lie between 0.001 and 1000 mm");
  MeshCutter made;
  made.radius_ = cutter.diameter / 2;
  const bool tapers = cutter.form == Form::tapered_ball || cutter.form == Form::vee;
  switch (cutter.form) {
    case Form::ball: made.corner_ = made.radius_; break;
    case Form::flat: made.disc_ = made.radius_; break;
    case Form::bull_nose:
      if (!within(cutter.tip_radius, 1e-6, made.radius_)) return refuse("the corner must be smaller than the radius");
      made.corner_ = cutter.tip_radius;
      made.disc_ = made.radius_ - made.corner_;
      break;
    case Form::tapered_ball:
      if (!within(cutter.tip_radius, 1e-6, made.radius_)) return refuse("the tip's radius must be smaller than the cutter's");
      made.corner_ = cutter.tip_radius;
      break;
    case Form::vee:
      if (!within(cutter.tip_radius, 0, made.radius_) || !within(cutter.tip_flat, 0, cutter.diameter))
        return refuse("the point must be smaller than the cutter");
      made.corner_ = cutter.tip_radius;
      made.disc_ = cutter.tip_flat / 2;
      break;
  }
  if (tapers && !within(cutter.half_angle, 1e-4, std::numbers::pi / 2 - 1e-4))
    return refuse("the flank must lean between 0 and 90 degrees from the axis");
  const double lean = tapers ? cutter.half_angle : 0;
  made.steep_ = tapers ? 1 / std::tan(lean) : kInfinity;
  made.turned_ = made.disc_ + made.corner_ * std::cos(lean);
  made.turned_high_ = made.corner_ * (1 - std::sin(lean));
  if (made.turned_ > made.radius_ + kFits) return refuse("the point does not fit within the diameter");
  made.turned_ = std::min(made.turned_, made.radius_);
  made.ball_ = !tapers && made.disc_ <= kFits;
  made.reference_ = cutter.form == Form::ball || cutter.form == Form::tapered_ball ? made.corner_ : 0;
  return made;
}

double MeshCutter::skin(double s) const {
  if (s <= disc_) return 0;
  if (s >= turned_) return turned_high_ + (s > turned_ ? (s - turned_) * steep_ : 0);
  const double out = s - disc_;
  return corner_ - std::sqrt(std::max(0.0, (corner_ - out) * (corner_ + out)));
}

MeshCutter::Support MeshCutter::support(double nlat, double nh) const {
  // steeper than the flank: the widest place touches
  if (nlat > steep_ * nh) return {radius_, nlat * radius_ - nh * (skin(radius_) - reference_)};
  const double s = nlat > 0 ? disc_ + corner_ * nlat : 0;
  return {s, nlat * disc_ + corner_ * (1 - nh) + nh * reference_};
}

// Bracketed for the corner of a torus: rise = out / sqrt(corner² - out²) * tau / s grows with tau.
double MeshCutter::run_in_corner(double beside, double rise, double most) const {
  const auto miss = [&](double tau) {
    const double s = std::hypot(beside, tau), out = std::max(0.0, s - disc_);
    const double up = (corner_ - out) * (corner_ + out);
    // without the division, which is unbounded where the corner stands upright
    return s > 0 ? out * tau - rise * s * std::sqrt(std::max(0.0, up)) : -rise;
  };
  double from = beside < disc_ ? std::sqrt((disc_ - beside) * (disc_ + beside)) : 0, to = most;
  double low = miss(from), high = miss(to);
  if (low >= 0) return from;
  if (high <= 0) return to;
  // regula falsi, the staying end halved (Illinois)
  for (int step = 0; step < 100 && to - from > 1e-12; ++step) {
    const double tau = step % 8 == 7 ? (from + to) / 2 : std::clamp((from * high - to * low) / (high - low), from, to);
    const double here = miss(tau);
    if (here == 0) return tau;
    if (here < 0) {
      from = tau, low = here, high /= 2;
    } else {
      to = tau, high = here, low /= 2;
    }
  }
  return (from + to) / 2;
}

// How far up the edge's run, from its nearest point to the axis, the cutter touches an endless edge.
double MeshCutter::run_to_touch(double beside, double rise) const {
  const double widest = std::sqrt(std::max(0.0, (radius_ - beside) * (radius_ + beside)));
  if (!(rise > 0)) return 0;
  const double turned = beside < turned_ ? std::sqrt((turned_ - beside) * (turned_ + beside)) : 0;
  const bool on_flank = turned_ < radius_ && (beside >= turned_ || rise > steep_ * turned / turned_);
  if (on_flank) {
    const double w = rise / steep_;
    if (w >= 1) return widest;
    return std::clamp(beside * w / std::sqrt((1 - w) * (1 + w)), turned, widest);
  }
  if (corner_ <= 0) return turned;
  if (disc_ > 0) return run_in_corner(beside, rise, turned);
  const double ball2 = std::max(0.0, (corner_ - beside) * (corner_ + beside));
  return std::min(turned, rise * std::sqrt(ball2 / (1 + rise * rise)));
}

double MeshCutter::over_edge(double dx, double l, double h, double ux, double ul, double uh, double length) const {
  const double m2 = ux * ux + ul * ul;
  if (m2 < 1e-20) return uh > 0 ? over_point(dx, l, h + uh * length) : over_point(dx, l, h);
  const double m = std::sqrt(m2), beside = std::fabs(dx * ul - l * ux) / m;
  if (beside > radius_) return -kInfinity;
  const double run = run_to_touch(beside, std::fabs(uh) / m) / m;
  const double nearest = -(dx * ux + l * ul) / m2;
  const double at = std::clamp(uh < 0 ? nearest - run : nearest + run, 0.0, length);
  return over_point(dx + at * ux, l + at * ul, h + at * uh);
}

double MeshCutter::over_point(double dx, double l, double h) const {
  const double s2 = dx * dx + l * l;
  // the widest place is met by rounding from either side
  if (s2 > radius_ * radius_ + 1e-9) return -kInfinity;
  if (ball_) return h - radius_ + reference_ + std::sqrt(std::max(0.0, radius_ * radius_ - s2));
  return h + reference_ - skin(std::min(radius_, std::sqrt(s2)));
}

}  // namespace pommel::mill
