#include "job/assembly.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

#include "solid/straight.h"

namespace pommel::job {
namespace {

using frame::Member;
using frame::Spot;
using solid::Bar;
using solid::NamedSolid;
using solid::Point;

Point operator-(const Spot& a, const Spot& b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
double dot(const Point& a, const Point& b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
Point cross(const Point& a, const Point& b) { return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x}; }
Point scaled(const Point& a, double by) { return {a.x * by, a.y * by, a.z * by}; }
Point unit(const Point& a) { return scaled(a, 1 / std::sqrt(dot(a, a))); }

// The kind's first member turned back by `quarters`, so that it is this one, and hung in its place.
solid::Placement hung(const Member& member, int quarters) {
  const Spot head = frame::in_room(member.stand, 0, 0, 0);
  const int at = ((-quarters % 4) + 4) % 4;
  const double y = at == 0 ? 1 : at == 2 ? -1 : 0, z = at == 1 ? 1 : at == 3 ? -1 : 0;
  return {{head.x, head.y, head.z}, frame::in_room(member.stand, 1, 0, 0) - head, frame::in_room(member.stand, 0, y, z) - head};
}

// A straight piece being built: its place, and the room's points in its own coordinates.
struct Laid {
  solid::Placement where;
  solid::Straight piece;

  Point own(const Spot& spot) const {
    const Point from{spot.x - where.origin.x, spot.y - where.origin.y, spot.z - where.origin.z};
    return {dot(from, where.x), dot(from, where.y), dot(from, cross(where.x, where.y))};
  }
  Point own_way(const Point& way) const { return {dot(way, where.x), dot(way, where.y), dot(way, cross(where.x, where.y))}; }
};

// x from start to end, z up (or square to the pitch), y across.
Laid laid(const std::string& name, const Spot& start, const Spot& end) {
  const Point along = unit(end - start), across = unit(cross({0, 0, 1}, along));
  return {{{start.x, start.y, start.z}, along, across}, {name, {}, {}, {}, {}}};
}

const Member* member_of(const frame::Set& set, const std::string& id) {
  const auto found = std::find_if(set.members.begin(), set.members.end(), [&](const Member& member) { return member.id == id; });
  return found == set.members.end() ? nullptr : &*found;
}

bool takes_a_plate(const shape::Mortise& mortise) { return mortise.id.starts_with("plate-"); }
bool takes_a_tenon(const shape::Mortise& mortise) { return !takes_a_plate(mortise) && !mortise.id.starts_with("slot-"); }

// A straight piece's end where it meets a post.
struct End {
  const Member& member;
  const frame::Rail& rail;
  int way = 0;  ///< -1 at the start, 1 at the end

  double shoulder() const { return way < 0 ? 0 : rail.shoulder_length; }
  Bar out_to(double length) const {
    const double to = shoulder() + way * length;
    return {std::min(shoulder(), to), std::max(shoulder(), to), 0, 0, 0, 0, 0};
  }
};

// `bar` as high and wide as the mortise from x0 on, in the piece's own coordinates.
Bar across(Bar bar, const End& end, const shape::Mortise& m, double x0, const Laid& into) {
  const double c = std::cos(m.phi), s = std::sin(m.phi);
  const auto corner = [&](double x, double t) { return into.own(frame::in_room(end.member.stand, x, -t * s, t * c)); };
  const Point a = corner(x0, m.t0), b = corner(m.x1, m.t1);
  std::tie(bar.y0, bar.y1) = std::minmax({a.y, b.y});
  std::tie(bar.z0, bar.z1) = std::minmax({a.z, b.z});
  bar.corner = m.corner_radius;
  return bar;
}

// The tenon of a mortise, cut to the height z0..z1 of a board.
void add_tenon(const End& end, const shape::Mortise& m, double z0, double z1, Laid& into) {
  const auto bar = [&](double x0, double length) {
    Bar out = across(end.out_to(length), end, m, x0, into);
    if (out.z0 < z0 - 1e-9 || out.z1 > z1 + 1e-9) out.corner = 0;
    out.z0 = std::max(out.z0, z0);
    out.z1 = std::min(out.z1, z1);
    if (out.z1 - out.z0 > 1e-6) into.piece.bars.push_back(out);
  };
  const frame::Rail& rail = end.rail;
  bar(m.x0, rail.tenon_length);
  if (rail.haunch_length > 0 && rail.haunch_depth > 0) bar(m.x0 - rail.haunch_length, rail.haunch_depth);
}

// A hook plate's fellow lies flush in the rail's end, as deep as the plate in the post.
void add_recess(const End& end, const shape::Mortise& plate, Laid& into) {
  Bar recess = across(end.out_to(-plate.depth), end, plate, plate.x0, into);
  (end.way < 0 ? recess.x0 : recess.x1) += end.way;  // open at the end
  into.piece.grooves.push_back(recess);
}

// Holes for the bolts that come through the post, to the middles of their nuts.
void add_bolt_holes(const End& end, Laid& into) {
  const double out = end.rail.tenon_length + 1;
  for (const shape::Bore& bore : end.member.part.bores) {
    if (bore.mate != end.rail.id) continue;
    Point from = into.own(frame::in_room(end.member.stand, bore.x, -bore.t * std::sin(bore.phi), bore.t * std::cos(bore.phi)));
    from.x = end.shoulder() + end.way * out;
    into.piece.drills.push_back({from, {static_cast<double>(-end.way), 0, 0}, bore.diameter, out + end.rail.bolt_reach});
  }
}

// Tenons of two rails in one leg end on the plane through the leg's axis and its outer corner.
void add_mitre(const Member& member, const frame::Rail& rail, Laid& into) {
  const Spot& head = member.stand.head;
  const Spot middle{(rail.start.x + rail.end.x) / 2, (rail.start.y + rail.end.y) / 2, head.z};
  const double sx = head.x < 0 ? -1 : 1, sy = head.y < 0 ? -1 : 1, half = std::numbers::sqrt2 / 2;
  Point away{-sy * half, sx * half, 0};
  if (dot(away, middle - head) > 0) away = scaled(away, -1);
  into.piece.saw_cuts.push_back({into.own(head), into.own_way(away)});
}

// Rails and boards from one post to the next. Boards of a panel stand one on the other.
std::vector<Laid> between_posts(const frame::Set& set) {
  std::vector<Laid> out;
  for (const frame::Rail& rail : set.rails) {
    const double all = rail.depth * rail.quantity;
    for (int i = 0; i < rail.quantity; ++i) {
      Laid piece = laid(rail.label + (rail.quantity > 1 ? " " + std::to_string(i + 1) : ""), rail.start, rail.end);
      const double z0 = -all / 2 + i * rail.depth, z1 = z0 + rail.depth;
      piece.piece.bars.push_back({0, rail.shoulder_length, -rail.thickness / 2, rail.thickness / 2, z0, z1, 0});
      for (const int way : {-1, 1}) {
        const Member* member = member_of(set, way < 0 ? rail.from : rail.to);
        if (!member) continue;
        const End end{*member, rail, way};
        for (const shape::Mortise& mortise : member->part.mortises) {
          if (mortise.mate != rail.id) continue;
          if (takes_a_tenon(mortise)) add_tenon(end, mortise, z0, z1, piece);
          else if (takes_a_plate(mortise)) add_recess(end, mortise, piece);
        }
        if (rail.bolt_reach > 0) add_bolt_holes(end, piece);
        if (rail.mitred) add_mitre(*member, rail, piece);
      }
      out.push_back(std::move(piece));
    }
  }
  return out;
}

std::vector<Laid> straight_pieces(const frame::Table&, const frame::Set& set) { return between_posts(set); }
std::vector<Laid> straight_pieces(const frame::Bed&, const frame::Set& set) { return between_posts(set); }

// A plumb hole for each pinned head, as wide as the pin and to its end.
void add_pin_holes(const frame::Stair& stair, const frame::Set& set, double length, Laid& rail) {
  if (stair.head != frame::BalusterHead::pin) return;
  for (const Member& member : set.members) {
    if (member.spare) continue;
    const Spot& head = member.stand.head;
    const Point top = rail.own(head);
    if (top.x < -stair.rail_depth || top.x > length + stair.rail_depth) continue;
    double radius = 0;
    for (const shape::Piece& piece : shape::pieces_within(member.part.outline, 0, stair.top_pin)) radius = std::max(radius, piece.greatest());
    const double deep = stair.top_pin + stair.rail_depth;  // from below the rail
    rail.piece.drills.push_back({rail.own({head.x, head.y, head.z - deep}), rail.own_way({0, 0, 1}), 2 * radius, deep});
  }
}

// Lengths of a rail end to end, along the pitch.
void add_lengths(const frame::Stair& stair, const frame::Set& set, const frame::Rail& rail, std::vector<Laid>& out) {
  const bool shoe = rail.id == "shoe-rail";
  for (int i = 0; i < rail.quantity; ++i) {
    const double from = static_cast<double>(i) / rail.quantity;
    const Spot start{rail.start.x + (rail.end.x - rail.start.x) * from, rail.start.y + (rail.end.y - rail.start.y) * from, rail.start.z + (rail.end.z - rail.start.z) * from};
    Laid piece = laid(rail.label + (rail.quantity > 1 ? " " + std::to_string(i + 1) : ""), start, rail.end);
    const double length = rail.shoulder_length, half = rail.depth / 2;
    piece.piece.bars.push_back({0, length, -rail.thickness / 2, rail.thickness / 2, -half, half, 0});
    if (stair.plough > 0)
      piece.piece.grooves.push_back({-1, length + 1, -stair.width / 2, stair.width / 2, shoe ? half - stair.plough : -half - 1, shoe ? half + 1 : -half + stair.plough, 0});
    if (!shoe) add_pin_holes(stair, set, length, piece);
    out.push_back(std::move(piece));
  }
}

// Faces of the balusters along the run, up the stair: where each begins and ends.
std::vector<std::pair<double, double>> stations(const frame::Stair& stair, const frame::Set& set) {
  std::vector<std::pair<double, double>> out;
  for (const Member& member : set.members)
    if (!member.spare) out.push_back({member.stand.head.x - stair.width / 2, member.stand.head.x + stair.width / 2});
  std::sort(out.begin(), out.end());
  return out;
}

// Fillets fill a rail's plough from baluster to baluster, their ends sawn plumb, and square at the rail's.
void add_fillets(const frame::Stair& stair, const frame::Set& set, const frame::Rail& rail, const std::string& label, std::vector<Laid>& out) {
  const bool shoe = rail.id == "shoe-rail";
  const Laid run = laid("", rail.start, rail.end);
  const double length = rail.shoulder_length * rail.quantity, edge = shoe ? rail.depth / 2 : -rail.depth / 2 + stair.plough;
  const Bar whole{0, length, -stair.width / 2, stair.width / 2, edge - stair.plough, edge, 0};
  const auto stops = stations(stair, set);
  for (std::size_t i = 0; i <= stops.size(); ++i) {
    const bool first = i == 0, last = i == stops.size();
    const double from = first ? rail.start.x : stops[i - 1].second, to = last ? rail.end.x : stops[i].first;
    if (to - from < 1) continue;
    Laid piece = run;
    piece.piece.name = label + " " + std::to_string(i + 1);
    piece.piece.bars.push_back(whole);
    const auto saw = [&](double x, double way) { piece.piece.saw_cuts.push_back({piece.own({x, rail.start.y, rail.start.z}), piece.own_way({way, 0, 0})}); };
    if (!first) saw(from, -1);
    if (!last) saw(to, 1);
    out.push_back(std::move(piece));
  }
}

std::vector<Laid> straight_pieces(const frame::Stair& stair, const frame::Set& set) {
  std::vector<Laid> out;
  for (const frame::Rail& rail : set.rails) {
    const bool fillet = rail.noun == "fillet";
    const auto home = std::find_if(set.rails.begin(), set.rails.end(), [&](const frame::Rail& one) { return rail.id == "fillet-" + one.id; });
    if (!fillet) add_lengths(stair, set, rail, out);
    else if (home != set.rails.end()) add_fillets(stair, set, *home, rail.label, out);
  }
  return out;
}

// A base under each lamp, with the socket for the column's foot and the way through it.
std::vector<Laid> straight_pieces(const frame::Lamp& lamp, const frame::Set& set) {
  std::vector<Laid> out;
  for (const Member& member : set.members) {
    if (member.spare || member.piece != 0) continue;
    const double x = member.stand.head.x, y = member.stand.head.y, half = lamp.base_width / 2, high = lamp.base_thickness;
    Laid base = laid("base" + (lamp.lamps > 1 ? " " + std::to_string(out.size() + 1) : ""), {x - half, y, high / 2}, {x + half, y, high / 2});
    base.piece.bars.push_back({0, 2 * half, -half, half, -high / 2, high / 2, 0});
    for (const frame::MiddleHole& hole : set.rails.front().holes) {
      const double from = hole.depth < high ? high - hole.depth : -1;
      base.piece.drills.push_back({base.own({x, y, from}), base.own_way({0, 0, 1}), hole.diameter, high - from + 1});
    }
    out.push_back(std::move(base));
  }
  return out;
}

// The part's turning alone, to tell whether one turned solid serves two parts.
shape::Part turning_of(shape::Part part) {
  part.name.clear();
  part.elements.clear();
  part.mortises.clear();
  part.bores.clear();
  part.axial_bores.clear();
  part.end_cuts.clear();
  return part;
}

Result<NamedSolid> in_place(const std::string& name, const solid::Solid& solid, const solid::Placement& where, const std::string& kind) {
  auto placed = solid::placed(solid, where);
  if (!placed.ok()) return placed.failure();
  return NamedSolid{name, std::move(placed).value(), kind};
}

}  // namespace

const Member& first_of_kind(const frame::Set& set, std::size_t kind) { return *member_of(set, set.jointed_kinds[kind].members.front()); }

Result<std::vector<solid::Solid>> turned_solids(const Column& column, std::stop_token stop) {
  std::vector<solid::Solid> out;
  for (const family::MadePiece& piece : column.made.pieces) {
    auto turned = solid::turned(piece.part, stop);
    if (!turned.ok()) return turned.failure();
    out.push_back(std::move(turned).value());
  }
  return out;
}

Result<std::vector<solid::Solid>> kind_solids(const Column& column, const std::vector<solid::Solid>& turnings, std::stop_token stop) {
  const frame::Set& set = column.made.set;
  std::vector<solid::Solid> out;
  for (std::size_t kind = 0; kind < set.jointed_kinds.size(); ++kind) {
    const Member& member = first_of_kind(set, kind);
    if (!has_joints(member.part)) {
      out.push_back(turnings[member.piece]);
      continue;
    }
    const bool same = turning_of(member.part) == turning_of(column.made.pieces[member.piece].part);
    auto made = same ? solid::jointed(turnings[member.piece], member.part, stop) : solid::jointed(member.part, stop);
    if (!made.ok()) return made.failure();
    out.push_back(std::move(made).value());
  }
  return out;
}

Result<std::vector<NamedSolid>> assembled(const Column& column, const std::vector<solid::Solid>& kinds, std::stop_token stop) {
  const frame::Set& set = column.made.set;
  std::vector<NamedSolid> out;
  for (const Member& member : set.members) {
    if (member.spare) continue;
    const auto kind = static_cast<std::size_t>(member.jointed_kind);
    const std::vector<std::string>& ids = set.jointed_kinds[kind].members;
    const auto which = static_cast<std::size_t>(std::find(ids.begin(), ids.end(), member.id) - ids.begin());
    auto one = in_place(member.label, kinds[kind], hung(member, set.jointed_kinds[kind].quarters[which]), ids.size() > 1 ? set.jointed_kinds[kind].label : "");
    if (!one.ok()) return one.failure();
    out.push_back(std::move(one).value());
  }
  const std::vector<Laid> laid_pieces = std::visit([&](const auto& frame) { return straight_pieces(frame, set); }, column.made.frame);
  for (const Laid& piece : laid_pieces) {
    const auto built = solid::straight(piece.piece, stop);
    if (!built.ok()) return built.failure();
    auto one = in_place(piece.piece.name, *built, piece.where, "");
    if (!one.ok()) return one.failure();
    out.push_back(std::move(one).value());
  }
  return out;
}

}  // namespace pommel::job
