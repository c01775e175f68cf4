// A fault that was: on a small leg of 45 mm with a pommel cut as an ogee, rounded or sloped, a sound program was refused ("0.1 mm of wood
// is left where the cutter reaches"). Rows of rays stood 0.25 mm apart along x, which on a shoulder rising five times as fast as it goes
// along is 1.3 mm of skin: between them the reach let the ball sink into the skin, and called the wood that it must not take leftover.
// And a second one behind it: a gouge in a wall square to the axis was not seen at all when it was less deep than the rows are apart.
#include <gtest/gtest.h>

#include "pieces.h"
#include "proof/body.h"

namespace pommel::proof {
namespace {

using namespace testing;
using Section = shape::Blank::Section;

// A cone from r = 25 down to 15 on 2 mm of length: a rise of 5 to 1.
shape::Part stepped_rod() {
  return with_pieces({shape::line_piece(0, 25, 20, 25), shape::line_piece(20, 25, 22, 15), shape::line_piece(22, 15, 50, 15)});
}

TEST(SteepShoulder, TheBallRestsOnTheShoulderBetweenTheRows) {
  shape::Part part = stepped_rod();
  shape::Blank blank = blank_for(part, Section::round, 56);
  Grid grid = std::move(make_grid(part, blank, 0.25, 720)).value();
  for (std::size_t row = 1; row < grid.rows(); ++row) EXPECT_LE(grid.x[row] - grid.x[row - 1], 0.25 + 1e-12);
  std::vector<float> body = body_radii(grid, part);
  double rho = 4, slope = std::atan2(10, 2);
  Reach reach(grid, body, tool_of(ball(2 * rho)).value(), -1e9, 1e9);
  int seen = 0;
  for (std::size_t place = 0; place < reach.places().size(); ++place) {
    // in contact with the cone's middle: the centre stands rho off it along its normal
    double x = reach.places()[place], on = x - rho * std::sin(slope);
    if (on < 20.1 || on > 21) continue;
    double exact = 25 - 5 * (on - 20) + rho * std::cos(slope);
    if (exact - 15 < rho + 0.5) continue;  // there it rests on the round below
    // the least distance of the centre from the cone, which is what the ball would sink in
    double sunk = (exact - rho - reach.tip_height(place, 100)) * std::cos(slope);
    EXPECT_LE(sunk, reach_error(rho, 0.25, grid.column_step(), 25)) << x;
    EXPECT_GE(sunk, -1e-4) << x;
    ++seen;
  }
  EXPECT_GE(seen, 3);
}

TEST(SteepShoulder, AGougeInAWallIsSeen) {
  shape::Part part = with_pieces({shape::line_piece(0, 25, 20, 25), shape::line_piece(20, 15, 50, 15)});
  shape::Blank blank = blank_for(part, Section::round, 56);
  for (double depth : {0.022, 0.05, 0.12}) {
    PathMaker maker({24 - depth, 0, 60, 0.5});
    maker.feed(24 - depth, 15.5, 0.5).rapid(24 - depth, 60, 0.5);
    auto proof = prove_path(maker.path, part, blank, {}, ball(8), open_machine(), {}, {});
    ASSERT_TRUE(proof.ok());
    EXPECT_LE(proof->gouge.amount, depth + 1e-4);
    EXPECT_GE(proof->gouge.amount, std::max(0.0209, depth / 1.6)) << depth;
    EXPECT_NEAR(proof->gouge.x, 20, 0.2);
  }
}

}  // namespace
}  // namespace pommel::proof
