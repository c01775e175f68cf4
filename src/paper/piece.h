// What the documents of a job speak of: its distinct pieces, and what stands on every sheet. Taken out of the job once, so that each
// document is a function of plain values. For this room only.
#pragma once

#include <string>
#include <vector>

#include "base/quantity.h"
#include "job/job.h"
#include "job/variants.h"
#include "paper/page.h"
#include "shape/part.h"

namespace pommel::paper {

/// What is the same on all sheets of an order.
struct Heading {
  std::string title;   ///< the order's name, else the design's
  std::string number, date, client;
  std::string design;
  int revision = 1;
  LengthFormat lengths;
  PaperSize paper = PaperSize::a4;
  std::vector<job::PricedVariant> beside;  ///< for the cost sheet
  double bar_measures = 200;  ///< mm that the scale bar of 200 mm measured on the shop's printer

  std::string length(double mm) const { return format_length(mm, lengths); }
  std::string figure(double mm) const { return format_length(mm, lengths, false); }
  std::string unit() const;  ///< "millimetres", "inches"
  /// "26-041, M. Brandt, 2026-03-02", what there is of it.
  std::string order_line() const;
};
Heading heading_of(const job::Job& job);

/// A distinct piece: all members that one drawing serves.
struct Piece {
  std::string file;    ///< "leg-piece-1", as its solid is called
  std::string noun;    ///< "leg"
  std::string label;   ///< "leg, front left and back right"
  std::string hand;    ///< "left", "" where hands do not matter
  std::string wood;    ///< of its blank
  std::string reason;  ///< why these are one piece
  std::vector<const frame::Member*> members;  ///< in the job's set
  double square = 0;
  shape::Part part;    ///< jointed
  std::vector<std::string> joints;  ///< as they are marked out, a line each

  // of straight pieces, which are no members
  std::vector<std::string> names;
  int quantity = 0;
  std::string section;  ///< "100 x 22 mm"
};
/// In the order of the set's jointed kinds; spares have none.
std::vector<Piece> pieces_of(const job::Job& job);

/// A diameter worth a calliper: at the ends of the elements, and at crests and hollows between.
struct Mark {
  double x = 0;
  std::string element;       ///< named on its crest, else on its middle
  bool boundary = true;      ///< an end of an element; else a crest or hollow within one
  std::string size;          ///< "⌀ 44.1", "□ 58", "⌀ 25.5 / 32.5" at a wall
  double greatest = 0;       ///< mm, of the diameters there
};
/// From head to foot, ends included. Lengths as `heading` has them.
std::vector<Mark> marks_of(const shape::Part& part, const Heading& heading);

}  // namespace pommel::paper
