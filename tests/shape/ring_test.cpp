// The field with treatments against its own definition, asked one maker at a time; the section's edges and area against sums.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/number.h"
#include "shape/crease.h"
#include "shape/ring.h"
#include "shape/treated_parts.h"

namespace pommel::shape {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kInfinity = std::numeric_limits<double>::infinity();

// --- the obvious model: the formulas of part.h, word for word, with the library's sine and cosine

double model_flute(const Flute& flute, double x, double theta, Side side) {
  double c = flute.centre.value(x, side), a = theta - flute.theta;
  if (!std::isfinite(c) || std::cos(a) <= 0 || std::fabs(c * std::sin(a)) > flute.radius) return kInfinity;
  return c * std::cos(a) - std::sqrt(flute.radius * flute.radius - c * c * std::sin(a) * std::sin(a));
}

double model_reeds(const Reeding& reeding, double x, double theta, Side side) {
  double c = reeding.centre.value(x, side);
  if (!std::isfinite(c)) return kInfinity;
  double least = kInfinity;
  for (int k = 0; k < reeding.count; ++k) {
    double a = std::remainder(theta - reeding.phase - k * 2 * kPi / reeding.count, 2 * kPi);
    if (std::fabs(a) > kPi / reeding.count + 1e-12) continue;
    least = std::min(least, c * std::cos(a) + std::sqrt(reeding.radius * reeding.radius - c * c * std::sin(a) * std::sin(a)));
  }
  return least;
}

double model_round(const Part& part, double x, double theta, Side side) {
  double r = part.outline.value(x, side);
  auto s = [](double u) { return u < 1 ? u * u * (3 - 2 * u) : 1; };
  for (const Twist& t : part.twists) {
    if (x < t.x0 || x > t.x1) continue;
    double f = s((x - t.x0) / t.fade0) * s((t.x1 - x) / t.fade1), psi = t.phase + 2 * kPi * (x - t.x0) / t.pitch;
    r -= t.depth * f * (1 - std::cos(t.starts * (theta - psi))) / 2;
  }
  return r;
}

double model(const Part& part, double x, double theta, Side side) {
  double least = model_round(part, x, theta, side);
  for (const Face& face : part.faces) {
    double c = std::cos(theta - face.phi);
    if (c > 1e-12) least = std::min(least, face.d.value(x, side) / c);
  }
  for (const Flute& flute : part.flutes) least = std::min(least, model_flute(flute, x, theta, side));
  for (const Reeding& reeding : part.reedings) least = std::min(least, model_reeds(reeding, x, theta, side));
  return least;
}

std::vector<Part> all_parts(int each) {
  std::vector<Part> parts;
  for (int make = 0; make < 16; ++make)
    for (int k = 0; k < each; ++k) parts.push_back(treated_part(static_cast<std::uint64_t>(100 * make + k), make));
  return parts;
}

TEST(Ring, RadiusIsItsDefinitionAtAHundredThousandPlaces) {
  const std::vector<Part> parts = all_parts(4);
  Random random(7);
  double worst = 0;
  int treated = 0;
  for (int i = 0; i < 100000; ++i) {
    const Part& part = parts[static_cast<std::size_t>(random.below(static_cast<int>(parts.size())))];
    double x = random.between(0, part.length), theta = random.between(-7, 7);
    Side side = random.below(2) == 0 ? Side::before : Side::after;
    double found = radius_at(part, x, theta, side), expected = model(part, x, theta, side);
    ASSERT_TRUE(std::isfinite(found));
    worst = std::max(worst, std::fabs(found - expected));
    Part plain = Part{};
    if (i % 50 == 0) {
      plain = part;
      plain.flutes.clear();
      plain.reedings.clear();
      plain.twists.clear();
      if (radius_at(plain, x, theta, side) > found + 1e-6) ++treated;
    }
  }
  EXPECT_LT(worst, 1e-9);  // a groove's edge is as steep as 1e4 at most
  EXPECT_GT(treated, 200);  // of 2000 looked at: the treatments are there at all
}

// Between two edges the same maker speaks: there R is smooth, and its value is that of the maker named.
TEST(Ring, ArcsNameTheMakerThatIsNearest) {
  for (const Part& part : all_parts(3)) {
    for (int i = 1; i < 40; ++i) {
      double x = part.length * i / 40;
      const Ring ring = ring_at(part, x, Side::after);
      const std::vector<RingArc> arcs = ring.arcs();
      ASSERT_FALSE(arcs.empty());
      double turn = 0;
      for (std::size_t k = 0; k < arcs.size(); ++k) {
        const RingArc& arc = arcs[k];
        turn += arc.theta1 - arc.theta0;
        EXPECT_GT(arc.theta1, arc.theta0);
        if (k + 1 < arcs.size()) {
          EXPECT_EQ(arc.theta1, arcs[k + 1].theta0);
        }
        for (int j = 1; j < 8; ++j) {
          double theta = arc.theta0 + (arc.theta1 - arc.theta0) * j / 8, own = 0;
          switch (arc.maker) {
            case Maker::round: own = model_round(part, x, theta, Side::after); break;
            case Maker::face: own = part.faces[arc.index].d.value(x, Side::after) / std::cos(theta - part.faces[arc.index].phi); break;
            case Maker::flute: own = model_flute(part.flutes[arc.index], x, theta, Side::after); break;
            case Maker::reed: own = model_reeds(part.reedings[arc.index], x, theta, Side::after); break;
          }
          EXPECT_NEAR(own, model(part, x, theta, Side::after), 1e-8) << x << " " << theta << "\n" << dump(part);
        }
      }
      EXPECT_NEAR(turn, 2 * kPi, 1e-9);
    }
  }
}

TEST(Ring, AGroovesEdgesStandWhereTheFormulaPutsThem) {
  Part part;
  part.length = 100;
  part.outline.pieces = {line_piece(0, 25, 100, 25)};
  part.flutes.push_back({1.2, 4, {{line_piece(0, 27, 100, 27)}}});
  double half = std::acos((25.0 * 25 + 27.0 * 27 - 16) / (2 * 25 * 27));
  const std::vector<double> at = crease_angles(part, 50, Side::after);
  ASSERT_EQ(at.size(), 2u);
  EXPECT_NEAR(at[0], 1.2 - half, 1e-14);
  EXPECT_NEAR(at[1], 1.2 + half, 1e-14);
  EXPECT_DOUBLE_EQ(radius_at(part, 50, 1.2), 23);
  // the lens that two circles have in common (Weisstein, Circle-Circle Intersection)
  double d = 27, r = 4, R = 25;
  double lens = r * r * std::acos((d * d + r * r - R * R) / (2 * d * r)) + R * R * std::acos((d * d + R * R - r * r) / (2 * d * R)) -
                std::sqrt((-d + r + R) * (d + r - R) * (d - r + R) * (d + r + R)) / 2;
  EXPECT_NEAR(section_area(part, 50, Side::after), kPi * 625 - lens, 1e-10);
}

// The slow way: R²/2 summed by midpoints between the edges, which the model itself knows nothing of.
TEST(Ring, AreaIsTheSumOfItsSectors) {
  for (const Part& part : all_parts(1)) {
    for (int i = 1; i < 16; ++i) {
      double x = part.length * i / 16, sum = 0;
      constexpr int kSteps = 200000 / 8;
      for (int j = 0; j < kSteps; ++j) {
        double r = model(part, x, (j + 0.5) * 2 * kPi / kSteps, Side::after);
        sum += r * r / 2 * (2 * kPi / kSteps);
      }
      double exact = section_area(part, x, Side::after);
      EXPECT_NEAR(exact, sum, 3e-7 * sum) << x << "\n" << dump(part);
    }
  }
}

// Volume by a route without edges: midpoints eased at the knots, of the area summed in the round by the model's own radii.
TEST(Treated, VolumeIsTheSumOfItsSections) {
  for (int make : {1, 2, 4, 3, 9, 15}) {
    const Part part = treated_part(static_cast<std::uint64_t>(900 + make), make);
    double sum = 0;
    const std::vector<double> at = knots(part);
    for (std::size_t k = 0; k + 1 < at.size(); ++k) {
      constexpr int kSteps = 200;
      double h = at[k + 1] - at[k], areas = 0, weights = 0;
      for (int i = 0; i < kSteps; ++i) {
        double s = (i + 0.5) / kSteps, weight = s * (1 - s);
        areas += weight * section_area(part, at[k] + h * s * s * (3 - 2 * s), Side::after);
        weights += weight;
      }
      sum += h * areas / weights;
    }
    EXPECT_NEAR(turned_volume(part), sum, 2e-6 * sum) << make;  // the midpoint rule's own error at 200 steps
  }
}

// A groove along a cylinder takes the same lens everywhere; reeds and a twist with nothing fading have closed forms too.
TEST(Treated, VolumesOfPrismsByClosedForm) {
  Part part;
  part.length = 200;
  part.outline.pieces = {line_piece(0, 25, 200, 25)};
  Part fluted = part;
  for (int k = 0; k < 12; ++k) fluted.flutes.push_back({k * kTurn / 12, 4, {{line_piece(0, 27, 200, 27)}}});
  double d = 27, r = 4, R = 25;
  double lens = r * r * std::acos((d * d + r * r - R * R) / (2 * d * r)) + R * R * std::acos((d * d + R * R - r * r) / (2 * d * R)) -
                std::sqrt((-d + r + R) * (d + r - R) * (d - r + R) * (d + r + R)) / 2;
  double volume = 200 * (kPi * 625 - 12 * lens);
  EXPECT_NEAR(turned_volume(fluted), volume, 1e-9 * volume);
  double edge = std::acos((R * R + d * d - r * r) / (2 * R * d)), bend = 2 * std::acos((d * d + r * r - R * R) / (2 * d * r));
  double around = R * (2 * kPi - 24 * edge) + 12 * r * bend;
  EXPECT_NEAR(turned_area(fluted), 200 * around + volume / 100, 1e-6 * 200 * around);
  // a quatrefoil-like ring of six circles through one another: six times (triangle to the centre's chord and the circle's sector)
  Part reeded = part;
  reeded.reedings.push_back({6, 0.1, 14, {{line_piece(0, 11, 200, 11)}}});
  double valley = 11 * std::cos(kPi / 6) + std::sqrt(14 * 14 - 121 * 0.25), beta = 2 * std::atan2(valley / 2, valley * std::cos(kPi / 6) - 11);
  double foil = 6 * (11 * valley / 2 + 14 * 14 * beta / 2);
  EXPECT_NEAR(turned_volume(reeded), 200 * foil, 1e-9 * 200 * foil);
  EXPECT_NEAR(turned_area(reeded), 200 * 6 * 14 * beta + 2 * foil, 1e-6 * 200 * 6 * 14 * beta);
  // 1/2 of the integral of (25 - 3 (1 - cos u))² is pi (22² + 9/2), the same at every x but in the fades
  Part twisted = part;
  twisted.twists.push_back({0, 200, 3, 90, 6, 40, 50, 0});
  EXPECT_NEAR(section_area(twisted, 100, Side::after), kPi * (22 * 22 + 4.5), 1e-9);
  auto s = [](double u) { return u < 1 ? u * u * (3 - 2 * u) : 1; };
  double sum = 0;
  for (int i = 0; i < 20000; ++i) {
    double x = (i + 0.5) / 100, f = 3 * s(x / 40) * s((200 - x) / 50);
    sum += kPi * ((25 - f) * (25 - f) + f * f / 2) / 100;
  }
  EXPECT_NEAR(turned_volume(twisted), sum, 1e-8 * sum);
}

// Skin by the model: small triangles' area over x and theta.
TEST(Treated, SkinIsTheSumOfItsPatches) {
  for (int make : {0, 1, 2, 4}) {
    const Part part = treated_part(static_cast<std::uint64_t>(50 + make), make);
    constexpr int kRound = 720;
    double sum = section_area(part, 0, Side::after) + section_area(part, part.length, Side::before);
    const std::vector<double> at = knots(part);
    for (std::size_t k = 0; k + 1 < at.size(); ++k) {
      const int steps = 8 + static_cast<int>((at[k + 1] - at[k]) / 1.5);
      for (int i = 0; i < steps; ++i) {
        double x0 = at[k] + (at[k + 1] - at[k]) * i / steps, x1 = at[k] + (at[k + 1] - at[k]) * (i + 1) / steps;
        const Ring a = ring_at(part, x0, Side::after), b = ring_at(part, x1, Side::before);
        auto point = [&](const Ring& ring, double x, int j) {
          double t = j * 2 * kPi / kRound, r = ring.radius(t);
          return std::array<double, 3>{x, r * std::cos(t), r * std::sin(t)};
        };
        auto triangle = [](const auto& p, const auto& q, const auto& s) {
          double u[3], v[3];
          for (int n = 0; n < 3; ++n) {
            u[n] = q[n] - p[n];
            v[n] = s[n] - p[n];
          }
          return std::hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / 2;
        };
        for (int j = 0; j < kRound; ++j) {
          auto p = point(a, x0, j), q = point(a, x0, j + 1), s = point(b, x1, j), t = point(b, x1, j + 1);
          sum += triangle(p, q, s) + triangle(q, t, s);
        }
      }
      // walls at the knots, by rays
      if (k > 0) {
        for (int j = 0; j < kRound; ++j) {
          double r0 = radius_at(part, at[k], j * 2 * kPi / kRound, Side::before), r1 = radius_at(part, at[k], j * 2 * kPi / kRound, Side::after);
          sum += std::fabs(r0 * r0 - r1 * r1) / 2 * 2 * kPi / kRound;
        }
      }
    }
    EXPECT_NEAR(turned_area(part), sum, 2e-3 * sum) << make;
  }
}

TEST(Treated, TheCoreIsTheLeastRadiusAnywhere) {
  for (const Part& part : all_parts(2)) {
    const Core core = least_radius(part);
    double found = kInfinity;
    for (int i = 0; i <= 300; ++i) {
      const Ring ring = ring_at(part, part.length * i / 300, Side::after);
      found = std::min(found, ring.least());
      for (int j = 0; j < 90; ++j) found = std::min(found, ring.radius(j * 2 * kPi / 90));
    }
    EXPECT_LE(core.radius, found + 1e-9);
    EXPECT_GE(core.radius, found * 0.97);
    EXPECT_NEAR(std::min(ring_at(part, core.x, Side::after).least(), ring_at(part, core.x, Side::before).least()), core.radius, 1e-9);
  }
}

}  // namespace
}  // namespace pommel::shape
