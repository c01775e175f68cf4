#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numeric>

#include "exchange/mesh.h"

namespace pommel::exchange {
namespace {

constexpr std::uint32_t kNone = std::numeric_limits<std::uint32_t>::max();
// Sides of a cell in tolerances: points that are kept stand a tolerance apart, so a cell holds few whatever the file holds.
constexpr double kCell = 4;

using Cell = std::array<std::int64_t, 3>;

/// For each point the first one with the same coordinates.
std::vector<std::uint32_t> first_equals(std::span<const Vector> points) {
  std::vector<std::uint32_t> order(points.size()), first(points.size());
  std::iota(order.begin(), order.end(), 0u);
  std::sort(order.begin(), order.end(), [&](std::uint32_t i, std::uint32_t k) {
    return points[i] != points[k] ? points[i] < points[k] : i < k;
  });
  for (std::size_t i = 0; i < order.size(); ++i)
    first[order[i]] = i > 0 && points[order[i]] == points[order[i - 1]] ? first[order[i - 1]] : order[i];
  return first;
}

/// Points kept, by cells that are sorted rather than hashed: no file can make them slow.
class Kept {
 public:
  Kept(std::span<const Vector> points, std::span<const std::uint32_t> first, double tolerance)
      : points_(points), tolerance_(tolerance), next_(points.size(), kNone) {
    for (std::uint32_t i = 0; i < points.size(); ++i)
      if (first[i] == i) cells_.push_back(cell_of(points[i]));
    std::sort(cells_.begin(), cells_.end());
    cells_.erase(std::unique(cells_.begin(), cells_.end()), cells_.end());
    head_.assign(cells_.size(), kNone);
  }

  /// The nearest point kept within the tolerance.
  std::uint32_t near(const Vector& p) const {
    const Cell low = cell_of({p[0] - tolerance_, p[1] - tolerance_, p[2] - tolerance_});
    const Cell high = cell_of({p[0] + tolerance_, p[1] + tolerance_, p[2] + tolerance_});
    std::uint32_t best = kNone;
    double least = tolerance_ * tolerance_;
    for (std::int64_t x = low[0]; x <= high[0]; ++x)
      for (std::int64_t y = low[1]; y <= high[1]; ++y)
        for (std::int64_t z = low[2]; z <= high[2]; ++z) look({x, y, z}, p, best, least);
    return best;
  }

  void keep(std::uint32_t i) {
    std::uint32_t& head = head_[static_cast<std::size_t>(std::lower_bound(cells_.begin(), cells_.end(), cell_of(points_[i])) - cells_.begin())];
    next_[i] = head;
    head = i;
  }

 private:
  Cell cell_of(const Vector& p) const {
    Cell cell{};
    for (std::size_t k = 0; k < 3; ++k) cell[k] = static_cast<std::int64_t>(std::floor(p[k] / (kCell * tolerance_)));
    return cell;
  }

  void look(const Cell& cell, const Vector& p, std::uint32_t& best, double& least) const {
    const auto found = std::lower_bound(cells_.begin(), cells_.end(), cell);
    if (found == cells_.end() || *found != cell) return;
    for (std::uint32_t i = head_[static_cast<std::size_t>(found - cells_.begin())]; i != kNone; i = next_[i]) {
      const Vector& q = points_[i];
      const double d2 = (p[0] - q[0]) * (p[0] - q[0]) + (p[1] - q[1]) * (p[1] - q[1]) + (p[2] - q[2]) * (p[2] - q[2]);
      if (d2 < least || (d2 == least && i < best)) best = i, least = d2;
    }
  }

  std::span<const Vector> points_;
  double tolerance_;
  std::vector<Cell> cells_;
  std::vector<std::uint32_t> head_, next_;
};

}  // namespace

Mesh weld(std::span<const Vector> points, double tolerance) {
  assert(points.size() % 3 == 0 && points.size() < kNone);
  assert(tolerance == 0 || (tolerance >= 1e-6 && tolerance <= 1));
  std::vector<std::uint32_t> number = first_equals(points);
  Mesh mesh;
  std::vector<std::uint32_t> given(points.size(), kNone);  // number in the mesh of each point kept
  const bool searched = tolerance > 0;
  Kept kept(searched ? points : std::span<const Vector>{}, number, searched ? tolerance : 1);
  for (std::uint32_t i = 0; i < points.size(); ++i) {
    if (number[i] != i) {
      given[i] = given[number[i]];
      continue;
    }
    const std::uint32_t near = searched ? kept.near(points[i]) : kNone;
    if (near != kNone) {
      given[i] = given[near];
      continue;
    }
    given[i] = static_cast<std::uint32_t>(mesh.points.size());
    mesh.points.push_back(points[i]);
    if (searched) kept.keep(i);
  }
  mesh.triangles.reserve(points.size() / 3);
  for (std::size_t i = 0; i + 2 < points.size(); i += 3) mesh.triangles.push_back({given[i], given[i + 1], given[i + 2]});
  return mesh;
}

}  // namespace pommel::exchange
