// Pieces that stand at the left and at the right of a frame, where those at the right are wished as mirror images: of meaning for a twist.
#pragma once

#include <string>

#include "frame/plan.h"
#include "shape/part.h"

namespace pommel::frame {

/// The turned piece as it stands at the other side: mirrored in the plane between its outer faces A and B (frame/table.h), so that these stay outside.
shape::Part other_hand(const shape::Part& turned);

/// Whether the other hand is another turning: no quarter turn brings the two together.
bool has_hands(const shape::Part& turned);

/// Whether it has hands because it is twisted.
bool winds(const shape::Part& turned);

/// Notes that `all` ("all four legs") of a twisted piece wind the same way though `others` ("those at the right") might wind the other way; nothing of a
/// piece that does not wind.
void note_alike(Findings& findings, const std::string& id, const shape::Part& turned, const std::string& all, const std::string& others);

}  // namespace pommel::frame
