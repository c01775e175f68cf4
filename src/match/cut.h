// Cuts a run of readings into strokes.
//
// Criterion. Among all ways to cut the readings in order into stretches and to draw a figure through each, the one whose sum is least of
//     sum of min((d/s)², 16)           how far the readings lie off, in their own uncertainties (chain.h)
//   + 1.8 ln N for every free number   sizes, and a second radius where neighbours meet at a step
//   + ln N - 2 ln p  for every element: where it ends, and which figure it is, of which a share p of all elements are (price_of);
//   + 4 for an edge where none is marked, and for none where one is: two readings close together mark it (Run::mark);
//   + 6 for every reading that an element has less than its numbers + 1.
// Without the factor and the last two lines that is the Bayesian information criterion (Schwarz, "Estimating the dimension of a model", Annals of Statistics 6 (1978)) for readings of known
// uncertainty, N their number, with the choice of figure told as in a description of least length (Rissanen, "Modeling by shortest data
// description", Automatica 14 (1978)).
//
// Method. Dynamic programming over the gaps between readings (Bellman, "On the approximation of curves by line segments using dynamic
// programming", Communications of the ACM 4 (1961)), with every figure fitted to every stretch that is worth it. The first cut takes neighbours as
// fitted by themselves; then all are fitted together with their shared ends, and single changes (another figure, a joint one reading on, two
// neighbours as one) are tried on that until none is better. Wrong readings bend a fit by least squares until another reading looks wrong, so stretches are
// fitted without readings that nothing near supports (suspects.h), circles and lines without those that most of few readings do not agree with (agreed.h),
// and vases without the one, two or more without which they come cheapest (vase.h); and where an element still has wrong readings, or hardly more readings
// than numbers, all is cut again about it with each of few readings left out in turn, and the cheaper is taken. The first step's optimum is exact for its
// sum, the second's is a local one.
#pragma once

#include "match/segment.h"

namespace pommel::match {

struct Cut {
  Chain chain;
  double cost = 0;   ///< of the readings and joints together, fitted in full
  double total = 0;  ///< with prices: what is least
  int outliers = 0;
};

/// Nothing of use when the run is stopped. REQUIRES: at least two samples in the run.
Cut cut(const Run& run, const Prices& prices);

/// Fits a chain in full, tells steps from joints, and weighs it. `odd` extra prices beside squares are counted as in segment.h.
Cut settled(const Run& run, Chain chain, const Prices& prices, int rounds = 40);

}  // namespace pommel::match
