// The columns of a grid of heights: equal directions over one turn, with what faces and creases need of each. Inside mill/ only.
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
  double step = 0;
  std::vector<float> cos, sin;
  std::vector<std::vector<float>> secant, tangent;  ///< of a - phi for each face; tangents only where asked for, without their sign

  /// `phis`: of the faces. REQUIRES: columns >= 1.
  Columns(int columns, const std::vector<double>& phis, bool tangents);

  /// Calls run(first, last) for the columns whose direction lies in the arc, in at most two or three runs.
  template <class Run>
  void each_in(const Arc& arc, const Run& run) const {
    auto first = static_cast<long>(std::ceil(arc.from / step));
    const auto last = std::min(static_cast<long>(std::floor(arc.to / step)), first + count - 1);
    while (first <= last) {
      const long turn = first >= 0 ? first / count : -((count - 1 - first) / count);
      const long end = std::min(last, (turn + 1) * count - 1);
      run(static_cast<std::size_t>(first - turn * count), static_cast<std::size_t>(end - turn * count));
      first = end + 1;
    }
  }
};

}  // namespace pommel::mill
