#include "yaml/paths.h"

#include <gtest/gtest.h>

namespace pommel::yaml {
namespace {

using Path = std::vector<std::string>;

std::string text_or_id(const Result<std::string>& made) { return made.ok() ? *made : made.reasons().front().id; }

const std::string kText =
    "# ours\n"
    "all:\n"
    "  a:\n"
    "    label: große Säge   # as it is\n"
    "    travel: {x: [1 mm, 2 mm], größe: {z: 3}}   # a minute\n"
    "    empty: {}\n"
    "    # of the head\n"
    "    head:\n"
    "      - \"M5\"\n"
    "\n"
    "  b: {x: 1}\n"
    "last: 5\n";

TEST(Paths, AreStatedBelowTheLastOneLineEntryOrInBraces) {
  struct Row {
    Path path;
    const char *value, *before, *after;  // the part of the text that changes
  };
  for (const Row& row : {
           Row{{"all", "a", "rpm"}, "3", "    empty: {}\n", "    empty: {}\n    rpm: 3\n"},
           {{"all", "a", "empty", "y"}, "a: b", "empty: {}", "empty: {y: 'a: b'}"},
           {{"all", "a", "travel", "größe", "y"}, "4", "{z: 3}", "{z: 3, y: 4}"},
           {{"all", "a", "travel", "y"}, "4", "{x: [1 mm", "{y: 4, x: [1 mm"},
           {{"all", "b", "y"}, "", "{x: 1}", "{x: 1, y: ''}"},
           {{"all", "a", "decimals", "linear"}, "4", "    empty: {}\n", "    empty: {}\n    decimals: {linear: 4}\n"},
           {{"all", "a", "one", "two", "three"}, "4", "    empty: {}\n", "    empty: {}\n    one: {two: {three: 4}}\n"},
           {{"more"}, "6 mm", "last: 5\n", "last: 5\nmore: 6 mm\n"},
       }) {
    std::string wanted = kText;
    wanted.replace(wanted.find(row.before), std::string(row.before).size(), row.after);
    const auto made = with_path(kText, "f.yaml", row.path, row.value);
    EXPECT_EQ(text_or_id(made), wanted);
    if (!made.ok() || std::string(row.before) == "empty: {}") continue;  // empty braces go with their last entry
    EXPECT_EQ(text_or_id(without_path(*made, "f.yaml", row.path)), kText) << row.after;
  }
}

TEST(Paths, AreTakenOutWithTheirLineOrTheirComma) {
  struct Row {
    std::string before;
    Path path;
    std::string after;
  };
  for (const Row& row : {
           Row{"a: 1\nb: 2   # so many\nc: 3\n", {"b"}, "a: 1\nc: 3\n"},
           {"a: {x: 1, y: 2, z: [3]}   # all\n", {"a", "x"}, "a: {y: 2, z: [3]}   # all\n"},
           {"a: {x: 1, y: 'two, or' , z: [3]}\n", {"a", "y"}, "a: {x: 1 , z: [3]}\n"},
           {"a: {x: [1], y: 2}\nb: 5\n", {"a", "y"}, "a: {x: [1]}\nb: 5\n"},
           {"a: {x: 1}   # all\nb: 5\n", {"a", "x"}, "b: 5\n"},
           {"a:\n  b: {x: 1}\n  c: 5\n", {"a", "b", "x"}, "a:\n  c: 5\n"},
           {"a:\r\n  b: 1\r\n  c: 5\r\n", {"a", "b"}, "a:\r\n  c: 5\r\n"},
       })
    EXPECT_EQ(text_or_id(without_path(row.before, "f.yaml", row.path)), row.after) << row.before;
}

TEST(Paths, WhatIsNotALineIsLeftToAnEditor) {
  EXPECT_EQ(text_or_id(with_path(kText, "f.yaml", {"last"}, "6")), "yaml.cannot-add");  // it is there already
  EXPECT_EQ(text_or_id(with_path(kText, "f.yaml", {"last", "x"}, "6")), "yaml.cannot-add");
  EXPECT_EQ(text_or_id(with_path(kText, "f.yaml", {"all", "a", "travel", "x", "2"}, "6")), "yaml.cannot-add");
  EXPECT_EQ(text_or_id(with_path("a:\n  - 1\n", "f.yaml", {"b"}, "6")), "yaml.cannot-add");  // no line to stand below
  EXPECT_EQ(text_or_id(with_path("a: [\n", "f.yaml", {"b"}, "6")), "yaml.syntax");
  for (const Path& path : {Path{"all", "a", "head"}, {"all", "a", "none"}, {"all", "none", "x"}, {"all", "a", "travel", "x", "0"}})
    EXPECT_EQ(text_or_id(without_path(kText, "f.yaml", path)), "yaml.cannot-remove");
  EXPECT_EQ(text_or_id(without_path("a: 1\n", "f.yaml", {"a"})), "yaml.cannot-remove");
  EXPECT_EQ(text_or_id(without_path("a: one\n  two\nb: 1\n", "f.yaml", {"a"})), "yaml.cannot-remove");
  EXPECT_EQ(text_or_id(without_path("a: {x: 1,\n  y: 2}\n", "f.yaml", {"a", "y"})), "yaml.cannot-remove");
}

TEST(Paths, AListKeepsTheLinesOfWhatStays) {
  struct Row {
    std::string before;
    Path path;
    std::vector<std::string> items;
    std::string after;
  };
  const std::string block = "a:\n  l:\n    - \"M5\"   # stops\n    - M30   # ends\n    - '%'\n  m: 1\n";
  for (const Row& row : {
           Row{block, {"a", "l"}, {"M5", "M30", "%"}, block},
           {block, {"a", "l"}, {"M5", "M9", "M30", "%"}, "a:\n  l:\n    - \"M5\"   # stops\n    - M9\n    - M30   # ends\n    - '%'\n  m: 1\n"},
           {block, {"a", "l"}, {"G4", "M5", "M30", "%"}, "a:\n  l:\n    - G4\n    - \"M5\"   # stops\n    - M30   # ends\n    - '%'\n  m: 1\n"},
           {block, {"a", "l"}, {"M30", "%"}, "a:\n  l:\n    - M30   # ends\n    - '%'\n  m: 1\n"},
           {block, {"a", "l"}, {"M4", "M5", "M30", "(end)"}, "a:\n  l:\n    - M4\n    - \"M5\"   # stops\n    - M30   # ends\n    - '(end)'\n  m: 1\n"},
           {block, {"a", "l"}, {"M30", "M2"}, "a:\n  l:\n    - M30   # ends\n    - 'M2'\n  m: 1\n"},
           {block, {"a", "l"}, {"M5", "M2", "%"}, "a:\n  l:\n    - \"M5\"   # stops\n    - M2   # ends\n    - '%'\n  m: 1\n"},
           {block, {"a", "l"}, {"(so: {n})"}, "a:\n  l:\n    - '(so: {n})'   # stops\n  m: 1\n"},
           {block, {"a", "l"}, {}, "a:\n  m: 1\n"},
           {"a: 1\nl: [ 'x, y', z ]   # two\n", {"l"}, {"x, y", "w", "z"}, "a: 1\nl: [ 'x, y', w, z ]   # two\n"},
           {"a: 1\nl: [x, y]   # two\n", {"l"}, {"v", "x", "y"}, "a: 1\nl: [v, x, y]   # two\n"},
           {"a: 1\nl: [x, y]   # two\n", {"l"}, {"y"}, "a: 1\nl: [y]   # two\n"},
           {"a: 1\nl: [x, y]   # two\n", {"l"}, {"x"}, "a: 1\nl: [x]   # two\n"},
           {"a: 1\nl: [x, y]   # two\nb: 2\n", {"l"}, {}, "a: 1\nb: 2\n"},
           {"t: {x: [1, 2], y: [3, 4], z: 5}   # far\n", {"t", "y"}, {}, "t: {x: [1, 2], z: 5}   # far\n"},
           {"t: {y: [3, 4], z: 5}\n", {"t", "y"}, {}, "t: {z: 5}\n"},
           {"t: {x: [1 mm, 2 mm]}\n", {"t", "y"}, {"-3 mm", "3 mm"}, "t: {y: [-3 mm, 3 mm], x: [1 mm, 2 mm]}\n"},
           {"a: 1   # one\n", {"l"}, {"G92 {r}", "M1"}, "a: 1   # one\nl: ['G92 {r}', M1]\n"},
           {"a: 1\nl: [G92]\n", {"none"}, {}, "a: 1\nl: [G92]\n"},
           {"l:\n  - one\n    two\n  - x\n", {"l"}, {"y"}, "l:\n  - y\n"},
           {"l: [x,\n  y]\nb: 1\n", {"l"}, {"y", "z"}, "l: [\n  y, z]\nb: 1\n"},
           {"a: 1\r\nl: [x]\r\n", {"l"}, {"x", "y"}, "a: 1\r\nl: [x, y]\r\n"},
       })
    EXPECT_EQ(text_or_id(with_list(row.before, "f.yaml", row.path, row.items)), row.after) << row.before;
}

TEST(Paths, AListThatIsNoItemALineIsLeftToAnEditor) {
  for (const std::string before : {"l: 1\nb: 2\n", "l: []\nb: 2\n", "l: {x: 1}\n", "l:\n  - {x: 1}\n", "l:\n  - |\n    one\n  - x\n"})
    EXPECT_EQ(text_or_id(with_list(before, "f.yaml", {"l"}, {"y"})), "yaml.cannot-list") << before;
  EXPECT_EQ(text_or_id(with_list("l: [x]\n", "f.yaml", {"l"}, {})), "yaml.cannot-list");  // nothing would be left of the file
  EXPECT_EQ(text_or_id(with_list("l: [\n", "f.yaml", {"l"}, {"y"})), "yaml.syntax");
}

}  // namespace
}  // namespace pommel::yaml
