// Files written for an older version of their family are brought up to date as text; newer ones are refused.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "designs/designs.h"
#include "yaml/document.h"

namespace pommel::designs {
namespace {

using testing::HasSubstr;

const char* const kFamily = R"(family: table leg
version: 3
renamed:
  2: {leg_square: side, foot: toe}
  3: {side: square, toe: foot_diameter}
)";

Versions versions() {
  Sink sink;
  Versions out = versions_of(kFamily, "table-leg.yaml", sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  return out;
}

TEST(Versions, RenamedTwiceIsOneStep) {
  EXPECT_EQ(versions().names_since(1), (std::map<std::string, std::string>{{"foot", "foot_diameter"}, {"leg_square", "square"}}));
  EXPECT_EQ(versions().names_since(2), (std::map<std::string, std::string>{{"side", "square"}, {"toe", "foot_diameter"}}));
  EXPECT_TRUE(versions().names_since(3).empty());
}

TEST(WithNames, ReplacesWholeWordsOutsideQuotes) {
  const std::map<std::string, std::string> names{{"foot", "toe"}, {"d", "depth"}};
  EXPECT_EQ(with_names("= foot * 0.5 + foot_ring - (foot)", names), "= toe * 0.5 + foot_ring - (toe)");
  EXPECT_EQ(with_names("= 28 1/4\" + foot", names), "= 28 1/4\" + toe");
  EXPECT_EQ(with_names("= if(cut == \"foot\", d, 2d)", names), "= if(cut == \"foot\", depth, 2d)");
}

const char* const kOld = R"(# drawn by grandfather
design: old leg
family: table-leg

sheet:
  leg_square: 60 mm      # as thick as the plank gave
  foot: = leg_square / 2

outline:
  - square: {length: = head_length}
  - taper:  {share: 1, end: = foot}   # to the toe
checks:
  - {that: leg_square >= 40 mm, otherwise: "leg_square is thin"}
)";

TEST(UpToDate, KeepsCommentsAndLayoutAndSaysWhatWasRenamed) {
  Sink sink;
  const auto now = up_to_date(kOld, "old.yaml", versions(), sink);
  ASSERT_TRUE(now);
  EXPECT_TRUE(now->changed);
  EXPECT_EQ(now->text, R"(# drawn by grandfather
design: old leg
family: table-leg

sheet:
  square: 60 mm      # as thick as the plank gave
  foot_diameter: = square / 2

outline:
  - square: {length: = head_length}
  - taper:  {share: 1, end: = foot_diameter}   # to the toe
checks:
  - {that: square >= 40 mm, otherwise: "leg_square is thin"}
)");
  ASSERT_EQ(sink.all().size(), 1u);
  EXPECT_FALSE(sink.has_errors());
  EXPECT_EQ(sink.all().front().id, "designs.older");
  EXPECT_THAT(sink.all().front().message, HasSubstr("'foot' is 'foot_diameter' and 'leg_square' is 'square'"));
}

TEST(UpToDate, LeavesAFileOfThisVersionAsItIs) {
  Sink sink;
  const std::string text = std::string(kOld) + "written_for: 3\n";
  const auto now = up_to_date(text, "new.yaml", versions(), sink);
  ASSERT_TRUE(now);
  EXPECT_FALSE(now->changed);
  EXPECT_EQ(now->text, text);
  EXPECT_TRUE(sink.all().empty());
}

// Two measures that change their names with one another.
TEST(UpToDate, SwapsNames) {
  Sink sink;
  const Versions swapped = versions_of("family: leg\nversion: 2\nrenamed:\n  2: {a: b, b: a}\n", "leg.yaml", sink);
  const auto now = up_to_date("design: x\nfamily: leg\nsheet:\n  a: 1 mm\n  b: = a + 2 mm\n", "x.yaml", swapped, sink);
  ASSERT_TRUE(now);
  EXPECT_EQ(now->text, "design: x\nfamily: leg\nsheet:\n  b: 1 mm\n  a: = b + 2 mm\n");
}

TEST(UpToDate, RefusesANewerFileWithTheReason) {
  Sink sink;
  EXPECT_FALSE(up_to_date("design: x\nfamily: leg\nwritten_for: 4\n", "x.yaml", versions(), sink));
  EXPECT_THAT(render(sink.all()), HasSubstr("x.yaml:3:14: error: this was written for version 4 of the family 'table leg', here is version 3"));
}

TEST(Versions, ARenamingBeyondTheFamilysOwnVersionIsRefused) {
  Sink sink;
  versions_of("family: leg\nversion: 2\nrenamed:\n  3: {a: b}\n  1: {c: d}\n", "leg.yaml", sink);
  EXPECT_EQ(sink.all().size(), 2u);
  EXPECT_EQ(sink.all().front().id, "designs.renamed");
}

TEST(SaysWrittenFor, PutsALineBelowTheFamilyOrChangesTheNumber) {
  EXPECT_EQ(says_written_for("design: x  # mine\nfamily: leg   # of a table\nsheet:\n", 3), "design: x  # mine\nfamily: leg   # of a table\nwritten_for: 3\nsheet:\n");
  EXPECT_EQ(says_written_for("design: x\nfamily: leg\nwritten_for: 1  # once\n", 3), "design: x\nfamily: leg\nwritten_for: 3  # once\n");
  EXPECT_EQ(says_written_for("order: o\ndesign: x\nnumber: 1\n", 2), "order: o\ndesign: x\nwritten_for: 2\nnumber: 1\n");
}

TEST(UpdateFile, WritesTheFileBackWithItsComments) {
  MemoryFiles files;
  for (const char* folder : {"catalog/designs", "templates"}) ASSERT_TRUE(files.make_folder(folder).ok());
  ASSERT_TRUE(files.write("templates/table-leg.yaml", kFamily).ok());
  ASSERT_TRUE(files.write("catalog/designs/old.yaml", kOld).ok());
  const House house{"catalog", "templates"};
  // the family of this test has no measures: nothing is written while a file has problems
  EXPECT_FALSE(update_file(files, house, "catalog/designs/old.yaml").ok());
  EXPECT_EQ(*files.read("catalog/designs/old.yaml"), kOld);
}

// The house's own table leg, were its square renamed.
TEST(UpdateFile, WritesForTheHousesFamilyOnceAndThenLeavesItAlone) {
  MemoryFiles files;
  for (const char* folder : {"catalog/designs", "catalog/orders", "templates"}) ASSERT_TRUE(files.make_folder(folder).ok());
  const auto family = real_files()->read(std::filesystem::path(POMMEL_SOURCE_DIR) / "templates/table-leg.yaml");
  ASSERT_TRUE(family.ok());
  ASSERT_TRUE(files.write("templates/table-leg.yaml", *family + "\nversion: 2\nrenamed:\n  2: {leg_square: square}\n").ok());
  ASSERT_TRUE(files.write("catalog/designs/old.yaml", "# mine\ndesign: old leg\nfamily: table-leg\nsheet:\n  leg_square: 60 mm   # of the plank\n").ok());
  ASSERT_TRUE(files.write("catalog/orders/one.yaml", "order: one\nnumber: \"1\"\ndesign: old\nmachine: m\ncutter: c\nsheet:\n  leg_square: 58 mm  # thinner\n").ok());
  const House house{"catalog", "templates"};
  const auto done = update_file(files, house, "catalog/designs/old.yaml");
  ASSERT_TRUE(done.ok()) << render(done.reasons());
  EXPECT_EQ(*files.read("catalog/designs/old.yaml"), "# mine\ndesign: old leg\nfamily: table-leg\nwritten_for: 2\nsheet:\n  square: 60 mm   # of the plank\n");
  EXPECT_THAT(*update_file(files, house, "catalog/designs/old.yaml"), HasSubstr("is up to date"));
  ASSERT_TRUE(update_file(files, house, "catalog/orders/one.yaml").ok());
  EXPECT_EQ(*files.read("catalog/orders/one.yaml"), "order: one\nnumber: \"1\"\ndesign: old\nwritten_for: 2\nmachine: m\ncutter: c\nsheet:\n  square: 58 mm  # thinner\n");
}

}  // namespace
}  // namespace pommel::designs
