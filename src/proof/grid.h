// The rays on which the judge keeps wood: rows along x, equal angles and crease rays in each row.
//
// Invariants: x grows strictly from the blank's one end to the other, with rows on both ends, on the part's ends and on
// every knot and crossing of the part; neighbours are at most row_step apart, the skin between them rises no more than that
// (but for rows nearer than 0.002 mm), and six rows stand 0.021 to 0.15 mm behind every wall square to the axis: a gouge in a
// wall is read as no deeper than the deepest of them that it reaches. A row's rays are its `columns` equal angles (theta = j * 2 pi / columns) and then its crease rays, growing in theta.
#pragma once

#include <cstddef>
#include <vector>

#include "proof/proof.h"

namespace pommel::proof {

struct Grid {
  int columns = 0;
  double row_step = 0;                  ///< mm: greatest distance of rows
  std::vector<double> x;
  std::vector<std::size_t> begin;       ///< first ray of each row, and one past the last: x.size() + 1 entries
  std::vector<double> sines, cosines;   ///< of the columns
  std::vector<double> crease;           ///< angles of all crease rays, row by row

  std::size_t rows() const { return x.size(); }
  std::size_t rays() const { return begin.back(); }
  double column_step() const;           ///< radians
  std::size_t creases_of(std::size_t row) const { return begin[row + 1] - begin[row] - static_cast<std::size_t>(columns); }
  std::size_t crease_begin(std::size_t row) const { return begin[row] - row * static_cast<std::size_t>(columns); }
  /// theta of the k-th ray of a row, radians in [0, 2 pi).
  double angle(std::size_t row, std::size_t k) const;
  /// First row with x >= at; rows() when there is none.
  std::size_t first_row_from(double at) const;

  std::vector<std::size_t> buckets;     ///< first row at or after x.front() + i * bucket
  double bucket = 1;
};

/// Fails with "proof.too-much" when the rays would need more memory than is sane (20 million rays, about 1 GB).
/// REQUIRES: the part has no problems(), the blank is longer than nothing, columns a positive multiple of 8, row_step > 0.
Result<Grid> make_grid(const shape::Part& turned, const shape::Blank& blank, double row_step, int columns);

}  // namespace pommel::proof
