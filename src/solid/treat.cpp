#include "solid/treat.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "base/number.h"
#include "solid/contour.h"
#include "solid/weave.h"

namespace pommel::solid {

using shape::Part;
using shape::Piece;
using shape::Profile;
using shape::Twist;

namespace {

constexpr double kOff = 1e-3;      // interpolated surfaces stay so near the true ones, mm
constexpr double kPastEnd = 1;     // a groove open at an end of the piece is carried past it by this, mm
constexpr double kNoStep = 1e-6;   // a centre line steps where its pieces' ends differ by more, mm
constexpr double kLeastClear = 1.05;  // a flute's centre stands off the axis by at least this times its radius

using Run = std::vector<Piece>;

// The unbroken stretches of a centre line. One that is open at an end of the piece is carried past it, level.
std::vector<Run> runs(const Profile& centre) {
  std::vector<Run> found;
  bool open = false;
  for (const Piece& piece : centre.pieces) {
    if (piece.kind == Piece::Kind::clear) {
      open = false;
      continue;
    }
    if (!open || std::abs(found.back().back().r1 - piece.r0) > kNoStep) found.emplace_back();
    found.back().push_back(piece);
    open = true;
  }
  for (Run& run : found) {
    const Piece first = run.front(), last = run.back();
    if (first.x0 <= centre.start()) run.insert(run.begin(), shape::line_piece(first.x0 - kPastEnd, first.r0, first.x0, first.r0));
    if (last.x1 >= centre.end()) run.push_back(shape::line_piece(last.x1, last.r1, last.x1 + kPastEnd, last.r1));
  }
  return found;
}

gp_Pnt at(double x, const gp_XYZ& e, double along, const gp_XYZ& t, double aside) {
  const gp_XYZ p = e * along + t * aside;
  return gp_Pnt(x, p.Y(), p.Z());
}

// Straight out from the axis: the same point `k` times as far from it.
gp_Pnt blown(const gp_Pnt& p, double k) {
  return gp_Pnt(p.X(), p.Y() * k, p.Z() * k);
}

// A closed tool grown piece by piece along a run: for each piece a ring of surfaces, all with the piece's nodes.
class Tool {
 public:
  void add(const std::vector<Handle(Geom_Surface)>& ring, const std::vector<Handle(Geom_Surface)>& hole) {
    for (const auto& surface : ring) faces_.push_back(whole_face(surface));
    for (const auto& surface : hole) faces_.push_back(whole_face(surface));
    if (first_.empty()) first_ = ring, first_hole_ = hole;
    last_ = ring, last_hole_ = hole;
  }
  Result<TopoDS_Shape> closed(double x0, double x1) {
    faces_.push_back(cap(first_, first_hole_, x0));
    faces_.push_back(cap(last_, last_hole_, x1));
    return sewn(faces_);
  }

 private:
  std::vector<TopoDS_Shape> faces_;
  std::vector<Handle(Geom_Surface)> first_, first_hole_, last_, last_hole_;
};

// The groove's arc from the point where one ray from the axis touches its circle to the point where the other does; between them and
// the outside the walls stand along these rays, as the field has it.
Result<TopoDS_Shape> flute_tool(const shape::Flute& flute, const Run& run, const Extent& extent) {
  const gp_XYZ e = across(flute.theta).XYZ(), t = across(flute.theta + std::numbers::pi / 2).XYZ();
  const double g = flute.radius;
  double least = run.front().least();
  for (const Piece& piece : run) least = std::min(least, piece.least());
  const double touch = std::sqrt(least * least - g * g);
  const double k = 1.5 * extent.far * least / (touch * touch);  // the chord between the rays is cos(asin(g / c)) as near
  const std::vector<double> vs = steps(-1, 1, 16), out{1, std::max(k, 2.0)};
  Tool tool;
  for (const Piece& piece : run) {
    const Sheet arc = [&](double x, double v) {
      const double c = piece.value(x), phi = v * std::acos(g / c);
      return at(x, e, c - g * std::cos(phi), t, g * std::sin(phi));
    };
    const auto wall = [&](double side) -> Sheet { return [&arc, side](double x, double s) { return blown(arc(x, side), s); }; };
    const Sheet lid = [&](double x, double v) {
      const gp_XYZ a = blown(arc(x, -1), out[1]).XYZ(), b = blown(arc(x, 1), out[1]).XYZ();
      return gp_Pnt(a * ((1 - v) / 2) + b * ((1 + v) / 2));
    };
    const std::vector<double> us = nodes_within(arc, piece.x0, piece.x1, {-1, -0.5, 0}, kOff);
    tool.add({woven(arc, us, vs), woven(wall(1), us, out), woven(lid, us, {-1, 1}), woven(wall(-1), us, out)}, {});
  }
  return tool.closed(run.front().x0, run.back().x1);
}

Result<TopoDS_Shape> reed_tool(const shape::Reeding& reeds, const Run& run, const Extent& extent, double ease) {
  const double alpha = std::numbers::pi / reeds.count, g = reeds.radius + ease;
  double valley = extent.far;
  for (const Piece& piece : run) valley = std::min(valley, piece.least() * std::cos(alpha));
  const double k = std::max(2.0, 1.5 * extent.far / (valley * std::cos(alpha)));
  const std::vector<double> vs = steps(-1, 1, 10);
  Tool tool;
  for (const Piece& piece : run) {
    std::vector<Handle(Geom_Surface)> ring, hole;
    std::vector<double> us;
    for (int i = 0; i < reeds.count; ++i) {
      const double theta = reeds.phase + 2 * alpha * i;
      const gp_XYZ e = across(theta).XYZ(), t = across(theta + std::numbers::pi / 2).XYZ();
      const Sheet reed = [&](double x, double v) {
        const double c = piece.value(x), phi = v * (alpha + std::asin(std::min(1.0, c * std::sin(alpha) / g)));
        return at(x, e, c + g * std::cos(phi), t, g * std::sin(phi));
      };
      const Sheet outside = [&](double x, double v) {
        const double a = v * alpha, r = k * valley;
        return at(x, e, r * std::cos(a), t, r * std::sin(a));
      };
      if (us.empty()) us = nodes_within(reed, piece.x0, piece.x1, {-1, -0.5, 0}, kOff);
      hole.push_back(woven(reed, us, vs));
      ring.push_back(woven(outside, us, vs));
    }
    tool.add(ring, hole);
  }
  return tool.closed(run.front().x0, run.back().x1);
}

template <class Each>
Result<TopTools_ListOfShape> tools_of(const Profile& centre, TopTools_ListOfShape tools, const Each& each) {
  for (const Run& run : runs(centre)) {
    Result<TopoDS_Shape> tool = each(run);
    if (!tool) return tool.failure();
    tools.Append(*tool);
  }
  return tools;
}

std::optional<Failure> undrawable_flute(const shape::Flute& flute) {
  for (const Run& run : runs(flute.centre)) {
    for (const Piece& piece : run) {
      if (piece.least() >= kLeastClear * flute.radius) continue;
      return fail("solid.flute", "a flute of radius " + format_number(flute.radius, 3) + " mm has its centre " + format_number(piece.least(), 3) + " mm from the axis: the solid cannot be drawn",
                  "make it shallower, or its radius smaller");
    }
  }
  return std::nullopt;
}

std::optional<Failure> undrawable_reeds(const shape::Reeding& reeds) {
  const double half = std::sin(std::numbers::pi / std::max(reeds.count, 1));
  for (const Run& run : runs(reeds.centre)) {
    for (const Piece& piece : run) {
      if (reeds.count >= 3 && piece.least() > 0 && reeds.radius > piece.greatest() * half) continue;
      return fail("solid.reeds", std::to_string(reeds.count) + " reeds of radius " + format_number(reeds.radius, 3) + " mm do not meet side by side: the solid cannot be drawn",
                  "take at least three, and a radius that reaches its neighbours");
    }
  }
  return std::nullopt;
}

Piece part_of_piece(const Piece& piece, double x0, double x1) {
  Piece cut = piece;
  cut.x0 = x0, cut.x1 = x1;
  if (x0 > piece.x0) cut.r0 = piece.value(x0);
  if (x1 < piece.x1) cut.r1 = piece.value(x1);
  const double s = x0 - piece.x0;
  const auto& c = piece.c;
  if (piece.kind == Piece::Kind::cubic)
    cut.c = {c[0] + s * (c[1] + s * (c[2] + s * c[3])), c[1] + s * (2 * c[2] + 3 * s * c[3]), c[2] + 3 * s * c[3], c[3]};
  return cut;
}

// The outline's pieces between a and b, those at the ends shortened.
std::vector<Piece> between(const Profile& outline, double a, double b) {
  std::vector<Piece> found;
  for (const Piece& piece : outline.pieces) {
    const double x0 = std::max(a, piece.x0), x1 = std::min(b, piece.x1);
    if (x1 - x0 > kOnePoint) found.push_back(part_of_piece(piece, x0, x1));
  }
  return found;
}

std::optional<Failure> undrawable_twist(const Part& part, const Twist& twist) {
  const auto refuse = [&](const std::string& why) {
    return fail("solid.twist", "the twist from " + format_number(twist.x0, 1) + " to " + format_number(twist.x1, 1) + " mm " + why + ": the solid cannot be drawn",
                "let it lie on one unbroken turned stretch");
  };
  const std::vector<Piece> pieces = between(part.outline, twist.x0, twist.x1);
  if (pieces.empty() || !(twist.fade0 > 0 && twist.fade1 > 0 && twist.fade0 + twist.fade1 <= twist.x1 - twist.x0 + kOnePoint) || twist.pitch == 0 || twist.starts < 1)
    return refuse("has no length, no pitch, no starts or no room to fade");
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (pieces[i].kind == Piece::Kind::clear) return refuse("runs onto a stretch that is not turned");
    if (i > 0 && std::abs(pieces[i].r0 - pieces[i - 1].r1) > kOnePoint) return refuse("runs over a step");
  }
  return std::nullopt;
}

double faded(double u) {
  return u >= 1 ? 1 : u * u * (3 - 2 * u);
}

// Four quarters of a turn for each stretch on which the outline is one piece and the fading one cubic.
void add_twist(const Part& part, const Twist& twist, std::vector<TopoDS_Shape>& faces) {
  std::vector<double> breaks{twist.x0, twist.x0 + twist.fade0, twist.x1 - twist.fade1, twist.x1};
  const std::vector<Piece> pieces = between(part.outline, twist.x0, twist.x1);
  for (const Piece& piece : pieces) breaks.push_back(piece.x0);
  std::sort(breaks.begin(), breaks.end());
  for (std::size_t i = 0; i + 1 < breaks.size(); ++i) {
    const double a = breaks[i], b = breaks[i + 1];
    if (b - a <= kOnePoint) continue;
    const Piece& piece = *std::find_if(pieces.begin(), pieces.end(), [&](const Piece& p) { return (a + b) / 2 < p.x1; });
    const Sheet skin = [&](double x, double theta) {
      const double psi = twist.phase + 2 * std::numbers::pi * (x - twist.x0) / twist.pitch;
      const double f = faded((x - twist.x0) / twist.fade0) * faded((twist.x1 - x) / twist.fade1);
      const double r = piece.value(x) - twist.depth * f * (1 - std::cos(twist.starts * (theta - psi))) / 2;
      return gp_Pnt(x, r * std::cos(theta), r * std::sin(theta));
    };
    const std::vector<double> us = nodes_within(skin, a, b, steps(0, 2 * std::numbers::pi, 12), kOff);
    for (int quarter = 0; quarter < 4; ++quarter) {
      const double from = quarter * std::numbers::pi / 2;
      const int count = std::max(20, 8 * twist.starts);  // on the circle at its ends 20 * (pi/40)^4 / 384 = 2e-6 mm off
      faces.push_back(whole_face(woven(skin, us, steps(from, from + std::numbers::pi / 2, count))));
    }
  }
}

// The revolved skin of the outline between a and b, closed on the axis where it is an end of the piece; quartered, as the twists are.
void add_round(const Part& part, const Extent& extent, double a, double b, double start_r, double end_r, std::vector<TopoDS_Shape>& faces) {
  const gp_Pnt origin(0, 0, 0);
  const double half = std::numbers::pi / 2;
  const bool head = a <= part.outline.start(), foot = b >= part.outline.end();
  for (int quarter = 0; quarter < 4; ++quarter) {
    Contour contour(origin, gp_Dir(1, 0, 0), across(quarter * half), a, head ? 0 : start_r);
    for (const Piece& piece : between(part.outline, a, b)) contour.along(piece, extent.clear);
    contour.line_to(b, foot ? 0 : end_r);
    faces.push_back(BRepPrimAPI_MakeRevol(contour.open(), gp_Ax1(origin, gp_Dir(1, 0, 0)), half).Shape());
  }
}

}  // namespace

std::optional<Failure> undrawable(const Part& part) {
  for (const shape::Flute& flute : part.flutes)
    if (auto failure = undrawable_flute(flute)) return failure;
  for (const shape::Reeding& reeds : part.reedings)
    if (auto failure = undrawable_reeds(reeds)) return failure;
  for (const Twist& twist : part.twists)
    if (auto failure = undrawable_twist(part, twist)) return failure;
  return std::nullopt;
}

Result<TopTools_ListOfShape> flute_tools(const Part& part, const Extent& extent) {
  TopTools_ListOfShape all;
  for (const shape::Flute& flute : part.flutes) {
    Result<TopTools_ListOfShape> more = tools_of(flute.centre, {}, [&](const Run& run) { return flute_tool(flute, run, extent); });
    if (!more) return more;
    all.Append(*more);
  }
  return all;
}

Result<TopTools_ListOfShape> reed_tools(const Part& part, const Extent& extent, double ease) {
  TopTools_ListOfShape all;
  for (const shape::Reeding& reeds : part.reedings) {
    Result<TopTools_ListOfShape> more = tools_of(reeds.centre, {}, [&](const Run& run) { return reed_tool(reeds, run, extent, ease); });
    if (!more) return more;
    all.Append(*more);
  }
  return all;
}

Result<TopoDS_Shape> twisted_outline(const Part& part, const Extent& extent) {
  std::vector<Twist> twists = part.twists;
  std::sort(twists.begin(), twists.end(), [](const Twist& a, const Twist& b) { return a.x0 < b.x0; });
  std::vector<TopoDS_Shape> faces;
  double from = part.outline.start(), r = 0;
  for (const Twist& twist : twists) {
    const std::vector<Piece> pieces = between(part.outline, twist.x0, twist.x1);
    const auto disc = [&](double x, double radius) {
      faces.push_back(BRepBuilderAPI_MakeFace(gp_Pln(gp_Pnt(x, 0, 0), gp_Dir(1, 0, 0)),
                                              BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(gp_Circ(gp_Ax2(gp_Pnt(x, 0, 0), gp_Dir(1, 0, 0), gp_Dir(0, 1, 0)), radius)).Edge()).Wire()).Face());
    };
    if (twist.x0 > from + kOnePoint) add_round(part, extent, from, twist.x0, r, pieces.front().r0, faces);
    else if (twist.x0 <= part.outline.start()) disc(twist.x0, pieces.front().r0);
    add_twist(part, twist, faces);
    from = twist.x1, r = pieces.back().r1;
    if (from >= part.outline.end() - kOnePoint) disc(from, r);
  }
  if (from < part.outline.end() - kOnePoint) add_round(part, extent, from, part.outline.end(), r, 0, faces);
  return sewn(faces);
}

}  // namespace pommel::solid
