#include "paper/drawing.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <tuple>

#include "base/text.h"
#include "paper/flow.h"
#include "paper/leg_view.h"
#include "paper/side_line.h"
#include "paper/treatment_words.h"
#include "shape/crease.h"
#include "shape/mortise.h"

namespace pommel::paper {
namespace {

using shape::Part;

constexpr double kQuarter = std::numbers::pi / 2;
constexpr double kSize = 2.8, kPitch = 3.5;        // of the labels that stand upright along the piece, mm
constexpr double kLeader = 6, kGap = 1.4;          // mm: room for leaders, and between wood and leader
constexpr int kMostRows = 4;

bool looks(double a, double b) { return std::fabs(std::remainder(a - b, 4 * kQuarter)) < 1e-6; }

struct Tag {
  double x = 0;
  std::string text;
  Face face = Face::plain;
};

// A piece seen on one face, with what stands over and under it.
struct View {
  std::string title;
  std::vector<std::string> notes;
  double phi = 0;
  bool faced = false;  ///< shows the joints of the face seen as they are; else all joints, dashed
  double x0 = 0, x1 = 0;
  std::vector<Tag> above, below;
};

double widest(const std::vector<Tag>& tags) {
  double width = 0;
  for (const Tag& tag : tags) width = std::max(width, text_width({0, 0, tag.text, kSize, Align::left, tag.face}));
  return width;
}

// What is seen of the piece from one side: worked out once, for all rows and faces.
struct Seen {
  std::vector<Vertex> contour;
  LegView view;
};

// A stretch of a view on paper.
class Row {
 public:
  Row(Page& page, const Piece& piece, const Heading& heading, const View& view, const Seen& seen, double x0, double x1, double scale, double left, double axis, double half)
      : page_(page), piece_(piece), heading_(heading), view_(view), seen_(seen), x0_(x0), x1_(x1), scale_(scale), left_(left), axis_(axis), half_(half * scale) {}

  void paint() {
    const double over = 0.4;
    clip_ = {x(x0_) - over, axis_ - half_ - 2, x(x1_) + over, axis_ + half_ + 2};
    add(seen_.contour, true, Pen::outline, Fill::light);
    const LegView& seen = seen_.view;
    for (const auto* lines : {&seen.rings, &seen.pommels, &seen.arrises})
      for (const Line& line : *lines) add(vertices(line), false, Pen::edge);
    for (const Line& bottom : seen.turns) add(vertices(bottom), false, Pen::hair);
    if (view_.faced) {
      joints();
    } else {
      for (const auto* lines : {&seen.mortises, &seen.bores})
        for (const Line& line : *lines) add(vertices(line), true, Pen::hidden);
      for (const Line& line : seen.cuts) add(vertices(line), false, Pen::hidden);
    }
    add_line(page_, x(x0_) - 3, axis_, x(x1_) + 3, axis_, Pen::axis);
    if (x0_ > 1e-6) break_line(x(x0_));
    if (x1_ < piece_.part.length - 1e-6) break_line(x(x1_));
    tags(view_.above, axis_ - half_ - kGap, -1);
    tags(view_.below, axis_ + half_ + kGap, 1);
  }

 private:
  double x(double mm) const { return left_ + (mm - x0_) * scale_; }

  static std::vector<Vertex> vertices(const Line& line) {
    std::vector<Vertex> out;
    for (const Point& point : line) out.push_back({point.x, point.t, 0});
    return out;
  }

  void add(std::vector<Vertex> line, bool closed, Pen pen, Fill fill = Fill::none) {
    bool inside = false;
    for (Vertex& v : line) v = {x(v.x), axis_ + v.y * scale_, v.bulge};
    for (std::size_t i = 0; i + 1 < line.size(); ++i)
      inside = inside || (std::min(line[i].x, line[i + 1].x) <= clip_.x1 && std::max(line[i].x, line[i + 1].x) >= clip_.x0);
    if (inside) page_.paths.push_back({std::move(line), closed, pen, fill, clip_});
  }

  // Joints let into the face that is seen, as its outline lies on the wood.
  void joints() {
    for (const shape::Mortise& m : piece_.part.mortises) {
      if (!looks(m.phi, view_.phi)) continue;
      if (m.haunch_length > 0) pocket(m.x0 - m.haunch_length, m.x1, m.t0, m.t1, m.corner_radius);
      pocket(m.x0, m.x1, m.t0, m.t1, m.corner_radius);
      if (m.x0 >= x0_ && m.x0 <= x1_) across(m);
    }
    for (const shape::Bore& bore : piece_.part.bores) {
      const bool here = looks(bore.phi, view_.phi), out_here = looks(bore.phi, view_.phi + 2 * kQuarter) && shape::goes_through(piece_.part, bore);
      if (!here && !out_here) continue;
      const double t = here ? bore.t : -bore.t;
      if (here && bore.seat_diameter > 0) circle(bore.x, t, bore.seat_diameter / 2);
      circle(bore.x, t, bore.diameter / 2);
    }
  }

  void pocket(double x0, double x1, double t0, double t1, double r) {
    const double b = std::tan(std::numbers::pi / 8);
    if (r <= 0) add({{x0, t0}, {x1, t0}, {x1, t1}, {x0, t1}}, true, Pen::edge, Fill::joint);
    else add({{x0 + r, t0}, {x1 - r, t0, b}, {x1, t0 + r}, {x1, t1 - r, b}, {x1 - r, t1}, {x0 + r, t1, b}, {x0, t1 - r}, {x0, t0 + r, b}}, true, Pen::edge, Fill::joint);
  }

  void circle(double at, double t, double r) {
    add({{at - r, t, 1}, {at + r, t, 1}}, true, Pen::edge, Fill::joint);
    const double reach = r * scale_ + 1.5;
    add_line(page_, x(at), axis_ + t * scale_ - reach, x(at), axis_ + t * scale_ + reach, Pen::axis);
  }

  // From the nearer edge to the mortise, and its width, on a line across it near its head end, or near its foot end where a bore is in the
  // way; left to the sections where there is no room.
  void across(const shape::Mortise& m) {
    const double edge = piece_.square / 2;
    const bool far = edge - m.t1 <= edge + m.t0;
    const double stops[] = {far ? edge : -edge, far ? m.t1 : m.t0, far ? m.t0 : m.t1};
    const std::string figures[] = {heading_.figure(std::fabs(stops[1] - stops[0])), heading_.figure(m.t1 - m.t0)};
    const double width = 2 + std::max(text_width({0, 0, figures[0], kSize}), text_width({0, 0, figures[1], kSize}));
    double at = x(m.x0) + 5;
    if (!clear_of_bores(at, at + width)) at = x(std::min(m.x1, x1_)) - 2 - width;
    if (at < x(m.x0) + 2 || !clear_of_bores(at, at + width) || at + width > x(x1_)) return;
    for (int i = 0; i < 2; ++i) {
      const double y0 = axis_ + stops[i] * scale_, y1 = axis_ + stops[i + 1] * scale_, middle = (y0 + y1) / 2;
      if (std::fabs(y1 - y0) < 4 || std::fabs(middle - axis_) < kSize * 0.6) continue;  // no room, or the axis runs there
      add_line(page_, at, y0, at, y1, Pen::thin);
      add_arrow(page_, at, y0, 0, y0 - y1);
      add_arrow(page_, at, y1, 0, y1 - y0);
      page_.texts.push_back({at + 1, middle + kSize * 0.36, figures[i], kSize});
    }
  }

  bool clear_of_bores(double from, double to) const {
    for (const shape::Bore& bore : piece_.part.bores) {
      if (!looks(bore.phi, view_.phi) && !looks(bore.phi, view_.phi + 2 * kQuarter)) continue;
      const double reach = std::max(bore.diameter, bore.seat_diameter) / 2 * scale_ + 1;
      if (x(bore.x) + reach > from && x(bore.x) - reach < to) return false;
    }
    return true;
  }

  void break_line(double at) {
    const double reach = half_ + 1.5;
    page_.paths.push_back({{{at, axis_ - reach, 0.25}, {at, axis_, -0.25}, {at, axis_ + reach}}, false, Pen::thin});
  }

  // Leaders leave the wood upright and bend to where their label found room. `way`: -1 upwards, 1 downwards.
  void tags(const std::vector<Tag>& all, double from, int way) {
    std::vector<const Tag*> here;
    for (const Tag& tag : all)
      if (tag.x >= x0_ - 1e-6 && tag.x <= x1_ + 1e-6) here.push_back(&tag);
    std::vector<double> wanted;
    for (const Tag* tag : here) wanted.push_back(x(tag->x));
    const double low = x(x0_) - 4, high = std::max(x(x1_) + 4, low + kPitch * static_cast<double>(here.size()));
    const std::vector<double> places = spread(wanted, kPitch, low, high);
    for (std::size_t i = 0; i < here.size(); ++i) {
      const double end = from + way * kLeader;
      page_.paths.push_back({{{wanted[i], from}, {wanted[i], from + way * 2}, {places[i], end - way * 1.4}, {places[i], end - way * 0.4}}, false, Pen::hair});
      page_.texts.push_back({places[i] + kSize * 0.36, end, here[i]->text, kSize, way < 0 ? Align::left : Align::right, here[i]->face, Ink::black, true});
    }
  }

  Page& page_;
  const Piece& piece_;
  const Heading& heading_;
  const View& view_;
  const Seen& seen_;
  double x0_, x1_, scale_, left_, axis_, half_;
  Box clip_;
};

double half_of(const std::vector<const Seen*>& sides) {
  double half = 0;
  for (const Seen* seen : sides)
    for (const Vertex& v : seen->contour) half = std::max(half, std::fabs(v.y));
  return half;
}

// Where a long view is broken off: near equal shares, as far from the marks as can be.
std::vector<double> breaks(const View& view, int rows) {
  std::vector<double> out = {view.x0};
  const double share = (view.x1 - view.x0) / rows;
  for (int i = 1; i < rows; ++i) {
    const double wish = view.x0 + share * i;
    double best = wish, clear = -1;
    for (int step = -20; step <= 20; ++step) {
      const double x = wish + step * share * 0.1 / 20;
      double nearest = 1e9;
      for (const auto* tags : {&view.above, &view.below})
        for (const Tag& tag : *tags) nearest = std::min(nearest, std::fabs(tag.x - x));
      nearest -= std::fabs(x - wish) * 0.1;
      if (nearest > clear) {
        clear = nearest;
        best = x;
      }
    }
    out.push_back(best);
  }
  out.push_back(view.x1);
  return out;
}

class Sheets {
 public:
  Sheets(const Piece& piece, const Heading& heading)
      : piece_(piece), heading_(heading), blank_(sheet(heading.paper, true)), area_(drawing_area(blank_)), half_(half_of({&seen(0), &seen(kQuarter)})), flow_(blank_, area_) {}

  std::vector<Page> take() {
    elevation();
    faces();
    which();
    sections();
    elements();
    std::vector<Page> pages = flow_.take();
    scale_of_.resize(pages.size(), "-");
    add_title_blocks(pages, piece_, heading_, scale_of_);
    return pages;
  }

 private:
  const Seen& seen(double phi) {
    const int side = static_cast<int>(std::lround(phi / kQuarter));
    const auto known = seen_.find(side);
    return known != seen_.end() ? known->second : seen_.emplace(side, Seen{contour(piece_.part, phi), leg_view(piece_.part, phi)}).first->second;
  }

  void note_scale(const std::string& text) {
    scale_of_.resize(std::max(scale_of_.size(), pages_before_ + 1), "");
    std::string& here = scale_of_[pages_before_];
    if (here.empty()) here = text;
    else if (here != text) here = "as said";
  }

  void next_page() {
    flow_.new_page();
    ++pages_before_;
  }
  void room(double height) {
    if (flow_.y() + height > area_.y1 && flow_.y() > area_.y0) next_page();
  }

  double widest_row() const { return area_.width() - 10; }

  Scale scale_for(const View& view, int& rows) const {
    for (const Scale& scale : scales(heading_.lengths.unit != LengthUnit::millimetre)) {
      rows = static_cast<int>(std::ceil((view.x1 - view.x0) * scale.factor * 1.06 / widest_row()));
      const double crowd = static_cast<double>(std::max(view.above.size(), view.below.size())) * kPitch / rows;
      if (rows <= (scale.factor == 1 ? 1 : view.faced ? 2 : kMostRows) && !(scale.factor == 1 && view.faced) && half_ * scale.factor <= 45 && crowd * 1.5 < widest_row()) return scale;
    }
    rows = 1;
    return scales(heading_.lengths.unit != LengthUnit::millimetre).back();
  }

  struct Stretch {
    double x0 = 0, x1 = 0;
    double over = 0, under = 0;  ///< mm on paper that its labels take
  };

  std::vector<Stretch> stretches(const View& view, int rows) const {
    const std::vector<double> at = breaks(view, rows);
    std::vector<Stretch> out;
    for (std::size_t i = 0; i + 1 < at.size(); ++i) {
      const auto room_for = [&](const std::vector<Tag>& tags) {
        std::vector<Tag> here;
        for (const Tag& tag : tags)
          if (tag.x >= at[i] - 1e-6 && tag.x <= at[i + 1] + 1e-6) here.push_back(tag);
        return here.empty() ? 4 : widest(here) + kLeader + kGap;
      };
      out.push_back({at[i], at[i + 1], room_for(view.above), room_for(view.below)});
    }
    return out;
  }

  // Title and notes, wrapped to `width`; what stands under them begins where this ends.
  double add_words(const View& view, const Scale& scale, double x, double y, double width) {
    flow_.page().texts.push_back({x, y + 4.5, view.title + ", " + scale.text, 3.6, Align::left, Face::bold});
    y += 5.2;
    for (const std::string& note : view.notes)
      for (const std::string& line : broken(note, kSize, Face::plain, width)) {
        y += 4;
        flow_.page().texts.push_back({x, y, line, kSize});
      }
    return y;
  }
  double words_height(const View& view, double width) const {
    double height = 5.2;
    for (const std::string& note : view.notes) height += 4 * static_cast<double>(broken(note, kSize, Face::plain, width).size());
    return height;
  }

  void add_row(const View& view, const Stretch& s, const Scale& scale, double middle, double top) {
    const double wide = (s.x1 - s.x0) * scale.factor;
    Row(flow_.page(), piece_, heading_, view, seen(view.phi), s.x0, s.x1, scale.factor, middle - wide / 2, top + s.over + half_ * scale.factor, half_).paint();
  }
  double row_height(const Stretch& s, const Scale& scale) const { return s.over + s.under + 2 * half_ * scale.factor; }

  void show(const View& view) {
    int rows = 1;
    const Scale scale = scale_for(view, rows);
    const std::vector<Stretch> parts = stretches(view, rows);
    room(words_height(view, area_.width()) + row_height(parts.front(), scale) + 2);
    note_scale(scale.text);
    flow_.down(add_words(view, scale, area_.x0, flow_.y(), area_.width()) - flow_.y());
    for (const Stretch& part : parts) {
      room(row_height(part, scale) + 2);
      note_scale(scale.text);
      add_row(view, part, scale, (area_.x0 + area_.x1) / 2, flow_.y() + 2);
      flow_.down(row_height(part, scale) + 2);
    }
  }

  // Short views stand two beside one another.
  void show_beside(const View& one, const View& other) {
    int rows = 1;
    const Scale scale = scale_for(one, rows);
    const double width = area_.width() / 2 - 6;
    const Stretch a = stretches(one, 1).front(), b = stretches(other, 1).front();
    const double words = std::max(words_height(one, width), words_height(other, width));
    const double high = words + 2 + std::max(row_height(a, scale), row_height(b, scale));
    room(high);
    note_scale(scale.text);
    const double over = std::max(a.over, b.over);
    for (const auto& [view, stretch, x] : {std::tuple{&one, &a, area_.x0}, std::tuple{&other, &b, area_.x0 + width + 12}}) {
      add_words(*view, scale, x, flow_.y(), width);
      add_row(*view, *stretch, scale, x + width / 2, flow_.y() + words + 2 + over - stretch->over);
    }
    flow_.down(high + 2);
  }

  bool is_short(const View& view) const {
    int rows = 1;
    const Scale scale = scale_for(view, rows);
    return rows == 1 && (view.x1 - view.x0) * scale.factor < area_.width() / 2 - 18;
  }

  void elevation() {
    View view;
    view.phi = seen_face(piece_.part);
    view.title = "Elevation, seen on face " + letter(view.phi);
    view.notes = {"Above: elements, and diameters for the calliper. Below: places from the head. Dashed: joints, on whatever face they are" + std::string(piece_.part.end_cuts.empty() ? "." : ", and where an end is sawn after turning.")};
    view.x1 = piece_.part.length;
    for (const Mark& mark : marks_of(piece_.part, heading_)) {
      view.above.push_back({mark.x, mark.element + (mark.element.empty() || mark.size.empty() ? "" : "  ") + mark.size, mark.element.empty() ? Face::plain : Face::bold});
      if (mark.greatest > 0) view.below.push_back({mark.x, heading_.figure(mark.x)});
    }
    show(view);
  }

  static std::string letter(double phi) { return std::string(1, static_cast<char>('A' + static_cast<int>(std::lround(phi / kQuarter)) % 4)); }

  // The face as it is marked out; a view without places below has nothing on it.
  View face_view(double phi) const {
    View view;
    view.phi = phi;
    view.faced = true;
    view.title = "Face " + letter(phi);
    double low = 1e9, high = -1e9;
    const auto take = [&](double x0, double x1, const std::string& name) {
      low = std::min(low, x0);
      high = std::max(high, x1);
      view.above.push_back({(x0 + x1) / 2, name, Face::bold});
      for (const double x : {x0, x1})
        if (view.below.empty() || view.below.back().x != x) view.below.push_back({x, heading_.figure(x)});
    };
    for (const shape::Mortise& m : piece_.part.mortises) {
      if (!looks(m.phi, phi)) continue;
      take(m.x0, m.x1, m.mate);
      if (m.haunch_length > 0) view.below.push_back({m.x0 - m.haunch_length, heading_.figure(m.x0 - m.haunch_length)});
      low = std::min(low, m.x0 - m.haunch_length);
    }
    for (const shape::Bore& bore : piece_.part.bores)
      if (looks(bore.phi, phi)) take(bore.x, bore.x, bore.id.empty() ? bore.mate : bore.id);
    for (const std::string& line : piece_.joints)
      if (line.find(", face " + letter(phi) + ", for ") != std::string::npos) view.notes.push_back(line);
    const auto by_place = [](const Tag& a, const Tag& b) { return a.x < b.x; };
    std::stable_sort(view.above.begin(), view.above.end(), by_place);
    std::stable_sort(view.below.begin(), view.below.end(), by_place);
    view.x0 = low < 120 ? 0 : low - 25;
    view.x1 = std::min(piece_.part.length, high + 25);
    return view;
  }

  void faces() {
    std::vector<View> views;
    for (int face = 0; face < 4; ++face)
      if (View view = face_view(face * kQuarter); !view.below.empty()) views.push_back(std::move(view));
    // short ones first, so that two of them find one another
    std::stable_sort(views.begin(), views.end(), [&](const View& a, const View& b) { return is_short(a) > is_short(b); });
    for (std::size_t i = 0; i < views.size(); ++i) {
      if (i + 1 < views.size() && is_short(views[i]) && is_short(views[i + 1])) {
        show_beside(views[i], views[i + 1]);
        ++i;
      } else {
        show(views[i]);
      }
    }
  }

  void sections() {
    const std::vector<SectionPlace> places = section_places(piece_.part);
    const auto& known = scales(heading_.lengths.unit != LengthUnit::millimetre);
    const double title = 8;  // mm on paper: the words over it
    const Scale scale = places.size() > 2 || half_ > 45 ? known[1] : known[0];
    const bool bare = std::none_of(places.begin(), places.end(), [&](const SectionPlace& place) { return section_has_faces(piece_.part, place.x); });
    const double cell = 2 * half_ * scale.factor + (bare ? 6 : 2 * 22);  // dimensions and letters on all sides
    const std::vector<std::vector<std::size_t>> rows = section_rows(places, scale.factor, cell);
    for (std::size_t row = 0; row < rows.size(); ++row) {
      room(cell + title + (row == 0 ? 12 : 0));
      note_scale(scale.text);
      if (row == 0) {
        if (flow_.y() > area_.y0) flow_.down(4);
        flow_.page().texts.push_back({area_.x0, flow_.y() + 5, "Sections, seen from the foot, " + scale.text, 3.6, Align::left, Face::bold});
        flow_.down(8);
      }
      double needed = 0;
      for (const std::size_t i : rows[row]) needed += section_width(places[i], scale.factor, cell);
      const double gap = (area_.width() - needed) / static_cast<double>(rows[row].size());
      double left = area_.x0;
      for (const std::size_t i : rows[row]) {
        const double wide = section_width(places[i], scale.factor, cell) + gap, cx = left + wide / 2;
        add_section(flow_.page(), piece_, heading_, places[i].x, scale.factor, cx, flow_.y() + title + cell / 2);
        flow_.page().texts.push_back({cx, flow_.y() + 4, fitted({0, 0, said_of(places[i]), 2.8}, wide - 2), 2.8, Align::centre});
        left += wide;
      }
      flow_.down(cell + title);
    }
  }

  // A round section has nothing beside it.
  double section_width(const SectionPlace& place, double scale, double cell) const {
    return section_has_faces(piece_.part, place.x) ? cell : std::max(2 * half_ * scale, text_width({0, 0, said_of(place), 2.8}) + 3);
  }

  std::vector<std::vector<std::size_t>> section_rows(const std::vector<SectionPlace>& places, double scale, double cell) const {
    std::vector<std::vector<std::size_t>> out;
    double left = 0;
    for (std::size_t i = 0; i < places.size(); ++i) {
      const double wide = section_width(places[i], scale, cell);
      if (out.empty() || wide > left) {
        out.emplace_back();
        left = area_.width();
      }
      out.back().push_back(i);
      left -= wide;
    }
    return out;
  }

  std::string said_of(const SectionPlace& place) const {
    std::string out = "at " + heading_.figure(place.x);
    for (const double x : place.alike) out += " and " + heading_.figure(x);
    return out + ": " + section_words(piece_.part, place.x, heading_);
  }

  void which() {
    const std::vector<std::string> treatments = treatment_lines(piece_.part, heading_);
    std::vector<std::string> lines = {piece_.reason};
    for (const std::string& line : piece_.joints)
      if (line.find(", face ") == std::string::npos) lines.push_back(line);  // those of faces stand beside their views
    room(24 + 8 * static_cast<double>(treatments.size() + lines.size()));
    flow_.heading("Which pieces");
    for (const std::string& line : lines) flow_.paragraph(line, 2.9);
    if (treatments.empty()) return;
    flow_.heading("Treatments, in " + heading_.unit());
    for (const std::string& line : treatments) flow_.paragraph(line, 2.9);
  }

  void elements() {
    const Part& part = piece_.part;
    std::vector<TableRow> rows;
    int number = 0;
    for (const shape::ElementMark& e : part.elements) {
      const double low = std::min(e.d_start, e.d_end), high = std::max(e.d_start, e.d_end);
      const bool square = e.kind == "square";
      const auto size = [&](double d) { return (square ? "□ " : "⌀ ") + heading_.figure(d); };
      rows.push_back({{std::to_string(++number), e.label, e.label == e.kind ? "" : e.kind, heading_.figure(e.x0), heading_.figure(e.x1), heading_.figure(e.x1 - e.x0), size(e.d_start),
                       e.d_greatest > high + 0.05 ? size(e.d_greatest) : e.d_least < low - 0.05 ? size(e.d_least) : "", size(e.d_end), ""}});
    }
    const double rest = area_.width() - 9 - 50 - 30 - 6 * 24;
    const std::vector<Column> columns = {{"no.", 9}, {"element", 50}, {"kind", 30}, {"from", 24, Align::right}, {"to", 24, Align::right}, {"length", 24, Align::right},
                                         {"at its head end", 24, Align::right}, {"crest or hollow", 24, Align::right}, {"at its foot end", 24, Align::right}, {"", rest}};
    // whole on one sheet where it can be
    if (const double high = Flow::kHeading + Flow::table_height(columns, rows, 2.6); high <= area_.height()) room(high);
    flow_.heading("Elements, from the head");
    flow_.table(columns, rows, 2.6);
  }

  const Piece& piece_;
  const Heading& heading_;
  Page blank_;
  Box area_;
  std::map<int, Seen> seen_;  ///< by quarter turns
  double half_;
  Flow flow_;
  std::vector<std::string> scale_of_;
  std::size_t pages_before_ = 0;
};

}  // namespace

std::vector<Page> shop_drawing(const Piece& piece, const Heading& heading) { return Sheets(piece, heading).take(); }

}  // namespace pommel::paper
