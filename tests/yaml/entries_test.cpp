#include "yaml/entries.h"

#include <gtest/gtest.h>

namespace pommel::yaml {
namespace {

std::string text_or_id(const Result<std::string>& made) { return made.ok() ? *made : made.reasons().front().id; }

TEST(Entries, AreAddedAsTheLastAndKeepEveryOtherByte) {
  struct Row {
    const char *before, *after;
  };
  for (const Row& row : {
           Row{"a: 1\nsheet:\n  x: 1 mm   # wide\n\n# end\nb: 2\n", "a: 1\nsheet:\n  x: 1 mm   # wide\n  h: 31 1/4 in\n\n# end\nb: 2\n"},
           {"sheet:\n    x: 1", "sheet:\n    x: 1\n    h: 31 1/4 in"},
           {"a: 1\n", "a: 1\nsheet:\n  h: 31 1/4 in\n"},
           {"a: 1\nsheet:\nb: 2\n", "a: 1\nsheet:\n  h: 31 1/4 in\nb: 2\n"},
           {"sheet: {}  # none\nb: 2\n", "sheet:  # none\n  h: 31 1/4 in\nb: 2\n"},
           {"sheet:\n  {}\nb: 2\n", "sheet:\n  h: 31 1/4 in\nb: 2\n"},
           // not line by line
           {"sheet: {x: 1}\n", "yaml.cannot-add"},
           {"sheet:\n  h: 1\n", "yaml.cannot-add"},
           {"sheet:\n  x: [1, 2]\n", "yaml.cannot-add"},
           {"sheet:\n  x: one\n    two\n", "yaml.cannot-add"},
           {"- sheet\n", "yaml.cannot-add"},
           {"sheet: 5\n", "yaml.cannot-add"},
           {"sheet: [\n", "yaml.syntax"},
       })
    EXPECT_EQ(text_or_id(with_entry(row.before, "f.yaml", "sheet", "h", "31 1/4 in")), row.after) << row.before;
}

TEST(Entries, AreTakenOutWithTheirLine) {
  struct Row {
    const char *before, *after;
  };
  for (const Row& row : {
           Row{"a: 1\nsheet:\n  x: 1  # wide\n  h: 2  # high\n  y: 3\nb: 2\n", "a: 1\nsheet:\n  x: 1  # wide\n  y: 3\nb: 2\n"},
           {"sheet:\n  h: '2'\nb: 2\n", "sheet:\n  {}\nb: 2\n"},
           {"sheet:\n  x: 1\n  h:\n", "sheet:\n  x: 1\n"},
           {"sheet:\n  x: 1\n", "yaml.cannot-remove"},
           {"sheet: {h: 1, x: 2}\n", "yaml.cannot-remove"},
           {"sheet:\n  h: one\n    two\n  x: 1\n", "yaml.cannot-remove"},
           {"sheet:\n  h: [1]\n", "yaml.cannot-remove"},
           {"a: 1\n", "yaml.cannot-remove"},
       })
    EXPECT_EQ(text_or_id(without_entry(row.before, "f.yaml", "sheet", "h")), row.after) << row.before;
}

TEST(Entries, AddedThenTakenOutIsTheFileAsItWas) {
  const std::string before = "# an order\nsheet:\n  x: 1 mm   # wide\n\nb: 2\n";
  for (const char* value : {"2 mm", "= x + 3 mm", "a: b", "", "'", "null", "max(a, b)"}) {
    const auto with = with_entry(before, "f.yaml", "sheet", "h", value);
    ASSERT_TRUE(with.ok()) << value;
    EXPECT_EQ(text_or_id(without_entry(*with, "f.yaml", "sheet", "h")), before) << value;
  }
}

TEST(Entries, LinesOfTheDocumentItself) {
  const std::string before = "# an order\norder: a   # which\nlist:\n  - {x: 1}\n  # of old\n  - {x: 2}\n\n# what is wanted\nsheet:\n  h: 1\n";
  EXPECT_EQ(text_or_id(with_line(before, "f.yaml", "order", "client", "B")), "# an order\norder: a   # which\nclient: B\nlist:\n  - {x: 1}\n  # of old\n  - {x: 2}\n\n# what is wanted\nsheet:\n  h: 1\n");
  EXPECT_EQ(text_or_id(with_line(before, "f.yaml", "none", "client", "{a: 1}")), before + "client: {a: 1}\n");
  EXPECT_EQ(text_or_id(with_line(before, "f.yaml", "order", "sheet", "B")), "yaml.cannot-add");  // it is there already
  EXPECT_EQ(text_or_id(with_line(before, "f.yaml", "order", "client", "[")), "yaml.cannot-add");
  EXPECT_EQ(text_or_id(with_line(before, "f.yaml", "order", "client", "B\ndate: C")), "yaml.cannot-add");
  EXPECT_EQ(text_or_id(without_key(before, "f.yaml", "list")), "# an order\norder: a   # which\n\n# what is wanted\nsheet:\n  h: 1\n");
  EXPECT_EQ(text_or_id(without_key(before, "f.yaml", "client")), "yaml.cannot-remove");
  EXPECT_EQ(text_or_id(without_key("{order: a, client: b}\n", "f.yaml", "client")), "yaml.cannot-remove");
  EXPECT_EQ(text_or_id(with_item(before, "f.yaml", "list", 2, "{x: 3}")), "# an order\norder: a   # which\nlist:\n  - {x: 1}\n  # of old\n  - {x: 2}\n  - {x: 3}\n\n# what is wanted\nsheet:\n  h: 1\n");
  EXPECT_EQ(text_or_id(with_item(before, "f.yaml", "sheet", 0, "{x: 3}")), "yaml.cannot-add");
  EXPECT_EQ(text_or_id(with_item("list: [1, 2]\n", "f.yaml", "list", 0, "3")), "yaml.cannot-add");
}

TEST(Entries, AreTakenOverAsAnotherTextHasThem) {
  const std::string list = "list:   # of ours\n  - {x: 1}\n  # of old\n  - {x: 2}\n";
  struct Row {
    std::string before, other, after;
  };
  for (const Row& row : {
           Row{"a: 1\nlist: [3]\n\n# end\nb: 2\n", "z: 9\n" + list + "y: 8\n", "a: 1\n" + list + "\n# end\nb: 2\n"},
           {"a: 1\nb: 2\n", list, "a: 1\n" + list + "b: 2\n"},
           {"b: 2", list, "b: 2\n" + list},
           {"a: 1\n" + list + "b: 2\n", "a: 5\n", "a: 1\nb: 2\n"},
           {"a: 1\n", "b: 2\n", "a: 1\n"},
           {"a: 1\n", "{b: 2, list: 5}\n", "yaml.cannot-add"},
           {"{a: 1, list: 4}\n", list, "yaml.cannot-add"},
           {"{a: 1, list: 4}\n", "b: 2\n", "yaml.cannot-remove"},
           {"- a\n", list, "yaml.cannot-add"},
           {"a: [\n", list, "yaml.syntax"},
       })
    EXPECT_EQ(text_or_id(with_key_as_in(row.before, row.other, "f.yaml", "a", "list")), row.after) << row.before;
}

TEST(Entries, ItemsOfAList) {
  const std::string before = "outline:\n  - bead: {length: 1}   # small\n  # the long one\n  - vase:\n      length: 2\n  - cove: {length: 3}\nb: 2\n";
  EXPECT_EQ(text_or_id(with_item(before, "f.yaml", "outline", 1, "vee: {length: 9}")),
            "outline:\n  - bead: {length: 1}   # small\n  # the long one\n  - vee: {length: 9}\n  - vase:\n      length: 2\n  - cove: {length: 3}\nb: 2\n");
  EXPECT_EQ(text_or_id(without_item(before, "f.yaml", "outline", 1)), "outline:\n  - bead: {length: 1}   # small\n  # the long one\n  - cove: {length: 3}\nb: 2\n");
  EXPECT_EQ(text_or_id(with_items_swapped(before, "f.yaml", "outline", 1)), "outline:\n  - bead: {length: 1}   # small\n  # the long one\n  - cove: {length: 3}\n  - vase:\n      length: 2\nb: 2\n");
  EXPECT_EQ(text_or_id(with_items_swapped(*with_items_swapped(before, "f.yaml", "outline", 0), "f.yaml", "outline", 0)), before);
  EXPECT_EQ(text_or_id(with_item(before, "f.yaml", "outline", 4, "x: 1")), "yaml.cannot-add");
  EXPECT_EQ(text_or_id(with_item(before, "f.yaml", "outline", 0, "x: 1\nc: 3")), "yaml.cannot-add");
  EXPECT_EQ(text_or_id(without_item("outline:\n  - a\n", "f.yaml", "outline", 0)), "yaml.cannot-remove");
  EXPECT_EQ(text_or_id(without_item("outline: [a, b]\n", "f.yaml", "outline", 0)), "yaml.cannot-remove");
}

TEST(Entries, CommentsBehindThem) {
  const std::string before = "sheet:\n  h: 31 1/4 in   # as she stands\n  x: 'a # b'\n  y: [1]\n  z:\n";
  EXPECT_EQ(comment_of(before, "f.yaml", "sheet", "h"), "as she stands");
  EXPECT_EQ(comment_of(before, "f.yaml", "sheet", "x"), "");
  EXPECT_EQ(text_or_id(with_comment(before, "f.yaml", "sheet", "h", "other: words #1")), "sheet:\n  h: 31 1/4 in   # other: words #1\n  x: 'a # b'\n  y: [1]\n  z:\n");
  EXPECT_EQ(text_or_id(with_comment(before, "f.yaml", "sheet", "h", "")), "sheet:\n  h: 31 1/4 in\n  x: 'a # b'\n  y: [1]\n  z:\n");
  EXPECT_EQ(comment_of(*with_comment(before, "f.yaml", "sheet", "x", "c"), "f.yaml", "sheet", "x"), "c");
  for (const char* key : {"y", "z", "none"}) EXPECT_EQ(text_or_id(with_comment(before, "f.yaml", "sheet", key, "c")), "yaml.cannot-comment") << key;
  EXPECT_EQ(text_or_id(with_comment(before, "f.yaml", "sheet", "h", "a\nb: 1")), "yaml.cannot-comment");
}

}  // namespace
}  // namespace pommel::yaml
