// The reader held against the language it claims to read: Kramer, Proctor and Messina, The NIST RS274NGC Interpreter,
// Version 3, NISTIR 6556, August 2000. Each row names the section it was taken from. Expected is the dump of steps and
// events (lines joined by "; "), or "! " and the id and place of the error.
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "program/reader.h"

namespace pommel::program {
namespace {

struct Row {
  const char* section;
  const char* text;
  const char* expected;
};

std::string joined_lines(std::string text) {
  std::string out;
  for (const char c : text) {
    if (c == '\n')
      out += "; ";
    else
      out += c;
  }
  if (out.ends_with("; ")) out.resize(out.size() - 2);
  return out;
}

std::string outcome(const std::string& text) {
  Sink sink;
  const Program program = read(text, "p", sink, {.switch_on = Modes{}});
  if (!sink.has_errors()) return joined_lines(dump(program));
  std::string out;
  for (const Diagnostic& found : sink.all()) {
    if (found.severity != Severity::error) continue;
    if (!out.empty()) out += "; ";
    out += "! " + found.id + " " + std::to_string(found.place.line) + ":" + std::to_string(found.place.column);
  }
  return out;
}

/// Rows of single blocks: M2 is added as a last line, its "end" taken off again.
const Row kBlocks[] = {
    // format of a line
    {"3.3", "g0x +0. 12 34y 7", "1 rapid X0.1234 Y7"},
    {"3.3", "g0 x+0.1234 y7", "1 rapid X0.1234 Y7"},
    {"3.3", "G0\tX1\r\n\r\n  \r\nY2", "1 rapid X1; 4 rapid Y2"},
    {"3.3", "g0 x1 (Comments keep Their case)", "1 comment 'Comments keep Their case'; 1 rapid X1"},
    {"3.3", "/g0 x1", "1 rapid X1"},
    {"3.3", "/ n10 g0 x1", "1 rapid X1"},
    {"3.3", "g0 /x1", "! program.unexpected 1:4"},
    {"3.3", "g0 x1;y2", "! program.unexpected 1:6"},
    {"3.3.1", "n99999 g0 x1", "1 rapid X1"},
    {"3.3.1", "n000009 g0 x1", "! program.line-number 1:1"},
    {"3.3.1", "n-1 g0 x1", "! program.line-number 1:1"},
    {"3.3.1", "n1.5 g0 x1", "! program.line-number 1:1"},
    {"3.3.1", "g0 n5 x1", "! program.line-number 1:4"},
    {"3.3.2, Table 3", "g0 e1", "! program.unknown-word 1:4"},
    {"3.3.2, Table 3", "g0 u1", "! program.unknown-word 1:4"},
    // numbers
    {"3.3.2.1", "g0 x1. y.5 z-.25", "1 rapid X1 Y0.5 Z-0.25"},
    {"3.3.2.1", "g0 x00012.3400", "1 rapid X12.34"},
    {"3.3.2.1", "g0 x+7", "1 rapid X7"},
    {"3.3.2.1", "g0 x1e3", "! program.unknown-word 1:6"},
    {"3.3.2.1", "g0 x1.2.3", "! program.unexpected 1:8"},
    {"3.3.2.1", "g0 x.", "! program.no-number 1:4"},
    {"3.3.2.1", "g0 x-", "! program.no-number 1:4"},
    {"3.3.2.1", "g0 x", "! program.no-number 1:4"},
    {"3.3.2.1", "g0 x--1", "! program.no-number 1:4"},
    {"3.3.2.1", "g0.00001 x1", "1 rapid X1"},  // ten times a G code is within 0.0001 of a whole number
    {"3.3.2.1", "g0.0001 x1", "! program.unknown-g 1:1"},
    // comments
    {"3.3.4", "G80 M5 (stop motion)", "1 comment 'stop motion'; 1 spindle-off"},
    {"3.3.4", "(MSG, lift the guard)", "1 message ' lift the guard'"},
    {"3.3.4", "( m S g,hello)", "1 message 'hello'"},
    {"3.3.4", "g0 x1 (a (b) c)", "! program.comment-nested 1:10"},
    {"3.3.4", "g0 x1 (never closed", "! program.comment-open 1:7"},
    {"3.3.4", "g0 x1)", "! program.unexpected 1:6"},
    {"3.3.5", "(one) g0 x1 (two)", "1 comment 'two'; 1 rapid X1"},  // the last comment alone is used
    // repeats and groups
    {"3.3.5, Table 4", "g0 g1 x1 f5", "! program.group-repeated 1:4"},
    {"3.3.5, Table 4", "g90 g91 g0 x1", "! program.group-repeated 1:5"},
    {"3.3.5, Table 4", "g93 g94", "! program.group-repeated 1:5"},
    {"3.3.5, Table 4", "g17 g18", "! program.group-repeated 1:5"},
    {"3.3.5, Table 4", "m3 m5", "! program.group-repeated 1:4"},
    {"3.3.5, Table 4", "m7 m9", "! program.group-repeated 1:4"},
    {"3.3.5", "m3 m6 m7 m48", "1 tool-change 0; 1 spindle-clockwise; 1 mist-on; 1 overrides-on"},
    {"3.3.5", "m3 m6 m7 m48 m0", "! program.too-many-m 1:14"},
    {"3.3.5", "g0 x1 x2", "! program.word-repeated 1:7"},
    {"3.3.5", "g17 g21 g40 g49 g54 g61 g80 g90 g94 g98", ""},
    {"3.3.6", "y2 g0 x1", "1 rapid X1 Y2"},
    {"3.3.7", "g1 x1 f10\ny2\n(no motion here)\nz3",
     "1 line X1 rate 10; 2 line Y2 rate 10; 3 comment 'no motion here'; 4 line Z3 rate 10"},
    {"3.4", "g1 g92 x1 f1", "! program.two-use-axes 1:1"},
    {"3.4", "g0 g10 l2 p1 x1", "! program.two-use-axes 1:1"},
    // motion
    {"3.5.1", "g0", "! program.no-axis 1:1"},
    {"3.5.2", "g1 f100", "! program.no-axis 1:1"},
    {"3.5.2", "g1 x1 a90 f100", "1 line X1 A90 rate 100"},
    {"3.5.3.1", "g0 x0 y0\ng17 g2 x10 y15 r20 z5 f100",
     "1 rapid X0 Y0; 2 arc X10 Y15 Z5 rate 100 centre 19.8551 -2.4034 radius 20 sweep 0.9351 clockwise"},
    {"3.5.3.1", "g0 x0 y0\ng3 x10 y0 r-5 f1",
     "1 rapid X0 Y0; 2 arc X10 Y0 rate 1 centre 5 0 radius 5 sweep 3.1416 counter-clockwise"},
    {"3.5.3.1", "g0 x0 y0\ng2 x0 y0 r5 f1", "! program.arc-no-chord 2:10"},
    {"3.5.3.1", "g0 x0 y0\ng2 z1 r5 f1", "! program.no-axis 2:1"},
    {"3.5.3.2", "g0 x7 y7\ng17 g2 x10 y16 i3 j4 z9 f100",
     "1 rapid X7 Y7; 2 arc X10 Y16 Z9 rate 100 centre 10 11 radius 5 sweep 2.4981 clockwise"},
    {"3.5.3.2", "g0 x7 y7\ng3 x7 y7 i5 f100",
     "1 rapid X7 Y7; 2 arc X7 Y7 rate 100 centre 12 7 radius 5 sweep 6.2832 counter-clockwise"},
    {"3.5.3.2", "g0 x0 y0\ng2 x10.0019 y0 i5 f1",
     "1 rapid X0 Y0; 2 arc X10.0019 Y0 rate 1 centre 5 0 radius 5 sweep 3.1416 clockwise"},
    {"3.5.3.2", "g0 x0 y0\ng2 x10.0021 y0 i5 f1", "! program.arc-radius 2:16"},
    {"3.5.3.2", "g20 g0 x0 y0\ng2 x1.00019 y0 i.5 f1",
     "1 rapid X0 Y0; 2 arc X25.404826 Y0 rate 25.4 centre 12.7 0 radius 12.7 sweep 3.1416 clockwise"},
    {"3.5.3.2", "g20 g0 x0 y0\ng2 x1.00021 y0 i.5 f1", "! program.arc-radius 2:16"},
    {"3.5.3.2", "g0 x0 y0\ng2 x10 f1", "! program.arc-no-centre 2:4"},
    {"3.5.4", "g4 p1.5", "1 dwell 1.5"},
    {"3.5.4", "g4 p-1", "! program.negative 1:4"},
    {"3.5.4", "g4", "! program.dwell 1:1"},
    {"3.5.7", "g20 g0 x1 a1\ng21 x1", "1 rapid X25.4 A1; 2 rapid X1"},
    {"3.5.12", "g80 g53 x1", "! program.g53 1:5"},
    {"3.5.12", "g2 g53 x1 y1 i1 f1", "! program.g53 1:4"},
    {"3.5.15", "g0 x1\ng80\nx2", "1 rapid X1; ! program.axis-without-motion 3:1"},
    {"3.5.15", "g80 x2", "! program.axis-without-motion 1:5"},
    {"3.5.17", "g0 x1 z1\ng91 x2\nx2 z-.5\ng90 x2", "1 rapid X1 Z1; 2 rapid X3; 3 rapid X5 Z0.5; 4 rapid X2"},
    {"3.5.19", "g93\ng1 x1 f2\nx2 f4\ng0 x3", "2 line X1 time 2; 3 line X2 time 4; 4 rapid X3"},
    {"3.5.19", "g93 g1 x1 f2\nx2", "! program.no-feed 2:1"},
    {"3.5.19", "g93 g1 x1", "! program.no-feed 1:5"},
    {"3.5.19", "g93\nf7\ng1 x1", "! program.no-feed 3:1"},  // an F without motion is ignored
    {"3.5.19", "g94 f100\ng93 g1 x1 f2\ng94 g1 x2 f50", "2 line X1 time 2; 3 line X2 rate 50"},
    // M words and others
    {"3.6.3", "t3\nm6", "1 tool-select 3; 2 tool-change 3"},
    {"3.7.2", "s-1", "! program.negative 1:1"},
    {"3.7.2", "s0 m3", "1 spindle-speed 0; 1 spindle-clockwise"},
    {"3.7.3", "t-1", "! program.tool 1:1"},
    {"3.7.3", "t1.5", "! program.tool 1:1"},
    {"Table 5", "g5 x1", "! program.unknown-g 1:1"},
    {"Table 7", "m10", "! program.unknown-m 1:1"},
    // order of execution: each item before the one after it, whatever their order on the line
    {"3.8, Table 8", "x1 g1 m3 s500 f20 m8 t2 m6 (first)",
     "1 comment 'first'; 1 spindle-speed 500; 1 tool-select 2; 1 tool-change 2; 1 spindle-clockwise; 1 flood-on; 1 "
     "line X1 rate 20"},
    {"3.8, Table 8", "g0 x1\nx2 g91", "1 rapid X1; 2 rapid X3"},
    {"3.8, Table 8", "m0 x1 g0", "1 rapid X1; 1 stop"},
    {"3.8, Table 8", "g0 x1 g4 p2 m5", "1 spindle-off; 1 dwell 2; 1 rapid X1"},
    {"3.8, Table 8", "f8 g93 x1 g1", "1 line X1 time 8"},
};

std::string expected_of(const Row& row, bool& error) {
  const std::string expected = row.expected;
  const std::size_t at = expected.find("! ");
  error = at != std::string::npos;
  return error ? expected.substr(at) : expected;
}

TEST(Rs274Ngc, BlocksReadAsPublished) {
  for (const Row& row : kBlocks) {
    SCOPED_TRACE(std::string(row.section) + ": " + row.text);
    const std::string text = std::string(row.text) + "\nM2\n";
    std::string got = outcome(text);
    bool error = false;
    const std::string expected = expected_of(row, error);
    if (!error) {
      const std::size_t lines = static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
      const std::string end = std::to_string(lines) + " end";
      ASSERT_TRUE(got.ends_with(end)) << got;
      got.resize(got.size() - end.size());
      if (got.ends_with("; ")) got.resize(got.size() - 2);
    }
    EXPECT_EQ(got, expected);
  }
}

const Row kFiles[] = {
    {"3.1", "%\ng0 x1\n%\nthis is ignored", "2 rapid X1"},
    {"3.1", "\n  % \ng0 x1\n %\n", "3 rapid X1"},
    {"3.1", "%\ng0 x1\nm30\n%\n", "2 rapid X1; 3 end"},
    {"3.1", "g0 x1\nm2\ng99999 what is this", "1 rapid X1; 2 end"},
    {"3.1", "%\ng0 x1\n", "! program.percent-open 2:1"},
    {"3.1", "%\ng0 x1\nm2\n", "! program.percent-open 3:1"},
    {"3.1", "g0 x1\n", "! program.no-end 1:1"},
    {"3.1", "g0 x1\n%\n", "! program.percent 2:1; ! program.no-end 2:1"},
    {"3.1", "% 1\ng0 x1\nm2\n", "! program.percent 1:1"},
};

TEST(Rs274Ngc, FilesBeginAndEndAsPublished) {
  for (const Row& row : kFiles) EXPECT_EQ(outcome(row.text), row.expected) << row.section << ": " << row.text;
}

// NISTIR 6556, 3.3: at most 256 characters on a line.
TEST(Rs274Ngc, TheLongestLineHas256Characters) {
  const std::string fits = "g0 x1" + std::string(251, ' ');
  EXPECT_EQ(outcome(fits + "\nm2"), "1 rapid X1; 2 end");
  EXPECT_EQ(outcome(fits + " \nm2"), "! program.line-too-long 1:1");
}

// NISTIR 6556, 3.6.1, items 1 to 9: what M2 and M30 put back. Units are not on the list and stay.
TEST(Rs274Ngc, EndStateAsPublished) {
  for (const char* end : {"m2", "m30"}) {
    Sink sink;
    const std::string text = std::string("g18 g20 g91 g93 g80 s100 m3 m8 m49\nm7\n") + end;
    const Program program = read(text, "p", sink);
    ASSERT_FALSE(sink.has_errors()) << render(sink.all());
    EXPECT_EQ(dump(program.end),
              "motion line, plane xy, absolute, per minute, inches, spindle off, coolant off, overrides on");
  }
  Sink sink;
  const Program program = read("%\ng18 g20 g91 g93 g80 s100 m3 m8 m49\nm7\n%", "p", sink);
  ASSERT_FALSE(sink.has_errors());
  EXPECT_EQ(dump(program.end),
            "motion none, plane xz, incremental, inverse time, inches, spindle clockwise, coolant mist and flood, "
            "overrides off");
}

TEST(Rs274Ngc, TheTableIsLongEnough) {
  std::size_t errors = 0;
  for (const Row& row : kBlocks) errors += std::string(row.expected).find("! ") != std::string::npos ? 1 : 0;
  EXPECT_GE(std::size(kBlocks) + std::size(kFiles), 40u);
  EXPECT_GE(errors, 15u);
}

}  // namespace
}  // namespace pommel::program
