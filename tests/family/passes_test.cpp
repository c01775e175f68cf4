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

TEST(OrderPasses, OtherWordsAreRefused) {
  Sink sink;
  read_order(std::string(kOrder) + "passes: sideways\n", "order.yaml", "order", sink);
  ASSERT_TRUE(sink.has_errors());
  EXPECT_NE(render(sink.all()).find("sideways"), std::string::npos);
}

}  // namespace
}  // namespace pommel::family
