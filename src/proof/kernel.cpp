#include "proof/kernel_lanes.h"

namespace pommel::proof {

#ifdef POMMEL_WIDE_KERNELS
const Kernels& wide_kernels();  // kernel_wide.cpp
#endif

const Kernels& narrow_kernels() {
  static constexpr Kernels all = lanes::all<std::experimental::native_simd<float>>();
  return all;
}

const Kernels& kernels() {
#ifdef POMMEL_WIDE_KERNELS
  static const bool wide = __builtin_cpu_supports("avx2");
  if (wide) return wide_kernels();
#endif
  return narrow_kernels();
}

}  // namespace pommel::proof
