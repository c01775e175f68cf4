#include "mill/mesh_envelope.h"

#include <algorithm>
#include <atomic>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>
#include <thread>
#include <utility>
#include <vector>

#include "mill/mesh_elements.h"

namespace pommel::mill {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr int kThreads = 2;
constexpr int kSectors = 128;                   // of a turn, for single positions
constexpr std::size_t kMostSlabs = 20'000;
constexpr std::size_t kMostEntries = 60'000'000;  // of elements in slabs: a quarter of a gigabyte

/// Runs work(i) for 0 <= i < count on the threads of the room; work touches only what belongs to i.
template <class Work>
void on_threads(std::size_t count, const Work& work) {
  std::atomic<std::size_t> next{0};
  const auto run = [&] {
    for (std::size_t i = next++; i < count; i = next++) work(i);
  };
  std::vector<std::jthread> others;
  for (int k = 1; k < kThreads; ++k) others.emplace_back(run);
  run();
}

/// Cosine and sine of the columns of a grid.
struct Columns {
  int count = 0;
  double step = 0;
  std::vector<double> cos, sin;

  explicit Columns(int columns) : count(columns), step(kTurn / columns) {
    for (int j = 0; j < columns; ++j) {
      cos.push_back(std::cos(step * j));
      sin.push_back(std::sin(step * j));
    }
  }

  /// visit(column) for each column in the window turned by `turned`.
  template <class Visit>
  void each_in(const Window& w, double turned, const Visit& visit) const {
    if (w.none) return;
    const double from = w.all ? 0 : (w.from + turned) / step, to = w.all ? count - 1 : (w.to + turned) / step;
    auto first = static_cast<long>(std::ceil(from));
    const auto last = std::min(static_cast<long>(std::floor(to)), first + count - 1);
    long column = first % count;
    if (column < 0) column += count;
    for (; first <= last; ++first) {
      visit(static_cast<std::size_t>(column));
      if (++column == count) column = 0;
    }
  }
};

/// The elements that can be touched while the cutter stands in one slab of x.
struct Slab {
  std::vector<std::uint32_t> everywhere;                  // in all directions, or in many
  std::array<std::uint32_t, kSectors + 1> start{};        // of each sector in `by_sector`
  std::vector<std::uint32_t> by_sector;
};

}  // namespace

struct MeshEnvelope::Body {
  MeshElements elements;
  double first = 0, step = 1;                 // of the slabs along x
  std::vector<std::size_t> start;             // of each slab in `members`
  std::vector<std::uint32_t> members;         // ascending in each slab
  std::vector<Slab> slabs;

  explicit Body(MeshElements of) : elements(std::move(of)) { sort_into_slabs(); }

  std::size_t count() const { return slabs.size(); }
  double edge(std::size_t slab) const { return first + step * static_cast<double>(slab); }
  std::size_t slab_of(double x) const {
    return std::min(count() - 1, static_cast<std::size_t>(std::max(0.0, (x - first) / step)));
  }
  bool beside(double x) const { return count() == 0 || !(x >= first) || x > edge(count()); }

  void sort_into_slabs();
  void sort_into_sectors(std::size_t slab);
  double height(double x0, double a) const;

  /// Raises the rows [from, to), all of which lie in the slab.
  void fill(std::size_t slab, std::span<const double> rows, std::size_t from, std::size_t to, const Columns& columns,
            float* values, std::size_t stride) const;

 private:
  void raise_by_plane(const Hull& hull, const MeshElements::Plane& plane, double x0, const Columns& columns,
                      float* row) const;
  void raise_by_element(std::size_t element, const MeshElements::Bound& bound, const Hull& hull, double x0,
                        const Columns& columns, float* row) const;
};

void MeshEnvelope::Body::sort_into_slabs() {
  std::vector<float> least(elements.size()), most(elements.size());
  constexpr std::size_t kShare = 4096;
  on_threads((elements.size() + kShare - 1) / kShare, [&](std::size_t share) {
    for (std::size_t e = share * kShare; e < std::min(elements.size(), (share + 1) * kShare); ++e) {
      const Hull hull = elements.hull(e);
      // outwards in single precision
      least[e] = hull.count == 0 ? 1 : std::nextafter(static_cast<float>(hull.least_x()), -std::numeric_limits<float>::infinity());
      most[e] = hull.count == 0 ? 0 : std::nextafter(static_cast<float>(hull.greatest_x()), std::numeric_limits<float>::infinity());
    }
  });
  double last = -kInfinity;
  first = kInfinity;
  for (std::size_t e = 0; e < elements.size(); ++e) {
    if (least[e] <= most[e]) first = std::min<double>(first, least[e]), last = std::max<double>(last, most[e]);
  }
  if (!(first <= last)) return;
  step = std::max({elements.cutter().radius() / 2, (last - first) / static_cast<double>(kMostSlabs), 1e-3});
  const auto number = [&](double x) { return static_cast<std::size_t>(std::max(0.0, (x - first) / step)); };
  // long elements in narrow slabs would stand in too many of them
  for (std::size_t entries = kMostEntries + 1;;) {
    entries = 0;
    for (std::size_t e = 0; e < elements.size(); ++e)
      if (least[e] <= most[e]) entries += number(most[e]) - number(least[e]) + 1;
    if (entries <= kMostEntries || step > last - first) break;
    step *= 2;
  }
  slabs.resize(number(last) + 1);
  start.assign(slabs.size() + 1, 0);
  for (std::size_t e = 0; e < elements.size(); ++e) {
    if (least[e] > most[e]) continue;
    for (std::size_t s = number(least[e]); s <= number(most[e]); ++s) ++start[s + 1];
  }
  for (std::size_t s = 0; s < slabs.size(); ++s) start[s + 1] += start[s];
  members.resize(start.back());
  std::vector<std::size_t> next(start.begin(), start.end() - 1);
  for (std::size_t e = 0; e < elements.size(); ++e) {
    if (least[e] > most[e]) continue;
    for (std::size_t s = number(least[e]); s <= number(most[e]); ++s) members[next[s]++] = static_cast<std::uint32_t>(e);
  }
  on_threads(slabs.size(), [&](std::size_t s) { sort_into_sectors(s); });
}

void MeshEnvelope::Body::sort_into_sectors(std::size_t slab) {
  constexpr double kWidth = kTurn / kSectors;
  std::vector<std::pair<std::uint32_t, std::uint32_t>> found;  // sector, element
  found.reserve(2 * (start[slab + 1] - start[slab]));
  Slab& into = slabs[slab];
  for (std::size_t i = start[slab]; i < start[slab + 1]; ++i) {
    const Hull hull = elements.hull(members[i]);
    const Window w = hull.window(edge(slab), edge(slab + 1));
    if (w.none) continue;
    if (w.all || w.to - w.from > kTurn / 4) {
      into.everywhere.push_back(members[i]);
      continue;
    }
    for (double turned : {0.0, kTurn / 2}) {
      if (!(turned == 0 ? hull.front : hull.back)) continue;
      for (double at = std::floor((w.from + turned) / kWidth); at <= (w.to + turned) / kWidth; ++at)
        found.emplace_back((static_cast<long>(at) % kSectors + kSectors) % kSectors, members[i]);
    }
  }
  for (const auto& [sector, element] : found) ++into.start[sector + 1];
  for (std::size_t k = 0; k < kSectors; ++k) into.start[k + 1] += into.start[k];
  std::array<std::uint32_t, kSectors + 1> next = into.start;
  into.by_sector.resize(found.size());
  for (const auto& [sector, element] : found) into.by_sector[next[sector]++] = element;
}

double MeshEnvelope::Body::height(double x0, double a) const {
  if (beside(x0) || !std::isfinite(a)) return -kInfinity;
  const double cos = std::cos(a), sin = std::sin(a);
  const double turned = std::remainder(a, kTurn);
  const auto sector = static_cast<std::size_t>((static_cast<long>(std::floor(turned / (kTurn / kSectors))) + kSectors) % kSectors);
  const Slab& slab = slabs[slab_of(x0)];
  double best = -kInfinity;
  for (std::uint32_t e : slab.everywhere) best = std::max(best, elements.height(e, x0, cos, sin));
  for (std::uint32_t i = slab.start[sector]; i < slab.start[sector + 1]; ++i)
    best = std::max(best, elements.height(slab.by_sector[i], x0, cos, sin));
  return best;
}

// The plane of the row cuts the moved triangle along a straight line; seen from the axis its ends limit the directions.
void MeshEnvelope::Body::raise_by_plane(const Hull& hull, const MeshElements::Plane& plane, double x0,
                                        const Columns& columns, float* row) const {
  const Vector& n = plane.normal;
  const double offset = plane.offset - n[0] * x0;
  if (offset == 0) return;  // through the axis: a wall, whose edges say all there is
  const Window w = hull.window(x0, x0);
  if (w.none) return;
  double most = 0;
  for (int k = 0; k < hull.count; ++k) {
    const Vector& p = hull.points[static_cast<std::size_t>(k)];
    most = std::max(most, p[1] * p[1] + p[2] * p[2]);
  }
  most = std::sqrt(most);
  columns.each_in(w, offset > 0 ? 0 : kTurn / 2, [&](std::size_t j) {
    const double rise = n[1] * columns.cos[j] + n[2] * columns.sin[j];
    // within the window the quotient is no larger than the farthest corner, but for rounding on walls
    if (rise > 0 && std::fabs(offset) <= rise * most) row[j] = std::max(row[j], static_cast<float>(offset / rise));
  });
}

void MeshEnvelope::Body::raise_by_element(std::size_t element, const MeshElements::Bound& bound, const Hull& hull, double x0,
                                          const Columns& columns, float* row) const {
  const Window w = hull.window(x0, x0);
  const MeshElements::RowBound above = elements.in_row(bound, x0);
  const auto raise = [&](std::size_t j) {
    if (elements.cannot_reach(above, columns.cos[j], columns.sin[j], static_cast<double>(row[j]))) return;
    row[j] = std::max(row[j], static_cast<float>(elements.height(element, x0, columns.cos[j], columns.sin[j])));
  };
  if (w.all || hull.front) columns.each_in(w, 0, raise);
  if (!w.all && hull.back) columns.each_in(w, kTurn / 2, raise);
}

void MeshEnvelope::Body::fill(std::size_t slab, std::span<const double> rows, std::size_t from, std::size_t to,
                              const Columns& columns, float* values, std::size_t stride) const {
  const bool ball = elements.cutter().is_ball();
  for (std::size_t i = start[slab]; i < start[slab + 1]; ++i) {
    const std::size_t element = members[i];
    const Hull hull = elements.hull(element);
    const double least = hull.least_x(), most = hull.greatest_x();
    const bool as_plane = ball && elements.is_triangle(element);
    const MeshElements::Plane plane = as_plane ? elements.plane(element) : MeshElements::Plane{};
    const MeshElements::Bound bound = as_plane ? MeshElements::Bound{} : elements.bound(element);
    for (std::size_t r = from; r < to; ++r) {
      if (rows[r] < least || rows[r] > most) continue;
      if (as_plane) {
        raise_by_plane(hull, plane, rows[r], columns, values + r * stride);
      } else {
        raise_by_element(element, bound, hull, rows[r], columns, values + r * stride);
      }
    }
  }
}

Result<MeshEnvelope> MeshEnvelope::of(std::span<const Vector> points, std::span<const Corners> triangles,
                                      const shop::Cutter& cutter, std::stop_token stop) {
  const auto rolled = MeshCutter::of(cutter);
  if (!rolled) return rolled.failure();
  auto skin = MeshSkin::of(points, triangles, stop);
  if (!skin) return skin.failure();
  return MeshEnvelope(std::make_shared<const Body>(MeshElements(std::move(skin.value()), *rolled)));
}

double MeshEnvelope::reference() const {
  return body_->elements.cutter().reference();
}

double MeshEnvelope::height(double x0, double a) const {
  return body_->height(x0, a);
}

Result<Done> MeshEnvelope::fill(std::span<const double> rows, int columns, Heights& into, std::stop_token stop) const {
  assert(std::is_sorted(rows.begin(), rows.end()));
  constexpr std::size_t kMostPositions = 250'000'000;  // a gigabyte
  if (columns < 1 || columns > 1'000'000 || rows.size() > kMostPositions / static_cast<std::size_t>(columns))
    return fail("mill.grid", "the grid of cutter positions is too large", "ask for a coarser cusp");
  const Columns table(columns);
  into.x_.assign(rows.begin(), rows.end());
  into.columns_ = columns;
  into.stride_ = static_cast<std::size_t>(columns);
  const std::size_t size = rows.size() * into.stride_;
  if (into.values_.size() < size) into.values_.resize(size);
  std::fill_n(into.values_.begin(), size, -std::numeric_limits<float>::infinity());
  if (body_->count() == 0) return Done{};
  // each row belongs to one slab
  std::vector<std::size_t> begin(body_->count() + 1, 0);
  for (double x : rows) {
    if (body_->beside(x)) continue;
    ++begin[body_->slab_of(x) + 1];
  }
  std::size_t before = 0;
  while (before < rows.size() && !(rows[before] >= body_->first)) ++before;
  begin[0] = before;
  for (std::size_t s = 0; s < body_->count(); ++s) begin[s + 1] += begin[s];
  on_threads(body_->count(), [&](std::size_t s) {
    if (begin[s] == begin[s + 1] || stop.stop_requested()) return;
    body_->fill(s, rows, begin[s], begin[s + 1], table, into.values_.data(), into.stride_);
  });
  if (stop.stop_requested()) return fail("cancelled", "stopped");
  return Done{};
}

}  // namespace pommel::mill
