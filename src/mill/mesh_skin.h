// The skin of a closed mesh, told as what a cutter can touch: triangles, convex edges, corners.
//
// A cutter that comes down from outside touches first
//   - inside a triangle, with the triangle's normal;
//   - or on a convex edge, with a normal between those of its two triangles. A reflex edge is never touched alone;
//   - or on a corner with three convex edges or more, with a normal in the convex cone of the triangles' around it. (Were
//     the corner rounded by averaging neighbouring slopes, every slope would be a mean of its triangles'.)
// So each of them needs to be looked at only where such a normal leads: an offset triangle, a wedge, a patch of a sphere.
// Where the reasoning does not hold (an edge that more than two triangles share, triangles thinner than rounding leaves a
// normal, corners whose triangles look to all sides) the element is `wild`: looked at wherever the cutter reaches it,
// which costs time and never accuracy, since every point of the body may claim its height.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <stop_token>
#include <vector>

#include "mill/mesh_cutter.h"

namespace pommel::mill {

using Corners = std::array<std::uint32_t, 3>;

struct MeshEdge {
  std::uint32_t a = 0, b = 0;          ///< points
  std::uint32_t left = 0, right = 0;   ///< triangles
  bool wild = false;
};

struct MeshCorner {
  std::uint32_t point = 0;
  std::uint32_t first = 0, count = 0;  ///< its triangles in MeshSkin::around
  bool wild = false;
};

struct MeshSkin {
  std::vector<Vector> points;
  std::vector<Corners> triangles;
  std::vector<Vector> normals;       ///< of the triangles, unit, outwards; zero where a triangle is too thin to have one
  std::vector<MeshEdge> edges;       ///< the convex ones
  std::vector<MeshCorner> corners;   ///< where a corner may be touched
  std::vector<std::uint32_t> around;

  /// Points in mm with the rotary axis along x; triangles counter-clockwise seen from outside. Points of the same place
  /// must be one point. Fails with
  ///   "mill.mesh": no triangles, over 20,000,000 of them, a number that is not finite or beyond 100 m, an index beyond
  ///                the points;
  ///   "mill.mesh-open": edges that no neighbour runs along the other way (holes, flipped triangles): how many, and where;
  ///   "mill.mesh-inside-out": the triangles look inwards;
  ///   "cancelled".
  /// Whether the skin runs through itself is not looked into.
  static Result<MeshSkin> of(std::span<const Vector> points, std::span<const Corners> triangles, std::stop_token stop);
};

inline Vector operator-(const Vector& p, const Vector& q) { return {p[0] - q[0], p[1] - q[1], p[2] - q[2]}; }
inline Vector operator+(const Vector& p, const Vector& q) { return {p[0] + q[0], p[1] + q[1], p[2] + q[2]}; }
inline Vector operator*(double f, const Vector& p) { return {f * p[0], f * p[1], f * p[2]}; }
inline double dot(const Vector& p, const Vector& q) { return p[0] * q[0] + p[1] * q[1] + p[2] * q[2]; }
inline Vector cross(const Vector& p, const Vector& q) {
  return {p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]};
}

}  // namespace pommel::mill
