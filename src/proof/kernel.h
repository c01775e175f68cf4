// The inner loops of the removal: one stroke of the ball against a run of neighbouring rays of one row. Single precision;
// written so that a compiler can take several rays at a time. Every operation is an exactly rounded one or a comparison,
// so the width of the vectors does not change a bit of the result.
#pragma once

#include <cstddef>

namespace pommel::proof {

inline constexpr float kNone = 1e9f;  ///< mm: "no entry"

/// Per ray, for one stroke: phi is the ray's angle from the stroke's frame, u the stroke's direction.
struct RayTable {
  const float* sine;      ///< sin phi
  const float* cosine;    ///< cos phi
  const float* along;     ///< k = u . ray
  const float* across;    ///< A = 1 - k², kept above 1e-7
  const float* inverse_across;
  const float* side;          ///< sigma² with sigma = |sin phi| + turn of the stroke
  const float* inverse_side;  ///< 1/sigma
  const float* up;            ///< (cos phi - turn)², or -1 where that cosine is not positive
  const float* inverse_up;    ///< 1/(cos phi + turn)
};

/// One row against one stroke: centres run from (0, 0, c0) by s u, 0 <= s <= length; dx is the row's x from there.
struct RowStroke {
  float dx, c0, ux, ul, uh, length;
  float w;     ///< dx ux - c0 uh
  float gap;   ///< |W x u|² - rho², W from the first centre to the foot of the row's rays
  float rho, rho2;
  float flute; ///< flute length minus rho: from the centre up to the end of the flutes
  float plunge;  ///< 1 on a stroke straight up or down (the flutes have been at its upper end on every ray), else 0
};

/// Rays [0, n): where each enters and leaves what the stroke sweeps, and the tip's height at that moment. entry = kNone and
/// exit = -kNone where it misses.
void meet(const RowStroke& row, const RayTable& rays, std::size_t n, float* entry, float* exit, float* tip);

/// The wood of a run of rays: see removal.h.
struct WoodRun {
  float* low;
  float* high;
  float* out;
  const float* start;  ///< of the blank as planned
  const float* most;   ///< of whatever blank reaches farthest
};

/// Takes the swept wood away. Returns the greatest height of the planned blank's wood that a ray lost, measured along the cutter from
/// where it enters, 0 for none. Rays that are entered higher than `by_side` above the tip do not count: there the cutter's side
/// takes a thin slice.
float take_away(const RayTable& rays, std::size_t n, const float* entry, const float* exit, const float* tip, float by_side,
                const WoodRun& wood);

}  // namespace pommel::proof
