// Plane offsets of profile pieces: where a ball of radius rho touches a profile from above.
//
// The ball that touches the profile at x with the outward normal (nx, nr) has its centre at (x + rho nx, r + rho nr).
// So the contacts for a ball at x0 are the roots of f(x) = x + rho nx(x) = x0. The normal is used, not the slope: it
// stays smooth where an arc is plumb. f falls (folds back) where the wood is hollower than the ball: there the ball
// stands on both sides of the hollow and never on its bottom, so those stretches are left out.
#pragma once

#include <utility>
#include <vector>

#include "shape/profile.h"

namespace pommel::mill {

/// A piece of a profile between a and b (within the piece, or beyond it by rounding), offset by a ball.
class OffsetPiece {
 public:
  OffsetPiece(const shape::Piece& piece, double rho, double a, double b);

  bool clear() const { return piece_.kind == shape::Piece::Kind::clear; }
  const shape::Piece& piece() const { return piece_; }
  double value(double x) const;          ///< mm; +infinity on a clear piece
  shape::Normal normal(double x) const;  ///< outward

  /// Adds the places x in [a, b] where a ball with its centre at x0 touches the piece, folds left out.
  void contacts(double x0, std::vector<double>& into) const;

 private:
  double foot(double x) const { return x + rho_ * normal(x).nx; }
  double cubic_contact(double x0, double from, double to) const;

  shape::Piece piece_;
  double rho_, a_, b_;
  std::vector<std::pair<double, double>> rising_;  // cubics: the stretches where f grows
};

}  // namespace pommel::mill
