// From a list of elements, head to foot, to the exact outline r(x) with its marks.
//
// Diameters, not radii, are what a maker says; here every size is a diameter in mm unless it says otherwise.
//
// Diameters that are not given: an element's `start` is inherited from the end of the element before it. Its `end` is, for
// the kinds that come back to where they began (bead, cove, torus, fillet, cylinder, ball, vee, pin), its own start; for the
// kinds that go somewhere (pommel, taper, ovolo, cymas, entasis, scotia) the start that the next element states. A jump in
// diameter between neighbours must be declared by `step` on the element that begins there; a square-cut pommel and a pin are
// themselves declared steps.
//
// Lengths lie on a grid of 2^-32 mm (2.3e-10 mm), finer than anybody measures: so that sums and differences of places are
// exact in a double, and a fixed element is x1 - x0 long to the bit wherever it stands and however long the piece is. What
// is left after the fixed lengths is given to the shares by their weights; the last share takes what the grid leaves, and
// the last x1 is the piece's length itself.
//
// How each kind is drawn, with l its length and h the difference of its two radii ("level": tangent along the axis, "plumb":
// tangent square to it):
//
//   square        nothing is turned; the faces must close a ring there
//   pommel        the shoulder between square and round. Beside the square it stands at half the diagonal, so that the square
//                 is left clear; it falls towards the foot after a square, and rises to the square that follows it.
//                 cut square: a wall, then a neck at the other diameter; sloped: straight; rounded: a quarter round, as
//                 ovolo; ogee: as cyma reversa
//   fillet, cylinder, pin   straight at one diameter (a pin only at an end of the piece, thinner than what it stands on)
//   taper         straight from start to end
//   bead          one bulging arc whose crest is `greatest`. Without it: ends alike, half-round (rises l/2); ends unlike, as ovolo
//   torus         half-round, `greatest` is its crest and its ends stand at greatest - l
//   cove          one hollow arc whose bottom is `least`. Without it: ends alike, half-round; ends unlike, a quarter hollow
//   ovolo         one bulging arc: level at its greater end where l >= h, else plumb at its smaller end (a true quarter round
//                 where l = h)
//   scotia        two hollow arcs that meet level at the bottom `least`, both through the same angle, the deeper side longer.
//                 Without `least` both are quarter rounds
//   cyma reversa  two arcs alike that meet tangent half-way: bulging at the greater end, hollow at the smaller. Level at both
//                 ends where l >= h, else plumb half-way
//   cyma recta    the same with the hollow at the greater end: level half-way where l >= h, else plumb at both ends
//   entasis       one long bulging arc from start to end that swells to `greatest`; without it, level at the greater end
//   vase          cubic spline, continuous in curvature, through `stations`; its ends are free (natural) or level
//   ball          a piece of a sphere centred on the axis between the end diameters. Its length, or `greatest` (the sphere's
//                 diameter): the other follows
//   vee           two straight cuts that meet at `least`; without it the groove is square (90 degrees)
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "shape/part.h"

namespace pommel::shape {

enum class ElementKind {
  square,
  pommel,
  fillet,
  bead,
  cove,
  ovolo,
  scotia,
  torus,
  cyma_recta,
  cyma_reversa,
  taper,
  cylinder,
  entasis,
  vase,
  ball,
  vee,
  pin
};
enum class PommelCut { square, rounded, sloped, ogee };

/// The word of the family file: "square", "cyma recta" ... Both directions; nothing for an unknown word.
std::string_view word_of(ElementKind kind);
std::optional<ElementKind> element_kind(std::string_view word);
/// All words, in the order of the enum: for "did you mean".
std::vector<std::string> element_words();
std::string_view word_of(PommelCut cut);
std::optional<PommelCut> pommel_cut(std::string_view word);
std::vector<std::string> pommel_cut_words();

/// A diameter that the vase passes at a fraction of its length.
struct Station {
  double at = 0;        ///< 0 (its start) to 1 (its end), growing
  double diameter = 0;  ///< mm

  bool operator==(const Station&) const = default;
};

/// One element as the maker asks for it. Fields that its kind does not use must stay unset: they are refused.
struct ElementSpec {
  ElementKind kind = ElementKind::cylinder;
  std::string label;  ///< the maker's own name; may be empty
  Place place;        ///< where it stands in the maker's file; copied into every message

  /// Exactly one of length and share is set (a ball with `greatest` has neither).
  std::optional<double> length;  ///< fixed, mm
  std::optional<double> share;   ///< weight > 0: a part of what the fixed lengths leave

  std::optional<double> start, end;  ///< diameters at its ends, mm
  std::optional<double> greatest;    ///< crest of bead, torus and entasis; sphere of the ball
  std::optional<double> least;       ///< bottom of cove, scotia and vee
  bool step = false;                 ///< a jump of diameter where this element begins is meant

  PommelCut cut = PommelCut::sloped;
  std::vector<Station> stations;  ///< vase: at least two; stations at 0 and 1 may be left to start and end
  bool level_start = false, level_end = false;  ///< vase: the tangent at that end runs along the axis

  bool operator==(const ElementSpec&) const = default;
};

/// The section the outline is turned in.
struct StockSection {
  double flats = 0;    ///< across the flats, mm
  double corners = 0;  ///< across the corners, mm: no turned diameter may exceed it

  static StockSection square(double width);
  static StockSection polygon(int sides, double across_flats);  ///< REQUIRES: sides >= 3
  static StockSection round(double diameter);                   ///< no flats: square stretches and pommels are refused

  bool operator==(const StockSection&) const = default;
};

struct BuiltOutline {
  Profile outline;
  std::vector<ElementMark> elements;
  /// Severity note: where the round will not be full because it is larger than the flats.
  std::vector<Diagnostic> notes;
};

/// Fails with every problem found, each naming its element: "outline.length" (none or two length rules, not positive),
/// "outline.too-short" (names the fixed parts and their sum), "outline.sum" (no share, and the fixed parts are not the
/// piece's length within 1e-6 mm), "outline.diameter" (missing, not positive, unfit for the kind), "outline.step" (a jump
/// that is not declared: names both elements and diameters), "outline.overhang", "outline.axis" (goes through the axis),
/// "outline.reach" (larger than the stock), "outline.place" (a pommel not beside a square, a pin not at an end),
/// "outline.stations", "outline.unused" (a field its kind does not know), "outline.empty", "outline.number".
Result<BuiltOutline> build_outline(const std::vector<ElementSpec>& specs, double length, const StockSection& section);

}  // namespace pommel::shape
