// The ball on its way round (proof/turn.h) against the slow way along its true path, and the two widths of the inner loops against each other.
#include "proof/turn.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <random>

#include "pieces.h"
#include "proof/kernel.h"
#include "proof/sweep.h"

namespace pommel::proof {
namespace {

using namespace testing;

motion::Position between_turns(std::mt19937& random, double x, double z, double a) {
  auto number = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
  return {x + number(-1.5, 1.5), 0, z + number(-1, 1), a + (number(0, 1) < 0.5 ? -1 : 1) * number(0.05, kWidestTurn)};
}

// One turn at a time over fresh wood: rays are entered within single precision of the true path's entry; those that only graze the ball may
// be off by more along themselves, or be missed by a hair.
TEST(Turn, RaysAreEnteredWhereTheTruePathEntersThem) {
  std::mt19937 random(7);
  const shape::Part part = rod(25, 40);
  const shape::Blank blank = blank_for(part, shape::Blank::Section::round, 60);
  const Grid grid = std::move(make_grid(part, blank, 0.4, 360)).value();
  const double rho = 3;
  const Tool tool = tool_of(ball(2 * rho)).value();
  int turns = 0, met = 0;
  for (int i = 0; turns < 30; ++i) {
    const double z = i % 3 == 0 ? 4.0 : 20.0;
    const motion::Position from{20, 0, z, i * 0.77 - 9}, to = between_turns(random, 20, z, from.a);
    if (!turn_between(from, to, rho, 0.001)) continue;  // cut into chords
    ++turns;
    PathMaker maker(from);
    maker.feed(to.x, to.z, to.a);
    const Cut wood = cut_one(grid, blank, maker.path, ball(2 * rho));
    for (std::size_t row = grid.first_row_from(16); grid.x[row] < 25; row += 5) {
      for (std::size_t j = static_cast<std::size_t>(turns) % 7; j < 360; j += 7) {
        const auto slow = meet_move(tool, from, to, grid.x[row], grid.angle(row, j));
        const double low = static_cast<double>(wood.low[grid.begin[row] + j]), chord = slow ? slow->exit - slow->entry : 0;
        if (chord < 0.3) {
          ASSERT_TRUE(low >= 1e8 || low > z) << i << " " << grid.x[row] << " " << j;
          continue;
        }
        ASSERT_NEAR(low, slow->entry, 1e-4) << i << " " << grid.x[row] << " " << j;
        ++met;
      }
    }
  }
  EXPECT_GT(met, 1000);
}

TEST(Turn, IsLeftToChordsNearTheAxisOnSteepClimbsAndOnShortTurns) {
  const double rho = 3;
  EXPECT_TRUE(turn_between({0, 0, 20, 0}, {0.3, 0, 20, 1}, rho, 0.001));
  EXPECT_FALSE(turn_between({0, 0, 20, 0}, {0.3, 0, 20, 0}, rho, 0.001));       // no turn
  EXPECT_FALSE(turn_between({0, 0, 20, 0}, {0.3, 0, 20, 0.001}, rho, 0.001));   // one chord serves
  EXPECT_FALSE(turn_between({0, 0, 0.2, 0}, {0.3, 0, 0.2, 1}, rho, 0.001));     // round the axis itself
  EXPECT_FALSE(turn_between({0, 0, 5, 0}, {0, 0, 30, 0.8}, rho, 0.001));        // up like a stair
}

TEST(Turn, ATurnBackCutsWhatTheTurnForthCuts) {
  const shape::Part part = rod(25, 40);
  const shape::Blank blank = blank_for(part, shape::Blank::Section::round, 60);
  const Grid grid = std::move(make_grid(part, blank, 0.25, 720)).value();
  PathMaker forth({20, 0, 18, 0.3}), back({20.4, 0, 18.2, 4.1});
  forth.feed(20.4, 18.2, 4.1);
  back.feed(20, 18, 0.3);
  const Cut a = cut_one(grid, blank, forth.path, ball(6)), b = cut_one(grid, blank, back.path, ball(6));
  int met = 0;
  for (std::size_t i = 0; i < grid.rays(); ++i) {
    ASSERT_NEAR(a.low[i], b.low[i], 2e-4f);
    met += a.low[i] < kNone ? 1 : 0;
  }
  EXPECT_GT(met, 5000);
}

// A row of rays and its wood, random but for its sense.
struct Row {
  explicit Row(unsigned seed) {
    std::mt19937 random(seed);
    auto number = [&](float from, float to) { return std::uniform_real_distribution<float>(from, to)(random); };
    for (std::size_t j = 0; j < kRays + kBeyond; ++j) {
      const float angle = -0.4f + 0.01f * static_cast<float>(j);
      psi.push_back(angle);
      sine.push_back(std::sin(angle));
      cosine.push_back(std::cos(angle));
      side.push_back(std::max(sine[j] * sine[j], 1e-9f));
      inverse_side.push_back(1 / std::sqrt(side[j]));
      up.push_back(cosine[j] * cosine[j]);
      inverse_up.push_back(1 / cosine[j]);
      along.push_back(0.1f * cosine[j]);
      across.push_back(1 - along[j] * along[j]);
      inverse_across.push_back(1 / across[j]);
      low.push_back(number(0, 1) < 0.3f ? kNone : number(18, 26));
      high.push_back(low[j] == kNone ? -kNone : low[j] + number(0, 8));
      out.push_back(number(0, 1) < 0.5f ? kNone : low[j] + number(0, 9));
      start.push_back(number(28, 32));
      most.push_back(start[j] + 1);
    }
  }
  RayTable table() const {
    return {sine.data(), cosine.data(), along.data(), across.data(), inverse_across.data(), side.data(), inverse_side.data(), up.data(), inverse_up.data()};
  }
  WoodRun wood() { return {low.data(), high.data(), out.data(), start.data(), most.data()}; }

  static constexpr std::size_t kRays = 101;
  std::vector<float> psi, sine, cosine, along, across, inverse_across, side, inverse_side, up, inverse_up, low, high, out, start, most;
};

void expect_same_bits(const std::vector<float>& a, const std::vector<float>& b) {
  ASSERT_EQ(a.size(), b.size());
  EXPECT_EQ(std::memcmp(a.data(), b.data(), a.size() * sizeof(float)), 0);
}

TEST(Kernels, GiveTheSameBitsWhateverTheirWidth) {
  const Kernels &wide = kernels(), &narrow = narrow_kernels();
  const RowTurn turn{0.4f, 0.2f, 23, 0.3f, 0.25f, 3, 9, 30, 2};
  const RowStroke stroke{0.5f, 23, 0.99498744f, 0, 0.1f, 4, -1.8f, 515, 3, 9, 30, 0};
  const Meridian bull_nose{2, 1.2f, 3.2f, 1.2f, 0, 3.2f, 30};
  const RowAnyTurn round{0.4f, 0.2f, 20, 0.3f, 0.25f, 0.02f, -0.0006f, 4};
  const RowSlide slide{0.3f, -1, 2, 20, 0.1f, 19.9f, 6};
  for (unsigned seed = 0; seed < 20; ++seed) {
    for (std::size_t n : {Row::kRays, std::size_t{64}, std::size_t{5}}) {
      Row a(seed), b(seed);
      EXPECT_EQ(wide.cut_turn(turn, a.psi.data(), n, 0, 2, a.wood()), narrow.cut_turn(turn, b.psi.data(), n, 0, 2, b.wood()));
      EXPECT_EQ(wide.cut_stroke(stroke, a.table(), n, 0, 2, a.wood()), narrow.cut_stroke(stroke, b.table(), n, 0, 2, b.wood()));
      EXPECT_EQ(wide.cut_any_turn(round, bull_nose, a.psi.data(), n, 0, 2, a.wood()), narrow.cut_any_turn(round, bull_nose, b.psi.data(), n, 0, 2, b.wood()));
      EXPECT_EQ(wide.cut_slide(slide, bull_nose, a.table(), n, 0, 2, a.wood()), narrow.cut_slide(slide, bull_nose, b.table(), n, 0, 2, b.wood()));
      for (auto [one, other] : {std::pair{&a.low, &b.low}, {&a.high, &b.high}, {&a.out, &b.out}}) expect_same_bits(*one, *other);
      EXPECT_EQ(wide.highest_centre(a.start.data(), a.sine.data(), a.cosine.data(), n, 9, 1), narrow.highest_centre(b.start.data(), b.sine.data(), b.cosine.data(), n, 9, 1));
    }
  }
}

TEST(Kernels, LeaveTheRaysBeyondTheirRunAlone) {
  const RowTurn turn{0.4f, 0.2f, 23, 0.3f, 0.25f, 3, 9, 30, 2};
  for (std::size_t n = 1; n < 20; ++n) {
    Row cut(1), whole(1);
    kernels().cut_turn(turn, cut.psi.data(), n, 0, 2, cut.wood());
    for (std::size_t j = n; j < Row::kRays; ++j) ASSERT_EQ(cut.low[j], whole.low[j]) << n << " " << j;
  }
}

// What `least` skips, and what it may not.
TEST(Kernels, SkipOnlyWhereNothingChanges) {
  const RowTurn turn{0.4f, 0.2f, 23, 0.3f, 0.25f, 3, 9, 30, 2};
  Row cut(3), again(3);
  kernels().cut_turn(turn, cut.psi.data(), Row::kRays, 0, 2, cut.wood());
  const float all_below = *std::max_element(cut.out.begin(), cut.out.begin() + Row::kRays);
  kernels().cut_turn(turn, again.psi.data(), Row::kRays, 20, 2, again.wood());
  expect_same_bits(cut.low, again.low);
  expect_same_bits(cut.out, again.out);
  Row gone = cut;
  EXPECT_EQ(kernels().cut_turn(turn, gone.psi.data(), 96, all_below, 2, gone.wood()), 0);
  expect_same_bits(gone.low, cut.low);
}

}  // namespace
}  // namespace pommel::proof
