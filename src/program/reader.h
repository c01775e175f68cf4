// Reads the text of a machine program into machine-level steps: the judge's eyes.
//
// The language is RS274/NGC as Kramer, Proctor and Messina describe it (The NIST RS274NGC Interpreter, Version 3,
// NISTIR 6556, August 2000, called "NIST" below). What that report makes an error is an error here. Beyond it, whatever
// would leave the check guessing is refused: parameters and expressions; zeros shifted by G10, G28, G30, G43, G53,
// G55-G59.3 or G92.3; cutter compensation; probing and canned cycles; moves whose units, distance or feed mode the
// program has not stated. Nothing unknown is skipped.
//
// It includes base/ alone and shares nothing with the writer: what the writer means is no business of the reader's. It
// knows no machine and no wood either; replay.h gives the steps their meaning.
//
// Thread rule: read() has no state; several may run at once, each with its own sink.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"

namespace pommel::program {

/// Axes in the order of Step::to.
enum class Axis : std::uint8_t { x, y, z, a, b, c };
inline constexpr std::size_t kAxes = 6;
constexpr std::uint8_t bit(Axis axis) {
  return static_cast<std::uint8_t>(1u << static_cast<unsigned>(axis));
}

enum class FeedMode : std::uint8_t { per_minute /* G94 */, inverse_time /* G93 */ };

/// One motion of the machine's axes.
struct Step {
  enum class Kind : std::uint8_t { rapid, line, arc };

  /// Where it ends, absolute and without regard to offsets (G92 names a place anew, it moves nothing): mm for X Y Z, degrees for A B C (NIST 2.1.2.2: they grow without limit). An entry means
  /// something only when its axis is in `known`.
  std::array<double, kAxes> to{};
  /// per_minute: mm/min when any of X Y Z moves, else degrees/min (NIST 2.1.2.5). inverse_time: 1/minutes (NIST
  /// 3.5.19). Positive on lines and arcs, 0 on rapids.
  double feed = 0;
  std::int32_t line = 0;  ///< of the text, from 1
  std::uint32_t arc = 0;  ///< index into Program::arcs; only for Kind::arc
  Kind kind = Kind::rapid;
  FeedMode mode = FeedMode::per_minute;
  std::uint8_t named = 0;  ///< axes with a word on this line
  std::uint8_t known = 0;  ///< axes whose place is known after this step

  double at(Axis axis) const { return to[static_cast<std::size_t>(axis)]; }
  bool knows(Axis axis) const { return (known & bit(axis)) != 0; }
};

/// A circular or helical arc in the XY plane, mm.
struct Arc {
  double centre_x = 0, centre_y = 0, radius = 0;
  double sweep = 0;  ///< radians turned, > 0, at most 2 pi (a full circle)
  bool clockwise = false;
};

/// What happens between motions.
struct Event {
  enum class Kind : std::uint8_t {
    comment,        ///< text
    message,        ///< text, without its "MSG,"
    spindle_speed,  ///< value: rpm
    spindle_clockwise,
    spindle_counter_clockwise,
    spindle_off,
    tool_select,  ///< value: slot
    tool_change,  ///< value: slot
    mist_on,
    flood_on,
    coolant_off,
    overrides_on,
    overrides_off,
    dwell,  ///< value: seconds
    stop,
    optional_stop,
    pallet_stop,
    offset,   ///< axis, value: from here on its word counts from that place (G92, G92.1, G92.2), mm or degrees
    machine,  ///< value: an M word of the machine's own (ReadOptions::own_m)
    end
  };
  Kind kind = Kind::comment;
  std::size_t before = 0;  ///< index of the first step after it
  int line = 0;
  double value = 0;
  Axis axis = Axis::x;
  std::string text;
};

/// The modes in force, NIST Table 4.
struct Modes {
  enum class Motion : std::uint8_t { rapid, line, arc_clockwise, arc_counter_clockwise, none /* G80 */ };
  enum class Plane : std::uint8_t { xy, xz, yz };
  enum class Spindle : std::uint8_t { off, clockwise, counter_clockwise };
  enum class Units : std::uint8_t { millimetres, inches };
  Motion motion = Motion::none;
  Plane plane = Plane::xy;
  Spindle spindle = Spindle::off;
  Units units = Units::millimetres;
  FeedMode feed = FeedMode::per_minute;
  bool absolute = true;
  bool mist = false, flood = false;
  bool overrides = true;

  bool operator==(const Modes&) const = default;
};

struct Program {
  std::vector<Step> steps;
  std::vector<Arc> arcs;
  std::vector<Event> events;  ///< in order of execution
  Modes end;                  ///< in force when the program has ended: after M2 or M30 what NIST 3.6.1 lists
  int lines = 0;              ///< lines read
};

struct ReadOptions {
  /// The modes in force before the first line, of a controller whose modes at switch-on are known. Without them the
  /// program must say what it means: a length before G20 or G21, a motion before G90 or G91 and a feed move before G93
  /// or G94 are errors.
  std::optional<Modes> switch_on;
  /// M words beyond NIST Table 7 that this machine knows and that move nothing (a brake's): each an event.
  std::vector<int> own_m{};
};

/// The program as far as it could be understood; use it only when `sink` has no errors. After an error the reader goes
/// on with the next line, up to 50 errors. Nothing is read beyond 5,000,000 lines ("program.too-long"). A line with an error moves nothing. Lines with a block delete character are
/// read as if the switch is off, with a warning.
Program read(std::string_view text, std::string_view file, Sink& sink, const ReadOptions& options = {});

/// Stable text of the steps and events in order, a line each, with the line of the program they come from: "3 line X1.5
/// A90 time 37.016" (named axes alone; "rate" is F per minute, "time" is F in inverse time), "1 spindle-speed 18000".
std::string dump(const Program& program);
/// "motion line, plane xy, absolute, per minute, mm, spindle off, coolant off, overrides on".
std::string dump(const Modes& modes);

}  // namespace pommel::program
