// Cutting plans: against every way of sawing small boards, with defects; sets on one board; what cannot be sawn.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <numeric>
#include <random>

#include "stock/plan.h"

namespace pommel::stock {
namespace {

using shop::OneBoard;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;

PlanBoards boards(double length, double width, int count, std::int64_t cents = 1000) { return {"boards", length, width, count, 1, {cents}, false, {}}; }

// --- the slow model: whole millimetres, every subset in every strip at every place --------------------------------------

struct Model {
  bool rip_first;
  int run, stack, kerf;
  std::vector<std::pair<int, int>> pieces;  // run, stack
  std::vector<shop::Defect> defects;
  int length, width;

  bool clear(int x0, int x1, int y0, int y1) const {
    return std::none_of(defects.begin(), defects.end(), [&](const shop::Defect& d) {
      const double top = d.across_to > 0 ? d.across_to : width;
      const double bx0 = rip_first ? d.from : d.across_from, bx1 = rip_first ? d.to : top, by0 = rip_first ? d.across_from : d.from, by1 = rip_first ? top : d.to;
      return x0 < bx1 && x1 > bx0 && y0 < by1 && y1 > by0;
    });
  }

  bool fills(std::vector<std::size_t> strip, int y, int size) const {
    std::sort(strip.begin(), strip.end());
    do {
      int x = 0;
      bool fits = true;
      for (const std::size_t piece : strip) {
        while (x + pieces[piece].first <= run && !clear(x, x + pieces[piece].first, y, y + size)) ++x;
        fits = fits && x + pieces[piece].first <= run;
        x += pieces[piece].first + kerf;
      }
      if (fits) return true;
    } while (std::next_permutation(strip.begin(), strip.end()));
    return false;
  }

  bool holds(unsigned left, int from) const {
    if (left == 0) return true;
    for (unsigned some = left; some > 0; some = (some - 1) & left) {
      std::vector<std::size_t> strip;
      int size = 0;
      for (std::size_t i = 0; i < pieces.size(); ++i)
        if (some >> i & 1u) strip.push_back(i), size = std::max(size, pieces[i].second);
      for (int y = from; y + size <= stack; ++y)
        if (fills(strip, y, size) && holds(left & ~some, y + size + kerf)) return true;
    }
    return false;
  }
};

// The least cost over all ways to share the pieces among the boards; nothing when they do not fit.
std::optional<std::int64_t> least_cost(const PlanOrder& order) {
  std::vector<std::pair<int, int>> pieces;  // length, width
  for (const PlanPiece& piece : order.pieces)
    for (int n = 0; n < piece.quantity; ++n) pieces.emplace_back(static_cast<int>(piece.length), static_cast<int>(piece.width));
  const unsigned all = (1u << pieces.size()) - 1;
  const std::int64_t never = std::numeric_limits<std::int64_t>::max() / 2;
  std::vector<std::int64_t> best(all + 1, never);
  best[0] = 0;
  for (const PlanBoards& kind : order.boards) {
    std::vector<bool> fits(all + 1);
    for (unsigned some = 0; some <= all; ++some) {
      for (const bool rip : {true, false}) {
        Model model{rip, static_cast<int>(rip ? kind.length : kind.width), static_cast<int>(rip ? kind.width : kind.length), static_cast<int>(order.kerf), {}, kind.defects,
                    static_cast<int>(kind.length), static_cast<int>(kind.width)};
        for (const auto& [length, width] : pieces) model.pieces.emplace_back(rip ? length : width, rip ? width : length);
        fits[some] = fits[some] || model.holds(some, 0);
      }
    }
    for (int n = 0; n < kind.count; ++n) {
      const auto before = best;
      for (unsigned done = 0; done <= all; ++done)
        for (unsigned some = all & ~done; some > 0; some = (some - 1) & (all & ~done))
          if (fits[some]) best[done | some] = std::min(best[done | some], before[done] + kind.price_per_board_foot.cents);
    }
  }
  return best[all] >= never ? std::nullopt : std::optional(best[all]);
}

PlanOrder random_order(std::mt19937& random) {
  const auto pick = [&](int low, int high) { return static_cast<int>(low + random() % static_cast<unsigned>(high - low + 1)); };
  PlanOrder order;
  order.kerf = pick(0, 1);
  for (int kind = pick(1, 2); kind > 0; --kind) {
    order.boards.push_back(boards(pick(8, 14), pick(4, 8), pick(1, 2), pick(5, 12) * 100));
    for (int defect = pick(0, 2); defect > 0; --defect) {
      const int from = pick(0, 11), across = pick(0, 5);
      const bool whole = pick(0, 1) == 1;
      order.boards.back().defects.push_back({"knot", static_cast<double>(from), static_cast<double>(from + pick(1, 2)), whole ? 0.0 : across, whole ? 0.0 : across + 1.0});
    }
  }
  for (int piece = pick(1, 3); piece > 0; --piece) order.pieces.push_back({"piece", static_cast<double>(pick(2, 7)), static_cast<double>(pick(1, 4)), pick(1, 2)});
  return order;
}

// 0.5 s: the model tries everything there is.
TEST(Plan, SmallOrdersCostTheLeastThereIsOfAllWays) {
  std::mt19937 random(20261);
  int planned = 0, refused = 0;
  for (int i = 0; i < 250; ++i) {
    const PlanOrder order = random_order(random);
    const auto plan = plan_boards(order);
    const auto model = least_cost(order);
    ASSERT_EQ(plan.ok(), model.has_value()) << i << " " << (plan.ok() ? "" : render(plan.reasons()));
    if (!plan.ok()) { ++refused; continue; }
    ++planned;
    EXPECT_EQ(plan->cost.cents, *model) << i;
    EXPECT_TRUE(plan->proven) << i;
    EXPECT_THAT(faults_of(*plan), IsEmpty()) << i;
  }
  EXPECT_GT(planned, 100);
  EXPECT_GT(refused, 20);
}

// The other search on the same orders: never below the least cost, its bound never above it.
TEST(Plan, PatternsMadeAsNeededBoundTheLeastCost) {
  std::mt19937 random(20262);
  int at_least_cost = 0, planned = 0;
  for (int i = 0; i < 250; ++i) {
    PlanOrder order = random_order(random);
    order.effort.patterns = 0;
    const auto plan = plan_boards(order);
    const auto model = least_cost(order);
    if (!model) { EXPECT_FALSE(plan.ok()) << i; continue; }
    if (!plan.ok()) continue;  // boards so scarce that the dive found no way: it says so
    ++planned;
    EXPECT_GE(plan->cost.cents, *model) << i;
    EXPECT_LE(plan->bound.cents, *model) << i;
    EXPECT_EQ(plan->proven, plan->cost == plan->bound) << i;
    EXPECT_THAT(faults_of(*plan), IsEmpty()) << i;
    at_least_cost += plan->cost.cents == *model ? 1 : 0;
  }
  EXPECT_GE(planned, 195);
  EXPECT_GE(at_least_cost, 170);  // 176 of 199 when this was written: these boards are few and odd, which is what made patterns are worst at
}

// --- one board for a set --------------------------------------------------------------------------------------------------

// Five legs: a short board holds four for 10.00, a long one eight for 19.00 ... one of each kind and two short ones.
PlanOrder legs() {
  PlanOrder order;
  order.boards = {boards(1000, 140, 2, 900), boards(2000, 140, 1, 1900)};
  order.pieces = {{"leg", 480, 66, 5, OneBoard::no}};
  order.kerf = 4;
  return order;
}

TEST(OneBoardForASet, IsTakenWhereItCostsNothingAndSaidWhereItDoes) {
  PlanOrder order = legs();
  const auto free = plan_boards(order);
  ASSERT_TRUE(free.ok());
  EXPECT_EQ(free->cost.cents, 1800);
  order.pieces[0].one_board = OneBoard::wish;
  const auto wished = plan_boards(order);
  ASSERT_TRUE(wished.ok());
  EXPECT_EQ(wished->cost.cents, 1800);
  EXPECT_THAT(wished->says, Contains(HasSubstr("would cost 1.00 more")));
  order.boards[1].price_per_board_foot = {1800};
  const auto same = plan_boards(order);
  ASSERT_TRUE(same.ok());
  EXPECT_EQ(same->layouts.size(), 1u);
  EXPECT_THAT(same->says, Contains(HasSubstr("each set from one board")));
}

TEST(OneBoardForASet, AsARuleIsHeldOrRefused) {
  PlanOrder order = legs();
  order.pieces[0].one_board = OneBoard::rule;
  const auto held = plan_boards(order);
  ASSERT_TRUE(held.ok());
  EXPECT_EQ(held->cost.cents, 1900);
  EXPECT_EQ(held->layouts.size(), 1u);
  EXPECT_THAT(faults_of(*held), IsEmpty());
  order.boards.pop_back();
  const auto refused = plan_boards(order);
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.reasons().front().id, "stock.one-board");
}

// --- what is refused ------------------------------------------------------------------------------------------------------

TEST(Plan, SaysHowManyBoardsMoreItTakesAndWhatLiesInNone) {
  PlanOrder order = legs();
  order.pieces[0].quantity = 30;
  const auto few = plan_boards(order);
  ASSERT_FALSE(few.ok());
  EXPECT_EQ(few.reasons().front().message, "3 boards are there, 2 more are needed of 2000 x 140 mm");  // 4 + 4 + 8 of 30 are there
  order.pieces[0].length = 2001;
  const auto large = plan_boards(order);
  ASSERT_FALSE(large.ok());
  EXPECT_EQ(large.reasons().front().id, "stock.piece-too-large");
  order.pieces[0].length = -1;
  EXPECT_EQ(plan_boards(order).reasons().front().id, "stock.plan");
}

TEST(Plan, EndTrimsAndDefectsAreKeptClear) {
  PlanOrder order;
  order.end_trim = 15;
  order.kerf = 3;
  order.boards = {boards(1000, 100, 1)};
  order.pieces = {{"rail", 485, 100, 2}};  // 2 x 485 = 970 = 1000 - 2 x 15, but for the kerf
  EXPECT_FALSE(plan_boards(order).ok());
  order.pieces[0].length = 483.5;
  const auto just = plan_boards(order);
  ASSERT_TRUE(just.ok());
  EXPECT_EQ(just->layouts[0].pieces[0].x, 15);
  order.boards[0].defects = {{"knot", 480, 490, 0, 0}};
  EXPECT_FALSE(plan_boards(order).ok());
}

// --- the checker ----------------------------------------------------------------------------------------------------------

TEST(FaultsOf, SeesEachThingThatCannotBeSawn) {
  PlanOrder order;
  order.kerf = 3;
  order.end_trim = 10;
  order.boards = {boards(1000, 200, 2)};
  order.boards[0].defects = {{"knot", 900, 950, 0, 0}};
  order.pieces = {{"rail", 400, 95, 4, OneBoard::rule}};
  const auto plan = plan_boards(order);
  ASSERT_TRUE(plan.ok());
  ASSERT_THAT(faults_of(*plan), IsEmpty());
  const auto spoilt = [&](auto spoil) {
    CuttingPlan other = *plan;
    spoil(other);
    return faults_of(other);
  };
  EXPECT_THAT(spoilt([](CuttingPlan& p) { p.layouts[0].pieces[1].x -= 1; }), Contains(HasSubstr("nearer than a kerf")));
  EXPECT_THAT(spoilt([](CuttingPlan& p) { p.layouts[0].pieces[0].x -= 1; }), Contains(HasSubstr("lies outside")));
  EXPECT_THAT(spoilt([](CuttingPlan& p) { p.layouts[0].pieces[1].x += 100; }), Contains(HasSubstr("holds the defect")));
  EXPECT_THAT(spoilt([](CuttingPlan& p) { p.layouts[0].pieces[0].width = 94; }), Contains(HasSubstr("too small")));
  EXPECT_THAT(spoilt([](CuttingPlan& p) { p.layouts[0].pieces.pop_back(); }), Contains(HasSubstr("is cut 3 times, wanted 4")));
  EXPECT_THAT(spoilt([](CuttingPlan& p) { p.cost.cents += 1; }), Contains(HasSubstr("the plan says")));
  EXPECT_THAT(spoilt([](CuttingPlan& p) { p.bound.cents += 1; }), Contains(HasSubstr("above the cost")));
  EXPECT_THAT(spoilt([](CuttingPlan& p) { p.layouts.push_back(p.layouts[0]), p.layouts.push_back(p.layouts[0]); }), Contains(HasSubstr("are taken, 2 are there")));
  EXPECT_THAT(spoilt([](CuttingPlan& p) {
    p.layouts.push_back(p.layouts[0]);
    p.layouts[0].pieces.resize(2);
    p.layouts[1].pieces.erase(p.layouts[1].pieces.begin(), p.layouts[1].pieces.begin() + 2);
  }), Contains(HasSubstr("comes from 2 boards")));
}

// Four pieces round a middle, a pinwheel: nothing overlaps, and no cut goes from edge to edge.
TEST(FaultsOf, SeesAPinwheelThatNoSawCuts) {
  CuttingPlan plan;
  plan.boards = {boards(300, 300, 1)};
  plan.pieces = {{"long", 200, 100, 2}, {"tall", 100, 200, 2}};
  PlannedBoard layout;
  layout.pieces = {{0, 0, 0, 200, 100}, {1, 200, 0, 100, 200}, {0, 100, 200, 200, 100}, {1, 0, 100, 100, 200}};
  plan.layouts = {layout};
  plan.cost = plan.bound = {1000};
  EXPECT_THAT(faults_of(plan), testing::ElementsAre("board 0: it cannot be sawn by ripping first"));
}

}  // namespace
}  // namespace pommel::stock
