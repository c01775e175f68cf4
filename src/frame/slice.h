// A stretch of a turned part as a part of its own, and a pin turned at its head: the sections of a stacked column.
#pragma once

#include "shape/part.h"

namespace pommel::frame {

/// What stands between x0 and x1, its head at x = 0; pieces that reach over an end are cut there, exactly. Joints are left out.
/// REQUIRES: 0 <= x0 < x1 <= part.length; no twist reaches over an end.
shape::Part slice(const shape::Part& part, double x0, double x1);

/// The part moved towards the foot by `length`, with a pin of that length and `diameter` before its head. REQUIRES: both > 0.
shape::Part with_pin_at_head(const shape::Part& part, double length, double diameter);

}  // namespace pommel::frame
