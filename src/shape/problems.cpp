// The invariants of a part, each broken one said in bench words.
#include <algorithm>
#include <cmath>
#include <set>

#include "base/number.h"
#include "shape/mortise.h"
#include "shape/part.h"
#include "shape/ring.h"
#include "shape/section.h"
#include "shape/treatment_problems.h"

namespace pommel::shape {
namespace {

// A piece's formula may miss its stated ends by this much, mm (profile.h).
constexpr double kEndMiss = 1e-9;
// A mortise may stand over the edge of its face by this much, mm: sums of a maker's sizes in other units.
constexpr double kEdgeMiss = 1e-6;

using Found = std::vector<Diagnostic>;

std::string mm(double value) {
  return mm_text(value);
}

// "the bead 'ring'", else the profile's own name and the place.
std::string name_of(const Part& part, const Piece& piece, const std::string& profile) {
  if (piece.element < 0 || static_cast<std::size_t>(piece.element) >= part.elements.size()) {
    return profile + (std::isfinite(piece.x0) ? " from " + mm(piece.x0) : "");
  }
  const ElementMark& mark = part.elements[static_cast<std::size_t>(piece.element)];
  return "the " + mark.kind + (mark.label.empty() || mark.label == mark.kind ? "" : " '" + mark.label + "'");
}

bool finite(const Piece& p) {
  std::vector<double> numbers{p.x0, p.x1};
  if (p.kind != Piece::Kind::clear) numbers.insert(numbers.end(), {p.r0, p.r1});
  if (p.kind == Piece::Kind::arc) numbers.insert(numbers.end(), {p.cx, p.cr, p.rho});
  if (p.kind == Piece::Kind::cubic) numbers.insert(numbers.end(), p.c.begin(), p.c.end());
  return std::all_of(numbers.begin(), numbers.end(), [](double n) { return std::isfinite(n); });
}

bool arc_ends_stand(const Piece& p) {
  auto off = [&](double x, double r) { return std::fabs(std::hypot(x - p.cx, r - p.cr) - p.rho); };
  return off(p.x0, p.r0) <= kEndMiss && off(p.x1, p.r1) <= kEndMiss;
}

// A single-valued arc has both ends on the side of the circle that its bulge names.
bool arc_overhangs(const Piece& p) {
  return p.bulge * (p.r0 - p.cr) < -kEndMiss || p.bulge * (p.r1 - p.cr) < -kEndMiss;
}

bool cubic_ends_stand(const Piece& p) {
  double u = p.x1 - p.x0;
  double end = p.c[0] + u * (p.c[1] + u * (p.c[2] + u * p.c[3]));
  return std::fabs(p.c[0] - p.r0) <= kEndMiss && std::fabs(end - p.r1) <= kEndMiss;
}

// `at_end` allows the tip of a piece to lie on the axis at the profile's own ends.
void check_radius(const Piece& p, const std::string& who, bool first, bool last, Found& found) {
  if (p.kind == Piece::Kind::clear) return;
  bool tips = (p.r0 > 0 || (first && p.r0 == 0)) && (p.r1 > 0 || (last && p.r1 == 0)) && (p.r0 > 0 || p.r1 > 0);
  bool inside = true;
  for (double x : level_points(p)) inside = inside && p.value(x) > 0;
  if (!tips || !inside) {
    report(found, "shape.axis", who + " reaches the axis: its least radius is " + mm(p.least()),
           "make it thicker there");
  }
}

void check_piece(const Piece& p, const std::string& who, bool first, bool last, Found& found) {
  if (!finite(p)) return report(found, "shape.number", who + " holds a number that is not finite");
  if (!(p.x0 < p.x1))
    return report(found, "shape.order", who + " runs from " + mm(p.x0) + " to " + mm(p.x1) + ": it has no length");
  if (p.kind == Piece::Kind::arc) {
    if (!(p.rho > 0) || (p.bulge != 1 && p.bulge != -1))
      return report(found, "shape.arc", who + " is an arc without a radius or a side");
    if (!arc_ends_stand(p))
      return report(found, "shape.ends", who + " does not end where it says: its arc misses its own ends");
    if (arc_overhangs(p)) {
      return report(found, "shape.overhang",
                    who + " overhangs: its arc turns back under itself, and no cutter from outside gets there",
                    "make it longer, or less deep");
    }
  }
  if (p.kind == Piece::Kind::cubic && !cubic_ends_stand(p)) {
    return report(found, "shape.ends", who + " does not end where it says: its curve misses its own ends");
  }
  check_radius(p, who, first, last, found);
}

}  // namespace

void report(Found& found, const std::string& id, std::string message, std::string remedy) {
  found.push_back(fail(id, std::move(message), std::move(remedy)).reasons.front());
}

std::string mm_text(double value) {
  return format_number(value, 3) + " mm";
}

void check_profile(const Part& part, const Profile& profile, const std::string& named, Found& found) {
  const auto& pieces = profile.pieces;
  if (pieces.empty()) return report(found, "shape.empty", named + " has no pieces");
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    check_piece(pieces[i], name_of(part, pieces[i], named), i == 0, i + 1 == pieces.size(), found);
    if (i > 0 && pieces[i].x0 != pieces[i - 1].x1) {
      report(found, "shape.gap",
             name_of(part, pieces[i], named) + " begins at " + mm(pieces[i].x0) + ", but " +
                 name_of(part, pieces[i - 1], named) + " before it ends at " + mm(pieces[i - 1].x1));
    }
  }
  if (profile.start() != 0 || profile.end() != part.length) {
    report(found, "shape.gap",
           named + " runs from " + mm(profile.start()) + " to " + mm(profile.end()) + ", but the piece from 0 to " +
               mm(part.length));
  }
}

std::string face_name(double phi) {
  static const char* const kLetters[] = {"face A", "face B", "face C", "face D"};
  for (int quarter = 0; quarter < 4; ++quarter) {
    if (std::fabs(std::remainder(phi - quarter * kQuarterTurn, kTurn)) <= kSameDirection) return kLetters[quarter];
  }
  return "the face at " + format_number(phi * 360 / kTurn, 3) + " degrees";
}

namespace {

void check_faces(const Part& part, Found& found) {
  for (std::size_t i = 0; i < part.faces.size(); ++i) {
    const Face& face = part.faces[i];
    if (!std::isfinite(face.phi) || face.phi < 0 || face.phi >= kTurn) {
      report(found, "shape.number",
             "face " + std::to_string(i + 1) + " looks in no direction between 0 and 360 degrees");
      continue;
    }
    check_profile(part, face.d, face_name(face.phi), found);
    for (std::size_t j = 0; j < i; ++j) {
      if (std::fabs(std::remainder(face.phi - part.faces[j].phi, kTurn)) <= kSameDirection) {
        report(found, "shape.faces", face_name(face.phi) + " is there twice");
      }
    }
  }
}

// Largest angle between neighbouring faces of the slab, rad.
double widest_gap(const Slab& slab) {
  std::vector<double> phis;
  for (const Slab::Side& side : slab.sides) phis.push_back(side.phi);
  std::sort(phis.begin(), phis.end());
  if (phis.empty()) return kTurn;
  double widest = phis.front() + kTurn - phis.back();
  for (std::size_t i = 1; i < phis.size(); ++i) widest = std::max(widest, phis[i] - phis[i - 1]);
  return widest;
}

void check_rings(const Part& part, Found& found) {
  // 170 degrees: two faces that meet at a sharper arris than 10 degrees are no ring that can be cut
  constexpr double kWidest = kTurn * 170 / 360;
  for (const Slab& slab : slabs(part)) {
    if (slab.round->kind == Piece::Kind::clear && widest_gap(slab) > kWidest) {
      report(
          found, "shape.ring",
          name_of(part, *slab.round, "the outline") + " is not turned, but no ring of faces closes it at " + mm(slab.a),
          "give it faces all round, or turn it");
    }
  }
}

bool sound_numbers(const Mortise& m) {
  for (double n : {m.phi, m.x0, m.x1, m.t0, m.t1, m.depth, m.corner_radius, m.haunch_length, m.haunch_depth}) {
    if (!std::isfinite(n)) return false;
  }
  return m.phi >= 0 && m.phi < kTurn;
}

void check_mortise_sizes(const Mortise& m, const std::string& who, Found& found) {
  if (!(m.x0 < m.x1) || !(m.t0 < m.t1) || !(m.depth > 0)) {
    report(found, "shape.mortise-size", who + " has no length, width or depth");
  } else if (m.corner_radius < 0 || m.corner_radius > std::min(m.x1 - m.x0, m.t1 - m.t0) / 2 + kEdgeMiss) {
    report(found, "shape.mortise-size",
           who + ": corners of radius " + mm(m.corner_radius) + " do not fit its " + mm(m.x1 - m.x0) + " by " +
               mm(m.t1 - m.t0),
           "at most half its width");
  }
  if (m.haunch_length < 0 || m.haunch_depth < 0 || m.haunch_depth > m.depth ||
      ((m.haunch_length > 0) != (m.haunch_depth > 0))) {
    report(found, "shape.mortise-size",
           who + " has a haunch without length or depth, or deeper than the mortise itself");
  }
}

// True when the point is in the section or within kEdgeMiss of it.
bool holds(const Section& section, double y, double z) {
  if (std::hypot(y, z) > section.r + kEdgeMiss) return false;
  return std::all_of(section.planes.begin(), section.planes.end(),
                     [&](const HalfPlane& p) { return y * p.turn.cos + z * p.turn.sin <= p.d + kEdgeMiss; });
}

// One section of a mortise: its face whole, the mortise within it, its bottom inside the wood. False when something was said.
// `ring` is null where there are no treatments.
bool check_mortise_section(const Mortise& m, const std::string& who, const Section& section, const Ring* ring, std::size_t face,
                           double bottom, double x, Found& found) {
  const std::vector<Flat> flats = section.flats();
  auto flat = std::find_if(flats.begin(), flats.end(), [&](const Flat& f) { return f.face == face; });
  std::string where = " at " + mm(x);
  if (flat == flats.end() || !flat->corner0 || !flat->corner1) {
    report(found, "shape.mortise-round", who + " runs into the round: " + face_name(m.phi) + " is not whole" + where,
           "keep it on the square, or make the square longer");
    return false;
  }
  if (m.t0 < flat->t0 - kEdgeMiss || m.t1 > flat->t1 + kEdgeMiss) {
    report(found, "shape.mortise-edge",
           who + " stands over the edge of " + face_name(m.phi) + where + ": the face reaches from " + mm(flat->t0) +
               " to " + mm(flat->t1) + ", the mortise from " + mm(m.t0) + " to " + mm(m.t1));
    return false;
  }
  SinCos turn = sin_cos(m.phi);
  if (ring) {
    constexpr int kAcross = 8;
    for (int i = 0; i <= kAcross; ++i) {
      double t = m.t0 + (m.t1 - m.t0) * i / kAcross;
      if (ring->radius(m.phi + std::atan2(t, flat->d)) >= std::hypot(flat->d, t) - kEdgeMiss) continue;
      report(found, "shape.mortise-treated", who + " runs into a flute, reeds or a twist" + where, "end the treatment before it");
      return false;
    }
  }
  for (double t : {m.t0, m.t1}) {
    if (holds(section, bottom * turn.cos - t * turn.sin, bottom * turn.sin + t * turn.cos)) continue;
    report(found, "shape.mortise-through", who + " goes through the piece" + where + ": " + mm(m.depth) + " deep",
           "make it less deep");
    return false;
  }
  return true;
}

void check_mortise_place(const Part& part, const Mortise& m, const std::string& who, Found& found) {
  double from = m.x0 - m.haunch_length;
  if (from < -kEdgeMiss || m.x1 > part.length + kEdgeMiss) {
    return report(found, "shape.mortise-ends",
                  who + " runs from " + mm(from) + " to " + mm(m.x1) + ", out of the piece of " + mm(part.length));
  }
  const Face* face = face_looking(part, m.phi);
  if (!face)
    return report(found, "shape.mortise-face",
                  who + " is let into " + face_name(m.phi) + ", and the piece has no such face");
  std::size_t index = static_cast<std::size_t>(face - part.faces.data());
  double plane = face->d.value((m.x0 + m.x1) / 2, Side::after);
  if (!std::isfinite(plane))
    return report(found, "shape.mortise-face", who + ": " + face_name(m.phi) + " is not there at its middle");
  for (const Slab& slab : slabs(part)) {
    double a = std::max(slab.a, from), b = std::min(slab.b, m.x1);
    if (b - a <= kEdgeMiss) continue;
    constexpr int kSamples = 16;
    for (int i = 0; i <= kSamples; ++i) {
      double x = i == kSamples ? b : a + (b - a) * i / kSamples;
      double bottom = plane - (x < m.x0 ? m.haunch_depth : m.depth);
      const Ring ring = slab.treated ? ring_at(part, x, i == kSamples ? Side::before : Side::after) : Ring{};
      if (!check_mortise_section(m, who, slab.section(x), slab.treated ? &ring : nullptr, index, bottom, x, found)) return;
    }
  }
}

void check_mortises(const Part& part, Found& found) {
  std::set<std::string> ids;
  for (const Mortise& m : part.mortises) {
    std::string who = "the mortise '" + m.id + "'";
    if (!ids.insert(m.id).second) report(found, "shape.mortise-id", who + " is there twice", "give each its own name");
    std::size_t before = found.size();
    if (!sound_numbers(m)) {
      report(found, "shape.number",
             who + " holds a number that is not finite, or a direction not between 0 and 360 degrees");
    } else {
      check_mortise_sizes(m, who, found);
    }
    if (found.size() == before) check_mortise_place(part, m, who, found);
  }
}

}  // namespace

std::vector<Diagnostic> problems(const Part& part) {
  Found found;
  if (!std::isfinite(part.length) || !(part.length > 0)) {
    report(found, "shape.length", "the piece has no length");
    return found;
  }
  check_profile(part, part.outline, "the outline", found);
  check_faces(part, found);
  if (!found.empty()) return found;  // the rest needs profiles that can be evaluated
  check_treatments(part, found);
  if (!found.empty()) return found;
  check_rings(part, found);
  if (found.empty()) check_mortises(part, found);
  if (found.empty()) check_other_joints(part, found);
  return found;
}

}  // namespace pommel::shape
