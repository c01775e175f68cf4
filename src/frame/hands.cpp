#include "frame/hands.h"

namespace pommel::frame {

// theta to 90 degrees - theta
shape::Part other_hand(const shape::Part& turned) { return shape::turned_by(shape::mirrored(turned), 1); }

bool has_hands(const shape::Part& turned) {
  return shape::canonical_text(other_hand(turned), false) != shape::canonical_text(turned, false);
}

bool winds(const shape::Part& turned) { return !turned.twists.empty() && has_hands(turned); }

void note_alike(Findings& findings, const std::string& id, const shape::Part& turned, const std::string& all, const std::string& others) {
  if (winds(turned)) findings.note(id, all + " wind the same way", "say mirrored_pairs: yes where " + others + " should wind the other way: then there are turnings of both hands");
}

}  // namespace pommel::frame
