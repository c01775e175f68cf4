#include "stock/cut_list.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/number.h"
#include "base/text.h"
#include "stock/measure.h"

namespace pommel::stock {
namespace {

struct Strip { double width, length; };  // one rough piece to get out of a board

std::string bf(double value) { return format_number(value, 2); }

// Rip-first plan: a board is ripped into strips of the widest width it still needs, each strip is crosscut; pieces longest
// first into the first strip that takes them. An honest count, not the best one; the proven plan is another room's work.
class Boards {
 public:
  Boards(const shop::Stock& board, double kerf) : board_(board), kerf_(kerf) {}

  void place(const Strip& piece) {
    for (Cut& cut : cuts_) {
      if (cut.width >= piece.width - 1e-9 && cut.left >= piece.length - 1e-9) {
        cut.left -= piece.length + kerf_;
        return;
      }
    }
    for (double& left : width_left_) {
      if (left >= piece.width - 1e-9) {
        left -= piece.width + kerf_;
        cuts_.push_back({piece.width, board_.length - piece.length - kerf_});
        return;
      }
    }
    width_left_.push_back(board_.width - piece.width - kerf_);
    cuts_.push_back({piece.width, board_.length - piece.length - kerf_});
  }

  int count() const { return static_cast<int>(width_left_.size()); }

 private:
  struct Cut { double width, left; };
  const shop::Stock& board_;
  double kerf_;
  std::vector<double> width_left_;
  std::vector<Cut> cuts_;
};

int boards_for(std::vector<Strip> pieces, const shop::Stock& board, double kerf) {
  std::sort(pieces.begin(), pieces.end(), [](const Strip& a, const Strip& b) {
    return a.length != b.length ? a.length > b.length : a.width > b.width;
  });
  Boards plan(board, kerf);
  for (const Strip& piece : pieces) plan.place(piece);
  return plan.count();
}

std::string glue_note(const BlankPlan& plan, const LengthFormat& shown) {
  if (plan.laminations == 1) return {};
  std::vector<std::string> places;
  for (double line : plan.glue_lines) places.push_back(format_length(line, shown));
  return "glue up " + std::to_string(plan.laminations) + " pieces of " + format_length(plan.lamination_thickness, shown) +
         ", glue lines " + listed(places) + " from the centre";
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
  row.note = "shoulder to shoulder " + format_length(rail.shoulder_length, shown);
  row.note += rail.tenon_length > 0 ? ", tenons " + format_length(rail.tenon_length, shown) + " long, " + format_length(rail.tenon_thickness, shown) + " thick" +
                                          (rail.mitred ? ", ends mitred" : "")
                                    : ", ends square, no tenons";
  return row;
}

Result<Done> fits(const CutRow& row, const shop::Stock& board, const LengthFormat& shown) {
  const auto size = [&](double mm) { return format_length(mm, shown); };
  if (row.finished_thickness > largest_square(board) + 1e-9) {
    return fail("stock.rail-too-thick", "'" + row.piece + "' is " + size(row.finished_thickness) + " thick and '" +
                    board.label + "' gives " + size(largest_square(board)) + "", "choose thicker stock");
  }
  if (row.rough_length > board.length) {
    return fail("stock.board-too-short", "'" + row.piece + "' needs " + size(row.rough_length) + " and '" +
                    board.label + "' is " + size(board.length) + " long", "choose longer boards");
  }
  if (row.rough_width > board.width) {
    return fail("stock.board-too-narrow", "'" + row.piece + "' needs " + size(row.rough_width) + " of width and '" +
                    board.label + "' has " + size(board.width) + "", "choose wider boards");
  }
  return Done{};
}

Result<BoardRow> boards_of(const shop::Stock& board, const std::vector<CutRow>& rows, const shop::Rates& rates) {
  BoardRow out;
  out.stock_id = board.id;
  out.stock_label = board.label;
  std::vector<Strip> pieces;
  for (const CutRow& row : rows) {
    if (row.stock_id != board.id) continue;
    out.net_board_feet += row.board_feet;
    for (int n = 0; n < row.quantity * row.laminations; ++n) pieces.push_back({row.rough_width, row.rough_length});
  }
  out.boards = boards_for(pieces, board, rates.kerf);
  if (out.boards > board.count) {
    return fail("stock.too-few-boards", "'" + board.label + "': " + std::to_string(out.boards) + (out.boards == 1 ? " board is needed, " : " boards are needed, ") +
                    std::to_string(board.count) + (board.count == 1 ? " is on hand" : " are on hand"), "buy more, or choose other stock");
  }
  const double sold = nominal_thickness(board.nominal);
  const double thickness = sold > 0 ? sold : board.thickness;
  const double with_waste = out.net_board_feet * (1 + rates.waste);
  const std::string waste_words = format_number(100 * rates.waste, 1) + " % waste";
  switch (rates.board_rule) {
    case shop::Rates::BoardRule::exact:
      out.bought_board_feet = with_waste;
      out.basis = bf(out.net_board_feet) + " BF net and " + waste_words;
      break;
    case shop::Rates::BoardRule::round_up:
      out.bought_board_feet = std::ceil(with_waste - 1e-9);
      out.basis = bf(out.net_board_feet) + " BF net and " + waste_words + ", up to the next whole BF";
      break;
    case shop::Rates::BoardRule::surface_measure:  // the waste is in the whole boards already
      out.bought_board_feet = out.boards * board_feet(thickness, board.width, board.length, rates.board_rule);
      out.basis = std::to_string(out.boards) + (out.boards == 1 ? " whole board" : " whole boards") + " by surface measure";
      break;
  }
  out.amount = round_to_cents(out.bought_board_feet * static_cast<double>(board.price_per_board_foot.cents) / 100);
  return out;
}

std::string cell(const std::string& text) {
  std::string safe = text;
  if (!safe.empty() && std::string("=+-@\t\r").find(safe[0]) != std::string::npos) safe.insert(safe.begin(), '\'');
  if (safe.find_first_of(",\"\r\n") == std::string::npos) return safe;
  std::string quoted = "\"";
  for (char c : safe) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + "\"";
}

}  // namespace

Result<CutList> cut_list(const frame::Set& set, const std::vector<TurnedBlanks>& turned, const shop::Stock& rail_board, const shop::Rates& rates,
                         const LengthFormat& shown) {
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
  if (failure.reasons.empty()) {
    for (const shop::Stock* board : boards) {
      auto row = boards_of(*board, list.rows, rates);
      if (row.ok()) list.boards.push_back(std::move(row).value());
      else failure.reasons.insert(failure.reasons.end(), row.reasons().begin(), row.reasons().end());
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
