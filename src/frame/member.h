// What stands in a frame: members (the turned pieces in their places), rails (the straight pieces between them), and how
// many distinct pieces and programs the set needs.
//
// Ids are stable names ("leg-front-left"); they never change once given. Labels may.
#pragma once

#include <string>
#include <vector>

#include "shape/part.h"

namespace pommel::frame {

/// A point of the room, mm: x to the right, y to the back, z up from the floor, as a person sees it who faces the piece.
struct Spot {
  double x = 0, y = 0, z = 0;

  bool operator==(const Spot&) const = default;
};

/// Where a member stands: its head's centre, its axis hanging straight down, turned by quarter turns. With quarters 0
/// face A looks to the front and B to the left; each quarter turns it counter-clockwise seen from above.
struct Stand {
  Spot head;
  int quarters = 0;  ///< 0 .. 3

  bool operator==(const Stand&) const = default;
};

/// The point (x, y, z) of a part in its own axes (shape/part.h), in the room. Exact: quarter turns need no trigonometry.
Spot in_room(const Stand& stand, double x, double y, double z);

/// A turned piece in its place.
struct Member {
  std::string id;      ///< "leg-front-left"
  std::string label;   ///< "front left leg"
  std::string noun = "leg";  ///< what it is called for short
  std::string place;   ///< "front left"; "spare" for a spare
  std::string hand;    ///< "left", "right" or "" where hands do not matter; spares are turned only
  shape::Part part;    ///< jointed for its place; spares carry no mortises
  bool spare = false;
  std::size_t piece = 0; ///< which of the frame's turned pieces (frame/frame.h)
  int turned_kind = 0;   ///< index into Set::turned_kinds
  int jointed_kind = 0;  ///< index into Set::jointed_kinds; a spare is not jointed and has none: do not read it
  double horn = 0;       ///< mm, extra on the blank's head until the frame is glued; not in the part's length
  Stand stand;           ///< where it stands in the room; of no meaning for a spare
};

/// A straight piece, mostly with tenons at both ends.
/// A round hole in the middle of a straight piece's upper face, plumb.
struct MiddleHole {
  std::string what;     ///< "socket for the column's foot"
  double diameter = 0;
  double depth = 0;     ///< from the upper face, mm; the piece's thickness: right through
};

struct Rail {
  std::string id;      ///< "rail-front"
  std::string label;   ///< "front apron rail"
  std::string noun = "rail";  ///< what it is called for short, where pieces are counted: "base"
  int quantity = 1;
  double shoulder_length = 0;  ///< between the legs' faces, mm
  double overall_length = 0;   ///< with both tenons, mm
  double depth = 0, thickness = 0;  ///< mm; depth is the rail's height as it stands
  double tenon_length = 0, tenon_thickness = 0, tenon_width = 0;
  double haunch_length = 0, haunch_depth = 0;
  bool mitred = false;         ///< tenon ends mitred where two meet in the leg
  std::string from, to;        ///< member ids
  double drop = 0;             ///< of the upper edge below the members' heads, mm
  double set_back = 0;         ///< of the outer side behind the members' outer faces, mm
  double top_shoulder = 0, bottom_shoulder = 0;  ///< mm
  double tenon_offset = 0;     ///< of the tenon's middle from the rail's, towards the outer side, mm; 0: central
  double bolt_reach = 0;       ///< from its shoulders to the middles of the nuts of bolts that come through the posts, mm; 0: no bolts
  std::vector<MiddleHole> holes;
  Spot start, end;             ///< middles of its shoulders in the room, `from` to `to`
};

/// One distinct piece, and who is it.
struct Kind {
  std::string label;                 ///< "leg, long rail on face A" ...
  std::vector<std::string> members;  ///< ids
  std::vector<int> quarters;         ///< for each member: quarter turns that bring it onto the first
  std::string reason;                ///< why these are one piece, or why it is not the same as the others
};

/// A joint as it meets in a piece, with the numbers behind its verdict.
struct JointReport {
  std::string member, text;
  double least_wall = 0;   ///< mm, least wood left anywhere around the mortises at the local section
  bool tenons_meet = false;
  std::string remedy;      ///< "mitred", "one long, one short" ... as chosen
};

struct Set {
  std::vector<Member> members;
  std::vector<Rail> rails;
  std::vector<Kind> turned_kinds, jointed_kinds;
  std::vector<JointReport> joints;
  std::vector<Diagnostic> notes;  ///< warnings and notes; errors make no Set
};

/// The least wall of all joints, mm; infinity when nothing is jointed.
double least_wall(const Set& set);

/// Stable text of everything in the set, lengths to 1e-4 mm; parts are given by their mortises only.
std::string dump(const Set& set);

}  // namespace pommel::frame
