// A half-profile: r(x) (or the distance of a face d(x)) as exact pieces from x0 to x1, head to foot.
//
// Invariants (checked by problems()):
//   - pieces are in order and contiguous: pieces[i].x1 == pieces[i+1].x0 to the bit, and x0 < x1 in each;
//   - every piece is a function of x: no overhang; a vertical tangent is allowed at a piece's end only;
//   - r > 0 inside; values at the ends equal r0 and r1 within 1e-9 mm;
//   - between neighbours r may jump: that is a wall square to the axis (declared in the family by `step: yes`).
// Values are plain data and may cross threads.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "base/result.h"

namespace pommel::shape {

/// Outward unit normal in the (x, r) plane.
struct Normal {
  double nx = 0;
  double nr = 1;
};

struct Piece {
  enum class Kind {
    line,   ///< straight between (x0, r0) and (x1, r1)
    arc,    ///< of the circle about (cx, cr) with radius rho: r = cr + bulge * sqrt(rho² - (x - cx)²)
    cubic,  ///< r = c[0] + c[1] u + c[2] u² + c[3] u³, u = x - x0
    clear   ///< nothing is cut here: r = +infinity. Allowed only where the faces close a ring (a square stretch)
  };
  Kind kind = Kind::line;
  double x0 = 0, r0 = 0;
  double x1 = 0, r1 = 0;
  double cx = 0, cr = 0, rho = 0;
  int bulge = 1;  ///< +1: wood bulges (bead); -1: wood is hollow (cove)
  std::array<double, 4> c{};
  int element = -1;  ///< index into Part::elements, -1 where no element owns it

  /// REQUIRES: x0 <= x <= x1. +infinity on a clear piece.
  double value(double x) const;
  /// dr/dx; +-infinity at a vertical tangent.
  double slope(double x) const;
  /// Outward normal (-r', 1)/sqrt(1 + r'²), exact at vertical tangents too.
  Normal normal(double x) const;
  /// Least and greatest value on the piece.
  double least() const;
  double greatest() const;

  bool operator==(const Piece&) const = default;
};

Piece line_piece(double x0, double r0, double x1, double r1, int element = -1);
/// The arc from (x0, r0) to (x1, r1) with radius rho; `bulge` as in Piece. REQUIRES: such a single-valued arc exists.
Piece arc_piece(double x0, double r0, double x1, double r1, double rho, int bulge, int element = -1);
/// The same arc when its centre is known (no cancellation in finding it). REQUIRES: both ends lie on that circle, on the
/// side of `bulge`.
Piece arc_about(double x0, double r0, double x1, double r1, double cx, double cr, double rho, int bulge, int element = -1);
/// r = c[0] + c[1] u + c[2] u² + c[3] u³ with u = x - x0.
Piece cubic_piece(double x0, double x1, const std::array<double, 4>& c, int element = -1);
Piece clear_piece(double x0, double x1, int element = -1);

/// Where the piece is level between its ends (dr/dx = 0), growing; empty for lines and clear pieces.
std::vector<double> level_points(const Piece& piece);

enum class Side { before, after };  ///< which piece speaks at a knot

struct Profile {
  std::vector<Piece> pieces;

  /// Index of the piece that owns x; at a knot the one on `side`. REQUIRES: not empty, x within its ends.
  std::size_t index_at(double x, Side side) const;
  double value(double x, Side side) const { return pieces[index_at(x, side)].value(x); }
  /// The greater of both sides at a knot: the closed body's radius.
  double value(double x) const;
  double start() const { return pieces.front().x0; }
  double end() const { return pieces.back().x1; }

  bool operator==(const Profile&) const = default;
};

/// The profile's pieces between a and b, cut at a and b where a piece reaches over, each moved out by `out` mm. A cut or moved arc keeps
/// its radius, a cubic is written about its new start.
std::vector<Piece> pieces_within(const Profile& profile, double a, double b, double out = 0);

}  // namespace pommel::shape
