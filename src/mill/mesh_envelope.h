// The gouge-free envelope over any closed mesh: how low a cutter may go over a carved piece on the rotary axis.
//
// As in mill/envelope.h the cutter's axis passes through the rotary axis (along x, through the origin), and the highest
// point over all of the body counts, so the piece need not be star-shaped: what overhangs is met from above. Nothing is
// sampled; triangles, edges and corners each have a closed height (mesh_cutter.h), and each is looked at only where it
// can be touched (mesh_skin.h).
//
//   - Ball: a triangle moved out by the ball's radius is cut by the plane of a row; between the directions of the two ends
//     of the cut the height is one division. Edges and corners have their windows: the hull of the wedge of centres.
//   - Other cutters: every element is asked wherever the cutter's radius reaches it. As exact, and slower.
//
// Only the cutting part is rolled: shank, collet and holder are looked at with the moves (mover.h).
//
// Accuracy: single positions to 1e-6 mm against the mesh, a grid to the rounding of single precision (0.00001 mm at 100
// mm). What the mesh itself leaves out of the shape that was meant is not known here.
//
// A MeshEnvelope is a value: immutable, cheap to copy, free to cross threads.
#pragma once

#include <memory>
#include <span>
#include <stop_token>

#include "base/result.h"
#include "mill/envelope.h"
#include "mill/mesh_skin.h"
#include "shop/shop.h"

namespace pommel::mill {

class MeshEnvelope {
 public:
  /// Fails as MeshSkin::of and MeshCutter::of do. Two threads do the sorting.
  static Result<MeshEnvelope> of(std::span<const Vector> points, std::span<const Corners> triangles,
                                 const shop::Cutter& cutter, std::stop_token stop = {});

  /// mm from the tip up to the point whose heights are told: the centre of a ball or of a tapered ball's tip, else 0.
  double reference() const;

  /// Height of that point at one position, mm above the rotary axis (negative beyond it). -infinity where the cutter
  /// passes beside the body.
  double height(double x0, double a) const;

  /// The same over a grid, on two threads; the bits do not depend on how many. Fails with "cancelled" (the grid
  /// then holds nothing of use), "mill.grid".
  /// REQUIRES: rows ascending; columns between 1 and 1,000,000.
  Result<Done> fill(std::span<const double> rows, int columns, Heights& into, std::stop_token stop = {}) const;

 private:
  struct Body;
  explicit MeshEnvelope(std::shared_ptr<const Body> body) : body_(std::move(body)) {}

  std::shared_ptr<const Body> body_;
};

}  // namespace pommel::mill
