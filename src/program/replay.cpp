#include "program/replay.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>
#include <string_view>

namespace pommel::program {
namespace {

constexpr std::size_t kMostErrors = 50;
constexpr double kTrapRatio = 2;  // wood passing this much faster than F says is worth a word

/// The direction and size of each machine word in part coordinates.
struct Sense {
  Axis x = Axis::x, z = Axis::z, rotary = Axis::a;
  std::optional<Axis> sideways;
  double x_sign = 1;
  double radians_per_unit = 0;  // of the rotary word
  bool linear_rotary = false;
  std::uint8_t needed = 0, allowed = 0;
};

std::optional<Axis> axis_named(std::string_view word) {
  constexpr std::string_view names = "XYZABC";
  const std::size_t at = word.size() == 1 ? names.find(word[0]) : std::string_view::npos;
  if (at == std::string_view::npos) return std::nullopt;
  return static_cast<Axis>(at);
}

bool is_linear(Axis axis) {
  return axis <= Axis::z;
}

/// Nothing when the description cannot be followed.
std::optional<Sense> sense_of(const shop::Machine& machine) {
  const auto x = axis_named(machine.x_word), z = axis_named(machine.z_word), rotary = axis_named(machine.rotary_word);
  if (!x || !z || !rotary || *x == *z || *x == *rotary || *z == *rotary || !is_linear(*x) || !is_linear(*z))
    return std::nullopt;
  Sense sense;
  sense.x = *x;
  sense.z = *z;
  sense.rotary = *rotary;
  sense.x_sign = machine.x_towards_foot ? 1 : -1;
  sense.linear_rotary = machine.rotary == shop::Machine::Rotary::unrolled_mm;
  if (sense.linear_rotary != is_linear(*rotary)) return std::nullopt;
  if (machine.rotary_sense * machine.rotary_sense != 1) return std::nullopt;
  sense.radians_per_unit =
      machine.rotary_sense * (sense.linear_rotary ? 2 / machine.unrolled_diameter : std::numbers::pi / 180);
  if (!std::isfinite(sense.radians_per_unit) || sense.radians_per_unit == 0) return std::nullopt;
  sense.needed = static_cast<std::uint8_t>(bit(*x) | bit(*z) | bit(*rotary));
  sense.allowed = sense.needed;
  if (!machine.y_word.empty()) {
    const auto y = axis_named(machine.y_word);
    if (!y || !is_linear(*y) || *y == *x || *y == *z || *y == *rotary) return std::nullopt;
    sense.sideways = *y;
    sense.allowed = static_cast<std::uint8_t>(sense.allowed | bit(*y));
  }
  return sense;
}

/// The numbers behind the M's of some lines, comments apart.
std::vector<int> own_words(const std::vector<std::string>& lines) {
  std::vector<int> codes;
  for (const std::string& line : lines) {
    bool comment = false;
    for (std::size_t i = 0; i < line.size(); ++i) {
      if (line[i] == '(' || line[i] == ')') comment = line[i] == '(';
      if (comment || (line[i] != 'M' && line[i] != 'm')) continue;
      int code = 0, digits = 0;
      while (digits < 4 && i + 1 < line.size() && line[i + 1] >= '0' && line[i + 1] <= '9') {
        code = code * 10 + (line[++i] - '0');
        ++digits;
      }
      if (digits > 0) codes.push_back(code);
    }
  }
  return codes;
}

/// Half of the last decimal: how far rounding may have put a word from where it was meant.
double half_place(int decimals) {
  return 0.5 * std::pow(10.0, -decimals);
}

struct Trap {
  double ratio = 0;
  int line = 0, count = 0;
};

class Replay {
 public:
  Replay(const Program& program, const shop::Machine& machine, std::string_view file)
      : program_(program),
        machine_(machine),
        file_(file),
        unit_(machine.inches ? 25.4 : 1),
        half_linear_(half_place(machine.x_decimals) * unit_),
        half_rotary_(half_place(machine.rotary_decimals) *
                     (machine.rotary == shop::Machine::Rotary::unrolled_mm ? unit_ : 1)),
        half_feed_(half_place(machine.feed_decimals)) {}

  Result<Replayed> run();

 private:
  void take(const Event& event);
  void take_comment(const std::string& text);
  void take_offset(const Event& event);
  double unwound(const Step& step);
  void take(const Step& step);
  void take_positioning(const Step& step);
  void take_move(const Step& step);
  void take_feed(const Step& step, motion::Move& move);
  double minutes_of(const Step& step) const;
  void check_spindle(const Step& step);
  void check_travel(const Step& step, const motion::Position& at);
  void check_rates(const Step& step, const motion::Position& to, double minutes);
  void note_trap(const Step& step, const motion::Position& to, double minutes);
  motion::Position position(const Step& step) const;
  double change(const Step& step, Axis axis) const {
    return step.knows(axis) && (known_ & bit(axis)) != 0 ? step.at(axis) - last_.at(axis) : 0;
  }
  void begin_path();
  void end_stage();
  void end_path();
  void refuse(int line, const char* id, std::string message, std::string remedy);
  void warn(int line, const char* id, std::string message, std::string remedy);
  Diagnostic diagnostic(Severity severity, int line, const char* id, std::string message, std::string remedy) const;

  const Program& program_;
  const shop::Machine& machine_;
  std::string_view file_;
  double unit_, half_linear_, half_rotary_, half_feed_;
  Sense sense_;
  Replayed result_;
  std::vector<Diagnostic> errors_;
  motion::Path path_;
  bool placed_ = false;  // all axes are known
  std::uint8_t known_ = 0;
  Step last_;  // the step that ended here
  motion::Position here_;
  std::string cutter_;
  double rpm_ = 0;
  Modes::Spindle spindle_ = Modes::Spindle::off;
  bool spindle_told_ = false;  // its state has been complained of already
  std::optional<std::string> stage_;
  std::size_t stage_first_ = 0;
  bool stage_indexed_ = false;  // something was cut in it with the rotary held
  Trap trap_;
  std::vector<int> lock_, unlock_;  // M words of the brake
  bool locked_ = false;
  double count_from_ = 0;  // where the rotary word's zero is, by resets
  double raw_ = 0;         // the rotary word as the last line gave it, on a count that begins anew at 360
};

Diagnostic Replay::diagnostic(Severity severity, int line, const char* id, std::string message,
                              std::string remedy) const {
  Diagnostic found;
  found.severity = severity;
  found.id = id;
  found.message = std::move(message);
  found.remedy = std::move(remedy);
  found.place = {std::string(file_), line, 0};
  return found;
}

void Replay::refuse(int line, const char* id, std::string message, std::string remedy) {
  if (errors_.size() < kMostErrors)
    errors_.push_back(diagnostic(Severity::error, line, id, std::move(message), std::move(remedy)));
}

void Replay::warn(int line, const char* id, std::string message, std::string remedy) {
  result_.warnings.push_back(diagnostic(Severity::warning, line, id, std::move(message), std::move(remedy)));
}

/// For messages: tenths are plenty.
std::string rough(double value) {
  if (!(std::abs(value) < 1e12)) return "far too much";
  const long long tenths = std::llround(value * 10);
  const std::string whole = (tenths < 0 ? "-" : "") + std::to_string(std::abs(tenths) / 10);
  return tenths % 10 == 0 ? whole : whole + "." + std::to_string(std::abs(tenths) % 10);
}

// ------------------------------------------------------------------------------------------------------------- events

void Replay::begin_path() {
  path_ = motion::Path{};
  path_.start = here_;
  trap_ = Trap{};
}

void Replay::end_stage() {
  if (stage_) path_.stages.push_back({*stage_, stage_first_, path_.moves.size() - stage_first_, stage_indexed_});
  stage_indexed_ = false;
  stage_.reset();
}

void Replay::end_path() {
  end_stage();
  if (trap_.count > 0) {
    warn(trap_.line, "program.helix-trap",
         std::to_string(trap_.count) + (trap_.count == 1 ? " move turns and travels" : " moves turn and travel") +
             " at once under G94: F counts the straight part alone, and the wood passes the tip " + rough(trap_.ratio) +
             " times as fast as F says",
         "check that this is meant, or use G93");
  }
  if (!path_.moves.empty()) result_.paths.push_back(std::move(path_));
  begin_path();
}

void Replay::take_comment(const std::string& text) {
  constexpr std::string_view cutter = "cutter: ", stage = "stage: ";
  if (text.starts_with(cutter)) cutter_ = text.substr(cutter.size());
  if (!text.starts_with(stage) && text != "between stages") return;
  end_stage();
  if (text.starts_with(stage)) {
    stage_ = text.substr(stage.size());
    stage_first_ = path_.moves.size();
  }
}

void Replay::take_offset(const Event& event) {
  if (event.axis != sense_.rotary || machine_.reset.empty()) {
    refuse(event.line, "program.zero-shift",
           event.axis != sense_.rotary ? "the program moves the zero of an axis that does not turn"
                                       : "the program names the rotary's angle anew, but this machine has no reset",
           "set the zero at the machine, and leave G92 out");
  }
  count_from_ = event.axis == sense_.rotary ? event.value : count_from_;
}

bool holds(const std::vector<int>& list, double code) {
  return std::find(list.begin(), list.end(), static_cast<int>(code)) != list.end();
}

void Replay::take(const Event& event) {
  using Kind = Event::Kind;
  switch (event.kind) {
    case Kind::comment:
      take_comment(event.text);
      break;
    case Kind::tool_change:
      end_path();
      spindle_ = Modes::Spindle::off;
      break;
    case Kind::spindle_speed:
      rpm_ = event.value;
      break;
    case Kind::spindle_clockwise:
      spindle_ = Modes::Spindle::clockwise;
      break;
    case Kind::spindle_counter_clockwise:
      spindle_ = Modes::Spindle::counter_clockwise;
      break;
    case Kind::spindle_off:
      spindle_ = Modes::Spindle::off;
      break;
    case Kind::offset:
      take_offset(event);
      break;
    case Kind::machine:
      if (holds(lock_, event.value)) locked_ = true;
      if (holds(unlock_, event.value)) locked_ = false;
      break;
    default:
      break;  // coolant, dwells, stops and messages move nothing
  }
  if (event.kind != Kind::comment) spindle_told_ = false;
}

// -------------------------------------------------------------------------------------------------------------- steps

motion::Position Replay::position(const Step& step) const {
  motion::Position at;
  at.x = step.at(sense_.x) * sense_.x_sign;
  at.z = step.at(sense_.z);
  if (sense_.sideways && step.knows(*sense_.sideways)) at.y = step.at(*sense_.sideways);
  at.a = step.at(sense_.rotary) * sense_.radians_per_unit;
  return at;
}

double Replay::minutes_of(const Step& step) const {
  if (step.mode == FeedMode::inverse_time) return 1 / step.feed;
  const double straight = std::hypot(change(step, Axis::x), change(step, Axis::y), change(step, Axis::z));
  if (machine_.feed == shop::Machine::Feed::surface)
    return std::hypot(straight, change(step, sense_.rotary) * std::numbers::pi / 360 * machine_.feed_diameter) / step.feed;
  if (straight > 0) return straight / step.feed;
  return std::hypot(change(step, Axis::a), change(step, Axis::b), change(step, Axis::c)) / step.feed;
}

void Replay::check_spindle(const Step& step) {
  if (spindle_told_) return;
  const auto wrong = [&](const char* what, const std::string& remedy) {
    spindle_told_ = true;
    refuse(step.line, "program.spindle", std::string("the spindle ") + what + " at a feed move", remedy);
  };
  if (spindle_ == Modes::Spindle::off || rpm_ == 0) wrong("stands still", "write S and M3 before it");
  else if (spindle_ == Modes::Spindle::counter_clockwise) wrong("turns backwards", "write M3 instead of M4");
  else if (rpm_ > machine_.max_rpm) wrong("turns faster than the machine can", "write S" + rough(machine_.max_rpm) + " or less");
}

void Replay::check_travel(const Step& step, const motion::Position& at) {
  const auto within = [&](double value, double low, double high, const char* axis) {
    if (value >= low - half_linear_ && value <= high + half_linear_) return;
    refuse(step.line, "program.travel",
           std::string(axis) + " " + rough(value) + " mm is beyond the machine's travel, " + rough(low) + " to " +
               rough(high) + " mm",
           "shorten the work, or place the piece differently");
  };
  within(at.x, machine_.x_min, machine_.x_max, "x");
  within(at.z, machine_.z_min, machine_.z_max, "z");
  if (sense_.sideways) within(at.y, machine_.y_min, machine_.y_max, "y");
  const double half_turns = half_rotary_ * std::abs(sense_.radians_per_unit) / (2 * std::numbers::pi);
  const double word = step.at(sense_.rotary) - count_from_;
  const double turns = std::abs(word * sense_.radians_per_unit) / (2 * std::numbers::pi);
  if (machine_.rotary_limit_turns > 0 && turns > machine_.rotary_limit_turns + half_turns) {
    refuse(step.line, "program.travel",
           rough(turns) + " turns from zero are beyond the rotary's " + rough(machine_.rotary_limit_turns),
           "let the passes turn back");
  }
}

/// Rounding moves each end of a word by at most half its last decimal, and the feed word by half of its own: only
/// what is too fast even so is refused.
void Replay::check_rates(const Step& step, const motion::Position& to, double minutes) {
  const double half = half_feed_ * (step.mode == FeedMode::per_minute ? unit_ : 1);
  const double longest = step.feed > half ? minutes * step.feed / (step.feed - half) : minutes;
  const auto within = [&](double travel, double rounding, double limit, const char* what, const char* unit) {
    if (travel - rounding <= limit * longest) return;
    refuse(step.line, "program.feed-limit",
           std::string(what) + " would have to do " + rough(travel / minutes) + " " + unit +
               " a minute; the machine does " + rough(limit),
           "give the move more time");
  };
  const double dx = std::abs(to.x - here_.x), dy = std::abs(to.y - here_.y), dz = std::abs(to.z - here_.z);
  const double rotary_place = 2 * half_rotary_ * std::abs(sense_.radians_per_unit);
  within(std::hypot(dx, dy, dz), 2 * half_linear_ * std::numbers::sqrt3, machine_.feed_max, "the feed", "mm");
  within(dx, 2 * half_linear_, machine_.rapid_x, "x", "mm");
  within(dz, 2 * half_linear_, machine_.rapid_z, "z", "mm");
  if (sense_.sideways) within(dy, 2 * half_linear_, machine_.rapid_y, "y", "mm");
  within(std::abs(to.a - here_.a) / (2 * std::numbers::pi), rotary_place / (2 * std::numbers::pi),
         machine_.rapid_rotary, "the rotary", "turns");
}

/// The way of the tip along the wood, a helix at the greater of its two heights, against the straight way that F
/// counts.
void Replay::note_trap(const Step& step, const motion::Position& to, double minutes) {
  if (step.mode != FeedMode::per_minute || sense_.linear_rotary || machine_.feed == shop::Machine::Feed::surface || to.a == here_.a) return;
  const double straight = std::hypot(to.x - here_.x, to.y - here_.y, to.z - here_.z);
  if (straight == 0) return;
  const double height = std::max(std::abs(to.z), std::abs(here_.z));
  const double ratio = std::hypot(straight, height * (to.a - here_.a)) / minutes / step.feed;
  if (ratio <= kTrapRatio) return;
  ++trap_.count;
  if (ratio > trap_.ratio) {
    trap_.ratio = ratio;
    trap_.line = step.line;
  }
}

void Replay::take_feed(const Step& step, motion::Move& move) {
  check_spindle(step);
  move.minutes = minutes_of(step);
  check_rates(step, move.to, move.minutes);
  note_trap(step, move.to, move.minutes);
  if (path_.rpm == 0) path_.rpm = rpm_;
  if (path_.rpm != rpm_) {
    warn(step.line, "program.rpm-changes",
         "the spindle changes from " + rough(path_.rpm) + " to " + rough(rpm_) + " rpm while this tool cuts",
         "check that this is meant");
    path_.rpm = rpm_;
  }
}

/// Until every axis is known nobody can say where the tip is: the height comes first, by itself.
void Replay::take_positioning(const Step& step) {
  if (known_ == 0 && step.named != bit(sense_.z)) {
    refuse(step.line, "program.first-move",
           "the first move is not one of " + machine_.z_word + " alone: others move at an unknown height",
           "lift the cutter first");
  }
  if (step.kind != Step::Kind::rapid) {
    refuse(step.line, "program.unknown-start", "a feed move while the place of an axis is not known",
           "go to the start at rapid first");
  }
  placed_ = (step.known & sense_.needed) == sense_.needed;
  if (!placed_) return;
  path_.start = position(step);
  check_travel(step, path_.start);
  here_ = path_.start;
}

void Replay::take_move(const Step& step) {
  motion::Move move;
  move.to = position(step);
  move.rapid = step.kind == Step::Kind::rapid;
  move.line = step.line;
  const bool timed = !move.rapid && step.mode == FeedMode::inverse_time;
  if (move.to == here_ && !timed) return;
  if (path_.moves.empty()) path_.cutter = cutter_;
  check_travel(step, move.to);
  if (!move.rapid) take_feed(step, move);
  if (locked_ && move.to.a != here_.a) {
    refuse(step.line, "program.locked", "the rotary is to turn while its brake holds it", "free it before this line");
  }
  stage_indexed_ = stage_indexed_ || (locked_ && !move.rapid);
  path_.moves.push_back(move);
  here_ = move.to;
}

/// The angle that the rotary has really come to, where its word begins anew at 360: by the shorter way from the last.
double Replay::unwound(const Step& step) {
  const double word = step.at(sense_.rotary);
  if ((step.named & bit(sense_.rotary)) == 0) return (known_ & bit(sense_.rotary)) != 0 ? last_.at(sense_.rotary) : 0;
  if (word < 0 || word >= 360) {
    refuse(step.line, "program.modulo", "the rotary's word runs from 0 to below 360 on this machine", "write the angle without whole turns");
  }
  const bool first = (known_ & bit(sense_.rotary)) == 0;
  const double way = first ? 0 : std::remainder(word - raw_, 360);
  if (std::abs(way) > 180 - 4 * half_rotary_) {
    refuse(step.line, "program.modulo", "a move of half a turn: nobody knows which way the rotary goes", "write it in parts");
  }
  raw_ = word;
  return first ? word : last_.at(sense_.rotary) + way;
}

void Replay::take(const Step& told) {
  Step step = told;
  if (machine_.counting == shop::Machine::Counting::modulo && step.knows(sense_.rotary))
    step.to[static_cast<std::size_t>(sense_.rotary)] = unwound(step);
  if ((step.named & ~sense_.allowed) != 0) {
    refuse(step.line, "program.axis", "this machine has no such axis",
           "it has " + machine_.x_word + ", " + machine_.z_word + " and " + machine_.rotary_word);
  } else if (step.kind == Step::Kind::arc) {
    refuse(step.line, "program.arc-on-rotary", "arcs are not used on a rotary job", "write short lines instead");
  } else if (!placed_) {
    take_positioning(step);
  } else {
    take_move(step);
  }
  known_ = step.known;
  last_ = step;
}

Result<Replayed> Replay::run() {
  const std::optional<Sense> sense = sense_of(machine_);
  const bool rates = machine_.feed_max > 0 && machine_.rapid_x > 0 && machine_.rapid_z > 0 && machine_.rapid_rotary > 0;
  if (!sense || !rates || !(machine_.x_min < machine_.x_max) || !(machine_.z_min < machine_.z_max)) {
    return fail("program.machine", "machine '" + machine_.id + "' is not described well enough to follow its program",
                "state its words, the sense and diameter of its rotary, travels and speeds");
  }
  sense_ = *sense;
  lock_ = own_words(machine_.lock);
  unlock_ = own_words(machine_.unlock);
  std::size_t next = 0;
  for (std::size_t i = 0; i <= program_.steps.size() && errors_.size() < kMostErrors; ++i) {
    for (; next < program_.events.size() && program_.events[next].before <= i; ++next) take(program_.events[next]);
    if (i < program_.steps.size()) take(program_.steps[i]);
  }
  end_path();
  if (errors_.empty() && result_.paths.empty())
    refuse(program_.lines, "program.no-motion", "nothing moves in this program", "");
  if (!errors_.empty()) return Failure(std::move(errors_));
  return std::move(result_);
}

}  // namespace

ReadOptions read_options(const shop::Machine& machine) {
  ReadOptions options;
  options.own_m = own_words(machine.lock);
  for (const int code : own_words(machine.unlock)) options.own_m.push_back(code);
  return options;
}

Result<Replayed> replay(const Program& program, const shop::Machine& machine, std::string_view file) {
  return Replay(program, machine, file).run();
}

}  // namespace pommel::program
