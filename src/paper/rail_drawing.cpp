#include "paper/rail_drawing.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "base/text.h"
#include "paper/drawing.h"
#include "paper/flow.h"

namespace pommel::paper {
namespace {

using frame::Rail;

constexpr double kFigure = 2.8, kPast = 0.8;  // mm on paper: lettering, extension lines past their dimension
constexpr double kInside = 46;                // mm on paper of a rail's body that is shown at each end

// All rails that one drawing serves.
struct Alike {
  const Rail* rail = nullptr;
  std::vector<std::string> labels;
  int quantity = 0;
};

auto sizes_of(const Rail& r) {
  return std::tuple(r.noun, r.shoulder_length, r.overall_length, r.depth, r.thickness, r.tenon_length, r.tenon_thickness, r.tenon_width, r.haunch_length, r.haunch_depth, r.mitred, r.top_shoulder,
                    r.bottom_shoulder, r.tenon_offset, r.bolt_reach);
}

std::vector<Alike> alike_rails(const frame::Set& set) {
  std::vector<Alike> out;
  for (const Rail& rail : set.rails) {
    auto known = std::find_if(out.begin(), out.end(), [&](const Alike& one) { return sizes_of(*one.rail) == sizes_of(rail); });
    if (known == out.end()) known = out.insert(out.end(), {&rail, {}, 0});
    known->labels.push_back(rail.label);
    known->quantity += rail.quantity;
  }
  return out;
}

// Boards that become one panel before their ends are cut.
bool makes_a_panel(const Rail& rail) { return rail.quantity > 1 && rail.tenon_length > 0; }

// A panel's tongues are cut when it is glued: until then its boards go from tongue to tongue, whole.
bool has_tongues(const Rail& rail) { return makes_a_panel(rail) && rail.tenon_width < rail.depth * rail.quantity - 0.01; }

Rail as_sawn(Rail rail) {
  if (!has_tongues(rail)) return rail;
  rail.shoulder_length = rail.overall_length;
  rail.tenon_length = rail.bolt_reach = 0;
  return rail;
}

// One of the two views: sizes across it, from its upper edge down.
struct Across {
  double wide = 0;                         ///< of the body
  double tenon0 = 0, tenon1 = 0;           ///< from the upper edge
  double haunch = 0;                       ///< above the tenon; 0: none or not seen so
  std::vector<double> bolts;               ///< from the upper edge to their middles
  double bolt_wide = 0;
};

class EndViews {
 public:
  /// `whole`: there is room for the whole length; else what lies between the ends is broken out.
  EndViews(Page& page, const Rail& rail, const Heading& heading, double scale, bool whole) : page_(page), rail_(rail), heading_(heading), scale_(scale), whole_(whole) {}

  /// The body's upper edge at `top`; both ends, left and right, between `left` and `right`.
  void paint(const Across& across, double left, double right, double top) {
    const double wide = across.wide * scale_, tenon = rail_.tenon_length * scale_;
    const double shoulder0 = left + tenon, shoulder1 = right - tenon;
    if (whole_) add_box(page_, {shoulder0, top, shoulder1, top + wide}, Pen::outline, Fill::wood);
    for (const auto& [shoulder, way] : {std::pair{shoulder0, 1.0}, std::pair{shoulder1, -1.0}}) {
      const double inner = shoulder + way * kInside;
      if (!whole_) page_.paths.push_back({{{inner, top}, {shoulder, top}, {shoulder, top + wide}, {inner, top + wide}}, false, Pen::outline, Fill::wood});
      if (!whole_) page_.paths.push_back({{{inner, top - 1.5, 0.25}, {inner, top + wide / 2, -0.25}, {inner, top + wide + 1.5}}, false, Pen::thin});
      paint_tenon(across, shoulder, way, top);
      paint_bolts(across, shoulder, way, top);
    }
  }

  /// A hole plumb through the middle: seen from its mouth, and dashed below from the side.
  void paint_hole(const frame::MiddleHole& hole, double middle, double top, double under) {
    const double r = hole.diameter / 2 * scale_, cy = top + rail_.depth / 2 * scale_, bottom = under + std::min(hole.depth, rail_.thickness) * scale_;
    page_.paths.push_back({{{middle - r, cy, 1}, {middle + r, cy, 1}}, true, Pen::edge, Fill::paper});
    page_.paths.push_back({{{middle - r, under}, {middle - r, bottom}, {middle + r, bottom}, {middle + r, under}}, false, Pen::hidden});
  }
  /// Where the middle is.
  void paint_axes(double middle, double top, double under, double reach) {
    const double cy = top + rail_.depth / 2 * scale_;
    add_line(page_, middle - reach, cy, middle + reach, cy, Pen::axis);
    add_line(page_, middle, cy - reach, middle, cy + reach, Pen::axis);
    add_line(page_, middle, under - 2, middle, under + rail_.thickness * scale_ + 2, Pen::axis);
  }

  void level(double x0, double x1, double from, double y, const std::string& figure) {
    for (const double x : {x0, x1}) add_line(page_, x, from, x, y + (y > from ? kPast : -kPast), Pen::thin);
    arrows({x0, y}, {x1, y});
    const double width = text_width({0, 0, figure, kFigure});
    // beside it where it does not go between the arrows
    if (width < std::fabs(x1 - x0) - 2) page_.texts.push_back({(x0 + x1) / 2, y - 1, figure, kFigure, Align::centre});
    else page_.texts.push_back({std::min(x0, x1) - 1.5, y - 1, figure, kFigure, Align::right});
  }

  void plumb(double y0, double y1, double from, double x, const std::string& figure) {
    if (y1 - y0 < kFigure + 0.6) return;  // no room for it; the words below say it
    for (const double y : {y0, y1}) add_line(page_, from, y, x + (x > from ? kPast : -kPast), y, Pen::thin);
    arrows({x, y0}, {x, y1});
    const bool right = x > from;
    page_.texts.push_back({x + (right ? 1.4 : -1.4), (y0 + y1) / 2 + kFigure * 0.36, figure, kFigure, right ? Align::left : Align::right});
  }

 private:
  void paint_tenon(const Across& across, double shoulder, double way, double top) {
    if (!(rail_.tenon_length > 0)) return;
    const double t0 = top + across.tenon0 * scale_, t1 = top + across.tenon1 * scale_;
    const auto out_to = [&](double length, double from, double to) {
      const double end = shoulder - way * length * scale_;
      add_box(page_, {std::min(shoulder, end), from, std::max(shoulder, end), to}, Pen::outline, Fill::light);
    };
    out_to(rail_.tenon_length, t0, t1);
    if (across.haunch > 0) out_to(rail_.haunch_depth, t0 - across.haunch * scale_, t0);
  }

  // dashed, with a cross where the nut is
  void paint_bolts(const Across& across, double shoulder, double way, double top) {
    const double end = shoulder - way * rail_.tenon_length * scale_, nut = shoulder + way * std::min(rail_.bolt_reach * scale_, kInside - 2), r = across.bolt_wide / 2 * scale_;
    for (const double bolt : across.bolts) {
      const double y = top + bolt * scale_;
      page_.paths.push_back({{{end, y - r}, {nut, y - r}, {nut, y + r}, {end, y + r}}, false, Pen::hidden});
      add_line(page_, end - way * 2, y, nut + way * 3, y, Pen::axis);
      add_line(page_, nut, y - r - 2, nut, y + r + 2, Pen::axis);
    }
  }

  void arrows(const Vertex& a, const Vertex& b) {
    const double length = std::hypot(b.x - a.x, b.y - a.y), dx = (b.x - a.x) / length, dy = (b.y - a.y) / length;
    const bool inside = length > 6;
    const double out = inside ? 0 : 4;
    add_line(page_, a.x - dx * out, a.y - dy * out, b.x + dx * out, b.y + dy * out, Pen::thin);
    add_arrow(page_, a.x, a.y, inside ? -dx : dx, inside ? -dy : dy);
    add_arrow(page_, b.x, b.y, inside ? dx : -dx, inside ? dy : -dy);
  }

  Page& page_;
  const Rail& rail_;
  const Heading& heading_;
  double scale_;
  bool whole_;
};

// Wood between the tenon and the outer side.
double outer_cheek(const Rail& rail) { return (rail.thickness - rail.tenon_thickness) / 2 - rail.tenon_offset; }

class Sheets {
 public:
  Sheets(const job::Job& job, const Heading& heading) : job_(job), heading_(heading), blank_(sheet(heading.paper, true)), area_(drawing_area(blank_)) {}

  std::vector<Page> take() {
    std::vector<Page> out;
    for (const Alike& alike : alike_rails(job_.order.made.set)) {
      std::vector<Page> pages{blank_};
      const Scale scale = scale_for(*alike.rail);
      draw(pages.front(), alike, scale);
      add_title_blocks(pages, piece_of(alike), heading_, {scale.text});
      out.push_back(std::move(pages.front()));
    }
    return out;
  }

 private:
  // As large as the sheet's height and the tenons let it.
  Scale scale_for(const Rail& rail) const {
    const auto& known = scales(heading_.lengths.unit != LengthUnit::millimetre);
    for (const Scale& scale : known)
      if ((rail.depth + rail.thickness) * scale.factor <= 86.5 && rail.tenon_length * scale.factor <= 36) return scale;
    return known.back();
  }

  Piece piece_of(const Alike& alike) const {
    Piece piece;
    piece.noun = alike.rail->noun;
    if (alike.labels != std::vector<std::string>{alike.rail->noun}) piece.names = alike.labels;
    piece.quantity = alike.quantity;
    piece.wood = wood_of(*alike.rail);
    piece.section = heading_.figure(alike.rail->depth) + " x " + heading_.length(alike.rail->thickness);
    return piece;
  }

  std::string wood_of(const Rail& rail) const {
    for (const stock::CutRow& row : job_.order.cuts.rows)
      if (row.piece == rail.label) return row.stock_label;
    return job_.order.made.rail_stock;
  }

  void draw(Page& page, const Alike& alike, const Scale& scale) const {
    const Rail rail = as_sawn(*alike.rail);
    const double k = scale.factor, tenon = rail.tenon_length * k, left = area_.x0 + 34, room = area_.x1 - 34 - left;
    const bool whole = rail.overall_length * k <= room;
    const double right = left + (whole ? rail.overall_length * k : room);
    page.texts.push_back({area_.x0, area_.y0 + 4.5, std::to_string(alike.quantity) + " x " + listed(alike.labels), 3.6, Align::left, Face::bold});
    page.texts.push_back({area_.x0, area_.y0 + 10, std::string(rail.holes.empty() ? "From the outer side, and below it from above (outer side below)." : "From above, and below it from the side.") + " Both ends are alike" + (whole ? "." : "; the middle is broken out."), 2.8});
    const double top = area_.y0 + 30;
    EndViews views(page, rail, heading_, k, whole);
    const Bolts bolts = bolts_of(rail);
    const Across side{rail.depth, rail.top_shoulder, rail.depth - rail.bottom_shoulder, rail.haunch_length, bolts.below_edge, bolts.diameter};
    views.paint(side, left, right, top);
    // lengths over the side view
    const auto figure = [&](double mm) { return heading_.figure(mm); };
    views.level(left + tenon, right - tenon, top - 1, top - 6, figure(rail.shoulder_length));
    if (tenon > 0) {
      views.level(left, right, top - 1, top - 13, figure(rail.overall_length));
      views.level(left, left + tenon, top + rail.depth * k + 1, top + rail.depth * k + 6, figure(rail.tenon_length));
    }
    if (const double reach = rail.bolt_reach * k; reach > 0 && reach < kInside - 2)
      views.level(left + tenon, left + tenon + reach, top + rail.depth * k + 1, top + rail.depth * k + 11, figure(rail.bolt_reach));
    // heights at the right
    views.plumb(top, top + rail.depth * k, right - tenon, right + 22, figure(rail.depth));
    if (tenon > 0) {
      views.plumb(top, top + side.tenon0 * k, right, right + 6, figure(side.tenon0));
      views.plumb(top + side.tenon0 * k, top + side.tenon1 * k, right, right + 6, figure(side.tenon1 - side.tenon0));
      views.plumb(top + side.tenon1 * k, top + rail.depth * k, right, right + 6, figure(rail.bottom_shoulder));
    }
    const double under = top + rail.depth * k + 17;
    const double inner = rail.thickness - rail.tenon_thickness - outer_cheek(rail);  // the outer side lies below
    const double across_it = tenon > 0 ? inner + rail.tenon_thickness / 2 : rail.thickness / 2;
    const Across above{rail.thickness, inner, inner + rail.tenon_thickness, 0, bolts.below_edge.empty() ? bolts.below_edge : std::vector{across_it}, bolts.diameter};
    views.paint(above, left, right, under);
    paint_holes(views, rail, (left + right) / 2, top, under, k);
    views.plumb(under, under + rail.thickness * k, right - tenon, right + 22, figure(rail.thickness));
    if (tenon > 0) {
      views.plumb(under, under + above.tenon0 * k, right, right + 6, figure(above.tenon0));
      views.plumb(under + above.tenon0 * k, under + above.tenon1 * k, right, right + 6, figure(rail.tenon_thickness));
      views.plumb(under + above.tenon1 * k, under + rail.thickness * k, right, right + 6, figure(rail.thickness - above.tenon1));
    }
    say(page, *alike.rail, under + rail.thickness * k + 12);
  }

  // The widest first, so that a narrower one stands in it.
  static void paint_holes(EndViews& views, const Rail& rail, double middle, double top, double under, double k) {
    if (rail.holes.empty()) return;
    std::vector<frame::MiddleHole> holes = rail.holes;
    std::sort(holes.begin(), holes.end(), [](const auto& a, const auto& b) { return a.diameter > b.diameter; });
    for (const frame::MiddleHole& hole : holes) views.paint_hole(hole, middle, top, under);
    views.paint_axes(middle, top, under, holes.front().diameter / 2 * k + 3);
  }

  // Bolts at a rail's first end; those of the other stand as high.
  struct Bolts {
    std::vector<double> below_edge;
    double diameter = 0;
  };
  Bolts bolts_of(const Rail& rail) const {
    Bolts out;
    if (!(rail.bolt_reach > 0)) return out;
    for (const frame::Member& member : job_.order.made.set.members) {
      if (member.id != rail.from) continue;
      for (const shape::Bore& bore : member.part.bores)
        if (bore.mate == rail.id) out.below_edge.push_back(bore.x - rail.drop), out.diameter = bore.diameter;
    }
    return out;
  }

  void say(Page& page, const Rail& rail, double y) const {
    const auto line = [&](const std::string& words) {
      for (const std::string& one : broken(words, 3.0, Face::plain, area_.width())) {
        page.texts.push_back({area_.x0, y, one, 3.0});
        y += 4.4;
      }
    };
    const auto size = [&](double mm) { return heading_.length(mm); };
    if (has_tongues(rail)) line(size(rail.overall_length) + " long; " + size(rail.depth) + " by " + size(rail.thickness) + ", finished");
    else line(size(rail.shoulder_length) + (rail.tenon_length > 0 ? " between shoulders, " + size(rail.overall_length) + " overall" : " long") + "; " + size(rail.depth) + " by " + size(rail.thickness) + ", finished");
    if (makes_a_panel(rail)) say_panel(rail, line);
    else if (rail.tenon_length > 0)
      line("tenons " + size(rail.tenon_length) + " long, " + size(rail.tenon_width) + " wide, " + size(rail.tenon_thickness) + " thick, " + heading_.figure(outer_cheek(rail)) + " from the outer side and " +
           size(rail.thickness - rail.tenon_thickness - outer_cheek(rail)) + " from the inner one; shoulders " + heading_.figure(rail.top_shoulder) + " above and " + size(rail.bottom_shoulder) + " below" + (rail.mitred ? "; ends mitred at 45 degrees, the outer cheek the longer one" : ""));
    if (rail.haunch_length > 0) line("haunch " + size(rail.haunch_length) + " above the tenon, " + size(rail.haunch_depth) + " long");
    for (const std::string& words : joints_into(rail)) line(words);
    for (const frame::MiddleHole& hole : rail.holes)
      line(hole.what + ": " + size(hole.diameter) + " wide, " + (hole.depth < rail.thickness - 0.01 ? size(hole.depth) + " deep from above" : std::string("right through")) + ", in the middle");
  }

  // What is done when the boards are one panel.
  template <class Say>
  void say_panel(const Rail& rail, Say&& line) const {
    const auto size = [&](double mm) { return heading_.length(mm); };
    const double wide = rail.depth * rail.quantity;
    line("the " + std::to_string(rail.quantity) + " boards are glued edge to edge into one panel " + size(wide) + " wide");
    if (!has_tongues(rail)) return line("each of its ends goes " + size(rail.tenon_length) + " into a groove, " + size(rail.tenon_thickness) + " thick");
    std::vector<std::string> places;
    for (const frame::Member& member : job_.order.made.set.members) {
      if (member.id != rail.from) continue;
      for (const shape::Mortise& m : member.part.mortises)
        if (m.mate == rail.id) places.push_back(heading_.figure(m.x0 - rail.drop) + " to " + heading_.length(m.x1 - rail.drop));
    }
    line("then tongues " + size(rail.tenon_length) + " long and " + size(rail.tenon_thickness) + " thick are cut at each end: " + listed(places) + " below the upper edge; " + size(rail.shoulder_length) + " between shoulders");
  }

  // What the piece at its first end has for it besides a mortise.
  std::vector<std::string> joints_into(const Rail& rail) const {
    std::vector<std::string> out;
    for (const frame::Member& member : job_.order.made.set.members) {
      if (member.id != rail.from) continue;
      if (const Bolts bolts = bolts_of(rail); !bolts.below_edge.empty()) {
        std::vector<std::string> places;
        for (const double place : bolts.below_edge) places.push_back(places.size() + 1 < bolts.below_edge.size() ? heading_.figure(place) : heading_.length(place));
        out.push_back(counted_bolts(places.size()) + " at each end, " + listed(places) + " below the upper edge: drill " + heading_.length(bolts.diameter) + " through the " +
                      member.noun + "'s hole with the joint dry; the nut's hole comes in from the inner side, its middle " + heading_.length(rail.bolt_reach) + " from the shoulder");
      }
      for (const shape::Mortise& m : member.part.mortises)
        if (m.mate == rail.id && m.id.starts_with("plate-")) out.push_back("a hook plate let in flush at each end: " + heading_.figure(m.x1 - m.x0) + " by " + heading_.length(m.t1 - m.t0));
    }
    return out;
  }

  static std::string counted_bolts(std::size_t count) { return std::to_string(count) + (count == 1 ? " bolt" : " bolts"); }

  const job::Job& job_;
  const Heading& heading_;
  Page blank_;
  Box area_;
};

}  // namespace

std::vector<Page> rail_drawings(const job::Job& job, const Heading& heading) { return Sheets(job, heading).take(); }

}  // namespace pommel::paper
