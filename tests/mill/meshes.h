// Closed meshes for the tests, and the slow judge: the distance from a point to a mesh, and the height of any cutter over a
// triangle by searching it. Neither knows normals' cones, convex edges or windows.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <functional>
#include <limits>
#include <numbers>
#include <random>
#include <string>
#include <vector>

#include "mill/mesh_skin.h"

namespace pommel::mill::testing {

struct TestMesh {
  std::string name;
  std::vector<Vector> points;
  std::vector<Corners> triangles;
};

/// A skin round the axis from rings of points, closed by a point on each end. `radius(x, theta)`; `wander` moves the middle.
inline TestMesh lathe(const std::string& name, double length, int rings, int around,
                      const std::function<double(double, double)>& radius,
                      const std::function<Vector(double)>& wander = [](double) { return Vector{0, 0, 0}; }) {
  TestMesh m;
  m.name = name;
  const auto n = static_cast<std::uint32_t>(around);
  for (int i = 0; i < rings; ++i) {
    const double x = length * i / (rings - 1);
    const Vector c = wander(x);
    for (int k = 0; k < around; ++k) {
      const double t = 2 * std::numbers::pi * (k + 0.5 * (i % 2)) / around, r = radius(x, t);
      m.points.push_back({x, c[1] + r * std::cos(t), c[2] + r * std::sin(t)});
    }
  }
  const Vector head = wander(0), foot = wander(length);
  m.points.push_back({0, head[1], head[2]});
  m.points.push_back({length, foot[1], foot[2]});
  const auto top = static_cast<std::uint32_t>(m.points.size() - 2), bottom = top + 1;
  const auto last = static_cast<std::uint32_t>(rings - 1) * n;
  for (std::uint32_t k = 0; k < n; ++k) {
    const std::uint32_t next = (k + 1) % n;
    m.triangles.push_back({top, next, k});
    m.triangles.push_back({bottom, last + k, last + next});
    for (std::uint32_t i = 0; i + 1 < static_cast<std::uint32_t>(rings); ++i) {
      const std::uint32_t a = i * n + k, b = i * n + next, c = a + n, d = b + n;
      if (i % 2 == 0) {
        m.triangles.push_back({a, b, c});
        m.triangles.push_back({b, d, c});
      } else {
        m.triangles.push_back({a, d, c});
        m.triangles.push_back({a, b, d});
      }
    }
  }
  return m;
}

/// A box from (x0, y0, z0) to (x1, y1, z1).
inline TestMesh box(const std::string& name, const Vector& low, const Vector& high) {
  TestMesh m;
  m.name = name;
  for (int i = 0; i < 8; ++i)
    m.points.push_back({i & 1 ? high[0] : low[0], i & 2 ? high[1] : low[1], i & 4 ? high[2] : low[2]});
  m.triangles = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
                 {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
  return m;
}

/// Two bodies in one mesh.
inline TestMesh with(TestMesh m, const TestMesh& other) {
  const auto shift = static_cast<std::uint32_t>(m.points.size());
  m.points.insert(m.points.end(), other.points.begin(), other.points.end());
  for (const Corners& t : other.triangles) m.triangles.push_back({t[0] + shift, t[1] + shift, t[2] + shift});
  return m;
}

/// A ball finial carved with leaves that overhang, off the axis, beside others that are harder than they look.
inline std::vector<TestMesh> all_meshes() {
  std::vector<TestMesh> all;
  all.push_back(box("square bar", {0, -15, -15}, {80, 15, 15}));
  all.push_back(box("bar beside the axis", {0, 4, -9}, {60, 30, 12}));  // the axis runs outside the wood
  all.push_back(lathe("vase", 70, 29, 36, [](double x, double) { return 16 + 7 * std::sin(x / 8); }));
  all.push_back(lathe("leaves", 60, 41, 60, [](double x, double t) {
    return 14 + 4 * std::sin(x / 7) + 3 * std::cos(5 * t + x / 6) + std::cos(11 * t);
  }));
  all.push_back(lathe("wandering", 60, 31, 24, [](double, double t) { return 6 + std::cos(3 * t); },
                      [](double x) { return Vector{0, 8 * std::cos(x / 9), 8 * std::sin(x / 9)}; }));
  std::mt19937_64 random(3);
  all.push_back(lathe("rough rock", 50, 23, 26, [&](double, double) {
    return 15 + 4 * static_cast<double>(random() >> 11) * 0x1p-53;
  }));
  TestMesh rod = lathe("thin rod", 40, 9, 7, [](double, double) { return 1.1; });
  all.push_back(rod);
  all.push_back(with(box("two blocks, one beyond the other", {0, 3, -10}, {30, 22, 10}), box("", {10, -25, -6}, {45, -4, 14})));
  // an undercut: a mushroom whose cap hangs over along x
  TestMesh cap = lathe("overhanging cap", 40, 5, 20, [](double, double) { return 8; });
  for (std::size_t k = 0; k < 20; ++k) {
    for (int ring : {1, 2, 3}) {
      Vector& p = cap.points[static_cast<std::size_t>(ring) * 20 + k];
      const double grow = ring == 2 ? 2.6 : 1;
      const double x = ring == 1 ? 22 : ring == 2 ? 12 : 26;
      p = {x, p[1] * grow, p[2] * grow};
    }
  }
  all.push_back(cap);
  return all;
}

// ---- the judge -----------------------------------------------------------------------------------------------------

inline double length(const Vector& p) {
  return std::sqrt(dot(p, p));
}

inline double to_segment(const Vector& p, const Vector& a, const Vector& b) {
  const Vector u = b - a;
  const double uu = dot(u, u), t = uu > 0 ? std::clamp(dot(p - a, u) / uu, 0.0, 1.0) : 0;
  return length(p - (a + t * u));
}

inline double to_triangle(const Vector& p, const Vector& a, const Vector& b, const Vector& c) {
  double least = std::min({to_segment(p, a, b), to_segment(p, b, c), to_segment(p, c, a)});
  const Vector n = cross(b - a, c - a);
  const double nn = dot(n, n);
  if (nn == 0) return least;
  const bool over = dot(cross(b - a, p - a), n) >= 0 && dot(cross(c - b, p - b), n) >= 0 && dot(cross(a - c, p - c), n) >= 0;
  return over ? std::min(least, std::fabs(dot(p - a, n)) / std::sqrt(nn)) : least;
}

/// Distance from a point to the skin, for skins within `within` of it.
inline double to_mesh(const TestMesh& m, const Vector& p, double within) {
  double least = std::numeric_limits<double>::infinity();
  for (const Corners& t : m.triangles) {
    const Vector &a = m.points[t[0]], &b = m.points[t[1]], &c = m.points[t[2]];
    if (std::min({a[0], b[0], c[0]}) > p[0] + within || std::max({a[0], b[0], c[0]}) < p[0] - within) continue;
    least = std::min(least, to_triangle(p, a, b, c));
  }
  return least;
}

inline Vector centre_at(double x0, double c, double a) {
  return {x0, c * std::cos(a), c * std::sin(a)};
}

}  // namespace pommel::mill::testing
