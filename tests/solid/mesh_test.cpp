// Triangles, binary STL, and the picture made of them.
#include <gtest/gtest.h>

#include <bit>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <numbers>

#include "base/diagnostic.h"
#include "solid/legs.h"
#include "solid/mesh.h"
#include "solid/picture.h"

namespace pommel::solid {
namespace {

using namespace testing;

Mesh meshed(const shape::Part& part, double deflection = 0.1) {
  const Result<Solid> solid = jointed(part);
  EXPECT_TRUE(solid.ok()) << (solid.ok() ? "" : render(solid.reasons()));
  if (!solid) return {};
  const Result<Mesh> skin = mesh(*solid, deflection);
  EXPECT_TRUE(skin.ok()) << (skin.ok() ? "" : render(skin.reasons()));
  return skin ? *skin : Mesh{};
}

TEST(Mesh, BoxIsTwelveTriangles) {
  const Mesh box = meshed(part_of(Turning(0).clear(100, 1), 4, 20));
  EXPECT_EQ(box.triangles.size(), 12u);
  EXPECT_EQ(box.points.size(), 8u);
  EXPECT_EQ(broken(box), "");
  EXPECT_EQ(euler_number(box), 2);
  EXPECT_NEAR(signed_volume(box), 160000, 1e-6);
  EXPECT_NEAR(area(box), 4 * 4000 + 2 * 1600, 1e-6);
}

TEST(Mesh, BrokenNamesWhatIsWrong) {
  Mesh box = meshed(part_of(Turning(0).clear(100, 1), 4, 20));
  Mesh hole = box;
  hole.triangles.pop_back();
  EXPECT_EQ(broken(hole), "an edge has a triangle on one side only");
  Mesh turned_in = box;
  std::swap(turned_in.triangles[0][0], turned_in.triangles[0][1]);
  EXPECT_EQ(broken(turned_in), "two triangles run along an edge the same way");
  Mesh inside_out = box;
  for (auto& t : inside_out.triangles) std::swap(t[0], t[1]);
  EXPECT_EQ(broken(inside_out), "the triangles point inwards");
  Mesh loose = box;
  loose.points.push_back({});
  EXPECT_EQ(broken(loose), "a vertex belongs to no triangle");
  Mesh far = box;
  far.triangles[0][0] = 99;
  EXPECT_EQ(broken(far), "a triangle names a vertex that is not there");
  EXPECT_EQ(broken(Mesh{}), "there is no triangle");
}

TEST(Mesh, BenchLegIsClosedAndCloseToTheSolid) {
  for (const double deflection : {0.5, 0.1, 0.02}) {
    const auto since = std::chrono::steady_clock::now();
    const shape::Part part = bench_leg_jointed(5);
    const Mesh leg = meshed(part, deflection);
    EXPECT_EQ(broken(leg), "");
    EXPECT_EQ(euler_number(leg), 0) << "two mortises that meet make one tunnel";
    const double wanted = shape::turned_volume(part) - shape::mortised_volume(part);
    // a chord error everywhere at once would take area times deflection
    EXPECT_NEAR(signed_volume(leg), wanted, shape::turned_area(part) * deflection);
    std::printf("mesh %.2f mm: %zu triangles, volume off by %.1e, with the solid %.2f s\n", deflection,
                leg.triangles.size(), signed_volume(leg) / wanted - 1,
                std::chrono::duration<double>(std::chrono::steady_clock::now() - since).count());
  }
}

TEST(Mesh, PointsLieOnTheBoundaryAndTrianglesWithinTheDeflection) {
  const Result<Solid> solid = turned(bench_leg());
  ASSERT_TRUE(solid.ok());
  const Result<Mesh> leg = mesh(*solid, 0.1);
  ASSERT_TRUE(leg.ok());
  Probe probe(*solid);
  double worst_point = 0, worst_middle = 0;
  for (std::size_t i = 0; i < leg->points.size(); i += 7)
    worst_point = std::max(worst_point, std::abs(probe.distance(leg->points[i])));
  for (std::size_t i = 0; i < leg->triangles.size(); i += 7) {
    Point middle{};
    for (const auto c : leg->triangles[i])
      middle.x += leg->points[c].x / 3, middle.y += leg->points[c].y / 3, middle.z += leg->points[c].z / 3;
    worst_middle = std::max(worst_middle, std::abs(probe.distance(middle)));
  }
  EXPECT_LT(worst_point, 1e-4);
  // the kernel keeps to its deflection on edges and, by its manual, to about that inside faces
  EXPECT_LT(worst_middle, 0.2);
  std::printf("mesh 0.1 mm: points off by %.1e, middles by %.3f mm\n", worst_point, worst_middle);
}

TEST(Mesh, SweptLegsClose) {
  int closed = 0;
  for (unsigned seed = 60000; seed < 60024; ++seed) {
    const Mesh leg = meshed(random_leg(seed, static_cast<Shoulder>(seed % 4)), 0.2);
    EXPECT_EQ(broken(leg), "") << seed;
    EXPECT_EQ(euler_number(leg), 2) << seed;
    const Result<Mesh> back = read_stl(write_stl(leg, "leg"));
    ASSERT_TRUE(back.ok());
    EXPECT_EQ(broken(*back), "") << seed;
    closed += broken(*back).empty();
  }
  EXPECT_EQ(closed, 24);
}

// A quarter turn and a step aside move the same triangles.
TEST(Mesh, ThoseOfOneSolidAreLaidOnceAndMoved) {
  const Result<Solid> leg = jointed(bench_leg_jointed(5));
  ASSERT_TRUE(leg.ok());
  const Result<Solid> other = placed(*leg, {{100, 20, -5}, {0, 1, 0}, {-1, 0, 0}});
  ASSERT_TRUE(other.ok());
  const Result<Mesh> one = mesh(*leg, 0.3, 0.5), two = mesh_all({*leg, *other}, 0.3, 0.5);
  ASSERT_TRUE(one.ok() && two.ok());
  const std::size_t points = one->points.size();
  ASSERT_EQ(two->points.size(), 2 * points);
  ASSERT_EQ(two->triangles.size(), 2 * one->triangles.size());
  EXPECT_EQ(broken(*two), "");
  EXPECT_NEAR(signed_volume(*two), 2 * signed_volume(*one), 1e-6 * signed_volume(*one));
  for (std::size_t i = 0; i < points; ++i) {
    const Point &p = one->points[i], &q = two->points[points + i];
    ASSERT_NEAR(q.x, 100 - p.y, 1e-9);
    ASSERT_NEAR(q.y, 20 + p.x, 1e-9);
    ASSERT_NEAR(q.z, p.z - 5, 1e-9);
  }
  EXPECT_EQ(mesh_all({*leg}, 0, 0.5).reasons().front().id, "solid.mesh");
}

TEST(Mesh, RefusesSenselessFineness) {
  const Result<Solid> solid = turned(part_of(Turning(0).clear(100, 1), 4, 20));
  ASSERT_TRUE(solid.ok());
  for (const double deflection : {0.0, -1.0, std::nan(""), 1e9})
    EXPECT_EQ(mesh(*solid, deflection).reasons().front().id, "solid.mesh");
  EXPECT_FALSE(mesh(*solid, 0.1, 0).ok());
  std::stop_source stopped;
  stopped.request_stop();
  EXPECT_EQ(mesh(*solid, 0.1, 0.35, stopped.get_token()).reasons().front().id, "cancelled");
}

TEST(Stl, SizeHeaderAndRoundTrip) {
  const Mesh leg = meshed(bench_leg_jointed(2, 12));
  const std::string bytes = write_stl(leg, "solid bench leg, mm");
  EXPECT_EQ(bytes.size(), 84 + 50 * leg.triangles.size());
  EXPECT_EQ(bytes.substr(0, 80), "pommel: solid bench leg, mm" + std::string(53, ' '));
  const Result<Mesh> back = read_stl(bytes);
  ASSERT_TRUE(back.ok());
  EXPECT_EQ(broken(*back), "");
  EXPECT_EQ(euler_number(*back), 2);
  EXPECT_NEAR(signed_volume(*back), signed_volume(leg), 1e-5 * signed_volume(leg));
  EXPECT_EQ(back->triangles.size(), leg.triangles.size());
  EXPECT_EQ(write_stl(leg, "solid bench leg, mm"), bytes);
}

// A header that was cut at 80 bytes ended in half a letter; "SOLID" and " solid" were taken for the text form by readers that mind neither case nor blanks.
TEST(Stl, NoTitleIsTakenForTheTextFormOrForAColour) {
  const Mesh box = meshed(part_of(Turning(0).clear(100, 1), 4, 20));
  for (const char* title : {"solid", "SOLID leg", " solid"}) EXPECT_EQ(write_stl(box, title).substr(0, 8), "pommel: ");
  EXPECT_EQ(write_stl(box, "COLOR=\x01\n h\u00F6z \U0001FAB5").substr(0, 24), "pommel: COLOR-?? h?z ?  ");
  for (const char c : write_stl(box, std::string(71, 'x') + "\u00F6\u00F6").substr(0, 80)) EXPECT_TRUE(c >= ' ' && c < 0x7F);
}

TEST(Stl, NormalsPointOutwards) {
  const Mesh box = meshed(part_of(Turning(0).clear(100, 1), 4, 20));
  const std::string bytes = write_stl(box, "");
  for (std::size_t i = 0; i < box.triangles.size(); ++i) {
    float f[6];
    std::memcpy(f, bytes.data() + 84 + 50 * i, sizeof f);  // little-endian machine: the normal and the first corner
    EXPECT_GT(f[0] * (f[3] - 50) + f[1] * f[4] + f[2] * f[5], 0);
    EXPECT_FLOAT_EQ(f[0] * f[0] + f[1] * f[1] + f[2] * f[2], 1);
  }
}

TEST(Stl, BadBytesAreRefused) {
  const std::string good = write_stl(meshed(part_of(Turning(0).clear(100, 1), 4, 20)), "");
  EXPECT_EQ(read_stl("").reasons().front().id, "stl.size");
  EXPECT_EQ(read_stl(good.substr(0, 83)).reasons().front().id, "stl.size");
  EXPECT_EQ(read_stl(good.substr(0, good.size() - 1)).reasons().front().id, "stl.size");
  std::string lies = good;
  lies[80] = lies[81] = lies[82] = lies[83] = '\xff';
  EXPECT_EQ(read_stl(lies).reasons().front().id, "stl.size");
  std::string nan = good;
  nan.replace(84 + 12, 4, "\xff\xff\xff\xff");
  EXPECT_EQ(read_stl(nan).reasons().front().id, "stl.number");
}

TEST(Picture, ABoxSeenFromItsFaceFillsItsRectangle) {
  const Mesh box = meshed(part_of(Turning(0).clear(100, 1), 4, 20));
  View view;
  view.from = {0, 1, 0};
  view.width = 200, view.height = 120, view.margin = 0.1;
  const Result<Image> image = picture(box, view);
  ASSERT_TRUE(image.ok());
  ASSERT_EQ(image->rgb.size(), 200u * 120 * 3);
  const auto is_wood = [&](int u, int v) { return image->rgb[static_cast<std::size_t>(v * 200 + u) * 3 + 2] < 200; };
  // 100 by 40 mm in 160 by 96: 160 wide, 64 high, in the middle
  int count = 0;
  for (int v = 0; v < 120; ++v) {
    for (int u = 0; u < 200; ++u) count += is_wood(u, v);
  }
  EXPECT_NEAR(count, 160 * 64, 200);
  EXPECT_TRUE(is_wood(100, 60));
  EXPECT_TRUE(is_wood(22, 30));
  EXPECT_FALSE(is_wood(17, 60));
  EXPECT_FALSE(is_wood(100, 25));
  EXPECT_EQ(picture(box, view)->rgb, image->rgb);
}

TEST(Picture, NearerWoodHidesWhatLiesBehind) {
  // a thick head before a thin foot, seen along the axis from the head: one shade, the head's end
  const Mesh post = meshed(part_of(Turning(20).cylinder(20).wall(8).cylinder(60)));
  View view;
  view.from = {-1, 0, 0};
  view.width = view.height = 101;
  const Result<Image> image = picture(post, view);
  ASSERT_TRUE(image.ok());
  const auto shade = [&](int u, int v) { return image->rgb[static_cast<std::size_t>(v * 101 + u) * 3]; };
  EXPECT_EQ(shade(50, 50), shade(50, 20));
  EXPECT_NE(shade(50, 50), shade(1, 1));
}

TEST(Picture, BenchLegInTime) {
  const Mesh leg = meshed(bench_leg_jointed());
  View view;
  view.width = 1600, view.height = 1000;
  const auto since = std::chrono::steady_clock::now();
  ASSERT_TRUE(picture(leg, view).ok());
  std::printf("picture 1600x1000: %.0f ms\n",
              std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - since).count());
}

TEST(Picture, ImpossibleViews) {
  const Mesh box = meshed(part_of(Turning(0).clear(100, 1), 4, 20));
  const auto id = [&](auto change) {
    View view;
    change(view);
    const Result<Image> image = picture(box, view);
    return image.ok() ? std::string() : image.reasons().front().id;
  };
  EXPECT_EQ(id([](View& v) { v.from = {0, 0, 0}; }), "picture.view");
  EXPECT_EQ(id([](View& v) { v.from = {0, 0, 2}; }), "picture.view");
  EXPECT_EQ(id([](View& v) { v.from.x = std::nan(""); }), "picture.view");
  EXPECT_EQ(id([](View& v) { v.width = 0; }), "picture.view");
  EXPECT_EQ(id([](View& v) { v.height = 9000; }), "picture.view");
  EXPECT_EQ(id([](View& v) { v.margin = 0.6; }), "picture.view");
  const Result<Image> empty = picture(Mesh{}, View{});
  ASSERT_TRUE(empty.ok());
  EXPECT_EQ(empty->rgb[0], 246);
}

}  // namespace
}  // namespace pommel::solid
