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

// Where any cutter stands against some rays: along x before their row, the height of its tip, its direction before theirs.
template <class F>
struct Place {
  F u, z, sine, cosine;
};

// A convex cutter that stands somewhere against rays.
template <class F>
class AnyCutter {
 public:
  explicit AnyCutter(const Meridian& form) : form_(form) {}

  // mm within the radius that already count as its side when the place is looked for: at the place that is found a ray must not pass by a hair.
  static constexpr float kSide = 2e-4f;
  static constexpr float kSolved = 2e-5f;  // mm

  // Of the point at p: how far inside the lower surface, how that grows with p, its distance from the cutter's axis, dt/dS / S.
  struct Depth {
    F inside, grows, aside, lean;
  };

  POMMEL_INSIDE Depth depth_of(const Place<F>& at, const F& p) const {
    const F l = p * at.sine, aside = simd::sqrt(at.u * at.u + l * l);
    F height, slope;
    surface(aside, height, slope);
    const F lean = slope / greater(aside, F(1e-6f));
    return {p * at.cosine - at.z - height, at.cosine - lean * l * at.sine, aside, lean};
  }

  // No point nearer to the axis is inside.
  POMMEL_INSIDE F lowest(const Place<F>& at) const {
    F height, slope;
    surface(lesser(simd::abs(at.u), F(form_.radius)), height, slope);
    return greater(at.z + height, F(0.0f));
  }

  // The least p inside, by Newton's steps from below, and what is there: past the radius, or not inside, where there is none.
  POMMEL_INSIDE F root(const Place<F>& at, Depth& depth) const {
    F p = lowest(at);
    depth = depth_of(at, p);
    for (int i = 0; i < 24; ++i) {
      const auto open = depth.inside < -kSolved && depth.aside <= form_.radius;
      if (simd::none_of(open)) break;
      p = choose(open, p - depth.inside / greater(depth.grows, F(1e-5f)), p);
      depth = depth_of(at, p);
    }
    return p;
  }

  // Whether the ray passes beside the cutter that stands there.
  POMMEL_INSIDE typename F::mask_type beside(const Depth& depth) const { return depth.aside > form_.radius - kSide || depth.inside < -kSolved; }

  // Of such a ray the last p within the radius; 0 where its whole row is beside.
  POMMEL_INSIDE F last(const Place<F>& at) const {
    return simd::sqrt(greater(form_.radius * form_.radius - at.u * at.u, F(0.0f))) / greater(simd::abs(at.sine), F(1e-6f));
  }

  POMMEL_INSIDE Meeting<F> met(const Place<F>& at) const {
    Depth depth;
    const F p = root(at, depth);
    const auto hit = depth.inside >= -kSolved && depth.aside <= form_.radius;
    return {choose(hit, p, F(kNone)), choose(hit, leaving(at, p), F(-kNone)), at.z, at.cosine};
  }

 private:
  // t(S) and its slope.
  POMMEL_INSIDE void surface(const F& aside, F& height, F& slope) const {
    const F q = within(aside - form_.disc, F(form_.corner_end - form_.disc));
    const F g = simd::sqrt(greater(form_.corner * form_.corner - q * q, F(1e-8f)));
    const auto flank = aside > form_.corner_end;
    height = choose(flank, form_.corner_height + (aside - form_.corner_end) * form_.rise, lesser(form_.corner - g, F(form_.corner_height)));
    height = greater(height, F(0.0f));
    slope = choose(flank, F(form_.rise), q / g);
  }

  // Through the upright side or the end of the flutes; below a flank a ray may have left before.
  POMMEL_INSIDE F leaving(const Place<F>& at, const F& entry) const {
    const F chord = simd::sqrt(greater(form_.radius * form_.radius - at.u * at.u, F(0.0f)));
    F out = lesser(chord / greater(simd::abs(at.sine), F(1e-6f)), (at.z + form_.flute) / greater(at.cosine, F(1e-3f)));
    out = greater(entry, out * 0.999999f);
    const auto gone = depth_of(at, out).inside < 0.0f;
    if (simd::none_of(gone)) return out;
    F in = entry;
    for (int i = 0; i < 16; ++i) {
      const F middle = 0.5f * (in + out);
      const auto inside = depth_of(at, middle).inside >= 0.0f;
      in = choose(inside, middle, in);
      out = choose(inside || !gone, out, middle);
    }
    return choose(gone, in, out);
  }

  const Meridian form_;
};

// Any cutter on a turn: see any_turn.h.
template <class F>
class AnyTurnRays {
 public:
  AnyTurnRays(const RowAnyTurn& row, const Meridian& form, const float* psi) : row_(row), cutter_(form), psi_(psi) {}

  POMMEL_INSIDE Meeting<F> at(std::size_t j) const {
    const F psi = load<F>(psi_ + j), first = psi - row_.sweep, v = row_.u0 - row_.lambda * psi;
    const F slid = v * row_.slides, climbed(row_.climbs), none(0.0f);
    F low = lesser(greater(lesser(lesser(slid, climbed), none), first), psi), high = lesser(greater(greater(greater(slid, climbed), none), first), psi);
    for (int i = 0; i < row_.halvings; ++i) {
      const F w = 0.5f * (low + high);
      const auto later = deeper_later(psi, w);
      low = choose(later, w, low);
      high = choose(later, high, w);
    }
    // of what is left the end nearer to where the cutter reaches farthest over the row
    return cutter_.met(place_at(psi, lesser(greater(slid, low), high)));
  }

 private:
  // Whether the cutter enters the ray deeper with the ray farther on from it than w.
  POMMEL_INSIDE typename F::mask_type deeper_later(const F& psi, const F& w) const {
    const Place<F> place = place_at(psi, w);
    typename AnyCutter<F>::Depth depth;
    const F p = cutter_.root(place, depth), edge = cutter_.last(place), l = p * place.sine, side = edge * place.sine;
    const auto deeper = row_.kappa - l - depth.lean * (place.u * row_.lambda + l * p * place.cosine) > 0.0f;
    const auto nearer = (row_.kappa - side) * side * place.sine - (place.u * row_.lambda + side * edge * place.cosine) * place.cosine > 0.0f;
    const auto beside = cutter_.beside(depth);
    return (beside && nearer) || (!beside && deeper);
  }

  POMMEL_INSIDE Place<F> place_at(const F& psi, const F& w) const {
    const F s = psi - w;
    return {row_.u0 - row_.lambda * s, row_.z0 + row_.kappa * s, sine_of(w), cosine_of(w)};
  }

  const RowAnyTurn row_;
  const AnyCutter<F> cutter_;
  const float* psi_;
};

// Any cutter that slides: see any_turn.h.
template <class F>
class SlideRays {
 public:
  SlideRays(const RowSlide& row, const Meridian& form, const RayTable& rays) : row_(row), radius2_(form.radius * form.radius), cutter_(form), rays_(rays) {}

  POMMEL_INSIDE Meeting<F> at(std::size_t j) const {
    const F sine = load<F>(rays_.sine + j), cosine = load<F>(rays_.cosine + j);
    const F least = greater(F(row_.z_low), F(0.0f)) * sine, chord = simd::sqrt(greater(radius2_ - least * least, F(0.0f)));
    // from where it stands over the row towards its lower end, which may be the end of the move
    const F over = on_way(F(row_.at)), lower = row_.climb > 0.0f ? on_way(row_.at - chord) : row_.climb < 0.0f ? on_way(row_.at + chord) : over;
    F low = lesser(over, lower), high = greater(over, lower);
    if (row_.halvings > 0) {
      const auto later = deeper_later(lower, sine, cosine);
      low = choose(later, greater(low, lower), low);
      high = choose(later, high, lesser(high, lower));
    }
    for (int i = 0; i < row_.halvings; ++i) {
      const F m = 0.5f * (low + high);
      const auto later = deeper_later(m, sine, cosine);
      low = choose(later, m, low);
      high = choose(later, high, m);
    }
    const F m = lesser(greater(F(row_.at), low), high);
    return cutter_.met(place_at(m, sine, cosine));
  }

 private:
  POMMEL_INSIDE Place<F> place_at(const F& m, const F& sine, const F& cosine) const { return {row_.at - m, row_.z0 + row_.climb * m, sine, cosine}; }

  // Whether the cutter enters the ray deeper at places after m.
  POMMEL_INSIDE typename F::mask_type deeper_later(const F& m, const F& sine, const F& cosine) const {
    const Place<F> place = place_at(m, sine, cosine);
    typename AnyCutter<F>::Depth depth;
    cutter_.root(place, depth);
    // where it passes beside, to where p cos - z of the last p within the radius grows
    const auto deeper = depth.lean * place.u > row_.climb, nearer = place.u * cosine > row_.climb * cutter_.last(place) * sine * sine;
    const auto beside = cutter_.beside(depth);
    return (beside && nearer) || (!beside && deeper);
  }

  POMMEL_INSIDE F on_way(const F& m) const { return lesser(greater(m, F(row_.first)), F(row_.last)); }

  const RowSlide row_;
  const float radius2_;
  const AnyCutter<F> cutter_;
  const RayTable rays_;
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
float cut_any_turn(const RowAnyTurn& row, const Meridian& cutter, const float* psi, std::size_t n, float least, float by_side, const WoodRun& wood) {
  return take<F>(AnyTurnRays<F>(row, cutter, psi), n, least, by_side, wood);
}

template <class F>
float cut_slide(const RowSlide& row, const Meridian& cutter, const RayTable& rays, std::size_t n, float least, float by_side, const WoodRun& wood) {
  return take<F>(SlideRays<F>(row, cutter, rays), n, least, by_side, wood);
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
  return {&meet<F>, &cut_stroke<F>, &cut_turn<F>, &cut_any_turn<F>, &cut_slide<F>, &take_away<F>, &highest_centre<F>};
}

#undef POMMEL_INSIDE

}  // namespace pommel::proof::lanes
