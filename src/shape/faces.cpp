#include "shape/faces.h"

#include <cassert>
#include <cmath>

#include "base/number.h"
#include "shape/angle.h"

namespace pommel::shape {
namespace {

// Empty when the stretch lies well within the face, else what is wrong.
std::string wrong_stretch(const std::vector<Face>& faces, std::size_t face, double x0, double x1) {
  if (face >= faces.size())
    return "there is no face " + std::to_string(face + 1) + ": the piece has " + std::to_string(faces.size());
  const Profile& d = faces[face].d;
  if (d.pieces.empty()) return "face " + std::to_string(face + 1) + " is empty";
  if (!(x0 >= d.start() && x0 < x1 && x1 <= d.end())) {
    return "from " + format_number(x0, 3) + " mm to " + format_number(x1, 3) + " mm is no stretch of a piece of " +
           format_number(d.end(), 3) + " mm";
  }
  return {};
}

std::vector<Piece> joined_pieces(std::vector<Piece> first, const std::vector<Piece>& second) {
  first.insert(first.end(), second.begin(), second.end());
  return first;
}

}  // namespace

std::vector<Face> square_faces(double width, double length) {
  return polygon_faces(4, width, length);
}

std::vector<Face> polygon_faces(int sides, double across_flats, double length) {
  assert(sides >= 3 && across_flats > 0 && length > 0);
  std::vector<Face> faces;
  double d = across_flats / 2;
  for (int k = 0; k < sides; ++k) {
    double phi = 4 * k % sides == 0 ? 4 * k / sides * kQuarterTurn : kTurn * k / sides;
    faces.push_back({phi, Profile{{line_piece(0, d, length, d)}}});
  }
  return faces;
}

Result<std::vector<Face>> tapered(std::vector<Face> faces, const FaceTaper& taper) {
  const std::string remedy = "state faces that the piece has, and a taper that begins before it ends";
  if (!std::isfinite(taper.d1) || !(taper.d1 > 0))
    return fail("faces.taper", "the taper ends at or behind the axis", remedy);
  for (std::size_t face : taper.faces) {
    std::string wrong = wrong_stretch(faces, face, taper.x0, taper.x1);
    if (!wrong.empty()) return fail("faces.taper", "the taper cannot be made: " + wrong, remedy);
    Profile& d = faces[face].d;
    double d0 = d.value(taper.x0, taper.x0 > d.start() ? Side::before : Side::after);
    if (!std::isfinite(d0))
      return fail("faces.taper", "the taper begins where face " + std::to_string(face + 1) + " is not there", remedy);
    double end = d.end();
    std::vector<Piece> pieces =
        joined_pieces(pieces_within(d, d.start(), taper.x0), {line_piece(taper.x0, d0, taper.x1, taper.d1)});
    if (taper.x1 < end) pieces.push_back(line_piece(taper.x1, taper.d1, end, taper.d1));
    d.pieces = std::move(pieces);
  }
  return faces;
}

Result<std::vector<Face>> cleared(std::vector<Face> faces, std::size_t face, double x0, double x1) {
  std::string wrong = wrong_stretch(faces, face, x0, x1);
  if (!wrong.empty())
    return fail("faces.clear", "the face cannot be left out: " + wrong, "state a stretch within the piece");
  Profile& d = faces[face].d;
  d.pieces = joined_pieces(joined_pieces(pieces_within(d, d.start(), x0), {clear_piece(x0, x1)}), pieces_within(d, x1, d.end()));
  return faces;
}

}  // namespace pommel::shape
