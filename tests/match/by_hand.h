// Readings as a maker takes them from a piece whose outline is known: both edges of every element first, then three between on whatever is curved,
// what is left spread over the elements by the square root of their lengths; or evenly, without looking. Errors are normal in place and diameter alike; a share is wrong by 2 to 10 mm.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <string>
#include <vector>

#include "match/segment.h"
#include "shape/part.h"

namespace pommel::match::testing {

/// The same numbers everywhere: splitmix64 and Box and Muller.
class Chance {
 public:
  explicit Chance(std::uint64_t seed) : state_(seed) {}
  double even() {
    std::uint64_t z = (state_ += 0x9E3779B97F4A7C15u);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
    return static_cast<double>((z ^ (z >> 31)) >> 11) * 0x1.0p-53;
  }
  double normal() { return std::sqrt(-2 * std::log(1 - even())) * std::cos(2 * std::numbers::pi * even()); }

 private:
  std::uint64_t state_;
};

struct TrueElement {
  Figure figure = Figure::level;
  std::string kind;
  double x0 = 0, x1 = 0;
};

struct TrueRun {
  double x0 = 0, x1 = 0;
  bool square_before = false, square_after = false;
  double corner = 0;
  std::vector<TrueElement> elements;
};

/// What an element of a part is drawn as, from its pieces.
inline Figure figure_of(const shape::ElementMark& mark, const std::vector<shape::Piece>& pieces) {
  const std::string& kind = mark.kind;
  const auto arc = [&] {
    const shape::Piece& p = pieces.front();
    const bool bulge = p.kind != shape::Piece::Kind::arc || p.bulge > 0;
    const double l = mark.x1 - mark.x0, near = 1e-6, greater = p.r0 > p.r1 ? p.x0 : p.x1, smaller = p.r0 > p.r1 ? p.x1 : p.x0;
    const bool alike = std::fabs(p.r0 - p.r1) < near, half = alike && std::fabs(p.rho - l / 2) < near;
    const double level_at = bulge ? greater : smaller, plumb_r = bulge ? std::min(p.r0, p.r1) : std::max(p.r0, p.r1);
    const double plumb_at = bulge ? smaller : greater;
    const bool level = std::fabs(p.cx - level_at) < near;
    const bool plumb = std::fabs(p.cr - plumb_r) < near && std::fabs(std::fabs(p.cx - plumb_at) - p.rho) < near;
    if (half) return bulge ? Figure::half_bulge : Figure::half_hollow;
    if (!alike && (level || plumb)) return bulge ? Figure::quarter_bulge : Figure::quarter_hollow;
    return bulge ? Figure::arc_bulge : Figure::arc_hollow;
  };
  if (kind == "pommel") {
    if (pieces.size() == 2) return Figure::cyma_reversa;
    if (pieces.front().kind == shape::Piece::Kind::arc) return Figure::quarter_bulge;
    return std::fabs(pieces.front().r0 - pieces.front().r1) < 1e-9 ? Figure::level : Figure::slope;
  }
  if (kind == "fillet" || kind == "cylinder" || kind == "pin") return Figure::level;
  if (kind == "taper") return Figure::slope;
  if (kind == "bead" || kind == "torus" || kind == "cove" || kind == "ovolo" || kind == "entasis") return arc();
  if (kind == "cyma recta") return Figure::cyma_recta;
  if (kind == "cyma reversa") return Figure::cyma_reversa;
  if (kind == "scotia") return Figure::scotia;
  if (kind == "ball") return Figure::ball;
  if (kind == "vee") return Figure::vee;
  return Figure::vase;
}

/// The turned runs of a part between its squares.
inline std::vector<TrueRun> true_runs(const shape::Part& part, double square) {
  std::vector<TrueRun> runs;
  bool in = false;
  for (std::size_t k = 0; k < part.elements.size(); ++k) {
    const shape::ElementMark& mark = part.elements[k];
    if (mark.kind == "square") {
      if (in) runs.back().square_after = true;
      in = false;
      continue;
    }
    if (!in) runs.push_back({mark.x0, mark.x1, k > 0, false, square / std::numbers::sqrt2, {}});
    in = true;
    std::vector<shape::Piece> pieces;
    for (const shape::Piece& p : part.outline.pieces) {
      if (p.element == static_cast<int>(k)) pieces.push_back(p);
    }
    runs.back().x1 = mark.x1;
    runs.back().elements.push_back({figure_of(mark, pieces), mark.kind, mark.x0, mark.x1});
  }
  return runs;
}

inline bool is_curved(const TrueElement& e) { return e.figure != Figure::level && e.figure != Figure::slope; }

enum class Manner { edges_first, evenly };

/// Places of n readings over the runs, growing.
inline std::vector<double> places(const std::vector<TrueRun>& runs, int n, Manner manner) {
  std::vector<double> at;
  std::vector<TrueElement> all;
  double turned = 0, roots = 0;
  for (const TrueRun& run : runs) {
    turned += run.x1 - run.x0;
    for (const TrueElement& e : run.elements) all.push_back(e), roots += std::sqrt(e.x1 - e.x0);
  }
  if (manner == Manner::evenly) {
    for (int i = 0; i < n; ++i) {
      double along = (i + 0.5) * turned / n;
      for (const TrueRun& run : runs) {
        if (along < run.x1 - run.x0) {
          at.push_back(run.x0 + along);
          break;
        }
        along -= run.x1 - run.x0;
      }
    }
    return at;
  }
  const int edges = 2 * static_cast<int>(all.size());
  int curved = 0;
  for (const TrueElement& e : all) curved += is_curved(e);
  const int each = std::min(3, std::max(0, n - edges) / std::max(1, curved));
  const double left = std::max(0, n - edges - each * curved);
  double owed = 0.5;
  for (const TrueElement& e : all) {
    const double l = e.x1 - e.x0, inset = std::min(0.3, l / 6);
    at.push_back(e.x0 + inset);
    owed += left * std::sqrt(l) / roots;
    int inner = static_cast<int>(owed);
    owed -= inner;
    if (is_curved(e)) inner += each;
    for (int i = 1; i <= inner; ++i) at.push_back(e.x0 + inset + (l - 2 * inset) * i / (inner + 1));
    at.push_back(e.x1 - inset);
  }
  if (n < edges) {  // fewer than two an element: every so many-th of them
    std::vector<double> some;
    for (int i = 0; i < n; ++i) some.push_back(at[static_cast<std::size_t>((i + 0.5) * edges / n)]);
    at = some;
  }
  return at;
}

/// Bead and torus are one word, and so are fillet, cylinder and pin: one curve, and which word is said is a rule of length and place (match/naming.h).
inline std::string one_word(const std::string& kind) { return kind == "torus" ? "bead" : kind == "cylinder" || kind == "pin" ? "fillet" : kind; }

struct Taken {
  double x = 0, diameter = 0;
};

/// Readings of a part: `noise` mm is one standard deviation of place and diameter, `wrong` the share that is badly wrong.
inline std::vector<Taken> readings_of(const shape::Part& part, const std::vector<TrueRun>& runs, int n, double noise, double wrong, Manner manner,
                                      std::uint64_t seed) {
  Chance chance(seed);
  std::vector<Taken> out;
  for (double x : places(runs, n, manner)) {
    Taken t{x + noise * chance.normal(), 2 * part.outline.value(x, shape::Side::after) + noise * chance.normal()};
    if (chance.even() < wrong) t.diameter += (chance.even() < 0.5 ? -1 : 1) * (2 + 8 * chance.even());
    out.push_back({t.x, std::max(1.0, t.diameter)});
  }
  return out;
}

}  // namespace pommel::match::testing
