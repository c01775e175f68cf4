#include "solid/weave.h"

#include <algorithm>
#include <cmath>

#include "solid/kernel.h"

namespace pommel::solid {

namespace {

constexpr double kSewing = 1e-5;  // borders nearer than this are one, mm
constexpr int kMostNodes = 600;

// Slope at t of f on [a, b] from values inside alone; a ten-thousandth of a step makes the error vanish beside the rounding of poles.
template <class F>
auto slope_within(const F& f, double t, double a, double b, double step) -> decltype(f(t)) {
  const double h = 1e-3 * step;
  if (t - h < a) return (f(t) * -3.0 + f(t + h) * 4.0 - f(t + 2 * h)) / (2 * h);
  if (t + h > b) return (f(t) * 3.0 - f(t - h) * 4.0 + f(t - 2 * h)) / (2 * h);
  return (f(t + h) - f(t - h)) / (2 * h);
}

// The two poles of a node: how far they stand from it, in the node's own parameter.
struct Arm {
  std::size_t node;
  double reach;  // thirds of the neighbouring steps
};

std::vector<Arm> arms(const std::vector<double>& at) {
  std::vector<Arm> found;
  for (std::size_t i = 0; i < at.size(); ++i) {
    found.push_back({i, i == 0 ? 0 : -(at[i] - at[i - 1]) / 3});
    found.push_back({i, i + 1 == at.size() ? 0 : (at[i + 1] - at[i]) / 3});
  }
  return found;
}

void set_knots(const std::vector<double>& at, TColStd_Array1OfReal& knots, TColStd_Array1OfInteger& times) {
  for (std::size_t i = 0; i < at.size(); ++i) {
    knots(static_cast<int>(i) + 1) = at[i];
    times(static_cast<int>(i) + 1) = i == 0 || i + 1 == at.size() ? 4 : 2;
  }
}

struct Node {
  gp_XYZ p, u, v, uv;
};

}  // namespace

std::vector<double> steps(double a, double b, int count) {
  std::vector<double> at;
  for (int i = 0; i <= count; ++i) at.push_back(i == count ? b : a + (b - a) * i / count);
  return at;
}

Handle(Geom_BSplineSurface) woven(const Sheet& sheet, const std::vector<double>& us, const std::vector<double>& vs) {
  const double hu = us[1] - us[0], hv = vs[1] - vs[0];
  const auto at = [&](double u, double v) { return sheet(u, v).XYZ(); };
  const auto along_u = [&](double u, double v) {
    return slope_within([&](double s) { return at(s, v); }, u, us.front(), us.back(), hu);
  };
  std::vector<Node> nodes;
  for (const double u : us) {
    for (const double v : vs) {
      nodes.push_back({at(u, v), along_u(u, v),
                       slope_within([&](double t) { return at(u, t); }, v, vs.front(), vs.back(), hv),
                       slope_within([&](double t) { return along_u(u, t); }, v, vs.front(), vs.back(), hv)});
    }
  }
  const std::vector<Arm> over_u = arms(us), over_v = arms(vs);
  TColgp_Array2OfPnt poles(1, static_cast<int>(over_u.size()), 1, static_cast<int>(over_v.size()));
  for (std::size_t i = 0; i < over_u.size(); ++i) {
    for (std::size_t j = 0; j < over_v.size(); ++j) {
      const Node& n = nodes[over_u[i].node * vs.size() + over_v[j].node];
      const double a = over_u[i].reach, b = over_v[j].reach;
      poles(static_cast<int>(i) + 1, static_cast<int>(j) + 1) = gp_Pnt(n.p + n.u * a + n.v * b + n.uv * (a * b));
    }
  }
  const int nu = static_cast<int>(us.size()), nv = static_cast<int>(vs.size());
  TColStd_Array1OfReal knots_u(1, nu), knots_v(1, nv);
  TColStd_Array1OfInteger times_u(1, nu), times_v(1, nv);
  set_knots(us, knots_u, times_u);
  set_knots(vs, knots_v, times_v);
  return new Geom_BSplineSurface(poles, knots_u, knots_v, times_u, times_v, 3, 3);
}

std::vector<double> nodes_within(const Sheet& sheet, double a, double b, const std::vector<double>& vs, double off) {
  for (int count = 1; count < kMostNodes; count *= 2) {
    const std::vector<double> at = steps(a, b, count);
    double worst = 0;
    for (const double v : vs) {
      const auto f = [&](double u) { return sheet(u, v).XYZ(); };
      const auto slope = [&](double u) { return slope_within(f, u, a, b, at[1] - at[0]); };
      for (int i = 0; i < count && worst <= off; ++i) {
        const double h = at[i + 1] - at[i];
        for (const double s : {0.5, 0.21}) {
          const double r = 1 - s;
          const gp_XYZ hermite = f(at[i]) * (r * r * (1 + 2 * s)) + f(at[i + 1]) * (s * s * (1 + 2 * r)) +
                                 slope(at[i]) * (h * s * r * r) - slope(at[i + 1]) * (h * s * s * r);
          worst = std::max(worst, (hermite - f(at[i] + s * h)).Modulus());
        }
      }
    }
    if (worst <= off) return at;
  }
  throw Standard_Failure("a treated stretch is too sharply curved to be drawn");
}

namespace {

TopoDS_Wire border(const std::vector<Handle(Geom_Surface)>& ring, double x) {
  TopTools_ListOfShape edges;
  BRepBuilderAPI_MakeWire wire;
  for (const Handle(Geom_Surface) & surface : ring)
    edges.Append(BRepBuilderAPI_MakeEdge(surface->UIso(x)).Edge());
  wire.Add(edges);
  if (!wire.IsDone()) throw Standard_Failure("the end of a treated stretch does not close");
  return wire.Wire();
}

}  // namespace

TopoDS_Face cap(const std::vector<Handle(Geom_Surface)>& ring, const std::vector<Handle(Geom_Surface)>& hole, double x) {
  const gp_Pln plane(gp_Pnt(x, 0, 0), gp_Dir(1, 0, 0));
  BRepBuilderAPI_MakeFace face(plane, border(ring, x), true);
  if (hole.empty()) return face.Face();
  // the hole runs the other way round, whichever way the ring was laid
  const TopoDS_Face inner = BRepBuilderAPI_MakeFace(plane, border(hole, x), true).Face();
  TopoDS_Wire wire = BRepTools::OuterWire(inner);
  if (inner.Orientation() == face.Face().Orientation()) wire.Reverse();
  face.Add(wire);
  return face.Face();
}

Result<TopoDS_Shape> sewn(const std::vector<TopoDS_Shape>& faces) {
  BRepBuilderAPI_Sewing sewing(kSewing);
  for (const TopoDS_Shape& face : faces) sewing.Add(face);
  sewing.Perform();
  TopExp_Explorer shells(sewing.SewedShape(), TopAbs_SHELL);
  if (!shells.More() || sewing.NbFreeEdges() > 0)
    return fail("solid.sewing", "the faces of a treated stretch do not close", "report this part: its numbers are sound but its skin does not close");
  TopoDS_Solid solid = BRepBuilderAPI_MakeSolid(TopoDS::Shell(shells.Current())).Solid();
  BRepLib::OrientClosedSolid(solid);
  return TopoDS_Shape(solid);
}

TopoDS_Face whole_face(const Handle(Geom_Surface) & surface) {
  return BRepBuilderAPI_MakeFace(surface, Precision::Confusion()).Face();
}

}  // namespace pommel::solid
