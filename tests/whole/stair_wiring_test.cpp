// What hangs on what in a stair run: as wiring_test.cpp, with stair_wiring.txt.
#include <gtest/gtest.h>

#include "whole/house.h"
#include "whole/wiring.h"

namespace pommel::whole {
namespace {

// the thin part does not follow the square, so that openings do not either
constexpr const char* kDesign = R"(design: wired baluster
family: baluster
sheet:
  treads: 4
  rise: 180 mm
  going: 240 mm
  nosing: 20 mm
  rail_height: 900 mm
  rail_depth: 48 mm
  rail_width: 60 mm
  plough: 8 mm
  square: 40 mm
  top_block: 100 mm
  foot_block: 90 mm
  foot_pin: 30 mm
  foot_pin_thick: 24 mm
  dovetail: 28 mm
  shoe_height: 60 mm
  stock: maple-8/4-rough
  rail_stock: maple-12/4-rough
outline:
  - square: {length: = top_block + head_in_rail + longer * top_takes, name: top block}
  - pommel: {length: 10 mm, cut: square, end: 32 mm}
  - taper:  {share: 1, start: 24 mm, step: yes, end: 32 mm}
  - pommel: {length: 10 mm, start: 32 mm, cut: square}
  - square: {length: = foot_block + foot_below + longer * foot_takes, name: foot block}
  - pin:    {length: = foot_pin, start: = foot_pin_thick, when: = string == "open" and foot == "pin"}
)";
constexpr const char* kOrder = R"(order: Wired
number: "4"
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

Results results_of(const job::Column& column) {
  const frame::Set& set = column.made.set;
  const auto& stair = std::get<frame::Stair>(column.made.frame);
  Results out;
  for (std::size_t i = 0; i < column.made.pieces.size(); ++i) {
    const shape::Part& part = column.made.pieces[i].part;
    out["lengths"].push_back(part.length);
    out["blanks"].push_back(column.blanks[i].plan.blank.length());
    for (const shape::ElementMark& mark : part.elements)
      out[mark.label == "top block" ? "top" : mark.label == "foot block" ? "foot" : mark.shared ? "shares" : "fixed"].push_back(mark.x1 - mark.x0);
    for (const shape::EndCut& cut : set.members[i].part.end_cuts) {
      out["cut"].push_back(cut.x);
      out["angle"].push_back(cut.angle);
    }
  }
  out["open"] = {frame::openings(stair, set).at_thin};
  out["share"] = {column.load->share_of_mor};
  out["pieces"] = {static_cast<double>(set.members.size())};
  out["turnings"] = {static_cast<double>(set.turned_kinds.size())};
  out["rails"] = {static_cast<double>(set.rails.size())};
  out["bolts"] = {fittings_of(column, "rail bolts")};
  out["feet"] = {column.board_feet};
  out["time"] = {column.minutes_each};
  out["price"] = {static_cast<double>(column.quote.price.cents)};
  return out;
}

TEST(StairWiring, TheTableIsLargeEnoughAndWhole) { the_table_is_large_enough_and_whole(read_wiring(repository_text("tests/whole/stair_wiring.txt"))); }

TEST(StairWiring, HoldsForEachPair) {
  const Wires wires = work("tests/whole/stair_wiring.txt", wired(), results_of);
  ASSERT_FALSE(HasFailure());
  each_result_changes_or_stays_as_the_table_says(wires);
  cells_come_out_as_worked_by_hand(wires);
  // a longer run asks the mill for nothing, nor do other boards or a handrail
  for (const char* input : {"treads", "stock", "spares", "made"}) EXPECT_FALSE(wires.worked_again.at(input)) << input;
  EXPECT_TRUE(wires.worked_again.at("rise"));
}

}  // namespace
}  // namespace pommel::whole
