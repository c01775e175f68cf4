#include "mill/offset.h"

#include <algorithm>
#include <cmath>

#include "mill/roots.h"

namespace pommel::mill {
namespace {

using Kind = shape::Piece::Kind;

// f'(x) = 1 + rho dnx/dx = 1 - rho r'' / (1 + r'²)^(3/2) of a cubic.
double foot_slope(const shape::Piece& cubic, double rho, double x) {
  const double s = cubic.slope(x);
  const double bend = 2 * cubic.c[2] + 6 * cubic.c[3] * (x - cubic.x0);
  const double length2 = 1 + s * s;
  return 1 - rho * bend / (length2 * std::sqrt(length2));
}

}  // namespace

OffsetPiece::OffsetPiece(const shape::Piece& piece, double rho, double a, double b)
    : piece_(piece), rho_(rho), a_(a), b_(b) {
  if (piece_.kind != Kind::cubic) return;
  auto slope = [&](double x) { return foot_slope(piece_, rho_, x); };
  std::vector<double> ends = sign_changes(slope, a_, b_);
  ends.insert(ends.begin(), a_);
  ends.push_back(b_);
  for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
    if (slope((ends[i] + ends[i + 1]) / 2) > 0) rising_.emplace_back(ends[i], ends[i + 1]);
  }
}

double OffsetPiece::value(double x) const {
  return piece_.value(std::clamp(x, piece_.x0, piece_.x1));
}

shape::Normal OffsetPiece::normal(double x) const {
  return piece_.normal(std::clamp(x, piece_.x0, piece_.x1));
}

void OffsetPiece::contacts(double x0, std::vector<double>& into) const {
  auto keep = [&](double x) {
    if (x >= a_ && x <= b_) into.push_back(x);
  };
  switch (piece_.kind) {
    case Kind::clear:
      return;
    case Kind::line:
      keep(x0 - rho_ * normal(a_).nx);
      return;
    case Kind::arc: {
      // the offset of an arc is the arc about the same centre; a hollow tighter than the ball is a fold
      const double offset = piece_.rho + piece_.bulge * rho_;
      if (offset > 0) keep(piece_.cx + (x0 - piece_.cx) * piece_.rho / offset);
      return;
    }
    case Kind::cubic:
      for (const auto& [from, to] : rising_) {
        if (foot(from) <= x0 && x0 <= foot(to)) into.push_back(cubic_contact(x0, from, to));
      }
      return;
  }
}

// Newton's method kept inside a bracket that shrinks with every step.
double OffsetPiece::cubic_contact(double x0, double from, double to) const {
  double x = std::clamp(x0, from, to);
  for (int step = 0; step < 60; ++step) {
    const double miss = foot(x) - x0;
    if (std::fabs(miss) < 1e-12) break;
    (miss < 0 ? from : to) = x;
    double next = x - miss / foot_slope(piece_, rho_, x);
    if (!(next > from && next < to)) next = from + (to - from) / 2;
    if (next == x) break;
    x = next;
  }
  return x;
}

}  // namespace pommel::mill
