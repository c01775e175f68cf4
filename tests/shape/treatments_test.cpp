// The builders of treatments: what comes out is what was asked for, and what cannot be is said in whole.
#include "shape/treatments.h"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

#include "shape/crease.h"
#include "shape/ring.h"
#include "shape/sample_parts.h"

namespace pommel::shape {
namespace {

constexpr double kPi = std::numbers::pi;

// A post of 80 mm square: square ends, between them a taper from 70 to 50 mm with a step and a bead behind it.
Part post() {
  Part part;
  part.length = 1000;
  part.outline.pieces = {clear_piece(0, 150), line_piece(150, 35, 650, 25), line_piece(650, 30, 700, 30), arc_piece(700, 30, 740, 30, 25, 1), clear_piece(740, 1000)};
  part.faces = square_faces(80, 1000);
  return part;
}

Part column() {
  Part part = post();
  part.outline.pieces = {clear_piece(0, 1000)};
  return part;
}

FluteWish eight() {
  FluteWish wish;
  wish.x0 = 170;
  wish.x1 = 630;
  wish.count = 8;
  wish.width = 10;
  wish.depth = 4;
  wish.phase = kPi / 8;
  wish.run_out0 = 20;
  wish.run_out1 = 30;
  return wish;
}

ReedWish twelve() {
  return {170, 630, 12, 1.5, 0.1, 20, 30, RunOut::round};
}

PolygonWish octagon() {
  return {150, 850, 8, 80, 60, Stop::ogee, Stop::cove, 40, 35};
}

TwistWish rope() {
  return {170, 630, 2, 120, 0, true, 8, 30, 40, 0};
}

std::string why(const Result<Part>& result) {
  if (result.ok()) return "";
  const Diagnostic& first = result.reasons().front();
  return "[" + first.id + "] " + first.message + " | " + first.remedy;
}

TEST(Fluted, IsAsWideAndDeepAsAskedInTheMiddle) {
  const auto made = fluted(post(), eight());
  ASSERT_TRUE(made.ok()) << why(made);
  ASSERT_EQ(made->flutes.size(), 8u);
  const double r = 30;  // at 400 mm
  EXPECT_NEAR(radius_at(*made, 400, kPi / 8), r - 4, 1e-12);
  const std::vector<double> edges = crease_angles(*made, 400, Side::after);
  ASSERT_EQ(edges.size(), 16u);
  EXPECT_NEAR(2 * r * std::sin((edges[1] - edges[0]) / 2), 10, 1e-9);
  // parallel to the outline: as deep everywhere between the run-outs
  for (double x : {190.0, 250.0, 599.9}) EXPECT_NEAR(radius_at(*made, x, kPi / 8), post().outline.value(x, Side::after) - 4, 1e-9) << x;
  // and away where it ends
  EXPECT_NEAR(radius_at(*made, 170, kPi / 8, Side::after), post().outline.value(170, Side::after), 1e-9);
  EXPECT_NEAR(radius_at(*made, 630, kPi / 8, Side::before), post().outline.value(630, Side::before), 1e-9);
  EXPECT_LT(radius_at(*made, 180, kPi / 8, Side::after), post().outline.value(180, Side::after) - 1);
  EXPECT_NEAR(least_radius(*made).radius, post().outline.value(600, Side::after) - 4, 1e-9);
}

TEST(Fluted, BySpacingAndOnFlats) {
  FluteWish wish = eight();
  wish.count = 0;
  wish.spacing = 14;  // 2 pi 30 / 14 = 13.46
  auto made = fluted(post(), wish);
  ASSERT_TRUE(made.ok()) << why(made);
  EXPECT_EQ(made->flutes.size(), 13u);
  auto flats = polygoned(column(), octagon());
  ASSERT_TRUE(flats.ok()) << why(flats);
  wish = eight();
  wish.x0 = 200;
  wish.x1 = 800;
  wish.phase = 0;
  made = fluted(*flats, wish);
  ASSERT_TRUE(made.ok()) << why(made);
  for (int k = 0; k < 8; ++k) EXPECT_NEAR(radius_at(*made, 500, k * kPi / 4), flats->faces[0].d.value(500, Side::after) - 4, 1e-9);
}

TEST(Reeded, HaveCrownsAtTheOutlineAndValleysAsDeep) {
  const auto made = reeded(post(), twelve());
  ASSERT_TRUE(made.ok()) << why(made);
  double valley = 0.1 + kPi / 12;
  for (double x : {200.0, 400.0, 590.0}) EXPECT_NEAR(radius_at(*made, x, 0.1), post().outline.value(x, Side::after), 1e-9);
  double thin = post().outline.value(630, Side::after);
  // as deep as stated where it is thinnest: told of the same circle there
  Part level = post();
  level.outline.pieces = {clear_piece(0, 150), line_piece(150, thin, 740, thin), clear_piece(740, 1000)};
  const auto same = reeded(level, twelve());
  ASSERT_TRUE(same.ok()) << why(same);
  EXPECT_NEAR(radius_at(*same, 400, valley), thin - 1.5, 1e-9);
  // and no deeper than can rise out at the ends
  ReedWish deep = twelve();
  deep.depth = deepest_reeds(thin, 12) * 0.999999;
  EXPECT_TRUE(reeded(level, deep).ok()) << why(reeded(level, deep));
  deep.depth = deepest_reeds(thin, 12) * 1.00001;
  EXPECT_FALSE(reeded(level, deep).ok());
  EXPECT_NEAR(radius_at(*made, 170, valley, Side::after), post().outline.value(170, Side::after), 1e-9);
  EXPECT_NEAR(radius_at(*made, 630, valley, Side::before), thin, 1e-9);
}

TEST(Polygoned, IsAnOctagonWithStops) {
  const auto made = polygoned(column(), octagon());
  ASSERT_TRUE(made.ok()) << why(made);
  ASSERT_EQ(made->faces.size(), 8u);
  // between the stops from 80 to 60 across; area 0.8284271 s² (of a regular octagon across its flats s: 2 s² tan(pi/8))
  double s = 80 - 20.0 * (500 - 190) / (815 - 190);
  EXPECT_NEAR(section_area(*made, 500, Side::after), 0.8284271247 * s * s, 1e-6);
  EXPECT_NEAR(section_area(*made, 500, Side::after), 2 * s * s * std::tan(kPi / 8), 1e-9);
  // clear square outside, and no step where the stops leave the wood
  EXPECT_EQ(section_area(*made, 149, Side::after), 6400);
  EXPECT_NEAR(section_area(*made, 150, Side::after), 6400, 1e-9);
  EXPECT_NEAR(section_area(*made, 850, Side::before), 6400, 1e-9);
  EXPECT_LT(section_area(*made, 170, Side::after), 6399);
  // the lamb's tongue is level at both ends, and tangent half-way at (70, half of the rise)
  double rise = 40 * (std::numbers::sqrt2 - 1);
  const Profile& d = made->faces[5].phi == kPi / 4 ? made->faces[5].d : made->faces[4].d;
  EXPECT_NEAR(d.value(170, Side::after), 40 + rise / 2, 1e-9);
  const auto chamfered = polygoned(column(), {150, 850, 8, 70, 70, Stop::chamfer, Stop::none, 5, 0});
  ASSERT_TRUE(chamfered.ok()) << why(chamfered);
  const auto hexagon = polygoned(column(), {150, 850, 6, 65, 65, Stop::ogee, Stop::ogee, 60, 60});
  ASSERT_TRUE(hexagon.ok()) << why(hexagon);
  EXPECT_NEAR(section_area(*hexagon, 500, Side::after), 65 * 65 * std::sqrt(3) / 2, 1e-9);
}

TEST(Twisted, FollowsItsHandPitchAndPhase) {
  const auto made = twisted(post(), rope());
  ASSERT_TRUE(made.ok()) << why(made);
  EXPECT_NEAR(radius_at(*made, 290, 0), post().outline.value(290, Side::after), 1e-9);      // a whole turn on
  EXPECT_NEAR(radius_at(*made, 290, kPi / 2), post().outline.value(290, Side::after) - 8, 1e-9);
  EXPECT_NEAR(radius_at(*made, 305, kPi / 4), post().outline.value(305, Side::after), 1e-9);  // an eighth further, by the right hand
  TwistWish left = rope();
  left.right_hand = false;
  const auto image = twisted(post(), left);
  ASSERT_TRUE(image.ok());
  EXPECT_EQ(canonical_text(*image, false), canonical_text(mirrored(*made), false));
  TwistWish turns = rope();
  turns.pitch = 0;
  turns.turns = 460.0 / 120;
  EXPECT_NEAR(twisted(post(), turns)->twists[0].pitch, 120, 1e-12);
}

template <class Wish, class F>
Wish with(Wish wish, const F& change) {
  change(wish);
  return wish;
}

TEST(Treatments, AThousandRoundAPieceAtMost) {
  FluteWish flutes = eight();
  flutes.count = 1000, flutes.width = 0.1, flutes.depth = 0.04, flutes.run_out0 = flutes.run_out1 = 0.1;
  const auto fluted_most = fluted(post(), flutes);
  ASSERT_TRUE(fluted_most.ok()) << why(fluted_most);
  EXPECT_EQ(fluted_most->flutes.size(), 1000u);
  flutes.count = 1001;
  EXPECT_EQ(why(fluted(post(), flutes)), "[treatment.size] flutes need a width, a depth, and either a count of 1 to 1000 or a spacing | state each once");
  // told by their spacing, at the middle of the stretch
  flutes.count = 0;
  const double round = kTurn * post().outline.value(400, Side::after);
  flutes.spacing = round / 1000.4;
  EXPECT_TRUE(fluted(post(), flutes).ok());
  flutes.spacing = round / 1000.6;
  EXPECT_THAT(why(fluted(post(), flutes)), testing::EndsWith("makes more than 1000 flutes | space them wider"));
  ReedWish reeds = twelve();
  Part level = post();  // so slight ones do not rise where the round falls
  level.outline.pieces = {clear_piece(0, 150), line_piece(150, 30, 740, 30), clear_piece(740, 1000)};
  reeds.count = 1000, reeds.depth = 0.02;
  EXPECT_TRUE(reeded(level, reeds).ok()) << why(reeded(level, reeds));
  reeds.count = 1001;
  EXPECT_EQ(why(reeded(post(), reeds)), "[treatment.size] reeds need a depth and a count of 3 to 1000 | state both");
}

TEST(Treatments, WhatCannotBeIsSaidInWhole) {
  auto flutes = [](auto change, Part part = post()) { return why(fluted(std::move(part), with(eight(), change))); };
  auto reeds = [](auto change) { return why(reeded(post(), with(twelve(), change))); };
  auto faces = [](auto change) { return why(polygoned(column(), with(octagon(), change))); };
  auto twist = [](auto change) { return why(twisted(post(), with(rope(), change))); };
  EXPECT_EQ(flutes([](FluteWish& w) { w.x1 = 100; }), "[treatment.stretch] the flutes from 170 mm to 100 mm are no stretch of a piece of 1000 mm | state a place nearer the head first, both on the piece");
  EXPECT_EQ(flutes([](FluteWish& w) { w.x0 = std::nan(""); }), "[treatment.stretch] the flutes without places are no stretch of a piece of 1000 mm | state a place nearer the head first, both on the piece");
  EXPECT_EQ(flutes([](FluteWish& w) { w.run_out0 = 450; }), "[treatment.stretch] the flutes from 170 mm to 630 mm are shorter than both their ends, 450 mm and 30 mm | make the ends shorter, or the stretch longer");
  EXPECT_EQ(flutes([](FluteWish& w) { w.spacing = 10; }), "[treatment.size] flutes need a width, a depth, and either a count of 1 to 1000 or a spacing | state each once");
  EXPECT_EQ(flutes([](FluteWish& w) { w.width = 60; }), "[treatment.size] flutes of 60 mm are as wide as the round of 60 mm | make them narrower");
  EXPECT_EQ(flutes([](FluteWish& w) { w.depth = 0.3; }), "[treatment.size] flutes of 10 mm by 0.3 mm would bulge: the round itself falls away by 0.42 mm over their width | make them deeper, or narrower");
  EXPECT_EQ(flutes([](FluteWish& w) { w.depth = 6; }), "[treatment.deep] flutes of 10 mm by 6 mm are deeper than half round | at most 5.42 mm deep");
  EXPECT_EQ(flutes([](FluteWish& w) { w.count = 18; }), "[treatment.pitch] 18 flutes of 10 mm do not fit round the thinnest place, 52 mm: each is 9.957 mm wide there and has 9.076 mm | make them fewer, or narrower");
  EXPECT_EQ(flutes([](FluteWish& w) { w.x1 = 690; }), "[treatment.step] the flutes run over a step of 5 mm at 650 mm | end them before it");
  EXPECT_EQ(flutes([](FluteWish& w) { w.x0 = 140; }), "[treatment.step] the flutes run over a stretch that is not turned at 140 mm | keep them within one element, or on elements that are turned");
  EXPECT_EQ(flutes([](FluteWish& w) { w.run_out0 = 3; }), "[treatment.run-out] a run-out of 3 mm cannot rise 4.06 mm out of the wood | make it longer than it is deep, or straight");
  EXPECT_EQ(flutes([](FluteWish& w) { w.run_out0 = 0; }), "[shape.flute-end] the flute at 22.5 degrees ends with a wall of 4 mm at 170 mm | let it run out of the wood");
  EXPECT_EQ(flutes([](FluteWish&) {}, column()), "[treatment.face] flutes on flats must look along them: there is no face at 22.5 degrees | give them the count and direction of the faces, or turn the stretch");
  EXPECT_EQ(reeds([](ReedWish& w) { w.count = 2; }), "[treatment.size] reeds need a depth and a count of 3 to 1000 | state both");
  EXPECT_EQ(reeds([](ReedWish& w) { w.depth = 4; }), "[treatment.deep] 12 reeds of 4 mm are too deep to rise out of a round of 69.2 mm at their ends | at most 1.636 mm deep, or fewer of them");
  EXPECT_EQ(reeds([](ReedWish& w) { w.run_out1 = 0; }), "[shape.reeds-end] the reeds end with a wall of 1.5 mm at 630 mm | let them run out of the round");
  EXPECT_EQ(reeds([](ReedWish& w) { w.x1 = 690; }), "[treatment.step] the reeds run over a step of 5 mm at 650 mm | end them before it");
  EXPECT_EQ(faces([](PolygonWish& w) { w.length0 = 400; w.length1 = 300; }), "[treatment.stretch] a polygon from 150 mm to 850 mm with stops of 400 mm and 300 mm does not fit a piece of 1000 mm | state a place nearer the head first, and stops shorter than the stretch");
  EXPECT_EQ(faces([](PolygonWish& w) { w.sides = 3; }), "[treatment.size] a polygon needs 4 to 24 sides and a size across its flats | state both");
  EXPECT_EQ(faces([](PolygonWish& w) { w.length0 = 0; }), "[treatment.stop] a stop needs a length, and no stop has none | state the length of each stop");
  EXPECT_EQ(faces([](PolygonWish& w) { w.length0 = 16; }), "[treatment.stop] a stop 16 mm long cannot rise 16.569 mm | make it longer, or a chamfer");
  EXPECT_EQ(faces([](PolygonWish& w) { w.across0 = 82; }), "[treatment.fit] the section is too small for the polygon: a flat would stand 1 mm outside the wood | make it smaller across, or the stock larger");
  EXPECT_EQ(faces([](PolygonWish& w) { w.sides = 6; w.across0 = w.across1 = 75; }), "[treatment.fit] face B cuts the polygon's corners at 190 mm: it stands at 40 mm, the corners reach to 43.301 mm | make the polygon smaller across");
  EXPECT_EQ(faces([](PolygonWish& w) { w.across1 = std::nan(""); }), "[treatment.size] the polygon holds a number that is not finite | ");
  EXPECT_EQ(twist([](TwistWish& w) { w.turns = 2; }), "[treatment.size] a twist needs either a pitch or a number of turns, above nothing | state one of them; its hand says which way it winds");
  EXPECT_EQ(twist([](TwistWish& w) { w.x1 = 690; }), "[treatment.step] the twist's turns run over a step of 5 mm at 650 mm | end them before it");
  EXPECT_EQ(twist([](TwistWish& w) { w.depth = 30; }), "[shape.twist-axis] the twist's hollow reaches the axis at 443.75 mm | make it less deep, or the round thicker");
  EXPECT_EQ(twist([](TwistWish& w) { w.fade0 = 0; }), "[shape.twist-fade] the twist fades over 0 mm and 40 mm of its 460 mm | let both fades be above nothing, and together no longer than the twist");
}

}  // namespace
}  // namespace pommel::shape
