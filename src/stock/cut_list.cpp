#include "stock/cut_list.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/number.h"
#include "base/text.h"
#include "stock/cells.h"
#include "stock/measure.h"

namespace pommel::stock {
namespace {

std::string bf(double value) { return format_number(value, 2); }

std::string glue_note(const BlankPlan& plan, const LengthFormat& shown) {
  if (plan.laminations == 1) return {};
  std::vector<std::string> places;
  for (double line : plan.glue_lines) places.push_back(format_length(line, shown));
  return "glue up " + std::to_string(plan.laminations) + " pieces of " + format_length(plan.lamination_thickness, shown) +
         (plan.laminations == 2 ? ", glue line through the centres" : ", glue lines " + listed(places) + " from the centre");
}

CutRow turned_row(const TurnedBlanks& turned, const LengthFormat& shown) {
  const auto& [piece, quantity, spares, wish, plan, board] = turned;
  CutRow row;
  row.quantity = quantity;
  row.piece = piece + ", turned";
  std::vector<std::string> notes;
  if (spares > 0) notes.push_back(std::to_string(spares) + (spares == 1 ? " of them a spare" : " of them spares"));
  row.stock_id = board.id;
  row.stock_label = board.label;
  row.rough_thickness = plan.rough_thickness;
  row.rough_width = plan.rough_width;
  row.rough_length = plan.rough_length;
  row.laminations = plan.laminations;
  row.finished_thickness = row.finished_width = plan.blank.size;
  row.finished_length = wish.part_length;
  row.board_feet = plan.board_feet * row.quantity;
  row.one_board = wish.one_board;
  if (plan.laminations > 1) notes.push_back(glue_note(plan, shown));
  if (wish.horn > 0) notes.push_back(format_length(wish.horn, shown) + " horn stays on at the head until glued");
  if (wish.rings_corner_to_corner) notes.push_back("growth rings corner to corner where the board allows");
  row.note = joined(notes, "; ");
  return row;
}

CutRow rail_row(const frame::Rail& rail, const shop::Stock& board, const LengthFormat& shown) {
  CutRow row;
  row.piece = rail.label;
  row.quantity = rail.quantity;
  row.stock_id = board.id;
  row.stock_label = board.label;
  row.rough_thickness = board.thickness;
  row.rough_width = rail.depth + board.milling;
  row.rough_length = rail.overall_length + kRailTrim;
  row.finished_thickness = rail.thickness;
  row.finished_width = rail.depth;
  row.finished_length = rail.overall_length;
  const double sold = nominal_thickness(board.nominal);
  row.board_feet = rail.quantity * board_feet(sold > 0 ? sold : board.thickness, row.rough_width, row.rough_length,
                                              shop::Rates::BoardRule::exact);
  // a piece without tenons is as long as it is between its ends
  row.note = "ends square, no tenons";
  if (rail.tenon_length > 0)
    row.note = "shoulder to shoulder " + format_length(rail.shoulder_length, shown) + ", tenons " + format_length(rail.tenon_length, shown) + " long, " +
               format_length(rail.tenon_thickness, shown) + " thick" + (rail.mitred ? ", ends mitred" : "");
  return row;
}

Result<Done> fits(const CutRow& row, const shop::Stock& board, const LengthFormat& shown) {
  const auto size = [&](double mm) { return format_length(mm, shown); };
  if (row.finished_thickness > largest_square(board) + 1e-9) {
    return fail("stock.rail-too-thick", "'" + row.piece + "' is " + size(row.finished_thickness) + " thick and '" +
                    board.label + "' gives " + size(largest_square(board)) + "", "choose thicker stock");
  }
  if (row.rough_length > board.longest()) {
    return fail("stock.board-too-short", "'" + row.piece + "' needs " + size(row.rough_length) + " and '" +
                    board.label + "' is " + size(board.longest()) + " long", "choose longer boards");
  }
  if (row.rough_width > board.widest()) {
    return fail("stock.board-too-narrow", "'" + row.piece + "' needs " + size(row.rough_width) + " of width and '" +
                    board.label + "' has " + size(board.widest()) + "", "choose wider boards");
  }
  return Done{};
}

double sold_thickness(const shop::Stock& board) {
  const double sold = nominal_thickness(board.nominal);
  return sold > 0 ? sold : board.thickness;
}

// Rows of one size are one kind of piece to the saw, unless they are to come from a board of their own.
std::vector<PlanPiece> plan_pieces(const shop::Stock& board, const std::vector<CutRow>& rows) {
  std::vector<PlanPiece> pieces;
  for (const CutRow& row : rows) {
    if (row.stock_id != board.id || row.quantity == 0) continue;
    const auto same = std::find_if(pieces.begin(), pieces.end(), [&](const PlanPiece& other) {
      return other.length == row.rough_length && other.width == row.rough_width && other.one_board == shop::OneBoard::no && row.one_board == shop::OneBoard::no;
    });
    if (same == pieces.end()) {
      pieces.push_back({row.piece, row.rough_length, row.rough_width, row.quantity * row.laminations, row.one_board});
    } else {
      same->label += " / " + row.piece;
      same->quantity += row.quantity * row.laminations;
    }
  }
  return pieces;
}

std::string board_size(const PlanBoards& board, const LengthFormat& shown) {
  return format_length(board.length, shown, shown.unit != LengthUnit::millimetre) + " x " + format_length(board.width, shown);
}

Result<CuttingPlan> plan_of(const shop::Stock& board, const std::vector<CutRow>& rows, const shop::Rates& rates, const LengthFormat& shown) {
  PlanOrder order;
  order.pieces = plan_pieces(board, rows);
  order.kerf = rates.kerf;
  order.end_trim = board.end_trim;
  order.shown = shown;
  for (const shop::Lot& lot : board.all_lots())
    order.boards.push_back({lot.name, lot.length, lot.width, lot.count, board_feet(sold_thickness(board), lot.width, lot.length, rates.board_rule),
                            lot.price_per_board_foot, lot.for_sale, lot.defects});
  auto plan = plan_boards(order);
  if (!plan.ok()) {
    Failure failure = plan.failure();
    for (Diagnostic& reason : failure.reasons) reason.message = "'" + board.label + "': " + reason.message;
    return failure;
  }
  plan->stock_id = board.id;
  plan->stock_label = board.label;
  plan->thickness = board.thickness;
  return plan;
}

// The wood in the pieces and a share for waste; by surface measure whole boards count, and the waste is in them.
BoardRow net_row(const CuttingPlan& plan, const shop::Stock& board, const std::vector<CutRow>& rows, const shop::Rates& rates) {
  BoardRow out;
  out.stock_id = board.id;
  out.stock_label = board.label;
  out.price = board.price_per_board_foot;
  out.boards = static_cast<int>(plan.layouts.size());
  for (const CutRow& row : rows)
    if (row.stock_id == board.id) out.net_board_feet += row.board_feet;
  const double with_waste = out.net_board_feet * (1 + rates.waste);
  const std::string net_words = bf(out.net_board_feet) + " BF net and " + format_number(100 * rates.waste, 1) + " % waste";
  const bool up = rates.board_rule == shop::Rates::BoardRule::round_up;
  out.bought_board_feet = up ? std::ceil(with_waste - 1e-9) : with_waste;
  out.basis = net_words + (up ? ", up to the next whole BF" : "");
  return out;
}

// A row for each size of boards that the plan takes.
std::vector<BoardRow> whole_rows(const CuttingPlan& plan, const shop::Rates& rates, const LengthFormat& shown) {
  std::vector<BoardRow> out;
  for (std::size_t i = 0; i < plan.boards.size(); ++i) {
    if (plan.taken(i) == 0) continue;
    BoardRow row;
    row.stock_id = plan.stock_id;
    row.stock_label = plan.stock_label;
    row.price = plan.boards[i].price_per_board_foot;
    row.boards = plan.taken(i);
    row.bought_board_feet = row.boards * plan.boards[i].board_feet;
    row.basis = std::to_string(row.boards) + (row.boards == 1 ? " whole board of " : " whole boards of ") + board_size(plan.boards[i], shown) + ", " + rule_words(rates.board_rule);
    out.push_back(std::move(row));
  }
  return out;
}

bool charges_whole_boards(const shop::Rates& rates) {
  return rates.wood_charged == shop::Rates::WoodCharged::whole_boards || rates.board_rule == shop::Rates::BoardRule::surface_measure;
}

Result<Done> add_boards(const shop::Stock& board, const shop::Rates& rates, const LengthFormat& shown, CutList& list) {
  auto plan = plan_of(board, list.rows, rates, shown);
  if (!plan.ok()) return plan.failure();
  std::vector<BoardRow> rows;
  if (charges_whole_boards(rates)) rows = whole_rows(*plan, rates, shown);
  else rows.push_back(net_row(*plan, board, list.rows, rates));
  for (BoardRow& row : rows) {
    row.amount = round_to_cents(row.bought_board_feet * static_cast<double>(row.price.cents) / 100);
    list.boards.push_back(std::move(row));
  }
  list.plans.push_back(std::move(plan).value());
  return Done{};
}

}  // namespace

std::string cell(const std::string& text) {
  std::string safe = text;
  if (!safe.empty() && std::string("=+-@\t\r").find(safe[0]) != std::string::npos) safe.insert(safe.begin(), '\'');
  if (safe.find_first_of(",\"\r\n") == std::string::npos) return safe;
  std::string quoted = "\"";
  for (char c : safe) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + "\"";
}

Result<CutList> cut_list(const frame::Set& set, const std::vector<TurnedBlanks>& turned, const shop::Stock& rail_board, const shop::Rates& rates,
                         const LengthFormat& shown, bool planned) {
  CutList list;
  std::vector<const shop::Stock*> boards;
  const auto take = [&](const shop::Stock& board) {
    if (std::none_of(boards.begin(), boards.end(), [&](const shop::Stock* other) { return other->id == board.id; })) boards.push_back(&board);
  };
  for (const TurnedBlanks& piece : turned) {
    list.rows.push_back(turned_row(piece, shown));
    take(piece.board);
  }
  if (!set.rails.empty()) take(rail_board);
  Failure failure;
  for (const frame::Rail& rail : set.rails) {
    list.rows.push_back(rail_row(rail, rail_board, shown));
    if (const auto fit = fits(list.rows.back(), rail_board, shown); !fit.ok())
      failure.reasons.insert(failure.reasons.end(), fit.reasons().begin(), fit.reasons().end());
  }
  if (failure.reasons.empty() && planned) {
    for (const shop::Stock* board : boards) {
      const auto done = add_boards(*board, rates, shown, list);
      if (!done.ok()) failure.reasons.insert(failure.reasons.end(), done.reasons().begin(), done.reasons().end());
    }
  }
  if (!failure.reasons.empty()) return failure;
  return list;
}

std::string to_csv(const CutList& list, const LengthFormat& lengths) {
  const std::string unit = lengths.unit == LengthUnit::millimetre ? "mm" : "in";
  const auto size = [&](double mm) { return cell(format_length(mm, lengths, false)); };
  std::string out = "piece,quantity,stock,rough thickness " + unit + ",rough width " + unit + ",rough length " + unit +
                    ",pieces glued,finished thickness " + unit + ",finished width " + unit + ",finished length " + unit +
                    ",board feet,note\r\n";
  for (const CutRow& row : list.rows) {
    out += cell(row.piece) + "," + std::to_string(row.quantity) + "," + cell(row.stock_label) + "," + size(row.rough_thickness) +
           "," + size(row.rough_width) + "," + size(row.rough_length) + "," + std::to_string(row.laminations) + "," +
           size(row.finished_thickness) + "," + size(row.finished_width) + "," + size(row.finished_length) + "," +
           format_fixed(row.board_feet, 2) + "," + cell(row.note) + "\r\n";
  }
  return out;
}

}  // namespace pommel::stock
