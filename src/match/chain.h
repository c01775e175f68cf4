// A run of strokes from one end of a turned stretch to the other, and its least-squares fit to readings.
//
// Neighbours share the place where they meet, and its radius too unless the joint is a step. Each reading belongs to one stroke: the cut says which
// (cut.h), and a joint moves only within the gap between the last reading of one stroke and the first of the next, widened by what a place may err.
//
// What is made least is the sum over readings of min((d/s)², kOutlier), d the distance square to the curve and s the reading's uncertainty in that
// direction (of the place along the axis, of the radius across it); a reading past kOutlier is wrong and pulls no more. To this comes, for each joint,
// ((x - middle of its gap) / gap)²: readings alone say nothing of where a plain step stands between two of them.
// Method: Levenberg and Marquardt with numeric derivatives (Nocedal and Wright, Numerical Optimization, section 10.3).
#pragma once

#include <span>
#include <vector>

#include "match/figure.h"

namespace pommel::match {

struct Sample {
  double x = 0, r = 0;    ///< mm
  double sx = 0, sr = 0;  ///< one standard deviation of place and radius, mm, above 0
  int reading = -1;       ///< index into the maker's readings (the first of repeats)
};

/// What a wrong reading costs, in the units of a sum of squares in deviations: four deviations squared. One in twenty readings may be wrong and stand
/// anywhere within some hundred deviations, -2 ln(0.05 / 100) = 15.2; at 25 wrong readings were explained by elements that are not there.
inline constexpr double kOutlier = 16;

struct Joint {
  double least = 0, most = 0;  ///< where it may stand, mm; equal when it is known
  bool step = false;           ///< the radii of both sides are told apart
};

struct Chain {
  std::vector<Stroke> strokes;
  std::vector<std::size_t> first;  ///< first sample of each stroke, and one past the last: strokes + 1 numbers
  std::vector<Joint> joints;       ///< before, between and after the strokes: strokes + 1
  double start_radius = 0, end_radius = 0;  ///< above 0: the first or last stroke begins or ends at this radius (a pommel at the square's corners)
  std::vector<std::pair<int, double>> held;  ///< sizes the maker pinned: 64 * stroke + size (figure.h), value
};

/// One number of the fit and how surely it is known.
struct Numbers {
  std::vector<double> values;
  std::vector<double> covariance;                ///< row by row, values.size() squared; mm²
  std::vector<std::vector<int>> of;              ///< by stroke, by size: its index in values, or -1 where it is known or not used
};

struct ChainFit {
  double cost = 0;  ///< what is made least, see above
  int outliers = 0;
  bool drawn = false;
};

/// The thinnest and the thickest that a curve through readings is allowed to be: few readings bind little, and a curve would run out of the wood.
struct Wood {
  double least = 0, most = 1e30;  ///< mm of radius
  bool holds(const shape::Pieces& pieces) const;
};
Wood wood_about(std::span<const Sample> samples, double corner);

/// Fits in place. `rounds` bounds the iterations. When `numbers` is given it is filled at the optimum.
/// `cap` other than kOutlier: for a first approach from afar.
ChainFit fit(Chain& chain, std::span<const Sample> samples, int rounds, Numbers* numbers = nullptr, double cap = kOutlier);
/// The cost as the chain stands.
ChainFit weigh(const Chain& chain, std::span<const Sample> samples);

/// One number for each size of its strokes that is free, shared ones once: what the chain is charged for besides its joints.
int freedoms(const Chain& chain);

/// Distance over uncertainty of a sample from drawn pieces.
double deviation(const shape::Pieces& pieces, const Sample& sample);

}  // namespace pommel::match
