// A flat over the stub is refused where it leaves less than stands all round; what the passes themselves leave there is not, whatever the end's form.
#include "proof/stub.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>

#include "base/number.h"
#include "pieces.h"
#include "proof/body.h"

namespace pommel::proof {
namespace {

using namespace testing;
using ::testing::HasSubstr;

// A round blank of 46 mm diameter, its waste given by hand: what is left in each direction at each place.
struct Stub {
  shape::Part part = rod(20, 60);
  shape::Blank blank = blank_for(part, shape::Blank::Section::round, 46, 20);

  std::optional<OneSided> judged(bool head, const std::function<double(double x, double theta)>& left) const {
    const auto grid = make_grid(part, blank, 0.25, 360);
    EXPECT_TRUE(grid.ok());
    Wood wood = uncut(*grid, {Start(*grid, blank, lies({}).front())});
    for (std::size_t row = 0; row < grid->rows(); ++row)
      for (std::size_t k = 0; k < grid->begin[row + 1] - grid->begin[row]; ++k)
        if (const double r = left(grid->x[row], grid->angle(row, k)); r < 23) wood.low[grid->begin[row] + k] = static_cast<float>(r);
    return cut_from_one_side(*grid, body_radii(*grid, part), wood, part.length, head);
  }
};

// A plane at `height`, square to A0, over places from x0 to x1.
double flat(double x, double theta, double x0, double x1, double height) {
  return x > x0 && x < x1 && std::cos(theta) > 0 ? height / std::cos(theta) : 1e9;
}

TEST(Stub, AFlatOverItIsFoundAtEitherEndWhereItIsDeepest) {
  for (const bool head : {true, false}) {
    const auto turned = [&](double x, double theta) {
      const double beside = head ? -x : x - 60;
      return std::min(beside < 8 ? 20.0 : 1e9, flat(beside, theta, 2, 12, 18));
    };
    const auto found = Stub{}.judged(head, turned);
    ASSERT_TRUE(found.has_value()) << head;
    EXPECT_NEAR(found->left, 18, 1e-4);
    EXPECT_NEAR(found->round, 20, 1e-4);
    EXPECT_NEAR(std::sin(found->theta), 0, 1e-6);
    EXPECT_NEAR(head ? -found->x : found->x - 60, 5, 3.01);  // on the stub, 8 mm long, not beyond
    EXPECT_FALSE(Stub{}.judged(!head, turned).has_value());
  }
}

TEST(Stub, BesideItOrOverItsSkinAFlatWeakensNothing) {
  const auto beside = [](double x, double theta) { return std::min(-x < 8 ? 20.0 : 1e9, flat(-x, theta, 9, 19, 18)); };
  EXPECT_FALSE(Stub{}.judged(true, beside).has_value());
  const auto turned_away = [](double x, double theta) { return std::min(-x < 8 ? 20.0 : 1e9, flat(-x, theta, 2, 12, 20.5)); };
  EXPECT_FALSE(Stub{}.judged(true, turned_away).has_value());
}

// Ridges of the last pass, a tangent that thins down, the ribs where lines run out, a groove turned all round.
TEST(Stub, WhatPassesLeaveIsNoFlat) {
  const auto passes = [](double x, double theta) {
    const double ridge = 0.1 * (1 + std::cos(40 * theta));
    if (-x < 6) return 20 - std::min(-x, 4.0) * 0.8 + ridge;
    if (-x < 7) return 12 + (-x < 6.5 ? 0.0 : 3.0);
    return -x < 10 ? 17 + 5 * std::cos(8 * theta) : 1e9;
  };
  EXPECT_FALSE(Stub{}.judged(true, passes).has_value());
}

// An end with flats of its own: its stub has them, too, and thins where the outline falls between them.
TEST(Stub, AnEndWithFacesKeepsThem) {
  Stub faced;
  for (int quarter = 0; quarter < 4; ++quarter) {
    shape::Profile d;
    d.pieces = {shape::line_piece(0, 17, 60, 17)};
    faced.part.faces.push_back({quarter * kPi / 2, std::move(d)});
  }
  const auto square = [](double theta) { return 17 / std::max(std::fabs(std::cos(theta)), std::fabs(std::sin(theta))); };
  EXPECT_FALSE(faced.judged(true, [&](double x, double theta) { return -x < 8 ? std::min(20.0, square(theta)) : 1e9; }).has_value());
  EXPECT_FALSE(faced.judged(true, [&](double x, double theta) { return -x < 8 ? std::min(18.0, square(theta)) : 1e9; }).has_value());
  const auto found = faced.judged(true, [&](double x, double theta) { return -x < 8 ? std::min({20.0, square(theta), flat(-x, theta, 2, 7, 15)}) : 1e9; });
  ASSERT_TRUE(found.has_value());
  EXPECT_NEAR(found->left / found->round, 15.0 / 17, 1e-3);  // of the face, and of the wood beside it that the flat takes as well
}

// By its motions, with the words.
TEST(Stub, AProgramThatCutsAFlatOverItIsRefused) {
  shape::Part part = rod(20, 60);
  const shape::Blank blank = blank_for(part, shape::Blank::Section::round, 46, 20);
  for (const auto& [from, to, passes] : {std::tuple{-6.0, -4.2, false}, std::tuple{-14.0, -11.0, true}}) {
    motion::Path path = lengthwise(-4, 64, 20, 250, 30);
    PathMaker flat({from, 0, 30, 0});
    flat.stage("witness flat");
    for (int k = -20; k <= 20; ++k) {
      const double a = 0.02 * k, z = 18 / std::cos(a) + 3 * (1 / std::cos(a) - 1);
      flat.rapid(from, 30, a).feed(from, z, a).feed(to, z, a).rapid(to, 30, a).rapid(from, 30, a);
    }
    const motion::Position last = path.moves.back().to;
    path.moves.push_back({{from, 0, 30, last.a}, true, 0, 0});
    path.moves.push_back({{from, 0, 30, 0}, true, 0, 0});
    path.stages.push_back({"witness flat", path.moves.size(), flat.path.moves.size()});
    path.moves.insert(path.moves.end(), flat.path.moves.begin(), flat.path.moves.end());
    const auto proof = prove_path(path, part, blank, {}, ball(6), open_machine(), {}, {});
    ASSERT_TRUE(proof.ok()) << render(proof.reasons());
    EXPECT_EQ(proof->passed(), passes) << report(*proof);
    if (passes) continue;
    ASSERT_EQ(proof->findings.size(), 1u) << report(*proof);
    const Finding& said = proof->findings.front();
    EXPECT_EQ(said.id, "proof.stub");
    EXPECT_EQ(said.stage, "witness flat");
    EXPECT_THAT(said.message, HasSubstr("a flat or notch lies over the stub beside the head: it leaves 18 mm of radius on one side, where all round 20.002 mm hold the piece, at x -"));
    EXPECT_THAT(said.message, HasSubstr(" mm, 0 deg, "));
    EXPECT_THAT(said.remedy, HasSubstr("nearer to the chuck, where the waste is as thick as the blank"));
  }
}

}  // namespace
}  // namespace pommel::proof
