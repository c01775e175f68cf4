#include "solid/joint.h"

#include <cmath>
#include <numbers>

#include "solid/contour.h"

namespace pommel::solid {

using shape::Part;

namespace {

TopoDS_Shape drill(const gp_Pnt& from, const gp_Dir& towards, double diameter, double length) {
  return BRepPrimAPI_MakeCylinder(gp_Ax2(from, towards), diameter / 2, length).Shape();
}

// From the face's plane inwards, each drilled from outside everything.
Result<TopTools_ListOfShape> bore_tools(const Part& part, const shape::Bore& bore, const Extent& extent) {
  const shape::Face* face = face_towards(part, bore.phi);
  const double surface = face ? face->d.value(bore.x, shape::Side::after) : INFINITY;
  if (!std::isfinite(surface))
    return fail("solid.bore", "bore '" + bore.id + "' enters where the piece has no face", "put it on one of the faces");
  const gp_Dir n = across(bore.phi), t = across(bore.phi + std::numbers::pi / 2);
  const gp_Pnt start(gp_XYZ(bore.x, 0, 0) + n.XYZ() * extent.far + t.XYZ() * bore.t);
  const auto hole = [&](double diameter, double depth) {
    // one that comes to the far side goes on past it, lest two planes fall together
    const shape::Face* back = face_towards(part, bore.phi + std::numbers::pi);
    const double opposite = back ? back->d.value(bore.x, shape::Side::after) : extent.clear;
    const bool through = surface - depth <= -opposite + kOnePoint;
    return drill(start, n.Reversed(), diameter, through ? 2 * extent.far : extent.far - surface + depth);
  };
  TopTools_ListOfShape tools;
  tools.Append(hole(bore.diameter, bore.depth));
  if (bore.seat_diameter > 0 && bore.seat_depth > 0) tools.Append(hole(bore.seat_diameter, bore.seat_depth));
  return tools;
}

TopoDS_Shape axial_tool(const Part& part, const shape::AxialBore& bore, const Extent& extent) {
  const double x0 = bore.x0 <= kOnePoint ? extent.head : bore.x0;
  const double x1 = bore.x1 >= part.length - kOnePoint ? extent.foot : bore.x1;
  return drill(gp_Pnt(x0, 0, 0), gp_Dir(1, 0, 0), bore.diameter, x1 - x0);
}

// The half space beyond the saw's plane, as far as the piece could reach. The plane's points in direction phi at height h stand at
// x = cut.x + (at the foot +, at the head -) h tan(angle).
TopoDS_Shape end_tool(const Part& part, const shape::EndCut& cut, const Extent& extent) {
  const double way = cut.at_head ? -1 : 1, h = 2 * extent.far;
  const gp_Dir n = across(cut.phi), t = across(cut.phi + std::numbers::pi / 2);
  const double lean = way * h * std::tan(cut.angle), beyond = way * (part.length + std::abs(lean) + h);
  Contour side(gp_Pnt(t.XYZ() * -h), gp_Dir(1, 0, 0), n, cut.x + lean, h);
  side.line_to(cut.x - lean, -h);
  side.line_to(cut.x + beyond, -h);
  side.line_to(cut.x + beyond, h);
  return BRepPrimAPI_MakePrism(side.closed(), gp_Vec(t) * (2 * h)).Shape();
}

}  // namespace

Result<TopTools_ListOfShape> joint_tools(const Part& part, const Extent& extent) {
  TopTools_ListOfShape tools;
  for (const shape::Mortise& mortise : part.mortises) {
    Result<TopTools_ListOfShape> some = mortise_tools(part, mortise, extent);
    if (!some) return some;
    tools.Append(*some);
  }
  for (const shape::Bore& bore : part.bores) {
    Result<TopTools_ListOfShape> some = bore_tools(part, bore, extent);
    if (!some) return some;
    tools.Append(*some);
  }
  for (const shape::AxialBore& bore : part.axial_bores) tools.Append(axial_tool(part, bore, extent));
  for (const shape::EndCut& cut : part.end_cuts) tools.Append(end_tool(part, cut, extent));
  return tools;
}

}  // namespace pommel::solid
