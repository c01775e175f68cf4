// A whole leg: proved as it should be, then with faults put into its path; and how long it takes.
#include <gtest/gtest.h>

#include <ctime>

#include "pieces.h"
#include "proof/body.h"

namespace pommel::proof {
namespace {

using namespace testing;

shape::Part leg() {
  shape::Part part = with_pieces({
      shape::clear_piece(0, 130), shape::line_piece(130, 43, 142, 24), shape::line_piece(142, 24, 150, 24),
      shape::arc_piece(150, 24, 162, 24, 7, 1), shape::line_piece(162, 20, 170, 20), shape::arc_piece(170, 20, 200, 20, 40, -1),
      shape::line_piece(200, 24, 208, 24), shape::line_piece(208, 24, 640, 15), shape::arc_piece(640, 15, 690, 14, 60, 1),
      shape::line_piece(690, 14, 720, 14)});
  part.faces = shape::square_faces(60, part.length);
  return part;
}

// Lengthwise passes over the turned part, the ball as low as the brute-force reach lets it.
motion::Path finishing(const shape::Part& part, const Grid& grid, const Reach& reach, double rho, int passes) {
  (void)part;
  PathMaker maker({100, 0, 60, 0});
  maker.stage("finish, lengthwise");
  std::size_t first = 0;
  while (reach.places()[first] < 120) ++first;
  for (int i = 0; i < passes; ++i) {
    auto column = static_cast<std::size_t>(i * grid.columns / passes);
    double a = static_cast<double>(column) * grid.column_step();
    auto z = [&](std::size_t place) { return reach.centre_height(place, column) - rho; };
    maker.rapid(reach.places()[first], 60, a).feed(reach.places()[first], z(first), a);
    for (std::size_t place = first + 1; place < reach.places().size(); ++place) maker.feed(reach.places()[place], z(place), a);
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
  Reach reach{grid, body, cutter, -1e9, 1e9};
  motion::Path path = finishing(part, grid, reach, 3, 240);
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

TEST(Leg, IsProvedInALittleTime) {
  auto before = std::clock();
  Proof proof = proved(made().path);
  double seconds = static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC;
  std::printf("%s    %zu moves, 4 lies of the blank, %.2f s\n", report(proof).c_str(), made().path.moves.size(), seconds);
  EXPECT_TRUE(proof.passed()) << report(proof);
}

TEST(Leg, RemovalAlone) {
  const Made& m = made();
  for (int threads : {1, 2}) {
    CutSettings settings;
    settings.threads = threads;
    for (bool all : {false, true}) {
      std::vector<std::vector<float>> starts;
      for (const Lie& lie : lies({})) {
        if (all || starts.empty()) starts.push_back(start_radii(m.grid, m.blank, lie));
      }
      auto before = std::clock();
      auto wood = cut(m.grid, starts, m.path, m.cutter, settings, {});
      double seconds = static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC;  // of the processor, all threads
      ASSERT_TRUE(wood.ok());
      std::printf("    %d threads, %zu blanks: %.2f s, %.0f thousand moves a second\n", threads, starts.size(), seconds,
                  static_cast<double>(m.path.moves.size()) / seconds / 1000);
    }
  }
}

}  // namespace
}  // namespace pommel::proof
