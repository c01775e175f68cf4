#include "mill/mesh_elements.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace pommel::mill {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kInside = 1e-7;  // mm a touch may lie beside its triangle
// A triangle that leans less than this out of the cutter's own direction is a wall: its edges say all there is.
constexpr double kWall = 1e-9;
constexpr double kSlack = 1e-6;   // mm (and mm²) by which a bound is generous, so that rounding never drops an element

double across(const Vector& p, const Vector& q) {
  return p[1] * q[1] + p[2] * q[2];
}

Vector unit(const Vector& p) {
  return (1 / std::sqrt(dot(p, p))) * p;
}

/// Whether touches with the normals on the points may lie before and beyond the axis. The centre stands at p + rho n, its
/// direction is that of the touch or the opposite one, and the normal must rise towards the cutter.
void find_sides(Hull& hull, std::span<const Vector> points, std::span<const Vector> normals, double reach) {
  hull.front = hull.back = false;
  for (const Vector& p : points) {
    for (const Vector& n : normals) {
      const double rise = across(n, p);
      hull.front = hull.front || rise > -2 * reach;
      hull.back = hull.back || rise < 2e-6;
    }
  }
}

}  // namespace

MeshElements::MeshElements(MeshSkin skin, MeshCutter cutter) : skin_(std::move(skin)), cutter_(cutter) {}

Hull MeshElements::hull(std::size_t element) const {
  if (element < skin_.triangles.size()) return triangle_hull(element);
  element -= skin_.triangles.size();
  if (element < skin_.edges.size()) return edge_hull(skin_.edges[element]);
  return corner_hull(skin_.corners[element - skin_.edges.size()]);
}

// A cutter of any form, or a touch of any normal: within the cutter's radius of the element itself.
Hull MeshElements::wide_hull(std::span<const Vector> points, std::span<const Vector> normals, bool wild) const {
  Hull hull;
  for (const Vector& p : points) hull.points[static_cast<std::size_t>(hull.count++)] = p;
  hull.reach = cutter_.radius();
  find_sides(hull, points, normals, cutter_.radius());
  // n . p < 0 is not enough for a cutter that touches beside its axis: see the reach of the touch
  for (const Vector& p : points) {
    for (const Vector& n : normals) hull.back = hull.back || across(n, p) < 1.01 * cutter_.radius();
  }
  if (wild) hull.front = hull.back = true;
  return hull;
}

Hull MeshElements::triangle_hull(std::size_t i) const {
  const Vector& n = skin_.normals[i];
  if (dot(n, n) == 0) return {};  // its edges are wild
  const Corners& t = skin_.triangles[i];
  const std::array<Vector, 3> points{skin_.points[t[0]], skin_.points[t[1]], skin_.points[t[2]]};
  if (!cutter_.is_ball()) return wide_hull(points, {&n, 1}, false);
  Hull hull;
  hull.count = 3;
  for (std::size_t k = 0; k < 3; ++k) hull.points[k] = points[k] + cutter_.radius() * n;
  find_sides(hull, points, {&n, 1}, cutter_.radius());
  return hull;
}

Hull MeshElements::edge_hull(const MeshEdge& edge) const {
  const std::array<Vector, 2> points{skin_.points[edge.a], skin_.points[edge.b]};
  const Vector &n = skin_.normals[edge.left], &m = skin_.normals[edge.right];
  if (edge.wild) return wide_hull(points, std::array<Vector, 2>{n, m}, true);
  // the arc from n to m lies within the tangents at its ends and middle
  const Vector middle = unit(n + m);
  const std::array<Vector, 4> arc{n, (1 / (1 + dot(n, middle))) * (n + middle), (1 / (1 + dot(m, middle))) * (m + middle),
                                  m};
  if (!cutter_.is_ball()) return wide_hull(points, arc, false);
  Hull hull;
  hull.count = 8;
  for (std::size_t k = 0; k < 4; ++k) {
    hull.points[k] = points[0] + cutter_.radius() * arc[k];
    hull.points[k + 4] = points[1] + cutter_.radius() * arc[k];
  }
  find_sides(hull, points, arc, cutter_.radius());
  return hull;
}

Hull MeshElements::corner_hull(const MeshCorner& corner) const {
  const Vector& p = skin_.points[corner.point];
  const std::array<Vector, 2> points{p, p};
  Vector sum{0, 0, 0};
  for (std::uint32_t k = 0; k < corner.count; ++k) sum = sum + skin_.normals[skin_.around[corner.first + k]];
  bool wild = corner.wild || dot(sum, sum) < 1e-12;
  const Vector middle = wild ? Vector{1, 0, 0} : unit(sum);
  double least = 1;
  for (std::uint32_t k = 0; k < corner.count; ++k)
    least = std::min(least, dot(middle, skin_.normals[skin_.around[corner.first + k]]));
  // a cone that opens so wide gains nothing by being told
  wild = wild || least < 0.3;
  if (wild) return wide_hull(points, {}, true);
  // the cone's unit vectors rise along `middle` from `least` to 1: within the box around the frustum between these two
  Vector low = middle, high = middle;
  for (std::uint32_t k = 0; k < corner.count; ++k) {
    const Vector& n = skin_.normals[skin_.around[corner.first + k]];
    for (double rise : {least, 1.0}) {
      const Vector q = (rise / dot(n, middle)) * n;
      for (std::size_t c = 0; c < 3; ++c) low[c] = std::min(low[c], q[c]), high[c] = std::max(high[c], q[c]);
    }
  }
  std::array<Vector, 8> box;
  for (std::size_t k = 0; k < 4; ++k) {
    const double y = k == 0 || k == 3 ? low[1] : high[1], z = k < 2 ? low[2] : high[2];
    box[k] = {low[0], y, z};
    box[k + 4] = {high[0], y, z};
  }
  if (!cutter_.is_ball()) return wide_hull(points, box, false);
  Hull hull;
  hull.count = 8;
  for (std::size_t k = 0; k < 8; ++k) hull.points[k] = p + cutter_.radius() * box[k];
  find_sides(hull, points, box, cutter_.radius());
  return hull;
}

double MeshElements::height(std::size_t element, double x0, double cos, double sin) const {
  if (element < skin_.triangles.size()) return over_triangle(element, x0, cos, sin);
  element -= skin_.triangles.size();
  const auto sideways = [&](const Vector& p) { return p[2] * cos - p[1] * sin; };
  const auto upwards = [&](const Vector& p) { return p[1] * cos + p[2] * sin; };
  if (element >= skin_.edges.size()) {
    const Vector& p = skin_.points[skin_.corners[element - skin_.edges.size()].point];
    return cutter_.over_point(p[0] - x0, sideways(p), upwards(p));
  }
  const MeshEdge& edge = skin_.edges[element];
  const Vector &p = skin_.points[edge.a], along = skin_.points[edge.b] - p;
  const double length = std::sqrt(dot(along, along));
  if (length == 0) return cutter_.over_point(p[0] - x0, sideways(p), upwards(p));
  const Vector u = (1 / length) * along;
  return cutter_.over_edge(p[0] - x0, sideways(p), upwards(p), u[0], sideways(u), upwards(u), length);
}

MeshElements::Bound MeshElements::bound(std::size_t element) const {
  Bound bound;
  const auto add = [&](std::uint32_t v) { bound.points[static_cast<std::size_t>(bound.count++)] = skin_.points[v]; };
  if (element < skin_.triangles.size()) {
    for (std::uint32_t v : skin_.triangles[element]) add(v);
    return bound;
  }
  element -= skin_.triangles.size();
  if (element < skin_.edges.size()) {
    add(skin_.edges[element].a);
    add(skin_.edges[element].b);
  } else {
    add(skin_.corners[element - skin_.edges.size()].point);
  }
  return bound;
}

MeshElements::RowBound MeshElements::in_row(const Bound& bound, double x0) const {
  RowBound row{bound, 0, 0};
  double low = bound.points[0][0], high = low;
  for (int k = 1; k < bound.count; ++k) {
    low = std::min(low, bound.points[static_cast<std::size_t>(k)][0]);
    high = std::max(high, bound.points[static_cast<std::size_t>(k)][0]);
  }
  row.beside = std::max({0.0, low - x0, x0 - high});
  row.under = cutter_.reference() - cutter_.skin(std::min(row.beside, cutter_.radius())) + kSlack;
  return row;
}

bool MeshElements::cannot_reach(const RowBound& row, double cos, double sin, double height) const {
  double top = -kInfinity, left = kInfinity, right = -kInfinity;
  for (int k = 0; k < row.bound.count; ++k) {
    const Vector& p = row.bound.points[static_cast<std::size_t>(k)];
    const double sideways = p[2] * cos - p[1] * sin;
    top = std::max(top, p[1] * cos + p[2] * sin);
    left = std::min(left, sideways), right = std::max(right, sideways);
  }
  if (top + row.under <= height) return true;
  const double beside = std::max({0.0, left, -right});
  if (beside == 0) return false;
  const double s2 = row.beside * row.beside + beside * beside, radius = cutter_.radius();
  if (s2 > radius * radius + kSlack) return true;
  return top + cutter_.reference() - cutter_.skin(std::min(radius, std::sqrt(s2))) + kSlack <= height;
}

MeshElements::Plane MeshElements::plane(std::size_t triangle) const {
  const Vector& n = skin_.normals[triangle];
  return {n, dot(n, skin_.points[skin_.triangles[triangle][0]]) + cutter_.radius()};
}

double MeshElements::over_triangle(std::size_t i, double x0, double cos, double sin) const {
  const Vector& n = skin_.normals[i];
  const double nl = n[2] * cos - n[1] * sin, nh = n[1] * cos + n[2] * sin, nlat = std::hypot(n[0], nl);
  if (nh < kWall) return -kInfinity;
  const double d = dot(n, skin_.points[skin_.triangles[i][0]]);
  const MeshCutter::Support touch = cutter_.support(nlat, nh);
  const double beside = nlat > 0 ? touch.s / nlat : 0;
  const double x = x0 - beside * n[0], l = -beside * nl, h = (d - n[0] * x - nl * l) / nh;
  if (!holds(i, {x, h * cos - l * sin, h * sin + l * cos})) return -kInfinity;
  return (d + touch.value - n[0] * x0) / nh;
}

bool MeshElements::holds(std::size_t i, const Vector& p) const {
  const Corners& t = skin_.triangles[i];
  for (std::size_t k = 0; k < 3; ++k) {
    const Vector &from = skin_.points[t[k]], along = skin_.points[t[(k + 1) % 3]] - from;
    const double inwards = dot(cross(skin_.normals[i], along), p - from);
    if (inwards < 0 && inwards * inwards > kInside * kInside * dot(along, along)) return false;
  }
  return true;
}

}  // namespace pommel::mill
