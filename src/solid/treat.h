// Private: what flutes, reeds and twists do to the bodies of a part.
#pragma once

#include <optional>

#include "solid/body.h"

namespace pommel::solid {

inline bool treated(const shape::Part& part) {
  return !part.flutes.empty() || !part.reedings.empty() || !part.twists.empty();
}

/// Why this room cannot draw the part's treatments, if so: "solid.flute", "solid.reeds", "solid.twist".
std::optional<Failure> undrawable(const shape::Part& part);

/// The wood that flutes take away: a groove open outwards, one for each unbroken run of each flute.
Result<TopTools_ListOfShape> flute_tools(const shape::Part& part, const Extent& extent);

/// The wood that reeds take away: a sleeve round each unbroken run, its inside scalloped; the reeds `ease` mm stouter.
Result<TopTools_ListOfShape> reed_tools(const shape::Part& part, const Extent& extent, double ease);

/// The outline turned about the axis with its twists. REQUIRES: the part has twists, undrawable() has nothing to say.
Result<TopoDS_Shape> twisted_outline(const shape::Part& part, const Extent& extent);

}  // namespace pommel::solid
