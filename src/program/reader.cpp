#include "program/reader.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "program/reader_words.h"

namespace pommel::program {
namespace {

using namespace words;  // the lower half of this reader

constexpr double kArcToleranceMm = 0.002;     // NIST 3.5.3.2
constexpr double kArcToleranceInch = 0.0002;  // NIST 3.5.3.2
constexpr double kMmPerInch = 25.4;
constexpr std::uint8_t kLinear = bit(Axis::x) | bit(Axis::y) | bit(Axis::z);

bool uses_axis_words(int nonmodal) {
  return nonmodal == 100 || nonmodal == 280 || nonmodal == 300 || nonmodal == 920;
}

class Reader {
 public:
  Reader(std::string_view text, std::string_view file, Sink& sink, const ReadOptions& options)
      : text_(text), line_(file, sink, options.own_m) {
    if (!options.switch_on) return;
    modes_ = *options.switch_on;
    stated_ = (1u << g_units) | (1u << g_distance) | (1u << g_feed);
  }

  Program run();

 private:
  // lines
  bool usual_line();
  bool next_line();
  void one_line();
  void take_comment();
  void percent_line(bool first);
  void check_ending();
  Program too_long();
  void skip_to_closing_percent();

  // sense of the line before anything of it is done
  bool check_line();
  bool check_g53();
  bool check_refused();
  bool check_values();
  bool check_companions();
  bool check_motion();
  bool check_feed(bool motion_feeds);
  Modes::Motion motion_of_line() const;
  bool uses_group_zero_axes() const { return words_.has(g_nonmodal) && uses_axis_words(words_.g[g_nonmodal]); }

  // doing it, in the order of NIST Table 8
  void execute();
  void execute_spindle_and_tool();
  void execute_switches();
  void execute_modes();
  void execute_offsets();
  void set_offset(std::size_t axis, double value);
  void execute_motion();
  void execute_stop();
  bool check_stated();
  bool target(Step& step);
  bool set_arc(const Step& step, Arc& arc);
  bool centre_from_offsets(const Step& step, Arc& arc);
  bool centre_from_radius(const Step& step, Arc& arc);
  void set_sweep(const Step& step, Arc& arc) const;
  bool moves_linear(const Step& step) const;
  double scale() const { return modes_.units == Modes::Units::inches ? kMmPerInch : 1.0; }
  void event(Event::Kind kind, double value = 0);

  std::string_view text_;
  std::size_t cursor_ = 0;  // into text_
  std::string_view raw_;    // the line as it stands
  int number_ = 0;          // of that line
  Line line_;
  const Words& words_ = line_.words();
  Program program_;
  Modes modes_;
  std::uint32_t stated_ = 0;           // groups whose mode is known
  std::array<double, kAxes> place_{};  // mm and degrees
  std::array<double, kAxes> offset_{};  // where a word's zero is (G92)
  std::uint8_t known_ = 0;
  double feed_ = 0;  // as programmed, per minute; 0 when none is in force
  double slot_ = 0;  // tool most recently selected
  bool opened_ = false, closed_ = false, ended_ = false, content_ = false;
};

// ------------------------------------------------------------------------------------------------------------- lines
// in

bool Reader::next_line() {
  if (cursor_ >= text_.size()) return false;
  std::size_t end = cursor_;
  while (end < text_.size() && text_[end] != '\n' && text_[end] != '\r') ++end;
  raw_ = text_.substr(cursor_, end - cursor_);
  cursor_ = end + 1;
  if (end + 1 < text_.size() && text_[end] == '\r' && text_[end + 1] == '\n') ++cursor_;
  ++number_;
  return true;
}

/// Nearly all lines are a straight motion that says where to go, and how fast, in the modes that are in force. Such a line is read here as the
/// rest of this file would read it; false, with nothing done, when there is anything else about it.
bool Reader::usual_line() {
  if (cursor_ >= text_.size()) return false;  // a text whose last line is not ended leaves the cursor behind its end
  constexpr std::uint32_t kStated = (1u << g_units) | (1u << g_distance) | (1u << g_feed);
  if ((stated_ & kStated) != kStated || !modes_.absolute || !content_) return false;
  UsualLine line;
  if (!line.take(text_.substr(cursor_))) return false;
  const Modes::Motion motion = line.g == 0 ? Modes::Motion::rapid : line.g == 1 ? Modes::Motion::line : modes_.motion;
  const bool rapid = motion == Modes::Motion::rapid, rate = modes_.feed == FeedMode::per_minute;
  if (line.named == 0 || (!rapid && motion != Modes::Motion::line)) return false;
  if (rapid ? line.has_feed : line.has_feed ? !(line.feed > 0) : !(rate && feed_ > 0)) return false;

  if (line.has_feed && rate) feed_ = line.feed;
  modes_.motion = motion;
  Step& step = program_.steps.emplace_back();
  step.to = place_;
  bool straight = false;  // some of X, Y, Z moves
  for (std::size_t i = 0; i < kAxes; ++i) {
    if ((line.named >> i & 1u) == 0) continue;
    step.to[i] = line.value[i] * (i < 3 ? scale() : 1.0) + offset_[i];
    straight = straight || (i < 3 && ((known_ >> i & 1u) == 0 || step.to[i] != place_[i]));
  }
  step.named = line.named;
  step.known = static_cast<std::uint8_t>(known_ | line.named);
  step.line = ++number_;
  if (!rapid) {
    step.kind = Step::Kind::line;
    step.mode = modes_.feed;
    step.feed = rate ? feed_ * (straight ? scale() : 1.0) : line.feed;
  }
  place_ = step.to;
  known_ = step.known;
  cursor_ += line.length + 1;
  return true;
}

// ------------------------------------------------------------------------------------------------------------- sense

Modes::Motion Reader::motion_of_line() const {
  if (!words_.has(g_motion)) return modes_.motion;
  switch (words_.g[g_motion]) {
    case 0:
      return Modes::Motion::rapid;
    case 10:
      return Modes::Motion::line;
    case 20:
      return Modes::Motion::arc_clockwise;
    case 30:
      return Modes::Motion::arc_counter_clockwise;
    default:
      return Modes::Motion::none;
  }
}

bool Reader::check_g53() {
  const Modes::Motion motion = motion_of_line();
  if (!words_.is(g_nonmodal, 530) || motion == Modes::Motion::rapid || motion == Modes::Motion::line) return true;
  return line_.error_at(g_nonmodal, "program.g53", "G53 needs G0 or G1", "write the motion on the same line");
}

bool Reader::check_refused() {
  static constexpr const char* kShifts = "this program shifts its zero; the check cannot know by how much";
  static constexpr const char* kSetZero = "set the zero at the machine (G54) and leave this word out";
  const int once = words_.has(g_nonmodal) ? words_.g[g_nonmodal] : 40;
  if (once != 40 && once != 920 && once != 921 && once != 922)
    return line_.error_at(g_nonmodal, "program.zero-shift", kShifts, kSetZero);
  if (once == 920 && line_.named() == 0)
    return line_.error_at(g_nonmodal, "program.no-axis", "G92 has no axis word", "say what the place is called");
  if (words_.has(g_zero) && words_.g[g_zero] != 540)
    return line_.error_at(g_zero, "program.zero-shift", kShifts, kSetZero);
  if (words_.is(g_length, 430))
    return line_.error_at(g_length, "program.zero-shift", kShifts, "measure the cutter to the zero in place");
  if (words_.has(g_radius) && words_.g[g_radius] != 400) {
    return line_.error_at(g_radius, "program.compensation", "cutter compensation moves the path by an unknown amount",
                          "program the cutter's own path");
  }
  if (words_.has(g_motion) && words_.g[g_motion] == 382) {
    return line_.error_at(g_motion, "program.probe", "a probing move ends where nobody knows", "leave it out");
  }
  if (words_.has(g_motion) && words_.g[g_motion] > 800) {
    return line_.error_at(g_motion, "program.canned-cycle", "canned cycles are not used on a rotary job",
                          "write the moves themselves");
  }
  return true;
}

bool Reader::check_values() {
  if (words_.has('S') && words_.of('S') < 0) {
    return line_.error_at('S', "program.negative", "a spindle speed is not negative", "use M4 to turn the other way");
  }
  if (words_.has('F') && words_.of('F') < 0)
    return line_.error_at('F', "program.negative", "a feed is not negative", "");
  if (words_.has('T') && (words_.of('T') < 0 || std::abs(words_.of('T') - std::round(words_.of('T'))) > kNearInteger)) {
    return line_.error_at('T', "program.tool", "a tool is a whole number, 0 or more", "");
  }
  if (words_.is(g_nonmodal, 40)) {
    if (!words_.has('P')) return line_.error_at(g_nonmodal, "program.dwell", "G4 needs P, the seconds to wait", "");
    if (words_.of('P') < 0) return line_.error_at('P', "program.negative", "a dwell is not negative", "");
  }
  return true;
}

/// Words that say something only beside others: alone they would be skipped, and nothing is skipped.
bool Reader::check_companions() {
  const Modes::Motion motion = motion_of_line();
  const bool arc =
      line_.named() != 0 && (motion == Modes::Motion::arc_clockwise || motion == Modes::Motion::arc_counter_clockwise);
  for (const char letter : {'D', 'H', 'I', 'J', 'K', 'L', 'P', 'Q', 'R'}) {
    if (!words_.has(letter)) continue;
    const bool used =
        letter == 'P' ? words_.is(g_nonmodal, 40) : arc && (letter == 'I' || letter == 'J' || letter == 'R');
    if (!used) {
      return line_.error_at(letter, "program.word-unused", std::string(1, letter) + " means nothing on this line",
                            "leave it out");
    }
  }
  return true;
}

bool Reader::check_feed(bool motion_feeds) {
  if (!motion_feeds) return true;
  const auto refuse = [this](const char* message, const char* remedy) {
    if (words_.has(g_motion)) return line_.error_at(g_motion, "program.no-feed", message, remedy);
    return line_.error_at_first_axis("program.no-feed", message, remedy);
  };
  const FeedMode mode =
      words_.has(g_feed) ? (words_.g[g_feed] == 930 ? FeedMode::inverse_time : FeedMode::per_minute) : modes_.feed;
  if (mode == FeedMode::inverse_time) {
    if (!words_.has('F')) {
      return refuse("in inverse time (G93) every feed move needs its own F", "write F, 1/minutes, on this line");
    }
    if (words_.of('F') == 0)
      return line_.error_at('F', "program.no-feed", "F0 in inverse time would take for ever", "");
    return true;
  }
  const bool carried = feed_ > 0 && modes_.feed == FeedMode::per_minute;
  if (words_.has('F') ? words_.of('F') > 0 : carried) return true;
  return refuse("this move has no feed", "write F, the feed per minute, before it or on its line");
}

bool Reader::check_motion() {
  const Modes::Motion motion = motion_of_line();
  if (uses_group_zero_axes() && words_.has(g_motion) && motion != Modes::Motion::none) {
    return line_.error_at(
        g_motion, "program.two-use-axes",
        g_text(words_.g[g_motion]) + " and " + g_text(words_.g[g_nonmodal]) + " both use the axis words",
        "put them on two lines");
  }
  if (line_.named() == 0) {
    if (!words_.has(g_motion) || motion == Modes::Motion::none) return true;
    return line_.error_at(g_motion, "program.no-axis", g_text(words_.g[g_motion]) + " has no axis word",
                          "say where to go, or leave it out");
  }
  if (uses_group_zero_axes()) return true;
  if (motion == Modes::Motion::none && !(words_.has(g_motion) && words_.g[g_motion] != 800)) {
    return line_.error_at_first_axis("program.axis-without-motion", "axis words without a motion in force (G80)",
                                     "write G0 or G1 on this line");
  }
  return check_feed(motion != Modes::Motion::rapid && motion != Modes::Motion::none);
}

bool Reader::check_line() {
  return check_g53() && check_motion() && check_refused() && check_values() && check_companions();
}

// ------------------------------------------------------------------------------------------------------------- doing

void Reader::event(Event::Kind kind, double value) {
  Event happened;
  happened.kind = kind;
  happened.before = program_.steps.size();
  happened.line = number_;
  happened.value = value;
  program_.events.push_back(std::move(happened));
}

void Reader::execute_spindle_and_tool() {
  if (words_.has('S')) event(Event::Kind::spindle_speed, words_.of('S'));
  if (words_.has('T')) event(Event::Kind::tool_select, slot_ = std::round(words_.of('T')));
  if (words_.has(m_tool)) {
    modes_.spindle = Modes::Spindle::off;  // NIST 3.6.3
    event(Event::Kind::tool_change, slot_);
  }
  if (!words_.has(m_spindle)) return;
  const int code = words_.m[m_spindle];
  modes_.spindle = code == 3   ? Modes::Spindle::clockwise
                   : code == 4 ? Modes::Spindle::counter_clockwise
                               : Modes::Spindle::off;
  event(code == 3   ? Event::Kind::spindle_clockwise
        : code == 4 ? Event::Kind::spindle_counter_clockwise
                    : Event::Kind::spindle_off);
}

void Reader::execute_switches() {
  if (words_.has(m_coolant)) {
    const int code = words_.m[m_coolant];
    modes_.mist = code != 9 && (modes_.mist || code == 7);
    modes_.flood = code != 9 && (modes_.flood || code == 8);
    event(code == 7 ? Event::Kind::mist_on : code == 8 ? Event::Kind::flood_on : Event::Kind::coolant_off);
  }
  if (words_.has(m_overrides)) {
    modes_.overrides = words_.m[m_overrides] == 48;
    event(modes_.overrides ? Event::Kind::overrides_on : Event::Kind::overrides_off);
  }
  if (words_.has(m_own)) event(Event::Kind::machine, words_.m[m_own]);
  if (words_.is(g_nonmodal, 40)) event(Event::Kind::dwell, words_.of('P'));
}

void Reader::execute_modes() {
  if (words_.has(g_plane)) {
    modes_.plane = words_.g[g_plane] == 170   ? Modes::Plane::xy
                   : words_.g[g_plane] == 180 ? Modes::Plane::xz
                                              : Modes::Plane::yz;
  }
  if (words_.has(g_units)) {
    const Modes::Units units = words_.g[g_units] == 200 ? Modes::Units::inches : Modes::Units::millimetres;
    const bool known = (stated_ >> g_units & 1u) != 0, other = modes_.units != units;
    if (known && other && words_.has('F')) {
      line_.error_at('F', "program.feed-and-units",
                     "controllers disagree which units an F on the line of G20 or G21 has", "put F on a later line");
    }
    if ((!known || other) && !words_.has('F')) feed_ = 0;  // a rate in other units is none
    modes_.units = units;
  }
  if (words_.has(g_distance)) modes_.absolute = words_.g[g_distance] == 900;
  stated_ |= words_.g_seen;
}

/// What a motion means must not hang on how a controller wakes up.
bool Reader::check_stated() {
  const auto stated = [this](GGroup group) { return (stated_ >> group & 1u) != 0; };
  if ((line_.named() & kLinear) != 0 && !stated(g_units)) {
    return line_.error_on_line("program.no-units", "a length before G20 or G21: nobody knows how long it is",
                               "write G21 (mm) or G20 (inch) first");
  }
  if (!stated(g_distance)) {
    return line_.error_on_line("program.no-distance-mode",
                               "a motion before G90 or G91: nobody knows from where it counts",
                               "write G90 (absolute) first");
  }
  if (modes_.motion == Modes::Motion::rapid || stated(g_feed)) return true;
  return line_.error_on_line("program.no-feed-mode", "a feed move before G93 or G94: nobody knows what its F means",
                             "write G93 (1/minutes) or G94 (per minute) first");
}

/// Fills `to`, `named` and `known`; fails on an increment from nowhere.
bool Reader::target(Step& step) {
  step.to = place_;
  step.named = line_.named();
  for (std::size_t i = 0; i < kAxes; ++i) {
    if ((line_.named() >> i & 1u) == 0) continue;
    const double value = words_.of(kAxisLetters[i]) * (i < 3 ? scale() : 1.0);
    if (!modes_.absolute && (known_ >> i & 1u) == 0) {
      return line_.error_at(kAxisLetters[i], "program.unknown-start", "an increment (G91) from a place nobody knows",
                            "give this axis an absolute place (G90) first");
    }
    step.to[i] = modes_.absolute ? value + offset_[i] : place_[i] + value;
  }
  step.known = static_cast<std::uint8_t>(known_ | line_.named());
  return true;
}

bool Reader::moves_linear(const Step& step) const {
  for (std::size_t i = 0; i < 3; ++i) {
    const bool named = (line_.named() >> i & 1u) != 0, known = (known_ >> i & 1u) != 0;
    if (named && (!known || step.to[i] != place_[i])) return true;
  }
  return false;
}

bool Reader::centre_from_offsets(const Step& step, Arc& arc) {
  const double i = words_.has('I') ? words_.of('I') * scale() : 0, j = words_.has('J') ? words_.of('J') * scale() : 0;
  arc.centre_x = place_[0] + i;
  arc.centre_y = place_[1] + j;
  arc.radius = std::hypot(i, j);
  const double at_end = std::hypot(step.to[0] - arc.centre_x, step.to[1] - arc.centre_y);
  const double tolerance = modes_.units == Modes::Units::inches ? kArcToleranceInch * kMmPerInch : kArcToleranceMm;
  if (arc.radius > 0 && std::abs(at_end - arc.radius) <= tolerance) return true;
  return line_.error_at(words_.has('I') ? 'I' : 'J', "program.arc-radius",
                        "the arc's start and end are not at one distance from its centre", "look at I and J");
}

/// NIST 3.5.3.1: a positive R turns through 180 degrees or less, a negative one through 180 or more.
bool Reader::centre_from_radius(const Step& step, Arc& arc) {
  const double dx = step.to[0] - place_[0], dy = step.to[1] - place_[1], chord = std::hypot(dx, dy);
  if (chord == 0) {
    return line_.error_at('R', "program.arc-no-chord", "an arc by radius must end elsewhere than it starts",
                          "use I and J for a full circle");
  }
  const double r = words_.of('R') * scale(), half = chord / 2;
  const double tolerance = modes_.units == Modes::Units::inches ? kArcToleranceInch * kMmPerInch : kArcToleranceMm;
  if (std::abs(r) + tolerance < half) {
    return line_.error_at('R', "program.arc-radius", "the radius is too small to reach the end of the arc", "");
  }
  const double height = std::sqrt(std::max(0.0, r * r - half * half));
  // standing at the start and looking to the end, a short clockwise arc has its centre on the right
  const double side = (arc.clockwise == (r > 0)) ? 1.0 : -1.0;
  arc.centre_x = place_[0] + dx / 2 + side * height * dy / chord;
  arc.centre_y = place_[1] + dy / 2 - side * height * dx / chord;
  arc.radius = std::max(std::abs(r), half);
  return true;
}

void Reader::set_sweep(const Step& step, Arc& arc) const {
  const double turn = 2 * std::numbers::pi;
  const double from = std::atan2(place_[1] - arc.centre_y, place_[0] - arc.centre_x);
  const double to = std::atan2(step.to[1] - arc.centre_y, step.to[0] - arc.centre_x);
  double sweep = arc.clockwise ? from - to : to - from;
  if (sweep <= 0) sweep += turn;
  const bool same = step.to[0] == place_[0] && step.to[1] == place_[1];
  arc.sweep = same ? turn : std::min(sweep, turn);
}

bool Reader::set_arc(const Step& step, Arc& arc) {
  const char at = words_.has('X') ? 'X' : 'Y';
  if (modes_.plane != Modes::Plane::xy) {
    return line_.error_on_line("program.arc-plane", "arcs are read in the XY plane (G17) only",
                               "write short lines instead");
  }
  if ((line_.named() & (bit(Axis::x) | bit(Axis::y))) == 0) {
    return line_.error_on_line("program.no-axis", "an arc in the XY plane needs X or Y", "say where it ends");
  }
  const bool offsets = words_.has('I') || words_.has('J');
  if (!offsets && !words_.has('R'))
    return line_.error_at(at, "program.arc-no-centre", "the arc has neither I, J nor R", "give its centre or radius");
  if (offsets && words_.has('R'))
    return line_.error_at('R', "program.arc-two-ways", "the arc has I or J and R", "leave one of them out");
  constexpr std::uint8_t plane = bit(Axis::x) | bit(Axis::y);
  if ((known_ & plane) != plane)
    return line_.error_at(at, "program.unknown-start", "the arc starts at a place nobody knows",
                          "go to its start first");
  arc.clockwise = modes_.motion == Modes::Motion::arc_clockwise;
  if (!(offsets ? centre_from_offsets(step, arc) : centre_from_radius(step, arc))) return false;
  set_sweep(step, arc);
  return true;
}

void Reader::set_offset(std::size_t axis, double value) {
  if (offset_[axis] == value) return;
  offset_[axis] = value;
  event(Event::Kind::offset, value);
  program_.events.back().axis = static_cast<Axis>(axis);
}

/// NIST 3.5.18: G92 moves the origin so that the current point is called what its words say; G92.1 and G92.2 move it back.
void Reader::execute_offsets() {
  if (words_.is(g_nonmodal, 921) || words_.is(g_nonmodal, 922))
    for (std::size_t i = 0; i < kAxes; ++i) set_offset(i, 0);
  if (!words_.is(g_nonmodal, 920)) return;
  for (std::size_t i = 0; i < kAxes; ++i) {
    if ((line_.named() >> i & 1u) == 0) continue;
    if ((known_ >> i & 1u) == 0) {
      line_.error_at(kAxisLetters[i], "program.unknown-start", "G92 names a place that nobody knows",
                     "go to an absolute place (G90) first");
      return;
    }
    if (i < 3 && (stated_ >> g_units & 1u) == 0) {
      line_.error_on_line("program.no-units", "a length before G20 or G21: nobody knows how long it is",
                          "write G21 (mm) or G20 (inch) first");
      return;
    }
    set_offset(i, place_[i] - words_.of(kAxisLetters[i]) * (i < 3 ? scale() : 1.0));
  }
}

void Reader::execute_motion() {
  if (words_.has(g_motion)) modes_.motion = motion_of_line();
  execute_offsets();
  if (line_.named() == 0 || words_.is(g_nonmodal, 920)) return;
  Step step;
  if (!check_stated() || !target(step)) return;
  step.line = number_;
  if (modes_.motion != Modes::Motion::rapid) {
    step.kind = Step::Kind::line;
    step.mode = modes_.feed;
    const bool rate = modes_.feed == FeedMode::per_minute;
    step.feed = rate ? feed_ * (moves_linear(step) ? scale() : 1.0) : words_.of('F');
    if (modes_.motion != Modes::Motion::line) {
      Arc arc;
      if (!set_arc(step, arc)) return;
      step.kind = Step::Kind::arc;
      step.arc = static_cast<std::uint32_t>(program_.arcs.size());
      program_.arcs.push_back(arc);
    }
  }
  place_ = step.to;
  known_ = step.known;
  program_.steps.push_back(step);
}

void Reader::execute_stop() {
  if (!words_.has(m_stop)) return;
  switch (words_.m[m_stop]) {
    case 0:
      event(Event::Kind::stop);
      return;
    case 1:
      event(Event::Kind::optional_stop);
      return;
    case 60:
      event(Event::Kind::pallet_stop);
      return;
    default:
      break;
  }
  event(Event::Kind::end);
  offset_ = {};  // NIST 3.6.1
  const Modes::Units units = modes_.units;
  modes_ = Modes{};  // NIST 3.6.1; units are not on its list
  modes_.units = units;
  modes_.motion = Modes::Motion::line;
  ended_ = true;
}

void Reader::execute() {
  if (words_.has(g_feed)) {
    const FeedMode mode = words_.g[g_feed] == 930 ? FeedMode::inverse_time : FeedMode::per_minute;
    if (mode != modes_.feed) feed_ = 0;  // a time is no rate
    modes_.feed = mode;
  }
  if (words_.has('F') && modes_.feed == FeedMode::per_minute) feed_ = words_.of('F');
  execute_spindle_and_tool();
  execute_switches();
  const int before = line_.errors();
  execute_modes();
  if (line_.errors() == before) execute_motion();
  execute_stop();
}

// ------------------------------------------------------------------------------------------------------------- lines

bool is_message(std::string_view comment, std::string_view& rest) {
  std::size_t i = 0;
  for (const char wanted : {'M', 'S', 'G', ','}) {
    while (i < comment.size() && is_blank(comment[i])) ++i;
    if (i >= comment.size() || upper(comment[i]) != wanted) return false;
    ++i;
  }
  rest = comment.substr(i);
  return true;
}

void Reader::take_comment() {
  std::string_view text = line_.comment();
  event(is_message(text, text) ? Event::Kind::message : Event::Kind::comment);
  program_.events.back().text = std::string(text);
}

void Reader::one_line() {
  if (!line_.take(raw_, number_) || line_.empty()) return;
  const bool first = !content_;
  content_ = true;
  if (line_.starts_with('%')) {
    percent_line(first);
    return;
  }
  if (line_.has_comment()) {
    take_comment();
    if (line_.is_single()) return;
  }
  if (!line_.read_words()) return;
  if (words_.deleted) {
    line_.warn_at_start("program.block-delete",
                        "this line runs only while the block delete switch is off; the check reads it so",
                        "take the '/' out");
  }
  if (check_line()) execute();
}

/// NIST 3.1: the first line that is not blank may be '%' alone; a later one ends the program.
void Reader::percent_line(bool first) {
  if (line_.is_single() && first) {
    opened_ = true;
  } else if (line_.is_single() && opened_) {
    closed_ = true;
  } else {
    line_.error_at_start("program.percent", "'%' stands alone on the first line, and on one more that ends the program",
                         "take it out");
  }
}

void Reader::skip_to_closing_percent() {
  while (!closed_ && next_line()) {
    const std::size_t first = raw_.find_first_not_of(" \t");
    closed_ = first != std::string_view::npos && raw_[first] == '%' &&
              raw_.find_first_not_of(" \t", first + 1) == std::string_view::npos;
  }
}

void Reader::check_ending() {
  if (ended_ && opened_) skip_to_closing_percent();
  if (opened_ && !closed_) {
    line_.error_after_end(number_, "program.percent-open", "the program begins with '%' but no '%' closes it",
                          "write '%' on the last line");
  } else if (!opened_ && !ended_) {
    line_.error_after_end(number_, "program.no-end",
                          "the program has no end: neither M2 nor M30 nor '%' lines around it",
                          "write M2 at its end; the file may have been cut short");
  }
}

Program Reader::too_long() {
  line_.error_after_end(number_ + 1, "program.too-long", "the program has more than " + std::to_string(kMostLines) + " lines", "cut with wider steps, or divide it into programs of fewer passes");
  program_.lines = number_;
  return std::move(program_);
}

Program Reader::run() {
  program_.steps.reserve(std::min<std::size_t>(text_.size() / 24, kMostLines));  // a usual line is that long
  while (!ended_ && !closed_ && line_.errors() < kMostErrors) {
    if (number_ == kMostLines && cursor_ < text_.size()) return too_long();
    if (usual_line()) continue;
    if (!next_line()) break;
    one_line();
  }
  if (line_.errors() < kMostErrors) check_ending();
  program_.lines = number_;
  program_.end = modes_;
  return std::move(program_);
}

}  // namespace

Program read(std::string_view text, std::string_view file, Sink& sink, const ReadOptions& options) {
  return Reader(text, file, sink, options).run();
}

}  // namespace pommel::program
