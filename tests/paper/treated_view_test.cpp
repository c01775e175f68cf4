// Treated pieces as they are drawn: the shadow, the lines and the sections held against the radial field itself, looked through in small
// steps without anything that the drawing uses.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "paper/arc.h"
#include "paper/canvas.h"
#include "paper/drawing.h"
#include "paper/jobs.h"
#include "paper/leg_view.h"
#include "paper/section_area.h"
#include "paper/side_line.h"
#include "shape/faces.h"
#include "shape/treatments.h"

namespace pommel::paper {
namespace {

using shape::Part;
using shape::Side;

constexpr double kTurn = 2 * std::numbers::pi;

// 300 mm: 60 mm of square, 60 mm wide, then a round that tapers from 52 to 44 mm.
Part column() {
  Part part;
  part.name = "column";
  part.length = 300;
  part.outline.pieces = {shape::clear_piece(0, 60, 0), shape::line_piece(60, 26, 300, 22, 1)};
  part.faces = shape::square_faces(60, 300);
  part.elements = {{"square", "head", 0, 60, 60, 60, 60, 60, false}, {"taper", "shaft", 60, 300, 52, 44, 44, 52, true}};
  return part;
}

Part made(Result<Part> part) {
  EXPECT_TRUE(part.ok()) << render(part.reasons());
  return std::move(part).value();
}

Part fluted() { return made(shape::fluted(column(), {.x0 = 80, .x1 = 280, .count = 12, .width = 8, .depth = 3, .run_out0 = 14, .run_out1 = 14})); }
Part reeded() { return made(shape::reeded(column(), {.x0 = 80, .x1 = 280, .count = 8, .depth = 1.2, .run_out0 = 12, .run_out1 = 12})); }
Part twisted() { return made(shape::twisted(column(), {.x0 = 70, .x1 = 290, .starts = 2, .pitch = 90, .depth = 8, .fade0 = 25, .fade1 = 25})); }
Part octagon() {
  Part part = column();
  part.outline.pieces = {shape::clear_piece(0, 300, 0)};
  part.elements = {{"square", "post", 0, 300, 60, 60, 60, 60, false}};
  return made(shape::polygoned(part, {.x0 = 60, .x1 = 300, .sides = 8, .across0 = 56, .across1 = 40, .stop0 = shape::Stop::ogee, .stop1 = shape::Stop::none, .length0 = 30, .length1 = 0}));
}
Part sunk_panel() {  // flutes in the facets of an octagon
  return made(shape::fluted(octagon(), {.x0 = 120, .x1 = 270, .count = 8, .width = 8, .depth = 2, .run_out0 = 10, .run_out1 = 10}));
}

struct Skin {
  double theta, t, h;
};

Skin skin_at(const Part& part, double x, double theta, double phi) {
  const double r = shape::radius_at(part, x, theta, Side::after);
  return {theta, r * std::sin(theta - phi), r * std::cos(theta - phi)};
}

struct Shadow {
  double low = 0, high = 0;
};

// The greatest sign * t: a coarse look all round, then two finer ones about the best.
double farthest(const Part& part, double x, double phi, double sign) {
  double middle = phi, half = kTurn / 2, best = -1e9;
  for (int look = 0; look < 3; ++look) {
    const double from = middle - half, step = 2 * half / 1500;
    for (int i = 0; i <= 1500; ++i) {
      const Skin skin = skin_at(part, x, from + step * i, phi);
      if (sign * skin.t > best) {
        best = sign * skin.t;
        middle = skin.theta;
      }
    }
    half = 1.5 * step;
  }
  return sign * best;
}

Shadow shadow(const Part& part, double x, double phi) { return {farthest(part, x, phi, -1), farthest(part, x, phi, 1)}; }

// The skin that the eye meets at t, by its angle.
double met_at(const Part& part, double x, double t, double phi) {
  constexpr int kSteps = 12000;
  double best = 0, nearest = -1e9;
  Skin before = skin_at(part, x, phi - kTurn / 2, phi);
  for (int i = 1; i <= kSteps; ++i) {
    const Skin here = skin_at(part, x, phi - kTurn / 2 + kTurn * i / kSteps, phi);
    if ((before.t - t) * (here.t - t) <= 0 && here.h > nearest) {
      nearest = here.h;
      best = here.theta;
    }
    before = here;
  }
  return best;
}

// Degrees that the section turns within 0.6 mm about theta, less what a round of its size would.
double turns_by(const Part& part, double x, double theta, double phi) {
  const Skin m = skin_at(part, x, theta, phi);
  const double step = 0.3 / std::hypot(m.t, m.h), near = step / 4;
  const Skin a = skin_at(part, x, theta - step, phi), b = skin_at(part, x, theta - near, phi), c = skin_at(part, x, theta + near, phi), d = skin_at(part, x, theta + step, phi);
  const double in = std::atan2(b.h - a.h, b.t - a.t), out = std::atan2(d.h - c.h, d.t - c.t);
  return std::fabs(std::remainder(out - in, kTurn) + 1.25 * step) * 360 / kTurn;
}

class Treated : public testing::TestWithParam<std::pair<const char*, Part (*)()>> {
 protected:
  Part part_ = GetParam().second();
};

TEST_P(Treated, ShadowIsTheFieldsFromEverySide) {
  for (const double phi : {0.0, 0.3}) {
    const LegView view = leg_view(part_, phi);
    const std::size_t half = view.silhouette.size() / 2;
    for (std::size_t i = 5; i < half; i += 97) {
      const Point &low = view.silhouette[i], &high = view.silhouette[view.silhouette.size() - 1 - i];
      ASSERT_EQ(low.x, high.x);
      if (std::fabs(low.x - 60) < 1e-6 || low.x >= part_.length) continue;  // both sides of a wall
      const Shadow expected = shadow(part_, low.x, phi);
      EXPECT_NEAR(low.t, expected.low, 2e-4) << low.x;
      EXPECT_NEAR(high.t, expected.high, 2e-4) << low.x;
    }
  }
}

TEST_P(Treated, ContourRunsAlongTheShadow) {
  int looked = 0;
  const auto line = contour(part_, 0);
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    if (std::fabs(line[i + 1].x - line[i].x) < 0.5) continue;
    for (const Vertex& v : flattened({line[i], line[i + 1]}, false)) {
      const double x = std::clamp(v.x, 1e-3, part_.length - 1e-3);
      if (std::fabs(x - 60) < 0.1 || ++looked % 5 != 0) continue;
      const Shadow expected = shadow(part_, x, 0);
      EXPECT_NEAR(v.y, v.y < 0 ? expected.low : expected.high, kArcFit + 2e-3) << v.x;
    }
  }
  EXPECT_GT(looked, 20);
}

// Each line stands where the skin that is met there has an edge, or where it turns away from the eye.
TEST_P(Treated, LinesStandOnEdgesThatAreSeen) {
  const LegView view = leg_view(part_, 0);
  int looked = 0;
  for (const Line& line : view.arrises)
    for (const std::size_t i : {line.size() / 3, line.size() / 2, line.size() * 2 / 3}) {  // at its ends an edge is as flat as one likes
      const Point& point = line[i];
      const double theta = met_at(part_, point.x, point.t, 0);
      const Skin met = skin_at(part_, point.x, theta, 0);
      ASSERT_NEAR(met.t, point.t, 0.05);
      const Skin beside = skin_at(part_, point.x, theta + 1e-4, 0);
      const bool turns_away = std::fabs(beside.t - met.t) < 0.05 * std::hypot(beside.t - met.t, beside.h - met.h);
      EXPECT_TRUE(turns_away || turns_by(part_, point.x, theta, 0) > 3) << "at " << point.x << ", " << point.t;
      ++looked;
    }
  if (std::string(GetParam().first) != "twist") {
    EXPECT_GT(looked, 5);
  }
}

TEST_P(Treated, SectionsHaveTheirArea) {
  for (double x = 3; x < part_.length; x += 23.7) {
    EXPECT_NEAR(area_within(section_line(part_, x)), shape::section_area(part_, x, Side::after), 1e-5 * shape::section_area(part_, x, Side::after)) << x;
  }
}

TEST_P(Treated, DrawingKeepsItsTextsApart) {
  const Painting painting;
  Piece piece;
  piece.file = "column-piece-1";
  piece.noun = "column";
  piece.label = "column";
  piece.wood = "cherry";
  piece.reason = "all alike";
  piece.square = 60;
  piece.part = part_;
  for (const LengthUnit unit : {LengthUnit::millimetre, LengthUnit::inch}) {
    Heading heading;
    heading.title = "Columns";
    heading.lengths.unit = unit;
    for (const Page& page : shop_drawing(piece, heading)) EXPECT_THAT(layout_faults(page, 7.5), testing::IsEmpty());
  }
}

INSTANTIATE_TEST_SUITE_P(Kinds, Treated,
                         testing::Values(std::pair{"flutes", &fluted}, std::pair{"reeds", &reeded}, std::pair{"twist", &twisted}, std::pair{"octagon", &octagon}, std::pair{"sunk_panel", &sunk_panel}),
                         [](const auto& name) { return std::string(name.param.first); });

// Twelve flutes, one towards the eye: at 30 degrees from one to the next five are seen; the near edges of those at 90 degrees are the shadow's own.
TEST(FlutedView, ShowsTheFlutesTowardsTheEye) {
  const LegView view = leg_view(fluted(), 0);
  EXPECT_EQ(view.hollows.size(), 5u);
  int crossing = 0;  // lines past the middle of the fluted stretch
  for (const Line& line : view.arrises) crossing += line.front().x < 180 && line.back().x > 180;
  EXPECT_EQ(crossing, 10);
}

// Two starts, 90 mm a turn: a hollow comes by every 45 mm, and each is seen on half of its turn.
TEST(TwistedView, ShowsAHollowEveryHalfTurn) {
  const LegView view = leg_view(twisted(), 0);
  std::vector<double> at;
  for (const Line& line : view.turns)
    for (std::size_t i = 0; i + 1 < line.size(); ++i)
      if (line[i].t * line[i + 1].t < 0) at.push_back(line[i].x);
  std::sort(at.begin(), at.end());
  ASSERT_GE(at.size(), 4u);
  for (std::size_t i = 1; i < at.size(); ++i) EXPECT_NEAR(at[i] - at[i - 1], 45, 2.5);
}

TEST(TreatmentWords, AreThoseAMakerSetsOutBy) {
  const Painting painting;
  Piece piece;
  piece.square = 60;
  piece.part = fluted();
  std::string texts;
  for (const Page& page : shop_drawing(piece, Heading{}))
    for (const Text& text : page.texts) texts += text.text + "\n";
  // in the middle, at 180, the round is 48 mm thick; 8 mm were asked for there and 3 mm
  EXPECT_THAT(texts, testing::HasSubstr("12 flutes from 80 to 280"));
  EXPECT_THAT(texts, testing::HasSubstr("8 wide and 3 deep"));
  EXPECT_THAT(texts, testing::HasSubstr("at 180: ⌀ 48, 12 flutes 3 deep"));
}

}  // namespace
}  // namespace pommel::paper
