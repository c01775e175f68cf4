#include "paper/flow.h"

#include <algorithm>

namespace pommel::paper {
namespace {

constexpr double kLeading = 1.45;  // of the size
constexpr double kCellGap = 2;     // mm between columns
constexpr double kToRule = 1.4, kUnderRule = 0.6, kRowGap = 1.2, kUnderTable = 1;  // mm: of a table's titles, its rows, and below it

// A table's row, its cells broken into lines.
struct Broken {
  std::vector<std::vector<std::string>> cells;
  double height = 0;  ///< mm
};

Face face_of(const TableRow& row) { return row.bold ? Face::bold : Face::plain; }

Broken broken_row(const std::vector<Column>& columns, const TableRow& row, double size) {
  Broken out;
  std::size_t lines = 1;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    out.cells.push_back(broken(row.cells[i], size, face_of(row), columns[i].width - kCellGap));
    lines = std::max(lines, out.cells.back().size());
  }
  out.height = static_cast<double>(lines) * size * kLeading + kRowGap;
  return out;
}

double text_edge(const Column& column, double x) {
  return column.align == Align::left ? x : column.align == Align::centre ? x + (column.width - kCellGap) / 2 : x + column.width - kCellGap;
}

// Height over width, from the header chunk (ISO/IEC 15948, 11.2.2: eight bytes of signature, length and type, then width and height).
double aspect_of_png(const std::string& png) {
  const auto number = [&](std::size_t at) {
    double out = 0;
    for (std::size_t i = at; i < at + 4 && i < png.size(); ++i) out = out * 256 + static_cast<unsigned char>(png[i]);
    return out;
  };
  const double width = number(16), height = number(20);
  return width > 0 && height > 0 ? height / width : 1;
}

}  // namespace

void Flow::new_page() {
  pages_.push_back(blank_);
  y_ = area_.y0;
}

void Flow::room(double height) {
  if (y_ + height > area_.y1 && y_ > area_.y0) new_page();
}

void Flow::title(const std::string& text) {
  y_ += 6;
  page().texts.push_back({area_.x0, y_, fitted({0, 0, text, 6, Align::left, Face::bold}, area_.width()), 6, Align::left, Face::bold});
  y_ += 3;
}

void Flow::heading(const std::string& text) {
  room(16);
  y_ += kHeading - 1.8;
  page().texts.push_back({area_.x0, y_, fitted({0, 0, text, 3.8, Align::left, Face::bold}, area_.width()), 3.8, Align::left, Face::bold});
  y_ += 1.8;
}

void Flow::paragraph(const std::string& text, double size, Face face, double indent, Ink ink) {
  for (const std::string& line : broken(text, size, face, area_.width() - indent)) {
    room(size * kLeading);
    y_ += size * kLeading;
    page().texts.push_back({area_.x0 + indent, y_, line, size, Align::left, face, ink});
  }
}

void Flow::bullet(const std::string& text, double size) {
  room(size * kLeading);
  page().texts.push_back({area_.x0, y_ + size * kLeading, "–", size});
  paragraph(text, size, Face::plain, 4);
}

void Flow::table_head(const std::vector<Column>& columns, double size) {
  y_ += size * kLeading;
  double x = area_.x0;
  for (const Column& column : columns) {
    const std::string text = fitted({0, 0, column.title, size * 0.9}, column.width - kCellGap);
    if (!text.empty()) page().texts.push_back({text_edge(column, x), y_, text, size * 0.9, column.align, Face::plain, Ink::grey});
    x += column.width;
  }
  y_ += kToRule;
  add_line(page(), area_.x0, y_, x - kCellGap, y_, Pen::thin);
  y_ += kUnderRule;
}

void Flow::table(const std::vector<Column>& columns, const std::vector<TableRow>& rows, double size) {
  double width = -kCellGap;
  for (const Column& column : columns) width += column.width;
  room(4 * size * kLeading);
  table_head(columns, size);
  for (const TableRow& row : rows) {
    const auto [cells, height] = broken_row(columns, row, size);
    if (y_ + height > area_.y1) {
      new_page();
      table_head(columns, size);
    }
    if (row.rule) add_line(page(), area_.x0, y_ + 0.6, area_.x0 + width, y_ + 0.6, Pen::thin);
    double x = area_.x0;
    for (std::size_t i = 0; i < columns.size(); ++i) {
      for (std::size_t line = 0; line < cells[i].size(); ++line)
        page().texts.push_back({text_edge(columns[i], x), y_ + 0.6 + static_cast<double>(line + 1) * size * kLeading, cells[i][line], size, columns[i].align, face_of(row)});
      x += columns[i].width;
    }
    y_ += height;
    add_line(page(), area_.x0, y_ + 0.6, area_.x0 + width, y_ + 0.6, Pen::hair);
  }
  y_ += kUnderTable;
}

double Flow::table_height(const std::vector<Column>& columns, const std::vector<TableRow>& rows, double size) {
  double high = size * kLeading + kToRule + kUnderRule + kUnderTable;
  for (const TableRow& row : rows) high += broken_row(columns, row, size).height;
  return high;
}

void Flow::picture(const std::string& png, double width) {
  const double aspect = aspect_of_png(png), wide = std::min({width, area_.width(), area_.height() / 3 / aspect}), high = wide * aspect;
  room(high + 2);
  const double left = area_.x0 + (area_.width() - wide) / 2;
  page().pictures.push_back({{left, y_ + 2, left + wide, y_ + 2 + high}, png});
  y_ += high + 2;
}

void number_pages(std::vector<Page>& pages, const std::string& left) {
  for (std::size_t i = 0; i < pages.size(); ++i) {
    Page& page = pages[i];
    const double y = page.height - 9;
    const Text number{page.width - 15, y, "page " + std::to_string(i + 1) + " of " + std::to_string(pages.size()), 2.6, Align::right, Face::plain, Ink::grey};
    page.texts.push_back({15, y, fitted({0, 0, left, 2.6}, page.width - 36 - text_width(number)), 2.6, Align::left, Face::plain, Ink::grey});
    page.texts.push_back(number);
  }
}

}  // namespace pommel::paper
