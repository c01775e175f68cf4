// Beds: posts that stand where the mattress puts them, rails that lie on their joints, bolts that pass one another, and what is refused. Tenons,
// mortises and bolts are judged as boxes and points in the room by a judge that knows nothing of how the set was made.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>
#include <stdexcept>

#include "frame/bed.h"
#include "frame/frame.h"
#include "frame/tables.h"

namespace pommel::frame {
namespace {

constexpr double kSlack = 1e-7;  // mm: sums of a dozen doubles of a few thousand mm
const std::vector<double> kCutters{4, 5, 6, 8, 10, 12, 16};

/// Square all along: whatever the bed asks of the post's blocks, it has.
shape::Part square_post(double length, double square) {
  shape::Part post;
  post.name = "post";
  post.length = length;
  post.outline.pieces = {shape::clear_piece(0, length, 0)};
  for (int quarter = 0; quarter < 4; ++quarter) {
    shape::Face face;
    face.phi = quarter == 3 ? 1.5 * kPi : quarter * (kPi / 2);
    face.d.pieces = {shape::line_piece(0, square / 2, length, square / 2)};
    post.faces.push_back(face);
  }
  post.elements = {{"square", "block", 0, length, square, square, square, square, true}};
  return post;
}

shape::Part pinned_finial(const PinnedFinial& finial) {
  shape::Part part = square_post(finial.length + finial.pin_length, finial.square);
  const double r = finial.square * 0.4, pin = finial.pin_diameter / 2;
  part.outline.pieces = {shape::line_piece(0, r, finial.length, r, 0), shape::line_piece(finial.length, pin, part.length, pin, 1)};
  part.elements = {{"cylinder", "knob", 0, finial.length, 2 * r, 2 * r, 2 * r, 2 * r, true}, {"pin", "pin", finial.length, part.length, 2 * pin, 2 * pin, 2 * pin, 2 * pin, false}};
  return part;
}

BedRail rail_at(double height, double depth, double tenon) {
  BedRail rail;
  rail.height = height;
  rail.rail = apron(depth, 24, 10, tenon);
  rail.rail.tenon_rule = TenonRule::half_of_rail;
  return rail;
}

// 2000 x 1600, 80 mm posts; rails 24 thick set back 10, so that their middles stand 22 behind the outer faces
Bed double_bed() {
  Bed bed;
  bed.mattress_length = 2000;
  bed.mattress_width = 1600;
  bed.mattress_thickness = 200;
  bed.allowance_length = 20;
  bed.allowance_width = 30;
  bed.support_height = 350;
  bed.support_depth = 40;
  bed.square = 80;
  bed.head_post = 1200;
  bed.foot_post = 800;
  bed.side_rail = rail_at(400, 140, 8);
  bed.head_rail = rail_at(420, 150, 34);
  bed.foot_rail = rail_at(400, 140, 34);
  bed.bolts = {2, 60, 9, 24, 9, 60, 34};
  bed.relief = 1.5;
  return bed;
}

BedPieces pieces_of(const Bed& bed) {
  BedPieces pieces{square_post(bed.head_post - bed.glide_height, bed.square), square_post(bed.foot_post - bed.glide_height, bed.square), std::nullopt};
  if (bed.finial_kind == FinialKind::on_a_pin) pieces.finial = pinned_finial(bed.finial);
  return pieces;
}

Result<Set> joined(const Bed& bed) { return join_bed(bed, pieces_of(bed), kCutters); }

Set set_of(const Bed& bed) {
  auto set = joined(bed);
  if (!set.ok()) throw std::runtime_error(render(set.reasons()));  // ends the test: there is nothing to look at
  return *set;
}

std::vector<std::string> ids_of(const Result<Set>& set) {
  std::vector<std::string> ids;
  if (!set.ok())
    for (const Diagnostic& reason : set.reasons()) ids.push_back(reason.id);
  return ids;
}

bool noted(const Set& set, const std::string& id) {
  return std::any_of(set.notes.begin(), set.notes.end(), [&](const Diagnostic& note) { return note.id == id; });
}

// each mortise's box holds its rail's tenon and is deeper by the relief
void expect_rails_on_their_joints(const Bed& bed, const Set& set) {
  for (const Rail& one : set.rails) {
    if (one.id == "headboard" || one.tenon_length == 0) continue;
    for (const bool at_start : {true, false}) {
      const Member& post = member(set, at_start ? one.from : one.to);
      const std::string name = one.id.starts_with("rail-") ? one.id.substr(5) : one.id;
      const RoomBox pocket = mortise_box(post, mortise(post, name), bed.square), tenon = tenon_box(one, at_start);
      EXPECT_TRUE(pocket.holds(tenon, kSlack)) << one.id << " in " << post.id;
      EXPECT_NEAR(pocket.volume() - tenon.volume(), bed.relief * one.tenon_thickness * one.tenon_width, 1e-3) << one.id << " in " << post.id;
    }
  }
}

// a bolt's axis, from the mouth of its bore to where it comes out, in the room
struct Axis {
  Spot from, to;
};
Axis axis_of(const Member& post, const shape::Bore& bore, double square) {
  const auto at = [&](double d) {
    return in_room(post.stand, bore.x, d * std::cos(bore.phi) - bore.t * std::sin(bore.phi), d * std::sin(bore.phi) + bore.t * std::cos(bore.phi));
  };
  return {at(square / 2), at(square / 2 - bore.depth)};
}

// every bolt comes out on the end of the rail it is for: on the rail's middle line, within its depth
void expect_bolts_on_their_rails(const Bed& bed, const Set& set) {
  for (const Member& post : set.members)
    for (const shape::Bore& bore : post.part.bores) {
      const Rail& mate = rail(set, bore.mate);
      const Spot end = mate.from == post.id ? mate.start : mate.end;
      const Axis axis = axis_of(post, bore, bed.square);
      EXPECT_NEAR(axis.to.x, end.x, kSlack) << bore.id << " in " << post.id;
      EXPECT_NEAR(axis.to.y, end.y, kSlack) << bore.id << " in " << post.id;
      EXPECT_LE(std::abs(axis.to.z - end.z) + bore.diameter / 2, mate.depth / 2 + kSlack) << bore.id << " in " << post.id;
    }
}

TEST(Bed, TheMattressPutsThePosts) {
  const Bed bed = double_bed();
  EXPECT_DOUBLE_EQ(bed_width(bed), 1600 + 30 + 2 * (10 + 24));
  EXPECT_DOUBLE_EQ(bed_length(bed), 2000 + 20 + 2 * (10 + 24));
  const Set set = set_of(bed);
  EXPECT_EQ(member(set, "post-foot-left").stand.head, (Spot{-(1698.0 - 80) / 2, -(2088.0 - 80) / 2, 800}));
  EXPECT_EQ(member(set, "post-head-right").stand.head, (Spot{(1698.0 - 80) / 2, (2088.0 - 80) / 2, 1200}));
  EXPECT_DOUBLE_EQ(rail(set, "rail-left").shoulder_length, 2088 - 160);
  EXPECT_DOUBLE_EQ(rail(set, "rail-head").shoulder_length, 1698 - 160);
  // between the rails' inner sides lies the mattress with its allowance
  EXPECT_DOUBLE_EQ(rail(set, "rail-right").start.x - rail(set, "rail-left").start.x - 24, 1630);
  EXPECT_DOUBLE_EQ(rail(set, "rail-head").start.y - rail(set, "rail-foot").start.y - 24, 2020);
  EXPECT_DOUBLE_EQ(rail(set, "rail-left").start.z, 400 - 70);
}

TEST(Bed, FacesAndMortisesAreAsTheDrawingSays) {
  const Set set = set_of(double_bed());
  const auto phi = [&](const char* post, const char* cut) { return mortise(member(set, post), cut).phi; };
  EXPECT_DOUBLE_EQ(phi("post-foot-left", "foot"), 1.5 * kPi);
  EXPECT_DOUBLE_EQ(phi("post-foot-left", "left"), kPi);
  EXPECT_DOUBLE_EQ(phi("post-foot-right", "foot"), kPi);
  EXPECT_DOUBLE_EQ(phi("post-head-right", "head"), 1.5 * kPi);
  EXPECT_DOUBLE_EQ(phi("post-head-left", "left"), 1.5 * kPi);
  // the head rail: 1200 - 420 + 15 below the head; middle 10 + 12 behind face B
  const shape::Mortise& head = mortise(member(set, "post-head-left"), "head");
  EXPECT_DOUBLE_EQ(head.x0, 795);
  EXPECT_DOUBLE_EQ(head.x1, 915);
  EXPECT_DOUBLE_EQ((head.t0 + head.t1) / 2, 22 - 40.0);
  EXPECT_DOUBLE_EQ(head.depth, 35.5);
  // two bolts of the left rail through face A of the post at the foot, 30 above and below the rail's middle
  const auto& bores = member(set, "post-foot-left").part.bores;
  ASSERT_EQ(bores.size(), 2u);
  EXPECT_EQ(bores[0].id, "bolt-left-1");
  EXPECT_DOUBLE_EQ(bores[0].phi, 0);
  EXPECT_DOUBLE_EQ(bores[0].x, 800 - 360);
  EXPECT_DOUBLE_EQ(bores[1].x, 800 - 300);
  EXPECT_DOUBLE_EQ(bores[0].t, 40 - 22.0);  // towards face B
}

TEST(Bed, TwoTurningsAndFourPiecesInMirroredPairs) {
  const Set set = set_of(double_bed());
  EXPECT_EQ(set.turned_kinds.size(), 2u);
  EXPECT_EQ(set.jointed_kinds.size(), 4u);
  for (const char* end : {"head", "foot"}) {
    const Member &left = member(set, "post-" + std::string(end) + "-left"), &right = member(set, "post-" + std::string(end) + "-right");
    EXPECT_EQ(shape::canonical_text(shape::mirrored(left.part), true), shape::canonical_text(right.part, true)) << end;
    EXPECT_EQ(left.turned_kind, right.turned_kind);
    EXPECT_NE(left.hand, right.hand);
  }
}

TEST(Bed, LeastWallIsTheOneBetweenBoltAndEndRail) {
  Bed bed = double_bed();
  bed.bolts.seat_diameter = bed.bolts.seat_depth = 0;
  const Set set = set_of(bed);
  // the end rail's mortise ends 80 - 35.5 = 44.5 from the outer face, the bolt's hole 22 + 4.5
  for (const JointReport& joint : set.joints) {
    const bool at_head = joint.member.find("head") != std::string::npos;
    EXPECT_NEAR(joint.least_wall, 22 - 6.0, 1e-9) << joint.text;  // beside a 12 mm mortise: the face
    EXPECT_TRUE(at_head || joint.text.find("face beside") != std::string::npos) << joint.text;
  }
  bed.head_rail.rail.tenon_length = 44;
  // 80 - 45.5 - 26.5 = 8
  EXPECT_NEAR(set_of(bed).joints.front().least_wall, 8, 1e-9);
}

TEST(Bed, HookPlatesAreLetInFlushWithTheirSlots) {
  Bed bed = double_bed();
  bed.side_joint = SideJoint::hook_plates;
  bed.side_rail.rail.tenon_length = 0;
  bed.plates = {110, 16, 3, 2, 26, 8, 14};
  const Set set = set_of(bed);
  const Member& post = member(set, "post-foot-left");
  EXPECT_TRUE(post.part.bores.empty());
  const shape::Mortise& plate = mortise(post, "plate-left");
  EXPECT_DOUBLE_EQ(plate.x0, 400 + 70 - 55.0);
  EXPECT_DOUBLE_EQ(plate.depth, 3);
  // two slots a quarter of the plate from its middle
  EXPECT_DOUBLE_EQ((mortise(post, "slot-left-1").x0 + mortise(post, "slot-left-1").x1) / 2, 470 - 27.5);
  EXPECT_DOUBLE_EQ((mortise(post, "slot-left-2").x0 + mortise(post, "slot-left-2").x1) / 2, 470 + 27.5);
  EXPECT_EQ(rail(set, "rail-left").overall_length, rail(set, "rail-left").shoulder_length);
  bed.side_rail.rail.tenon_length = 8;
  EXPECT_THAT(ids_of(joined(bed)), testing::Contains("frame.plate"));
}

TEST(Bed, HeadboardsStandInAGrooveOrOnTongues) {
  Bed bed = double_bed();
  bed.headboard_joint = HeadboardJoint::groove;
  bed.headboard = {420, 780, 16, 12, 14, 3, 60, 4};
  const Set grooved = set_of(bed);
  const shape::Mortise& groove = mortise(member(grooved, "post-head-left"), "headboard");
  EXPECT_DOUBLE_EQ(groove.x0, 1200 - 780);
  EXPECT_DOUBLE_EQ(groove.x1, 1200 - 420);
  EXPECT_DOUBLE_EQ(groove.depth, 13.5);
  EXPECT_DOUBLE_EQ(rail(grooved, "headboard").depth, 90);
  EXPECT_EQ(rail(grooved, "headboard").quantity, 4);
  EXPECT_TRUE(member(grooved, "post-foot-left").part.mortises.size() == 2u);
  bed.headboard_joint = HeadboardJoint::mortises;
  const Set tongues = set_of(bed);
  // three in 360: a pitch of 120, the first middle 60 below the top
  EXPECT_DOUBLE_EQ(mortise(member(tongues, "post-head-right"), "headboard-1").x0, 1200 - 780 + 60 - 30.0);
  EXPECT_DOUBLE_EQ(mortise(member(tongues, "post-head-right"), "headboard-3").x1, 1200 - 780 + 300 + 30.0);
}

TEST(Bed, FinialsStandOnPinsInTheHeads) {
  Bed bed = double_bed();
  bed.finial_kind = FinialKind::on_a_pin;
  bed.finial = {120, 38, 20, 56};
  const Set set = set_of(bed);
  ASSERT_EQ(set.members.size(), 8u);
  const Member& finial = member(set, "finial-head-left");
  EXPECT_EQ(finial.piece, 2u);
  EXPECT_DOUBLE_EQ(finial.stand.head.z, 1320);
  const auto& sockets = member(set, "post-head-left").part.axial_bores;
  ASSERT_EQ(sockets.size(), 1u);
  EXPECT_DOUBLE_EQ(sockets[0].diameter, 20);
  EXPECT_DOUBLE_EQ(sockets[0].x1, 39.5);
  EXPECT_EQ(set.turned_kinds.size(), 3u);
  BedPieces pieces = pieces_of(bed);
  bed.finial.pin_diameter = 24;  // the finial's own is another
  EXPECT_THAT(ids_of(join_bed(bed, pieces, kCutters)), testing::Contains("frame.finial"));
  bed.finial = {120, 38, 80, 100};  // a pin as thick as the post
  EXPECT_THAT(ids_of(joined(bed)), testing::Contains("frame.finial"));
}

TEST(Bed, BoltedEndRailsAreStaggeredOrRefused) {
  Bed bed = double_bed();
  bed.end_joint = EndJoint::bolts;
  bed.head_rail.rail.tenon_length = bed.foot_rail.rail.tenon_length = 8;
  const Set set = set_of(bed);
  EXPECT_EQ(member(set, "post-foot-left").part.bores.size(), 4u);
  expect_bolts_on_their_rails(bed, set);
  bed.bolts.stagger = 0;
  EXPECT_THAT(ids_of(joined(bed)), testing::Contains("frame.bolts-cross"));
}

TEST(Bed, WhatDoesNotFitIsRefusedInWords) {
  struct Case {
    const char* what;
    void (*spoil)(Bed&);
    const char* id;
  };
  const Case cases[] = {
      {"no number", [](Bed& b) { b.mattress_width = std::nan(""); }, "frame.not-a-number"},
      {"no mattress", [](Bed& b) { b.mattress_length = 0; }, "frame.measure-out-of-range"},
      {"too many spares", [](Bed& b) { b.spares = 101; }, "frame.measure-out-of-range"},
      {"no bolts", [](Bed& b) { b.bolts.count = 0; }, "frame.measure-out-of-range"},
      {"a narrow bed", [](Bed& b) { b.mattress_width = 40; }, "frame.posts-overlap"},
      {"slats above the rails", [](Bed& b) { b.support_height = 401; }, "frame.support"},
      {"a ledger below the rails", [](Bed& b) { b.support_depth = 91; }, "frame.support"},
      {"a rail under the floor", [](Bed& b) { b.foot_rail.height = 130; }, "frame.rail-off-post"},
      {"a rail above its post", [](Bed& b) { b.foot_rail.height = 801; }, "frame.rail-off-post"},
      {"a crest in the rail", [](Bed& b) { b.head_crest = rail_at(480, 70, 30); }, "frame.rail-off-post"},
      {"a thick rail", [](Bed& b) { b.side_rail.rail.thickness = 71; }, "frame.rail-past-leg"},
      {"shoulders too wide", [](Bed& b) { b.head_rail.rail.top_shoulder = 140; }, "frame.shoulders-too-wide"},
      {"a tenon as thick as the rail", [](Bed& b) { b.head_rail.rail.tenon_rule = TenonRule::given; b.head_rail.rail.tenon_thickness = 16; b.head_rail.rail.thickness = 16; }, "frame.tenon-too-thick"},
      {"a tenon through the post", [](Bed& b) { b.head_rail.rail.tenon_length = 79; }, "frame.mortise-through-leg"},
      {"a tenon into the bolts", [](Bed& b) { b.head_rail.rail.tenon_length = 60; }, "frame.bolt-in-joint"},
      {"bolts off the rail", [](Bed& b) { b.bolts.spread = 140; }, "frame.bolt-off-rail"},
      {"bolts in one hole", [](Bed& b) { b.bolts.spread = 20; }, "frame.bolt-off-rail"},
      {"a seat narrower than the hole", [](Bed& b) { b.bolts.seat_diameter = 8; }, "frame.bolt-seat"},
      {"a seat as deep as the post", [](Bed& b) { b.bolts.seat_depth = 80; }, "frame.bolt-seat"},
      {"a seat over the edge", [](Bed& b) { b.bolts.seat_diameter = 46; }, "frame.bolt-breaks-out"},
      {"a headboard in the rail", [](Bed& b) { b.headboard_joint = HeadboardJoint::groove; b.headboard = {400, 700, 16, 12, 14, 3, 40, 1}; }, "frame.headboard"},
      {"a headboard above the post", [](Bed& b) { b.headboard_joint = HeadboardJoint::groove; b.headboard = {430, 1300, 16, 12, 14, 3, 40, 1}; }, "frame.headboard"},
      {"more tongues than panel", [](Bed& b) { b.headboard_joint = HeadboardJoint::mortises; b.headboard = {430, 700, 16, 12, 14, 9, 40, 1}; }, "frame.headboard"},
      {"a plate longer than the rail", [](Bed& b) { b.side_joint = SideJoint::hook_plates; b.side_rail.rail.tenon_length = 0; b.plates = {150, 16, 3, 2, 26, 8, 14}; }, "frame.plate"},
      {"slots no deeper than the plate", [](Bed& b) { b.side_joint = SideJoint::hook_plates; b.side_rail.rail.tenon_length = 0; b.plates = {110, 16, 3, 2, 26, 8, 3}; }, "frame.plate"},
  };
  for (const Case& one : cases) {
    Bed bed = double_bed();
    one.spoil(bed);
    const auto set = joined(bed);
    EXPECT_FALSE(set.ok()) << one.what;
    EXPECT_THAT(ids_of(set), testing::Contains(one.id)) << one.what << "\n" << (set.ok() ? "" : render(set.reasons()));
    if (set.ok()) continue;
    for (const Diagnostic& reason : set.reasons()) EXPECT_FALSE(reason.remedy.empty()) << reason.message;
  }
}

TEST(Bed, AHundredSparesAtMost) {
  Bed bed = double_bed();
  bed.spares = 100;
  EXPECT_TRUE(check_bed(bed).ok());
  bed.spares = 101;
  ASSERT_FALSE(check_bed(bed).ok());
  EXPECT_EQ(check_bed(bed).reasons().front().message, "the number of spares is 101");
}

TEST(Bed, PostsMustBeWhatTheBedAsksFor) {
  const Bed bed = double_bed();
  BedPieces pieces = pieces_of(bed);
  pieces.head_post = square_post(1190, 80);
  EXPECT_THAT(ids_of(join_bed(bed, pieces, kCutters)), testing::Contains("frame.post-length"));
  pieces = pieces_of(bed);
  pieces.foot_post.mortises.push_back({"own", "", 0, 10, 20, -5, 5, 10, 0, 0, 0});
  EXPECT_THAT(ids_of(join_bed(bed, pieces, kCutters)), testing::Contains("frame.post-has-joints"));
  // round from 100 above the rail's upper edge up, and 5 mm into it
  for (const double round_until : {300.0, 385.0}) {
    pieces = pieces_of(bed);
    pieces.foot_post.outline.pieces = {shape::line_piece(0, 30, round_until, 30, 0), shape::clear_piece(round_until, 800, 1)};
    EXPECT_TRUE(join_bed(bed, pieces, kCutters).ok()) << round_until;
  }
  pieces = pieces_of(bed);
  pieces.foot_post.outline.pieces = {shape::line_piece(0, 30, 405, 30, 0), shape::clear_piece(405, 800, 1)};
  EXPECT_THAT(ids_of(join_bed(bed, pieces, kCutters)), testing::Contains("frame.post-not-square"));
}

TEST(Bed, NotesSayTheMattressTopAndTheBolts) {
  const Set set = set_of(double_bed());
  EXPECT_TRUE(noted(set, "frame.mattress-top"));
  EXPECT_TRUE(noted(set, "frame.bolts"));
  EXPECT_THAT(render(set.notes), testing::HasSubstr("550 mm above the floor"));
  // four joints of two; 80 - 9 + 60
  EXPECT_THAT(render(set.notes), testing::HasSubstr("8 bolts"));
  EXPECT_THAT(render(set.notes), testing::HasSubstr("131 mm"));
}

TEST(Bed, AFrameAsksForItsPieces) {
  Bed bed = double_bed();
  bed.glide_height = 20;
  const Frame frame = bed;
  const auto wanted = wanted_pieces(frame);
  ASSERT_TRUE(wanted.ok());
  ASSERT_EQ(wanted->size(), 2u);
  EXPECT_EQ((*wanted)[0].id, "head-post");
  EXPECT_DOUBLE_EQ((*wanted)[0].length, 1180);
  EXPECT_DOUBLE_EQ((*wanted)[1].length, 780);
  bed.square = -1;
  EXPECT_FALSE(wanted_pieces(Frame(bed)).ok());
}

class Draw {
 public:
  explicit Draw(unsigned seed) : engine_(seed) {}

  double between(double lo, double hi) { return lo + (hi - lo) * (static_cast<double>(engine_() >> 11) / 9007199254740992.0); }
  int one_of(int count) { return static_cast<int>(engine_() % static_cast<unsigned>(count)); }

  Bed bed() {
    Bed bed = double_bed();
    bed.mattress_length = between(1700, 2200);
    bed.mattress_width = between(700, 2000);
    bed.square = between(60, 110);
    bed.head_post = between(900, 1600);
    bed.foot_post = between(600, 1200);
    bed.glide_height = one_of(2) ? 0 : between(5, 60);
    for (BedRail* rail : {&bed.side_rail, &bed.head_rail, &bed.foot_rail}) {
      rail->height = between(330, 500);
      rail->rail.depth = between(110, 190);
      rail->rail.thickness = between(18, 40);
      rail->rail.set_back = between(4, 20);
      rail->rail.top_shoulder = between(4, 25);
      rail->rail.bottom_shoulder = between(4, 25);
      rail->rail.tenon_length = between(15, 60);
    }
    bed.side_rail.rail.tenon_length = one_of(2) ? 0 : between(4, 12);
    bed.support_height = bed.side_rail.height - between(0, 60);
    bed.bolts = {1 + one_of(3), between(50, 120), between(6, 11), between(18, 28), between(5, 20), between(40, 80), between(20, 60)};
    if (one_of(3) == 0) bed.end_joint = EndJoint::bolts;
    if (one_of(3) == 0) {
      bed.side_joint = SideJoint::hook_plates;
      bed.side_rail.rail.tenon_length = 0;
      bed.plates = {between(70, 130), between(10, 22), between(2, 4), 1 + one_of(2), between(15, 28), between(5, 10), between(8, 16)};
    }
    if (one_of(2)) {
      bed.headboard_joint = one_of(2) ? HeadboardJoint::groove : HeadboardJoint::mortises;
      bed.headboard = {bed.head_rail.height + between(0, 20), between(560, 880), between(10, 25), between(6, 16), between(4, 30), 2 + one_of(3), between(20, 50), 1 + one_of(4)};
    }
    if (one_of(3) == 0) {
      bed.finial_kind = FinialKind::on_a_pin;
      bed.finial = {between(60, 200), between(20, 60), between(12, 30), between(40, 70)};
    }
    bed.mortise_end = static_cast<MortiseEnd>(one_of(2));
    bed.relief = between(0, 3);
    bed.spares = one_of(3);
    return bed;
  }

 private:
  std::mt19937_64 engine_;
};

// a hundred and fifty beds: refused with reasons, or sound, with every rail on its joints and left and right mirrored
TEST(Bed, RandomBedsAreSoundOrRefused) {
  Draw draw(20260302);
  int made = 0;
  for (int i = 0; i < 150; ++i) {
    const Bed bed = draw.bed();
    const auto set = joined(bed);
    if (!set.ok()) {
      for (const Diagnostic& reason : set.reasons()) {
        EXPECT_EQ(reason.id.rfind("shape.", 0), std::string::npos) << "bed " << i << ": the second judge saw what this room did not: " << render(reason);
        EXPECT_FALSE(reason.message.empty());
      }
      continue;
    }
    ++made;
    expect_rails_on_their_joints(bed, *set);
    expect_bolts_on_their_rails(bed, *set);
    for (const Member& one : set->members) EXPECT_TRUE(shape::problems(one.part).empty()) << render(shape::problems(one.part));
    for (const JointReport& joint : set->joints) EXPECT_GT(joint.least_wall, 0);
    for (const char* end : {"head", "foot"})
      EXPECT_EQ(shape::canonical_text(shape::mirrored(member(*set, "post-" + std::string(end) + "-left").part), true),
                shape::canonical_text(member(*set, "post-" + std::string(end) + "-right").part, true));
  }
  EXPECT_GE(made, 30);
  RecordProperty("made", made);
}

}  // namespace
}  // namespace pommel::frame
