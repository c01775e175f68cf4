// Pieces that stand at the left and at the right of a frame, where those at the right are wished as mirror images: of meaning for a twist.
#pragma once

#include "shape/part.h"

namespace pommel::frame {

/// The turned piece as it stands at the other side: mirrored in the plane between its outer faces A and B (frame/table.h), so that these stay outside.
shape::Part other_hand(const shape::Part& turned);

/// Whether the other hand is another turning: no quarter turn brings the two together.
bool has_hands(const shape::Part& turned);

}  // namespace pommel::frame
