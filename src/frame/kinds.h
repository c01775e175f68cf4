// Which members are the same piece, and why.
#pragma once

#include "frame/member.h"

namespace pommel::frame {

/// True when two parts agree as they are, without a turn: lengths within 1e-6 mm, directions within 1e-9; names, labels
/// and mates do not count. `with_joints` false compares the turning only.
bool same_in_place(const shape::Part& a, const shape::Part& b, bool with_joints);

/// Fills turned_kinds and jointed_kinds of the set and each member's indices and hand, from shape::canonical_text. A hand is
/// given where a jointed part is not its own mirror image after a quarter turn: "left" for the front left member's
/// diagonal (quarters 0 and 2), "right" for the other.
/// `why_hands`: in words, why long and short sides differ; used where two kinds are mirror images.
void sort_into_kinds(Set& set, const std::string& why_hands);

}  // namespace pommel::frame
