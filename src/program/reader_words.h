// The lower half of the reader: one line of program text into words (NISTIR 6556, 3.3 and 3.4), with complaints that
// point into it. What the words mean together is reader.cpp's business. Only the reader includes this.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "program/reader.h"

namespace pommel::program::words {

inline constexpr std::size_t kLongestLine = 256;  // NIST 3.3
inline constexpr int kMostErrors = 50;
inline constexpr int kMostLines = 5'000'000;  // ours: some days of cutting, and 400 MB of steps
inline constexpr double kNearInteger = 0.0001;  // NIST 3.3.2.1
inline constexpr std::array<char, kAxes> kAxisLetters{'X', 'Y', 'Z', 'A', 'B', 'C'};

constexpr std::uint32_t letter_bit(char letter) {
  return 1u << static_cast<unsigned>(letter - 'A');
}
constexpr bool is_blank(char c) {
  return c == ' ' || c == '\t';
}
constexpr char upper(char c) {
  return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
}

/// Groups of NIST Table 4; G codes are held times ten (G38.2 is 382).
enum GGroup {
  g_nonmodal = 0,
  g_motion = 1,
  g_plane = 2,
  g_distance = 3,
  g_feed = 5,
  g_units = 6,
  g_radius = 7,
  g_length = 8,
  g_return = 10,
  g_zero = 12,
  g_path = 13,
  g_groups = 14,
  g_unknown = 15
};
enum MGroup { m_stop = 4, m_tool = 6, m_spindle = 7, m_coolant = 8, m_overrides = 9, m_own = 10, m_groups = 11, m_unknown = 15 };

/// One line's words. `seen` says which entries mean something.
struct Words {
  std::uint32_t seen = 0;                // by letter, G and M left out
  std::uint32_t g_seen = 0, m_seen = 0;  // by group
  int m_count = 0;
  bool deleted = false;
  std::array<double, 26> value;
  std::array<std::size_t, 26> at;  // place in the squeezed line
  std::array<int, g_groups> g;
  std::array<std::size_t, g_groups> g_at;
  std::array<int, m_groups> m;
  std::array<std::size_t, m_groups> m_at;

  void clear() {
    seen = g_seen = m_seen = 0;
    m_count = 0;
    deleted = false;
  }
  bool has(char letter) const { return (seen & letter_bit(letter)) != 0; }
  double of(char letter) const { return value[static_cast<std::size_t>(letter - 'A')]; }
  std::size_t place(char letter) const { return at[static_cast<std::size_t>(letter - 'A')]; }
  bool has(GGroup group) const { return (g_seen >> group & 1u) != 0; }
  bool has(MGroup group) const { return (m_seen >> group & 1u) != 0; }
  bool is(GGroup group, int tenfold) const { return has(group) && g[group] == tenfold; }
  bool is(MGroup group, int code) const { return has(group) && m[group] == code; }
};

/// "G1", "G38.2".
std::string g_text(int tenfold);

/// The words of a line that is nothing but a straight motion in plain writing: capitals, each word once, single blanks at most, numbers of at most 15
/// digits, no comment and no line number, at most kLongestLine characters and a newline.
struct UsualLine {
  int g = -1;               ///< 0 or 1; -1: not said
  std::uint8_t named = 0;   ///< axes with a word
  bool has_feed = false;
  double feed = 0;
  std::array<double, kAxes> value;  ///< of the axes named
  std::size_t length = 0;   ///< without its newline

  /// From the beginning of `text`; false when it is no such line.
  bool take(std::string_view text);

 private:
  bool take_number(const char*& at, const char* end, double& number) const;
};

/// Holds one line at a time. Each function that finds something wrong says so to the sink and returns false.
class Line {
 public:
  /// `own_m`: M words beyond the standard's that the machine knows; it outlives the line.
  Line(std::string_view file, Sink& sink, const std::vector<int>& own_m) : file_(file), sink_(sink), own_m_(own_m) {}

  /// Takes the next line: checks its characters and comments. Its text must outlive the work on it.
  bool take(std::string_view raw, int number);
  /// The words of the line taken.
  bool read_words();

  int number() const { return number_; }
  bool empty() const { return length_ == 0; }
  bool starts_with(char c) const { return length_ > 0 && buffer_[0] == c; }
  bool is_single() const { return length_ == 1; }  ///< one sign or one comment
  bool has_comment() const { return has_comment_; }
  std::string_view comment() const { return comment_; }  ///< the last one, NIST 3.3.5
  const Words& words() const { return words_; }
  std::uint8_t named() const { return named_; }  ///< axes with a word
  int errors() const { return errors_; }

  bool error_at(char letter, const char* id, std::string message, std::string remedy);
  bool error_at(GGroup group, const char* id, std::string message, std::string remedy);
  bool error_at_first_axis(const char* id, std::string message, std::string remedy);
  bool error_at_start(const char* id, std::string message, std::string remedy);
  bool error_on_line(const char* id, std::string message, std::string remedy);
  bool error_after_end(int number, const char* id, std::string message, std::string remedy);
  void warn_at_start(const char* id, std::string message, std::string remedy);

 private:
  bool squeeze_comment(std::size_t& i);
  std::size_t column_of(std::size_t squeezed) const;
  std::size_t word_length(std::size_t squeezed) const;
  bool read_line_number();
  bool read_word();
  bool read_number(char letter, std::size_t start, double& value);
  bool add_word(char letter, double value, std::size_t start);
  bool add_g(double value, std::size_t start);
  bool add_m(double value, std::size_t start);
  bool error(std::size_t squeezed, std::size_t length, const char* id, std::string message, std::string remedy);
  bool error_at_column(std::size_t column, std::size_t length, const char* id, std::string message, std::string remedy);
  void report(Severity severity, std::size_t column, std::size_t length, const char* id, std::string message,
              std::string remedy);

  std::string_view file_;
  Sink& sink_;
  const std::vector<int>& own_m_;
  std::string_view raw_;  // the line as it stands
  int number_ = 0;
  std::array<char, kLongestLine + 1>
      buffer_;  // the line without blanks, upper case, '(' for a whole comment, 0 at the end
  std::size_t length_ = 0, position_ = 0;
  std::string_view comment_;
  bool has_comment_ = false;
  Words words_;
  std::uint8_t named_ = 0;
  int errors_ = 0;
};

}  // namespace pommel::program::words
