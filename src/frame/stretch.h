// Inside frame/: what a turned part is on a stretch of its length, asked where something is to be jointed there.
#pragma once

#include "shape/part.h"

namespace pommel::frame {

/// Whether the part is the whole square of that width, faces at the four quarters, all along from x0 to x1 (within 1e-6 mm). Other faces may stand
/// by as long as they cut nothing off it.
bool is_square(const shape::Part& part, double square, double x0, double x1);

/// Whether the outline is a straight round of that diameter all along from x0 to x1 (within 1e-6 mm), and no face cuts into it.
bool is_pin(const shape::Part& part, double diameter, double x0, double x1);

}  // namespace pommel::frame
