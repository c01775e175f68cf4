// From a drawn outline, or the meridian of a mesh, to measures: as a maker would take them, both sides of every edge and some between.
//
// A drawing is laid on its axis: a straight line by itself as long as the piece is the axis; a closed outline that is its own mirror image is whole, and
// its axis is the principal one of its line; a closed one with a straight edge from end to end is a half, and that edge the axis; an open one is a half
// over the x axis of the drawing (or its y axis, where it is drawn upright). Overhangs are refused with their place.
#pragma once

#include "exchange/drawing.h"
#include "match/recognise.h"

namespace pommel::match {

struct Laid {
  std::vector<Measure> measures;
  Wishes wishes;
  std::vector<std::string> remarks;  ///< how it was laid, in bench words
};

struct LayOptions {
  double gap = 0.1;          ///< mm
  double uncertainty = 0.02; ///< mm, square to the outline
  bool end_for_end = false;
  std::optional<double> square;  ///< mm: level stretches as wide as this, drawn from the flats, are square
};

/// Fails with "drawing.branch", "drawing.doubled", "outline.overhang" (every one with its place), "outline.parts" (more than one line), "outline.axis".
Result<Laid> laid(const exchange::Drawing& drawing, const LayOptions& options);

/// A meridian with growing x (equal for a wall), already on its axis.
using Meridian = std::vector<exchange::Dot>;

/// Measures along a meridian: some hundreds at most, whatever it has. Between edges less than `narrow` mm apart along the axis stands a wall.
std::vector<Measure> measures_along(const Meridian& meridian, double uncertainty, double narrow = 0.05);

}  // namespace pommel::match
