#include "match/outline.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "match/scan.h"

namespace pommel::match {
namespace {

using exchange::Dot;

/// A cylinder of 40, a bead of 10 on it, a taper to 24: from x = 0 to 200.
std::vector<Dot> half() {
  std::vector<Dot> dots{{0, 20}, {50, 20}};
  for (int i = 1; i <= 60; ++i) {
    const double a = std::numbers::pi * (1 - i / 60.0);
    dots.push_back({55 + 5 * std::cos(a), 20 + 5 * std::sin(a)});
  }
  dots.push_back({200, 12});
  return dots;
}

std::string kinds(const Laid& laid) {
  const auto r = recognise(laid.measures, laid.wishes, {});
  if (!r.ok()) return render(r.reasons());
  std::string text;
  for (const Found& f : r->elements) text += (text.empty() ? "" : ", ") + std::string(shape::word_of(f.name.kind));
  return text;
}

TEST(Outline, HalfWholeAndTurnedAreOnePiece) {
  exchange::Drawing open;
  open.paths = {{half(), false}};
  exchange::Drawing whole;
  std::vector<Dot> round = half();
  for (std::size_t i = round.size(); i-- > 0;) round.push_back({round[i][0], -round[i][1]});
  for (Dot& d : round) d = {30 + d[0] * std::cos(0.4) - d[1] * std::sin(0.4), -7 + d[0] * std::sin(0.4) + d[1] * std::cos(0.4)};
  whole.paths = {{round, true}};
  for (const exchange::Drawing* drawing : {&open, &whole}) {
    const auto l = laid(*drawing, {});
    ASSERT_TRUE(l.ok()) << render(l.reasons());
    EXPECT_NEAR(*l->wishes.foot, 200, 0.05);
    EXPECT_EQ(kinds(*l), "cylinder, bead, taper");
  }
}

TEST(Outline, RefusesOverhangsAndDoubledLinesWithTheirPlace) {
  exchange::Drawing under;
  under.paths = {{{{0, 20}, {50, 20}, {45, 15}, {100, 15}}, false}};
  const auto overhang = laid(under, {});
  ASSERT_FALSE(overhang.ok());
  EXPECT_EQ(overhang.reasons()[0].id, "outline.overhang");
  EXPECT_NE(overhang.reasons()[0].message.find("at 50 mm"), std::string::npos);
  exchange::Drawing twice;
  twice.paths = {{half(), false}, {half(), false}};
  const auto doubled = laid(twice, {});
  ASSERT_FALSE(doubled.ok());
  EXPECT_EQ(doubled.reasons()[0].id, "drawing.doubled");
}

// Each line is held against every other: a hatching of a hundred thousand would take minutes.
TEST(Outline, RefusesMoreLinesThanAnOutlineHas) {
  const auto hatched = [](std::size_t lines) {
    std::vector<exchange::Path> all;
    for (std::size_t i = 0; i < lines; ++i) all.push_back({{{static_cast<double>(i), 0}, {static_cast<double>(i) + 0.5, 10}}, false});
    return exchange::joined_paths(all, 0.01);
  };
  EXPECT_TRUE(hatched(exchange::kMostPaths).ok());
  const auto refused = hatched(exchange::kMostPaths + 1);
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.reasons()[0].message, "the drawing has 5001 lines, and an outline has 5000 at most");
}

TEST(Outline, SaysWhereAGapIsTooWide) {
  exchange::Drawing drawing;
  drawing.paths = {{{{0, 20}, {50, 20}}, false}, {{{50.3, 20}, {100, 15}}, false}};
  const auto refused = laid(drawing, {});
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.reasons()[0].id, "outline.parts");
  EXPECT_NE(refused.reasons()[0].message.find("the second begins at 50.3 mm"), std::string::npos) << refused.reasons()[0].message;
  LayOptions wide;
  wide.gap = 0.5;
  EXPECT_TRUE(laid(drawing, wide).ok());
}

/// A leg, 48 mm square for its first 80 mm with its faces turned about the axis, round and tapering to 200 mm; along z, foot up.
exchange::Mesh square_headed(double turned = 20 * std::numbers::pi / 180) {
  exchange::Mesh mesh;
  constexpr std::uint32_t kRound = 144;
  std::uint32_t rows = 0;
  for (int i = 0; i <= 400; ++i, ++rows) {
    const double x = 0.5 * i;
    for (std::uint32_t j = 0; j < kRound; ++j) {
      const double a = 2 * std::numbers::pi * j / kRound, off = std::remainder(a, std::numbers::pi / 2);
      const double r = x < 80 ? 24 / std::cos(off) : 20 - 8 * (x - 80) / 120;
      mesh.points.push_back({r * std::cos(a + turned), r * std::sin(a + turned), x});
    }
  }
  for (std::uint32_t i = 0; i + 1 < rows; ++i) {
    for (std::uint32_t j = 0; j < kRound; ++j) {
      const std::uint32_t a = i * kRound + j, b = i * kRound + (j + 1) % kRound;
      mesh.triangles.push_back({a, b, a + kRound});
      mesh.triangles.push_back({b, b + kRound, a + kRound});
    }
  }
  return mesh;
}

TEST(Scan, FindsASquareHeadItsLengthAndWidthWhicheverEndStandsFirst) {
  const exchange::Mesh mesh = square_headed();
  exchange::Mesh about = mesh;
  for (auto& p : about.points) p = {p[0], -p[1], 500 - p[2]};
  for (const exchange::Mesh* m : {&mesh, static_cast<const exchange::Mesh*>(&about)}) {
    const auto scan = scanned(*m, {});
    ASSERT_TRUE(scan.ok()) << render(scan.reasons());
    const Laid l = laid(*scan, {});
    ASSERT_EQ(l.wishes.squares.size(), 1u);
    EXPECT_NEAR(l.wishes.squares[0].from, 0, 1e-9);
    EXPECT_NEAR(l.wishes.squares[0].to, 79.75, 0.5);  // the skin goes over from square to round between 79.5 and 80
    EXPECT_NEAR(*l.wishes.square, 48, 0.05);
  }
}

// Wherever its flats stand among the sectors in which a section is summed up.
TEST(Scan, ASquareIsAsWideHoweverItLies) {
  for (double turned : {0.0, 0.03, 0.09, 0.2, 0.5, 0.7}) {
    const auto scan = scanned(square_headed(turned), {});
    ASSERT_TRUE(scan.ok()) << render(scan.reasons());
    EXPECT_NEAR(*laid(*scan, {}).wishes.square, 48, 0.05) << turned;
  }
}

TEST(Scan, FindsTheAxisOfAPieceInAnyPose) {
  const auto dots = half();
  exchange::Mesh mesh;
  constexpr std::uint32_t kRound = 72;
  std::vector<Dot> rows;
  for (int i = 0; i <= 800; ++i) {
    const double x = 0.25 * i;
    std::size_t k = 1;
    while (k + 1 < dots.size() && dots[k][0] < x) ++k;
    const double t = dots[k][0] > dots[k - 1][0] ? (x - dots[k - 1][0]) / (dots[k][0] - dots[k - 1][0]) : 0;
    rows.push_back({x, dots[k - 1][1] + t * (dots[k][1] - dots[k - 1][1])});
  }
  for (const Dot& d : rows) {
    for (std::uint32_t j = 0; j < kRound; ++j) {
      const double a = 2 * std::numbers::pi * j / kRound, y = d[1] * std::cos(a), z = d[1] * std::sin(a);
      const double u = d[0] * std::cos(0.7) - y * std::sin(0.7), v = d[0] * std::sin(0.7) + y * std::cos(0.7);
      mesh.points.push_back({11 + u, v * std::cos(0.3) - z * std::sin(0.3), 5 + v * std::sin(0.3) + z * std::cos(0.3)});
    }
  }
  for (std::uint32_t i = 0; i + 1 < rows.size(); ++i) {
    for (std::uint32_t j = 0; j < kRound; ++j) {
      const std::uint32_t a = i * kRound + j, b = i * kRound + (j + 1) % kRound;
      mesh.triangles.push_back({a, b, a + kRound});
      mesh.triangles.push_back({b, b + kRound, a + kRound});
    }
  }
  const auto scan = scanned(mesh, {});
  ASSERT_TRUE(scan.ok()) << render(scan.reasons());
  EXPECT_NEAR(scan->length, 200, 0.1);
  EXPECT_LT(scan->bow, 0.05);
  EXPECT_LT(scan->oval, 0.05);
  const Section& middle = scan->sections[scan->sections.size() / 2];
  const double taper = 20 - 8 * 40.0 / 140;
  EXPECT_NEAR(middle.mean, taper, 0.05);
}

}  // namespace
}  // namespace pommel::match
