// From readings to the elements of a turning: the door of this room.
//
//     readings ─▶ samples between squares ─▶ cut into strokes (cut.h) ─▶ rounded where they allow it (tidy.h) ─▶ named (naming.h) ─▶ Recognition
//
// What the maker knows better is said with Wishes, by notes in the file of readings or by calls: an edge here, no edge there, this is a cove. To refit
// is to recognise again with other wishes: nothing is remembered, so the same readings and wishes give the same elements.
#pragma once

#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "base/result.h"
#include "match/cut.h"
#include "match/naming.h"

namespace pommel::match {

/// A diameter where it was measured.
struct Measure {
  double x = 0, diameter = 0;  ///< mm
  double sd_x = 0, sd = 0;     ///< one standard deviation of place and diameter, mm, above 0
  enum class Of { round, flats, worn } of = Of::round;  ///< worn: not fitted, compared only
  Place place;                 ///< where it was written
  std::string row;
};

struct Between {
  double from = 0, to = 0;  ///< mm
  bool from_known = false, to_known = false;  ///< said by the maker; else the piece's end
};

struct KindHere {
  double x = 0;
  shape::ElementKind kind = shape::ElementKind::cylinder;
};

/// What the maker says besides his readings.
struct Wishes {
  std::vector<Between> squares;     ///< stretches left square, in order
  std::vector<double> edges;        ///< an edge stands here, exactly (a split)
  std::vector<double> no_edges;     ///< what stands on both sides of this is one element (a merge)
  std::vector<KindHere> kinds;      ///< the element here is of this kind
  std::optional<double> head, foot; ///< ends of the piece, mm; else the outermost places
  std::optional<double> square;     ///< width of the square stretches, mm
};

/// Splits, merges and changes of kind, as the maker asks for them one by one.
Wishes with_edge(Wishes wishes, double x);
Wishes without_edge(Wishes wishes, double x);
Wishes with_kind(Wishes wishes, double x, shape::ElementKind kind);

struct Options {
  bool tidy = true;         ///< prefer round numbers and repeated sizes where the readings allow
  double step = 0.5;        ///< mm: what counts as round; 25.4 / 16 for a maker who thinks in sixteenths
};

struct Found {
  Name name;
  Stroke stroke;          ///< radii; x from the head, mm. A square stretch is a level at half the square's width
  bool square = false;
  bool step = false;      ///< its diameter jumps where it begins
  bool from_corners = false;
  int readings = 0;       ///< that lie on it and were believed
  double rms = 0, worst = 0;  ///< of its readings, square to the curve, mm
  double unsure_start = 0, unsure_end = 0;  ///< one standard deviation of where it begins and ends, mm
  int like = -1;          ///< index of an earlier element that it repeats: same figure and sizes
};

/// A reading that is believed wrong.
struct Wrong {
  std::size_t measure = 0;
  double off = 0;  ///< mm from the outline, square to it
};

/// Where a few more readings would settle most, most urgent first.
struct Wanted {
  enum class Why {
    off,    ///< a reading is believed wrong, by `amount` mm
    alone,  ///< but for the reading there the element could be straight
    few,    ///< `readings` on an element of that many `sizes`
    edge,   ///< where the element ends is known to `amount` mm
    kind    ///< it could as well be the other
  };
  double from = 0, to = 0;  ///< mm
  Why why = Why::off;
  shape::ElementKind element = shape::ElementKind::cylinder, other = shape::ElementKind::cylinder;
  double amount = 0;  ///< mm
  int readings = 0, sizes = 0;
};
/// In bench words.
std::string in_words(const Wanted& wanted);

/// Elements first to last stand again, turned about, after the element `middle`: a symmetric group.
struct Symmetry {
  std::size_t first = 0, last = 0;
};

struct Recognition {
  double head = 0;    ///< place of the head in the readings, mm: elements count from it
  double length = 0;  ///< mm
  double square = 0;  ///< mm across the flats; 0: no square
  std::vector<Found> elements;
  std::vector<Wrong> wrong;
  std::vector<Wanted> wanted;
  std::vector<Symmetry> symmetries;
  std::size_t readings = 0;       ///< fitted
  double rms = 0, worst = 0;      ///< of the readings believed, mm
  double misfit = 0;              ///< root of the mean squared deviation: near 1 where the readings' uncertainty was said well
  double ovality = 0, ovality_x = 0;  ///< greatest difference of two diameters measured at one place, mm, and where
  double wear = 0, wear_x = 0;        ///< greatest depth of a worn reading below the outline, mm in diameter
};

/// Fails with "match.few" (less than two readings in a turned stretch; says where), "match.square" (a square whose width nobody said),
/// "match.squares" (stretches that overlap or end before they begin), "match.ends" (readings past head or foot), "match.wish" (a wish that nothing can meet),
/// "cancelled" (the token was stopped; within some tens of milliseconds).
Result<Recognition> recognise(const std::vector<Measure>& measures, const Wishes& wishes, const Options& options, std::stop_token stop = {});

}  // namespace pommel::match
