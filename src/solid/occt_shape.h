// Private door to the kernel's shape, for this room and for a viewer. Not part of the room's interface.
#pragma once

#include <TopoDS_Shape.hxx>

#include "solid/solid.h"

namespace pommel::solid {

struct Solid::Shape {
  TopoDS_Shape topology;  ///< one TopoDS_Solid; never changed after construction. Placed ones share the one they were placed from
};

inline const TopoDS_Shape& topology_of(const Solid& solid) {
  return solid.shape().topology;
}

inline Solid solid_of(TopoDS_Shape topology) {
  return Solid(std::make_shared<const Solid::Shape>(Solid::Shape{std::move(topology)}));
}

}  // namespace pommel::solid
