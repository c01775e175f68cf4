// Every broken invariant of treatments and of joints other than mortises, each said; parts turned, mirrored and compared with them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "shape/mortise.h"
#include "shape/ring.h"
#include "shape/treated_parts.h"

namespace pommel::shape {
namespace {

constexpr double kPi = std::numbers::pi;

std::string said(const Part& part) {
  std::string text;
  for (const Diagnostic& one : problems(part)) text += "[" + one.id + "] " + one.message + "\n";
  return text;
}

// A round of 50 mm between square ends of 60 mm, with a flute, reeds and a twist one after the other.
Part sample() {
  Part part;
  part.length = 600;
  part.outline.pieces = {clear_piece(0, 100), line_piece(100, 25, 500, 25), clear_piece(500, 600)};
  part.faces = square_faces(60, 600);
  part.flutes.push_back({1, 4, raised_profile(600, 110, 200, 27, 10, 2.5)});
  double end = 25 / std::cos(kPi / 12), g = 7;
  part.reedings.push_back({12, 0.1, g, raised_profile(600, 220, 320, 25 - g, 10, end - (25 - g))});
  part.twists.push_back({340, 480, 2, 60, 8, 20, 30, 0.2});
  part.bores.push_back({"bolt", "rail", 0, 50, 10, 8, 100, 20, 12});
  part.bores.push_back({"pin", "", kQuarterTurn, 80, 0, 6, 30, 0, 0});
  part.axial_bores.push_back({"wire", 10, 0, 600});
  part.end_cuts.push_back({true, 20, 0.3, 0});
  return part;
}

TEST(TreatmentProblems, TheSampleAndRandomPartsAreSound) {
  EXPECT_EQ(said(sample()), "");
  for (int make = 0; make < 4; ++make)  // twists are laid over flutes and reeds in the others, which is odd but sound
    EXPECT_EQ(said(treated_part(static_cast<std::uint64_t>(make), make & 2)), "") << make;
}

TEST(TreatmentProblems, EachIsSaid) {
  struct Case {
    void (*change)(Part&);
    const char* says;
  };
  const Case cases[] = {
      {[](Part& p) { p.flutes[0].radius = 0; }, "[shape.flute] a flute has no radius, or no direction between 0 and 360 degrees\n"},
      {[](Part& p) { p.flutes[0].theta = -1; }, "[shape.flute] a flute has no radius, or no direction between 0 and 360 degrees\n"},
      {[](Part& p) { p.flutes[0].centre.pieces.pop_back(); },
       "[shape.gap] the centre line of the flute at 57.3 degrees does not run from the head to the foot\n"},
      {[](Part& p) { p.flutes[0].centre.pieces[2].r1 = std::nan(""); }, "[shape.number] the centre line of the flute at 57.3 degrees from 120 mm holds a number that is not finite\n"},
      {[](Part& p) { p.flutes[0] = {1, 4, {{line_piece(0, 3, 600, 3)}}}; }, "[shape.flute-axis] the flute at 57.3 degrees reaches the axis at 0 mm\n"},
      {[](Part& p) { p.flutes[0] = {1, 4, raised_profile(600, 110, 200, 24, 10, 6)}; }, "[shape.flute-deep] the flute at 57.3 degrees is deeper than half round at 118.75 mm\n"},
      {[](Part& p) { p.flutes[0] = {1, 4, raised_profile(600, 110, 200, 27, 10, 1)}; }, "[shape.flute-end] the flute at 57.3 degrees ends with a wall of 1 mm at 110 mm\n"},
      {[](Part& p) { p.reedings[0].count = 2; }, "[shape.reeds] reeds need a count of 3 to 1000, a radius and a direction\n"},
      {[](Part& p) { p.reedings[0].radius = 4; }, "[shape.reeds-deep] the reeds do not meet at 220 mm: each is narrower than its share of the round\n"},
      {[](Part& p) { p.reedings[0].centre.pieces[0].x1 = p.reedings[0].centre.pieces[1].x0 = 90; }, "[shape.reeds-round] the reeds run where nothing is turned, at 90 mm\n"},
      {[](Part& p) { p.reedings[0].centre = raised_profile(600, 220, 320, 18, 10, 1); }, "[shape.reeds-end] the reeds end with a wall of 1.666 mm at 220 mm\n"},
      {[](Part& p) { p.twists[0].depth = std::nan(""); }, "[shape.number] the twist holds a number that is not finite\n"},
      {[](Part& p) { p.twists[0].starts = 0; }, "[shape.twist] a twist needs 1 to 100 starts, a pitch and a depth\n"},
      {[](Part& p) { p.twists[0].pitch = 0; }, "[shape.twist] a twist needs 1 to 100 starts, a pitch and a depth\n"},
      {[](Part& p) { p.twists[0].x1 = 700; }, "[shape.twist-ends] the twist runs from 340 mm to 700 mm, and the piece is 600 mm long\n"},
      {[](Part& p) { p.twists[0].fade0 = 130; }, "[shape.twist-fade] the twist fades over 130 mm and 30 mm of its 140 mm\n"},
      {[](Part& p) { p.twists[0].x1 = 520; }, "[shape.twist-round] the twist runs where nothing is turned, at 500 mm\n"},
      {[](Part& p) { p.twists[0].depth = 26; }, "[shape.twist-axis] the twist's hollow reaches the axis at 360 mm\n"},
      {[](Part& p) { p.faces = square_faces(48, 600); p.bores.clear(); p.end_cuts.clear(); },
       "[shape.twist-faces] the twist is cut by the faces at 340 mm: the round is 50 mm there, the stock 48 mm\n"},
      {[](Part& p) { p.twists.push_back({300, 345, 2, 60, 8, 20, 20, 0}); }, "[shape.twist-meet] two twists meet at 340 mm\n"},
      {[](Part& p) { p.bores[1].id = "bolt"; }, "[shape.bore-id] the bore 'bolt' is there twice\n"},
      {[](Part& p) { p.bores[1].phi = 7; }, "[shape.number] the bore 'pin' holds a number that is not finite, or a direction not between 0 and 360 degrees\n"},
      {[](Part& p) { p.bores[1].depth = 0; }, "[shape.bore-size] the bore 'pin' has no diameter or depth\n"},
      {[](Part& p) { p.bores[0].seat_diameter = 7; }, "[shape.bore-size] the bore 'bolt' has a seat without diameter or depth, or no wider or no shallower than itself\n"},
      {[](Part& p) { p.bores[1].x = 2; }, "[shape.bore-ends] the bore 'pin' stands over the end of the piece of 600 mm\n"},
      {[](Part& p) { p.bores[1].phi = 0.3; }, "[shape.bore-face] the bore 'pin' enters the face at 17.189 degrees, and the piece has no such face there\n"},
      {[](Part& p) { p.bores[1].t = 31; }, "[shape.bore-beside] the bore 'pin' passes beside the wood\n"},
      {[](Part& p) { p.bores[0].seat_depth = 70; }, "[shape.bore-seat] the bore 'bolt' has a seat deeper than the wood is thick\n"},
      {[](Part& p) { p.bores[1].x = 150; p.bores[1].t = 22; p.bores[1].depth = 40; },
       "[shape.bore-through] the bore 'pin' breaks out on the other side, 40 mm deep in 41.874 mm\n"},
      {[](Part& p) { p.axial_bores[0].x1 = 0; }, "[shape.axial-size] the bore 'wire' along the axis has no diameter or length\n"},
      {[](Part& p) { p.axial_bores[0].x1 = 601; }, "[shape.axial-ends] the bore 'wire' along the axis runs from 0 mm to 601 mm, out of the piece of 600 mm\n"},
      {[](Part& p) { p.axial_bores[0].diameter = 36; }, "[shape.axial-wall] the bore 'wire' along the axis breaks through the skin at 360 mm: the wood is 34 mm thick there\n"},
      {[](Part& p) { p.end_cuts[0].angle = 1.6; }, "[shape.end-cut] the sawn head has no place, or leans by a quarter turn or more\n"},
      {[](Part& p) { p.end_cuts.push_back({true, 30, 0, 0}); }, "[shape.end-cut] the sawn head is there twice\n"},
      {[](Part& p) { p.end_cuts[0].x = 5; }, "[shape.end-long] the sawn head reaches from -4.28 mm to 14.28 mm, and the piece is 600 mm long\n"},
      {[](Part& p) { p.end_cuts.push_back({false, 25, 0, 0}); }, "[shape.end-cut] the two sawn ends meet\n"},
      {[](Part& p) { p.outline.pieces = {clear_piece(0, 600)}; p.reedings.clear(); p.twists.clear(); p.axial_bores.clear();
                     p.flutes = {{0, 4, raised_profile(600, 110, 200, 32, 10, 2.5)}};
                     p.mortises.push_back({"m", "", 0, 120, 150, -5, 5, 10, 0, 0, 0}); },
       "[shape.mortise-treated] the mortise 'm' runs into a flute, reeds or a twist at 120 mm\n"},
  };
  for (const Case& one : cases) {
    Part part = sample();
    one.change(part);
    EXPECT_THAT(said(part), testing::StartsWith(one.says));
  }
}

TEST(Treated, TurnsAndMirrors) {
  std::vector<Part> parts{sample()};
  for (int make : {1, 2, 4, 7, 9, 10, 12}) parts.push_back(treated_part(static_cast<std::uint64_t>(make), make));
  for (const Part& part : parts) {
    const Part image = mirrored(part);
    for (int i = 0; i <= 40; ++i) {
      double x = part.length * i / 40 + 0.01;
      if (x > part.length) x = part.length;
      for (double theta : {0.0, 0.4, 2.9, 5.5}) {
        for (int turn = -3; turn <= 5; ++turn)
          EXPECT_NEAR(radius_at(turned_by(part, turn), x, theta + turn * kQuarterTurn), radius_at(part, x, theta), 1e-10);
        EXPECT_NEAR(radius_at(image, x, -theta), radius_at(part, x, theta), 1e-10);
      }
    }
    EXPECT_EQ(turned_by(part, 4), part);
    EXPECT_EQ(canonical_text(turned_by(part, 3), true), canonical_text(part, true));
    EXPECT_EQ(canonical_text(mirrored(image), true), canonical_text(part, true));
    if (part.twists.size() + part.reedings.size() > 1 || &part == &parts.front()) continue;
    const double volume = turned_volume(part);
    EXPECT_NEAR(turned_volume(turned_by(part, 1)), volume, 1e-7 * volume);
    EXPECT_NEAR(turned_volume(image), volume, 1e-7 * volume);
  }
  EXPECT_NE(canonical_text(mirrored(sample()), false), canonical_text(sample(), false));  // the twist's hand
  EXPECT_EQ(mirrored(sample()).twists[0].pitch, -60);
}

TEST(Treated, CanonicalTextSeesWhatIsPhysicallyEqual) {
  const std::string key = canonical_text(sample(), true);
  Part same = sample();
  same.reedings[0].phase += kTurn / 12 * 5;
  same.twists[0].phase += kPi;
  same.bores[1] = {"x", "y", kQuarterTurn, 80, 0, 6, 30, 0, 0};
  same.end_cuts[0] = {true, 20, -0.3, kPi};
  EXPECT_EQ(canonical_text(same, true), key);
  same.twists[0].phase += 1e-3;
  EXPECT_NE(canonical_text(same, true), key);
  Part listed = sample();
  listed.flutes.push_back({2, 4, raised_profile(600, 110, 200, 27, 10, 2.5)});
  Part other = listed;
  std::swap(other.flutes[0], other.flutes[1]);
  EXPECT_EQ(canonical_text(other, true), canonical_text(listed, true));
  // a plain hole right through has two mouths and no front
  Part front = sample(), back = sample();
  front.bores[1] = {"p", "", 0, 80, 7, 6, 100, 0, 0};
  back.bores[1] = {"p", "", kPi, 80, -7, 6, 61, 0, 0};
  EXPECT_EQ(canonical_text(front, true), canonical_text(back, true));
  // the seat makes a front
  front.bores[0].phi = 0;
  back = front;
  back.bores[0].phi = kPi;
  EXPECT_NE(canonical_text(front, true), canonical_text(back, true));
  EXPECT_EQ(canonical_text(front, false), canonical_text(back, false));
  EXPECT_THAT(dump(sample()), testing::AllOf(testing::HasSubstr("\nflute 1 radius 4\n"), testing::HasSubstr("\nreeds 12 from 0.1 radius 7\n"),
                                             testing::HasSubstr("\ntwist 2 from 0.2 340 480 60 8 20 30\n"),
                                             testing::HasSubstr("\naxial bore 0 600 diameter 10 id 'wire'\n"),
                                             testing::HasSubstr("\nend cut at the head 20 angle 0.3 towards 0\n")));
}

TEST(Joints, WoodTakenByClosedForm) {
  Part bar;
  bar.length = 200;
  bar.outline.pieces = {clear_piece(0, 200)};
  bar.faces = square_faces(60, 200);
  bar.bores.push_back({"a", "", 0, 50, 5, 10, 25, 0, 0});
  EXPECT_NEAR(mortised_volume(bar), kPi * 25 * 25, 1e-6);
  bar.bores[0].depth = 60;  // right through, with a seat
  bar.bores[0].seat_diameter = 20;
  bar.bores[0].seat_depth = 12;
  EXPECT_NEAR(mortised_volume(bar), kPi * (25 * 60 + 75 * 12), 1e-5);
  bar.bores.clear();
  bar.axial_bores.push_back({"w", 10, 20, 200});
  EXPECT_NEAR(mortised_volume(bar), kPi * 25 * 180, 1e-8);
  bar.axial_bores.clear();
  bar.end_cuts.push_back({true, 30, 0.4, 0});
  EXPECT_NEAR(mortised_volume(bar), 3600 * 30, 1e-4);  // a leaning plane through the axis halves what a square one takes
  bar.end_cuts.push_back({false, 150, -0.2, kQuarterTurn});
  EXPECT_NEAR(mortised_volume(bar), 3600 * 80, 1e-4);
  // two cylinders of radius 25 square to each other have 16 r³/3 in common (Steinmetz)
  Part round = bar;
  round.end_cuts.clear();
  round.outline.pieces = {line_piece(0, 25, 200, 25)};
  round.bores.push_back({"a", "", 0, 100, 0, 50, 100, 0, 0});
  EXPECT_NEAR(mortised_volume(round), 16.0 / 3 * 25 * 25 * 25, 1e-3);
  // two bores of one size through one another in the square: each is pi r² s, once 16 r³/3 less; an axial one crosses neither
  bar.end_cuts.clear();
  bar.bores = {{"a", "", 0, 100, 0, 12, 60, 0, 0}, {"b", "", kQuarterTurn, 100, 0, 12, 60, 0, 0}};
  EXPECT_NEAR(mortised_volume(bar), 2 * kPi * 36 * 60 - 16.0 / 3 * 216, 1e-3);
  bar.bores.pop_back();
  bar.axial_bores.push_back({"w", 12, 0, 200});
  EXPECT_NEAR(mortised_volume(bar), kPi * 36 * 260 - 16.0 / 3 * 216, 1e-3);
}

// A bore through a fluted, a reeded and a twisted stretch, against small cubes.
TEST(Joints, WoodTakenFromTreatedStretchesIsCounted) {
  for (double x : {150.0, 270.0, 410.0}) {
    Part part = sample();
    part.bores = {{"a", "", kQuarterTurn, x, 3, 12, 100, 0, 0}};
    part.axial_bores.clear();
    part.end_cuts.clear();
    ASSERT_EQ(said(part), "");
    double sum = 0, step = 0.2;
    for (double u = x - 6 + step / 2; u < x + 6; u += step) {
      const Ring ring = ring_at(part, u, Side::after);
      double w = std::sqrt(36 - (u - x) * (u - x));
      // face B looks along +Z: t runs against +Y
      for (double y = -3 - w + step / 2; y < -3 + w; y += step) {
        for (double z = -26; z < 26; z += step) sum += std::hypot(y, z) < ring.radius(std::atan2(z, y)) ? step * step * step : 0;
      }
    }
    EXPECT_NEAR(mortised_volume(part), sum, 5e-3 * sum) << x;
  }
}

}  // namespace
}  // namespace pommel::shape
