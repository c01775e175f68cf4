// Outcomes, checks, cycles.
#include "sheet/support.h"

namespace pommel::sheet {
namespace {

Sheet with_outcomes() {
  Sheet sheet("family");
  sheet.add_column("bar");
  sheet.add(row("height", "750 mm"));
  sheet.add(row("budget", "200 EUR"));
  sheet.add(Outcome{"least_wall", Kind::length(), "frame", "between the two mortises"});
  sheet.add(Outcome{"price", Kind::money(), "quote", ""});
  sheet.add(Outcome{"programs", Kind::count(), "mill", ""});
  sheet.add(Check{"wall", in_file("least_wall >= 8 mm", 20, 12, "  - {that: least_wall >= 8 mm, stop: yes}"),
                  "the two mortises leave too little wood", true});
  sheet.add(Check{"budget", entry("= price <= budget"), "dearer than agreed", false});
  sheet.add(Check{"tall", entry("height < 1 m"), "a table this high wants a stretcher", false});
  sheet.settle();
  return sheet;
}

std::vector<Verdict> verdicts(const Sheet& sheet, std::size_t column) {
  std::vector<Verdict> all;
  for (const CheckResult& one : sheet.checks(column)) all.push_back(one.verdict);
  return all;
}

using V = Verdict;

TEST(Checks, WaitForTheirOutcomes) {
  Sheet sheet = with_outcomes();
  ASSERT_TRUE(sheet.diagnostics().empty()) << render(sheet.diagnostics());
  EXPECT_EQ(verdicts(sheet, 0), (std::vector<Verdict>{V::not_yet_known, V::not_yet_known, V::holds}));
  EXPECT_EQ(sheet.checks(0)[0].waiting_for, "least_wall");
  const auto changed = sheet.set_outcomes(0, {{"least_wall", Value::length(7)}, {"price", Value::money(180)}});
  ASSERT_TRUE(changed.ok());
  EXPECT_EQ(*changed, (Changes{{RowType::outcome, "least_wall", 0},
                               {RowType::outcome, "price", 0},
                               {RowType::check, "wall", 0},
                               {RowType::check, "budget", 0}}));
  EXPECT_EQ(verdicts(sheet, 0), (std::vector<Verdict>{V::fails, V::holds, V::holds}));
  EXPECT_EQ(verdicts(sheet, 1), (std::vector<Verdict>{V::not_yet_known, V::not_yet_known, V::holds}));
  EXPECT_EQ(render(*sheet.checks(0)[0].said),
            "leg.yaml:20:12: error: the two mortises leave too little wood [sheet.check]\n"
            "   20 |   - {that: least_wall >= 8 mm, stop: yes}\n"
            "      |            ^~~~~~~~~~~~~~~~~~\n");
  // checks are asked for themselves; the sheet as written is sound
  EXPECT_TRUE(sheet.sound(0));
  // the same outcome again changes nothing
  EXPECT_TRUE(sheet.set_outcomes(0, {{"price", Value::money(180)}})->empty());
  ASSERT_TRUE(sheet.set_entry("budget", 0, entry("150 EUR")).ok());
  EXPECT_EQ(sheet.checks(0)[1].verdict, V::fails);
  EXPECT_EQ(sheet.checks(0)[1].said->severity, Severity::warning);
  EXPECT_EQ(names(sheet.clear_outcomes(0)), (std::vector<std::string>{"least_wall", "price", "wall", "budget"}));
  EXPECT_EQ(verdicts(sheet, 0), (std::vector<Verdict>{V::not_yet_known, V::not_yet_known, V::holds}));
  EXPECT_FALSE(sheet.broken_invariant().has_value());
}

TEST(Checks, CannotBeCheckedWhileAMeasureHasAProblem) {
  Sheet sheet = with_outcomes();
  ASSERT_TRUE(sheet.set_entry("budget", 0, entry("200 $")).ok());
  EXPECT_EQ(sheet.checks(0)[1].verdict, V::cannot_be_checked);
  EXPECT_EQ(sheet.checks(0)[2].verdict, V::holds);
}

TEST(Checks, AreJudgedLikeOtherFormulas) {
  Sheet sheet = with_outcomes();
  sheet.add(Check{"a", entry("least_wall >= 8"), "", true});
  sheet.add(Check{"b", entry("least_wal >= 8 mm"), "", true});
  sheet.add(Check{"c", entry("height"), "", true});
  sheet.add(Check{"c", entry("yes"), "", true});
  sheet.settle();
  EXPECT_EQ(ids(sheet.diagnostics()), (std::vector<std::string>{"sheet.doubled-name", "sheet.no-unit",
                                                                "sheet.unknown-name", "sheet.wrong-kind"}));
  EXPECT_EQ(sheet.diagnostics()[2].remedy, "did you mean 'least_wall'?");
}

TEST(Outcomes, AreRefusedWhenWrong) {
  Sheet sheet = with_outcomes();
  EXPECT_EQ(ids(sheet.set_outcomes(0, {{"price", Value::money(1)}, {"least_wall", Value::money(3)}}).reasons()),
            std::vector<std::string>{"sheet.wrong-kind"});
  EXPECT_EQ(sheet.value("price", 0), nullptr);  // nothing of the batch was taken
  EXPECT_EQ(ids(sheet.set_outcomes(0, {{"prize", Value::money(3)}}).reasons()),
            std::vector<std::string>{"sheet.unknown-name"});
  EXPECT_EQ(ids(sheet.set_outcomes(0, {{"height", Value::length(3)}}).reasons()),
            std::vector<std::string>{"sheet.not-an-outcome"});
  EXPECT_EQ(ids(sheet.set_outcomes(7, {}).reasons()), std::vector<std::string>{"sheet.unknown-column"});
  EXPECT_EQ(ids(sheet.set_entry("price", 0, entry("3 EUR")).reasons()), std::vector<std::string>{"sheet.not-an-entry"});
  ASSERT_TRUE(sheet.set_outcomes(0, {{"programs", Value::ratio(2)}}).ok());
  EXPECT_EQ(*sheet.value("programs", 0), Value::count(2));
  EXPECT_EQ(ids(sheet.need("price", 0).reasons()), std::vector<std::string>{"sheet.no-value"});
}

/// The walk never turns back: parameters, limits and uses that read an outcome are errors.
TEST(Outcomes, AreNotForParameters) {
  Sheet sheet = with_outcomes();
  Parameter markup = row("markup", "= price / 10");
  sheet.add(markup);
  sheet.add(row("after", "= markup + 1 EUR"));
  Parameter limited = row("limited", "10 mm");
  limited.least = entry("= least_wall");
  sheet.add(limited);
  sheet.add(Use{"outline/0", {}, entry("= least_wall")});
  sheet.settle();
  const auto found = sheet.diagnostics();
  EXPECT_EQ(ids(found), (std::vector<std::string>{"sheet.outcome-in-parameter", "sheet.outcome-in-parameter",
                                                  "sheet.outcome-in-parameter"}));
  EXPECT_EQ(found[0].message, "'price' is an outcome, known only after the stage 'quote': markup -> price");
  EXPECT_EQ(sheet.cell("after", 0)->state, CellState::blocked);
  ASSERT_TRUE(sheet.set_outcomes(0, {{"price", Value::money(180)}}).ok());
  EXPECT_EQ(sheet.value("markup", 0), nullptr);
}

TEST(Cycles, AreToldAsTheFullPath) {
  Sheet sheet = sheet_of({{"a", "= b + 1 mm"}, {"b", "= c * 2"}, {"c", "= a - 3 mm"}, {"d", "= c"}, {"e", "5 mm"}});
  EXPECT_EQ(render(sheet.diagnostics()),
            "error: this goes round in a circle: a -> b -> c -> a [sheet.cycle]\n"
            "      | = b + 1 mm\n"
            "      |   ^\n"
            "   do: give one of them a value of its own\n");
  EXPECT_EQ(sheet.cell("b", 0)->problems[0].message, "this goes round in a circle: b -> c -> a -> b");
  EXPECT_EQ(sheet.cell("d", 0)->state, CellState::blocked);
  EXPECT_EQ(number(sheet, "e"), 5);
  // unmade, and the whole sheet stands again
  ASSERT_TRUE(sheet.set_entry("c", 0, entry("7 mm")).ok());
  EXPECT_TRUE(sheet.diagnostics().empty());
  EXPECT_EQ(number(sheet, "a"), 15);
  EXPECT_EQ(number(sheet, "d"), 7);
  ASSERT_TRUE(sheet.set_entry("e", 0, entry("= e")).ok());
  EXPECT_EQ(sheet.diagnostics()[0].message, "this goes round in a circle: e -> e");
  EXPECT_FALSE(sheet.broken_invariant().has_value());
}

TEST(Cycles, BelongToTheirColumn) {
  Sheet sheet("family");
  sheet.add_column("bar");
  sheet.add(row("a", "= b", Kind::length()));
  sheet.add(row("b", "3 mm", Kind::length()));
  sheet.add(row("c", "= a + b", Kind::length()));
  ASSERT_TRUE(sheet.set_entry("b", 1, entry("= a")).ok());
  sheet.settle();
  EXPECT_EQ(number(sheet, "c", 0), 6);
  EXPECT_EQ(sheet.cell("c", 1)->state, CellState::blocked);
  const auto found = sheet.diagnostics();
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].message, "this goes round in a circle: a -> b -> a (in column 'bar')");
  EXPECT_TRUE(sheet.sound(0));
}

/// Two knots in one sheet, one of them a figure of eight: each is told once.
TEST(Cycles, EachKnotIsToldOnce) {
  const Sheet sheet = sheet_of({{"a", "= b + c"}, {"b", "= a"}, {"c", "= a"}, {"p", "= q"}, {"q", "= p"}});
  const auto found = sheet.diagnostics();
  ASSERT_EQ(found.size(), 2u);
  EXPECT_EQ(found[0].message, "this goes round in a circle: a -> b -> a");
  EXPECT_EQ(found[1].message, "this goes round in a circle: p -> q -> p");
  EXPECT_EQ(sheet.cell("c", 0)->problems[0].message, "this goes round in a circle: c -> a -> c");
}

/// A chain and a circle of thousands of rows: no stack is exhausted, and the circle is told from its first row.
TEST(Cycles, LongOnesDoNoHarm) {
  Rows rows;
  for (int i = 0; i < 5000; ++i) rows.emplace_back("r" + std::to_string(i), "= r" + std::to_string(i + 1) + " + 1 mm");
  rows.emplace_back("r5000", "1 mm");
  Sheet sheet = sheet_of(rows);
  EXPECT_EQ(number(sheet, "r0"), 5001);
  ASSERT_TRUE(sheet.set_entry("r5000", 0, entry("= r0")).ok());
  const auto found = sheet.diagnostics();
  ASSERT_EQ(found.size(), 1u);
  EXPECT_TRUE(found[0].message.starts_with("this goes round in a circle: r0 -> r1 -> r2 -> "));
  EXPECT_TRUE(found[0].message.ends_with(" -> r4999 -> r5000 -> r0"));
}

}  // namespace
}  // namespace pommel::sheet
