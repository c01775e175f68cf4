// The inner loop of the reach, for vector units (see proof/kernel.cpp).
#pragma once

#include <cstddef>

namespace pommel::proof {

/// The greatest of radius * cosine + sqrt(reach2 - (radius * sine)²) over the rays that lie within reach and have a
/// cosine above 0; `least` when there is none greater.
float highest_centre(const float* radius, const float* sine, const float* cosine, std::size_t n, float reach2, float least);

}  // namespace pommel::proof
