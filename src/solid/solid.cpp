#include "solid/solid.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <mutex>
#include <optional>
#include <utility>

#include "base/number.h"
#include "solid/body.h"
#include "solid/joint.h"
#include "solid/occt_shape.h"
#include "solid/treat.h"

namespace pommel::solid {

void be_quiet() {
  static std::once_flag once;
  std::call_once(once, [] { Message::DefaultMessenger()->ChangePrinters().Clear(); });
}

namespace {

// At 1e-5 the kernel's integral was seen off by 2.5e-4, a false alarm at the gate; at 1e-7 by 7e-6; at 1e-9 by 1e-7.
constexpr double kIntegral = 1e-9;

// Where an outline's knot stands at exactly a face's distance, circle and plane touch in a point where surfaces of two
// pieces meet, and the kernel now and then loses a stretch of their intersection: about one degenerate leg in thirty,
// always caught by the volume. Such a part is built once more with its faces drawn this much farther out, so that
// nothing touches, or in, so that what touches crosses: a five-hundredth of a hair, three orders below what the room
// promises.
constexpr double kEases[] = {2e-5, -2e-5, 1e-4, -1e-4};  // mm

// A sound boundary with a shorter edge is the last choice: two flats that all but touch leave such edges, and triangles
// fold there.
constexpr double kShortEdge = 5e-3;  // mm

double shortest_edge(const TopoDS_Shape& shape) {
  double shortest = std::numeric_limits<double>::infinity();
  TopTools_IndexedMapOfShape edges;
  TopExp::MapShapes(shape, TopAbs_EDGE, edges);
  for (int i = 1; i <= edges.Extent(); ++i) {
    const TopoDS_Edge& edge = TopoDS::Edge(edges(i));
    if (BRep_Tool::Degenerated(edge)) continue;
    const BRepAdaptor_Curve curve(edge);
    const double a = curve.FirstParameter(), b = curve.LastParameter();
    const gp_Pnt middle = curve.Value((a + b) / 2);
    shortest = std::min(shortest, curve.Value(a).Distance(middle) + middle.Distance(curve.Value(b)));
  }
  return shortest;
}

// How far the kernel lets curves stand off the surfaces that they bound, mm. It widens this where a cut went badly, and
// then finds the boundary valid.
constexpr double kLooseEdge = 2e-3;

double widest_tolerance(const TopoDS_Shape& shape) {
  double widest = 0;
  for (TopExp_Explorer it(shape, TopAbs_EDGE); it.More(); it.Next())
    widest = std::max(widest, BRep_Tool::Tolerance(TopoDS::Edge(it.Current())));
  return widest;
}

// Treated skins are woven of hundreds of small patches, on which the integral is at home: at 1e-6 it was within 3e-8 of 1e-9, in a fifth
// of the time.
constexpr double kWovenIntegral = 1e-6;

double volume_of(const TopoDS_Shape& shape, double integral = kIntegral) {
  GProp_GProps sums;
  BRepGProp::VolumeProperties(shape, sums, integral);
  return sums.Mass();
}

// All gates in the order of their cost.
Result<Solid> through_gates(const TopoDS_Shape& shape, const shape::Part& part, double wanted) {
  const std::string& name = part.name;
  Result<TopoDS_Shape> one = the_one_solid(shape, name);
  if (!one) return one.failure();
  if (!BRepCheck_Analyzer(*one).IsValid()) {
    return fail("solid.invalid", "the boundary of '" + name + "' does not hold together",
                "report this part: its outline is sound but the modelling kernel fails on it");
  }
  if (const double loose = widest_tolerance(*one); loose > kLooseEdge) {
    return fail("solid.loose",
                "the boundary of '" + name + "' gapes by up to " + format_number(loose, 4) + " mm along an edge",
                "report this part: its outline is sound but the modelling kernel fails on it");
  }
  const double found = volume_of(*one, treated(part) ? kWovenIntegral : kIntegral);
  const double off = std::abs(found - wanted) / wanted;
  if (!(off <= kVolumeGate)) {
    return fail("solid.volume",
                "the solid of '" + name + "' holds " + format_fixed(found, 1) + " mm3, its outline and faces say " +
                    format_fixed(wanted, 1) + " mm3",
                "report this part: one of the two is wrong, so neither is used");
  }
  return solid_of(*one);
}

std::optional<Failure> unsound(const shape::Part& part) {
  const std::vector<Diagnostic> found = shape::problems(part);
  Sink sink;
  sink.add(found);
  if (!sink.has_errors()) return std::nullopt;
  return Failure(found);
}

// A sleeve whose reeds' crowns stand exactly at the round touches it along lines without crossing; a ten-thousandth slimmer they stay clear.
constexpr double kSlimmerReeds = -1e-4;  // mm

Result<TopoDS_Shape> turned_shape(const shape::Part& part, const Extent& extent, double ease,
                                  const std::stop_token& stop) {
  Result<TopoDS_Shape> body = part.twists.empty() ? Result<TopoDS_Shape>(turned_outline(part, extent)) : twisted_outline(part, extent);
  if (!body) return body;
  if (!part.faces.empty()) {
    const Result<TopoDS_Shape> faces = faced_body(part, extent, ease, stop);
    if (!faces) return faces.failure();
    body = common(*body, *faces, stop);
    if (!body) return body;
  }
  Result<TopTools_ListOfShape> tools = reed_tools(part, extent, kSlimmerReeds + ease);
  if (!tools) return tools.failure();
  Result<TopTools_ListOfShape> grooves = flute_tools(part, extent);
  if (!grooves) return grooves.failure();
  tools->Append(*grooves);
  return tools->IsEmpty() ? body : cut(*body, *tools, stop);
}

// Points of the field over the treated stretches against the skin: a treated skin can agree in volume and stand wrong. Four hundred, at the golden
// angle so that no two rows look alike, catch a wrong patch of a two-hundredth of the stretch with odds of six to one.
constexpr int kRadiusPoints = 400;

std::vector<std::pair<double, double>> treated_stretches(const shape::Part& part) {
  std::vector<std::pair<double, double>> found;
  const auto take = [&](const shape::Profile& centre) {
    for (const shape::Piece& piece : centre.pieces)
      if (piece.kind != shape::Piece::Kind::clear) found.push_back({piece.x0, piece.x1});
  };
  for (const shape::Flute& flute : part.flutes) take(flute.centre);
  for (const shape::Reeding& reeds : part.reedings) take(reeds.centre);
  for (const shape::Twist& twist : part.twists) found.push_back({twist.x0, twist.x1});
  return found;
}

std::optional<Failure> radius_off(const shape::Part& part, const Solid& solid) {
  const auto stretches = treated_stretches(part);
  if (stretches.empty()) return std::nullopt;
  Probe probe(solid);
  for (int i = 0; i < kRadiusPoints; ++i) {
    const auto& [a, b] = stretches[static_cast<std::size_t>(i) % stretches.size()];
    const double x = a + (b - a) * std::fmod(0.5 + i * 0.7548776662466927, 1.0), theta = i * 2.399963229728653;
    const double wanted = shape::radius_at(part, x, theta);
    // the field's point a tenth of the gate from the skin: then the ray's end is within the gate but where the skin stands steeper than
    // 84 degrees, and there a ray sees nothing but a step. This is six times cheaper than the ray.
    const Point at{x, wanted * std::cos(theta), wanted * std::sin(theta)};
    const Point near = probe.nearest(at);
    if (std::hypot(near.x - at.x, near.y - at.y, near.z - at.z) <= kRadiusGate / 10) continue;
    const std::optional<double> found = probe.radius(x, theta);
    if (found && std::abs(*found - wanted) <= kRadiusGate) continue;
    return fail("solid.radius", "the skin of '" + part.name + "' stands " + (found ? format_number(*found, 3) : std::string("nowhere")) + " mm from the axis at " +
                                    format_number(x, 2) + " mm, where its treatments say " + format_number(wanted, 3) + " mm",
                "report this part: one of the two is wrong, so neither is used");
  }
  return std::nullopt;
}

// Through all gates at this ease, or why not.
Result<Solid> turned_once(const shape::Part& part, double ease, const std::stop_token& stop) {
  return guarded("turning '" + part.name + "'", stop, [&]() -> Result<Solid> {
    const Result<TopoDS_Shape> shape = turned_shape(part, extent_of(part), ease, stop);
    if (!shape) return shape.failure();
    Result<Solid> solid = through_gates(*shape, part, shape::turned_volume(part));
    if (!solid) return solid;
    if (auto failure = radius_off(part, *solid)) return *failure;
    return solid;
  });
}

}  // namespace

Result<Solid> turned(const shape::Part& part, std::stop_token stop) {
  if (auto failure = unsound(part)) return *failure;
  if (auto failure = undrawable(part)) return *failure;
  Result<Solid> best = turned_once(part, 0, stop);
  if (best && shortest_edge(topology_of(*best)) >= kShortEdge) return best;
  if (part.faces.empty() && part.reedings.empty()) return best;
  for (const double ease : kEases) {
    if (stop.stop_requested()) return cancelled();
    if (best && treated(part)) return best;  // where a flute runs out its edges come to a point: short edges are its nature
    Result<Solid> next = turned_once(part, ease, stop);
    if (next && shortest_edge(topology_of(*next)) >= kShortEdge) return next;
    if (!best) best = next;
  }
  return best;
}

Result<Solid> jointed(const Solid& turned, const shape::Part& part, std::stop_token stop) {
  if (!has_joints(part)) return turned;
  if (auto failure = unsound(part)) return *failure;
  return guarded("mortising '" + part.name + "'", stop, [&]() -> Result<Solid> {
    Result<TopTools_ListOfShape> tools = joint_tools(part, extent_of(part));
    if (!tools) return tools.failure();
    const Result<TopoDS_Shape> shape = cut(topology_of(turned), *tools, stop);
    if (!shape) return shape.failure();
    return through_gates(*shape, part, shape::turned_volume(part) - shape::mortised_volume(part));
  });
}

Result<Solid> jointed(const shape::Part& part, std::stop_token stop) {
  const Result<Solid> whole = turned(part, stop);
  if (!whole) return whole;
  return jointed(*whole, part, stop);
}

Result<Solid> placed(const Solid& solid, const Placement& where) {
  return guarded("placing a piece", {}, [&]() -> Result<Solid> {
    const auto vec = [](const Point& p) { return gp_Vec(p.x, p.y, p.z); };
    const gp_Vec x = vec(where.x), y = vec(where.y), z = x.Crossed(y);
    gp_Trsf move;
    move.SetValues(x.X(), y.X(), z.X(), where.origin.x, x.Y(), y.Y(), z.Y(), where.origin.y, x.Z(), y.Z(), z.Z(),
                   where.origin.z);
    return solid_of(topology_of(solid).Moved(TopLoc_Location(move)));
  });
}

double volume(const Solid& solid) {
  const auto found =
      guarded("measuring a volume", {}, [&]() -> Result<double> { return volume_of(topology_of(solid)); });
  return found ? *found : std::numeric_limits<double>::quiet_NaN();
}

Result<double> shared_volume(const Solid& a, const Solid& b) {
  return guarded("measuring what two pieces share", {}, [&]() -> Result<double> {
    const Result<TopoDS_Shape> both = common(topology_of(a), topology_of(b), {});
    if (!both) return both.failure();
    double sum = 0;
    for (TopExp_Explorer it(*both, TopAbs_SOLID); it.More(); it.Next()) sum += volume_of(it.Current());
    return sum;
  });
}

double area(const Solid& solid) {
  const auto found = guarded("measuring an area", {}, [&]() -> Result<double> {
    GProp_GProps sums;
    BRepGProp::SurfaceProperties(topology_of(solid), sums, kIntegral);
    return sums.Mass();
  });
  return found ? *found : std::numeric_limits<double>::quiet_NaN();
}

Box bounds(const Solid& solid) {
  const auto found = guarded("measuring a box", {}, [&]() -> Result<Box> {
    Bnd_Box box;
    BRepBndLib::AddOptimal(topology_of(solid), box, false, false);
    Box b;
    box.Get(b.low.x, b.low.y, b.low.z, b.high.x, b.high.y, b.high.z);
    return b;
  });
  const double nan = std::numeric_limits<double>::quiet_NaN();
  return found ? *found : Box{{nan, nan, nan}, {nan, nan, nan}};
}

Census census(const Solid& solid) {
  const auto count = [&](TopAbs_ShapeEnum kind) {
    TopTools_IndexedMapOfShape found;
    TopExp::MapShapes(topology_of(solid), kind, found);
    return found.Extent();
  };
  return {count(TopAbs_SOLID), count(TopAbs_SHELL), count(TopAbs_FACE), count(TopAbs_EDGE), count(TopAbs_VERTEX)};
}

}  // namespace pommel::solid
