// The house's own catalog answers questions by measure, and what it says of its designs holds.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/text.h"
#include "job/catalog.h"
#include "whole/house.h"

namespace pommel::whole {
namespace {

using testing::HasSubstr;

designs::House repository() { return {std::filesystem::path(POMMEL_SOURCE_DIR) / "catalog", std::filesystem::path(POMMEL_SOURCE_DIR) / "templates"}; }

class CatalogQuestions : public testing::Test {
 protected:
  std::unique_ptr<FileSystem> files = real_files();
  job::CatalogTrials trials = *job::CatalogTrials::open(*files, repository());
};

TEST_F(CatalogQuestions, EveryDesignSaysItsIdTagsRevisionsAndVersion) {
  Sink sink;
  const auto cards = designs::cards(*files, repository(), sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  EXPECT_GE(cards.size(), 12u);
  EXPECT_TRUE(designs::shared_ids(cards).empty());
  for (const designs::Card& card : cards) {
    EXPECT_FALSE(card.tags.empty()) << card.file;
    ASSERT_FALSE(card.revisions.empty()) << card.file;
    EXPECT_EQ(card.revisions.back().number, card.revision) << card.file;
    EXPECT_FALSE(card.proven.empty()) << card.file;
    EXPECT_THAT(repository_text("catalog/designs/" + card.file + ".yaml"), HasSubstr("\nwritten_for: ")) << card.file;
    if (card.revision > 1) {
      EXPECT_TRUE(designs::design_file(*files, repository(), card.file + "@" + std::to_string(card.revision - 1))) << card.file;
    }
  }
}

// A few milliseconds a design.
TEST_F(CatalogQuestions, EveryDesignIsMadeAtBothEndsOfItsProvenRange) {
  Sink sink;
  for (const designs::Card& card : designs::cards(*files, repository(), sink)) {
    for (const designs::Proven& range : card.proven)
      for (const std::string& end : {range.least, range.greatest}) {
        const job::Trial trial = trials.run(card.file, entries({{range.measure, end}}));
        EXPECT_TRUE(trial.does()) << card.file << " at " << range.measure << " " << end << "\n" << render(trial.problems);
        for (const Diagnostic& warning : trial.warnings) EXPECT_NE(warning.id, "job.beyond-proven") << card.file << " " << warning.message;
      }
  }
}

TEST_F(CatalogQuestions, BeyondTheProvenRangeIsSaid) {
  const job::Trial trial = trials.run("farmhouse-vase", entries({{"table_height", "1000 mm"}}));
  ASSERT_TRUE(trial.does()) << render(trial.problems);
  EXPECT_THAT(render(trial.warnings), HasSubstr("table_height is 1000 mm: the design is proven from"));
}

// "Which of our legs would do for a 36 in table out of 8/4?": 52 mm of board give a square of 46, so those with a thicker one need another.
TEST_F(CatalogQuestions, ALegThatIsTooThickForTheStockIsTriedThinner) {
  const job::Trial trial = trials.run("spade-foot", entries({{"table_height", "36 in"}, {"stock", "cherry-8/4-rough"}}));
  EXPECT_FALSE(trial.does());
  EXPECT_EQ(trial.problems.front().id, "stock.needs-glue-up");
  EXPECT_EQ(trial.would_do, "square=46 mm");
  ASSERT_TRUE(trial.made);
  EXPECT_EQ(trial.made->made.pieces.front().wanted.square, 46);
  const job::Trial asked = trials.run("spade-foot", entries({{"stock", "cherry-8/4-rough"}, {"square", "54 mm"}}));
  EXPECT_EQ(asked.would_do, "") << "a square that was asked for is not changed";
}

TEST_F(CatalogQuestions, ConditionsAreReadAndHeld) {
  const job::Trial trial = trials.run("farmhouse-vase", {});
  struct Row {
    const char* condition;
    bool holds;
  };
  for (const Row& row : {Row{"square = 64 mm", true}, Row{"square < 64 mm", false}, Row{"square <= 2 17/32 in", true}, Row{"thinnest_diameter >= 28 mm", false}, Row{"slenderness>20", true},
                         Row{"stock = cherry-12/4-rough", true}, Row{"glue_up = yes", false}}) {
    const auto condition = job::read_condition(row.condition);
    ASSERT_TRUE(condition.ok()) << row.condition;
    const auto held = job::holds(*condition, trial);
    ASSERT_TRUE(held.ok() && held->has_value()) << row.condition;
    EXPECT_EQ(**held, row.holds) << row.condition;
  }
  EXPECT_FALSE(job::holds(*job::read_condition("going > 200 mm"), trial)->has_value()) << "a table has no going";
  for (const char* wrong : {"square > 3", "square > soon", "stock > cherry", "glue_up = maybe"}) EXPECT_FALSE(job::holds(*job::read_condition(wrong), trial).ok()) << wrong;
  for (const char* none : {"square", "= 4 mm", "square >", ""}) EXPECT_FALSE(job::read_condition(none).ok()) << none;
}

TEST_F(CatalogQuestions, RevisionsAreComparedInMeasuresAndInWhatFollows) {
  const job::Trial before = trials.run("farmhouse-vase@1", {}), now = trials.run("farmhouse-vase", {});
  ASSERT_TRUE(before.does()) << render(before.problems);
  ASSERT_TRUE(now.does()) << render(now.problems);
  const std::string text = job::compared(before, "revision 1", now, "revision 2");
  EXPECT_THAT(text, HasSubstr("thinnest_diameter"));
  EXPECT_THAT(text, HasSubstr("the outline differs, and with it"));
  EXPECT_GT(now.made->thinnest_diameter, before.made->thinnest_diameter);
  EXPECT_EQ(job::compared(now, "a", now, "b").find("no measure differs"), 2u);
}

// An order written before the family's square was renamed: read as it was meant, in the house's own family.
TEST(OlderFiles, AnOrderAndItsDesignAreReadUnderTheNamesOfToday) {
  House house;
  house.put("templates/table-leg.yaml", repository_text("templates/table-leg.yaml") + "\nversion: 2\nrenamed:\n  2: {leg_square: square}\n");
  house.put("catalog/designs/old.yaml", "design: old\nfamily: table-leg\nsheet:\n  leg_square: 60 mm\n");
  house.put("catalog/orders/old.yaml", "order: old\nnumber: \"1\"\ndesign: old\nmachine: rotary-degrees\ncutter: ball-8\nsheet:\n  leg_square: 57 mm\n");
  const job::Loaded loaded = house.load("catalog/orders/old.yaml");
  ASSERT_EQ(loaded.notes.size(), 2u);
  EXPECT_EQ(loaded.notes.front().id, "designs.older");
  ASSERT_EQ(loaded.order->entries.size(), 1u);
  EXPECT_EQ(loaded.order->entries.front().first, "square");
  EXPECT_EQ(loaded.design.entries.front().first, "square");
  house.put("catalog/orders/new.yaml", "order: new\nnumber: \"1\"\ndesign: old\nmachine: rotary-degrees\ncutter: ball-8\nwritten_for: 3\n");
  Sink sink;
  EXPECT_FALSE(house.load("catalog/orders/new.yaml", sink));
  EXPECT_THAT(render(sink.all()), HasSubstr("catalog/orders/new.yaml:6:14: error: this was written for version 3 of the family"));
}

}  // namespace
}  // namespace pommel::whole
