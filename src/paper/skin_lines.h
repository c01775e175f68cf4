// What of a turned piece's skin is seen as lines from one side: edges where facets, flutes and reeds meet, walls and kinks across the
// piece, bottoms of a twist; and the areas between them. Worked out section by section (skin_section.h), so that hidden edges are left out
// and every point of a line lies on the field's own edge.
//
// Points are (x, t) as in leg_view.h. For this room only.
#pragma once

#include <vector>

#include "paper/leg_view.h"
#include "shape/part.h"

namespace pommel::paper {

/// Flutes, reeds or a twist.
bool has_grooves(const shape::Part& part);
/// True when more is to be seen on this side than a round between faces square to the eye: then a view is traced section by section.
bool needs_tracing(const shape::Part& part, double phi);

/// Places to look at, growing within a span; spans lie between two places at which the skin changes its make-up. At least 48 steps a span,
/// closer at its ends, where an arc may stand upright; 24 and more for each wave of a twist.
std::vector<std::vector<double>> spans_of(const shape::Part& part);

/// Adds arrises, turns, hollows and facets to the view. REQUIRES: needs_tracing().
void add_traced(const shape::Part& part, double phi, LegView& view);

/// Adds the lines across the piece at x, where the skin has a wall or a kink of more than 3 degrees. REQUIRES: 0 < x < length.
void add_across(const shape::Part& part, double phi, double x, LegView& view);

}  // namespace pommel::paper
