#include "paper/leg_view.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <optional>

#include "paper/skin_lines.h"
#include "paper/skin_section.h"
#include "shape/crease.h"

namespace pommel::paper {
namespace {

using shape::Part;
using shape::Side;

constexpr double kQuarter = std::numbers::pi / 2;
constexpr double kLight[] = {0.86, 0.66, 0.42};  ///< of the half height: edges of the bands of light

double turned(double phi, int quarters) { return std::remainder(phi + quarters * kQuarter, 4 * kQuarter); }
bool same_direction(double a, double b) { return std::fabs(std::remainder(a - b, 4 * kQuarter)) < 1e-6; }

struct Station {
  double x;
  Side side;
};

// Both sides of every knot, and what lies between.
std::vector<Station> stations(const Part& part) {
  std::vector<Station> out;
  for (const std::vector<double>& span : spans_of(part))
    for (const double x : span) out.push_back({x, x >= span.back() ? Side::before : Side::after});
  return out;
}

struct Extent {
  double low, high;  // t of the silhouette
};

Extent extent(const Part& part, double phi, const Station& at, bool traced) {
  if (traced) {
    const SkinSection section(part, at.x, at.side, phi);
    return {section.low(), section.high()};
  }
  return {-shape::radius_at(part, at.x, turned(phi, -1), at.side), shape::radius_at(part, at.x, turned(phi, 1), at.side)};
}

// What is left of the face that looks along phi; nothing where the round has taken it.
std::optional<shape::Flat> flat_of(const Part& part, double phi, const Station& at) {
  for (const shape::Flat& flat : shape::flats_at(part, at.x, at.side))
    if (same_direction(flat.phi, phi)) return flat;
  return std::nullopt;
}

Line closed(const std::vector<Station>& at, const std::vector<Extent>& extents, double part_of) {
  Line line;
  for (std::size_t i = 0; i < at.size(); ++i) line.push_back({at[i].x, extents[i].low * part_of});
  for (std::size_t i = at.size(); i-- > 0;) line.push_back({at[i].x, extents[i].high * part_of});
  return line;
}

void add_flats(const Part& part, double phi, const std::vector<Station>& at, LegView& view) {
  Line low, high;
  const auto finish = [&] {
    if (low.size() > 1) {
      low.insert(low.end(), high.rbegin(), high.rend());
      view.flats.push_back(low);
    }
    low.clear();
    high.clear();
  };
  for (const Station& station : at) {
    const auto flat = flat_of(part, phi, station);
    if (!flat) {
      finish();
      continue;
    }
    low.push_back({station.x, flat->t0});
    high.push_back({station.x, flat->t1});
  }
  finish();
}

// False where a flute, reeds or a twist have taken the curve away.
bool on_skin(const Part& part, std::size_t face, const shape::CurvePoint& point) {
  if (!has_grooves(part)) return true;
  constexpr double kOff = 0.02;  // mm: the curve's own tolerance
  const double d = part.faces[face].d.value(point.x);
  return shape::radius_at(part, point.x, part.faces[face].phi + std::atan2(point.t, d)) > std::hypot(d, point.t) - kOff;
}

// The curve of one side is the mirror image's other side, also where the neighbouring faces are not alike.
void add_pommels(const Part& part, double phi, double sign, LegView& view) {
  const Part seen = sign > 0 ? part : shape::mirrored(part);
  for (std::size_t face = 0; face < seen.faces.size(); ++face) {
    if (!same_direction(seen.faces[face].phi, sign * phi)) continue;
    for (const auto& curve : shape::pommel_curves(seen, face, 0.02)) {
      Line line;
      const auto finish = [&] {
        if (line.size() > 1) view.pommels.push_back(line);
        line.clear();
      };
      for (const shape::CurvePoint& point : curve) {
        if (on_skin(seen, face, point)) line.push_back({point.x, sign * point.t});
        else finish();
      }
      finish();
    }
  }
}

Line box(double x0, double t0, double x1, double t1) { return {{x0, t0}, {x1, t0}, {x1, t1}, {x0, t1}}; }

// A pocket let in from the side at `sign` t, as deep as it is there.
void add_pocket(const Part& part, const shape::Mortise& mortise, double sign, LegView& view) {
  const double middle = (mortise.x0 + mortise.x1) / 2;
  const double skin = shape::radius_at(part, middle, mortise.phi, Side::after);
  const auto pocket = [&](double x0, double x1, double depth) { view.mortises.push_back(box(x0, sign * skin, x1, sign * (skin - depth))); };
  pocket(mortise.x0, mortise.x1, mortise.depth);
  if (mortise.haunch_length > 0) pocket(mortise.x0 - mortise.haunch_length, mortise.x0, mortise.haunch_depth);
}

void add_mortises(const Part& part, double phi, LegView& view) {
  for (const shape::Mortise& mortise : part.mortises) {
    if (same_direction(mortise.phi, phi)) {
      view.mortises.push_back(box(mortise.x0, mortise.t0, mortise.x1, mortise.t1));
      if (mortise.haunch_length > 0) view.mortises.push_back(box(mortise.x0 - mortise.haunch_length, mortise.t0, mortise.x0, mortise.t1));
    } else if (same_direction(mortise.phi, turned(phi, 1))) {
      add_pocket(part, mortise, 1, view);
    } else if (same_direction(mortise.phi, turned(phi, -1))) {
      add_pocket(part, mortise, -1, view);
    }
  }
}

Line circle(double x, double t, double diameter) {
  constexpr int kSides = 36;
  Line line;
  for (int i = 0; i < kSides; ++i) {
    const double angle = 2 * std::numbers::pi * i / kSides;
    line.push_back({x + diameter / 2 * std::cos(angle), t + diameter / 2 * std::sin(angle)});
  }
  return line;
}

void add_bore(const Part& part, const shape::Bore& bore, double phi, LegView& view) {
  const double seats[] = {bore.diameter, bore.seat_diameter};
  if (same_direction(bore.phi, phi) || same_direction(bore.phi, turned(phi, 2))) {
    // the face behind has its t the other way round
    for (const double diameter : seats)
      if (diameter > 0) view.bores.push_back(circle(bore.x, same_direction(bore.phi, phi) ? bore.t : -bore.t, diameter));
    return;
  }
  const double sign = same_direction(bore.phi, turned(phi, 1)) ? 1 : -1;
  const double skin = shape::radius_at(part, bore.x, bore.phi, Side::after);
  const double opposite = shape::radius_at(part, bore.x, turned(bore.phi, 2), Side::after);
  const double depths[] = {std::min(bore.depth, skin + opposite), bore.seat_depth};
  for (int i = 0; i < 2; ++i)
    if (seats[i] > 0) view.bores.push_back(box(bore.x - seats[i] / 2, sign * skin, bore.x + seats[i] / 2, sign * (skin - depths[i])));
}

}  // namespace

namespace {

// A sawn end as it crosses the face seen. A cut that leans towards the viewer or away is seen level.
Line cut_line(const Part& part, const shape::EndCut& cut, double phi) {
  const double half = shape::radius_at(part, cut.x, phi + std::numbers::pi / 2);
  const double across = std::cos(cut.phi - phi - std::numbers::pi / 2) * std::tan(cut.angle) * (cut.at_head ? -1 : 1);
  return {{cut.x - half * across, -half}, {cut.x + half * across, half}};
}

}  // namespace

LegView leg_view(const Part& part, double phi) {
  LegView view;
  const std::vector<Station> at = stations(part);
  std::vector<Extent> extents;
  const bool traced = needs_tracing(part, phi);
  for (const Station& station : at) extents.push_back(extent(part, phi, station, traced));
  view.silhouette = closed(at, extents, 1);
  for (double light : kLight) view.shade.push_back(closed(at, extents, light));
  add_flats(part, phi, at, view);
  add_pommels(part, phi, 1, view);
  add_pommels(part, phi, -1, view);
  const std::vector<double> knots = shape::knots(part);
  for (std::size_t i = 1; i + 1 < knots.size(); ++i) add_across(part, phi, knots[i], view);
  if (traced) add_traced(part, phi, view);
  add_mortises(part, phi, view);
  for (const shape::EndCut& cut : part.end_cuts) view.cuts.push_back(cut_line(part, cut, phi));
  for (const shape::Bore& bore : part.bores) add_bore(part, bore, phi, view);
  for (const shape::AxialBore& bore : part.axial_bores) view.bores.push_back(box(bore.x0, -bore.diameter / 2, bore.x1, bore.diameter / 2));
  return view;
}

double seen_face(const Part& part) { return part.mortises.empty() ? 0 : part.mortises.front().phi; }

std::string diameters(const shape::ElementMark& mark, const LengthFormat& lengths) {
  const auto text = [&](double mm) { return format_length(mm, lengths, false); };
  if (mark.kind == "square") return "□ " + text(mark.d_start);
  // of a pommel only its round end is a diameter to set a calliper to; the other is the square's corner
  if (mark.kind == "pommel") return "⌀ " + text(mark.d_least);
  constexpr double kBeyond = 0.05;
  const double low = std::min(mark.d_start, mark.d_end), high = std::max(mark.d_start, mark.d_end);
  std::string between;
  if (mark.d_greatest > high + kBeyond) between = text(mark.d_greatest);
  else if (mark.d_least < low - kBeyond) between = text(mark.d_least);
  const bool alike = high - low < kBeyond;
  if (alike) return "⌀ " + (between.empty() ? text(mark.d_start) : between);
  return "⌀ " + text(mark.d_start) + " – " + (between.empty() ? "" : between + " – ") + text(mark.d_end);
}

std::vector<double> spread(const std::vector<double>& wanted, double pitch, double low, double high) {
  const double room = static_cast<double>(wanted.size() > 0 ? wanted.size() - 1 : 0) * pitch;
  assert(room <= high - low + 1e-9);
  // with p[i] = place - i * pitch the order only asks p not to fall: neighbours that do are pooled at their mean
  struct Pool {
    double sum;
    std::size_t count;
    double mean() const { return sum / static_cast<double>(count); }
  };
  std::vector<Pool> pools;
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    pools.push_back({wanted[i] - static_cast<double>(i) * pitch, 1});
    while (pools.size() > 1 && pools[pools.size() - 2].mean() > pools.back().mean()) {
      pools[pools.size() - 2].sum += pools.back().sum;
      pools[pools.size() - 2].count += pools.back().count;
      pools.pop_back();
    }
  }
  std::vector<double> places;
  for (const Pool& pool : pools)
    for (std::size_t k = 0; k < pool.count; ++k)
      places.push_back(std::clamp(pool.mean(), low, std::max(low, high - room)) + static_cast<double>(places.size()) * pitch);
  return places;
}

}  // namespace pommel::paper
