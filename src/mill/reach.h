// What a ball cannot reach, for the hand: roots of vees, coves tighter than the ball, the foot of a wall.
//
// The body is an intersection of the round with its faces, so hollows lie in the outline or in a face's own curve: each
// is closed by the ball in its plane. The ball's centre runs on the offset c(x0) of the profile; at a point of the
// profile the gap is min over x0 of hypot(x - x0, c(x0) - r(x)) - rho, the distance that the ball stays away. Closed
// forms: the root of a vee of angle 2b: rho (1/sin b - 1); the foot of a plumb wall: rho (sqrt 2 - 1). Flutes, valleys between reeds and the hollows of a twist: hollows.h.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "shape/part.h"

namespace pommel::mill {

/// A stretch where wood stays though the ball goes as low as it may.
struct Quirk {
  std::string element;  ///< label of the element at its deepest place; "face at 90 deg" for a face's own hollow, "flutes", "between the reeds"
  double x0 = 0, x1 = 0;
  double deepest = 0;  ///< mm of wood left, square to the surface
  double deepest_x = 0;

  bool operator==(const Quirk&) const = default;
};

struct ReachSettings {
  double least = 0.05;  ///< mm: less than this left is no quirk
};

/// Head to foot, the outline's before the faces', those before the treatments'. Takes the ends as the finishing pass does (setup.h: continued). Fails
/// as Envelope::of does.
Result<std::vector<Quirk>> quirks(const shape::Part& turned, double ball_radius, const ReachSettings& settings = {});

}  // namespace pommel::mill
