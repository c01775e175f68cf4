// A turned piece as it stands in its frame, for elevations: with its joints, and the rails that meet it.
#pragma once

#include <string>
#include <vector>

#include "frame/member.h"
#include "paper/leg_view.h"

namespace pommel::paper {

struct LegSubject {
  std::string heading;            ///< "as ordered"
  shape::Part leg;                ///< jointed
  std::vector<frame::Rail> rails; ///< their drop counted from this piece's head
  double square = 0;              ///< mm
};

/// The `piece`-th of the frame's turned pieces as it stands in the set: the first member that is jointed; `turned` itself where none is.
LegSubject subject_of(const shape::Part& turned, double square, const frame::Set& set, std::size_t piece, const std::string& heading);

/// A member of the set as it stands there.
LegSubject subject_of(const frame::Member& member, double square, const frame::Set& set, const std::string& heading);

/// A rail as it meets the piece.
struct Ghost {
  Line outline;
  bool in_front = false;  ///< seen end-on, before the piece; else it runs off to one side
};

/// The rails seen with the piece on its face `phi`: the one on the face seen is cut square to its length, those at the sides are stubs `stub` mm long.
std::vector<Ghost> ghosts(const LegSubject& subject, double phi, double stub);

}  // namespace pommel::paper
