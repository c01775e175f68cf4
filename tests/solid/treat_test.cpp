// Flutes, reeds and twists as boundaries, against the radial field: by volume and along rays. The field is the other route.
#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <numbers>
#include <random>

#include "base/diagnostic.h"
#include "solid/legs.h"
#include "solid/mesh.h"
#include "solid/solid.h"
#include "solid/step.h"

namespace pommel::solid {
namespace {

using namespace testing;
using std::numbers::pi;

// A column of radius r0 to r1 between two blocks of `half` square (none when 0), 60 mm each.
shape::Part column(double r0, double r1, double length, double half, bool curved = false) {
  Turning t(r0);
  if (half > 0) t = Turning(0), t.clear(60, r0);
  else t.cylinder(60);
  if (curved) t.cubic(length, r1, 0.02, -0.03);
  else t.line(length, r1);
  if (half > 0) t.clear(60, 1);
  else t.cylinder(60);
  return part_of(t, half > 0 ? 4 : 0, half);
}

// The centre line of a flute `depth` deep under a straight or curved skin, with straight run-outs of `out` mm at both ends.
shape::Profile centre(const shape::Part& part, double x0, double x1, double radius, double depth, double out) {
  const auto skin = [&](double x) { return part.outline.value(x, shape::Side::after); };
  const double a = x0 + out, b = x1 - out, low = radius - depth, high = radius + 0.5;
  shape::Profile line;
  line.pieces = {shape::clear_piece(0, x0), shape::line_piece(x0, skin(x0) + high, a, skin(a) + low),
                 shape::line_piece(a, skin(a) + low, b, skin(b) + low), shape::line_piece(b, skin(b) + low, x1, skin(x1) + high),
                 shape::clear_piece(x1, part.length)};
  return line;
}

void flute(shape::Part& part, int count, double x0, double x1, double radius, double depth, double out) {
  for (int i = 0; i < count; ++i) part.flutes.push_back({2 * pi * i / count, radius, centre(part, x0, x1, radius, depth, out)});
}

void reed(shape::Part& part, int count, double x0, double x1, double below) {
  // crowns `below` mm under the round between run-outs
  const double r0 = part.outline.value(x0 + 8, shape::Side::after), r1 = part.outline.value(x1 - 8, shape::Side::after);
  const double radius = 1.15 * std::max(r0, r1) * std::sin(pi / count);
  shape::Profile line;
  const double up = radius + 1;
  const auto c = [&](double r) { return r - below - radius; };
  line.pieces = {shape::clear_piece(0, x0), shape::line_piece(x0, c(r0) + up, x0 + 8, c(r0)), shape::line_piece(x0 + 8, c(r0), x1 - 8, c(r1)),
                 shape::line_piece(x1 - 8, c(r1), x1, c(r1) + up), shape::clear_piece(x1, part.length)};
  part.reedings.push_back({count, 0.1, radius, line});
}

double worst_radius(const shape::Part& part, const Solid& solid, int rays, unsigned seed) {
  Probe probe(solid);
  std::mt19937 engine(seed);
  const auto between = [&](double a, double b) { return a + (b - a) * (static_cast<double>(engine()) / 4294967296.0); };
  double worst = 0;
  for (int i = 0; i < rays; ++i) {
    const double x = between(60.5, part.length - 60.5), theta = between(0, 2 * pi);
    const std::optional<double> found = probe.radius(x, theta);
    if (!found) return INFINITY;
    double off = std::abs(*found - shape::radius_at(part, x, theta));
    // the upright side of a groove: its true point lies on the skin, the ray sees a step
    if (off > 0.005) {
      const double r = shape::radius_at(part, x, theta);
      off = std::min(off, std::abs(probe.distance({x, r * std::cos(theta), r * std::sin(theta)})));
    }
    worst = std::max(worst, off);
  }
  return worst;
}

void expect_true(const shape::Part& part, const char* what, double volume_gate = 1e-4) {
  const auto since = std::chrono::steady_clock::now();
  const Result<Solid> solid = turned(part);
  const std::chrono::duration<double, std::milli> ms = std::chrono::steady_clock::now() - since;
  ASSERT_TRUE(solid.ok()) << what << "\n" << render(solid.reasons());
  const double wanted = shape::turned_volume(part), off = std::abs(volume(*solid) - wanted) / wanted;
  const double radius = worst_radius(part, *solid, 300, 1);
  EXPECT_LE(off, volume_gate) << what;
  EXPECT_LE(radius, 0.02) << what;
  std::printf("%s: %.0f ms, %d faces, volume %.1e, radius %.1e mm\n", what, ms.count(), census(*solid).faces, off, radius);
}

TEST(Treated, FlutesOnACylinderAConeAndACurve) {
  const struct {
    const char* what;
    double r1;
    bool curved;
  } cases[] = {{"eight flutes, cylinder", 25, false}, {"eight flutes, cone", 19, false}, {"eight flutes, curved", 19, true}};
  for (const auto& [what, r1, curved] : cases) {
    shape::Part part = column(25, r1, 200, 0, curved);
    flute(part, 8, 80, 240, 4, 2.2, 12);
    expect_true(part, what);
  }
}

TEST(Treated, FlutesOnTheFlatsOfASquareColumn) {
  shape::Part part = column(60, 60, 200, 22);
  part.outline = Turning(0).clear(320, 1).profile();
  for (int i = 0; i < 4; ++i) {
    shape::Profile line;
    line.pieces = {shape::clear_piece(0, 80), shape::line_piece(80, 27, 100, 24), shape::line_piece(100, 24, 220, 24),
                   shape::line_piece(220, 24, 240, 27), shape::clear_piece(240, 320)};
    part.flutes.push_back({i * pi / 2, 4, line});
  }
  expect_true(part, "flutes on four flats");
}

TEST(Treated, Reeds) {
  for (const double below : {0.0, 0.4}) {
    shape::Part part = column(22, below == 0 ? 17 : 22, 180, 0);
    reed(part, 12, 75, 225, below);
    expect_true(part, below == 0 ? "reeds, crowns at the round" : "reeds below the round");
  }
}

TEST(Treated, Twists) {
  for (const int starts : {1, 2, 3}) {
    shape::Part part = column(20, starts == 3 ? 15 : 20, 200, starts == 2 ? 24 : 0, starts == 3);
    part.twists.push_back({70, 245, starts, starts == 2 ? -70.0 : 70.0, 5, 15, 20, 0.4});
    expect_true(part, "twist", 1e-3);
  }
}

TEST(Treated, WithMortisesMeshedWrittenAndReadBack) {
  shape::Part part = column(22, 18, 200, 26);
  flute(part, 6, 80, 240, 3, 1.4, 10);
  shape::Mortise m;
  m.id = "rail", m.x0 = 10, m.x1 = 50, m.t0 = -4, m.t1 = 4, m.depth = 20;
  part.mortises.push_back(m);
  const Result<Solid> round = turned(part);
  ASSERT_TRUE(round.ok()) << render(round.reasons());
  const Result<Solid> solid = jointed(*round, part);
  ASSERT_TRUE(solid.ok()) << render(solid.reasons());
  EXPECT_NEAR(volume(*round) - volume(*solid), 40 * 8 * 20, 0.5);
  const Result<Mesh> skin = mesh(*solid, 0.1);
  ASSERT_TRUE(skin.ok()) << render(skin.reasons());
  EXPECT_NEAR(signed_volume(*skin), volume(*solid), 0.003 * volume(*solid));
  const Result<std::string> text = write_step({{"post", *solid}}, {});
  ASSERT_TRUE(text.ok());
  const auto back = read_step(*text);
  ASSERT_TRUE(back.ok());
  ASSERT_EQ(back->size(), 1u);
  EXPECT_NEAR(volume(back->front().solid), volume(*solid), 1e-5 * volume(*solid));
}

TEST(Treated, WhatCannotBeDrawnIsRefused) {
  shape::Part deep = column(25, 25, 200, 0);
  deep.flutes.push_back({0, 12, {{shape::clear_piece(0, 80), shape::line_piece(80, 12.2, 240, 12.2), shape::clear_piece(240, 320)}}});
  EXPECT_FALSE(turned(deep).ok());
  shape::Part stepped = part_of(Turning(25).cylinder(100).wall(20).cylinder(100));
  stepped.twists.push_back({50, 150, 2, 60, 4, 10, 10, 0});
  EXPECT_FALSE(turned(stepped).ok());
}

// Any treated column from a seed: one of flutes, reeds, twist.
shape::Part random_treated(unsigned seed) {
  std::mt19937 engine(seed);
  const auto between = [&](double a, double b) { return a + (b - a) * (static_cast<double>(engine()) / 4294967296.0); };
  const double r0 = between(14, 32), r1 = between(0.7, 1.0) * r0;
  const bool curved = engine() % 3 == 0, square = engine() % 2 == 0;
  shape::Part part = column(r0, r1, between(120, 400), square ? r0 * between(1.02, 1.3) : 0, curved);
  const double x0 = between(62, 75), x1 = part.length - between(62, 75);
  switch (seed % 3) {
    case 0: {
      const int count = 3 + static_cast<int>(engine() % 10);
      const double width = 1.4 * r1 * std::sin(pi / count), radius = std::min(between(0.3, 0.6) * width, 6.0);
      flute(part, count, x0, x1, radius, between(0.3, 0.9) * radius, between(6, 18));
      break;
    }
    case 1:
      part = column(r0, r1, part.length - 120, square ? r0 * 1.1 : 0);
      reed(part, 6 + static_cast<int>(engine() % 12), x0, x1, engine() % 2 ? 0 : between(0.1, 0.6));
      break;
    default:
      part.twists.push_back({x0, x1, 1 + static_cast<int>(engine() % 3), (engine() % 2 ? 1 : -1) * between(40, 120),
                             between(0.1, 0.3) * r1, between(8, 20), between(8, 20), between(0, 6)});
  }
  return part;
}

// Three in the everyday run, one of each kind; POMMEL_TREATED_SWEEP=200 runs as many as are asked for.
TEST(Treated, Swept) {
  const char* asked = std::getenv("POMMEL_TREATED_SWEEP");
  const int parts = asked ? std::atoi(asked) : 3;
  int refused = 0;
  double worst_volume = 0, worst = 0, slowest = 0;
  for (int seed = 0; seed < parts; ++seed) {
    const shape::Part part = random_treated(static_cast<unsigned>(seed));
    if (!shape::problems(part).empty()) { ++refused; continue; }
    const auto since = std::chrono::steady_clock::now();
    const Result<Solid> solid = turned(part);
    slowest = std::max(slowest, std::chrono::duration<double>(std::chrono::steady_clock::now() - since).count());
    if (!solid.ok()) {
      ADD_FAILURE() << "seed " << seed << " " << render(solid.reasons());
      continue;
    }
    const double wanted = shape::turned_volume(part);
    worst_volume = std::max(worst_volume, std::abs(volume(*solid) - wanted) / wanted);
    worst = std::max(worst, worst_radius(part, *solid, asked ? 200 : 60, static_cast<unsigned>(seed)));
  }
  EXPECT_LE(worst_volume, 1e-4);
  EXPECT_LE(worst, 0.02);
  EXPECT_LE(refused, parts / 3);
  std::printf("treated: %d parts, %d unsound, worst volume %.1e, radius %.1e mm, slowest %.2f s\n", parts, refused, worst_volume, worst, slowest);
}

}  // namespace
}  // namespace pommel::solid
