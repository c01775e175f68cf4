// A mesh that came from outside, and what is wrong with it.
//
// Points in mm with the rotary axis along x, triangles counter-clockwise seen from outside: what mill/mesh_skin.h takes. All
// here are values; nothing is mended, since a mend that nobody ordered is a change of the piece.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "base/diagnostic.h"

namespace pommel::exchange {

using Vector = std::array<double, 3>;
using Corners = std::array<std::uint32_t, 3>;

struct Mesh {
  std::vector<Vector> points;
  std::vector<Corners> triangles;
};

enum class Fault {
  open_edge,         ///< an edge of one triangle: a hole
  branching_edge,    ///< an edge of three triangles or more
  flipped_triangle,  ///< looks the other way than most of its shell
  one_sided,         ///< an edge where the skin has no two sides, as on a ribbon closed with a twist
  thin_triangle,     ///< without area: corners in one place or on one line
  shell,             ///< pieces of skin without a common edge, where there are several
  inside_out,        ///< a closed shell that looks inwards: turned over, or a hollow
  normal,            ///< a normal in the file that looks away from the side from which the corners run counter-clockwise
};

struct Defect {
  Fault fault = Fault::open_edge;
  std::size_t count = 0;
  Vector first{};  ///< mm, placed: the middle of the first edge or triangle, in the order of triangles
};

struct Survey {
  std::vector<Defect> defects;  ///< in the order of Fault, each kind once; only what was found
  std::size_t shells = 0;
  double volume = 0;            ///< mm³, signed (divergence theorem); of meaning where nothing is open
  double area = 0;              ///< mm²
  Vector low{}, high{};         ///< mm, the box around the points of the triangles

  const Defect* find(Fault fault) const;
  /// No holes, branches, flipped, one-sided or inside-out parts: every edge twice, once each way.
  bool closed() const;
};

/// Counts all but Fault::normal, which only a reader can know.
/// REQUIRES: corners within the points, numbers finite, fewer than 2^31 triangles, no triangle with a corner twice.
Survey survey(const Mesh& mesh);

/// A warning each, with ids exchange.open-edges, .branching-edges, .flipped-triangles, .one-sided, .thin-triangles, .shells,
/// .inside-out, .normals.
std::vector<Diagnostic> told(const Survey& survey, const std::string& file);

/// Height in mm below which a triangle counts as thin.
inline constexpr double kThinTriangle = 1e-6;

double height_of(const Mesh& mesh, const Corners& triangle);  ///< mm, over the longest side; 0 without one
Vector middle_of(const Mesh& mesh, const Corners& triangle);

/// Points of the same place become one. Taken in order, each point joins the nearest one kept before it within `tolerance`
/// mm (the first of equals), or is kept as it stands; points with equal coordinates always go together, where the first of
/// them went. No point moves farther than the tolerance, and chains do not creep. With tolerance 0 only equal coordinates join.
/// `points` three a triangle, as a file without corners' numbers gives them. Triangles may have a corner twice afterwards.
/// Time n log n whatever the points are.
/// REQUIRES: finite, within 1e6 mm; 0 or 1e-6 <= tolerance <= 1; a multiple of three points, fewer than 2^32.
Mesh weld(std::span<const Vector> points, double tolerance);

}  // namespace pommel::exchange
