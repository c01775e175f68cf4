#include "solid/contour.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace pommel::solid {

using shape::Piece;

gp_Dir across(double phi) {
  const double quarters = phi / (std::numbers::pi / 2);
  const double whole = std::round(quarters);
  if (std::abs(quarters - whole) > 1e-12) return gp_Dir(0, std::cos(phi), std::sin(phi));
  switch (((static_cast<long>(whole) % 4) + 4) % 4) {
    case 0:
      return gp_Dir(0, 1, 0);
    case 1:
      return gp_Dir(0, 0, 1);
    case 2:
      return gp_Dir(0, -1, 0);
    default:
      return gp_Dir(0, 0, -1);
  }
}

Contour::Contour(gp_Pnt origin, gp_Dir u, gp_Dir v, double a, double b)
    : origin_(origin), u_(u), v_(v), start_a_(a), start_b_(b), a_(a), b_(b) {
  first_ = last_ = BRepBuilderAPI_MakeVertex(point(a, b)).Vertex();
  BRep_Builder().MakeWire(wire_);
}

gp_Pnt Contour::point(double a, double b) const {
  return gp_Pnt(origin_.XYZ() + u_.XYZ() * a + v_.XYZ() * b);
}

// The start's own vertex where the contour comes back to it.
TopoDS_Vertex Contour::end_vertex(double a, double b) const {
  if (edges_ >= 2 && std::hypot(a - start_a_, b - start_b_) < kOnePoint) return first_;
  return BRepBuilderAPI_MakeVertex(point(a, b)).Vertex();
}

bool Contour::stays(double a, double b) {
  const double moved = std::hypot(a - a_, b - b_);
  if (moved >= kOnePoint) return false;
  // the vertex must own up to the point that it stands for
  if (moved > 0.5 * Precision::Confusion()) BRep_Builder().UpdateVertex(last_, 2 * kOnePoint);
  return true;
}

void Contour::add(const TopoDS_Edge& edge, const TopoDS_Vertex& end, double a, double b) {
  BRep_Builder().Add(wire_, edge);
  ++edges_;
  last_ = end;
  a_ = a;
  b_ = b;
}

Contour& Contour::arcs_as_splines() {
  splines_ = true;
  return *this;
}

void Contour::line_to(double a, double b) {
  if (stays(a, b)) return;
  const TopoDS_Vertex end = end_vertex(a, b);
  add(BRepBuilderAPI_MakeEdge(last_, end).Edge(), end, a, b);
}

void Contour::arc_to(double a, double b, double ca, double cb, double rho, bool counter_clockwise) {
  if (stays(a, b)) return;
  const double way = counter_clockwise ? 1 : -1;
  const gp_Dir normal = gp_Dir(u_.Crossed(v_).XYZ() * way);
  const double from = std::atan2(way * (b_ - cb), a_ - ca);
  double to = std::atan2(way * (b - cb), a - ca);
  if (to <= from) to += 2 * std::numbers::pi;
  const Handle(Geom_Circle) circle = new Geom_Circle(gp_Ax2(point(ca, cb), normal, u_), rho);
  const TopoDS_Vertex end = end_vertex(a, b);
  // a radius that is off by a rounding leaves the ends beside the circle by as much; the vertices cover it
  for (const TopoDS_Vertex& one : {last_, end}) {
    const double off = std::abs(BRep_Tool::Pnt(one).Distance(circle->Position().Location()) - rho);
    if (off > 0.5 * Precision::Confusion()) BRep_Builder().UpdateVertex(one, off + Precision::Confusion());
  }
  if (!splines_) return add(BRepBuilderAPI_MakeEdge(circle, last_, end, from, to).Edge(), end, a, b);
  const Handle(Geom_Curve) spline = GeomConvert::CurveToBSplineCurve(new Geom_TrimmedCurve(circle, from, to));
  add(BRepBuilderAPI_MakeEdge(spline, last_, end, spline->FirstParameter(), spline->LastParameter()).Edge(), end, a, b);
}

void Contour::bezier_to(std::array<double, 2> pole1, std::array<double, 2> pole2, double a, double b) {
  if (stays(a, b)) return;
  TColgp_Array1OfPnt poles(1, 4);
  poles(1) = BRep_Tool::Pnt(last_);
  poles(2) = point(pole1[0], pole1[1]);
  poles(3) = point(pole2[0], pole2[1]);
  poles(4) = point(a, b);
  const TopoDS_Vertex end = end_vertex(a, b);
  add(BRepBuilderAPI_MakeEdge(Handle(Geom_Curve)(new Geom_BezierCurve(poles)), last_, end, 0, 1).Edge(), end, a, b);
}

void Contour::along(const Piece& piece, double clear, int sign, bool backwards) {
  const bool is_clear = piece.kind == Piece::Kind::clear;
  const double b0 = sign * (is_clear ? clear : piece.r0), b1 = sign * (is_clear ? clear : piece.r1);
  const double begin = backwards ? b1 : b0, end = backwards ? b0 : b1;
  const double to = backwards ? piece.x0 : piece.x1;
  line_to(backwards ? piece.x1 : piece.x0, begin);
  switch (piece.kind) {
    case Piece::Kind::line:
    case Piece::Kind::clear:
      line_to(to, end);
      break;
    case Piece::Kind::arc:
      // a bulge is the upper half of its circle: clockwise for growing x
      arc_to(to, end, piece.cx, sign * piece.cr, piece.rho, (piece.bulge * sign > 0) == backwards);
      break;
    case Piece::Kind::cubic: {
      // Bernstein coefficients of c0 + c1 u + c2 u² + c3 u³ over [0, h]: x stays linear in the parameter, the curve
      // exact
      const double h = piece.x1 - piece.x0;
      const auto& c = piece.c;
      std::array<double, 2> near{piece.x0 + h / 3, sign * (c[0] + c[1] * h / 3)};
      std::array<double, 2> far{piece.x1 - h / 3, sign * (c[0] + 2 * c[1] * h / 3 + c[2] * h * h / 3)};
      if (backwards) std::swap(near, far);
      bezier_to(near, far, to, end);
      break;
    }
  }
}

TopoDS_Face Contour::closed() {
  line_to(start_a_, start_b_);
  if (!last_.IsSame(first_)) throw Standard_Failure("a contour does not close");
  wire_.Closed(true);
  return BRepBuilderAPI_MakeFace(gp_Pln(origin_, u_.Crossed(v_)), wire_, true).Face();
}

TopoDS_Face rounded_rectangle(gp_Pnt origin, gp_Dir u, gp_Dir v, double a0, double a1, double b0, double b1, double radius) {
  const double r = std::min({radius, (a1 - a0) / 2, (b1 - b0) / 2});
  Contour edge(origin, u, v, a0 + r, b0);
  edge.line_to(a1 - r, b0);
  if (r > 0) edge.arc_to(a1, b0 + r, a1 - r, b0 + r, r, true);
  edge.line_to(a1, b1 - r);
  if (r > 0) edge.arc_to(a1 - r, b1, a1 - r, b1 - r, r, true);
  edge.line_to(a0 + r, b1);
  if (r > 0) edge.arc_to(a0, b1 - r, a0 + r, b1 - r, r, true);
  edge.line_to(a0, b0 + r);
  if (r > 0) edge.arc_to(a0 + r, b0, a0 + r, b0 + r, r, true);
  return edge.closed();
}

}  // namespace pommel::solid
