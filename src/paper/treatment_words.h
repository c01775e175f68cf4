// Flutes, reeds, facets and twists in the words and figures that a maker sets out by. For this room only.
#pragma once

#include <string>
#include <vector>

#include "paper/piece.h"

namespace pommel::paper {

/// "⌀ 52", "□ 64", "60 × 34", "8 flats, 47 across", with ", 12 flutes 2.5 deep" and their like: the section at x. REQUIRES: 0 <= x <= length.
std::string section_words(const shape::Part& part, double x, const Heading& heading);

/// A line for each treatment, from the head: where from, how many, and the sizes in the middle of its stretch.
std::vector<std::string> treatment_lines(const shape::Part& part, const Heading& heading);

/// A place within each treatment at which it is whole, and beside both ends of each taper and facet longer than 10 mm.
std::vector<double> treatment_places(const shape::Part& part);

}  // namespace pommel::paper
