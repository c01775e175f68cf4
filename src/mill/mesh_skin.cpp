#include "mill/mesh_skin.h"

#include <algorithm>
#include <cmath>
#include <thread>

#include "base/number.h"

namespace pommel::mill {
namespace {

constexpr std::size_t kMostTriangles = 20'000'000;
constexpr double kFarthest = 1e5;  // mm
// A triangle lower than this has no normal that rounding leaves to it: its altitude over the rounding of coordinates of
// some hundred millimetres (1e-13) is the error of the normal, here 1e-6, which moves a ball's contact by a few nanometres.
constexpr double kThin = 1e-7;
// Sine of the turn at an edge below which it is neither convex nor reflex: the wedge of a 10 mm ball is then 1e-8 mm wide.
constexpr double kFlat = 1e-9;

struct Half {
  std::uint64_t key = 0;  // both points, the lesser first
  std::uint32_t triangle = 0;
  bool forward = false;
};

std::string place(const Vector& p) {
  return "(" + format_number(p[0], 3) + ", " + format_number(p[1], 3) + ", " + format_number(p[2], 3) + ")";
}

Result<Done> sound(std::span<const Vector> points, std::span<const Corners> triangles) {
  if (triangles.empty()) return fail("mill.mesh", "the mesh has no triangles", "give a closed mesh");
  if (triangles.size() > kMostTriangles || points.size() > 3 * kMostTriangles)
    return fail("mill.mesh", "the mesh has more than 20,000,000 triangles", "thin the mesh out");
  for (const Vector& p : points) {
    for (double v : p) {
      if (!(std::fabs(v) <= kFarthest))
        return fail("mill.mesh", "a point of the mesh is not a number, or stands farther off than 100 m", "check its units");
    }
  }
  for (const Corners& t : triangles) {
    for (std::uint32_t v : t) {
      if (v >= points.size()) return fail("mill.mesh", "a triangle names a point that the mesh does not have");
    }
  }
  return Done{};
}

void find_normals(MeshSkin& skin) {
  skin.normals.reserve(skin.triangles.size());
  for (const Corners& t : skin.triangles) {
    const Vector p = skin.points[t[1]] - skin.points[t[0]], q = skin.points[t[2]] - skin.points[t[0]], r = q - p;
    const Vector n = cross(p, q);
    const double twice = std::sqrt(dot(n, n)), longest = std::sqrt(std::max({dot(p, p), dot(q, q), dot(r, r)}));
    skin.normals.push_back(twice > kThin * longest ? (1 / twice) * n : Vector{0, 0, 0});
  }
}

double volume(const MeshSkin& skin) {
  double six = 0;
  const Vector at = skin.points[skin.triangles[0][0]];  // near, so that little is lost by cancelling
  for (const Corners& t : skin.triangles)
    six += dot(skin.points[t[0]] - at, cross(skin.points[t[1]] - at, skin.points[t[2]] - at));
  return six / 6;
}

std::vector<Half> halves_of(const MeshSkin& skin) {
  std::vector<Half> halves;
  halves.reserve(3 * skin.triangles.size());
  for (std::size_t i = 0; i < skin.triangles.size(); ++i) {
    const Corners& t = skin.triangles[i];
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint64_t a = t[k], b = t[(k + 1) % 3];
      if (a == b) continue;  // collapsed onto an edge: its other two halves cancel each other
      halves.push_back({std::min(a, b) << 32 | std::max(a, b), static_cast<std::uint32_t>(i), a < b});
    }
  }
  const auto less = [](const Half& p, const Half& q) { return p.key != q.key ? p.key < q.key : p.triangle < q.triangle; };
  const auto middle = halves.begin() + static_cast<std::ptrdiff_t>(halves.size() / 2);
  {
    std::jthread other([&] { std::sort(middle, halves.end(), less); });
    std::sort(halves.begin(), middle, less);
  }
  std::inplace_merge(halves.begin(), middle, halves.end(), less);
  return halves;
}

/// +1 convex, -1 reflex, 0 flat.
int turn_at(const MeshSkin& skin, std::uint32_t a, std::uint32_t b, const Half& forward, const Half& backward) {
  const Vector &n = skin.normals[forward.triangle], &m = skin.normals[backward.triangle];
  const Vector along = skin.points[b] - skin.points[a];
  // seen along the edge of the triangle on its left, a convex edge turns the normal clockwise
  const double sine = dot(cross(n, m), along) / std::sqrt(dot(along, along));
  if (std::fabs(sine) > kFlat) return sine > 0 ? 1 : -1;
  return dot(n, m) > 0 ? 0 : 1;  // folded flat onto itself: a blade's edge, looked at everywhere
}

/// Convex edges; counts for each point the edges that are not reflex, and marks the points of wild ones.
struct Found {
  std::vector<std::uint8_t> risen, wild;
  std::size_t open = 0;
  std::uint64_t first_open = 0;
};

void take_edge(MeshSkin& skin, std::span<const Half> same, Found& found) {
  const auto a = static_cast<std::uint32_t>(same[0].key >> 32), b = static_cast<std::uint32_t>(same[0].key);
  const auto forward = static_cast<std::size_t>(std::count_if(same.begin(), same.end(), [](const Half& h) { return h.forward; }));
  if (2 * forward != same.size()) {
    if (found.open++ == 0) found.first_open = same[0].key;
    return;
  }
  bool wild = same.size() != 2;
  for (const Half& h : same) wild = wild || dot(skin.normals[h.triangle], skin.normals[h.triangle]) == 0;
  const Half &left = same[0].forward ? same[0] : same[1], &right = same[0].forward ? same[1] : same[0];
  int turn = 1;
  if (!wild) {
    turn = turn_at(skin, a, b, left, right);
    wild = turn > 0 && dot(skin.normals[left.triangle], skin.normals[right.triangle]) < -0.999;
  }
  if (turn > 0) skin.edges.push_back({a, b, left.triangle, right.triangle, wild});
  for (std::uint32_t v : {a, b}) {
    if (turn >= 0 && found.risen[v] < 3) ++found.risen[v];
    if (wild) found.wild[v] = 1;
  }
}

void find_corners(MeshSkin& skin, const Found& found) {
  std::vector<std::uint32_t> start(skin.points.size() + 1, 0);
  for (const Corners& t : skin.triangles)
    for (std::uint32_t v : t) ++start[v + 1];
  for (std::size_t v = 0; v < skin.points.size(); ++v) start[v + 1] += start[v];
  skin.around.resize(start.back());
  std::vector<std::uint32_t> next(start.begin(), start.end() - 1);
  for (std::size_t i = 0; i < skin.triangles.size(); ++i)
    for (std::uint32_t v : skin.triangles[i]) skin.around[next[v]++] = static_cast<std::uint32_t>(i);
  for (std::size_t v = 0; v < skin.points.size(); ++v) {
    const bool wild = found.wild[v] != 0;
    if (start[v + 1] == start[v] || (!wild && found.risen[v] < 3)) continue;
    skin.corners.push_back({static_cast<std::uint32_t>(v), start[v], start[v + 1] - start[v], wild});
  }
}

}  // namespace

Result<MeshSkin> MeshSkin::of(std::span<const Vector> points, std::span<const Corners> triangles, std::stop_token stop) {
  if (auto checked = sound(points, triangles); !checked) return checked.failure();
  MeshSkin skin;
  skin.points.assign(points.begin(), points.end());
  skin.triangles.assign(triangles.begin(), triangles.end());
  find_normals(skin);
  const std::vector<Half> halves = halves_of(skin);
  if (stop.stop_requested()) return fail("cancelled", "stopped");
  Found found;
  found.risen.resize(points.size());
  found.wild.resize(points.size());
  for (std::size_t i = 0, end = 0; i < halves.size(); i = end) {
    while (end < halves.size() && halves[end].key == halves[i].key) ++end;
    take_edge(skin, {&halves[i], end - i}, found);
  }
  if (found.open > 0) {
    return fail("mill.mesh-open",
                format_number(static_cast<double>(found.open), 0) + " edges of the mesh have no neighbour that runs the other way, the first at " +
                    place(points[found.first_open >> 32]),
                "close the mesh, join its points, and let all triangles look outwards");
  }
  if (!(volume(skin) > 0))
    return fail("mill.mesh-inside-out", "the triangles of the mesh look inwards", "turn all triangles over");
  find_corners(skin, found);
  return skin;
}

}  // namespace pommel::mill
