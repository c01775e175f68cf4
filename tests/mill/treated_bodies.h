// Parts with flutes, reeds, octagons and twists for the mill's tests: as builders make them, and the hand-made ones of tests/shape.
#pragma once

#include <stdexcept>
#include <vector>

#include "mill/bodies.h"
#include "shape/treated_parts.h"
#include "shape/treatments.h"

namespace pommel::mill::testing {

inline Part made(Result<Part> result) {
  if (!result.ok()) throw std::runtime_error(render(result.reasons()));
  return std::move(result).value();
}

/// A taper between two squares with eight flutes that run out round.
inline Part fluted_leg() {
  const double half = 25;
  Turning t(half * 1.5);
  t.clear(30).step(22).line(10, 22, "fillet").line(110, 17).line(10, 17, "fillet").step(half * 1.5).clear(20);
  Part p = t.part("fluted leg", shape::square_faces(2 * half, t.length()));
  return made(shape::fluted(std::move(p), {.x0 = 34, .x1 = 156, .count = 8, .width = 9, .depth = 3, .phase = 0.2, .run_out0 = 14, .run_out1 = 12}));
}

/// Flutes that follow a bulge, straight out at one end and through the foot at the other.
inline Part fluted_vase() {
  Turning t(18);
  t.cubic(90, 0.3, -0.004, 0.00001).line(20, 14);
  Part p = t.part("fluted vase");
  return made(shape::fluted(std::move(p), {.x0 = 12, .x1 = p.length, .count = 6, .width = 8, .depth = 2.5, .run_out0 = 8, .run_out1 = 0, .ends = shape::RunOut::straight}));
}

inline Part reeded_post() {
  Turning t(20);
  t.line(20, 20, "cylinder").line(70, 16).line(20, 16, "cylinder");
  Part p = t.part("reeded post");
  return made(shape::reeded(std::move(p), {.x0 = 10, .x1 = 100, .count = 12, .depth = 1.1, .phase = 0.1, .run_out0 = 12, .run_out1 = 10}));
}

/// A rope twist; deep in four starts, its hollows are tighter than a large ball.
inline Part rope(int starts, double depth) {
  Turning t(20);
  t.line(110, 18, "cylinder");
  Part p = t.part("rope of " + std::to_string(starts));
  return made(shape::twisted(std::move(p), {.x0 = 10, .x1 = 100, .starts = starts, .pitch = 70, .depth = depth, .fade0 = 15, .fade1 = 20, .phase = 0.4}));
}

/// An octagon with flutes along its flats.
inline Part fluted_octagon() {
  Turning t(60);
  t.clear(120);
  Part p = t.part("fluted octagon", shape::square_faces(50, t.length()));
  p = made(shape::polygoned(std::move(p), {.x0 = 15, .x1 = 110, .sides = 8, .across0 = 46, .across1 = 40, .length0 = 14, .length1 = 17}));
  return made(shape::fluted(std::move(p), {.x0 = 31, .x1 = 92, .count = 8, .width = 8, .depth = 2, .run_out0 = 10, .run_out1 = 10}));
}

inline Part hand_made(std::uint64_t seed, int make) {
  Part p = shape::treated_part(seed, make);
  p.name = "treated " + std::to_string(seed) + " by " + std::to_string(make);
  return p;
}

inline std::vector<Part> treated_bodies() {
  std::vector<Part> all{fluted_leg(), fluted_vase(), reeded_post(), rope(2, 5), rope(4, 6), fluted_octagon()};
  for (int make : {1, 2, 4, 7, 9, 10, 15}) all.push_back(hand_made(static_cast<std::uint64_t>(make) + 3, make));
  return all;
}

}  // namespace pommel::mill::testing
