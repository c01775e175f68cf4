#include "paper/leg_subject.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace pommel::paper {
namespace {

// A rail that meets posts of two heights hangs from each by another drop; boards of a panel count as one.
void from_this_head(const frame::Member& member, std::vector<frame::Rail>& rails) {
  for (frame::Rail& rail : rails) {
    rail.depth *= rail.quantity;
    const double drop = member.stand.head.z - rail.start.z - rail.depth / 2;
    if (std::fabs(drop - rail.drop) > 1e-6) rail.drop = drop;
  }
}

}  // namespace

LegSubject subject_of(const frame::Member& member, double square, const frame::Set& set, const std::string& heading) {
  LegSubject subject{heading, member.part, set.rails, square};
  from_this_head(member, subject.rails);
  return subject;
}

LegSubject subject_of(const shape::Part& turned, double square, const frame::Set& set, std::size_t piece, const std::string& heading) {
  for (const frame::Member& member : set.members)
    if (!member.spare && member.piece == piece) return subject_of(member, square, set, heading);
  return {heading, turned, set.rails, square};
}

std::vector<Ghost> ghosts(const LegSubject& subject, double phi, double stub) {
  const double half = subject.square / 2, quarter = std::numbers::pi / 2;
  const auto looks = [](double a, double b) { return std::fabs(std::remainder(a - b, 2 * std::numbers::pi)) < 1e-6; };
  // faces A and B are the outer ones (frame/table.h); a rail lies near the outer face beside the one it meets
  const double outer = looks(phi + quarter, 0) || looks(phi + quarter, quarter) ? 1 : -1;
  std::vector<Ghost> out;
  for (const shape::Mortise& mortise : subject.leg.mortises) {
    const auto rail = std::find_if(subject.rails.begin(), subject.rails.end(), [&](const frame::Rail& r) { return r.id == mortise.mate; });
    if (rail == subject.rails.end()) continue;
    const double x0 = rail->drop, x1 = rail->drop + rail->depth;
    if (looks(mortise.phi, phi)) {
      const double t0 = outer * (half - rail->set_back), t1 = t0 - outer * rail->thickness;
      out.push_back({{{x0, t0}, {x1, t0}, {x1, t1}, {x0, t1}}, true});
    } else {
      const double side = looks(mortise.phi, phi + quarter) ? 1 : -1;
      out.push_back({{{x0, side * half}, {x1, side * half}, {x1, side * (half + stub)}, {x0, side * (half + stub)}}, false});
    }
  }
  return out;
}

}  // namespace pommel::paper
