// The elements of a mesh as one cutter meets them: each with the hull of its touches and its height at a position.
// For this room only.
#pragma once

#include "mill/mesh_window.h"

namespace pommel::mill {

class MeshElements {
 public:
  MeshElements(MeshSkin skin, MeshCutter cutter);

  const MeshCutter& cutter() const { return cutter_; }
  std::size_t size() const { return skin_.triangles.size() + skin_.edges.size() + skin_.corners.size(); }
  bool is_triangle(std::size_t element) const { return element < skin_.triangles.size(); }

  /// Where the element can be touched; without points where it cannot.
  Hull hull(std::size_t element) const;

  /// Height of the cutter's reference point over the element at x0 in the direction whose cosine and sine are given;
  /// -infinity where it does not touch it.
  double height(std::size_t element, double x0, double cos, double sin) const;

  /// What an element can raise a row to at most: its highest point in a direction, less what the cutter's skin rises up to
  /// the element's nearest point. Cheap to ask before its height is.
  struct Bound {
    std::array<Vector, 3> points{};
    int count = 0;
  };
  struct RowBound {
    Bound bound;
    double beside = 0;  ///< mm along x from the row to the element
    double under = 0;   ///< mm, the cutter's reference less its skin's rise at `beside`
  };
  Bound bound(std::size_t element) const;
  RowBound in_row(const Bound& bound, double x0) const;
  /// Whether the element cannot stand higher than `height`, in the direction whose cosine and sine are given.
  bool cannot_reach(const RowBound& row, double cos, double sin, double height) const;

  /// A ball over a triangle: the touch's plane, n . centre = offset.
  struct Plane {
    Vector normal{};
    double offset = 0;
  };
  Plane plane(std::size_t triangle) const;

 private:
  Hull triangle_hull(std::size_t i) const;
  Hull edge_hull(const MeshEdge& edge) const;
  Hull corner_hull(const MeshCorner& corner) const;
  Hull wide_hull(std::span<const Vector> points, std::span<const Vector> normals, bool wild) const;
  double over_triangle(std::size_t i, double x0, double cos, double sin) const;
  bool holds(std::size_t i, const Vector& p) const;

  MeshSkin skin_;
  MeshCutter cutter_;
};

}  // namespace pommel::mill
