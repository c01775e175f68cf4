#include "stock/plan.h"

#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "base/text.h"
#include "stock/plan_search.h"
#include "stock/sawing.h"

namespace pommel::stock {
namespace {

using shop::OneBoard;

std::string mm(double value) { return format_number(value, 1) + " mm"; }
std::string size_text(const PlanOrder& order, double length, double width) {
  return format_length(length, order.shown, order.shown.unit != LengthUnit::millimetre) + " x " + format_length(width, order.shown);
}

bool sound(double value) { return std::isfinite(value) && value >= 0 && value < 1e6; }

Failure senseless(const PlanOrder& order) {
  Failure failure;
  const auto object = [&](const std::string& what) {
    failure.reasons.push_back(fail("stock.plan", what, "sizes are above zero and below a kilometre, counts not below zero").reasons.front());
  };
  if (!sound(order.kerf) || !sound(order.end_trim)) object("kerf " + mm(order.kerf) + " and end trim " + mm(order.end_trim) + " make no sense");
  for (const PlanPiece& piece : order.pieces)
    if (!sound(piece.length) || !sound(piece.width) || piece.length <= 0 || piece.width <= 0 || piece.quantity < 0 || piece.quantity > 100000)
      object("'" + piece.label + "', " + std::to_string(piece.quantity) + " of " + size_text(order, piece.length, piece.width) + ", makes no sense");
  for (const PlanBoards& boards : order.boards) {
    if (!sound(boards.length) || !sound(boards.width) || boards.count < 0 || boards.price_per_board_foot.cents < 0 || !sound(boards.board_feet))
      object("the boards '" + boards.name + "' make no sense");
    if (boards.defects.size() > kMostDefects)
      failure.reasons.push_back(fail("stock.plan", "'" + boards.name + "' has " + std::to_string(boards.defects.size()) + " defects, " + std::to_string(kMostDefects) + " can be kept clear of",
                                     "crosscut it, and measure what is left as shorter boards").reasons.front());
  }
  return failure;
}

// Whether a piece lies in a board at all: alone, in either way of sawing.
bool lies_in(const PlanOrder& order, std::size_t piece, std::size_t boards) {
  for (const bool rip_first : {true, false}) {
    const Field field = field_of(order, boards, rip_first);
    const auto [run, stack] = field.pieces[piece];
    for (const Units at : field.starts(field.stack0))
      if (field.strip_fits(at, stack) && field.place(field.run0, run, field.met(at, stack))) return true;
  }
  return false;
}

Failure too_large(const PlanOrder& order) {
  Failure failure;
  for (std::size_t i = 0; i < order.pieces.size(); ++i) {
    bool fits = false;
    for (std::size_t b = 0; b < order.boards.size() && !fits; ++b) fits = lies_in(order, i, b);
    if (fits) continue;
    failure.reasons.push_back(fail("stock.piece-too-large", "'" + order.pieces[i].label + "', " + size_text(order, order.pieces[i].length, order.pieces[i].width) +
                                       " rough, lies in none of the boards", "choose longer, wider or clearer boards").reasons.front());
  }
  return failure;
}

Found search(const PlanOrder& order) { return can_look_through(order) ? search_all_patterns(order) : search_made_patterns(order); }

// What is missing, found with as many more of the largest boards as it takes, each dearer than all others together.
Failure too_few(const PlanOrder& order) {
  PlanOrder more = order;
  const auto largest = std::max_element(order.boards.begin(), order.boards.end(), [](const PlanBoards& a, const PlanBoards& b) { return a.length * a.width < b.length * b.width; });
  PlanBoards extra = *largest;
  extra.defects.clear();
  double dearest = 1;
  int boards = 0;
  for (const PlanBoards& one : order.boards) {
    dearest = std::max(dearest, static_cast<double>(cost_of(one)) / 1000);
    boards += one.count;
  }
  extra.count = 0;
  for (const PlanPiece& piece : order.pieces) extra.count += piece.quantity;
  extra.board_feet = 1;
  extra.price_per_board_foot = {static_cast<std::int64_t>(std::ceil(dearest)) * (boards + 1)};
  more.boards.push_back(extra);
  const Found found = search(more);
  if (!found.enough)
    return fail("stock.no-plan", "no plan was found for so many pieces from so few boards", "add boards, or cut the order in two");
  int needed = 0;
  for (const PlannedBoard& layout : found.layouts) needed += layout.boards == order.boards.size() ? 1 : 0;
  if (order.boards.size() == 1) {
    const int all = boards + needed;
    return fail("stock.too-few-boards", std::to_string(all) + (all == 1 ? " board is needed, " : " boards are needed, ") + std::to_string(boards) + (boards == 1 ? " is" : " are") + " on hand",
                "buy more, or choose other stock");
  }
  const std::string size = " of " + size_text(order, extra.length, extra.width);
  const std::string there = boards == 1 ? "1 board is" : std::to_string(boards) + " boards are";
  return fail("stock.too-few-boards", there + " there, " + (needed == 1 ? "1 more is needed" : std::to_string(needed) + " more are needed") + size, "buy more, or choose other stock");
}

Failure no_one_board(const PlanOrder& order) {
  std::vector<std::string> sets;
  for (const PlanPiece& piece : order.pieces)
    if (piece.one_board == OneBoard::rule) sets.push_back("'" + piece.label + "' (" + std::to_string(piece.quantity) + ")");
  return fail("stock.one-board", "the boards there are do not give " + listed(sets) + " from one board each",
              "say one_board: wish or no, or choose larger boards");
}

bool asks(const PlanOrder& order, OneBoard what) {
  return std::any_of(order.pieces.begin(), order.pieces.end(), [&](const PlanPiece& piece) { return piece.quantity > 1 && piece.one_board == what; });
}

PlanOrder with_wishes_as(const PlanOrder& order, OneBoard what) {
  PlanOrder out = order;
  for (PlanPiece& piece : out.pieces)
    if (piece.one_board == OneBoard::wish) piece.one_board = what;
  return out;
}

PlanOrder without_sets(const PlanOrder& order) {
  PlanOrder out = order;
  for (PlanPiece& piece : out.pieces) piece.one_board = OneBoard::no;
  return out;
}

// Equal boards are one line on the quote: rounded once.
Money rounded_cost(const std::vector<PlanBoards>& boards, const std::vector<PlannedBoard>& layouts) {
  Money sum;
  for (std::size_t b = 0; b < boards.size(); ++b) {
    const auto taken = std::count_if(layouts.begin(), layouts.end(), [&](const PlannedBoard& layout) { return layout.boards == b; });
    sum += round_to_cents(static_cast<double>(taken) * boards[b].board_feet * static_cast<double>(boards[b].price_per_board_foot.cents) / 100);
  }
  return sum;
}

void set_bound(const Found& found, CuttingPlan& plan) {
  plan.cost = rounded_cost(plan.boards, plan.layouts);
  plan.proven = found.proven;
  plan.bound = found.proven ? plan.cost : std::min(plan.cost, round_to_cents(found.bound / 1e5));
  if (found.proven) {
    plan.says.push_back("no other plan costs less");
  } else if (plan.cost.cents > 0) {
    const double gap = 100 * static_cast<double>(plan.cost.cents - plan.bound.cents) / static_cast<double>(plan.cost.cents);
    plan.says.push_back("another plan might cost less, by " + format_number(gap, 1) + " % at most: the search was stopped");
  }
}

// The plan with the wishes held when that costs nothing; what it would cost is said.
Found weigh_wishes(const PlanOrder& order, Found plain, std::vector<std::string>& says) {
  if (!can_look_through(order)) {
    says.push_back("so many pieces: whether a set could come from one board was not looked at");
    return plain;
  }
  Found held = search_all_patterns(with_wishes_as(order, OneBoard::rule));
  std::vector<std::string> sets;
  for (const PlanPiece& piece : order.pieces)
    if (piece.one_board == OneBoard::wish && piece.quantity > 1) sets.push_back(piece.label);
  const std::string which = listed(sets);
  if (!held.enough) {
    says.push_back("no board gives all of one set (" + which + ")");
    return plain;
  }
  if (held.cost <= plain.cost) {
    says.push_back("each set from one board: " + which);
    return held;
  }
  says.push_back("each set from one board (" + which + ") would cost " + format_money(round_to_cents(static_cast<double>(held.cost - plain.cost) / 1e5)) + " more: say one_board: rule to have it");
  return plain;
}

}  // namespace

int CuttingPlan::taken(std::size_t i) const {
  return static_cast<int>(std::count_if(layouts.begin(), layouts.end(), [&](const PlannedBoard& layout) { return layout.boards == i; }));
}

double CuttingPlan::used() const {
  double face = 0, cut = 0;
  for (const PlannedBoard& layout : layouts) {
    face += boards[layout.boards].length * boards[layout.boards].width;
    for (const PlacedPiece& piece : layout.pieces) cut += piece.length * piece.width;
  }
  return face > 0 ? cut / face : 0;
}

std::string said_of(const CuttingPlan& plan) {
  const auto boards = plan.layouts.size();
  return plan.stock_label + ": " + std::to_string(boards) + (boards == 1 ? " board, " : " boards, ") + format_number(100 * plan.used(), 0) + " % of " +
         (boards == 1 ? "it" : "them") + " in pieces, " + format_money(plan.cost) + "; " + joined(plan.says, "; ");
}

Result<CuttingPlan> plan_boards(const PlanOrder& order) {
  if (Failure failure = senseless(order); !failure.reasons.empty()) return failure;
  CuttingPlan plan;
  plan.pieces = order.pieces;
  plan.boards = order.boards;
  plan.kerf = order.kerf;
  plan.end_trim = order.end_trim;
  PlanOrder wanted = with_wishes_as(order, OneBoard::no);
  std::erase_if(wanted.pieces, [](const PlanPiece& piece) { return piece.quantity == 0; });
  if (wanted.pieces.empty()) {
    plan.proven = true;
    return plan;
  }
  if (wanted.pieces.size() != order.pieces.size()) return fail("stock.plan", "a piece is wanted 0 times", "leave it out");
  if (order.boards.empty()) return fail("stock.too-few-boards", "there are no boards", "describe some, or choose other stock");
  if (Failure failure = too_large(order); !failure.reasons.empty()) return failure;
  const bool rule = asks(order, OneBoard::rule);
  if (rule && !can_look_through(wanted))
    return fail("stock.one-board", "so many pieces: that a set comes from one board cannot be held as a rule", "say one_board: wish or no");
  Found found = search(wanted);
  if (!found.enough) {
    if (rule && search(without_sets(wanted)).enough) return no_one_board(order);
    return too_few(without_sets(wanted));
  }
  std::vector<std::string> says;
  if (asks(order, OneBoard::wish)) found = weigh_wishes(order, std::move(found), says);
  std::stable_sort(found.layouts.begin(), found.layouts.end(), [](const PlannedBoard& a, const PlannedBoard& b) { return a.boards < b.boards; });
  plan.layouts = std::move(found.layouts);
  for (std::size_t i = 0; i < plan.layouts.size(); ++i) plan.layouts[i].number = static_cast<int>(i) + 1;
  set_bound(found, plan);
  plan.says.insert(plan.says.end(), says.begin(), says.end());
  return plan;
}

}  // namespace pommel::stock
