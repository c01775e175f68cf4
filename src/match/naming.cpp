#include "match/naming.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace pommel::match {
namespace {

using shape::ElementKind;
using shape::PommelCut;

constexpr double kTorus = 12;     // mm: longer half-rounds are called tori
constexpr double kFlat = 1 / 20.0;  // rise over length: flatter bulges are called entasis

ElementKind level_name(const Stroke& s, const Standing& at) {
  const bool end = at.first || at.last, is_long = s.length() > s.r0;
  if ((at.after_square || at.before_square) && !end) return ElementKind::pommel;
  if (end && is_long && at.neighbour > s.r0) return ElementKind::pin;
  return is_long ? ElementKind::cylinder : ElementKind::fillet;
}

bool flat(const Stroke& s) {
  const double crest = s.figure == Figure::quarter_bulge ? std::max(s.r0, s.r1) : s.extreme;
  return crest - std::min(s.r0, s.r1) < kFlat * s.length();
}

}  // namespace

Name name_of(const Stroke& s, const Standing& at) {
  const bool pommel = at.from_corners && (at.after_square || at.before_square);
  switch (s.figure) {
    case Figure::level: return {level_name(s, at), PommelCut::square};
    case Figure::slope: return {pommel ? ElementKind::pommel : ElementKind::taper, PommelCut::sloped};
    case Figure::half_bulge: return {s.length() > kTorus ? ElementKind::torus : ElementKind::bead};
    case Figure::quarter_bulge:
      if (pommel) return {ElementKind::pommel, PommelCut::rounded};
      return {flat(s) ? ElementKind::entasis : ElementKind::ovolo};
    case Figure::half_hollow:
    case Figure::quarter_hollow:
    case Figure::arc_hollow: return {ElementKind::cove};
    case Figure::ball: return {ElementKind::ball};
    case Figure::arc_bulge: return {flat(s) ? ElementKind::entasis : ElementKind::bead};
    case Figure::cyma_recta: return {ElementKind::cyma_recta};
    case Figure::cyma_reversa: return {pommel ? ElementKind::pommel : ElementKind::cyma_reversa, PommelCut::ogee};
    case Figure::scotia: return {ElementKind::scotia};
    case Figure::vee: return {ElementKind::vee};
    case Figure::vase: return {ElementKind::vase};
  }
  return {};
}

Standing standing_of(const Run& run, const Chain& chain, std::size_t k) {
  const std::size_t last = chain.strokes.size() - 1;
  Standing at;
  at.after_square = k == 0 && run.square_before;
  at.before_square = k == last && run.square_after;
  at.from_corners = (k == 0 && chain.start_radius > 0) || (k == last && chain.end_radius > 0);
  at.first = k == 0 && !run.square_before;
  at.last = k == last && !run.square_after;
  const double half_square = run.corner / std::numbers::sqrt2;
  if (at.first) at.neighbour = k < last ? chain.strokes[k + 1].r0 : at.before_square ? half_square : 0;
  if (at.last) at.neighbour = k > 0 ? chain.strokes[k - 1].r1 : at.after_square ? half_square : 0;
  return at;
}

}  // namespace pommel::match
