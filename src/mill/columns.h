// The columns of a row of heights: equal directions over one turn, with what faces and creases need of each. Inside mill/ only.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

#include "mill/crease.h"

namespace pommel::mill {

using Row = lanes::native_simd<float>;

/// Directions from..to, radians, from <= to.
struct Arc {
  double from = 0, to = 0;
};

struct Columns {
  int count = 0;
  std::size_t stride = 0;  ///< count, filled up to whole vectors
  double step = 0, first = 0;  ///< radians: from column to column, and the direction of the first
  std::vector<float> cos, sin;
  std::vector<std::vector<float>> secant, tangent;  ///< of a - phi for each face; tangents only where asked for, without their sign

  /// `phis`: of the faces. REQUIRES: columns >= 1.
  Columns(int columns, const std::vector<double>& phis, bool tangents, double first = 0);

  double angle(std::size_t column) const { return first + step * static_cast<double>(column); }

  /// Calls run(first, last) for the columns whose direction lies in the arc, in at most two or three runs.
  template <class Run>
  void each_in(const Arc& arc, const Run& run) const {
    auto begin = static_cast<long>(std::ceil((arc.from - first) / step));
    const auto last = std::min(static_cast<long>(std::floor((arc.to - first) / step)), begin + count - 1);
    while (begin <= last) {
      const long turn = begin >= 0 ? begin / count : -((count - 1 - begin) / count);
      const long end = std::min(last, (turn + 1) * count - 1);
      run(static_cast<std::size_t>(begin - turn * count), static_cast<std::size_t>(end - turn * count));
      begin = end + 1;
    }
  }
};

}  // namespace pommel::mill
