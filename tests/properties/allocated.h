// How much memory was asked for: what a refusal costs, whatever else the machine does meanwhile.
#pragma once

#include <cstddef>

namespace pommel::properties {

/// Bytes asked of operator new by this program so far, given back or not. Over-aligned ones are not counted.
std::size_t allocated();

}  // namespace pommel::properties
