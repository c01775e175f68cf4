// For this room only: which of few readings the circle or line leaves out that most of them agree on.
//
// Every circle through three readings, and every line through two, is weighed by sum of min((d/s)², kOutlier), the criterion's own loss, and the cheapest
// is taken. (Fischler and Bolles, Communications of the ACM 24 (1981), with this loss: Torr and Zisserman, Computer Vision and Image Understanding 78
// (2000); here every choice is tried and none is drawn by lot.) No number of wrong readings bends it, as they bend least squares.
#pragma once

#include <span>
#include <vector>

#include "match/chain.h"

namespace pommel::match {

inline constexpr std::size_t kMostAgreeing = 12;  ///< readings; the circles through three of them are 220

/// By sample: 1 where it lies off by more than kOutlier allows. Empty where there is none, where four agree on no circle (three on no line), or where there
/// are more readings than kMostAgreeing.
std::vector<char> off_the_circle(std::span<const Sample> samples);
std::vector<char> off_the_line(std::span<const Sample> samples);

}  // namespace pommel::match
