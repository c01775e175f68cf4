#include "job/line_places.h"

#include <gtest/gtest.h>

namespace pommel::job {
namespace {

shop::Machine machine() {
  shop::Machine m;
  m.id = "router";
  m.x_min = -150, m.x_max = 1500, m.z_min = -20, m.z_max = 160;
  m.rapid_x = 15000, m.rapid_z = 8000, m.rapid_rotary = 30, m.feed_max = 6000;
  m.accel_x = 1200, m.accel_z = 1000, m.accel_rotary = 5;
  m.max_rpm = 24000;
  return m;
}

constexpr std::string_view kText =
    "G21 G90 G94\n"             // 1
    "(cutter: ball)\n"          // 2
    "M3 S18000\n"               // 3
    "G0 Z60\n"                  // 4
    "G0 X10 A0\n"               // 5
    "(stage: first)\n"          // 6
    "G1 Z20 F600\n"             // 7
    "G1 X50 F1200\n"            // 8
    "(stage: second)\n"         // 9
    "G0 Z60\n"                  // 10
    "G1 X20 A90 F1200\n"        // 11
    "M5\n"                      // 12
    "M2\n";                     // 13

TEST(LinePlaces, TellWhereALineGoesAndWhichPassItIs) {
  const auto places = line_places({kText}, machine());
  ASSERT_TRUE(places.ok()) << render(places.reasons());
  const LinePlace* cut = place_of(*places, 8);
  ASSERT_TRUE(cut);
  EXPECT_EQ(cut->line, 8);
  EXPECT_DOUBLE_EQ(cut->x, 50);
  EXPECT_DOUBLE_EQ(cut->height, 20);
  EXPECT_FALSE(cut->rapid);
  EXPECT_EQ(places->passes[cut->pass].name, "first");
  EXPECT_EQ(places->passes[cut->pass].cutter, "ball");
  EXPECT_NEAR(places->passes[cut->pass].minutes, 40.0 / 600 + 40.0 / 1200, 1e-12);  // 40 mm down, 40 mm along
  EXPECT_EQ(place_of(*places, 9)->line, 8);  // a comment belongs to where the tip stands
  EXPECT_EQ(place_of(*places, 1), nullptr);
}

TEST(LinePlaces, FindTheNextLineThatPassesAPlaceAndBeginAgainAtTheTop) {
  const auto places = line_places({kText}, machine());
  ASSERT_TRUE(places.ok()) << render(places.reasons());
  EXPECT_EQ(line_at(*places, 30, 0), 8);
  EXPECT_EQ(line_at(*places, 30, 8), 11);
  EXPECT_EQ(line_at(*places, 30, 11), 8);
  EXPECT_EQ(line_at(*places, 400, 0), 0);
}

TEST(LinePlaces, SayWhyATextCannotBeRead) { EXPECT_FALSE(line_places({"G1 X5\n"}, machine()).ok()); }

}  // namespace
}  // namespace pommel::job
