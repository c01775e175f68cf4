#include "family/save_order.h"

#include <gtest/gtest.h>

#include "family/family.h"

namespace pommel::family {
namespace {

const char* const kOrder =
    "# A tall table\norder: Table\nnumber: \"1\"\ndesign: d\nmachine: m\ncutter: c\n\nsheet:\n  height: 31 in   # tall\n  stock: oak\n\n# end\n";

std::string saved(const std::map<std::string, std::string>& entries) {
  const auto text = saved_order(kOrder, "o.yaml", entries);
  return text.ok() ? *text : render(text.reasons());
}

TEST(SaveOrder, ChangesWhatChangedAndKeepsTheRest) {
  EXPECT_EQ(saved({{"height", "31 in"}, {"stock", "oak"}}), kOrder);
  EXPECT_EQ(saved({{"height", "32 in"}, {"square", "57 mm"}}),
            "# A tall table\norder: Table\nnumber: \"1\"\ndesign: d\nmachine: m\ncutter: c\n\nsheet:\n  height: 32 in   # tall\n  square: 57 mm\n\n# end\n");
}

TEST(SaveOrder, WhatIsSavedReadsBack) {
  for (const std::map<std::string, std::string>& entries :
       {std::map<std::string, std::string>{}, {{"height", "= a + 3 mm"}}, {{"x", "2' 4 1/4\""}, {"height", "1 m"}, {"finish", "oil: two coats"}}}) {
    const auto text = saved_order(kOrder, "o.yaml", entries);
    ASSERT_TRUE(text.ok()) << render(text.reasons());
    Sink sink;
    const Order order = read_order(*text, "o.yaml", "o", sink);
    EXPECT_FALSE(sink.has_errors()) << render(sink.all()) << *text;
    std::map<std::string, std::string> read;
    for (const auto& [name, entry] : order.entries) read[name] = entry.text;
    EXPECT_EQ(read, entries) << *text;
  }
}

TEST(SaveOrder, ANewOrderReadsBack) {
  const std::string text = new_order_text({"Bench: two", "26-042", "A. Client", "2026-03-02", "farmhouse-vase", "rotary-degrees", "ball-8", LengthUnit::inch});
  Sink sink;
  const Order order = read_order(text, "o.yaml", "o", sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all()) << text;
  EXPECT_EQ(order.name, "Bench: two");
  EXPECT_EQ(order.number, "26-042");
  EXPECT_EQ(order.design, "farmhouse-vase");
  EXPECT_EQ(order.lengths.unit, LengthUnit::inch);
  EXPECT_TRUE(order.entries.empty());
}

TEST(SaveOrder, TheHeadIsChangedInPlace) {
  const std::string before = "order: Table   # for the kitchen\nnumber: \"26-041\"\nunits: in\ndesign: vase\nmachine: router\ncutter: ball-8\nclimb: finishing\n\nsheet:\n  {}\n";
  const auto after = with_head(before, "o.yaml", {{"client", "A. Client"}, {"units", "mm"}, {"climb", std::nullopt}, {"cusp", "0.05 mm"}}, HeadCutters{"ball-6", "ball-12", ""});
  ASSERT_TRUE(after.ok()) << render(after.reasons());
  EXPECT_EQ(*after, "order: Table   # for the kitchen\nnumber: \"26-041\"\nclient: A. Client\nunits: mm\ndesign: vase\nmachine: router\ncutters: {rough: ball-12, finish: ball-6}\ncusp: 0.05 mm\n\nsheet:\n  {}\n");
  const auto back = with_head(*after, "o.yaml", {{"client", std::nullopt}, {"units", "in"}, {"cusp", std::nullopt}, {"climb", "finishing"}}, HeadCutters{"ball-8", "", ""});
  ASSERT_TRUE(back.ok()) << render(back.reasons());
  EXPECT_EQ(*back, before);
  EXPECT_EQ(*with_head(before, "o.yaml", {}, HeadCutters{"ball-8", "", ""}), before);
}

}  // namespace
}  // namespace pommel::family
