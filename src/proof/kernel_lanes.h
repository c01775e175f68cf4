// The loops of proof/kernel.h over F, some lanes of a vector unit. Included by the two files that are built for one width each, by nothing else.
#pragma once

#include <cstddef>
#include <cstring>
#include <experimental/simd>

#include "proof/kernel.h"

namespace pommel::proof::lanes {

namespace simd = std::experimental;

// vectors are kept in registers only where nothing is called
#define POMMEL_INSIDE [[gnu::always_inline]] inline

template <class F>
POMMEL_INSIDE F load(const float* from) {
  return F(from, simd::element_aligned);
}

template <class F>
POMMEL_INSIDE F choose(const typename F::mask_type& when, const F& then, const F& otherwise) {
  F out = otherwise;
  simd::where(when, out) = then;
  return out;
}

template <class F>
POMMEL_INSIDE F lesser(const F& a, const F& b) {
  return choose(a < b, a, b);
}

template <class F>
POMMEL_INSIDE F greater(const F& a, const F& b) {
  return choose(a > b, a, b);
}

template <class F>
POMMEL_INSIDE F within(const F& s, const F& length) {
  return lesser(greater(s, F(0.0f)), length);
}

// Where some rays enter and leave what is swept, how high the tip then is, and the cosine from the cutter to the ray.
template <class F>
struct Meeting {
  F entry, exit, tip, cosine;
};

template <class F>
class StrokeRays {
 public:
  StrokeRays(const RowStroke& row, const RayTable& rays) : row_(row), rays_(rays), level_(row.uh == 0.0f && row.ul == 0.0f) {}

  // The entry is a convex function of s along the stroke, so its least is where the ray enters the endless cylinder around the
  // stroke, brought into the stroke's ends. Straight along x the nearest centre is the same for all rays.
  POMMEL_INSIDE Meeting<F> at(std::size_t j) const {
    const F k = load<F>(rays_.along + j), cosine = load<F>(rays_.cosine + j);
    const F length(row_.length);
    if (level_) return ball(j, within(F(row_.w), length), cosine);
    const F b = -row_.c0 * cosine - row_.w * k;
    const F under = b * b - load<F>(rays_.across + j) * row_.gap;
    const F t = (-b - simd::sqrt(greater(under, F(0.0f)))) * load<F>(rays_.inverse_across + j);
    return ball(j, within(row_.w + t * k, length), cosine);
  }

 private:
  // The ball at s on the stroke against one ray. Above its centre the cutter goes on as a cylinder to the end of its flutes:
  // a ray that passes the centre's height inside it leaves through its side or its end. Taking the exit at this one s is
  // safe: what the stroke sweeps on this ray is one interval that holds [entry, exit].
  POMMEL_INSIDE Meeting<F> ball(std::size_t j, const F& s, const F& cosine) const {
    const F sine = load<F>(rays_.sine + j);
    const F x = row_.dx - s * row_.ux, h = row_.c0 + s * row_.uh, l = s * row_.ul;
    const F p = l * sine + h * cosine, q = l * cosine - h * sine;
    const F s2 = row_.rho2 - x * x, v = s2 - q * q;
    const F root = simd::sqrt(greater(v, F(0.0f))), chord = simd::sqrt(greater(s2, F(0.0f)));
    const F flutes_end = h + row_.plunge * (row_.c0 - h) + row_.flute;
    const F shaft_exit = lesser(chord * load<F>(rays_.inverse_side + j), flutes_end * load<F>(rays_.inverse_up + j));
    const F leaves = p + root;
    const F exit = choose((h * h + l * l) * load<F>(rays_.side + j) <= s2 * load<F>(rays_.up + j), greater(leaves, shaft_exit), leaves);
    const auto hit = v > 0.0f && leaves > 0.0f;
    return {choose(hit, greater(p - root, F(0.0f)), F(kNone)), choose(hit, exit, F(-kNone)), h - row_.rho, cosine};
  }

  const RowStroke row_;
  const RayTable rays_;
  const bool level_;
};

// Taylor's polynomials, within 3e-7 for the angles between a ball and the rays it can touch (at most 1.25).
template <class F>
POMMEL_INSIDE F sine_of(const F& a) {
  const F a2 = a * a;
  return a * (1.0f + a2 * (-1.0f / 6 + a2 * (1.0f / 120 + a2 * (-1.0f / 5040 + a2 * (1.0f / 362880)))));
}

template <class F>
POMMEL_INSIDE F cosine_of(const F& a) {
  const F a2 = a * a;
  return 1.0f + a2 * (-0.5f + a2 * (1.0f / 24 + a2 * (-1.0f / 720 + a2 * (1.0f / 40320 + a2 * (-1.0f / 3628800)))));
}

template <class F>
class TurnRays {
 public:
  TurnRays(const RowTurn& row, const float* psi) : row_(row), psi_(psi) {}

  POMMEL_INSIDE Meeting<F> at(std::size_t j) const {
    const F psi = load<F>(psi_ + j), sweep(row_.sweep);
    F s = within(psi, sweep);
    for (int step = 0; step < row_.steps; ++step) s = within(nearer(psi, s), sweep);
    const Ball ball = ball_at(psi, s);
    const F root = simd::sqrt(greater(ball.v, F(0.0f))), chord = simd::sqrt(greater(ball.chord2, F(0.0f)));
    const F p = ball.c * ball.cosine, leaves = p + root;
    const F shaft_exit = lesser(chord / greater(simd::abs(ball.sine), F(1e-6f)), (ball.c + row_.flute) / greater(ball.cosine, F(1e-3f)));
    const F exit = choose(ball.q * ball.q <= ball.chord2 * ball.cosine * ball.cosine, greater(leaves, shaft_exit), leaves);
    const auto hit = ball.v > 0.0f && ball.cosine > 0.0f;
    return {choose(hit, greater(p - root, F(0.0f)), F(kNone)), choose(hit, exit, F(-kNone)), ball.c - row_.rho, ball.cosine};
  }

 private:
  // The ball turned by s against a ray at psi: its half chord and half the ray's chord, squared.
  struct Ball {
    F u, c, sine, cosine, q, chord2, v;
  };

  POMMEL_INSIDE Ball ball_at(const F& psi, const F& s) const {
    const F phi = psi - s, u = row_.u0 - row_.lambda * s, c = row_.c0 + row_.kappa * s;
    const F sine = sine_of(phi), q = c * sine, chord2 = row_.rho2 - u * u;
    return {u, c, sine, cosine_of(phi), q, chord2, chord2 - q * q};
  }

  // One step of the fixed point in turn.h.
  POMMEL_INSIDE F nearer(const F& psi, const F& s) const {
    const Ball ball = ball_at(psi, s);
    const F p = greater(ball.c * ball.cosine - simd::sqrt(greater(ball.v, F(0.0f))), F(1e-3f));
    const F wanted = (row_.kappa * (ball.c - p * ball.cosine) - ball.u * row_.lambda) / (p * ball.c);
    return s - (wanted - ball.sine);
  }

  const RowTurn row_;
  const float* psi_;
};

template <class F>
class KnownRays {
 public:
  KnownRays(const float* entry, const float* exit, const float* tip, const float* cosine) : entry_(entry), exit_(exit), tip_(tip), cosine_(cosine) {}
  POMMEL_INSIDE Meeting<F> at(std::size_t j) const { return {load<F>(entry_ + j), load<F>(exit_ + j), load<F>(tip_ + j), load<F>(cosine_ + j)}; }

 private:
  const float *entry_, *exit_, *tip_, *cosine_;
};

// Takes what is met out of the wood from ray j on; the height that the planned blank loses.
template <class F>
POMMEL_INSIDE F taken(const Meeting<F>& met, const WoodRun& wood, std::size_t j, float by_side) {
  const F e = met.entry, x = met.exit, start = load<F>(wood.start + j), most = load<F>(wood.most + j);
  F l = load<F>(wood.low + j), h = load<F>(wood.high + j), o = load<F>(wood.out + j);
  const F top = lesser(choose(h >= start, l, o), start);
  const auto counts = e < top && e * met.cosine - met.tip <= by_side;
  const F stood = choose(counts, (lesser(top, x) - e) * met.cosine, F(0.0f));
  h = choose(e <= h && x >= l, greater(h, x), choose(e < l, x, h));
  l = lesser(l, e);
  o = choose(x >= most, lesser(o, e), o);
  o = choose(h >= o, lesser(o, l), o);
  l.copy_to(wood.low + j, simd::element_aligned);
  h.copy_to(wood.high + j, simd::element_aligned);
  o.copy_to(wood.out + j, simd::element_aligned);
  return stood;
}

// Less than a vector of rays, in a place of their own: their neighbours may be another thread's.
template <class F>
F taken_of_few(const Meeting<F>& met, const WoodRun& wood, std::size_t j, std::size_t few, float by_side) {
  float low[F::size()] = {}, high[F::size()] = {}, out[F::size()] = {}, start[F::size()] = {}, most[F::size()] = {};
  const std::size_t bytes = few * sizeof(float);
  std::memcpy(low, wood.low + j, bytes);
  std::memcpy(high, wood.high + j, bytes);
  std::memcpy(out, wood.out + j, bytes);
  std::memcpy(start, wood.start + j, bytes);
  std::memcpy(most, wood.most + j, bytes);
  const F stood = taken(met, {low, high, out, start, most}, 0, by_side);
  std::memcpy(wood.low + j, low, bytes);
  std::memcpy(wood.high + j, high, bytes);
  std::memcpy(wood.out + j, out, bytes);
  return stood;  // the others start at 0: nothing of them stood
}

// Where all from `least` on is gone a cut that enters no deeper changes nothing: nothing stands there, and no later cut joins it either.
template <class F, class Rays>
float take(const Rays& rays, std::size_t n, float least, float by_side, const WoodRun& wood) {
  constexpr std::size_t kLanes = F::size();
  static_assert(kLanes <= kBeyond);
  F deepest(0.0f);
  std::size_t j = 0;
  for (; j + kLanes <= n; j += kLanes) {
    if (simd::all_of(load<F>(wood.out + j) <= least)) continue;
    deepest = greater(deepest, taken(rays.at(j), wood, j, by_side));
  }
  if (j < n) deepest = greater(deepest, taken_of_few(rays.at(j), wood, j, n - j, by_side));
  float most = 0.0f;
  for (std::size_t i = 0; i < kLanes; ++i) most = deepest[i] > most ? static_cast<float>(deepest[i]) : most;
  return most;
}

template <class F>
void meet(const RowStroke& row, const RayTable& rays, std::size_t n, float* entry, float* exit, float* tip) {
  const StrokeRays<F> of(row, rays);
  for (std::size_t j = 0; j < n; j += F::size()) {
    const Meeting<F> met = of.at(j);
    met.entry.copy_to(entry + j, simd::element_aligned);
    met.exit.copy_to(exit + j, simd::element_aligned);
    met.tip.copy_to(tip + j, simd::element_aligned);
  }
}

template <class F>
float cut_stroke(const RowStroke& row, const RayTable& rays, std::size_t n, float least, float by_side, const WoodRun& wood) {
  return take<F>(StrokeRays<F>(row, rays), n, least, by_side, wood);
}

template <class F>
float cut_turn(const RowTurn& row, const float* psi, std::size_t n, float least, float by_side, const WoodRun& wood) {
  return take<F>(TurnRays<F>(row, psi), n, least, by_side, wood);
}

template <class F>
float take_away(const float* cosine, std::size_t n, const float* entry, const float* exit, const float* tip, float by_side, const WoodRun& wood) {
  return take<F>(KnownRays<F>(entry, exit, tip, cosine), n, -1.0f, by_side, wood);
}

template <class F>
POMMEL_INSIDE F centre(const float* radius, const float* sine, const float* cosine, float reach2, const F& least) {
  const F r = load<F>(radius), c = load<F>(cosine), q = r * load<F>(sine), v = reach2 - q * q;
  return greater(least, choose(v > 0.0f && c > 0.0f, r * c + simd::sqrt(greater(v, F(0.0f))), least));
}

template <class F>
float highest_centre(const float* radius, const float* sine, const float* cosine, std::size_t n, float reach2, float least) {
  constexpr std::size_t kLanes = F::size();
  F highest(least);
  std::size_t j = 0;
  for (; j + kLanes <= n; j += kLanes) highest = centre(radius + j, sine + j, cosine + j, reach2, highest);
  if (j < n) {
    float r[kLanes] = {}, s[kLanes] = {}, c[kLanes] = {};
    std::memcpy(r, radius + j, (n - j) * sizeof(float));
    std::memcpy(s, sine + j, (n - j) * sizeof(float));
    std::memcpy(c, cosine + j, (n - j) * sizeof(float));
    highest = centre(r, s, c, reach2, highest);
  }
  float most = least;
  for (std::size_t i = 0; i < kLanes; ++i) most = highest[i] > most ? static_cast<float>(highest[i]) : most;
  return most;
}

template <class F>
constexpr Kernels all() {
  return {&meet<F>, &cut_stroke<F>, &cut_turn<F>, &take_away<F>, &highest_centre<F>};
}

#undef POMMEL_INSIDE

}  // namespace pommel::proof::lanes
