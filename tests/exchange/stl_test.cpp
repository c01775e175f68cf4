#include "exchange/stl.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

#include "base/number.h"

namespace pommel::exchange {
namespace {

using Triangle = std::array<Vector, 3>;

/// A box of 12 triangles, corners counter-clockwise from outside.
std::vector<Triangle> box(const Vector& low, const Vector& high) {
  std::vector<Vector> p;
  for (int i = 0; i < 8; ++i) p.push_back({i & 1 ? high[0] : low[0], i & 2 ? high[1] : low[1], i & 4 ? high[2] : low[2]});
  std::vector<Triangle> all;
  for (const Corners& t : std::vector<Corners>{{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
                                               {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}})
    all.push_back({p[t[0]], p[t[1]], p[t[2]]});
  return all;
}

Vector normal(const Triangle& t) {
  const auto d = [&](std::size_t i, std::size_t k) { return t[i][k] - t[0][k]; };
  Vector n{d(1, 1) * d(2, 2) - d(1, 2) * d(2, 1), d(1, 2) * d(2, 0) - d(1, 0) * d(2, 2), d(1, 0) * d(2, 1) - d(1, 1) * d(2, 0)};
  const double size = std::hypot(n[0], n[1], n[2]);
  for (double& v : n) v = size > 0 ? v / size : 0;
  return n;
}

void put(std::string& bytes, std::uint32_t word) {
  for (int k = 0; k < 4; ++k) bytes += static_cast<char>(word >> (8 * k) & 255u);
}

void put(std::string& bytes, const Vector& v) {
  for (double c : v) put(bytes, std::bit_cast<std::uint32_t>(static_cast<float>(c)));
}

std::string binary(const std::vector<Triangle>& all, std::string header = "a piece") {
  header.resize(80);
  put(header, static_cast<std::uint32_t>(all.size()));
  for (const Triangle& t : all) {
    put(header, normal(t));
    for (const Vector& v : t) put(header, v);
    header += std::string(2, '\0');
  }
  return header;
}

std::string text(const std::vector<Triangle>& all, const std::string& name = "a piece") {
  const auto numbers = [](const Vector& v) { return ' ' + format_exact(v[0]) + ' ' + format_exact(v[1]) + ' ' + format_exact(v[2]) + '\n'; };
  std::string s = "solid " + name + "\n";
  for (const Triangle& t : all) {
    s += "facet normal" + numbers(normal(t)) + " outer loop\n";
    for (const Vector& v : t) s += "  vertex" + numbers(v);
    s += " endloop\nendfacet\n";
  }
  return s + "endsolid " + name + "\n";
}

StlOptions in_mm() {
  StlOptions options;
  options.unit = LengthUnit::millimetre;
  return options;
}

std::string id(const Result<Stl>& r) {
  return r.ok() ? "ok" : r.reasons().front().id;
}

/// "open_edge"-like ids and counts: "exchange.open-edges 3".
std::vector<std::string> faults(const Stl& stl) {
  std::vector<std::string> all;
  const auto said = told(stl.survey, "f.stl");
  for (std::size_t i = 0; i < said.size(); ++i)
    all.push_back(said[i].id + " " + std::to_string(stl.survey.defects[i].count));
  return all;
}

const std::vector<Triangle> kBar = box({0, -15, -10}, {80, 15, 10});

// The volume by the divergence theorem.
TEST(Stl, ABoxIsTheSameFromBytesAndFromText) {
  for (const std::string& bytes : {binary(kBar), text(kBar)}) {
    const auto stl = read_stl(bytes, "f.stl", in_mm());
    ASSERT_TRUE(stl.ok()) << render(stl.reasons());
    EXPECT_EQ(stl->binary, bytes[0] == 'a');
    EXPECT_EQ(stl->name, "a piece");
    EXPECT_EQ(stl->mesh.points.size(), 8u);
    EXPECT_EQ(stl->mesh.triangles.size(), 12u);
    EXPECT_TRUE(stl->survey.closed());
    EXPECT_THAT(stl->survey.defects, testing::IsEmpty());
    EXPECT_EQ(stl->survey.shells, 1u);
    EXPECT_NEAR(stl->survey.volume, 80 * 30 * 20, 1e-9);
    EXPECT_NEAR(stl->survey.area, 2 * (80 * 30 + 30 * 20 + 20 * 80), 1e-9);
    EXPECT_EQ(stl->survey.low, (Vector{0, -15, -10}));
    EXPECT_EQ(stl->survey.high, (Vector{80, 15, 10}));
  }
}

// Burns, Automated Fabrication, section 6.5.
TEST(Stl, BinarySizeIs84And50EachTriangle) {
  EXPECT_EQ(binary(kBar).size(), 84u + 50 * 12);
  EXPECT_EQ(id(read_stl(binary(kBar), "f", in_mm())), "ok");
  EXPECT_EQ(id(read_stl(binary(kBar).substr(0, 84 + 50 * 12 - 1), "f", in_mm())), "exchange.truncated");
  EXPECT_EQ(id(read_stl(binary(kBar) + ' ', "f", in_mm())), "exchange.size");
}

TEST(Stl, ABinaryHeaderMayBeginWithSolid) {
  const auto stl = read_stl(binary(kBar, "solid by another name"), "f", in_mm());
  ASSERT_TRUE(stl.ok());
  EXPECT_TRUE(stl->binary);
  EXPECT_EQ(id(read_stl(binary(kBar, "solid").substr(0, 400), "f", in_mm())), "exchange.truncated");
}

TEST(Stl, AsksForTheUnit) {
  const auto stl = read_stl(binary(kBar), "f.stl", {});
  ASSERT_FALSE(stl.ok());
  EXPECT_EQ(render(stl.reasons()),
            "f.stl: error: an STL file does not say in which unit it is drawn: in millimetres this one is 80 x 30 x 20 mm, in inches "
            "2032 x 762 x 508 mm [exchange.no-unit]\n   do: say which: mm, cm, m, in or ft\n");
}

TEST(Stl, UnitsScale) {
  for (const auto& [unit, factor] : {std::pair{LengthUnit::inch, 25.4}, {LengthUnit::centimetre, 10.0}, {LengthUnit::metre, 1000.0}}) {
    StlOptions options;
    options.unit = unit;
    const auto stl = read_stl(text(kBar), "f", options);
    ASSERT_TRUE(stl.ok());
    EXPECT_NEAR(stl->survey.high[0], 80 * factor, 1e-9);
    EXPECT_NEAR(stl->survey.volume / (factor * factor * factor), 48000, 1e-7);
  }
}

// All 24 ways keep volume and sense, are all different, and lay the named axis along x.
TEST(Stl, PlacingTurnsAndNeverMirrors) {
  std::vector<std::vector<Vector>> seen;
  for (Axis along : {Axis::x, Axis::y, Axis::z}) {
    for (bool end : {false, true}) {
      for (int quarters : {-1, 0, 1, 2}) {
        StlOptions options = in_mm();
        options.placing = {along, end, quarters, {7, 0.5, -2}};
        const auto stl = read_stl(binary(box({1, 2, 3}, {11, 22, 33})), "f", options);
        ASSERT_TRUE(stl.ok());
        EXPECT_TRUE(stl->survey.closed());
        EXPECT_THAT(stl->survey.defects, testing::IsEmpty());
        EXPECT_NEAR(stl->survey.volume, 10 * 20 * 30, 1e-9);
        EXPECT_NEAR(stl->survey.high[0] - stl->survey.low[0], 10 * (1 + static_cast<int>(along)), 1e-9);
        for (const auto& other : seen) EXPECT_NE(stl->mesh.points, other);
        seen.push_back(stl->mesh.points);
      }
    }
  }
  EXPECT_EQ(seen.size(), 24u);
  EXPECT_EQ((Placing{Axis::z, false, 0, {}}.at({1, 2, 3})), (Vector{3, 1, 2}));
  EXPECT_EQ((Placing{Axis::x, false, 1, {}}.at({1, 2, 3})), (Vector{1, -3, 2}));
  EXPECT_EQ((Placing{Axis::y, true, 5, {10, 0, 0}}.at({1, 2, 3})), (Vector{8, -1, -3}));
}

TEST(Stl, NamesEachDefectWithCountAndPlace) {
  struct Row {
    const char* what;
    std::vector<Triangle> mesh;
    std::vector<std::string> faults;
    Vector first;
    bool closed;
  };
  std::vector<Row> rows;
  const auto with = [](std::vector<Triangle> all, const std::vector<Triangle>& more) {
    all.insert(all.end(), more.begin(), more.end());
    return all;
  };
  const auto without = [](std::vector<Triangle> all, std::size_t i) {
    all.erase(all.begin() + static_cast<std::ptrdiff_t>(i));
    return all;
  };
  const auto flipped = [](std::vector<Triangle> all, std::size_t from, std::size_t to) {
    for (std::size_t i = from; i < to; ++i) std::swap(all[i][1], all[i][2]);
    return all;
  };
  // corners 1, 2, 3 of the box are gone: edges in the order of the triangles that still have them, the first of triangle 0
  rows.push_back({"a hole", without(kBar, 1), {"exchange.open-edges 3"}, {40, 0, -10}, false});
  rows.push_back({"one flipped", flipped(kBar, 2, 3), {"exchange.flipped-triangles 1"}, {80. / 3, -5, 10}, false});
  // of a closed shell with more than half flipped, the rest are told
  rows.push_back({"most flipped", flipped(kBar, 0, 11), {"exchange.flipped-triangles 1"}, {80, 5, 10. / 3}, false});
  rows.push_back({"all flipped", flipped(kBar, 0, 12), {"exchange.inside-out 1"}, {80. / 3, -5, -10}, false});
  rows.push_back({"two bodies", with(kBar, box({0, 20, 0}, {3, 23, 3})), {"exchange.shells 2"}, {1, 21, 0}, true});
  rows.push_back({"a hollow", with(kBar, flipped(box({10, -3, -3}, {16, 3, 3}), 0, 12)),
                  {"exchange.shells 2", "exchange.inside-out 1"}, {12, -1, -3}, false});
  rows.push_back({"two bodies on one edge", with(kBar, box({0, 15, 10}, {80, 20, 15})),
                  {"exchange.branching-edges 1", "exchange.shells 2"}, {40, 15, 10}, false});
  rows.push_back({"a triangle without area", with(kBar, {{Vector{1, 1, 1}, Vector{1, 1, 1}, Vector{2, 2, 2}}}),
                  {"exchange.thin-triangles 1"}, {4. / 3, 4. / 3, 4. / 3}, true});
  // a ribbon of triangles closed with half a twist
  std::vector<Triangle> ribbon;
  const auto rim = [](int k, double side) {
    const double t = 2 * std::numbers::pi * k / 9, r = 20 + side * std::cos(t / 2);
    return Vector{side * std::sin(t / 2), r * std::cos(t), r * std::sin(t)};
  };
  for (int k = 0; k < 9; ++k) {
    const Vector a = rim(k, -3), b = rim(k, 3), c = k < 8 ? rim(k + 1, -3) : rim(0, 3), d = k < 8 ? rim(k + 1, 3) : rim(0, -3);
    ribbon.push_back({a, b, c});
    ribbon.push_back({c, b, d});
  }
  const auto twisted = read_stl(binary(ribbon), "f", in_mm());
  ASSERT_TRUE(twisted.ok());
  ASSERT_NE(twisted->survey.find(Fault::one_sided), nullptr);
  EXPECT_EQ(twisted->survey.find(Fault::one_sided)->count, 1u);
  EXPECT_EQ(twisted->survey.find(Fault::open_edge)->count, 18u);
  for (const Row& row : rows) {
    const auto stl = read_stl(binary(row.mesh), "f.stl", in_mm());
    ASSERT_TRUE(stl.ok()) << row.what;
    EXPECT_EQ(faults(*stl), row.faults) << row.what;
    EXPECT_EQ(stl->survey.closed(), row.closed) << row.what;
    ASSERT_FALSE(stl->survey.defects.empty());
    const Vector& at = (row.what == std::string("a hollow") ? stl->survey.defects.back() : stl->survey.defects.front()).first;
    for (std::size_t k = 0; k < 3; ++k) EXPECT_NEAR(at[k], row.first[k], 1e-5) << row.what;
  }
}

TEST(Stl, NormalsThatContradictTheCornersAreCounted) {
  std::string bytes = binary(kBar);
  for (std::size_t at : {84u + 3u, 84u + 4u + 3u, 84u + 8u + 3u}) bytes[at] ^= static_cast<char>(0x80);  // the signs of the first normal
  const auto stl = read_stl(bytes, "f.stl", in_mm());
  ASSERT_TRUE(stl.ok());
  EXPECT_THAT(faults(*stl), testing::ElementsAre("exchange.normals 1"));
  EXPECT_TRUE(stl->survey.closed());
  // a normal that is not a number says nothing
  std::string words = text(kBar);
  words.replace(words.find("normal 0 0 -1"), 13, "normal nan nan nan");
  const auto other = read_stl(words, "f.stl", in_mm());
  ASSERT_TRUE(other.ok()) << render(other.reasons());
  EXPECT_THAT(faults(*other), testing::IsEmpty());
}

TEST(Stl, TextIsReadAsItIsWritten) {
  const std::string one = "facet normal 0 0 1 outer loop vertex 0 0 0 vertex 1.5E+01 0 0 vertex 0 +20 0 endloop endfacet ";
  struct Row {
    std::string text;
    const char* id;
    int line;
  };
  for (const Row& row : {
           Row{"solid\n" + one + "endsolid", "ok", 0},
           {"  SOLID Name of it\r\n" + one + "\r\nENDSOLID Name of it\r\n", "ok", 0},
           {"solid a\n" + one + "endsolid a\nsolid b\n" + one + "endsolid b\n", "ok", 0},
           {"solid a\nendsolid a\n", "exchange.empty", 0},
           {"solid a\n" + one, "exchange.truncated", 2},
           {"solid a\n" + one + "\nfacet normal 0 0", "exchange.truncated", 3},
           {"solid a\n" + one + "\nfacet normal 0 0 1\nouter loop\nvertex 0 0", "exchange.truncated", 5},
           {"solid a\n" + one + "endsolid\ntrailing", "exchange.syntax", 3},
           {"solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nendloop", "exchange.syntax", 6},
           {"solid a\nfacet normal 0 0 1 outer loop\nvertex 0 0 0 vertex 1 0 0 vertex 1 1 0\nvertex 0 1 0 endloop", "exchange.syntax", 4},
           {"solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 nan 0", "exchange.number", 4},
           {"solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0,5 0", "exchange.number", 4},
           {"solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 1e999 0", "exchange.number", 4},
           {"solid a\nfacet normal outer loop", "exchange.syntax", 2},
           {"solid a\nloop", "exchange.syntax", 2},
           {"solidify", "exchange.syntax", 1},
           {"", "exchange.empty", 0},
           {"so", "exchange.not-stl", 0},
           {"hello, this is a letter", "exchange.not-stl", 0},
       }) {
    const auto stl = read_stl(row.text, "f.stl", in_mm());
    EXPECT_EQ(id(stl), row.id) << row.text;
    if (!stl.ok()) {
      EXPECT_EQ(stl.reasons().front().place.line, row.line) << row.text;
    }
  }
}

TEST(Stl, RefusesHostileBytes) {
  std::string huge = std::string(80, 'x');
  put(huge, 0xffffffffu);
  EXPECT_EQ(id(read_stl(huge, "f", in_mm())), "exchange.truncated");
  EXPECT_EQ(id(read_stl(std::string(84, '\0'), "f", in_mm())), "exchange.empty");
  EXPECT_EQ(id(read_stl(std::string(83, '\0'), "f", in_mm())), "exchange.not-stl");
  StlOptions few = in_mm();
  few.most_triangles = 11;
  EXPECT_EQ(id(read_stl(binary(kBar), "f", few)), "exchange.too-many");
  EXPECT_EQ(id(read_stl(text(kBar), "f", few)), "exchange.too-many");
  std::vector<Triangle> bad = kBar;
  bad[7][1][2] = std::numeric_limits<double>::infinity();
  EXPECT_EQ(id(read_stl(binary(bad), "f", in_mm())), "exchange.number");
  bad[7][1][2] = std::nan("");
  EXPECT_EQ(id(read_stl(binary(bad), "f", in_mm())), "exchange.number");
  bad[7][1][2] = 1e30;
  EXPECT_EQ(id(read_stl(binary(bad), "f", in_mm())), "exchange.too-far");
  EXPECT_EQ(id(read_stl(binary({{Vector{1, 1, 1}, Vector{1, 1, 1}, Vector{1, 1, 1}}}), "f", in_mm())), "exchange.empty");
  for (double weld : {-1.0, 1e-9, 2.0, std::nan("")}) {
    StlOptions odd = in_mm();
    odd.weld = weld;
    EXPECT_EQ(id(read_stl(binary(kBar), "f", odd)), "exchange.options") << weld;
  }
  StlOptions odd = in_mm();
  odd.placing.shift[1] = std::nan("");
  EXPECT_EQ(id(read_stl(binary(kBar), "f", odd)), "exchange.options");
  odd.placing.shift[1] = 99'999;
  EXPECT_EQ(id(read_stl(binary(kBar), "f", odd)), "exchange.too-far");
}

// Every beginning of a file, and files with bytes changed: a value or reasons, whatever they are.
TEST(Stl, CutAndScratchedFilesNeverPassUnseen) {
  for (const std::string& whole : {binary(kBar), text(kBar)}) {
    for (std::size_t n = 0; n + 2 < whole.size(); n += 3) {
      const auto stl = read_stl(whole.substr(0, n), "f", in_mm());
      // text that lacks only the name after endsolid is whole
      if (stl.ok()) {
        EXPECT_NE(whole.substr(0, n).find("endsolid"), std::string::npos) << n;
      }
    }
    std::mt19937_64 random(8);
    int refused = 0;
    for (int i = 0; i < 3000; ++i) {
      std::string scratched = whole;
      for (int k = 0; k < 3; ++k) scratched[random() % scratched.size()] = static_cast<char>(random());
      const auto stl = read_stl(scratched, "f", in_mm());
      refused += !stl.ok();
      if (!stl.ok()) continue;
      for (const Corners& t : stl->mesh.triangles) {
        for (std::uint32_t v : t) ASSERT_LT(v, stl->mesh.points.size());
      }
    }
    EXPECT_GT(refused, 10);
  }
}

// ---- welding -------------------------------------------------------------------------------------------------------

// The slow model: every point against all before it, then against all that are kept.
Mesh weld_slowly(const std::vector<Vector>& points, double tolerance) {
  Mesh mesh;
  std::vector<std::uint32_t> given;
  for (const Vector& p : points) {
    const auto equal = std::find(points.begin(), points.begin() + static_cast<std::ptrdiff_t>(given.size()), p) - points.begin();
    if (equal < static_cast<std::ptrdiff_t>(given.size())) {
      given.push_back(given[static_cast<std::size_t>(equal)]);
      continue;
    }
    std::uint32_t best = 0;
    double least = std::numeric_limits<double>::infinity();
    for (std::uint32_t k = 0; k < mesh.points.size(); ++k) {
      const Vector& q = mesh.points[k];
      const double x = p[0] - q[0], y = p[1] - q[1], z = p[2] - q[2], d2 = x * x + y * y + z * z;
      if (d2 < least) best = k, least = d2;
    }
    if (!(least <= tolerance * tolerance)) best = static_cast<std::uint32_t>(mesh.points.size()), mesh.points.push_back(p);
    given.push_back(best);
  }
  for (std::size_t i = 0; i < given.size(); i += 3) mesh.triangles.push_back({given[i], given[i + 1], given[i + 2]});
  return mesh;
}

TEST(Weld, JoinsAsTheSlowModelDoes) {
  std::mt19937_64 random(4);
  const auto between = [&](double a, double b) { return a + (b - a) * static_cast<double>(random() >> 11) * 0x1p-53; };
  for (double tolerance : {0.0, 1e-6, 0.003, 0.5}) {
    for (double wide : {0.002, 0.05, 3.0, 20.0}) {
      std::vector<Vector> points;
      for (int i = 0; i < 900; ++i) {
        points.push_back({between(-wide, wide), between(-wide, wide), between(-wide, wide) * (i % 2)});
        if (i % 3 == 0) points.back() = points[random() % points.size()];
        if (i % 7 == 0) points.back()[0] += between(-1, 1) * tolerance;
      }
      const Mesh fast = weld(points, tolerance), slow = weld_slowly(points, tolerance);
      EXPECT_EQ(fast.points, slow.points) << tolerance << ' ' << wide;
      EXPECT_EQ(fast.triangles, slow.triangles) << tolerance << ' ' << wide;
    }
  }
}

TEST(Weld, GapsCloseWithinTheToleranceOnly) {
  std::vector<Triangle> bar = kBar;
  for (std::size_t i = 0; i < bar.size(); ++i) bar[i][i % 3][i % 2] += i % 4 < 2 ? 0.004 : -0.004;
  StlOptions fine = in_mm(), coarse = in_mm();
  coarse.weld = 0.02;
  const auto open = read_stl(binary(bar), "f", fine), closed = read_stl(binary(bar), "f", coarse);
  ASSERT_TRUE(open.ok() && closed.ok());
  EXPECT_FALSE(open->survey.closed());
  EXPECT_TRUE(closed->survey.closed());
  EXPECT_EQ(closed->mesh.points.size(), 8u);
}

}  // namespace
}  // namespace pommel::exchange
