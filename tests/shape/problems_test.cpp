#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "shape/faces.h"
#include "shape/part.h"
#include "shape/sample_parts.h"

namespace pommel::shape {
namespace {

std::string said(const Part& part) {
  std::string text;
  for (const Diagnostic& one : problems(part)) text += "[" + one.id + "] " + one.message + "\n";
  return text;
}

template <class F>
Part leg_with(const F& change) {
  Part part = leg();
  change(part);
  return part;
}

TEST(Problems, TheSampleLegAndRandomPartsAreSound) {
  EXPECT_EQ(said(leg()), "");
  for (std::uint64_t start = 0; start < 300; ++start) EXPECT_EQ(said(random_part(start)), "") << start;
}

TEST(Problems, OutlineFaults) {
  EXPECT_EQ(said(leg_with([](Part& p) { p.length = 0; })), "[shape.length] the piece has no length\n");
  EXPECT_EQ(said(leg_with([](Part& p) { p.outline.pieces.clear(); })), "[shape.empty] the outline has no pieces\n");
  EXPECT_THAT(said(leg_with([](Part& p) { p.outline.pieces[3].x1 += 1e-9; })),
              testing::StartsWith("[shape.gap] the bead 'ring' begins at 148.1 mm"));
  EXPECT_THAT(said(leg_with([](Part& p) { p.outline.pieces[4].rho = std::nan(""); })),
              testing::HasSubstr("[shape.number]"));
  EXPECT_THAT(said(leg_with([](Part& p) { p.outline.pieces.back().x1 = 700; })),
              testing::HasSubstr("[shape.gap] the outline runs from 0 mm to 700 mm, but the piece from 0 to 717.9 mm"));
  EXPECT_THAT(said(leg_with([](Part& p) { p.outline.pieces.back().r1 = -1; })),
              testing::HasSubstr("[shape.axis] the taper 'foot' reaches the axis: its least radius is -1 mm"));
  EXPECT_THAT(said(leg_with([](Part& p) { p.outline.pieces[4].r0 += 1e-3; })),
              testing::HasSubstr("[shape.ends] the bead 'ring' does not end where it says"));
}

TEST(Problems, AnArcThatOverhangsNamesItsElement) {
  Part part = leg();
  Piece& bead = part.outline.pieces[4];
  ASSERT_EQ(bead.kind, Piece::Kind::arc);
  // the same chord on a circle whose centre lies outside the wood's side: more than a half-round
  double half = (bead.x1 - bead.x0) / 2;
  bead.cr = bead.r0 + 3;
  bead.rho = std::hypot(half, 3);
  EXPECT_EQ(said(part),
            "[shape.overhang] the bead 'ring' overhangs: its arc turns back under itself, and no cutter from outside "
            "gets there\n");
}

TEST(Problems, FacesAndRings) {
  EXPECT_THAT(said(leg_with([](Part& p) { p.faces[1].phi = 7; })),
              testing::StartsWith("[shape.number] face 2 looks in no direction"));
  EXPECT_EQ(said(leg_with([](Part& p) { p.faces[1].phi = 0; })), "[shape.faces] face A is there twice\n");
  EXPECT_EQ(said(leg_with([](Part& p) { p.faces.erase(p.faces.begin() + 2); })),
            "[shape.ring] the square 'head' is not turned, but no ring of faces closes it at 0 mm\n");
  EXPECT_EQ(said(leg_with([](Part& p) { p.faces = *cleared(p.faces, 1, 100, 200); })),
            "[shape.ring] the square 'head' is not turned, but no ring of faces closes it at 100 mm\n");
  EXPECT_EQ(said(leg_with([](Part& p) { p.faces = *cleared(p.faces, 1, 300, 400); })), "");
  EXPECT_THAT(said(leg_with([](Part& p) { p.faces[3].d = {{line_piece(0, 30, 500, 30)}}; })),
              testing::HasSubstr("[shape.gap] face D runs from 0 mm to 500 mm, but the piece from 0 to 717.9 mm"));
}

TEST(Problems, Mortises) {
  struct Case {
    void (*change)(Mortise&);
    const char* says;
  };
  const Case kCases[] = {
      {[](Mortise& m) { m.x1 = 140; },
       "[shape.mortise-round] the mortise 'long-rail' runs into the round: face A is not whole at 130.547 mm\n"},
      {[](Mortise& m) { m.t0 = -30.5; },
       "[shape.mortise-edge] the mortise 'long-rail' stands over the edge of face A at 12 mm: the face reaches from "
       "-30 mm to 30 mm, the mortise from -30.5 mm to -12 mm\n"},
      {[](Mortise& m) { m.depth = 60.1; },
       "[shape.mortise-through] the mortise 'long-rail' goes through the piece at 12 mm: 60.1 mm deep\n"},
      {[](Mortise& m) { m.x0 = -1; },
       "[shape.mortise-ends] the mortise 'long-rail' runs from -1 mm to 112 mm, out of the piece of 717.9 mm\n"},
      {[](Mortise& m) { m.haunch_length = 13, m.haunch_depth = 5; },
       "[shape.mortise-ends] the mortise 'long-rail' runs from -1 mm to 112 mm, out of the piece of 717.9 mm\n"},
      {[](Mortise& m) { m.phi = 1; },
       "[shape.mortise-face] the mortise 'long-rail' is let into the face at 57.296 degrees, and the piece has no such "
       "face\n"},
      {[](Mortise& m) { m.depth = 0; }, "[shape.mortise-size] the mortise 'long-rail' has no length, width or depth\n"},
      {[](Mortise& m) { m.corner_radius = 4.5; },
       "[shape.mortise-size] the mortise 'long-rail': corners of radius 4.5 mm do not fit its 100 mm by 8 mm\n"},
      {[](Mortise& m) { m.haunch_length = 5; },
       "[shape.mortise-size] the mortise 'long-rail' has a haunch without length or depth, or deeper than the mortise "
       "itself\n"},
      {[](Mortise& m) { m.t1 = std::nan(""); },
       "[shape.number] the mortise 'long-rail' holds a number that is not finite, or a direction not between 0 and 360 "
       "degrees\n"},
      {[](Mortise& m) { m.id = "short-rail"; }, "[shape.mortise-id] the mortise 'short-rail' is there twice\n"},
  };
  for (const Case& one : kCases) {
    Part part = leg();
    one.change(part.mortises[0]);
    EXPECT_EQ(said(part), one.says);
  }
}

// A mortise beside the far face, deep enough to come out of the neighbour that tapers in.
TEST(Problems, AMortiseThatBreaksOutOfATaperedSide) {
  Part part;
  part.length = 200;
  part.outline = {{clear_piece(0, 200)}};
  part.faces = *tapered(square_faces(60, 200), {{2}, 0, 200, 8});
  part.mortises.push_back({"m", "", 0, 20, 180, -5, 5, 41, 0, 0, 0});
  EXPECT_THAT(said(part), testing::StartsWith(
                              "[shape.mortise-through] the mortise 'm' goes through the piece at 180 mm: 41 mm deep"));
  part.mortises[0].depth = 38;
  EXPECT_EQ(said(part), "");
}

// Whatever numbers stand in a part, the answer is a list of problems and never a crash.
TEST(Problems, AnyNumbersAnywhere) {
  const double kOdd[] = {0,  -1,   1e308, -1e308, 1e-320, std::nan(""), std::numeric_limits<double>::infinity(),
                         30, 717.9};
  int faulty = 0;
  for (std::uint64_t start = 0; start < 20000; ++start) {
    Random random(start);
    Part part = leg();
    for (int blow = 0; blow < 1 + random.below(3); ++blow) {
      Profile& profile = random.below(3) == 0 ? part.faces[static_cast<std::size_t>(random.below(4))].d : part.outline;
      Piece& p = profile.pieces[static_cast<std::size_t>(random.below(static_cast<int>(profile.pieces.size())))];
      double* fields[] = {&p.x0,
                          &p.x1,
                          &p.r0,
                          &p.r1,
                          &p.cx,
                          &p.cr,
                          &p.rho,
                          &p.c[0],
                          &p.c[1],
                          &p.c[2],
                          &p.c[3],
                          &part.length,
                          &part.faces[0].phi};
      *fields[random.below(13)] = kOdd[random.below(9)];
      if (random.below(5) == 0) p.kind = static_cast<Piece::Kind>(random.below(4));
      Mortise& m = part.mortises[static_cast<std::size_t>(random.below(2))];
      double* sizes[] = {&m.phi,           &m.x0,          &m.x1, &m.t0, &m.t1, &m.depth, &m.corner_radius,
                         &m.haunch_length, &m.haunch_depth};
      if (random.below(3) == 0) *sizes[random.below(9)] = kOdd[random.below(9)];
    }
    if (!problems(part).empty()) ++faulty;
    EXPECT_FALSE(dump(part).empty());
  }
  EXPECT_GT(faulty, 10000);
}

}  // namespace
}  // namespace pommel::shape
