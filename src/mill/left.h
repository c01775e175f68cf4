// The piece as a cutter leaves it, so that the next one works only where wood is left.
//
// The body is an intersection of the round with its faces, so hollows lie in the outline or in a face's own curve: each is
// closed by the cutter in its plane. Over the profile the cutter's tip runs at t(x0); a point (x, r) of the profile is as far
// from the cutter's end as it is from the disc with its rounding at the nearest x0. Where that distance is more than the
// allowance, wood is left: there, and only there, the profile is replaced by min over x0 of t(x0) + rise(|x - x0|), which is what
// the cutter leaves standing, or a little more.
#pragma once

#include <vector>

#include "base/result.h"
#include "mill/envelope.h"
#include "mill/pass.h"
#include "shape/part.h"
#include "shop/shop.h"

namespace pommel::mill {

struct Left {
  shape::Part part;       ///< with its hollows as the cutter leaves them
  double deepest = 0;     ///< mm of wood left beyond the allowance, square to the surface; 0: none
  double deepest_x = 0;

  bool any() const { return deepest > 0; }
};

struct LeftSettings {
  double allowance = 0;  ///< mm that the cutter left on purpose
  double least = 0.01;   ///< mm: less than this beyond the allowance is none
};

/// What stands when the cutter has been everywhere it can go. `part`: with its ends continued (setup.h); only places between 0 and `length`
/// count, the waste beside them need not be followed. Fails as Envelope::of and foot_of do.
Result<Left> left_by(const shop::Cutter& cutter, const shape::Part& part, double length, const LeftSettings& settings);

/// The set-up's own end over what the earlier cutter leaves: how high that holds the tip.
Result<Envelope> envelope_left(const Setup& setup, const Earlier& earlier, const LeftSettings& settings);

/// The set-up's end over a part with `allowance` mm all round; of a ball its own body alone (mover.h looks after its shank), of others the
/// whole cutter. Surface::lift is the allowance for a ball and 0 for others.
Result<Envelope> envelope_of(const Setup& setup, const shape::Part& part, double allowance);

}  // namespace pommel::mill
