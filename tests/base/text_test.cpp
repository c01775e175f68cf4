#include "base/text.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/unseen.h"

namespace pommel {
namespace {

TEST(Text, IsTrimmedSplitAndJoined) {
  EXPECT_EQ(trimmed(" \t a b \r\n"), "a b");
  EXPECT_EQ(trimmed(" \n"), "");
  EXPECT_EQ(trimmed(""), "");
  EXPECT_EQ(lowered("Ab\xC3\x89Z9"), "ab\xC3\x89z9");
  EXPECT_THAT(split("a,,b,", ','), testing::ElementsAre("a", "", "b", ""));
  EXPECT_THAT(split("", ','), testing::ElementsAre(""));
  EXPECT_EQ(joined({"a", "b", "c"}, "; "), "a; b; c");
  EXPECT_EQ(joined({}, "; "), "");
  EXPECT_EQ(listed({}), "");
  EXPECT_EQ(listed({"a"}), "a");
  EXPECT_EQ(listed({"a", "b"}), "a and b");
  EXPECT_EQ(listed({"a", "b", "c"}), "a, b and c");
}

TEST(Text, EditDistanceCountsSlipsOfThePen) {
  struct Row {
    const char* a;
    const char* b;
    int distance;
  };
  for (const Row& row : {Row{"", "", 0},
                         {"abc", "", 3},
                         {"height", "heigth", 1},
                         {"height", "hieght", 1},
                         {"height", "heigt", 1},
                         {"height", "heights", 1},
                         {"height", "weight", 1},
                         {"kitten", "sitting", 3},
                         {"ca", "abc", 3},
                         {"ab", "ba", 1}}) {
    EXPECT_EQ(edit_distance(row.a, row.b), row.distance) << row.a << " " << row.b;
    EXPECT_EQ(edit_distance(row.b, row.a), row.distance) << row.b << " " << row.a;
  }
}

TEST(Text, NearestNameIsASlipOrNothing) {
  const std::vector<std::string> names = {"height", "weight", "top_thickness", "m"};
  struct Row {
    const char* word;
    const char* near;
  };
  for (const Row& row : {Row{"heigth", "height"},
                         {"eight", "height"},
                         {"xeight", "height"},
                         {"top_thicknes", "top_thickness"},
                         {"topthikness", "top_thickness"},
                         {"depth", ""},
                         {"stock", ""},
                         {"n", "m"},
                         {"", "m"},
                         {"height", "height"},
                         {"top", ""},
                         {"tpo_hicknxs_", ""}}) {
    EXPECT_EQ(nearest_name(row.word, names), row.near) << row.word;
  }
  EXPECT_EQ(nearest_name(std::string(1 << 20, 'x'), names), "");
  EXPECT_EQ(nearest_name("height", {}), "");
}

// Cases from RFC 3629 and Unicode table 3-7.
TEST(Text, Utf8IsCheckedToTheLetter) {
  for (const char* good : {"", "abc", "\xC2\x80", "\xC3\xA9", "\xE0\xA0\x80", "\xED\x9F\xBF", "\xEE\x80\x80",
                           "\xEF\xBB\xBF", "\xF0\x90\x80\x80", "\xF4\x8F\xBF\xBF"}) {
    EXPECT_TRUE(is_utf8(good)) << good;
  }
  for (const char* bad : {"\x80", "\xBF", "\xC0\x80", "\xC1\xBF", "\xC3", "\xC3(", "\xE0\x9F\xBF", "\xE2\x82",
                          "\xED\xA0\x80", "\xED\xBF\xBF", "\xF0\x8F\xBF\xBF", "\xF4\x90\x80\x80", "\xF5\x80\x80\x80",
                          "\xFF", "a\xE2\x28\xA1", "\xF0\x9F\x98"}) {
    EXPECT_FALSE(is_utf8(bad)) << testing::PrintToString(bad);
  }
}

TEST(Text, CharactersAreCountedNotBytes) {
  EXPECT_EQ(character_count(""), 0);
  EXPECT_EQ(character_count("abc"), 3);
  EXPECT_EQ(character_count("\xC3\xA9"
                            "a\xE2\x80\xB3\xF0\x9F\x98\x80"),
            4);
  EXPECT_EQ(character_count("a\xFF\xFE"), 3);
  EXPECT_EQ(printable("a\tb\x1B[2J\x7F\xC2\x9B\xFFz"), "a b [2J  \xEF\xBF\xBDz");
  EXPECT_EQ(in_quotes("a\nb"), "'a b'");
  EXPECT_EQ(in_quotes(std::string(60, 'x')), "'" + std::string(60, 'x') + "'");
  EXPECT_EQ(in_quotes(std::string(61, 'x')), "'" + std::string(60, 'x') + "...'");
}

TEST(Text, FileNamesAreSafeOnAnyCommonSystem) {
  for (const char* good :
       {"a", "leg.step", "leg 1.step", "T\xC3\xBCr", "com.txt", "COM10", "console", "a.b.c", "-x", "_"}) {
    std::string why = "before";
    EXPECT_TRUE(is_safe_file_name(good, &why)) << good;
    EXPECT_EQ(why, "") << good;
  }
  struct Row {
    std::string name;
    const char* why;
  };
  const std::vector<Row> rows = {
      {"", "it is empty"},
      {std::string(101, 'x'), "it is longer than 100 bytes"},
      {"a\xFF", "it is not UTF-8 text"},
      {"a\nb", "it holds a control character"},
      {std::string("a\0b", 3), "it holds a control character"},
      {"a\xC2\x85", "it holds a control character"},
      {"a/b", "it holds the reserved sign /"},
      {"a\\b", "it holds the reserved sign \\"},
      {"C:", "it holds the reserved sign :"},
      {"a*", "it holds the reserved sign *"},
      {"a?", "it holds the reserved sign ?"},
      {"\"a", "it holds the reserved sign \""},
      {"<a", "it holds the reserved sign <"},
      {"a>", "it holds the reserved sign >"},
      {"a|b", "it holds the reserved sign |"},
      {".", "it begins or ends with a dot"},
      {"..", "it begins or ends with a dot"},
      {".a", "it begins or ends with a dot"},
      {"a.", "it begins or ends with a dot"},
      {" a", "it begins or ends with a blank"},
      {"a ", "it begins or ends with a blank"},
      {"NUL", "it is the name of a device on some systems"},
      {"con.txt", "it is the name of a device on some systems"},
      {"Com1.a.b", "it is the name of a device on some systems"},
      {"lpt9", "it is the name of a device on some systems"},
      {"aux .txt", "it is the name of a device on some systems"},
      {"COM0", "it is the name of a device on some systems"},
      {"com\u00B9.yaml", "it is the name of a device on some systems"},
      {"CONIN$", "it is the name of a device on some systems"},
      {std::string(300, 'x'), "it is longer than 100 bytes"},
      {"a\u202Eb", "it holds a character that nobody sees"},
      {"a\u200Db", "it holds a character that nobody sees"},
      {"le\u00ADg", "it holds a character that nobody sees"},
      {"\uFEFFleg", "it holds a character that nobody sees"},
  };
  for (const Row& row : rows) {
    std::string why;
    EXPECT_FALSE(is_safe_file_name(row.name, &why)) << row.name;
    EXPECT_EQ(why, row.why) << row.name;
    EXPECT_FALSE(is_safe_file_name(row.name));
  }
}

// Each end of each range, and its neighbours.
TEST(Unseen, IsFoundWhereItStands) {
  for (const char* hidden : {"\u00AD", "\u061C", "\u200B", "\u200E", "\u200F", "\u2028", "\u202A", "\u202E", "\u2060", "\u2066", "\u206F", "\uFDD0", "\uFDEF",
                             "\uFEFF", "\uFFF9", "\uFFFB", "\uFFFE", "\uFFFF", "\U0001FFFE", "\U000E0001", "\U000E0FFF", "\U0010FFFF"}) {
    const std::string text = std::string("h\u00F6") + hidden + "z";
    const Unseen found = first_unseen(text);
    EXPECT_EQ(found.at, 3u) << hidden;
    EXPECT_EQ(found.size, std::string(hidden).size()) << hidden;
    EXPECT_EQ(first_unseen(text, found.at + found.size).size, 0u) << hidden;
    EXPECT_EQ(printable(text), "h\u00F6\uFFFDz");
  }
  EXPECT_EQ(first_unseen("\u0080").size, 2u);  // C1: printable() makes blanks of controls
  EXPECT_EQ(first_unseen("\u009F").size, 2u);
  EXPECT_EQ(first_unseen("a\u202Eb").name, "U+202E");
  EXPECT_EQ(first_unseen("\U000E0041").name, "U+E0041");
  for (const char* seen : {"~", "\u00A0", "\u00AC", "\u00AE", "\u061B", "\u061D", "\u200A", "\u200C", "\u200D", "\u2010", "\u2027", "\u202F", "\u205F", "\u2070", "\uFDCF", "\uFDF0", "\uFEFE", "\uFFF8", "\uFFFC",
                           "\uFFFD", "\U0001FFFD", "\U0001FAB5", "\U000DFFFD", "\U000E1000"})
    EXPECT_EQ(first_unseen(seen).size, 0u) << seen;
}

}  // namespace
}  // namespace pommel
