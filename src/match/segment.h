// What a stretch of readings may be: every figure that could be drawn through readings i to j, with its cost and its price.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <stop_token>
#include <vector>

#include "match/chain.h"

namespace pommel::match {

/// What saying something costs, against sums of squares in deviations (cut.h has the criterion).
struct Prices {
  double number = 0;   ///< of one free size
  double element = 0;  ///< of where one more element ends
};
Prices prices_for(std::size_t readings);
/// Of one more element of this figure: where it ends, and which it is; frequent figures are cheaper to say.
double price_of(const Prices& prices, Figure figure);

/// The price of what the maker has forbidden.
inline constexpr double kForbidden = 1e6;

/// What a stroke of so many numbers pays for each reading that it has less than numbers + 1: it is hardly seen. Arcs count one number more, since
/// their bend must be seen, too.
double price_of_want(int numbers, std::size_t readings);

/// The turned stretch between two squares or ends.
struct Run {
  std::vector<Sample> samples;  ///< places growing
  double x0 = 0, x1 = 0;        ///< where it begins and ends, mm
  double slack0 = 0, slack1 = 0;  ///< by how much that may err
  bool square_before = false, square_after = false;
  double corner = 0;  ///< half the diagonal of the square, mm; 0: no square

  /// By gap (gap(i) is the one before sample i): whether two readings stand close on both sides of it, as a maker sets the calliper on both sides of an edge.
  std::vector<char> marked;
  std::vector<char> suspected;  ///< by sample (suspects.h)
  std::vector<char> tried;      ///< by gap: where the first cut tries an edge (gaps.h)
  bool careful = false;         ///< each of few readings is left out in turn where nothing fits: several times slower

  /// What the maker wishes (recognise.h), by gap and by sample; empty: nothing.
  std::vector<std::optional<double>> edges;  ///< an edge exactly here
  std::vector<char> no_edges;                ///< no edge in this gap
  std::vector<unsigned> figures;             ///< bit by Figure: what this sample may lie on

  std::stop_token stop = {};  ///< when stopped, what is found of this run is of no use

  /// Marks the gaps of at most 1 mm that are no more than a quarter of the median gap. A run has marks only where there are two at least.
  void mark();
  /// What it costs to cut at the gap before sample i, and to go over the marked gaps between samples first and last.
  double price_of_cut(std::size_t i) const;
  double price_of_going_over(std::size_t first, std::size_t last) const;
  double price_of_figure(std::size_t first, std::size_t last, Figure figure) const;

  /// Where the joint before sample i may stand (0: the run's beginning; samples.size(): its end).
  Joint gap(std::size_t i) const;
};

struct Candidate {
  Stroke stroke;
  shape::Pieces pieces;
  double total = 0;  ///< cost and price together, without its joints
  bool pommel_start = false, pommel_end = false;  ///< begins or ends at the square's corners
};

/// What is known of a stretch before it is fitted: that nothing dearer than `limit` is of use, and what each figure costs at least on a shorter stretch
/// with the same end (a longer one costs no less).
struct Bounds {
  double limit = 1e30;
  std::array<double, kFigures + 5> shorter{};  ///< by figure, all arcs as one; after them a vase by its stations; updated
};

/// Candidates for samples first to last (included), best first: those within what a joint can make up. Empty when nothing can be drawn, or nothing
/// within the limit, and when the run is stopped. REQUIRES: at least two samples.
std::vector<Candidate> candidates(const Run& run, std::size_t first, std::size_t last, const Prices& prices, Bounds& bounds);
std::vector<Candidate> candidates(const Run& run, std::size_t first, std::size_t last, const Prices& prices);

/// About the least that any figure costs there, without its price: what a circle, or a curve freer than a vase, comes to without the readings that do not
/// suit it.
double least_of_any(const Run& run, std::size_t first, std::size_t last);

/// The best that one figure can do there, fitted in full; nothing where it cannot be drawn.
std::vector<Candidate> candidates_of(const Run& run, std::size_t first, std::size_t last, const Prices& prices, Figure figure);

}  // namespace pommel::match
