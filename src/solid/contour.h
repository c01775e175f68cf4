// Private: a closed outline of lines, arcs and cubics in a plane, as one planar face of the kernel.
#pragma once

#include <array>

#include "shape/profile.h"
#include "solid/occt.h"

namespace pommel::solid {

/// Points nearer than this are one vertex, mm: above the kernel's own 1e-7, far below anything a maker can measure.
inline constexpr double kOnePoint = 1e-6;

/// The unit vector across the piece at angle phi from +Y towards +Z; exact at quarter turns.
gp_Dir across(double phi);

/// Coordinates (a, b) lie in the plane through `origin` along the unit vectors u and v, which stand at right angles.
/// Neighbouring edges share their vertex, so that what is swept from the face is closed without any sewing.
class Contour {
 public:
  Contour(gp_Pnt origin, gp_Dir u, gp_Dir v, double a, double b);

  /// Draws arcs as rational B-splines, exact too: swept straight, they are surfaces that the kernel cuts with cones
  /// reliably. As cylinders of large radius some of those cuts came out as straight lines, a millimetre off.
  Contour& arcs_as_splines();

  void line_to(double a, double b);
  /// Along the circle about (ca, cb); counter-clockwise as seen with u to the right and v up.
  void arc_to(double a, double b, double ca, double cb, double rho, bool counter_clockwise);
  /// The cubic Bezier curve with these two inner poles.
  void bezier_to(std::array<double, 2> pole1, std::array<double, 2> pole2, double a, double b);

  /// Along a profile's piece from where the contour stands, in direction of growing x or, `backwards`, of falling x.
  /// `sign` -1 mirrors it to b = -r(a). A clear piece is drawn at `clear`. A wall is drawn first where the piece does
  /// not begin where the contour stands.
  void along(const shape::Piece& piece, double clear, int sign = 1, bool backwards = false);

  /// Back to the start by a straight line, if need be.
  TopoDS_Face closed();

  /// As far as it has been drawn.
  TopoDS_Wire open() const { return wire_; }

 private:
  gp_Pnt point(double a, double b) const;
  bool stays(double a, double b);
  void add(const TopoDS_Edge& edge, const TopoDS_Vertex& end, double a, double b);
  TopoDS_Vertex end_vertex(double a, double b) const;

  gp_Pnt origin_;
  gp_Dir u_, v_;
  double start_a_, start_b_, a_, b_;
  TopoDS_Vertex first_, last_;
  TopoDS_Wire wire_;
  int edges_ = 0;
  bool splines_ = false;
};

/// A rectangle a0..a1, b0..b1 in the plane of u and v, its corners rounded by at most half of a side; 0: square.
TopoDS_Face rounded_rectangle(gp_Pnt origin, gp_Dir u, gp_Dir v, double a0, double a1, double b0, double b1, double radius);

}  // namespace pommel::solid
