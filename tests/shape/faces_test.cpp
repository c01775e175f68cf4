#include "shape/faces.h"

#include <gtest/gtest.h>

#include <cmath>

#include "shape/angle.h"

namespace pommel::shape {
namespace {

TEST(Faces, SquareLooksAtTheQuarters) {
  std::vector<Face> faces = square_faces(60, 700);
  ASSERT_EQ(faces.size(), 4u);
  for (int k = 0; k < 4; ++k) {
    EXPECT_EQ(faces[k].phi, k * kQuarterTurn);
    EXPECT_EQ(faces[k].d.value(350), 30);
  }
  std::vector<Face> octagon = polygon_faces(8, 50, 700);
  ASSERT_EQ(octagon.size(), 8u);
  EXPECT_EQ(octagon[2].phi, kQuarterTurn);
  EXPECT_DOUBLE_EQ(octagon[1].phi, kQuarterTurn / 2);
}

TEST(Faces, TaperMovesTheChosenFacesOnly) {
  Result<std::vector<Face>> made = tapered(square_faces(60, 700), {{1, 2}, 150, 650, 18});
  ASSERT_TRUE(made.ok());
  EXPECT_EQ((*made)[0].d.value(650), 30);
  const Profile& d = (*made)[1].d;
  EXPECT_EQ(d.value(100), 30);
  EXPECT_EQ(d.value(150), 30);
  EXPECT_DOUBLE_EQ(d.value(400), 24);
  EXPECT_EQ(d.value(650), 18);
  EXPECT_EQ(d.value(700), 18);
  EXPECT_EQ((*made)[1].d, (*made)[2].d);
  // a second taper starts where the first has led to
  made = tapered(*made, {{1}, 650, 700, 15});
  ASSERT_TRUE(made.ok());
  EXPECT_EQ((*made)[1].d.value(650), 18);
  EXPECT_EQ((*made)[1].d.value(700), 15);
  EXPECT_EQ((*made)[1].d.pieces.size(), 3u);
}

TEST(Faces, TaperFromTheVeryHeadToTheVeryFoot) {
  Result<std::vector<Face>> made = tapered(square_faces(60, 700), {{0, 1, 2, 3}, 0, 700, 20});
  ASSERT_TRUE(made.ok());
  for (const Face& face : *made) {
    ASSERT_EQ(face.d.pieces.size(), 1u);
    EXPECT_DOUBLE_EQ(face.d.value(350), 25);
  }
}

TEST(Faces, ClearedStretchIsNotThere) {
  Result<std::vector<Face>> made = cleared(square_faces(60, 700), 3, 100, 200);
  ASSERT_TRUE(made.ok());
  const Profile& d = (*made)[3].d;
  EXPECT_EQ(d.value(99), 30);
  EXPECT_EQ(d.value(150), INFINITY);
  EXPECT_EQ(d.value(200, Side::after), 30);
  // a cut cubic stays the same curve
  std::vector<Face> bent{{0, {{cubic_piece(0, 100, {30, 0.1, -0.002, 0.00001})}}}};
  Piece whole = bent[0].d.pieces[0];
  made = cleared(bent, 0, 40, 60);
  ASSERT_TRUE(made.ok());
  for (double x : {10.0, 39.0, 61.0, 99.0}) EXPECT_NEAR((*made)[0].d.value(x), whole.value(x), 1e-12);
}

TEST(Faces, WhatCannotBeMadeIsSaid) {
  std::vector<Face> square = square_faces(60, 700);
  auto id = [](const Result<std::vector<Face>>& made) {
    return made.ok() ? std::string("made") : made.reasons().front().id + ": " + made.reasons().front().message;
  };
  EXPECT_EQ(id(tapered(square, {{4}, 0, 100, 20})),
            "faces.taper: the taper cannot be made: there is no face 5: the piece has 4");
  EXPECT_EQ(id(tapered(square, {{0}, 100, 100, 20})),
            "faces.taper: the taper cannot be made: from 100 mm to 100 mm is no stretch of a piece of 700 mm");
  EXPECT_EQ(id(tapered(square, {{0}, 100, 800, 20})),
            "faces.taper: the taper cannot be made: from 100 mm to 800 mm is no stretch of a piece of 700 mm");
  EXPECT_EQ(id(tapered(square, {{0}, 100, std::nan(""), 20})),
            "faces.taper: the taper cannot be made: from 100 mm to nan mm is no stretch of a piece of 700 mm");
  EXPECT_EQ(id(tapered(square, {{0}, 0, 100, 0})), "faces.taper: the taper ends at or behind the axis");
  EXPECT_EQ(id(tapered(*cleared(square, 0, 0, 50), {{0}, 20, 100, 20})),
            "faces.taper: the taper begins where face 1 is not there");
  EXPECT_EQ(id(cleared(square, 0, -1, 50)),
            "faces.clear: the face cannot be left out: from -1 mm to 50 mm is no stretch of a piece of 700 mm");
}

}  // namespace
}  // namespace pommel::shape
