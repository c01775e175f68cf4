#include "paper/treatment_words.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/number.h"
#include "base/text.h"
#include "shape/crease.h"
#include "shape/ring.h"

namespace pommel::paper {
namespace {

using shape::Part;
using shape::Profile;
using shape::Side;

constexpr double kLongEnough = 10;  // mm of a stretch whose faces deserve a section

// Where a profile is there at all.
struct Stretch {
  double x0 = 0, x1 = 0;

  double middle() const { return (x0 + x1) / 2; }
};

Stretch stretch_of(const Profile& profile) {
  Stretch out{1e300, -1e300};
  for (const shape::Piece& piece : profile.pieces) {
    if (piece.kind == shape::Piece::Kind::clear) continue;
    out.x0 = std::min(out.x0, piece.x0);
    out.x1 = std::max(out.x1, piece.x1);
  }
  return out;
}

std::string from_to(const Stretch& s, const Heading& heading) { return "from " + heading.figure(s.x0) + " to " + heading.figure(s.x1); }

// Flutes that differ in nothing but their direction.
struct FluteGroup {
  const shape::Flute* first = nullptr;
  int count = 0;
};

std::vector<FluteGroup> flute_groups(const Part& part) {
  std::vector<FluteGroup> out;
  for (const shape::Flute& flute : part.flutes) {
    const auto known = std::find_if(out.begin(), out.end(), [&](const FluteGroup& group) { return group.first->radius == flute.radius && group.first->centre == flute.centre; });
    if (known == out.end()) out.push_back({&flute, 1});
    else ++known->count;
  }
  return out;
}

// The skin that a flute is cut into, and what it leaves.
struct FluteSize {
  double width = 0, depth = 0;
};

FluteSize flute_size(const Part& part, const shape::Flute& flute, double x) {
  const double c = flute.centre.value(x, Side::after), g = flute.radius;
  double skin = part.outline.value(x, Side::after), across = 0;
  if (std::isfinite(skin)) {
    const double half = std::acos(std::clamp((skin * skin + c * c - g * g) / (2 * skin * c), -1.0, 1.0));
    across = 2 * skin * std::sin(half);
  }
  for (const shape::Face& face : part.faces) {
    const double d = face.d.value(x, Side::after);
    if (std::fabs(std::remainder(face.phi - flute.theta, 2 * std::numbers::pi)) > 1e-6 || d >= skin) continue;
    skin = d;
    across = 2 * std::sqrt(std::max(0.0, g * g - (c - d) * (c - d)));
  }
  return {across, skin - (c - g)};
}

std::string counted(int count, const char* one, const char* many) { return std::to_string(count) + " " + (count == 1 ? one : many); }

std::string round_or_faces(const shape::Ring& ring, const Heading& heading) {
  std::vector<const shape::Ring::Plane*> planes;
  bool round = false;
  for (const shape::RingArc& arc : ring.arcs()) {
    round = round || arc.maker != shape::Maker::face;
    for (const shape::Ring::Plane& plane : ring.planes)
      if (arc.maker == shape::Maker::face && plane.index == arc.index && std::find(planes.begin(), planes.end(), &plane) == planes.end()) planes.push_back(&plane);
  }
  const auto across = [&](double phi) {
    double sum = 0;
    for (const shape::Ring::Plane* plane : planes)
      for (const double way : {phi, phi + std::numbers::pi})
        if (std::fabs(std::remainder(plane->phi - way, 2 * std::numbers::pi)) < 1e-6) sum += plane->d;
    return sum;
  };
  const double middle = ring.rounds.front().middle;
  if (planes.empty() || (round && planes.size() != 4 && std::isfinite(middle))) return "⌀ " + heading.figure(2 * middle);
  const double width = across(planes.front()->phi);
  if (planes.size() > 4) return std::to_string(planes.size()) + " flats, " + heading.figure(width) + " across";
  const double other = across(planes.front()->phi + std::numbers::pi / 2);
  return std::fabs(width - other) < 0.005 ? "□ " + heading.figure(width) : heading.figure(width) + " × " + heading.figure(other);
}

std::string twist_line(const Part& part, const shape::Twist& twist, const Heading& heading) {
  const Stretch s{twist.x0, twist.x1};
  const double r = part.outline.value(s.middle(), Side::after);
  return "twist, " + counted(twist.starts, "start", "starts") + ", " + (twist.pitch > 0 ? "right" : "left") + " hand, " + from_to(s, heading) + ": one turn in " + heading.figure(std::fabs(twist.pitch)) + ", " +
         format_number((twist.x1 - twist.x0) / std::fabs(twist.pitch), 2) + " turns; crests ⌀ " + heading.figure(2 * r) + " over hollows ⌀ " + heading.figure(2 * (r - twist.depth)) + " in the middle, fading in over " +
         heading.figure(twist.fade0) + " and out over " + heading.figure(twist.fade1) + ", first crest at " + format_angle(twist.phase) + " from face A";
}

std::string reeding_line(const Part& part, const shape::Reeding& reeding, const Heading& heading) {
  const Stretch s = stretch_of(reeding.centre);
  const shape::Ring ring = shape::ring_at(part, s.middle(), Side::after);
  const double crown = reeding.centre.value(s.middle(), Side::after) + reeding.radius, valley = ring.radius(reeding.phase + std::numbers::pi / reeding.count);
  return std::to_string(reeding.count) + " reeds " + from_to(s, heading) + ", of radius " + heading.figure(reeding.radius) + ": crowns ⌀ " + heading.figure(2 * crown) + ", valleys ⌀ " + heading.figure(2 * valley) +
         " in the middle, first crown at " + format_angle(reeding.phase) + " from face A";
}

std::string flute_line(const Part& part, const FluteGroup& group, const Heading& heading) {
  const Stretch s = stretch_of(group.first->centre);
  const FluteSize size = flute_size(part, *group.first, s.middle());
  return counted(group.count, "flute ", "flutes ") + from_to(s, heading) + ", cut to a radius of " + heading.figure(group.first->radius) + ": " + heading.figure(size.width) + " wide and " + heading.figure(size.depth) +
         " deep in the middle, the first at " + format_angle(group.first->theta) + " from face A";
}

// Facets and tapered faces: a line for each stretch on which they run straight, with the section at its ends.
std::vector<std::string> facet_lines(const Part& part, const Heading& heading) {
  std::vector<Stretch> told;
  std::vector<std::string> out;
  for (const shape::Face& face : part.faces)
    for (const shape::Piece& piece : face.d.pieces) {
      const bool slanted = piece.kind == shape::Piece::Kind::line && std::fabs(piece.r0 - piece.r1) > 1e-6, aslant = std::fabs(std::remainder(face.phi, std::numbers::pi / 2)) > 1e-6;
      if (piece.kind != shape::Piece::Kind::line || piece.x1 - piece.x0 < kLongEnough || !(slanted || aslant)) continue;
      if (std::any_of(told.begin(), told.end(), [&](const Stretch& s) { return std::fabs(s.x0 - piece.x0) < 1e-6 && std::fabs(s.x1 - piece.x1) < 1e-6; })) continue;
      told.push_back({piece.x0, piece.x1});
      const auto at = [&](double x, Side side) { return round_or_faces(shape::ring_at(part, x, side), heading); };
      const std::string head = at(piece.x0, Side::after), foot = at(piece.x1, Side::before);
      out.push_back("faces " + from_to(told.back(), heading) + ": " + head + (head == foot ? "" : " at the head end, " + foot + " at the foot end"));
    }
  return out;
}

}  // namespace

std::string section_words(const Part& part, double x, const Heading& heading) {
  const shape::Ring ring = shape::ring_at(part, x, x < part.length ? Side::after : Side::before);
  std::string out = round_or_faces(ring, heading);
  for (const FluteGroup& group : flute_groups(part)) {
    const Stretch s = stretch_of(group.first->centre);
    if (x <= s.x0 || x >= s.x1) continue;
    if (const double deep = flute_size(part, *group.first, x).depth; deep > 0.005) out += ", " + counted(group.count, "flute ", "flutes ") + heading.figure(deep) + " deep";
  }
  for (const shape::Ring::Reeds& reeds : ring.reeds) out += ", " + std::to_string(reeds.count) + " reeds, valleys ⌀ " + heading.figure(2 * ring.radius(reeds.phase + std::numbers::pi / reeds.count));
  if (const auto& round = ring.rounds.front(); round.swing > 0.005) out = "twist, ⌀ " + heading.figure(2 * (round.middle + round.swing)) + " over ⌀ " + heading.figure(2 * (round.middle - round.swing));
  for (const shape::AxialBore& bore : part.axial_bores)
    if (bore.x0 < x && x < bore.x1) out += ", bored " + heading.figure(bore.diameter);
  return out;
}

std::vector<std::string> treatment_lines(const Part& part, const Heading& heading) {
  std::vector<std::string> out;
  for (const FluteGroup& group : flute_groups(part)) out.push_back(flute_line(part, group, heading));
  for (const shape::Reeding& reeding : part.reedings) out.push_back(reeding_line(part, reeding, heading));
  for (const shape::Twist& twist : part.twists) out.push_back(twist_line(part, twist, heading));
  for (std::string& line : facet_lines(part, heading)) out.push_back(std::move(line));
  return out;
}

std::vector<double> treatment_places(const Part& part) {
  std::vector<double> out;
  for (const FluteGroup& group : flute_groups(part)) out.push_back(stretch_of(group.first->centre).middle());
  for (const shape::Reeding& reeding : part.reedings) out.push_back(stretch_of(reeding.centre).middle());
  for (const shape::Twist& twist : part.twists) out.push_back((twist.x0 + twist.x1) / 2);
  for (const shape::Face& face : part.faces)
    for (const shape::Piece& piece : face.d.pieces)
      if (piece.kind != shape::Piece::Kind::clear && piece.x1 - piece.x0 > kLongEnough)
        for (const double x : {piece.x0 + kLongEnough / 4, (piece.x0 + piece.x1) / 2, piece.x1 - kLongEnough / 4})
          if (!shape::flats_at(part, x, Side::after).empty()) out.push_back(x);
  return out;
}

}  // namespace pommel::paper
