// Two quotes reckoned by hand, line by line, every cent asserted. Source: arithmetic on paper, by the rounding rule stated in
// quote/quote.h; the working of each line stands beside it.
#include <gtest/gtest.h>

#include "quote/quote.h"

namespace pommel::quote {
namespace {

struct Expected { const char* group; const char* text; std::int64_t cents; };

void expect_lines(const Quote& quote, const std::vector<Expected>& expected) {
  ASSERT_EQ(quote.lines.size(), expected.size()) << to_text(quote);
  for (std::size_t i = 0; i < expected.size(); ++i) {
    EXPECT_EQ(quote.lines[i].group, expected[i].group);
    EXPECT_EQ(quote.lines[i].text, expected[i].text);
    EXPECT_EQ(quote.lines[i].amount.cents, expected[i].cents) << quote.lines[i].text << ": " << quote.lines[i].basis;
  }
}

TEST(WorkedQuote, FourLegsAndASpareWithMarkup) {
  shop::Rates rates;
  rates.currency = "USD";
  rates.shop_hour = {6000};
  rates.shop_hour_includes_overhead = true;
  rates.machine_hour = {3500};
  rates.setup_minutes = 20;
  rates.load_minutes = 4;
  rates.milling_minutes = 6;
  rates.mortise_minutes = 7.5;
  rates.hand_minutes_each = 1.5;
  rates.sanding_minutes_per_m2 = 40;
  rates.assembly_minutes_per_joint = 5;
  rates.finish_per_m2 = {2850};
  rates.profit = shop::Rates::Profit::markup;
  rates.profit_rate = 0.25;
  rates.tax = 0.0725;
  rates.deposit = 0.5;

  Work work;
  work.boards = {{"12/4 rough cherry", "", 18.5, {940}}, {"4/4 rough cherry", "", 6.25, {715}}};
  work.hardware = {{"glides", 8, {85}}};
  work.set_ups = 2;
  work.turned_pieces = 5;
  work.machine_minutes_each = 13.37;
  work.blanks = 9;
  work.mortises = 8;
  work.joints = 8;
  work.quirks_each = 3;
  work.skin_m2 = 0.73;

  const auto result = quote(work, rates);
  ASSERT_TRUE(result.ok());
  expect_lines(*result, {
      {"material", "12/4 rough cherry", 17390},                      // 18.5 x 9.40 = 173.90
      {"material", "4/4 rough cherry", 4469},                        // 6.25 x 7.15 = 44.6875
      {"material", "glides", 680},                                   // 8 x 0.85
      {"labour", "set-ups, shared by all pieces", 4000},             // 2 x 20 = 40 min
      {"labour", "chucking and unloading", 2000},                    // 5 x 4 = 20 min
      {"labour", "milling blanks square", 5400},                     // 9 x 6 = 54 min
      {"labour", "mortises", 6000},                                  // 8 x 7.5 = 60 min
      {"labour", "hand work the cutter cannot reach", 2250},         // 15 x 1.5 = 22.5 min
      {"labour", "sanding, m2", 2920},                               // 0.73 x 40 = 29.2 min
      {"labour", "assembly", 4000},                                  // 8 x 5 = 40 min
      {"machine", "machine time", 3900},                             // 66.85 min x 35 / 60 = 38.9958
      {"finish", "finish", 2081},                                    // 0.73 x 28.50 = 20.805, half a cent goes up
  });
  EXPECT_EQ(result->cost.cents, 55090);     // 225.39 + 265.70 + 39.00 + 20.81
  EXPECT_EQ(result->profit.cents, 13773);   // 550.90 x 0.25 = 137.725
  EXPECT_EQ(result->price.cents, 68863);
  EXPECT_EQ(result->tax.cents, 4993);       // 688.63 x 0.0725 = 49.9257
  EXPECT_EQ(result->total.cents, 73856);
  EXPECT_EQ(result->deposit.cents, 36928);  // 738.56 / 2
  EXPECT_EQ(result->profit_words, "markup of 25 % on the cost");
}

class PairOfColumns : public ::testing::Test {
 protected:
  PairOfColumns() {
    rates.currency = "EUR";
    rates.shop_hour = {3800};
    rates.shop_hour_includes_overhead = false;
    rates.overhead = 0.35;
    rates.machine_hour = {2200};
    rates.setup_minutes = 25;
    rates.load_minutes = 3;
    rates.milling_minutes = 8;
    rates.hand_minutes_each = 2;
    rates.sanding_minutes_per_m2 = 45;
    rates.finish_per_m2 = {3100};
    rates.profit = shop::Rates::Profit::margin;
    rates.profit_rate = 0.20;
    rates.tax = 0.19;
    rates.deposit = 0.30;
    work.boards = {{"8/4 ash", "", 3.333, {610}}};
    work.set_ups = 1;
    work.turned_pieces = 2;
    work.machine_minutes_each = 9.75;
    work.blanks = 2;
    work.quirks_each = 1;
    work.skin_m2 = 0.2;
    work.other_hours = 0.5;
  }
  shop::Rates rates;
  Work work;
};

TEST_F(PairOfColumns, OverheadApartAndMarginOfThePrice) {
  const auto result = quote(work, rates);
  ASSERT_TRUE(result.ok());
  expect_lines(*result, {
      {"material", "8/4 ash", 2033},                               // 3.333 x 6.10 = 20.3313
      {"labour", "set-ups, shared by all pieces", 1583},           // 25 min x 38 / 60 = 15.8333
      {"labour", "chucking and unloading", 380},                   // 6 min
      {"labour", "milling blanks square", 1013},                   // 16 min = 10.1333
      {"labour", "hand work the cutter cannot reach", 253},        // 4 min = 2.5333
      {"labour", "sanding, m2", 570},                              // 9 min
      {"labour", "other work, hours", 1900},                       // 30 min
      {"machine", "machine time", 715},                            // 19.5 min x 22 / 60
      {"finish", "finish", 620},                                   // 0.2 x 31
      {"overhead", "overhead", 2245},                              // (56.99 + 7.15) x 0.35 = 22.449
  });
  EXPECT_EQ(result->cost.cents, 11312);
  EXPECT_EQ(result->profit.cents, 2828);   // 113.12 x 0.2 / 0.8
  EXPECT_EQ(result->price.cents, 14140);
  EXPECT_EQ(result->tax.cents, 2687);      // 26.866
  EXPECT_EQ(result->total.cents, 16827);
  EXPECT_EQ(result->deposit.cents, 5048);  // 50.481
}

TEST_F(PairOfColumns, MinimumChargeTakesThePlaceOfALowerPrice) {
  rates.minimum_charge = {15000};
  const auto result = quote(work, rates);
  ASSERT_TRUE(result.ok());
  EXPECT_TRUE(result->minimum_applied);
  EXPECT_EQ(result->price.cents, 15000);
  EXPECT_EQ(result->tax.cents, 2850);
  EXPECT_EQ(result->total.cents, 17850);
  EXPECT_EQ(result->deposit.cents, 5355);
}

}  // namespace
}  // namespace pommel::quote
