// Nearest points by box-ordered search: every face, edge and vertex of the boundary stands in a box; boxes are opened
// nearest first until the next is farther than the best point found. Most questions open two or three.
//
// Where a point is as far from a whole circle of a revolved face (a point on the axis), the kernel's face solver has no
// isolated answer and gives none; the circle then crosses the face's seam or its border, and the edge solver finds it.
#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "solid/contour.h"
#include "solid/kernel.h"
#include "solid/occt_shape.h"

namespace pommel::solid {

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kSquare = 0.9999;    // cosine; of a nearest point within a face it is 1
constexpr double kOnBoundary = 1e-9;  // nearer than this a side has no meaning, mm

struct Found {
  double square = kInfinity;
  gp_Pnt at;
  int side = 0;  // +1 outside, -1 inside as told by a face's normal; 0: the classifier must say
};

double square_distance(const Bnd_Box& box, const gp_Pnt& p) {
  double lo[3], hi[3];
  box.Get(lo[0], lo[1], lo[2], hi[0], hi[1], hi[2]);
  double sum = 0;
  for (int k = 0; k < 3; ++k) {
    const double c = p.Coord(k + 1);
    const double out = std::max({0.0, lo[k] - c, c - hi[k]});
    sum += out * out;
  }
  return sum;
}

Bnd_Box box_of(const TopoDS_Shape& shape) {
  Bnd_Box box;
  BRepBndLib::Add(shape, box, false);
  return box;
}

class FaceSearch {
 public:
  explicit FaceSearch(const TopoDS_Face& face)
      : box(box_of(face)),
        surface_(face),
        inside_(face, Precision::Confusion()),
        outward_(face.Orientation() == TopAbs_REVERSED ? -1 : 1) {
    double u0, u1, v0, v1;
    BRepTools::UVBounds(face, u0, u1, v0, v1);
    extrema_.SetFlag(Extrema_ExtFlag_MIN);
    extrema_.Initialize(surface_, u0, u1, v0, v1, Precision::Confusion(), Precision::Confusion());
  }

  void improve(const gp_Pnt& p, Found& best) {
    extrema_.Perform(p);
    if (!extrema_.IsDone()) return;
    for (int i = 1; i <= extrema_.NbExt(); ++i) {
      if (extrema_.SquareDistance(i) >= best.square) continue;
      double u, v;
      extrema_.Point(i).Parameter(u, v);
      const TopAbs_State state = inside_.Perform(gp_Pnt2d(u, v));
      if (state != TopAbs_IN && state != TopAbs_ON) continue;
      best = {extrema_.SquareDistance(i), extrema_.Point(i).Value(), side(p, u, v)};
    }
  }

  const Bnd_Box box;

 private:
  int side(const gp_Pnt& p, double u, double v) const {
    gp_Pnt at;
    gp_Vec du, dv;
    surface_.D1(u, v, at, du, dv);
    const gp_Vec normal = du.Crossed(dv) * outward_;
    const double along = normal.Dot(gp_Vec(at, p));
    // An answer on the face's border need not be square to it: beside a rim the face that bends away would tell the wrong side.
    if (normal.Magnitude() < 1e-9 || std::abs(along) < kSquare * normal.Magnitude() * at.Distance(p)) return 0;
    return along > 0 ? 1 : -1;
  }

  BRepAdaptor_Surface surface_;
  BRepTopAdaptor_FClass2d inside_;
  Extrema_ExtPS extrema_;
  double outward_;
};

class EdgeSearch {
 public:
  explicit EdgeSearch(const TopoDS_Edge& edge) : box(box_of(edge)), curve_(edge) {
    extrema_.Initialize(curve_, curve_.FirstParameter(), curve_.LastParameter());
  }

  void improve(const gp_Pnt& p, Found& best) {
    extrema_.Perform(p);
    if (!extrema_.IsDone()) return;
    for (int i = 1; i <= extrema_.NbExt(); ++i) {
      if (extrema_.SquareDistance(i) < best.square) best = {extrema_.SquareDistance(i), extrema_.Point(i).Value(), 0};
    }
  }

  const Bnd_Box box;

 private:
  BRepAdaptor_Curve curve_;
  Extrema_ExtPC extrema_;
};

}  // namespace

struct Probe::Inside {
  explicit Inside(const TopoDS_Shape& shape) : whole(shape), classifier(shape) {
    rays.Load(shape, kOnePoint);
    TopTools_IndexedMapOfShape all;
    TopExp::MapShapes(shape, TopAbs_FACE, all);
    for (int i = 1; i <= all.Extent(); ++i) faces.push_back(std::make_unique<FaceSearch>(TopoDS::Face(all(i))));
    all.Clear();
    TopExp::MapShapes(shape, TopAbs_EDGE, all);
    for (int i = 1; i <= all.Extent(); ++i) {
      const TopoDS_Edge& edge = TopoDS::Edge(all(i));
      if (!BRep_Tool::Degenerated(edge)) edges.push_back(std::make_unique<EdgeSearch>(edge));
    }
    all.Clear();
    TopExp::MapShapes(shape, TopAbs_VERTEX, all);
    for (int i = 1; i <= all.Extent(); ++i) vertices.push_back(BRep_Tool::Pnt(TopoDS::Vertex(all(i))));
  }

  // Vertices first: they are cheap and bound the search. Then the nearest boxes.
  Found nearest(const gp_Pnt& p) {
    Found best;
    for (const gp_Pnt& v : vertices) {
      if (const double d = v.SquareDistance(p); d < best.square) best = {d, v, 0};
    }
    queue.clear();
    for (std::size_t i = 0; i < faces.size() + edges.size(); ++i) {
      const Bnd_Box& box = i < faces.size() ? faces[i]->box : edges[i - faces.size()]->box;
      if (const double d = square_distance(box, p); d < best.square) queue.push_back({d, i});
    }
    std::sort(queue.begin(), queue.end());
    for (const auto& [box_distance, i] : queue) {
      if (box_distance >= best.square) break;
      if (i < faces.size())
        faces[i]->improve(p, best);
      else
        edges[i - faces.size()]->improve(p, best);
    }
    return best;
  }

  int side(const gp_Pnt& p, const Found& found) {
    if (found.side != 0) return found.side;
    classifier.Perform(p, kOnBoundary);
    return classifier.State() == TopAbs_IN ? -1 : 1;
  }

  TopoDS_Shape whole;
  BRepClass3d_SolidClassifier classifier;
  IntCurvesFace_ShapeIntersector rays;
  std::vector<std::unique_ptr<FaceSearch>> faces;
  std::vector<std::unique_ptr<EdgeSearch>> edges;
  std::vector<gp_Pnt> vertices;
  std::vector<std::pair<double, std::size_t>> queue;
};

Probe::Probe(const Solid& solid) {
  be_quiet();
  inside_ = std::make_unique<Inside>(topology_of(solid));
}
Probe::~Probe() = default;
Probe::Probe(Probe&&) noexcept = default;
Probe& Probe::operator=(Probe&&) noexcept = default;

std::optional<double> Probe::radius(double x, double theta) {
  if (!std::isfinite(x) || !std::isfinite(theta)) return std::nullopt;
  const auto found = guarded("shooting a ray", {}, [&]() -> Result<double> {
    inside_->rays.Perform(gp_Lin(gp_Pnt(x, 0, 0), across(theta)), 0, RealLast());
    double farthest = -1;
    for (int i = 1; i <= inside_->rays.NbPnt(); ++i) farthest = std::max(farthest, inside_->rays.WParameter(i));
    return farthest;
  });
  if (!found || *found < 0) return std::nullopt;
  return *found;
}

double Probe::distance(const Point& from) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const gp_Pnt p(from.x, from.y, from.z);
  if (!std::isfinite(from.x) || !std::isfinite(from.y) || !std::isfinite(from.z)) return nan;
  const auto found = guarded("measuring a distance", {}, [&]() -> Result<double> {
    const Found best = inside_->nearest(p);
    const double d = std::sqrt(best.square);
    return d < kOnBoundary ? 0 : d * inside_->side(p, best);
  });
  return found ? *found : nan;
}

Point Probe::nearest(const Point& from) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const auto found = guarded("looking for the nearest point", {}, [&]() -> Result<Point> {
    const gp_Pnt at = inside_->nearest(gp_Pnt(from.x, from.y, from.z)).at;
    return Point{at.X(), at.Y(), at.Z()};
  });
  return found ? *found : Point{nan, nan, nan};
}

}  // namespace pommel::solid
