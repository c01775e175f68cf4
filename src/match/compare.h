// Readings of the finished copy against the outline that it was to have.
#pragma once

#include "match/recognise.h"
#include "shape/profile.h"

namespace pommel::match {

struct Compared {
  double x = 0;    ///< mm from the head
  double off = 0;  ///< mm square to the outline; above 0: wood was left
};

struct Comparison {
  std::vector<Compared> readings;  ///< in the order given, without those on squares and past the ends
  double mean = 0, rms = 0;        ///< mm
  double most = 0, most_at = 0;    ///< largest |off| with its sign, and its place, mm
};

/// `head` is the place of the head in the readings.
Comparison compared(const shape::Profile& outline, const std::vector<Measure>& measures, double head);

/// The same between two outlines: every `step` mm of what was recognised, its squares left out.
Comparison compared(const shape::Profile& outline, const Recognition& recognition, double step = 0.25);

}  // namespace pommel::match
