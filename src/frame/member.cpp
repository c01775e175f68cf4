#include "frame/member.h"

#include <algorithm>
#include <array>
#include <limits>

#include "base/number.h"
#include "base/text.h"

namespace pommel::frame {
namespace {

struct Way {
  double x, y;
};

// where faces A and B look after 0 .. 3 quarter turns counter-clockwise seen from above; the part's x looks down, so
// that A x B = down in each of them
constexpr std::array<Way, 4> kFaceA{{{0, -1}, {1, 0}, {0, 1}, {-1, 0}}};
constexpr std::array<Way, 4> kFaceB{{{-1, 0}, {0, -1}, {1, 0}, {0, 1}}};

std::string mm(double value) { return format_number(value, 4); }
std::string mm(const Spot& spot) { return "(" + mm(spot.x) + ", " + mm(spot.y) + ", " + mm(spot.z) + ")"; }

void dump_member(const Member& member, std::string& out) {
  out += "member " + member.id + ": " + member.place + (member.hand.empty() ? "" : ", hand " + member.hand) +
         ", turned kind " + std::to_string(member.turned_kind);
  if (member.spare) {
    out += ", spare\n";
    return;
  }
  out += ", jointed kind " + std::to_string(member.jointed_kind) + ", horn " + mm(member.horn) + ", head at " +
         mm(member.stand.head) + ", quarters " + std::to_string(member.stand.quarters) + "\n";
  for (const shape::Mortise& mortise : member.part.mortises) {
    out += "  mortise " + mortise.id + " for " + mortise.mate + ": phi " + format_number(mortise.phi, 9) + ", x " +
           mm(mortise.x0) + " .. " + mm(mortise.x1) + ", t " + mm(mortise.t0) + " .. " + mm(mortise.t1) + ", depth " +
           mm(mortise.depth) + ", corner " + mm(mortise.corner_radius) + ", haunch " + mm(mortise.haunch_length) + " x " +
           mm(mortise.haunch_depth) + "\n";
  }
}

void dump_rail(const Rail& rail, std::string& out) {
  out += "rail " + rail.id + ": " + std::to_string(rail.quantity) + " x, " + rail.from + " to " + rail.to + ", section " +
         mm(rail.depth) + " x " + mm(rail.thickness) + ", shoulders " + mm(rail.shoulder_length) + ", overall " +
         mm(rail.overall_length) + "\n  tenon " + mm(rail.tenon_width) + " x " + mm(rail.tenon_thickness) + " x " +
         mm(rail.tenon_length) + ", offset " + mm(rail.tenon_offset) + ", haunch " + mm(rail.haunch_length) + " x " +
         mm(rail.haunch_depth) + (rail.mitred ? ", mitred" : "") + "\n  drop " + mm(rail.drop) + ", set back " +
         mm(rail.set_back) + ", top shoulder " + mm(rail.top_shoulder) + ", bottom shoulder " + mm(rail.bottom_shoulder) +
         ", from " + mm(rail.start) + " to " + mm(rail.end) + "\n";
}

void dump_kind(std::string_view of, std::size_t index, const Kind& kind, std::string& out) {
  std::vector<std::string> members;
  for (std::size_t i = 0; i < kind.members.size(); ++i) {
    members.push_back(kind.members[i] + " (" + std::to_string(kind.quarters[i]) + ")");
  }
  out += std::string(of) + " kind " + std::to_string(index) + ": " + kind.label + ": " + joined(members, ", ") + "\n  " +
         kind.reason + "\n";
}

}  // namespace

Spot in_room(const Stand& stand, double x, double y, double z) {
  const auto quarter = static_cast<std::size_t>(((stand.quarters % 4) + 4) % 4);
  const Way a = kFaceA[quarter], b = kFaceB[quarter];
  return {stand.head.x + y * a.x + z * b.x, stand.head.y + y * a.y + z * b.y, stand.head.z - x};
}

double least_wall(const Set& set) {
  double least = std::numeric_limits<double>::infinity();
  for (const JointReport& joint : set.joints) least = std::min(least, joint.least_wall);
  return least;
}

std::string dump(const Set& set) {
  std::string out;
  for (const Member& member : set.members) dump_member(member, out);
  for (const Rail& rail : set.rails) dump_rail(rail, out);
  for (std::size_t i = 0; i < set.turned_kinds.size(); ++i) dump_kind("turned", i, set.turned_kinds[i], out);
  for (std::size_t i = 0; i < set.jointed_kinds.size(); ++i) dump_kind("jointed", i, set.jointed_kinds[i], out);
  for (const JointReport& joint : set.joints) {
    out += "joint " + joint.member + ": least wall " + mm(joint.least_wall) + (joint.tenons_meet ? ", tenons meet" : "") +
           (joint.remedy.empty() ? "" : ", " + joint.remedy) + "\n  " + joint.text + "\n";
  }
  for (const Diagnostic& note : set.notes) out += render(note);
  return out;
}

}  // namespace pommel::frame
