// The inner loops of the removal and of the reach: one stroke or turn of the ball against a run of neighbouring rays of one row, several
// rays at a time. Single precision.
//
// The loops are written once (proof/kernel_lanes.h) and built twice: for what every processor of the family has, and for wider vectors where
// the processor at hand has them. Every operation is an exactly rounded one, a comparison or a choice, none is fused, and rays do
// not depend on each other, so both give the same bits.
#pragma once

#include <cstddef>

namespace pommel::proof {

inline constexpr float kNone = 1e9f;  ///< mm: "no entry"

/// Entries that the tables below must have beyond the last ray asked for: a whole vector is read, what is beyond is not used.
inline constexpr std::size_t kBeyond = 16;

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

/// One row against a ball on a turn about the axis (proof/turn.h): turned by s, 0 <= s <= sweep, its centre stands at lambda s along x and
/// c0 + kappa s above the axis.
struct RowTurn {
  float u0, lambda;  ///< mm from the first centre to the row; mm a radian
  float c0, kappa;   ///< mm; mm a radian
  float sweep;       ///< radians
  float rho, rho2;
  float flute;       ///< flute length minus rho
  int steps;         ///< how often the place of the deepest entry is brought nearer
};

/// A cutter's meridian, as in proof/tool.h.
struct Meridian {
  float disc, corner, corner_end, corner_height, rise, radius, flute;
};

/// One row against any cutter on a turn about the axis (proof/any_turn.h): turned by s, 0 <= s <= sweep, its axis stands at lambda s along x and
/// its tip at z0 + kappa s above the axis.
struct RowAnyTurn {
  float u0, lambda;  ///< mm from the first place to the row; mm a radian
  float z0, kappa;   ///< mm; mm a radian
  float sweep;       ///< radians
  float climbs, slides;  ///< radians, and radians a mm: how far from the ray's own direction the deepest entry may lie
  int halvings;
};

/// One row against any cutter that slides straight: its axis goes over the places first <= m <= last along x, its tip at z0 + climb m.
struct RowSlide {
  float at;           ///< mm: of the row, counted as m
  float first, last;  ///< mm
  float z0, climb;    ///< mm; mm a mm
  float z_low;        ///< mm
  int halvings;
};

/// The wood of a run of rays: see removal.h.
struct WoodRun {
  float* low;
  float* high;
  float* out;
  const float* start;  ///< of the blank as planned
  const float* most;   ///< of whatever blank reaches farthest
};

struct Kernels {
  /// Rays [0, n): where each enters and leaves what the stroke sweeps, and the tip's height at that moment. entry = kNone and
  /// exit = -kNone where it misses. The three have kBeyond entries more than n.
  void (*meet)(const RowStroke& row, const RayTable& rays, std::size_t n, float* entry, float* exit, float* tip);
  /// Takes away the wood of what a stroke sweeps. Returns the greatest height of the planned blank's wood that a ray lost, measured along the
  /// cutter from where it enters, 0 for none. Rays that are entered higher than `by_side` above the tip do not count:
  /// there the cutter's side takes a thin slice. `least`: no ray of the row is entered nearer to the axis; where all wood from there on
  /// is gone, nothing is computed.
  float (*cut_stroke)(const RowStroke& row, const RayTable& rays, std::size_t n, float least, float by_side, const WoodRun& wood);
  /// The same of a turn; psi: angles of the rays, counted as s, growing.
  float (*cut_turn)(const RowTurn& row, const float* psi, std::size_t n, float least, float by_side, const WoodRun& wood);
  /// The same for any cutter.
  float (*cut_any_turn)(const RowAnyTurn& row, const Meridian& cutter, const float* psi, std::size_t n, float least, float by_side, const WoodRun& wood);
  /// Any cutter that slides.
  float (*cut_slide)(const RowSlide& row, const Meridian& cutter, const RayTable& rays, std::size_t n, float least, float by_side, const WoodRun& wood);
  /// The same where entries and exits are known.
  float (*take_away)(const float* cosine, std::size_t n, const float* entry, const float* exit, const float* tip, float by_side, const WoodRun& wood);
  /// The greatest of radius * cosine + sqrt(reach2 - (radius * sine)²) over the rays that lie within reach and have a cosine
  /// above 0; `least` when there is none greater. For proof/reach.cpp.
  float (*highest_centre)(const float* radius, const float* sine, const float* cosine, std::size_t n, float reach2, float least);
};

/// What the processor at hand does fastest.
const Kernels& kernels();
/// What any processor does: for the tests, which hold the two against each other.
const Kernels& narrow_kernels();

}  // namespace pommel::proof
