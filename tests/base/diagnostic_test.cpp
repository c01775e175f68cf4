#include "base/diagnostic.h"

#include <gtest/gtest.h>

#include "base/result.h"

namespace pommel {
namespace {

Diagnostic sample() {
  Diagnostic what;
  what.id = "family.unknown-measure";
  what.message = "'heigth' is no measure of this family";
  what.remedy = "did you mean 'height'?";
  what.place = {"order.yaml", 12, 3};
  what.read = "heigth";
  what.source_line = "  heigth: 760 mm";
  return what;
}

TEST(Diagnostic, ShowsPlaceLineCaretAndRemedy) {
  EXPECT_EQ(render(sample()),
            "order.yaml:12:3: error: 'heigth' is no measure of this family [family.unknown-measure]\n"
            "   12 |   heigth: 760 mm\n"
            "      |   ^~~~~~\n"
            "   do: did you mean 'height'?\n");
}

TEST(Diagnostic, LeavesOutWhatIsNotKnown) {
  struct Row {
    Severity severity;
    const char *id, *remedy, *file;
    int line_number, column;
    const char *read, *line, *text;
  };
  constexpr Severity E = Severity::error;
  const std::vector<Row> rows = {
      Row{E, "a.b", "", "", 0, 0, "", "", "error: no [a.b]\n"},
      {Severity::warning, "", "", "", 0, 0, "", "", "warning: no\n"},
      {Severity::note, "a.b", "go on", "f", 0, 0, "", "", "f: note: no [a.b]\n   do: go on\n"},
      {E, "a.b", "", "f", 7, 0, "x", "abc", "f:7: error: no [a.b]\n    7 | abc\n"},
      {E, "a.b", "", "f", 7, 2, "", "abc", "f:7:2: error: no [a.b]\n    7 | abc\n      |  ^\n"},
      {E, "a.b", "", "", 7, 2, "", "", "line 7:2: error: no [a.b]\n"},
      {E, "a.b", "", "", 0, 3, "x", "28x", "error: no [a.b]\n      | 28x\n      |   ^\n"},
      // past the end of the line; text longer than the line, or of several lines; a number of many digits
      {E, "a.b", "", "f", 1, 99, "x", "abc", "f:1:99: error: no [a.b]\n    1 | abc\n      |    ^\n"},
      {E, "a.b", "", "f", 1, 2, "bcdef", "abc", "f:1:2: error: no [a.b]\n    1 | abc\n      |  ^~\n"},
      {E, "a.b", "", "f", 1, 1, "ab\ncd", "ab", "f:1:1: error: no [a.b]\n    1 | ab\n      | ^~\n"},
      {E, "a.b", "", "f", 1234567, 1, "a", "a", "f:1234567:1: error: no [a.b]\n1234567 | a\n        | ^\n"},
      // characters are counted, not bytes; control characters and bad bytes keep their columns
      {E, "a.b", "", "f", 1, 4, "\xC3\xBC\xC3\xB6", "\xC3\xA4: \xC3\xBC\xC3\xB6",
       "f:1:4: error: no [a.b]\n    1 | \xC3\xA4: \xC3\xBC\xC3\xB6\n      |    ^~\n"},
      {E, "a.b", "", "f", 1, 4, "c",
       "\ta\x1B"
       "c\r",
       "f:1:4: error: no [a.b]\n    1 |  a c\n      |    ^\n"},
      {E, "a.b", "", "f", 1, 2, "b",
       "\xFF"
       "b",
       "f:1:2: error: no [a.b]\n    1 | \xEF\xBF\xBD"
       "b\n      |  ^\n"},
  };
  for (const Row& row : rows) {
    Diagnostic what;
    what.severity = row.severity;
    what.id = row.id;
    what.message = "no";
    what.remedy = row.remedy;
    what.place = {row.file, row.line_number, row.column};
    what.read = row.read;
    what.source_line = row.line;
    EXPECT_EQ(render(what), row.text);
  }
}

TEST(Diagnostic, CutsALongLineAroundTheColumn) {
  Diagnostic what = sample();
  const std::string left(500, 'a'), right(500, 'z');
  what.source_line = left + "heigth" + right;
  what.place.column = 501;
  EXPECT_EQ(render(what),
            "order.yaml:12:501: error: 'heigth' is no measure of this family [family.unknown-measure]\n"
            "   12 | ..." +
                std::string(59, 'a') + "heigth" + std::string(55, 'z') +
                "...\n"
                "      | " +
                std::string(62, ' ') +
                "^~~~~~\n"
                "   do: did you mean 'height'?\n");
  what.place.column = 1;
  what.read = "aa";
  EXPECT_EQ(render(what).substr(87),
            "   12 | " + std::string(120, 'a') + "...\n      | ^~\n   do: did you mean 'height'?\n");
  what.place.column = 1006;
  what.read = "zzz";
  EXPECT_EQ(render(what).substr(90), "   12 | ..." + std::string(120, 'z') + "\n      | " + std::string(122, ' ') +
                                         "^\n   do: did you mean 'height'?\n");
}

TEST(Diagnostic, MessagesCannotSteerTheTerminal) {
  Diagnostic what;
  what.message = "'\x1B[2J' is\nno name";
  what.remedy = "a\rb";
  what.place.file =
      "a\x1B"
      "b";
  EXPECT_EQ(render(what), "a b: error: ' [2J' is no name\n   do: a b\n");
}

TEST(Diagnostic, SinkKeepsTheOrderAndKnowsErrors) {
  Sink sink;
  EXPECT_FALSE(sink.has_errors());
  Diagnostic warning = sample();
  warning.severity = Severity::warning;
  sink.add(warning);
  EXPECT_FALSE(sink.has_errors());
  sink.add(fail("a.b", "second").reasons);
  EXPECT_TRUE(sink.has_errors());
  ASSERT_EQ(sink.all().size(), 2u);
  EXPECT_EQ(render(sink.all()), render(warning) + "error: second [a.b]\n");
}

TEST(Result, HoldsAValueOrReasons) {
  Result<int> good = 3;
  EXPECT_TRUE(good);
  EXPECT_EQ(*good, 3);
  Result<int> bad = fail("a.b", "no", "do", {"f", 1, 2}, "x");
  ASSERT_FALSE(bad);
  EXPECT_EQ(bad.reasons()[0].id, "a.b");
  EXPECT_EQ(bad.reasons()[0].place, (Place{"f", 1, 2}));
  EXPECT_EQ(bad.reasons()[0].read, "x");
}

// A cutter's name over two lines in an order once put its line's end into the message.
TEST(Sink, WhatIsSaidIsOneLine) {
  Sink sink;
  Diagnostic broken;
  broken.message = "'ball\n-8' is no cutter";
  broken.remedy = "known:\tball-8";
  sink.add(broken);
  sink.add(std::vector<Diagnostic>{broken});
  for (const Diagnostic& one : sink.all()) {
    EXPECT_EQ(one.message, "'ball -8' is no cutter");
    EXPECT_EQ(one.remedy, "known: ball-8");
  }
}

}  // namespace
}  // namespace pommel
