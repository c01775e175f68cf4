// What hangs on what in a bed: as wiring_test.cpp, with bed_wiring.txt.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "whole/house.h"
#include "whole/wiring.h"

namespace pommel::whole {
namespace {

constexpr const char* kDesign = R"(design: wired bed
family: bed-post
sheet:
  mattress: own
  own_length: 2000 mm
  own_width: 1600 mm
  mattress_thickness: 200 mm
  allowance_length: 20 mm
  allowance_width: 20 mm
  rail_height: 300 mm
  support_height: 250 mm
  head_post_height: 560 mm
  foot_post_height: 400 mm
  square: 60 mm
  margin: 15 mm
  rail_depth: 120 mm
  rail_thickness: 22 mm
  rail_set_back: 10 mm
  tenon_rule: half of the rail
  tenon_length: 28 mm
  top_shoulder: 14 mm
  bottom_shoulder: 14 mm
  bolts_a_joint: 2
  bolt_spread: 50 mm
  bolt_hole: 9 mm
  bolt_seat: 20 mm
  seat_depth: 8 mm
  headboard_joint: none
  headboard_height: 300 mm
  crest_rail: no
  stock: cherry-12/4-rough
  rail_stock: cherry-4/4-rough
outline:
  - taper:  {share: 2, start: 30 mm, end: 44 mm}
  - fillet: {length: 6 mm, start: 48 mm, step: yes}
  - taper:  {share: 1, start: 40 mm, step: yes, end: 50 mm}
  - pommel: {length: 14 mm, start: 50 mm, cut: ogee}
  - square: {length: = block_length, name: block}
  - pommel: {length: 14 mm, cut: ogee, end: 48 mm}
  - taper:  {length: = foot_length - 14 mm, start: 46 mm, step: yes, end: 34 mm}
)";
constexpr const char* kOrder = R"(order: Wired
number: "3"
units: mm
design: wired
machine: rotary-degrees
cutter: ball-10
)";

job::Loaded wired() {
  House house;
  house.put("catalog/designs/wired.yaml", kDesign);
  house.put("catalog/orders/wired.yaml", kOrder);
  return house.load("catalog/orders/wired.yaml");
}

const frame::Rail& rail_of(const frame::Set& set, const std::string& id) {
  const auto found = std::find_if(set.rails.begin(), set.rails.end(), [&](const frame::Rail& rail) { return rail.id == id; });
  EXPECT_NE(found, set.rails.end()) << id;
  return *found;
}

const frame::Member& post_of(const frame::Set& set, const std::string& id) {
  return *std::find_if(set.members.begin(), set.members.end(), [&](const frame::Member& member) { return member.id == id; });
}

Results results_of(const job::Column& column) {
  const frame::Set& set = column.made.set;
  Results out;
  for (std::size_t i = 0; i < 2; ++i) {
    const std::string which = i == 0 ? "head" : "foot";
    const shape::Part& part = column.made.pieces[i].part;
    out[which] = {part.length};
    out[which + "blank"] = {column.blanks[i].plan.blank.length()};
    for (const shape::ElementMark& mark : part.elements) out[mark.label == "block" ? "blocks" : mark.shared ? "shares" : "fixed"].push_back(mark.x1 - mark.x0);
  }
  out["bolts"] = {};  // none with hook plates
  for (const char* id : {"post-head-left", "post-foot-left"}) {
    const shape::Part& part = post_of(set, id).part;
    for (const shape::Mortise& cut : part.mortises) {
      out["places"].push_back(cut.x0);
      out["offset"].push_back(std::abs(cut.t0 + cut.t1) / 2);
      out["depth"].push_back(cut.depth);
    }
    for (const shape::Bore& bore : part.bores) out["bolts"].push_back(bore.x);
  }
  out["side"] = {rail_of(set, "rail-left").shoulder_length};
  out["end"] = {rail_of(set, "rail-head").shoulder_length};
  out["cut"] = {rail_of(set, "rail-foot").overall_length};
  out["level"] = {rail_of(set, "rail-left").start.z};
  out["wall"] = {column.least_wall};
  out["posts"] = {static_cast<double>(set.members.size())};
  out["rails"] = {static_cast<double>(set.rails.size())};
  out["hardware"] = {fittings_of(column, "bed bolts")};
  out["feet"] = {column.board_feet};
  out["time"] = {column.minutes_each};
  out["price"] = {static_cast<double>(column.quote.price.cents)};
  return out;
}

TEST(BedWiring, TheTableIsLargeEnoughAndWhole) { the_table_is_large_enough_and_whole(read_wiring(repository_text("tests/whole/bed_wiring.txt"))); }

TEST(BedWiring, HoldsForEachPair) {
  const Wires wires = work("tests/whole/bed_wiring.txt", wired(), results_of);
  ASSERT_FALSE(HasFailure());
  each_result_changes_or_stays_as_the_table_says(wires);
  cells_come_out_as_worked_by_hand(wires);
  // a longer mattress asks the mill for nothing; a higher post for one of the two turnings
  for (const char* input : {"long", "wide", "mattress", "stock", "bolts", "spread"}) EXPECT_FALSE(wires.worked_again.at(input)) << input;
  EXPECT_TRUE(wires.worked_again.at("headpost"));
}

}  // namespace
}  // namespace pommel::whole
