// Creases of stretches with flutes, reeds or a twist (crease.h has those of plain ones): the rims of both ends and every curve along
// the piece where two makers of the skin meet. Sections by shape/ring.h are taken so close that each curve's chords stay within the
// tolerance; where a curve begins or ends the sections close in on it to a ten-thousandth of a millimetre. Inside mill/ only.
#pragma once

#include "mill/tracer.h"

namespace pommel::mill {

/// Adds the curves inside the cell. REQUIRES: `part` is what the cells were made of; the cell is treated.
void add_treated_edges(const shape::Part& part, const Cell& cell, Tracer& tracer);

/// Adds the rims at x of the pieces before and after it (either may be missing: the part's ends). What goes on smoothly has none, and
/// the plain round's are not segments.
void add_treated_rims(const shape::Part& part, double x, bool before, bool after, Tracer& tracer);

}  // namespace pommel::mill
