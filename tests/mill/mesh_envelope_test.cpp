#include "mill/mesh_envelope.h"

#include <gtest/gtest.h>

#include "mill/meshes.h"

namespace pommel::mill {
namespace {

using testing::all_meshes;
using testing::centre_at;
using testing::TestMesh;
using testing::to_mesh;

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kTrue = 0.00005;  // mm, both ways, of single positions: a tenth of what is promised

shop::Cutter ball(double radius) {
  shop::Cutter c;
  c.id = "ball";
  c.diameter = 2 * radius;
  return c;
}

Result<MeshEnvelope> envelope_of(const TestMesh& m, const shop::Cutter& cutter) {
  return MeshEnvelope::of(m.points, m.triangles, cutter);
}

struct Place {
  double x = 0, a = 0;
};

double greatest_x(const TestMesh& m) {
  double most = -kInfinity;
  for (const Vector& p : m.points) most = std::max(most, p[0]);
  return most;
}

// Half of the places anywhere, half so that the ball lies near an edge or a corner.
std::vector<Place> places(const TestMesh& m, double radius, int count, unsigned seed) {
  std::mt19937_64 random(seed);
  auto between = [&](double a, double b) { return a + (b - a) * static_cast<double>(random() >> 11) * 0x1p-53; };
  const double last = greatest_x(m);
  std::vector<Place> found;
  for (int i = 0; i < count; ++i) {
    Place p{between(-radius, last + radius), between(-kTurn, kTurn)};
    if (i % 2 == 1) {
      const Corners& t = m.triangles[random() % m.triangles.size()];
      const double along = between(0, 1);
      const Vector q = m.points[t[0]] + along * (m.points[t[1]] - m.points[t[0]]);
      const double reach = i % 4 == 1 ? radius : 0.05;
      p = {q[0] + between(-reach, reach), std::atan2(q[2], q[1]) + between(-reach, reach) / std::max(1.0, std::hypot(q[1], q[2]))};
    }
    found.push_back(p);
  }
  return found;
}

struct Verdict {
  double gouge = 0, excess = 0;
  Place gouge_at, excess_at;
  int touched = 0;
};

// The ball at its height must touch, and nowhere above may it cut in.
Verdict judge(const TestMesh& m, double rho, const std::vector<Place>& at, const std::function<double(Place)>& height) {
  Verdict v;
  for (const Place& p : at) {
    const double c = height(p);
    const auto miss = [&](double z) { return to_mesh(m, centre_at(p.x, z, p.a), 1.01 * rho) - rho; };
    std::vector<double> above{0.3, 1, 4, 9, 20, 31};
    if (c == -kInfinity) {
      for (double z = -35; z <= 35; z += rho / 2) {
        if (-miss(z) > v.gouge) v.gouge = -miss(z), v.gouge_at = p;
      }
      continue;
    }
    ++v.touched;
    const double here = miss(c);
    if (here > v.excess) v.excess = here, v.excess_at = p;
    double least = here;
    for (double rise : above) least = std::min(least, miss(c + rise * rho / 3));
    if (-least > v.gouge) v.gouge = -least, v.gouge_at = p;
  }
  return v;
}

std::string text(const Place& p) {
  return "at x " + std::to_string(p.x) + ", a " + std::to_string(p.a);
}

class EveryMesh : public ::testing::TestWithParam<int> {
 protected:
  TestMesh mesh() const { return all_meshes()[static_cast<std::size_t>(GetParam())]; }
};

TEST_P(EveryMesh, BallTouchesAndNeverGouges) {
  const TestMesh m = mesh();
  for (double rho : {0.8, 3.175, 8.0}) {
    const auto envelope = envelope_of(m, ball(rho));
    ASSERT_TRUE(envelope.ok()) << render(envelope.reasons());
    const auto at = places(m, rho, 400, 11);
    const Verdict v = judge(m, rho, at, [&](Place p) { return envelope->height(p.x, p.a); });
    EXPECT_GE(v.touched, 100) << m.name;
    EXPECT_LE(v.gouge, kTrue) << m.name << " rho " << rho << ' ' << text(v.gouge_at);
    EXPECT_LE(v.excess, kTrue) << m.name << " rho " << rho << ' ' << text(v.excess_at);
  }
}

TEST_P(EveryMesh, GridSaysTheSame) {
  const TestMesh m = mesh();
  for (const double rho : {0.8, 3.175}) {
    const auto envelope = envelope_of(m, ball(rho));
    ASSERT_TRUE(envelope.ok());
    std::vector<double> rows;
    for (const Place& p : places(m, rho, 120, 12)) rows.push_back(p.x);
    std::sort(rows.begin(), rows.end());
    Heights grid;
    ASSERT_TRUE(envelope->fill(rows, 719, grid).ok());
    std::vector<Place> at;
    std::vector<double> heights;
    std::mt19937_64 random(5);
    for (std::size_t i = 0; i < rows.size(); ++i) {
      for (int k = 0; k < 4; ++k) {
        const int j = static_cast<int>(random() % 719);
        at.push_back({rows[i], grid.angle(j)});
        heights.push_back(grid.at(i, j));
      }
    }
    std::size_t next = 0;
    const Verdict v = judge(m, rho, at, [&](Place) { return heights[next++]; });
    EXPECT_LE(v.gouge, kTrue) << m.name << " rho " << rho << ' ' << text(v.gouge_at);
    EXPECT_LE(v.excess, kTrue) << m.name << " rho " << rho << ' ' << text(v.excess_at);
  }
}

TEST_P(EveryMesh, QuarterTurnsAndMirrorsTurnAndMirrorTheHeights) {
  const TestMesh m = mesh();
  TestMesh turned = m, mirrored = m;
  for (Vector& p : turned.points) p = {p[0], -p[2], p[1]};
  for (Vector& p : mirrored.points) p[2] = -p[2];
  for (Corners& t : mirrored.triangles) std::swap(t[1], t[2]);
  const auto plain = envelope_of(m, ball(3)), other = envelope_of(turned, ball(3)), third = envelope_of(mirrored, ball(3));
  ASSERT_TRUE(plain.ok() && other.ok() && third.ok());
  int compared = 0;
  for (const Place& p : places(m, 3, 300, 14)) {
    const double c = plain->height(p.x, p.a);
    if (c == -kInfinity) continue;
    ++compared;
    EXPECT_NEAR(other->height(p.x, p.a + kTurn / 4), c, 1e-5) << m.name << ' ' << text(p);
    EXPECT_NEAR(third->height(p.x, -p.a), c, 1e-5) << m.name << ' ' << text(p);
  }
  EXPECT_GT(compared, 100);
}

INSTANTIATE_TEST_SUITE_P(MeshEnvelope, EveryMesh, ::testing::Range(0, static_cast<int>(all_meshes().size())));


// The judge must be able to fail.
TEST(MeshEnvelopeFaults, AreSeenByTheSameJudge) {
  const TestMesh m = all_meshes()[3];
  const auto envelope = envelope_of(m, ball(3.175));
  ASSERT_TRUE(envelope.ok());
  const auto at = places(m, 3.175, 200, 11);
  EXPECT_GT(judge(m, 3.175, at, [&](Place p) { return envelope->height(p.x, p.a) - 0.02; }).gouge, 0.001);
  EXPECT_GT(judge(m, 3.175, at, [&](Place p) { return envelope->height(p.x, p.a) + 0.02; }).excess, 0.001);
  // a ball a little too small
  const auto small = envelope_of(m, ball(3.165));
  EXPECT_GT(judge(m, 3.175, at, [&](Place p) { return small->height(p.x, p.a) + 0.01; }).gouge, 0.001);
}

// ---- other cutters: the greatest height over each triangle, searched -----------------------------------------------

// t(s) of each form, written again from the words in shop/shop.h.
double skin_of(const shop::Cutter& c, double s) {
  using Form = shop::Cutter::Form;
  const double radius = c.diameter / 2;
  const double disc = c.form == Form::flat ? radius : c.form == Form::bull_nose ? radius - c.tip_radius : c.tip_flat / 2;
  const double corner = c.form == Form::ball ? radius : c.form == Form::flat ? 0 : c.tip_radius;
  const double end = disc + corner * std::cos(c.half_angle);
  if (s <= disc) return 0;
  const double in = std::min(s, end) - disc;
  double t = corner - std::sqrt(std::max(0.0, corner * corner - in * in));
  if (s > end && c.half_angle > 0) t += (s - end) / std::tan(c.half_angle);
  return t;
}

template <class F>
double golden_maximum(const F& f, double a, double b) {
  constexpr double g = 0.6180339887498949;
  const double fa = f(a), fb = f(b);
  double p = b - g * (b - a), q = a + g * (b - a), fp = f(p), fq = f(q);
  for (int i = 0; i < 36; ++i) {
    if (fp > fq) {
      b = q, q = p, fq = fp, p = b - g * (b - a), fp = f(p);
    } else {
      a = p, p = q, fp = fq, q = a + g * (b - a), fq = f(q);
    }
  }
  return std::max({fp, fq, fa, fb});
}

// Tip height, by search: concave over each triangle; outside the cutter's radius a steep slope leads back.
double tip_by_search(const TestMesh& m, const shop::Cutter& c, Place at) {
  const double radius = c.diameter / 2, cos = std::cos(at.a), sin = std::sin(at.a);
  double best = -kInfinity;
  for (const Corners& t : m.triangles) {
    std::array<Vector, 3> q;
    for (std::size_t k = 0; k < 3; ++k) {
      const Vector& p = m.points[t[k]];
      q[k] = {p[0] - at.x, p[2] * cos - p[1] * sin, p[1] * cos + p[2] * sin};
    }
    const auto beyond = [&](std::size_t axis, double side) {
      return side * q[0][axis] > radius && side * q[1][axis] > radius && side * q[2][axis] > radius;
    };
    if (beyond(0, 1) || beyond(0, -1) || beyond(1, 1) || beyond(1, -1)) continue;
    if (std::max({q[0][2], q[1][2], q[2][2]}) <= best) continue;
    const auto value = [&](double u, double v) {
      const Vector p = q[0] + u * (q[1] - q[0]) + v * (q[2] - q[0]);
      const double s = std::hypot(p[0], p[1]);
      return s > radius ? p[2] - skin_of(c, radius) - 1e4 * (s - radius) : p[2] - skin_of(c, s);
    };
    best = std::max(best, golden_maximum([&](double u) {
      return golden_maximum([&](double v) { return value(u, v); }, 0, 1 - u);
    }, 0, 1));
  }
  return best;
}

std::vector<shop::Cutter> other_cutters() {
  using Form = shop::Cutter::Form;
  std::vector<shop::Cutter> all(5);
  all[0].id = "flat", all[0].form = Form::flat, all[0].diameter = 6;
  all[1].id = "bull nose", all[1].form = Form::bull_nose, all[1].diameter = 8, all[1].tip_radius = 1.5;
  all[2].id = "tapered ball", all[2].form = Form::tapered_ball, all[2].diameter = 6, all[2].tip_radius = 1, all[2].half_angle = 0.3;
  all[3].id = "vee", all[3].form = Form::vee, all[3].diameter = 10, all[3].half_angle = 0.785;
  all[4].id = "blunt vee", all[4].form = Form::vee, all[4].diameter = 9, all[4].half_angle = 0.5, all[4].tip_flat = 0.6, all[4].tip_radius = 0.4;
  return all;
}

TEST(MeshEnvelope, OtherCuttersStandWhereASearchPutsThem) {
  for (std::size_t which : {0u, 1u, 4u, 5u, 7u, 8u}) {
    const TestMesh m = all_meshes()[which];
    for (const shop::Cutter& c : other_cutters()) {
      const auto envelope = envelope_of(m, c);
      ASSERT_TRUE(envelope.ok()) << render(envelope.reasons());
      Heights grid;
      int touched = 0;
      for (const Place& p : places(m, c.diameter / 2, 10, 21)) {
        const double found = envelope->height(p.x, p.a) - envelope->reference(), sought = tip_by_search(m, c, p);
        if (sought < -100) continue;  // only walls within the last hair of the radius
        ++touched;
        EXPECT_GE(found, sought - 1e-6) << m.name << ' ' << c.id << ' ' << text(p);
        EXPECT_LE(found, sought + 2e-3) << m.name << ' ' << c.id << ' ' << text(p);
        const std::vector<double> rows{p.x};
        ASSERT_TRUE(envelope->fill(rows, 90, grid).ok());
        for (int j : {0, 17, 44, 71}) {
          const double one = envelope->height(p.x, grid.angle(j)), cell = grid.at(0, j);
          EXPECT_TRUE(one == cell || std::fabs(one - cell) < 1e-5) << m.name << ' ' << c.id << ' ' << one << ' ' << cell;
        }
      }
      EXPECT_GT(touched, 5) << m.name;
    }
  }
}

// A grid passes over what cannot raise a cell; a single position asks everything.
TEST(MeshEnvelope, GridsPassOverNothingThatCounts) {
  std::vector<shop::Cutter> cutters = other_cutters();
  cutters.push_back(ball(3));
  for (std::size_t which : {0u, 3u, 5u, 8u}) {
    const TestMesh m = all_meshes()[which];
    for (const shop::Cutter& c : cutters) {
      const auto envelope = envelope_of(m, c);
      ASSERT_TRUE(envelope.ok());
      std::vector<double> rows;
      for (double at : {-0.01, 0.2, 0.53, 0.99}) rows.push_back(at * greatest_x(m));
      Heights grid;
      ASSERT_TRUE(envelope->fill(rows, 90, grid).ok());
      int touched = 0;
      for (std::size_t i = 0; i < rows.size(); ++i) {
        for (int j = 0; j < 90; ++j) {
          const double one = envelope->height(rows[i], grid.angle(j)), cell = grid.at(i, j);
          touched += one > -kInfinity;
          EXPECT_TRUE(one == cell || std::fabs(one - cell) < 1e-5) << m.name << ' ' << c.id << ' ' << text({rows[i], grid.angle(j)}) << ": " << one << ' ' << cell;
        }
      }
      EXPECT_GT(touched, 200) << m.name << ' ' << c.id;
    }
  }
}

TEST(MeshEnvelope, RefusesWhatItCannotRoll) {
  const auto id = [](const Result<MeshEnvelope>& r) { return r.ok() ? std::string("ok") : r.reasons().front().id; };
  const TestMesh whole = all_meshes()[0];
  TestMesh open = whole, out = whole, far = whole, astray = whole, flipped = whole;
  open.triangles.pop_back();
  for (Corners& t : out.triangles) std::swap(t[0], t[1]);
  far.points[0][1] = std::nan("");
  astray.triangles[0][0] = 8;
  std::swap(flipped.triangles[3][0], flipped.triangles[3][1]);
  EXPECT_EQ(id(envelope_of(whole, ball(3))), "ok");
  EXPECT_EQ(id(envelope_of(open, ball(3))), "mill.mesh-open");
  EXPECT_EQ(id(envelope_of(flipped, ball(3))), "mill.mesh-open");
  EXPECT_EQ(id(envelope_of(out, ball(3))), "mill.mesh-inside-out");
  EXPECT_EQ(id(envelope_of(far, ball(3))), "mill.mesh");
  EXPECT_EQ(id(envelope_of(astray, ball(3))), "mill.mesh");
  EXPECT_EQ(id(envelope_of({}, ball(3))), "mill.mesh");
  EXPECT_EQ(id(envelope_of(whole, ball(std::nan("")))), "mill.cutter");
  std::stop_source stop;
  stop.request_stop();
  EXPECT_EQ(id(MeshEnvelope::of(whole.points, whole.triangles, ball(3), stop.get_token())), "cancelled");
}

}  // namespace
}  // namespace pommel::mill
