#include "paper/drawing.h"

#include "base/text.h"

namespace pommel::paper {
namespace {

constexpr double kEdge = 8, kBlock = 20;  // mm: frame from the sheet's edge, height of the title block

constexpr std::size_t kListed = 4;         // names of pieces that a block has room for

struct Field {
  std::string caption, text;
  double share;  ///< of the width
};

std::string members_of(const Piece& piece) {
  std::vector<std::string> names = piece.names;
  for (const frame::Member* member : piece.members) names.push_back(member->place.empty() ? member->id : member->place);
  // a stair has dozens: the block would be cut short
  if (names.size() > kListed) return names.front() + " and " + std::to_string(names.size() - 1) + " more: see the labels";
  return listed(names);
}

std::vector<Field> fields(const Piece& piece, const Heading& heading, const std::string& scale, const std::string& sheet) {
  const std::string count = std::to_string(piece.members.empty() ? piece.quantity : static_cast<int>(piece.members.size()));
  const std::string members = members_of(piece);
  return {{"piece", piece.noun + (members.empty() ? "" : ", " + members), 0.22},
          {"quantity, hand", count + (piece.hand.empty() ? "" : ", " + piece.hand), 0.09},
          {piece.section.empty() ? "wood, finished square" : "wood, finished section", piece.wood + ", " + (piece.section.empty() ? "□ " + heading.length(piece.square) : piece.section), 0.19},
          {"order", heading.title + (heading.order_line().empty() ? "" : "; " + heading.order_line()), 0.22},
          {"design, revision", heading.design + ", " + std::to_string(heading.revision), 0.13},
          {"scale, unit", (scale.empty() || scale == "-" ? "" : scale + ", ") + heading.unit(), 0.1},
          {"sheet", sheet, 0.05}};
}

void add_field(Page& page, const Field& field, double x, double width, double top) {
  page.texts.push_back({x + 1.5, top + 3.6, fitted({0, 0, field.caption, 2.2}, width - 2.5), 2.2, Align::left, Face::plain, Ink::grey});
  std::vector<std::string> lines = broken(field.text, 3.0, Face::plain, width - 3);
  if (lines.size() > 3) {
    lines.resize(3);
    lines[2] += " …";
  }
  for (std::size_t i = 0; i < lines.size(); ++i)
    page.texts.push_back({x + 1.5, top + 8 + 4.2 * static_cast<double>(i), fitted({0, 0, lines[i], 3.0}, width - 2.5), 3.0});
}

}  // namespace

const std::vector<Scale>& scales(bool inches) {
  static const std::vector<Scale> metric = {{1, "1:1"}, {0.5, "1:2"}, {0.2, "1:5"}, {0.1, "1:10"}, {0.05, "1:20"}};
  static const std::vector<Scale> rule = {{1, "1:1"}, {0.5, "1:2"}, {0.25, "1:4"}, {0.125, "1:8"}, {0.0625, "1:16"}};
  return inches ? rule : metric;
}

Box drawing_area(const Page& page) { return {kEdge + 6, kEdge + 4, page.width - kEdge - 6, page.height - kEdge - kBlock - 3}; }

void add_title_blocks(std::vector<Page>& pages, const Piece& piece, const Heading& heading, const std::vector<std::string>& scale_of) {
  for (std::size_t i = 0; i < pages.size(); ++i) {
    Page& page = pages[i];
    const double left = kEdge, right = page.width - kEdge, foot = page.height - kEdge, top = foot - kBlock;
    add_box(page, {left, kEdge, right, foot}, Pen::outline);
    add_line(page, left, top, right, top, Pen::outline);
    double x = left;
    for (const Field& field : fields(piece, heading, scale_of[i], std::to_string(i + 1) + " / " + std::to_string(pages.size()))) {
      const double width = field.share * (right - left);
      add_field(page, field, x, width, top);
      x += width;
      if (x < right - 1) add_line(page, x, top, x, foot, Pen::thin);
    }
  }
}

}  // namespace pommel::paper
