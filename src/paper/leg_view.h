// A leg seen square to one of its faces, as plain lines: what a drawing needs, without any painting.
//
// Points are (x, t): x along the piece from the head, t across the face seen in the direction of growing theta, mm. Seen from
// outside with the head at the left, t grows downwards on the paper.
#pragma once

#include <string>
#include <vector>

#include "base/quantity.h"
#include "shape/part.h"

namespace pommel::paper {

struct Point {
  double x = 0, t = 0;
};
using Line = std::vector<Point>;

/// A face seen at a slant, radians from square.
struct Facet {
  Line outline;  ///< closed
  double slant = 0;
};

/// What is seen of the leg. Areas are closed without repeating their first point.
struct LegView {
  Line silhouette;              ///< closed: along t < 0 from head to foot, back along t > 0
  std::vector<Line> shade;      ///< closed, each inside the one before: bands of light on the round; the flats cover them
  std::vector<Line> flats;      ///< closed: what is left of the face seen
  std::vector<Line> pommels;    ///< open: where the round meets that face
  std::vector<Facet> facets;    ///< what is seen of faces that look aslant, as an octagon's
  std::vector<Line> hollows;    ///< closed: what is seen of flutes, and of a twist's hollows
  std::vector<Line> arrises;    ///< open: edges between facets, flutes, reeds and the round, where they are seen, and where a reed or a twist turns away
  std::vector<Line> turns;      ///< open: bottoms of a twist's hollows, where they are seen
  std::vector<Line> rings;      ///< open: edges across the piece, at walls and at kinks
  std::vector<Line> mortises;   ///< closed: mouths on the face seen, and pockets let in from its two neighbours
  std::vector<Line> cuts;       ///< open: where an end is sawn after turning
  std::vector<Line> bores;      ///< closed: mouths and far ends on the faces seen and behind it, and holes from its two neighbours and the ends
};

/// `phi`: direction of the face seen, a quarter turn of 0. Chords stay within 0.05 mm of round outlines of furniture size.
/// REQUIRES: shape::problems(part) is empty.
LegView leg_view(const shape::Part& part, double phi);

/// The face with the first mortise; 0 (face A) where there is none.
double seen_face(const shape::Part& part);

/// Diameters of an element as a turner writes them: "□ 64", "⌀ 46", "⌀ 44 – 59 – 32" (start, crest or bottom where it lies
/// beyond both ends, end). Alike ends with a crest or bottom: that alone.
std::string diameters(const shape::ElementMark& mark, const LengthFormat& lengths);

/// Places for labels that want to stand at `wanted` (growing) but need `pitch` each, within [low, high]: least squares, order
/// kept. REQUIRES: they fit: (count - 1) * pitch <= high - low.
std::vector<double> spread(const std::vector<double>& wanted, double pitch, double low, double high);

}  // namespace pommel::paper
