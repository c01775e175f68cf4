// The curves that the elements of shape/ are drawn with, told apart by what is drawn and not by what they are called: a bead and a torus that are
// both half-rounds are one figure. A Stroke is one such curve with its sizes; names are given at the end (naming.h).
//
// Everything here is in radii and mm. A stroke of one figure is a point in a small space of sizes, in the order of `size`:
//     0 x0, 1 x1, 2 r0, 3 r1, 4 extreme, then for a vase its inner stations: radius, place, radius, place ... (places as fractions of its length).
// Some are tied: a level has r1 = r0; a half-round has r1 = r0 and its extreme l/2 away.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shape/moulding.h"

namespace pommel::match {

enum class Figure {
  level,           ///< fillet, cylinder, pin, square-cut pommel
  slope,           ///< taper, sloped pommel
  half_bulge,      ///< half-round: bead without `greatest`, torus
  half_hollow,     ///< half-round: cove without `least`
  quarter_bulge,   ///< ovolo, rounded pommel; bead with unlike ends, entasis without `greatest`
  quarter_hollow,  ///< cove with unlike ends
  ball,
  arc_bulge,   ///< bead or entasis with `greatest`
  arc_hollow,  ///< cove with `least`
  cyma_recta,
  cyma_reversa,  ///< and ogee pommel
  scotia,
  vee,
  vase
};
inline constexpr int kFigures = 14;

struct InnerStation {
  double at = 0, radius = 0;  ///< fraction of the length; mm
};

struct Stroke {
  Figure figure = Figure::level;
  double x0 = 0, x1 = 0, r0 = 0, r1 = 0;
  double extreme = 0;  ///< radius of the crest or bottom, where the figure has one of its own
  std::vector<InnerStation> stations;  ///< vase
  bool level_start = false, level_end = false;
  bool alike = false;  ///< both ends have one radius: one number less to say

  double length() const { return x1 - x0; }
  int sizes() const { return 5 + 2 * static_cast<int>(stations.size()); }
  double size(int k) const;
  void set(int k, double value);
};

/// Whether this stroke comes back to the radius at which it began, so that one number says both ends.
bool ends_alike(const Stroke& stroke);
/// Figures that may be told to have alike ends (Stroke::alike): beads and coves with a crest or bottom of their own, ball, vee.
bool may_be_alike(Figure figure);
bool has_extreme(Figure figure);
/// Least and greatest radius of what is drawn, mm; nothing where it cannot be drawn.
struct Radii {
  double least = 0, greatest = 0;
};
std::optional<Radii> radii_of(const Stroke& stroke);

/// A crest or a bottom to be told beside the ends: its own one, or what a half-round or a ball comes to.
struct CrestOrBottom {
  double radius = 0;
  bool is_crest = false;
};
std::optional<CrestOrBottom> crest_or_bottom(const Stroke& stroke);
bool is_arc(Figure figure);

/// How many numbers besides the places of its ends say the stroke: what it is charged for (cut.h).
int freedoms(const Stroke& stroke);

/// The stroke's pieces, as shape/outline.h draws them. False, and nothing of use in `out`, where it cannot be drawn: overhangs, through the axis,
/// no length, ends that do not suit the figure.
bool draw(const Stroke& stroke, shape::Pieces& out);

/// Radius and slope of a line or a cubic at x, which go on past its ends. Here, since most of a fit's time is spent with it.
struct Rise {
  double radius = 0, slope = 0;
};
inline Rise rise_of(const shape::Piece& p, double x) {
  const double u = x - p.x0;
  if (p.kind == shape::Piece::Kind::line) {
    const double slope = (p.r1 - p.r0) / (p.x1 - p.x0);
    return {p.r0 + slope * u, slope};
  }
  return {p.c[0] + u * (p.c[1] + u * (p.c[2] + u * p.c[3])), p.c[1] + u * (2 * p.c[2] + 3 * u * p.c[3])};
}

/// Signed distance of a point from the curve of `piece` (outside positive), and the direction in which it was taken. An arc is taken as its whole
/// circle, lines and cubics go on past their ends, so that the distance stays smooth where a reading stands a little beyond an end.
struct Off {
  double distance = 0;
  double nx = 0, nr = 1;
};
Off off(const shape::Piece& piece, double x, double r);
/// From the piece that owns x, or the first or last where x is past the ends.
Off off(const shape::Pieces& pieces, double x, double r);

/// The piece that owns x, or the first or last where x is past the ends.
const shape::Piece& owner(const shape::Pieces& pieces, double x);

/// Radius at x; past its ends the curve goes on as above (an arc past its plumb tangent stays at its centre's radius).
double radius_of(const shape::Pieces& pieces, double x);

}  // namespace pommel::match
