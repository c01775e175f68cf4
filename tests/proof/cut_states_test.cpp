// The wood at moments of a cut: it begins as the blank, only ever goes, and ends within the ridges over the piece, as the judge finds it.
#include "proof/cut_states.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "pieces.h"

namespace pommel::proof {
namespace {

using namespace testing;

TEST(CutStates, BeginAsTheBlankAndEndAsThePiece) {
  const shape::Part part = rod(20, 60);
  const shape::Blank blank = blank_for(part, shape::Blank::Section::round, 46, 12);
  motion::Path path = lengthwise(-4, 64, 20, 250, 30);
  for (std::size_t i = 0; i < path.moves.size(); ++i) path.moves[i].line = static_cast<int>(i) + 1;
  const auto states = cut_states_of({path}, part, blank, {ball(6)}, 12, {});
  ASSERT_TRUE(states.ok()) << render(states.reasons());
  ASSERT_GE(states->states.size(), 12u);
  const auto inside = [&](std::size_t row) { return states->x[row] > 1 && states->x[row] < 59; };
  for (std::size_t k = 0; k < states->states.size(); ++k) {
    const WoodState& state = states->states[k];
    ASSERT_EQ(state.radius.size(), states->x.size() * static_cast<std::size_t>(states->columns));
    if (k == 0) continue;
    EXPECT_GE(state.minutes, states->states[k - 1].minutes);
    EXPECT_GE(state.line, states->states[k - 1].line);
    for (std::size_t i = 0; i < state.radius.size(); ++i) ASSERT_LE(state.radius[i], states->states[k - 1].radius[i] + 1e-4f) << k;
  }
  const auto &whole = states->states.front().radius, &done = states->states.back().radius;
  for (std::size_t row = 0; row < states->x.size(); ++row) {
    if (!inside(row)) continue;
    for (int column = 0; column < states->columns; ++column) {
      const std::size_t i = row * static_cast<std::size_t>(states->columns) + static_cast<std::size_t>(column);
      EXPECT_NEAR(whole[i], 23, 1e-4);     // the blank's radius
      EXPECT_GE(done[i], 20 - 0.02 - 1e-3);  // chords of a picture, not of the judge
      EXPECT_LE(done[i], 20 + 0.0122 + 0.02);  // the ridges, as the judge finds them (prove_test.cpp)
    }
  }
  EXPECT_EQ(states->states.front().line, 0);
  EXPECT_EQ(states->states.back().line, static_cast<int>(path.moves.size()));
  EXPECT_EQ(states->at_minutes(-1), 0u);
  EXPECT_EQ(states->at_minutes(1e9), states->states.size() - 1);
  EXPECT_EQ(states->at_line(1 << 30), states->states.size() - 1);
  EXPECT_NEAR(states->states[states->at_minutes(states->minutes / 2)].minutes, states->minutes / 2, states->minutes / 11);
}

TEST(CutStates, AreStopped) {
  std::stop_source stop;
  stop.request_stop();
  const shape::Part part = rod(20, 60);
  const auto states = cut_states_of({lengthwise(-4, 64, 20, 250, 30)}, part, blank_for(part, shape::Blank::Section::round, 46, 12), {ball(6)}, 12, stop.get_token());
  ASSERT_FALSE(states.ok());
  EXPECT_EQ(states.reasons().front().id, "cancelled");
}

}  // namespace
}  // namespace pommel::proof
