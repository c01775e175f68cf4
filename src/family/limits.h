// What is read of a family and of an outline at most.
#pragma once

#include <cstddef>

namespace pommel::family {

/// Templates have some sixty measures and thirty elements. Forty-five thousand measures would be computed in two seconds, but no maker finds
/// anything among them.
inline constexpr std::size_t kMostMeasures = 5'000;
/// A thousand beads of 2 mm are a piece of 2 m.
inline constexpr std::size_t kMostElements = 1'000;

}  // namespace pommel::family
