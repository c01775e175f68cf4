#include <array>

#include "base/number.h"
#include "program/reader.h"

namespace pommel::program {
namespace {

constexpr std::array<char, kAxes> kNames{'X', 'Y', 'Z', 'A', 'B', 'C'};

const char* name_of(Event::Kind kind) {
  using Kind = Event::Kind;
  switch (kind) {
    case Kind::comment:
      return "comment";
    case Kind::message:
      return "message";
    case Kind::spindle_speed:
      return "spindle-speed";
    case Kind::spindle_clockwise:
      return "spindle-clockwise";
    case Kind::spindle_counter_clockwise:
      return "spindle-counter-clockwise";
    case Kind::spindle_off:
      return "spindle-off";
    case Kind::tool_select:
      return "tool-select";
    case Kind::tool_change:
      return "tool-change";
    case Kind::mist_on:
      return "mist-on";
    case Kind::flood_on:
      return "flood-on";
    case Kind::coolant_off:
      return "coolant-off";
    case Kind::overrides_on:
      return "overrides-on";
    case Kind::overrides_off:
      return "overrides-off";
    case Kind::dwell:
      return "dwell";
    case Kind::stop:
      return "stop";
    case Kind::optional_stop:
      return "optional-stop";
    case Kind::pallet_stop:
      return "pallet-stop";
    case Kind::offset:
      return "offset";
    case Kind::machine:
      return "machine";
    case Kind::end:
      return "end";
  }
  return "?";
}

std::string text_of(const Event& event) {
  using Kind = Event::Kind;
  std::string text = std::to_string(event.line) + " " + name_of(event.kind);
  if (event.kind == Kind::comment || event.kind == Kind::message) return text + " '" + event.text + "'";
  if (event.kind == Kind::offset)
    return text + " " + kNames[static_cast<std::size_t>(event.axis)] + format_number(event.value, 6);
  const bool valued = event.kind == Kind::machine || event.kind == Kind::spindle_speed || event.kind == Kind::tool_select ||
                      event.kind == Kind::tool_change || event.kind == Kind::dwell;
  return valued ? text + " " + format_number(event.value, 6) : text;
}

std::string text_of(const Program& program, const Step& step) {
  constexpr std::array<const char*, 3> kinds{" rapid", " line", " arc"};
  std::string text = std::to_string(step.line) + kinds[static_cast<std::size_t>(step.kind)];
  for (std::size_t i = 0; i < kAxes; ++i) {
    if ((step.named >> i & 1) != 0) text += std::string(" ") + kNames[i] + format_number(step.to[i], 6);
  }
  if (step.kind == Step::Kind::rapid) return text;
  text += (step.mode == FeedMode::inverse_time ? " time " : " rate ") + format_number(step.feed, 8);
  if (step.kind == Step::Kind::line) return text;
  const Arc& arc = program.arcs[step.arc];
  return text + " centre " + format_number(arc.centre_x, 4) + " " + format_number(arc.centre_y, 4) + " radius " +
         format_number(arc.radius, 4) + " sweep " + format_number(arc.sweep, 4) +
         (arc.clockwise ? " clockwise" : " counter-clockwise");
}

}  // namespace

std::string dump(const Program& program) {
  std::string text;
  std::size_t next = 0;
  for (std::size_t i = 0; i <= program.steps.size(); ++i) {
    for (; next < program.events.size() && program.events[next].before <= i; ++next)
      text += text_of(program.events[next]) + "\n";
    if (i < program.steps.size()) text += text_of(program, program.steps[i]) + "\n";
  }
  return text;
}

std::string dump(const Modes& modes) {
  constexpr std::array<const char*, 5> motions{"rapid", "line", "arc clockwise", "arc counter-clockwise", "none"};
  constexpr std::array<const char*, 3> planes{"xy", "xz", "yz"}, spindles{"off", "clockwise", "counter-clockwise"};
  constexpr std::array<const char*, 2> units{"mm", "inches"};
  std::string text = std::string("motion ") + motions[static_cast<std::size_t>(modes.motion)];
  text += std::string(", plane ") + planes[static_cast<std::size_t>(modes.plane)];
  text += modes.absolute ? ", absolute" : ", incremental";
  text += modes.feed == FeedMode::inverse_time ? ", inverse time" : ", per minute";
  text += std::string(", ") + units[static_cast<std::size_t>(modes.units)];
  text += std::string(", spindle ") + spindles[static_cast<std::size_t>(modes.spindle)];
  text += std::string(", coolant ") + (modes.mist    ? modes.flood ? "mist and flood" : "mist"
                                       : modes.flood ? "flood"
                                                     : "off");
  return text + (modes.overrides ? ", overrides on" : ", overrides off");
}

}  // namespace pommel::program
