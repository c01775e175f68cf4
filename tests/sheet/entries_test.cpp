// How entries are read: plain ones with and without a stated kind, and the folding of fractions and units in formulas.
#include <cmath>
#include <numbers>

#include "sheet/support.h"

namespace pommel::sheet {
namespace {

TEST(Entries, TheUnitTellsTheKind) {
  const Kind wage = Kind::per(Kind::money(), Kind::time());
  struct Case {
    std::string text;
    Value value;
  };
  const std::vector<Case> cases = {
      {"717.5 mm", Value::length(717.5)},
      {" 717.5mm ", Value::length(717.5)},
      {"0.7175 m", Value::length(717.5)},
      {"28 1/4 in", Value::length(28.25 * 25.4)},
      {"28-1/4\"", Value::length(28.25 * 25.4)},
      {"2' 4 1/4\"", Value::length(2 * 304.8 + 4.25 * 25.4)},
      {"3/4 in", Value::length(0.75 * 25.4)},
      {"-5 mm", Value::length(-5)},
      {"30 deg", Value::angle(std::numbers::pi / 6)},
      {"30\xC2\xB0", Value::angle(std::numbers::pi / 6)},
      {"90 deg", Value::angle(std::numbers::pi / 2)},
      {"1/4 turn", Value::angle(std::numbers::pi / 2)},
      {"4", Value::count(4)},
      {"-4", Value::count(-4)},
      {"0.48", Value::ratio(0.48)},
      {"1/2", Value::ratio(0.5)},
      {"15 %", Value::ratio(0.15)},
      {"1.25 m2", Value::number(1.25e6, Kind::area())},
      {"12 bdft", Value::number(12 * 2359737.216, Kind::volume())},
      {"85 EUR", Value::money(85)},
      {"45 min", Value::time(45)},
      {"1.5 h", Value::time(90)},
      {"90 s", Value::time(1.5)},
      {"85 EUR/h", Value::number(85.0 / 60, wage)},
      {"85 EUR per h", Value::number(85.0 / 60, wage)},
      {"18 EUR/m2", Value::number(18 / 1e6, Kind::per(Kind::money(), Kind::area()))},
      {"1500 mm/min", Value::number(1500, Kind::per(Kind::length(), Kind::time()))},
      {"60 per h", Value::number(1, Kind::per(Kind::count(), Kind::time()))},
      {"yes", Value::yes_no(true)},
      {"no", Value::yes_no(false)},
      {"\"any words, 3/4 in\"", Value::text("any words, 3/4 in")},
      {"'oak'", Value::text("oak")},
  };
  for (const Case& one : cases) {
    const Sheet sheet = sheet_of({{"x", one.text}});
    const Value* value = sheet.value("x", 0);
    ASSERT_NE(value, nullptr) << one.text << "\n" << render(sheet.diagnostics());
    EXPECT_EQ(value->kind(), one.value.kind()) << one.text;
    if (value->kind().form == Form::number)
      EXPECT_NEAR(value->number(), one.value.number(), 1e-12 * (1 + std::abs(one.value.number()))) << one.text;
    else
      EXPECT_EQ(*value, one.value) << one.text;
  }
}

TEST(Entries, AStatedKindTakesWhatFits) {
  Settings inches;
  inches.plain_length = LengthUnit::inch;
  inches.currency = "$";
  Sheet sheet("family", inches);
  sheet.add(row("a", "28 1/4", Kind::length()));
  sheet.add(row("b", "0", Kind::length()));
  sheet.add(row("c", "$85", Kind::money()));
  sheet.add(row("d", "85 $/h", Kind::per(Kind::money(), Kind::time())));
  sheet.add(row("e", "12/4 rough", Kind::text()));
  sheet.add(row("f", "4", Kind::ratio()));
  sheet.add(row("g", "0", Kind::angle()));
  sheet.add(choice("h", "12/4 rough", {"8/4 rough", "12/4 rough"}));
  sheet.settle();
  ASSERT_TRUE(sheet.diagnostics().empty()) << render(sheet.diagnostics());
  EXPECT_EQ(*sheet.value("a", 0), Value::length(28.25 * 25.4));
  EXPECT_EQ(*sheet.value("b", 0), Value::length(0));
  EXPECT_EQ(*sheet.value("c", 0), Value::money(85));
  EXPECT_EQ(sheet.value("d", 0)->number(), 85.0 / 60);
  EXPECT_EQ(*sheet.value("e", 0), Value::text("12/4 rough"));
  EXPECT_EQ(*sheet.value("f", 0), Value::ratio(4));
  EXPECT_EQ(*sheet.value("g", 0), Value::angle(0));
  EXPECT_EQ(*sheet.value("h", 0), Value::choice("12/4 rough"));
}

/// Folding: units belong to the number before them, its fraction included. Values in mm unless the formula's kind is
/// another.
TEST(Formulas, FoldFractionsAndUnits) {
  struct Case {
    std::string text;
    double value;
  };
  const std::vector<Case> cases = {
      {"= table_height - 3/4 in", 750 - 19.05},
      {"=table_height-3/4in", 750 - 19.05},
      {"= 2 1/2 in", 63.5},
      {"= 28 1/4\"", 717.55},
      {"= 2' 4 1/4\"", 717.55},
      {"= 2 ft 4 1/4 in", 717.55},
      {"= 2'", 609.6},
      {"= table_height - 1 7/8 in", 750 - 47.625},
      {"= 1 in + 7/8 in", 47.625},
      {"= 7/8 in * 2", 44.45},
      {"= 2 * 7/8 in", 44.45},
      {"= -3/4 in", -19.05},
      {"= table_height / 2", 375},
      {"= 1/2 * table_height", 375},
      {"= table_height * 1/2", 375},
      {"= table_height * 3/4 / 2", 281.25},
      {"= 2 1/2 * 10 mm", 25},
      {"= 15 % * table_height", 112.5},
      {"= .5 in", 12.7},
      {"= 1e2 mm", 100},
      {"= (1 in)", 25.4},
      {"= (10 mm)^2 / 1 mm", 100},
      {"= -2^2 * 1 mm", -4},
      {"= 2^-1 * 1 mm", 0.5},
      {"= 2^3^2 * 1 mm", 512},
      {"= 7 mm - 2 mm - 1 mm", 4},
      {"= 16 mm / 4 / 2", 2},
      {"= 85 EUR per h * 2 h / (1 EUR per mm)", 170},
      {"= 3 h / (1 min per mm)", 180},
      {"= pi * 100 mm", 100 * std::numbers::pi},
      {"= 0", 0},
  };
  for (const Case& one : cases) {
    Sheet sheet("family");
    sheet.add(row("table_height", "750 mm"));
    sheet.add(row("x", one.text, Kind::length()));
    sheet.settle();
    EXPECT_NEAR(number(sheet, "x"), one.value, 1e-9) << one.text;
  }
}

/// A length in a formula is the length that base reads, to the bit.
TEST(Formulas, ReadLengthsAsBaseDoes) {
  for (const std::string text : {"717.5 mm", "28 1/4 in", "28 1/4\"", "2' 4 1/4\"", "2 ft 4 in", "7/8 in", "0.7175 m",
                                 "71.75 cm", "1/3 in", "11 5/64\""}) {
    const Sheet sheet = sheet_of({{"x", "= " + text}});
    EXPECT_EQ(number(sheet, "x"), *parse_length(text, std::nullopt)) << text;
  }
}

TEST(Formulas, KindsAreWorkedOut) {
  struct Case {
    std::string text, kind;
  };
  const std::vector<Case> cases = {
      {"= h * w", "area"},
      {"= h * w * 3 mm", "volume"},
      {"= h / w", "ratio"},
      {"= legs * 2", "count"},
      {"= legs / 2", "ratio"},
      {"= legs + 1", "count"},
      {"= legs + 0.5", "ratio"},
      {"= h * wage", "money*length per time"},
      {"= wage * 3 h", "money"},
      {"= 12 EUR / h", "money per length"},
      {"= sqrt(h * w)", "length"},
      {"= h^2", "area"},
      {"= h^-1", "count per length"},
      {"= atan2(h, w)", "angle"},
      {"= sin(tilt)", "ratio"},
      {"= floor(h / w)", "count"},
      {"= h > w", "yes/no"},
      {"= not (h > w and legs == 4)", "yes/no"},
      {"= finish", "text"},
      {"= finish == \"oil\" ? \"cloth\" : \"brush\"", "text"},
      {"= max(0, h)", "length"},
      {"= h > 0 ? h : 0", "length"},
      {"= next_size(h, bits)", "length"},
      {"= round_up(wage, 1 EUR per h)", "money per time"},
      {"= h * tilt / 1 rad", "length"},
  };
  for (const Case& one : cases) {
    Sheet sheet("family");
    for (const auto& [name, text] :
         Rows{{"h", "750 mm"}, {"w", "60 mm"}, {"legs", "4"}, {"wage", "85 EUR/h"}, {"tilt", "5 deg"}})
      sheet.add(row(name, text));
    sheet.add(choice("finish", "oil", {"oil", "wax"}));
    sheet.add(SizeList{"bits", {entry("1 m")}, "", {}});
    sheet.add(row("x", one.text));
    sheet.settle();
    ASSERT_TRUE(sheet.kind_of("x").has_value()) << one.text << "\n" << render(sheet.diagnostics());
    EXPECT_EQ(kind_name(*sheet.kind_of("x")), one.kind) << one.text;
    EXPECT_TRUE(sheet.diagnostics().empty()) << one.text << "\n" << render(sheet.diagnostics());
  }
}

TEST(Formulas, RoundingAndSizes) {
  struct Case {
    std::string text;
    double value;
  };
  const std::vector<Case> cases = {
      {"= round_up(19 mm, 1/16 in)", 19.05},
      {"= round_up(3/4 in, 1/16 in)", 19.05},  // twelve sixteenths already, whatever its last bit says
      {"= round_up(0.1 in + 0.2 in, 0.1 in)", 7.62},
      {"= round_up(19.1 mm, 1/16 in)", 20.6375},
      {"= round_down(19.1 mm, 1/16 in)", 19.05},
      {"= round_down(0.3 in, 0.1 in)", 7.62},
      {"= round_to(19.1 mm, 1/16 in)", 19.05},
      {"= round_to(2.5 mm, 1 mm)", 3},
      {"= round_up(-2.5 mm, 1 mm)", -2},
      {"= next_size(19 mm, 12 mm, 20 mm, 18 mm, 25 mm)", 20},
      {"= next_size(20 mm, bits)", 22},
      {"= next_size(6 mm, bits)", 6},
      {"= next_size(1/4 in, bits)", 8},
      {"= ceil(2.000000000001) * 1 mm", 2},
      {"= ceil(2.1) * 1 mm", 3},
      {"= floor(600 mm / 0.1 m) * 1 mm", 6},
      {"= floor(2.9) * 1 mm", 2},
      {"= round(2.5) * 1 mm", 3},
      {"= round(-2.5) * 1 mm", -3},
      {"= abs(-3 mm)", 3},
      {"= min(3 mm, 2 mm, 7 mm)", 2},
      {"= max(3 mm, 2 mm, 7 mm)", 7},
      {"= choose(finish, \"oil\", 1 mm, \"wax\", 2 mm, \"lacquer\", 3 mm)", 2},
      {"= choose(finish, \"oil\", 1 mm, 9 mm)", 9},
      {"= finish == \"wax\" ? 5 mm : 6 mm", 5},
      {"= yes and not no ? 5 mm : 6 mm", 5},
      {"= 1 > 2 or 2 >= 2 ? 5 mm : 6 mm", 5},
      // a branch that is not taken may not spoil the result
      {"= finish == \"oil\" ? 1 mm / 0 : 4 mm", 4},
      {"= choose(finish, \"oil\", 1 mm / 0, 4 mm)", 4},
      {"= 0 != 0 and 1 / 0 > 2 ? 1 mm : 4 mm", 4},
      {"= 0 == 0 or 1 / 0 > 2 ? 4 mm : 1 mm", 4},
  };
  for (const Case& one : cases) {
    Sheet sheet("family");
    sheet.add(choice("finish", "wax", {"oil", "wax", "lacquer"}));
    sheet.add(SizeList{"bits", {entry("8 mm"), entry("6 mm"), entry("22 mm"), entry("12 mm")}, "", {}});
    sheet.add(row("x", one.text, Kind::length()));
    sheet.settle();
    EXPECT_NEAR(number(sheet, "x"), one.value, 1e-9) << one.text;
  }
}

TEST(Formulas, CountsComeOutWhole) {
  Sheet sheet("family");
  sheet.add(row("nearly", "= 0.1 * 30", Kind::count()));  // 3.0000000000000004 in doubles
  sheet.add(row("half", "= 7 / 2", Kind::count()));
  sheet.settle();
  EXPECT_EQ(*sheet.value("nearly", 0), Value::count(3));
  EXPECT_EQ(sheet.value("half", 0), nullptr);
  EXPECT_EQ(ids(sheet.diagnostics()), std::vector<std::string>{"sheet.not-whole"});
}

TEST(Formulas, LongAndDeepOnesAreComputedOrRefused) {
  const auto repeated = [](const std::string& part, std::size_t times) {
    std::string text;
    for (std::size_t i = 0; i < times; ++i) text += part;
    return text;
  };
  const std::string chain = "= 1" + repeated("+1", 1900), products = "= 8" + repeated("*1", 1900);
  const std::string deep = "= " + repeated("(", 95) + "7" + repeated(")", 95);
  const Sheet good = sheet_of({{"chain", chain}, {"products", products}, {"deep", deep}});
  EXPECT_EQ(number(good, "chain"), 1901);
  EXPECT_EQ(number(good, "products"), 8);
  EXPECT_EQ(number(good, "deep"), 7);

  const std::vector<std::pair<std::string, std::string>> bad = {
      {"= 1" + repeated("+1", 2100), "sheet.too-long"},
      {"= " + repeated("(", 1500) + "7" + repeated(")", 1500), "sheet.too-deep"},
      {"= " + repeated("-", 1500) + "7", "sheet.too-deep"},
      {"= " + repeated("not ", 900) + "yes", "sheet.too-deep"},
      {"= 1" + repeated("^1", 900), "sheet.too-deep"},
      {"= " + repeated("abs(", 500) + "1" + repeated(")", 500), "sheet.too-deep"},
      {"= " + repeated("yes ? ", 300) + "1", "sheet.too-deep"},
      {std::string(1'000'000, '('), "sheet.too-long"},
      {std::string(1'000'000, '9'), "sheet.too-long"},
      {"= " + std::string(400, '9'), "sheet.number"},
      {"= 1e999", "sheet.number"},
  };
  for (const auto& [text, id] : bad)
    EXPECT_EQ(ids(sheet_of({{"x", text}}).diagnostics()), std::vector<std::string>{id}) << text.substr(0, 40);
}

/// muParser takes at most 20,000 characters, and our program of a legal formula may be longer. Its refusal comes back
/// as a problem at a place in the maker's text.
TEST(Formulas, WhatMuParserRefusesIsToldAtItsPlace) {
  const auto quotients = [](int times) {
    std::string text = "= 1";
    for (int i = 0; i < times; ++i) text += "/1";
    return text;
  };
  EXPECT_EQ(number(sheet_of({{"x", quotients(1400)}}), "x"), 1);
  const auto found = sheet_of({{"x", quotients(1900)}}).diagnostics();
  ASSERT_EQ(ids(found), std::vector<std::string>{"sheet.formula"});
  EXPECT_EQ(found[0].message, "this formula cannot be computed (Expression too long)");
  EXPECT_EQ(found[0].place.column, 3);
}

TEST(Formulas, StrangeBytesAreRefusedWithoutHarm) {
  for (const std::string& text : {std::string("= \xFF\xFE"),
                                  std::string("= 3\0 mm", 7),
                                  std::string("= \xC3"),
                                  std::string("=\t\n"),
                                  std::string("= 3 \xC2\xB0"),
                                  std::string("= \xE2\x82\xAC 5"),
                                  std::string("= @"),
                                  std::string("= 3..5"),
                                  std::string("= ..5"),
                                  std::string("= 5."),
                                  std::string("= _"),
                                  std::string("= ''"),
                                  std::string("= \"\"\""),
                                  std::string("\""),
                                  std::string("'"),
                                  std::string("-"),
                                  std::string("="),
                                  std::string(" "),
                                  std::string("= 1/"),
                                  std::string("1/"),
                                  std::string("1/0"),
                                  std::string("= 1/0 in"),
                                  std::string("28 0/0"),
                                  std::string("= choose()"),
                                  std::string("= max(,)"),
                                  std::string("= max(1,"),
                                  std::string("= ()"),
                                  std::string("= ?:"),
                                  std::string("= per h"),
                                  std::string("= 3 per"),
                                  std::string("= and"),
                                  std::string("= -"),
                                  std::string("nan"),
                                  std::string("inf"),
                                  std::string("= nan"),
                                  std::string("= 0x10"),
                                  std::string("1e400")}) {
    const Sheet sheet = sheet_of({{"x", text}});
    const bool degrees = text == "= 3 \xC2\xB0", point = text == "= 5.", empty_words = text == "= ''";
    EXPECT_EQ(sheet.diagnostics().empty(), degrees || point || empty_words) << text << "\n"
                                                                            << render(sheet.diagnostics());
    EXPECT_FALSE(sheet.broken_invariant().has_value()) << text;
  }
}

}  // namespace
}  // namespace pommel::sheet
