// A table: four legs of one turning, apron rails between them, and from the rails the joints of every leg.
//
// Which face looks where, stated here once. The room's axes are X to the right and Y to the back as a person sees them who
// faces the table, Z up; the origin lies on the floor under the middle of the top. A leg hangs from its head: its own x
// runs DOWN, so that its faces A, B, C, D, which follow the right hand about x, go round CLOCKWISE in a plan.
//
//                              back
//             +-----------------------------------------+   the top, seen from above
//             |   +-B-+                         +-A-+   |
//             |   A 3 C ====== rail-back ====== D 2 B   |      3  leg-back-left     2  leg-back-right
//             |   +-D-+                         +-C-+   |
//      left   |     H                             H     |   right
//             |     H rail-left         rail-right H    |
//             |   +-C-+                         +-D-+   |
//             |   B 0 D ====== rail-front ===== C 1 A   |      0  leg-front-left    1  leg-front-right
//             |   +-A-+                         +-B-+   |
//             +-----------------------------------------+
//                              front
//                     (the person stands here)
//
// Face A of the front left leg looks to the front, B to the left, C to the back, D to the right. Walking round the table
// (0, 1, 2, 3 above) each further leg is the same turned leg turned by one more quarter, counter-clockwise in the plan.
// So A and B are the outer faces of every leg and C and D the inner ones, which take the rails:
//
//     leg-front-left   D: front rail   C: left rail        leg-front-right  C: front rail   D: right rail
//     leg-back-right   D: back rail    C: right rail       leg-back-left    C: back rail    D: left rail
//
// On face D the leg's outer face (A) lies towards growing t, on face C the outer face (B) towards falling t. The long rail
// stands on D in two diagonal legs and on C in the two others: those are the hands.
//
// A rail is placed by its set-back from the leg's outer face and by the drop of its upper edge below the head:
//
//         plan, front left leg                     elevation of one end of a rail (x down)
//
//        B +-----------------+                     head ------------------ x = 0
//          |                 |                            | drop
//          |                 |--------                    +---------- rail's upper edge
//          |     tenon |-----|   rail     thickness       | haunch (shallow), then the top shoulder
//          |                 |--------                +---+
//          |                 |   | set-back           |   tenon: depth - top shoulder - bottom shoulder
//          +-----------------+---+                    +---+
//                   A (front)                             | bottom shoulder
//                                                         +---------- rail's lower edge
//
// All values are millimetres. Values are plain data and may cross threads.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/quantity.h"
#include "base/result.h"
#include "frame/member.h"
#include "shape/part.h"

namespace pommel::frame {

/// How thick a tenon is. The trade's rules disagree, so the table says which one it follows (rules/joinery.h has them).
/// Whatever the rule wishes is rounded down to a cutter or chisel on hand.
enum class TenonRule {
  third_of_rail,  ///< a third of the rail's thickness
  half_of_rail,   ///< half of the rail's thickness
  third_of_leg,   ///< a third of the leg's square
  given           ///< ApronRail::tenon_thickness
};

/// What is done where the two mortises of a leg meet.
enum class Remedy {
  mitred,              ///< the mortises run together; each tenon's end is cut at 45 degrees, no longer than the mitre is
  one_long_one_short,  ///< the long side's tenons keep their length, the short side's stop `least_wall` before them
  moved_outward,       ///< both tenons move in their rails towards the leg's outer faces until `least_wall` stands between
  shorter              ///< both tenons stop `least_wall` before the other's cheek
};

enum class MortiseEnd {
  square,  ///< chiselled square
  round    ///< as the cutter leaves them, radius half the width; the tenon is rounded to suit
};

/// A rail between two legs, with a tenon at each end.
struct ApronRail {
  double depth = 0;      ///< its height as it stands
  double thickness = 0;  ///< across, in the plan
  double set_back = 0;   ///< of its outer side behind the legs' outer faces; 0: flush
  double drop = 0;       ///< of its upper edge below the legs' heads; 0: flush with the head
  TenonRule tenon_rule = TenonRule::third_of_rail;
  double tenon_thickness = 0;  ///< only for TenonRule::given
  double tenon_length = 0;
  double top_shoulder = 0;     ///< from the rail's upper edge to the tenon; the haunch, when there is one, stands in it
  double bottom_shoulder = 0;  ///< from the tenon to the rail's lower edge
  double haunch_length = 0;    ///< up from the tenon's upper edge, at most the top shoulder; 0: no haunch
  double haunch_depth = 0;     ///< how far the haunch goes into the leg, less than the tenon's length

  bool operator==(const ApronRail&) const = default;
};

/// A front with a drawer: two narrow rails in the place of the front apron rail, two mortises on that face of the leg.
struct DrawerFront {
  ApronRail upper;  ///< let in from above: drop 0 and top shoulder 0, its pocket is open at the leg's head
  ApronRail lower;  ///< under the drawer, with a mortise of its own

  bool operator==(const DrawerFront&) const = default;
};

struct Table {
  double length = 0;         ///< of the top, left to right
  double width = 0;          ///< of the top, front to back
  double height = 0;         ///< floor to the top's upper face
  double top_thickness = 0;
  double overhang_long = 0;   ///< of the top's long edges past the legs' outer faces, at the front and at the back
  double overhang_short = 0;  ///< of the top's short edges past the legs' outer faces, at the left and at the right
  double glide_height = 0;    ///< glide or castor under the foot: the leg is shorter by as much
  double square = 0;          ///< the leg's finished section at the head
  std::optional<double> head_length;  ///< of the square stretch at the head; absent: as measured on the leg
  ApronRail long_rail;        ///< front and back
  ApronRail short_rail;       ///< left and right
  std::optional<DrawerFront> drawer;  ///< replaces the front rail
  MortiseEnd mortise_end = MortiseEnd::square;
  double relief = kInch / 16;  ///< a mortise is cut this much deeper than its tenon is long (1/16 in: common practice, no source)
  double horn = 0;             ///< extra left on the head until the frame is glued; goes to the blank, not into the part
  Remedy remedy = Remedy::mitred;
  double least_wall = 5;       ///< wood that a remedy leaves between two mortises (none: they still meet); a thinner wall anywhere is a warning
  bool mirrored_pairs = false; ///< legs at the right are turned as mirror images of those at the left (of meaning for a twist)
  int spares = 1;              ///< of each hand, where legs have hands as turned

  bool operator==(const Table&) const = default;
};

/// The words of a family file for a choice, in the order of its enumerators, for reading and for "did you mean".
///     tenon rule   "third of the rail", "half of the rail", "third of the leg", "given"
///     remedy       "mitred", "one long one short", "moved outward", "shorter"
///     mortise end  "square", "round"
std::vector<std::string> tenon_rule_words();
std::vector<std::string> remedy_words();
std::vector<std::string> mortise_end_words();
std::string_view word(TenonRule rule);
std::string_view word(Remedy remedy);
std::string_view word(MortiseEnd end);
std::optional<TenonRule> tenon_rule(std::string_view word);
std::optional<Remedy> remedy(std::string_view word);
std::optional<MortiseEnd> mortise_end(std::string_view word);

/// What is left for the leg: height - top_thickness - glide_height.
double leg_length(const Table& table);

/// The jointed set: leg-front-left, leg-front-right, leg-back-left, leg-back-right, then spare-1, spare-2 ... (turned
/// only, without mortises; of mirrored pairs spare-left-1, spare-right-1 ...); the rails rail-front (or rail-front-upper and rail-front-lower), rail-back, rail-left,
/// rail-right; the distinct turned and jointed kinds with their reasons; one JointReport a leg.
///
/// Mortise ids are the rails' ids without "rail-": "front", "front-lower", "left" ...; `mate` is the rail's id.
///
/// `leg`: the turned leg without mortises, its length leg_length(table), square at the head with faces at 0, 90, 180 and
/// 270 degrees. `mortise_cutters`: widths of chisels and cutters on hand (shop::Shop::mortise_cutters), any order.
/// `shown`: how lengths are written in messages and reports.
///
/// Fails with all errors found (lengths in mm, each message with its numbers and what to do):
///     (the ids of shape::problems)  the leg itself is not sound, or a mortise does not fit its own corners
///     frame.not-a-number           a measure is nan or infinite
///     frame.measure-out-of-range   a measure that must be positive (or not negative) is not; spares not in 0..100
///     frame.leg-has-mortises       the leg came with joints of its own
///     frame.leg-length             the leg is not as long as the table's height leaves it
///     frame.leg-not-square         the leg's head is not a square of the stated size
///     frame.head-too-short         the leg's square stretch is shorter than head_length
///     frame.legs-overlap           the overhangs leave no room between two legs
///     frame.no-cutter              no chisel or cutter on hand is as narrow as the tenon rule asks
///     frame.tenon-too-thick        the tenon leaves no cheek on the rail
///     frame.shoulders-too-wide     the shoulders leave no tenon
///     frame.haunch                 the haunch is longer than the top shoulder, or as deep as the tenon is long
///     frame.rail-past-leg          set-back and thickness carry the rail past the leg's inner face
///     frame.rail-deeper-than-square  the rail's lower edge hangs below the square stretch
///     frame.drawer-rails           the drawer's rails overlap, or the upper one is not flush with the head
///     frame.mortise-out-of-square  a mortise leaves the leg through a face
///     frame.mortise-in-round       a mortise breaks out where the round begins
///     frame.mortise-through-leg    a mortise is as deep as the leg, or deeper
///     frame.mortise-at-head        a mortise is not let in from above and reaches the head
///     frame.tenons-still-meet      the chosen remedy cannot part the tenons
/// Warnings and notes in Set::notes: frame.thin-wall, frame.thin-shoulder, frame.tenon-rounded, frame.tenon-length,
/// frame.tenon-width, frame.tenons-meet, frame.relief-breaks-through, frame.horn-and-drawer, frame.leg-handed,
/// frame.legs-wind-alike.
Result<Set> join_table(const Table& table, const shape::Part& leg, const std::vector<double>& mortise_cutters,
                       const LengthFormat& shown = {});

/// The square stretch at the head: how far from the head the section is the whole square of width `square`; 0 when the
/// leg has no such head.
double square_stretch(const shape::Part& leg, double square);

}  // namespace pommel::frame
