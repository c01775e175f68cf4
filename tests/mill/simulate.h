// Cuts a blank in simulation with a path, by rays from the axis: slow, obvious, and finer than the mill's own state.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "mill/foot.h"
#include "motion/motion.h"
#include "shape/blank.h"

namespace pommel::mill::testing {

/// How a blank really sits: moved sideways, bowed in the same direction, larger on each flat.
struct Sits {
  double off_centre = 0, bow = 0, oversize = 0;
  double direction = 0;
};

class Simulation {
 public:
  static constexpr int kColumns = 360;

  Simulation(const shape::Blank& blank, const Sits& sits, double step) : x0_(blank.x0), step_(step) {
    rows_ = static_cast<int>(blank.length() / step) + 1;
    r_.resize(static_cast<std::size_t>(rows_) * kColumns);
    for (int i = 0; i < rows_; ++i) {
      const double t = i / double(rows_ - 1), shift = sits.off_centre + sits.bow * 4 * t * (1 - t);
      const double py = shift * std::cos(sits.direction), pz = shift * std::sin(sits.direction);
      for (int j = 0; j < kColumns; ++j) ray(i, j) = blank_radius(blank, sits.oversize, py, pz, angle(j));
    }
  }

  static double angle(int j) { return 2 * std::numbers::pi * j / kColumns; }
  int rows() const { return rows_; }
  double x(int i) const { return x0_ + step_ * i; }
  double at(int i, int j) const { return r_[static_cast<std::size_t>(i) * kColumns + static_cast<std::size_t>(j)]; }

  /// How deep the ball with its tip at p stands in wood, mm; 0: not at all.
  double depth(const motion::Position& p, double rho) const {
    double most = 0;
    each_near(p, rho, [&](int i, int j, double dx, double up, double beside) {
      const double r = at(i, j), c = p.z + rho;
      // the nearest wood of the ray to the centre
      const double along = std::clamp(c * up, 0.0, r);
      const double d = std::sqrt(dx * dx + std::pow(c * up - along, 2) + std::pow(c * beside, 2));
      most = std::max(most, rho - d);
    });
    return most;
  }

  /// Returns whether any wood went.
  bool cut(const motion::Position& p, double rho) {
    bool some = false;
    each_near(p, rho, [&](int i, int j, double dx, double up, double beside) {
      const double c = p.z + rho, q2 = rho * rho - dx * dx, v = q2 - c * c * beside * beside;
      // the flutes clear a ray out to q / sin; wood that reaches farther is undercut and counts as standing
      if (v <= 0 || at(i, j) * std::fabs(beside) > std::sqrt(q2)) return;
      const double left = std::max(0.0, c * up - std::sqrt(v));
      if (left >= at(i, j)) return;
      some = true;
      ray(i, j) = left;
    });
    return some;
  }

  /// How tall wood stands above the end of any cutter at p, along it, mm; 0: none.
  double height_over(const motion::Position& p, const Foot& foot) const {
    double most = 0;
    each_near(p, foot.radius(), [&](int i, int j, double dx, double up, double beside) {
      const double r = at(i, j), s = std::hypot(dx, r * beside);
      if (up > 0 && s <= foot.radius()) most = std::max(most, r * up - p.z - foot.rise(s));
    });
    return most;
  }

  /// Any cutter, as flat discs that lie inside it: a ray meets a disc where it comes up through its level.
  void cut(const motion::Position& p, const Foot& foot) {
    constexpr int kDiscs = 16;
    each_near(p, foot.radius(), [&](int i, int j, double dx, double up, double beside) {
      if (up <= 0 || at(i, j) * up <= p.z) return;
      const double b = std::fabs(beside), clear = std::sqrt(std::max(0.0, (foot.radius() - dx) * (foot.radius() + dx)));
      if (at(i, j) * b > clear) return;
      for (int d = 0; d <= (foot.corner > 0 ? kDiscs : 0); ++d) {
        const double q = foot.flat + foot.corner * std::sin(std::numbers::pi / 2 * d / kDiscs), r = (p.z + foot.rise(q)) / up;
        if (q > std::fabs(dx) && r * b <= std::sqrt((q - dx) * (q + dx))) ray(i, j) = std::min(at(i, j), std::max(0.0, r));
      }
    });
  }

  /// Calls visit at places at most `step` mm apart along the move, ending at its end.
  template <class Visit>
  static void along(const motion::Position& from, const motion::Position& to, double step, const Visit& visit) {
    const double length = std::hypot(to.x - from.x, to.z - from.z, 40 * (to.a - from.a));
    const int pieces = std::max(1, static_cast<int>(std::ceil(length / step)));
    for (int k = 1; k <= pieces; ++k) {
      const double t = k / double(pieces);
      visit(motion::Position{from.x + t * (to.x - from.x), 0, from.z + t * (to.z - from.z),
                             from.a + t * (to.a - from.a)});
    }
  }

 private:
  double& ray(int i, int j) { return r_[static_cast<std::size_t>(i) * kColumns + static_cast<std::size_t>(j)]; }

  // Distance along the ray at theta to the side of a square or circle about (py, pz).
  static double blank_radius(const shape::Blank& blank, double oversize, double py, double pz, double theta) {
    const double half = blank.size / 2 + oversize, c = std::cos(theta), s = std::sin(theta);
    if (blank.section == shape::Blank::Section::round) {
      const double b = c * py + s * pz;
      return b + std::sqrt(b * b - py * py - pz * pz + half * half);
    }
    double found = 1e9;
    if (std::fabs(c) > 1e-12) found = std::min(found, (py + std::copysign(half, c)) / c);
    if (std::fabs(s) > 1e-12) found = std::min(found, (pz + std::copysign(half, s)) / s);
    return found;
  }

  template <class Visit>
  void each_near(const motion::Position& p, double rho, const Visit& visit) const {
    const int first = std::max(0, static_cast<int>(std::ceil((p.x - rho - x0_) / step_)));
    const int last = std::min(rows_ - 1, static_cast<int>(std::floor((p.x + rho - x0_) / step_)));
    const double half = p.z > 0 ? std::atan(rho / p.z) : std::numbers::pi / 2;
    const double spacing = 2 * std::numbers::pi / kColumns;
    const int from = static_cast<int>(std::floor((p.a - half) / spacing)),
              to = static_cast<int>(std::ceil((p.a + half) / spacing));
    for (int k = from; k <= to; ++k) {
      const int j = (k % kColumns + kColumns) % kColumns;
      const double up = std::cos(angle(j) - p.a), beside = std::sin(angle(j) - p.a);
      for (int i = first; i <= last; ++i) visit(i, j, x(i) - p.x, up, beside);
    }
  }

  double x0_, step_;
  int rows_ = 0;
  std::vector<double> r_;
};

}  // namespace pommel::mill::testing
