#include "mill/envelope.h"

#include <gtest/gtest.h>

#include <chrono>
#include <functional>
#include <random>

#include "mill/bodies.h"
#include "mill/judge.h"

namespace pommel::mill {
namespace {

using shape::Part;
using testing::all_bodies;
using testing::body_distance;
using testing::leg;

constexpr double kQuarter = std::numbers::pi / 2;

struct Place {
  double x = 0, a = 0;
};

// Every knot of the part: there the walls, rims and ends of pommels stand.
std::vector<double> knots(const Part& part) {
  std::vector<double> found{part.length};
  for (const shape::Piece& p : part.outline.pieces) found.push_back(p.x0);
  for (const shape::Face& face : part.faces) {
    for (const shape::Piece& p : face.d.pieces) found.push_back(p.x0);
  }
  return found;
}

// Half of the places anywhere (past the ends too), half within the ball of a knot, and of those half near an arris.
std::vector<Place> places(const Part& part, double rho, int count, unsigned seed) {
  std::mt19937_64 random(seed);
  auto between = [&](double a, double b) { return a + (b - a) * static_cast<double>(random() >> 11) * 0x1p-53; };
  const std::vector<double> at = knots(part);
  std::vector<Place> found;
  for (int i = 0; i < count; ++i) {
    Place p{between(-rho, part.length + rho), between(0, 4 * kQuarter)};
    if (i % 2 == 1) p.x = at[random() % at.size()] + between(-rho, rho);
    if (i % 4 == 3 && !part.faces.empty()) {
      const std::size_t f = random() % part.faces.size();
      const double next = part.faces[(f + 1) % part.faces.size()].phi;
      const double half = std::remainder(next - part.faces[f].phi, 4 * kQuarter) / 2;
      p.a = part.faces[f].phi + half + between(-1, 1) * rho / 25;
    }
    if (p.x > -rho && p.x < part.length + rho) found.push_back(p);
  }
  return found;
}

struct Verdict {
  double gouge = 0, excess = 0;
  Place gouge_at, excess_at;
  int judged = 0;
};

Verdict judge(const Part& part, double rho, const std::vector<Place>& at, const std::function<double(Place)>& height) {
  Verdict v;
  for (const Place& p : at) {
    const double c = height(p);
    const double miss = body_distance(part, p.x, c, p.a, rho * 1.001 + 0.01) - rho;
    ++v.judged;
    if (-miss > v.gouge) v.gouge = -miss, v.gouge_at = p;
    if (miss > v.excess) v.excess = miss, v.excess_at = p;
  }
  return v;
}

std::string text(const Place& p) {
  return "at x " + std::to_string(p.x) + ", a " + std::to_string(p.a / kQuarter * 90);
}

constexpr double kGouge = 0.0005, kExcess = 0.0031;

class EveryBody : public ::testing::TestWithParam<int> {
 protected:
  Part part() const { return all_bodies()[static_cast<std::size_t>(GetParam())]; }
};

TEST_P(EveryBody, BallTouchesAndNeverGouges) {
  const Part body = part();
  for (double rho : {1.5875, 3.175, 6.35}) {
    const auto envelope = Envelope::of(body, rho);
    ASSERT_TRUE(envelope.ok()) << render(envelope.reasons());
    const std::vector<Place> at = places(body, rho, 250, 11);
    const Verdict v = judge(body, rho, at, [&](Place p) { return envelope->centre_height(p.x, p.a); });
    EXPECT_GE(v.judged, 200);
    EXPECT_LE(v.gouge, kGouge) << body.name << " rho " << rho << ' ' << text(v.gouge_at);
    EXPECT_LE(v.excess, kExcess) << body.name << " rho " << rho << ' ' << text(v.excess_at);
  }
}

TEST_P(EveryBody, GridSaysTheSame) {
  const Part body = part();
  const double rho = 3.175;
  const auto envelope = Envelope::of(body, rho);
  ASSERT_TRUE(envelope.ok());
  const std::vector<Place> at = places(body, rho, 200, 12);
  std::vector<double> rows;
  for (const Place& p : at) rows.push_back(p.x);
  std::sort(rows.begin(), rows.end());
  Heights grid;
  ASSERT_TRUE(envelope->fill(rows, 719, grid).ok());  // no multiple of any vector's width
  std::vector<Place> picked;
  std::vector<float> heights;
  std::mt19937_64 random(5);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const int j = static_cast<int>(random() % 719);
    picked.push_back({rows[i], grid.angle(j)});
    heights.push_back(grid.at(i, j));
  }
  std::size_t next = 0;
  const Verdict v = judge(body, rho, picked, [&](Place) { return heights[next++]; });
  EXPECT_LE(v.gouge, kGouge) << body.name << ' ' << text(v.gouge_at);
  EXPECT_LE(v.excess, kExcess) << body.name << ' ' << text(v.excess_at);
}

TEST_P(EveryBody, NoPointOfTheBodyStandsHigher) {
  // straight from the definition: the greatest of h + sqrt(rho² - q²) over many points is a lower bound
  const Part body = part();
  const double rho = 3.175;
  const auto envelope = Envelope::of(body, rho);
  ASSERT_TRUE(envelope.ok());
  for (const Place& p : places(body, rho, 60, 13)) {
    double bound = -1;
    for (int i = 0; i <= 400; ++i) {
      const double x = p.x + rho * (i - 200) / 200.0;
      if (x < 0 || x > body.length) continue;
      const testing::Slice s = testing::slice(body, x, shape::Side::after);
      for (int k = -200; k <= 200; ++k) {
        const double u = kQuarter * k / 200, r = s.radius(p.a + u), q = r * std::sin(u);
        const double v = rho * rho - (x - p.x) * (x - p.x) - q * q;
        if (v >= 0) bound = std::max(bound, r * std::cos(u) + std::sqrt(v));
      }
    }
    EXPECT_GE(envelope->centre_height(p.x, p.a), bound - 1e-9) << body.name << ' ' << text(p);
  }
}

TEST_P(EveryBody, TurnedAndMirroredPartsGiveTurnedAndMirroredHeights) {
  const Part body = part();
  const double rho = 3.175;
  const auto plain = Envelope::of(body, rho), turned = Envelope::of(shape::turned_by(body, 1), rho),
             mirrored = Envelope::of(shape::mirrored(body), rho);
  ASSERT_TRUE(plain.ok() && turned.ok() && mirrored.ok());
  for (const Place& p : places(body, rho, 200, 14)) {
    const double c = plain->centre_height(p.x, p.a);
    EXPECT_NEAR(turned->centre_height(p.x, p.a + kQuarter), c, 1e-6) << body.name << ' ' << text(p);
    EXPECT_NEAR(mirrored->centre_height(p.x, -p.a), c, 1e-6) << body.name << ' ' << text(p);
  }
}

INSTANTIATE_TEST_SUITE_P(Envelope, EveryBody, ::testing::Range(0, static_cast<int>(all_bodies().size())));

// The judge must be able to fail: each fault below is seen on a body that has the thing it spoils.
TEST(EnvelopeFaults, AreSeenByTheSameJudge) {
  const Part body = leg("sloped");
  const double rho = 3.175;
  const auto good = Envelope::of(body, rho);
  const auto coarse = Envelope::of(body, rho, {.crease_tolerance = 1, .never_gouge = false});
  ASSERT_TRUE(good.ok() && coarse.ok());
  const std::vector<Place> at = places(body, rho, 400, 11);
  EXPECT_GT(judge(body, rho, at, [&](Place p) { return good->centre_height(p.x, p.a) - 0.02; }).gouge, kGouge);
  EXPECT_GT(judge(body, rho, at, [&](Place p) { return good->centre_height(p.x, p.a) + 0.02; }).excess, kExcess);
  EXPECT_GT(judge(body, rho, at, [&](Place p) { return coarse->centre_height(p.x, p.a); }).gouge, 0.01);
  // without the crease between round and face: the round alone, and the faces alone, each asked where it does not rule
  Part faces_only = body;
  faces_only.outline.pieces = {shape::clear_piece(0, body.length)};
  Part round_only = body;
  round_only.faces.clear();
  for (shape::Piece& p : round_only.outline.pieces) {
    if (p.kind == shape::Piece::Kind::clear) p = shape::line_piece(p.x0, 30, p.x1, 30);
  }
  const auto flat = Envelope::of(faces_only, rho), round = Envelope::of(round_only, rho);
  ASSERT_TRUE(flat.ok() && round.ok());
  const Verdict v = judge(
      body, rho, at, [&](Place p) { return std::min(flat->centre_height(p.x, p.a), round->centre_height(p.x, p.a)); });
  EXPECT_GT(std::max(v.gouge, v.excess), 0.01);
}

// Profiles nobody would draw: random lines, arcs, cubics and steps, cut by random polygons whose faces taper.
Part random_part(unsigned seed) {
  std::mt19937_64 random(seed);
  auto between = [&](double a, double b) { return a + (b - a) * static_cast<double>(random() >> 11) * 0x1p-53; };
  double r = between(8, 34);
  testing::Turning t(r);
  for (int k = 0; k < 12; ++k) {
    const double length = between(1, 14), to = std::clamp(r + between(-0.7, 0.7) * length, 5.0, 36.0),
                 chord = std::hypot(length, to - r);
    const std::uint64_t kind = random() % 4;
    const int bulge = random() % 2 ? 1 : -1;
    const double rho = chord * between(0.6, 4), bend = between(-0.03, 0.03), wall = between(-6, 6);
    const double centre = shape::arc_piece(0, r, length, to, rho, bulge).cr;
    const bool one_valued = bulge > 0 ? centre <= std::min(r, to) : centre >= std::max(r, to);
    if (kind == 0 && one_valued) {
      t.arc(length, to, rho, bulge);
    } else if (kind == 1) {
      t.cubic(length, (to - r) / length - bend * length, bend, 0);
    } else {
      t.line(length, to);
    }
    r = to;
    if (kind == 3) t.step(r = std::clamp(to + wall, 5.0, 36.0));
  }
  const int sides = static_cast<int>(random() % 5);  // fewer than three do not close, and need not
  std::vector<shape::Face> faces;
  for (int f = 0; f < sides; ++f) {
    shape::Profile d;
    d.pieces = {shape::line_piece(0, between(15, 32), t.length(), between(15, 32))};
    faces.push_back({4 * kQuarter * (f + between(-0.2, 0.2) + 0.2) / sides, d});
  }
  return t.part("random " + std::to_string(seed), faces);
}

TEST(Envelope, RandomBodies) {
  for (unsigned seed = 1; seed <= 60; ++seed) {
    const Part body = random_part(seed);
    const double rho = seed % 2 ? 1.5 : 4;
    const auto envelope = Envelope::of(body, rho);
    ASSERT_TRUE(envelope.ok()) << body.name;
    const Verdict v =
        judge(body, rho, places(body, rho, 60, seed), [&](Place p) { return envelope->centre_height(p.x, p.a); });
    EXPECT_LE(v.gouge, kGouge) << body.name << ' ' << text(v.gouge_at);
    EXPECT_LE(v.excess, kExcess) << body.name << ' ' << text(v.excess_at);
  }
}

TEST(Envelope, ClosedForms) {
  const double rho = 3;
  const auto cylinder = Envelope::of(testing::cylinder(), rho);
  EXPECT_DOUBLE_EQ(cylinder->centre_height(40, 1.234), 28);
  EXPECT_NEAR(cylinder->centre_height(-2, 0.3), 25 + std::sqrt(5.0), 1e-12);  // over the rim of the end
  EXPECT_EQ(cylinder->centre_height(-3.01, 0.3), -std::numeric_limits<double>::infinity());
  const auto square = Envelope::of(testing::tapered_square(), rho);
  EXPECT_DOUBLE_EQ(square->centre_height(10, 0), 33);
  EXPECT_NEAR(square->centre_height(10, 0.3), 33 / std::cos(0.3), 1e-12);
  EXPECT_NEAR(square->centre_height(10, kQuarter / 2), 30 * std::sqrt(2) + 3, 1e-9);  // on the arris
}

TEST(Envelope, RefusesWhatItCannotRoll) {
  auto id = [](const Result<Envelope>& r) { return r.ok() ? std::string("ok") : r.reasons().front().id; };
  EXPECT_EQ(id(Envelope::of(testing::cone(), 0)), "mill.ball");
  EXPECT_EQ(id(Envelope::of(testing::cone(), std::nan(""))), "mill.ball");
  EXPECT_EQ(id(Envelope::of(Part{}, 3)), "mill.part");
  Part broken = testing::cone();
  broken.outline.pieces[0].r1 = std::nan("");
  EXPECT_EQ(id(Envelope::of(broken, 3)), "mill.part");
  Part open = testing::tapered_square();
  open.faces.pop_back();
  EXPECT_EQ(id(Envelope::of(open, 3)), "mill.open-section");
}

TEST(Envelope, StopsWhenAsked) {
  const auto envelope = Envelope::of(testing::cone(), 3);
  std::stop_source stop;
  stop.request_stop();
  Heights grid;
  const std::vector<double> rows{1, 2, 3};
  const auto result = envelope->fill(rows, 360, grid, stop.get_token());
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.reasons().front().id, "cancelled");
}

}  // namespace
}  // namespace pommel::mill
