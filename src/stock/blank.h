// From a turned member and the boards on hand to the blank that goes on the machine.
//
// `square` is the finished section, stock is what is on hand: 12/4 rough with its measured thickness. The largest square that
// a board gives is its measured thickness less what milling takes. A larger one asks for a glue-up; it is never made smaller
// without a word.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "shape/blank.h"
#include "shop/shop.h"

namespace pommel::stock {

/// What the maker wants of a blank.
struct BlankWish {
  double part_length = 0;   ///< mm
  double square = 0;        ///< finished section across the flats, mm
  double horn = 0;          ///< left on at the head until the joint is glued, mm
  double witness = 0;       ///< more of it beside the chuck, for a witness flat, mm; left out where board or machine are too short for it
  double head_run_up = 0, foot_run_up = 0;  ///< waste between grip and piece for the cutter to run out, mm; 0 where the end is not turned
  enum class Form { milled, oversize, round } form = Form::milled;
  double oversize = 0;      ///< for Form::oversize and Form::round: added to the section, mm
  bool allow_glue_up = false;
  bool accept_centre_glue_line = false;
  bool halves = false;      ///< glued of an even number of pieces whatever the board gives, so that a groove can be run along the axis of each half
  bool rings_corner_to_corner = false;  ///< a wish, printed on the cut list
  shop::OneBoard one_board = shop::OneBoard::no;  ///< whether all blanks of the piece come from one board
};

/// A blank and how it is got out of the board.
struct BlankPlan {
  shape::Blank blank;
  int laminations = 1;                 ///< pieces glued face to face
  double lamination_thickness = 0;     ///< milled, mm
  std::vector<double> glue_lines;      ///< distances from the centre, mm, ascending; empty for one piece
  double rough_thickness = 0;          ///< of the board, measured, mm
  double rough_width = 0;              ///< to rip, mm
  double rough_length = 0;             ///< to crosscut, mm
  double board_feet = 0;               ///< exact measure of the rough pieces of one blank
  std::vector<Diagnostic> notes;
};

/// Largest square section that one thickness of the board gives, mm.
double largest_square(const shop::Stock& board);

/// Half-diagonal rule: a turning of radius r survives in a square of side a up to r = a/sqrt(2); the largest full round is a/2.
/// A blank of halves from boards that would give it in one piece is noted ("stock.thick-for-halves"): thinner ones do; so is one that goes without
/// its witness ("stock.no-witness").
/// Errors: "stock.needs-glue-up", "stock.centre-glue-line", "stock.board-too-short", "stock.board-too-narrow".
Result<BlankPlan> plan_blank(const BlankWish& wish, const shop::Stock& board, const shop::Machine& machine);

}  // namespace pommel::stock
