// A lamp: a turned column on a base, with the way for its cord along the axis; one, or several alike.
//
//                    | rod or nipple, threaded
//               =====#=====   head: level, with a seat let in for the nut or cap
//                \   :   /
//                 |  :  |     the bore, all along
//                 |  :  |
//                /   :   \    column: head (x = 0) above, foot below
//     cord  ====/=====    \   (the cord may leave the column here, above the base ...)
//          +------:   :------+
//          |      :   :      |   base: the column's foot tenon goes in; (... or the base has a groove for it)
//          +-----------------+
//
// How the bore comes into a long piece:
//     bored      before turning, from one end or from both; the ends are plugged for the centres. A drill wanders: by `drill_wander` mm for each mm
//                that it has gone in, the maker's own figure. The wall check takes the wander off.
//     ploughed   the blank is made of two halves, a round-nosed groove run in each, and glued: no wander, but a glue line through the centres
//     stacked    the column is divided into sections, each short enough for the drill; each but the uppermost carries a tenon into the one above
//
// The room's axes: origin on the table under the (first) lamp's axis, Z up; lamps stand side by side along X. quarters 0: face A to the front.
// All lengths are millimetres. Values are plain data and may cross threads.
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

enum class BoreWay { bored, ploughed, stacked };
enum class CordExit {
  base,   ///< through the base: nothing is cut in the column
  column  ///< square out of the column above the base
};

/// Threaded lamp pipe, by its published outside diameter.
struct LampPipe {
  std::string_view id;
  std::string_view source;
  double diameter;  ///< mm, outside
};
/// "1/8 IP": 0.405 in, nominal pipe size 1/8, ASME B1.20.1 (from memory). "M10x1": 10 mm by its name, ISO 261. "none": a cord alone.
const std::vector<LampPipe>& lamp_pipes();
const LampPipe* lamp_pipe(std::string_view id);
std::vector<std::string> lamp_pipe_words();

struct Lamp {
  int lamps = 1;
  double square = 0;          ///< of the column's blank: its faces stand on it
  double height = 0;          ///< from the table to the column's upper end
  double base_width = 0, base_thickness = 0;  ///< a square base
  double foot_tenon = 0, foot_tenon_diameter = 0;  ///< turned at the column's foot, into the base
  BoreWay way = BoreWay::bored;
  std::string pipe = "1/8 IP";
  double bore = 0;            ///< diameter of the way; at least the pipe's and `pipe_clearance`
  double pipe_clearance = 0.5;
  double seat_diameter = 0, seat_depth = 0;  ///< let into the head; 0: none
  double drill_reach = 0;     ///< how deep the shop's drill goes (bored and stacked)
  bool from_both_ends = true;
  double waste_head = 0, waste_foot = 0;  ///< of the blank beyond the piece, bored with it: each section's has as much
  double drill_wander = 0.004;///< mm aside for each mm deep (no source: a shop's own figure)
  std::vector<double> divided_at;  ///< stacked: x of the column, growing; where one section ends and the next begins
  double section_tenon = 0, section_tenon_diameter = 0;  ///< stacked
  CordExit cord_exit = CordExit::base;
  double cord_diameter = 0;   ///< of the hole for cord and bush, where the cord leaves
  double cord_height = 0;     ///< of that hole's middle above the base
  double relief = kInch / 16; ///< a socket is this much deeper than its tenon is long (common practice, no source)
  double least_wall = 6;      ///< a thinner wall round the bore is a warning
  bool mirrored_pair = false; ///< every second lamp is the first one's mirror image (of meaning for a twist)
  int spares = 0;             ///< of a mirrored pair so many of each hand

  bool operator==(const Lamp&) const = default;
};

std::vector<std::string> bore_way_words();
std::vector<std::string> cord_exit_words();
std::string_view word(BoreWay way);
std::string_view word(CordExit exit);
std::optional<BoreWay> bore_way(std::string_view word);
std::optional<CordExit> cord_exit(std::string_view word);

/// The whole column as its outline describes it: height - base_thickness + foot_tenon.
double column_length(const Lamp& lamp);

/// The column's turned pieces, head to foot: itself, or its sections with their tenons. Fails with
///     frame.divided   places to divide at are out of order, outside the column, or inside a twist or the foot tenon; none are given for a
///                     stacked column, or some for one that is not.
/// REQUIRES: check_lamp(lamp).ok() and the column as long as column_length().
Result<std::vector<shape::Part>> sections(const Lamp& lamp, const shape::Part& column, const LengthFormat& shown = {});

Result<Done> check_lamp(const Lamp& lamp, const LengthFormat& shown = {});

/// What the sections are called: "column" where it is whole, else "upper section", "middle section", "lower section", of four and more "section 2" ...
std::string section_name(std::size_t section, std::size_t of);
/// For ids: "" where it is whole, else "upper", "middle", "lower", "2" ...
std::string section_id(std::size_t section, std::size_t of);

/// The set: column-1, column-2 ... (or column-1-upper, column-1-middle ..., section by section), spares turned only (spare-1, of a mirrored pair spare-1-mirrored, too); the rail "base". Bores, seat,
/// sockets and cord hole are joints of the parts. One JointReport a distinct section with the least wall round its ways, wander taken off.
///
/// Fails with all errors found:
///     (the ids of shape::problems)
///     frame.not-a-number, frame.measure-out-of-range
///     frame.lamp-pipe          no such pipe, or the bore is narrower than it and its clearance
///     frame.lamp-tenon         the foot tenon is longer than the base is thick, or no thicker than the bore; so a section's tenon
///     frame.column-length      the column is not as long as the height makes it
///     frame.column-foot        the column does not end in the foot tenon
///     frame.divided            as in sections()
///     frame.drill-short        a piece with its blank's waste is longer than the drill reaches, from both ends where it may
///     frame.bore-breaks-out    no wood is left round bore, seat or socket somewhere
///     frame.cord-hole          the cord's hole leaves the column, or meets the base
/// Warnings: frame.thin-wall. Notes: frame.bore-first (how it is bored, plugs, glue line), frame.cord-ways (bushed, smooth, and who does the
/// electrical work), frame.rod (length of the rod).
Result<Set> join_lamp(const Lamp& lamp, const shape::Part& column, const LengthFormat& shown = {});

}  // namespace pommel::frame
