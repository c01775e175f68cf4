// A whole leg: proved as it should be, then with faults put into its path; and how long it takes.
#include <gtest/gtest.h>

#include <ctime>

#include "pieces.h"
#include "proof/body.h"

namespace pommel::proof {
namespace {

using namespace testing;

constexpr double kFoot = 720, kFootRadius = 14;

shape::Part leg() {
  shape::Part part = with_pieces({
      shape::clear_piece(0, 130), shape::line_piece(130, 43, 142, 24), shape::line_piece(142, 24, 150, 24),
      shape::arc_piece(150, 24, 162, 24, 7, 1), shape::line_piece(162, 20, 170, 20), shape::arc_piece(170, 20, 200, 20, 40, -1),
      shape::line_piece(200, 24, 208, 24), shape::line_piece(208, 24, 640, 15), shape::arc_piece(640, 15, 690, 14, 60, 1),
      shape::line_piece(690, kFootRadius, kFoot, kFootRadius)});
  part.faces = shape::square_faces(60, part.length);
  return part;
}

// Lengthwise passes over the turned part, the ball as low as the brute-force reach lets it.
motion::Path finishing(const Grid& grid, Reach& reach, int passes) {
  PathMaker maker({100, 0, 60, 0});
  maker.stage("finish, lengthwise");
  std::size_t first = 0;
  while (reach.places()[first] < 120) ++first;
  for (int i = 0; i < passes; ++i) {
    auto column = static_cast<std::size_t>(i * grid.columns / passes);
    double a = static_cast<double>(column) * grid.column_step();
    // past the foot no lower than the foot is: the waste there holds the piece
    auto z = [&](std::size_t place) { return std::max(reach.tip_height(place, column), reach.places()[place] > kFoot ? kFootRadius : -1e9); };
    maker.rapid(reach.places()[first], 60, a).feed(reach.places()[first], z(first), a);
    for (std::size_t place = first + 1; place < reach.places().size(); ++place) {
      // a straight line between two places of a ball that rolls over an edge would cut into it: along first, then down
      if (z(place) < z(place - 1) - 0.3) maker.feed(reach.places()[place], z(place - 1), a);
      if (z(place) > z(place - 1) + 0.3) maker.feed(reach.places()[place - 1], z(place), a);
      maker.feed(reach.places()[place], z(place), a);
    }
    maker.rapid(reach.places().back(), 60, a);
  }
  return maker.path;
}

struct Made {
  shape::Part part = leg();
  shape::Blank blank = blank_for(part, shape::Blank::Section::square, 60, 12);
  shop::Cutter cutter = ball(6);
  Grid grid = std::move(make_grid(part, blank, 0.25, 720)).value();
  std::vector<float> body = body_radii(grid, part);
  Reach reach{grid, body, tool_of(cutter).value(), -1e9, 1e9};
  motion::Path path = finishing(grid, reach, 240);
};

const Made& made() {
  static const Made one;
  return one;
}

Proof proved(const motion::Path& path, Settings settings = {}) {
  const Made& m = made();
  auto result = prove_path(path, m.part, m.blank, {}, m.cutter, open_machine(), settings, {});
  EXPECT_TRUE(result.ok());
  return std::move(result).value();
}

// Wall clocks lie on a busy computer: what is printed and held is processor time, of all threads together.
double seconds_since(std::clock_t before) { return static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC; }

TEST(Leg, IsProvedInALittleTime) {
  std::size_t moves = made().path.moves.size();
  auto before = std::clock();
  Proof proof = proved(made().path);
  std::printf("    %zu moves, 4 lies of the blank: %.2f s of the processor\n", moves, seconds_since(before));
  EXPECT_TRUE(proof.passed()) << report(proof);
  EXPECT_LT(proof.gouge.amount, 0.012);  // the path comes from a sampled reach, which is known to that
}

TEST(Leg, QuirksAreListedByElement) {
  Proof proof = proved(made().path);
  // the square corners beside the bead and the cove; a 6 mm ball leaves (1 - sin 45) of its radius and less in each
  std::vector<std::string> elements;
  for (const Patch& patch : proof.hand_work) {
    EXPECT_TRUE(patch.all_round) << patch.x0;
    EXPECT_GT(patch.worst.amount, 0.2);
    EXPECT_LT(patch.worst.amount, 1.24);
    elements.push_back(patch.element);
  }
  std::sort(elements.begin(), elements.end());
  EXPECT_EQ(elements, (std::vector<std::string>{"piece 3", "piece 3", "piece 5", "piece 6"}));
}

// Faults of known depth, put into one line of the finishing pass over different elements.
TEST(Leg, SeededFaultsAreFoundWithTheirDepth) {
  struct Fault {
    double x0, x1, depth;
  };
  for (Fault fault : {Fault{300, 320, 0.05}, Fault{145, 148, 0.04}, Fault{180, 190, 0.05}, Fault{450, 455, 0.03}}) {
    motion::Path path = made().path;
    double a = 2 * kPi * 60 / 240;
    for (motion::Move& move : path.moves) {
      if (!move.rapid && std::fabs(move.to.a - a) < 1e-9 && move.to.x >= fault.x0 && move.to.x <= fault.x1) move.to.z -= fault.depth;
    }
    Proof proof = proved(path);
    EXPECT_FALSE(proof.passed());
    EXPECT_NEAR(proof.gouge.amount, fault.depth, 0.005) << fault.x0;
    EXPECT_GE(proof.gouge.x, fault.x0 - 1);
    EXPECT_LE(proof.gouge.x, fault.x1 + 1);
    EXPECT_NEAR(proof.gouge.degrees, 90, 0.6);
    ASSERT_EQ(proof.gouges.size(), 1u);
    const motion::Move& blamed = path.moves[static_cast<std::size_t>(proof.gouge.line) - 1];
    EXPECT_NEAR(blamed.to.a, a, 1e-9);
    EXPECT_NEAR(blamed.to.x, proof.gouge.x, 1);
  }
}

// A nick of 0.05 mm in an arris is 0.1 mm wide; where a face is tapered the arris runs between the columns, 0.37 mm apart, and
// only the ray that stands on it can see the nick.
TEST(Leg, ANickInAnArrisIsSeen) {
  shape::Part part = with_pieces({shape::clear_piece(0, 100)});
  part.faces = std::move(shape::tapered(shape::square_faces(60, 100), {{0}, 0, 100, 26.6})).value();
  double a = std::atan2(30, 28.3), far = std::hypot(30, 28.3);
  PathMaker maker({50, 0, 60, a});
  maker.feed(50, far - 0.05, a).rapid(50, 60, a);
  auto proof = prove_path(maker.path, part, blank_for(part, shape::Blank::Section::square, 60), {}, ball(6), open_machine(), {}, {});
  ASSERT_TRUE(proof.ok());
  double taper = std::atan2(3.4, 100);
  EXPECT_NEAR(proof->gouge.amount, 0.05 * std::min(std::sin(a), std::cos(a) * std::cos(taper)), 1e-4);
  EXPECT_NEAR(proof->gouge.degrees, a * 180 / kPi, 1e-9);
  EXPECT_EQ(proof->gouge.x, 50);
}

TEST(Leg, RemovalAlone) {
  const Made& m = made();
  for (bool all : {false, true}) {
    std::vector<Start> starts;
    for (const Lie& lie : lies({})) {
      if (all || starts.empty()) starts.emplace_back(m.grid, m.blank, lie);
    }
    CutSettings settings;
    settings.threads = 1;
    auto before = std::clock();
    auto wood = cut(m.grid, starts, m.path, m.cutter, settings, {});
    double seconds = seconds_since(before);
    ASSERT_TRUE(wood.ok());
    EXPECT_TRUE(wood->hits.empty());
    std::printf("    one thread, %zu blanks: %.2f s, %.0f thousand moves a second\n", starts.size(), seconds,
                static_cast<double>(m.path.moves.size()) / seconds / 1000);
  }
}

}  // namespace
}  // namespace pommel::proof
