#include "proof/kernel.h"
#include "proof/reach_kernel.h"

// Without these GCC keeps errno after square roots and the exact order of signalling comparisons, and takes one ray at a
// time. There are no infinities, no NaN (prove() refuses such positions) and no reader of errno here.
#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC optimize("O3", "no-math-errno", "no-trapping-math", "finite-math-only", "no-signed-zeros")
#endif
#if defined(__GNUC__) && !defined(__clang__) && defined(__x86_64__) && !defined(__SANITIZE_ADDRESS__)
#define POMMEL_WIDE __attribute__((target_clones("avx2", "default")))
#else
#define POMMEL_WIDE
#endif
#if defined(__GNUC__)
#define POMMEL_INSIDE inline __attribute__((always_inline))  // a call left standing would keep a loop narrow
#else
#define POMMEL_INSIDE inline
#endif

namespace pommel::proof {
namespace {

POMMEL_INSIDE float lesser(float a, float b) { return a < b ? a : b; }
POMMEL_INSIDE float greater(float a, float b) { return a > b ? a : b; }

struct Meeting {
  float entry, exit, tip;
};

// Half the chord that the row's plane cuts from the ball at s: the radius of what the flutes clear above the centre.
POMMEL_INSIDE float half_chord(const RowStroke& row, float s) {
  float x = row.dx - s * row.ux;
  return __builtin_sqrtf(__builtin_fabsf(row.rho2 - x * x));
}

// The ball at s on the stroke against one ray. Above its centre the cutter goes on as a cylinder to the end of its flutes:
// a ray that passes the centre's height inside it leaves through its side or its end. Taking the exit at this one s is
// safe: what the stroke sweeps on this ray is one interval that holds [entry, exit].
POMMEL_INSIDE Meeting meet_ball(const RowStroke& row, float s, float chord, float sine, float cosine, float side, float inverse_side, float up,
                         float inverse_up) {
  float x = row.dx - s * row.ux;
  float h = row.c0 + s * row.uh;
  float l = s * row.ul;
  float p = l * sine + h * cosine;
  float q = l * cosine - h * sine;
  float s2 = row.rho2 - x * x;
  float v = s2 - q * q;
  float root = __builtin_sqrtf(__builtin_fabsf(v));  // where v < 0 nothing is hit; a choice here would become a branch
  float ball_exit = p + root;
  float flutes_end = h + row.plunge * (row.c0 - h) + row.flute;
  float shaft_exit = lesser(chord * inverse_side, flutes_end * inverse_up);
  // a bound, not a choice: GCC would move the square root into a branch and take one ray at a time
  float shaft_counts = (h * h + l * l) * side <= s2 * up ? kNone : 0.0f;
  float exit = greater(ball_exit, lesser(shaft_exit, shaft_counts));
  bool hit = (v > 0.0f) & (ball_exit > 0.0f);
  return {hit ? greater(p - root, 0.0f) : kNone, hit ? exit : -kNone, h - row.rho};
}

POMMEL_INSIDE float within(float s, float length) { return lesser(greater(s, 0.0f), length); }

}  // namespace

POMMEL_WIDE void meet(const RowStroke& stroke, const RayTable& rays, std::size_t n, float* __restrict entry,
                      float* __restrict exit, float* __restrict tip) {
  const RowStroke row = stroke;
  const RayTable r = rays;
  if (row.uh == 0.0f && row.ul == 0.0f) {  // straight along x: the nearest centre is the same for all rays
    float s = within(row.w, row.length), chord = half_chord(row, s);
    for (std::size_t j = 0; j < n; ++j) {
      Meeting m = meet_ball(row, s, chord, r.sine[j], r.cosine[j], r.side[j], r.inverse_side[j], r.up[j], r.inverse_up[j]);
      entry[j] = m.entry;
      exit[j] = m.exit;
      tip[j] = m.tip;
    }
    return;
  }
  // The entry is a convex function of s along the stroke, so its least is where the ray enters the endless cylinder
  // around the stroke, brought into the stroke's ends. (Two loops: in one, GCC moves
  // a square root into a branch and takes one ray at a time.)
  for (std::size_t j = 0; j < n; ++j) {
    float k = r.along[j];
    float b = -row.c0 * r.cosine[j] - row.w * k;
    float under = b * b - r.across[j] * row.gap;
    float t = (-b - __builtin_sqrtf(greater(under, 0.0f))) * r.inverse_across[j];
    float s = within(row.w + t * k, row.length);
    tip[j] = s;
    exit[j] = half_chord(row, s);
  }
  for (std::size_t j = 0; j < n; ++j) {
    Meeting m = meet_ball(row, tip[j], exit[j], r.sine[j], r.cosine[j], r.side[j], r.inverse_side[j], r.up[j], r.inverse_up[j]);
    entry[j] = m.entry;
    exit[j] = m.exit;
    tip[j] = m.tip;
  }
}

POMMEL_WIDE float take_away(const RayTable& rays, std::size_t n, const float* __restrict entry, const float* __restrict exit,
                            const float* __restrict tip, float by_side, const WoodRun& wood) {
  float* __restrict low = wood.low;
  float* __restrict high = wood.high;
  float* __restrict out = wood.out;
  const float* __restrict start = wood.start;
  const float* __restrict most = wood.most;
  const float* __restrict cosine = rays.cosine;
  float deepest = 0.0f;
  for (std::size_t j = 0; j < n; ++j) {
    float e = entry[j], x = exit[j], l = low[j], h = high[j], o = out[j];
    float top = lesser(h >= start[j] ? l : o, start[j]);
    float stood = (lesser(top, x) - e) * cosine[j];
    bool counts = (e < top) & (e * cosine[j] - tip[j] <= by_side);
    deepest = greater(deepest, lesser(stood, counts ? kNone : 0.0f));
    bool joins = (e <= h) & (x >= l);
    float deeper = e < l ? x : h;
    h = joins ? greater(h, x) : deeper;
    l = lesser(l, e);
    o = lesser(o, x >= most[j] ? e : kNone);
    o = lesser(o, h >= o ? l : kNone);
    low[j] = l;
    high[j] = h;
    out[j] = o;
  }
  return deepest;
}

POMMEL_WIDE float highest_centre(const float* __restrict radius, const float* __restrict sine,
                                 const float* __restrict cosine, std::size_t n, float reach2, float least) {
  float highest = least;
  for (std::size_t j = 0; j < n; ++j) {
    float q = radius[j] * sine[j];
    float v = reach2 - q * q;
    float c = radius[j] * cosine[j] + __builtin_sqrtf(__builtin_fabsf(v));
    float counts = lesser(v, cosine[j]) > 0.0f ? kNone : 0.0f;
    highest = greater(highest, lesser(c, counts));
  }
  return highest;
}

}  // namespace pommel::proof
