#include "paper/plan_pages.h"

#include <algorithm>

#include "paper/flow.h"

namespace pommel::paper {
namespace {

using stock::CuttingPlan;
using stock::PlacedPiece;
using stock::PlannedBoard;

constexpr double kMargin = 18, kMostHigh = 42, kSize = 2.8;  // mm

// x to the right from the board's left end, y upwards from its lower edge.
class Board {
 public:
  Board(Page& page, double left, double foot, double scale) : page_(page), left_(left), foot_(foot), scale_(scale) {}

  void area(double x, double y, double length, double width, Pen pen, Fill fill) { add_box(page_, {px(x), py(y + width), px(x + length), py(y)}, pen, fill); }

  // its letter and size, its letter alone, or nothing, as there is room
  void label(const PlacedPiece& piece, const std::string& letter, const std::string& size) {
    const double size_of_text = std::min(kSize, piece.width * scale_ - 0.8), room = piece.length * scale_ - 1;
    if (size_of_text < 1.4) return;
    for (const std::string& words : {letter + "  " + size, letter}) {
      const Text text{px(piece.x + piece.length / 2), py(piece.y + piece.width / 2) + size_of_text * 0.36, words, size_of_text, Align::centre};
      if (text_width(text) > room) continue;
      page_.texts.push_back(text);
      return;
    }
  }

 private:
  double px(double x) const { return left_ + x * scale_; }
  double py(double y) const { return foot_ - y * scale_; }

  Page& page_;
  double left_, foot_, scale_;
};

class Sheets {
 public:
  explicit Sheets(const Heading& heading) : heading_(heading), flow_(blank_of(heading), area_of(blank_of(heading))) {}

  std::vector<Page> take(const std::vector<CuttingPlan>& plans) {
    flow_.title("Cutting plan");
    flow_.paragraph(heading_.title + (heading_.order_line().empty() ? "" : ", " + heading_.order_line()) + "; sizes in " + heading_.unit() + ", rough: length x width", 3.4);
    for (const CuttingPlan& plan : plans)
      for (const PlannedBoard& layout : plan.layouts) longest_ = std::max(longest_, plan.boards[layout.boards].length);
    for (const CuttingPlan& plan : plans) show(plan);
    std::vector<Page> pages = flow_.take();
    number_pages(pages, "Cutting plan, " + heading_.title + (heading_.date.empty() ? "" : ", " + heading_.date));
    return pages;
  }

 private:
  static Page blank_of(const Heading& heading) { return sheet(heading.paper, true); }
  static Box area_of(const Page& blank) { return {kMargin, kMargin, blank.width - kMargin, blank.height - kMargin}; }

  std::string size(double length, double width) const { return heading_.figure(length) + " x " + heading_.figure(width); }

  void show(const CuttingPlan& plan) {
    flow_.heading(plan.stock_label);
    flow_.paragraph(stock::said_of(plan), 3.0);
    flow_.paragraph("kerf " + heading_.length(plan.kerf) + (plan.end_trim > 0 ? ", " + heading_.length(plan.end_trim) + " trimmed from both ends" : "") + "; a piece narrower than its strip is ripped to width last", 2.9);
    std::vector<TableRow> rows;
    for (std::size_t i = 0; i < plan.pieces.size(); ++i)
      rows.push_back({{stock::plan_letter(i), plan.pieces[i].label, std::to_string(plan.pieces[i].quantity), size(plan.pieces[i].length, plan.pieces[i].width)}});
    flow_.table({{"", 10}, {"piece", 110}, {"count", 16, Align::right}, {"rough", 60, Align::right}}, rows, kSize);
    for (std::size_t i = 0; i < plan.layouts.size(); ++i)
      if (const std::vector<int> alike = stock::alike_from(plan, i); !alike.empty()) board(plan, plan.layouts[i], alike);
  }

  void board(const CuttingPlan& plan, const PlannedBoard& layout, const std::vector<int>& alike) {
    const stock::PlanBoards& board = plan.boards[layout.boards];
    const double scale = std::min(flow_.area().width() / longest_, kMostHigh / board.width), high = board.width * scale;
    flow_.room(high + 11);
    flow_.down(2);
    flow_.paragraph(words(board, layout, alike), 3.0, Face::bold);
    Board drawn(flow_.page(), flow_.area().x0, flow_.y() + 1 + high, scale);
    drawn.area(0, 0, board.length, board.width, Pen::edge, Fill::wood);
    if (plan.end_trim > 0)
      for (const double x : {0.0, board.length - plan.end_trim}) drawn.area(x, 0, plan.end_trim, board.width, Pen::thin, Fill::light);
    for (const PlacedPiece& piece : layout.pieces) {
      drawn.area(piece.x, piece.y, piece.length, piece.width, Pen::thin, Fill::paper);
      drawn.label(piece, stock::plan_letter(piece.piece), size(piece.length, piece.width));
    }
    for (const shop::Defect& defect : board.defects)
      drawn.area(defect.from, defect.across_from, defect.to - defect.from, (defect.across_to > 0 ? defect.across_to : board.width) - defect.across_from, Pen::thin, Fill::joint);
    flow_.down(high + 2);
  }

  std::string words(const stock::PlanBoards& board, const PlannedBoard& layout, const std::vector<int>& alike) const {
    std::string numbers;
    for (const int number : alike) numbers += (numbers.empty() ? "" : ", ") + std::to_string(number);
    return (alike.size() > 1 ? "Boards " : "Board ") + numbers + ": " + (board.name.empty() ? "" : "'" + board.name + "', ") + size(board.length, board.width) + (board.for_sale ? ", to buy" : ", on hand") + "; " +
           stock::sawn_words(layout);
  }

  const Heading& heading_;
  Flow flow_;
  double longest_ = 1;
};

}  // namespace

std::vector<Page> plan_pages(const std::vector<CuttingPlan>& plans, const Heading& heading) { return Sheets(heading).take(plans); }

}  // namespace pommel::paper
