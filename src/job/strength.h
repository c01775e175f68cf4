// What the wood of a column does in its room and under load: rules/piece.h for every turned piece, its joints, its rails, its glue-ups.
#pragma once

#include "job/column.h"

namespace pommel::job {

/// Fills reports and rule_lines. A room or wood outside what the formulas cover is said as a line and leaves the figures at 0: it stops
/// no job. REQUIRES: made, blanks and cuts are there.
void add_rules(const Loaded& loaded, const LengthFormat& shown, Column& column);

}  // namespace pommel::job
