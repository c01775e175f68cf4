// Legs and tables for tests, and a judge of a set that knows nothing of how it was made: tenons and mortises as boxes in
// the room.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "frame/table.h"

namespace pommel::frame {

inline constexpr double kPi = std::numbers::pi;

/// Square head, sloped pommel of 14 mm, straight round taper to the foot.
inline shape::Part turned_leg(double length, double square, double head, double foot = 28) {
  shape::Part leg;
  leg.name = "leg";
  leg.length = length;
  const double corner = square / std::numbers::sqrt2, neck = square * 0.45, shoulder = head + 14;
  leg.outline.pieces = {shape::clear_piece(0, head, 0), shape::line_piece(head, corner, shoulder, neck, 1),
                        shape::line_piece(shoulder, neck, length, foot / 2, 2)};
  for (int quarter = 0; quarter < 4; ++quarter) {
    shape::Face face;
    face.phi = quarter == 3 ? 1.5 * kPi : quarter * (kPi / 2);
    face.d.pieces = {shape::line_piece(0, square / 2, length, square / 2)};
    leg.faces.push_back(face);
  }
  leg.elements = {{"square", "head", 0, head, square, square, square, square, false},
                  {"pommel", "pommel", head, shoulder, 2 * corner, 2 * neck, 2 * neck, 2 * corner, false},
                  {"taper", "taper", shoulder, length, 2 * neck, foot, foot, 2 * neck, true}};
  return leg;
}

inline shape::Part leg_for(const Table& table, double head) { return turned_leg(leg_length(table), table.square, head); }

inline ApronRail apron(double depth, double thickness, double set_back, double tenon_length) {
  ApronRail rail;
  rail.depth = depth;
  rail.thickness = thickness;
  rail.set_back = set_back;
  rail.tenon_length = tenon_length;
  rail.top_shoulder = rail.bottom_shoulder = 15;
  return rail;
}

/// 1600 x 900 x 750, 60 mm legs, rails 24 thick set back 6: tenons of 8 by a third, mortises 18 from the outer face.
inline Table dining_table() {
  Table table;
  table.length = 1600;
  table.width = 900;
  table.height = 750;
  table.top_thickness = 22;
  table.overhang_long = 40;
  table.overhang_short = 50;
  table.square = 60;
  table.relief = 1.5;
  table.long_rail = apron(110, 24, 6, 32);
  table.short_rail = apron(110, 24, 6, 32);
  return table;
}

inline const std::vector<double> kChisels{5, 6, 8, 10, 12};
inline constexpr double kHead = 125;

/// A box in the room.
struct RoomBox {
  std::array<double, 3> lo{1e300, 1e300, 1e300}, hi{-1e300, -1e300, -1e300};

  void take(const Spot& spot) {
    const std::array<double, 3> at{spot.x, spot.y, spot.z};
    for (std::size_t i = 0; i < 3; ++i) {
      lo[i] = std::min(lo[i], at[i]);
      hi[i] = std::max(hi[i], at[i]);
    }
  }
  bool holds(const RoomBox& other, double slack) const {
    for (std::size_t i = 0; i < 3; ++i) {
      if (other.lo[i] < lo[i] - slack || other.hi[i] > hi[i] + slack) return false;
    }
    return true;
  }
  bool overlaps(const RoomBox& other, double slack) const {
    for (std::size_t i = 0; i < 3; ++i) {
      if (std::min(hi[i], other.hi[i]) - std::max(lo[i], other.lo[i]) <= slack) return false;
    }
    return true;
  }
  double volume() const { return (hi[0] - lo[0]) * (hi[1] - lo[1]) * (hi[2] - lo[2]); }
};

/// The point of a part on the face `phi` at (x, t), `depth` under it: by cosine and sine, not by the code under test.
inline Spot on_face(const Member& member, double phi, double x, double t, double depth, double square) {
  const double d = square / 2 - depth;
  return in_room(member.stand, x, d * std::cos(phi) - t * std::sin(phi), d * std::sin(phi) + t * std::cos(phi));
}

inline RoomBox mortise_box(const Member& member, const shape::Mortise& cut, double square) {
  RoomBox box;
  for (const double x : {cut.x0, cut.x1}) {
    for (const double t : {cut.t0, cut.t1}) {
      for (const double depth : {0.0, cut.depth}) box.take(on_face(member, cut.phi, x, t, depth, square));
    }
  }
  return box;
}

/// The tenon at one end of a rail, from the rail's figures alone.
inline RoomBox tenon_box(const Rail& rail, bool at_start) {
  const bool along_x = std::abs(rail.end.x - rail.start.x) > std::abs(rail.end.y - rail.start.y);
  const Spot shoulder = at_start ? rail.start : rail.end;
  const double out = at_start ? -1 : 1;
  const double top = shoulder.z + rail.depth / 2 - rail.top_shoulder, bottom = shoulder.z - rail.depth / 2 + rail.bottom_shoulder;
  RoomBox box;
  for (const double z : {top, bottom}) {
    for (const double side : {-1.0, 1.0}) {
      for (const double reach : {0.0, rail.tenon_length}) {
        Spot spot{shoulder.x, shoulder.y, z};
        // the outer side of a rail is the one away from the middle of the table
        if (along_x) {
          spot.x += out * reach;
          spot.y += side * rail.tenon_thickness / 2 + (shoulder.y < 0 ? -1 : 1) * rail.tenon_offset;
        } else {
          spot.y += out * reach;
          spot.x += side * rail.tenon_thickness / 2 + (shoulder.x < 0 ? -1 : 1) * rail.tenon_offset;
        }
        box.take(spot);
      }
    }
  }
  return box;
}

inline const Member& member(const Set& set, const std::string& id) {
  return *std::find_if(set.members.begin(), set.members.end(), [&](const Member& one) { return one.id == id; });
}
inline const Rail& rail(const Set& set, const std::string& id) {
  return *std::find_if(set.rails.begin(), set.rails.end(), [&](const Rail& one) { return one.id == id; });
}
inline const shape::Mortise& mortise(const Member& of, const std::string& id) {
  return *std::find_if(of.part.mortises.begin(), of.part.mortises.end(), [&](const shape::Mortise& one) { return one.id == id; });
}
inline bool has_note(const Set& set, const std::string& id) {
  return std::any_of(set.notes.begin(), set.notes.end(), [&](const Diagnostic& one) { return one.id == id; });
}
inline std::vector<std::string> ids(const std::vector<Diagnostic>& found) {
  std::vector<std::string> result;
  for (const Diagnostic& one : found) result.push_back(one.id);
  return result;
}

}  // namespace pommel::frame
