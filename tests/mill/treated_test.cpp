// The envelope over flutes, reeds, octagons and twists, judged by the distance of the cutter's whole body from the wood.
#include <gtest/gtest.h>

#include <random>

#include "mill/cutter_judge.h"
#include "mill/envelope.h"
#include "mill/treated_bodies.h"

namespace pommel::mill {
namespace {

using shape::Part;
using testing::cutter_gap;
using testing::treated_bodies;
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
  std::vector<shop::Cutter> all{cutter(Form::ball, 6), cutter(Form::ball, 20), cutter(Form::tapered_ball, 6), cutter(Form::flat, 8),
                                cutter(Form::bull_nose, 12), cutter(Form::vee, 12)};
  all[2].tip_radius = 0.75, all[2].half_angle = kTurn / 72;
  all[4].tip_radius = 2;
  all[5].half_angle = kTurn / 8, all[5].tip_radius = 0.4, all[5].flute_length = 9, all[5].shank_diameter = 18;
  return all;
}

struct Place {
  double x = 0, a = 0;
};

// Half of the places anywhere, past the ends too; half near a knot, and half of all above an edge of the section there.
std::vector<Place> places(const Part& part, double reach, int count, unsigned seed) {
  std::mt19937_64 random(seed);
  auto between = [&](double a, double b) { return a + (b - a) * static_cast<double>(random() >> 11) * 0x1p-53; };
  const std::vector<double> knots = shape::knots(part);
  std::vector<Place> found;
  for (int i = 0; i < count; ++i) {
    Place p{between(-reach, part.length + reach), between(0, kTurn)};
    if (i % 2 == 1) p.x = knots[random() % knots.size()] + between(-reach, reach);
    if (i % 4 >= 2) {
      const auto edges = shape::crease_angles(part, std::clamp(p.x, 0.0, part.length), shape::Side::before);
      if (!edges.empty()) p.a = edges[random() % edges.size()] + between(-0.1, 0.1);
    }
    if (p.x > -reach && p.x < part.length + reach) found.push_back(p);
  }
  return found;
}

struct Verdict {
  double gouge = 0, excess = 0;
  Place gouge_at, excess_at;
};

template <class Tip>
Verdict judge(const Part& part, const shop::Cutter& c, const std::vector<Place>& at, const Tip& tip_at) {
  Verdict v;
  for (const Place& p : at) {
    const double tip = tip_at(p);
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

class EveryTreatment : public ::testing::TestWithParam<std::tuple<int, int>> {
 protected:
  Part body() const { return treated_bodies()[static_cast<std::size_t>(std::get<0>(GetParam()))]; }
  shop::Cutter tool() const { return cutters()[static_cast<std::size_t>(std::get<1>(GetParam()))]; }
};

TEST_P(EveryTreatment, IsTouchedAndNeverGouged) {
  const Part part = body();
  const shop::Cutter c = tool();
  const auto envelope = Envelope::of(part, c);
  ASSERT_TRUE(envelope.ok()) << render(envelope.reasons());
  const auto at = places(part, c.diameter / 2, c.form == Form::ball ? 12 : 4, 21);
  const Verdict v = judge(part, c, at, [&](Place p) { return envelope->tip_height(p.x, p.a); });
  EXPECT_LE(v.gouge, kGouge) << part.name << ' ' << text(v.gouge_at);
  EXPECT_LE(v.excess, kExcess) << part.name << ' ' << text(v.excess_at) << ", held by "
                                << static_cast<int>(envelope->stand(v.excess_at.x, v.excess_at.a).by);
}

INSTANTIATE_TEST_SUITE_P(Treated, EveryTreatment,
                         ::testing::Combine(::testing::Range(0, static_cast<int>(treated_bodies().size())),
                                            ::testing::Range(0, static_cast<int>(cutters().size()))));

// A ball near the crowns of reeds: facets that touch the round from outside stood on wood the round was said to have taken away, and the
// ball came 0.003 mm too low.
TEST(TreatedEnvelope, CrownsOfReedsHoldALargeBall) {
  const Part part = testing::reeded_post();
  const shop::Cutter c = cutter(Form::ball, 20);
  const auto envelope = Envelope::of(part, c);
  ASSERT_TRUE(envelope.ok());
  const Verdict v = judge(part, c, {{43.918741, 306.387705 / 360 * kTurn}}, [&](Place p) { return envelope->tip_height(p.x, p.a); });
  EXPECT_LE(v.gouge, kGouge);
  EXPECT_LE(v.excess, kExcess);
}

// Rows of columns pass over what cannot raise them; single directions look at everything near.
TEST(TreatedEnvelope, RowsStandWhereSingleDirectionsDo) {
  for (const Part& part : {testing::rope(2, 5), testing::reeded_post(), testing::fluted_leg()})
    for (std::size_t which : {3u, 4u}) {
      const shop::Cutter c = cutters()[which];
      const auto envelope = Envelope::of(part, c);
      ASSERT_TRUE(envelope.ok()) << part.name;
      Heights grid;
      const std::vector<double> rows{part.length * 0.31};
      ASSERT_TRUE(envelope->fill(rows, 181, grid).ok());
      double worst = 0;
      for (std::size_t i = 0; i < rows.size(); ++i)
        for (int j = 0; j < 181; j += 29) worst = std::max(worst, std::fabs(grid.at(i, j) - envelope->tip_height(rows[i], grid.angle(j))));
      EXPECT_LT(worst, 2e-3) << part.name << " under " << which;  // heights, so walls exaggerate single precision
    }
}

TEST(TreatedEnvelope, FaultsAreSeenByTheSameJudge) {
  for (const Part& part : {testing::fluted_leg(), testing::reeded_post(), testing::rope(2, 5)}) {
    for (const shop::Cutter& c : {cutters()[0], cutters()[3]}) {
      const auto envelope = Envelope::of(part, c);
      ASSERT_TRUE(envelope.ok());
      const auto at = places(part, c.diameter / 2, 2, 3);
      EXPECT_GT(judge(part, c, at, [&](Place p) { return envelope->tip_height(p.x, p.a) - 0.02; }).gouge, kGouge) << part.name;
      EXPECT_GT(judge(part, c, at, [&](Place p) { return envelope->tip_height(p.x, p.a) + 0.02; }).excess, kExcess) << part.name;
    }
    // the part without its treatment, as the envelope once refused to see it
    Part plain = part;
    plain.flutes.clear(), plain.reedings.clear(), plain.twists.clear();
    const shop::Cutter ball = cutters().front();
    const auto envelope = Envelope::of(plain, ball);
    ASSERT_TRUE(envelope.ok());
    EXPECT_GT(judge(part, ball, places(part, 3, 24, 5), [&](Place p) { return envelope->tip_height(p.x, p.a); }).excess, 0.1) << part.name;
  }
}

}  // namespace
}  // namespace pommel::mill
