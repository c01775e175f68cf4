// The edge of a turned piece as a drawing wants it: its own lines and arcs, not a string of points.
#pragma once

#include <vector>

#include "paper/page.h"
#include "shape/part.h"

namespace pommel::paper {

/// mm that an arc may stand off the true edge where the edge is no line and no arc (a vase's spline).
inline constexpr double kArcFit = 0.01;

/// R(x, theta) from head to foot in the direction `theta`, before treatments, as vertices (x, R): lines and arcs of the outline and of the
/// faces as they are, other curves as arcs within kArcFit; a wall is a straight way. REQUIRES: shape::problems(part) is empty.
std::vector<Vertex> side_line(const shape::Part& part, double theta);

/// The closed contour (x, t) of the piece seen along `phi`, treatments and all: along t < 0 from head to foot and back.
std::vector<Vertex> contour(const shape::Part& part, double phi);

/// A section square to the axis as a closed path (y, z), seen from the foot, with all treatments; faces are lines, the round, flutes and
/// reeds arcs; a twist's are laid through three points each two degrees. REQUIRES: 0 < x < length.
std::vector<Vertex> section_line(const shape::Part& part, double x);

}  // namespace pommel::paper
