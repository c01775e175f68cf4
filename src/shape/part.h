// The part, on which all rooms agree: a value in millimetres and radians.
//
// Axis X along the piece, x = 0 at the head (the joined end), x = length at the foot. theta turns about X by the right hand
// from +Y (theta = 0) towards +Z (theta = 90 degrees). Face A looks along theta = 0, B along 90, C along 180, D along 270
// degrees (write "face A" and "rotary": the machine's word A is not the face A).
//
//              B (+Z)                 seen from the foot, looking at the head (x towards the eye):
//           +---------+               theta grows counter-clockwise
//         C |    o    | A (+Y)
//           +---------+
//                D
//
// On a face with normal direction phi, t runs across it in the direction of growing theta:
//     point(x, t) = (x, d cos(phi) - t sin(phi), d sin(phi) + t cos(phi)).
//
// The body without its joints is star-shaped about the axis:
//     R(x, theta) = min( r(x), min over faces of d_f(x) / cos(theta - phi_f) )      (cos > 0 only)
// with r the outline and d_f the faces, then what treatments take away (Flute, Reeding, Twist below). Mortises, bores and end cuts belong to the part but not to its turning: a room asks for the part
// *turned* (blank shape and outline) or *jointed* (turned, then mortised).
#pragma once

#include <string>
#include <vector>

#include "shape/profile.h"

namespace pommel::shape {

/// A plane or one-way curved face square to the direction phi at distance d(x) from the axis. `clear` pieces of d mean
/// that the face is not there on that stretch.
struct Face {
  double phi = 0;  ///< radians in [0, 2 pi)
  Profile d;

  bool operator==(const Face&) const = default;
};

/// What a stretch of the outline is, in the order head to foot. For drawings, tables and messages.
struct ElementMark {
  std::string kind;   ///< "bead", "cove", "square" ...: the word of the family file
  std::string label;  ///< the maker's own name, else the kind
  double x0 = 0, x1 = 0;
  double d_start = 0, d_end = 0;     ///< diameters at its ends as turned (the square's width on square stretches)
  double d_least = 0, d_greatest = 0;
  bool shared = false;  ///< its length is a share of what is left (it stretches with the piece)

  bool operator==(const ElementMark&) const = default;
};

/// A rectangular pocket let into a face square to it, with its optional haunch towards the head. It is cut as two pockets with
/// the same corner radius: [x0 - haunch_length, x1] to the haunch's depth, then [x0, x1] to the full depth.
struct Mortise {
  std::string id;    ///< unique in the part: "long-rail"
  std::string mate;  ///< the piece whose tenon goes in
  double phi = 0;    ///< direction of the face, radians in [0, 2 pi)
  double x0 = 0, x1 = 0;  ///< along the piece
  double t0 = 0, t1 = 0;  ///< across the face, t0 < t1
  double depth = 0;       ///< from the face's plane (d at the mortise's middle), towards the axis
  double corner_radius = 0;  ///< 0: chiselled square; (t1 - t0)/2: round ends as the cutter leaves them
  double haunch_length = 0, haunch_depth = 0;  ///< shallow pocket from x0 - haunch_length to x0, same width; 0: none

  bool operator==(const Mortise&) const = default;
};

/// A groove along the piece. Square to the axis its section is an arc of radius `radius` about a centre that stands in the direction
/// theta at distance c = centre(x) from the axis. With a = angle - theta, where cos a > 0 and |c sin a| <= radius:
///     R <= c cos a - sqrt(radius² - c² sin² a).
/// `clear` pieces of `centre`: no groove there. Where a groove begins or ends, its centre stands so high that it has left the wood.
struct Flute {
  double theta = 0;   ///< radians in [0, 2 pi)
  double radius = 0;  ///< mm
  Profile centre;

  bool operator==(const Flute&) const = default;
};

/// Convex ribs side by side round the piece. In the sector |a| <= pi / count about each of the directions phase + k 2 pi / count, with
/// c = centre(x), the section is an arc of radius `radius` > c sin(pi / count) about a centre at distance c:
///     R <= c cos a + sqrt(radius² - c² sin² a).
/// `clear` pieces of `centre`: no reeds there; at their ends the reeds have risen out of the round.
struct Reeding {
  int count = 0;
  double phase = 0;   ///< radians: direction of the first reed's crown
  double radius = 0;  ///< mm
  Profile centre;

  bool operator==(const Reeding&) const = default;
};

/// A rope twist: on [x0, x1] the outline r(x) is replaced by
///     r(x) - depth f(x) (1 - cos(starts (theta - psi(x)))) / 2,   psi(x) = phase + 2 pi (x - x0) / pitch,
///     f(x) = s((x - x0)/fade0) s((x1 - x)/fade1),   s(u) = u² (3 - 2 u) up to u = 1, then 1.
/// pitch > 0 turns by the right hand (theta grows with x); the mirror has -pitch.
struct Twist {
  double x0 = 0, x1 = 0;
  int starts = 1;
  double pitch = 0;  ///< mm of length for one turn, not 0
  double depth = 0;  ///< mm, crest to hollow
  double fade0 = 0, fade1 = 0;  ///< mm, above 0, together at most x1 - x0
  double phase = 0;  ///< radians

  bool operator==(const Twist&) const = default;
};

/// A round hole square to the axis, with its optional wider seat at the face it enters (for a bolt's head, a nut, a cover).
struct Bore {
  std::string id, mate;
  double phi = 0;        ///< direction of the face it enters, radians in [0, 2 pi)
  double x = 0, t = 0;   ///< its axis: along the piece, across the face
  double diameter = 0;
  double depth = 0;      ///< from the face's plane towards the axis; through the piece when at least its thickness there
  double seat_diameter = 0, seat_depth = 0;  ///< counterbore; 0: none

  bool operator==(const Bore&) const = default;
};

/// A round hole along the piece's own axis from x0 to x1 (a lamp's wire way, a pin's socket).
struct AxialBore {
  std::string id;
  double diameter = 0, x0 = 0, x1 = 0;

  bool operator==(const AxialBore&) const = default;
};

/// An end sawn at an angle after turning: the plane through the axis at x, square to the axis for angle 0, leaning by `angle` so that the
/// end grows longer in the direction phi. It belongs to the joints: the piece is turned to its full length first.
struct EndCut {
  bool at_head = true;
  double x = 0, angle = 0, phi = 0;  ///< mm; radians, |angle| < pi/2

  bool operator==(const EndCut&) const = default;
};

struct Part {
  std::string name;
  double length = 0;  ///< mm
  Profile outline;    ///< r(x) over [0, length]
  std::vector<Face> faces;
  std::vector<ElementMark> elements;
  std::vector<Flute> flutes;
  std::vector<Reeding> reedings;
  std::vector<Twist> twists;  ///< on stretches that do not meet
  std::vector<Mortise> mortises;
  std::vector<Bore> bores;
  std::vector<AxialBore> axial_bores;
  std::vector<EndCut> end_cuts;

  bool operator==(const Part&) const = default;
};

/// R(x, theta) of the turned part, mm; at a knot by the piece on `side`.
double radius_at(const Part& part, double x, double theta, Side side);
/// The closed body's radius: the greater of both sides at a knot.
double radius_at(const Part& part, double x, double theta);

/// min over faces of d_f(x) at this x (the inscribed radius of the section's polygon), +infinity when no face is there.
double least_face_distance(const Part& part, double x, Side side);

/// Largest distance from the axis to any point of the turned part: half the diagonal where a square stretch stands.
double reach(const Part& part);

/// Area of the turned section at x, mm², exact (circle cut by the convex polygon of the faces; with treatments ring.h).
double section_area(const Part& part, double x, Side side);
/// Volume of the turned part, mm³, by adaptive quadrature of section_area between the profile's knots and the creases'
/// crossing points; relative error below 1e-9, with treatments 1e-7.
double turned_volume(const Part& part);
/// Area of the turned part's skin with both end faces, mm²; relative error below 1e-6.
double turned_area(const Part& part);
/// Volume of the wood that mortises, bores, axial bores and end cuts take out of the turned part, mm³ (overlaps counted once).
/// Relative error below 1e-9; where they stand in flutes, reeds or a twist below 1e-5.
double mortised_volume(const Part& part);

/// All broken invariants, naming the element or mortise: overhang, crossing, gaps, non-finite numbers, mortise outside its
/// face, through the piece, or on a stretch where its face is not whole. Empty when the part is sound.
std::vector<Diagnostic> problems(const Part& part);

/// The part turned by `quarters` quarter turns about its axis (exact, no trigonometry), or mirrored (theta -> -theta).
Part turned_by(const Part& part, int quarters);
Part mirrored(const Part& part);

/// A text that is equal for two parts exactly when they are the same after a quarter turn, numbers rounded to 1e-6 mm and
/// 1e-9 rad: the key for "one kind". Labels, names, ids and mates do not count. `with_joints` false compares the turning only.
std::string canonical_text(const Part& part, bool with_joints);

/// Stable text dump of everything in the part, for tests and for humans.
std::string dump(const Part& part);

}  // namespace pommel::shape
