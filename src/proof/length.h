// Lengths of pairs of millimetres.
#pragma once

#include <cmath>

namespace pommel::proof {

/// std::hypot without its care for numbers near the end of the range, which costs more than the rest of the loops it stands in.
inline double length_of(double a, double b) { return std::sqrt(a * a + b * b); }

}  // namespace pommel::proof
