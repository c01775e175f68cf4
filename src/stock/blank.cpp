#include "stock/blank.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.h"
#include "stock/measure.h"

namespace pommel::stock {
namespace {

std::string mm(double value) { return format_number(value, 1) + " mm"; }

// Across the flats, or the diameter of a round blank: that one must hold the square's corners.
double section_of(const BlankWish& wish) {
  switch (wish.form) {
    case BlankWish::Form::milled: return wish.square;
    case BlankWish::Form::oversize: return wish.square + wish.oversize;
    case BlankWish::Form::round: return wish.square * std::numbers::sqrt2 + wish.oversize;
  }
  return wish.square;
}

// Face-to-face laminations of equal thickness: n pieces leave n - 1 glue lines; an even n puts one through both centres,
// where it opens under the chuck and the centre.
Result<int> laminations_for(const BlankWish& wish, double section, const shop::Stock& board) {
  const double most = largest_square(board);
  if (wish.halves) {
    if (!wish.allow_glue_up || !wish.accept_centre_glue_line)
      return fail("stock.centre-glue-line", "a blank of two halves is glued through its centres, which is not accepted", "say glue_up: yes and centre_glue_line: yes, or have it bored");
    return 2 * static_cast<int>(std::ceil(section / 2 / most - 1e-9));
  }
  if (section <= most + 1e-9) return 1;
  if (!wish.allow_glue_up) {
    return fail("stock.needs-glue-up",
                "a square of " + mm(section) + " does not come out of '" + board.label + "': it gives " + mm(most) +
                    " at most (" + mm(board.thickness) + " measured, " + mm(board.milling) + " for milling)",
                "choose thicker stock, a smaller square, or say glue_up: yes");
  }
  int pieces = static_cast<int>(std::ceil(section / most - 1e-9));
  if (pieces % 2 == 0 && !wish.accept_centre_glue_line) ++pieces;
  return pieces;
}

Diagnostic no_witness(double length, double room) {
  Diagnostic note;
  note.severity = Severity::note, note.id = "stock.no-witness";
  note.message = "the blank has no waste for a witness flat: with it, it would be " + mm(length) + " long, and machine and board take " + mm(room);
  note.remedy = "take a longer board or machine, or mark A0 well on the end grain";
  return note;
}

}  // namespace

double largest_square(const shop::Stock& board) { return board.thickness - board.milling; }

Result<BlankPlan> plan_blank(const BlankWish& wish, const shop::Stock& board, const shop::Machine& machine) {
  const double section = section_of(wish);
  const auto pieces = laminations_for(wish, section, board);
  if (!pieces.ok()) return pieces.failure();

  BlankPlan plan;
  const double head_grip = machine.head_at_chuck ? machine.chuck_grip : machine.centre_grip;
  const double foot_grip = machine.head_at_chuck ? machine.centre_grip : machine.chuck_grip;
  plan.blank.section = wish.form == BlankWish::Form::round ? shape::Blank::Section::round : shape::Blank::Section::square;
  plan.blank.size = section;
  const auto stand = [&](double witness) {
    const double at_head = machine.head_at_chuck ? witness : 0;
    plan.blank.x0 = -(std::max(wish.horn, wish.head_run_up + at_head) + head_grip);  // the horn is room to run out, too
    plan.blank.x1 = wish.part_length + wish.foot_run_up + (witness - at_head) + foot_grip;
  };
  stand(wish.witness);
  const double room = machine.max_between_centres > 0 ? std::min(machine.max_between_centres, board.longest()) : board.longest();
  if (wish.witness > 0 && plan.blank.length() > room) {
    plan.notes.push_back(no_witness(plan.blank.length(), room));
    stand(0);
  }
  plan.blank.horn = wish.horn;
  plan.blank.chuck_waste = machine.chuck_grip;
  plan.blank.centre_waste = machine.centre_grip;
  plan.blank.flats_finished = wish.form == BlankWish::Form::milled;

  plan.laminations = *pieces;
  plan.lamination_thickness = section / *pieces;
  for (int line = 1; line < *pieces; ++line) plan.glue_lines.push_back(-section / 2 + line * plan.lamination_thickness);
  if (wish.halves && section <= largest_square(board) + 1e-9) {
    Diagnostic note;
    note.severity = Severity::note, note.id = "stock.thick-for-halves";
    note.message = "each half of the blank is " + mm(plan.lamination_thickness) + " thick, and '" + board.label + "' gives " + mm(largest_square(board));
    note.remedy = "thinner boards do, and cost less";
    plan.notes.push_back(std::move(note));
  }
  plan.rough_thickness = board.thickness;
  plan.rough_width = section + board.milling;
  plan.rough_length = plan.blank.length();
  if (plan.rough_length > board.longest()) {
    return fail("stock.board-too-short", "the blank is " + mm(plan.rough_length) + " long and '" + board.label + "' only " + mm(board.longest()),
                "choose longer boards");
  }
  if (plan.rough_width > board.widest()) {
    return fail("stock.board-too-narrow", "the blank needs " + mm(plan.rough_width) + " of width and '" + board.label + "' has " + mm(board.widest()),
                "choose wider boards");
  }
  const double sold = nominal_thickness(board.nominal);
  plan.board_feet = *pieces * board_feet(sold > 0 ? sold : board.thickness, plan.rough_width, plan.rough_length, shop::Rates::BoardRule::exact);
  return plan;
}

}  // namespace pommel::stock
