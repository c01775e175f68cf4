// Every catalog design under every cutter of the shop: the lowest place of the cutter, from the planner's kernel, against the least distance of its
// whole body (shank, nut, holder too) from the wood, found by looking everywhere (mill/cutter_judge.h). Judged by that distance, never by height
// alone: a place is too low by what the cutter stands in the wood, too high by what it stands off.
//
// A few places run with the other tests; POMMEL_ACCURACY_PLACES=100 takes that many a piece and cutter, and prints the table of DEVELOPERS.md.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <numbers>
#include <random>

#include "hold/pieces.h"
#include "mill/cutter_judge.h"
#include "mill/envelope.h"

namespace pommel::mill {
namespace {

constexpr double kGouge = 0.0005, kExcess = 0.003;  // mm
constexpr double kFault = 0.02;                     // mm, put in on purpose
constexpr double kTurn = 2 * std::numbers::pi;

std::size_t places_wanted() {
  const char* wanted = std::getenv("POMMEL_ACCURACY_PLACES");
  return wanted ? std::strtoul(wanted, nullptr, 10) : 1;
}

struct Worst {
  double gouge = 0, excess = 0;
  std::size_t places = 0, coarse = 0;  ///< coarse: off by more than 0.01 mm either way
  double gouge_x = 0, gouge_a = 0, excess_x = 0, excess_a = 0;

  void take(double gap, double x, double a) {
    ++places;
    coarse += std::fabs(gap) > 0.01 ? 1 : 0;
    if (-gap > gouge) gouge = -gap, gouge_x = x, gouge_a = a;
    if (gap > excess) excess = gap, excess_x = x, excess_a = a;
  }
};

// Half of the places anywhere, half beside a knot of the piece, where edges and walls are.
std::pair<double, double> drawn(std::mt19937_64& random, const std::vector<double>& knots, double length, double radius) {
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  const double a = between(0, kTurn);
  if (random() % 2 == 0 || knots.empty()) return {between(-radius, length + radius), a};
  return {knots[random() % knots.size()] + between(-radius, radius), a};
}

class Accuracy : public ::testing::TestWithParam<std::string> {};

TEST_P(Accuracy, EveryCutterTouchesAndNoneGouges) {
  const std::vector<hold::Piece> pieces = hold::pieces_of(GetParam());
  ASSERT_FALSE(pieces.empty());
  const auto cutters = hold::shop_of_the_house().cutters;
  ASSERT_GE(cutters.size(), 10u);
  std::mt19937_64 random(2026);
  for (const auto& [id, cutter] : cutters) {
    Worst worst;
    std::size_t low_seen = 0, high_seen = 0;
    for (const hold::Piece& piece : pieces) {
      const auto envelope = Envelope::of(piece.part, cutter);
      ASSERT_TRUE(envelope.ok()) << id << render(envelope.reasons());
      const std::vector<double> knots = shape::knots(piece.part);
      const std::vector<testing::Meridian> bodies = testing::meridians(cutter);
      for (std::size_t n = 0; n < places_wanted();) {
        const auto [x, a] = drawn(random, knots, piece.part.length, cutter.diameter / 2);
        const double tip = envelope->tip_height(x, a);
        if (!std::isfinite(tip)) continue;  // beyond the ends nothing holds it
        ++n;
        const auto gap = [&](double off) { return testing::cutter_gap(piece.part, {bodies, x, tip + off, a}); };
        worst.take(gap(0), x, a);
        low_seen += gap(-kFault) < -kGouge ? 1 : 0;
        high_seen += gap(kFault) > kExcess ? 1 : 0;
      }
    }
    EXPECT_LE(worst.gouge, kGouge) << GetParam() << ", " << id << " at x " << worst.gouge_x << ", a " << worst.gouge_a;
    EXPECT_LE(worst.excess, kExcess) << GetParam() << ", " << id << " at x " << worst.excess_x << ", a " << worst.excess_a;
    // the same look finds what was put in, but where the cutter slides along a wall: within 1.4 degrees of plumb (a shoulder's foot under a small ball; one
    // place of a hundred at most) a cutter too low by it goes less than kGouge deeper into the wood
    EXPECT_LE(worst.places - low_seen, worst.places / 100) << GetParam() << ", " << id;
    EXPECT_GT(high_seen, 0u) << GetParam() << ", " << id;
    if (std::getenv("POMMEL_ACCURACY_PLACES"))
      std::printf("| %s | %s | %zu | %.5f | %.5f | %zu | %zu |\n", GetParam().c_str(), id.c_str(), worst.places, worst.gouge, worst.excess, worst.coarse, high_seen);
  }
}

INSTANTIATE_TEST_SUITE_P(Catalog, Accuracy, ::testing::ValuesIn(hold::designs_of_the_house()), [](const auto& one) {
  std::string name = one.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

}  // namespace
}  // namespace pommel::mill
