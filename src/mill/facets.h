// Surfaces of flutes, reeds and twists as lattices of plane facets, over which every body of a cutter can stand.
//
// A groove or a reed on a straight stretch of its centre line is a cylinder of circles square to the axis: strips between rulings are
// parallelograms. In grooves the rulings lie on the surface, so the strips stand in the air; round reeds the strips touch from outside:
// neither lets a cutter gouge, and neither stands off by more than the tolerance. Curved centre lines become chords on the outer side
// first. A twist has triangles with their corners on it: a body is made larger by the tolerance over them, as over chords of creases.
//
// On a facet a body touches one point for each direction (contact.h has the formula of a leaning face, which this is); on edges where two
// facets bulge it rolls (crease.h); an edge where they are hollow it cannot touch but at its ends. Over a whole row only those strips are looked at that
// could raise some column: their greatest distance from the axis, less what the body's skin has risen where they are nearest to its axis, is no
// lower than what is there, and the nodes of a twist are there first. A lattice reaches farther than the surface shows: each contact that would raise the envelope
// is asked whether the other makers of the skin have left that point (section.h). Immutable. Inside mill/ only.
#pragma once

#include <vector>

#include "mill/columns.h"
#include "mill/meridian.h"
#include "mill/section.h"
#include "mill/tracer.h"

namespace pommel::mill {

/// Where the facets of a strip between two rows of nodes stand at most.
struct StripBound {
  float from = 0, width = 0;     ///< radians: its directions, from in [0, 2 pi)
  float least = 0, greatest = 0;  ///< mm from the axis
};

/// Nodes in rows square to the axis.
struct Patch {
  std::size_t cell = 0;
  Owner owner;
  bool planar = true;    ///< facets between nodes are parallelograms; else two triangles each, with their corners on the surface
  bool closed = false;   ///< all round: the last node of a row is the first one's neighbour
  bool ridges = false;   ///< facets bulge towards each other along the rulings
  bool rims = false;     ///< the first and the last row are edges
  bool asked_for = true;  ///< false: a ball stands on the surface itself (smooth.h), and on these only where it is told to
  double crown = 0, half_sector = 0;  ///< of a reed: its direction, and how far it speaks to both sides; 0: no reed
  double turn = 0;                    ///< radians from facet to facet
  std::size_t across = 0;             ///< nodes in a row
  std::vector<double> x;              ///< of each row
  std::vector<Point> nodes;           ///< row by row
  std::vector<StripBound> bounds;     ///< of each strip, row by row
  double least_reach = 0;             ///< mm from the axis: the least of them

  const Point& node(std::size_t row, std::size_t k) const { return nodes[row * across + (k < across ? k : k - across)]; }
  std::size_t strips() const { return closed ? across : across - 1; }
};

class Facets {
 public:
  /// No facet stands farther from the surface than `tolerance` mm. `ball`: the radius of the ball that will stand on them, 0 for
  /// other bodies; twists into which it fits have none.
  Facets(const std::vector<Cell>& cells, double tolerance, double ball);

  bool empty() const { return patches_.empty(); }
  /// The owner's facets in that cell are asked for by height_of alone from now on.
  void leave_to_ball(std::size_t cell, const Owner& owner);

  /// What a body over facets needs to know of its cutter.
  struct Over {
    const std::vector<Cell>& cells;  ///< of the same part
    const CutterBody& body;
    const CutterBody& grown;  ///< larger by the tolerance, for triangles
    double reference = 0;     ///< mm above the tip: heights are this point's
  };

  /// Raises the row to the body's heights over the facets.
  void raise(const Over& over, double x0, const Columns& columns, float* row) const;
  /// -infinity where no facet is under the body.
  double height_at(const Over& over, double x0, double a) const;
  /// The same over the facets of one owner in one cell, whoever they are left to.
  double height_of(const Over& over, std::size_t cell, const Owner& owner, double x0, double a) const;

 private:
  std::vector<Patch> patches_;
};

}  // namespace pommel::mill
