#include "base/quantity.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <random>

#include "base/number.h"

namespace pommel {
namespace {

constexpr auto kMm = LengthUnit::millimetre;
constexpr auto kIn = LengthUnit::inch;

TEST(Length, IsReadInEveryWayAMakerWritesIt) {
  struct Row {
    const char* text;
    std::optional<LengthUnit> plain;
    double mm;
  };
  for (const Row& row : {
           Row{"28 1/4", kIn, 717.55},
           {"28-1/4\"", {}, 717.55},
           {"28 1/4 in", {}, 717.55},
           {"28   1/4inches", {}, 717.55},
           {"28.25\xE2\x80\xB3", {}, 717.55},
           {"1/2 in", {}, 12.7},
           {"1/2\"", {}, 12.7},
           {"5/4\"", {}, 31.75},
           {"12/4", kIn, 76.2},
           {"1/3 inch", {}, 25.4 / 3},
           {"2' 4 1/4\"", {}, 717.55},
           {"2'4-1/4\"", {}, 717.55},
           {"2'-4 1/4\"", {}, 717.55},
           {"2\xE2\x80\xB2 4 1/4\xE2\x80\xB3", {}, 717.55},
           {"2 ft 4 in", {}, 711.2},
           {"2 feet 4.25 inches", {}, 717.55},
           {"1 foot", {}, 304.8},
           {"2'", {}, 609.6},
           {"2 1/2 ft", {}, 762},
           {"-2' 4\"", {}, -711.2},
           {"-28-1/4\"", {}, -717.55},
           {"-3 mm", {}, -3},
           {"- 3 mm", {}, -3},
           {"717.5 mm", {}, 717.5},
           {"717.5mm", kIn, 717.5},
           {"71.75 cm", {}, 717.5},
           {"0.7175 m", {}, 717.5},
           {".5 in", {}, 12.7},
           {"  22  mm  ", {}, 22},
           {"22", kMm, 22},
           {"2", LengthUnit::foot, 609.6},
           {"0", kMm, 0},
           {"0 mm", {}, 0},
       }) {
    const auto length = parse_length(row.text, row.plain);
    ASSERT_TRUE(length) << row.text << "\n" << render(length.reasons());
    EXPECT_DOUBLE_EQ(*length, row.mm) << row.text;
  }
}

std::string told(const Diagnostic& why) {
  return why.id + " @" + std::to_string(why.place.column) + " '" + why.read + "': " + why.message + " | " + why.remedy;
}

// Feet before the end of a line: once the character after the text was looked at.
TEST(Length, BlanksOfAllKindsBehindItAreNothing) {
  for (const char* text : {"7'\r", "7 ft\t", "84 in \r\n", "6' 12\" \t"}) {
    const auto length = parse_length(text, {});
    ASSERT_TRUE(length.ok()) << text;
    EXPECT_DOUBLE_EQ(*length, 84 * kInch) << text;
  }
}

TEST(Length, IsRefusedWithAReasonAtItsColumn) {
  struct Row {
    const char* text;
    std::optional<LengthUnit> plain;
    const char* told;
  };
  for (const Row& row : {
           Row{"", kMm, "quantity.empty @1 '': there is no length here | write a length such as 717.5 mm or 28 1/4 in"},
           {"   ", kMm,
            "quantity.empty @1 '   ': there is no length here | write a length such as 717.5 mm or 28 1/4 in"},
           {"long", kMm,
            "quantity.not-a-length @1 'long': 'long' is no length | write a length such as 717.5 mm or 28 1/4 in"},
           {"nan", kMm,
            "quantity.not-a-length @1 'nan': 'nan' is no length | write a length such as 717.5 mm or 28 1/4 in"},
           {"inf mm",
            {},
            "quantity.not-a-length @1 'inf mm': 'inf mm' is no length | write a length such as 717.5 mm or 28 1/4 in"},
           {"+3 mm",
            {},
            "quantity.not-a-length @1 '+3 mm': '+3 mm' is no length | write a length such as 717.5 mm or 28 1/4 in"},
           {"-", kMm,
            "quantity.not-a-length @2 '': a number is missing at the end | write a length such as 717.5 mm or 28 1/4 "
            "in"},
           {"--3 mm", kMm,
            "quantity.not-a-length @2 '-3 mm': '-3 mm' is no length | write a length such as 717.5 mm or 28 1/4 in"},
           {"3", {}, "quantity.no-unit @1 '3': 3 what? this length has no unit | write '3 mm' or '3 in'"},
           {" 28 1/4 ",
            {},
            "quantity.no-unit @2 '28 1/4': 28 1/4 what? this length has no unit | write '28 1/4 mm' or '28 1/4 in'"},
           {"1,5", kMm, "quantity.comma @1 '1,5': '1,5' has a comma in the number | write '1.5'"},
           {"1,5 mm", {}, "quantity.comma @1 '1,5': '1,5' has a comma in the number | write '1.5'"},
           {"1,234.5 mm", {}, "quantity.comma @1 '1,234.5': '1,234.5' has a comma in the number | write '1234.5'"},
           {"2' 4,5\"", {}, "quantity.comma @4 '4,5': '4,5' has a comma in the number | write '4.5'"},
           {"28\xC2\xBD\"",
            {},
            "quantity.fraction-glyph @3 '\xC2\xBD': '\xC2\xBD' is one sign, not a fraction in figures | write 1/2, "
            "with a blank before it after a whole number"},
           {"\xE2\x85\x9C in",
            {},
            "quantity.fraction-glyph @1 '\xE2\x85\x9C': '\xE2\x85\x9C' is one sign, not a fraction in figures | write "
            "3/8, with a blank before it after a whole number"},
           {"2' 4 \xC2\xBC\"",
            {},
            "quantity.fraction-glyph @6 '\xC2\xBC': '\xC2\xBC' is one sign, not a fraction in figures | write 1/4, "
            "with a blank before it after a whole number"},
           {"1\xE2\x81\x84"
            "4 in",
            {},
            "quantity.foreign-sign @2 '\xE2\x81\x84': '\xE2\x81\x84' is another sign than the one on the keyboard | "
            "write '/' instead"},
           {"\xE2\x88\x92"
            "3 mm",
            {},
            "quantity.foreign-sign @1 '\xE2\x88\x92': '\xE2\x88\x92' is another sign than the one on the keyboard | "
            "write '-' instead"},
           {"28\xE2\x80\x9D",
            {},
            "quantity.foreign-sign @3 '\xE2\x80\x9D': '\xE2\x80\x9D' is another sign than the one on the keyboard | "
            "write '\"' instead"},
           {"28\xC2\xA0mm",
            {},
            "quantity.foreign-sign @3 '\xC2\xA0': this is not a plain blank | write a plain blank instead"},
           {"1/0 in",
            {},
            "quantity.denominator @1 '1/0': '1/0' is no fraction: nothing is divided by 0 | write the fraction with a "
            "number above 0 below the line"},
           {"28 3/0 in",
            {},
            "quantity.denominator @4 '3/0': '3/0' is no fraction: nothing is divided by 0 | write the fraction with a "
            "number above 0 below the line"},
           {"28 5/4 in",
            {},
            "quantity.mixed @1 '28 5/4': '28 5/4' is no mixed number | write a whole number and a fraction under 1, as "
            "in 28 1/4"},
           {"2.5 1/4 in",
            {},
            "quantity.mixed @1 '2.5 1/4': '2.5 1/4' is no mixed number | write a whole number and a fraction under 1, "
            "as in 28 1/4"},
           {"3 mn", {}, "quantity.unknown-unit @3 'mn': 'mn' is no unit of length | did you mean 'mm'?"},
           {"3 MM", {}, "quantity.unknown-unit @3 'MM': 'MM' is no unit of length | did you mean 'mm'?"},
           {"3 M", {}, "quantity.unknown-unit @3 'M': 'M' is no unit of length | did you mean 'm'?"},
           {"3 x", kMm, "quantity.unknown-unit @3 'x': 'x' is no unit of length | use mm, cm, m, in or ft"},
           {"1e3 mm", {}, "quantity.unknown-unit @2 'e': 'e' is no unit of length | use mm, cm, m, in or ft"},
           {"0x10", kMm, "quantity.unknown-unit @2 'x': 'x' is no unit of length | use mm, cm, m, in or ft"},
           {"3 metric cubits",
            {},
            "quantity.unknown-unit @3 'metric': 'metric' is no unit of length | use mm, cm, m, in or ft"},
           {"28 1/4 in x",
            {},
            "quantity.left-over @11 'x': 'x' is left over after the length '28 1/4 in' | take it out, or write one "
            "length such as 717.5 mm or 28 1/4 in"},
           {"5 mm 3",
            {},
            "quantity.left-over @6 '3': '3' is left over after the length '5 mm' | take it out, or write one length "
            "such as 717.5 mm or 28 1/4 in"},
           {"1 m 5 cm",
            {},
            "quantity.left-over @5 '5 cm': '5 cm' is left over after the length '1 m' | take it out, or write one "
            "length such as 717.5 mm or 28 1/4 in"},
           {"28 -1/4 in",
            {},
            "quantity.left-over @4 '-1/4 in': '-1/4 in' is left over after the length '28' | take it out, or write one "
            "length such as 717.5 mm or 28 1/4 in"},
           {"1/2/3 in",
            {},
            "quantity.left-over @4 '/3 in': '/3 in' is left over after the length '1/2' | take it out, or write one "
            "length such as 717.5 mm or 28 1/4 in"},
           {"3 + 4", kMm,
            "quantity.left-over @3 '+ 4': '+ 4' is left over after the length '3' | take it out, or write one length "
            "such as 717.5 mm or 28 1/4 in"},
           {"2' x",
            {},
            "quantity.left-over @4 'x': 'x' is left over after the length '2'' | take it out, or write one length such "
            "as 717.5 mm or 28 1/4 in"},
           {"2' 4", kIn, "quantity.no-unit @4 '4': 4 what? this length has no unit | write '4 in' or '4 ft'"},
           {"2' 40 mm", {}, "quantity.after-feet @4 '40 mm': only inches can follow feet | write it as in 2' 4 1/4\""},
           {"2' 4''", {}, "quantity.two-primes @6 ''': two single marks are not the sign of the inch | write \" or in"},
           {"28''", {}, "quantity.two-primes @4 ''': two single marks are not the sign of the inch | write \" or in"},
       }) {
    const auto length = parse_length(row.text, row.plain);
    ASSERT_FALSE(length) << row.text;
    ASSERT_EQ(length.reasons().size(), 1u);
    EXPECT_EQ(told(length.reasons()[0]), row.told) << row.text;
    EXPECT_EQ(length.reasons()[0].source_line, row.text);
    EXPECT_EQ(length.reasons()[0].place.line, 0);
  }
}

TEST(Length, TooManyDigitsAreRefused) {
  const auto length = parse_length(std::string(400, '9') + " mm", {});
  ASSERT_FALSE(length);
  EXPECT_EQ(length.reasons()[0].id, "quantity.too-large");
  EXPECT_EQ(parse_length(std::string(308, '9') + " m", {}).reasons()[0].id, "quantity.too-large");
  EXPECT_EQ(parse_length(std::string(1 << 20, '('), kMm).reasons()[0].message,
            "'" + std::string(60, '(') + "...' is no length");
}

TEST(Length, AnyBytesGiveAnAnswer) {
  static constexpr char kSigns[] = "0123456789  //--..,'\"\"mcinft \xE2\x80\xB3\xC2\xBD\t";
  std::mt19937 random(7);
  int read = 0;
  for (int i = 0; i < 50000; ++i) {
    std::string text;
    for (unsigned n = random() % 12; n > 0; --n) text += kSigns[random() % (sizeof kSigns - 1)];
    const auto length = parse_length(text, kMm);
    if (length) {
      ++read;
      EXPECT_TRUE(std::isfinite(*length)) << text;
      continue;
    }
    const Diagnostic& why = length.reasons()[0];
    EXPECT_FALSE(why.id.empty() || why.message.empty() || why.remedy.empty()) << text;
    EXPECT_GE(why.place.column, 1) << text;
    EXPECT_LE(why.place.column, static_cast<int>(text.size()) + 1) << text;
  }
  EXPECT_GT(read, 500);
}

TEST(Length, IsShownAsTheShopReadsIt) {
  const LengthFormat mm, in{kIn, 1, 32}, ft{LengthUnit::foot, 1, 32}, decimal{kIn, 3, 0},
      cm{LengthUnit::centimetre, 2, 0}, sixteenths{kIn, 1, 16};
  struct Row {
    double mm;
    LengthFormat format;
    const char* text;
    const char* bare;
  };
  for (const Row& row : {
           Row{717.5, mm, "717.5 mm", "717.5"},
           {750, mm, "750 mm", "750"},
           {0.04, mm, "0 mm", "0"},
           {-0.04, mm, "0 mm", "0"},
           {-3.25, LengthFormat{kMm, 2, 0}, "-3.25 mm", "-3.25"},
           {717.5, cm, "71.75 cm", "71.75"},
           {717.5, LengthFormat{LengthUnit::metre, 4, 0}, "0.7175 m", "0.7175"},
           {717.55, in, "28 1/4\"", "28 1/4"},
           {25.4, in, "1\"", "1"},
           {12.7, in, "1/2\"", "1/2"},
           {-12.7, in, "-1/2\"", "-1/2"},
           {0, in, "0\"", "0"},
           {-0.1, in, "0\"", "0"},
           {25.4 * 31.0 / 32, in, "31/32\"", "31/32"},
           {25.4 * 31.0 / 32, sixteenths, "1\"", "1"},
           {25.4 * 1.99, in, "2\"", "2"},
           {717.55, decimal, "28.25\"", "28.25"},
           {717.55, ft, "2' 4 1/4\"", "2' 4 1/4\""},
           {609.6, ft, "2' 0\"", "2' 0\""},
           {304.8 - 0.1, ft, "1' 0\"", "1' 0\""},
           {609.6 - 0.1, ft, "2' 0\"", "2' 0\""},
           {101.6, ft, "4\"", "4\""},
           {-717.55, ft, "-2' 4 1/4\"", "-2' 4 1/4\""},
           {717.55, LengthFormat{LengthUnit::foot, 2, 0}, "2' 4.25\"", "2' 4.25\""},
       }) {
    EXPECT_EQ(format_length(row.mm, row.format), row.text);
    EXPECT_EQ(format_length(row.mm, row.format, false), row.bare);
  }
  for (const double huge : {1e18, 1e300, -1e300}) EXPECT_FALSE(format_length(huge, ft).empty());
}

TEST(Length, WhatIsShownReadsBackWithinHalfAStep) {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> lengths(-3000, 3000);
  for (int i = 0; i < 5000; ++i) {
    const double mm = lengths(random);
    for (const auto& [format, step] :
         {std::pair{LengthFormat{kMm, 1, 0}, 0.1}, std::pair{LengthFormat{kIn, 1, 32}, kInch / 32},
          std::pair{LengthFormat{LengthUnit::foot, 1, 16}, kInch / 16},
          std::pair{LengthFormat{kIn, 3, 0}, kInch / 1000}}) {
      const std::string text = format_length(mm, format);
      const auto back = parse_length(text, {});
      ASSERT_TRUE(back) << text;
      EXPECT_NEAR(*back, mm, step / 2 * (1 + 1e-9)) << text;
    }
  }
}

TEST(Angle, IsReadAndShown) {
  using std::numbers::pi;
  struct Row {
    const char* text;
    double radians;
  };
  for (const Row& row : {Row{"90 deg", pi / 2},
                         {"180\xC2\xB0", pi},
                         {"30 degrees", pi / 6},
                         {"1 degree", pi / 180},
                         {"0.5 rad", 0.5},
                         {"1/4 turn", pi / 2},
                         {"2 turns", 4 * pi},
                         {"-1 1/2 deg", -pi / 120},
                         {" 0 deg ", 0}}) {
    const auto angle = parse_angle(row.text);
    ASSERT_TRUE(angle) << row.text;
    EXPECT_DOUBLE_EQ(*angle, row.radians) << row.text;
  }
  EXPECT_EQ(*parse_angle("90 deg"), pi / 2);
  struct Bad {
    const char* text;
    const char* told;
  };
  for (const Bad& row : {
           Bad{"", "quantity.empty @1 '': there is no angle here | write an angle such as 30 deg"},
           {"30", "quantity.no-unit @1 '30': 30 what? this angle has no unit | write '30 deg' or '30 turn'"},
           {"30 dge", "quantity.unknown-unit @4 'dge': 'dge' is no unit of angle | did you mean 'deg'?"},
           {"30 mm", "quantity.unknown-unit @4 'mm': 'mm' is no unit of angle | use deg, rad or turn"},
           {"30,5 deg", "quantity.comma @1 '30,5': '30,5' has a comma in the number | write '30.5'"},
           {"30 deg 5",
            "quantity.left-over @8 '5': '5' is left over after the angle '30 deg' | take it out, or write one angle "
            "such as 30 deg"},
           {"steep", "quantity.not-an-angle @1 'steep': 'steep' is no angle | write an angle such as 30 deg"},
       }) {
    const auto angle = parse_angle(row.text);
    ASSERT_FALSE(angle) << row.text;
    EXPECT_EQ(told(angle.reasons()[0]), row.told);
  }
  EXPECT_EQ(format_angle(pi / 2), "90 deg");
  EXPECT_EQ(format_angle(-pi / 48, 2), "-3.75 deg");
}

TEST(MoneyText, IsReadAndShownToTheCent) {
  struct Row {
    const char* text;
    const char* currency;
    std::int64_t cents;
  };
  for (const Row& row : {Row{"12", "", 1200},
                         {"12.5", "", 1250},
                         {"12.50", "", 1250},
                         {"0.05", "", 5},
                         {"-3.07", "", -307},
                         {" 12.50 EUR ", "EUR", 1250},
                         {"EUR 12.50", "EUR", 1250},
                         {"$12.50", "$", 1250},
                         {"-$12.50", "$", -1250},
                         {"12.50", "EUR", 1250},
                         {"9999999999999999.99", "", 999'999'999'999'999'999}}) {
    const auto money = parse_money(row.text, row.currency);
    ASSERT_TRUE(money) << row.text;
    EXPECT_EQ(money->cents, row.cents) << row.text;
  }
  struct Bad {
    const char* text;
    const char* currency;
    const char* told;
  };
  for (const Bad& row : {
           Bad{"", "", "quantity.empty @1 '': there is no amount of money here | write an amount such as 12.50"},
           {"1.005", "",
            "quantity.cents @1 '1.005': '1.005' has parts of a cent | write at most two figures after the point"},
           {"1,50", "",
            "quantity.comma @1 '1,50': '1,50' has a comma in the number | write a point before the cents and nothing "
            "between thousands, as in 1234.50"},
           {"12 USD", "EUR",
            "quantity.not-money @4 'USD': 'USD' does not belong to an amount of money here | write the amount as in "
            "12.50 EUR"},
           {"$12", "", "quantity.not-money @1 '$12': '$12' is no amount of money | write an amount such as 12.50"},
           {"12 EUR", "",
            "quantity.not-money @4 'EUR': 'EUR' does not belong to an amount of money here | write the number alone, "
            "such as 12.50"},
           {"12.", "", "quantity.not-money @1 '12.': '12.' is no amount of money | write an amount such as 12.50"},
           {".5", "", "quantity.not-money @1 '.5': '.5' is no amount of money | write an amount such as 12.50"},
           {"1.2.3", "",
            "quantity.not-money @1 '1.2.3': '1.2.3' is no amount of money | write an amount such as 12.50"},
           {"EUR", "EUR",
            "quantity.not-money @1 'EUR': 'EUR' is no amount of money | write an amount such as 12.50 EUR"},
           {"1e3", "",
            "quantity.not-money @2 'e3': 'e3' does not belong to an amount of money here | write the number alone, "
            "such as 12.50"},
           {"99999999999999999", "",
            "quantity.too-large @1 '99999999999999999': '99999999999999999' is too large an amount | check the digits"},
       }) {
    const auto money = parse_money(row.text, row.currency);
    ASSERT_FALSE(money) << row.text;
    EXPECT_EQ(told(money.reasons()[0]), row.told);
  }
  EXPECT_EQ(format_money({123450}), "1234.50");
  EXPECT_EQ(format_money({123450}, "EUR"), "1234.50 EUR");
  EXPECT_EQ(format_money({-5}), "-0.05");
  EXPECT_EQ(format_money({0}), "0.00");
  EXPECT_EQ(format_money({std::numeric_limits<std::int64_t>::min()}), "-92233720368547758.08");
}

TEST(MoneyText, RoundsHalvesAwayFromZero) {
  struct Row {
    double amount;
    std::int64_t cents;
  };
  for (const Row& row : {Row{12.345, 1235},
                         {1.005, 101},
                         {-1.005, -101},
                         {2.675, 268},
                         {0.004, 0},
                         {-0.004, 0},
                         {0.005, 1},
                         {1.0049, 100},
                         {1.00499999, 100},
                         {1234567.005, 123456701},
                         {0, 0},
                         {1e30, std::numeric_limits<std::int64_t>::max()}}) {
    EXPECT_EQ(round_to_cents(row.amount).cents, row.cents) << format_exact(row.amount);
  }
}

}  // namespace
}  // namespace pommel
