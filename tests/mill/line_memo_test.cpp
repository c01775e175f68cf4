// Lines kept from earlier plans: after a change only the stretches that it reaches are worked out anew, and a plan with them is the very
// same as one without.
#include "mill/line_memo.h"

#include <gtest/gtest.h>

#include <random>

#include "mill/bench.h"
#include "mill/bodies.h"
#include "mill/finish.h"
#include "mill/rough.h"
#include "mill/treated_bodies.h"

namespace pommel::mill {
namespace {

using namespace testing;
using shape::Part;

std::vector<motion::Path> planned(const Part& part, const shape::Blank& blank, LineMemo* memo) {
  RoughSettings roughing;
  roughing.memo = memo;
  const auto rough = plan_roughing(part, blank, {}, ball_cutter(), machine(), roughing, {});
  FinishSettings finishing;
  finishing.cusp = 0.05, finishing.memo = memo;
  const auto finish = rough.ok() ? plan(part, blank, {}, ball_cutter(), machine(), finishing, {}, &rough->wood) : Result<Finish>(rough.failure());
  EXPECT_TRUE(finish.ok()) << render(finish.reasons());
  return finish.ok() ? std::vector<motion::Path>{rough->path, finish->path} : std::vector<motion::Path>{};
}

// A square head, a bead between necks, a taper and a square block, so that lengthwise stretches lie at both ends of a round one.
Part leg(double bead, double neck, double taper_end, double block) {
  Turning t(30 * std::numbers::sqrt2);
  t.clear(30).line(12, 24, "pommel").line(10, neck, "taper").arc(14, neck, bead, +1, "bead").line(60, taper_end, "taper").line(12, 26, "pommel").step(30 * std::numbers::sqrt2).clear(block);
  return t.part("leg", shape::square_faces(60, t.length()));
}

TEST(LineMemo, PlansAreTheSameWithAndWithoutIt) {
  LineMemo memo;
  std::mt19937_64 random(5);
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  const shape::Blank blank = blank_for(leg(12, 22, 19, 30), 60);
  double bead = 12, neck = 22;
  for (int n = 0; n < 8; ++n) {
    (n % 2 == 0 ? bead : neck) = n % 2 == 0 ? between(9, 14) : between(20, 23);
    const Part part = leg(bead, neck, 19, 30);
    EXPECT_EQ(planned(part, blank, &memo), planned(part, blank, nullptr)) << n;
  }
  EXPECT_GT(memo.counts().recalled, memo.counts().missed / 3);  // another neck moves the lowest place a little, and with it the rows of roughing
}

TEST(LineMemo, TreatedPiecesToo) {
  for (const bool twisted : {false, true}) {
    LineMemo memo;
    for (double foot : {14.0, 14.5}) {
      Turning t(20);
      t.line(60, 20, "cylinder").line(12, 20, "cylinder").line(40, foot, "taper").line(15, foot, "foot");
      Part part = t.part("treated");
      part = made(twisted ? shape::twisted(part, {.x0 = 6, .x1 = 52, .starts = 2, .pitch = 70, .depth = 4, .fade0 = 12, .fade1 = 12})
                          : shape::fluted(part, {.x0 = 8, .x1 = 50, .count = 6, .width = 9, .depth = 2.5, .run_out0 = 8, .run_out1 = 8}));
      const shape::Blank blank = round_blank_for(part, 42);
      EXPECT_EQ(planned(part, blank, &memo), planned(part, blank, nullptr)) << twisted << ", " << foot;
    }
    EXPECT_GT(memo.counts().recalled, 0u) << twisted;
  }
}

// Whatever a line depends on makes another key.
TEST(LineMemo, AnotherFigureIsAnotherKey) {
  const Part part = leg(12, 22, 19, 30);
  const shape::Blank blank = blank_for(part, 60);
  const auto made = set_up(part, blank, {}, ball_cutter(), machine());
  ASSERT_TRUE(made.ok()) << render(made.reasons());
  const auto envelope = Envelope::of(made->part, ball_cutter().diameter / 2);
  ASSERT_TRUE(envelope.ok());
  double below = 30;
  Surface surface{&*envelope, 0, 0, [&](double) { return below; }, nullptr, 0};
  PassSettings settings;
  mill::Setup setup = *made;
  Stretch stretch{20, 50, 64, Way::lengthwise, 0, true};
  const std::string first = key_of(setup, surface, settings, stretch);
  EXPECT_EQ(key_of(setup, surface, settings, stretch), first);
  const auto differs = [&](auto& figure, auto to) {
    const auto was = figure;
    figure = to;
    EXPECT_NE(key_of(setup, surface, settings, stretch), first);
    figure = was;
  };
  differs(below, 29.0);
  differs(surface.lift, 0.1);
  differs(surface.floor, 12.0);
  differs(surface.least, 0.1);
  differs(settings.allowance, 0.3);
  differs(settings.along, 0.01);
  differs(settings.row_step, 0.2);
  differs(settings.prominence, 0.5);
  differs(stretch.x0, 20.1);
  differs(stretch.x1, 50.1);
  differs(stretch.lines, 72);
  differs(stretch.lead, 0.01);
  differs(stretch.valleys, std::vector<Valley>{{1, 20, 50}});
  differs(setup.cutter.flute_length, 77.0);
  differs(setup.cutter.holder_diameter, 77.0);
  differs(setup.part.outline.pieces[3].r0, 23.5);
  setup.part.outline.pieces.back().r1 += 1;  // out of reach
  EXPECT_EQ(key_of(setup, surface, settings, stretch), first);
}

TEST(LineMemo, ForgetsWhatWasNotAskedForLongest) {
  LineMemo memo;
  const auto big = [] {
    auto runs = std::make_shared<StretchRuns>();
    runs->even = {{std::vector<LinePoint>(1'500'000)}};
    return runs;
  };
  memo.keep("a", big());
  memo.keep("b", big());
  EXPECT_TRUE(memo.find("a"));
  memo.keep("c", big());
  EXPECT_TRUE(memo.find("a"));
  EXPECT_FALSE(memo.find("b"));
  EXPECT_TRUE(memo.find("c"));
  EXPECT_EQ(memo.counts().recalled, 3u);
  EXPECT_EQ(memo.counts().missed, 1u);
}

}  // namespace
}  // namespace pommel::mill
