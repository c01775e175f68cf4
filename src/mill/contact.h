// Where one body of the cutter stands on the smooth skin: on the round and on the faces. For a place x0 along the piece each contact is
// one height for a range of directions. Inside mill/ only.
//
// On the round the highest point for a direction lies under the cutter (theta = a): there the point of a section is highest and nearest
// to the cutter's axis at once. What is left is the plane question for r(x) - rise(|x - x0|): contacts of the rounded rim (offset.h, at
// x0 ± flat), level places under the disc, places as steep as a cone, and the ends of pieces.
//
// A plane face with the distance d from the axis, leaning along the piece by the normal (nx, nr): for the direction a its normal in the
// cutter's frame is n = (nx, nr sin b, nr cos b), b = phi - a. A disc of radius R rounded by rho touches it at its lateral place
// -(R / m + rho) (nx, nr sin b), m = hypot(nx, nr sin b), so where the face does not lean its middle stands at
//     (d + rho + R |sin b|) / cos b
// over the face, and the contact lies within the face for b on one stretch to each side. A cone touches a plane with the disc at its
// upper rim, or where its tip does.
#pragma once

#include <vector>

#include "mill/columns.h"
#include "mill/meridian.h"
#include "mill/section.h"

namespace pommel::mill {

/// A contact on the round: one height for every direction in which the outline stands inside the faces.
struct RoundContact {
  const Cell* cell = nullptr;
  double x = 0, r = 0;
  double height = 0;
};

/// A contact on a face: height offset / cos(a - phi) + wide |tan(a - phi)| - less for a - phi between the two limits.
struct FaceContact {
  std::size_t face = 0;  // in Part::faces
  double phi = 0, offset = 0, wide = 0, less = 0;
  double from = 0, to = 0;  // radians from phi
};

/// A face that leans, under a body that is no ball: each direction has its own contact.
struct LeaningFace {
  const Cell* cell = nullptr;
  std::size_t face = 0;  // in Cell::faces
};

/// What a row of positions needs besides the creases. Reused from row to row.
struct Contacts {
  std::vector<RoundContact> rounds;  ///< highest first
  std::vector<FaceContact> faces;
  std::vector<LeaningFace> leaning;
  std::vector<double> at;
};

/// All contacts of the body at x0. Heights are those of the body's corner centre (the ball's centre; a disc's level) less `drop`.
void contacts_at(const std::vector<Cell>& cells, const CutterBody& body, double drop, double x0, Contacts& into);

/// Height for one direction over a leaning face, like the others; -infinity where the contact is not on the face.
double over_leaning(const LeaningFace& leaning, const CutterBody& body, double drop, double x0, double a);

/// The directions in which a circle of radius r about the axis stands inside the faces of the cell at x. `whole` when it does all round
/// (the list is then empty).
std::vector<Arc> open_arcs(const Cell& cell, double x, double r, bool& whole);

/// Whether direction a, taken to within half a turn of the arc's middle, lies in the arc.
bool holds(const Arc& arc, double a);

}  // namespace pommel::mill
