#include <algorithm>
#include <cmath>
#include <limits>

#include "base/number.h"
#include "exchange/mesh.h"

namespace pommel::exchange {
namespace {

constexpr std::uint32_t kNone = std::numeric_limits<std::uint32_t>::max();

Vector operator-(const Vector& p, const Vector& q) {
  return {p[0] - q[0], p[1] - q[1], p[2] - q[2]};
}

Vector cross(const Vector& p, const Vector& q) {
  return {p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]};
}

double dot(const Vector& p, const Vector& q) {
  return p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
}

Vector between(const Vector& p, const Vector& q) {
  return {(p[0] + q[0]) / 2, (p[1] + q[1]) / 2, (p[2] + q[2]) / 2};
}

struct Half {
  std::uint64_t key = 0;        // both points, the lesser first
  std::uint32_t at = 0;         // 3 * triangle + its side
  bool forward = false;
};

/// A neighbour over one side of a triangle, and whether it runs along the side in the same direction.
struct Neighbour {
  std::uint32_t triangle = kNone;
  bool against = false;
};

class Surveyor {
 public:
  explicit Surveyor(const Mesh& mesh) : mesh_(mesh), beside_(3 * mesh.triangles.size()), torn_(mesh.triangles.size()) {}

  Survey all() {
    measure();
    take_edges();
    take_shells();
    std::stable_sort(found_.begin(), found_.end(), [](const Found& p, const Found& q) { return p.defect.fault < q.defect.fault; });
    for (const Found& f : found_) survey_.defects.push_back(f.defect);
    return std::move(survey_);
  }

 private:
  struct Found {
    Defect defect;
    std::uint32_t order = 0;
  };

  void note(Fault fault, std::uint32_t order, const Vector& place) {
    auto it = std::find_if(found_.begin(), found_.end(), [&](const Found& f) { return f.defect.fault == fault; });
    if (it == found_.end()) it = found_.insert(found_.end(), {{fault, 0, place}, order});
    ++it->defect.count;
    if (order < it->order) it->order = order, it->defect.first = place;
  }

  void measure();
  void take_edges();
  void take_edge(std::span<const Half> same);
  void take_shells();
  void take_shell(std::uint32_t seed, std::vector<std::int8_t>& way);
  void count_flipped(std::span<const std::uint32_t> shell, const std::vector<std::int8_t>& way);
  double six_volumes(const Corners& t) const {
    return dot(mesh_.points[t[0]] - origin_, cross(mesh_.points[t[1]] - origin_, mesh_.points[t[2]] - origin_));
  }
  Vector side_middle(std::uint32_t at) const {
    const Corners& t = mesh_.triangles[at / 3];
    return between(mesh_.points[t[at % 3]], mesh_.points[t[(at % 3 + 1) % 3]]);
  }

  const Mesh& mesh_;
  Survey survey_;
  Vector origin_{};  // near, so that little is lost by cancelling
  std::vector<Neighbour> beside_;
  std::vector<std::uint8_t> torn_;  // triangles with an edge that has not exactly two
  std::vector<Found> found_;
};

void Surveyor::measure() {
  if (mesh_.triangles.empty()) return;
  origin_ = survey_.low = survey_.high = mesh_.points[mesh_.triangles[0][0]];
  for (std::uint32_t i = 0; i < mesh_.triangles.size(); ++i) {
    const Corners& t = mesh_.triangles[i];
    for (std::uint32_t v : t) {
      for (std::size_t k = 0; k < 3; ++k) {
        survey_.low[k] = std::min(survey_.low[k], mesh_.points[v][k]);
        survey_.high[k] = std::max(survey_.high[k], mesh_.points[v][k]);
      }
    }
    const Vector n = cross(mesh_.points[t[1]] - mesh_.points[t[0]], mesh_.points[t[2]] - mesh_.points[t[0]]);
    survey_.area += std::sqrt(dot(n, n)) / 2;
    survey_.volume += six_volumes(t) / 6;
    if (height_of(mesh_, t) < kThinTriangle) note(Fault::thin_triangle, i, middle_of(mesh_, t));
  }
}

void Surveyor::take_edges() {
  std::vector<Half> halves;
  halves.reserve(3 * mesh_.triangles.size());
  for (std::uint32_t at = 0; at < 3 * mesh_.triangles.size(); ++at) {
    const Corners& t = mesh_.triangles[at / 3];
    const std::uint64_t a = t[at % 3], b = t[(at % 3 + 1) % 3];
    halves.push_back({std::min(a, b) << 32 | std::max(a, b), at, a < b});
  }
  std::sort(halves.begin(), halves.end(), [](const Half& p, const Half& q) { return p.key != q.key ? p.key < q.key : p.at < q.at; });
  for (std::size_t i = 0, end = 0; i < halves.size(); i = end) {
    while (end < halves.size() && halves[end].key == halves[i].key) ++end;
    take_edge({&halves[i], end - i});
  }
}

void Surveyor::take_edge(std::span<const Half> same) {
  if (same.size() == 2) {
    const bool against = same[0].forward == same[1].forward;
    beside_[same[0].at] = {same[1].at / 3, against};
    beside_[same[1].at] = {same[0].at / 3, against};
    return;
  }
  note(same.size() == 1 ? Fault::open_edge : Fault::branching_edge, same[0].at, side_middle(same[0].at));
  for (const Half& h : same) torn_[h.at / 3] = 1;
}

void Surveyor::take_shells() {
  std::vector<std::int8_t> way(mesh_.triangles.size(), 0);
  for (std::uint32_t i = 0; i < mesh_.triangles.size(); ++i) {
    if (way[i] == 0) take_shell(i, way);
  }
}

// Walks over the shell from neighbour to neighbour, and gives each triangle the way in which it looks, +1 as the first or -1.
void Surveyor::take_shell(std::uint32_t seed, std::vector<std::int8_t>& way) {
  if (++survey_.shells == 2) note(Fault::shell, 0, middle_of(mesh_, mesh_.triangles[seed]));
  if (survey_.shells >= 2) {
    auto it = std::find_if(found_.begin(), found_.end(), [](const Found& f) { return f.defect.fault == Fault::shell; });
    it->defect.count = survey_.shells;
  }
  std::vector<std::uint32_t> shell{seed};
  way[seed] = 1;
  bool whole = true;
  double six = 0;
  for (std::size_t next = 0; next < shell.size(); ++next) {
    const std::uint32_t i = shell[next];
    whole = whole && torn_[i] == 0;
    six += six_volumes(mesh_.triangles[i]);
    for (std::uint32_t side = 0; side < 3; ++side) {
      const Neighbour& n = beside_[3 * i + side];
      if (n.triangle == kNone) continue;
      const auto wanted = static_cast<std::int8_t>(n.against ? -way[i] : way[i]);
      whole = whole && !n.against;
      if (way[n.triangle] == 0) {
        way[n.triangle] = wanted;
        shell.push_back(n.triangle);
      } else if (way[n.triangle] != wanted && i < n.triangle) {
        note(Fault::one_sided, 3 * i + side, side_middle(3 * i + side));
      }
    }
  }
  count_flipped(shell, way);
  if (whole && six < 0) note(Fault::inside_out, seed, middle_of(mesh_, mesh_.triangles[seed]));
}

void Surveyor::count_flipped(std::span<const std::uint32_t> shell, const std::vector<std::int8_t>& way) {
  const auto others = static_cast<std::size_t>(std::count_if(shell.begin(), shell.end(), [&](std::uint32_t i) { return way[i] < 0; }));
  if (others == 0) return;
  const std::int8_t few = 2 * others > shell.size() ? 1 : -1;
  for (std::uint32_t i : shell) {
    if (way[i] == few) note(Fault::flipped_triangle, i, middle_of(mesh_, mesh_.triangles[i]));
  }
}

struct Words {
  const char *id, *one, *many, *remedy;
};

Words words_of(Fault fault) {
  switch (fault) {
    case Fault::open_edge:
      return {"exchange.open-edges", " edge of the mesh belongs to one triangle only", " edges of the mesh belong to one triangle only",
              "close the holes where the mesh was made, or weld with a larger tolerance"};
    case Fault::branching_edge:
      return {"exchange.branching-edges", " edge belongs to more than two triangles", " edges belong to more than two triangles",
              "join the bodies into one, and remove walls inside the body"};
    case Fault::flipped_triangle:
      return {"exchange.flipped-triangles", " triangle looks the other way than those around it",
              " triangles look the other way than those around them", "turn them over where the mesh was made"};
    case Fault::one_sided:
      return {"exchange.one-sided", " edge has no inside and outside", " edges have no inside and outside",
              "the skin is twisted into itself: model the body again"};
    case Fault::thin_triangle:
      return {"exchange.thin-triangles", " triangle has no area", " triangles have no area", "harmless where the mesh is closed"};
    case Fault::shell:
      return {"exchange.shells", " shell", " separate shells", "join them, or leave out what does not belong to the piece"};
    case Fault::inside_out:
      return {"exchange.inside-out", " closed shell looks inwards", " closed shells look inwards",
              "turn its triangles over; a hollow inside the piece cannot be cut and should be left out"};
    case Fault::normal:
      return {"exchange.normals", " normal in the file contradicts the order of its corners",
              " normals in the file contradict the order of their corners", "the corners are taken; check which side is meant"};
  }
  return {"exchange.mesh", " fault", " faults", ""};
}

}  // namespace

const Defect* Survey::find(Fault fault) const {
  const auto it = std::find_if(defects.begin(), defects.end(), [&](const Defect& d) { return d.fault == fault; });
  return it == defects.end() ? nullptr : &*it;
}

bool Survey::closed() const {
  return shells > 0 && std::none_of(defects.begin(), defects.end(), [](const Defect& d) {
    return d.fault != Fault::thin_triangle && d.fault != Fault::shell && d.fault != Fault::normal;
  });
}

double height_of(const Mesh& mesh, const Corners& t) {
  const Vector p = mesh.points[t[1]] - mesh.points[t[0]], q = mesh.points[t[2]] - mesh.points[t[0]], r = q - p, n = cross(p, q);
  const double longest = std::sqrt(std::max({dot(p, p), dot(q, q), dot(r, r)}));
  return longest > 0 ? std::sqrt(dot(n, n)) / longest : 0;
}

Vector middle_of(const Mesh& mesh, const Corners& t) {
  const Vector &a = mesh.points[t[0]], &b = mesh.points[t[1]], &c = mesh.points[t[2]];
  return {(a[0] + b[0] + c[0]) / 3, (a[1] + b[1] + c[1]) / 3, (a[2] + b[2] + c[2]) / 3};
}

Survey survey(const Mesh& mesh) {
  return Surveyor(mesh).all();
}

std::vector<Diagnostic> told(const Survey& survey, const std::string& file) {
  std::vector<Diagnostic> all;
  for (const Defect& d : survey.defects) {
    const Words words = words_of(d.fault);
    Diagnostic one;
    one.severity = Severity::warning;
    one.id = words.id;
    one.message = format_number(static_cast<double>(d.count), 0) + (d.count == 1 ? words.one : words.many) +
                  (d.fault == Fault::shell ? ", the second at (" : ", the first at (") + format_number(d.first[0], 3) + ", " +
                  format_number(d.first[1], 3) + ", " + format_number(d.first[2], 3) + ") mm";
    one.remedy = words.remedy;
    one.place.file = file;
    all.push_back(std::move(one));
  }
  return all;
}

}  // namespace pommel::exchange
