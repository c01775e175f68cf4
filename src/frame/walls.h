// Wood left around the mortises of a part, at its local section: to its faces, to the round, to its ends, to each other.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "shape/part.h"

namespace pommel::frame {

/// Wood between a mortise and something, mm; zero or less: it breaks through there.
struct Wall {
  enum class Towards { side_face, far_face, round, head, foot, mortise };
  std::string mortise;  ///< id
  Towards towards = Towards::side_face;
  double thickness = 0;
  double x = 0;         ///< mm from the head, where on the part's skin (or the other mortise)
  std::string other;    ///< id of the other mortise, for Towards::mortise
};

/// The least wall of each mortise towards each kind of thing, in the order of Part::mortises and of Towards; towards other
/// mortises one entry for each later one. Distances are exact in each section square to the axis; sections are taken every
/// 0.25 mm and at every knot from both sides, within 60 mm of the mortise. A pocket that is let in from the head
/// (x0 - haunch_length <= 0) has no wall towards the head there. `run_together` (by ids) names pairs of mortises that
/// are meant to meet. REQUIRES: the part without its mortises is sound (shape::problems) and each mortise's face is there.
std::vector<Wall> walls(const shape::Part& part, const std::function<bool(const std::string&, const std::string&)>& run_together);

}  // namespace pommel::frame
