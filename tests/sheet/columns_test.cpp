// Columns, limits, recalculation and why.
#include <algorithm>

#include "sheet/support.h"

namespace pommel::sheet {
namespace {

/// A leg: the height and the top give the leg's length; the pommel's place follows from the rail.
Sheet leg() {
  Sheet sheet("family");
  sheet.add_column("bar");
  sheet.add_column("child");
  Parameter height = row("height", "750 mm");
  height.least = entry("400 mm");
  height.most = entry("= 60 cm * 2");
  height.group = "table";
  height.note = "floor to the upper face of the top";
  sheet.add(height);
  sheet.add(row("top", "22 mm"));
  sheet.add(row("leg_length", "= height - top"));
  sheet.add(row("rail", "90 mm"));
  sheet.add(row("head", "= round_up(rail + 12 mm, 5 mm)"));
  sheet.add(row("turned", "= leg_length - head"));
  sheet.add(Use{"outline/0/length", Kind::length(), entry("= head")});
  sheet.add(Use{"outline/1/length", {}, entry("= turned / 3")});
  EXPECT_TRUE(sheet.set_entry("height", 1, entry("1050 mm")).ok());
  EXPECT_TRUE(sheet.set_entry("height", 2, entry("= 3/4 * 60 cm")).ok());
  sheet.settle();
  return sheet;
}

Recomputed again(std::string name, std::size_t column, std::string because, bool changed,
                 RowType type = RowType::parameter) {
  Recomputed told;
  told.cell.type = type;
  told.cell.name = std::move(name);
  told.cell.column = column;
  told.because = std::move(because);
  told.changed = changed;
  return told;
}

TEST(Columns, InheritFromTheFirst) {
  Sheet sheet = leg();
  EXPECT_TRUE(sheet.diagnostics().empty()) << render(sheet.diagnostics());
  EXPECT_EQ(number(sheet, "leg_length", 0), 728);
  EXPECT_EQ(number(sheet, "leg_length", 1), 1028);
  EXPECT_EQ(number(sheet, "leg_length", 2), 428);
  EXPECT_FALSE(sheet.cell("leg_length", 1)->own);
  EXPECT_TRUE(sheet.cell("height", 1)->own);
  EXPECT_EQ(sheet.cell("leg_length", 1)->entry->text, "= height - top");

  // a formula of a column's own, then inherited again
  ASSERT_TRUE(sheet.set_entry("leg_length", 1, entry("= height - top - 1 in")).ok());
  EXPECT_EQ(number(sheet, "leg_length", 1), 1028 - 25.4);
  EXPECT_EQ(number(sheet, "leg_length", 2), 428);
  ASSERT_TRUE(sheet.clear_entry("leg_length", 1).ok());
  EXPECT_EQ(number(sheet, "leg_length", 1), 1028);
  EXPECT_FALSE(sheet.broken_invariant().has_value());
}

TEST(Columns, AnEditRecomputesOnlyWhatItReaches) {
  Sheet sheet = leg();
  std::vector<Recomputed> why;
  sheet.record_into(&why);
  const auto changed = sheet.set_entry("height", 1, entry("1100 mm"));
  ASSERT_TRUE(changed.ok());
  const Changes expected = {{RowType::parameter, "height", 1},
                            {RowType::parameter, "leg_length", 1},
                            {RowType::parameter, "turned", 1},
                            {RowType::use, "outline/1/length", 1}};
  EXPECT_EQ(*changed, expected);
  const std::vector<Recomputed> told = {again("height", 1, "its own entry", true),
                                        again("leg_length", 1, "height", true), again("turned", 1, "leg_length", true),
                                        again("outline/1/length", 1, "turned", true, RowType::use)};
  EXPECT_EQ(why, told);
}

/// 91 mm of rail rounds up to the same head as 90 mm: the wave stops there.
TEST(Columns, AWaveStopsAtUnchangedValues) {
  Sheet sheet = leg();
  std::vector<Recomputed> why;
  sheet.record_into(&why);
  const auto changed = sheet.set_entry("rail", 0, entry("91 mm"));
  ASSERT_TRUE(changed.ok());
  EXPECT_EQ(names(*changed), (std::vector<std::string>{"rail", "rail", "rail"}));
  ASSERT_EQ(why.size(), 6u);
  for (std::size_t column = 0; column < 3; ++column) {
    EXPECT_EQ(why[2 * column].cell, (Change{RowType::parameter, "rail", column}));
    EXPECT_EQ(why[2 * column + 1], again("head", column, "rail", false));
  }
  why.clear();
  ASSERT_TRUE(sheet.set_entry("rail", 0, entry("91.0 mm")).ok());
  EXPECT_EQ(why.size(), 3u);  // the rail alone, in each column, unchanged
  sheet.record_into(nullptr);
  ASSERT_TRUE(sheet.set_entry("rail", 0, entry("95 mm")).ok());
  EXPECT_EQ(why.size(), 3u);
  EXPECT_EQ(number(sheet, "head"), 110);
}

TEST(Columns, AnEditOfTheFirstReachesOnlyThoseThatInherit) {
  Sheet sheet = leg();
  ASSERT_TRUE(sheet.set_entry("rail", 2, entry("60 mm")).ok());
  const auto changed = sheet.set_entry("rail", 0, entry("200 mm"));
  ASSERT_TRUE(changed.ok());
  EXPECT_TRUE(std::none_of(changed->begin(), changed->end(), [](const Change& one) { return one.column == 2; }));
  EXPECT_EQ(number(sheet, "head", 0), 215);
  EXPECT_EQ(number(sheet, "head", 1), 215);
  EXPECT_EQ(number(sheet, "head", 2), 75);
}

TEST(Columns, ACopyIsIndependent) {
  Sheet sheet = leg();
  std::vector<Recomputed> why;
  sheet.record_into(&why);
  Sheet copy = sheet;
  ASSERT_TRUE(copy.set_entry("height", 0, entry("800 mm")).ok());
  EXPECT_TRUE(why.empty());
  EXPECT_EQ(number(copy, "leg_length"), 778);
  EXPECT_EQ(number(sheet, "leg_length"), 728);
  ASSERT_TRUE(sheet.set_entry("height", 0, entry("810 mm")).ok());
  EXPECT_EQ(number(copy, "leg_length"), 778);
  copy = sheet;
  EXPECT_EQ(number(copy, "leg_length"), 788);
  Sheet moved = std::move(copy);
  EXPECT_EQ(number(moved, "leg_length"), 788);
  EXPECT_FALSE(moved.broken_invariant().has_value());
}

TEST(Columns, LimitsAreHeldInEveryColumn) {
  Sheet sheet = leg();
  Parameter made = *sheet.parameter("height");
  EXPECT_EQ(made.entry->text, "750 mm");
  ASSERT_TRUE(sheet.set_entry("height", 0, entry("1300 mm")).ok());
  ASSERT_TRUE(sheet.set_entry("height", 1, in_file("350 mm", 4, 11, "  height: 350 mm")).ok());
  EXPECT_EQ(
      render(sheet.diagnostics()),
      "error: 'height' is 1300 mm, more than its most, 1200 mm [sheet.outside-limits]\n"
      "      | 1300 mm\n"
      "      | ^~~~~~~\n"
      "   do: choose between 400 mm and 1200 mm\n"
      "leg.yaml:4:11: error: 'height' is 350 mm, less than its least, 400 mm (in column 'bar') [sheet.outside-limits]\n"
      "    4 |   height: 350 mm\n"
      "      |           ^~~~~~\n"
      "   do: choose between 400 mm and 1200 mm\n");
  EXPECT_FALSE(sheet.sound(0));
  EXPECT_FALSE(sheet.sound(1));
  EXPECT_TRUE(sheet.sound(2));
  // a value outside its limits is still a value: the rest of the sheet can be read
  EXPECT_EQ(number(sheet, "leg_length", 0), 1278);
  const Cell cell = *sheet.cell("height", 0);
  EXPECT_EQ(cell.state, CellState::ok);
  EXPECT_EQ(*cell.least, Value::length(400));
  EXPECT_EQ(*cell.most, Value::length(1200));
  ASSERT_TRUE(sheet.set_entry("height", 0, entry("1200 mm")).ok());  // the limit itself is allowed
  EXPECT_TRUE(sheet.sound(0));
}

TEST(Columns, LimitsMayFollowOtherRows) {
  Sheet sheet("family");
  sheet.add(row("square", "60 mm"));
  Parameter foot = row("foot", "40 mm");
  foot.least = entry("20 mm");
  foot.most = entry("= square - 10 mm");
  sheet.add(foot);
  sheet.settle();
  EXPECT_TRUE(sheet.sound(0));
  const auto changed = sheet.set_entry("square", 0, entry("45 mm"));
  EXPECT_EQ(*changed, (Changes{{RowType::parameter, "square", 0}, {RowType::most, "foot", 0}}));
  EXPECT_EQ(ids(sheet.diagnostics()), std::vector<std::string>{"sheet.outside-limits"});
  ASSERT_TRUE(sheet.set_entry("square", 0, entry("25 mm")).ok());
  EXPECT_EQ(ids(sheet.diagnostics()), std::vector<std::string>{"sheet.crossed-limits"});
  EXPECT_EQ(sheet.diagnostics()[0].message, "the least 'foot', 20 mm, is more than the most, 15 mm");
}

/// An inherited entry that goes wrong in several columns is told once; one that goes wrong in a later column only names
/// it.
TEST(Columns, InheritedProblemsAreToldOnce) {
  Sheet sheet("family");
  for (const std::string name : {"second", "third", "fourth"}) sheet.add_column(name);
  sheet.add(row("gap", "0 mm"));
  sheet.add(row("balusters", "= 2 m / gap"));
  ASSERT_TRUE(sheet.set_entry("gap", 2, entry("100 mm")).ok());
  sheet.settle();
  EXPECT_EQ(ids(sheet.diagnostics()), std::vector<std::string>{"sheet.divided-by-zero"});
  EXPECT_EQ(sheet.diagnostics()[0].message, "'2 m / gap' divides by 0");
  EXPECT_EQ(sheet.diagnostics(1)[0].message, "'2 m / gap' divides by 0 (in column 'second')");
  EXPECT_TRUE(sheet.sound(2));
  ASSERT_TRUE(sheet.set_entry("gap", 0, entry("50 mm")).ok());
  EXPECT_TRUE(sheet.diagnostics().empty());
  ASSERT_TRUE(sheet.set_entry("gap", 3, entry("0 mm")).ok());
  EXPECT_EQ(sheet.diagnostics()[0].message, "'2 m / gap' divides by 0 (in column 'fourth')");
  EXPECT_TRUE(sheet.sound(0));
}

TEST(Columns, NewRowsAndColumnsSettleIn) {
  Sheet sheet = leg();
  const std::size_t column = sheet.add_column("desk");
  sheet.add(row("glide", "5 mm"));
  ASSERT_TRUE(sheet.set_entry("leg_length", 0, entry("= height - top - glide")).ok());
  ASSERT_TRUE(sheet.set_entry("height", column, entry("720 mm")).ok());
  EXPECT_EQ(sheet.value("glide", 0), nullptr);  // not computed yet
  EXPECT_EQ(sheet.value("height", column), nullptr);
  sheet.settle();
  EXPECT_EQ(number(sheet, "leg_length", column), 693);
  EXPECT_EQ(number(sheet, "leg_length", 0), 723);
  EXPECT_FALSE(sheet.broken_invariant().has_value());
  // settling again changes nothing
  EXPECT_TRUE(sheet.settle().empty());
}

TEST(Columns, AKindToldByAnEntryMayChange) {
  Sheet sheet = sheet_of({{"x", "3 mm"}, {"y", "= x * 2"}, {"z", "= y + 1 mm"}});
  EXPECT_EQ(kind_name(*sheet.kind_of("y")), "length");
  ASSERT_TRUE(sheet.set_entry("x", 0, entry("3 deg")).ok());
  EXPECT_EQ(kind_name(*sheet.kind_of("y")), "angle");
  EXPECT_EQ(ids(sheet.diagnostics()), std::vector<std::string>{"sheet.kinds-differ"});
  ASSERT_TRUE(sheet.set_entry("x", 0, entry("4 mm")).ok());
  EXPECT_EQ(number(sheet, "z"), 9);
  EXPECT_FALSE(sheet.broken_invariant().has_value());
}

TEST(Columns, WhatIsAskedOfThem) {
  Sheet sheet = leg();
  EXPECT_EQ(sheet.column_count(), 3u);
  EXPECT_EQ(sheet.column_name(1), "bar");
  EXPECT_EQ(sheet.find_column("child"), std::optional<std::size_t>(2));
  EXPECT_FALSE(sheet.find_column("desk").has_value());
  EXPECT_EQ(sheet.parameters(), (std::vector<std::string>{"height", "top", "leg_length", "rail", "head", "turned"}));
  EXPECT_EQ(sheet.uses(), (std::vector<std::string>{"outline/0/length", "outline/1/length"}));
  EXPECT_EQ(sheet.groups(), (std::vector<std::string>{"table", ""}));
  EXPECT_EQ(sheet.inputs_of("leg_length", 0), (std::vector<std::string>{"height", "top"}));
  EXPECT_EQ(sheet.dependents_of("head", 1),
            (Changes{{RowType::parameter, "turned", 1}, {RowType::use, "outline/0/length", 1}}));
  EXPECT_EQ(sheet.use("outline/0/length", 0)->number(), 105);
  EXPECT_EQ(sheet.need_use("outline/1/length", 0)->number(), 623.0 / 3);
  EXPECT_FALSE(sheet.need_use("outline/2/length", 0).ok());
  EXPECT_FALSE(sheet.cell("no_such", 0).has_value());
  EXPECT_EQ(sheet.value("no_such", 0), nullptr);
  EXPECT_EQ(render(sheet.need("leg_lenght", 0).reasons()),
            "error: 'leg_lenght' is no name of this sheet [sheet.unknown-name]\n   do: did you mean 'leg_length'?\n");
  EXPECT_EQ(ids(sheet.set_entry("heigth", 0, entry("3 mm")).reasons()), std::vector<std::string>{"sheet.unknown-name"});
  EXPECT_EQ(ids(sheet.set_entry("height", 9, entry("3 mm")).reasons()),
            std::vector<std::string>{"sheet.unknown-column"});
}

TEST(Columns, EvaluateReadsWithoutKeeping) {
  Sheet sheet = leg();
  sheet.add(choice("finish", "oil", {"oil", "wax"}));
  sheet.settle();
  const auto value = sheet.evaluate(entry("= leg_length / 2 + 1 in"), Kind::length(), 1);
  ASSERT_TRUE(value.ok());
  EXPECT_EQ(value->number(), 514 + 25.4);
  EXPECT_EQ(*sheet.evaluate(entry("28-1/4\""), std::nullopt, 0), Value::length(717.55));
  EXPECT_EQ(*sheet.evaluate(entry("= finish == \"oil\" ? \"cloth\" : \"brush\""), std::nullopt, 0),
            Value::text("cloth"));
  EXPECT_EQ(ids(sheet.evaluate(entry("= leg_length + 3"), std::nullopt, 0).reasons()),
            std::vector<std::string>{"sheet.no-unit"});
  EXPECT_EQ(ids(sheet.evaluate(entry("= leg_length"), Kind::area(), 0).reasons()),
            std::vector<std::string>{"sheet.wrong-kind"});
  EXPECT_EQ(ids(sheet.evaluate(entry("= 1 / (top - top)"), std::nullopt, 0).reasons()),
            std::vector<std::string>{"sheet.divided-by-zero"});
  EXPECT_EQ(ids(sheet.evaluate(entry("= ("), std::nullopt, 0).reasons()), std::vector<std::string>{"sheet.syntax"});
  ASSERT_TRUE(sheet.set_entry("top", 0, entry("rubbish")).ok());
  EXPECT_EQ(ids(sheet.evaluate(entry("= leg_length"), std::nullopt, 0).reasons()),
            (std::vector<std::string>{"sheet.untold-kind"}));
  EXPECT_FALSE(sheet.broken_invariant().has_value());
}

TEST(Columns, TheDumpIsStable) {
  Sheet sheet("family");
  sheet.add_column("bar");
  Parameter height = row("height", "762 mm");
  height.most = entry("1 m");
  sheet.add(height);
  sheet.add(row("wrong", "= height + 3"));
  sheet.add(row("after", "= wrong * 2"));
  sheet.add(choice("finish", "oil", {"oil", "wax"}));
  sheet.add(Outcome{"price", Kind::money(), "quote", ""});
  sheet.add(Use{"outline/0", {}, entry("= height / 2")});
  sheet.add(Check{"cheap", entry("price < 100 EUR"), "too dear", false});
  ASSERT_TRUE(sheet.set_entry("height", 1, entry("1050 mm")).ok());
  sheet.settle();
  ASSERT_TRUE(sheet.set_outcomes(0, {{"price", Value::money(85.5)}}).ok());
  EXPECT_EQ(sheet.dump(),
            "parameter height: length\n"
            "  family: [762 mm] 762\n"
            "  bar: [1050 mm] 1050 {sheet.outside-limits}\n"
            "most height: length\n"
            "  family: [1 m] 1000\n"
            "  bar: inherits 1000\n"
            "parameter wrong: kind not known\n"
            "  family: [= height + 3] failed {sheet.no-unit}\n"
            "  bar: inherits failed {sheet.no-unit}\n"
            "parameter after: kind not known\n"
            "  family: [= wrong * 2] blocked by wrong\n"
            "  bar: inherits blocked by wrong\n"
            "parameter finish: choice\n"
            "  family: [oil] \"oil\"\n"
            "  bar: inherits \"oil\"\n"
            "outcome price: money\n"
            "  family: 85.5\n"
            "  bar: empty\n"
            "use outline/0: length\n"
            "  family: [= height / 2] 381\n"
            "  bar: inherits 525\n"
            "check cheap: yes/no\n"
            "  family: [price < 100 EUR] yes\n"
            "  bar: inherits empty by price\n");
}

// A row without a kind is told it by its first entry, which alone is judged while it tells none. When that entry goes, the next one is the first.
TEST(Columns, TheEntryThatIsFirstNowIsJudged) {
  Sheet sheet("family");
  sheet.add_column("variant");
  sheet.add(row("x", "= 3 mm +"));
  sheet.settle();
  ASSERT_TRUE(sheet.set_entry("x", 1, entry("3 mm 4 mm")).ok());
  EXPECT_EQ(ids(sheet.diagnostics()), std::vector<std::string>{"sheet.syntax"});
  ASSERT_TRUE(sheet.clear_entry("x", 0).ok());
  EXPECT_EQ(ids(sheet.diagnostics()), (std::vector<std::string>{"sheet.left-over", "sheet.no-value"}));
  EXPECT_EQ(sheet.broken_invariant(), std::nullopt);
  ASSERT_TRUE(sheet.set_entry("x", 0, entry("= 3 mm -")).ok());
  EXPECT_EQ(ids(sheet.diagnostics()), std::vector<std::string>{"sheet.syntax"});
  EXPECT_EQ(sheet.broken_invariant(), std::nullopt);
}

}  // namespace
}  // namespace pommel::sheet
