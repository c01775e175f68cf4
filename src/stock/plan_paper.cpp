// The cutting plan for the saw: a table, and the boards drawn to one scale.
#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "base/text.h"
#include "stock/cells.h"
#include "stock/plan.h"

namespace pommel::stock {
namespace {

constexpr double kPage = 1000, kMargin = 20, kRow = 18;  // px

std::string px(double value) { return format_number(value, 2); }

std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : text) out += c == '<' ? "&lt;" : c == '>' ? "&gt;" : c == '&' ? "&amp;" : c == '"' ? "&quot;" : std::string(1, c);
  return out;
}

std::string size_text(double length, double width, const LengthFormat& lengths) { return format_length(length, lengths) + " x " + format_length(width, lengths); }

bool same_cuts(const PlannedBoard& a, const PlannedBoard& b) { return a.boards == b.boards && a.rip_first == b.rip_first && a.strips == b.strips && a.pieces == b.pieces; }

class Drawing {
 public:
  Drawing(double scale, const LengthFormat& lengths) : scale_(scale), lengths_(lengths) {}

  void text(double x, const std::string& words, int size = 12, const char* anchor = "start", double raise = 5) {
    body_ += "<text x=\"" + px(x) + "\" y=\"" + px(y_ + kRow - raise) + "\" font-size=\"" + std::to_string(size) + "\" text-anchor=\"" + anchor + "\">" + escaped(words) + "</text>\n";
  }
  void line_of_text(const std::string& words, int size = 12) {
    text(kMargin, words, size);
    y_ += kRow;
  }
  void gap(double more) { y_ += more; }

  void board(const CuttingPlan& plan, const PlannedBoard& layout) {
    const PlanBoards& board = plan.boards[layout.boards];
    const double height = board.width * scale_;
    rect(0, 0, board.length, board.width, board, "#f2e6cf", "#000", 1.2);
    for (const double x : {0.0, board.length - plan.end_trim})
      if (plan.end_trim > 0) rect(x, 0, plan.end_trim, board.width, board, "#d8d8d8", "none", 0);
    for (const PlacedPiece& piece : layout.pieces) {
      rect(piece.x, piece.y, piece.length, piece.width, board, "#ffffff", "#000", 0.8);
      label(piece, board);
    }
    for (const shop::Defect& defect : board.defects)
      rect(defect.from, defect.across_from, defect.to - defect.from, (defect.across_to > 0 ? defect.across_to : board.width) - defect.across_from, board, "#555555", "none", 0);
    y_ += height + 12;
  }

  std::string document() const {
    return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"" + px(kPage) + "\" height=\"" + px(y_ + kMargin) +
           "\" font-family=\"sans-serif\">\n<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n" + body_ + "</svg>\n";
  }

 private:
  void rect(double x, double y, double length, double width, const PlanBoards& board, const char* fill, const char* line, double thick) {
    body_ += "<rect x=\"" + px(kMargin + x * scale_) + "\" y=\"" + px(y_ + (board.width - y - width) * scale_) + "\" width=\"" + px(length * scale_) + "\" height=\"" +
             px(width * scale_) + "\" fill=\"" + fill + "\" stroke=\"" + line + "\" stroke-width=\"" + px(thick) + "\"/>\n";
  }

  // the letter alone where there is no room for the size
  void label(const PlacedPiece& piece, const PlanBoards& board) {
    const double room = piece.length * scale_, height = piece.width * scale_;
    const std::string name = plan_letter(piece.piece), sized = name + "  " + size_text(piece.length, piece.width, lengths_);
    const bool whole = room > 6.2 * static_cast<double>(sized.size()) && height > 11;
    const double size = std::min(11.0, height - 1);
    if (size < 4) return;
    body_ += "<text x=\"" + px(kMargin + (piece.x + piece.length / 2) * scale_) + "\" y=\"" + px(y_ + (board.width - piece.y - piece.width / 2) * scale_ + size * 0.35) +
             "\" font-size=\"" + px(size) + "\" text-anchor=\"middle\">" + escaped(whole ? sized : name) + "</text>\n";
  }

  double scale_, y_ = kMargin;
  LengthFormat lengths_;
  std::string body_;
};

void draw(const CuttingPlan& plan, const LengthFormat& lengths, Drawing& drawing) {
  drawing.line_of_text(said_of(plan), 14);
  drawing.line_of_text("kerf " + format_length(plan.kerf, lengths) + (plan.end_trim > 0 ? ", " + format_length(plan.end_trim, lengths) + " trimmed from both ends" : "") +
                       "; a piece narrower than its strip is ripped to width last");
  for (std::size_t i = 0; i < plan.pieces.size(); ++i)
    drawing.line_of_text(plan_letter(i) + "  " + plan.pieces[i].label + ": " + std::to_string(plan.pieces[i].quantity) + " of " + size_text(plan.pieces[i].length, plan.pieces[i].width, lengths));
  drawing.gap(6);
  for (std::size_t i = 0; i < plan.layouts.size(); ++i) {
    const PlannedBoard& layout = plan.layouts[i];
    const std::size_t times = alike_from(plan, i).size();
    if (times == 0) continue;  // drawn already
    const PlanBoards& board = plan.boards[layout.boards];
    drawing.line_of_text((times > 1 ? std::to_string(times) + " boards alike, from board " : "board ") + std::to_string(layout.number) + ": " + (board.name.empty() ? "" : "'" + board.name + "', ") + size_text(board.length, board.width, lengths) +
                         (board.for_sale ? ", to buy" : "") + "; " + sawn_words(layout));
    drawing.board(plan, layout);
  }
  drawing.gap(14);
}

}  // namespace

std::string plan_letter(std::size_t piece) { return (piece >= 26 ? plan_letter(piece / 26 - 1) : "") + static_cast<char>('A' + piece % 26); }

std::string sawn_words(const PlannedBoard& layout) { return layout.rip_first ? "rip first, then crosscut" : "crosscut first, then rip"; }

std::vector<int> alike_from(const CuttingPlan& plan, std::size_t i) {
  std::vector<int> out;
  for (std::size_t k = 0; k < plan.layouts.size(); ++k) {
    if (!same_cuts(plan.layouts[k], plan.layouts[i])) continue;
    if (k < i) return {};
    out.push_back(plan.layouts[k].number);
  }
  return out;
}

std::string plan_csv(const std::vector<CuttingPlan>& plans, const LengthFormat& lengths) {
  const std::string unit = lengths.unit == LengthUnit::millimetre ? "mm" : "in";
  const auto size = [&](double mm) { return cell(format_length(mm, lengths, false)); };
  std::string out = "stock,board,board name,to buy,board length " + unit + ",board width " + unit + ",sawn,piece,from left end " + unit + ",from lower edge " + unit + ",rough length " + unit +
                    ",rough width " + unit + "\r\n";
  for (const CuttingPlan& plan : plans)
    for (const PlannedBoard& layout : plan.layouts)
      for (const PlacedPiece& piece : layout.pieces) {
        const PlanBoards& board = plan.boards[layout.boards];
        out += cell(plan.stock_label) + "," + std::to_string(layout.number) + "," + cell(board.name) + "," + (board.for_sale ? "yes" : "no") + "," + size(board.length) + "," + size(board.width) + "," +
               cell(sawn_words(layout)) + "," + cell(plan.pieces[piece.piece].label) + "," + size(piece.x) + "," + size(piece.y) + "," + size(piece.length) + "," + size(piece.width) + "\r\n";
      }
  return out;
}

std::string plan_svg(const std::vector<CuttingPlan>& plans, const LengthFormat& lengths) {
  double longest = 1;
  for (const CuttingPlan& plan : plans)
    for (const PlannedBoard& layout : plan.layouts) longest = std::max(longest, plan.boards[layout.boards].length);
  Drawing drawing((kPage - 2 * kMargin) / longest, lengths);
  for (const CuttingPlan& plan : plans) draw(plan, lengths, drawing);
  return drawing.document();
}

}  // namespace pommel::stock
