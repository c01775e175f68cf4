#include "proof/start.h"

#include <gtest/gtest.h>

#include "pieces.h"

namespace pommel::proof {
namespace {

using namespace testing;

shape::Blank square_blank() {
  shape::Blank blank;
  blank.size = 60;
  blank.x0 = -20;
  blank.x1 = 180;
  return blank;
}

TEST(Start, ASquareAsPlanned) {
  shape::Blank blank = square_blank();
  for (int quarter = 0; quarter < 4; ++quarter) {
    EXPECT_NEAR(start_radius(blank, {}, 0, quarter * kPi / 2), 30, 1e-12);
    EXPECT_NEAR(start_radius(blank, {}, 0, quarter * kPi / 2 + kPi / 4), 30 * std::sqrt(2.0), 1e-12);
    EXPECT_NEAR(start_radius(blank, {}, 0, quarter * kPi / 2 + 0.3), 30 / std::cos(0.3), 1e-12);
  }
  EXPECT_EQ(start_radius(blank, {}, -20.001, 0), 0);
  EXPECT_GT(start_radius(blank, {}, -20, 0), 0);
}

TEST(Start, OffCentreTowardsAStatedDirection) {
  Lie lie{"", 0, 0.8, 0, 0.0};
  shape::Blank blank = square_blank();
  EXPECT_NEAR(start_radius(blank, lie, 0, 0), 30.8, 1e-12);
  EXPECT_NEAR(start_radius(blank, lie, 0, kPi), 29.2, 1e-12);
  EXPECT_NEAR(start_radius(blank, lie, 0, kPi / 2), 30, 1e-12);
  EXPECT_NEAR(start_radius(blank, lie, 0, std::atan2(30, 30.8)), std::hypot(30, 30.8), 1e-9);
  EXPECT_NEAR(start_radius(blank, lie, 0, std::atan2(-30, -29.2)), std::hypot(30, 29.2), 1e-9);
}

TEST(Start, OffCentreTowardsAnyDirectionIsTheUnionOfAll) {
  shape::Blank blank = square_blank();
  for (auto section : {shape::Blank::Section::square, shape::Blank::Section::round}) {
    blank.section = section;
    for (double theta = 0; theta < 2 * kPi; theta += 0.05) {
      double greatest = 0;
      for (int i = 0; i < 3600; ++i) {
        greatest = std::max(greatest, start_radius(blank, {"", 0, 0.8, 0, i * kPi / 1800}, 0, theta));
      }
      double any = start_radius(blank, {"", 0, 0.8, 0, {}}, 0, theta);
      EXPECT_GE(any, greatest - 1e-9) << theta;
      EXPECT_NEAR(any, greatest, 2e-3) << theta;  // the directions tried are a tenth of a degree apart
    }
  }
}

TEST(Start, ABowRisesInTheMiddleOnly) {
  shape::Blank blank = square_blank();
  Lie lie{"", 0, 0, 1.0, kPi / 2};
  EXPECT_NEAR(start_radius(blank, lie, -20, kPi / 2), 30, 1e-12);
  EXPECT_NEAR(start_radius(blank, lie, 80, kPi / 2), 31, 1e-12);
  EXPECT_NEAR(start_radius(blank, lie, 30, kPi / 2), 30.75, 1e-12);
  EXPECT_NEAR(start_radius(blank, lie, 80, -kPi / 2), 29, 1e-12);
}

TEST(Start, OversizeAndRound) {
  shape::Blank blank = square_blank();
  EXPECT_NEAR(start_radius(blank, {"", 0.8, 0, 0, {}}, 0, 0), 30.8, 1e-12);
  EXPECT_NEAR(start_radius(blank, {"", 0.8, 0, 0, {}}, 0, kPi / 4), 30.8 * std::sqrt(2.0), 1e-12);
  blank.section = shape::Blank::Section::round;
  EXPECT_NEAR(start_radius(blank, {}, 0, 1), 30, 1e-12);
  // a circle 0.8 off along 0: r = 0.8 cos + sqrt(900 - 0.64 sin²)
  EXPECT_NEAR(start_radius(blank, {"", 0, 0.8, 0, 0.0}, 0, 1), 0.8 * std::cos(1.0) + std::sqrt(900 - 0.64 * std::sin(1.0) * std::sin(1.0)),
              1e-12);
}

TEST(Start, TheShopsTolerancesMakeThreeMoreLies) {
  std::vector<Lie> all = lies({0.8, 1.0, 0.7});
  ASSERT_EQ(all.size(), 4u);
  EXPECT_EQ(all[0].name, "as planned");
  EXPECT_EQ(all[1].off_centre, 0.8);
  EXPECT_EQ(all[2].bow, 1.0);
  EXPECT_EQ(all[3].oversize, 0.7);
}

}  // namespace
}  // namespace pommel::proof
