#include <gtest/gtest.h>

#include "shape/faces.h"
#include "shape/part.h"
#include "shape/sample_parts.h"

namespace pommel::shape {
namespace {

TEST(CanonicalText, IsOneForAllQuarterTurns) {
  for (std::uint64_t start = 0; start < 60; ++start) {
    Part part = start == 0 ? leg() : random_part(start);
    if (start % 2) part.mortises.push_back({"m", "rail", 0, 5, 25, -7, 3, 12, 1.5, 0, 0});
    std::string key = canonical_text(part, true);
    for (int quarters = -4; quarters <= 5; ++quarters)
      EXPECT_EQ(canonical_text(turned_by(part, quarters), true), key) << start << " " << quarters;
  }
}

TEST(CanonicalText, NamesDoNotCountAndOrderDoesNot) {
  Part part = leg(), other = leg();
  other.name = "other";
  other.elements[3].label = "another";
  std::swap(other.mortises[0], other.mortises[1]);
  std::swap(other.faces[0], other.faces[2]);
  other.mortises[0].id = "x";
  other.mortises[1].mate = "y";
  for (Piece& piece : other.outline.pieces) piece.element = -1;
  EXPECT_EQ(canonical_text(part, true), canonical_text(other, true));
}

TEST(CanonicalText, HandsDifferWhenJointedAndAgreeWhenTurned) {
  Part part = leg(), image = mirrored(leg());
  EXPECT_NE(canonical_text(part, true), canonical_text(image, true));
  EXPECT_EQ(canonical_text(part, false), canonical_text(image, false));
  // with equal mortises symmetrical about the arris the hands are one piece
  Part equal = leg();
  equal.mortises = {{"a", "", 0, 12, 112, -20, -12, 38, 4, 0, 0},
                    {"b", "", 3 * kQuarterTurn, 12, 112, 12, 20, 38, 4, 0, 0}};
  EXPECT_EQ(canonical_text(equal, true), canonical_text(mirrored(equal), true));
}

TEST(CanonicalText, FollowsWhatCanBeMeasured) {
  std::string key = canonical_text(leg(), true);
  EXPECT_NE(canonical_text(leg(717.91), true), key);
  Part moved = leg();
  moved.mortises[0].depth += 1e-3;
  EXPECT_NE(canonical_text(moved, true), key);
  EXPECT_EQ(canonical_text(moved, false), canonical_text(leg(), false));
  moved = leg();
  moved.mortises[0].depth += 1e-9;
  EXPECT_EQ(canonical_text(moved, true), key);
}

TEST(TurnedBy, FourQuartersAreNoneAndMirrorsUndoThemselves) {
  for (std::uint64_t start = 0; start < 30; ++start) {
    Part part = random_part(start);
    part.mortises.push_back({"m", "rail", kQuarterTurn, 5, 25, -7, 3, 12, 1.5, 0, 0});
    EXPECT_EQ(turned_by(part, 4), part);
    EXPECT_EQ(turned_by(part, -8), part);
    if (part.faces.size() == 4) {
      EXPECT_EQ(turned_by(turned_by(turned_by(part, 1), 1), 2), part);
      EXPECT_EQ(turned_by(part, -1), turned_by(part, 3));
      EXPECT_EQ(mirrored(mirrored(part)), part);
    }
  }
}

TEST(Dump, SaysEverythingInThePart) {
  Part part;
  part.name = "bar";
  part.length = 100;
  part.outline = {{clear_piece(0, 40, 0), line_piece(40, 30, 60, 20, 1), arc_about(60, 20, 70, 20, 65, 20, 5, 1, 2),
                   cubic_piece(70, 100, {20, 0, 0, 0}, 3)}};
  part.faces = {{0, {{line_piece(0, 30, 100, 30)}}}};
  part.elements = {{"square", "head", 0, 40, 60, 60, 60, 60, true}};
  part.mortises = {{"long", "rail", 0, 10, 30, -4, 4.5, 20, 2, 5, 6}};
  EXPECT_EQ(dump(part),
            "part 'bar' length 100\n"
            "outline\n"
            "  clear 0 40 of 0\n"
            "  line 40 30 60 20 of 1\n"
            "  arc 60 20 70 20 about 65 20 radius 5 bulging of 2\n"
            "  cubic 70 20 100 20 slopes 0 0 of 3\n"
            "face 0\n"
            "  line 0 30 100 30 of -1\n"
            "element 0 square 'head' 0 to 40 shared diameters 60 60 least 60 greatest 60\n"
            "mortise 0 10 30 -4 4.5 20 2 haunch 5 6 id 'long' mate 'rail'\n");
}

}  // namespace
}  // namespace pommel::shape
