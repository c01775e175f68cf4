// The readers of families, designs and orders, and the sheet that they become.
#include <gtest/gtest.h>

#include "base/files.h"
#include "family/family.h"
#include "shop/read.h"

namespace pommel::family {
namespace {

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, text.npos) << from;
  return at == text.npos ? text : text.replace(at, from.size(), to);
}

std::string template_text() {
  const auto text = real_files()->read(std::filesystem::path(POMMEL_SOURCE_DIR) / "templates" / "table-leg.yaml");
  EXPECT_TRUE(text.ok());
  return text.ok() ? *text : "";
}

shop::Shop shop_of_the_house() {
  Sink sink;
  auto shop = shop::read_shop(*real_files(), std::filesystem::path(POMMEL_SOURCE_DIR) / "catalog" / "shop", sink, [](const auto&, const auto&) {});
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  return shop;
}

Family sound_family() {
  Sink sink;
  Family family = read_family(template_text(), "table-leg.yaml", "table-leg", sink);
  EXPECT_TRUE(sink.all().empty()) << render(sink.all());
  return family;
}

constexpr const char* kWritten = R"(order: A table
number: "26-001"
date: 2026-03-02
client: somebody
units: in
design: any
machine: rotary-degrees
cutter: ball-8
sheet:
  table_height: 31 1/4 in
)";

TEST(Order, IsReadWithPlaces) {
  Sink sink;
  const Order order = read_order(kWritten, "order.yaml", "order", sink);
  ASSERT_TRUE(sink.all().empty()) << render(sink.all());
  EXPECT_EQ(order.name, "A table");
  EXPECT_EQ(order.number, "26-001");
  EXPECT_EQ(order.lengths.unit, LengthUnit::inch);
  EXPECT_EQ(order.design_place, (Place{"order.yaml", 6, 9}));
  ASSERT_EQ(order.entries.size(), 1u);
  EXPECT_EQ(order.entries.front().first, "table_height");
  EXPECT_EQ(order.entries.front().second.place, (Place{"order.yaml", 10, 17}));
}

struct Wrong {
  const char *from, *to, *id;
  int line, column;
};

TEST(Order, WhatCannotBeReadIsSaidWhereItStands) {
  const Wrong table[] = {
      {"2026-03-02", "2026-3-2", "family.date", 3, 7},       {"2026-03-02", "2026-00-02", "family.date", 3, 7},
      {"design: any", "design: ..", "family.name", 6, 9},    {"design: any", "design: a/b", "family.name", 6, 9},
      {"ball-8", "\"ball 8 \"", "family.name", 8, 9},        {"units: in", "units: inch", "yaml.unknown-choice", 5, 8},
      {"order: A table", "order: [A, table]", "yaml.not-one-value", 1, 8}, {"somebody", "\"a\\tb\"", "family.paper-text", 4, 9},
  };
  for (const Wrong& wrong : table) {
    Sink sink;
    read_order(replaced(kWritten, wrong.from, wrong.to), "order.yaml", "order", sink);
    ASSERT_FALSE(sink.all().empty()) << wrong.to;
    const Diagnostic& found = sink.all().front();
    EXPECT_EQ(found.id, wrong.id) << wrong.to;
    EXPECT_EQ(found.place, (Place{"order.yaml", wrong.line, wrong.column})) << wrong.to;
  }
}

TEST(Family, WordsOfATableAreHeldAgainstThoseThereAre) {
  Sink sink;
  read_family(replaced(template_text(), "tenon_rule: = tenon_rule", "tenon_rule: haf of the rail"), "f.yaml", "f", sink);
  ASSERT_EQ(sink.all().size(), 1u) << render(sink.all());
  EXPECT_EQ(sink.all().front().id, "family.unknown-word");
  EXPECT_EQ(sink.all().front().message, "'haf of the rail' is no choice for 'tenon_rule'");
  EXPECT_EQ(sink.all().front().remedy, "did you mean 'half of the rail'?");
}

// A word written out in the table's block does what the measure of the same word does.
TEST(Family, AWordWrittenOutWorksAsAMeasureDoes) {
  Sink sink;
  const Family family = read_family(replaced(template_text(), "if_tenons_meet: = if_tenons_meet", "if_tenons_meet: shorter"), "f.yaml", "f", sink);
  ASSERT_TRUE(sink.all().empty()) << render(sink.all());
  const shop::Shop shop = shop_of_the_house();
  Design plain;
  plain.name = "plain";
  const auto sheet = make_sheet(family, plain, nullptr, shop, {}, sink);
  ASSERT_FALSE(sink.has_errors()) << render(sink.all());
  const auto made = make(family, plain, sheet, kCatalogue, shop, {});
  ASSERT_TRUE(made.ok()) << render(made.reasons());
  EXPECT_EQ(std::get<frame::Table>(made->frame).remedy, frame::Remedy::shorter);
}

// Reading it twice gives the same sheet, to the letter.
TEST(Sheet, IsTheSameTextEachTime) {
  const shop::Shop shop = shop_of_the_house();
  Design plain;
  plain.name = "plain";
  std::string dumps[2];
  for (std::string& dump : dumps) {
    Sink sink;
    const Order order = read_order(kWritten, "order.yaml", "order", sink);
    const auto sheet = make_sheet(sound_family(), plain, &order, shop, {}, sink);
    EXPECT_FALSE(sink.has_errors()) << render(sink.all());
    dump = sheet.dump();
  }
  EXPECT_EQ(dumps[0], dumps[1]);
  EXPECT_FALSE(dumps[0].empty());
}

TEST(Sheet, AnOrderInheritsWhatItDoesNotChange) {
  const shop::Shop shop = shop_of_the_house();
  Design plain;
  plain.name = "plain";
  sheet::Entry square;
  square.text = "60 mm";
  plain.entries.emplace_back("square", square);
  Sink sink;
  const Order order = read_order(kWritten, "order.yaml", "order", sink);
  const auto sheet = make_sheet(sound_family(), plain, &order, shop, {}, sink);
  ASSERT_FALSE(sink.has_errors()) << render(sink.all());
  ASSERT_EQ(sheet.column_count(), 2u);
  EXPECT_EQ(sheet.value("square", kCatalogue)->number(), 60);
  EXPECT_EQ(sheet.value("square", 1)->number(), 60);
  EXPECT_FALSE(sheet.cell("square", 1)->own);
  EXPECT_EQ(sheet.value("table_height", 1)->number(), 31.25 * 25.4);
  EXPECT_EQ(sheet.value("leg_length", 1)->number(), 31.25 * 25.4 - 22);
}

TEST(Sheet, ANameIsPointedAtNotItsValue) {
  Sink sink;
  const Order order = read_order(replaced(kWritten, "table_height", "tabel_height"), "order.yaml", "order", sink);
  Design plain;
  make_sheet(sound_family(), plain, &order, shop_of_the_house(), {}, sink);
  EXPECT_EQ(render(sink.all()),
            "order.yaml:10:3: error: 'tabel_height' is no measure of this family [family.unknown-measure]\n"
            "   10 |   tabel_height: 31 1/4 in\n"
            "      |   ^~~~~~~~~~~~\n"
            "   do: did you mean 'table_height'?\n");
}

}  // namespace
}  // namespace pommel::family
