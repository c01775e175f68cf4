// Curves and transforms of drawn outlines against closed forms; what is said of bad drawings stands in tests/bad.
#include "exchange/drawing.h"

#include <gtest/gtest.h>

#include <cmath>

namespace pommel::exchange {
namespace {

std::string dxf(const std::string& entity) { return "0\nSECTION\n2\nENTITIES\n" + entity + "0\nENDSEC\n0\nEOF\n"; }

// A quarter of a circle is a rational quadratic whose middle weight is cos 45° (Piegl and Tiller, The NURBS Book, section 7.3).
TEST(Dxf, ASplineWithWeightsIsTheQuarterCircleThatItIs) {
  const std::string spline =
      "0\nSPLINE\n70\n4\n71\n2\n72\n6\n73\n3\n40\n0\n40\n0\n40\n0\n40\n1\n40\n1\n40\n1\n41\n1\n41\n0.70710678118654752\n41\n1\n"
      "10\n10\n20\n0\n10\n10\n20\n10\n10\n0\n20\n10\n";
  const auto drawing = read_dxf(dxf(spline), "leg.dxf", LengthUnit::millimetre);
  ASSERT_TRUE(drawing.ok()) << render(drawing.reasons());
  ASSERT_EQ(drawing->paths.size(), 1u);
  const auto& dots = drawing->paths[0].dots;
  ASSERT_GT(dots.size(), 10u);
  for (const Dot& d : dots) EXPECT_NEAR(std::hypot(d[0], d[1]), 10, 1e-9);
  EXPECT_NEAR(dots.front()[0], 10, 1e-12);
  EXPECT_NEAR(dots.back()[1], 10, 1e-12);
  for (std::size_t i = 1; i < dots.size(); ++i) {  // a chord c lies c²/(8 r) off its circle
    const double c = std::hypot(dots[i][0] - dots[i - 1][0], dots[i][1] - dots[i - 1][1]);
    EXPECT_LE(c * c / 80, 1.5 * kSag);
  }
}

// SVG 1.1, section 7.5: the transforms of a list are applied from the right, an outer group's last. y is turned up when it is read.
TEST(Svg, TransformsAreAppliedFromTheRightAndGroupsLast) {
  const std::string svg =
      R"svg(<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">)svg"
      R"svg(<g transform="translate(10 20)"><path transform="rotate(90) scale(2)" d="M 0 0 L 5 0 L 5 3"/></g></svg>)svg";
  const auto drawing = read_svg(svg, "leg.svg", std::nullopt);
  ASSERT_TRUE(drawing.ok()) << render(drawing.reasons());
  ASSERT_EQ(drawing->paths.size(), 1u);
  const auto& dots = drawing->paths[0].dots;
  ASSERT_EQ(dots.size(), 3u);
  // (5, 3) scaled is (10, 6), turned by 90° (-6, 10), moved (4, 30)
  const double top = dots[0][1];
  EXPECT_NEAR(dots[0][0], 10, 1e-9);
  EXPECT_NEAR(dots[1][0], 10, 1e-9);
  EXPECT_NEAR(top - dots[1][1], 10, 1e-9);
  EXPECT_NEAR(dots[2][0], 4, 1e-9);
  EXPECT_NEAR(top - dots[2][1], 10, 1e-9);
}

TEST(JoinedPaths, CloseGapsToTheToleranceAndNoFarther) {
  const std::vector<Path> paths = {{{{0, 20}, {50, 20}}, false}, {{{100, 15}, {50.08, 20}}, false}};  // the second runs the other way
  const auto joined = joined_paths(paths, 0.1);
  ASSERT_TRUE(joined.ok());
  EXPECT_EQ(joined->size(), 1u);
  const auto apart = joined_paths(paths, 0.05);
  ASSERT_TRUE(apart.ok());
  EXPECT_EQ(apart->size(), 2u);
}

}  // namespace
}  // namespace pommel::exchange
