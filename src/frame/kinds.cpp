#include "frame/kinds.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "base/number.h"
#include "base/text.h"

namespace pommel::frame {
namespace {

using shape::Face;
using shape::Mortise;
using shape::Part;
using shape::Piece;
using shape::Profile;

constexpr double kSameLength = 1e-6;  // mm, as canonical_text rounds
constexpr double kSamePhi = 1e-9;
constexpr std::size_t kMostPlaces = 6;  // more are told by the first and the last of them

bool same(double a, double b) { return a == b || std::abs(a - b) <= kSameLength; }

bool same(const Piece& a, const Piece& b) {
  return a.kind == b.kind && same(a.x0, b.x0) && same(a.x1, b.x1) && same(a.r0, b.r0) && same(a.r1, b.r1) &&
         same(a.cx, b.cx) && same(a.cr, b.cr) && same(a.rho, b.rho) && (a.kind != Piece::Kind::arc || a.bulge == b.bulge) &&
         std::equal(a.c.begin(), a.c.end(), b.c.begin(), [](double p, double q) { return same(p, q); });
}

bool same(const Profile& a, const Profile& b) {
  return std::equal(a.pieces.begin(), a.pieces.end(), b.pieces.begin(), b.pieces.end(),
                    [](const Piece& p, const Piece& q) { return same(p, q); });
}

bool same(const Face& a, const Face& b) { return std::abs(a.phi - b.phi) <= kSamePhi && same(a.d, b.d); }

bool same(const Mortise& a, const Mortise& b) {
  return std::abs(a.phi - b.phi) <= kSamePhi && same(a.x0, b.x0) && same(a.x1, b.x1) && same(a.t0, b.t0) &&
         same(a.t1, b.t1) && same(a.depth, b.depth) && same(a.corner_radius, b.corner_radius) &&
         same(a.haunch_length, b.haunch_length) && same(a.haunch_depth, b.haunch_depth);
}

bool same(const shape::Bore& a, const shape::Bore& b) {
  return std::abs(a.phi - b.phi) <= kSamePhi && same(a.x, b.x) && same(a.t, b.t) && same(a.diameter, b.diameter) && same(a.depth, b.depth) &&
         same(a.seat_diameter, b.seat_diameter) && same(a.seat_depth, b.seat_depth);
}

bool same(const shape::AxialBore& a, const shape::AxialBore& b) { return same(a.diameter, b.diameter) && same(a.x0, b.x0) && same(a.x1, b.x1); }

bool same(const shape::EndCut& a, const shape::EndCut& b) {
  return a.at_head == b.at_head && same(a.x, b.x) && std::abs(a.angle - b.angle) <= kSamePhi && std::abs(std::remainder(a.phi - b.phi, 2 * std::numbers::pi)) <= kSamePhi;
}

bool same(const shape::Flute& a, const shape::Flute& b) {
  return std::abs(std::remainder(a.theta - b.theta, 2 * std::numbers::pi)) <= kSamePhi && same(a.radius, b.radius) && same(a.centre, b.centre);
}

bool same(const shape::Reeding& a, const shape::Reeding& b) {
  return a.count == b.count && std::abs(std::remainder(a.phase - b.phase, 2 * std::numbers::pi / a.count)) <= kSamePhi && same(a.radius, b.radius) && same(a.centre, b.centre);
}

bool same(const shape::Twist& a, const shape::Twist& b) {
  return same(a.x0, b.x0) && same(a.x1, b.x1) && a.starts == b.starts && same(a.pitch, b.pitch) && same(a.depth, b.depth) && same(a.fade0, b.fade0) && same(a.fade1, b.fade1) &&
         std::abs(std::remainder(a.phase - b.phase, 2 * std::numbers::pi / a.starts)) <= kSamePhi;
}

// whether each of `a` has a partner of its own in `b`, in any order: lists of a handful
template <class T>
bool same_in_any_order(const std::vector<T>& a, std::vector<T> b) {
  if (a.size() != b.size()) return false;
  for (const T& one : a) {
    const auto partner = std::find_if(b.begin(), b.end(), [&](const T& other) { return same(one, other); });
    if (partner == b.end()) return false;
    b.erase(partner);
  }
  return true;
}

int quarters_onto(const Part& from, const Part& onto, bool with_joints) {
  for (int quarters = 0; quarters < 4; ++quarters) {
    if (same_in_place(shape::turned_by(from, quarters), onto, with_joints)) return quarters;
  }
  return 0;  // canonical texts agree, so that one of the four does, but for a value on the edge of its rounding
}

std::string face_letter(double phi) {
  const int quarter = static_cast<int>(std::lround(phi / (std::numbers::pi / 2))) % 4;
  return std::string(1, "ABCD"[quarter]);
}

std::string joints_in_words(const Part& part) {
  std::vector<std::string> words;
  for (const Mortise& mortise : part.mortises) {
    words.push_back("face " + face_letter(mortise.phi) + ": " + format_number(mortise.x1 - mortise.x0, 2) + " x " +
                    format_number(mortise.t1 - mortise.t0, 2) + " x " + format_number(mortise.depth, 2) + " at " +
                    format_number(mortise.x0, 2));
  }
  for (const shape::Bore& bore : part.bores)
    words.push_back("face " + face_letter(bore.phi) + ": hole of " + format_number(bore.diameter, 2) + " at " + format_number(bore.x, 2));
  std::sort(words.begin(), words.end());
  return joined(words, ", ");
}

class Sorter {
 public:
  Sorter(Set& set, std::string why_hands) : set_(set), why_hands_(std::move(why_hands)) {}

  void sort() {
    group(false, set_.turned_kinds);
    group(true, set_.jointed_kinds);
    for (std::size_t i = 0; i < set_.turned_kinds.size(); ++i) explain_turned(i);
    for (std::size_t i = 0; i < set_.jointed_kinds.size(); ++i) explain_jointed(i);
  }

 private:
  const Member& member(const std::string& id) const {
    return *std::find_if(set_.members.begin(), set_.members.end(), [&](const Member& one) { return one.id == id; });
  }

  void group(bool with_joints, std::vector<Kind>& kinds) {
    kinds.clear();
    std::map<std::string, std::size_t> known;
    for (Member& one : set_.members) {
      if (with_joints && one.spare) continue;
      const auto [at, fresh] = known.emplace(shape::canonical_text(one.part, with_joints), kinds.size());
      if (fresh) kinds.emplace_back();
      Kind& kind = kinds[at->second];
      (with_joints ? one.jointed_kind : one.turned_kind) = static_cast<int>(at->second);
      kind.quarters.push_back(fresh ? 0 : quarters_onto(one.part, member(kind.members.front()).part, with_joints));
      kind.members.push_back(one.id);
      if (with_joints) {
        const bool own_mirror = shape::canonical_text(shape::mirrored(one.part), true) == at->first;
        one.hand = own_mirror ? "" : one.stand.quarters % 2 == 0 ? "left" : "right";
      }
    }
  }

  std::string places(const Kind& kind) const {
    std::vector<std::string> words;
    int spares = 0;
    for (const std::string& id : kind.members) {
      if (member(id).spare) ++spares; else words.push_back(member(id).place);
    }
    if (words.size() > kMostPlaces) words = {words.front() + " to " + words.back() + " (" + std::to_string(words.size()) + " places)"};
    if (spares > 0) words.push_back(spares == 1 ? "one spare" : std::to_string(spares) + " spares");
    return listed(words);
  }

  void explain_turned(std::size_t index) {
    Kind& kind = set_.turned_kinds[index];
    kind.label = member(kind.members.front()).noun + " as turned";
    kind.reason = places(kind) + (kind.members.size() == 1 ? ": one turning of its own"
                                                           : ": one turning and one program, because joints are cut after it");
    if (index == 0) return;
    const Kind& first = set_.turned_kinds[0];
    const bool mirror = shape::canonical_text(shape::mirrored(member(kind.members.front()).part), false) == shape::canonical_text(member(first.members.front()).part, false);
    kind.reason += mirror ? "; it winds the other way than " + places(first) : "; its outline or faces differ from those of " + places(first);
  }

  bool all_alike(const Kind& kind) const {
    const int stands = member(kind.members.front()).stand.quarters;
    return std::all_of(kind.quarters.begin(), kind.quarters.end(), [](int quarters) { return quarters == 0; }) &&
           std::all_of(kind.members.begin(), kind.members.end(), [&](const std::string& id) { return member(id).stand.quarters == stands; });
  }

  // how the other places of a kind stand against its first, in the room
  std::string turns_in_words(const Kind& kind) const {
    const Member& first = member(kind.members.front());
    std::vector<std::string> words;
    if (kind.members.size() > kMostPlaces && all_alike(kind)) return "all as it is";
    for (std::size_t i = 1; i < kind.members.size(); ++i) {
      const Member& other = member(kind.members[i]);
      // a part turned by q quarters about x, which looks down, is turned clockwise in the plan; standing turns it the other way
      const int turn = ((other.stand.quarters - first.stand.quarters + kind.quarters[i]) % 4 + 4) % 4;
      const std::string how = turn == 0 ? "as it is" : turn == 2 ? "turned by a half turn"
                              : "turned by a quarter " + std::string(turn == 1 ? "counter-clockwise" : "clockwise");
      words.push_back(other.place + " " + how);
    }
    return joined(words, ", ");
  }

  void explain_jointed(std::size_t index) {
    Kind& kind = set_.jointed_kinds[index];
    const Member& first = member(kind.members.front());
    kind.label = first.noun + ", " + places(kind);
    kind.reason = kind.members.size() == 1
                      ? first.place + " is like no other"
                      : places(kind) + " are the same piece, turned about its axis (from above, against " + first.place +
                            "): " + turns_in_words(kind);
    for (std::size_t other = 0; other < index; ++other) kind.reason += "; " + difference(first, set_.jointed_kinds[other]);
  }

  std::string difference(const Member& mine, const Kind& other) const {
    const Member& theirs = member(other.members.front());
    if (shape::canonical_text(shape::mirrored(mine.part), true) == shape::canonical_text(theirs.part, true)) {
      return "it is the mirror image of " + places(other) + ", which no quarter turn brings together, because " + why_hands_;
    }
    if (mine.turned_kind != theirs.turned_kind) return "it is turned otherwise than " + places(other);
    return "it differs from " + places(other) + " in its " + (mine.part.bores.empty() ? "mortises" : "joints") + " (" + joints_in_words(mine.part) +
           " against " + joints_in_words(theirs.part) + ")";
  }

  Set& set_;
  std::string why_hands_;
};

}  // namespace

bool same_in_place(const Part& a, const Part& b, bool with_joints) {
  return same(a.length, b.length) && same(a.outline, b.outline) && same_in_any_order(a.faces, b.faces) &&
         same_in_any_order(a.flutes, b.flutes) && same_in_any_order(a.reedings, b.reedings) && same_in_any_order(a.twists, b.twists) &&
         (!with_joints || (same_in_any_order(a.mortises, b.mortises) && same_in_any_order(a.bores, b.bores) &&
                           same_in_any_order(a.axial_bores, b.axial_bores) && same_in_any_order(a.end_cuts, b.end_cuts)));
}

void sort_into_kinds(Set& set, const std::string& why_hands) { Sorter(set, why_hands).sort(); }

}  // namespace pommel::frame
