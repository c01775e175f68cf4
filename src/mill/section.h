// The part cut at its knots: between two of them every profile is one piece, and the section square to the axis is a
// circle of radius r(x) cut by the faces that are there.
//
// On a face at distance d, t runs across it (shape/part.h). The other faces and the round leave it the span
// left..right:
//
//     p(t) . u_g <= d_g     gives   t <= (d_g - d cos D) / sin D   for sin D > 0 (>= for sin D < 0),  D = phi_g - phi,
//     |p(t)| <= r           gives   |t| <= sqrt(r² - d²).
#pragma once

#include <vector>

#include "mill/offset.h"
#include "mill/treated.h"
#include "shape/part.h"

namespace pommel::mill {

struct CellFace {
  std::size_t index = 0;  ///< in Part::faces
  double phi = 0, cos = 1, sin = 0;
  OffsetPiece d;
  bool shows = false;  ///< something of it is left somewhere in the cell
};

struct Cell {
  double x0 = 0, x1 = 0;
  OffsetPiece round;
  std::vector<CellFace> faces;  ///< those that are there, in the order of Part::faces
  double reach = 0;             ///< no wood of the cell stands farther from the axis
  std::vector<double> level;    ///< where the round is level
  std::vector<double> steep;    ///< where it is as steep as the cone that was asked for
  Treatments treatments;

  bool treated() const { return treatments.any(); }
  /// mm from the axis to the round, twisted where it is, at x in the direction theta.
  double round_at(double x, double theta) const;
};

/// Whether the makers of the skin that do not own it leave the point (x, y, z); see treated.h. Faces count by their place in Cell::faces.
bool left_by_others(const Cell& cell, const Owner& owner, double x, double y, double z, double slack);

struct Span {
  double left = 0, right = 0;  ///< mm across the face; nothing is left where left >= right
};

/// What the other faces of the cell leave of face `f` at x; infinite where none stands in the way.
Span between_neighbours(const Cell& cell, std::size_t f, double x);
/// Half the width that the round leaves of face `f` at x; +infinity where the outline is clear.
double half_in_round(const Cell& cell, std::size_t f, double x);
/// Both together.
Span span_at(const Cell& cell, std::size_t f, double x);

/// What grooves, reeds and a twist leave of that, across the face; empty where nothing is left.
std::vector<Span> openings_at(const Cell& cell, std::size_t f, double x);

/// A stretch of a cell in which face `f` is there throughout and its edges are each of one kind.
struct FaceStretch {
  std::size_t face = 0;  ///< index into Cell::faces
  double x0 = 0, x1 = 0;
  bool left_by_round = false, right_by_round = false;
};

std::vector<FaceStretch> stretches(const Cell& cell);

/// The cells of the part, head to foot, for a body rounded by rho, or whose flank rises `slope` for each mm sideways (0: none).
/// REQUIRES: profiles contiguous, not empty, finite.
std::vector<Cell> cells_of(const shape::Part& part, double rho, double slope = 0);

/// Chords in place of a curved piece that stand on or outside it (at a greater value), by at most `tolerance` mm.
std::vector<shape::Piece> chords_over(const shape::Piece& curve, double tolerance);

/// The part with every curved face replaced by chords that stand on or outside it, by at most `tolerance` mm.
shape::Part chorded(const shape::Part& part, double tolerance);

}  // namespace pommel::mill
