// Wrong readings told from right ones: by what most agree on, and by what a vase costs without them.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>

#include "match/agreed.h"
#include "match/vase.h"

namespace pommel::match {
namespace {

constexpr double kNoise = 0.05;

Sample at(double x, double r) { return {x, r, kNoise, kNoise, 0}; }

std::vector<char> marks(std::size_t n, std::initializer_list<std::size_t> wrong) {
  std::vector<char> out(n, 0);
  for (std::size_t i : wrong) out[i] = 1;
  return out;
}

/// Eight readings of a bead of 12 mm, so far off it square to it.
std::vector<Sample> on_a_bead(std::mt19937& random, std::array<double, 8> off = {}) {
  std::normal_distribution<double> noise(0, kNoise);
  std::vector<Sample> out;
  for (std::size_t i = 0; i < 8; ++i) {
    const double angle = 0.4 + 0.33 * static_cast<double>(i), rho = 12 + off[i] + noise(random);
    out.push_back(at(100 - rho * std::cos(angle), 14 + rho * std::sin(angle)));
  }
  return out;
}

TEST(OffTheCircle, ThreeOfEightAreToldWhereverTheyStand) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> wrong(1, 5);
  for (std::size_t a = 0; a < 8; ++a) {
    for (std::size_t b = a + 1; b < 8; ++b) {
      for (std::size_t c = b + 1; c < 8; ++c) {
        std::array<double, 8> off{};
        for (std::size_t i : {a, b, c}) off[i] = (random() % 2 ? 1 : -1) * wrong(random);
        EXPECT_EQ(off_the_circle(on_a_bead(random, off)), marks(8, {a, b, c})) << a << b << c;
      }
    }
  }
}

TEST(OffTheCircle, NothingIsToldWhereAllAgreeOrTooFewDo) {
  std::mt19937 random(3);
  for (int i = 0; i < 50; ++i) EXPECT_TRUE(off_the_circle(on_a_bead(random)).empty());
  auto four = on_a_bead(random);
  four.resize(4);
  four[1].r += 3;
  EXPECT_TRUE(off_the_circle(four).empty()) << "three are on a circle whatever they are";
}

TEST(OffTheLine, TheFarEndThatLeastSquaresFollowIsTold) {
  std::vector<Sample> samples;
  for (double x : {0.0, 2.0, 4.0, 6.0, 40.0}) samples.push_back(at(x, 10 + 0.2 * x));
  samples[4].r += 4;
  EXPECT_EQ(off_the_line(samples), marks(5, {4}));
}

// The cheapest by fitting anew without every one and every two: the slow way round.
std::array<double, 3> by_fitting_anew(const Layout& layout, const std::vector<Sample>& samples, const Stroke& ends) {
  const auto cost_without = [&](std::size_t a, std::size_t b) {
    std::vector<Sample> rest;
    for (std::size_t i = 0; i < samples.size(); ++i) {
      if (i != a && i != b) rest.push_back(samples[i]);
    }
    Stroke s = ends;
    EXPECT_TRUE(spread(layout, rest, s));
    std::vector<double> radii = {s.r0};
    for (const InnerStation& station : s.stations) radii.push_back(station.radius);
    radii.push_back(s.r1);
    double sum = 0;
    for (const Sample& sample : rest) {
      double r = 0;
      for (std::size_t j = 0; j < radii.size(); ++j) r += radii[j] * radius_of(layout.units[j], (sample.x - s.x0) / s.length());
      sum += std::pow((r - sample.r) / sample.sr, 2);
    }
    return sum;
  };
  const std::size_t n = samples.size();
  std::array<double, 3> least = {cost_without(n, n), 1e30, 1e30};
  for (std::size_t a = 0; a < n; ++a) {
    least[1] = std::min(least[1], cost_without(a, n) + kOutlier);
    for (std::size_t b = a + 1; b < n; ++b) least[2] = std::min(least[2], cost_without(a, b) + 2 * kOutlier);
  }
  return least;
}

TEST(BestLeftOut, IsWhatFittingAnewFinds) {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> place(0, 200), radius(10, 35);
  for (int round = 0; round < 40; ++round) {
    const auto& ways = layouts(1 + round % 3);
    const Layout& layout = ways[static_cast<std::size_t>(round) % ways.size()];
    std::vector<Sample> samples;
    for (int i = 0; i < 13; ++i) samples.push_back(at(place(random), radius(random)));
    std::ranges::sort(samples, {}, &Sample::x);
    Stroke ends;
    ends.figure = Figure::vase, ends.x0 = 0, ends.x1 = 200;
    const auto slow = by_fitting_anew(layout, samples, ends);
    const auto quick = best_left_out(layout, samples, ends, 8);
    for (std::size_t k = 0; k < 3; ++k) EXPECT_NEAR(quick[k].total, slow[k], 1e-4 * slow[k]) << round << ", " << k;
  }
}

TEST(BestLeftOut, AsManyStayAsHoldTheVase) {
  std::vector<Sample> samples;
  for (int i = 0; i < 7; ++i) samples.push_back(at(10.0 * i, i == 3 ? 30 : 20));
  Stroke ends;
  ends.figure = Figure::vase, ends.x0 = 0, ends.x1 = 60;
  const auto found = best_left_out(layouts(2).front(), samples, ends, 6);
  EXPECT_EQ(found[1].which, std::vector<std::size_t>{3});
  EXPECT_GT(found[2].total, 1e29) << "two of seven would leave five";
}

}  // namespace
}  // namespace pommel::match
