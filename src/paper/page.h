// A sheet of paper as plain values: what stands where, before anything paints it. Documents are made as pages, so that a test can ask
// whether two texts overlap or one leaves the sheet, and the same pages go to PDF.
//
// Coordinates are millimetres from the sheet's upper left corner, x to the right, y downwards. Sizes are those on paper.
// Thread rule: plain values; what measures text needs a Painting (canvas.h).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"

namespace pommel::paper {

enum class PaperSize { a4, letter };

struct Box {
  double x0 = 0, y0 = 0, x1 = 0, y1 = 0;

  double width() const { return x1 - x0; }
  double height() const { return y1 - y0; }
  bool operator==(const Box&) const = default;
};

/// A corner of a path and the way to the next one: straight for bulge 0, else an arc through four times the angle whose tangent the bulge
/// is, positive turning from x towards y (as the bulge of an LWPOLYLINE does, whose y points upwards).
struct Vertex {
  double x = 0, y = 0, bulge = 0;

  bool operator==(const Vertex&) const = default;
};

/// Lines after ISO 128: visible edges wide, the rest narrow; dashes for what is hidden, long and short for axes.
enum class Pen { none, outline, edge, thin, hidden, axis, hair };
enum class Fill { none, wood, light, joint, paper, black };

struct Path {
  std::vector<Vertex> points;
  bool closed = false;
  Pen pen = Pen::thin;
  Fill fill = Fill::none;
  std::optional<Box> clip = {};  ///< what lies outside is not drawn
};

enum class Align { left, centre, right };
enum class Face { plain, bold, mono };
enum class Ink { black, grey };

/// One line of text. (x, y): its baseline's left end, middle or right end.
struct Text {
  double x = 0, y = 0;
  std::string text;        ///< UTF-8
  double size = 3.4;       ///< of the em square: capitals are 0.73 of it high, so that 3.4 is the 2.5 mm of ISO 3098
  Align align = Align::left;
  Face face = Face::plain;
  Ink ink = Ink::black;
  bool upwards = false;    ///< reads from below; (x, y) is its lower end then
};

/// A picture in PNG bytes, stretched into the box.
struct Picture {
  Box box;
  std::string png;
};

struct Page {
  double width = 210, height = 297;
  std::vector<Picture> pictures;  ///< painted first
  std::vector<Path> paths;        ///< then these, in order
  std::vector<Text> texts;
};

/// An empty sheet, upright or lying.
Page sheet(PaperSize size, bool lying = false);

/// Width on paper, mm. REQUIRES: a Painting that is ready().
double text_width(const Text& text);
/// What its letters may cover.
Box box_of(const Text& text);
/// The text, shortened by "…" to fit into `width`.
std::string fitted(const Text& text, double width);
/// Broken at blanks into lines no wider than `width`; a longer word stands alone, shortened.
std::vector<std::string> broken(const std::string& text, double size, Face face, double width);

/// What is wrong with a page's layout, in words: texts that overlap, texts or lines nearer to the edge than `margin`, lines that run
/// through a text. Empty when all is well. REQUIRES: as text_width().
std::vector<std::string> layout_faults(const Page& page, double margin = 4);

void add_line(Page& page, double x0, double y0, double x1, double y1, Pen pen = Pen::thin);
void add_box(Page& page, const Box& box, Pen pen = Pen::thin, Fill fill = Fill::none);
void add_circle(Page& page, double x, double y, double radius, Pen pen, Fill fill = Fill::none);
/// An arrow's head with its point at (x, y), looking along (dx, dy).
void add_arrow(Page& page, double x, double y, double dx, double dy);

/// What the file says about itself.
struct PdfStamp {
  std::string title;
  std::string date;  ///< "2026-03-02", of the order; empty: the epoch
};

/// Vector PDF with embedded fonts; the same pages give the same bytes. Fails with "paper.cannot-paint". REQUIRES: as text_width(), and
/// at least one page.
Result<std::string> pdf(const std::vector<Page>& pages, const PdfStamp& stamp);

}  // namespace pommel::paper
