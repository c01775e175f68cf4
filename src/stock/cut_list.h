// The cut list: every piece of an order with its rough and finished sizes, turned pieces and rails alike, and the boards it takes.
#pragma once

#include <string>
#include <vector>

#include "frame/member.h"
#include "stock/blank.h"
#include "stock/plan.h"

namespace pommel::stock {

struct CutRow {
  std::string piece;                 ///< "leg, turned; 1 spare"
  int quantity = 0;
  std::string stock_id, stock_label;
  double rough_thickness = 0, rough_width = 0, rough_length = 0;      ///< mm, one board piece
  int laminations = 1;
  double finished_thickness = 0, finished_width = 0, finished_length = 0;  ///< mm
  double board_feet = 0;             ///< exact, all of the quantity
  shop::OneBoard one_board = shop::OneBoard::no;
  std::string note;
};

/// What is charged of one stock: the wood in its pieces with a share for waste, or the whole boards of the plan, a row for each size
/// (always by surface measure, which is of boards).
struct BoardRow {
  std::string stock_id, stock_label;
  double net_board_feet = 0;     ///< exact, of the rough pieces; 0 for whole boards
  double bought_board_feet = 0;
  int boards = 0;                ///< that the plan takes
  Money price;                   ///< a board foot
  std::string basis;             ///< how bought_board_feet came about, in words
  Money amount;                  ///< bought_board_feet x price, rounded once
};

/// The blanks of one turned piece.
struct TurnedBlanks {
  std::string piece = "leg";
  int quantity = 0, spares = 0;  ///< spares are among the quantity
  BlankWish wish;
  BlankPlan plan;
  shop::Stock board;
};

struct CutList {
  std::vector<CutRow> rows;
  std::vector<BoardRow> boards;
  std::vector<CuttingPlan> plans;  ///< one for each stock
  std::vector<Diagnostic> notes;
};

/// Rough length of a rail adds this for trimming both ends, mm (common practice, no source).
inline constexpr double kRailTrim = 25;

/// `shown`: how lengths stand in notes and messages. `planned` false leaves boards and plans out, which is what takes time. Errors: those of plan_boards, "stock.board-too-short", "stock.board-too-narrow", "stock.rail-too-thick".
Result<CutList> cut_list(const frame::Set& set, const std::vector<TurnedBlanks>& turned, const shop::Stock& rail_board, const shop::Rates& rates,
                         const LengthFormat& shown = {}, bool planned = true);

/// Rows as CSV (RFC 4180, comma, CRLF, UTF-8), lengths in the format given, text cells that a spreadsheet would take for a
/// formula (=, +, -, @, tab) made harmless by a leading apostrophe.
std::string to_csv(const CutList& list, const LengthFormat& lengths);

}  // namespace pommel::stock
