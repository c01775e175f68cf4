// Private: what joints take out of a turned body.
#pragma once

#include "solid/body.h"

namespace pommel::solid {

inline bool has_joints(const shape::Part& part) {
  return !part.mortises.empty() || !part.bores.empty() || !part.axial_bores.empty() || !part.end_cuts.empty();
}

/// All wood that the part's joints take away, as tools for one cut.
Result<TopTools_ListOfShape> joint_tools(const shape::Part& part, const Extent& extent);

}  // namespace pommel::solid
