#include "frame/stretch.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "rules/joinery.h"

namespace pommel::frame {
namespace {

using shape::Part;
using shape::Piece;

constexpr double kSame = 1e-6;  // mm
constexpr double kHalfPi = std::numbers::pi / 2;

// Whether every piece that has some of x0 to x1 is as `good` wishes.
template <class Good>
bool holds(const shape::Profile& profile, double x0, double x1, const Good& good) {
  return std::all_of(profile.pieces.begin(), profile.pieces.end(),
                     [&](const Piece& piece) { return std::min(piece.x1, x1) - std::max(piece.x0, x0) <= kSame || good(piece); });
}

bool inside(const Part& part, double x0, double x1) { return x0 >= -kSame && x1 <= part.length + kSame; }

bool level_at(const Piece& piece, double value) {
  return piece.kind != Piece::Kind::clear && std::abs(piece.least() - value) <= kSame && std::abs(piece.greatest() - value) <= kSame;
}

bool beyond(const Piece& piece, double value) { return piece.kind == Piece::Kind::clear || piece.least() >= value - kSame; }

}  // namespace

bool is_square(const Part& part, double square, double x0, double x1) {
  if (!inside(part, x0, x1)) return false;
  const double corner = rules::half_diagonal(square);
  int quarters = 0;
  for (const shape::Face& face : part.faces) {
    const bool quarter = std::abs(std::remainder(face.phi, kHalfPi)) < 1e-9;
    quarters += quarter ? 1 : 0;
    if (!holds(face.d, x0, x1, [&](const Piece& p) { return quarter ? level_at(p, square / 2) : beyond(p, corner); })) return false;
  }
  return quarters == 4 && holds(part.outline, x0, x1, [&](const Piece& p) { return beyond(p, corner); });
}

bool is_pin(const Part& part, double diameter, double x0, double x1) {
  const auto faces_stand_off = [&](const shape::Face& face) { return holds(face.d, x0, x1, [&](const Piece& p) { return beyond(p, diameter / 2); }); };
  return inside(part, x0, x1) && holds(part.outline, x0, x1, [&](const Piece& p) { return level_at(p, diameter / 2); }) &&
         std::all_of(part.faces.begin(), part.faces.end(), faces_stand_off);
}

}  // namespace pommel::frame
