// The catalog to be leafed through: one HTML page that needs nothing beside it, and the same as PDF.
#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "paper/arc.h"
#include "paper/canvas.h"
#include "paper/flow.h"
#include "paper/leg_view.h"
#include "paper/papers.h"
#include "paper/side_line.h"

namespace pommel::paper {
namespace {

// What all designs of a gallery share, so that one compares with another, mm.
struct Room {
  double longest = 0;
  double between = 90;  ///< axis to axis of the pieces of one design: none stands before another
};

Room room_for(const std::vector<DesignPicture>& designs) {
  constexpr double kGap = 15;
  Room room;
  for (const DesignPicture& design : designs)
    for (const shape::Part& piece : design.pieces) {
      room.longest = std::max(room.longest, piece.length);
      if (design.pieces.size() < 2) continue;
      for (const Vertex& v : contour(piece, 0)) room.between = std::max(room.between, 2 * std::fabs(v.y) + kGap);
    }
  return room;
}

// A piece that stands, head up, its foot on `floor`: (x, t) comes to (axis + t, floor - length + x).
struct Standing {
  std::vector<Vertex> contour;
  std::vector<std::vector<Vertex>> edges;
};

Standing standing(const shape::Part& piece, double axis, double floor, double scale) {
  const auto placed = [&](std::vector<Vertex> line) {
    for (Vertex& v : line) v = {axis + v.y * scale, floor - (piece.length - v.x) * scale, -v.bulge};
    return line;
  };
  Standing out{placed(contour(piece, 0)), {}};
  const LegView view = leg_view(piece, 0);
  for (const auto* lines : {&view.rings, &view.pommels, &view.arrises, &view.turns})
    for (const Line& line : *lines) {
      std::vector<Vertex> edge;
      for (const Point& point : line) edge.push_back({point.x, point.t, 0});
      out.edges.push_back(placed(edge));
    }
  return out;
}

std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '&') out += "&amp;";
    else if (c == '<') out += "&lt;";
    else if (c == '>') out += "&gt;";
    else if (c == '"') out += "&quot;";
    else out += c;
  }
  return out;
}

std::string number(double value) { return format_number(value, 2); }

// SVG path data; a positive bulge turns from x towards y, which SVG's sweep flag 1 does, too.
std::string path_data(const std::vector<Vertex>& line, bool closed) {
  std::string out = "M" + number(line[0].x) + " " + number(line[0].y);
  for (std::size_t i = 0; i + (closed ? 0 : 1) < line.size(); ++i) {
    const Vertex &a = line[i], &b = line[(i + 1) % line.size()];
    if (std::fabs(a.bulge) < 1e-4) out += "L";  // an arc that rises by less than a chord's 20,000th
    else out += "A" + number(arc_of(a, b).radius) + " " + number(arc_of(a, b).radius) + " 0 " + (std::fabs(a.bulge) > 1 ? "1" : "0") + (a.bulge > 0 ? " 1 " : " 0 ");
    out += number(b.x) + " " + number(b.y);
  }
  return out + (closed ? "Z" : "");
}

std::string svg_of(const DesignPicture& design, const Room& room) {
  const double width = room.between * static_cast<double>(std::max<std::size_t>(design.pieces.size(), 2)), floor = room.longest + 5;
  std::string out = "<svg viewBox=\"0 0 " + number(width) + " " + number(floor + 6) + "\" role=\"img\" aria-label=\"" + escaped(design.name) + "\">";
  for (std::size_t i = 0; i < design.pieces.size(); ++i) {
    const double axis = width / 2 + room.between * (static_cast<double>(i) - static_cast<double>(design.pieces.size() - 1) / 2);
    const Standing piece = standing(design.pieces[i], axis, floor, 1);
    out += "<path class=\"wood\" d=\"" + path_data(piece.contour, true) + "\"/>";
    std::string edges;
    for (const auto& edge : piece.edges) edges += path_data(edge, false);
    if (!edges.empty()) out += "<path class=\"edge\" d=\"" + edges + "\"/>";
  }
  return out + "<path class=\"floor\" d=\"M0 " + number(floor) + "H" + number(width) + "\"/></svg>";
}

constexpr const char* kHead =
    "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\"><title>House designs</title>\n<style>\n"
    "body{font:16px/1.4 \"DejaVu Sans\",sans-serif;margin:2rem;background:#fbf9f4;color:#332b23}\n"
    "main{display:flex;flex-wrap:wrap;gap:2rem}\nfigure{margin:0;width:15rem}\nsvg{width:100%;height:26rem;background:#fff;border:1px solid #c9c0b2}\n"
    "figcaption b{display:block;font-size:1.1em;margin-top:.5rem}\nfigcaption span{display:block;color:#6f665b;font-size:.85em}\n"
    ".wood{fill:#ead6b4;stroke:#332b23;stroke-width:1.6}.edge{fill:none;stroke:#332b23;stroke-width:.8}.floor{stroke:#c9c0b2;stroke-width:2}\n"
    "@media print{figure{break-inside:avoid}}\n</style></head><body>\n<h1>House designs</h1>\n<p>All at one scale.</p>\n<main>\n";

Failure nothing() { return fail("paper.nothing", "there are no designs to show", "is this the right catalog?"); }

void add_design(Page& page, const DesignPicture& design, const Box& cell, double scale, double between) {
  const double middle = (cell.x0 + cell.x1) / 2, floor = cell.y1 - 30;
  for (std::size_t i = 0; i < design.pieces.size(); ++i) {
    const double axis = middle + between * scale * (static_cast<double>(i) - static_cast<double>(design.pieces.size() - 1) / 2);
    const Standing piece = standing(design.pieces[i], axis, floor, scale);
    page.paths.push_back({piece.contour, true, Pen::edge, Fill::wood});
    for (const auto& edge : piece.edges) page.paths.push_back({edge, false, Pen::thin});
  }
  add_line(page, cell.x0 + 2, floor, cell.x1 - 2, floor, Pen::hair);
  double y = floor + 6;
  const auto say = [&](const std::string& text, double size, Face face, Ink ink, std::size_t most) {
    std::vector<std::string> lines = broken(text, size, face, cell.width() - 4);
    if (lines.size() > most) {
      lines.resize(most);
      lines.back() += " …";
    }
    for (const std::string& line : lines) {
      page.texts.push_back({middle, y, fitted({0, 0, line, size, Align::left, face}, cell.width() - 3), size, Align::centre, face, ink});
      y += size * 1.4;
    }
  };
  say(design.name, 3.6, Face::bold, Ink::black, 2);
  for (const std::string& line : design.says) say(line, 2.5, Face::plain, Ink::black, 3);
}

}  // namespace

Result<std::string> gallery_html(const std::vector<DesignPicture>& designs) {
  if (designs.empty()) return nothing();
  const Room room = room_for(designs);
  std::string out = kHead;
  for (const DesignPicture& design : designs) {
    out += "<figure>" + svg_of(design, room) + "<figcaption><b>" + escaped(design.name) + "</b>";
    for (const std::string& line : design.says) out += "<span>" + escaped(line) + "</span>";
    if (!design.about.empty()) out += "<span>" + escaped(design.about) + "</span>";
    out += "</figcaption></figure>\n";
  }
  return out + "</main></body></html>\n";
}

Result<std::string> gallery_pdf(const std::vector<DesignPicture>& designs) {
  if (designs.empty()) return nothing();
  const Painting painting;
  if (const auto ready = painting.ready(); !ready.ok()) return ready.failure();
  constexpr int kAcross = 4;
  const Page blank = sheet(PaperSize::a4, true);
  const Box area{14, 22, blank.width - 14, blank.height - 14};
  const Room room = room_for(designs);
  const double scale = (area.height() - 34) / room.longest, wide = area.width() / kAcross;
  std::vector<Page> pages;
  for (std::size_t i = 0; i < designs.size(); ++i) {
    const std::size_t place = i % kAcross;
    if (place == 0) {
      pages.push_back(blank);
      pages.back().texts.push_back({area.x0, 16, "House designs, all at 1:" + format_number(1 / scale, 1), 4, Align::left, Face::bold});
    }
    const double left = area.x0 + wide * static_cast<double>(place);
    add_design(pages.back(), designs[i], {left, area.y0, left + wide, area.y1}, scale, room.between);
  }
  number_pages(pages, "House designs");
  return pdf(pages, {"House designs", ""});
}

}  // namespace pommel::paper
