#include "frame/slice.h"

#include <algorithm>

namespace pommel::frame {
namespace {

using shape::Part;
using shape::Piece;
using shape::Profile;

Piece moved(Piece piece, double by) {
  piece.x0 += by;
  piece.x1 += by;
  piece.cx += by;
  return piece;
}

// the piece between a and b, which lie on it
Piece cut(const Piece& piece, double a, double b) {
  if (a <= piece.x0 && b >= piece.x1) return piece;
  Piece part = piece;
  part.x0 = std::max(a, piece.x0);
  part.x1 = std::min(b, piece.x1);
  part.r0 = piece.value(part.x0);
  part.r1 = piece.value(part.x1);
  if (piece.kind == Piece::Kind::clear) part.r0 = piece.r0, part.r1 = piece.r1;
  if (piece.kind == Piece::Kind::cubic) {
    // about the new beginning: c0 + c1 (u + s) + c2 (u + s)² + c3 (u + s)³
    const double s = part.x0 - piece.x0;
    const auto& c = piece.c;
    part.c = {c[0] + s * (c[1] + s * (c[2] + s * c[3])), c[1] + s * (2 * c[2] + 3 * s * c[3]), c[2] + 3 * s * c[3], c[3]};
  }
  return part;
}

Profile slice(const Profile& profile, double x0, double x1) {
  Profile out;
  for (const Piece& piece : profile.pieces)
    if (piece.x1 > x0 && piece.x0 < x1) out.pieces.push_back(moved(cut(piece, x0, x1), -x0));
  // the last end is the length itself, whatever the sums round to
  if (!out.pieces.empty()) out.pieces.front().x0 = 0, out.pieces.back().x1 = x1 - x0;
  return out;
}

// a profile moved towards the foot, with `before` in the room that this makes
Profile after(const Profile& profile, double by, const Piece& before) {
  Profile out;
  out.pieces.push_back(before);
  for (const Piece& piece : profile.pieces) out.pieces.push_back(moved(piece, by));
  out.pieces[1].x0 = by;
  return out;
}

bool shows(const Profile& profile) {
  return std::any_of(profile.pieces.begin(), profile.pieces.end(), [](const Piece& piece) { return piece.kind != Piece::Kind::clear; });
}

// elements keep their numbers, so that the pieces still name them; those outside are left as marks of no length
void slice_elements(const Part& from, double x0, double x1, Part& into) {
  std::vector<int> renumbered(from.elements.size(), -1);
  into.elements.clear();
  for (std::size_t i = 0; i < from.elements.size(); ++i) {
    shape::ElementMark mark = from.elements[i];
    if (mark.x1 <= x0 || mark.x0 >= x1) continue;
    mark.x0 = std::max(mark.x0, x0) - x0;
    mark.x1 = std::min(mark.x1, x1) - x0;
    renumbered[i] = static_cast<int>(into.elements.size());
    into.elements.push_back(std::move(mark));
  }
  const auto renumber = [&](Profile& profile) {
    for (Piece& piece : profile.pieces)
      if (piece.element >= 0) piece.element = renumbered[static_cast<std::size_t>(piece.element)];
  };
  renumber(into.outline);
  for (shape::Face& face : into.faces) renumber(face.d);
}

}  // namespace

Part slice(const Part& part, double x0, double x1) {
  Part out;
  out.name = part.name;
  out.length = x1 - x0;
  out.outline = slice(part.outline, x0, x1);
  for (const shape::Face& face : part.faces) out.faces.push_back({face.phi, slice(face.d, x0, x1)});
  slice_elements(part, x0, x1, out);
  for (const shape::Flute& flute : part.flutes)
    if (Profile centre = slice(flute.centre, x0, x1); shows(centre)) out.flutes.push_back({flute.theta, flute.radius, std::move(centre)});
  for (const shape::Reeding& reeds : part.reedings)
    if (Profile centre = slice(reeds.centre, x0, x1); shows(centre)) out.reedings.push_back({reeds.count, reeds.phase, reeds.radius, std::move(centre)});
  for (shape::Twist twist : part.twists) {
    if (twist.x0 >= x1 || twist.x1 <= x0) continue;
    twist.x0 -= x0;
    twist.x1 -= x0;
    out.twists.push_back(twist);
  }
  return out;
}

Part with_pin_at_head(const Part& part, double length, double diameter) {
  Part out = part;
  out.length = part.length + length;
  const double r = diameter / 2;
  for (shape::ElementMark& mark : out.elements) mark.x0 += length, mark.x1 += length;
  for (Piece& piece : out.outline.pieces)
    if (piece.element >= 0) ++piece.element;
  out.elements.insert(out.elements.begin(), {"pin", "tenon", 0, length, diameter, diameter, diameter, diameter, false});
  out.outline = after(out.outline, length, shape::line_piece(0, r, length, r, 0));
  for (shape::Face& face : out.faces) {
    for (Piece& piece : face.d.pieces)
      if (piece.element >= 0) ++piece.element;
    const Piece first = face.d.pieces.front();
    face.d = after(face.d, length, first.kind == Piece::Kind::clear ? shape::clear_piece(0, length) : shape::line_piece(0, first.r0, length, first.r0));
  }
  for (shape::Flute& flute : out.flutes) flute.centre = after(flute.centre, length, shape::clear_piece(0, length));
  for (shape::Reeding& reeds : out.reedings) reeds.centre = after(reeds.centre, length, shape::clear_piece(0, length));
  for (shape::Twist& twist : out.twists) twist.x0 += length, twist.x1 += length;
  return out;
}

}  // namespace pommel::frame
