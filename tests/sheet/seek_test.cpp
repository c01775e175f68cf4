// Target seeking, and the root finder under it.
#include "sheet/seek.h"

#include <cmath>
#include <numbers>

#include "sheet/support.h"

namespace pommel::sheet {
namespace {

using Function = std::function<Result<double>(double)>;

/// Roots known in closed form, or to all digits from the literature: x^3 - 2x - 5 is Wallis's equation (1685), whose
/// root is 2.0945514815423265915...; cos x = x at 0.7390851332151606416...
TEST(FindRoot, FindsKnownRoots) {
  struct Case {
    std::string name;
    double (*f)(double);
    double low, high, root;
  };
  const std::vector<Case> cases = {
      {"wallis", [](double x) { return x * x * x - 2 * x - 5; }, 2, 3, 2.0945514815423265915},
      {"cosine", [](double x) { return std::cos(x) - x; }, 0, 1, 0.7390851332151606416},
      {"falling", [](double x) { return x - std::cos(x); }, 0, 1, 0.7390851332151606416},
      {"line", [](double x) { return 3 * x - 1; }, -10, 10, 1.0 / 3},
      {"at the low end", [](double x) { return x; }, 0, 1, 0},
      {"at the high end", [](double x) { return x - 1; }, 0, 1, 1},
      {"flat", [](double x) { return std::pow(x - 1, 9); }, 0, 3.1, 1},
      {"steep", [](double x) { return std::exp(40 * x) - 2; }, 0, 1, std::numbers::ln2 / 40},
      {"square root of two", [](double x) { return x * x - 2; }, 0, 2, std::numbers::sqrt2},
  };
  for (const Case& one : cases) {
    int calls = 0;
    const Function f = [&](double x) -> Result<double> {
      ++calls;
      EXPECT_GE(x, one.low) << one.name;
      EXPECT_LE(x, one.high) << one.name;
      return one.f(x);
    };
    const auto root = find_root(f, one.low, one.high, 1e-12, 0);
    ASSERT_TRUE(root.ok()) << one.name;
    // the ninefold root is flat: any |f| below the smallest double's neighbourhood is as good
    EXPECT_NEAR(root->at, one.root, one.name == "flat" ? 1e-3 : 1e-11) << one.name;
    EXPECT_EQ(root->residual, one.f(root->at)) << one.name;
    EXPECT_EQ(root->evaluations, calls) << one.name;
    EXPECT_LE(calls, 130) << one.name;
  }
}

TEST(FindRoot, ComesToRestAtAJump) {
  const auto root = find_root([](double x) -> Result<double> { return x < 0.3 ? -1.0 : 2.0; }, 0, 1, 1e-6, 1e-9);
  ASSERT_TRUE(root.ok());
  EXPECT_NEAR(root->at, 0.3, 2e-6);
  EXPECT_EQ(root->residual, -1);
}

TEST(FindRoot, SaysWhyThereIsNone) {
  const auto one_sign = find_root([](double x) -> Result<double> { return x * x + 1; }, -1, 1, 1e-9, 0);
  ASSERT_FALSE(one_sign.ok());
  EXPECT_EQ(one_sign.reasons()[0].id, "sheet.not-bracketed");
  const auto broken = find_root(
      [](double x) -> Result<double> {
        return x > 0.4 && x < 0.6 ? Result<double>(fail("test.hole", "a hole")) : Result<double>(x - 0.45);
      },
      0, 1, 1e-9, 0);
  ASSERT_FALSE(broken.ok());
  EXPECT_EQ(broken.reasons()[0].id, "test.hole");
}

Sheet table() {
  Sheet sheet("family");
  sheet.add_column("bar");
  Parameter height = row("height", "750 mm");
  height.least = entry("400 mm");
  height.most = entry("1100 mm");
  sheet.add(height);
  sheet.add(row("top", "22 mm"));
  sheet.add(row("leg_length", "= height - top"));
  sheet.add(row("legs", "4"));
  sheet.add(row("steps", "= ceil(height / 100 mm) * 1 EUR"));
  sheet.add(row("hump", "= (height - 600 mm) * (900 mm - height)"));
  sheet.add(Outcome{"price", Kind::money(), "quote", ""});
  sheet.add(Outcome{"wall", Kind::length(), "frame", ""});
  sheet.settle();
  return sheet;
}

/// 20 EUR, and 100 EUR a metre of leg squared.
Result<Done> price_it(Sheet& sheet, std::size_t column) {
  const double metres = sheet.value("leg_length", column)->number() / 1000;
  auto given = sheet.set_outcomes(column, {{"price", Value::money(20 + 100 * metres * metres)}});
  if (!given) return given.failure();
  return Done{};
}

Goal goal(std::string wished, Value value, std::size_t column = 0) {
  return {std::move(wished), std::move(value), "height", column, {}, {}, {}, {}};
}

TEST(Seek, FindsTheMeasureThatGivesAParameter) {
  const Sheet sheet = table();
  const auto found = seek(sheet, goal("leg_length", Value::length(700)));
  ASSERT_TRUE(found.ok()) << render(found.reasons());
  EXPECT_NEAR(found->measure.number(), 722, 1e-3);
  EXPECT_NEAR(found->achieved.number(), 700, 1e-3);
  EXPECT_TRUE(found->one_way);
  EXPECT_EQ(number(sheet, "height"), 750);  // the sheet is untouched
}

TEST(Seek, FindsTheMeasureThatGivesAnOutcome) {
  Sheet sheet = table();
  const auto found = seek(sheet, goal("price", Value::money(69), 1), price_it);
  ASSERT_TRUE(found.ok()) << render(found.reasons());
  EXPECT_NEAR(found->measure.number(), 722, 1e-3);
  EXPECT_LE(found->evaluations, 12);
  EXPECT_EQ(sheet.value("price", 1), nullptr);
  // the answer, entered, gives what was promised, to the bit
  ASSERT_TRUE(sheet.set_entry("height", 1, entry(exact_entry(found->measure, sheet.settings()))).ok());
  ASSERT_TRUE(price_it(sheet, 1).ok());
  EXPECT_EQ(*sheet.value("price", 1), found->achieved);
  EXPECT_EQ(number(sheet, "height", 0), 750);
}

TEST(Seek, TakesTheAnswerNearestToThePresentMeasure) {
  Sheet sheet = table();
  // the hump is 12500 mm2 at 650 mm and at 850 mm, and negative at both limits: only inner measures bracket it
  const Value wish = Value::number(12500, Kind::area());
  const auto low = seek(sheet, goal("hump", wish));
  ASSERT_TRUE(low.ok()) << render(low.reasons());
  EXPECT_FALSE(low->one_way);
  EXPECT_TRUE(std::abs(low->measure.number() - 650) < 0.01 || std::abs(low->measure.number() - 850) < 0.01)
      << low->measure.number();
  ASSERT_TRUE(sheet.set_entry("height", 0, entry("1000 mm")).ok());
  EXPECT_NEAR(seek(sheet, goal("hump", wish))->measure.number(), 850, 0.01);
  ASSERT_TRUE(sheet.set_entry("height", 0, entry("500 mm")).ok());
  EXPECT_NEAR(seek(sheet, goal("hump", wish))->measure.number(), 650, 0.01);
}

TEST(Seek, StaysInsideTheLimits) {
  Sheet sheet = table();
  Goal asked = goal("leg_length", Value::length(1078));
  EXPECT_NEAR(seek(sheet, asked)->measure.number(), 1100, 1e-3);
  asked.value = Value::length(1100);
  const auto far = seek(sheet, asked);
  ASSERT_FALSE(far.ok());
  EXPECT_EQ(render(far.reasons()),
            "error: with 'height' between 400 mm and 1100 mm, 'leg_length' runs from 378 mm to 1078 mm, and never is "
            "1100 mm [sheet.seek-out-of-reach]\n"
            "   do: the nearest is at 1100 mm; widen the limits or move another measure\n");
  asked.value = Value::length(700);
  asked.least = 800;
  EXPECT_EQ(seek(sheet, asked).reasons()[0].id, "sheet.seek-out-of-reach");
  asked.most = 800;
  EXPECT_EQ(seek(sheet, asked).reasons()[0].id, "sheet.seek-needs-limits");
}

TEST(Seek, SaysWhatStandsInTheWay) {
  const Sheet sheet = table();
  const auto id = [&](const Goal& asked, const Outcomes& outcomes = {}) {
    const auto found = seek(sheet, asked, outcomes);
    return found.ok() ? std::string("found") : found.reasons()[0].id;
  };
  EXPECT_EQ(id(goal("leg_lenght", Value::length(700))), "sheet.unknown-name");
  EXPECT_EQ(id(goal("leg_length", Value::money(700))), "sheet.wrong-kind");
  EXPECT_EQ(id(goal("price", Value::money(700))), "sheet.no-value");  // nobody computes the outcome
  EXPECT_EQ(id(goal("top", Value::length(30))), "sheet.seek-fixed");
  EXPECT_EQ(id(goal("leg_length", Value::length(700), 7)), "sheet.unknown-column");
  Goal other = goal("leg_length", Value::length(700));
  other.moving = "top";
  EXPECT_EQ(id(other), "sheet.seek-needs-limits");
  other.moving = "legs";
  EXPECT_EQ(id(other), "sheet.wrong-kind");
  other.moving = "price";
  EXPECT_EQ(id(other), "sheet.not-an-entry");
  other.moving = "heigth";
  EXPECT_EQ(id(other), "sheet.unknown-name");
  EXPECT_EQ(id(goal("price", Value::money(70)),
               [](Sheet&, std::size_t) -> Result<Done> { return fail("quote.no-rate", "no rate"); }),
            "quote.no-rate");
}

TEST(Seek, TellsBothSidesOfAJump) {
  const auto found = seek(table(), goal("steps", Value::money(7.5)));
  ASSERT_FALSE(found.ok());
  EXPECT_EQ(render(found.reasons()),
            "error: 'steps' steps over 7.50 EUR near 700 mm: from 7.00 EUR to 8.00 EUR [sheet.seek-jump]\n"
            "   do: wish for one of these two\n");
}

/// Where the outcome cannot be computed near one limit, the rest of the range is still searched.
TEST(Seek, GoesRoundMeasuresThatCannotBeMade) {
  const Outcomes short_legs_only = [](Sheet& sheet, std::size_t column) -> Result<Done> {
    if (sheet.value("height", column)->number() > 900) return fail("frame.too-tall", "too tall");
    return price_it(sheet, column);
  };
  const auto found = seek(table(), goal("price", Value::money(69)), short_legs_only);
  ASSERT_TRUE(found.ok()) << render(found.reasons());
  EXPECT_NEAR(found->measure.number(), 722, 1e-3);
}

}  // namespace
}  // namespace pommel::sheet
