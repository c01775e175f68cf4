// The off-centre rule as the whole table sees it: mortises with their middles 14 mm from the outer faces of a 60 mm leg, 8 mm
// wide, meet beyond a - c - t/2 = 42.0 mm; 44 mm deep and 70 mm high they share 2 x 2 x 70 = 280 mm³ (geometry of two boxes).
#include <gtest/gtest.h>

#include "frame/tables.h"

namespace pommel::frame {
namespace {

Table off_centre(double tenon_length) {
  Table table = dining_table();
  table.relief = 0;
  table.remedy = Remedy::mitred;
  table.long_rail = apron(100, 24, 2, tenon_length);  // 2 + 24/2 = 14
  table.short_rail = table.long_rail;
  return table;
}

Set joined_set(const Table& table) {
  Result<Set> set = join_table(table, leg_for(table, kHead), kChisels);
  EXPECT_TRUE(set.ok()) << (set.ok() ? "" : render(set.reasons()));
  return set.ok() ? *set : Set{};
}

TEST(OffCentre, TenonsMeetAboveFortyTwo) {
  EXPECT_FALSE(joined_set(off_centre(42)).joints.at(0).tenons_meet);
  EXPECT_TRUE(joined_set(off_centre(42.01)).joints.at(0).tenons_meet);
}

TEST(OffCentre, WhatTheyShareIsTwoHundredAndEighty) {
  const Set set = joined_set(off_centre(44));
  const shape::Part& leg = member(set, "leg-front-left").part;
  shape::Part one = leg, other = leg;
  one.mortises = {leg.mortises.at(0)};
  other.mortises = {leg.mortises.at(1)};
  EXPECT_NEAR(shape::mortised_volume(one) + shape::mortised_volume(other) - shape::mortised_volume(leg), 280, 1e-6);
  EXPECT_NEAR(shape::mortised_volume(one), 8 * 70 * 44, 1e-6);
}

}  // namespace
}  // namespace pommel::frame
