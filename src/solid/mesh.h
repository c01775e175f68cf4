// A solid's skin as triangles, plain data, and its binary STL.
//
// Invariants of a Mesh that mesh() hands out (broken() says which one fails): every edge belongs to exactly two
// triangles that run along it in opposite directions, normals by the right hand point out of the wood, no triangle uses
// a vertex twice, every vertex is used. Values are plain data and may cross threads.
#pragma once

#include <array>
#include <cstdint>
#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

#include "solid/solid.h"

namespace pommel::solid {

struct Mesh {
  std::vector<Point> points;
  std::vector<std::array<std::uint32_t, 3>> triangles;  ///< indices into points, counter-clockwise seen from outside
};

/// Triangles no farther than `deflection` mm from the surface (chord height; > 0), neighbours on an edge turning by at
/// most `turn` radians. Fails with "solid.mesh" when an invariant stays broken at an eighth of the deflection too,
/// "cancelled" when stopped.
Result<Mesh> mesh(const Solid& solid, double deflection = 0.1, double turn = 0.35, std::stop_token stop = {});

/// A solid that carries its triangles, for the kernel's viewer to show without laying them, and its skin of them.
struct Laid {
  Solid solid;
  Mesh mesh;
};
/// As mesh(). The solid given stays without triangles.
Result<Laid> laid(const Solid& solid, double deflection = 0.1, double turn = 0.35, std::stop_token stop = {});

/// The skins of all of them beside one another; two that touch stay two. Solids that placed() made of one are laid once. Fails as mesh().
Result<Mesh> mesh_all(const std::vector<Solid>& solids, double deflection, double turn, std::stop_token stop = {});

/// Of all points. REQUIRES: it has any.
Box bounds(const Mesh& mesh);

/// The first broken invariant in words, or empty.
std::string broken(const Mesh& mesh);

/// V - E + F: 2 for a skin without handles, 0 with one (a through hole), 4 for two separate skins.
long euler_number(const Mesh& mesh);

/// By the divergence theorem, mm³; positive when the triangles point outwards.
double signed_volume(const Mesh& mesh);
double area(const Mesh& mesh);

/// Binary STL (M. Burns, Automated Fabrication, 1993, section 6.5): 84 + 50 n bytes, little-endian, millimetres.
/// `title` goes into the 80-byte header, cut to fit; bytes depend on the arguments alone.
std::string write_stl(const Mesh& mesh, std::string_view title);

/// Reads binary STL back; equal points become one vertex, triangles that collapse in single precision are dropped.
/// Fails with "stl.size" when the bytes do not add up to 84 + 50 n, "stl.number" on a number that is not finite.
Result<Mesh> read_stl(std::string_view bytes);

}  // namespace pommel::solid
