#include "match/outline.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

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

}  // namespace
}  // namespace pommel::match
