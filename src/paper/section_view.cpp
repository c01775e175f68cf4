// Sections of a piece square to its axis, seen from the foot: face A to the right, B upwards.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

#include "base/number.h"
#include "paper/drawing.h"
#include "paper/side_line.h"
#include "paper/treatment_words.h"
#include "shape/crease.h"
#include "shape/mortise.h"
#include "shape/ring.h"

namespace pommel::paper {
namespace {

using shape::Part;
using shape::Side;

constexpr double kQuarter = std::numbers::pi / 2;
constexpr double kFigure = 3.0;  // size of the figures, mm
constexpr double kPast = 0.8;    // of its extension lines past it
constexpr double kOut = 7;       // of the first dimension line from the wood, mm on paper

bool looks(double a, double b) { return std::fabs(std::remainder(a - b, 4 * kQuarter)) < 1e-6; }

// What a joint takes out of the section: across the face from t0 to t1, and down to `bottom` from the axis.
struct Cut {
  double phi = 0, t0 = 0, t1 = 0, bottom = 0;
  bool round = false;  ///< a bore: measured to its middle
};

std::vector<Cut> cuts_at(const Part& part, double x) {
  std::vector<Cut> out;
  const auto take = [&](const std::vector<shape::Pocket>& pockets, bool round) {
    for (const shape::Pocket& pocket : pockets)
      if (pocket.x0 < x && x < pocket.x1) out.push_back({pocket.phi, pocket.t0, pocket.t1, pocket.bottom, round});
  };
  take(shape::pockets(part), false);
  take(shape::bore_pockets(part), true);
  // of two that lie in one another (a mortise and its haunch) the deeper one, whose place is the same, tells all
  std::sort(out.begin(), out.end(), [](const Cut& a, const Cut& b) { return std::tie(a.phi, a.t0, a.t1, a.bottom) < std::tie(b.phi, b.t0, b.t1, b.bottom); });
  out.erase(std::unique(out.begin(), out.end(), [](const Cut& a, const Cut& b) { return looks(a.phi, b.phi) && a.t0 == b.t0 && a.t1 == b.t1; }), out.end());
  return out;
}

class SectionView {
 public:
  SectionView(Page& page, const Piece& piece, const Heading& heading, double x, double scale, double cx, double cy)
      : page_(page), piece_(piece), heading_(heading), x_(x), scale_(scale), cx_(cx), cy_(cy), cuts_(cuts_at(piece.part, x)) {}

  void paint() {
    std::vector<Vertex> line = section_line(piece_.part, x_);
    for (Vertex& v : line) v = {cx_ + v.x * scale_, cy_ - v.y * scale_, -v.bulge};
    page_.paths.push_back({line, true, Pen::outline, Fill::wood});
    for (const Cut& cut : cuts_) paint_cut(cut);
    for (const shape::AxialBore& bore : piece_.part.axial_bores)
      if (bore.x0 < x_ && x_ < bore.x1) paint_hole(bore.diameter / 2 * scale_);
    const double reach = half() * scale_ + 3;
    add_line(page_, cx_ - reach, cy_, cx_ + reach, cy_, Pen::axis);
    add_line(page_, cx_, cy_ - reach, cx_, cy_ + reach, Pen::axis);
    for (int face = 0; face < 4; ++face) dimensions(face * kQuarter);
    if (piece_.part.faces.size() == 4 && section_has_faces(piece_.part, x_)) letters();
  }

 private:
  double half() const {
    double r = 0;
    for (int i = 0; i < 4; ++i) r = std::max(r, shape::radius_at(piece_.part, x_, i * kQuarter, Side::after));
    return r;
  }
  double skin(double phi) const { return shape::radius_at(piece_.part, x_, phi, Side::after); }

  // a point of the section: u across the face in the direction of growing theta, v out along phi
  Vertex at(double phi, double u, double v) const {
    const double c = std::cos(phi), s = std::sin(phi);
    return {cx_ + (v * c - u * s) * scale_, cy_ - (v * s + u * c) * scale_, 0};
  }

  void paint_cut(const Cut& cut) {
    const double mouth = skin(cut.phi), bottom = std::max(cut.bottom, -skin(cut.phi + 2 * kQuarter));
    page_.paths.push_back({{at(cut.phi, cut.t0, mouth), at(cut.phi, cut.t0, bottom), at(cut.phi, cut.t1, bottom), at(cut.phi, cut.t1, mouth)}, true, Pen::edge, Fill::paper});
  }

  void paint_hole(double r) { page_.paths.push_back({{{cx_ - r, cy_, 1}, {cx_ + r, cy_, 1}}, true, Pen::edge, Fill::paper}); }

  // Beside a depth that stands on the outer line the letter gives way.
  void letters() {
    for (int face = 0; face < 4; ++face) {
      const double far = half() + (kOut + (upright(face * kQuarter) ? 13.5 : 9.5)) / scale_;
      const Vertex v = at(face * kQuarter, aside_[face] * half() * 0.8, far);
      page_.texts.push_back({v.x, v.y + 1.2, std::string(1, static_cast<char>('A' + face)), 3.6, Align::centre, Face::bold});
    }
  }

  std::vector<const Cut*> cuts_on(double phi) const {
    std::vector<const Cut*> out;
    for (const Cut& cut : cuts_)
      if (looks(cut.phi, phi)) out.push_back(&cut);
    return out;
  }

  // Across the face: from the nearer edge to the joint, and its width; then its depth at the side.
  void dimensions(double phi) {
    const auto cuts = cuts_on(phi);
    if (cuts.empty()) return;
    const double left = -skin(phi - kQuarter), right = skin(phi + kQuarter);
    double least = cuts.front()->t0, most = cuts.front()->t1;
    for (const Cut* cut : cuts) {
      least = std::min(least, cut->t0);
      most = std::max(most, cut->t1);
    }
    const bool from_right = right - most < least - left;
    std::vector<double> stops = {from_right ? right : left};
    const auto stop = [&](double t) {
      if (std::none_of(stops.begin(), stops.end(), [&](double other) { return std::fabs(other - t) < 1e-6; })) stops.push_back(t);
    };
    for (const Cut* cut : cuts) {
      if (cut->round) {
        stop((cut->t0 + cut->t1) / 2);
        continue;
      }
      stop(cut->t0);
      stop(cut->t1);
    }
    std::sort(stops.begin(), stops.end());
    chain(phi, stops);
    for (const Cut* cut : cuts)
      if (!cut->round) {
        depth(phi, *cut, from_right);
        break;
      }
  }

  bool upright(double phi) const { return std::fabs(std::cos(phi)) > 0.5; }  // the face stands at the right or the left: its dimensions run up and down

  void chain(double phi, const std::vector<double>& stops) {
    const double v = half() + kOut / scale_;
    bool outward = false;
    double last = -1e9;
    for (std::size_t i = 0; i < stops.size(); ++i) {
      const Vertex foot = at(phi, stops[i], skin(phi) + 1 / scale_), top = at(phi, stops[i], v + kPast / scale_);
      add_line(page_, foot.x, foot.y, top.x, top.y, Pen::thin);
      if (i == 0) continue;
      const Vertex a = at(phi, stops[i - 1], v), b = at(phi, stops[i], v);
      arrows(a, b);
      const std::string figure = heading_.figure(stops[i] - stops[i - 1]);
      const double width = text_width({0, 0, figure, kFigure}), middle = (stops[i - 1] + stops[i]) / 2 * scale_;
      const double room = upright(phi) ? kFigure : width + 1;
      outward = !outward && middle - room / 2 < last;
      last = middle + room / 2;
      figure_at(phi, a, b, figure, outward);
    }
  }

  void arrows(const Vertex& a, const Vertex& b) {
    const double dx = b.x - a.x, dy = b.y - a.y, length = std::hypot(dx, dy);
    if (length < 6) {  // from outside
      const double ux = dx / length, uy = dy / length;
      add_line(page_, a.x - 4 * ux, a.y - 4 * uy, b.x + 4 * ux, b.y + 4 * uy, Pen::thin);
      add_arrow(page_, a.x, a.y, dx, dy);
      add_arrow(page_, b.x, b.y, -dx, -dy);
      return;
    }
    add_line(page_, a.x, a.y, b.x, b.y, Pen::thin);
    add_arrow(page_, a.x, a.y, -dx, -dy);
    add_arrow(page_, b.x, b.y, dx, dy);
  }

  void figure_at(double phi, const Vertex& a, const Vertex& b, const std::string& figure, bool outward) {
    const double x = (a.x + b.x) / 2, y = (a.y + b.y) / 2, c = std::cos(phi), s = std::sin(phi);
    const double off = outward ? kFigure + 1.2 : 0;
    if (upright(phi)) page_.texts.push_back({x + (c > 0 ? 1.2 + 2 * off : -1.2 - 2 * off), y + kFigure * 0.36, figure, kFigure, c > 0 ? Align::left : Align::right});
    else page_.texts.push_back({x, s > 0 ? y - 1.5 - off : y + kFigure * 0.74 + 1.2 + off, figure, kFigure, Align::centre});
  }

  // How deep a joint goes, beside the section: on the side away from where its place is measured, clear of that face's own chain.
  void depth(double phi, const Cut& cut, bool from_right) {
    const double mouth = skin(phi);
    const bool left_taken = !cuts_on(phi - kQuarter).empty(), right_taken = !cuts_on(phi + kQuarter).empty();
    const bool right = left_taken == right_taken ? from_right : left_taken;
    const double side = right ? 1 : -1, u = side * (half() + (kOut + ((right ? right_taken : left_taken) ? 11 : 0)) / scale_);
    const double t = right ? cut.t1 : cut.t0;
    // seen from the face beside, this one lies towards smaller t on its right, greater on its left
    if (right ? right_taken : left_taken) aside_[static_cast<std::size_t>(std::lround((phi + side * kQuarter) / kQuarter) + 4) % 4] = side;
    const Vertex bottom = at(phi, t, cut.bottom), a = at(phi, u, cut.bottom), b = at(phi, u, mouth), edge = at(phi, side * skin(phi + side * kQuarter) + side / scale_, mouth);
    const Vertex beyond_a = at(phi, u + side * kPast / scale_, cut.bottom), beyond_b = at(phi, u + side * kPast / scale_, mouth);
    add_line(page_, bottom.x, bottom.y, beyond_a.x, beyond_a.y, Pen::thin);
    add_line(page_, edge.x, edge.y, beyond_b.x, beyond_b.y, Pen::thin);
    arrows(a, b);
    const double sideways = phi + side * kQuarter;
    figure_at(sideways, a, b, heading_.figure(mouth - cut.bottom), false);
  }

  Page& page_;
  const Piece& piece_;
  const Heading& heading_;
  double x_, scale_, cx_, cy_;
  std::vector<Cut> cuts_;
  double aside_[4] = {0, 0, 0, 0};  ///< of each face's letter, towards growing t
};

// What a section looks like, to half a millimetre: two places that say the same are drawn once.
std::string looks_like(const Part& part, double x, bool with_joints) {
  std::string out;
  const auto say = [&](double value) { out += format_number(std::round(value * 2) / 2, 1) + " "; };
  for (const shape::Flat& flat : shape::flats_at(part, x, Side::after)) {
    say(flat.phi * 100);
    say(flat.d);
    say(flat.t0);
    say(flat.t1);
  }
  const shape::Ring ring = shape::ring_at(part, x, Side::after);
  if (ring.treated()) {
    for (const double value : {ring.least(), ring.greatest(), static_cast<double>(ring.grooves.size()), static_cast<double>(ring.reeds.size())}) say(value);
  }
  for (const Cut& cut : with_joints ? cuts_at(part, x) : std::vector<Cut>()) {
    out += "cut ";
    for (const double value : {cut.phi * 100, cut.t0, cut.t1, cut.bottom}) say(value);
  }
  return out;
}

// Middles of joints: bores first, for a section through a bore often passes through a mortise, too.
std::vector<double> joint_places(const Part& part) {
  std::vector<double> out;
  for (const shape::Bore& bore : part.bores) out.push_back(bore.x);
  for (const shape::Mortise& mortise : part.mortises) {
    const bool met = std::any_of(out.begin(), out.end(), [&](double x) { return mortise.x0 < x && x < mortise.x1; });
    if (!met) out.push_back((mortise.x0 + mortise.x1) / 2);
  }
  return out;
}

double thinnest_place(const Part& part) {
  double best = part.length / 2, least = 1e300;
  const auto look = [&](double x, double r) {
    if (r < least - 1e-9) {
      least = r;
      best = x;
    }
  };
  for (const shape::Piece& piece : part.outline.pieces) {
    if (piece.kind == shape::Piece::Kind::clear) continue;
    for (const double x : shape::level_points(piece)) look(x, piece.value(x));
    look(piece.x0 + 1e-6, piece.value(piece.x0));
    look(piece.x1 - 1e-6, piece.value(piece.x1));
  }
  return std::clamp(best, 1e-3, part.length - 1e-3);
}

}  // namespace

void add_section(Page& page, const Piece& piece, const Heading& heading, double x, double scale, double cx, double cy) {
  SectionView(page, piece, heading, x, scale, cx, cy).paint();
}

bool section_has_faces(const Part& part, double x) { return !shape::flats_at(part, x, Side::after).empty() || !cuts_at(part, x).empty(); }

std::vector<SectionPlace> section_places(const Part& part) {
  std::vector<SectionPlace> out;
  std::vector<std::string> seen, shapes;
  for (const double x : joint_places(part)) {
    const std::string look = looks_like(part, x, true);
    const auto known = std::find(seen.begin(), seen.end(), look);
    if (known != seen.end()) {
      out[static_cast<std::size_t>(known - seen.begin())].alike.push_back(x);
      continue;
    }
    seen.push_back(look);
    out.push_back({x, {}});
    shapes.push_back(looks_like(part, x, false));
  }
  std::vector<double> others = {thinnest_place(part)};
  for (const double x : treatment_places(part)) others.push_back(x);
  for (const double x : others) {
    const std::string look = looks_like(part, x, false);
    if ((look.empty() && x != others.front()) || std::find(shapes.begin(), shapes.end(), look) != shapes.end()) continue;
    shapes.push_back(look);
    out.push_back({x, {}});
  }
  std::sort(out.begin(), out.end(), [](const SectionPlace& a, const SectionPlace& b) { return a.x < b.x; });
  return out;
}

}  // namespace pommel::paper
