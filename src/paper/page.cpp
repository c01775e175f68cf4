#include "paper/page.h"

#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "paper/arc.h"
#include "paper/canvas.h"
#include "paper/page_font.h"

namespace pommel::paper {
namespace {

constexpr double kCap = 0.74, kDescent = 0.24;  // of the em: capitals with what stands above them, and tails

Box both(const Box& a, const Box& b) { return {std::max(a.x0, b.x0), std::max(a.y0, b.y0), std::min(a.x1, b.x1), std::min(a.y1, b.y1)}; }
bool meet(const Box& a, const Box& b) { return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1; }
Box shrunk(const Box& box, double by) { return {box.x0 + by, box.y0 + by, box.x1 - by, box.y1 - by}; }

// Liang and Barsky: whether a segment passes through a box.
bool passes(const Vertex& a, const Vertex& b, const Box& box) {
  double from = 0, to = 1;
  const auto cut = [&](double p, double q) {
    if (p == 0) return q >= 0;
    const double r = q / p;
    if (p < 0) from = std::max(from, r);
    else to = std::min(to, r);
    return from <= to;
  };
  const double dx = b.x - a.x, dy = b.y - a.y;
  return cut(-dx, a.x - box.x0) && cut(dx, box.x1 - a.x) && cut(-dy, a.y - box.y0) && cut(dy, box.y1 - a.y);
}

std::string quoted(const Text& text) { return "'" + text.text + "'"; }

void faults_of_path(const Path& path, const Page& page, double margin, const std::vector<Box>& boxes, std::vector<std::string>& out) {
  if (path.pen == Pen::none || path.pen == Pen::hair) return;
  const std::vector<Vertex> line = flattened(path.points, path.closed);
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    if (path.clip && !passes(line[i], line[i + 1], *path.clip)) continue;
    for (const Vertex& end : {line[i], line[i + 1]})
      if (!path.clip && (end.x < margin || end.y < margin || end.x > page.width - margin || end.y > page.height - margin)) {
        out.push_back("a line comes to " + format_number(end.x, 1) + ", " + format_number(end.y, 1));
        return;
      }
    for (std::size_t k = 0; k < boxes.size(); ++k) {
      const Box seen = path.clip ? both(shrunk(boxes[k], 0.3), *path.clip) : shrunk(boxes[k], 0.3);
      if (seen.x0 < seen.x1 && seen.y0 < seen.y1 && passes(line[i], line[i + 1], seen)) out.push_back("a line runs through " + quoted(page.texts[k]));
    }
  }
}

}  // namespace

Page sheet(PaperSize size, bool lying) {
  Page page;
  page.width = size == PaperSize::a4 ? 210 : 215.9;
  page.height = size == PaperSize::a4 ? 297 : 279.4;
  if (lying) std::swap(page.width, page.height);
  return page;
}

double text_width(const Text& text) {
  return QFontMetricsF(page_font(text.face)).horizontalAdvance(from_utf8(text.text)) * text.size / kFontPixels;
}

Box box_of(const Text& text) {
  const double width = text_width(text), up = text.size * kCap, down = text.size * kDescent;
  const double before = text.align == Align::left ? 0 : text.align == Align::centre ? width / 2 : width;
  if (text.upwards) return {text.x - up, text.y - width + before, text.x + down, text.y + before};
  return {text.x - before, text.y - up, text.x - before + width, text.y + down};
}

std::string fitted(const Text& text, double width) {
  if (text_width(text) <= width) return text.text;
  return elided(page_font(text.face), from_utf8(text.text), width * kFontPixels / text.size).toStdString();
}

std::vector<std::string> broken(const std::string& text, double size, Face face, double width) {
  std::vector<std::string> lines;
  std::string line;
  const auto finish = [&] {
    if (!line.empty()) lines.push_back(fitted({0, 0, line, size, Align::left, face}, width));
    line.clear();
  };
  std::size_t at = 0;
  while (at < text.size()) {
    std::size_t end = text.find(' ', at);
    if (end == std::string::npos) end = text.size();
    const std::string word = text.substr(at, end - at);
    const std::string longer = line.empty() ? word : line + " " + word;
    if (!line.empty() && text_width({0, 0, longer, size, Align::left, face}) > width) {
      finish();
      line = word;
    } else if (!word.empty()) {
      line = longer;
    }
    at = end + 1;
  }
  finish();
  return lines;
}

std::vector<std::string> layout_faults(const Page& page, double margin) {
  std::vector<std::string> out;
  std::vector<Box> boxes;
  for (const Text& text : page.texts) boxes.push_back(box_of(text));
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    const Box& box = boxes[i];
    if (box.x0 < margin || box.y0 < margin || box.x1 > page.width - margin || box.y1 > page.height - margin)
      out.push_back(quoted(page.texts[i]) + " leaves the sheet");
    for (std::size_t k = 0; k < i; ++k)
      if (meet(shrunk(box, 0.1), shrunk(boxes[k], 0.1))) out.push_back(quoted(page.texts[k]) + " and " + quoted(page.texts[i]) + " overlap");
  }
  for (const Path& path : page.paths) faults_of_path(path, page, margin, boxes, out);
  return out;
}

void add_line(Page& page, double x0, double y0, double x1, double y1, Pen pen) { page.paths.push_back({{{x0, y0}, {x1, y1}}, false, pen}); }

void add_box(Page& page, const Box& box, Pen pen, Fill fill) {
  page.paths.push_back({{{box.x0, box.y0}, {box.x1, box.y0}, {box.x1, box.y1}, {box.x0, box.y1}}, true, pen, fill});
}

void add_circle(Page& page, double x, double y, double radius, Pen pen, Fill fill) {
  page.paths.push_back({{{x - radius, y, 1}, {x + radius, y, 1}}, true, pen, fill});
}

void add_arrow(Page& page, double x, double y, double dx, double dy) {
  // 2.5 mm long, a quarter as wide: filled, as ISO 129 shows them
  const double length = std::hypot(dx, dy), ux = dx / length, uy = dy / length;
  page.paths.push_back({{{x, y}, {x - 2.2 * ux - 0.35 * uy, y - 2.2 * uy + 0.35 * ux}, {x - 2.2 * ux + 0.35 * uy, y - 2.2 * uy - 0.35 * ux}}, true, Pen::none, Fill::black});
}

}  // namespace pommel::paper
