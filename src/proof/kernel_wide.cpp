// Built for processors with AVX2 (CMakeLists.txt), asked only where kernel.cpp has found one. It includes nothing with functions that
// another file might share, so that no such function is built for AVX2 alone.
#ifdef POMMEL_WIDE_KERNELS

#include "proof/kernel_lanes.h"

namespace pommel::proof {

const Kernels& wide_kernels();

const Kernels& wide_kernels() {
  static constexpr Kernels all = lanes::all<std::experimental::native_simd<float>>();
  return all;
}

}  // namespace pommel::proof

#endif
