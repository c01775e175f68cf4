// From a file of readings to measures and wishes: what the notes of a row mean.
//
//     square             taken across the flats of a square stretch
//     square to here     a square stretch ends here (it begins at the head, or at 'square from here')
//     square from here   one begins here (it ends at the foot, or at 'square to here')
//     head, foot         the piece ends here; else at the outermost places
//     edge               an edge of the turning stands exactly here
//     no edge            what stands on both sides of this place is one element
//     is a cove          the element here is of this kind: any word of the family file
//     worn               taken on a worn spot: not fitted, compared only
//     skip               not used
//
// A row with a diameter and a note about the place serves for both, except on a square's edge, where the diameter is passed over: it is not known
// of which side it was taken.
#pragma once

#include "exchange/readings.h"
#include "match/recognise.h"

namespace pommel::match {

struct Noted {
  std::vector<Measure> measures;
  Wishes wishes;
};

/// `uncertainty` of the diameters that do not say theirs, and `place_uncertainty` of all places, mm, one standard deviation.
/// Unknown notes go to `sink` ("readings.note") with the nearest known one.
Noted noted(const std::vector<exchange::Reading>& readings, double uncertainty, double place_uncertainty, Sink& sink);

}  // namespace pommel::match
