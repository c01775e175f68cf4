// What hangs on what. wiring.txt says for each measure and each result whether the result changes when the measure does, and
// for some of them by how much, worked by hand. A result that "must not change" is held to the bit.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "whole/house.h"
#include "whole/wiring.h"

namespace pommel::whole {
namespace {

constexpr const char* kDesign = R"(design: wired
family: table-leg
sheet:
  table_length: 1800 mm
  table_width: 900 mm
  table_height: 740 mm
  top_thickness: 22 mm
  overhang_long: 40 mm
  overhang_short: 60 mm
  glide_height: 0 mm
  square: 64 mm
  long_rail_depth: 100 mm
  short_rail_depth: 80 mm
  rail_thickness: 22 mm
  rail_set_back: 6 mm
  rail_drop: 0 mm
  tenon_rule: half of the rail
  tenon_thickness: 10 mm
  top_shoulder: 14 mm
  bottom_shoulder: 8 mm
  haunch_depth: 9 mm
  wall_wanted: 6 mm
  stock: cherry-12/4-rough
  rail_stock: cherry-4/4-rough
  horn: 20 mm
  spares: 1
outline:
  - square: {length: = head_length}
  - pommel: {length: 14 mm, cut: ogee, end: 50 mm}
  - bead:   {length: 9 mm, start: 46 mm, step: yes}
  - cove:   {length: 12 mm, start: 48 mm, step: yes}
  - vase:   {share: 3, start: 44 mm, step: yes, end: = thin, through: [[0.3, 56 mm], [0.75, 38 mm]]}
  - bead:   {length: 8 mm}
  - taper:  {share: 1, end: 40 mm}
)";
constexpr const char* kOrder = R"(order: Wired
number: "2"
units: mm
design: wired
machine: rotary-degrees
cutter: ball-10
)";

const frame::Rail& rail_of(const frame::Set& set, const std::string& id) {
  const auto found = std::find_if(set.rails.begin(), set.rails.end(), [&](const frame::Rail& rail) { return rail.id == id; });
  EXPECT_NE(found, set.rails.end()) << id;
  return *found;
}

Results results_of(const job::Column& column) {
  const frame::Set& set = column.made.set;
  const shape::Part& leg = set.members.front().part;
  Results out;
  out["leg"] = {leg.length};
  out["blank"] = {column.blanks.front().plan.blank.length()};
  out["feet"] = {column.board_feet};
  for (const shape::Mortise& mortise : leg.mortises) {
    // a kind of the joint each: places from the head, offset of its middle from the face's middle line, depth, width
    for (double x : {mortise.x0, mortise.x1}) out["places"].push_back(x);
    out["offset"].push_back(std::abs(mortise.t0 + mortise.t1) / 2);
    out["depth"].push_back(mortise.depth);
    out["width"].push_back(mortise.t1 - mortise.t0);
  }
  for (const frame::Rail& rail : set.rails) out["tenon"].push_back(rail.tenon_thickness);
  out["long"] = {rail_of(set, "rail-back").shoulder_length};
  out["short"] = {rail_of(set, "rail-left").shoulder_length};
  out["cut"] = {rail_of(set, "rail-back").overall_length};
  out["head"] = {leg.elements.front().x1 - leg.elements.front().x0};
  for (std::size_t i = 1; i < leg.elements.size(); ++i)
    out[leg.elements[i].shared ? "shares" : "fixed"].push_back(leg.elements[i].x1 - leg.elements[i].x0);
  out["thinnest"] = {column.thinnest_diameter};
  out["wall"] = {column.least_wall};
  out["turnings"] = {static_cast<double>(set.turned_kinds.size())};
  out["pieces"] = {static_cast<double>(set.jointed_kinds.size())};
  out["legs"] = {static_cast<double>(set.members.size())};
  out["rails"] = {static_cast<double>(set.rails.size())};
  out["hand"] = {static_cast<double>(column.hand_places)};
  out["time"] = {column.minutes_each};
  out["jtime"] = {std::round(column.joint_minutes * 1e6) / 1e6};  // a sum over moves: its last bits know where the joints lie
  out["price"] = {static_cast<double>(column.quote.price.cents)};
  for (const stock::CuttingPlan& plan : column.cuts.plans) out["boards"].push_back(static_cast<double>(plan.cost.cents));
  const rules::PieceReport& report = column.reports.front();
  out["moves"] = {report.square_movement};
  out["oval"] = {report.out_of_round};
  out["slender"] = {report.slenderness};
  out["push"] = {report.push_share};
  return out;
}

job::Loaded wired(const std::string& more = {}) {
  House house;
  house.put("catalog/designs/wired.yaml", kDesign);
  house.put("catalog/orders/wired.yaml", kOrder + more);
  return house.load("catalog/orders/wired.yaml");
}

// A leg 50 mm longer is 50 mm longer to the bit, not nearly.
void fifty_millimetres_are_fifty(const Wires& wires) {
  for (const char* output : {"leg", "blank"})
    EXPECT_EQ(wires.results.at("height").at(output).front() - wires.results.at("").at(output).front(), 50.0) << output;
}

void equal_rails_make_one_piece_unequal_ones_two(const Wires& wires) {
  EXPECT_EQ(wires.results.at("").at("pieces").front(), 2);
  EXPECT_EQ(wires.results.at("").at("turnings").front(), 1);
  EXPECT_EQ(wires.results.at("equal").at("pieces").front(), 1);
  EXPECT_EQ(wires.results.at("equal").at("turnings").front(), 1);
}

// The mill works again only where the turning or its blank changed.
void nothing_is_planned_again_for_nothing(const Wires& wires) {
  const auto& outputs = wires.wiring.outputs;
  const auto time = static_cast<std::size_t>(std::find(outputs.begin(), outputs.end(), "time") - outputs.begin());
  int at_hand = 0;
  for (const Input& input : wires.wiring.inputs) {
    if (wires.wiring.cells.at(input.name).at(time) != ".") {
      EXPECT_TRUE(wires.worked_again.at(input.name)) << input.name;
    }
    at_hand += wires.worked_again.at(input.name) ? 0 : 1;
  }
  for (const char* input : {"length", "stock", "spares", "thickness"}) EXPECT_FALSE(wires.worked_again.at(input)) << input;
  EXPECT_TRUE(wires.worked_again.at("height"));
  EXPECT_GE(at_hand, 10);
}

TEST(Wiring, TheTableIsLargeEnoughAndWhole) { the_table_is_large_enough_and_whole(read_wiring(repository_text("tests/whole/wiring.txt"))); }

TEST(Wiring, HoldsForEachPair) {
  const Wires wires = work("tests/whole/wiring.txt", wired(), results_of);
  ASSERT_FALSE(HasFailure());
  each_result_changes_or_stays_as_the_table_says(wires);
  cells_come_out_as_worked_by_hand(wires);
  fifty_millimetres_are_fifty(wires);
  equal_rails_make_one_piece_unequal_ones_two(wires);
  nothing_is_planned_again_for_nothing(wires);
}

// Who cuts the joints changes no piece and no turning: hand time goes, machine time comes. By hand, from the shop's rates: eight mortises at the
// bench are 8 x 9 min at 68.00 an hour; milled, their tenons are 8 x 4 min and their corners 8 x 3 min.
TEST(Wiring, TheOrderSaysWhoCutsTheJoints) {
  job::TurningMemo memo;
  job::Options options;
  options.memo = &memo;
  const auto column_of = [&](const job::Loaded& loaded) {
    Sink sink;
    const auto sheet = family::make_sheet(loaded.family, loaded.design, &*loaded.order, loaded.shop, {}, sink);
    auto column = job::run_column(loaded, sheet, family::kOrder, options);
    EXPECT_TRUE(column.ok()) << render(column.reasons());
    return std::move(column).value();
  };
  const job::Column machine = column_of(wired()), same = column_of(wired("joints: machine\n")), bench = column_of(wired("joints: bench\n"));
  EXPECT_EQ(memo.computed(), 1u);
  EXPECT_EQ(machine.quote.price.cents, same.quote.price.cents);
  EXPECT_EQ(machine.bench_joints, 0);
  EXPECT_EQ(bench.bench_joints, 8);
  EXPECT_EQ(bench.joint_minutes, 0);
  EXPECT_GT(machine.joint_minutes, 0);
  EXPECT_EQ(machine.minutes_each, bench.minutes_each);
  const auto amount = [](const job::Column& column, const std::string& text) {
    for (const quote::Line& line : column.quote.lines)
      if (line.text == text) return line.amount.cents;
    return std::int64_t{0};
  };
  EXPECT_EQ(amount(bench, "mortises"), 8160);
  EXPECT_EQ(amount(machine, "mortises"), 0);
  EXPECT_EQ(amount(machine, "tenons of milled mortises"), 3627);
  EXPECT_EQ(amount(machine, "corners of milled mortises squared"), 2720);
  EXPECT_EQ(amount(machine, "machine time, joints"), std::llround(machine.joint_minutes / 60 * 3200));
  EXPECT_EQ(amount(machine, "changes of cutter"), 2720);  // to the flat one and back, four legs, 3 min at 68 an hour
  EXPECT_EQ(amount(bench, "changes of cutter"), 0);
  EXPECT_EQ(amount(machine, "assembly"), amount(bench, "assembly"));
  EXPECT_EQ(machine.quote.cost.cents - bench.quote.cost.cents, 3627 + 2720 + 2720 + amount(machine, "machine time, joints") - 8160);
}

// Unequal rails: the two legs of a diagonal are one piece.
TEST(Wiring, DiagonalLegsAreAlike) {
  const job::Loaded loaded = wired();
  Sink sink;
  const auto sheet = family::make_sheet(loaded.family, loaded.design, &*loaded.order, loaded.shop, {}, sink);
  const auto column = job::run_to_stock(loaded, sheet, family::kOrder, {});
  ASSERT_TRUE(column.ok()) << render(column.reasons());
  std::map<std::string, int> kinds;
  for (const frame::Member& member : column->made.set.members)
    if (!member.spare) kinds[member.place] = member.jointed_kind;
  EXPECT_EQ(kinds["front left"], kinds["back right"]);
  EXPECT_EQ(kinds["front right"], kinds["back left"]);
  EXPECT_NE(kinds["front left"], kinds["front right"]);
}

}  // namespace
}  // namespace pommel::whole
