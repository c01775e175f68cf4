#include "quote/quote.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace pommel::quote {
namespace {

std::vector<std::string> ids(const Result<Quote>& result) {
  std::vector<std::string> out;
  if (!result.ok())
    for (const Diagnostic& reason : result.reasons()) out.push_back(reason.id);
  return out;
}

TEST(Quote, OverheadIsNeverChargedTwiceAndAMarginStaysBelowThePrice) {
  shop::Rates rates;
  rates.shop_hour_includes_overhead = true;
  rates.overhead = 0.1;
  rates.profit = shop::Rates::Profit::margin;
  rates.profit_rate = 1;
  EXPECT_EQ(ids(quote({}, rates)), (std::vector<std::string>{"quote.overhead-twice", "quote.margin"}));
}

TEST(Quote, FiguresBelowZeroOrNotFiniteAreRefused) {
  Work work;
  work.machine_minutes_each = std::numeric_limits<double>::quiet_NaN();
  work.skin_m2 = -1;
  EXPECT_EQ(ids(quote(work, {})), (std::vector<std::string>{"quote.negative", "quote.negative"}));
}

TEST(Quote, NothingToDoCostsTheMinimumCharge) {
  shop::Rates rates;
  rates.minimum_charge = {4000};
  const auto result = quote({}, rates);
  ASSERT_TRUE(result.ok());
  EXPECT_TRUE(result->lines.empty());
  EXPECT_EQ(result->price.cents, 4000);
  EXPECT_TRUE(result->minimum_applied);
}

// Doubling the quantity doubles every line but the set-ups: they are shared.
TEST(Quote, SetUpsAreSharedOverTheQuantity) {
  shop::Rates rates;
  rates.shop_hour = {6000};
  rates.machine_hour = {6000};
  rates.setup_minutes = 30;
  rates.load_minutes = 5;
  Work one;
  one.set_ups = 1;
  one.turned_pieces = 4;
  one.machine_minutes_each = 10;
  Work two = one;
  two.turned_pieces = 8;
  const auto a = quote(one, rates), b = quote(two, rates);
  ASSERT_TRUE(a.ok() && b.ok());
  EXPECT_EQ(a->cost.cents, 3000 + 2000 + 4000);
  EXPECT_EQ(b->cost.cents, 3000 + 4000 + 8000);
}

TEST(Quote, ChangesOfCutterAreLabour) {
  shop::Rates rates;
  rates.shop_hour = {6000};
  rates.change_minutes = 3;
  Work work;
  work.cutter_changes = 8;
  const auto result = quote(work, rates);
  ASSERT_TRUE(result.ok());
  ASSERT_EQ(result->lines.size(), 1u);
  EXPECT_EQ(result->lines.front().group, "labour");
  EXPECT_EQ(result->lines.front().text, "changes of cutter");
  EXPECT_EQ(result->lines.front().amount.cents, 2400);
}

TEST(Quote, TextAddsUpAndSaysExampleUntilRatesAreConfirmed) {
  shop::Rates rates;
  rates.currency = "USD";
  rates.shop_hour = {6000};
  Work work;
  work.other_hours = 1.5;
  const auto result = quote(work, rates);
  ASSERT_TRUE(result.ok());
  EXPECT_EQ(to_text(*result),
            "EXAMPLE RATES: put in your own before you send this to anyone\n"
            "\n"
            "labour\n"
            "  other work, hours                                                        90.00\n"
            "    1.5 x 60 min at 60.00 an hour\n"
            "--------------------------------------------------------------------------------\n"
            "cost                                                                       90.00\n"
            "markup of 0 % on the cost                                                   0.00\n"
            "price                                                                      90.00\n"
            "tax, 0 % of the price                                                       0.00\n"
            "total                                                                  90.00 USD\n"
            "deposit, 0 % of the total                                               0.00 USD\n");
}

}  // namespace
}  // namespace pommel::quote
