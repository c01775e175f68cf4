#include "paper/leg_view.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "shape/faces.h"
#include "shape/outline.h"

namespace pommel::paper {
namespace {

using shape::ElementKind;
using shape::ElementSpec;

// 60 mm square: 100 mm of square, a rounded pommel of 20 mm down to 40 mm, a cylinder of 30 mm to 300 mm.
shape::Part simple_leg() {
  ElementSpec square, pommel, round;
  square.kind = ElementKind::square;
  square.length = 100;
  pommel.kind = ElementKind::pommel;
  pommel.length = 20;
  pommel.end = 40;
  pommel.cut = shape::PommelCut::rounded;
  round.kind = ElementKind::cylinder;
  round.share = 1;
  round.start = 30;
  round.step = true;
  auto built = shape::build_outline({square, pommel, round}, 300, shape::StockSection::square(60));
  EXPECT_TRUE(built.ok());
  shape::Part leg;
  leg.name = "simple";
  leg.length = 300;
  leg.outline = built->outline;
  leg.elements = built->elements;
  leg.faces = shape::square_faces(60, 300);
  return leg;
}

double area(const Line& closed) {
  double twice = 0;
  for (std::size_t i = 0; i < closed.size(); ++i) {
    const Point &a = closed[i], &b = closed[(i + 1) % closed.size()];
    twice += a.x * b.t - b.x * a.t;
  }
  return std::fabs(twice) / 2;
}

// The shadow's half height is the lesser of the round and the flat; over the pommel it is summed here by small steps.
TEST(LegView, SilhouetteHasTheAreaOfTheShadow) {
  const shape::Part leg = simple_leg();
  double expected = 100 * 60.0 + 180 * 30.0;
  constexpr int kSteps = 20000;
  for (int i = 0; i < kSteps; ++i) expected += 20.0 / kSteps * 2 * std::min(30.0, leg.outline.value(100 + 20 * (i + 0.5) / kSteps, shape::Side::after));
  EXPECT_NEAR(area(leg_view(leg, 0).silhouette), expected, 0.5);
}

TEST(LegView, AllFacesOfASquareLegLookAlike) {
  const shape::Part leg = simple_leg();
  const LegView a = leg_view(leg, 0);
  for (int quarter = 1; quarter < 4; ++quarter) {
    const LegView other = leg_view(leg, quarter * std::numbers::pi / 2);
    EXPECT_NEAR(area(other.silhouette), area(a.silhouette), 1e-6);
    EXPECT_EQ(other.flats.size(), a.flats.size());
    EXPECT_EQ(other.pommels.size(), a.pommels.size());
  }
}

TEST(LegView, PommelCurveEndsWhereTheRoundIsAsThickAsTheFlats) {
  const LegView view = leg_view(simple_leg(), 0);
  ASSERT_EQ(view.pommels.size(), 2u);
  for (const Line& curve : view.pommels) {
    EXPECT_NEAR(curve.front().x, 100, 1e-6);
    EXPECT_NEAR(std::fabs(curve.front().t), 30, 1e-6) << "at the corner";
    EXPECT_NEAR(curve.back().t, 0, 1e-3) << "in the middle of the face";
    EXPECT_GT(curve.back().x, 100);
    EXPECT_LT(curve.back().x, 120);
  }
  EXPECT_LT(view.pommels[0].front().t * view.pommels[1].front().t, 0) << "one on each side";
}

TEST(LegView, MortisesOfTheFaceSeenAndOfItsNeighbours) {
  shape::Part leg = simple_leg();
  const double quarter = std::numbers::pi / 2;
  leg.mortises.push_back({"front", "rail-front", 3 * quarter, 20, 80, -6, 4, 25, 0, 10, 8});
  leg.mortises.push_back({"left", "rail-left", 2 * quarter, 20, 70, -4, 6, 22, 0, 0, 0});
  EXPECT_DOUBLE_EQ(seen_face(leg), 3 * quarter);
  const LegView view = leg_view(leg, seen_face(leg));
  ASSERT_EQ(view.mortises.size(), 3u);  // mouth, its haunch, the neighbour's pocket
  EXPECT_DOUBLE_EQ(area(view.mortises[0]), 60 * 10);
  EXPECT_DOUBLE_EQ(area(view.mortises[1]), 10 * 10);
  EXPECT_DOUBLE_EQ(area(view.mortises[2]), 50 * 22);
  for (const Point& point : view.mortises[2]) EXPECT_LT(point.t, 0) << "face C lies towards falling t of face D";
  EXPECT_EQ(leg_view(leg, 0).mortises.size(), 2u) << "seen on A: the front pocket and its haunch at the side; face C is behind";
}

TEST(Diameters, AreWrittenAsATurnerSetsTheCalliper) {
  struct Row {
    shape::ElementMark mark;
    const char* text;
  };
  const Row rows[] = {
      {{"square", "", 0, 1, 64, 64, 64, 64, false}, "□ 64"},
      {{"fillet", "", 0, 1, 46, 46, 46, 46, false}, "⌀ 46"},
      {{"bead", "", 0, 1, 46, 46, 46, 55, false}, "⌀ 55"},
      {{"cove", "", 0, 1, 42, 42, 30, 42, false}, "⌀ 30"},
      {{"taper", "", 0, 1, 42, 28, 28, 42, true}, "⌀ 42 – 28"},
      {{"vase", "", 0, 1, 44, 32, 32, 59, true}, "⌀ 44 – 59 – 32"},
      {{"scotia", "", 0, 1, 44, 40, 30, 44, true}, "⌀ 44 – 30 – 40"},
      {{"pommel", "", 0, 1, 90.5, 50, 50, 90.5, false}, "⌀ 50"},
  };
  for (const Row& row : rows) EXPECT_EQ(diameters(row.mark, {}), row.text);
  LengthFormat inches;
  inches.unit = LengthUnit::inch;
  EXPECT_EQ(diameters(rows[1].mark, inches), "⌀ 1 13/16");
}

TEST(Spread, LeavesAloneWhatHasRoom) { EXPECT_EQ(spread({10, 40, 90}, 20, 0, 100), (std::vector<double>{10, 40, 90})); }
TEST(Spread, PartsACrowdAroundItsMiddle) { EXPECT_EQ(spread({50, 50, 50}, 20, 0, 100), (std::vector<double>{30, 50, 70})); }
TEST(Spread, StaysInside) { EXPECT_EQ(spread({0, 0, 0}, 20, 0, 100), (std::vector<double>{0, 20, 40})); }
TEST(Spread, OfNothingIsNothing) { EXPECT_TRUE(spread({}, 20, 0, 100).empty()); }

// Held against the conditions of a least-squares answer: order kept, pitch kept, inside, and no label can be moved alone
// nearer to its wish.
TEST(Spread, RandomCrowdsKeepTheirPitchAndCannotBeBettered) {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> place(0, 1000);
  for (int round = 0; round < 500; ++round) {
    std::vector<double> wanted(static_cast<std::size_t>(round % 40) + 1);
    for (double& one : wanted) one = place(random);
    std::sort(wanted.begin(), wanted.end());
    const auto at = spread(wanted, 20, 0, 1000);
    for (std::size_t i = 0; i < at.size(); ++i) {
      ASSERT_GE(at[i], -1e-9);
      ASSERT_LE(at[i], 1000 + 1e-9);
      const double low = i > 0 ? at[i - 1] + 20 : 0, high = i + 1 < at.size() ? at[i + 1] - 20 : 1000;
      ASSERT_GE(at[i], low - 1e-9);
      if (at[i] > wanted[i] + 1e-6) {
        ASSERT_NEAR(at[i], low, 1e-6) << "could move down";
      }
      if (at[i] < wanted[i] - 1e-6) {
        ASSERT_NEAR(at[i], high, 1e-6) << "could move up";
      }
    }
  }
}

}  // namespace
}  // namespace pommel::paper
