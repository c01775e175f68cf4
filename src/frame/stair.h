// A stair run: balusters of one design between treads (or a shoe rail) and a raked handrail.
//
// The room's axes here: X up the run, level, from the first nosing; Y away from a person who stands at the open side; Z up from the first
// tread. A baluster hangs from its head, its own x runs DOWN, quarters 0: face A looks at that person, B down the stair, C away, D up the stair
// (frame/member.h). A raked head is therefore longest on face D.
//
//        open string: a tread's balusters differ,              closed string: all are alike
//        every tread repeats them
//                       handrail  ___---                             handrail  ___---
//                  ___---|  |                                      ___---|  |  |
//             ___---|  | |  |   rail height, plumb            ___---|  | |  |  |
//            |  |   |  | |  |   from the nosing line          |  |  | |  |  ___---   shoe rail on the string,
//            |  |   |  |=========== tread 2                   |  | ___---            its top `shoe_height` plumb
//            |  |   |  |                                     ___---                  above the nosing line
//       =================  tread 1
//       nosing | going ->|
//
// With the pitch p = atan(rise/going), a baluster's middle at s behind the nosing of its tread (open string) stands
//     V + s tan p        from the tread to the handrail's underside, V = rail_height - rail_depth/cos p - what carries on below,
// and the j-th of k balusters on a tread (j from 0) at s_j = nosing + width/2 + j going/k: the first one's face is in line with the riser below.
// On a shoe rail every baluster stands V - shoe_height.
// Where the head is raked, the piece is longer by (width/2) tan p to the long point, by plough/cos p where it is let into the rail, and as much
// again at the foot on a shoe rail. A pinned head goes `top_pin` into a plumb hole, measured on the middle line. At the foot of an open string a pin
// or a dovetail goes into the tread.
//
// All lengths are millimetres. Values are plain data and may cross threads.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/quantity.h"
#include "base/result.h"
#include "frame/member.h"
#include "rules/guard.h"
#include "rules/leg.h"
#include "shape/part.h"
#include "shop/shop.h"

namespace pommel::frame {

enum class StringKind {
  open,   ///< balusters stand on the treads
  closed  ///< balusters stand on a shoe rail over the string
};
enum class BalusterHead {
  raked,  ///< a square block sawn to the pitch, in the rail's plough or against its underside
  pin     ///< a turned pin in a plumb hole
};
enum class BalusterFoot {
  pin,      ///< a turned pin in the tread
  dovetail  ///< a square block with a dovetail sawn on it at the bench, let into the tread's end
};

inline constexpr int kMostOnTread = 4;

struct Stair {
  int treads = 0;       ///< that carry balusters
  int a_tread = 2;      ///< balusters on each, one to kMostOnTread
  double rise = 0, going = 0, nosing = 0;  ///< of one step; nosing: how far a tread stands before its riser
  StringKind string = StringKind::open;
  double shoe_height = 0;   ///< closed string: plumb, nosing line to the upper side of the shoe rail
  double rail_height = 0;   ///< plumb, nosing line to the handrail's upper side
  double rail_depth = 0, rail_width = 0;  ///< the handrail's section, depth square to its length
  double shoe_depth = 0, shoe_width = 0;  ///< closed string: the shoe rail's section
  double plough = 0;        ///< depth of the groove in the handrail's underside (and the shoe rail's upper side), square to it; 0: none
  double width = 0;         ///< of the baluster's square blocks; with a pinned head and foot its greatest diameter
  BalusterHead head = BalusterHead::raked;
  BalusterFoot foot = BalusterFoot::pin;
  double top_pin = 0, top_pin_diameter = 0;    ///< only for a pinned head
  double foot_pin = 0, foot_pin_diameter = 0;  ///< only for a pinned foot on an open string
  double dovetail = 0;      ///< length of the dovetail, only for that foot
  std::string rule = "IRC 2018";  ///< id in rules::guard_rules(), or "none"
  bool rails_made = true;       ///< handrail, shoe rail and fillets are made with the balusters; else they are there already, or others make them
  double longest_rail = 0;      ///< the longest piece that a rail is made of: longer runs are jointed end to end; 0: in one length
  bool mirrored_pairs = false;  ///< every second baluster of the run is turned as the mirror image of the first (of meaning for a twist)
  int spares = 0;               ///< of each length, turned only; of each hand, where a length has both

  bool operator==(const Stair&) const = default;
};

/// Words of a family file, in the order of the enumerators.
std::vector<std::string> string_kind_words();
std::vector<std::string> baluster_head_words();
std::vector<std::string> baluster_foot_words();
/// Ids of the guard rules, and "none".
std::vector<std::string> guard_rule_words();
std::string_view word(StringKind kind);
std::string_view word(BalusterHead head);
std::string_view word(BalusterFoot foot);
std::optional<StringKind> string_kind(std::string_view word);
std::optional<BalusterHead> baluster_head(std::string_view word);
std::optional<BalusterFoot> baluster_foot(std::string_view word);

/// Radians above the level: atan(rise/going).
double pitch(const Stair& stair);
/// Level, centre to centre of neighbouring balusters: going/a_tread.
double spacing(const Stair& stair);

/// Fails with all that keeps the stair from being one (see join_stair's list up to frame.stair-no-room).
Result<Done> check_stair(const Stair& stair, const LengthFormat& shown = {});

/// Lengths of the pieces as turned, long point and all that goes into rail and tread counted: one for each baluster of a tread, from the nosing
/// back, on an open string; a single one on a shoe rail. REQUIRES: check_stair(stair).ok().
std::vector<double> baluster_lengths(const Stair& stair);

/// What an opening is worth against the rule, for papers.
struct Openings {
  double spacing = 0;   ///< centre to centre
  double at_thin = 0;   ///< clear, were both neighbours as thin as the thinnest part of any baluster: what the verdict stands on
  double at_thick = 0;  ///< clear between the thickest parts
  double level = 0;     ///< the widest clear width met at one height between neighbours as they stand, no more than at_thin
  double limit = 0;     ///< of the rule, 0: none chosen
};

/// The set: baluster-1-1, baluster-1-2 ... (tread, place on it), then spares of each length (spare-1-1: the first of the first length; where
/// a length has both hands spare-1-right-1, spare-1-left-1 ...), turned only; where they are made the rails "handrail", with a shoe rail "shoe-rail", and with a plough "fillet-handrail" (and "fillet-shoe-rail")
/// between neighbours; one JointReport a distinct baluster. `balusters`: the turned pieces beside baluster_lengths(). Raked ends are EndCuts of the
/// jointed parts.
///
/// Fails with all errors found:
///     (the ids of shape::problems)   a baluster itself, or with its sawn ends, is not sound
///     frame.not-a-number, frame.measure-out-of-range   a measure is no number or makes no sense; more than 2,000 balusters in a run
///     frame.stair-foot               a closed string takes raked ends, no pin or dovetail; a pin or dovetail without its length
///     frame.stair-rule               no such rule
///     frame.stair-crowded            the balusters would touch
///     frame.stair-no-room            between tread (or shoe rail) and handrail nothing is left
///     frame.baluster-count           not as many pieces as baluster_lengths()
///     frame.baluster-length          a piece is not as long as the stair makes it
///     frame.baluster-head            the head is no square of `width` to below the long cut, or no pin of that diameter and length
///     frame.baluster-foot            the same for the foot
/// Warnings: frame.opening (wider than the rule allows at the thin parts; says the least number a tread that would do) and frame.rail-low.
/// Notes: frame.guard (always, with the figures, the edition, and who decides), frame.balusters-wind-alike.
Result<Set> join_stair(const Stair& stair, const std::vector<shape::Part>& balusters, const LengthFormat& shown = {});

/// REQUIRES: the set came from join_stair(stair, ...).
Openings openings(const Stair& stair, const Set& set);

/// The worst that the published infill load does to a baluster: all of it on one, at the place where that stresses it most, held at tread (or shoe
/// rail) and handrail as a beam that is free to turn at both (the safe side); and shared by as many as a foot of width spans at least.
struct InfillReport {
  rules::Thin weakest;      ///< where it is stressed most, from the head of that baluster
  std::size_t baluster = 0; ///< place on its tread, from 0
  double free_length = 0;   ///< mm
  double stress = 0;        ///< MPa, all on one
  int sharing = 1;          ///< how many share it at least
  double share_of_mor = 0;  ///< of the shared stress in the wood's average modulus of rupture, which is no allowable stress
  std::vector<Diagnostic> notes;  ///< rules::infill_notes()
};

/// REQUIRES: the set came from join_stair(stair, ...), and wood.mor_mpa > 0.
InfillReport infill(const Stair& stair, const Set& set, const shop::Wood& wood, const LengthFormat& shown = {});

}  // namespace pommel::frame
