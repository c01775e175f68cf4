// What the reader says beyond the published rules: refusals of whatever would leave the check guessing, and the whole
// text of its complaints. The published rows are in tests/check_values/program.
#include "program/reader.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <string>

#include "base/number.h"

namespace pommel::program {
namespace {

std::string complaints(const std::string& text) {
  Sink sink;
  (void)read(text, "leg.nc", sink);
  return render(sink.all());
}

struct Row {
  const char* line;  // after "G21 G90 G94" on the line before
  const char* expected;
};

const Row kRows[] = {
    {"G0 X[1+2]",
     "leg.nc:2:4: error: expressions, parameters and functions are not read here [program.expression]\n"
     "    2 | G0 X[1+2]\n      |    ^~\n   do: write the number itself\n"},
    {"G0 X#5",
     "leg.nc:2:4: error: expressions, parameters and functions are not read here [program.expression]\n"
     "    2 | G0 X#5\n      |    ^~\n   do: write the number itself\n"},
    {"#5=3",
     "leg.nc:2:1: error: expressions, parameters and functions are not read here [program.expression]\n"
     "    2 | #5=3\n      | ^\n   do: write the number itself\n"},
    {"G0 X SIN[30]",
     "leg.nc:2:4: error: expressions, parameters and functions are not read here [program.expression]\n"
     "    2 | G0 X SIN[30]\n      |    ^~~~~~\n   do: write the number itself\n"},
    {"G0 X1E3",
     "leg.nc:2:6: error: E begins no word of this language [program.unknown-word]\n"
     "    2 | G0 X1E3\n      |      ^\n   do: numbers have no exponent form: write 1000 in place of 1E3\n"},
    {"G55 G0 X1",
     "leg.nc:2:1: error: this program shifts its zero; the check cannot know by how much [program.zero-shift]\n"
     "    2 | G55 G0 X1\n      | ^~~\n   do: set the zero at the machine (G54) and leave this word out\n"},
    {"G92 X0",
     "leg.nc:2:5: error: G92 names a place that nobody knows [program.unknown-start]\n"
     "    2 | G92 X0\n      |     ^~\n   do: go to an absolute place (G90) first\n"},
    {"G92",
     "leg.nc:2:1: error: G92 has no axis word [program.no-axis]\n"
     "    2 | G92\n      | ^~~\n   do: say what the place is called\n"},
    {"G92.3",
     "leg.nc:2:1: error: this program shifts its zero; the check cannot know by how much [program.zero-shift]\n"
     "    2 | G92.3\n      | ^~~~~\n   do: set the zero at the machine (G54) and leave this word out\n"},
    {"G0 G53 Z0",
     "leg.nc:2:4: error: this program shifts its zero; the check cannot know by how much [program.zero-shift]\n"
     "    2 | G0 G53 Z0\n      |    ^~~\n   do: set the zero at the machine (G54) and leave this word out\n"},
    {"G43 H1",
     "leg.nc:2:1: error: this program shifts its zero; the check cannot know by how much [program.zero-shift]\n"
     "    2 | G43 H1\n      | ^~~\n   do: measure the cutter to the zero in place\n"},
    {"G28",
     "leg.nc:2:1: error: this program shifts its zero; the check cannot know by how much [program.zero-shift]\n"
     "    2 | G28\n      | ^~~\n   do: set the zero at the machine (G54) and leave this word out\n"},
    {"G41 D1",
     "leg.nc:2:1: error: cutter compensation moves the path by an unknown amount [program.compensation]\n"
     "    2 | G41 D1\n      | ^~~\n   do: program the cutter's own path\n"},
    {"G81 X1 Z1 R2",
     "leg.nc:2:1: error: canned cycles are not used on a rotary job [program.canned-cycle]\n"
     "    2 | G81 X1 Z1 R2\n      | ^~~\n   do: write the moves themselves\n"},
    {"G38.2 Z0",
     "leg.nc:2:1: error: a probing move ends where nobody knows [program.probe]\n"
     "    2 | G38.2 Z0\n      | ^~~~~\n   do: leave it out\n"},
    {"G0 X1 R5",
     "leg.nc:2:7: error: R means nothing on this line [program.word-unused]\n"
     "    2 | G0 X1 R5\n      |       ^~\n   do: leave it out\n"},
    {"G91 G0 X1",
     "leg.nc:2:8: error: an increment (G91) from a place nobody knows [program.unknown-start]\n"
     "    2 | G91 G0 X1\n      |        ^~\n   do: give this axis an absolute place (G90) first\n"},
    {"G20 F10",
     "leg.nc:2:5: error: controllers disagree which units an F on the line of G20 or G21 has [program.feed-and-units]\n"
     "    2 | G20 F10\n      |     ^~~\n   do: put F on a later line\n"},
    {"G1 X1",
     "leg.nc:2:1: error: this move has no feed [program.no-feed]\n"
     "    2 | G1 X1\n      | ^~\n   do: write F, the feed per minute, before it or on its line\n"},
    {"G0 X12345678901",
     "leg.nc:2:4: error: X is beyond any machine [program.number-too-large]\n"
     "    2 | G0 X12345678901\n      |    ^~~~~~~~~~~~\n   do: look for a missing point\n"},
    {"G0 X1 \xc2\xbd",
     "leg.nc:2:7: error: this character is not allowed in a program [program.character]\n"
     "    2 | G0 X1 \xc2\xbd\n      |       ^\n   do: use plain ASCII letters, digits and signs\n"},
};

TEST(Reader, SaysWhatItWillNotGuess) {
  for (const Row& row : kRows) EXPECT_EQ(complaints(std::string("G21 G90 G94\n") + row.line + "\nM2\n"), row.expected);
}

TEST(Reader, AsksForModesBeforeTheyMatter) {
  EXPECT_EQ(complaints("G90 G0 X1\nM2\n"),
            "leg.nc:1:1: error: a length before G20 or G21: nobody knows how long it is [program.no-units]\n"
            "    1 | G90 G0 X1\n      | ^~~~~~~~~\n   do: write G21 (mm) or G20 (inch) first\n");
  EXPECT_EQ(
      complaints("G21 G0 X1\nM2\n"),
      "leg.nc:1:1: error: a motion before G90 or G91: nobody knows from where it counts [program.no-distance-mode]\n"
      "    1 | G21 G0 X1\n      | ^~~~~~~~~\n   do: write G90 (absolute) first\n");
  EXPECT_EQ(
      complaints("G21 G90 G1 X1 F10\nM2\n"),
      "leg.nc:1:1: error: a feed move before G93 or G94: nobody knows what its F means [program.no-feed-mode]\n"
      "    1 | G21 G90 G1 X1 F10\n      | ^~~~~~~~~~~~~~~~~\n   do: write G93 (1/minutes) or G94 (per minute) first\n");
  EXPECT_EQ(complaints("G90 G0 A90\nM2\n"), "");                // degrees need no units
  EXPECT_EQ(complaints("X1 G0 G90 G21\nM2\n"), "");             // modes come before motion in Table 8
  EXPECT_NE(complaints("F100\nG21 G90 G94\nG1 X1\nM2\n"), "");  // nobody knows in which units that feed was
}

TEST(Reader, WarnsOfBlockDelete) {
  EXPECT_EQ(complaints("G21 G90\n/G0 X1\nM2\n"),
            "leg.nc:2:1: warning: this line runs only while the block delete switch is off; the check reads it so "
            "[program.block-delete]\n"
            "    2 | /G0 X1\n      | ^\n   do: take the '/' out\n");
}

TEST(Reader, GoesOnAndStopsAtFifty) {
  Sink sink;
  std::string text = "G21\n";
  for (int i = 0; i < 80; ++i) text += "G0 X\n";
  (void)read(text, "leg.nc", sink);
  ASSERT_EQ(sink.all().size(), 51u);
  EXPECT_EQ(sink.all()[0].place.line, 2);
  EXPECT_EQ(sink.all()[49].place.line, 51);
  EXPECT_EQ(sink.all()[50].id, "program.too-many-errors");
}

TEST(Reader, DegreesAreNotInches) {
  Sink sink;
  const Program program = read("G20 G90 G94\nG0 X1 A10\nG1 A20 F100\nX2 A30\nM2\n", "p", sink);
  ASSERT_FALSE(sink.has_errors()) << render(sink.all());
  EXPECT_EQ(dump(program), "2 rapid X25.4 A10\n3 line A20 rate 100\n4 line X50.8 A30 rate 2540\n5 end\n");
}

// Short numbers take a quick way, long ones another: both give the nearest double.
TEST(Reader, NumbersAreTheNearestDouble) {
  std::mt19937 rng(11);
  std::uniform_int_distribution<int> digit(0, 9), count(1, 20);
  for (int i = 0; i < 5000; ++i) {
    std::string number;
    const int n = count(rng), point = std::max(0, n - std::uniform_int_distribution<int>(0, n)(rng));
    for (int k = 0; k < n; ++k) {
      if (k == point) number += '.';
      number += static_cast<char>('0' + digit(rng));
    }
    const double expected = parse_number(number.front() == '.' ? "0" + number : number).value();
    if (expected > 1e9) continue;
    Sink sink;
    const Program program = read("G21 G90 G0 X" + number + "\nM2", "p", sink);
    ASSERT_FALSE(sink.has_errors()) << number;
    EXPECT_EQ(program.steps[0].to[0], expected) << number;
  }
}

TEST(Reader, EmptyTextHasNoEnd) {
  Sink sink;
  (void)read("", "p", sink);
  ASSERT_EQ(sink.all().size(), 1u);
  EXPECT_EQ(sink.all()[0].id, "program.no-end");
}

// Text of random bytes and of shuffled program text: no crash, no endless loop, and always an answer.
TEST(Reader, SurvivesNoise) {
  std::mt19937 rng(20240611);
  const std::string alphabet = "GMXYZAFNSTIJR0123456789.-+()%/ \n\r\tE[]#abc\x80\xff";
  std::uniform_int_distribution<std::size_t> pick(0, alphabet.size() - 1);
  std::uniform_int_distribution<int> any(0, 255), length(0, 400);
  for (int round = 0; round < 3000; ++round) {
    std::string text;
    const int n = length(rng);
    for (int i = 0; i < n; ++i) text += round % 3 == 0 ? static_cast<char>(any(rng)) : alphabet[pick(rng)];
    Sink sink;
    const Program program = read(text, "p", sink);
    ASSERT_LE(sink.all().size(), 500u);
    EXPECT_TRUE(sink.has_errors() || !program.events.empty() || !program.steps.empty() ||
                text.find('%') != std::string::npos);
    for (const Diagnostic& found : sink.all()) EXPECT_FALSE(render(found).empty());
  }
}

// Lines in plain writing are read by a short way (Reader::usual_line()). A blank before a line means nothing, but leads it the long way: both must
// give the same steps, modes and messages, of lines that are sound and of lines that are not.
TEST(Reader, TheShortWayReadsWhatTheLongWayReads) {
  std::mt19937 random(11);
  const auto one_of = [&](const std::vector<std::string>& of) { return of[random() % of.size()]; };
  const auto number = [&] {
    return one_of({"0", "-0", "1", "12.5", "-3.125", ".5", "7.", "123456789012345", "0.000000000000001", "1234567890123456", "-", "1.2.3", "9999999999",
                   "00012.500", "+4", "1000000000.5"});
  };
  for (int round = 0; round < 400; ++round) {
    std::string plain, blank;
    const auto line = [&](const std::string& text) {
      plain += text + "\n";
      blank += " " + text + "\n";
    };
    line(one_of({"G21 G90 G93", "G20 G90 G94", "G21 G91 G94", "G21 G90", "G21 G90 G94"}));
    line("G0 Z50");
    for (int i = 0; i < 6; ++i) {
      std::string text = one_of({"", "G0", "G1", "G1 ", "G0 ", "G01 ", "G2 ", "G10 ", "g1 ", "G1G0 ", "N5 "});
      for (unsigned words = random() % 4; words > 0; --words) text += one_of({"X", "Z", "A", "F", "Y", "C", "x", "M", "X "}) + number() + one_of({"", " ", "  ", "(a)"});
      line(text);
    }
    line(one_of({"G92 A0", "F200", "M3 S100", ""}));
    line("G1 X1 A2" + one_of({" F10", "", " F0", " F-1"}));
    line("M2");
    Sink short_way, long_way;
    const Program a = read(plain, "p", short_way), b = read(blank, "p", long_way);
    ASSERT_EQ(dump(a), dump(b)) << plain;
    ASSERT_EQ(dump(a.end), dump(b.end)) << plain;
    ASSERT_EQ(short_way.all().size(), long_way.all().size()) << plain;
    for (std::size_t i = 0; i < short_way.all().size(); ++i) {
      EXPECT_EQ(short_way.all()[i].id, long_way.all()[i].id) << plain;
      EXPECT_EQ(short_way.all()[i].message, long_way.all()[i].message) << plain;
      EXPECT_EQ(short_way.all()[i].place.line, long_way.all()[i].place.line) << plain;
    }
    ASSERT_EQ(a.steps.size(), b.steps.size());
    for (std::size_t i = 0; i < a.steps.size(); ++i) {
      EXPECT_EQ(a.steps[i].to, b.steps[i].to) << plain;
      EXPECT_EQ(a.steps[i].feed, b.steps[i].feed) << plain;
    }
  }
}

// A last line that nobody ended left the reader's cursor behind the text, and the short way for usual lines looked there.
TEST(Reader, ALastLineThatIsNotEndedIsALine) {
  const std::string text = "G21 G90 G94\nG0 Z60\nG1 X5 F600\nX6";
  Sink sink;
  const Program program = read(text, "program", sink);
  ASSERT_FALSE(program.steps.empty());
  EXPECT_EQ(program.steps.back().line, 4);
  EXPECT_EQ(program.steps.back().at(Axis::x), 6);
}

}  // namespace
}  // namespace pommel::program
