#include "match/naming.h"

#include <algorithm>
#include <cmath>

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

}  // namespace pommel::match
