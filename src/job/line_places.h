// Where a program goes, line by line: for finding a line on the piece and a place of the piece in the text.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "shop/shop.h"

namespace pommel::job {

/// Where a line's move ends.
struct LinePlace {
  int line = 0;         ///< of the text, from 1
  double x = 0;         ///< mm from the head
  double height = 0;    ///< mm, the tip above the rotary axis
  double degrees = 0;   ///< the direction of the wood that lies under the cutter, counting turns
  bool rapid = false;
  std::size_t pass = 0; ///< into LinePlaces::passes
};

struct Pass {
  std::string name, cutter;
  int first_line = 0;    ///< of its first move
  double minutes = 0;    ///< of its feed moves, as the text says
};

struct LinePlaces {
  std::vector<Pass> passes;
  std::vector<LinePlace> lines;  ///< growing lines; those that move nothing are left out
};

/// Read as the check reads them; of several texts the lines are counted through, as though they stood one after the other. Fails with the reader's
/// and the replay's reasons ("program.*").
Result<LinePlaces> line_places(const std::vector<std::string_view>& texts, const shop::Machine& machine);

/// The place of a line, or of the last one before it that moves; nullptr before the first.
const LinePlace* place_of(const LinePlaces& places, int line);
/// The first line after `after` whose move passes x or ends there; begins again at the top. 0 when none does.
int line_at(const LinePlaces& places, double x, int after);

}  // namespace pommel::job
