// One line of a pass: where the tip goes along the piece at one direction, as few straight moves as the tolerance
// allows, and always downhill.
#pragma once

#include <span>
#include <vector>

#include "mill/leftover.h"

namespace pommel::mill {

/// Samples of a line at growing x, made fine enough: where neighbouring slopes say that the curve may leave the chord
/// by more than `tolerance` (measured square to the chord), tip(x) is asked again between them. At walls, where the tip
/// drops at one x, the halving ends when both points stand within the tolerance of that x.
template <class Tip>
std::vector<LinePoint> refined(const std::vector<LinePoint>& samples, const Tip& tip, double tolerance);

/// The same line with points left out; every point left out lies within `tolerance` of it (Ramer, Douglas and Peucker).
std::vector<LinePoint> simplified(const std::vector<LinePoint>& line, double tolerance);

/// Indices of the first and last value and of the crests and valleys between: a turn counts when the values come back
/// by more than `prominence`. Empty for no values.
std::vector<std::size_t> turning_points(std::span<const double> values, double prominence);

/// The line split at its crests and valleys, each piece in the order from its higher to its lower end.
std::vector<std::vector<LinePoint>> downhill(const std::vector<LinePoint>& line, double prominence);

// ---- how refined() works ----

/// Whether the curve may leave the chord from samples[i] to samples[i + 1] by more than the tolerance: two chords that
/// meet with slopes s apart enclose a curve within s dx / 4 of them.
bool bends(const std::vector<LinePoint>& samples, std::size_t i, double tolerance);
/// Distance of m from the straight line through p and q.
double beside_chord(const LinePoint& m, const LinePoint& p, const LinePoint& q);

template <class Tip>
void halve(const LinePoint& p, const LinePoint& q, const Tip& tip, double tolerance, int depth,
           std::vector<LinePoint>& into) {
  constexpr int kDeepest = 24;
  if (depth >= kDeepest || q.x - p.x < tolerance) return;
  const double x = p.x + (q.x - p.x) / 2;
  const LinePoint m{x, tip(x)};
  const bool straight = depth >= 2 && beside_chord(m, p, q) <= tolerance / 2;
  if (!straight) halve(p, m, tip, tolerance, depth + 1, into);
  into.push_back(m);
  if (!straight) halve(m, q, tip, tolerance, depth + 1, into);
}

template <class Tip>
std::vector<LinePoint> refined(const std::vector<LinePoint>& samples, const Tip& tip, double tolerance) {
  std::vector<LinePoint> line;
  line.reserve(samples.size() + samples.size() / 4);
  for (std::size_t i = 0; i < samples.size(); ++i) {
    line.push_back(samples[i]);
    if (i + 1 < samples.size() && bends(samples, i, tolerance))
      halve(samples[i], samples[i + 1], tip, tolerance, 0, line);
  }
  return line;
}

}  // namespace pommel::mill
