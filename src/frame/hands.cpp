#include "frame/hands.h"

namespace pommel::frame {

// theta to 90 degrees - theta
shape::Part other_hand(const shape::Part& turned) { return shape::turned_by(shape::mirrored(turned), 1); }

bool has_hands(const shape::Part& turned) {
  return shape::canonical_text(other_hand(turned), false) != shape::canonical_text(turned, false);
}

}  // namespace pommel::frame
