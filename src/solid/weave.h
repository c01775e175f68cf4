// Private: surfaces through a grid of points and tangents, and closed bodies sewn from them. What flutes, reeds and twists are made of:
// their sections are arcs or waves that no single surface of the kernel draws where their centre follows a curve.
#pragma once

#include <functional>
#include <vector>

#include "base/result.h"
#include "solid/occt.h"

namespace pommel::solid {

/// A point of a surface; u along the piece, v across.
using Sheet = std::function<gp_Pnt(double u, double v)>;

/// The bicubic surface that has the sheet's points, tangents and twist at every pair of nodes: error h⁴/384 times the fourth derivative
/// in each direction (the remainder of Hermite's interpolation), once continuously differentiable. Two sheets that agree along a border,
/// with the same nodes there, give the same border. REQUIRES: at least two growing nodes each way; the sheet is smooth between the first
/// and the last of them, and is not asked outside.
Handle(Geom_BSplineSurface) woven(const Sheet& sheet, const std::vector<double>& us, const std::vector<double>& vs);

/// `count` equal steps from a to b, both ends exact.
std::vector<double> steps(double a, double b, int count);

/// Nodes on [a, b], so close that Hermite's cubics through them stay within `off` mm of the sheet along each of the lines v.
std::vector<double> nodes_within(const Sheet& sheet, double a, double b, const std::vector<double>& vs, double off);

/// A plane face at u across the ends of surfaces, whose borders there join in the order given to a ring; `hole` likewise.
TopoDS_Face cap(const std::vector<Handle(Geom_Surface)>& ring, const std::vector<Handle(Geom_Surface)>& hole, double x);

/// One closed solid, right side out, or "solid.sewing".
Result<TopoDS_Shape> sewn(const std::vector<TopoDS_Shape>& faces);

TopoDS_Face whole_face(const Handle(Geom_Surface) & surface);

}  // namespace pommel::solid
