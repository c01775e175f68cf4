#include "mill/mesh_window.h"

#include <algorithm>
#include <cmath>
#include <span>
#include <utility>

namespace pommel::mill {
namespace {

// mm by which every window is widened, so that neighbours overlap whatever rounding does.
constexpr double kOverlap = 1e-6;

using Pair = std::pair<int, int>;
constexpr Pair kSegment[] = {{0, 1}};
constexpr Pair kTriangle[] = {{0, 1}, {1, 2}, {2, 0}};
constexpr Pair kPrism[] = {{0, 1}, {1, 2}, {2, 3}, {3, 0}, {4, 5}, {5, 6}, {6, 7}, {7, 4}, {0, 4}, {1, 5}, {2, 6}, {3, 7}};

std::span<const Pair> edges_of(int count) {
  if (count == 2) return kSegment;
  if (count == 3) return kTriangle;
  return kPrism;
}

struct Across {
  double y = 0, z = 0;
};

double turn(const Across& p, const Across& q) {
  return p.y * q.z - p.z * q.y;
}

/// The points of the hull that lie in the slab, and of its edges that lie on the slab's sides.
class Cut {
 public:
  void add(const Vector& p) {
    if (count_ < points_.size()) points_[count_++] = {p[1], p[2]};
  }
  void cross(const Vector& p, const Vector& q, double x) {
    if ((p[0] < x) == (q[0] < x)) return;
    const double t = std::clamp((x - p[0]) / (q[0] - p[0]), 0.0, 1.0);
    add(p + t * (q - p));
  }
  std::span<const Across> points() const { return {points_.data(), count_}; }

 private:
  std::array<Across, 8 + 2 * 12> points_;
  std::size_t count_ = 0;
};

Window seen(std::span<const Across> points, double reach) {
  Window w;
  w.none = points.empty();
  if (w.none) return w;
  Across low = points[0], high = points[0];
  for (const Across& p : points) {
    if (turn(low, p) < 0) low = p;
    if (turn(high, p) > 0) high = p;
  }
  // all within half a turn from low to high, or else the hull goes round the axis
  w.all = turn(low, high) < 0 || (turn(low, high) == 0 && low.y * high.y + low.z * high.z <= 0);
  for (const Across& p : points) w.all = w.all || turn(low, p) < 0 || turn(p, high) < 0;
  if (w.all) return w;
  w.from = std::atan2(low.z, low.y);
  w.to = w.from + std::max(0.0, std::atan2(turn(low, high), low.y * high.y + low.z * high.z));
  // the hull stands beyond the least of its points as seen along the middle
  const double middle = (w.from + w.to) / 2, cos = std::cos(middle), sin = std::sin(middle);
  double nearest = points[0].y * cos + points[0].z * sin;
  for (const Across& p : points) nearest = std::min(nearest, p.y * cos + p.z * sin);
  const double wide = reach + kOverlap;
  if (nearest <= 2 * kOverlap || wide >= nearest) {
    w.all = true;
    return w;
  }
  const double pad = std::asin(wide / nearest);
  w.from -= pad, w.to += pad;
  return w;
}

}  // namespace

double Hull::least_x() const {
  double x = points[0][0];
  for (int i = 1; i < count; ++i) x = std::min(x, points[static_cast<std::size_t>(i)][0]);
  return x - reach - kOverlap;
}

double Hull::greatest_x() const {
  double x = points[0][0];
  for (int i = 1; i < count; ++i) x = std::max(x, points[static_cast<std::size_t>(i)][0]);
  return x + reach + kOverlap;
}

Window Hull::window(double from, double to) const {
  from -= reach + kOverlap, to += reach + kOverlap;
  Cut cut;
  for (int i = 0; i < count; ++i) {
    const Vector& p = points[static_cast<std::size_t>(i)];
    if (p[0] >= from && p[0] <= to) cut.add(p);
  }
  for (const auto& [i, j] : edges_of(count)) {
    const Vector &p = points[static_cast<std::size_t>(i)], &q = points[static_cast<std::size_t>(j)];
    cut.cross(p, q, from);
    cut.cross(p, q, to);
  }
  return seen(cut.points(), reach);
}

}  // namespace pommel::mill
