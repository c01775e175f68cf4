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

}  // namespace
}  // namespace pommel::yaml
