// Finishing lines that turn with a rope twist: each keeps its place on the strands, one runs in every hollow, and together they leave no
// more than the ridge that is wished, as far as balls at their places leave it.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "mill/bench.h"
#include "mill/cutter_judge.h"
#include "mill/finish.h"
#include "mill/rough.h"
#include "mill/treated_bodies.h"

namespace pommel::mill {
namespace {

using namespace testing;
using shape::Part;

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kRho = 3.175;  // of ball_cutter()
constexpr double kCusp = 0.05;

Part left_handed(Part part) {
  for (shape::Twist& twist : part.twists) twist.pitch = -twist.pitch;
  return part;
}

Result<Finish> finished(const Part& part, const shop::Machine& m, Way way = Way::fastest) {
  const shape::Blank blank = round_blank_for(part, 42);
  auto rough = plan_roughing(part, blank, {}, ball_cutter(), m, {}, {});
  if (!rough) return rough.failure();
  FinishSettings settings;
  settings.cusp = kCusp, settings.way = way;
  return plan(part, blank, {}, ball_cutter(), m, settings, {}, &rough->wood);
}

const Stretch* along_the_twist(const Finish& finish) {
  for (const Stretch& stretch : finish.stretches)
    if (stretch.lead != 0) return &stretch;
  return nullptr;
}

// Feed moves of the lines along the twist, from where to where. Plunges and ways out are left out.
std::vector<std::pair<motion::Position, motion::Position>> line_moves(const Finish& finish) {
  std::vector<std::pair<motion::Position, motion::Position>> found;
  for (const motion::Stage& stage : finish.path.stages) {
    if (stage.name.find("along the twist") == std::string::npos) continue;
    for (std::size_t i = std::max<std::size_t>(stage.first, 1); i < stage.first + stage.count; ++i) {
      const motion::Position &p = finish.path.moves[i - 1].to, &q = finish.path.moves[i].to;
      if (!finish.path.moves[i].rapid && p.x != q.x) found.emplace_back(p, q);
    }
  }
  return found;
}

motion::Position between(const motion::Position& p, const motion::Position& q, double t) {
  return {p.x + t * (q.x - p.x), 0, p.z + t * (q.z - p.z), p.a + t * (q.a - p.a)};
}

class AlongTwist : public ::testing::TestWithParam<Part> {
 protected:
  const Part& part() const { return GetParam(); }
  const shape::Twist& twist() const { return part().twists.front(); }
  double lead() const { return kTurn / twist().pitch; }
};

TEST_P(AlongTwist, LinesTurnWithItAndOneRunsInEachHollow) {
  const auto finish = finished(part(), machine());
  ASSERT_TRUE(finish.ok()) << render(finish.reasons());
  const Stretch* stretch = along_the_twist(*finish);
  ASSERT_TRUE(stretch);
  EXPECT_NEAR(stretch->x0, twist().x0, 1);
  EXPECT_NEAR(stretch->x1, twist().x1, 1);
  EXPECT_EQ(stretch->lines % twist().starts, 0);
  const auto moves = line_moves(*finish);
  const double at = (twist().x0 + twist().x1) / 2, hollow = twist().phase + lead() * (at - twist().x0) + std::numbers::pi / twist().starts;
  std::vector<int> met(static_cast<std::size_t>(twist().starts));
  for (const auto& [p, q] : moves) {
    ASSERT_NEAR(q.a - p.a, lead() * (q.x - p.x), 1e-9);
    if ((at - p.x) * (at - q.x) > 0) continue;
    const double a = p.a + lead() * (at - p.x);
    for (int k = 0; k < twist().starts; ++k)
      if (std::fabs(std::remainder(a - hollow - k * kTurn / twist().starts, kTurn)) < 1e-9) ++met[static_cast<std::size_t>(k)];
  }
  for (int lines : met) EXPECT_EQ(lines, 1);
}

TEST_P(AlongTwist, BallsTouchTheWoodAllTheWay) {
  const auto finish = finished(part(), machine());
  ASSERT_TRUE(finish.ok()) << render(finish.reasons());
  const auto moves = line_moves(*finish);
  ASSERT_FALSE(moves.empty());
  const std::vector<Meridian> ball = meridians(ball_cutter());
  std::mt19937_64 random(7);
  const auto share = [&] { return static_cast<double>(random() >> 11) * 0x1p-53; };
  for (int n = 0; n < 60; ++n) {
    const auto& [p, q] = moves[random() % moves.size()];
    const motion::Position at = between(p, q, share());
    if (at.x < 0 || at.x > part().length) continue;
    const double gap = cutter_gap(part(), {ball, at.x, at.z, at.a});
    EXPECT_GE(gap, -0.005) << "x " << at.x << ", a " << at.a;
    EXPECT_LE(gap, 0.008) << "x " << at.x << ", a " << at.a;
  }
}

// The wood left over a place of the skin: how far the nearest ball stayed away. Not measured where the twist fades: there lines lie nearer.
TEST_P(AlongTwist, RidgesAreAsWished) {
  const auto finish = finished(part(), machine());
  ASSERT_TRUE(finish.ok()) << render(finish.reasons());
  const auto moves = line_moves(*finish);
  std::mt19937_64 random(11);
  const auto share = [&] { return static_cast<double>(random() >> 11) * 0x1p-53; };
  double most = 0;
  for (int n = 0; n < 300; ++n) {
    const double x = twist().x0 + twist().fade0 + share() * (twist().x1 - twist().fade1 - twist().x0 - twist().fade0), theta = kTurn * share();
    const double r = shape::radius_at(part(), x, theta);
    double least = 1e9;
    for (const auto& [p, q] : moves) {
      if (std::max(p.x, q.x) < x - 2 * kRho || std::min(p.x, q.x) > x + 2 * kRho) continue;
      const double steps = std::ceil(std::fabs(q.x - p.x) / 0.02);
      for (double k = 0; k <= steps; ++k) {
        const motion::Position at = between(p, q, k / steps);
        const double up = r * std::cos(theta - at.a) - at.z - kRho, side = r * std::sin(theta - at.a);
        least = std::min(least, std::hypot(x - at.x, up, side) - kRho);
      }
    }
    most = std::max(most, least);
  }
  EXPECT_LE(most, kCusp + 0.005);
  EXPECT_GE(most, kCusp / 2) << "lines lie much nearer than the ridge asks";
}

INSTANTIATE_TEST_SUITE_P(Ropes, AlongTwist, ::testing::Values(rope(1, 3), left_handed(rope(2, 4)), rope(3, 3), rope(4, 2.5)));

TEST(Twists, HaveStraightLinesWhereOthersAreNotToBe) {
  const Part part = rope(2, 4);
  const auto as_a_rule = finished(part, machine());
  ASSERT_TRUE(as_a_rule.ok()) << render(as_a_rule.reasons());
  EXPECT_TRUE(along_the_twist(*as_a_rule));

  const auto asked = finished(part, machine(), Way::lengthwise);
  ASSERT_TRUE(asked.ok()) << render(asked.reasons());
  EXPECT_FALSE(along_the_twist(*asked));
  EXPECT_LT(as_a_rule->path.moves.size(), asked->path.moves.size() / 2);

  // the twist turns 90/70 times, a line begins anywhere within the first turn
  for (const auto& [limit, along] : {std::pair{3.0, false}, {3.5, true}}) {
    shop::Machine m = machine();
    m.rotary_limit_turns = limit;
    const auto finish = finished(part, m);
    ASSERT_TRUE(finish.ok()) << render(finish.reasons());
    EXPECT_EQ(along_the_twist(*finish) != nullptr, along) << limit;
    for (const motion::Move& move : finish->path.moves) EXPECT_LE(std::fabs(move.to.a), limit * kTurn);
  }

  const Part fluted = made(shape::fluted(part, {.x0 = 30, .x1 = 80, .count = 6, .width = 4, .depth = 1, .run_out0 = 5, .run_out1 = 5}));
  const auto crossed = finished(fluted, machine());
  ASSERT_TRUE(crossed.ok()) << render(crossed.reasons());
  for (const Stretch& stretch : crossed->stretches)
    EXPECT_TRUE(stretch.lead == 0 || stretch.x1 < 31 || stretch.x0 > 79) << stretch.x0 << " to " << stretch.x1;
}

// A cone of a rope falls from end to end: its lines run downhill, as others do.
TEST(Twists, LinesRunDownhillOnATaper) {
  Turning t(20);
  t.line(110, 14, "taper");
  const Part part = made(shape::twisted(t.part("tapered rope"), {.x0 = 10, .x1 = 100, .starts = 2, .pitch = 60, .depth = 3, .fade0 = 15, .fade1 = 15}));
  const auto finish = finished(part, machine());
  ASSERT_TRUE(finish.ok()) << render(finish.reasons());
  ASSERT_TRUE(along_the_twist(*finish));
  double fell = 0, rose = 0;
  for (const auto& [p, q] : line_moves(*finish)) (q.z < p.z ? fell : rose) += std::fabs(q.z - p.z);
  EXPECT_GT(fell, 20 * rose);
}

}  // namespace
}  // namespace pommel::mill
