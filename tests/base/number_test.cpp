#include "base/number.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstring>
#include <limits>
#include <locale>
#include <random>

namespace pommel {
namespace {

TEST(Number, ReadsTheWholeTextOrNothing) {
  struct Row {
    const char* text;
    double value;
  };
  for (const Row& row : {Row{"0", 0},
                         {"12", 12},
                         {"-1.5", -1.5},
                         {"+1.5", 1.5},
                         {".5", 0.5},
                         {"5.", 5},
                         {"1e3", 1000},
                         {"-2.5E-3", -0.0025}}) {
    const auto value = parse_number(row.text);
    ASSERT_TRUE(value) << row.text;
    EXPECT_EQ(*value, row.value) << row.text;
  }
  for (const char* text : {"",     " ",   " 1",  "1 ",       "1,5",   "1.5.",   "1.2.3",  "0x10",     "inf",
                           "-inf", "nan", "NaN", "infinity", "1e999", "-1e999", "1e-999", "+-1",      "++1",
                           "--1",  "-",   "+",   ".",        "e3",    "1e",     "1 2",    "\xD9\xA3", "1\n"}) {
    EXPECT_FALSE(parse_number(text)) << "'" << text << "'";
  }
}

TEST(Number, WritesFixedNotation) {
  struct Row {
    double value;
    int decimals;
    const char* shortest;
    const char* fixed;
  };
  for (const Row& row : {
           Row{0, 2, "0", "0.00"},
           {-0.0, 2, "0", "0.00"},
           {-0.001, 2, "0", "0.00"},
           {-0.4, 0, "0", "0"},
           {1.5, 3, "1.5", "1.500"},
           {100, 2, "100", "100.00"},
           {-100, 0, "-100", "-100"},
           {0.125, 2, "0.12", "0.12"},  // exactly half: to the even digit
           {0.375, 2, "0.38", "0.38"},
           {717.55, 1, "717.5", "717.5"},  // the double is just below
           {1e21, 1, "1000000000000000000000", "1000000000000000000000.0"},
           {2.0 / 3, 40, "0.666666666666666629659232512495", "0.666666666666666629659232512495"},
           {1.25, -3, "1", "1"},
       }) {
    EXPECT_EQ(format_number(row.value, row.decimals), row.shortest) << row.value;
    EXPECT_EQ(format_fixed(row.value, row.decimals), row.fixed) << row.value;
  }
  const double most = std::numeric_limits<double>::max();
  EXPECT_EQ(format_fixed(-most, 30).size(), 1u + 309 + 1 + 30);
  EXPECT_EQ(format_number(std::numeric_limits<double>::infinity(), 2), "inf");
  EXPECT_EQ(format_number(-std::numeric_limits<double>::infinity(), 2), "-inf");
}

TEST(Number, ExactTextReadsBackToTheSameDouble) {
  struct Row {
    double value;
    const char* text;
  };
  for (const Row& row : {Row{0.1, "0.1"},
                         {-0.0, "0"},
                         {100000, "100000"},
                         {1e-6, "0.000001"},
                         {1.0 / 3, "0.3333333333333333"},
                         {717.55, "717.55"},
                         {1e15, "1e+15"},
                         {5e-324, "5e-324"}}) {
    EXPECT_EQ(format_exact(row.value), row.text);
  }
  std::mt19937_64 random(20240611);
  for (int i = 0; i < 20000; ++i) {
    const std::uint64_t bits = random();
    double value;
    static_assert(sizeof value == sizeof bits);
    std::memcpy(&value, &bits, sizeof value);
    if (!std::isfinite(value)) continue;
    const auto back = parse_number(format_exact(value));
    // from_chars of numbers below the normal range may be out of range; we then read nothing, never another number
    if (std::fpclassify(value) == FP_SUBNORMAL && !back) continue;
    ASSERT_TRUE(back) << format_exact(value);
    EXPECT_EQ(*back, value) << format_exact(value);
  }
}

TEST(Number, KnowsNoLocale) {
  struct Comma : std::numpunct<char> {
    char do_decimal_point() const override { return ','; }
    std::string do_grouping() const override { return "\3"; }
  };
  const std::locale before = std::locale::global(std::locale(std::locale(), new Comma));
  EXPECT_EQ(format_number(1234.5, 2), "1234.5");
  EXPECT_EQ(parse_number("1234.5"), 1234.5);
  std::locale::global(before);
}

}  // namespace
}  // namespace pommel
