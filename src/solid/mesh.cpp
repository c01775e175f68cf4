#include "solid/mesh.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <unordered_map>

#include "solid/kernel.h"
#include "solid/occt_shape.h"

namespace pommel::solid {

namespace {

// Union by smallest, so that the numbering depends on the order of the nodes alone.
class Joined {
 public:
  explicit Joined(std::size_t n) : parent_(n) { std::iota(parent_.begin(), parent_.end(), 0u); }
  std::uint32_t root(std::uint32_t i) {
    while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
    return i;
  }
  void join(std::uint32_t a, std::uint32_t b) {
    a = root(a), b = root(b);
    if (a < b)
      parent_[b] = a;
    else
      parent_[a] = b;
  }

 private:
  std::vector<std::uint32_t> parent_;
};

// Every face brings its own nodes; along an edge all faces carry the same row of nodes, in the order of the edge, and
// its ends belong to the edge's vertices. So the skin is closed by topology, not by comparing coordinates.
class Skin {
 public:
  explicit Skin(const TopoDS_Shape& meshed) {
    TopExp::MapShapes(meshed, TopAbs_FACE, faces_);
    TopExp::MapShapes(meshed, TopAbs_EDGE, edges_);
    TopExp::MapShapes(meshed, TopAbs_VERTEX, vertices_);
  }

  Result<Mesh> mesh() {
    for (int i = 1; i <= vertices_.Extent(); ++i) nodes_.push_back(BRep_Tool::Pnt(TopoDS::Vertex(vertices_(i))));
    for (int i = 1; i <= faces_.Extent(); ++i) add_face(TopoDS::Face(faces_(i)));
    joined_ = std::make_unique<Joined>(nodes_.size());
    for (const Row& row : rows_) join_row(row);
    return numbered();
  }

 private:
  struct Row {
    int edge;
    bool degenerate;
    std::vector<std::uint32_t> nodes;
  };

  // A sliver between two edges that are both one chord has no triangles, and needs none: its neighbours meet along the
  // chord.
  void add_face(const TopoDS_Face& face) {
    TopLoc_Location where;
    const Handle(Poly_Triangulation) triangles = BRep_Tool::Triangulation(face, where);
    if (triangles.IsNull()) return;
    const auto base = static_cast<std::uint32_t>(nodes_.size()) - 1;  // the kernel counts from 1
    for (int i = 1; i <= triangles->NbNodes(); ++i) nodes_.push_back(triangles->Node(i).Transformed(where));
    for (int i = 1; i <= triangles->NbTriangles(); ++i) {
      int a, b, c;
      triangles->Triangle(i).Get(a, b, c);
      if (face.Orientation() == TopAbs_REVERSED) std::swap(b, c);
      corners_.push_back({base + a, base + b, base + c});
    }
    for (TopExp_Explorer it(face, TopAbs_EDGE); it.More(); it.Next())
      add_row(TopoDS::Edge(it.Current()), triangles, where, base);
  }

  // On a seam the two orientations of the edge bring the two rows of the same triangulation.
  void add_row(const TopoDS_Edge& edge, const Handle(Poly_Triangulation) & triangles, const TopLoc_Location& where,
               std::uint32_t base) {
    const Handle(Poly_PolygonOnTriangulation) along = BRep_Tool::PolygonOnTriangulation(edge, triangles, where);
    if (along.IsNull()) return;
    Row row{edges_.FindIndex(edge), static_cast<bool>(BRep_Tool::Degenerated(edge)), {}};
    for (int i = 1; i <= along->NbNodes(); ++i) row.nodes.push_back(base + static_cast<std::uint32_t>(along->Node(i)));
    rows_.push_back(std::move(row));
  }

  // TopExp::Vertices gives the vertex at the lower parameter first, whatever the edge's orientation; rows begin there
  // too.
  void join_row(const Row& row) {
    TopoDS_Vertex first, last;
    TopExp::Vertices(TopoDS::Edge(edges_(row.edge)), first, last);
    const auto vertex = [&](const TopoDS_Vertex& v) { return static_cast<std::uint32_t>(vertices_.FindIndex(v) - 1); };
    if (row.degenerate) {
      for (const std::uint32_t n : row.nodes) joined_->join(vertex(first), n);
      return;
    }
    joined_->join(vertex(first), row.nodes.front());
    joined_->join(vertex(last), row.nodes.back());
    const auto [it, fresh] = leader_.try_emplace(row.edge, &row);
    if (fresh || it->second->nodes.size() != row.nodes.size()) return;
    for (std::size_t i = 0; i < row.nodes.size(); ++i) joined_->join(it->second->nodes[i], row.nodes[i]);
  }

  Result<Mesh> numbered() {
    Mesh mesh;
    constexpr std::uint32_t kNone = ~0u;
    std::vector<std::uint32_t> number(nodes_.size(), kNone);
    for (auto& t : corners_) {
      for (auto& c : t) c = joined_->root(c);
      if (t[0] == t[1] || t[1] == t[2] || t[2] == t[0]) continue;
      std::array<std::uint32_t, 3> named{};
      for (int k = 0; k < 3; ++k) {
        if (number[t[k]] == kNone) {
          number[t[k]] = static_cast<std::uint32_t>(mesh.points.size());
          mesh.points.push_back({nodes_[t[k]].X(), nodes_[t[k]].Y(), nodes_[t[k]].Z()});
        }
        named[k] = number[t[k]];
      }
      mesh.triangles.push_back(named);
    }
    if (const std::string why = broken(mesh); !why.empty()) {
      return fail("solid.mesh", "the skin of triangles does not close: " + why,
                  "try another fineness, and report this part");
    }
    return mesh;
  }

  TopTools_IndexedMapOfShape faces_, edges_, vertices_;
  std::vector<gp_Pnt> nodes_;  // the solid's vertices first
  std::vector<std::array<std::uint32_t, 3>> corners_;
  std::vector<Row> rows_;
  std::unordered_map<int, const Row*> leader_;
  std::unique_ptr<Joined> joined_;
};

std::uint64_t key(std::uint32_t from, std::uint32_t to) {
  return (static_cast<std::uint64_t>(from) << 32) | to;
}

Point minus(const Point& a, const Point& b) {
  return {a.x - b.x, a.y - b.y, a.z - b.z};
}
Point cross(const Point& a, const Point& b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
double dot(const Point& a, const Point& b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}

Result<Laid> laid_once(const Solid& solid, double deflection, double turn, const std::stop_token& stop) {
  // the kernel keeps triangles inside the shape: a copy of the topology keeps ours unchanged
  const TopoDS_Shape copy = BRepBuilderAPI_Copy(topology_of(solid), false, false).Shape();
  IMeshTools_Parameters how;
  how.Deflection = deflection;
  how.Angle = turn;
  how.InParallel = true;
  const Handle(StopWatch) watch = new StopWatch(stop);
  BRepMesh_IncrementalMesh(copy, how, watch->Start());
  if (stop.stop_requested()) return cancelled();
  auto mesh = Skin(copy).mesh();
  if (!mesh.ok()) return mesh.failure();
  return Laid{solid_of(copy), std::move(mesh).value()};
}

void append(const Mesh& mesh, const gp_Trsf& where, Mesh& into) {
  const auto first = static_cast<std::uint32_t>(into.points.size());
  for (const Point& p : mesh.points) {
    const gp_Pnt moved = gp_Pnt(p.x, p.y, p.z).Transformed(where);
    into.points.push_back({moved.X(), moved.Y(), moved.Z()});
  }
  for (const auto& [a, b, c] : mesh.triangles) into.triangles.push_back({a + first, b + first, c + first});
}

}  // namespace

Result<Laid> laid(const Solid& solid, double deflection, double turn, std::stop_token stop) {
  if (!(deflection >= 1e-4 && deflection <= 1e4) || !(turn >= 1e-3 && turn <= 3)) {
    return fail("solid.mesh", "that fineness of triangles makes no sense",
                "give between 0.0001 and 10000 mm, and between 0.001 and 3 radians");
  }
  return guarded("laying triangles", stop, [&]() -> Result<Laid> {
    // where a coarse chord folds a sliver over, a finer one may not; finer is within what was asked for
    Result<Laid> skin = laid_once(solid, deflection, turn, stop);
    for (int finer = 2; !skin && finer <= 8 && !stop.stop_requested(); finer *= 2)
      skin = laid_once(solid, deflection / finer, turn, stop);
    return skin;
  });
}

Result<Mesh> mesh(const Solid& solid, double deflection, double turn, std::stop_token stop) {
  auto made = laid(solid, deflection, turn, std::move(stop));
  if (!made.ok()) return made.failure();
  return std::move(made).value().mesh;
}

Result<Mesh> mesh_all(const std::vector<Solid>& solids, double deflection, double turn, std::stop_token stop) {
  std::map<const TopoDS_TShape*, Mesh> known;
  Mesh all;
  for (const Solid& solid : solids) {
    const TopoDS_Shape& shape = topology_of(solid);
    const auto [at, fresh] = known.try_emplace(shape.TShape().get());
    if (fresh) {
      auto skin = mesh(solid_of(shape.Located(TopLoc_Location())), deflection, turn, stop);
      if (!skin.ok()) return skin.failure();
      at->second = std::move(skin).value();
    }
    append(at->second, shape.Location().Transformation(), all);
  }
  return all;
}

Box bounds(const Mesh& mesh) {
  Box box{mesh.points.front(), mesh.points.front()};
  for (const Point& p : mesh.points) {
    box.low = {std::min(box.low.x, p.x), std::min(box.low.y, p.y), std::min(box.low.z, p.z)};
    box.high = {std::max(box.high.x, p.x), std::max(box.high.y, p.y), std::max(box.high.z, p.z)};
  }
  return box;
}

std::string broken(const Mesh& mesh) {
  std::unordered_map<std::uint64_t, int> runs;
  runs.reserve(mesh.triangles.size() * 3);
  std::vector<char> used(mesh.points.size(), 0);
  for (const auto& t : mesh.triangles) {
    if (t[0] == t[1] || t[1] == t[2] || t[2] == t[0]) return "a triangle uses a vertex twice";
    for (int k = 0; k < 3; ++k) {
      if (t[k] >= mesh.points.size()) return "a triangle names a vertex that is not there";
      used[t[k]] = 1;
      if (++runs[key(t[k], t[(k + 1) % 3])] > 1) return "two triangles run along an edge the same way";
    }
  }
  for (const auto& [edge, n] : runs) {
    if (!runs.count(key(static_cast<std::uint32_t>(edge), static_cast<std::uint32_t>(edge >> 32))))
      return "an edge has a triangle on one side only";
  }
  if (std::find(used.begin(), used.end(), 0) != used.end()) return "a vertex belongs to no triangle";
  if (mesh.triangles.empty()) return "there is no triangle";
  if (signed_volume(mesh) <= 0) return "the triangles point inwards";
  return {};
}

long euler_number(const Mesh& mesh) {
  // a closed skin has three edges a triangle, each shared by two
  const long f = static_cast<long>(mesh.triangles.size());
  return static_cast<long>(mesh.points.size()) - 3 * f / 2 + f;
}

double signed_volume(const Mesh& mesh) {
  double six = 0;
  for (const auto& t : mesh.triangles) six += dot(mesh.points[t[0]], cross(mesh.points[t[1]], mesh.points[t[2]]));
  return six / 6;
}

double area(const Mesh& mesh) {
  double twice = 0;
  for (const auto& t : mesh.triangles) {
    const Point n = cross(minus(mesh.points[t[1]], mesh.points[t[0]]), minus(mesh.points[t[2]], mesh.points[t[0]]));
    twice += std::sqrt(dot(n, n));
  }
  return twice / 2;
}

}  // namespace pommel::solid
