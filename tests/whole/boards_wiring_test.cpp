// What boards are there decides the plan, the plan decides what whole boards cost; what a room's air does decides how the wood moves.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "base/text.h"
#include "whole/house.h"

namespace pommel::whole {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;

constexpr const char* kBoards = "catalog/shop/boards.yaml";
constexpr const char* kRates = "catalog/shop/rates.yaml";

/// The house with texts replaced in its shop: file, what, by what.
struct Changed {
  std::string file, before, after;
};

House changed(const std::vector<Changed>& changes) {
  House house;
  for (const auto& [file, before, after] : changes) {
    std::string text = *house.files.read(file);
    const std::size_t at = text.find(before);
    EXPECT_NE(at, std::string::npos) << before;
    if (at != std::string::npos) house.put(file, text.replace(at, before.size(), after));
  }
  return house;
}

Result<job::Column> column(const House& house, const Extra& extra = {}) {
  const job::Loaded loaded = house.load("catalog/orders/low-table.yaml");
  Sink sink;
  const auto sheet = family::make_sheet(loaded.family, loaded.design, &*loaded.order, loaded.shop, entries(extra), sink);
  if (sink.has_errors()) return Failure(sink.all());
  return job::run_to_stock(loaded, sheet, family::kOrder, {});
}

const stock::CuttingPlan& plan_of(const job::Column& column, const std::string& stock) {
  const auto found = std::find_if(column.cuts.plans.begin(), column.cuts.plans.end(), [&](const stock::CuttingPlan& plan) { return plan.stock_id == stock; });
  EXPECT_NE(found, column.cuts.plans.end());
  return *found;
}

double outcome(const job::Column& column, const std::string& name) {
  for (const auto& [id, value] : job::outcomes_to_stock(column))
    if (id == name) return value.number();
  ADD_FAILURE() << name;
  return 0;
}

TEST(BoardsWiring, EveryPieceOfTheCutListLiesInABoardAndThePlanCanBeSawn) {
  const auto made = column(House());
  ASSERT_TRUE(made.ok()) << render(made.reasons());
  ASSERT_GE(made->cuts.plans.size(), 2u);
  for (const stock::CuttingPlan& plan : made->cuts.plans) {
    EXPECT_THAT(stock::faults_of(plan), IsEmpty());
    EXPECT_TRUE(plan.proven);
    int listed = 0, cut = 0;
    for (const stock::CutRow& row : made->cuts.rows) listed += row.stock_id == plan.stock_id ? row.quantity * row.laminations : 0;
    for (const stock::PlannedBoard& layout : plan.layouts) cut += static_cast<int>(layout.pieces.size());
    EXPECT_EQ(listed, cut) << plan.stock_label;
  }
}

// A board for sale that holds all blanks and costs next to nothing.
TEST(BoardsWiring, ABoardForSaleIsTakenWhereItCostsLessAndIsOnThePapers) {
  const auto before = column(House());
  ASSERT_TRUE(before.ok());
  const std::string stock = before->blanks.front().board.id;
  const Changed sale{kBoards, "  " + stock + ":\n", "  " + stock + ":\n    end_trim: 10 mm\n    to_buy:\n      - {name: yard, length: 2600 mm, width: 420 mm, count: 1, price: 0.50}\n"};
  const auto after = column(changed({sale}));
  ASSERT_TRUE(after.ok()) << render(after.reasons());
  const stock::CuttingPlan &was = plan_of(*before, stock), &is = plan_of(*after, stock);
  EXPECT_LT(is.cost, was.cost);
  ASSERT_EQ(is.layouts.size(), 1u);
  EXPECT_TRUE(is.boards[is.layouts[0].boards].for_sale);
  EXPECT_GE(is.layouts[0].pieces[0].x, 10);
  EXPECT_THAT(stock::faults_of(is), IsEmpty());
  EXPECT_THAT(stock::plan_csv(after->cuts.plans, {}), HasSubstr(",yard,yes,"));
  EXPECT_THAT(stock::plan_svg(after->cuts.plans, {}), HasSubstr("to buy"));
  EXPECT_LT(outcome(*after, "boards_price"), outcome(*before, "boards_price"));
}

TEST(BoardsWiring, ADefectMovesPiecesAndTooManyRefuseTheJob) {
  const auto before = column(House());
  ASSERT_TRUE(before.ok());
  const std::string stock = before->blanks.front().board.id, head = "  " + stock + ":\n";
  const auto one = column(changed({{kBoards, head, head + "    single_boards:\n      - {name: marked, length: 2600 mm, width: 400 mm, price: 0.10, defects: [{what: knot, from: 300 mm, to: 320 mm, across_to: 200 mm}]}\n"}}));
  ASSERT_TRUE(one.ok()) << render(one.reasons());
  const stock::CuttingPlan& plan = plan_of(*one, stock);
  EXPECT_EQ(plan.boards[plan.layouts.front().boards].name, "marked");
  EXPECT_THAT(stock::faults_of(plan), IsEmpty());
  Sink sink;
  changed({{kBoards, head, head + "    single_boards:\n      - {length: 2600 mm, width: 400 mm, defects: [{from: 300 mm, to: 200 mm}]}\n"}}).load("catalog/orders/low-table.yaml", sink);
  EXPECT_THAT(render(sink.all()), HasSubstr("200 mm"));
}

TEST(BoardsWiring, WholeBoardsAreChargedToTheCentWhereTheRatesSaySo) {
  const auto made = column(changed({{kRates, "wood_charged: net and waste", "wood_charged: whole boards"}}));
  ASSERT_TRUE(made.ok()) << render(made.reasons());
  Money charged, planned;
  for (const stock::BoardRow& row : made->cuts.boards) charged += row.amount;
  for (const stock::CuttingPlan& plan : made->cuts.plans) planned += plan.cost;
  EXPECT_EQ(charged, planned);
  EXPECT_GT(charged.cents, 0);
  const auto net = column(House());
  ASSERT_TRUE(net.ok());
  Money less;
  for (const stock::BoardRow& row : net->cuts.boards) less += row.amount;
  EXPECT_LT(less, charged);
}

// Five blanks lie in one board of 2450 mm; a board of 900 mm holds three of them.
TEST(BoardsWiring, OneBoardForASetIsARuleWhereTheOrderSaysSo) {
  const auto held = column(House(), {{"one_board", "rule"}});
  ASSERT_TRUE(held.ok()) << render(held.reasons());
  EXPECT_EQ(plan_of(*held, "cherry-10/4-rough").layouts.size(), 1u);
  const Changed shorter{kBoards, "width: 190 mm\n    length: 2450 mm", "width: 190 mm\n    length: 900 mm"};
  const auto refused = column(changed({shorter}), {{"one_board", "rule"}});
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.reasons().front().id, "stock.one-board");
  const auto wished = column(changed({shorter}));
  ASSERT_TRUE(wished.ok()) << render(wished.reasons());
  EXPECT_THAT(plan_of(*wished, "cherry-10/4-rough").says, testing::Contains(HasSubstr("no board gives all of one set")));
}

TEST(RoomWiring, DamperAirMovesTheSquareAndDriesNothingElse) {
  const auto before = column(House());
  const auto after = column(changed({{"catalog/shop/woods.yaml", "dampest: 65", "dampest: 70"}}));
  ASSERT_TRUE(before.ok() && after.ok());
  EXPECT_GT(outcome(*after, "square_movement"), outcome(*before, "square_movement"));
  EXPECT_GT(outcome(*after, "out_of_round"), outcome(*before, "out_of_round"));
  for (const char* same : {"push_share", "slenderness", "boards_price", "board_feet"}) EXPECT_EQ(outcome(*after, same), outcome(*before, same)) << same;
  const auto beyond = column(changed({{"catalog/shop/woods.yaml", "dampest: 65", "dampest: 90"}}));
  ASSERT_TRUE(beyond.ok()) << "a room that the formula does not cover stops no job";
  EXPECT_THAT(joined(beyond->rule_lines, "\n"), HasSubstr("outside what the formula covers"));
  EXPECT_EQ(outcome(*beyond, "square_movement"), 0);
}

}  // namespace
}  // namespace pommel::whole
