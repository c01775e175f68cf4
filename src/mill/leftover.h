// The mill's own state of the wood: a map of how far out wood may still stand, always an upper bound.
//
// Cells along the blank and round it, each with the farthest that any wood in it may reach from the axis. The map
// begins as the blank with all the shop admits (oversize, off centre, bowed). A ball lowers a cell only where it covers
// the whole cell, to the highest of the ball's underside at its four corners, and only where its flutes clear the wood
// above too: seen from the axis, a ball of half-width q covers a ray at the angle p from the cutter out to q / sin p,
// and wood that reaches farther stays. So a rib between two cuts, however thin, is never forgotten. A bull nose is taken for the
// few flat discs that lie inside it.
//
// The map serves two questions only: how low may the cutter come down at rapid, and does wood stand where shank or
// collet would be. The first is answered for a ball grown by half a cell.
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

#include "mill/foot.h"
#include "motion/motion.h"
#include "shape/blank.h"

namespace pommel::mill {

/// A point of a line along the piece: x and the height of the tip, mm.
struct LinePoint {
  double x = 0, z = 0;

  bool operator==(const LinePoint&) const = default;
};

class Leftover {
 public:
  /// `cell`: wished size of the cells, mm; a quarter of the ball that will cut (cell_for) keeps ridges between lines
  /// covered. REQUIRES: blank.size > 0, blank.length() > 0, cell > 0.
  Leftover(const shape::Blank& blank, const shape::BlankTolerance& tolerance, double cell);
  static double cell_for(double rho);

  /// A cutter ran along the points (tip heights) with the direction a under it.
  void cut(const std::vector<LinePoint>& line, double a, const Foot& foot);

  /// A cutter ran straight from position to position while the piece turned. A cell is lowered where the
  /// cutter's axis passed over it from edge to edge of its directions: there the ray lies in the cutter's axis, and is
  /// cleared from the cutter's underside outwards.
  void cut_turning(const std::vector<motion::Position>& path, const Foot& foot);

  /// The lowest tip height at (x, a) at which a cutter certainly meets no wood; -infinity where none
  /// stands. A bull nose is asked as if it were flat.
  double touch(double x, double a, const Foot& foot) const;

 private:
  friend class Skyline;

  struct Sweep;
  void lower_column(const Sweep& sweep, const Foot& foot);
  void cut_ball(double x, double centre, double a, double rho);
  void cut_disc(double x, double height, double a, double radius);
  template <class Fill>
  void lower_cells(double x, double reach, double widest, double a, const Fill& fill);
  double edge(std::size_t row) const { return x0_ + step_ * static_cast<double>(row); }
  std::size_t wrapped(long column) const;
  /// First and one past the last row that comes within `reach` of x.
  std::pair<std::size_t, std::size_t> rows_near(double x, double reach) const;

  double x0_ = 0, step_ = 1, spacing_ = 1;  // row i: edge(i) to edge(i + 1); column j: j to j + 1 times spacing_
  double greatest_ = 0;                     // of any cell at the beginning
  std::size_t rows_ = 0;
  long columns_ = 0;
  std::vector<double> edge_cos_, edge_sin_, middle_cos_, middle_sin_;  // of each column's first edge and its middle
  std::vector<float> radius_;
  std::vector<double> corners_;  // scratch of lower_cells
};

/// How far wood stands from the axis in any direction, row by row, as it was when this was made.
class Skyline {
 public:
  explicit Skyline(const Leftover& wood);

  /// The farthest between two places, mm; 0 outside the blank.
  double standing(double from, double to) const;
  double highest() const;

 private:
  double x0_ = 0, step_ = 1;
  std::vector<float> rows_;
};

}  // namespace pommel::mill
