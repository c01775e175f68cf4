// Text and tables that run down a page and on to the next. For this room only.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "paper/page.h"

namespace pommel::paper {

struct Column {
  std::string title;
  double width = 20;  ///< mm; columns together at most as wide as the area
  Align align = Align::left;
};

/// One line of a table: a cell a column; text is broken into lines where its column is left-aligned. A bold one stands out as a sum does.
struct TableRow {
  std::vector<std::string> cells;
  bool bold = false;
  bool rule = false;  ///< a line above it
};

class Flow {
 public:
  /// `area`: where text may stand on each page.
  Flow(const Page& blank, const Box& area) : blank_(blank), area_(area), pages_{blank}, y_(area.y0) {}

  Page& page() { return pages_.back(); }
  const Box& area() const { return area_; }
  double y() const { return y_; }
  /// Goes down by `mm`.
  void down(double mm) { y_ += mm; }
  /// Goes to a new page where there is less than `height` left on this one.
  void room(double height);
  void new_page();

  static constexpr double kHeading = 9.8;  ///< mm that heading() takes
  void title(const std::string& text);
  void heading(const std::string& text);
  void paragraph(const std::string& text, double size = 3.2, Face face = Face::plain, double indent = 0, Ink ink = Ink::black);
  void bullet(const std::string& text, double size = 3.2);
  /// The column titles are repeated on each page. REQUIRES: as many cells as columns in each row.
  void table(const std::vector<Column>& columns, const std::vector<TableRow>& rows, double size = 3.0);
  /// What table() takes on one page, mm.
  static double table_height(const std::vector<Column>& columns, const std::vector<TableRow>& rows, double size);
  /// At most `width` wide, and at most a third of the page high.
  void picture(const std::string& png, double width);

  std::vector<Page> take() { return std::move(pages_); }

 private:
  void table_head(const std::vector<Column>& columns, double size);

  Page blank_;
  Box area_;
  std::vector<Page> pages_;
  double y_;
};

/// Writes `left` and "page n of m" at the foot of each page.
void number_pages(std::vector<Page>& pages, const std::string& left);

}  // namespace pommel::paper
