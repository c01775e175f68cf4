// Bulges of polylines. The DXF interchange format, group 42 of LWPOLYLINE: the tangent of a quarter of the arc's angle, negative clockwise. The figures
// follow from R = c (1 + b²)/(4 |b|) and the sagitta c |b| / 2.
#include <gtest/gtest.h>

#include <cmath>

#include "base/number.h"
#include "exchange/drawing.h"

namespace pommel::exchange {
namespace {

std::string polyline(double bulge) {
  return "0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n90\n2\n70\n0\n10\n0\n20\n0\n42\n" + format_exact(bulge) + "\n10\n10\n20\n0\n0\nENDSEC\n0\nEOF\n";
}

struct Case {
  double bulge, radius, sagitta;
};

TEST(Bulge, OverAChordOfTen) {
  for (const Case& c : {Case{1, 5, 5}, Case{0.41421356, 7.0710678, 2.0710678}, Case{-0.2, 13, 1}}) {
    const auto drawing = read_dxf(polyline(c.bulge), "arc.dxf", LengthUnit::millimetre);
    ASSERT_TRUE(drawing.ok()) << render(drawing.reasons());
    const auto& dots = drawing->paths.at(0).dots;
    // counter-clockwise from (0, 0) to (10, 0) runs below the chord, clockwise above it
    const double side = c.bulge > 0 ? -1 : 1, centre = side * (c.sagitta - c.radius);
    double deepest = 0;
    for (const Dot& d : dots) {
      EXPECT_NEAR(std::hypot(d[0] - 5, d[1] - centre), c.radius, 1e-6);
      deepest = std::max(deepest, side * d[1]);
    }
    EXPECT_NEAR(deepest, c.sagitta, kSag);
    EXPECT_NEAR(dots.back()[0], 10, 1e-12);
    EXPECT_NEAR(dots.back()[1], 0, 1e-12);
  }
}

}  // namespace
}  // namespace pommel::exchange
