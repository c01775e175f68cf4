#include "solid/body.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <sstream>
#include <vector>

#include "solid/contour.h"

namespace pommel::solid {

using shape::Face;
using shape::Mortise;
using shape::Part;
using shape::Piece;
using shape::Profile;

namespace {

constexpr double kClearance = 0.5;  // the outline stands off the arris by this where nothing is cut, mm
constexpr double kPastEnds = 1;     // the faces' body runs past the piece by this, mm
constexpr double kSameAngle = 1e-9;

struct Corner {
  double y, z;
};

// The convex polygon cut by one half-plane y cos phi + z sin phi <= d (Sutherland and Hodgman).
std::vector<Corner> clipped(const std::vector<Corner>& polygon, const gp_Dir& n, double d) {
  std::vector<Corner> kept;
  const auto over = [&](const Corner& c) { return c.y * n.Y() + c.z * n.Z() - d; };
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Corner& a = polygon[i];
    const Corner& b = polygon[(i + 1) % polygon.size()];
    const double fa = over(a), fb = over(b);
    if (fa <= 0) kept.push_back(a);
    if ((fa < 0 && fb > 0) || (fa > 0 && fb < 0)) {
      const double s = fa / (fa - fb);
      kept.push_back({a.y + s * (b.y - a.y), a.z + s * (b.z - a.z)});
    }
  }
  return kept;
}

// Faces that stay at one distance all along make one prism: no cutting of prisms with prisms.
TopoDS_Shape polygon_prism(const std::vector<const Face*>& faces, const Extent& e) {
  std::vector<Corner> polygon{{-e.far, -e.far}, {e.far, -e.far}, {e.far, e.far}, {-e.far, e.far}};
  for (const Face* face : faces) polygon = clipped(polygon, across(face->phi), face->d.pieces.front().r0);
  if (polygon.size() < 3) throw Standard_Failure("the faces leave no wood");
  Contour contour(gp_Pnt(e.head, 0, 0), gp_Dir(0, 1, 0), gp_Dir(0, 0, 1), polygon[0].y, polygon[0].z);
  for (std::size_t i = 1; i < polygon.size(); ++i) contour.line_to(polygon[i].y, polygon[i].z);
  return BRepPrimAPI_MakePrism(contour.closed(), gp_Vec(e.foot - e.head, 0, 0)).Shape();
}

bool stays_at_one_distance(const Profile& d) {
  return std::all_of(d.pieces.begin(), d.pieces.end(), [&](const Piece& p) {
    return p.kind == Piece::Kind::line && p.r0 == d.pieces.front().r0 && p.r1 == p.r0;
  });
}

Piece moved_out(Piece piece, double by) {
  piece.r0 += by;
  piece.r1 += by;
  piece.cr += by;
  piece.c[0] += by;
  return piece;
}

// The piece carried on to x0..x1 along its own curve, so that no new edge appears in the plane of the piece's end; an
// arc that does not reach so far is followed by its tangent.
std::vector<Piece> carried_on(const Piece& piece, double x0, double x1) {
  Piece longer = piece;
  longer.x0 = x0;
  longer.x1 = x1;
  switch (piece.kind) {
    case Piece::Kind::clear:
      return {longer};
    case Piece::Kind::line: {
      const double slope = (piece.r1 - piece.r0) / (piece.x1 - piece.x0);
      longer.r0 = x0 == piece.x0 ? piece.r0 : piece.r0 - slope * (piece.x0 - x0);
      longer.r1 = x1 == piece.x1 ? piece.r1 : piece.r1 + slope * (x1 - piece.x1);
      return {longer};
    }
    case Piece::Kind::cubic: {
      const double s = x0 - piece.x0;
      const auto& c = piece.c;
      longer.c = {c[0] + s * (c[1] + s * (c[2] + s * c[3])), c[1] + s * (2 * c[2] + 3 * s * c[3]), c[2] + 3 * s * c[3],
                  c[3]};
      const double h = x1 - x0;
      if (x0 != piece.x0) longer.r0 = longer.c[0];
      if (x1 != piece.x1) longer.r1 = longer.c[0] + h * (longer.c[1] + h * (longer.c[2] + h * longer.c[3]));
      return {longer};
    }
    case Piece::Kind::arc:
      break;
  }
  const double room = 0.95 * piece.rho;
  if (std::abs(x0 - piece.cx) < room && std::abs(x1 - piece.cx) < room) {
    const auto on_circle = [&](double x) {
      return piece.cr + piece.bulge * std::sqrt((piece.rho - x + piece.cx) * (piece.rho + x - piece.cx));
    };
    if (x0 != piece.x0) longer.r0 = on_circle(x0);
    if (x1 != piece.x1) longer.r1 = on_circle(x1);
    return {longer};
  }
  std::vector<Piece> chain{piece};
  const auto tangent = [&](double x) { return std::clamp(piece.slope(x), -1.0, 1.0); };
  if (x0 < piece.x0)
    chain.insert(chain.begin(),
                 shape::line_piece(x0, piece.r0 - tangent(piece.x0) * (piece.x0 - x0), piece.x0, piece.r0));
  if (x1 > piece.x1)
    chain.push_back(shape::line_piece(piece.x1, piece.r1, x1, piece.r1 + tangent(piece.x1) * (x1 - piece.x1)));
  return chain;
}

std::vector<Piece> carried_past_ends(const Profile& d, const Extent& e) {
  std::vector<Piece> pieces;
  for (std::size_t i = 0; i < d.pieces.size(); ++i) {
    const bool first = i == 0, last = i + 1 == d.pieces.size();
    const Piece& p = d.pieces[i];
    if (!first && !last) {
      pieces.push_back(p);
      continue;
    }
    for (const Piece& q : carried_on(p, first ? e.head : p.x0, last ? e.foot : p.x1)) pieces.push_back(q);
  }
  return pieces;
}

// One moving face and, where there is one, the face opposite: their silhouette seen along the face, extruded across.
TopoDS_Shape slab(const Face& face, const Face* opposite, const Extent& e) {
  const gp_Dir s = across(face.phi), t = across(face.phi + std::numbers::pi / 2);
  const std::vector<Piece> above = carried_past_ends(face.d, e);
  const std::vector<Piece> below =
      opposite ? carried_past_ends(opposite->d, e) : std::vector{shape::clear_piece(e.head, e.foot)};
  const double start = below.front().kind == Piece::Kind::clear ? e.far : below.front().r0;
  Contour contour(gp_Pnt(t.XYZ() * -e.far), gp_Dir(1, 0, 0), s, e.head, -start);
  contour.arcs_as_splines();
  for (const Piece& p : above) contour.along(p, e.far);
  for (std::size_t i = below.size(); i-- > 0;) contour.along(below[i], e.far, -1, true);
  return BRepPrimAPI_MakePrism(contour.closed(), gp_Vec(t) * (2 * e.far)).Shape();
}

bool opposite_directions(double a, double b) {
  const double apart = std::remainder(a - b - std::numbers::pi, 2 * std::numbers::pi);
  return std::abs(apart) < kSameAngle;
}

std::vector<TopoDS_Shape> slabs(std::vector<const Face*> moving, const Extent& e) {
  std::vector<TopoDS_Shape> all;
  while (!moving.empty()) {
    const Face* face = moving.front();
    moving.erase(moving.begin());
    const auto other = std::find_if(moving.begin(), moving.end(),
                                    [&](const Face* f) { return opposite_directions(f->phi, face->phi); });
    all.push_back(slab(*face, other == moving.end() ? nullptr : *other, e));
    if (other != moving.end()) moving.erase(other);
  }
  return all;
}

// A pocket that is open at an end of the piece runs past it, lest two planes fall together.
struct Rectangle {
  double x0, x1, t0, t1, radius;
};
Rectangle past_open_ends(Rectangle r, const Part& part, const Extent& e) {
  if (r.radius > 0) return r;
  if (r.x0 <= part.outline.start() + kOnePoint) r.x0 = e.head;
  if (r.x1 >= part.outline.end() - kOnePoint) r.x1 = e.foot;
  return r;
}

// A rectangle in (x, t) with rounded corners, pushed from `floor` outwards past everything.
TopoDS_Shape pocket(double phi, const Rectangle& q, double floor, double far) {
  const gp_Dir n = across(phi), t = across(phi + std::numbers::pi / 2);
  const TopoDS_Face face = rounded_rectangle(gp_Pnt(n.XYZ() * floor), gp_Dir(1, 0, 0), t, q.x0, q.x1, q.t0, q.t1, q.radius);
  return BRepPrimAPI_MakePrism(face, gp_Vec(n) * (far - floor)).Shape();
}

template <class Operation>
Result<TopoDS_Shape> operated(const TopTools_ListOfShape& objects, const TopTools_ListOfShape& tools,
                              const std::stop_token& stop) {
  Operation operation;
  operation.SetArguments(objects);
  operation.SetTools(tools);
  operation.SetRunParallel(true);
  operation.SetNonDestructive(true);
  const Handle(StopWatch) watch = new StopWatch(stop);
  operation.Build(watch->Start());
  if (stop.stop_requested()) return cancelled();
  if (operation.HasErrors() || !operation.IsDone()) {
    std::ostringstream why;
    operation.DumpErrors(why);
    return kernel_failure("cutting one body with another", why.str().c_str());
  }
  return TopoDS_Shape(operation.Shape());
}

}  // namespace

Extent extent_of(const Part& part) {
  Extent e;
  const double reach = shape::reach(part);
  double greatest = reach;
  for (const Piece& p : part.outline.pieces) {
    if (p.kind != Piece::Kind::clear) greatest = std::max(greatest, p.greatest());
  }
  e.clear = reach + kClearance;
  e.far = std::max(greatest, e.clear) + 2;
  e.head = part.outline.start() - kPastEnds;
  e.foot = part.outline.end() + kPastEnds;
  return e;
}

TopoDS_Shape turned_outline(const Part& part, const Extent& extent) {
  const gp_Dir towards = across(part.faces.empty() ? 0 : part.faces.front().phi);
  const gp_Pnt origin(0, 0, 0);
  Contour contour(origin, gp_Dir(1, 0, 0), towards, part.outline.start(), 0);
  for (const Piece& piece : part.outline.pieces) contour.along(piece, extent.clear);
  contour.line_to(part.outline.end(), 0);
  return BRepPrimAPI_MakeRevol(contour.closed(), gp_Ax1(origin, gp_Dir(1, 0, 0)), 2 * std::numbers::pi).Shape();
}

Result<TopoDS_Shape> faced_body(const Part& part, const Extent& extent, double ease, const std::stop_token& stop) {
  std::vector<Face> faces = part.faces;
  for (Face& face : faces) {
    for (Piece& piece : face.d.pieces) piece = moved_out(piece, ease);
  }
  std::vector<const Face*> still, moving;
  for (const Face& face : faces) (stays_at_one_distance(face.d) ? still : moving).push_back(&face);
  std::vector<TopoDS_Shape> bodies = slabs(moving, extent);
  if (!still.empty()) bodies.push_back(polygon_prism(still, extent));
  TopoDS_Shape body = bodies.front();
  for (std::size_t i = 1; i < bodies.size(); ++i) {
    Result<TopoDS_Shape> both = common(body, bodies[i], stop);
    if (!both) return both;
    body = *both;
  }
  return body;
}

const Face* face_towards(const Part& part, double phi) {
  for (const Face& face : part.faces) {
    if (std::abs(std::remainder(face.phi - phi, 2 * std::numbers::pi)) < kSameAngle) return &face;
  }
  return nullptr;
}

Result<TopTools_ListOfShape> mortise_tools(const Part& part, const Mortise& m, const Extent& extent) {
  const Face* face = face_towards(part, m.phi);
  if (!face)
    return fail("solid.mortise", "mortise '" + m.id + "' looks in a direction where the piece has no face",
                "put it on one of the faces");
  const double surface = face->d.value((m.x0 + m.x1) / 2, shape::Side::after);
  if (!std::isfinite(surface))
    return fail("solid.mortise", "mortise '" + m.id + "' lies where its face is not there", "move it onto the face");
  const auto tool = [&](double x0, double depth) {
    return pocket(m.phi, past_open_ends({x0, m.x1, m.t0, m.t1, m.corner_radius}, part, extent), surface - depth,
                  extent.far);
  };
  TopTools_ListOfShape tools;
  tools.Append(tool(m.x0, m.depth));
  if (m.haunch_length > 0 && m.haunch_depth > 0) tools.Append(tool(m.x0 - m.haunch_length, m.haunch_depth));
  return tools;
}

Result<TopoDS_Shape> the_one_solid(const TopoDS_Shape& shape, const std::string& name) {
  TopTools_IndexedMapOfShape solids;
  TopExp::MapShapes(shape, TopAbs_SOLID, solids);
  if (solids.Extent() == 1) return TopoDS_Shape(solids(1));
  return fail("solid.pieces",
              "'" + name + "' would come out as " + std::to_string(solids.Extent()) + " pieces instead of one",
              "look for a mortise or a cut that goes right through");
}

Result<TopoDS_Shape> common(const TopoDS_Shape& object, const TopoDS_Shape& tool, const std::stop_token& stop) {
  TopTools_ListOfShape objects, tools;
  objects.Append(object);
  tools.Append(tool);
  return operated<BRepAlgoAPI_Common>(objects, tools, stop);
}

Result<TopoDS_Shape> fused(const TopoDS_Shape& object, const TopTools_ListOfShape& others, const std::stop_token& stop) {
  TopTools_ListOfShape objects;
  objects.Append(object);
  return operated<BRepAlgoAPI_Fuse>(objects, others, stop);
}

Result<TopoDS_Shape> cut(const TopoDS_Shape& object, const TopTools_ListOfShape& tools, const std::stop_token& stop) {
  TopTools_ListOfShape objects;
  objects.Append(object);
  return operated<BRepAlgoAPI_Cut>(objects, tools, stop);
}

}  // namespace pommel::solid
