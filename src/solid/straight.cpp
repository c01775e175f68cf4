#include "solid/straight.h"

#include <algorithm>

#include "solid/body.h"
#include "solid/contour.h"
#include "solid/occt_shape.h"

namespace pommel::solid {
namespace {

gp_Pnt pnt(const Point& p) { return {p.x, p.y, p.z}; }
gp_Dir dir(const Point& p) { return {p.x, p.y, p.z}; }

TopoDS_Shape bar_shape(const Bar& bar) {
  const TopoDS_Face end = rounded_rectangle(gp_Pnt(bar.x0, 0, 0), gp_Dir(0, 1, 0), gp_Dir(0, 0, 1), bar.y0, bar.y1, bar.z0, bar.z1, bar.corner);
  return BRepPrimAPI_MakePrism(end, gp_Vec(bar.x1 - bar.x0, 0, 0)).Shape();
}

// The half space beyond the saw's plane, as a block that reaches past everything.
TopoDS_Shape sawn_off(const SawCut& cut, double reach) {
  const gp_Ax2 plane(pnt(cut.at), dir(cut.away));
  const TopoDS_Face face = rounded_rectangle(pnt(cut.at), plane.XDirection(), plane.YDirection(), -reach, reach, -reach, reach, 0);
  return BRepPrimAPI_MakePrism(face, gp_Vec(plane.Direction()) * reach).Shape();
}

double reach_of(const Straight& piece) {
  double reach = 1;
  for (const Bar& bar : piece.bars)
    for (const double side : {bar.x1 - bar.x0, bar.y1 - bar.y0, bar.z1 - bar.z0}) reach = std::max(reach, side);
  return 4 * reach;
}

TopTools_ListOfShape tools_of(const Straight& piece) {
  TopTools_ListOfShape tools;
  for (const Bar& groove : piece.grooves) tools.Append(bar_shape(groove));
  for (const Drill& drill : piece.drills) tools.Append(BRepPrimAPI_MakeCylinder(gp_Ax2(pnt(drill.from), dir(drill.towards)), drill.diameter / 2, drill.length).Shape());
  for (const SawCut& cut : piece.saw_cuts) tools.Append(sawn_off(cut, reach_of(piece)));
  return tools;
}

Result<TopoDS_Shape> bars_together(const Straight& piece, const std::stop_token& stop) {
  TopTools_ListOfShape others;
  for (std::size_t i = 1; i < piece.bars.size(); ++i) others.Append(bar_shape(piece.bars[i]));
  const TopoDS_Shape first = bar_shape(piece.bars.front());
  return others.IsEmpty() ? Result<TopoDS_Shape>(first) : fused(first, others, stop);
}

// Faces in one plane, which bars leave behind, become one.
Result<Solid> the_solid(const TopoDS_Shape& shape, const std::string& name) {
  ShapeUpgrade_UnifySameDomain unify(shape, true, true, false);
  unify.Build();
  const Result<TopoDS_Shape> one = the_one_solid(unify.Shape(), name);
  if (!one) return one.failure();
  if (!BRepCheck_Analyzer(*one).IsValid())
    return fail("solid.invalid", "the boundary of '" + name + "' does not hold together", "report this piece: its measures are sound but the modelling kernel fails on it");
  return solid_of(*one);
}

}  // namespace

Result<Solid> straight(const Straight& piece, std::stop_token stop) {
  return guarded("building '" + piece.name + "'", stop, [&]() -> Result<Solid> {
    Result<TopoDS_Shape> body = bars_together(piece, stop);
    if (!body) return body.failure();
    const TopTools_ListOfShape tools = tools_of(piece);
    if (!tools.IsEmpty()) body = cut(*body, tools, stop);
    if (!body) return body.failure();
    return the_solid(*body, piece.name);
  });
}

}  // namespace pommel::solid
