// The frame assembled: written as STEP, read back, and every piece held against its own field and its place in the room; no two pieces may
// share wood.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "job/assembly.h"
#include "job/job.h"

namespace pommel::job {
namespace {

using Entries = std::vector<std::pair<std::string, sheet::Entry>>;

struct Wanted {
  const char* order;
  Entries sizes;                  ///< over those of the order
  std::vector<std::string> with;  ///< straight pieces that must be there ...
  std::size_t straight;           ///< ... and how many
};

Column column_of(const std::string& order, const Entries& sizes = {}) {
  const std::filesystem::path root = POMMEL_SOURCE_DIR;
  const auto files = real_files();
  const auto file = root / "catalog" / "orders" / (order + ".yaml");
  const auto house = find_house(*files, file, std::nullopt, {});
  EXPECT_TRUE(house.ok());
  Sink sink;
  const auto loaded = load(*files, *house, file, sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  const auto sheet = family::make_sheet(loaded->family, loaded->design, &*loaded->order, loaded->shop, sizes, sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  auto column = run_to_stock(*loaded, sheet, sheet.column_count() - 1, {});
  EXPECT_TRUE(column.ok());
  return std::move(column).value();
}

sheet::Entry entry(const char* text) { return {text, Place{"test", 1, 1}, text}; }

class Assembled : public testing::TestWithParam<Wanted> {
 protected:
  void SetUp() override {
    const auto turnings = turned_solids(column_);
    ASSERT_TRUE(turnings.ok()) << render(turnings.reasons());
    const auto kinds = kind_solids(column_, *turnings);
    ASSERT_TRUE(kinds.ok()) << render(kinds.reasons());
    auto all = assembled(column_, *kinds);
    ASSERT_TRUE(all.ok()) << render(all.reasons());
    pieces_ = std::move(all).value();
  }

  Column column_ = column_of(GetParam().order, GetParam().sizes);
  std::vector<solid::NamedSolid> pieces_;
};

bool apart(const solid::Box& a, const solid::Box& b) {
  constexpr double kTouch = 1e-3;
  return a.high.x < b.low.x + kTouch || b.high.x < a.low.x + kTouch || a.high.y < b.low.y + kTouch || b.high.y < a.low.y + kTouch || a.high.z < b.low.z + kTouch || b.high.z < a.low.z + kTouch;
}

std::size_t times(const std::string& word, const std::string& text) {
  std::size_t count = 0;
  for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) ++count;
  return count;
}

TEST_P(Assembled, ComesBackFromStepWithItsNamesVolumesAndPlaces) {
  const solid::Stamp stamp{"assembled.step", "2026-01-01T00:00:00", "", "", "pommel"};
  const auto text = solid::write_step(pieces_, stamp);
  ASSERT_TRUE(text.ok());
  const auto back = solid::read_step(*text);
  ASSERT_TRUE(back.ok());
  std::map<std::string, const solid::NamedSolid*> named;
  for (const solid::NamedSolid& one : *back) EXPECT_TRUE(named.emplace(one.name, &one).second) << one.name << " twice";
  std::size_t members = 0;
  for (const frame::Member& member : column_.made.set.members) {
    if (member.spare) continue;
    ++members;
    ASSERT_TRUE(named.contains(member.label)) << member.label;
    const solid::Solid& piece = named[member.label]->solid;
    const double wood = shape::turned_volume(member.part) - shape::mortised_volume(member.part);
    EXPECT_NEAR(solid::volume(piece), wood, 1e-4 * wood) << member.label;
    // its axis hangs where the frame says, and the eye that looks along face A sees as much as the field says
    const solid::Box box = solid::bounds(piece);
    const frame::Spot& head = member.stand.head;
    double top = head.z, bottom = head.z - member.part.length;
    for (const shape::EndCut& cut : member.part.end_cuts) {
      const double leans = shape::radius_at(member.part, cut.x, cut.phi) * std::tan(std::fabs(cut.angle));
      (cut.at_head ? top : bottom) = head.z - cut.x + (cut.at_head ? leans : -leans);
    }
    EXPECT_NEAR(box.high.z, top, 0.01) << member.label;
    EXPECT_NEAR(box.low.z, bottom, 0.01) << member.label;
    EXPECT_NEAR((box.low.x + box.high.x) / 2, head.x, 0.01) << member.label;
    EXPECT_NEAR((box.low.y + box.high.y) / 2, head.y, 0.01) << member.label;
  }
  EXPECT_EQ(back->size(), members + GetParam().straight);
  EXPECT_EQ(times(" = NEXT_ASSEMBLY_USAGE_OCCURRENCE(", *text), back->size());
  std::set<int> kinds;
  for (const frame::Member& member : column_.made.set.members)
    if (!member.spare) kinds.insert(member.jointed_kind);
  EXPECT_EQ(times(" = MANIFOLD_SOLID_BREP(", *text), kinds.size() + GetParam().straight) << "pieces of one kind share its boundary";
  for (const std::string& name : GetParam().with) EXPECT_TRUE(named.contains(name)) << name;
}

TEST_P(Assembled, NoTwoPiecesShareWood) {
  std::vector<solid::Box> boxes;
  for (const solid::NamedSolid& piece : pieces_) boxes.push_back(solid::bounds(piece.solid));
  int looked = 0;
  for (std::size_t i = 0; i < pieces_.size() && looked < 24; ++i)
    for (std::size_t k = i + 1; k < pieces_.size(); ++k) {
      if (apart(boxes[i], boxes[k])) continue;
      ++looked;
      const auto shared = solid::shared_volume(pieces_[i].solid, pieces_[k].solid);
      ASSERT_TRUE(shared.ok()) << render(shared.reasons());
      EXPECT_NEAR(*shared, 0, 0.05) << pieces_[i].name << " and " << pieces_[k].name;
    }
  EXPECT_GT(looked, 0) << "pieces that stand apart are no frame";
}

// a stair of the catalog in short, so that the test is
INSTANTIATE_TEST_SUITE_P(Orders, Assembled,
                         testing::Values(Wanted{"harvest-table", {}, {"front apron rail", "left apron rail"}, 4}, Wanted{"cannonball-bed", {}, {"left side rail", "headboard, board 1"}, 8},
                                         Wanted{"villa-stair", {{"treads", entry("3")}, {"handrail", entry("made here")}}, {"handrail, by the run", "fillet in the handrail's plough 1"}, 8},
                                         Wanted{"cannonball-bed", {{"side_joint", entry("hook plates")}}, {"left side rail"}, 8},
                                         Wanted{"pair-of-lamps", {}, {"base 1", "base 2"}, 2}),
                         [](const auto& wanted) {
                           std::string name = wanted.param.order;
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name + (!wanted.param.sizes.empty() && name == "cannonball_bed" ? "_with_hook_plates" : "");
                         });

// A rail's tenons fill their mortises but for the relief, seen in the room: its ends stand as far out as its overall length says.
TEST(AssembledTable, RailsReachIntoTheLegs) {
  const Column column = column_of("harvest-table");
  const auto turnings = turned_solids(column);
  const auto pieces = assembled(column, *kind_solids(column, *turnings));
  ASSERT_TRUE(pieces.ok());
  for (const frame::Rail& rail : column.made.set.rails) {
    const auto piece = std::find_if(pieces->begin(), pieces->end(), [&](const solid::NamedSolid& one) { return one.name == rail.label; });
    ASSERT_NE(piece, pieces->end());
    const solid::Box box = solid::bounds(piece->solid);
    const bool along_x = std::fabs(rail.start.x - rail.end.x) > 1;
    EXPECT_NEAR(along_x ? box.high.x - box.low.x : box.high.y - box.low.y, rail.overall_length, 0.01) << rail.label;
    EXPECT_NEAR(box.high.z - box.low.z, rail.depth, 0.01);
    const double body = rail.shoulder_length * rail.depth * rail.thickness;
    const double tenons = 2 * rail.tenon_length * rail.tenon_width * rail.tenon_thickness + 2 * rail.haunch_length * rail.haunch_depth * rail.tenon_thickness;
    const double volume = solid::volume(piece->solid);
    if (rail.mitred) EXPECT_LT(volume, body + tenons + 1);
    else EXPECT_NEAR(volume, body + tenons, 1e-3 * body) << "rounded corners are all that may be missing";
    EXPECT_GT(volume, body);
  }
}

const solid::Solid& named(const std::vector<solid::NamedSolid>& pieces, const std::string& name) {
  return std::find_if(pieces.begin(), pieces.end(), [&](const solid::NamedSolid& one) { return one.name == name; })->solid;
}

std::vector<solid::NamedSolid> assembled_pieces(const Column& column) {
  const auto turnings = turned_solids(column);
  auto pieces = assembled(column, *kind_solids(column, *turnings));
  EXPECT_TRUE(pieces.ok()) << render(pieces.reasons());
  return std::move(pieces).value();
}

// What the fittings take out of a side rail, reckoned by hand from the measures.
TEST(AssembledBed, SideRailsHaveTheHolesOfTheirBolts) {
  const Column column = column_of("cannonball-bed");
  const frame::Rail& rail = column.made.set.rails.front();
  const frame::BedBolts& bolts = std::get<frame::Bed>(column.made.frame).bolts;
  ASSERT_EQ(rail.id, "rail-left");
  ASSERT_EQ(rail.bolt_reach, bolts.nut_from_end);
  const double wood = rail.shoulder_length * rail.depth * rail.thickness + 2 * rail.tenon_length * rail.tenon_width * rail.tenon_thickness;
  const double holes = 2 * bolts.count * std::acos(-1.0) / 4 * bolts.diameter * bolts.diameter * (rail.tenon_length + bolts.nut_from_end);
  EXPECT_NEAR(solid::volume(named(assembled_pieces(column), rail.label)), wood - holes, 1);
}

TEST(AssembledBed, SideRailsHaveTheRecessesOfTheirHookPlates) {
  const Column column = column_of("cannonball-bed", {{"side_joint", entry("hook plates")}});
  const frame::Rail& rail = column.made.set.rails.front();
  const frame::HookPlates& plates = std::get<frame::Bed>(column.made.frame).plates;
  ASSERT_EQ(rail.tenon_length, 0);
  const double recesses = 2 * plates.length * plates.width * plates.thickness;
  const double volume = solid::volume(named(assembled_pieces(column), rail.label)), wood = rail.shoulder_length * rail.depth * rail.thickness;
  EXPECT_LE(volume, wood - 0.9 * recesses) << "rounded corners are all that may be left of them";
  EXPECT_GE(volume, wood - recesses - 1);
}

TEST(AssembledLamp, BaseHasItsSocketAndTheWayForTheCord) {
  const Column column = column_of("pair-of-lamps");
  const auto& lamp = std::get<frame::Lamp>(column.made.frame);
  const double quarter = std::acos(-1.0) / 4, socket = quarter * lamp.foot_tenon_diameter * lamp.foot_tenon_diameter * lamp.foot_tenon;
  const double cord = quarter * lamp.bore * lamp.bore * (lamp.base_thickness - lamp.foot_tenon);
  ASSERT_GT(socket * cord, 0);
  EXPECT_NEAR(solid::volume(named(assembled_pieces(column), "base 1")), lamp.base_width * lamp.base_width * lamp.base_thickness - socket - cord, 1);
}

// Fillets and heads together fill the plough: what the handrail lost in it is there again.
TEST(AssembledStair, FilletsFillThePloughBetweenTheHeads) {
  const Column column = column_of("villa-stair", {{"treads", entry("3")}, {"handrail", entry("made here")}});
  const auto& stair = std::get<frame::Stair>(column.made.frame);
  const auto pieces = assembled_pieces(column);
  const frame::Rail& rail = column.made.set.rails.front();
  double fillets = 0;
  int count = 0;
  for (const solid::NamedSolid& piece : pieces)
    if (piece.name.starts_with("fillet")) fillets += solid::volume(piece.solid), ++count;
  const int heads = stair.treads * stair.a_tread;
  const double pitch = std::atan2(stair.rise, stair.going);
  // the rail and its plough begin square to the pitch over the first nosing; a head takes its width, measured along the rail
  const double plough = rail.shoulder_length * rail.quantity * stair.plough * stair.width, head = stair.width / std::cos(pitch) * stair.plough * stair.width;
  EXPECT_EQ(count, heads + 1);
  EXPECT_NEAR(fillets, plough - heads * head, 1e-6 * plough);
}

}  // namespace
}  // namespace pommel::job
