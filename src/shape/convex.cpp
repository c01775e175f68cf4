#include "shape/convex.h"

#include <algorithm>
#include <cmath>

namespace pommel::shape {
namespace {

double cross(const Point& p, const Point& q) {
  return p.y * q.z - p.z * q.y;
}
double dot(const Point& p, const Point& q) {
  return p.y * q.y + p.z * q.z;
}

double area_of(const Convex& polygon) {
  double sum = 0;
  for (std::size_t i = 0; i < polygon.size(); ++i) sum += cross(polygon[i], polygon[(i + 1) % polygon.size()]);
  return sum / 2;
}

// Signed area of the triangle origin-p-q inside the circle: walk p to q through its crossings with the circle; a stretch
// inside counts as a triangle, a stretch outside as a sector.
double wedge_in_circle(const Point& p, const Point& q, double r) {
  Point along{q.y - p.y, q.z - p.z};
  double a = dot(along, along), b = dot(p, along), c = dot(p, p) - r * r;
  std::vector<Point> stops{p};
  double disc = b * b - a * c;
  if (a > 0 && disc > 0) {
    for (double t : {(-b - std::sqrt(disc)) / a, (-b + std::sqrt(disc)) / a}) {
      if (t > 0 && t < 1) stops.push_back({p.y + t * along.y, p.z + t * along.z});
    }
  }
  stops.push_back(q);
  double sum = 0;
  for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
    const Point &u = stops[i], &v = stops[i + 1];
    Point middle{(u.y + v.y) / 2, (u.z + v.z) / 2};
    bool inside = dot(middle, middle) <= r * r;
    sum += inside ? cross(u, v) / 2 : r * r / 2 * std::atan2(cross(u, v), dot(u, v));
  }
  return sum;
}

}  // namespace

Convex clipped(const Convex& polygon, double ny, double nz, double d) {
  Convex kept;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Point &p = polygon[i], &q = polygon[(i + 1) % polygon.size()];
    double hp = p.y * ny + p.z * nz - d, hq = q.y * ny + q.z * nz - d;
    if (hp <= 0) kept.push_back(p);
    if ((hp < 0 && hq > 0) || (hp > 0 && hq < 0)) {
      double t = hp / (hp - hq);
      kept.push_back({p.y + t * (q.y - p.y), p.z + t * (q.z - p.z)});
    }
  }
  return kept.size() < 3 || !(area_of(kept) > 0) ? Convex{} : kept;
}

std::vector<Convex> without(const Convex& polygon, const Convex& hole) {
  std::vector<Convex> kept;
  Convex rest = polygon;
  for (std::size_t i = 0; i < hole.size() && !rest.empty(); ++i) {
    const Point &p = hole[i], &q = hole[(i + 1) % hole.size()];
    double ny = q.z - p.z, nz = p.y - q.y, d = p.y * ny + p.z * nz;  // outward of a counter-clockwise edge
    Convex outside = clipped(rest, -ny, -nz, -d);
    if (!outside.empty()) kept.push_back(std::move(outside));
    rest = clipped(rest, ny, nz, d);
  }
  if (hole.empty()) kept.push_back(polygon);
  return kept;
}

double area_in_circle(const Convex& polygon, double r) {
  double far = 0;
  for (const Point& p : polygon) far = std::max(far, dot(p, p));
  if (!std::isfinite(r) || far <= r * r) return area_of(polygon);
  double sum = 0;
  for (std::size_t i = 0; i < polygon.size(); ++i)
    sum += wedge_in_circle(polygon[i], polygon[(i + 1) % polygon.size()], r);
  return sum;
}

}  // namespace pommel::shape
