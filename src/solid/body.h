// Private: the closed bodies that a part is made of, before they are cut with one another.
#pragma once

#include "shape/part.h"
#include "solid/kernel.h"

namespace pommel::solid {

/// How far the bodies reach: the outline stands at `clear` where nothing is cut, and `far` lies past everything.
struct Extent {
  double clear = 0, far = 0;  ///< distances from the axis, mm
  double head = 0, foot = 0;  ///< where the faces' body ends: past both ends of the piece, mm
};
Extent extent_of(const shape::Part& part);

/// The outline turned about the axis, its seam in the middle of the first face.
TopoDS_Shape turned_outline(const shape::Part& part, const Extent& extent);

/// What the faces leave of the space around the axis, each drawn `ease` mm farther out. REQUIRES: the part has faces.
Result<TopoDS_Shape> faced_body(const shape::Part& part, const Extent& extent, double ease,
                                const std::stop_token& stop);

/// The face that looks along phi, or null.
const shape::Face* face_towards(const shape::Part& part, double phi);

/// The wood one mortise takes away, open towards its face; one or two solids (the haunch).
Result<TopTools_ListOfShape> mortise_tools(const shape::Part& part, const shape::Mortise& mortise,
                                           const Extent& extent);

/// The single solid in a shape; fails with "solid.pieces" for more or none.
Result<TopoDS_Shape> the_one_solid(const TopoDS_Shape& shape, const std::string& name);

/// object ∩ tool, object ∪ others and object − tools, with the kernel's errors as failures.
Result<TopoDS_Shape> common(const TopoDS_Shape& object, const TopoDS_Shape& tool, const std::stop_token& stop);
Result<TopoDS_Shape> fused(const TopoDS_Shape& object, const TopTools_ListOfShape& others, const std::stop_token& stop);
Result<TopoDS_Shape> cut(const TopoDS_Shape& object, const TopTools_ListOfShape& tools, const std::stop_token& stop);

}  // namespace pommel::solid
