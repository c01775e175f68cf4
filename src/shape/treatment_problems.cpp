#include "shape/treatment_problems.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "base/number.h"
#include "shape/angle.h"
#include "shape/mortise.h"
#include "shape/ring.h"
#include "shape/section.h"

namespace pommel::shape {
namespace {

using Found = std::vector<Diagnostic>;

// Heights nearer than this are one, mm: sums of a maker's sizes in other units.
constexpr double kMiss = 1e-6;
constexpr int kSamples = 8;

std::string degrees(double angle) {
  return format_number(angle * 360 / kTurn, 1) + " degrees";
}

bool all_finite(std::initializer_list<double> numbers) {
  return std::all_of(numbers.begin(), numbers.end(), [](double n) { return std::isfinite(n); });
}

bool direction(double angle) {
  return std::isfinite(angle) && angle >= 0 && angle < kTurn;
}

// The skin at theta without flutes and reeds.
double skin(const Part& part, double x, double theta, Side side) {
  double least = part.outline.value(x, side);
  for (const Face& face : part.faces) {
    double c = sin_cos(theta - face.phi).cos;
    if (c > 0) least = std::min(least, face.d.value(x, side) / c);
  }
  return least;
}

// Calls see(x, side) at the knots and between them on every stretch where the centre line is there; stops when see says false.
template <class F>
void along(const Part& part, const Profile& centre, const F& see) {
  const std::vector<double> at = knots(part);
  for (std::size_t k = 0; k + 1 < at.size(); ++k) {
    if (centre.pieces[centre.index_at(at[k], Side::after)].kind == Piece::Kind::clear) continue;
    for (int i = 0; i <= kSamples; ++i) {
      double x = i == kSamples ? at[k + 1] : at[k] + (at[k + 1] - at[k]) * i / kSamples;
      if (!see(x, i == kSamples ? Side::before : Side::after)) return;
    }
  }
}

// Ends of the stretches where the centre line is there, but for those at the piece's own ends: x and the side that looks in.
std::vector<std::pair<double, Side>> ends_inside(const Part& part, const Profile& centre) {
  std::vector<std::pair<double, Side>> ends;
  for (std::size_t i = 0; i < centre.pieces.size(); ++i) {
    if (centre.pieces[i].kind == Piece::Kind::clear) continue;
    bool begins = i == 0 || centre.pieces[i - 1].kind == Piece::Kind::clear;
    bool finishes = i + 1 == centre.pieces.size() || centre.pieces[i + 1].kind == Piece::Kind::clear;
    if (begins && centre.pieces[i].x0 > 0) ends.emplace_back(centre.pieces[i].x0, Side::after);
    if (finishes && centre.pieces[i].x1 < part.length) ends.emplace_back(centre.pieces[i].x1, Side::before);
  }
  return ends;
}

double valley_of(const Reeding& reeding, double c) {
  SinCos half = sin_cos(kTurn / reeding.count / 2);
  return c * half.cos + std::sqrt(std::max(0.0, reeding.radius * reeding.radius - c * c * half.sin * half.sin));
}

// Where the groove's arc ends by its own side, not by meeting the skin: a wall that no cutter of this radius leaves.
bool undercut(const Part& part, const Flute& flute, double x, Side side) {
  double c = flute.centre.value(x, side);
  if (c <= flute.radius) return true;
  double half = std::asin(flute.radius / c), tangent = std::sqrt((c - flute.radius) * (c + flute.radius));
  for (double sign : {-1.0, 1.0}) {
    if (skin(part, x, flute.theta + sign * half, side) > tangent + kMiss) return true;
  }
  return false;
}

void check_twist_skin(const Part& part, const Twist& twist, Found& found) {
  const std::vector<double> at = knots(part);
  for (std::size_t k = 0; k + 1 < at.size(); ++k) {
    if (at[k] < twist.x0 || at[k + 1] > twist.x1) continue;
    for (int i = 0; i <= kSamples; ++i) {
      double x = at[k] + (at[k + 1] - at[k]) * i / kSamples;
      Side side = i == kSamples ? Side::before : Side::after;
      if (i == kSamples) x = at[k + 1];
      double r = part.outline.value(x, side);
      if (!std::isfinite(r)) return report(found, "shape.twist-round", "the twist runs where nothing is turned, at " + mm_text(x), "keep it on the round");
      if (r - twist.depth * fade_at(twist, x) <= 0)
        return report(found, "shape.twist-axis", "the twist's hollow reaches the axis at " + mm_text(x), "make it less deep, or the round thicker");
      if (least_face_distance(part, x, side) < r - kMiss)
        return report(found, "shape.twist-faces", "the twist is cut by the faces at " + mm_text(x) + ": the round is " + mm_text(2 * r) + " there, the stock " + mm_text(2 * least_face_distance(part, x, side)),
                      "turn it thinner than the stock, or leave the faces out there");
    }
  }
}

bool holds(const Ring& ring, double y, double z) {
  return std::hypot(y, z) <= ring.radius(std::atan2(z, y)) + kMiss;
}

void check_bore_place(const Part& part, const Bore& bore, const std::string& who, Found& found) {
  double r = std::max(bore.diameter, bore.seat_diameter) / 2;
  if (bore.x - r < -kMiss || bore.x + r > part.length + kMiss)
    return report(found, "shape.bore-ends", who + " stands over the end of the piece of " + mm_text(part.length), "move it in");
  const Face* face = face_looking(part, bore.phi);
  double plane = face ? face->d.value(bore.x, Side::after) : 0;
  if (!face || !std::isfinite(plane))
    return report(found, "shape.bore-face", who + " enters " + face_name(bore.phi) + ", and the piece has no such face there");
  double thick = thickness_at(part, bore);
  if (!(thick > 0)) return report(found, "shape.bore-beside", who + " passes beside the wood", "bring it nearer to the axis");
  if (bore.seat_depth >= thick) return report(found, "shape.bore-seat", who + " has a seat deeper than the wood is thick", "make the seat less deep");
  if (goes_through(part, bore)) return;
  const Ring ring = ring_at(part, bore.x, Side::after);
  SinCos turn = sin_cos(bore.phi);
  double bottom = plane - bore.depth;
  for (double t : {bore.t - bore.diameter / 2, bore.t + bore.diameter / 2}) {
    if (bottom >= 0 || holds(ring, bottom * turn.cos - t * turn.sin, bottom * turn.sin + t * turn.cos)) continue;
    return report(found, "shape.bore-through", who + " breaks out on the other side, " + mm_text(bore.depth) + " deep in " + mm_text(thick),
                  "make it less deep, or bore right through");
  }
}

void check_bores(const Part& part, Found& found) {
  std::set<std::string> ids;
  for (const Mortise& m : part.mortises) ids.insert(m.id);
  for (const Bore& bore : part.bores) {
    const std::string who = "the bore '" + bore.id + "'";
    if (!ids.insert(bore.id).second) report(found, "shape.bore-id", who + " is there twice", "give each joint its own name");
    if (!all_finite({bore.x, bore.t, bore.diameter, bore.depth, bore.seat_diameter, bore.seat_depth}) || !direction(bore.phi)) {
      report(found, "shape.number", who + " holds a number that is not finite, or a direction not between 0 and 360 degrees");
    } else if (!(bore.diameter > 0) || !(bore.depth > 0)) {
      report(found, "shape.bore-size", who + " has no diameter or depth");
    } else if (bore.seat_diameter < 0 || bore.seat_depth < 0 || (bore.seat_diameter > 0) != (bore.seat_depth > 0) ||
               (bore.seat_diameter > 0 && (bore.seat_diameter <= bore.diameter || bore.seat_depth >= bore.depth))) {
      report(found, "shape.bore-size", who + " has a seat without diameter or depth, or no wider or no shallower than itself");
    } else {
      check_bore_place(part, bore, who, found);
    }
  }
}

void check_axial_bores(const Part& part, Found& found) {
  for (const AxialBore& bore : part.axial_bores) {
    const std::string who = "the bore '" + bore.id + "' along the axis";
    if (!all_finite({bore.diameter, bore.x0, bore.x1}) || !(bore.diameter > 0) || !(bore.x0 < bore.x1)) {
      report(found, "shape.axial-size", who + " has no diameter or length");
      continue;
    }
    if (bore.x0 < -kMiss || bore.x1 > part.length + kMiss) {
      report(found, "shape.axial-ends", who + " runs from " + mm_text(bore.x0) + " to " + mm_text(bore.x1) + ", out of the piece of " + mm_text(part.length));
      continue;
    }
    std::vector<double> at = knots(part);
    for (int i = 0; i <= 200; ++i) at.push_back(bore.x0 + (bore.x1 - bore.x0) * i / 200);
    for (double x : at) {
      if (x < bore.x0 || x > bore.x1) continue;
      double wood = std::min(x > bore.x0 ? ring_at(part, x, Side::before).least() : 1e9, x < bore.x1 ? ring_at(part, x, Side::after).least() : 1e9);
      if (wood > bore.diameter / 2 + kMiss) continue;
      report(found, "shape.axial-wall", who + " breaks through the skin at " + mm_text(x) + ": the wood is " + mm_text(2 * wood) + " thick there",
             "bore it narrower, or make the piece thicker there");
      break;
    }
  }
}

// Places along the piece between which the sawn end lies: over all of the section at the cut's own x.
std::pair<double, double> reach_of(const Part& part, const EndCut& cut) {
  const Ring ring = ring_at(part, std::clamp(cut.x, 0.0, part.length), cut.at_head ? Side::after : Side::before);
  double least = 0, most = 0;
  constexpr int kRound = 720;
  std::vector<double> at = ring.creases();
  for (int i = 0; i < kRound; ++i) at.push_back(i * kTurn / kRound);
  for (double theta : at) {
    double n = ring.radius(theta) * sin_cos(theta - cut.phi).cos * std::tan(cut.angle) * (cut.at_head ? -1 : 1);
    least = std::min(least, n);
    most = std::max(most, n);
  }
  return {cut.x + least, cut.x + most};
}

void check_end_cuts(const Part& part, Found& found) {
  double head = 0, foot = part.length;
  int heads = 0, feet = 0;
  for (const EndCut& cut : part.end_cuts) {
    const std::string who = std::string("the sawn ") + (cut.at_head ? "head" : "foot");
    if (!all_finite({cut.x, cut.angle}) || !direction(cut.phi) || std::fabs(cut.angle) >= kQuarterTurn) {
      report(found, "shape.end-cut", who + " has no place, or leans by a quarter turn or more");
      continue;
    }
    if (++(cut.at_head ? heads : feet) > 1) {
      report(found, "shape.end-cut", who + " is there twice");
      continue;
    }
    const auto [from, to] = reach_of(part, cut);
    if (from < -kMiss || to > part.length + kMiss) {
      report(found, "shape.end-long", who + " reaches from " + mm_text(from) + " to " + mm_text(to) + ", and the piece is " + mm_text(part.length) + " long",
             "turn the piece longer, or saw it further in");
      continue;
    }
    if (cut.at_head) head = to;
    else foot = from;
  }
  if (head >= foot) report(found, "shape.end-cut", "the two sawn ends meet", "make the piece longer");
}

}  // namespace

void check_flute(const Part& part, const Flute& flute, Found& found) {
  if (!direction(flute.theta) || !std::isfinite(flute.radius) || !(flute.radius > 0))
    return report(found, "shape.flute", "a flute has no radius, or no direction between 0 and 360 degrees");
  const std::string who = "the flute at " + degrees(flute.theta);
  const std::size_t before = found.size();
  check_profile(part, flute.centre, "the centre line of " + who, found);
  if (found.size() > before) return;
  along(part, flute.centre, [&](double x, Side side) {
    double bottom = flute.centre.value(x, side) - flute.radius;
    if (bottom <= 0) {
      report(found, "shape.flute-axis", who + " reaches the axis at " + mm_text(x), "make it less deep");
    } else if (bottom < skin(part, x, flute.theta, side) - kMiss && undercut(part, flute, x, side)) {
      report(found, "shape.flute-deep", who + " is deeper than half round at " + mm_text(x), "make it wider, or less deep");
    }
    return found.size() == before;
  });
  if (found.size() > before) return;
  for (const auto& [x, side] : ends_inside(part, flute.centre)) {
    double under = skin(part, x, flute.theta, side) - (flute.centre.value(x, side) - flute.radius);
    if (under > kMiss)
      return report(found, "shape.flute-end", who + " ends with a wall of " + mm_text(under) + " at " + mm_text(x), "let it run out of the wood");
  }
}

void check_reeding(const Part& part, const Reeding& reeding, Found& found) {
  if (reeding.count < 3 || reeding.count > 1000 || !all_finite({reeding.phase, reeding.radius}) || !(reeding.radius > 0))
    return report(found, "shape.reeds", "reeds need a count of 3 to 1000, a radius and a direction");
  const std::size_t before = found.size();
  check_profile(part, reeding.centre, "the centre line of the reeds", found);
  if (found.size() > before) return;
  double side_sin = sin_cos(kTurn / reeding.count / 2).sin;
  along(part, reeding.centre, [&](double x, Side side) {
    double c = reeding.centre.value(x, side);
    if (reeding.radius <= c * side_sin)
      report(found, "shape.reeds-deep", "the reeds do not meet at " + mm_text(x) + ": each is narrower than its share of the round", "make them less deep, or more of them");
    else if (!std::isfinite(part.outline.value(x, side)))
      report(found, "shape.reeds-round", "the reeds run where nothing is turned, at " + mm_text(x), "keep them on the round");
    return found.size() == before;
  });
  if (found.size() > before) return;
  for (const auto& [x, side] : ends_inside(part, reeding.centre)) {
    double under = part.outline.value(x, side) - valley_of(reeding, reeding.centre.value(x, side));
    if (under > kMiss)
      return report(found, "shape.reeds-end", "the reeds end with a wall of " + mm_text(under) + " at " + mm_text(x), "let them run out of the round");
  }
}

void check_twist(const Part& part, const Twist& twist, Found& found) {
  if (!all_finite({twist.x0, twist.x1, twist.pitch, twist.depth, twist.fade0, twist.fade1, twist.phase}))
    return report(found, "shape.number", "the twist holds a number that is not finite");
  if (twist.starts < 1 || twist.starts > 100 || twist.pitch == 0 || !(twist.depth > 0))
    return report(found, "shape.twist", "a twist needs 1 to 100 starts, a pitch and a depth");
  if (!(twist.x0 < twist.x1) || twist.x0 < 0 || twist.x1 > part.length)
    return report(found, "shape.twist-ends", "the twist runs from " + mm_text(twist.x0) + " to " + mm_text(twist.x1) + ", and the piece is " + mm_text(part.length) + " long");
  if (!(twist.fade0 > 0) || !(twist.fade1 > 0) || twist.fade0 + twist.fade1 > twist.x1 - twist.x0 + kMiss)
    return report(found, "shape.twist-fade", "the twist fades over " + mm_text(twist.fade0) + " and " + mm_text(twist.fade1) + " of its " + mm_text(twist.x1 - twist.x0),
                  "let both fades be above nothing, and together no longer than the twist");
  check_twist_skin(part, twist, found);
}

void check_treatments(const Part& part, Found& found) {
  for (const Twist& twist : part.twists) check_twist(part, twist, found);
  for (std::size_t i = 0; i < part.twists.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (part.twists[i].x0 < part.twists[j].x1 && part.twists[j].x0 < part.twists[i].x1)
        report(found, "shape.twist-meet", "two twists meet at " + mm_text(std::max(part.twists[i].x0, part.twists[j].x0)), "end one before the other begins");
    }
  }
  // centre lines are evaluated at the knots of all, so each must be whole before any is looked at
  const std::size_t before = found.size();
  for (const Flute& flute : part.flutes) {
    if (flute.centre.pieces.empty() || flute.centre.start() != 0 || flute.centre.end() != part.length)
      return report(found, "shape.gap", "the centre line of the flute at " + degrees(flute.theta) + " does not run from the head to the foot");
  }
  for (const Reeding& reeding : part.reedings) {
    if (reeding.centre.pieces.empty() || reeding.centre.start() != 0 || reeding.centre.end() != part.length)
      return report(found, "shape.gap", "the centre line of the reeds does not run from the head to the foot");
  }
  if (found.size() > before) return;
  for (const Flute& flute : part.flutes) check_flute(part, flute, found);
  for (const Reeding& reeding : part.reedings) check_reeding(part, reeding, found);
}

void check_other_joints(const Part& part, Found& found) {
  check_bores(part, found);
  check_axial_bores(part, found);
  check_end_cuts(part, found);
}

}  // namespace pommel::shape
