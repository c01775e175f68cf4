// Curves and transforms of drawn outlines against closed forms; what is said of bad drawings stands in tests/bad.
#include "exchange/drawing.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

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

std::vector<Dot> dots_of(const std::string& shape) {
  const auto drawing = read_svg(R"(<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="400mm" viewBox="0 0 400 400">)" + shape + "</svg>", "leg.svg", std::nullopt);
  EXPECT_TRUE(drawing.ok()) << render(drawing.reasons());
  if (!drawing.ok() || drawing->paths.size() != 1) return {};
  std::vector<Dot> out = drawing->paths[0].dots;
  for (Dot& dot : out) dot[1] = -dot[1];  // y down again, as the file has it
  return out;
}

std::vector<Dot> drawn(const std::string& data) { return dots_of("<path d=\"" + data + "\"/>"); }

double from_chords(const std::vector<Dot>& dots, double x, double y) {
  double least = 1e9;
  for (std::size_t i = 1; i < dots.size(); ++i) {
    const double dx = dots[i][0] - dots[i - 1][0], dy = dots[i][1] - dots[i - 1][1];
    const double t = std::clamp(((x - dots[i - 1][0]) * dx + (y - dots[i - 1][1]) * dy) / (dx * dx + dy * dy), 0.0, 1.0);
    least = std::min(least, std::hypot(dots[i - 1][0] + t * dx - x, dots[i - 1][1] + t * dy - y));
  }
  return least;
}

// SVG 1.1, section 8.3: a cubic by its four points, a quadratic by its three, each also from the last point and with the handle mirrored there.
TEST(Svg, CurvesAreLaidWithinTheSagOfTheirOwn) {
  const std::vector<Dot> cubic = drawn("M 20 10 C 20 110 320 110 320 10"), flat = drawn("M 20 10 Q 70 200 320 10");
  ASSERT_GT(cubic.size(), 2u);
  ASSERT_GT(flat.size(), 2u);
  for (int i = 0; i <= 1000; ++i) {
    const double t = i / 1000.0, u = 1 - t;
    EXPECT_LE(from_chords(cubic, 20 * u * u * u + 60 * u * u * t + 960 * u * t * t + 320 * t * t * t, 10 * u * u * u + 330 * u * u * t + 330 * u * t * t + 10 * t * t * t), kSag) << t;
    EXPECT_LE(from_chords(flat, 20 * u * u + 140 * u * t + 320 * t * t, 10 * u * u + 400 * u * t + 10 * t * t), kSag) << t;
  }
  const std::pair<const char*, const char*> same[] = {
      {"M20 10c0 100 300 100 300 0", "M20 10C20 110 320 110 320 10"},
      {"M 0 0 C 0 10 10 20 20 20 S 40 30 40 40", "M 0 0 C 0 10 10 20 20 20 C 30 20 40 30 40 40"},
      {"M 0 0 C 0 10 10 20 20 20 s 20 10 20 20", "M 0 0 C 0 10 10 20 20 20 C 30 20 40 30 40 40"},
      {"M 0 0 S 10 20 20 20", "M 0 0 C 0 0 10 20 20 20"},
      {"M 0 0 Q 10 20 20 20 T 40 40", "M 0 0 Q 10 20 20 20 Q 30 20 40 40"},
      {"M 0 0 q 10 20 20 20 t 20 20", "M 0 0 Q 10 20 20 20 Q 30 20 40 40"},
      {"M 5 5 H 20 V 30 h -3 v 1e1", "M 5 5 L 20 5 L 20 30 L 17 30 L 17 40"}};
  for (const auto& [one, other] : same) {
    const std::vector<Dot> a = drawn(one), b = drawn(other);
    ASSERT_EQ(a.size(), b.size()) << one;
    ASSERT_GE(a.size(), 2u) << one;
    for (std::size_t i = 0; i < a.size(); ++i) EXPECT_NEAR(std::hypot(a[i][0] - b[i][0], a[i][1] - b[i][1]), 0, 1e-9) << one;
  }
}

// SVG 1.1, section 8.3.8: of the four arcs between two ends the flags choose the long or the short one, and the one of growing angles or of falling ones.
TEST(Svg, ArcsAreThoseThatTheirFlagsChoose) {
  struct Case {
    const char* flags;
    double cx, cy, turn;
  };
  for (const Case& one : {Case{"0 1", 0, 0, 90}, Case{"0 0", 100, 100, -90}, Case{"1 0", 0, 0, -270}, Case{"11", 100, 100, 270}}) {
    const std::vector<Dot> dots = drawn(std::string("M 100 0 A 100 100 0 ") + one.flags + " 0 100");
    ASSERT_GT(dots.size(), 10u) << one.flags;
    double turn = 0;
    for (std::size_t i = 0; i < dots.size(); ++i) {
      EXPECT_NEAR(std::hypot(dots[i][0] - one.cx, dots[i][1] - one.cy), 100, 1e-9) << one.flags;
      if (i == 0) continue;
      const double c = std::hypot(dots[i][0] - dots[i - 1][0], dots[i][1] - dots[i - 1][1]);
      EXPECT_LE(c * c / 800, kSag);
      turn += std::remainder(std::atan2(dots[i][1] - one.cy, dots[i][0] - one.cx) - std::atan2(dots[i - 1][1] - one.cy, dots[i - 1][0] - one.cx), 2 * std::numbers::pi);
    }
    EXPECT_NEAR(turn * 180 / std::numbers::pi, one.turn, 1e-9) << one.flags;
  }
  // half of an ellipse that is turned, so that its middle is known
  const double p = std::numbers::pi / 6;
  for (const Dot& dot : drawn("M 173.20508075688772 100 A 200 50 30 0 1 -173.20508075688772 -100"))
    EXPECT_NEAR(std::hypot((dot[0] * std::cos(p) + dot[1] * std::sin(p)) / 200, (dot[1] * std::cos(p) - dot[0] * std::sin(p)) / 50), 1, 1e-9);
  // radii that do not reach grow until they do
  for (const Dot& dot : drawn("M 0 0 a 1 1 0 0 1 20 0")) EXPECT_NEAR(std::hypot(dot[0] - 10, dot[1]), 10, 1e-9);
}

TEST(Svg, ShapesAreTheirCorners) {
  const std::vector<Dot> corners{{1, 2}, {11, 2}, {11, 7}, {1, 7}};
  for (const char* shape : {R"(<rect x="1" y="2" width="10" height="5"/>)", R"(<polygon points="1,2 11,2 11,7 1,7"/>)", R"(<polyline points="1 2 11 2 11 7 1 7"/>)",
                            R"(<path d="M1 2H11V7H1Z"/>)"}) {
    const std::vector<Dot> dots = dots_of(shape);
    ASSERT_GE(dots.size(), 4u) << shape;
    for (std::size_t i = 0; i < 4; ++i) EXPECT_EQ(std::hypot(dots[i][0] - corners[i][0], dots[i][1] - corners[i][1]), 0) << shape;
  }
  EXPECT_EQ(dots_of(R"(<line x1="1" y1="2" x2="3" y2="5"/>)"), (std::vector<Dot>{{1, 2}, {3, 5}}));
}

// DXF: arcs run counter-clockwise from the first angle to the second; $INSUNITS says what the numbers are (1 inches, 2 feet, 4 mm, 5 cm, 6 m).
TEST(Dxf, ArcsAndCirclesRoundTheirCentreInTheUnitOfTheFile) {
  const std::pair<const char*, double> units[] = {{"1", 25.4}, {"2", 304.8}, {"4", 1}, {"5", 10}, {"6", 1000}};
  for (const auto& [code, mm] : units) {
    const std::string head = std::string("0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n") + code + "\n0\nENDSEC\n";
    const auto arc = read_dxf(head + dxf("0\nARC\n10\n5\n20\n6\n40\n2\n50\n270\n51\n45\n"), "leg.dxf", std::nullopt);
    ASSERT_TRUE(arc.ok()) << render(arc.reasons());
    const auto& dots = arc->paths.at(0).dots;
    for (const Dot& dot : dots) EXPECT_NEAR(std::hypot(dot[0] - 5 * mm, dot[1] - 6 * mm), 2 * mm, 1e-9 * mm);
    EXPECT_NEAR(dots.front()[1], 4 * mm, 1e-9 * mm);
    EXPECT_NEAR(dots.back()[0], (5 + std::sqrt(2)) * mm, 1e-9 * mm);
    double turn = 0;
    for (std::size_t i = 1; i < dots.size(); ++i) turn += std::remainder(std::atan2(dots[i][1] - 6 * mm, dots[i][0] - 5 * mm) - std::atan2(dots[i - 1][1] - 6 * mm, dots[i - 1][0] - 5 * mm), 2 * std::numbers::pi);
    EXPECT_NEAR(turn, 0.75 * std::numbers::pi, 1e-9);
    const auto circle = read_dxf(head + dxf("0\nCIRCLE\n10\n5\n20\n6\n40\n2\n"), "leg.dxf", std::nullopt);
    ASSERT_TRUE(circle.ok()) << render(circle.reasons());
    EXPECT_TRUE(circle->paths.at(0).closed);
  }
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
