// What a stroke is called. Some words of the trade are one curve, and then a rule that is stated here chooses:
//
//   level        in a square-cut pommel's place beside a square: pommel (but a pad that ends the piece is a fillet); at an end of the piece, thinner
//                than what it stands on and longer than half its diameter: pin; longer than half its diameter: cylinder; else fillet
//   half-round   bead up to 12 mm long, torus above (both are the same arc)
//   bulging arc with its own crest: entasis where it rises less than a twentieth of its length above its ends, else bead
//   quarter bulge                   the rounded pommel beside a square; entasis by the same measure; else ovolo
//   hollow arcs                     cove
//   slope, cyma reversa             beside a square from its corners: the sloped, the ogee pommel; else taper, cyma reversa
#pragma once

#include "match/segment.h"
#include "shape/outline.h"

namespace pommel::match {

struct Name {
  shape::ElementKind kind = shape::ElementKind::cylinder;
  shape::PommelCut cut = shape::PommelCut::sloped;  ///< of a pommel
};

/// Where a stroke stands, as far as its name asks.
struct Standing {
  bool after_square = false, before_square = false;  ///< its neighbour is a square
  bool from_corners = false;                         ///< begins or ends at the square's corners
  bool first = false, last = false;                  ///< of the whole piece
  double neighbour = 0;                              ///< at an end of the piece: radius of what it stands on (of a square half its width), else 0
};

Name name_of(const Stroke& stroke, const Standing& standing);

/// Where stroke k of the chain through a run stands.
Standing standing_of(const Run& run, const Chain& chain, std::size_t k);

}  // namespace pommel::match
