#include "frame/stair.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <random>

#include "frame/tables.h"
#include "shape/faces.h"
#include "shape/treatments.h"

namespace pommel::frame {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

// 3-4-5: rise 180 and going 240 make 300 along the pitch, tangent 0.75, cosine 0.8
Stair straight_run() {
  Stair stair;
  stair.treads = 13;
  stair.a_tread = 2;
  stair.rise = 180;
  stair.going = 240;
  stair.nosing = 20;
  stair.rail_height = 900;
  stair.rail_depth = 48;
  stair.rail_width = 60;
  stair.plough = 8;
  stair.width = 40;
  stair.foot_pin = 30;
  stair.foot_pin_diameter = 18;
  stair.spares = 1;
  return stair;
}

// block, taper from 36 to `thin`, block, and a pin where the foot has one
shape::Part turned_baluster(const Stair& stair, double length, double thin = 24) {
  shape::Part part;
  part.name = "baluster";
  part.length = length;
  const double half = stair.width / 2, corner = stair.width / std::numbers::sqrt2;
  const bool pin_head = stair.head == BalusterHead::pin;
  const bool pin_foot = stair.string == StringKind::open && stair.foot == BalusterFoot::pin;
  const double head = pin_head ? stair.top_pin : 150, foot = pin_foot ? length - stair.foot_pin : length;
  std::vector<shape::Piece>& at = part.outline.pieces;
  at.push_back(pin_head ? shape::line_piece(0, stair.top_pin_diameter / 2, head, stair.top_pin_diameter / 2) : shape::clear_piece(0, head));
  at.push_back(shape::line_piece(head, pin_head ? half : corner, head + 20, 18));
  at.push_back(shape::line_piece(head + 20, 18, foot - 160, thin / 2));
  at.push_back(shape::line_piece(foot - 160, thin / 2, foot - 140, corner));
  at.push_back(shape::clear_piece(foot - 140, foot));
  if (pin_foot) at.push_back(shape::line_piece(foot, stair.foot_pin_diameter / 2, length, stair.foot_pin_diameter / 2));
  part.faces = shape::square_faces(stair.width, length);
  return part;
}

std::vector<shape::Part> balusters_for(const Stair& stair, double thin = 24) {
  std::vector<shape::Part> parts;
  for (const double length : baluster_lengths(stair)) parts.push_back(turned_baluster(stair, length, thin));
  return parts;
}

Set joined_run(const Stair& stair, double thin = 24) {
  Result<Set> set = join_stair(stair, balusters_for(stair, thin));
  EXPECT_TRUE(set.ok()) << (set.ok() ? "" : render(set.reasons()));
  return set.ok() ? *set : Set{};
}

std::vector<std::string> refused(const Stair& stair) {
  Result<Done> checked = check_stair(stair);
  if (!checked.ok()) return ids(checked.reasons());
  Result<Set> set = join_stair(stair, balusters_for(stair));
  EXPECT_FALSE(set.ok());
  return set.ok() ? std::vector<std::string>{} : ids(set.reasons());
}

// Refused before any of them is reckoned.
TEST(Stair, ARunHasTwoThousandBalustersAndAHundredSparesAtMost) {
  Stair stair = straight_run();
  stair.treads = 1000, stair.spares = 100;
  EXPECT_TRUE(check_stair(stair).ok());
  stair.treads = 1001;
  ASSERT_FALSE(check_stair(stair).ok());
  EXPECT_EQ(check_stair(stair).reasons().front().message, "1001 treads with 2 balusters each, which makes no stair: at most 2000 balusters in one run");
  stair.treads = 2'000'000'000;
  EXPECT_FALSE(check_stair(stair).ok());
  stair.treads = 13, stair.spares = 101;
  ASSERT_FALSE(check_stair(stair).ok());
  EXPECT_EQ(check_stair(stair).reasons().front().message, "101 spares, which makes no stair: none to a hundred");
}

TEST(Stair, LengthsOfAnOpenStringByHand) {
  // the rail's underside stands 900 - 48/0.8 = 840 over the nosing line; middles at 20 + 20 = 40 and 40 + 120 = 160 behind the nosing
  // first: 840 + 30 = 870 clear, with 8/0.8 = 10 of plough, 15 to the long point, 30 of pin: 925; second: 840 + 120 = 960 and the same: 1015
  EXPECT_THAT(baluster_lengths(straight_run()), ElementsAre(testing::DoubleNear(925, 1e-9), testing::DoubleNear(1015, 1e-9)));
}

TEST(Stair, ThreeOnATreadAreThreeLengthsAQuarterOfTheRiseApartEach) {
  Stair stair = straight_run();
  stair.a_tread = 3;
  const auto lengths = baluster_lengths(stair);
  ASSERT_EQ(lengths.size(), 3u);
  EXPECT_NEAR(lengths[1] - lengths[0], 60, 1e-9);  // 80 further back at 0.75
  EXPECT_NEAR(lengths[2] - lengths[1], 60, 1e-9);
}

Stair on_shoe_rail() {
  Stair stair = straight_run();
  stair.string = StringKind::closed;
  stair.shoe_height = 60;
  stair.shoe_depth = 30;
  stair.shoe_width = 60;
  return stair;
}

TEST(Stair, OnAShoeRailAllAreAlike) {
  const Stair stair = on_shoe_rail();
  // 840 - 60 = 780 clear, 10 + 15 at each end
  EXPECT_THAT(baluster_lengths(stair), ElementsAre(testing::DoubleNear(830, 1e-9)));
  const Set set = joined_run(stair);
  EXPECT_EQ(set.turned_kinds.size(), 1u);
  EXPECT_EQ(set.jointed_kinds.size(), 1u);
  EXPECT_EQ(member(set, "baluster-1-1").part.end_cuts.size(), 2u);
}

TEST(Stair, EveryTreadRepeatsItsLengths) {
  const Set set = joined_run(straight_run());
  ASSERT_EQ(set.members.size(), 28u);
  EXPECT_EQ(set.turned_kinds.size(), 2u);
  EXPECT_EQ(set.jointed_kinds.size(), 2u);
  EXPECT_EQ(set.jointed_kinds[0].members.size(), 13u);
  EXPECT_EQ(member(set, "baluster-7-2").turned_kind, member(set, "baluster-1-2").turned_kind);
  EXPECT_EQ(member(set, "spare-1-1").part.length, 925);
  EXPECT_EQ(member(set, "spare-2-1").part.length, 1015);
  EXPECT_TRUE(member(set, "spare-2-1").part.end_cuts.empty());
}

TEST(Stair, EveryHeadLiesInTheRailAndEveryFootOnItsTread) {
  const Stair stair = straight_run();
  const Set set = joined_run(stair);
  for (const Member& one : set.members) {
    if (one.spare) continue;
    const Spot head = in_room(one.stand, one.part.end_cuts.front().x, 0, 0);
    // in the plough's ground: 840 + 10 over the nosing line, which rises 0.75
    EXPECT_NEAR(head.z, 0.75 * head.x + 850, 1e-9) << one.id;
    const int tread = std::stoi(one.id.substr(9));
    EXPECT_NEAR(in_room(one.stand, one.part.length - 30, 0, 0).z, 180.0 * (tread - 1), 1e-9) << one.id;
    // the long point is up the stair: on face D, which looks up it
    const Spot long_point = in_room(one.stand, 0, 0, -20);
    EXPECT_NEAR(long_point.x, head.x + 20, 1e-9);
    EXPECT_NEAR(long_point.z, 0.75 * long_point.x + 850, 1e-9);
  }
}

TEST(Stair, AClosedStringSawsBothEndsParallel) {
  Stair stair = straight_run();
  stair.string = StringKind::closed;
  stair.shoe_height = 60;
  stair.shoe_depth = 30;
  stair.shoe_width = 60;
  const Set set = joined_run(stair);
  const Member& one = member(set, "baluster-2-1");
  const Spot foot = in_room(one.stand, one.part.end_cuts.back().x, 0, 0);
  EXPECT_NEAR(foot.z, 0.75 * foot.x + 60 - 10, 1e-9);  // on the ground of the shoe rail's plough
  const Spot low_point = in_room(one.stand, one.part.length, 0, 20);  // face B looks down the stair
  EXPECT_NEAR(low_point.z, 0.75 * low_point.x + 50, 1e-9);
}

TEST(Stair, RailsAndFilletsByTheRun) {
  const Set set = joined_run(straight_run());
  EXPECT_NEAR(rail(set, "handrail").overall_length, 13 * 300, 1e-9);
  EXPECT_NEAR(rail(set, "fillet-handrail").overall_length, (120 - 40) / 0.8, 1e-9);
  EXPECT_EQ(rail(set, "fillet-handrail").quantity, 27);
}

TEST(Stair, RailsThatOthersMakeAreNotListed) {
  Stair stair = straight_run();
  stair.rails_made = false;
  EXPECT_TRUE(joined_run(stair).rails.empty());
}

TEST(Stair, ALongRailIsMadeOfPieces) {
  Stair stair = straight_run();
  stair.longest_rail = 2000;  // 3900 of run: two of 1950
  const Set set = joined_run(stair);
  EXPECT_EQ(rail(set, "handrail").quantity, 2);
  EXPECT_NEAR(rail(set, "handrail").overall_length, 1950, 1e-9);
  stair.longest_rail = 3900;  // just long enough
  EXPECT_EQ(rail(joined_run(stair), "handrail").quantity, 1);
}

TEST(Stair, TheInfillLoadIsJudgedOnTheLongestAndWeakest) {
  Stair stair = straight_run();
  shop::Wood wood;
  wood.label = "oak";
  wood.mor_mpa = 100;
  const Set set = joined_run(stair, 24);
  const InfillReport report = infill(stair, set, wood);
  EXPECT_EQ(report.baluster, 1u);  // the second is longer
  // 960 clear and 15 to the short point's other side: the middle line of the second baluster is 960 long
  EXPECT_NEAR(report.free_length, 960, 1e-9);
  EXPECT_EQ(report.sharing, 2);    // 304.8/120
  EXPECT_NEAR(report.share_of_mor, report.stress / 200, 1e-12);
  // no more than all of it at mid-length where it is thinnest, no less than at the thinnest place itself
  EXPECT_LT(report.stress, rules::infill_stress(rules::kInfillLoad, 960, 24));
  EXPECT_GT(report.stress, 0.4 * rules::infill_stress(rules::kInfillLoad, 960, 24));
  ASSERT_EQ(report.notes.size(), 1u);
  EXPECT_THAT(report.notes[0].message, HasSubstr("local code and a licensed person decide"));
}

TEST(Stair, OpeningsAreJudgedAtTheThinParts) {
  Stair stair = straight_run();
  const Set wide = joined_run(stair);
  const Openings open = openings(stair, wide);
  EXPECT_NEAR(open.spacing, 120, 1e-12);
  EXPECT_NEAR(open.at_thin, 96, 1e-6);   // 120 - 24
  EXPECT_NEAR(open.at_thick, 80, 1e-6);  // 120 - 40
  EXPECT_LE(open.level, open.at_thin);
  EXPECT_GT(open.level, open.at_thick);
  EXPECT_FALSE(has_note(wide, "frame.opening"));
  EXPECT_TRUE(has_note(wide, "frame.guard"));

  stair.rule = "AD K 2013";
  const Set thin = joined_run(stair, 15);  // 105 open, 100 allowed; 240/(100 + 15) = 2.09: three
  EXPECT_TRUE(has_note(thin, "frame.opening"));
  for (const Diagnostic& one : thin.notes) {
    if (one.id == "frame.opening") { EXPECT_THAT(one.remedy, HasSubstr("put 3 on a tread")); }
  }
  stair.rule = "none";
  EXPECT_FALSE(has_note(joined_run(stair, 15), "frame.opening"));
}

TEST(Stair, ALowRailIsSaid) {
  Stair stair = straight_run();
  stair.rail_height = 850;
  EXPECT_TRUE(has_note(joined_run(stair), "frame.rail-low"));
}

TEST(Stair, RefusesWhatMakesNoStair) {
  struct Case { const char* what; std::function<void(Stair&)> spoil; const char* id; };
  const Case cases[] = {
      {"rise", [](Stair& s) { s.rise = 0; }, "frame.measure-out-of-range"},
      {"going", [](Stair& s) { s.going = std::nan(""); }, "frame.not-a-number"},
      {"treads", [](Stair& s) { s.treads = 0; }, "frame.measure-out-of-range"},
      {"too many", [](Stair& s) { s.treads = 1500; }, "frame.measure-out-of-range"},
      {"a tread", [](Stair& s) { s.a_tread = 5; }, "frame.measure-out-of-range"},
      {"crowded", [](Stair& s) { s.width = 120; }, "frame.stair-crowded"},
      {"rule", [](Stair& s) { s.rule = "mine"; }, "frame.stair-rule"},
      {"rail in chips", [](Stair& s) { s.longest_rail = 100; }, "frame.measure-out-of-range"},
      {"pin", [](Stair& s) { s.foot_pin = 0; }, "frame.measure-out-of-range"},
      {"no room", [](Stair& s) { s.rail_height = 60; }, "frame.stair-no-room"},
      {"shoe", [](Stair& s) { s.string = StringKind::closed; s.head = BalusterHead::pin; s.top_pin = 20; s.top_pin_diameter = 15;
                              s.shoe_depth = s.shoe_width = 30; }, "frame.stair-foot"},
  };
  for (const Case& one : cases) {
    Stair stair = straight_run();
    one.spoil(stair);
    EXPECT_THAT(refused(stair), Contains(std::string(one.id))) << one.what;
  }
}

TEST(Stair, RefusesBalustersThatDoNotFit) {
  const Stair stair = straight_run();
  auto parts = balusters_for(stair);
  parts.pop_back();
  EXPECT_THAT(ids(join_stair(stair, parts).reasons()), ElementsAre("frame.baluster-count"));
  parts = balusters_for(stair);
  std::swap(parts[0], parts[1]);
  EXPECT_THAT(ids(join_stair(stair, parts).reasons()), ElementsAre("frame.baluster-length", "frame.baluster-length"));
  Stair thicker = stair;
  thicker.foot_pin_diameter = 20;
  EXPECT_THAT(ids(join_stair(thicker, balusters_for(stair)).reasons()), ElementsAre("frame.baluster-foot", "frame.baluster-foot"));
  parts = balusters_for(stair);
  parts[0].outline.pieces.insert(parts[0].outline.pieces.begin() + 1, shape::line_piece(30, 18, 150, 18));
  parts[0].outline.pieces[0] = shape::clear_piece(0, 30);
  parts[0].outline.pieces[2] = shape::line_piece(150, 18, 170, 18);
  EXPECT_THAT(ids(join_stair(stair, parts).reasons()), Contains("frame.baluster-head"));
}

TEST(Stair, APinnedHeadIsNotSawn) {
  Stair stair = straight_run();
  stair.head = BalusterHead::pin;
  stair.top_pin = 25;
  stair.top_pin_diameter = 16;
  // 870 + 25 + 30 and 960 + 55
  EXPECT_THAT(baluster_lengths(stair), ElementsAre(testing::DoubleNear(925, 1e-9), testing::DoubleNear(1015, 1e-9)));
  EXPECT_TRUE(member(joined_run(stair), "baluster-1-1").part.end_cuts.empty());
}

// Two starts that run a whole turn in 120 mm, on the stretch between the blocks.
std::vector<shape::Part> twisted_balusters(const Stair& stair) {
  std::vector<shape::Part> parts = balusters_for(stair);
  for (shape::Part& part : parts) {
    auto made = shape::twisted(part, {.x0 = 200, .x1 = part.length - 230, .starts = 2, .pitch = 120, .depth = 3, .fade0 = 30, .fade1 = 30, .phase = 0.3});
    EXPECT_TRUE(made.ok()) << render(made.reasons());
    if (made.ok()) part = std::move(made).value();
  }
  return parts;
}

Set twisted_run(Stair stair, bool pairs) {
  stair.mirrored_pairs = pairs;
  const auto set = join_stair(stair, twisted_balusters(stair));
  EXPECT_TRUE(set.ok()) << (set.ok() ? "" : render(set.reasons()));
  return set.ok() ? *set : Set{};
}

std::size_t spares_of(const Set& set) {
  return static_cast<std::size_t>(std::count_if(set.members.begin(), set.members.end(), [](const Member& one) { return one.spare; }));
}

TEST(Stair, EverySecondTwistWindsTheOtherWayWhereWished) {
  const Set set = twisted_run(straight_run(), true);
  ASSERT_EQ(set.members.size(), 13u * 2 + 2);
  for (std::size_t i = 0; i < 26; ++i) {
    const Member& one = set.members[i];
    EXPECT_EQ(one.part.twists.front().pitch > 0, i % 2 == 0) << one.id;
    EXPECT_EQ(one.hand, i % 2 == 0 ? "right" : "left") << one.id;
    // whichever way it winds, its long point is up the stair
    ASSERT_EQ(one.part.end_cuts.size(), 1u);
    EXPECT_EQ(one.part.end_cuts.front().phi, 1.5 * std::numbers::pi) << one.id;
  }
  // two on a tread: each length has one hand, so there are no more turnings than lengths
  EXPECT_EQ(set.turned_kinds.size(), 2u);
  EXPECT_EQ(spares_of(set), 2u);
  EXPECT_THAT(ids(twisted_run(straight_run(), false).notes), Contains("frame.balusters-wind-alike"));
  EXPECT_THAT(ids(set.notes), Not(Contains("frame.balusters-wind-alike")));
}

TEST(Stair, ALengthThatHasBothHandsHasTwoTurningsAndSparesOfEach) {
  Stair three = straight_run(), closed = on_shoe_rail();
  three.a_tread = 3;
  const Set open = twisted_run(three, true);
  EXPECT_EQ(open.turned_kinds.size(), 6u);
  EXPECT_EQ(spares_of(open), 6u);
  EXPECT_EQ(member(open, "spare-2-left-1").part.twists.front().pitch, -120);
  const Set alike = twisted_run(closed, true);
  EXPECT_EQ(alike.turned_kinds.size(), 2u);
  EXPECT_EQ(spares_of(alike), 2u);
  EXPECT_THAT(alike.turned_kinds[1].reason, HasSubstr("winds the other way"));
}

TEST(Stair, APlainBalusterHasNoHands) {
  Stair stair = straight_run();
  stair.mirrored_pairs = true;
  const Set wished = joined_run(stair);
  EXPECT_EQ(wished.turned_kinds.size(), 2u);
  EXPECT_EQ(spares_of(wished), 2u);
  stair.mirrored_pairs = false;
  EXPECT_EQ(dump(wished), dump(joined_run(stair)));
}

TEST(Stair, RandomRunsMeetTheirRails) {
  std::mt19937 random(20260301);
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<>(a, b)(random); };
  for (int run = 0; run < 300; ++run) {
    Stair stair = straight_run();
    stair.treads = 1 + run % 16;
    stair.a_tread = 1 + run % 3;
    stair.rise = between(140, 220);
    stair.going = between(210, 320);
    stair.nosing = between(0, 40);
    stair.rail_height = between(850, 1100);
    stair.rail_depth = between(30, 70);
    stair.plough = run % 2 ? between(3, 12) : 0;
    stair.width = between(28, 45);
    stair.rule = "none";
    const Set set = joined_run(stair);
    ASSERT_FALSE(set.members.empty()) << run;
    const double tangent = stair.rise / stair.going, cosine = std::cos(std::atan(tangent));
    for (const Member& one : set.members) {
      if (one.spare) continue;
      const Spot head = in_room(one.stand, one.part.end_cuts.front().x, 0, 0);
      EXPECT_NEAR(head.z, head.x * tangent + stair.rail_height + (stair.plough - stair.rail_depth) / cosine, 1e-9) << run << one.id;
    }
    const Openings open = openings(stair, set);
    EXPECT_LE(open.level, open.at_thin + 1e-9) << run;
  }
}

}  // namespace
}  // namespace pommel::frame
