#include "program/writer.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <optional>
#include <span>
#include <string_view>

namespace pommel::program {
namespace {

constexpr std::size_t kMostReasons = 20;
constexpr std::ptrdiff_t kMostAlike = 3;  // a pass out of bounds is out of bounds at each of its moves
constexpr int kMostDecimals = 9;
constexpr double kLargestWord = 1e8;       // beyond any machine; times 1e9 it still fits an int64
constexpr double kFeedRounding = 0.02;     // a feed word may be off by this much
constexpr double kRateSlack = 1e-9;        // relative: times are quotients of the rates they are held against
constexpr std::size_t kCommentWidth = 72;  // with its parentheses; some controllers show no more
constexpr std::string_view kGoesOn = "... ";  // begins a comment that goes on with the one before
constexpr std::size_t kLongestLine = 256;  // NISTIR 6556, 3.3
constexpr std::size_t kLongestWord = 22;   // a letter, a sign, a point and what an int64 has
constexpr std::array<std::uint64_t, kMostDecimals + 1> kPowersOfTen{1,       10,        100,        1'000,       10'000,
                                                                    100'000, 1'000'000, 10'000'000, 100'000'000, 1'000'000'000};
constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kDegree = std::numbers::pi / 180;

using shop::Machine;

/// The words of one position in units of their last decimal.
struct Ticks {
  std::int64_t x = 0, y = 0, z = 0, rotary = 0;
  bool operator==(const Ticks&) const = default;
};

// ---------------------------------------------------------------------------------------------------------- comments

/// The Latin letters of U+00C0 to U+00FF without their marks.
constexpr std::string_view kPlainLatin = "AAAAAAACEEEEIIIIDNOOOOOxOUUUUYTsaaaaaaaceeeeiiiidnooooo/ouuuuyty";

/// What stands in a comment for a printable sign of ASCII. Parentheses would end it. Some controls look for a sign before they look for comments:
/// ';' begins another kind of comment, that swallows the ')'; '%' ends the tape; '!', '~' and '?' are taken off the line as commands. Braces and '#', '$',
/// '@', '\\' begin expressions and messages on others. Common practice, no source.
char plain_sign(char c) {
  constexpr std::string_view signs = "(){};!?~#$@|^`\\\"<>", instead = "[][],..------'-'[]";
  const std::size_t at = signs.find(c);
  static_assert(signs.size() == instead.size());
  return at == std::string_view::npos ? c : instead[at];
}

/// Letters, digits and signs of ASCII that every controller takes inside a comment.
std::string plain(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto c = static_cast<unsigned char>(text[i]);
    if (c == '%')
      out += "pct";
    else if (c >= ' ' && c < 0x7f)
      out += plain_sign(text[i]);
    else if (c < ' ' || c == 0x7f)
      out += ' ';
    else if (c == 0xc3 && i + 1 < text.size())
      out += kPlainLatin[static_cast<unsigned char>(text[++i]) & 0x3f];
    else if (c == 0xc2 && i + 1 < text.size() && static_cast<unsigned char>(text[i + 1]) == 0xb0) {
      out += " deg";
      ++i;
    } else if (c >= 0xc0)
      out += '_';  // the first byte of another sign; its other bytes add nothing
  }
  return out;
}

/// Appends "(text)", broken at blanks into as many comments as it needs. Each further one begins with kGoesOn: what begins a comment has a meaning, here
/// ("cutter:", "note: check") and to controls ("MSG," NISTIR 6556, 3.3.4, and others that open files), and somebody's text must not come to stand there.
void add_comment(std::string& out, std::string_view raw) {
  const std::string text = plain(raw);
  std::string_view rest = text, before;
  do {
    std::size_t take = std::min(rest.size(), kCommentWidth - 2 - before.size());
    if (take < rest.size()) {
      const std::size_t blank = rest.rfind(' ', take);
      if (blank != std::string_view::npos && blank > 0) take = blank;
    }
    out.append("(").append(before).append(rest.substr(0, take)).append(")\n");
    rest.remove_prefix(take);
    while (!rest.empty() && rest.front() == ' ') rest.remove_prefix(1);
    before = kGoesOn;
  } while (!rest.empty());
}

// --------------------------------------------------------------------------------------------------------------- work

class Writer {
 public:
  /// The program of `paths[first]` to `paths[first + count - 1]`.
  Writer(std::span<const motion::Path> paths, std::size_t first, std::size_t count, const Machine& machine,
         const Header& header)
      : paths_(paths), first_(first), count_(count), machine_(machine), header_(header) {}

  Result<std::string> run();

 private:
  bool unrolled() const { return machine_.rotary == Machine::Rotary::unrolled_mm; }
  bool inverse_time() const { return machine_.feed == Machine::Feed::inverse_time; }

  void check_machine();
  void check_words();
  void check_counting();
  void check_paths();
  void check_path();
  void check_stages();
  bool check_move(const motion::Position* from, const motion::Move& move);
  bool check_place(const motion::Position& at);
  void check_rates(const motion::Position& from, const motion::Move& move);

  const motion::Path& path() const { return paths_[index_]; }
  std::string who() const;
  void refuse(const char* id, std::string message, std::string remedy);

  bool machine_lines(const std::vector<std::string>& lines, bool header);
  std::optional<std::string> filled(const std::string& line);
  std::optional<std::string> field(std::string_view name) const;
  void write_comments();
  void write_words_comment();
  void write_opening();
  void write_start();
  void write_modes();
  void write_place();
  void write_re_entry();
  void write_tool_change();
  void write_moves();
  void write_parts(const motion::Position& from, const motion::Move& move);
  void write_reset(const Ticks& at);
  void hold(bool fast);
  std::int64_t counted(std::int64_t rotary) const;
  void write_stage_marks(std::size_t index);
  void write_move(const motion::Move& move, const Ticks& from, const Ticks& to);
  std::optional<std::int64_t> feed_ticks(const motion::Move& move, const Ticks& from, const Ticks& to);
  double reckoned_length(const Ticks& from, const Ticks& to) const;
  void write_footer();

  Ticks ticks(const motion::Position& at) const;
  void add_word(std::string_view word, std::int64_t ticks, int decimals);
  void add_number(double value, int decimals);

  std::span<const motion::Path> paths_;
  std::size_t first_, count_, index_ = 0;
  const Machine& machine_;
  const Header& header_;
  double unit_ = 1;                                              // mm in one unit of the program's lengths
  double linear_scale_ = 1, rotary_scale_ = 1, feed_scale_ = 1;  // ticks in one mm, in one unit of the rotary, of F
  double turn_ticks_ = 0;                                        // of the rotary in one turn
  std::int64_t shift_ = 0;                                       // ticks that resets have taken off the rotary's count
  bool held_ = false;                                            // the rotary is locked
  Ticks at_;
  std::string reset_word_;
  double rotary_units_ = 0;                                      // rotary word per radian of a, with its sign
  std::string out_;
  bool spindle_started_ = false;
  char motion_ = ' ';  // the motion word in force: '0' or '1' of G0, G1
  std::optional<std::int64_t> feed_;
  std::size_t next_stage_ = 0;
  std::optional<std::size_t> current_;  // the move in hand; none: the start
  std::vector<Diagnostic> reasons_;
};

std::string number(double value, int decimals) {
  std::array<char, 400> text;
  const auto [end, fault] =
      std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed, decimals);
  return fault == std::errc{} ? std::string(text.data(), end) : std::string("?");
}

void Writer::refuse(const char* id, std::string message, std::string remedy) {
  const auto alike =
      std::count_if(reasons_.begin(), reasons_.end(), [id](const Diagnostic& one) { return one.id == id; });
  if (reasons_.size() >= kMostReasons || alike >= kMostAlike) return;
  Diagnostic reason;
  reason.id = id;
  reason.message = std::move(message);
  reason.remedy = std::move(remedy);
  reasons_.push_back(std::move(reason));
}

/// The move in hand, for messages; made only when one is needed.
std::string Writer::who() const {
  if (!current_) return "the start";
  std::string name = "move " + std::to_string(*current_ + 1);
  for (const motion::Stage& stage : path().stages) {
    if (*current_ >= stage.first && *current_ - stage.first < stage.count) name += " (stage '" + stage.name + "')";
  }
  return name;
}

// ------------------------------------------------------------------------------------------------------------- checks

bool one_of(const std::string& word, std::string_view letters) {
  return word.size() == 1 && letters.find(word[0]) != std::string_view::npos;
}

void Writer::check_words() {
  const std::string& y = machine_.y_word;
  const bool distinct = machine_.x_word != machine_.z_word && machine_.x_word != machine_.rotary_word &&
                        machine_.z_word != machine_.rotary_word && y != machine_.x_word && y != machine_.z_word &&
                        y != machine_.rotary_word && (y.empty() || one_of(y, "XYZ"));
  if (!one_of(machine_.x_word, "XYZ") || !one_of(machine_.z_word, "XYZ") ||
      !one_of(machine_.rotary_word, unrolled() ? "XYZ" : "ABC") || !distinct) {
    refuse("program.machine", "the machine's words are not three different axes",
           unrolled() ? "an unrolled rotary takes one of X, Y, Z" : "a rotary in degrees takes A, B or C");
  }
}

void Writer::check_counting() {
  const auto say = [&](const std::string& what) {
    refuse("program.machine", "machine '" + machine_.id + "': " + what,
           "put its figure into the shop's list of machines");
  };
  const bool modulo = machine_.counting == Machine::Counting::modulo;
  if (modulo && unrolled()) say("only degrees begin anew at 360");
  if (!machine_.reset.empty() && !(machine_.rotary_limit_turns >= 2)) say("a count that begins anew needs two turns or more");
  if (machine_.feed == Machine::Feed::surface && !(machine_.feed_diameter > 0))
    say("the diameter on which its feed counts the rotary is not stated");
  if (machine_.has_free_y() && !(machine_.y_min < machine_.y_max && machine_.rapid_y > 0))
    say("the travel and speed of its sideways axis are not stated");
  if (machine_.lock.empty() != machine_.unlock.empty()) say("the rotary is held or freed, but not both");
}

void Writer::check_machine() {
  const auto say = [&](const std::string& what) {
    refuse("program.machine", "machine '" + machine_.id + "': " + what,
           "put its figure into the shop's list of machines");
  };
  check_words();
  check_counting();
  const auto positive = [](double value) { return std::isfinite(value) && value > 0; };
  if (machine_.rotary_sense != 1 && machine_.rotary_sense != -1) say("the sense of its rotary word is not stated");
  if (unrolled() && !positive(machine_.unrolled_diameter))
    say("an unrolled rotary needs the diameter its millimetres are counted on");
  if (!(machine_.x_min < machine_.x_max) || !(machine_.z_min < machine_.z_max))
    say("the travels of X and Z are not stated");
  if (!positive(machine_.rapid_x) || !positive(machine_.rapid_z) || !positive(machine_.rapid_rotary) ||
      !positive(machine_.feed_max)) {
    say("its greatest speeds are not stated");
  }
  for (const int decimals : {machine_.x_decimals, machine_.rotary_decimals, machine_.feed_decimals}) {
    if (decimals < 0 || decimals > kMostDecimals) say("decimals run from 0 to 9");
  }
}

void Writer::check_stages() {
  std::size_t end = 0;
  for (const motion::Stage& stage : path().stages) {
    if (stage.first < end || stage.first > path().moves.size() || stage.count > path().moves.size() - stage.first) {
      refuse("program.stages", "stage '" + stage.name + "' overlaps another or reaches past the last move", "");
      return;
    }
    end = stage.first + stage.count;
  }
}

/// False when the place is no place at all, so that no distance to it means anything.
bool Writer::check_place(const motion::Position& at) {
  const double rotary = at.a * rotary_units_;
  for (const double value : {at.x, at.y, at.z, rotary, at.a}) {
    if (!(std::abs(value) <= kLargestWord)) {
      refuse("program.number", who() + " is not at a place: a coordinate is no number or beyond any machine", "");
      return false;
    }
  }
  if (!machine_.has_free_y() && at.y != 0) {
    refuse("program.sideways",
           who() + " stands beside the axis, but this machine " +
               (unrolled() ? "turns the wood with its " + machine_.rotary_word : std::string("has no sideways axis")),
           "keep y at 0");
  }
  const auto within = [&](double value, double low, double high, const char* axis) {
    if (value >= low && value <= high) return;
    refuse("program.travel",
           who() + " asks for " + axis + " " + number(value, 3) + " mm; the machine travels from " + number(low, 3) +
               " to " + number(high, 3) + " mm",
           "shorten the work, or place the piece differently");
  };
  within(at.x, machine_.x_min, machine_.x_max, "x");
  within(at.z, machine_.z_min, machine_.z_max, "z");
  if (machine_.has_free_y()) within(at.y, machine_.y_min, machine_.y_max, "y");
  const bool counted_anew = !machine_.reset.empty() && current_.has_value();
  if (const double turns = std::abs(at.a) / kTurn; machine_.rotary_limit_turns > 0 && turns > machine_.rotary_limit_turns && !counted_anew) {
    refuse("program.travel",
           who() + " stands " + number(turns, 2) + " turns from zero; the rotary goes " +
               number(machine_.rotary_limit_turns, 2),
           "let the passes turn back");
  }
  return true;
}

void Writer::check_rates(const motion::Position& from, const motion::Move& move) {
  const double dx = move.to.x - from.x, dy = move.to.y - from.y, dz = move.to.z - from.z;
  // nearly all moves are well below all limits: no root, no quotient
  const double share = move.minutes * 0.999, most = machine_.feed_max * share, turned = std::abs(move.to.a - from.a);
  const bool sideways_slow = dy == 0 || !machine_.has_free_y() || std::abs(dy) < machine_.rapid_y * share;
  if (dx * dx + dy * dy + dz * dz < most * most && std::abs(dx) < machine_.rapid_x * share && std::abs(dz) < machine_.rapid_z * share &&
      turned < machine_.rapid_rotary * kTurn * share && sideways_slow)
    return;
  const auto within = [&](double travel, double limit, const char* what) {
    if (travel / move.minutes <= limit * (1 + kRateSlack)) return;
    refuse("program.feed-limit",
           who() + ": " + what + " would go " + number(travel / move.minutes, 1) + " a minute; the machine does " +
               number(limit, 1),
           "give the move more time");
  };
  within(std::hypot(dx, dy, dz), machine_.feed_max, "the feed, mm,");
  within(std::abs(dx), machine_.rapid_x, "x, mm,");
  within(std::abs(dz), machine_.rapid_z, "z, mm,");
  if (dy != 0 && machine_.has_free_y()) within(std::abs(dy), machine_.rapid_y, "y, mm,");
  within(std::abs(move.to.a - from.a) / kTurn, machine_.rapid_rotary, "the rotary, turns,");
}

bool Writer::check_move(const motion::Position* from, const motion::Move& move) {
  const bool placed = check_place(move.to);
  if (move.rapid || !placed) return placed;
  if (!std::isfinite(move.minutes) || move.minutes <= 0) {
    refuse("program.no-time", who() + " is a feed move without a time", "give it a time above zero");
  } else if (from != nullptr) {
    check_rates(*from, move);
  }
  return true;
}

void Writer::check_path() {
  if (path().moves.empty()) refuse("program.empty", "there are no moves to write", "");
  if (!std::isfinite(path().rpm) || path().rpm < 1 || path().rpm > machine_.max_rpm) {
    refuse("program.rpm",
           "the spindle speed " + number(path().rpm, 0) + " is not within the machine's " + number(machine_.max_rpm, 0) +
               " rpm",
           "choose another speed");
  }
  check_stages();
  current_.reset();
  const motion::Position* from = check_place(path().start) ? &path().start : nullptr;
  for (std::size_t i = 0; i < path().moves.size() && reasons_.size() < kMostReasons; ++i) {
    current_ = i;
    from = check_move(from, path().moves[i]) ? &path().moves[i].to : nullptr;
  }
}

void Writer::check_paths() {
  if (count_ == 0) refuse("program.empty", "there are no moves to write", "");
  if (count_ > 1 && machine_.tool_change.empty()) {
    refuse("program.tool-change", "machine '" + machine_.id + "' has no lines for a change of cutter",
           "add tool_change to the shop's list of machines, or say files: one a cutter");
  }
  for (index_ = first_; index_ < first_ + count_; ++index_) {
    check_path();
    if (index_ + 1 == first_ + count_ || path().moves.empty()) continue;
    if (path().moves.back().to.z < path().start.z - 1e-9) {
      refuse("program.tool-change", "the path of '" + path().cutter + "' ends below the height it began at, and the cutter is changed there",
             "let it rise to the clear height at its end");
    }
  }
  index_ = first_;
  current_.reset();
}

// -------------------------------------------------------------------------------------------------------------- words

/// What the rotary word says of a place, in ticks.
std::int64_t Writer::counted(std::int64_t rotary) const {
  if (machine_.counting != Machine::Counting::modulo) return rotary - shift_;
  const auto turn = static_cast<std::int64_t>(turn_ticks_);
  return (rotary % turn + turn) % turn;
}

/// std::llround, halves away from zero, without its call. REQUIRES: |value| < 2^52.
std::int64_t whole(double value) {
  const auto cut = static_cast<std::int64_t>(value);
  const double rest = value - static_cast<double>(cut);  // exact
  return cut + (rest >= 0.5 ? 1 : 0) - (rest <= -0.5 ? 1 : 0);
}

Ticks Writer::ticks(const motion::Position& at) const {
  return {whole((machine_.x_towards_foot ? at.x : -at.x) * linear_scale_), whole(at.y * linear_scale_),
          whole(at.z * linear_scale_), whole(at.a * rotary_units_ * rotary_scale_)};
}

/// "12.5" from 12500 thousandths, without a sign; the place after it.
template <class Whole>
char* put_fixed(char* at, Whole value, int decimals, bool always_point) {
  const auto unit = static_cast<Whole>(kPowersOfTen[static_cast<std::size_t>(decimals)]);
  const Whole units = value / unit;
  Whole rest = value - units * unit;
  at = std::to_chars(at, at + 20, units).ptr;
  if (rest != 0 || always_point) *at++ = '.';
  if (rest == 0) return at;
  for (int i = decimals - 1; i >= 0; --i, rest /= 10) at[i] = static_cast<char>('0' + rest % 10);
  at += decimals;
  while (at[-1] == '0') --at;
  return at;
}

/// Writes "X-12.5" to `at` and gives the place after it. The point and the decimals are cut out of one integer, so nothing is rounded
/// twice. REQUIRES: kLongestWord places, decimals up to kMostDecimals.
char* put_word(char* at, char letter, std::int64_t value, int decimals, bool always_point) {
  *at++ = letter;
  if (value < 0) *at++ = '-';
  const auto size = value < 0 ? 0 - static_cast<std::uint64_t>(value) : static_cast<std::uint64_t>(value);
  if (size <= UINT32_MAX) return put_fixed(at, static_cast<std::uint32_t>(size), decimals, always_point);  // shorter divisions
  return put_fixed(at, size, decimals, always_point);
}

void Writer::add_word(std::string_view word, std::int64_t value, int decimals) {
  std::array<char, kLongestWord> text;
  if (!out_.empty() && out_.back() != '\n') out_ += ' ';
  out_.append(text.data(), put_word(text.data(), word.front(), value, decimals, machine_.always_point));
}

double Writer::reckoned_length(const Ticks& from, const Ticks& to) const {
  const double x = static_cast<double>(to.x - from.x) / linear_scale_,
               y = static_cast<double>(to.y - from.y) / linear_scale_,
               z = static_cast<double>(to.z - from.z) / linear_scale_,
               turn = static_cast<double>(to.rotary - from.rotary) / rotary_scale_;
  if (unrolled()) return std::hypot(x / unit_, z / unit_, turn);
  const double straight = std::hypot(x, y, z) / unit_;
  if (machine_.feed == Machine::Feed::surface)
    return std::hypot(straight, turn * kDegree * machine_.feed_diameter / 2 / unit_);
  return straight > 0 ? straight : std::abs(turn);
}

std::optional<std::int64_t> Writer::feed_ticks(const motion::Move& move, const Ticks& from, const Ticks& to) {
  const double feed = (inverse_time() ? 1 : reckoned_length(from, to)) / move.minutes;
  const double scaled = feed * feed_scale_;
  if (scaled > kLargestWord * feed_scale_) {
    refuse("program.number", who() + " needs a feed word beyond any machine", "give the move more time");
    return std::nullopt;
  }
  const double rounded = std::round(scaled);
  if (rounded < 1 || std::abs(rounded - scaled) > kFeedRounding * scaled) {
    refuse("program.feed-rounding",
           who() + " needs F" + number(feed, machine_.feed_decimals + 3) + "; rounded to " +
               std::to_string(machine_.feed_decimals) + " decimals it is off by more than 2 %",
           "split the move, or give the machine's feed more decimals");
    return std::nullopt;
  }
  return static_cast<std::int64_t>(rounded);
}

// --------------------------------------------------------------------------------------------------------------- text

std::optional<std::string> Writer::field(std::string_view name) const {
  if (name == "program") return plain(header_.program);
  if (name == "cutter") return plain(header_.cutter.empty() || paths_.size() > 1 ? path().cutter : header_.cutter);
  if (name == "rpm") return number(std::round(path().rpm), 0);
  if (name == "date") return plain(header_.date);
  if (name == "tool") return std::to_string(index_ - first_ + 1);
  if (name == "rotary" && !reset_word_.empty()) return reset_word_;
  return std::nullopt;
}

/// A machine line with its fields filled; nothing when one of them does not exist.
std::optional<std::string> Writer::filled(const std::string& line) {
  std::string out;
  for (std::size_t i = 0; i < line.size();) {
    const std::size_t close = line[i] == '{' ? line.find('}', i) : std::string::npos;
    if (close == std::string::npos) {
      out += line[i++];
      continue;
    }
    const std::optional<std::string> value = field(std::string_view(line).substr(i + 1, close - i - 1));
    if (!value) return std::nullopt;
    out += *value;
    i = close + 1;
  }
  return out;
}

bool Writer::machine_lines(const std::vector<std::string>& lines, bool header) {
  bool ends = false;
  for (const std::string& line : lines) {
    if (line.find("{date}") != std::string::npos && header_.date.empty()) continue;
    const std::optional<std::string> text = filled(line);
    const bool sound = text && text->size() <= kLongestLine &&
                       std::all_of(text->begin(), text->end(), [](char c) { return c >= ' ' && c < 0x7f; });
    if (!sound) {
      refuse("program.header-field", "the machine's line '" + plain(line) + "' cannot be written",
             "use {program}, {cutter}, {tool}, {rpm} and {date}, plain ASCII, at most 256 characters");
      continue;
    }
    if (header && line.find("{rpm}") != std::string::npos) spindle_started_ = true;
    const std::string_view code = std::string_view(*text).substr(0, text->find('('));
    for (const std::string_view end : {"M2", "M02", "M30", "m2", "m02", "m30"}) {
      const std::size_t at = code.find(end);
      const std::size_t after = at + end.size();
      if (at != std::string_view::npos && (after >= code.size() || code[after] < '0' || code[after] > '9')) ends = true;
    }
    out_.append(*text).append("\n");
    if (!header && *text == "%") ends = true;
    // comments follow a '%' that opens the program
    if (&lines == &machine_.header && &line == &lines.front() && *text == "%") write_comments();
  }
  return ends;
}

std::string angle_word(const Machine& machine, double quarter_turns) {
  const bool degrees = machine.rotary == Machine::Rotary::degrees;
  const double value =
      quarter_turns * (degrees ? 90.0 : std::numbers::pi * machine.unrolled_diameter / 4) * machine.rotary_sense;
  return machine.rotary_word + number(value, degrees ? 0 : 3);
}

void Writer::write_words_comment() {
  add_comment(out_, machine_.x_word + "0 is the head end, at the " +
                        (machine_.head_at_chuck ? "chuck, " : "tailstock, ") + machine_.x_word + " grows towards the " +
                        (machine_.x_towards_foot ? "foot, " : "head, ") + machine_.z_word + "0 is the rotary axis");
  add_comment(out_, machine_.rotary_word +
                        (unrolled() ? " is mm along a surface of diameter " + number(machine_.unrolled_diameter, 3)
                                    : std::string(" is degrees")) +
                        " and says which side of the wood is under the cutter, the wood turns the other way");
  add_comment(out_, machine_.rotary_word + "0 has face A up, " + angle_word(machine_, 1) + " face B, " +
                        angle_word(machine_, -1) + " face D");
}

void Writer::write_comments() {
  if (!machine_.confirmed) add_comment(out_, "example machine: not confirmed - put your own figures in before cutting");
  if (!header_.program.empty()) add_comment(out_, "program: " + header_.program);
  if (!header_.piece.empty()) add_comment(out_, "piece: " + header_.piece);
  add_comment(out_, "cutter: " + path().cutter);
  if (!header_.cutter.empty() && paths_.size() == 1) add_comment(out_, "cutter is: " + header_.cutter);
  add_comment(out_, "machine: " + (machine_.label.empty() ? machine_.id : machine_.label));
  if (!header_.date.empty()) add_comment(out_, "date: " + header_.date);
  write_words_comment();
  if (!machine_.setting_surface.empty()) {
    const double height = (machine_.setting_height + machine_.setting_gauge) / unit_;
    add_comment(out_, "each cutter touches " + machine_.setting_surface +
                          (machine_.setting_gauge > 0 ? " with the gauge between" : "") + ": set " + machine_.z_word + " there to " +
                          number(height, machine_.x_decimals));
  }
  add_comment(out_, "first run above the work, spindle off, hand on the stop");
  for (const std::string& note : header_.notes) add_comment(out_, "note: " + note);
}

void Writer::write_opening() {
  if (machine_.header.empty() || machine_.header.front() != "%") write_comments();
  machine_lines(machine_.header, true);
  write_start();
}

void Writer::write_start() {
  write_modes();
  if (!spindle_started_) out_ += "S" + number(std::round(path().rpm), 0) + " M3\n";
  at_ = ticks(path().start);
  write_place();
  next_stage_ = 0;
}

void Writer::write_modes() {
  out_ += machine_.inches ? "G20 G90 " : "G21 G90 ";
  out_ += inverse_time() ? "G93\n" : "G94\n";
}

/// Where the cutter is: its height first, then the rest.
void Writer::write_place() {
  out_ += "G0";
  add_word(machine_.z_word, at_.z, machine_.x_decimals);
  out_ += "\n";
  add_word(machine_.x_word, at_.x, machine_.x_decimals);
  if (machine_.has_free_y()) add_word(machine_.y_word, at_.y, machine_.x_decimals);
  add_word(machine_.rotary_word, counted(at_.rotary), machine_.rotary_decimals);
  out_ += "\n";
  motion_ = '0';
  feed_.reset();
}

/// The next cutter: named before it is brought, so that whoever reads the text knows what cuts from here on.
void Writer::write_tool_change() {
  hold(false);
  const auto turns = static_cast<double>(ticks(path().start).rotary - shift_) / turn_ticks_;
  if (!machine_.reset.empty() && std::abs(turns) > machine_.rotary_limit_turns) write_reset(ticks(path().start));
  add_comment(out_, "cutter: " + path().cutter);
  spindle_started_ = false;
  machine_lines(machine_.tool_change, true);
  write_start();
}

/// Says anew, at a stage that begins above the wood, all that lines before it left in force: who was stopped goes on here.
void Writer::write_re_entry() {
  if (at_.z < ticks(path().start).z) return;
  hold(false);
  write_modes();
  write_place();
}

void Writer::write_stage_marks(std::size_t index) {
  const auto& stages = path().stages;
  if (next_stage_ > 0 && stages[next_stage_ - 1].first + stages[next_stage_ - 1].count == index &&
      (next_stage_ == stages.size() || stages[next_stage_].first != index)) {
    add_comment(out_, "between stages");
  }
  for (; next_stage_ < stages.size() && stages[next_stage_].first == index; ++next_stage_) {
    const std::string name = plain(stages[next_stage_].name);
    add_comment(out_, "stage: " + name.substr(0, kCommentWidth - 2 - std::string_view("stage: ").size()));
    if (index > 0) write_re_entry();
  }
}

/// Names the present angle anew, less whole turns. What is taken off is kept in ticks, so that no error adds up.
void Writer::write_reset(const Ticks& at) {
  const double turns = std::trunc(static_cast<double>(at.rotary - shift_) / turn_ticks_);
  shift_ += static_cast<std::int64_t>(std::llround(turns * turn_ticks_));
  std::string kept = std::move(out_);
  out_.clear();
  add_word(machine_.rotary_word, at.rotary - shift_, machine_.rotary_decimals);
  reset_word_ = std::move(out_);
  out_ = std::move(kept);
  machine_lines(machine_.reset, false);
  reset_word_.clear();
}

/// Locks or frees the rotary, where the machine has a brake and it is not so already.
void Writer::hold(bool fast) {
  if (fast == held_ || machine_.lock.empty()) return;
  held_ = fast;
  machine_lines(fast ? machine_.lock : machine_.unlock, false);
}

/// A move in as many parts as the rotary's counting allows: below half a turn where the word begins anew at 360, within the
/// count where it is limited.
void Writer::write_parts(const motion::Position& from, const motion::Move& move) {
  const Ticks to = ticks(move.to);
  if (to == at_) return;
  const bool turns = to.rotary != at_.rotary;
  const bool indexed = next_stage_ > 0 && path().stages[next_stage_ - 1].indexed &&
                       *current_ < path().stages[next_stage_ - 1].first + path().stages[next_stage_ - 1].count;
  if (turns || !indexed) hold(false);
  if (!turns && indexed && !move.rapid) hold(true);
  const bool modulo = machine_.counting == Machine::Counting::modulo, anew = !machine_.reset.empty();
  const double swept = std::abs(static_cast<double>(to.rotary - at_.rotary)) / turn_ticks_;
  const double most = modulo ? 0.45 : machine_.rotary_limit_turns - 1;
  const int parts = modulo || anew ? std::max(1, static_cast<int>(std::ceil(swept / most))) : 1;
  for (int part = 1; part <= parts; ++part) {
    motion::Move piece = move;
    if (part < parts) {
      const double t = static_cast<double>(part) / parts;
      const auto between = [t](double a, double b) { return a + (b - a) * t; };
      piece.to = {between(from.x, move.to.x), between(from.y, move.to.y), between(from.z, move.to.z), between(from.a, move.to.a)};
    }
    piece.minutes = move.minutes / parts;
    const Ticks there = ticks(piece.to);
    if (there == at_) continue;
    if (anew && turns) {
      const double limit = machine_.rotary_limit_turns * turn_ticks_;
      const bool past = std::abs(static_cast<double>(there.rotary - shift_)) > limit;
      const bool free = move.rapid && std::abs(static_cast<double>(at_.rotary - shift_)) > limit / 2;
      if (past || free) write_reset(at_);
    }
    write_move(piece, at_, there);
    at_ = there;
  }
}

void Writer::write_move(const motion::Move& move, const Ticks& from, const Ticks& to) {
  std::optional<std::int64_t> feed;
  if (!move.rapid) {
    feed = feed_ticks(move, from, to);
    if (!feed) return;
  }
  std::array<char, 3 + 6 * (kLongestWord + 1)> line;  // at once into the text: six words of two figures each would be many small steps
  char* at = line.data();
  const auto word = [&](char letter, std::int64_t value, int decimals) {
    if (at != line.data()) *at++ = ' ';
    at = put_word(at, letter, value, decimals, machine_.always_point);
  };
  const char wanted = move.rapid ? '0' : '1';
  if (motion_ != wanted) {
    motion_ = wanted;
    *at++ = 'G';
    *at++ = wanted;
  }
  if (to.x != from.x) word(machine_.x_word.front(), to.x, machine_.x_decimals);
  if (to.y != from.y) word(machine_.y_word.front(), to.y, machine_.x_decimals);
  if (to.z != from.z) word(machine_.z_word.front(), to.z, machine_.x_decimals);
  if (to.rotary != from.rotary) word(machine_.rotary_word.front(), counted(to.rotary), machine_.rotary_decimals);
  if (feed && (inverse_time() || feed != feed_)) {
    word('F', *feed, machine_.feed_decimals);
    feed_ = *feed;  // not the whole: it was written in two halves just now, and a processor waits to read them as one
  }
  *at++ = '\n';
  out_.append(line.data(), at);
}

void Writer::write_moves() {
  const motion::Position* from = &path().start;
  for (std::size_t i = 0; i < path().moves.size() && reasons_.size() < kMostReasons; ++i) {
    current_ = i;
    write_stage_marks(i);
    write_parts(*from, path().moves[i]);
    from = &path().moves[i].to;
  }
}

void Writer::write_footer() {
  hold(false);
  if (!machine_lines(machine_.footer, false)) out_ += "M5\nM2\n";
}

Result<std::string> Writer::run() {
  unit_ = machine_.inches ? 25.4 : 1;
  rotary_units_ = machine_.rotary_sense * (unrolled() ? machine_.unrolled_diameter / 2 / unit_ : 1 / kDegree);
  check_machine();
  if (reasons_.empty()) check_paths();
  if (!reasons_.empty()) return Failure(reasons_);
  linear_scale_ = std::pow(10.0, machine_.x_decimals) / unit_;
  rotary_scale_ = std::pow(10.0, machine_.rotary_decimals);
  feed_scale_ = std::pow(10.0, machine_.feed_decimals);
  turn_ticks_ = kTurn * std::abs(rotary_units_) * rotary_scale_;
  if (!unrolled()) turn_ticks_ = 360 * rotary_scale_;  // exact
  std::size_t moves = 0;
  for (std::size_t i = first_; i < first_ + count_; ++i) moves += paths_[i].moves.size();
  out_.reserve(2048 + moves * 40);
  write_opening();
  write_moves();
  for (index_ = first_ + 1; index_ < first_ + count_; ++index_) {
    write_tool_change();
    write_moves();
  }
  index_ = first_ + count_ - 1;
  write_footer();
  if (machine_.largest_file > 0 && static_cast<double>(out_.size()) > machine_.largest_file) {
    refuse("program.too-large",
           "the program has " + number(static_cast<double>(out_.size()) / 1e6, 1) + " MB; the machine takes " +
               number(machine_.largest_file / 1e6, 1),
           "cut with wider steps, or state a larger file where the control takes it");
  }
  if (!reasons_.empty()) return Failure(reasons_);
  return std::move(out_);
}

}  // namespace

Result<std::string> write(const motion::Path& path, const shop::Machine& machine, const Header& header) {
  return Writer({&path, 1}, 0, 1, machine, header).run();
}

Result<std::vector<std::string>> write_all(const std::vector<motion::Path>& paths, const shop::Machine& machine,
                                           const Header& header) {
  std::vector<std::string> texts;
  const bool apart = machine.file_a_cutter && paths.size() > 1;
  for (std::size_t i = 0; i < (apart ? paths.size() : 1); ++i) {
    Header mine = header;
    if (apart) mine.notes.push_back("file " + std::to_string(i + 1) + " of " + std::to_string(paths.size()) + ", one for each cutter");
    auto text = Writer(paths, apart ? i : 0, apart ? 1 : paths.size(), machine, mine).run();
    if (!text.ok()) return text.failure();
    texts.push_back(std::move(text).value());
  }
  return texts;
}

Figures figures_of(const std::string& text, const std::vector<motion::Path>& paths) {
  Figures out;
  out.bytes = text.size();
  out.blocks = static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
  for (const motion::Path& path : paths) {
    const motion::Position* from = &path.start;
    for (const motion::Move& move : path.moves) {
      out.turns += std::abs(move.to.a - from->a) / kTurn;
      if (!move.rapid && move.minutes > 0) out.busiest = std::max(out.busiest, 1 / (60 * move.minutes));
      from = &move.to;
    }
  }
  return out;
}

}  // namespace pommel::program
