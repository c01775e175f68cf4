// A bed: four posts of two heights, side rails that knock down, head and foot rails that are glued (or bolted too), perhaps a headboard
// between the head posts and finials on pins.
//
// Which face looks where, stated here once. The room's axes are X to the right and Y to the back as a person sees them who stands at the
// FOOT of the bed and looks at its head, Z up; the origin lies on the floor under the bed's middle. Posts hang from their heads and go round as
// a table's legs do (frame/table.h): each is turned one more quarter, counter-clockwise in the plan.
//
//                              head
//             +-B-+ ========= rail-head ======== +-A-+      the bed, seen from above
//             A 3 C   headboard in C of 3, D of 2 D 2 B      3  post-head-left    2  post-head-right
//             +-D-+                              +-C-+
//      left     H                                  H     right
//               H  rail-left            rail-right H
//             +-C-+                              +-D-+
//             B 0 D ========= rail-foot ======== C 1 A      0  post-foot-left    1  post-foot-right
//             +-A-+                              +-B-+
//                              foot
//                     (the person stands here)
//
// So A and B are the OUTER faces of every post, C and D the inner ones, which take the rails:
//
//     post-foot-left    D: foot rail   C: left rail         post-foot-right   C: foot rail   D: right rail
//     post-head-right   D: head rail   C: right rail        post-head-left    C: head rail   D: left rail
//
// A bolt comes in through the outer face opposite to its rail's: its head lies in a counterbore there, under a cover.
//
//       plan of post-foot-left                     elevation, from the left
//
//        B +-----------------+                          |    | post        rail_height: floor to the side rails' upper edge
//          |     :  rail-left's bolt                    |    |____________
//          |     :  runs from A  |--------         ___  |    |            |   sunk: how deep the mattress lies in the frame
//          |     :     | tenon --|  foot rail       |   | o==|  o bolts   |--- support_height: floor to the slats' upper side
//          |   +---+   |     |--------              |   |    |____________|
//          +---+   +---------+                      |   |    |
//          A    seat, cover                         floor
//
// The clear room between the rails is the mattress with its allowance; set-back and thickness of the rails put the posts' outer faces around it:
//     width over the posts  = mattress_width + allowance_width + 2 (side set-back + side thickness)
//     length over the posts = mattress_length + allowance_length + head set-back + thickness + foot set-back + thickness.
//
// All lengths are millimetres. Values are plain data and may cross threads.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "frame/table.h"

namespace pommel::frame {

enum class SideJoint {
  bolts,       ///< bed bolts, a nut let into the rail
  hook_plates  ///< a plate with slots let into the post, its hooked fellow on the rail's end
};
enum class EndJoint {
  glued,  ///< mortise and tenon
  bolts   ///< a stub tenon and bolts: the whole bed knocks down
};
enum class HeadboardJoint {
  none,
  groove,   ///< one groove down each head post
  mortises  ///< tongues on the panel, a mortise for each
};
enum class FinialKind {
  turned_in,  ///< part of the post, or none
  on_a_pin    ///< a piece of its own, its pin in a bore in the post's head
};

/// A rail by its upper edge above the floor. ApronRail::drop is not read: it follows.
struct BedRail {
  double height = 0;  ///< floor to the upper edge
  ApronRail rail;     ///< tenon_length 0 (a side rail only): butted, no stub tenon

  bool operator==(const BedRail&) const = default;
};

struct BedBolts {
  int count = 2;            ///< in each joint, one above the other
  double spread = 0;        ///< between the outermost, centre to centre; of no meaning for one
  double diameter = 0;      ///< of the hole
  double seat_diameter = 0, seat_depth = 0;  ///< counterbore for head and washer, under the cover
  double nut_from_end = 0;  ///< middle of the nut's hole in the rail, from the rail's end
  double stagger = 0;       ///< bolts of the end rails stand this much lower than the middle of their rail asks for, so that they pass those of the sides

  bool operator==(const BedBolts&) const = default;
};

struct HookPlates {
  double length = 0, width = 0, thickness = 0;  ///< let in flush
  int hooks = 2;
  double slot_length = 0, slot_width = 0, slot_depth = 0;  ///< the wells behind the slots, depth from the post's face

  bool operator==(const HookPlates&) const = default;
};

struct Headboard {
  double bottom = 0, top = 0;  ///< floor to its edges
  double thickness = 0, depth = 0;  ///< of groove or mortises
  double set_back = 0;         ///< of its back behind the head posts' outer faces
  int tongues = 3;             ///< mortises: how many
  double tongue_width = 0;     ///< mortises: how long each is, along the post
  int boards = 1;              ///< glued edge to edge for it

  bool operator==(const Headboard&) const = default;
};

struct PinnedFinial {
  double length = 0;  ///< above the post
  double pin_length = 0, pin_diameter = 0;
  double square = 0;  ///< of its blank's section

  bool operator==(const PinnedFinial&) const = default;
};

struct Bed {
  double mattress_length = 0, mattress_width = 0, mattress_thickness = 0;
  double allowance_length = 0, allowance_width = 0;  ///< free room about the mattress, both sides together
  double support_height = 0;  ///< floor to the slats' upper side
  double support_depth = 0;   ///< slat and the ledger under it: what the side rail must reach below the slats' upper side
  double square = 0;          ///< the posts' finished section
  double head_post = 0, foot_post = 0;  ///< floor to the post's own upper end (a finial on a pin stands above it)
  double glide_height = 0;
  BedRail side_rail, head_rail, foot_rail;
  std::optional<BedRail> head_crest, foot_crest;  ///< upper rails, glued
  SideJoint side_joint = SideJoint::bolts;
  EndJoint end_joint = EndJoint::glued;
  BedBolts bolts;
  HookPlates plates;
  HeadboardJoint headboard_joint = HeadboardJoint::none;
  Headboard headboard;
  FinialKind finial_kind = FinialKind::turned_in;
  PinnedFinial finial;
  MortiseEnd mortise_end = MortiseEnd::square;
  double relief = kInch / 16;  ///< a mortise is cut this much deeper than its tenon is long (common practice, no source)
  double least_wall = 6;       ///< a thinner wall anywhere is a warning
  bool mirrored_pairs = false; ///< posts at the right are turned as mirror images of those at the left (of meaning for a twist)
  int spares = 0;              ///< of each kind of post, turned only; of each hand, where posts have hands as turned

  bool operator==(const Bed&) const = default;
};

/// Words of a family file, in the order of the enumerators: "bolts", "hook plates"; "glued", "bolts"; "none", "groove", "mortises";
/// "turned in", "on a pin".
std::vector<std::string> side_joint_words();
std::vector<std::string> end_joint_words();
std::vector<std::string> headboard_joint_words();
std::vector<std::string> finial_kind_words();
std::optional<SideJoint> side_joint(std::string_view word);
std::optional<EndJoint> end_joint(std::string_view word);
std::optional<HeadboardJoint> headboard_joint(std::string_view word);
std::optional<FinialKind> finial_kind(std::string_view word);

/// Over the posts' outer faces: left to right, and foot to head.
double bed_width(const Bed& bed);
double bed_length(const Bed& bed);

/// Fails with frame.not-a-number and frame.measure-out-of-range.
Result<Done> check_bed(const Bed& bed, const LengthFormat& shown = {});

/// The pieces to turn, in this order.
struct BedPieces {
  shape::Part head_post, foot_post;
  std::optional<shape::Part> finial;  ///< there exactly when it stands on a pin
};

/// The set: post-head-left, post-head-right, post-foot-left, post-foot-right, finial-head-left ..., spare-head-post-1 ..., spare-foot-post-1 ...
/// (turned only); the rails rail-left, rail-right, rail-head, rail-foot, crest-head, crest-foot, headboard (its boards); one JointReport a post.
///
/// Mortise ids are the rails' ids without "rail-"; bolts are Bores "bolt-left-1" ... from above; a plate's recess is "plate-left" and its wells
/// "slot-left-1" ...; the headboard's "headboard" or "headboard-1" ...; a pin's socket the AxialBore "pin".
///
/// Fails with all errors found:
///     (the ids of shape::problems)
///     frame.not-a-number, frame.measure-out-of-range
///     frame.post-has-joints     a post came with joints of its own
///     frame.post-length         a post is not as long as the bed makes it
///     frame.post-not-square     a post is not square where a rail, a bolt or the headboard meets it
///     frame.posts-overlap       the mattress leaves no rail between two posts
///     frame.rail-off-post       a rail hangs below the floor or stands above its post
///     frame.support             the slats lie above the side rails, or their ledger has no rail behind it
///     frame.no-cutter, frame.tenon-too-thick, frame.shoulders-too-wide, frame.haunch, frame.rail-past-leg   as for a table's rails
///     frame.mortise-out-of-square, frame.mortise-in-round, frame.mortise-through-leg, frame.mortises-meet
///     frame.bolt-off-rail       a bolt does not stand on its rail, or two stand in one hole
///     frame.bolt-seat           the seat is narrower than the bolt's hole, or as deep as the post
///     frame.bolt-breaks-out     a bolt's hole or seat leaves the post sideways
///     frame.bolts-cross         bolts of side and end rails run into one another
///     frame.bolt-in-joint       a bolt runs into a mortise of another rail
///     frame.plate               a hook plate is wider or longer than its rail, or its slots do not go into it
///     frame.headboard           the headboard runs into a rail, stands above the post, or its tongues do not fit
///     frame.finial              the finial does not end in its pin, or leaves no wood round the pin's bore
/// Warnings: frame.thin-wall and the table's. Notes: frame.mattress-top, frame.bolts (length, nut), frame.posts-wind-alike, and the table's.
Result<Set> join_bed(const Bed& bed, const BedPieces& pieces, const std::vector<double>& mortise_cutters, const LengthFormat& shown = {});

}  // namespace pommel::frame
