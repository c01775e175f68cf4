// The removal against closed forms and against a slow, obvious model.
#include "proof/removal.h"

#include <gtest/gtest.h>

#include <random>

#include "pieces.h"
#include "proof/kernel.h"

namespace pommel::proof {
namespace {

using namespace testing;
using Section = shape::Blank::Section;

Grid grid_of(const shape::Part& part, const shape::Blank& blank, double step = 0.25, int columns = 720) {
  return std::move(make_grid(part, blank, step, columns)).value();
}

TEST(Removal, AGrooveHasTheSectionOfTheBall) {
  shape::Part part = rod(25, 60);
  shape::Blank blank = blank_for(part, Section::round, 50);
  Grid grid = grid_of(part, blank);
  double a = 40 * grid.column_step(), rho = 3, c = 17 + rho;
  PathMaker maker({10, 0, 40, a});
  maker.feed(10, 17, a).feed(50, 17, a);
  Cut wood = cut_one(grid, blank, maker.path, ball(2 * rho));
  int seen = 0;
  for (std::size_t row = grid.first_row_from(10); grid.x[row] <= 50; ++row) {
    for (std::size_t j = 0; j < 720; ++j) {
      double phi = grid.angle(row, j) - a, v = rho * rho - c * c * std::sin(phi) * std::sin(phi);
      bool hit = v > 0 && std::cos(phi) > 0;
      ASSERT_EQ(wood.low[grid.begin[row] + j] < kNone, hit) << grid.x[row] << " " << j;
      if (!hit) continue;
      // a ray that only just touches has all of single precision's error in the square root
      ASSERT_NEAR(wood.low[grid.begin[row] + j], c * std::cos(phi) - std::sqrt(v), 1e-5 + 3e-6 / std::sqrt(v));
      ++seen;
    }
  }
  EXPECT_GT(seen, 160 * 17);
}

TEST(Removal, APlungeLeavesTheBallsBowl) {
  shape::Part part = rod(25, 60);
  shape::Blank blank = blank_for(part, Section::round, 50);
  Grid grid = grid_of(part, blank);
  double rho = 4, c = 15 + rho, x0 = 30.1, a = 1.2345;
  PathMaker maker({x0, 0, 40, a});
  maker.feed(x0, 15, a).feed(x0, 40, a);
  Cut wood = cut_one(grid, blank, maker.path, ball(2 * rho));
  int seen = 0;
  for (std::size_t row = 0; row < grid.rows(); ++row) {
    for (std::size_t j = 0; j < 720; ++j) {
      double dx = grid.x[row] - x0, phi = grid.angle(row, j) - a, s = c * std::sin(phi);
      double v = rho * rho - dx * dx - s * s;
      bool hit = v > 0 && std::cos(phi) > 0;
      float low = wood.low[grid.begin[row] + j];
      if (!hit) {
        ASSERT_TRUE(low == kNone || v > -1e-4) << dx << " " << phi;
        continue;
      }
      ASSERT_NEAR(low, c * std::cos(phi) - std::sqrt(v), 1e-5 + 3e-6 / std::sqrt(v)) << dx << " " << phi;
      ++seen;
    }
  }
  EXPECT_GT(seen, 500);
}

// The slow model: the ball at very many places of the true path, double precision, one ray.
double slow_entry(const motion::Position& from, const motion::Position& to, double rho, double x, double theta, int places) {
  double least = kNone;
  for (int i = 0; i <= places; ++i) {
    double s = static_cast<double>(i) / places;
    double c = from.z + (to.z - from.z) * s + rho, phi = theta - from.a - (to.a - from.a) * s;
    double dx = x - from.x - (to.x - from.x) * s, q = c * std::sin(phi), v = rho * rho - dx * dx - q * q;
    if (v > 0 && c * std::cos(phi) + std::sqrt(v) > 0) least = std::min(least, std::max(0.0, c * std::cos(phi) - std::sqrt(v)));
  }
  return least;
}

// Normal distance from the point at t on the ray to the places' balls: how much of a radial difference counts.
double nearest_ball(const motion::Position& from, const motion::Position& to, double rho, double x, double theta, double t,
                    int places) {
  double least = 1e9;
  for (int i = 0; i <= places; ++i) {
    double s = static_cast<double>(i) / places;
    double c = from.z + (to.z - from.z) * s + rho, phi = theta - from.a - (to.a - from.a) * s;
    double dx = x - from.x - (to.x - from.x) * s;
    double away = std::sqrt(dx * dx + t * t + c * c - 2 * t * c * std::cos(phi));
    least = std::min(least, away - rho);
  }
  return std::fabs(least);
}

void against_slow_model(double greatest_turn, double most) {
  std::mt19937_64 random(20240611);
  auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  shape::Part part = rod(30, 40);
  shape::Blank blank = blank_for(part, Section::round, 60, 0);
  Grid grid = grid_of(part, blank, 0.5, 240);
  double worst = 0, rho = 3;
  std::size_t rays = 0, missed = 0;
  for (int round = 0; round < 60; ++round) {
    motion::Position from{between(5, 35), 0, between(5, 28), between(-7, 7)};
    motion::Position to{between(5, 35), 0, between(5, 28), from.a + between(-greatest_turn, greatest_turn)};
    if (round % 4 == 1) to.z = from.z;
    if (round % 4 == 2) to.x = from.x;
    motion::Path path;
    path.start = from;
    path.moves.push_back({to, false, 1, 1});
    Cut wood = cut_one(grid, blank, path, ball(2 * rho));
    for (int sample = 0; sample < 120; ++sample) {
      auto row = static_cast<std::size_t>(between(0, static_cast<double>(grid.rows()) - 0.01));
      double side = std::asin(std::min(1.0, rho / (std::min(from.z, to.z) + rho)));
      double theta = std::min(from.a, to.a) - side + between(0, 1) * (std::fabs(to.a - from.a) + 2 * side);
      auto j = static_cast<std::size_t>(((std::lround(theta / grid.column_step()) % 240) + 240) % 240);
      double x = grid.x[row], low = wood.low[grid.begin[row] + j];
      double slow = slow_entry(from, to, rho, x, grid.angle(row, j), 4000);
      if (slow >= kNone && low >= kNone) continue;
      ++rays;
      if ((slow >= kNone) != (low >= kNone)) {
        ++missed;  // only just touched: the one that was hit must lie on the swept surface
        low = std::min(low, slow);
      }
      worst = std::max(worst, nearest_ball(from, to, rho, x, grid.angle(row, j), low, 4000));
    }
  }
  EXPECT_GT(rays, 1000u);
  EXPECT_LT(missed, rays / 100);
  EXPECT_LT(worst, most);
  ::testing::Test::RecordProperty("worst_normal_error_nm", static_cast<int>(worst * 1e6));
  std::printf("    %zu rays, worst normal error %.6f mm, only just touched %zu\n", rays, worst, missed);
}

TEST(Removal, StraightStrokesAgreeWithTheSlowModel) { against_slow_model(0, 1e-4); }

TEST(Removal, TurningMovesAgreeWithinTheChordError) { against_slow_model(0.6, 0.001 + 1e-4); }

TEST(Removal, WoodBesideACutStandsUntilItIsClearedFromOutside) {
  shape::Part part = rod(30, 20);
  shape::Blank blank = blank_for(part, Section::round, 80, 0);
  Grid grid = grid_of(part, blank);
  PathMaker maker({10, 0, 60, 0});
  maker.feed(10, 20, 0);
  Cut wood = cut_one(grid, blank, maker.path, ball(6));
  std::size_t row = grid.first_row_from(10), j = 14;  // 7 degrees: enters the ball, leaves the shaft at 3/sin 7 = 24.6
  double entry = 23 * std::cos(7 * kPi / 180) - std::sqrt(9 - std::pow(23 * std::sin(7 * kPi / 180), 2));
  EXPECT_NEAR(wood.low[grid.begin[row] + j], entry, 1e-5);
  EXPECT_FLOAT_EQ(wood.tops[0][grid.begin[row] + j], 40);
  EXPECT_NEAR(wood.tops[0][grid.begin[row]], 20, 1e-5);
  maker.feed(10, 60, 0).feed(10, 60, 0.16).feed(10, 23, 0.16);  // from 9.2 degrees: clears it down into the gap
  wood = cut_one(grid, blank, maker.path, ball(6));
  EXPECT_NEAR(wood.tops[0][grid.begin[row] + j], entry, 1e-5);
}

TEST(Removal, WoodBeyondTheFlutesStands) {
  shape::Part part = rod(10, 20);
  shape::Blank blank = blank_for(part, Section::round, 80, 0);
  Grid grid = grid_of(part, blank);
  PathMaker maker({10, 0, 60, 0});
  maker.feed(10, 15, 0);
  shop::Cutter cutter = ball(6, 20);
  std::size_t ray = grid.begin[grid.first_row_from(10)];
  EXPECT_NEAR(cut_one(grid, blank, maker.path, cutter).tops[0][ray], 15, 1e-5);  // from above: all gone
  motion::Path sideways;  // comes in at full depth: the flutes end at 35, the blank at 40
  sideways.start = {10, 0, 15, 0};
  sideways.moves.push_back({{10.5, 0, 15, 0}, false, 1, 1});
  cutter.shank_diameter = 6;
  Cut wood = cut_one(grid, blank, sideways, cutter);
  EXPECT_FLOAT_EQ(wood.tops[0][ray], 40);
  EXPECT_NEAR(wood.low[ray], 15, 1e-5);
  ASSERT_EQ(wood.hits.size(), 1u);
  EXPECT_EQ(wood.hits[0].kind, Hit::Kind::shank);
  EXPECT_GT(wood.hits[0].amount, 0);
}

TEST(Removal, RapidsReportTheWoodTheyMeetButNotWhatIsAlreadyGone) {
  shape::Part part = rod(20, 100);
  shape::Blank blank = blank_for(part, Section::round, 60, 0);
  Grid grid = grid_of(part, blank);
  PathMaker maker({20, 0, 50, 0.3});
  maker.feed(20, 22, 0.3).feed(80, 25, 0.3).rapid(80, 50, 0.3).rapid(20, 50, 0.3).rapid(20, 35, 0.3).rapid(20, 22, 0.3);
  EXPECT_TRUE(cut_one(grid, blank, maker.path, ball(6)).hits.empty());
  maker.rapid(90, 22, 0.3);
  Cut wood = cut_one(grid, blank, maker.path, ball(6));
  ASSERT_EQ(wood.hits.size(), 1u);
  EXPECT_EQ(wood.hits[0].move, 6u);
  EXPECT_NEAR(wood.hits[0].amount, 8, 0.02);  // past x = 83 no wood was gone: 30 - 22 along the ray under the tip
}

TEST(Removal, ARapidThatTurnsThroughACornerIsSeen) {
  shape::Part part = rod(20, 100);
  shape::Blank blank = blank_for(part, Section::square, 60, 0);
  Grid grid = grid_of(part, blank);
  PathMaker over({50, 0, 43, 0});
  over.rapid(50, 43, 2 * kPi);
  EXPECT_TRUE(cut_one(grid, blank, over.path, ball(6)).hits.empty());
  PathMaker through({50, 0, 41, 0});
  through.rapid(50, 41, kPi);
  Cut wood = cut_one(grid, blank, through.path, ball(6));
  ASSERT_EQ(wood.hits.size(), 1u);
  EXPECT_NEAR(wood.hits[0].amount, 30 * std::sqrt(2.0) - 41, 0.005);
}

TEST(Removal, TheDepthOfAMoveIsTheStandingWoodOverTheTip) {
  shape::Part part = rod(20, 100);
  shape::Blank blank = blank_for(part, Section::square, 60, 0);
  Grid grid = grid_of(part, blank);
  PathMaker maker({-10, 0, 25, 0});
  maker.feed(110, 25, 0).rapid(110, 60, 0).rapid(-10, 60, kPi / 4).feed(-10, 25, kPi / 4).feed(110, 25, kPi / 4);
  EXPECT_NEAR(cut_one(grid, blank, maker.path, ball(6)).greatest_depth, 30 * std::sqrt(2.0) - 25, 1e-3);
}

TEST(Removal, ThreadsDoNotChangeABit) {
  shape::Part part = rod(20, 100);
  shape::Blank blank = blank_for(part, Section::square, 60);
  Grid grid = grid_of(part, blank);
  motion::Path path = lengthwise(-5, 105, 20, 90, 50);
  CutSettings one, three;
  one.threads = 1;
  three.threads = 3;
  Cut a = cut_one(grid, blank, path, ball(6), one), b = cut_one(grid, blank, path, ball(6), three);
  EXPECT_EQ(a.low, b.low);
  EXPECT_EQ(a.tops, b.tops);
  EXPECT_EQ(a.hits.size(), b.hits.size());
  EXPECT_EQ(a.greatest_depth, b.greatest_depth);
}

// Lengthwise feed moves are queued and most of them found to be hidden; a rapid to where the cutter already is lets each be
// made by itself.
TEST(Removal, APassTakesTheSameWhetherItsMovesAreQueuedOrNot) {
  std::mt19937_64 random(99);
  auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  shape::Part part = rod(20, 100);
  shape::Blank blank = blank_for(part, Section::square, 60);
  Grid grid = grid_of(part, blank);
  PathMaker queued({-5, 0, 50, 0}), single({-5, 0, 50, 0});
  // depths alike and lines near: else fins stand between them, and what is remembered of them depends on the order
  for (int pass = 0; pass < 63; ++pass) {
    double a = pass * 0.1, x = -5, z = between(19, 21);
    queued.rapid(x, 50, a).feed(x, z, a);
    single.rapid(x, 50, a).feed(x, z, a);
    while (x < 105) {
      x += between(0.05, 1.5);
      z = std::clamp(z + between(-0.5, 0.5), 19.0, 21.0);
      queued.feed(x, z, a);
      single.feed(x, z, a).rapid(x, z, a);
    }
    queued.rapid(x, 50, a).rapid(-5, 50, a);
    single.rapid(x, 50, a).rapid(-5, 50, a);
  }
  Cut a = cut_one(grid, blank, queued.path, ball(6)), b = cut_one(grid, blank, single.path, ball(6));
  EXPECT_TRUE(a.hits.empty());
  EXPECT_GE(a.greatest_depth, b.greatest_depth);  // of a whole run, not of what the move before has left
  EXPECT_NEAR(a.greatest_depth, 30 * std::sqrt(2.0) - 19, 0.5);
  double worst_low = 0, worst_top = 0;
  for (std::size_t i = 0; i < grid.rays(); ++i) {
    worst_low = std::max(worst_low, std::fabs(static_cast<double>(a.low[i] - b.low[i])));
    worst_top = std::max(worst_top, std::fabs(static_cast<double>(a.tops[0][i] - b.tops[0][i])));
  }
  EXPECT_LT(worst_low, 1e-4);
  EXPECT_LT(worst_top, 1e-4);
}

TEST(Removal, AWholePartTurnedAQuarterIsCutTheSame) {
  shape::Part part = rod(20, 30);
  shape::Blank blank = blank_for(part, Section::square, 60);
  Grid grid = grid_of(part, blank);
  motion::Path path = lengthwise(-5, 35, 20, 17, 50), turned = path;
  turned.start.a += 3 * kPi / 2;
  for (motion::Move& move : turned.moves) move.to.a += 3 * kPi / 2;
  Cut a = cut_one(grid, blank, path, ball(6)), b = cut_one(grid, blank, turned, ball(6));
  for (std::size_t row = 0; row < grid.rows(); ++row) {
    for (std::size_t j = 0; j < 720; ++j) {
      ASSERT_NEAR(a.tops[0][grid.begin[row] + j], b.tops[0][grid.begin[row] + (j + 540) % 720], 2e-4);
    }
  }
}

TEST(Removal, StopsWhenAsked) {
  shape::Part part = rod(20, 100);
  shape::Blank blank = blank_for(part, Section::square, 60);
  Grid grid = grid_of(part, blank);
  std::stop_source source;
  source.request_stop();
  auto result = cut(grid, {Start(grid, blank, {})}, lengthwise(-5, 105, 20, 90, 50), ball(6), {}, source.get_token());
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.reasons()[0].id, "cancelled");
}

// Asked to stop at once, what is not too much is only stopped.
TEST(Removal, AHundredMillionStrokesAtMost) {
  const shape::Part part = rod(20, 100);
  const shape::Blank blank = blank_for(part, Section::square, 60);
  const Grid grid = grid_of(part, blank);
  const auto turned_by = [](double turns) {
    PathMaker maker({50, 0, 20, 0});
    maker.feed(50, 20, turns * 2 * kPi);
    return maker.path;
  };
  std::stop_source source;
  source.request_stop();
  const double turns = 1e8 / strokes_of(turned_by(1), tool_of(ball(6))->radius, CutSettings{}.chord_error);
  for (const auto& [share, id] : {std::pair{0.999, "cancelled"}, std::pair{1.001, "proof.too-much"}}) {
    const auto result = cut(grid, {Start(grid, blank, {})}, turned_by(share * turns), ball(6), {}, source.get_token());
    ASSERT_FALSE(result.ok());
    EXPECT_EQ(result.reasons()[0].id, id) << share;
  }
}

TEST(Removal, AThousandThousandTurnsAreRefused) {
  shape::Part part = rod(20, 100);
  shape::Blank blank = blank_for(part, Section::square, 60);
  Grid grid = grid_of(part, blank);
  PathMaker maker({50, 0, 20, 0});
  maker.feed(50, 20, 1e6 * 2 * kPi);
  auto result = cut(grid, {Start(grid, blank, {})}, maker.path, ball(6), {}, {});
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.reasons()[0].id, "proof.too-much");
}

TEST(Removal, TheDeepestMoveOnARayIsFound) {
  PathMaker maker({0, 0, 50, 0});
  maker.feed(0, 20, 0).feed(50, 20, 0).feed(50, 19.5, 0).feed(60, 19.5, 0).feed(60, 30, 0).feed(60, 30, 0.5);
  double entry = 0;
  Tool tool = tool_of(ball(6)).value();
  EXPECT_EQ(deepest_move(maker.path, tool, 55, 0, entry), 3u);
  EXPECT_NEAR(entry, 19.5, 1e-9);
  EXPECT_EQ(deepest_move(maker.path, tool, 60, 0.5, entry), 5u);
  EXPECT_NEAR(entry, 30, 0.001);
  EXPECT_EQ(deepest_move(maker.path, tool, 30, kPi, entry), maker.path.moves.size());
}

}  // namespace
}  // namespace pommel::proof
