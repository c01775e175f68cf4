// The stub: what is left beside an end of the piece once it is turned, and holds it until it is parted off.
//
// What the passes leave there goes on as the end does, or thins down evenly, so directions in which the end reaches equally far keep equally much. A flat
// or a notch that was cut there from one side is seen by that: in its direction less is left than all round, and there the piece breaks off. The
// witness flat of a round blank belongs where the waste is as thick as the blank.
#pragma once

#include <optional>
#include <vector>

#include "proof/grid.h"
#include "proof/removal.h"

namespace pommel::proof {

struct OneSided {
  double x = 0, theta = 0;
  double left = 0;   ///< mm of radius in that direction
  double round = 0;  ///< mm in directions where the end reaches as far, at the stub's thinnest
};

/// Where the stub beside the head (else the foot) keeps most below what it keeps all round. The stub is the rows from the end on that were cut in every direction; nothing
/// where there is none. `body`: the piece's radii on the rays. Where most directions in which the end reaches equally far were cut away, that is what it keeps all round.
std::optional<OneSided> cut_from_one_side(const Grid& grid, const std::vector<float>& body, const Wood& wood, double length, bool head);

}  // namespace pommel::proof
