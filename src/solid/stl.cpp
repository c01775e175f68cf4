#include <bit>
#include <cmath>
#include <cstring>
#include <unordered_map>

#include "solid/mesh.h"

namespace pommel::solid {

namespace {

constexpr std::size_t kHeader = 84, kTriangle = 50;

void put32(std::string& out, std::uint32_t word) {
  for (int shift = 0; shift < 32; shift += 8) out.push_back(static_cast<char>((word >> shift) & 0xff));
}

void put(std::string& out, const Point& p) {
  for (const double c : {p.x, p.y, p.z}) put32(out, std::bit_cast<std::uint32_t>(static_cast<float>(c)));
}

std::uint32_t word_at(std::string_view bytes, std::size_t at) {
  std::uint32_t word = 0;
  for (int i = 3; i >= 0; --i) word = (word << 8) | static_cast<unsigned char>(bytes[at + static_cast<std::size_t>(i)]);
  return word;
}

// Unit, by the right hand; zero for a triangle of no area, as readers expect.
Point unit_normal(const Point& a, const Point& b, const Point& c) {
  const double ux = b.x - a.x, uy = b.y - a.y, uz = b.z - a.z, vx = c.x - a.x, vy = c.y - a.y, vz = c.z - a.z;
  const Point n{uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx};
  const double size = std::sqrt(n.x * n.x + n.y * n.y + n.z * n.z);
  return size > 0 ? Point{n.x / size, n.y / size, n.z / size} : Point{};
}

struct Triple {
  float x, y, z;
  bool operator==(const Triple&) const = default;
};

struct TripleHash {
  std::size_t operator()(const Triple& t) const {
    std::size_t h = 1469598103934665603u;
    for (const float c : {t.x, t.y, t.z})
      h = (h ^ std::bit_cast<std::uint32_t>(c + 0.0f)) * 1099511628211u;  // + 0: one zero
    return h;
  }
};

}  // namespace

namespace {

// 80 bytes of ASCII. A header that begins with "solid", in any case and behind blanks, is taken for the text form, and some readers look for "COLOR=" and
// "MATERIAL=" anywhere in it (common practice, no source): so the tool's name stands first, and no '='.
void add_header(std::string& out, std::string_view title) {
  out += "pommel: ";
  for (const char c : title)
    if (c >= ' ' && c < 0x7f) out += c == '=' ? '-' : c;
    else if ((static_cast<unsigned char>(c) & 0xC0) != 0x80) out += '?';  // once for each character
  out.resize(80, ' ');
}

}  // namespace

std::string write_stl(const Mesh& mesh, std::string_view title) {
  std::string out;
  out.reserve(kHeader + kTriangle * mesh.triangles.size());
  add_header(out, title);
  put32(out, static_cast<std::uint32_t>(mesh.triangles.size()));
  for (const auto& t : mesh.triangles) {
    const Point &a = mesh.points[t[0]], &b = mesh.points[t[1]], &c = mesh.points[t[2]];
    put(out, unit_normal(a, b, c));
    put(out, a);
    put(out, b);
    put(out, c);
    out.append(2, '\0');
  }
  return out;
}

Result<Mesh> read_stl(std::string_view bytes) {
  const std::string remedy = "write the file again";
  if (bytes.size() < kHeader || bytes.size() != kHeader + kTriangle * static_cast<std::size_t>(word_at(bytes, 80))) {
    return fail("stl.size", "the file's length does not fit the number of triangles it states", remedy);
  }
  Mesh mesh;
  std::unordered_map<Triple, std::uint32_t, TripleHash> known;
  for (std::size_t at = kHeader; at < bytes.size(); at += kTriangle) {
    std::array<std::uint32_t, 3> t{};
    for (std::size_t k = 0; k < 3; ++k) {
      const auto number = [&](std::size_t i) { return std::bit_cast<float>(word_at(bytes, at + 12 + 12 * k + 4 * i)); };
      const Triple p{number(0), number(1), number(2)};
      if (!std::isfinite(p.x) || !std::isfinite(p.y) || !std::isfinite(p.z))
        return fail("stl.number", "a corner of a triangle is not a number", remedy);
      const auto [it, fresh] = known.try_emplace(p, static_cast<std::uint32_t>(mesh.points.size()));
      if (fresh) mesh.points.push_back({p.x, p.y, p.z});
      t[k] = it->second;
    }
    if (t[0] != t[1] && t[1] != t[2] && t[2] != t[0]) mesh.triangles.push_back(t);
  }
  return mesh;
}

}  // namespace pommel::solid
