#include <gtest/gtest.h>

#include "stock/blank.h"
#include "stock/cut_list.h"

namespace pommel::stock {
namespace {

shop::Stock board() {
  shop::Stock out;
  out.id = "cherry-12";
  out.label = "12/4 rough cherry";
  out.nominal = "12/4";
  out.thickness = 76;
  out.milling = 6;
  out.width = 200;
  out.length = 2400;
  out.count = 4;
  out.price_per_board_foot = {1000};
  return out;
}

shop::Machine machine() {
  shop::Machine out;
  out.chuck_grip = 60;
  out.centre_grip = 30;
  return out;
}

BlankWish wish(double square) {
  BlankWish out;
  out.part_length = 720;
  out.square = square;
  out.horn = 20;
  return out;
}

TEST(Blank, WasteAtChuckAndCentreIsKeptApart) {
  const auto plan = plan_blank(wish(60), board(), machine());
  ASSERT_TRUE(plan.ok());
  EXPECT_EQ(plan->blank.x0, -80);        // horn 20 + chuck 60
  EXPECT_EQ(plan->blank.x1, 750);        // centre 30
  EXPECT_EQ(plan->rough_length, 830);
  EXPECT_EQ(plan->laminations, 1);
  EXPECT_TRUE(plan->blank.flats_finished);

  shop::Machine other = machine();
  other.head_at_chuck = false;           // turned end for end: the wastes change ends
  const auto swapped = plan_blank(wish(60), board(), other);
  ASSERT_TRUE(swapped.ok());
  EXPECT_EQ(swapped->blank.x0, -50);
  EXPECT_EQ(swapped->blank.x1, 780);
}

TEST(Blank, ALargerSquareAsksForAGlueUpAndNeverShrinks) {
  ASSERT_TRUE(plan_blank(wish(70), board(), machine()).ok());  // 76 - 6: just
  const auto refused = plan_blank(wish(70.1), board(), machine());
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(render(refused.reasons()),
            "error: a square of 70.1 mm does not come out of '12/4 rough cherry': it gives 70 mm at most (76 mm measured, 6 mm "
            "for milling) [stock.needs-glue-up]\n   do: choose thicker stock, a smaller square, or say glue_up: yes\n");
}

TEST(Blank, GlueLinesKeepClearOfTheCentresUnlessAccepted) {
  BlankWish wanted = wish(90);
  wanted.allow_glue_up = true;
  const auto three = plan_blank(wanted, board(), machine());
  ASSERT_TRUE(three.ok());
  EXPECT_EQ(three->laminations, 3);
  EXPECT_EQ(three->glue_lines, (std::vector<double>{-15, 15}));
  EXPECT_EQ(three->blank.size, 90);
  wanted.accept_centre_glue_line = true;
  const auto two = plan_blank(wanted, board(), machine());
  ASSERT_TRUE(two.ok());
  EXPECT_EQ(two->glue_lines, (std::vector<double>{0}));
}

// Two halves, each as thick as half the square, whether or not the board would give the square in one piece.
TEST(Blank, HalvesAreGluedThroughTheCentresOfWhateverBoards) {
  BlankWish wanted = wish(60);
  wanted.halves = true;
  const auto refused = plan_blank(wanted, board(), machine());
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.reasons().front().id, "stock.centre-glue-line");
  wanted.allow_glue_up = wanted.accept_centre_glue_line = true;
  const auto thick = plan_blank(wanted, board(), machine());
  ASSERT_TRUE(thick.ok());
  EXPECT_EQ(thick->laminations, 2);
  EXPECT_EQ(thick->lamination_thickness, 30);
  EXPECT_EQ(thick->glue_lines, (std::vector<double>{0}));
  ASSERT_EQ(thick->notes.size(), 1u);
  EXPECT_EQ(thick->notes.front().id, "stock.thick-for-halves");
  shop::Stock thin = board();
  thin.thickness = 40;  // 34 when milled
  const auto two = plan_blank(wanted, thin, machine());
  ASSERT_TRUE(two.ok());
  EXPECT_EQ(two->laminations, 2);
  EXPECT_TRUE(two->notes.empty());
  wanted.square = 70;  // halves of 35 are two pieces each
  EXPECT_EQ(plan_blank(wanted, thin, machine())->laminations, 4);
}

// Half-diagonal rule: a round blank must hold the corners of the square, 40 x sqrt 2 = 56.57.
TEST(Blank, ARoundBlankHoldsTheSquaresCorners) {
  BlankWish wanted = wish(40);
  wanted.form = BlankWish::Form::round;
  wanted.oversize = 1;
  const auto plan = plan_blank(wanted, board(), machine());
  ASSERT_TRUE(plan.ok());
  EXPECT_EQ(plan->blank.section, shape::Blank::Section::round);
  EXPECT_NEAR(plan->blank.size, 57.5685, 1e-4);
  EXPECT_FALSE(plan->blank.flats_finished);
}

TEST(Blank, AWitnessHasItsWasteBesideTheChuckWhereBoardAndMachineAreLongEnough) {
  BlankWish wanted = wish(40);
  wanted.form = BlankWish::Form::round;
  wanted.head_run_up = 25, wanted.foot_run_up = 24, wanted.witness = 23;
  auto plan = plan_blank(wanted, board(), machine());
  ASSERT_TRUE(plan.ok());
  EXPECT_EQ(plan->blank.x0, -108);  // 25 + 23 + chuck 60
  EXPECT_EQ(plan->blank.x1, 774);
  EXPECT_TRUE(plan->notes.empty());

  shop::Machine other = machine();
  other.head_at_chuck = false;
  plan = plan_blank(wanted, board(), other);
  ASSERT_TRUE(plan.ok());
  EXPECT_EQ(plan->blank.x0, -55);
  EXPECT_EQ(plan->blank.x1, 827);

  other = machine();
  other.max_between_centres = 881;  // 882 with it
  plan = plan_blank(wanted, board(), other);
  ASSERT_TRUE(plan.ok());
  EXPECT_EQ(plan->blank.x0, -85);
  ASSERT_EQ(plan->notes.size(), 1u);
  EXPECT_EQ(render(plan->notes), "note: the blank has no waste for a witness flat: with it, it would be 882 mm long, and machine and board take 881 mm [stock.no-witness]\n"
                                 "   do: take a longer board or machine, or mark A0 well on the end grain\n");
}

frame::Set set_of(int legs, int rails) {
  frame::Set set;
  for (int i = 0; i < legs; ++i) {
    frame::Member member;
    member.spare = i == legs - 1;
    set.members.push_back(member);
  }
  frame::Rail rail;
  rail.id = "rail-front";
  rail.label = "front apron rail";
  rail.quantity = rails;
  rail.shoulder_length = 800;
  rail.overall_length = 880;
  rail.depth = 90;
  rail.thickness = 60;
  rail.tenon_length = 40;
  set.rails.push_back(rail);
  return set;
}

std::vector<TurnedBlanks> blanks(const BlankPlan& plan, const shop::Stock& of) { return {{"leg", 5, 1, wish(60), plan, of}}; }

TEST(CutList, CountsWholeBoardsAndMeasuresByTheRule) {
  shop::Rates rates;
  rates.kerf = 3;
  rates.waste = 0.2;
  rates.board_rule = shop::Rates::BoardRule::exact;
  const auto plan = plan_blank(wish(60), board(), machine());
  ASSERT_TRUE(plan.ok());
  const auto list = cut_list(set_of(5, 2), blanks(*plan, board()), board(), rates);
  ASSERT_TRUE(list.ok());
  ASSERT_EQ(list->rows.size(), 2u);
  // five blanks 66 x 830 and two rails 96 x 905 of 200 x 2400: rails in one strip (96), two blanks a strip of 66 beside it
  // (96 + 3 + 66 = 165), the third blank goes in the rails' strip? 2400 - 908 - 908 = 584 < 830: no. Three strips in board 2.
  ASSERT_EQ(list->boards.size(), 1u);
  EXPECT_EQ(list->boards[0].boards, 2);
  const double leg = 3 * (66 / 25.4) * (830 / 304.8) / 12;
  const double rail = 3 * (96 / 25.4) * (905 / 304.8) / 12;
  EXPECT_NEAR(list->boards[0].net_board_feet, 5 * leg + 2 * rail, 1e-9);
  EXPECT_NEAR(list->boards[0].bought_board_feet, 1.2 * (5 * leg + 2 * rail), 1e-9);

  rates.board_rule = shop::Rates::BoardRule::surface_measure;  // 7.874 in x 7.874 ft / 12 = 5.17: 5, x 3 = 15 BF a board
  const auto measured = cut_list(set_of(5, 2), blanks(*plan, board()), board(), rates);
  ASSERT_TRUE(measured.ok());
  EXPECT_DOUBLE_EQ(measured->boards[0].bought_board_feet, 30);
  EXPECT_EQ(measured->boards[0].amount.cents, 30000);
}

TEST(CutList, TooFewBoardsAndRailsThatDoNotFitAreRefusedAtOnce) {
  shop::Stock thin = board();
  thin.id = "cherry-4";
  thin.label = "4/4 rough cherry";
  thin.thickness = 26;
  thin.length = 850;
  const auto plan = plan_blank(wish(60), board(), machine());
  ASSERT_TRUE(plan.ok());
  const auto list = cut_list(set_of(5, 2), blanks(*plan, board()), thin, {});
  ASSERT_FALSE(list.ok());
  EXPECT_EQ(list.reasons().front().id, "stock.rail-too-thick");
  shop::Stock one = board();
  one.count = 1;
  const auto few = cut_list(set_of(5, 2), blanks(*plan, one), one, {});
  ASSERT_FALSE(few.ok());
  EXPECT_EQ(few.reasons().front().message, "'12/4 rough cherry': 2 boards are needed, 1 is on hand");
}

TEST(CutList, CsvIsQuotedAndHarmless) {
  CutList list;
  CutRow row;
  row.piece = "=cmd()";
  row.quantity = 2;
  row.stock_label = "12/4 \"best\", rough";
  row.rough_thickness = 76.2;
  row.note = "-1";
  list.rows.push_back(row);
  const std::string csv = to_csv(list, {});
  EXPECT_EQ(csv.substr(csv.find("\r\n") + 2), "'=cmd(),2,\"12/4 \"\"best\"\", rough\",76.2,0,0,1,0,0,0,0.00,'-1\r\n");
}

}  // namespace
}  // namespace pommel::stock
