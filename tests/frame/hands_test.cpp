// Sets whose right-hand pieces are wished as mirror images: a twist then winds the other way, and joints stay where the frame puts them.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "frame/hands.h"
#include "frame/table.h"
#include "shape/faces.h"
#include "shape/treatments.h"

namespace pommel::frame {
namespace {

shape::Part leg(bool twisted) {
  shape::Part part;
  part.length = 600;
  part.faces = shape::square_faces(60, 600);
  part.outline.pieces = {shape::clear_piece(0, 120), shape::line_piece(120, 24, 600, 24)};
  if (!twisted) return part;
  auto made = shape::twisted(part, {.x0 = 200, .x1 = 500, .starts = 2, .pitch = 140, .depth = 6, .fade0 = 30, .fade1 = 30, .phase = 0.3});
  EXPECT_TRUE(made.ok()) << render(made.reasons());
  return made.ok() ? *made : part;
}

Table table(bool pairs) {
  Table t;
  t.length = 1200, t.width = 700, t.height = 622, t.top_thickness = 22, t.square = 60, t.overhang_long = t.overhang_short = 40;
  ApronRail rail;
  rail.depth = 90, rail.thickness = 22, rail.set_back = 5, rail.tenon_length = 28, rail.tenon_rule = TenonRule::third_of_rail, rail.top_shoulder = 12, rail.bottom_shoulder = 8;
  t.long_rail = t.short_rail = rail;
  t.spares = 1;
  t.mirrored_pairs = pairs;
  return t;
}

const std::vector<double> kCutters{6, 7, 8, 10};

TEST(Hands, LegsAtTheRightWindTheOtherWay) {
  const auto set = join_table(table(true), leg(true), kCutters);
  ASSERT_TRUE(set.ok()) << render(set.reasons());
  EXPECT_EQ(set->turned_kinds.size(), 2u);
  for (const Member& member : set->members) {
    const bool right = member.id.find("right") != member.id.npos;
    EXPECT_EQ(member.part.twists.front().pitch > 0, !right) << member.id;
    if (!member.spare) { EXPECT_EQ(member.hand, right ? "right" : "left") << member.id; }
  }
  EXPECT_EQ(std::count_if(set->members.begin(), set->members.end(), [](const Member& m) { return m.spare; }), 2);
  EXPECT_NE(set->turned_kinds[1].reason.find("winds the other way"), std::string::npos) << set->turned_kinds[1].reason;
}

// In the room: the skin of the front right leg at (x, theta) is that of the front left at the mirrored place, for both pairs.
TEST(Hands, PairsAreMirrorImagesInTheRoom) {
  const auto set = join_table(table(true), leg(true), kCutters);
  ASSERT_TRUE(set.ok());
  const auto member = [&](const std::string& id) -> const Member& { return *std::find_if(set->members.begin(), set->members.end(), [&](const Member& m) { return m.id == id; }); };
  for (const auto& [left, right] : {std::pair{"leg-front-left", "leg-front-right"}, std::pair{"leg-back-left", "leg-back-right"}})
    for (double x : {150.0, 260.5, 333.0, 420.7})
      for (int i = 0; i < 36; ++i) {
        const double theta = i * 0.1745 + 0.05;
        const Member &a = member(left), &b = member(right);
        const double r = shape::radius_at(a.part, x, theta);
        const Spot at = in_room(a.stand, x, r * std::cos(theta), r * std::sin(theta));
        // the same height and depth, the other side of the middle
        const Spot own = in_room(b.stand, x, 1, 0), across = in_room(b.stand, x, 0, 1), axis = in_room(b.stand, x, 0, 0);
        const double dx = -at.x - axis.x, dy = at.y - axis.y;
        const double y = dx * (own.x - axis.x) + dy * (own.y - axis.y), z = dx * (across.x - axis.x) + dy * (across.y - axis.y);
        EXPECT_NEAR(shape::radius_at(b.part, x, std::atan2(z, y)), std::hypot(y, z), 1e-9) << right << " x " << x << " theta " << theta;
      }
}

TEST(Hands, JointsStayAndAPlainLegHasNoHands) {
  const auto wished = join_table(table(true), leg(true), kCutters), as_ever = join_table(table(false), leg(true), kCutters);
  ASSERT_TRUE(wished.ok() && as_ever.ok());
  for (std::size_t i = 0; i < 4; ++i) EXPECT_EQ(wished->members[i].part.mortises, as_ever->members[i].part.mortises);
  EXPECT_EQ(as_ever->turned_kinds.size(), 1u);
  EXPECT_TRUE(std::any_of(as_ever->notes.begin(), as_ever->notes.end(), [](const Diagnostic& note) { return note.id == "frame.legs-wind-alike"; }));

  EXPECT_FALSE(has_hands(leg(false)));
  const auto plain = join_table(table(true), leg(false), kCutters);
  ASSERT_TRUE(plain.ok());
  EXPECT_EQ(plain->turned_kinds.size(), 1u);
  EXPECT_EQ(std::count_if(plain->members.begin(), plain->members.end(), [](const Member& m) { return m.spare; }), 1);
}

}  // namespace
}  // namespace pommel::frame
