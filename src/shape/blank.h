// The wood a part is cut from, in the part's own coordinates (x = 0 at the part's head). A value.
#pragma once

namespace pommel::shape {

struct Blank {
  enum class Section { square, round };
  Section section = Section::square;
  double size = 0;         ///< across the flats, or the diameter, mm
  double x0 = 0, x1 = 0;   ///< ends: x0 <= 0 <= length <= x1; what lies outside the part is waste
  double horn = 0;         ///< of the waste at the head: left on until the joint is glued, mm
  double chuck_waste = 0;  ///< length that the chuck grips and keeps clear, mm, at the end the machine says
  double centre_waste = 0; ///< length at the tail centre, mm
  bool flats_finished = true;  ///< the square is milled to the finished section beforehand: its flats are not cut

  double length() const { return x1 - x0; }
  bool operator==(const Blank&) const = default;
};

/// How the blank may really sit: what the shop admits. The program must stay safe under all of them.
struct BlankTolerance {
  double off_centre = 0.8;  ///< mm: axis of the blank beside the rotary axis
  double bow = 1.0;         ///< mm: rise at mid-length
  double oversize = 0.8;    ///< mm on each flat

  bool operator==(const BlankTolerance&) const = default;
};

}  // namespace pommel::shape
