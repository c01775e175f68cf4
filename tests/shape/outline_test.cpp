#include "shape/outline.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <map>
#include <set>

#include "shape/sample_parts.h"

namespace pommel::shape {
namespace {

using K = ElementKind;

const StockSection kSixty = StockSection::square(60);

ElementSpec cylinder(double length, double diameter, std::string label = {}) {
  ElementSpec spec = element(K::cylinder, length, std::move(label));
  spec.start = diameter;
  return spec;
}

/// The pieces of `middle` between two cylinders, the first of diameter `from`, the second of the diameter where it ends.
std::vector<Piece> drawn(ElementSpec middle, double from, const StockSection& stock = kSixty) {
  ElementSpec rest = shared(K::cylinder, 1);
  Result<BuiltOutline> built = build_outline({cylinder(10, from), middle, rest}, 300, stock);
  EXPECT_TRUE(built.ok()) << (built.ok() ? "" : reasons_text(built.reasons()));
  std::vector<Piece> found;
  if (!built.ok()) return found;
  for (const Piece& piece : built->outline.pieces) {
    if (piece.element == 1) found.push_back(piece);
  }
  return found;
}

std::string refused(const std::vector<ElementSpec>& specs, double length = 300, const StockSection& stock = kSixty) {
  Result<BuiltOutline> built = build_outline(specs, length, stock);
  if (built.ok()) return "accepted";
  std::string text;
  for (const Diagnostic& one : built.reasons()) text += "[" + one.id + "] " + one.message + "\n";
  return text;
}

TEST(OutlineWords, BothWaysForEveryKind) {
  std::set<std::string> seen;
  for (const std::string& word : element_words()) {
    auto kind = element_kind(word);
    ASSERT_TRUE(kind) << word;
    EXPECT_EQ(word_of(*kind), word);
    EXPECT_TRUE(seen.insert(word).second);
  }
  EXPECT_EQ(seen.size(), 17u);
  EXPECT_EQ(element_kind("cyma recta"), K::cyma_recta);
  EXPECT_EQ(element_kind("pin"), K::pin);
  EXPECT_FALSE(element_kind("beed"));
  for (const std::string& word : pommel_cut_words()) EXPECT_EQ(word_of(*pommel_cut(word)), word);
  EXPECT_EQ(pommel_cut("ogee"), PommelCut::ogee);
}

// ---- lengths

TEST(OutlineLengths, FixedOnesKeepTheirBitsWhenThePieceGrowsByFifty) {
  struct Row {
    const char* label;
    double before, after;
  };
  // 717.9 mm: fixed 130.1 + 14.3 + 3.7 + 9.1 + 11.9 + 4.4 + 6.3 + 12.7 + 10.3 + 8.2 + 21.6 = 232.6; 485.3 shared 3 : 2.
  const Row kRows[] = {
      {"head", 130.1, 130.1},       {"shoulder", 14.3, 14.3},       {"fillet", 3.7, 3.7},   {"ring", 9.1, 9.1},
      {"cove", 11.9, 11.9},         {"vase", 291.18, 321.18},       {"vee", 4.4, 4.4},      {"ovolo", 6.3, 6.3},
      {"cyma reversa", 12.7, 12.7}, {"long taper", 194.12, 214.12}, {"scotia", 10.3, 10.3}, {"foot ring", 8.2, 8.2},
      {"foot", 21.6, 21.6}};
  Part before = leg(717.9), after = leg(767.9);
  ASSERT_EQ(before.elements.size(), std::size(kRows));
  ASSERT_EQ(after.elements.size(), std::size(kRows));
  for (std::size_t i = 0; i < std::size(kRows); ++i) {
    const ElementMark &b = before.elements[i], &a = after.elements[i];
    EXPECT_EQ(b.label, kRows[i].label);
    EXPECT_NEAR(b.x1 - b.x0, kRows[i].before, 1e-9) << b.label;
    EXPECT_NEAR(a.x1 - a.x0, kRows[i].after, 1e-9) << b.label;
    if (!b.shared) {
      EXPECT_EQ(b.x1 - b.x0, a.x1 - a.x0) << b.label;
    }
    EXPECT_EQ(b.shared, kRows[i].before != kRows[i].after) << b.label;
  }
  EXPECT_EQ(before.elements.back().x1, 717.9);
  EXPECT_EQ(after.elements.back().x1, 767.9);
}

// Awkward sizes at a thousand lengths: to the bit, and closed to the bit.
TEST(OutlineLengths, FixedOnesKeepTheirBitsAtEveryLength) {
  Random random(11);
  std::map<std::size_t, double> first;
  for (int i = 0; i < 1000; ++i) {
    double length = random.between(420, 2500);
    Result<BuiltOutline> built = build_outline(leg_specs(), length, kSixty);
    ASSERT_TRUE(built.ok()) << reasons_text(built.reasons());
    double sum = 0;
    for (std::size_t k = 0; k < built->elements.size(); ++k) {
      const ElementMark& mark = built->elements[k];
      sum += mark.x1 - mark.x0;
      if (mark.shared) continue;
      auto [at, fresh] = first.emplace(k, mark.x1 - mark.x0);
      if (!fresh) {
        ASSERT_EQ(at->second, mark.x1 - mark.x0) << mark.label << " at " << length;
      }
    }
    ASSERT_NEAR(sum, length, 1e-9);
    ASSERT_EQ(built->elements.back().x1, length);
    ASSERT_EQ(built->outline.end(), length);
    ASSERT_EQ(built->outline.start(), 0);
  }
}

TEST(OutlineLengths, SharesGoByWeight) {
  ElementSpec a = shared(K::cylinder, 1), b = shared(K::cylinder, 3);
  a.start = b.start = 30;
  Result<BuiltOutline> built = build_outline({a, cylinder(20, 30), b}, 100, kSixty);
  ASSERT_TRUE(built.ok());
  EXPECT_DOUBLE_EQ(built->elements[0].x1, 20);
  EXPECT_DOUBLE_EQ(built->elements[2].x1 - built->elements[2].x0, 60);
}

TEST(OutlineLengths, TooShortAPieceNamesItsFixedPartsAndTheirSum) {
  ElementSpec rest = shared(K::taper, 1);
  rest.end = 20;
  EXPECT_EQ(refused({cylinder(120, 40, "neck"), cylinder(60.5, 40), rest}, 150),
            "[outline.too-short] the piece is 150 mm long, but its fixed parts alone take 180.5 mm: the cylinder "
            "'neck' 120 mm and the cylinder (element 2) 60.5 mm\n");
  EXPECT_EQ(refused({cylinder(120, 40, "neck"), cylinder(60.5, 40)}, 150),
            "[outline.too-short] the piece is 150 mm long, but its fixed parts alone take 180.5 mm: the cylinder "
            "'neck' 120 mm and the cylinder (element 2) 60.5 mm\n");
  EXPECT_EQ(refused({cylinder(120, 40)}, 150),
            "[outline.sum] the piece is 150 mm long, but its elements take 120 mm and none of them takes a share of "
            "the 30 mm left\n");
  EXPECT_EQ(refused({cylinder(100, 40), cylinder(50, 40)}, 150), "accepted");
}

TEST(OutlineLengths, EveryFaultOfTheLengthRule) {
  ElementSpec none, both = cylinder(10, 30), zero = cylinder(0, 30), nan = cylinder(std::nan(""), 30),
                    weight = shared(K::cylinder, -1);
  none.start = weight.start = 30;
  both.share = 1;
  EXPECT_EQ(refused({none}), "[outline.length] the cylinder (element 1) has neither a length nor a share\n");
  EXPECT_EQ(refused({both}), "[outline.length] the cylinder (element 1) has a length and a share\n");
  EXPECT_EQ(refused({zero}), "[outline.length] the cylinder (element 1) is 0 mm long\n");
  EXPECT_THAT(refused({nan}), testing::StartsWith("[outline.length]"));
  EXPECT_EQ(refused({weight}), "[outline.length] the cylinder (element 1) has a share of -1\n");
  EXPECT_EQ(refused({}), "[outline.empty] the outline has no elements\n");
  EXPECT_THAT(refused({cylinder(10, 30)}, std::nan("")), testing::HasSubstr("[outline.number] the piece's length"));
  EXPECT_THAT(refused({cylinder(10, 30)}, -4), testing::HasSubstr("[outline.number] the piece's length"));
}

// ---- shapes

TEST(OutlineShapes, BeadIsHalfRoundUnlessItsCrestIsStated) {
  std::vector<Piece> half = drawn(element(K::bead, 8), 40);
  ASSERT_EQ(half.size(), 1u);
  EXPECT_NEAR(half[0].rho, 4, 1e-12);
  EXPECT_NEAR(half[0].greatest(), 24, 1e-12);
  EXPECT_EQ(half[0].slope(half[0].x0), INFINITY);

  ElementSpec flat = element(K::bead, 8);
  flat.greatest = 44;  // rises 2 over 8: rho = (4² + 2²)/(2·2) = 5
  std::vector<Piece> low = drawn(flat, 40);
  EXPECT_NEAR(low.at(0).rho, 5, 1e-12);
  EXPECT_NEAR(low.at(0).greatest(), 22, 1e-12);

  flat.end = 36;  // ends 20 and 18, crest 22: both ends on the circle, crest level inside
  std::vector<Piece> lop = drawn(flat, 40);
  EXPECT_NEAR(lop.at(0).greatest(), 22, 1e-12);
  EXPECT_NEAR(std::hypot(lop[0].x0 - lop[0].cx, 20 - lop[0].cr), lop[0].rho, 1e-12);
  EXPECT_NEAR(std::hypot(lop[0].x1 - lop[0].cx, 18 - lop[0].cr), lop[0].rho, 1e-12);
}

TEST(OutlineShapes, CoveIsTheHollowOfTheBead) {
  std::vector<Piece> half = drawn(element(K::cove, 8), 40);
  EXPECT_NEAR(half.at(0).least(), 16, 1e-12);
  EXPECT_NEAR(half.at(0).rho, 4, 1e-12);
  EXPECT_EQ(half.at(0).bulge, -1);
  ElementSpec quarter_hollow = element(K::cove, 6);
  quarter_hollow.end = 28;  // 40 to 28: h = 6 = l, a true quarter
  std::vector<Piece> quarter = drawn(quarter_hollow, 40);
  EXPECT_NEAR(quarter.at(0).rho, 6, 1e-12);
  EXPECT_EQ(quarter.at(0).slope(quarter[0].x0), -INFINITY);
  EXPECT_NEAR(quarter.at(0).slope(quarter[0].x1), 0, 1e-12);
}

TEST(OutlineShapes, OvoloIsLevelAtItsGreaterEndOrPlumbAtItsSmaller) {
  for (double l : {3.0, 6.0, 15.0}) {
    for (double end : {28.0, 52.0}) {  // h = 6 both ways
      ElementSpec spec = element(K::ovolo, l);
      spec.end = end;
      std::vector<Piece> pieces = drawn(spec, 40);
      ASSERT_EQ(pieces.size(), 1u);
      const Piece& p = pieces[0];
      bool falls = end < 40;
      double great = falls ? p.x0 : p.x1, small = falls ? p.x1 : p.x0;
      if (l >= 6) {
        EXPECT_NEAR(p.slope(great), 0, 1e-9);
      }
      if (l <= 6) {
        EXPECT_TRUE(std::isinf(p.slope(small))) << l << " " << end;
      }
      EXPECT_NEAR(p.rho, (l * l + 36) / (2 * std::min(l, 6.0)), 1e-9);
      EXPECT_EQ(p.bulge, 1);
    }
  }
}

TEST(OutlineShapes, ScotiaIsTwoArcsLevelAtTheBottom) {
  ElementSpec spec = element(K::scotia, 10);
  spec.end = 32;  // 20 and 16; quarter rounds meet where the depths make the length: 20 + 16 - 2 m = 10, m = 13
  std::vector<Piece> pieces = drawn(spec, 40);
  ASSERT_EQ(pieces.size(), 2u);
  EXPECT_NEAR(pieces[0].r1, 13, 1e-12);
  EXPECT_NEAR(pieces[0].rho, 7, 1e-12);
  EXPECT_NEAR(pieces[1].rho, 3, 1e-12);
  EXPECT_NEAR(pieces[0].slope(pieces[0].x1), 0, 1e-12);
  EXPECT_NEAR(pieces[1].slope(pieces[1].x0), 0, 1e-12);
  spec.least = 28;  // depths 6 and 2 over 10
  pieces = drawn(spec, 40);
  EXPECT_NEAR(pieces.at(0).x1 - pieces[0].x0, 7.5, 1e-12);
  EXPECT_NEAR(pieces.at(0).r1, 14, 1e-12);
}

TEST(OutlineShapes, TorusStandsOnItsCrest) {
  ElementSpec spec = element(K::torus, 12);
  spec.greatest = 50;
  spec.step = true;
  std::vector<Piece> pieces = drawn(spec, 40);
  EXPECT_NEAR(pieces.at(0).r0, 19, 1e-12);
  EXPECT_NEAR(pieces.at(0).greatest(), 25, 1e-12);
  EXPECT_NEAR(pieces.at(0).rho, 6, 1e-12);
}

TEST(OutlineShapes, CymasAreTangentHalfWay) {
  for (K kind : {K::cyma_recta, K::cyma_reversa}) {
    for (double l : {4.0, 8.0, 20.0}) {
      for (double end : {24.0, 56.0}) {  // h = 8 both ways
        ElementSpec spec = element(kind, l);
        spec.end = end;
        std::vector<Piece> p = drawn(spec, 40);
        ASSERT_EQ(p.size(), 2u);
        Normal before = p[0].normal(p[0].x1), after = p[1].normal(p[1].x0);
        EXPECT_NEAR(before.nx, after.nx, 1e-9);
        EXPECT_NEAR(before.nr, after.nr, 1e-7);  // plumb: the square root of rounding
        bool falls = end < 40;
        int at_greater = falls ? p[0].bulge : p[1].bulge;
        EXPECT_EQ(at_greater, kind == K::cyma_reversa ? 1 : -1);
        EXPECT_EQ(p[0].bulge, -p[1].bulge);
        if (kind == K::cyma_reversa && l >= 8) {
          EXPECT_NEAR(p[0].slope(p[0].x0), 0, 1e-9);
        }
        if (kind == K::cyma_recta && l >= 8) {
          EXPECT_NEAR(p[0].slope(p[0].x1), 0, 1e-9);
        }
      }
    }
  }
}

TEST(OutlineShapes, EntasisSwellsAndANearlyFlatOneIsStillSmooth) {
  ElementSpec spec = element(K::entasis, 200);
  spec.end = 30;
  spec.greatest = 42;
  std::vector<Piece> pieces = drawn(spec, 40);
  EXPECT_NEAR(pieces.at(0).greatest(), 21, 1e-9);
  spec.greatest.reset();
  pieces = drawn(spec, 40);
  EXPECT_NEAR(pieces.at(0).slope(pieces[0].x0), 0, 1e-12);
  // an arc of 2e8 mm radius keeps its ends to the bit and its middle on the parabola
  spec.end = 40 - 2e-4;
  pieces = drawn(spec, 40);
  EXPECT_EQ(pieces.at(0).value(pieces[0].x1), *spec.end / 2);
  EXPECT_NEAR(pieces.at(0).value((pieces[0].x0 + pieces[0].x1) / 2), 20 - 0.25e-4, 1e-9);
}

TEST(OutlineShapes, VaseIsSmoothThroughItsStations) {
  ElementSpec spec = element(K::vase, 100);
  spec.stations = {{0.25, 50}, {0.7, 24}, {1, 30}};
  for (bool level : {false, true}) {
    spec.level_start = spec.level_end = level;
    std::vector<Piece> p = drawn(spec, 40);
    ASSERT_EQ(p.size(), 3u);
    EXPECT_NEAR(p[0].value(35), 25, 1e-12);
    EXPECT_NEAR(p[2].value(110), 15, 1e-12);
    for (int i = 0; i < 2; ++i) {
      double h = p[i].x1 - p[i].x0;
      EXPECT_NEAR(p[i].r1, p[i + 1].r0, 0);
      EXPECT_NEAR(p[i].slope(p[i].x1), p[i + 1].c[1], 1e-12);
      EXPECT_NEAR(2 * p[i].c[2] + 6 * p[i].c[3] * h, 2 * p[i + 1].c[2], 1e-12);
    }
    double h = p[2].x1 - p[2].x0;
    double end_slope = p[2].slope(p[2].x1), end_bend = 2 * p[2].c[2] + 6 * p[2].c[3] * h;
    EXPECT_NEAR(level ? p[0].c[1] : p[0].c[2], 0, 1e-12);
    EXPECT_NEAR(level ? end_slope : end_bend, 0, 1e-12);
  }
}

TEST(OutlineShapes, BallIsASphereByLengthOrByDiameter) {
  ElementSpec by_length = element(K::ball, 24);
  by_length.end = 20;
  std::vector<Piece> p = drawn(by_length, 20);
  EXPECT_NEAR(p.at(0).rho, std::hypot(12, 10), 1e-12);
  EXPECT_EQ(p.at(0).cr, 0);
  ElementSpec by_diameter;
  by_diameter.kind = K::ball;
  by_diameter.greatest = 40;
  by_diameter.start = 24;  // 3-4-5: 16 mm from the middle
  by_diameter.end = 32;    // 12 mm
  p = drawn(by_diameter, 24);
  EXPECT_NEAR(p.at(0).x1 - p[0].x0, 28, 1e-9);
  EXPECT_NEAR(p.at(0).rho, 20, 1e-9);
  EXPECT_NEAR(p.at(0).greatest(), 20, 1e-9);
}

TEST(OutlineShapes, VeeIsSquareUnlessItsBottomIsStated) {
  std::vector<Piece> p = drawn(element(K::vee, 6), 40);
  ASSERT_EQ(p.size(), 2u);
  EXPECT_NEAR(p[0].r1, 17, 1e-12);
  EXPECT_NEAR(p[0].slope(p[0].x0), -1, 1e-12);
  EXPECT_NEAR(p[1].slope(p[1].x0), 1, 1e-12);
  ElementSpec deep = element(K::vee, 6);
  deep.least = 30;
  EXPECT_NEAR(drawn(deep, 40).at(0).r1, 15, 1e-12);
}

TEST(OutlineShapes, PommelsClearTheSquareAtHalfItsDiagonal) {
  for (PommelCut cut : {PommelCut::square, PommelCut::rounded, PommelCut::sloped, PommelCut::ogee}) {
    for (double l : {6.0, 40.0}) {
      ElementSpec down = element(K::pommel, l), up = element(K::pommel, l);
      down.cut = up.cut = cut;
      down.end = 44;
      ElementSpec middle = shared(K::cylinder, 1);
      Result<BuiltOutline> built =
          build_outline({element(K::square, 100), down, middle, up, element(K::square, 50)}, 400, kSixty);
      ASSERT_TRUE(built.ok()) << reasons_text(built.reasons());
      const auto& marks = built->elements;
      double half_diagonal = kSixty.corners / 2;
      double neck = cut == PommelCut::square ? 22 : half_diagonal;
      EXPECT_EQ(built->outline.value(marks[1].x0, Side::after), neck);
      EXPECT_EQ(built->outline.value(marks[1].x1, Side::before), 22);
      EXPECT_EQ(built->outline.value(marks[3].x0, Side::after), 22);
      EXPECT_EQ(built->outline.value(marks[3].x1, Side::before), neck);
      // the two are mirror images
      for (double s : {0.1, 0.35, 0.5, 0.85}) {
        EXPECT_NEAR(built->outline.value(marks[1].x0 + s * l, Side::after),
                    built->outline.value(marks[3].x1 - s * l, Side::before), 1e-9);
      }
      EXPECT_EQ(marks[1].d_start, kSixty.corners);
    }
  }
}

TEST(OutlineShapes, APommelTakesItsEndFromTheElementAfterIt) {
  ElementSpec bead = element(K::bead, 9);
  bead.greatest = 54;  // half-round: it stands on 45
  Result<BuiltOutline> built =
      build_outline({element(K::square, 100), element(K::pommel, 14), bead, shared(K::cylinder, 1)}, 400, kSixty);
  ASSERT_TRUE(built.ok()) << reasons_text(built.reasons());
  EXPECT_DOUBLE_EQ(built->elements[1].d_end, 45);
  EXPECT_NEAR(built->elements[2].d_greatest, 54, 1e-9);
}

TEST(OutlineShapes, PinIsADeclaredStepAtEitherEnd) {
  ElementSpec pin = element(K::pin, 25, "stub");
  pin.start = 15;
  Result<BuiltOutline> built =
      build_outline({pin, element(K::square, 80), element(K::pommel, 10), cylinder(100, 40), pin}, 240, kSixty);
  ASSERT_TRUE(built.ok()) << reasons_text(built.reasons());
  EXPECT_EQ(built->outline.value(10, Side::after), 7.5);
  EXPECT_EQ(built->outline.value(230, Side::after), 7.5);
  EXPECT_EQ(built->outline.value(25, Side::after), INFINITY);
}

TEST(OutlineShapes, NotFullRoundIsANote) {
  Result<BuiltOutline> built = build_outline({cylinder(100, 66, "belly")}, 100, kSixty);
  ASSERT_TRUE(built.ok());
  ASSERT_EQ(built->notes.size(), 1u);
  EXPECT_EQ(built->notes[0].severity, Severity::note);
  EXPECT_EQ(built->notes[0].message,
            "the cylinder 'belly' is not full round: it is 66 mm in diameter, and the stock is 60 mm across its flats");
}

// ---- what is refused

TEST(OutlineRefused, AStepThatNobodyDeclared) {
  EXPECT_EQ(refused({cylinder(100, 40, "neck"), cylinder(200, 36.5)}),
            "[outline.step] the cylinder 'neck' ends at 40 mm, but the cylinder (element 2) begins at 36.5 mm\n");
  ElementSpec declared = cylinder(200, 36.5);
  declared.step = true;
  EXPECT_EQ(refused({cylinder(100, 40, "neck"), declared}), "accepted");
  EXPECT_EQ(refused({element(K::square, 100, "head"), cylinder(200, 36)}),
            "[outline.step] the square 'head' ends at 60 mm square, but the cylinder (element 2) begins at 36 mm\n");
  EXPECT_EQ(refused({cylinder(100, 36), element(K::square, 200, "foot")}),
            "[outline.step] the cylinder (element 1) ends at 36 mm, but the square 'foot' begins at 60 mm square\n");
  EXPECT_EQ(refused({cylinder(100, 40), cylinder(200, 40 + 1e-12)}), "accepted");
}

ElementSpec with(ElementSpec spec, void (*change)(ElementSpec&)) {
  change(spec);
  return spec;
}

TEST(OutlineRefused, GeometryThatCannotBeTurned) {
  struct Case {
    ElementSpec middle;
    const char* says;
  };
  const Case kCases[] = {
      {with(element(K::bead, 6, "ring"), [](ElementSpec& s) { s.greatest = 50; }),
       "[outline.overhang] the bead 'ring' overhangs: it rises 5 mm over a length of 6 mm, more than a half-round\n"},
      {with(element(K::bead, 6), [](ElementSpec& s) { s.greatest = 38; }),
       "[outline.diameter] the bead (element 2): its greatest diameter of 38 mm is not greater than its ends of 40 mm "
       "and 40 mm\n"},
      {with(element(K::cove, 6, "hollow"), [](ElementSpec& s) { s.least = 20; }),
       "[outline.overhang] the cove 'hollow' overhangs: it is 10 mm deep over a length of 6 mm, more than a "
       "half-round\n"},
      {element(K::cove, 50),
       "[outline.axis] the cove (element 2) goes through the axis: its bottom would be -10 mm in diameter\n"},
      {element(K::vee, 45),
       "[outline.axis] the vee (element 2) goes through the axis: its bottom would be -5 mm in diameter\n"},
      {with(element(K::scotia, 6), [](ElementSpec& s) { s.end = 36, s.least = 30; }),
       "[outline.overhang] the scotia (element 2) overhangs: it is 5 mm deep over a length of 6 mm, more than a "
       "half-round\n"},
      {with(element(K::vase, 100, "belly"),
            [](ElementSpec& s) {
              s.stations = {{0.3, 84}, {0.6, 84}, {1, 40}};
            }),
       "[outline.reach] the vase 'belly' leaves the stock: it is 89.542 mm in diameter, and the stock is 84.853 mm "
       "across its corners\n"},
      {with(element(K::vase, 100),
            [](ElementSpec& s) {
              s.stations = {{0.1, 5}, {0.5, 3}, {1, 60}};
            }),
       "[outline.axis] the vase (element 2) goes through the axis"},
      {with(element(K::ball, 80), [](ElementSpec&) {}),
       "[outline.reach] the ball (element 2) leaves the stock: it is 89.443 mm in diameter, and the stock is 84.853 mm "
       "across its corners\n"},
      {with(element(K::ovolo, 8), [](ElementSpec& s) { s.end = 40; }),
       "[outline.diameter] the ovolo (element 2) begins and ends at 40 mm\n"},
      {with(element(K::taper, 8), [](ElementSpec&) {}),
       "[outline.diameter] the taper (element 2) does not say at which diameter it ends\n"},
      {with(element(K::taper, 8), [](ElementSpec& s) { s.end = 0; }),
       "[outline.diameter] the taper (element 2): its diameter at the end is 0 mm\n"},
      {with(element(K::taper, 8), [](ElementSpec& s) { s.end = std::numeric_limits<double>::infinity(); }),
       "[outline.number] the taper (element 2): its diameter at the end is not a number\n"},
      {with(element(K::taper, 8), [](ElementSpec& s) { s.end = 20, s.greatest = 50; }),
       "[outline.unused] the taper (element 2) has no greatest diameter of its own\n"},
      {element(K::entasis, 80), "[outline.diameter]"},
      {element(K::torus, 8), "[outline.diameter] the torus (element 2) has no greatest diameter: its crest\n"},
      {with(element(K::torus, 30), [](ElementSpec& s) { s.greatest = 20, s.step = true; }),
       "[outline.axis] the torus (element 2) goes through the axis: it would begin at -10 mm in diameter\n"},
      {element(K::pommel, 8), "[outline.place] the pommel (element 2) stands beside no square\n"},
      {with(element(K::pin, 8), [](ElementSpec& s) { s.start = 10; }),
       "[outline.place] the pin (element 2) stands in the middle\n"},
      {element(K::vase, 50), "[outline.stations] the vase (element 2) has no stations\n"},
      {with(element(K::vase, 50),
            [](ElementSpec& s) {
              s.stations = {{0.5, 30}, {0.4, 20}, {1, 20}};
            }),
       "[outline.stations] the vase (element 2): the station at 0.4 is out of order\n"},
      {with(element(K::vase, 50),
            [](ElementSpec& s) {
              s.stations = {{std::nan(""), 30}, {1, 20}};
            }),
       "[outline.stations]"},
      {with(element(K::ball, 20), [](ElementSpec& s) { s.greatest = 50; }),
       "[outline.length] the ball (element 2) has a diameter and a length: one follows from the other\n"},
  };
  for (const Case& one : kCases) {
    ElementSpec rest = shared(K::cylinder, 1);
    if (one.middle.kind == K::taper || one.middle.kind == K::entasis) rest.kind = K::cylinder;
    EXPECT_THAT(refused({cylinder(10, 40), one.middle, rest}), testing::StartsWith(one.says)) << one.says;
  }
}

TEST(OutlineRefused, PommelsAndPinsThatDoNotFit) {
  EXPECT_THAT(refused({element(K::square, 50), element(K::pommel, 10, "p"), element(K::square, 240)}),
              testing::HasSubstr("[outline.place] the pommel 'p' stands between two squares"));
  ElementSpec wide = element(K::pommel, 10, "p");
  wide.end = 84.9;
  EXPECT_THAT(refused({element(K::square, 50), wide, shared(K::cylinder, 1)}),
              testing::HasSubstr("[outline.reach] the pommel 'p'"));
  ElementSpec pin = element(K::pin, 20, "stub");
  pin.start = 50;
  EXPECT_EQ(refused({cylinder(280, 40), pin}),
            "[outline.diameter] the pin 'stub' of 50 mm is thicker than the cylinder (element 1) of 40 mm on which it "
            "stands\n");
  EXPECT_THAT(refused({element(K::square, 300)}, 300, StockSection::round(50)),
              testing::HasSubstr("[outline.place] the square (element 1) needs a square"));
}

TEST(OutlineRefused, AllProblemsAtOnceEachAtItsPlace) {
  ElementSpec a = cylinder(0, 40, "a"), b = cylinder(10, -3, "b"), c = element(K::torus, 10, "c");
  a.place = {"leg.yaml", 12, 5};
  c.place = {"leg.yaml", 14, 5};
  Result<BuiltOutline> built = build_outline({a, b, c}, 300, kSixty);
  ASSERT_FALSE(built.ok());
  ASSERT_EQ(built.reasons().size(), 3u);
  EXPECT_EQ(built.reasons()[0].place, a.place);
  EXPECT_EQ(built.reasons()[2].place, c.place);
  EXPECT_EQ(built.reasons()[2].id, "outline.diameter");
}

// Whatever is accepted is sound; whatever numbers come in, nothing falls over.
TEST(OutlineRandom, AcceptedOutlinesAreSoundAndNothingCrashes) {
  const double kOdd[] = {0, -1, 1e-12, 0.05, 1e9, std::nan(""), INFINITY, 3, 27.2, 60, 84.8};
  int accepted = 0;
  for (std::uint64_t start = 0; start < 20000; ++start) {
    Random random(start);
    std::vector<ElementSpec> specs;
    int count = random.below(6);
    for (int i = 0; i <= count; ++i) {
      double to = 0;
      ElementSpec spec = random_element(random, 30, 60, to);
      if (random.below(3) == 0) spec.kind = static_cast<ElementKind>(random.below(17));
      auto spoil = [&](std::optional<double>& field) {
        if (random.below(25) == 0) field = kOdd[random.below(11)];
        if (random.below(40) == 0) field.reset();
      };
      for (auto* field : {&spec.length, &spec.share, &spec.start, &spec.end, &spec.greatest, &spec.least})
        spoil(*field);
      if (random.below(2) == 0) spec.step = true;
      specs.push_back(spec);
    }
    ElementSpec last = shared(K::cylinder, 1);
    last.start = 30;
    last.step = true;
    specs.push_back(last);
    Result<BuiltOutline> built = build_outline(specs, 500, kSixty);
    if (!built.ok()) continue;
    ++accepted;
    Part part;
    part.name = "x";
    part.length = 500;
    part.outline = built->outline;
    part.faces = square_faces(60, 500);
    part.elements = built->elements;
    std::vector<Diagnostic> found = problems(part);
    ASSERT_TRUE(found.empty()) << start << "\n" << reasons_text(found) << dump(part);
  }
  EXPECT_GT(accepted, 1000);
}

}  // namespace
}  // namespace pommel::shape
