#include "frame/table.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>

#include "frame/kinds.h"
#include "frame/tables.h"

namespace pommel::frame {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Set joined_set(const Table& table, double head = kHead) {
  Result<Set> set = join_table(table, leg_for(table, head), kChisels);
  EXPECT_TRUE(set.ok()) << (set.ok() ? "" : render(set.reasons()));
  return set.ok() ? *set : Set{};
}

std::vector<Diagnostic> refused(const Table& table, double head = kHead) {
  Result<Set> set = join_table(table, leg_for(table, head), kChisels);
  EXPECT_FALSE(set.ok());
  return set.ok() ? std::vector<Diagnostic>{} : set.reasons();
}

TEST(Stand, FacesLookWhereTheHeaderSays) {
  struct Case { int quarters; Spot a, b; };
  const Case cases[] = {{0, {0, -1, 0}, {-1, 0, 0}}, {1, {1, 0, 0}, {0, -1, 0}}, {2, {0, 1, 0}, {1, 0, 0}}, {3, {-1, 0, 0}, {0, 1, 0}}};
  for (const Case& one : cases) {
    const Stand stand{{0, 0, 0}, one.quarters};
    EXPECT_EQ(in_room(stand, 0, 1, 0), one.a) << one.quarters;
    EXPECT_EQ(in_room(stand, 0, 0, 1), one.b) << one.quarters;
    // x, A and B are a right-handed three: A x B = x, and x looks down
    EXPECT_EQ(in_room(stand, 1, 0, 0), (Spot{0, 0, -1}));
    EXPECT_EQ(one.a.x * one.b.y - one.a.y * one.b.x, -1);
  }
}

TEST(Table, MembersRailsAndMortisesOfADiningTable) {
  const Set set = joined_set(dining_table());
  ASSERT_EQ(set.members.size(), 5u);
  const char* const expected[] = {"leg-front-left", "leg-front-right", "leg-back-left", "leg-back-right", "spare-1"};
  for (std::size_t i = 0; i < 5; ++i) EXPECT_EQ(set.members[i].id, expected[i]);
  EXPECT_TRUE(set.members[4].spare);
  EXPECT_THAT(set.members[4].part.mortises, IsEmpty());

  // worked by hand: 1600 - 2 x 50 - 2 x 60 = 1380, and 32 of tenon at each end; 900 - 2 x 40 - 2 x 60 = 700
  EXPECT_EQ(rail(set, "rail-front").shoulder_length, 1380);
  EXPECT_EQ(rail(set, "rail-front").overall_length, 1444);
  EXPECT_EQ(rail(set, "rail-left").shoulder_length, 700);
  EXPECT_EQ(rail(set, "rail-left").overall_length, 764);
  EXPECT_EQ(rail(set, "rail-left").tenon_width, 80);

  // front rail in face D: middle 18 from the outer face A, which is at +30; 8 wide by a third of 24; 32 + 1.5 deep
  const shape::Mortise& front = mortise(member(set, "leg-front-left"), "front");
  EXPECT_EQ(front.mate, "rail-front");
  EXPECT_EQ(front.phi, 1.5 * kPi);
  EXPECT_EQ(front.x0, 15);
  EXPECT_EQ(front.x1, 95);
  EXPECT_EQ(front.t0, 8);
  EXPECT_EQ(front.t1, 16);
  EXPECT_EQ(front.depth, 33.5);
  EXPECT_EQ(front.corner_radius, 0);
  const shape::Mortise& left = mortise(member(set, "leg-front-left"), "left");
  EXPECT_EQ(left.phi, kPi);
  EXPECT_EQ(left.t0, -16);
  EXPECT_EQ(left.t1, -8);
}

TEST(Table, LegTakesWhatTopAndGlidesLeave) {
  Table table = dining_table();
  table.glide_height = 6;
  EXPECT_EQ(leg_length(table), 722);
  const Set set = joined_set(table);
  EXPECT_EQ(member(set, "leg-back-left").stand.head, (Spot{-720, 380, 728}));
  EXPECT_EQ(member(set, "leg-front-right").stand.head, (Spot{720, -380, 728}));
}

TEST(Table, DropHaunchRoundEndsAndHornPassThrough) {
  Table table = dining_table();
  table.long_rail.drop = 4;
  table.long_rail.top_shoulder = 20;
  table.long_rail.haunch_length = 20;
  table.long_rail.haunch_depth = 10;
  table.mortise_end = MortiseEnd::round;
  table.horn = 20;
  const Set set = joined_set(table);
  const shape::Mortise& back = mortise(member(set, "leg-back-left"), "back");
  EXPECT_EQ(back.x0, 24);
  EXPECT_EQ(back.x1, 99);
  EXPECT_EQ(back.haunch_length, 20);
  EXPECT_EQ(back.haunch_depth, 10);
  EXPECT_EQ(back.corner_radius, 4);
  EXPECT_EQ(member(set, "leg-back-left").horn, 20);
  EXPECT_EQ(member(set, "spare-1").horn, 20);
  EXPECT_EQ(member(set, "leg-back-left").part.length, leg_length(table));
}

TEST(Table, EqualRailsMakeOneJointedPieceAndOneTurning) {
  const Set set = joined_set(dining_table());
  ASSERT_EQ(set.turned_kinds.size(), 1u);
  ASSERT_EQ(set.jointed_kinds.size(), 1u);
  EXPECT_EQ(set.turned_kinds[0].members.size(), 5u);
  EXPECT_EQ(set.turned_kinds[0].reason,
            "front left, front right, back left, back right and one spare: one turning and one program, because joints are cut after it");
  EXPECT_EQ(set.jointed_kinds[0].reason,
            "front left, front right, back left and back right are the same piece, turned about its axis (from above, against front "
            "left): front right turned by a quarter counter-clockwise, back left turned by a quarter clockwise, back right turned by a "
            "half turn");
  EXPECT_THAT(set.jointed_kinds[0].quarters, ElementsAre(0, 0, 0, 0));
  for (const Member& one : set.members) EXPECT_EQ(one.hand, "");
}

TEST(Table, UnequalRailsMakeTwoJointedPiecesAndOneTurning) {
  Table table = dining_table();
  table.short_rail.depth = 90;
  const Set set = joined_set(table);
  EXPECT_EQ(set.turned_kinds.size(), 1u);
  ASSERT_EQ(set.jointed_kinds.size(), 2u);
  EXPECT_THAT(set.jointed_kinds[0].members, ElementsAre("leg-front-left", "leg-back-right"));
  EXPECT_THAT(set.jointed_kinds[1].members, ElementsAre("leg-front-right", "leg-back-left"));
  EXPECT_EQ(set.jointed_kinds[0].reason,
            "front left and back right are the same piece, turned about its axis (from above, against front left): back right turned "
            "by a half turn");
  EXPECT_EQ(set.jointed_kinds[1].reason,
            "front right and back left are the same piece, turned about its axis (from above, against front right): back left turned "
            "by a half turn; it is the mirror image of front left and back right, which no quarter turn brings together, because long "
            "and short side differ in where the tenon ends (95 mm and 75 mm)");
  EXPECT_EQ(member(set, "leg-front-left").hand, "left");
  EXPECT_EQ(member(set, "leg-back-right").hand, "left");
  EXPECT_EQ(member(set, "leg-front-right").hand, "right");
  EXPECT_EQ(member(set, "leg-back-left").jointed_kind, 1);
}

Table drawer_table() {
  Table table = dining_table();
  DrawerFront drawer;
  drawer.upper = apron(20, 45, 4, 15);
  drawer.upper.top_shoulder = 0;
  drawer.upper.bottom_shoulder = 5;
  drawer.upper.tenon_rule = TenonRule::given;
  drawer.upper.tenon_thickness = 12;
  drawer.lower = apron(20, 45, 4, 30);
  drawer.lower.drop = 90;
  drawer.lower.top_shoulder = drawer.lower.bottom_shoulder = 3;
  drawer.lower.tenon_rule = TenonRule::given;
  drawer.lower.tenon_thickness = 12;
  table.drawer = drawer;
  return table;
}

TEST(Table, DrawerFrontHasTwoRailsAndTwoMortisesOnThatFace) {
  const Set set = joined_set(drawer_table());
  const Member& left = member(set, "leg-front-left");
  ASSERT_EQ(left.part.mortises.size(), 3u);
  EXPECT_EQ(mortise(left, "front-upper").x0, 0);
  EXPECT_EQ(mortise(left, "front-upper").x1, 15);
  EXPECT_EQ(mortise(left, "front-upper").depth, 16.5);
  EXPECT_EQ(mortise(left, "front-lower").x0, 93);
  EXPECT_EQ(mortise(left, "front-lower").x1, 107);
  // 30 - (4 + 22.5) = 3.5 inwards of the axis towards A
  EXPECT_EQ(mortise(left, "front-lower").t0, -2.5);
  EXPECT_EQ(mortise(left, "front-lower").t1, 9.5);
  EXPECT_EQ(member(set, "leg-back-left").part.mortises.size(), 2u);
  EXPECT_EQ(rail(set, "rail-front-lower").shoulder_length, 1380);
  EXPECT_EQ(rail(set, "rail-front-upper").overall_length, 1410);

  // the back rails are equal, so both back legs are one piece; the front legs are mirror images
  ASSERT_EQ(set.jointed_kinds.size(), 3u);
  EXPECT_THAT(set.jointed_kinds[0].members, ElementsAre("leg-front-left"));
  EXPECT_THAT(set.jointed_kinds[1].members, ElementsAre("leg-front-right"));
  EXPECT_THAT(set.jointed_kinds[2].members, ElementsAre("leg-back-left", "leg-back-right"));
  EXPECT_THAT(set.jointed_kinds[1].reason, HasSubstr("front right is like no other; it is the mirror image of front left"));
  EXPECT_EQ(set.turned_kinds.size(), 1u);
}

TEST(Table, DrawerFrontWithUnequalRailsMakesFourJointedPieces) {
  Table table = drawer_table();
  table.short_rail.set_back = 8;
  EXPECT_EQ(joined_set(table).jointed_kinds.size(), 4u);
}

// A leg tapered on its two inner faces keeps its tapers inside in all four places, because C and D look inwards everywhere.
TEST(Table, TapersOnTheInnerFacesStayInside) {
  const Table table = dining_table();
  shape::Part leg = leg_for(table, kHead);
  for (const std::size_t face : {2u, 3u}) {
    leg.faces[face].d.pieces = {shape::line_piece(0, 30, 200, 30), shape::line_piece(200, 30, leg.length, 12)};
  }
  const Result<Set> set = join_table(table, leg, kChisels);
  ASSERT_TRUE(set.ok()) << render(set.reasons());
  EXPECT_EQ(set->turned_kinds.size(), 1u);
  EXPECT_EQ(set->jointed_kinds.size(), 1u);
  EXPECT_FALSE(has_note(*set, "frame.leg-handed"));
  for (std::size_t i = 0; i < 4; ++i) {
    const Stand& stand = set->members[i].stand;
    const Spot c = in_room(stand, 0, -1, 0), d = in_room(stand, 0, 0, -1);
    EXPECT_LT(std::abs(c.x) + std::abs(c.y), std::abs(stand.head.x) + std::abs(stand.head.y));
    EXPECT_LT(std::abs(d.x) + std::abs(d.y), std::abs(stand.head.x) + std::abs(stand.head.y));
  }
}

TEST(Table, OneTaperedFaceIsSaidToBeHanded) {
  const Table table = dining_table();
  shape::Part leg = leg_for(table, kHead);
  leg.faces[3].d.pieces = {shape::line_piece(0, 30, 200, 30), shape::line_piece(200, 30, leg.length, 12)};
  const Result<Set> set = join_table(table, leg, kChisels);
  ASSERT_TRUE(set.ok()) << render(set.reasons());
  EXPECT_TRUE(has_note(*set, "frame.leg-handed"));
}

TEST(Table, TenonThicknessFollowsItsRuleAndTheChisels) {
  struct Case { TenonRule rule; double given; double expected; bool rounded; };
  const Case cases[] = {{TenonRule::third_of_rail, 0, 8, false},   // 24/3
                        {TenonRule::half_of_rail, 0, 12, false},   // 24/2
                        {TenonRule::third_of_leg, 0, 12, true},    // 60/3 = 20, 12 is the widest on hand
                        {TenonRule::given, 9.5, 8, true}};
  for (const Case& one : cases) {
    Table table = dining_table();
    table.long_rail.tenon_rule = one.rule;
    table.long_rail.tenon_thickness = one.given;
    const Set set = joined_set(table);
    EXPECT_EQ(rail(set, "rail-back").tenon_thickness, one.expected) << word(one.rule);
    EXPECT_EQ(has_note(set, "frame.tenon-rounded"), one.rounded) << word(one.rule);
  }
}

// Long tenons of 8 mm with their middles 18 from the outer face: free for 60 - 18 - 4 = 38.
Table meeting_table(Remedy remedy) {
  Table table = dining_table();
  table.long_rail.tenon_length = table.short_rail.tenon_length = 40;
  table.remedy = remedy;
  return table;
}

TEST(Meet, EachRemedyWorkedByHand) {
  struct Case { Remedy remedy; double long_tenon, short_tenon, offset; bool meet, mitred; };
  const Case cases[] = {
      {Remedy::mitred, 40, 40, 0, true, true},                    // a mitre could be 38 + 8 = 46 long
      {Remedy::one_long_one_short, 40, 31.5, 0, false, false},    // 38 - 5 of wall - 1.5 of relief
      {Remedy::shorter, 31.5, 31.5, 0, false, false},
      {Remedy::moved_outward, 40, 40, 8, false, false}};          // 40 + 1.5 + 5 - 38 = 8.5 is more than (24 - 8)/2: below
  for (Case one : cases) {
    Table table = meeting_table(one.remedy);
    if (one.remedy == Remedy::moved_outward) table.least_wall = 4.5;  // 8, bare-faced
    const Set set = joined_set(table);
    const Rail& front = rail(set, "rail-front");
    const Rail& left = rail(set, "rail-left");
    EXPECT_DOUBLE_EQ(front.tenon_length, one.long_tenon) << word(one.remedy);
    EXPECT_DOUBLE_EQ(left.tenon_length, one.short_tenon) << word(one.remedy);
    EXPECT_DOUBLE_EQ(front.tenon_offset, one.offset) << word(one.remedy);
    EXPECT_DOUBLE_EQ(left.tenon_offset, one.offset) << word(one.remedy);
    EXPECT_EQ(front.mitred, one.mitred);
    EXPECT_EQ(left.mitred, one.mitred);
    EXPECT_TRUE(has_note(set, "frame.tenons-meet"));
    for (const JointReport& joint : set.joints) {
      EXPECT_EQ(joint.tenons_meet, one.meet) << word(one.remedy);
      EXPECT_EQ(joint.remedy, word(one.remedy));
    }
    // no remedy makes equal rails unequal, but for the one that says so
    EXPECT_EQ(set.jointed_kinds.size(), one.remedy == Remedy::one_long_one_short ? 2u : 1u);
  }
}

TEST(Meet, AMitreEndsAtTheOthersFarCheek) {
  Table table = meeting_table(Remedy::mitred);
  table.long_rail.tenon_length = table.short_rail.tenon_length = 52;
  const Set set = joined_set(table);
  EXPECT_DOUBLE_EQ(rail(set, "rail-front").tenon_length, 46);
  EXPECT_DOUBLE_EQ(rail(set, "rail-front").overall_length, 1380 + 92);
  EXPECT_DOUBLE_EQ(mortise(member(set, "leg-front-left"), "front").depth, 47.5);
}

TEST(Meet, ReportSaysHowFarTheyWereClear) {
  const Set set = joined_set(meeting_table(Remedy::mitred));
  const auto note = std::find_if(set.notes.begin(), set.notes.end(), [](const auto& n) { return n.id == "frame.tenons-meet"; });
  ASSERT_NE(note, set.notes.end());
  // 2 x 2 x 80 in common
  EXPECT_EQ(note->message,
            "the tenons of the long rail and the short rail meet in the leg: they are 40 mm and 40 mm long and clear of one another to "
            "38 mm and 38 mm (320 mm³ in common); their ends are mitred, at most 40 mm (long rail) and 40 mm (short rail) long");
}

TEST(Meet, OnlyTheReliefBreaksThrough) {
  Table table = dining_table();
  table.long_rail.tenon_length = table.short_rail.tenon_length = 37;
  const Set set = joined_set(table);
  EXPECT_TRUE(has_note(set, "frame.relief-breaks-through"));
  EXPECT_FALSE(rail(set, "rail-front").mitred);
  EXPECT_FALSE(set.joints[0].tenons_meet);
}

TEST(Meet, MortisesThatOnlyTouchArePartedToo) {
  Table table = meeting_table(Remedy::mitred);
  table.relief = 0;
  table.long_rail.tenon_length = table.short_rail.tenon_length = 38;
  EXPECT_FALSE(joined_set(table).joints[0].tenons_meet);
  table.remedy = Remedy::shorter;
  EXPECT_DOUBLE_EQ(rail(joined_set(table), "rail-front").tenon_length, 33);
  table.least_wall = 0;  // nothing to stop short of
  const auto reasons = refused(table);
  EXPECT_EQ(reasons[0].id, "frame.tenons-still-meet");
  EXPECT_EQ(reasons[0].message, "the mortises of the long rail and the short rail still meet when the tenons are shorter");
  EXPECT_EQ(reasons[0].remedy, "ask for more wall between them, choose another remedy, or make a haunch shallower");
}

TEST(Meet, RailsAtDifferentHeightsDoNotMeet) {
  Table table = meeting_table(Remedy::mitred);
  table.long_rail.depth = 60;                                   // tenon from 15 to 45
  table.short_rail.drop = 50;
  table.short_rail.depth = 60;                                  // tenon from 65 to 95
  const Set set = joined_set(table);
  EXPECT_FALSE(has_note(set, "frame.tenons-meet"));
  EXPECT_FALSE(set.joints[0].tenons_meet);
}

TEST(Meet, WhenARemedyCannotHelpItSaysByHowMuch) {
  Table table = meeting_table(Remedy::moved_outward);
  table.least_wall = 5;
  const auto reasons = refused(table);
  EXPECT_THAT(ids(reasons), Contains("frame.tenons-still-meet"));
  EXPECT_EQ(reasons[0].message,
            "the long rail's tenon would have to move 8.5 mm towards the leg's outer face, and the rail lets it move 8 mm only");
  EXPECT_EQ(reasons[0].remedy, "shorten the tenons by 0.5 mm or more, or mitre them");
}

TEST(Walls, WorkedByHand) {
  // rails set back 6: outer cheek of the tenon at 6 + 8 = 14 from the outer face; 33.5 deep leaves 26.5 opposite;
  // 38 - 33.5 = 4.5 both ways to the other mortise: across the corner sqrt(2) x 4.5 = 6.364; 15 to the head
  EXPECT_NEAR(joined_set(dining_table()).joints[0].least_wall, std::sqrt(2.0) * 4.5, 1e-9);

  // thin to the outer face: flush rails with 12 mm tenons: (24 - 12)/2 = 6; the corner: 60 - 12 - 6 - 31.5 = 10.5
  Table flush = dining_table();
  flush.long_rail = apron(110, 24, 0, 30);
  flush.long_rail.tenon_rule = TenonRule::half_of_rail;
  flush.short_rail = flush.long_rail;
  EXPECT_NEAR(joined_set(flush).joints[0].least_wall, 6, 1e-9);
  EXPECT_THAT(joined_set(flush).joints[0].text,
              HasSubstr("least wall 6 mm, from the long rail's mortise to the face beside it; the tenons do not meet"));

  // a deep one: 60 - 50 - 1.5 = 8.5 opposite, with the rails one above the other so that nothing else is nearer
  Table deep = dining_table();
  deep.long_rail = apron(40, 24, 6, 50);
  deep.long_rail.bottom_shoulder = 5;
  deep.short_rail = deep.long_rail;
  deep.short_rail.drop = 60;
  EXPECT_NEAR(joined_set(deep).joints[0].least_wall, 8.5, 1e-9);
}

TEST(Walls, NearThePommelTheRoundRules) {
  Table table = dining_table();
  // flush rails whose tenons end 1 mm above the pommel at 110: the mouth's outer edge is 24 from the face's middle; the
  // pommel falls from 42.426 at 110 to 27 at 124
  table.long_rail = apron(110, 24, 0, 20);
  table.long_rail.bottom_shoulder = 1;
  table.long_rail.tenon_rule = TenonRule::half_of_rail;
  table.short_rail = table.long_rail;
  const Set set = joined_set(table, 110);
  // going down from the mouth's outer corner, the pommel comes in along the mouth's face: at x its edge there is
  // sqrt(r² - 30²) from the face's middle, and the wall is the least way from (109, 24) to that edge
  double distance = 1e300;
  for (double x = 110; x < 124; x += 1e-4) {
    const double r = 60 / std::numbers::sqrt2 + (x - 110) / 14 * (27 - 60 / std::numbers::sqrt2);
    if (r > 30) distance = std::min(distance, std::hypot(x - 109, std::sqrt(r * r - 900) - 24));
  }
  EXPECT_NEAR(set.joints[0].least_wall, distance, 0.01);
  EXPECT_TRUE(has_note(set, "frame.thin-wall"));
  EXPECT_THAT(set.joints[0].text, HasSubstr("to the round at"));
}

TEST(Errors, EachWithItsNumbersAndWhatToDo) {
  struct Case {
    std::string id;
    std::function<void(Table&)> spoil;
    std::string message, remedy;
  };
  const double nan = std::nan("");
  const std::vector<Case> cases = {
      {"frame.not-a-number", [=](Table& t) { t.short_rail.drop = nan; }, "the short rail's drop is not a number",
       "look at the formula that gives it"},
      {"frame.measure-out-of-range", [](Table& t) { t.width = -900; }, "the table's width is -900 mm and must be more than nothing",
       "give it another value"},
      {"frame.measure-out-of-range", [](Table& t) { t.relief = -1; },
       "the table's relief at the bottom of a mortise is -1 mm and must not be less than nothing", "give it another value"},
      {"frame.measure-out-of-range", [](Table& t) { t.spares = -1; }, "the number of spares is -1", "give a number from 0 to 100"},
      {"frame.head-too-short", [](Table& t) { t.head_length = 130; },
       "the leg is square for 125 mm from the head, and 130 mm are asked for", "make the square stretch longer"},
      {"frame.legs-overlap", [](Table& t) { t.length = 220; },
       "the long rails would have no length: a top 220 mm long, overhangs of 50 mm and two legs of 60 mm leave nothing between",
       "make the table longer or the overhang less"},
      {"frame.no-cutter", [](Table& t) { t.long_rail.thickness = 12; },
       "the long rail's tenon is 4 mm thick by a third of the rail's 12 mm, and the narrowest chisel or cutter on hand is 5 mm",
       "list a narrower cutter, or make the tenon thicker"},
      {"frame.tenon-too-thick",
       [](Table& t) { t.short_rail.thickness = 12; t.short_rail.tenon_rule = TenonRule::third_of_leg; },
       "the short rail's tenon is 12 mm thick and the rail only 12 mm",
       "make the rail thicker, or choose a rule that gives a thinner tenon"},
      {"frame.shoulders-too-wide", [](Table& t) { t.long_rail.top_shoulder = 95; },
       "the long rail's shoulders of 95 mm and 15 mm leave no tenon on a rail 110 mm deep",
       "make the shoulders narrower or the rail deeper"},
      {"frame.haunch", [](Table& t) { t.long_rail.haunch_length = 16; t.long_rail.haunch_depth = 8; },
       "the long rail's haunch is 16 mm long, and the top shoulder 15 mm",
       "make the haunch at most as long as the shoulder that it stands in"},
      {"frame.haunch", [](Table& t) { t.long_rail.haunch_length = 10; t.long_rail.haunch_depth = 32; },
       "the long rail's haunch goes 32 mm into the leg, and its tenon only 32 mm", "make the haunch shallower than the tenon is long"},
      {"frame.rail-past-leg", [](Table& t) { t.short_rail.set_back = 37; },
       "the short rail is set back 37 mm and 24 mm thick: that carries it past the inner face of a leg 60 mm square",
       "make the rail thinner, or set it back less"},
      {"frame.rail-deeper-than-square", [](Table& t) { t.long_rail.depth = 126; },
       "the long rail's lower edge is 126 mm below the head, and the leg is square for 125 mm only",
       "make the square stretch at least 126 mm long, or the rail shallower"},
      {"frame.mortise-at-head", [](Table& t) { t.short_rail.top_shoulder = 0; },
       "the short rail's mortise begins at the leg's head and would be open there",
       "give the rail a drop or a top shoulder; a haunch may fill the shoulder"},
      {"frame.mortise-through-leg", [](Table& t) { t.long_rail.tenon_length = 60; t.short_rail.drop = 100; t.short_rail.depth = 25;
                                                   t.short_rail.top_shoulder = t.short_rail.bottom_shoulder = 2; },
       "the long rail's mortise, 61.5 mm deep, goes through the leg by 1.5 mm at 15 mm from the head",
       "make the tenon shorter than 58.5 mm, or the leg thicker"},
  };
  for (const Case& one : cases) {
    Table table = dining_table();
    one.spoil(table);
    const auto reasons = refused(table);
    const auto found = std::find_if(reasons.begin(), reasons.end(), [&](const Diagnostic& d) { return d.id == one.id; });
    ASSERT_NE(found, reasons.end()) << one.id << "\n" << render(reasons);
    EXPECT_EQ(found->message, one.message);
    EXPECT_EQ(found->remedy, one.remedy);
    EXPECT_EQ(found->severity, Severity::error);
  }
}

TEST(Errors, AHundredSparesAtMost) {
  Table table = dining_table();
  table.spares = 100;
  EXPECT_EQ(joined_set(table).members.size(), 104u);
  table.spares = 101;
  const auto reasons = refused(table);
  ASSERT_FALSE(reasons.empty());
  EXPECT_EQ(reasons.front().message, "the number of spares is 101");
}

TEST(Errors, AMortiseThatLeavesTheSquareOrRunsIntoTheRound) {
  Table table = dining_table();
  table.long_rail.set_back = 60;
  EXPECT_THAT(ids(refused(table)), Contains("frame.mortise-out-of-square"));

  Table low = dining_table();
  low.long_rail.depth = 140;
  low.long_rail.set_back = 0;
  const auto reasons = refused(low);
  EXPECT_THAT(ids(reasons), Contains("frame.rail-deeper-than-square"));
  low.long_rail.depth = 150;  // the tenon ends at 135, ten below the square, where the pommel has taken the corners
  EXPECT_THAT(ids(refused(low)), Contains("frame.mortise-in-round"));
}

TEST(Errors, DrawerRails) {
  Table table = drawer_table();
  table.drawer->upper.drop = 5;
  table.drawer->lower.drop = 25;
  const auto reasons = refused(table);
  EXPECT_THAT(ids(reasons), ElementsAre("frame.drawer-rails", "frame.drawer-rails"));
  EXPECT_EQ(reasons[1].message,
            "the lower drawer rail begins 25 mm below the head, and the upper one ends at 25 mm: no drawer goes between");
}

TEST(Errors, TheLegIsHeldAgainstTheTable) {
  const Table table = dining_table();
  shape::Part longer = turned_leg(leg_length(table) + 50, 60, kHead);
  Result<Set> set = join_table(table, longer, kChisels);
  ASSERT_FALSE(set.ok());
  EXPECT_EQ(set.reasons()[0].message,
            "the leg is 778 mm long, and a table 750 mm high with a top of 22 mm and glides of 0 mm leaves it 728 mm");

  set = join_table(table, turned_leg(728, 55, kHead), kChisels);
  ASSERT_FALSE(set.ok());
  EXPECT_THAT(ids(set.reasons()), Contains("frame.leg-not-square"));

  shape::Part jointed = leg_for(table, kHead);
  jointed.mortises.push_back({"own", "", kPi, 20, 40, -4, 4, 10, 0, 0, 0});
  set = join_table(table, jointed, kChisels);
  ASSERT_FALSE(set.ok());
  EXPECT_THAT(ids(set.reasons()), ElementsAre("frame.leg-has-mortises"));

  set = join_table(table, shape::Part{}, kChisels);
  EXPECT_FALSE(set.ok());
  set = join_table(table, leg_for(table, kHead), {});
  ASSERT_FALSE(set.ok());
  EXPECT_THAT(set.reasons()[0].message, HasSubstr("no chisel or cutter for mortises is on hand"));
}

TEST(Errors, AllAtOnce) {
  Table table = dining_table();
  table.head_length = 200;
  table.long_rail.depth = 300;
  table.short_rail.thickness = 9;
  table.short_rail.haunch_length = 40;
  table.short_rail.haunch_depth = 5;
  EXPECT_THAT(ids(refused(table)), ElementsAre("frame.head-too-short", "frame.rail-deeper-than-square", "frame.no-cutter", "frame.haunch"));
  Table numbers = dining_table();
  numbers.length = numbers.long_rail.depth = std::numeric_limits<double>::infinity();
  numbers.square = 0;
  EXPECT_THAT(ids(refused(numbers)), ElementsAre("frame.not-a-number", "frame.measure-out-of-range", "frame.not-a-number"));
}

TEST(Notes, ProportionsAndDrawers) {
  Table table = dining_table();
  table.long_rail.tenon_length = 20;
  EXPECT_TRUE(has_note(joined_set(table), "frame.tenon-length"));
  EXPECT_FALSE(has_note(joined_set(dining_table()), "frame.tenon-length"));
  EXPECT_TRUE(has_note(joined_set(dining_table()), "frame.tenon-width"));  // 80 wide, 8 thick
  table = dining_table();
  table.long_rail.thickness = 14;
  table.long_rail.tenon_rule = TenonRule::given;
  table.long_rail.tenon_thickness = 8;
  EXPECT_FALSE(has_note(joined_set(dining_table()), "frame.thin-shoulder"));
  EXPECT_TRUE(has_note(joined_set(table), "frame.thin-shoulder"));  // 3 mm
  table = drawer_table();
  EXPECT_FALSE(has_note(joined_set(table), "frame.horn-and-drawer"));
  table.horn = 15;
  EXPECT_TRUE(has_note(joined_set(table), "frame.horn-and-drawer"));
}

TEST(Words, GoBothWays) {
  for (const std::string& one : tenon_rule_words()) EXPECT_EQ(word(*tenon_rule(one)), one);
  for (const std::string& one : remedy_words()) EXPECT_EQ(word(*remedy(one)), one);
  for (const std::string& one : mortise_end_words()) EXPECT_EQ(word(*mortise_end(one)), one);
  EXPECT_EQ(tenon_rule("a third"), std::nullopt);
  EXPECT_EQ(word(Remedy::moved_outward), "moved outward");
  EXPECT_EQ(word(TenonRule::given), "given");
}

TEST(SquareStretch, IsWhereTheCornersAndFacesAreWhole) {
  EXPECT_NEAR(square_stretch(turned_leg(700, 60, 125), 60), 125, 1e-5);
  EXPECT_EQ(square_stretch(turned_leg(700, 60, 125), 58), 0);
  shape::Part leg = turned_leg(700, 60, 125);
  leg.faces[2].d.pieces = {shape::line_piece(0, 30, 80, 30), shape::line_piece(80, 30, 700, 20)};
  EXPECT_NEAR(square_stretch(leg, 60), 80, 1e-3);
  shape::Part octagonal = turned_leg(700, 60, 125);  // its bevels come in from 90 mm on: no eight-sided leg had a square head once
  for (int eighth : {1, 3, 5, 7}) {
    shape::Face bevel;
    bevel.phi = eighth * kPi / 4;
    bevel.d.pieces = {shape::clear_piece(0, 90), shape::line_piece(90, 42.5, 100, 30), shape::line_piece(100, 30, 700, 20)};
    octagonal.faces.push_back(bevel);
  }
  EXPECT_NEAR(square_stretch(octagonal, 60), 90, 0.1);
  leg.faces.pop_back();
  EXPECT_EQ(square_stretch(leg, 60), 0);
}

TEST(Dump, OfASet) {
  Table table = meeting_table(Remedy::mitred);
  table.spares = 1;
  table.short_rail.depth = 90;
  table.long_rail.haunch_length = 15;
  table.long_rail.haunch_depth = 10;
  const std::string expected = R"(member leg-front-left: front left, hand left, turned kind 0, jointed kind 0, horn 0, head at (-720, -380, 728), quarters 0
  mortise front for rail-front: phi 4.71238898, x 15 .. 95, t 8 .. 16, depth 41.5, corner 0, haunch 15 x 10
  mortise left for rail-left: phi 3.141592654, x 15 .. 75, t -16 .. -8, depth 41.5, corner 0, haunch 0 x 0
member leg-front-right: front right, hand right, turned kind 0, jointed kind 1, horn 0, head at (720, -380, 728), quarters 1
  mortise front for rail-front: phi 3.141592654, x 15 .. 95, t -16 .. -8, depth 41.5, corner 0, haunch 15 x 10
  mortise right for rail-right: phi 4.71238898, x 15 .. 75, t 8 .. 16, depth 41.5, corner 0, haunch 0 x 0
member leg-back-left: back left, hand right, turned kind 0, jointed kind 1, horn 0, head at (-720, 380, 728), quarters 3
  mortise back for rail-back: phi 3.141592654, x 15 .. 95, t -16 .. -8, depth 41.5, corner 0, haunch 15 x 10
  mortise left for rail-left: phi 4.71238898, x 15 .. 75, t 8 .. 16, depth 41.5, corner 0, haunch 0 x 0
member leg-back-right: back right, hand left, turned kind 0, jointed kind 0, horn 0, head at (720, 380, 728), quarters 2
  mortise back for rail-back: phi 4.71238898, x 15 .. 95, t 8 .. 16, depth 41.5, corner 0, haunch 15 x 10
  mortise right for rail-right: phi 3.141592654, x 15 .. 75, t -16 .. -8, depth 41.5, corner 0, haunch 0 x 0
member spare-1: spare, turned kind 0, spare
rail rail-front: 1 x, leg-front-left to leg-front-right, section 110 x 24, shoulders 1380, overall 1460
  tenon 80 x 8 x 40, offset 0, haunch 15 x 10, mitred
  drop 0, set back 6, top shoulder 15, bottom shoulder 15, from (-690, -392, 673) to (690, -392, 673)
rail rail-back: 1 x, leg-back-left to leg-back-right, section 110 x 24, shoulders 1380, overall 1460
  tenon 80 x 8 x 40, offset 0, haunch 15 x 10, mitred
  drop 0, set back 6, top shoulder 15, bottom shoulder 15, from (-690, 392, 673) to (690, 392, 673)
rail rail-left: 1 x, leg-front-left to leg-back-left, section 90 x 24, shoulders 700, overall 780
  tenon 60 x 8 x 40, offset 0, haunch 0 x 0, mitred
  drop 0, set back 6, top shoulder 15, bottom shoulder 15, from (-732, -350, 683) to (-732, 350, 683)
rail rail-right: 1 x, leg-front-right to leg-back-right, section 90 x 24, shoulders 700, overall 780
  tenon 60 x 8 x 40, offset 0, haunch 0 x 0, mitred
  drop 0, set back 6, top shoulder 15, bottom shoulder 15, from (732, -350, 683) to (732, 350, 683)
turned kind 0: leg as turned: leg-front-left (0), leg-front-right (0), leg-back-left (0), leg-back-right (0), spare-1 (0)
  front left, front right, back left, back right and one spare: one turning and one program, because joints are cut after it
jointed kind 0: leg, front left and back right: leg-front-left (0), leg-back-right (0)
  front left and back right are the same piece, turned about its axis (from above, against front left): back right turned by a half turn
jointed kind 1: leg, front right and back left: leg-front-right (0), leg-back-left (0)
  front right and back left are the same piece, turned about its axis (from above, against front right): back left turned by a half turn; it is the mirror image of front left and back right, which no quarter turn brings together, because long and short side differ in where the tenon ends (95 mm and 75 mm), the haunch's length (15 mm and 0 mm) and the haunch's depth (10 mm and 0 mm)
joint leg-front-left: least wall 14, tenons meet, mitred
  front left leg: least wall 14 mm, from the long rail's mortise to the face beside it; the tenons meet and are mitred
joint leg-front-right: least wall 14, tenons meet, mitred
  front right leg: least wall 14 mm, from the long rail's mortise to the face beside it; the tenons meet and are mitred
joint leg-back-left: least wall 14, tenons meet, mitred
  back left leg: least wall 14 mm, from the long rail's mortise to the face beside it; the tenons meet and are mitred
joint leg-back-right: least wall 14, tenons meet, mitred
  back right leg: least wall 14 mm, from the long rail's mortise to the face beside it; the tenons meet and are mitred
note: the tenons of the long rail and the short rail meet in the leg: they are 40 mm and 40 mm long and clear of one another to 38 mm and 38 mm (240 mm³ in common); their ends are mitred, at most 40 mm (long rail) and 40 mm (short rail) long [frame.tenons-meet]
note: the long rail's tenon is 80 mm wide, more than five times its 8 mm of thickness (trade practice: 40 mm at most) [frame.tenon-width]
   do: widen the haunch and top shoulder, or take a thicker tenon
note: the short rail's tenon is 60 mm wide, more than five times its 8 mm of thickness (trade practice: 40 mm at most) [frame.tenon-width]
   do: widen the haunch and top shoulder, or take a thicker tenon
)";
  EXPECT_EQ(dump(joined_set(table)), expected);
}

}  // namespace
}  // namespace pommel::frame
