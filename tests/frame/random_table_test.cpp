// Tables drawn at random with a fixed seed, held against boxes in the room and against the part's field.
#include <gtest/gtest.h>

#include <map>
#include <random>

#include "frame/tables.h"
#include "frame/walls.h"

namespace pommel::frame {
namespace {

constexpr double kSlack = 1e-7;  // mm: sums of a dozen doubles of a few thousand mm, and cosines of quarter turns

class Draw {
 public:
  explicit Draw(unsigned seed) : engine_(seed) {}

  // by hand, because the standard's distributions differ between libraries
  double between(double lo, double hi) { return lo + (hi - lo) * (static_cast<double>(engine_() >> 11) / 9007199254740992.0); }
  int one_of(int count) { return static_cast<int>(engine_() % static_cast<unsigned>(count)); }

  ApronRail rail() {
    ApronRail rail = apron(between(60, 130), between(14, 32), between(0, 14), between(18, 55));
    rail.drop = one_of(2) ? 0 : between(0, 12);
    rail.tenon_rule = static_cast<TenonRule>(one_of(4));
    rail.tenon_thickness = between(5, 14);
    rail.top_shoulder = between(3, 22);
    rail.bottom_shoulder = between(0, 15);
    if (one_of(2)) {
      rail.haunch_length = between(2, rail.top_shoulder);
      rail.haunch_depth = between(4, 16);
    }
    return rail;
  }

  Table table() {
    Table table = dining_table();
    table.length = between(700, 2400);
    table.width = between(450, 1100);
    table.height = between(420, 1050);
    table.top_thickness = between(15, 45);
    table.overhang_long = between(0, 60);
    table.overhang_short = between(0, 120);
    table.glide_height = one_of(2) ? 0 : between(2, 60);
    table.square = between(42, 95);
    table.long_rail = rail();
    table.short_rail = one_of(3) ? rail() : table.long_rail;
    table.mortise_end = static_cast<MortiseEnd>(one_of(2));
    table.relief = between(0, 3);
    table.remedy = static_cast<Remedy>(one_of(4));
    table.least_wall = between(1, 7);
    table.spares = one_of(3);
    if (one_of(3) == 0) table.drawer = drawer(table);
    return table;
  }

 private:
  DrawerFront drawer(const Table& table) {
    DrawerFront front{rail(), rail()};
    front.upper.depth = between(16, 24);
    front.upper.drop = front.upper.top_shoulder = front.upper.haunch_length = front.upper.haunch_depth = 0;
    front.upper.bottom_shoulder = between(0, 4);
    front.upper.tenon_length = between(8, 18);
    front.lower.depth = between(18, 28);
    front.lower.drop = between(60, table.long_rail.depth + 10);
    front.lower.top_shoulder = between(0, 4);
    front.lower.bottom_shoulder = between(0, 4);
    front.lower.haunch_length = front.lower.haunch_depth = 0;
    return front;
  }

  std::mt19937_64 engine_;
};

// shoulders, mouths, tenons in their mortises: each mortise's mouth begins where its rail's shoulder stands, and its middle
// lies on the rail's line but for what shoulders and offset move it by
void expect_rails_meet_mortises(const Table& table, const Set& set) {
  for (const Rail& one : set.rails) {
    for (const bool at_start : {true, false}) {
      const Member& leg = member(set, at_start ? one.from : one.to);
      const shape::Mortise& cut = mortise(leg, one.id.substr(5));
      ASSERT_EQ(cut.mate, one.id);
      const RoomBox pocket = mortise_box(leg, cut, table.square), tenon = tenon_box(one, at_start);
      EXPECT_TRUE(pocket.holds(tenon, kSlack)) << one.id << " in " << leg.id;
      EXPECT_NEAR(pocket.volume() - tenon.volume(), table.relief * one.tenon_thickness * one.tenon_width, 1e-3);
      const Spot mouth = on_face(leg, cut.phi, (cut.x0 + cut.x1) / 2, (cut.t0 + cut.t1) / 2, 0, table.square);
      const Spot shoulder = at_start ? one.start : one.end;
      const bool along_x = one.start.y == one.end.y;
      const double outwards = (along_x ? shoulder.y : shoulder.x) < 0 ? -one.tenon_offset : one.tenon_offset;
      EXPECT_NEAR(mouth.x, shoulder.x + (along_x ? 0 : outwards), kSlack) << one.id << " in " << leg.id;
      EXPECT_NEAR(mouth.y, shoulder.y + (along_x ? outwards : 0), kSlack) << one.id << " in " << leg.id;
      EXPECT_NEAR(mouth.z, shoulder.z - (one.top_shoulder - one.bottom_shoulder) / 2, kSlack) << one.id << " in " << leg.id;
    }
    EXPECT_NEAR(one.overall_length, one.shoulder_length + 2 * one.tenon_length, kSlack);
    EXPECT_NEAR(std::hypot(one.end.x - one.start.x, one.end.y - one.start.y), one.shoulder_length, kSlack);
  }
}

void expect_mortises_inside(const Set& set, const Table& table) {
  for (const Member& one : set.members) {
    EXPECT_TRUE(shape::problems(one.part).empty()) << render(shape::problems(one.part));
    for (const shape::Mortise& cut : one.part.mortises) {
      for (int step = 0; step <= 20; ++step) {
        const double x = cut.x0 + (cut.x1 - cut.x0) * step / 20;
        for (const double t : {cut.t0, cut.t1}) {
          for (const double depth : {0.0, cut.depth}) {
            const double d = table.square / 2 - depth, rho = std::hypot(d, t);
            EXPECT_LE(rho, shape::radius_at(one.part, x, cut.phi + std::atan2(t, d)) + kSlack) << one.id << " " << cut.id;
          }
        }
      }
    }
  }
}

void expect_tenons_apart_or_reported(const Set& set) {
  for (const JointReport& joint : set.joints) {
    bool meet = false;
    for (const Rail& a : set.rails) {
      for (const Rail& b : set.rails) {
        const bool a_here = a.from == joint.member || a.to == joint.member, b_here = b.from == joint.member || b.to == joint.member;
        if (&a == &b || !a_here || !b_here) continue;
        if (!tenon_box(a, a.from == joint.member).overlaps(tenon_box(b, b.from == joint.member), 1e-6)) continue;
        meet = true;
        EXPECT_TRUE(a.mitred && b.mitred) << a.id << " and " << b.id;
      }
    }
    EXPECT_EQ(joint.tenons_meet, meet) << joint.member << ": " << joint.text;
    EXPECT_GT(joint.least_wall, 0);
  }
}

void expect_mirror_images(const Set& set) {
  const auto text = [&](const std::string& id, bool mirror) {
    const shape::Part& part = member(set, id).part;
    return shape::canonical_text(mirror ? shape::mirrored(part) : part, true);
  };
  EXPECT_EQ(text("leg-front-left", true), text("leg-front-right", false));
  EXPECT_EQ(text("leg-back-left", true), text("leg-back-right", false));
  for (const Member& one : set.members) EXPECT_EQ(shape::mirrored(shape::mirrored(one.part)), one.part);
  // mirroring the table swaps left and right, and with them the hands
  const auto hand = [&](const std::string& id) { return member(set, id).hand; };
  if (hand("leg-front-left").empty()) {
    EXPECT_EQ(hand("leg-front-right"), "");
  } else {
    EXPECT_EQ(hand("leg-front-left"), "left");
    EXPECT_EQ(hand("leg-front-right"), "right");
  }
  EXPECT_EQ(hand("leg-back-left").empty(), hand("leg-back-right").empty());
}

void expect_kinds_hold(const Set& set, const Table& table) {
  EXPECT_EQ(set.turned_kinds.size(), 1u);
  const bool equal = table.long_rail == table.short_rail && table.remedy != Remedy::one_long_one_short;
  if (!table.drawer) {
    EXPECT_LE(set.jointed_kinds.size(), equal ? 1u : 2u);
  }
  for (const Kind& kind : set.jointed_kinds) {
    EXPECT_EQ(kind.members.size(), kind.quarters.size());
    for (std::size_t i = 1; i < kind.members.size(); ++i) {
      EXPECT_EQ(shape::canonical_text(member(set, kind.members[i]).part, true),
                shape::canonical_text(member(set, kind.members[0]).part, true));
    }
  }
}

/// The same table from the other side: its upper drawer moves to no other face, so only without a drawer. Turned by a quarter,
/// long and short change their names.
Table quarter_turned(const Table& table) {
  Table turned = table;
  std::swap(turned.length, turned.width);
  std::swap(turned.overhang_long, turned.overhang_short);
  std::swap(turned.long_rail, turned.short_rail);
  return turned;
}

TEST(RandomTables, KeepTheirInvariants) {
  Draw draw(20240611);
  int sound = 0, refused = 0, meeting = 0, with_drawer = 0;
  std::map<std::string, int> errors;
  for (int i = 0; i < 500; ++i) {
    const Table table = draw.table();
    SCOPED_TRACE("table " + std::to_string(i));
    const shape::Part leg = leg_for(table, std::min(draw.between(95, 170), leg_length(table) - 60));
    const Result<Set> set = join_table(table, leg, kChisels);
    if (!set) {
      ++refused;
      for (const Diagnostic& one : set.reasons()) {
        ++errors[one.id];
        EXPECT_EQ(one.severity, Severity::error);
        EXPECT_EQ(one.id.rfind("frame.", 0), 0u) << one.id << ": " << one.message;
        EXPECT_FALSE(one.remedy.empty()) << one.id;
      }
      continue;
    }
    ++sound;
    meeting += set->joints[0].tenons_meet;
    with_drawer += table.drawer.has_value();
    EXPECT_EQ(set->members.size(), 4u + static_cast<std::size_t>(table.spares));
    expect_rails_meet_mortises(table, *set);
    expect_mortises_inside(*set, table);
    expect_tenons_apart_or_reported(*set);
    expect_mirror_images(*set);
    expect_kinds_hold(*set, table);
    if (!table.drawer && table.remedy != Remedy::one_long_one_short) {
      const Result<Set> turned = join_table(quarter_turned(table), leg, kChisels);
      ASSERT_TRUE(turned.ok());
      EXPECT_EQ(shape::canonical_text(member(*set, "leg-front-left").part, true),
                shape::canonical_text(member(*turned, "leg-front-right").part, true));
      EXPECT_NEAR(least_wall(*set), least_wall(*turned), 1e-9);
    }
    if (HasFailure()) break;
  }
  RecordProperty("sound", sound);
  RecordProperty("refused", refused);
  RecordProperty("meeting", meeting);
  for (const auto& [id, count] : errors) RecordProperty(id, count);
  // the draw must reach both sides of every judgement, or it proves nothing
  EXPECT_GE(sound, 150);
  EXPECT_GE(refused, 50);
  EXPECT_GE(meeting, 10);
  EXPECT_GE(with_drawer, 20);
  EXPECT_GE(errors.size(), 5u);
}

// least distance from a box to a point, in the part's axes
double distance(const std::array<double, 3>& lo, const std::array<double, 3>& hi, const std::array<double, 3>& at) {
  double sum = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    const double off = std::max({0.0, lo[i] - at[i], at[i] - hi[i]});
    sum += off * off;
  }
  return std::sqrt(sum);
}

// A fine net of points on the turned skin; those on the mortise's own face are where it opens.
TEST(Walls, AgreeWithANetOfPointsOnTheSkin) {
  Draw draw(77);
  int compared = 0;
  for (int i = 0; i < 60 && compared < 8; ++i) {
    Table table = draw.table();
    table.drawer.reset();
    const shape::Part leg = leg_for(table, std::min(draw.between(95, 170), leg_length(table) - 60));
    const Result<Set> set = join_table(table, leg, kChisels);
    if (!set) continue;
    ++compared;
    shape::Part part = member(*set, "leg-front-left").part;
    part.mortises.resize(1);
    shape::Mortise& cut = part.mortises[0];
    cut.haunch_length = cut.haunch_depth = 0;
    double least = 1e300;
    for (const Wall& wall : walls(part, [](const auto&, const auto&) { return false; })) least = std::min(least, wall.thickness);
    // on face D: outwards is -z, and t grows along +y
    ASSERT_EQ(cut.phi, 1.5 * kPi);
    const std::array<double, 3> lo{cut.x0, cut.t0, -table.square / 2}, hi{cut.x1, cut.t1, -table.square / 2 + cut.depth};
    double net = cut.x0;  // to the head's end
    for (double x = 0; x <= std::min(part.length, cut.x1 + 60); x += 0.25) {
      for (int step = 0; step < 720; ++step) {
        const double theta = step * kPi / 360, r = shape::radius_at(part, x, theta);
        const std::array<double, 3> at{x, r * std::cos(theta), r * std::sin(theta)};
        if (at[2] < -table.square / 2 + 1e-6) continue;
        net = std::min(net, distance(lo, hi, at));
      }
    }
    EXPECT_GE(net, least - 1e-6) << "table " << i;
    EXPECT_LE(net, least + 0.4) << "table " << i;  // half the net's mesh: 0.125 along, 0.25 degrees of at most 68 mm
  }
  EXPECT_EQ(compared, 8);
}

}  // namespace
}  // namespace pommel::frame
