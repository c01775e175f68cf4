// A polygon on a stretch of the stock: where its faces begin and end, and how.
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <tuple>

#include "base/number.h"
#include "shape/angle.h"
#include "shape/mortise.h"
#include "shape/moulding.h"
#include "shape/ring.h"
#include "shape/treatment_problems.h"
#include "shape/treatments.h"

namespace pommel::shape {
namespace {

constexpr double kMiss = 1e-6;

// How far the section reaches in the direction phi: where a face that looks that way has left the wood.
double support(const Part& part, double x, Side side, double phi) {
  const Ring ring = ring_at(part, x, side);
  double most = 0;
  std::vector<double> at = ring.creases();
  at.push_back(phi);
  for (double theta : at) most = std::max(most, ring.radius(theta) * sin_cos(theta - phi).cos);
  return most;
}

// From (x0, r0) to (x1, r1); false where a round stop would be steeper than plumb.
bool stop_pieces(Stop stop, double x0, double r0, double x1, double r1, Pieces& out) {
  double rise = std::fabs(r1 - r0), length = x1 - x0;
  if (rise <= kMiss || stop == Stop::chamfer) {
    out.push_back(line_piece(x0, r0, x1, r1));
    return true;
  }
  if (rise > length) return false;
  if (stop == Stop::ogee) {
    cyma({x0, r0, x1, r1, -1}, 1, out);
    return true;
  }
  double rho = (length * length + rise * rise) / (2 * rise);  // level at its lower end
  if (r0 > r1) out.push_back(arc_about(x0, r0, x1, r1, x1, r1 + rho, rho, -1));
  else out.push_back(arc_about(x0, r0, x1, r1, x0, r0 + rho, rho, -1));
  return true;
}

// How far a polygon across 2 d reaches in a direction `off` beside one of its flats.
double polygon_support(int sides, double d, double off) {
  double half = kTurn / sides / 2;
  return d / std::cos(half) * std::cos(half - std::fabs(std::remainder(off, 2 * half)));
}

// The face's distance on the stretch, from `out0` through both stops to `out1`.
Result<Pieces> cut_face(const PolygonWish& wish, double out0, double out1) {
  Pieces pieces;
  double a = wish.x0 + wish.length0, b = wish.x1 - wish.length1, d0 = wish.across0 / 2, d1 = wish.across1 / 2;
  for (auto [stop, length, rise] : {std::tuple{wish.stop0, wish.length0, out0 - d0}, std::tuple{wish.stop1, wish.length1, out1 - d1}}) {
    if (rise < -kMiss)
      return fail("treatment.fit", "the section is too small for the polygon: a flat would stand " + format_number(-rise, 3) + " mm outside the wood", "make it smaller across, or the stock larger");
    if (stop != Stop::none && stop != Stop::chamfer && rise > length)
      return fail("treatment.stop", "a stop " + format_number(length, 3) + " mm long cannot rise " + format_number(rise, 3) + " mm", "make it longer, or a chamfer");
  }
  if (wish.length0 > 0) stop_pieces(wish.stop0, wish.x0, out0, a, d0, pieces);
  if (a < b) pieces.push_back(line_piece(a, d0, b, d1));
  if (wish.length1 > 0) stop_pieces(wish.stop1, b, d1, wish.x1, out1, pieces);
  return pieces;
}

std::optional<Failure> wrong_wish(const Part& part, const PolygonWish& wish) {
  for (double n : {wish.x0, wish.x1, wish.across0, wish.across1, wish.length0, wish.length1}) {
    if (!std::isfinite(n)) return fail("treatment.size", "the polygon holds a number that is not finite");
  }
  if (!(wish.x0 < wish.x1) || wish.x0 < 0 || wish.x1 > part.length || wish.length0 < 0 || wish.length1 < 0 || wish.length0 + wish.length1 >= wish.x1 - wish.x0)
    return fail("treatment.stretch", "a polygon from " + mm_text(wish.x0) + " to " + mm_text(wish.x1) + " with stops of " + mm_text(wish.length0) + " and " + mm_text(wish.length1) + " does not fit a piece of " + mm_text(part.length),
                "state a place nearer the head first, and stops shorter than the stretch");
  if (wish.sides < 4 || wish.sides > 24 || !(wish.across0 > 0) || !(wish.across1 > 0))
    return fail("treatment.size", "a polygon needs 4 to 24 sides and a size across its flats", "state both");
  if ((wish.stop0 == Stop::none) != (wish.length0 == 0) || (wish.stop1 == Stop::none) != (wish.length1 == 0))
    return fail("treatment.stop", "a stop needs a length, and no stop has none", "state the length of each stop");
  return std::nullopt;
}

}  // namespace

Result<Part> polygoned(Part part, const PolygonWish& wish) {
  if (auto wrong = wrong_wish(part, wish)) return *wrong;
  const Part before = part;
  std::vector<bool> kept(before.faces.size(), true);
  const double a = wish.x0 + wish.length0, b = wish.x1 - wish.length1;
  for (int k = 0; k < wish.sides; ++k) {
    double phi = 4 * k % wish.sides == 0 ? 4 * k / wish.sides * kQuarterTurn : kTurn * k / wish.sides;
    const Face* there = face_looking(before, phi);
    // a face that is there comes back to where it was, another leaves the wood
    auto out = [&](double x, Side side) {
      double d = there ? there->d.value(x, side) : std::numeric_limits<double>::infinity();
      return std::isfinite(d) ? d : support(before, x, side, phi);
    };
    Result<Pieces> cut = cut_face(wish, out(wish.x0, wish.x0 > 0 ? Side::before : Side::after), out(wish.x1, wish.x1 < part.length ? Side::after : Side::before));
    if (!cut.ok()) return cut.failure();
    Face face;
    face.phi = phi;
    if (wish.x0 > 0) face.d.pieces = there ? pieces_within(there->d, 0, wish.x0) : std::vector<Piece>{clear_piece(0, wish.x0)};
    face.d.pieces.insert(face.d.pieces.end(), cut->begin(), cut->end());
    std::vector<Piece> rest = wish.x1 < part.length ? (there ? pieces_within(there->d, wish.x1, part.length) : std::vector<Piece>{clear_piece(wish.x1, part.length)}) : std::vector<Piece>{};
    face.d.pieces.insert(face.d.pieces.end(), rest.begin(), rest.end());
    if (there) {
      std::size_t index = static_cast<std::size_t>(there - before.faces.data());
      kept[index] = false;
      part.faces[index] = std::move(face);
    } else {
      part.faces.push_back(std::move(face));
    }
  }
  for (std::size_t f = 0; f < before.faces.size(); ++f) {
    if (!kept[f]) continue;
    for (auto [x, d] : {std::pair{a, wish.across0 / 2}, std::pair{b, wish.across1 / 2}}) {
      double needs = polygon_support(wish.sides, d, before.faces[f].phi), has = before.faces[f].d.value(x, Side::after);
      if (has < needs - kMiss)
        return fail("treatment.fit", face_name(before.faces[f].phi) + " cuts the polygon's corners at " + mm_text(x) + ": it stands at " + mm_text(has) + ", the corners reach to " + mm_text(needs), "make the polygon smaller across");
    }
  }
  std::vector<Diagnostic> wrong = problems(part);
  if (!wrong.empty()) return Failure(std::move(wrong));
  return part;
}

}  // namespace pommel::shape
