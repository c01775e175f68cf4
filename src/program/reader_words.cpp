#include "program/reader_words.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace pommel::program::words {
namespace {

constexpr int kMostLineDigits = 5;      // NIST 3.3.1
constexpr int kMostMWords = 4;          // NIST 3.3.5
constexpr double kLargestNumber = 1e9;  // ours: no machine travels further, and its square stays finite
constexpr std::string_view kWordLetters = "ABCDFGHIJKLMPQRSTXYZ";  // NIST Table 3 without N

// an integer of 15 digits and a power of ten to 1e15 are exact doubles
constexpr std::size_t kExactDigits = 15;
constexpr std::array<double, kExactDigits + 1> kPowersOfTen{1e0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                                            1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};

constexpr bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
constexpr bool is_letter(char c) {
  return c >= 'A' && c <= 'Z';
}

// clang-format off
GGroup group_of_g(int tenfold) {
  switch (tenfold) {
    case 40: case 100: case 280: case 300: case 530: case 920: case 921: case 922: case 923: return g_nonmodal;
    case 0: case 10: case 20: case 30: case 382: return g_motion;
    case 800: case 810: case 820: case 830: case 840: case 850: case 860: case 870: case 880: case 890: return g_motion;
    case 170: case 180: case 190: return g_plane;
    case 900: case 910: return g_distance;
    case 930: case 940: return g_feed;
    case 200: case 210: return g_units;
    case 400: case 410: case 420: return g_radius;
    case 430: case 490: return g_length;
    case 980: case 990: return g_return;
    case 540: case 550: case 560: case 570: case 580: case 590: case 591: case 592: case 593: return g_zero;
    case 610: case 611: case 640: return g_path;
    default: return g_unknown;
  }
}

MGroup group_of_m(int code) {
  switch (code) {
    case 0: case 1: case 2: case 30: case 60: return m_stop;
    case 6: return m_tool;
    case 3: case 4: case 5: return m_spindle;
    case 7: case 8: case 9: return m_coolant;
    case 48: case 49: return m_overrides;
    default: return m_unknown;
  }
}
// clang-format on

}  // namespace

std::string g_text(int tenfold) {
  std::string text = "G" + std::to_string(tenfold / 10);
  if (tenfold % 10 != 0) text += "." + std::to_string(tenfold % 10);
  return text;
}

// -------------------------------------------------------------------------------------------------------- usual lines

// Leaves `at` behind the number; the value is the one that Line::read_number() gives.
bool UsualLine::take_number(const char*& at, const char* end, double& number) const {
  const bool negative = at != end && *at == '-';
  if (negative) ++at;
  std::uint64_t whole = 0;
  const char* first = at;
  for (; at != end && is_digit(*at); ++at) whole = whole * 10 + static_cast<std::uint64_t>(*at - '0');
  auto digits = static_cast<std::size_t>(at - first);
  std::size_t places = 0;
  if (at != end && *at == '.') {
    first = ++at;
    for (; at != end && is_digit(*at); ++at) whole = whole * 10 + static_cast<std::uint64_t>(*at - '0');
    places = static_cast<std::size_t>(at - first);
    digits += places;
  }
  if (digits == 0 || digits > kExactDigits) return false;
  number = static_cast<double>(whole) / kPowersOfTen[places];
  if (number > kLargestNumber) return false;
  if (negative) number = -number;
  return true;
}

bool UsualLine::take(std::string_view text) {
  const char *at = text.data(), *const begin = at, *const end = at + std::min(text.size(), kLongestLine + 1);
  for (; at != end && *at != '\n'; at += at != end && *at == ' ' ? 1 : 0) {
    const char letter = *at++;
    double number = 0;
    if (letter == 'G' && g < 0 && at != end && (*at == '0' || *at == '1')) {
      g = *at++ - '0';
      if (at != end && *at != ' ' && *at != '\n' && !is_letter(*at)) return false;  // G10, G1.5, G0(...)
      continue;
    }
    if (letter != 'F' && (letter < 'A' || letter > 'C') && (letter < 'X' || letter > 'Z')) return false;
    if (!take_number(at, end, number)) return false;
    if (letter == 'F') {
      if (has_feed) return false;
      has_feed = true;
      feed = number;
      continue;
    }
    const std::size_t axis = letter >= 'X' ? static_cast<std::size_t>(letter - 'X') : static_cast<std::size_t>(letter - 'A') + 3;
    if ((named >> axis & 1u) != 0) return false;
    named = static_cast<std::uint8_t>(named | 1u << axis);
    value[axis] = number;
  }
  length = static_cast<std::size_t>(at - begin);
  return at != end;
}

// ---------------------------------------------------------------------------------------------------------- reports

std::size_t Line::column_of(std::size_t squeezed) const {
  std::size_t count = 0;
  for (std::size_t i = 0; i < raw_.size(); ++i) {
    if (is_blank(raw_[i])) continue;
    if (count++ == squeezed) return i;
    if (raw_[i] == '(') {
      const std::size_t close = raw_.find(')', i);
      if (close == std::string_view::npos) break;
      i = close;
    }
  }
  return raw_.size();
}

std::size_t Line::word_length(std::size_t squeezed) const {
  std::size_t end = squeezed + 1;
  while (end < length_ && (is_digit(buffer_[end]) || buffer_[end] == '.' || buffer_[end] == '+' || buffer_[end] == '-'))
    ++end;
  return end - squeezed;
}

void Line::report(Severity severity, std::size_t column, std::size_t length, const char* id, std::string message,
                  std::string remedy) {
  Diagnostic found;
  found.severity = severity;
  found.id = id;
  found.message = std::move(message);
  found.remedy = std::move(remedy);
  found.place = {std::string(file_), number_, static_cast<int>(column) + 1};
  const std::string_view shown = raw_.substr(0, kLongestLine);
  if (column < shown.size()) found.read = std::string(shown.substr(column, length));
  found.source_line = std::string(shown);
  sink_.add(std::move(found));
}

bool Line::error_at_column(std::size_t column, std::size_t length, const char* id, std::string message,
                           std::string remedy) {
  report(Severity::error, column, length, id, std::move(message), std::move(remedy));
  if (++errors_ == kMostErrors) {
    report(Severity::note, 0, 0, "program.too-many-errors", "the text has 50 errors; the reading stops here",
           "mend these first");
  }
  return false;
}

bool Line::error(std::size_t squeezed, std::size_t length, const char* id, std::string message, std::string remedy) {
  const std::size_t first = column_of(squeezed);
  const std::size_t last = length == 0 ? first : column_of(squeezed + length - 1);  // blanks inside a word count
  return error_at_column(first, last - first + 1, id, std::move(message), std::move(remedy));
}

bool Line::error_at(char letter, const char* id, std::string message, std::string remedy) {
  const std::size_t place = words_.place(letter);
  return error(place, word_length(place), id, std::move(message), std::move(remedy));
}

bool Line::error_at(GGroup group, const char* id, std::string message, std::string remedy) {
  const std::size_t place = words_.g_at[group];
  return error(place, word_length(place), id, std::move(message), std::move(remedy));
}

bool Line::error_at_first_axis(const char* id, std::string message, std::string remedy) {
  std::size_t first = length_;
  for (const char letter : kAxisLetters) {
    if (words_.has(letter)) first = std::min(first, words_.place(letter));
  }
  return error(first, word_length(first), id, std::move(message), std::move(remedy));
}

bool Line::error_at_start(const char* id, std::string message, std::string remedy) {
  return error(0, 1, id, std::move(message), std::move(remedy));
}

bool Line::error_on_line(const char* id, std::string message, std::string remedy) {
  return error(0, length_, id, std::move(message), std::move(remedy));
}

bool Line::error_after_end(int number, const char* id, std::string message, std::string remedy) {
  raw_ = {};
  number_ = number;
  return error_at_column(0, 0, id, std::move(message), std::move(remedy));
}

void Line::warn_at_start(const char* id, std::string message, std::string remedy) {
  report(Severity::warning, column_of(0), 1, id, std::move(message), std::move(remedy));
}

// -------------------------------------------------------------------------------------------------------- characters

/// At '(' of the raw line: checks the comment, moves i to its ')'.
bool Line::squeeze_comment(std::size_t& i) {
  const std::size_t start = i;
  for (++i; i < raw_.size() && raw_[i] != ')'; ++i) {
    const char c = raw_[i];
    if (c == '(') {
      return error_at_column(i, 1, "program.comment-nested", "a comment is opened inside a comment",
                             "close the first comment before, or use square brackets inside it");
    }
    if ((c < ' ' && c != '\t') || c > '~') {
      return error_at_column(i, 1, "program.character", "this character is not allowed in a comment",
                             "use plain ASCII letters, digits and signs");
    }
  }
  if (i >= raw_.size()) {
    return error_at_column(start, raw_.size() - start, "program.comment-open", "the comment is not closed on its line",
                           "write ')' at its end");
  }
  comment_ = raw_.substr(start + 1, i - start - 1);
  has_comment_ = true;
  return true;
}

bool Line::take(std::string_view raw, int number) {
  raw_ = raw;
  number_ = number;
  length_ = position_ = 0;
  has_comment_ = false;
  if (raw_.size() > kLongestLine) {
    return error_at_column(0, kLongestLine, "program.line-too-long",
                           "the line has " + std::to_string(raw_.size()) + " characters; 256 are allowed",
                           "break it into shorter lines");
  }
  for (std::size_t i = 0; i < raw_.size(); ++i) {
    const char c = raw_[i];
    if (is_blank(c)) continue;
    if (c < ' ' || c > '~') {
      return error_at_column(i, 1, "program.character", "this character is not allowed in a program",
                             "use plain ASCII letters, digits and signs");
    }
    if (c == '(' && !squeeze_comment(i)) return false;
    buffer_[length_++] = upper(c);
  }
  buffer_[length_] = '\0';
  return true;
}

// ------------------------------------------------------------------------------------------------------------- words

bool Line::read_line_number() {
  const std::size_t start = position_++;
  while (is_digit(buffer_[position_])) ++position_;
  const std::size_t digits = position_ - start - 1;
  const bool integer = buffer_[position_] != '.' && buffer_[position_] != '-' && buffer_[position_] != '+';
  if (digits >= 1 && digits <= kMostLineDigits && integer) return true;
  return error(start, std::max<std::size_t>(digits + 1, 1), "program.line-number",
               "a line number is N and one to five digits, without sign or point", "shorten it, or leave it out");
}

/// After the word's letter: the number grammar of NIST 3.3.2.1 (no exponent).
bool Line::read_number(char letter, std::size_t start, double& value) {
  const std::size_t first = position_;
  bool negative = false;
  if (buffer_[position_] == '+' || buffer_[position_] == '-') negative = buffer_[position_++] == '-';
  const std::size_t digits_from = position_;
  std::size_t digits = 0, places = 0;
  std::uint64_t whole = 0;
  bool point = false;
  for (;; ++position_) {
    const char c = buffer_[position_];
    if (is_digit(c)) {
      if (digits < kExactDigits) whole = whole * 10 + static_cast<std::uint64_t>(c - '0');
      ++digits;
      places += point ? 1 : 0;
    } else if (c == '.' && !point) {
      point = true;
    } else {
      break;
    }
  }
  const char next = buffer_[position_];
  if (digits == 0) {
    if (next == '[' || next == '#' || (is_letter(next) && position_ == first)) {
      std::size_t end = position_;
      while (is_letter(buffer_[end])) ++end;
      if (next == '#' || buffer_[end] == '[') {
        return error(start, end - start + 1, "program.expression",
                     "expressions, parameters and functions are not read here", "write the number itself");
      }
    }
    return error(start, position_ - start, "program.no-number", std::string(1, letter) + " has no number",
                 "write a number after it: digits with at most one point");
  }
  if (digits <= kExactDigits) {
    value = static_cast<double>(whole) / kPowersOfTen[places];  // both exact, so the quotient is the nearest double
  } else {
    const auto [end, fault] =
        std::from_chars(&buffer_[digits_from], &buffer_[position_], value, std::chars_format::fixed);
    if (fault == std::errc::result_out_of_range) value = 0;  // too small for a double
  }
  if (negative) value = -value;
  if (std::abs(value) <= kLargestNumber) return true;
  return error(start, position_ - start, "program.number-too-large", std::string(1, letter) + " is beyond any machine",
               "look for a missing point");
}

bool Line::add_g(double value, std::size_t start) {
  const double tenfold = std::round(value * 10);
  const GGroup group = std::abs(value * 10 - tenfold) <= kNearInteger && tenfold >= 0 && tenfold < 1000
                           ? group_of_g(static_cast<int>(tenfold))
                           : g_unknown;
  const std::size_t length = position_ - start;
  if (group == g_unknown) {
    return error(start, length, "program.unknown-g", "this G word is not known",
                 "NISTIR 6556, Table 5 lists the known ones");
  }
  const int code = static_cast<int>(tenfold);
  if (words_.has(group)) {
    return error(start, length, "program.group-repeated",
                 g_text(words_.g[group]) + " and " + g_text(code) + " are of one group and stand on one line",
                 "put them on two lines");
  }
  words_.g_seen |= 1u << group;
  words_.g[group] = code;
  words_.g_at[group] = start;
  return true;
}

bool Line::add_m(double value, std::size_t start) {
  const double whole = std::round(value);
  const bool is_code = std::abs(value - whole) <= kNearInteger && whole >= 0 && whole < 1000;
  MGroup group = is_code ? group_of_m(static_cast<int>(whole)) : m_unknown;
  if (is_code && group == m_unknown && std::find(own_m_.begin(), own_m_.end(), static_cast<int>(whole)) != own_m_.end())
    group = m_own;
  const std::size_t length = position_ - start;
  if (group == m_unknown) {
    return error(start, length, "program.unknown-m", "this M word is not known",
                 "NISTIR 6556, Table 7 lists the known ones");
  }
  if (++words_.m_count > kMostMWords) {
    return error(start, length, "program.too-many-m", "the line has more than four M words", "put them on two lines");
  }
  const int code = static_cast<int>(whole);
  if (words_.has(group)) {
    return error(start, length, "program.group-repeated",
                 "M" + std::to_string(words_.m[group]) + " and M" + std::to_string(code) +
                     " are of one group and stand on one line",
                 "put them on two lines");
  }
  words_.m_seen |= 1u << group;
  words_.m[group] = code;
  words_.m_at[group] = start;
  return true;
}

bool Line::add_word(char letter, double value, std::size_t start) {
  if (letter == 'G') return add_g(value, start);
  if (letter == 'M') return add_m(value, start);
  if (words_.has(letter)) {
    return error(start, position_ - start, "program.word-repeated", std::string("the line has ") + letter + " twice",
                 "leave one of them out");
  }
  words_.seen |= letter_bit(letter);
  words_.value[static_cast<std::size_t>(letter - 'A')] = value;
  words_.at[static_cast<std::size_t>(letter - 'A')] = start;
  return true;
}

bool Line::read_word() {
  const std::size_t start = position_;
  const char letter = buffer_[position_++];
  if (letter == 'N') {
    return error(start, 1, "program.line-number", "a line number stands at the start of its line", "move it there");
  }
  if (letter == '#') {
    return error(start, 1, "program.expression", "expressions, parameters and functions are not read here",
                 "write the number itself");
  }
  if (!is_letter(letter)) {
    return error(start, 1, "program.unexpected", std::string("'") + letter + "' does not belong here",
                 "a line is words: a letter and its number");
  }
  if (kWordLetters.find(letter) == std::string_view::npos) {
    const bool exponent = letter == 'E' && start > 0 && (is_digit(buffer_[start - 1]) || buffer_[start - 1] == '.');
    return error(start, 1, "program.unknown-word", std::string(1, letter) + " begins no word of this language",
                 exponent ? "numbers have no exponent form: write 1000 in place of 1E3"
                          : "NISTIR 6556, Table 3 lists the letters");
  }
  double value = 0;
  return read_number(letter, start, value) && add_word(letter, value, start);
}

bool Line::read_words() {
  words_.clear();
  if (buffer_[position_] == '/') {
    words_.deleted = true;
    ++position_;
  }
  if (buffer_[position_] == 'N' && !read_line_number()) return false;
  while (position_ < length_) {
    if (buffer_[position_] == '(')
      ++position_;
    else if (!read_word())
      return false;
  }
  named_ = 0;
  if ((words_.seen & (letter_bit('X') | letter_bit('Y') | letter_bit('Z') | letter_bit('A') | letter_bit('B') |
                      letter_bit('C'))) != 0) {
    for (std::size_t i = 0; i < kAxes; ++i) {
      if (words_.has(kAxisLetters[i])) named_ = static_cast<std::uint8_t>(named_ | 1u << i);
    }
  }
  return true;
}

}  // namespace pommel::program::words
