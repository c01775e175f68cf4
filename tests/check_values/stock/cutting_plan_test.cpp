// Cutting plans against published instances, and against every way there is of sawing small orders.
#include <gtest/gtest.h>

#include <map>
#include <sstream>

#include "base/files.h"
#include "base/text.h"
#include "stock/plan.h"

namespace pommel::stock {
namespace {

struct Instance {
  std::string name;
  int capacity = 0, best = 0;
  std::map<int, int, std::greater<>> lengths;  // and how many
};

std::vector<Instance> instances() {
  std::vector<Instance> all;
  const auto text = real_files()->read(std::filesystem::path(POMMEL_SOURCE_DIR) / "tests/check_values/stock/cutting_stock.txt", 1u << 20);
  if (!text.ok()) return all;
  std::istringstream in(*text);
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line[0] == '#') continue;
    const auto cells = split(line, ';');
    Instance one{std::string(cells.at(0)), std::stoi(std::string(cells.at(1))), std::stoi(std::string(cells.at(2))), {}};
    std::istringstream items{std::string(cells.at(3))};
    for (std::string item; items >> item;) {
      const auto x = item.find('x');
      one.lengths[std::stoi(item.substr(0, x))] += x == std::string::npos ? 1 : std::stoi(item.substr(x + 1));
    }
    all.push_back(one);
  }
  return all;
}

// Strips as wide as the pieces, no kerf, a dollar each: the cost counts boards.
PlanOrder order_of(const Instance& instance) {
  PlanOrder order;
  for (const auto& [length, count] : instance.lengths) order.pieces.push_back({std::to_string(length), static_cast<double>(length), 50, count});
  PlanBoards boards{"stock", static_cast<double>(instance.capacity), 50, 10000, 1, {100}, false, {}};
  order.boards.push_back(boards);
  return order;
}

class Published : public testing::TestWithParam<Instance> {};

TEST_P(Published, IsCutFromTheFewestBoardsKnownAndThatIsProven) {
  const auto plan = plan_boards(order_of(GetParam()));
  ASSERT_TRUE(plan.ok()) << render(plan.reasons());
  EXPECT_EQ(faults_of(*plan), std::vector<std::string>{});
  EXPECT_EQ(plan->layouts.size(), static_cast<std::size_t>(GetParam().best));
  EXPECT_TRUE(plan->proven) << format_money(plan->bound) << " " << format_money(plan->cost);
}

INSTANTIATE_TEST_SUITE_P(CuttingStock, Published, testing::ValuesIn(instances()), [](const auto& one) {
  std::string name = one.param.name;
  std::erase_if(name, [](char c) { return !std::isalnum(static_cast<unsigned char>(c)); });
  return name;
});

// Sum of (length + kerf) against length + kerf: four of 597 with a kerf of 3 out of 2400 (2397), four of 598 not.
TEST(Kerf, FourFitWhereThreeKerfsAreLeft) {
  PlanOrder order;
  order.kerf = 3;
  order.boards = {{"board", 2400, 100, 2, 1, {100}, false, {}}};
  order.pieces = {{"piece", 597, 100, 4}};
  const auto four = plan_boards(order);
  ASSERT_TRUE(four.ok());
  EXPECT_EQ(four->layouts.size(), 1u);
  order.pieces[0].length = 598;
  const auto three = plan_boards(order);
  ASSERT_TRUE(three.ok());
  EXPECT_EQ(three->layouts.size(), 2u);
}

}  // namespace
}  // namespace pommel::stock
