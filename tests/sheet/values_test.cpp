// Kinds and values as text.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "sheet/functions.h"
#include "sheet/support.h"

namespace pommel::sheet {
namespace {

TEST(Kinds, NamesAreReadAndWritten) {
  struct Case {
    std::string read;
    Kind kind;
    std::string written, with_article;
  };
  const std::vector<Case> cases = {
      {"length", Kind::length(), "length", "a length"},
      {"angle", Kind::angle(), "angle", "an angle"},
      {"count", Kind::count(), "count", "a count"},
      {"ratio", Kind::ratio(), "ratio", "a ratio"},
      {"area", Kind::area(), "area", "an area"},
      {"volume", Kind::volume(), "volume", "a volume"},
      {"money", Kind::money(), "money", "money"},
      {"time", Kind::time(), "time", "a time"},
      {"choice", Kind::choice(), "choice", "a choice"},
      {"yes/no", Kind::yes_no(), "yes/no", "a yes/no"},
      {"text", Kind::text(), "text", "a text"},
      {"money per time", Kind::per(Kind::money(), Kind::time()), "money per time", "money per time"},
      {"money per hour", Kind::per(Kind::money(), Kind::time()), "money per time", "money per time"},
      {"money per area", Kind::per(Kind::money(), Kind::area()), "money per area", "money per area"},
      {"money per piece", Kind::money(), "money", "money"},
      {"length per minute", Kind::per(Kind::length(), Kind::time()), "length per time", "a length per time"},
      {"angle per time", Kind::per(Kind::angle(), Kind::time()), "angle per time", "an angle per time"},
      {"count per hour", Kind::per(Kind::count(), Kind::time()), "count per time", "a count per time"},
      {"money per length per time", Kind::per(Kind::per(Kind::money(), Kind::length()), Kind::time()),
       "money per length per time", "money per length per time"},
      {"length^4", {Form::number, {.length = 4}, false}, "length^4", "a length^4"},
      {"money*area", {Form::number, {.length = 2, .money = 1}, false}, "money*area", "money*area"},
  };
  for (const Case& one : cases) {
    const auto kind = parse_kind(one.read);
    ASSERT_TRUE(kind.ok()) << one.read;
    EXPECT_EQ(*kind, one.kind) << one.read;
    EXPECT_EQ(kind_name(*kind), one.written);
    EXPECT_EQ(a_kind(*kind), one.with_article);
    const auto again = parse_kind(kind_name(*kind));
    ASSERT_TRUE(again.ok()) << one.written;
    EXPECT_EQ(*again, one.kind);
  }
}

TEST(Kinds, UnknownNamesGetTheNearest) {
  const auto slip = parse_kind("lenght");
  ASSERT_FALSE(slip.ok());
  EXPECT_EQ(render(slip.reasons()),
            "error: 'lenght' is no kind of value [sheet.unknown-kind]\n   do: did you mean 'length'?\n");
  for (const std::string bad :
       {"", "per time", "money per", "length^", "length^0", "length^x", "length^1000", "money**time", "colour"})
    EXPECT_FALSE(parse_kind(bad).ok()) << bad;
}

TEST(Values, AreEqualByKindAndBits) {
  EXPECT_EQ(Value::length(3), Value::length(3));
  EXPECT_NE(Value::length(3), Value::ratio(3));
  EXPECT_NE(Value::length(0.0), Value::length(-0.0));
  EXPECT_NE(Value::length(0.1 + 0.2), Value::length(0.3));
  EXPECT_NE(Value::choice("oil"), Value::text("oil"));
}

TEST(Values, AreShownInBenchWords) {
  Settings metric, inches;
  inches.lengths.unit = LengthUnit::inch;
  inches.currency = "$";
  const Kind wage = Kind::per(Kind::money(), Kind::time());
  EXPECT_EQ(show(Value::length(717.5), metric), "717.5 mm");
  EXPECT_EQ(show(Value::length(717.55), inches), "28 1/4\"");
  EXPECT_EQ(show(Value::angle(std::numbers::pi / 6), metric), "30 deg");
  EXPECT_EQ(show(Value::count(4), metric), "4");
  EXPECT_EQ(show(Value::ratio(0.48), metric), "0.48");
  EXPECT_EQ(show(Value::number(1250000, Kind::area()), metric), "1.25 m2");
  EXPECT_EQ(show(Value::number(2359737.216, Kind::volume()), inches), "1 bdft");
  EXPECT_EQ(show(Value::money(85), metric), "85.00 EUR");
  EXPECT_EQ(show(Value::time(45), metric), "45 min");
  EXPECT_EQ(show(Value::number(85.0 / 60, wage), metric), "85 EUR per h");
  EXPECT_EQ(show(Value::number(85.0 / 60, wage), inches), "85 $ per h");
  EXPECT_EQ(show(Value::number(1500, Kind::per(Kind::length(), Kind::time())), metric), "1500 mm per min");
  EXPECT_EQ(show(Value::number(18e-6, Kind::per(Kind::money(), Kind::area())), metric), "18 EUR per m2");
  EXPECT_EQ(show(Value::number(2, Kind::per(Kind::count(), Kind::time())), metric), "2 per min");
  EXPECT_EQ(show(Value::yes_no(true), metric), "yes");
  EXPECT_EQ(show(Value::choice("12/4 rough"), metric), "12/4 rough");
}

/// What exact_entry writes reads back to the same bits, whatever the kind.
TEST(Values, ExactEntriesReadBackToTheBit) {
  const Kind wage = Kind::per(Kind::money(), Kind::time());
  const std::vector<Value> values = {
      Value::length(717.5),
      Value::length(19.049999999999997),
      Value::length(-0.1),
      Value::length(1e-7),
      Value::length(1e22),
      Value::angle(std::numbers::pi / 7),
      Value::count(12),
      Value::ratio(1.0 / 3),
      Value::ratio(1e-9),
      Value::number(123456.789, Kind::area()),
      Value::number(0.1 + 0.2, Kind::volume()),
      Value::money(19.99),
      Value::time(12.3),
      Value::number(85.0 / 60, wage),
      Value::number(1.0 / 7e6, Kind::per(Kind::money(), Kind::area())),
      Value::number(2.5, Kind::per(Kind::per(Kind::money(), Kind::length()), Kind::time())),
      Value::number(0.7, {Form::number, {.length = 4}, false}),
      Value::number(0.7, {Form::number, {.length = 1, .money = 1, .time = -2}, false}),
      Value::number(0.7, {Form::number, {.time = -2}, false}),
      Value::number(0.7, {Form::number, {.length = -5}, false}),
      Value::yes_no(false),
      Value::text("12/4 rough, as bought"),
      Value::text("he said \"no\" twice"),
      Value::text("= not a formula"),
      Value::text(""),
  };
  for (const Value& value : values) {
    Settings settings;
    const std::string text = exact_entry(value, settings);
    Sheet sheet("family");
    sheet.add(row("x", text, value.kind()));
    sheet.settle();
    const Value* read = sheet.value("x", 0);
    ASSERT_NE(read, nullptr) << text << "\n" << render(sheet.diagnostics());
    EXPECT_EQ(*read, value) << text;
  }
}

// A file from elsewhere may only reckon: no function of a formula reads a file, a clock, chance or the system. Whoever adds one changes this list.
TEST(Functions, AreTheseAndNoMore) {
  auto names = function_names();
  std::sort(names.begin(), names.end());
  EXPECT_EQ(names, (std::vector<std::string>{"abs", "atan2", "ceil", "choose", "cos", "floor", "max", "min", "next_size", "round", "round_down", "round_to", "round_up",
                                             "sin", "sqrt", "tan"}));
}

}  // namespace
}  // namespace pommel::sheet
