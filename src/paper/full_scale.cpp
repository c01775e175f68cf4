#include "paper/full_scale.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "base/number.h"
#include "paper/leg_view.h"
#include "paper/side_line.h"
#include "shape/mortise.h"

namespace pommel::paper {
namespace {

constexpr double kQuarter = std::numbers::pi / 2;
constexpr double kOverlap = 10, kMargin = 14, kFoot = 12;  // mm: of tiles, around them, and under them for the words

bool looks(double a, double b) { return std::fabs(std::remainder(a - b, 4 * kQuarter)) < 1e-6; }

void move(Vertex& v, double dx, double dy) {
  v.x += dx;
  v.y += dy;
}

// A cross where a corner of two tiles comes together.
void add_register(Page& page, double x, double y, const std::string& name) {
  add_line(page, x - 3, y, x + 3, y, Pen::thin);
  add_line(page, x, y - 3, x, y + 3, Pen::thin);
  add_circle(page, x, y, 1.5, Pen::thin);
  page.texts.push_back({x + 4, y - 1, name, 2.4});
}

void add_bar(Page& page, double x, double y, double length, const Heading& heading) {
  add_line(page, x, y, x, y + length, Pen::edge);
  for (int i = 0; i <= 10; ++i) {
    const double at = y + length * i / 10;
    add_line(page, x - (i % 5 == 0 ? 4 : 2), at, x, at, Pen::edge);
  }
  const bool corrected = heading.bar_measures != kScaleBar;
  const std::string says = corrected ? "printed for a bar that measured " + format_number(heading.bar_measures, 2) + " mm: it must be 200 mm now"
                                     : "must be 200 mm; if not, write in the order: scale_bar_measures: ... mm, and print again";
  page.texts.push_back({x + 3.6, y + length, says, 2.6, Align::left, Face::plain, Ink::black, true});
}

// (x, t) of the piece on an upright page: x runs down, t to the right. The axes change places, so arcs turn the other way.
std::vector<Vertex> upright(const std::vector<Vertex>& line, double x0, double axis) {
  std::vector<Vertex> out;
  for (const Vertex& v : line) out.push_back({axis + v.y, v.x - x0, -v.bulge});
  return out;
}

std::vector<Vertex> pocket(double x0, double x1, double t0, double t1, double r) {
  const double b = std::tan(std::numbers::pi / 8);
  if (r <= 0) return {{x0, t0}, {x1, t0}, {x1, t1}, {x0, t1}};
  return {{x0 + r, t0}, {x1 - r, t0, b}, {x1, t0 + r}, {x1, t1 - r, b}, {x1 - r, t1}, {x0 + r, t1, b}, {x0, t1 - r}, {x0, t0 + r, b}};
}

struct FaceJoints {
  std::vector<std::vector<Vertex>> outlines;            ///< closed, (x, t)
  std::vector<std::array<double, 3>> circles;           ///< x, t, radius
  double low = 1e9, high = -1e9;
};

FaceJoints joints_on(const shape::Part& part, double phi) {
  FaceJoints out;
  const auto reach = [&](double x0, double x1) {
    out.low = std::min(out.low, x0);
    out.high = std::max(out.high, x1);
  };
  for (const shape::Mortise& m : part.mortises) {
    if (!looks(m.phi, phi)) continue;
    if (m.haunch_length > 0) out.outlines.push_back(pocket(m.x0 - m.haunch_length, m.x1, m.t0, m.t1, m.corner_radius));
    out.outlines.push_back(pocket(m.x0, m.x1, m.t0, m.t1, m.corner_radius));
    reach(m.x0 - m.haunch_length, m.x1);
  }
  for (const shape::Bore& bore : part.bores) {
    const bool here = looks(bore.phi, phi);
    if (!here && !(looks(bore.phi, phi + 2 * kQuarter) && shape::goes_through(part, bore))) continue;
    const double t = here ? bore.t : -bore.t;
    out.circles.push_back({bore.x, t, bore.diameter / 2});
    if (here && bore.seat_diameter > 0) out.circles.push_back({bore.x, t, bore.seat_diameter / 2});
    reach(bore.x - bore.diameter / 2, bore.x + bore.diameter / 2);
  }
  return out;
}

std::string letter(int face) { return std::string(1, static_cast<char>('A' + face)); }

Template face_template(const Piece& piece, int face, const FaceJoints& joints, const Heading& heading) {
  const double x0 = joints.low < 150 ? 0 : joints.low - 30, x1 = std::min(piece.part.length, joints.high + 30), axis = piece.square / 2 + 4;
  Template out{piece.label + ": face " + letter(face), {}};
  out.page.width = piece.square + 60;
  out.page.height = x1 - x0;
  const Box clip{0, 0, out.page.width, x1 - x0};
  const double phi = face * kQuarter;
  out.page.paths.push_back({upright(contour(piece.part, phi), x0, axis), true, Pen::edge, Fill::none, clip});
  for (const auto& line : joints.outlines) out.page.paths.push_back({upright(line, x0, axis), true, Pen::edge, Fill::light});
  for (const auto& [x, t, r] : joints.circles) {
    add_circle(out.page, axis + t, x - x0, r, Pen::edge, Fill::light);
    add_line(out.page, axis + t - r - 2, x - x0, axis + t + r + 2, x - x0, Pen::thin);
    add_line(out.page, axis + t, x - x0 - r - 2, axis + t, x - x0 + r + 2, Pen::thin);
  }
  std::vector<double> places = {x0};
  for (const auto& line : joints.outlines)
    for (const Vertex& v : line) places.push_back(v.x);
  for (const auto& circle : joints.circles) places.push_back(circle[0]);
  std::sort(places.begin(), places.end());
  double last = -1e9;
  for (const double x : places) {
    if (x - last < 4 || x > x1) continue;
    last = x;
    const double edge = axis + piece.square / 2;
    add_line(out.page, edge + 1, x - x0, edge + 6, x - x0, Pen::thin);
    out.page.texts.push_back({edge + 7, std::clamp(x - x0 + 1.1, 2.6, x1 - x0 - 1), heading.figure(x) + (x == x0 ? x0 > 0 ? " from the head" : " (head)" : ""), 3.0});
  }
  return out;
}

}  // namespace

Page scaled(Page page, double factor) {
  page.width *= factor;
  page.height *= factor;
  for (Path& path : page.paths) {
    for (Vertex& v : path.points) v = {v.x * factor, v.y * factor, v.bulge};
    if (path.clip) path.clip = Box{path.clip->x0 * factor, path.clip->y0 * factor, path.clip->x1 * factor, path.clip->y1 * factor};
  }
  for (Text& text : page.texts) {
    text.x *= factor;
    text.y *= factor;
  }
  return page;
}

std::vector<Page> tiled(const Page& long_page, const Heading& heading, const std::string& title) {
  const double factor = kScaleBar / heading.bar_measures;
  const Page drawing = scaled(long_page, factor);
  const Page blank = sheet(heading.paper);
  const double high = blank.height - 2 * kMargin - kFoot, step = high - kOverlap;
  const int count = drawing.height <= high ? 1 : static_cast<int>(std::ceil((drawing.height - kOverlap) / step));
  std::vector<Page> out;
  for (int i = 0; i < count; ++i) {
    Page page = blank;
    const double from = step * i, down = kMargin - from;
    const Box window{kMargin, kMargin, kMargin + drawing.width, kMargin + std::min(high, drawing.height - from)};
    for (Path path : drawing.paths) {
      for (Vertex& v : path.points) move(v, kMargin, down);
      Box clip = window;
      if (path.clip) clip = {std::max(clip.x0, path.clip->x0 + kMargin), std::max(clip.y0, path.clip->y0 + down), std::min(clip.x1, path.clip->x1 + kMargin), std::min(clip.y1, path.clip->y1 + down)};
      if (clip.x0 >= clip.x1 || clip.y0 >= clip.y1) continue;
      path.clip = clip;
      page.paths.push_back(std::move(path));
    }
    for (Text text : drawing.texts) {
      text.x += kMargin;
      text.y += down;
      const Box box = box_of(text);
      if (box.y0 >= window.y0 - 0.5 && box.y1 <= window.y1 + 1.5) page.texts.push_back(std::move(text));
    }
    const double right = page.width - kMargin - 24;
    if (i > 0) add_register(page, right, kMargin + kOverlap / 2, std::to_string(i) + "|" + std::to_string(i + 1));
    if (i + 1 < count) add_register(page, right, kMargin + step + kOverlap / 2, std::to_string(i + 1) + "|" + std::to_string(i + 2));
    add_bar(page, page.width - kMargin - 8, kMargin + (high - kScaleBar * factor) / 2, kScaleBar * factor, heading);
    const std::string says = title + ", tile " + std::to_string(i + 1) + " of " + std::to_string(count) + (count > 1 ? ": lay the crosses of the same number over one another" : "");
    page.texts.push_back({kMargin, page.height - kMargin - 3, fitted({0, 0, says, 3.0}, page.width - 2 * kMargin), 3.0});
    page.texts.push_back({kMargin, page.height - kMargin + 1.5, fitted({0, 0, heading.title + (heading.order_line().empty() ? "" : ", " + heading.order_line()) + "; print at 100 %, not fitted to the page", 2.6}, page.width - 2 * kMargin), 2.6, Align::left, Face::plain, Ink::grey});
    out.push_back(std::move(page));
  }
  return out;
}

Page story_stick(const shape::Part& turned, const std::string& title, const Heading& heading) {
  constexpr double kSize = 3.0, kPitch = 4.2, kEdge = 4;
  Page page;
  page.height = turned.length;
  std::vector<Vertex> side = side_line(turned, 0);
  double r = 0;
  for (const Vertex& v : side) r = std::max(r, v.y);
  // the half profile stands on the stick's edge
  side.insert(side.begin(), {0, 0, 0});
  side.push_back({turned.length, 0, 0});
  page.paths.push_back({upright(side, 0, kEdge), true, Pen::edge, Fill::light, Box{0, 0, 150, turned.length}});
  std::vector<Mark> marks;
  for (const Mark& mark : marks_of(turned, heading))
    if (mark.greatest > 0 || !mark.element.empty()) marks.push_back(mark);
  std::vector<double> wanted;
  for (const Mark& mark : marks) wanted.push_back(mark.x);
  const double need = kPitch * static_cast<double>(marks.size());
  const std::vector<double> places = spread(wanted, std::min(kPitch, (turned.length - 4) / std::max(1.0, need / kPitch)), 2.4, std::max(turned.length - 1.5, 2.4 + need));
  const double bend = kEdge + r + 6, words = bend + 14;
  double figures = 0;
  for (const Mark& mark : marks) figures = std::max(figures, text_width({0, 0, heading.figure(mark.x), kSize, Align::left, Face::bold}));
  for (std::size_t i = 0; i < marks.size(); ++i) {
    const Mark& mark = marks[i];
    const bool measured = mark.greatest > 0;
    if (measured) {
      page.paths.push_back({{{0, mark.x}, {bend, mark.x}, {words - 2, places[i]}}, false, mark.boundary ? Pen::edge : Pen::thin});
      page.texts.push_back({words + figures, places[i] + kSize * 0.36, heading.figure(mark.x), kSize, Align::right, Face::bold});
    }
    const std::string says = mark.size + (mark.size.empty() || mark.element.empty() ? "" : "  ") + mark.element;
    page.texts.push_back({words + figures + 3, places[i] + kSize * 0.36, says, kSize, Align::left, Face::plain, measured ? Ink::black : Ink::grey});
  }
  page.width = 0;
  for (const Text& text : page.texts) page.width = std::max(page.width, box_of(text).x1);
  page.texts.push_back({page.width + 5, std::min(turned.length - 4, 4 + text_width({0, 0, title, kSize})), title, kSize, Align::left, Face::plain, Ink::grey, true});
  page.width += 8;
  return page;
}

Page profile_template(const shape::Part& turned, const Heading& heading) {
  constexpr double kGrip = 30, kAxis = 6;  // mm: of paper beyond the thickest place, and left of the axis
  Page page;
  page.height = turned.length;
  std::vector<Vertex> side = side_line(turned, 0);
  double r = 0;
  for (const Vertex& v : side) r = std::max(r, v.y);
  const double edge = r + kGrip;
  std::vector<Vertex> outside = side;
  outside.insert(outside.begin(), {0, edge, 0});
  outside.push_back({turned.length, edge, 0});
  page.width = kAxis + edge + 2;
  const Box clip{0, 0, page.width, turned.length};
  page.paths.push_back({upright(outside, 0, kAxis), true, Pen::edge, Fill::light, clip});
  add_line(page, kAxis, 0, kAxis, turned.length, Pen::axis);
  double last = -1e9;
  for (const shape::ElementMark& element : turned.elements) {
    add_line(page, kAxis + edge - 12, element.x0, kAxis + edge, element.x0, Pen::thin);
    if (element.x0 - last < 4.5) continue;
    last = element.x0;
    page.texts.push_back({kAxis + edge - 13, std::clamp(element.x0 + 1.1, 3.2, turned.length - 1), heading.figure(element.x0), 2.8, Align::right});
  }
  page.texts.push_back({2.6, std::min(turned.length - 4, 4 + text_width({0, 0, "axis", 2.6})), "axis", 2.6, Align::left, Face::plain, Ink::grey, true});
  return page;
}

Dxf stick_dxf(const shape::Part& turned) {
  Dxf out;
  std::vector<Vertex> line = side_line(turned, 0);
  for (std::size_t i = 0; i + 1 < line.size(); ++i) out.shapes.push_back({"PROFILE", {line[i], {line[i + 1].x, line[i + 1].y, 0}}, false});
  line.insert(line.begin(), {0, 0, 0});
  line.push_back({turned.length, 0, 0});
  out.shapes.push_back({"CUT", line, true});
  for (const shape::ElementMark& element : turned.elements) {
    const double r = std::min(element.d_start, element.d_greatest > 0 ? element.d_greatest : element.d_start) / 2;
    if (element.x0 > 0) out.shapes.push_back({"MARKS", {{element.x0, 0}, {element.x0, std::max(2.0, 0.4 * r)}}, false});
    out.texts.push_back({"WORDS", (element.x0 + element.x1) / 2, 1, std::min(2.5, 0.3 * r), element.label});
  }
  return out;
}

std::vector<Template> templates_of(const Piece& piece, const Heading& heading) {
  std::vector<Template> out;
  for (int face = 0; face < 4; ++face)
    if (const FaceJoints joints = joints_on(piece.part, face * kQuarter); joints.low < joints.high) out.push_back(face_template(piece, face, joints, heading));
  return out;
}

Dxf piece_dxf(const Piece& piece) {
  Dxf out;
  double half = 0;
  for (const Vertex& v : contour(piece.part, 0)) half = std::max(half, std::fabs(v.y));
  for (int face = 0; face < 4; ++face) {
    const double phi = face * kQuarter, up = face * 3 * half;
    const std::string layer = "FACE_" + letter(face);
    // y upwards: seen from outside with the head at the left t falls, as on the drawing
    const auto placed = [&](std::vector<Vertex> line) {
      for (Vertex& v : line) v = {v.x, up - v.y, -v.bulge};
      return line;
    };
    out.shapes.push_back({layer + "-OUTLINE", placed(contour(piece.part, phi)), true});
    out.shapes.push_back({layer + "-AXIS", placed({{0, 0}, {piece.part.length, 0}}), false});
    const LegView seen = leg_view(piece.part, phi);
    for (const auto* lines : {&seen.rings, &seen.pommels, &seen.arrises, &seen.turns})
      for (const Line& line : *lines) {
        std::vector<Vertex> edge;
        for (const Point& point : line) edge.push_back({point.x, point.t});
        out.shapes.push_back({layer + "-EDGES", placed(std::move(edge)), false});
      }
    const FaceJoints joints = joints_on(piece.part, phi);
    for (const auto& line : joints.outlines) out.shapes.push_back({layer + "-JOINTS", placed(line), true});
    for (const auto& [x, t, r] : joints.circles) out.shapes.push_back({layer + "-JOINTS", placed({{x, t}}), false, r});
    out.texts.push_back({layer + "-WORDS", 0, up + 1.2 * half, half / 5, piece.label + ", face " + letter(face) + ", millimetres"});
  }
  return out;
}

}  // namespace pommel::paper
