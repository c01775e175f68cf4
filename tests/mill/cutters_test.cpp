// Every form of cutter over every body: judged by the distance of the cutter's whole body from the wood.
#include <gtest/gtest.h>

#include <cstdio>
#include <random>

#include "mill/bodies.h"
#include "mill/cutter_judge.h"
#include "mill/envelope.h"

namespace pommel::mill {
namespace {

using shape::Part;
using testing::all_bodies;
using testing::cutter_gap;
using Form = shop::Cutter::Form;

constexpr double kGouge = 0.0005, kExcess = 0.003;
constexpr double kTurn = 2 * std::numbers::pi;

shop::Cutter cutter(Form form, double diameter) {
  shop::Cutter c;
  c.id = "test", c.form = form, c.diameter = diameter;
  c.flute_length = 30, c.shank_diameter = diameter, c.shank_length = 45;
  c.collet_diameter = 28, c.collet_length = 30, c.holder_diameter = 60, c.holder_length = 80;
  return c;
}

std::vector<shop::Cutter> cutters() {
  std::vector<shop::Cutter> all{cutter(Form::ball, 6), cutter(Form::flat, 8), cutter(Form::bull_nose, 12), cutter(Form::tapered_ball, 6),
                                cutter(Form::vee, 12), cutter(Form::vee, 12), cutter(Form::flat, 60)};
  all[2].tip_radius = 2;
  all[3].tip_radius = 0.75, all[3].half_angle = kTurn / 72;
  all[4].half_angle = kTurn / 12, all[4].tip_flat = 0.2;
  all[5].half_angle = kTurn / 8, all[5].tip_radius = 0.4, all[5].flute_length = 9, all[5].shank_diameter = 18;  // a shank that is wider
  all[6].collet_diameter = 80;
  return all;
}

struct Place {
  double x = 0, a = 0;
};

std::vector<Place> places(const Part& part, double reach, int count, unsigned seed) {
  std::mt19937_64 random(seed);
  auto between = [&](double a, double b) { return a + (b - a) * static_cast<double>(random() >> 11) * 0x1p-53; };
  const std::vector<double> knots = shape::knots(part);
  std::vector<Place> found;
  for (int i = 0; i < count; ++i) {
    Place p{between(-reach, part.length + reach), between(0, kTurn)};
    if (i % 2 == 1) p.x = knots[random() % knots.size()] + between(-reach, reach);
    if (i % 4 == 3 && !part.faces.empty()) {
      const std::size_t f = random() % part.faces.size();
      p.a = part.faces[f].phi + std::numbers::pi / static_cast<double>(part.faces.size()) + between(-0.1, 0.1);
    }
    if (p.x > -reach && p.x < part.length + reach) found.push_back(p);
  }
  return found;
}

struct Verdict {
  double gouge = 0, excess = 0;
  Place gouge_at, excess_at;
};

Verdict judge(const Part& part, const shop::Cutter& c, const Envelope& envelope, const std::vector<Place>& at, double fault = 0) {
  Verdict v;
  for (const Place& p : at) {
    const double tip = envelope.tip_height(p.x, p.a) + fault;
    if (!std::isfinite(tip)) {
      ADD_FAILURE() << part.name << ": nothing within reach at x " << p.x;
      continue;
    }
    const double gap = cutter_gap(part, {testing::meridians(c), p.x, tip, p.a});
    if (-gap > v.gouge) v.gouge = -gap, v.gouge_at = p;
    if (gap > v.excess) v.excess = gap, v.excess_at = p;
  }
  return v;
}

std::string text(const Place& p) { return "at x " + std::to_string(p.x) + ", a " + std::to_string(p.a / kTurn * 360); }

class EveryCutter : public ::testing::TestWithParam<std::tuple<int, int>> {};

TEST_P(EveryCutter, TouchesAndNeverGouges) {
  const Part body = all_bodies()[static_cast<std::size_t>(std::get<0>(GetParam()))];
  const shop::Cutter c = cutters()[static_cast<std::size_t>(std::get<1>(GetParam()))];
  const auto envelope = Envelope::of(body, c);
  ASSERT_TRUE(envelope.ok()) << render(envelope.reasons());
  const auto at = places(body, c.diameter / 2, 14, 21);
  const Verdict v = judge(body, c, *envelope, at);
  EXPECT_LE(v.gouge, kGouge) << body.name << ' ' << text(v.gouge_at);
  EXPECT_LE(v.excess, kExcess) << body.name << ' ' << text(v.excess_at) << ", held by "
                                << static_cast<int>(envelope->stand(v.excess_at.x, v.excess_at.a).by) << " at "
                                << envelope->tip_height(v.excess_at.x, v.excess_at.a);
}

INSTANTIATE_TEST_SUITE_P(Cutters, EveryCutter,
                         ::testing::Combine(::testing::Range(0, static_cast<int>(all_bodies().size())),
                                            ::testing::Range(0, static_cast<int>(cutters().size()))));

TEST(CutterFaults, AreSeenByTheSameJudge) {
  const Part body = testing::leg("sloped");
  for (const shop::Cutter& c : cutters()) {
    const auto envelope = Envelope::of(body, c);
    ASSERT_TRUE(envelope.ok());
    const auto at = places(body, c.diameter / 2, 6, 3);
    EXPECT_GT(judge(body, c, *envelope, at, -0.02).gouge, kGouge);
    EXPECT_GT(judge(body, c, *envelope, at, +0.02).excess, kExcess);
  }
}

// A straight edge that leans towards the axis has two ends at one angle and unlike distances: the columns that a wide cutter over its
// inner end can touch were once taken from the outer end alone.
TEST(Cutters, TheGridSaysWhatSinglePositionsSay) {
  for (const Part& body : {testing::leg("ogee"), testing::curved_taper(), testing::tapered_square()}) {
    for (const shop::Cutter& c : cutters()) {
      const auto envelope = Envelope::of(body, c);
      ASSERT_TRUE(envelope.ok());
      std::vector<double> rows;
      for (double x = -c.diameter / 2 + 0.01; x < body.length + c.diameter / 2; x += 9.53) rows.push_back(x);
      Heights grid;
      ASSERT_TRUE(envelope->fill(rows, 353, grid).ok());
      double worst = 0;
      for (std::size_t i = 0; i < rows.size(); ++i)
        for (int j = 0; j < 353; j += 7)
          worst = std::max(worst, std::fabs(grid.at(i, j) - envelope->tip_height(rows[i], grid.angle(j))));
      EXPECT_LT(worst, 2e-3) << body.name << ' ' << c.diameter;  // heights, so walls exaggerate single precision
    }
  }
}

TEST(Cutters, ClosedForms) {
  const Part round = testing::cylinder();  // r = 25, 80 long
  const auto flat = Envelope::of(round, cutter(Form::flat, 8));
  EXPECT_NEAR(flat->tip_height(40, 1), 25, 1e-12);
  EXPECT_NEAR(flat->tip_height(-3.9, 1), 25, 1e-12);  // the rim of the disc is still over the end
  EXPECT_EQ(flat->stand(40, 1).by, Holding::cutting);
  // past the end only what is wider than the cutter is held up: the collet nut (28 mm wide, 45 mm up)
  EXPECT_NEAR(flat->stand(-10, 1).tip, 25 - 45, 1e-12);
  EXPECT_EQ(flat->stand(-10, 1).by, Holding::collet);
  EXPECT_EQ(flat->stand(-20, 1).by, Holding::holder);
  EXPECT_EQ(flat->stand(-31, 1).by, Holding::nothing);
  const Part square = testing::tapered_square();  // 60 mm wide up to x = 30
  const double quarter = kTurn / 4, t = 0.2;
  const auto on_face = Envelope::of(square, cutter(Form::flat, 8));
  EXPECT_NEAR(on_face->tip_height(10, t), 30 / std::cos(t) + 4 * std::tan(t), 1e-9);
  EXPECT_NEAR(on_face->tip_height(10, quarter / 2), 30 * std::sqrt(2.0), 1e-9);
  const auto vee = Envelope::of(square, cutters()[4]);
  EXPECT_NEAR(vee->tip_height(10, t), 30 / std::cos(t) + 0.1 * std::tan(t), 1e-9);  // its flank is steeper than the face
}

TEST(Cutters, AnAllowanceIsWoodLeftAllOver) {
  const Part body = testing::leg("sloped");
  for (const shop::Cutter& c : cutters()) {
    const auto envelope = Envelope::of(body, c, {.allowance = 0.8});
    ASSERT_TRUE(envelope.ok());
    for (const Place& p : places(body, c.diameter / 2, 6, 5)) {
      const double gap = cutter_gap(body, {testing::meridians(c), p.x, envelope->tip_height(p.x, p.a), p.a});
      EXPECT_GE(gap, 0.8 - kGouge) << text(p);
      EXPECT_LE(gap, 0.8 * std::sqrt(2.0) + kExcess) << text(p);  // sharp edges of cones stay sharp
    }
  }
}

TEST(Cutters, RefusesFiguresThatMakeNoCutter) {
  auto id = [](shop::Cutter c) {
    const auto made = Envelope::of(testing::cone(), c);
    return made.ok() ? std::string("ok") : made.reasons().front().id;
  };
  shop::Cutter c = cutter(Form::flat, 8);
  EXPECT_EQ(id(c), "ok");
  c.diameter = 0;
  EXPECT_EQ(id(c), "mill.cutter-form");
  c = cutter(Form::vee, 8);
  EXPECT_EQ(id(c), "mill.cutter-form");  // no angle
  c = cutter(Form::bull_nose, 8);
  c.tip_radius = 5;
  EXPECT_EQ(id(c), "mill.cutter-form");
  c.tip_radius = std::nan("");
  EXPECT_EQ(id(c), "mill.cutter-form");
}

}  // namespace
}  // namespace pommel::mill
