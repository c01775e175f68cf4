// Whether a plan can be sawn: its own reading of the sizes, by cutting the drawn pieces apart again. Shares no code with the search.
#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "stock/plan.h"

namespace pommel::stock {
namespace {

constexpr double kSame = 1e-6;  // mm: sizes are whole hundredths as doubles

struct Box { double x0, x1, y0, y1; };

Box box_of(const PlacedPiece& piece) { return {piece.x, piece.x + piece.length, piece.y, piece.y + piece.width}; }

// Cuts from edge to edge part the boxes one from another, each cut a kerf wide: the parts between cuts across one axis, then
// each part across the other, `stages` times in all. A last cut may take off less than a kerf: then it is planed.
bool parts(std::vector<Box> boxes, bool along_x, int stages, double kerf) {
  if (boxes.size() <= 1) return true;
  if (stages == 0) return false;
  const auto low = [&](const Box& box) { return along_x ? box.x0 : box.y0; };
  const auto high = [&](const Box& box) { return along_x ? box.x1 : box.y1; };
  std::sort(boxes.begin(), boxes.end(), [&](const Box& a, const Box& b) { return low(a) < low(b); });
  std::vector<Box> part;
  double end = 0;
  for (const Box& box : boxes) {
    if (!part.empty() && low(box) >= end + kerf - kSame) {
      if (!parts(part, !along_x, stages - 1, kerf)) return false;
      part.clear();
    }
    end = part.empty() ? high(box) : std::max(end, high(box));
    part.push_back(box);
  }
  return parts(part, !along_x, stages - 1, kerf);
}

std::string where(const PlannedBoard& layout, const std::string& what) { return "board " + std::to_string(layout.number) + ": " + what; }

void check_board(const CuttingPlan& plan, const PlannedBoard& layout, std::vector<std::string>& faults) {
  const PlanBoards& board = plan.boards[layout.boards];
  std::vector<Box> boxes;
  for (const PlacedPiece& placed : layout.pieces) {
    const PlanPiece& piece = plan.pieces[placed.piece];
    const Box box = box_of(placed);
    boxes.push_back(box);
    if (placed.length < piece.length - kSame || placed.width < piece.width - kSame) faults.push_back(where(layout, "a '" + piece.label + "' is too small"));
    if (box.x0 < plan.end_trim - kSame || box.x1 > board.length - plan.end_trim + kSame || box.y0 < -kSame || box.y1 > board.width + kSame)
      faults.push_back(where(layout, "a '" + piece.label + "' at " + format_number(placed.x, 2) + ", " + format_number(placed.y, 2) + " lies outside"));
    for (const shop::Defect& defect : board.defects) {
      const double top = defect.across_to > 0 ? defect.across_to : board.width;
      if (box.x0 < defect.to - kSame && box.x1 > defect.from + kSame && box.y0 < top - kSame && box.y1 > defect.across_from + kSame)
        faults.push_back(where(layout, "a '" + piece.label + "' holds the defect at " + format_number(defect.from, 1)));
    }
  }
  for (std::size_t i = 0; i < boxes.size(); ++i)
    for (std::size_t j = i + 1; j < boxes.size(); ++j) {
      const double apart_x = std::max(boxes[i].x0 - boxes[j].x1, boxes[j].x0 - boxes[i].x1), apart_y = std::max(boxes[i].y0 - boxes[j].y1, boxes[j].y0 - boxes[i].y1);
      if (std::max(apart_x, apart_y) < plan.kerf - kSame) faults.push_back(where(layout, "two pieces are nearer than a kerf"));
    }
  // rip first: cuts between strips have their places across y
  if (!parts(boxes, !layout.rip_first, 2, plan.kerf)) faults.push_back(where(layout, std::string("it cannot be sawn ") + (layout.rip_first ? "by ripping first" : "by crosscutting first")));
  if (boxes.empty()) faults.push_back(where(layout, "nothing is cut from it"));
}

void check_counts(const CuttingPlan& plan, std::vector<std::string>& faults) {
  for (std::size_t i = 0; i < plan.pieces.size(); ++i) {
    int cut = 0, on_boards = 0;
    for (const PlannedBoard& layout : plan.layouts) {
      const auto here = std::count_if(layout.pieces.begin(), layout.pieces.end(), [&](const PlacedPiece& placed) { return placed.piece == i; });
      cut += static_cast<int>(here);
      on_boards += here > 0 ? 1 : 0;
    }
    if (cut != plan.pieces[i].quantity)
      faults.push_back("'" + plan.pieces[i].label + "' is cut " + std::to_string(cut) + " times, wanted " + std::to_string(plan.pieces[i].quantity));
    if (plan.pieces[i].one_board == shop::OneBoard::rule && on_boards > 1) faults.push_back("'" + plan.pieces[i].label + "' comes from " + std::to_string(on_boards) + " boards");
  }
  for (std::size_t b = 0; b < plan.boards.size(); ++b)
    if (plan.taken(b) > plan.boards[b].count) faults.push_back("of '" + plan.boards[b].name + "' " + std::to_string(plan.taken(b)) + " are taken, " + std::to_string(plan.boards[b].count) + " are there");
}

}  // namespace

std::vector<std::string> faults_of(const CuttingPlan& plan) {
  std::vector<std::string> faults;
  for (const PlannedBoard& layout : plan.layouts) {
    if (layout.boards >= plan.boards.size() || std::any_of(layout.pieces.begin(), layout.pieces.end(), [&](const PlacedPiece& placed) { return placed.piece >= plan.pieces.size(); })) {
      faults.push_back(where(layout, "names what is not there"));
      return faults;
    }
    check_board(plan, layout, faults);
  }
  check_counts(plan, faults);
  Money cost;
  for (std::size_t b = 0; b < plan.boards.size(); ++b)
    cost += round_to_cents(plan.taken(b) * plan.boards[b].board_feet * static_cast<double>(plan.boards[b].price_per_board_foot.cents) / 100);
  if (cost != plan.cost) faults.push_back("the boards cost " + format_money(cost) + ", the plan says " + format_money(plan.cost));
  if (plan.bound > plan.cost) faults.push_back("the bound is above the cost");
  return faults;
}

}  // namespace pommel::stock
