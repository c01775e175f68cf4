// From the figures of an order to a price, in exact cents.
//
// The rounding rule, one for all: each line is computed in currency units and rounded once, to the nearest cent, halves away
// from zero; sums are sums of rounded lines. A quote is a value; nothing here reads a clock or a file.
//
//     boards + hardware                      material
//     labour (set-ups, loading, milling, joints, hand work, sanding, assembly, other hours) at the shop hour
//     machine time at the machine hour
//     finish by area
//     overhead: a share of labour and machine time, only where the shop hour does not hold it already
//     = cost
//     profit: markup (a share of the cost) or margin (a share of the price)
//     = price, or the minimum charge if that is more
//     tax: a share of the price
//     = total;  deposit: a share of the total
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "shop/shop.h"

namespace pommel::quote {

struct Material {
  std::string label, basis;  ///< "8/4 rough cherry", "12.40 BF net and 20 % waste"
  double quantity = 0;       ///< board feet
  Money price;               ///< for one
};

struct Hardware {
  std::string label;
  int count = 0;
  Money each;
};

/// What an order comes to, in pieces and minutes.
struct Work {
  std::vector<Material> boards;
  std::vector<Hardware> hardware;
  int set_ups = 0;                    ///< distinct programs to set up; shared over the quantity
  int turned_pieces = 0;              ///< loaded, cut and unloaded, spares too
  double machine_minutes_each = 0;    ///< of one piece, from its programs' motions
  int cutter_changes = 0;             ///< while pieces are on the machine, of all of them
  int blanks = 0;                     ///< milled square and cut to length (turned pieces and rails)
  int mortises = 0;                   ///< cut at the bench, with their tenons
  int milled_mortises = 0;            ///< cut by the machine: their tenons alone are bench work
  int chiselled = 0;                  ///< of those, with corners to square
  int bores = 0;                      ///< at the bench
  double joint_minutes = 0;           ///< of the machine, for the joints of all pieces
  int joints = 0;                     ///< assembled
  int quirks_each = 0;                ///< places of one piece that the cutter cannot reach
  double skin_m2 = 0;                 ///< sanded and finished, all pieces that are sold
  double other_hours = 0;             ///< the maker's own figure
};

struct Line {
  std::string group;   ///< "material", "labour", "machine", "finish", "overhead"
  std::string text;    ///< what
  std::string basis;   ///< how it was reckoned: "5 x 8.00 min at 60.00 an hour"
  Money amount;
};

struct Quote {
  std::string currency;
  std::vector<Line> lines;   ///< of the cost
  Money cost, profit, price;
  bool minimum_applied = false;
  std::string profit_words;  ///< "markup of 25 % on the cost"
  Money tax, total, deposit;
  std::string tax_words, deposit_words;
  bool confirmed = false;    ///< false: example rates
};

/// Errors (all at once): "quote.overhead-twice" (the shop hour holds overhead and a rate is given too), "quote.margin"
/// (a margin of 100 % or more), "quote.negative" (a figure below zero or not finite).
Result<Quote> quote(const Work& work, const shop::Rates& rates);

/// Aligned plain text, 80 columns.
std::string to_text(const Quote& quote);

}  // namespace pommel::quote
