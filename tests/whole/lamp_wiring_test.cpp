// What hangs on what in a lamp: as wiring_test.cpp, with lamp_wiring.txt.
#include <gtest/gtest.h>

#include <algorithm>

#include "whole/house.h"
#include "whole/wiring.h"

namespace pommel::whole {
namespace {

// thinnest in its middle, so that the drill's wander is greatest where the wall is least
constexpr const char* kDesign = R"(design: wired lamp
family: lamp-column
sheet:
  lamps: 2
  lamp_height: 300 mm
  base_width: 120 mm
  base_thickness: 30 mm
  foot_tenon: 20 mm
  foot_tenon_thick: 32 mm
  pipe: 1/8 IP
  bore: 11 mm
  seat: 22 mm
  seat_depth: 8 mm
  drill_reach: 440 mm
  drill_wander: 0.004
  waste_head: 80 mm
  waste_foot: 60 mm
  section_tenon: 16 mm
  section_tenon_thick: 22 mm
  wall_wanted: 4 mm
  square: 60 mm
outline:
  - fillet: {length: 10 mm, start: 48 mm}
  - taper:  {share: 1, start: 44 mm, step: yes, end: 26 mm}
  - bead:   {length: 8 mm, start: 34 mm, step: yes, divide: yes}
  - taper:  {share: 1, start: 26 mm, step: yes, end: 48 mm}
  - pin:    {length: = foot_tenon, start: = foot_tenon_thick}
)";
constexpr const char* kOrder = R"(order: Wired
number: "5"
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
  Results out;
  out["cordhole"] = {};
  for (std::size_t i = 0; i < column.made.pieces.size(); ++i) {
    out["lengths"].push_back(column.made.pieces[i].part.length);
    out["blanks"].push_back(column.blanks[i].plan.blank.length());
    for (const shape::ElementMark& mark : column.made.pieces[i].part.elements) out[mark.shared ? "shares" : "fixed"].push_back(mark.x1 - mark.x0);
    const shape::Part& part = set.members[i].part;
    for (const shape::AxialBore& bore : part.axial_bores) {
      out["holes"].push_back(bore.x1);
      out["holes"].push_back(bore.diameter);
    }
    for (const shape::Bore& bore : part.bores) out["cordhole"].push_back(bore.x);
  }
  for (const frame::Member& member : set.members)
    if (!member.spare) out["top"].push_back(member.stand.head.z);
  out["wall"] = {column.least_wall};
  out["pieces"] = {static_cast<double>(set.members.size())};
  out["turnings"] = {static_cast<double>(set.turned_kinds.size())};
  out["bases"] = {static_cast<double>(set.rails.front().quantity)};
  out["rods"] = {fittings_of(column, "threaded rod")};
  out["feet"] = {column.board_feet};
  out["time"] = {column.minutes_each};
  out["price"] = {static_cast<double>(column.quote.price.cents)};
  return out;
}

TEST(LampWiring, TheTableIsLargeEnoughAndWhole) { the_table_is_large_enough_and_whole(read_wiring(repository_text("tests/whole/lamp_wiring.txt"))); }

TEST(LampWiring, HoldsForEachPair) {
  const Wires wires = work("tests/whole/lamp_wiring.txt", wired(), results_of);
  ASSERT_FALSE(HasFailure());
  each_result_changes_or_stays_as_the_table_says(wires);
  cells_come_out_as_worked_by_hand(wires);
  // another bore asks the mill for nothing: the piece is bored before it is turned
  for (const char* input : {"lamps", "base", "bore", "pipe", "seat", "reach", "wander", "stock", "spares", "cord"}) EXPECT_FALSE(wires.worked_again.at(input)) << input;
  EXPECT_TRUE(wires.worked_again.at("height"));
}

}  // namespace
}  // namespace pommel::whole
