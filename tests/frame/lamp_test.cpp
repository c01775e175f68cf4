#include "frame/lamp.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>

#include "frame/frame.h"
#include "frame/slice.h"
#include "frame/tables.h"
#include "shape/faces.h"

namespace pommel::frame {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;

// 480 high on a base of 30: a column of 450 and 25 of tenon
Lamp table_lamp() {
  Lamp lamp;
  lamp.height = 480;
  lamp.base_width = 150;
  lamp.base_thickness = 30;
  lamp.foot_tenon = 25;
  lamp.foot_tenon_diameter = 30;
  lamp.bore = 11;
  lamp.drill_reach = 250;
  lamp.drill_wander = 0.01;
  return lamp;
}

// square block of 60 to 120, straight taper 50 to 34 at 300, arc-free run to 44, then the tenon; a cubic between 300 and 380
shape::Part column_of(const Lamp& lamp) {
  shape::Part part;
  part.name = "column";
  part.length = column_length(lamp);
  const double foot = part.length - lamp.foot_tenon, corner = 60 / std::numbers::sqrt2;
  part.outline.pieces = {shape::clear_piece(0, 120, 0),
                         shape::line_piece(120, corner, 140, 25, 1),
                         shape::line_piece(140, 25, 300, 17, 2),
                         shape::cubic_piece(300, 380, {17, 0, 0.001, 0.00001}, 3),
                         shape::line_piece(380, 17 + 6.4 + 5.12, foot, 22, 4),
                         shape::line_piece(foot, lamp.foot_tenon_diameter / 2, part.length, lamp.foot_tenon_diameter / 2, 5)};
  part.faces = shape::square_faces(60, part.length);
  const char* names[] = {"square", "pommel", "taper", "vase", "taper", "pin"};
  for (int i = 0; i < 6; ++i) {
    const shape::Piece& piece = part.outline.pieces[static_cast<std::size_t>(i)];
    part.elements.push_back({names[i], names[i], piece.x0, piece.x1, 0, 0, 0, 0, false});
  }
  return part;
}

Set joined_lamp(const Lamp& lamp) {
  Result<Set> set = join_lamp(lamp, column_of(lamp));
  EXPECT_TRUE(set.ok()) << (set.ok() ? "" : render(set.reasons()));
  return set.ok() ? *set : Set{};
}

std::vector<std::string> refused(const Lamp& lamp) {
  if (Result<Done> checked = check_lamp(lamp); !checked.ok()) return ids(checked.reasons());
  Result<Set> set = join_lamp(lamp, column_of(lamp));
  EXPECT_FALSE(set.ok());
  return set.ok() ? std::vector<std::string>{} : ids(set.reasons());
}

TEST(Lamp, AHundredLampsAtMost) {
  Lamp lamp = table_lamp();
  lamp.lamps = lamp.spares = 100;
  EXPECT_TRUE(check_lamp(lamp).ok());
  lamp.lamps = 101;
  ASSERT_FALSE(check_lamp(lamp).ok());
  EXPECT_EQ(check_lamp(lamp).reasons().front().message, "101 lamps");
}

TEST(Lamp, TheColumnStandsInItsBase) {
  const Lamp lamp = table_lamp();
  EXPECT_EQ(column_length(lamp), 475);
  const Set set = joined_lamp(lamp);
  const Member& column = member(set, "column-1");
  EXPECT_EQ(in_room(column.stand, 0, 0, 0).z, 480);
  EXPECT_EQ(in_room(column.stand, 450, 0, 0).z, 30);  // the shoulder on the base
  ASSERT_EQ(column.part.axial_bores.size(), 1u);
  EXPECT_EQ(column.part.axial_bores[0].x1, 475);
  EXPECT_EQ(rail(set, "base").overall_length, 150);
  for (const char* note : {"frame.bore-first", "frame.cord-ways", "frame.rod"}) EXPECT_TRUE(has_note(set, note)) << note;
}

TEST(Lamp, TheWallTakesTheWanderOff) {
  // bored from both ends: where the taper is 17, at 300, the drill has gone 175 in and leaves 17 - 5.5 - 1.75 = 9.75; at the foot tenon's
  // shoulder it has gone 25 in and leaves 15 - 5.5 - 0.25
  const Set set = joined_lamp(table_lamp());
  EXPECT_NEAR(set.joints[0].least_wall, 9.25, 1e-6);
  Lamp one_way = table_lamp();
  one_way.from_both_ends = false;
  one_way.drill_reach = 500;
  // from the head alone 4.75 at the tenon's end: 15 - 5.5 - 4.75
  EXPECT_NEAR(joined_lamp(one_way).joints[0].least_wall, 4.75, 1e-6);
  EXPECT_TRUE(has_note(joined_lamp(one_way), "frame.thin-wall"));
  Lamp ploughed = table_lamp();
  ploughed.way = BoreWay::ploughed;
  ploughed.drill_reach = 0;
  EXPECT_NEAR(joined_lamp(ploughed).joints[0].least_wall, 15 - 5.5, 1e-6);  // the foot tenon
}

TEST(Lamp, AStackedColumnIsDividedIntoSectionsWithTenons) {
  Lamp lamp = table_lamp();
  lamp.way = BoreWay::stacked;
  lamp.drill_reach = 150;
  lamp.divided_at = {130, 340};
  lamp.section_tenon = 20;
  lamp.section_tenon_diameter = 24;
  const shape::Part column = column_of(lamp);
  auto parts = sections(lamp, column);
  ASSERT_TRUE(parts.ok()) << render(parts.reasons());
  ASSERT_EQ(parts->size(), 3u);
  EXPECT_EQ((*parts)[0].length, 130);
  EXPECT_EQ((*parts)[1].length, 230);
  EXPECT_EQ((*parts)[2].length, 155);
  for (const shape::Part& part : *parts) EXPECT_TRUE(shape::problems(part).empty()) << render(shape::problems(part));
  // the same skin as the whole column, cut pieces included
  for (double x = 131; x < 339; x += 0.7)
    EXPECT_NEAR(shape::radius_at((*parts)[1], x - 130 + 20, 0.3), shape::radius_at(column, x, 0.3), 1e-9) << x;
  for (double x = 341; x < 474; x += 0.7)
    EXPECT_NEAR(shape::radius_at((*parts)[2], x - 340 + 20, 0.3), shape::radius_at(column, x, 0.3), 1e-9) << x;

  const Set set = joined_lamp(lamp);
  ASSERT_EQ(set.members.size(), 3u);
  const Member &upper = member(set, "column-1-upper"), &middle = member(set, "column-1-middle"), &lower = member(set, "column-1-lower");
  // shoulders meet: the upper section's foot is where the middle one's shoulder is
  EXPECT_NEAR(in_room(upper.stand, 130, 0, 0).z, in_room(middle.stand, 20, 0, 0).z, 1e-9);
  EXPECT_NEAR(in_room(middle.stand, 230, 0, 0).z, in_room(lower.stand, 20, 0, 0).z, 1e-9);
  EXPECT_NEAR(in_room(lower.stand, 130, 0, 0).z, 30, 1e-9);  // 20 of tenon and 110 to the shoulder on the base
  ASSERT_EQ(upper.part.axial_bores.size(), 2u);
  EXPECT_NEAR(upper.part.axial_bores[1].x0, 130 - 20 - kInch / 16, 1e-9);
  EXPECT_EQ(set.turned_kinds.size(), 3u);
}

TEST(Lamp, TheBlanksWasteIsBoredToo) {
  Lamp lamp = table_lamp();
  lamp.waste_head = 60;
  lamp.waste_foot = 40;
  // 475 and 100 of waste are more than 2 x 250
  EXPECT_THAT(refused(lamp), Contains("frame.drill-short"));
  lamp.drill_reach = 288;
  // from the foot the drill has gone 25 + 40 in at the tenon's shoulder, where the wall is 15 - 5.5 - 0.65
  EXPECT_NEAR(joined_lamp(lamp).joints[0].least_wall, 8.85, 1e-6);
}

TEST(Lamp, SectionsAreThePiecesToTurn) {
  Lamp lamp = table_lamp();
  lamp.square = 60;
  lamp.way = BoreWay::stacked;
  lamp.drill_reach = 150;
  lamp.section_tenon = 20;
  lamp.section_tenon_diameter = 24;
  Frame frame = lamp;
  ASSERT_TRUE(divide(frame, {130, 340}).ok());
  const auto wanted = wanted_pieces(frame);
  ASSERT_TRUE(wanted.ok());
  ASSERT_EQ(wanted->size(), 1u);
  EXPECT_EQ(wanted->front().length, 475);
  const std::vector<shape::Part> column{column_of(lamp)};
  const auto pieces = to_turn(frame, column);
  const auto set = join(frame, column, {});
  ASSERT_TRUE(pieces.ok() && set.ok());
  ASSERT_EQ(pieces->size(), 3u);
  EXPECT_EQ((*pieces)[0].wanted.id, "column-upper");
  EXPECT_EQ((*pieces)[1].wanted.label, "middle section");
  EXPECT_EQ((*pieces)[2].wanted.named, "column");
  for (const Member& one : set->members) EXPECT_EQ(one.part.outline, (*pieces)[one.piece].part.outline) << one.id;
  // a column that is bored through passes over the places, a table has none
  Frame whole = table_lamp();
  EXPECT_TRUE(divide(whole, {130, 340}).ok());
  EXPECT_EQ(to_turn(whole, column)->size(), 1u);
  Frame table = Table{};
  EXPECT_EQ(ids(divide(table, {130}).reasons()), std::vector<std::string>{"frame.not-divided"});
}

TEST(Lamp, APairIsOneTurning) {
  Lamp lamp = table_lamp();
  lamp.lamps = 2;
  lamp.spares = 1;
  const Set set = joined_lamp(lamp);
  EXPECT_EQ(set.members.size(), 3u);
  EXPECT_EQ(set.turned_kinds.size(), 1u);
  EXPECT_EQ(rail(set, "base").quantity, 2);
}

TEST(Lamp, AMirroredPairWithATwistIsTwoTurnings) {
  Lamp lamp = table_lamp();
  lamp.lamps = 2;
  lamp.mirrored_pair = true;
  shape::Part column = column_of(lamp);
  shape::Twist twist;
  twist.x0 = 150;
  twist.x1 = 290;
  twist.starts = 2;
  twist.pitch = 120;
  twist.depth = 4;
  twist.fade0 = twist.fade1 = 20;
  column.twists = {twist};
  const Result<Set> set = join_lamp(lamp, column);
  ASSERT_TRUE(set.ok()) << render(set.reasons());
  EXPECT_EQ(set->turned_kinds.size(), 2u);
  EXPECT_EQ(member(*set, "column-2").part.twists[0].pitch, -120);
  lamp.spares = 1;
  const Result<Set> spared = join_lamp(lamp, column);
  ASSERT_TRUE(spared.ok()) << render(spared.reasons());
  EXPECT_EQ(spared->turned_kinds.size(), 2u);
  EXPECT_EQ(member(*spared, "spare-1").part.twists[0].pitch, 120);
  EXPECT_EQ(member(*spared, "spare-1-mirrored").part.twists[0].pitch, -120);
}

TEST(Lamp, TheCordLeavesTheColumnAboveTheBase) {
  Lamp lamp = table_lamp();
  lamp.cord_exit = CordExit::column;
  lamp.cord_diameter = 10;
  lamp.cord_height = 15;
  const Set set = joined_lamp(lamp);
  const auto& bores = member(set, "column-1").part.bores;
  ASSERT_EQ(bores.size(), 1u);
  EXPECT_EQ(bores[0].x, 435);
  EXPECT_EQ(in_room(member(set, "column-1").stand, bores[0].x, 0, 0).z, 45);
  lamp.cord_height = 4;
  EXPECT_THAT(refused(lamp), Contains("frame.cord-hole"));
}

TEST(Lamp, RefusesWhatMakesNoLamp) {
  struct Case { const char* what; std::function<void(Lamp&)> spoil; const char* id; };
  const Case cases[] = {
      {"height", [](Lamp& l) { l.height = 0; }, "frame.measure-out-of-range"},
      {"bore", [](Lamp& l) { l.bore = std::nan(""); }, "frame.not-a-number"},
      {"pipe", [](Lamp& l) { l.pipe = "3/8"; }, "frame.lamp-pipe"},
      {"narrow", [](Lamp& l) { l.bore = 10.5; }, "frame.lamp-pipe"},
      {"tenon", [](Lamp& l) { l.foot_tenon_diameter = 11; }, "frame.lamp-tenon"},
      {"long tenon", [](Lamp& l) { l.foot_tenon = 40; }, "frame.lamp-tenon"},
      {"drill", [](Lamp& l) { l.drill_reach = 200; }, "frame.drill-short"},
      {"breaks out", [](Lamp& l) { l.drill_wander = 0.07; }, "frame.bore-breaks-out"},
      {"divided", [](Lamp& l) { l.divided_at = {200}; }, "frame.divided"},
      {"not divided", [](Lamp& l) { l.way = BoreWay::stacked; l.section_tenon = 20; l.section_tenon_diameter = 24; }, "frame.divided"},
      {"order", [](Lamp& l) { l.way = BoreWay::stacked; l.section_tenon = 20; l.section_tenon_diameter = 24; l.divided_at = {300, 200}; }, "frame.divided"},
      {"no lamps", [](Lamp& l) { l.lamps = 0; }, "frame.measure-out-of-range"},
  };
  for (const Case& one : cases) {
    Lamp lamp = table_lamp();
    one.spoil(lamp);
    EXPECT_THAT(refused(lamp), Contains(std::string(one.id))) << one.what;
  }
  Lamp thick = table_lamp();
  thick.foot_tenon_diameter = 32;
  EXPECT_THAT(ids(join_lamp(thick, column_of(table_lamp())).reasons()), ElementsAre("frame.column-foot"));
}

TEST(Lamp, PipesByTheirPublishedDiameter) {
  EXPECT_NEAR(lamp_pipe("1/8 IP")->diameter, 10.287, 1e-9);
  EXPECT_EQ(lamp_pipe("M10x1")->diameter, 10);
  EXPECT_EQ(lamp_pipe("1/4 IP"), nullptr);
}

}  // namespace
}  // namespace pommel::frame
