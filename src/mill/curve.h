// A piece of a profile near one place, for many places at once: written about a base on the piece, so that single precision keeps its
// digits however far along the piece that is. Inside mill/ only.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>

#include "mill/crease.h"
#include "shape/profile.h"

namespace pommel::mill {

class Curve {
 public:
  /// REQUIRES: the piece is not clear.
  Curve(const shape::Piece& piece, double near) {
    const double base = std::clamp(near, piece.x0, piece.x1);
    off_ = near - base;
    if (piece.kind == shape::Piece::Kind::arc) {
      arc_ = true, rho2_ = piece.rho * piece.rho, w_ = base - piece.cx, bulge_ = piece.bulge;
      root_ = std::sqrt(std::max(1e-12, rho2_ - w_ * w_));
      c_[0] = piece.value(base);
      return;
    }
    if (piece.kind == shape::Piece::Kind::cubic) {
      const double u = base - piece.x0;
      c_ = {piece.value(base), piece.slope(base), piece.c[2] + 3 * piece.c[3] * u, piece.c[3]};
      return;
    }
    c_ = {piece.value(base), piece.slope(base), 0, 0};
  }

  template <class V>
  struct At {
    V value, slope, bend;  ///< of the curve, and its first and second derivative
  };

  /// At the distances `dx` from `near`, all on the piece.
  template <class V>
  At<V> at(const V& dx) const {
    using T = typename V::value_type;
    const V e = dx + static_cast<T>(off_);
    const T c0 = static_cast<T>(c_[0]);
    if (arc_) {
      const T w0 = static_cast<T>(w_), b = static_cast<T>(bulge_), root0 = static_cast<T>(root_);
      const V w = e + w0, root = lanes::sqrt(lanes::max(V(T(1e-9)), static_cast<T>(rho2_) - w * w));
      return {c0 - b * e * (T(2) * w0 + e) / (root + root0), -b * w / root, -b * static_cast<T>(rho2_) / (root * root * root)};
    }
    const T c1 = static_cast<T>(c_[1]), c2 = static_cast<T>(c_[2]), c3 = static_cast<T>(c_[3]);
    return {c0 + e * (c1 + e * (c2 + e * c3)), c1 + e * (T(2) * c2 + T(3) * e * c3), T(2) * c2 + T(6) * e * c3};
  }

 private:
  std::array<double, 4> c_{};
  bool arc_ = false;
  double off_ = 0, rho2_ = 0, w_ = 0, root_ = 0, bulge_ = 0;
};

/// The greatest hollow and the greatest bulge of a piece, 1/mm, as its curvature in its plane.
struct Bends {
  double hollow = 0, bulge = 0;
};
Bends bends_of(const shape::Piece& piece, double a, double b);

}  // namespace pommel::mill
