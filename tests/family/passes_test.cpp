// What an order may say about its passes.
#include <gtest/gtest.h>

#include "family/family.h"

namespace pommel::family {
namespace {

constexpr const char* kOrder = R"(order: A table
number: "1"
design: low-table
machine: rotary
cutter: ball
)";

TEST(OrderPasses, AreReadOrLeftToTheComputedTime) {
  for (const auto& [said, meant] : {std::pair{"", Passes::fastest}, {"passes: fastest\n", Passes::fastest}, {"passes: lengthwise\n", Passes::lengthwise},
                                    {"passes: round and round\n", Passes::round_and_round}}) {
    Sink sink;
    const Order order = read_order(std::string(kOrder) + said, "order.yaml", "order", sink);
    EXPECT_FALSE(sink.has_errors()) << render(sink.all());
    EXPECT_EQ(order.passes, meant) << said;
  }
}

Order read(const std::string& text, std::string* said = nullptr) {
  Sink sink;
  Order order = read_order(text, "order.yaml", "order", sink);
  if (said) *said = render(sink.all());
  else EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  return order;
}

std::string with_cutters(const std::string& line) {
  std::string text = kOrder;
  return text.replace(text.find("cutter: ball\n"), 13, line);
}

TEST(OrderPasses, CuttersAreNamedByWhatTheyDo) {
  const Order three = read(with_cutters("cutters: {rough: flat-12, finish: ball-8, fine: ball-3}\n"));
  EXPECT_EQ(three.rough, "flat-12");
  EXPECT_EQ(three.cutter, "ball-8");
  EXPECT_EQ(three.fine, "ball-3");
  const Order one = read(kOrder);
  EXPECT_EQ(one.cutter, "ball");
  EXPECT_TRUE(one.rough.empty() && one.fine.empty());
  std::string said;
  read(with_cutters("cutter: ball\ncutters: {finish: ball-8}\n"), &said);
  EXPECT_EQ(said, "order.yaml:5:9: error: the order names a `cutter` and `cutters` [family.cutters]\n"
                  "    5 | cutter: ball\n"
                  "      |         ^~~~\n"
                  "   do: say one of them: `cutter` for one that does all, or `cutters`\n");
  read(with_cutters("cutters: {rough: flat-12}\n"), &said);
  EXPECT_NE(said.find("this list of cutters has no 'finish'"), std::string::npos) << said;
  read(with_cutters("cutters: {finish: ball, ruff: flat}\n"), &said);
  EXPECT_NE(said.find("'ruff' is no entry of a list of cutters"), std::string::npos) << said;
  read(with_cutters("cutters: ball\n"), &said);
  EXPECT_FALSE(said.empty());
}

TEST(OrderPasses, StepsAndClimbAreReadAndContradictionsRefused) {
  const std::string order = kOrder;
  EXPECT_EQ(read(order + "stepover: 0.8 mm\n").stepover, 0.8);
  EXPECT_EQ(read(order + "cusp: 0.03 mm\n").cusp, 0.03);
  EXPECT_EQ(read(order).cusp, 0);
  EXPECT_EQ(read(order).climb, Climb::nowhere);
  EXPECT_EQ(read(order + "climb: finishing\n").climb, Climb::finishing);
  EXPECT_EQ(read(order + "climb: everywhere\n").climb, Climb::everywhere);
  std::string said;
  read(order + "stepover: 0.8 mm\ncusp: 0.03 mm\n", &said);
  EXPECT_NE(said.find("[family.steps]"), std::string::npos) << said;
  for (const char* bad : {"stepover: 0 mm\n", "stepover: 9 mm\n", "cusp: 2 mm\n", "cusp: fine\n", "climb: perhaps\n"}) {
    read(order + bad, &said);
    EXPECT_FALSE(said.empty()) << bad;
  }
}

TEST(OrderPasses, OtherWordsAreRefused) {
  Sink sink;
  read_order(std::string(kOrder) + "passes: sideways\n", "order.yaml", "order", sink);
  ASSERT_TRUE(sink.has_errors());
  EXPECT_NE(render(sink.all()).find("sideways"), std::string::npos);
}

}  // namespace
}  // namespace pommel::family
