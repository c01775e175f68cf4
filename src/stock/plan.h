// The cutting plan: which boards of one stock an order takes, and where each rough piece lies in them, at the least cost.
//
// How a board is sawn, in two stages (and a third, a last rip that brings a piece to its own width):
//   rip first        the board is ripped into strips from end to end, each strip is crosscut into pieces;
//   crosscut first   the board is crosscut into lengths, each length is ripped into pieces.
// Either way may be taken for each board. Both ends lose `end_trim` beforehand. Every saw cut takes `kerf`: n pieces fit in a
// length L when the sum of their lengths, each with a kerf, is no more than L + kerf. A defect is wood that no piece may hold.
//
// Small orders are planned over all patterns there are, so the plan is proven the cheapest; larger ones over patterns made as
// they are needed (column generation, P. C. Gilmore and R. E. Gomory, Operations Research 9 (1961) 849 and 11 (1963) 863), with
// the bound of its linear program, and the plan says how far apart the two are. No clock is read: effort is counted, so the
// same order gives the same plan.
//
// mm inside; sizes are counted in hundredths, pieces rounded up and boards down. Thread rule: plain values and pure functions.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "shop/shop.h"

namespace pommel::stock {

/// Rough pieces of one size to get out of boards; the length goes with the grain.
struct PlanPiece {
  std::string label;       ///< "leg", "front apron rail"
  double length = 0, width = 0;  ///< mm, rough
  int quantity = 0;
  shop::OneBoard one_board = shop::OneBoard::no;  ///< whether all of these come from one board, so that they match
};

/// Boards of one size and price: on hand, or for sale.
struct PlanBoards {
  std::string name;            ///< "2450 x 200 mm", or what the maker calls it
  double length = 0, width = 0;  ///< mm
  int count = 0;
  double board_feet = 0;       ///< what one counts as when it is bought, by the shop's rule
  Money price_per_board_foot;
  bool for_sale = false;       ///< not on hand yet
  std::vector<shop::Defect> defects;
};

/// How much work is put into a plan before it is left as it is.
struct PlanEffort {
  long patterns = 3'000'000;  ///< steps of looking through all patterns of one board; above, patterns are made as needed
  int columns = 3000;         ///< patterns made as needed
  int nodes = 2000;           ///< of each branch and bound
};

struct PlanOrder {
  std::vector<PlanPiece> pieces;
  std::vector<PlanBoards> boards;
  double kerf = 0, end_trim = 0;  ///< mm
  PlanEffort effort = {};
  LengthFormat shown = {};        ///< how sizes stand in messages
};

/// A piece in its board, mm from the board's left end and lower edge as it is drawn.
struct PlacedPiece {
  std::size_t piece = 0;  ///< index into CuttingPlan::pieces
  double x = 0, y = 0, length = 0, width = 0;

  bool operator==(const PlacedPiece&) const = default;
};

/// One board and what is cut from it.
struct PlannedBoard {
  std::size_t boards = 0;  ///< index into CuttingPlan::boards
  int number = 0;          ///< 1 ... in the plan's order
  bool rip_first = true;
  /// Ends across the stage that is sawn first, mm: strips from the lower edge (rip first) or lengths from the left end.
  struct Strip {
    double from = 0, to = 0;
    bool operator==(const Strip&) const = default;
  };
  std::vector<Strip> strips;
  std::vector<PlacedPiece> pieces;  ///< strip by strip

  bool operator==(const PlannedBoard&) const = default;
};

/// The plan for one stock. Its money is that of whole boards: board feet times price, each row of equal boards rounded once.
struct CuttingPlan {
  std::string stock_id, stock_label;
  double thickness = 0;  ///< mm, rough
  std::vector<PlanPiece> pieces;  ///< pieces of one size are one, with all their names
  std::vector<PlanBoards> boards;
  double kerf = 0, end_trim = 0;
  std::vector<PlannedBoard> layouts;
  Money cost;   ///< of all boards taken
  Money bound;  ///< no plan of this sawing scheme costs less
  bool proven = false;           ///< cost == bound: there is no cheaper plan
  std::vector<std::string> says; ///< how good it is, what one board for a set would cost, in words

  /// How many of boards[i] are taken.
  int taken(std::size_t i) const;
  /// Share of the boards' face that goes into pieces, 0 to 1; 0 for no boards.
  double used() const;
};

/// Errors: "stock.too-few-boards" (with how many more it takes), "stock.piece-too-large" (a piece that lies in no board),
/// "stock.one-board" (a set that must come from one board and does not fit in any, or an order too large to hold that rule),
/// "stock.no-plan" (a large order, and boards so scarce that none was found), "stock.plan" (sizes or counts that make no sense).
Result<CuttingPlan> plan_boards(const PlanOrder& order);

/// Holds a plan against its order, sharing no code with what made it: every piece in its board, clear of trims and defects,
/// counts, a kerf between any two pieces, cuts that go from edge to edge, sets on one board where that is a rule, the cost
/// recounted. All that is wrong, in words; nothing when it can be sawn.
std::vector<std::string> faults_of(const CuttingPlan& plan);

/// "12/4 rough cherry: 2 boards, 71 % of them in pieces, 118.40; no other plan costs less".
std::string said_of(const CuttingPlan& plan);

/// What a piece is called in a drawn plan: A, B ... Z, AA, AB ... by its place in CuttingPlan::pieces.
std::string plan_letter(std::size_t piece);
/// "rip first, then crosscut".
std::string sawn_words(const PlannedBoard& layout);
/// Numbers of the boards that are sawn as layouts[i] is, where that is the first of them; else nothing.
std::vector<int> alike_from(const CuttingPlan& plan, std::size_t i);

/// A row a piece: stock, board, its size, how it is sawn, the piece, where it lies from the left end and the lower edge, its rough
/// size (RFC 4180, as the cut list's).
std::string plan_csv(const std::vector<CuttingPlan>& plans, const LengthFormat& lengths);

/// The boards one below another, all to one scale, with pieces, defects and sizes: an SVG 1.1 document.
std::string plan_svg(const std::vector<CuttingPlan>& plans, const LengthFormat& lengths);

}  // namespace pommel::stock
