#include "frame/table.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/text.h"
#include "frame/hands.h"
#include "frame/kinds.h"
#include "frame/plan.h"
#include "frame/walls.h"

namespace pommel::frame {
namespace {

using shape::Face;
using shape::Mortise;
using shape::Part;
using shape::Piece;
using shape::Profile;
using shape::Side;

constexpr double kSame = 1e-6;  // mm
constexpr double kHalfPi = std::numbers::pi / 2;
constexpr double kFaceC = std::numbers::pi, kFaceD = 1.5 * std::numbers::pi;

struct Corner {
  const char* place;
  const char* id;
  int quarters;
};

// in the order of the members; quarters as in the plan of table.h
constexpr Corner kCorners[] = {{"front left", "leg-front-left", 0},
                               {"front right", "leg-front-right", 1},
                               {"back left", "leg-back-left", 3},
                               {"back right", "leg-back-right", 2}};

// Side of the table that the rail in face D (C) of a leg runs along: with each quarter turn the next one.
TableSide side_of_face_d(int quarters) { return static_cast<TableSide>(quarters); }
TableSide side_of_face_c(int quarters) { return static_cast<TableSide>((quarters + 3) % 4); }

/// The first x from `from` on where `holds` is false, within the piece; its end when it holds throughout. `holds` may fail and
/// hold again: 64 looks a piece, then halving.
template <class Holds>
double first_failure(const Piece& piece, const Holds& holds) {
  constexpr int kLooks = 64;
  double good = piece.x0;
  if (!holds(piece.value(good))) return good;
  for (int i = 1; i <= kLooks; ++i) {
    double bad = i == kLooks ? piece.x1 : piece.x0 + (piece.x1 - piece.x0) * i / kLooks;
    if (holds(piece.value(bad))) {
      good = bad;
      continue;
    }
    for (int half = 0; half < 60; ++half) {
      const double middle = (good + bad) / 2;
      (holds(piece.value(middle)) ? good : bad) = middle;
    }
    return good;
  }
  return piece.x1;
}

template <class Holds>
double holds_until(const Profile& profile, const Holds& holds) {
  double until = 0;
  for (const Piece& piece : profile.pieces) {
    until = first_failure(piece, holds);
    if (until < piece.x1) return until;
  }
  return until;
}

class TableJoiner {
 public:
  TableJoiner(const Table& table, const Part& leg, const std::vector<double>& cutters, const LengthFormat& shown)
      : table_(table), leg_(leg), cutters_(cutters), findings_(shown), has_hands_(has_hands(leg)) {}

  Result<Set> join() {
    check_measures(table_, findings_);
    if (findings_.any_errors()) return Failure(findings_.errors());
    check_leg(table_, leg_, findings_);
    const bool leg_fits = !findings_.any_errors();
    plan_ = plan_rails(table_, head(), cutters_, findings_);
    if (leg_fits) {
      for (const Corner& corner : kCorners) add_leg(corner);
      ask_second_judge();
    }
    if (findings_.any_errors()) return Failure(findings_.errors());
    for (int i = 1; i <= table_.spares; ++i) add_spares(i);
    for (const Seated& seat : plan_.seats) add_rail(seat);
    sort_into_kinds(set_, why_sides_differ());
    if (mirrored())
      for (Member& member : set_.members)
        if (!member.spare) member.hand = at_the_right(member.stand.quarters) ? "right" : "left";
    note_the_rest();
    set_.notes = findings_.notes();
    return std::move(set_);
  }

 private:
  bool mirrored() const { return table_.mirrored_pairs && has_hands_; }
  static bool at_the_right(int quarters) { return quarters == 1 || quarters == 2; }

  double head() const {
    const double square = square_stretch(leg_, table_.square);
    return table_.head_length ? std::min(square, *table_.head_length) : square;
  }
  double frame_length() const { return table_.length - 2 * table_.overhang_short; }
  double frame_width() const { return table_.width - 2 * table_.overhang_long; }

  Stand stand(int quarters) const {
    const double x = (frame_length() - table_.square) / 2, y = (frame_width() - table_.square) / 2;
    const double right = at_the_right(quarters) ? 1 : -1, back = quarters >= 2 ? 1 : -1;
    return {{right * x, back * y, table_.height - table_.top_thickness}, quarters};
  }

  Mortise mortise(const Seated& seat, bool on_face_d) const {
    const Tenoned& kind = plan_.kinds[seat.of];
    Mortise cut;
    cut.id = seat.name;
    cut.mate = "rail-" + seat.name;
    cut.phi = on_face_d ? kFaceD : kFaceC;
    cut.x0 = kind.x0();
    cut.x1 = kind.x1();
    // the outer face lies towards growing t on face D and towards falling t on face C
    const double inwards = table_.square / 2 - kind.centre(), middle = on_face_d ? inwards : -inwards;
    cut.t0 = middle - kind.thickness / 2;
    cut.t1 = middle + kind.thickness / 2;
    cut.depth = kind.mortise_depth(table_);
    cut.corner_radius = table_.mortise_end == MortiseEnd::round ? kind.thickness / 2 : 0;
    cut.haunch_length = kind.rail.haunch_depth > 0 ? kind.rail.haunch_length : 0;
    cut.haunch_depth = kind.rail.haunch_length > 0 ? kind.rail.haunch_depth : 0;
    return cut;
  }

  std::vector<const Seated*> seats_in(int quarters) const {
    std::vector<const Seated*> found;
    for (const Seated& seat : plan_.seats) {
      if (seat.side == side_of_face_d(quarters) || seat.side == side_of_face_c(quarters)) found.push_back(&seat);
    }
    return found;
  }

  const Tenoned& kind_of(const std::string& mortise_id) const {
    const auto seat = std::find_if(plan_.seats.begin(), plan_.seats.end(), [&](const Seated& s) { return s.name == mortise_id; });
    return plan_.kinds[seat->of];
  }

  void add_leg(const Corner& corner) {
    Member member;
    member.id = corner.id;
    member.place = corner.place;
    member.label = member.place + " leg";
    member.part = mirrored() && at_the_right(corner.quarters) ? other_hand(leg_) : leg_;
    member.horn = table_.horn;
    member.stand = stand(corner.quarters);
    for (const Seated* seat : seats_in(corner.quarters)) {
      member.part.mortises.push_back(mortise(*seat, seat->side == side_of_face_d(corner.quarters)));
    }
    set_.joints.push_back(judge(member));
    set_.members.push_back(std::move(member));
  }

  bool run_together(const std::string& a, const std::string& b) const {
    return table_.remedy == Remedy::mitred && kind_of(a).long_side != kind_of(b).long_side &&
           mortises_meet(table_, kind_of(a), kind_of(b));
  }

  JointReport judge(const Member& member) {
    JointReport report;
    report.member = member.id;
    report.least_wall = std::numeric_limits<double>::infinity();
    check_heads(member.part);
    Wall least;
    for (const Wall& wall : walls(member.part, [this](const auto& a, const auto& b) { return run_together(a, b); })) {
      check_wall(wall);
      if (wall.thickness < report.least_wall) {
        report.least_wall = wall.thickness;
        least = wall;
      }
    }
    describe_meeting(member.part, report);
    report.text = member.label + ": least wall " + findings_.mm(report.least_wall) + ", " + wall_in_words(least) + "; " + report.text;
    return report;
  }

  void check_heads(const Part& part) {
    for (const Mortise& cut : part.mortises) {
      const Tenoned& kind = kind_of(cut.id);
      if (kind.from_above || cut.x0 > kSame) continue;
      findings_.error("frame.mortise-at-head",
                      "the " + kind.label + "'s mortise begins at the leg's head and would be open there",
                      "give the rail a drop or a top shoulder; a haunch may fill the shoulder");
    }
  }

  std::string wall_in_words(const Wall& wall) const {
    const std::string from = "from the " + kind_of(wall.mortise).label + "'s mortise to ";
    switch (wall.towards) {
      case Wall::Towards::side_face: return from + "the face beside it";
      case Wall::Towards::far_face: return from + "the face opposite";
      case Wall::Towards::round: return from + "the round at " + findings_.mm(wall.x) + " from the head";
      case Wall::Towards::head: return from + "the head";
      case Wall::Towards::foot: return from + "the foot";
      case Wall::Towards::mortise: return from + "the " + kind_of(wall.other).label + "'s mortise";
    }
    return {};
  }

  void check_wall(const Wall& wall) {
    const Tenoned& kind = kind_of(wall.mortise);
    if (wall.thickness > kSame) {
      if (wall.thickness < table_.least_wall - kSame) {
        findings_.warning("frame.thin-wall",
                          "only " + findings_.mm(wall.thickness) + " of wood are left " + wall_in_words(wall) + ", less than the " +
                              findings_.mm(table_.least_wall) + " asked for",
                          "set the rail back more, shorten the tenon, or make it thinner");
      }
      return;
    }
    const std::string the_mortise = "the " + kind.label + "'s mortise, " + findings_.mm(kind.mortise_depth(table_)) + " deep, ";
    switch (wall.towards) {
      case Wall::Towards::side_face:
        findings_.error("frame.mortise-out-of-square",
                        the_mortise + "leaves the square through the face beside it by " + findings_.mm(-wall.thickness),
                        "set the rail so that its tenon, " + findings_.mm(kind.thickness) + " thick with its middle " +
                            findings_.mm(kind.centre()) + " from the outer face, stays inside the square");
        return;
      case Wall::Towards::far_face:
        findings_.error("frame.mortise-through-leg",
                        the_mortise + "goes through the leg by " + findings_.mm(-wall.thickness) + " at " +
                            findings_.mm(wall.x) + " from the head",
                        "make the tenon shorter than " + findings_.mm(kind.length + wall.thickness) + ", or the leg thicker");
        return;
      case Wall::Towards::round:
        findings_.error("frame.mortise-in-round",
                        the_mortise + "runs into the round: at " + findings_.mm(wall.x) + " from the head it breaks out by " +
                            findings_.mm(-wall.thickness),
                        "make the square stretch longer or the bottom shoulder wider, so that the mortise, which ends at " +
                            findings_.mm(kind.x1()) + ", ends above it");
        return;
      case Wall::Towards::foot:
        findings_.error("frame.mortise-in-round", the_mortise + "reaches the foot", "make the rail shallower than the leg is long");
        return;
      case Wall::Towards::head: return;  // check_heads speaks of the mortise; a haunch may be open there
      case Wall::Towards::mortise:
        findings_.error("frame.tenons-still-meet",
                        the_mortise + "runs into that of the " + kind_of(wall.other).label,
                        "ask for more wall between them, choose another remedy, or set the rails apart");
        return;
    }
  }

  void describe_meeting(const Part& part, JointReport& report) const {
    bool mortises = false, as_wished = false;
    for (const Mortise& a : part.mortises) {
      for (const Mortise& b : part.mortises) {
        const Tenoned &one = kind_of(a.id), &other = kind_of(b.id);
        if (!one.long_side || other.long_side) continue;
        report.tenons_meet = report.tenons_meet || tenons_meet(table_, one, other);
        mortises = mortises || mortises_meet(table_, one, other);
        as_wished = as_wished || mortises_meet(table_, as_first_planned(one), as_first_planned(other));
      }
    }
    if (report.tenons_meet || (as_wished && table_.remedy != Remedy::mitred)) report.remedy = word(table_.remedy);
    report.text = report.tenons_meet ? "the tenons meet and are mitred"
                  : mortises         ? "the tenons do not meet, their mortises do at the bottom"
                  : as_wished        ? "the tenons would meet; they are " + report.remedy
                                     : "the tenons do not meet";
  }

  Tenoned as_first_planned(Tenoned kind) const {
    kind.length = kind.rail.tenon_length;
    kind.offset = 0;
    return kind;
  }

  // shape/ has its own eye on mortises; what it refuses must not leave here, whatever this room thought of it
  void ask_second_judge() {
    if (findings_.any_errors()) return;
    for (const Member& member : set_.members) {
      for (const Diagnostic& one : shape::problems(member.part)) findings_.error(one.id, member.label + ": " + one.message, one.remedy);
    }
  }

  void add_spares(int number) {
    if (mirrored()) add_spare("left ", leg_, number), add_spare("right ", other_hand(leg_), number);
    else add_spare("", leg_, number);
  }

  // `hand`: "left ", "right " or nothing
  void add_spare(const std::string& hand, const Part& leg, int number) {
    Member spare;
    spare.id = "spare-" + (hand.empty() ? "" : hand.substr(0, hand.size() - 1) + "-") + std::to_string(number);
    spare.label = "spare " + hand + "leg " + std::to_string(number);
    spare.place = "spare";
    spare.part = leg;
    spare.spare = true;
    spare.horn = table_.horn;
    set_.members.push_back(std::move(spare));
  }

  void add_rail(const Seated& seat) {
    const Tenoned& kind = plan_.kinds[seat.of];
    Rail rail;
    rail.id = "rail-" + seat.name;
    rail.label = seat.label;
    rail.shoulder_length = (kind.long_side ? frame_length() : frame_width()) - 2 * table_.square;
    rail.overall_length = rail.shoulder_length + 2 * kind.length;
    rail.depth = kind.rail.depth;
    rail.thickness = kind.rail.thickness;
    rail.tenon_length = kind.length;
    rail.tenon_thickness = kind.thickness;
    rail.tenon_width = kind.x1() - kind.x0();
    rail.haunch_length = kind.rail.haunch_depth > 0 ? kind.rail.haunch_length : 0;
    rail.haunch_depth = kind.rail.haunch_length > 0 ? kind.rail.haunch_depth : 0;
    rail.mitred = kind.mitred;
    rail.drop = kind.rail.drop;
    rail.set_back = kind.rail.set_back;
    rail.top_shoulder = kind.rail.top_shoulder;
    rail.bottom_shoulder = kind.rail.bottom_shoulder;
    rail.tenon_offset = kind.offset;
    place_rail(seat.side, kind, rail);
    set_.rails.push_back(std::move(rail));
  }

  // from left to right, and from front to back
  void place_rail(TableSide side, const Tenoned& kind, Rail& rail) const {
    const double z = table_.height - table_.top_thickness - kind.rail.drop - kind.rail.depth / 2;
    const double half = rail.shoulder_length / 2, behind = kind.rail.set_back + kind.rail.thickness / 2;
    if (kind.long_side) {
      const double y = (side == TableSide::front ? -1 : 1) * (frame_width() / 2 - behind);
      rail.start = {-half, y, z};
      rail.end = {half, y, z};
      rail.from = side == TableSide::front ? "leg-front-left" : "leg-back-left";
      rail.to = side == TableSide::front ? "leg-front-right" : "leg-back-right";
    } else {
      const double x = (side == TableSide::left ? -1 : 1) * (frame_length() / 2 - behind);
      rail.start = {x, -half, z};
      rail.end = {x, half, z};
      rail.from = side == TableSide::left ? "leg-front-left" : "leg-front-right";
      rail.to = side == TableSide::left ? "leg-back-left" : "leg-back-right";
    }
  }

  std::string why_sides_differ() const {
    const Tenoned &a = plan_.kinds[0], &b = plan_.kinds[1];
    std::vector<std::string> ways;
    const auto compare = [&](const std::string& what, double long_side, double short_side) {
      if (std::abs(long_side - short_side) > kSame) {
        ways.push_back(what + " (" + findings_.mm(long_side) + " and " + findings_.mm(short_side) + ")");
      }
    };
    compare("where the tenon begins", a.x0(), b.x0());
    compare("where the tenon ends", a.x1(), b.x1());
    compare("the tenon's thickness", a.thickness, b.thickness);
    compare("the tenon's length", a.length, b.length);
    compare("the tenon's place from the outer face", a.centre(), b.centre());
    compare("the haunch's length", a.rail.haunch_length, b.rail.haunch_length);
    compare("the haunch's depth", a.rail.haunch_depth, b.rail.haunch_depth);
    if (table_.drawer) ways.push_back("the drawer front");
    if (ways.empty()) return "the leg itself is not its own mirror image";
    return "long and short side differ in " + listed(ways);
  }

  void note_the_rest() {
    if (table_.drawer && table_.horn > 0) {
      findings_.note("frame.horn-and-drawer",
                     "the upper drawer rail is let in from above, so the horn of " + findings_.mm(table_.horn) +
                         " must come off the front legs before that pocket is cut");
    }
    if (has_hands_ && !leg_.twists.empty()) {
      if (!table_.mirrored_pairs) note_alike(findings_, "frame.legs-wind-alike", leg_, "all four legs", "those at the right");
    } else if (!same_in_place(leg_, other_hand(leg_), false)) {
      findings_.note("frame.leg-handed",
                     "the leg's faces C and D are not alike as turned, so that left and right legs do not mirror one another");
    }
  }

  const Table& table_;
  const Part& leg_;
  const std::vector<double>& cutters_;
  Findings findings_;
  bool has_hands_;
  Plan plan_;
  Set set_;
};

}  // namespace

double leg_length(const Table& table) { return table.height - table.top_thickness - table.glide_height; }

double square_stretch(const Part& leg, double square) {
  if (leg.outline.pieces.empty() || !(square > 0)) return 0;
  const double corner = rules::half_diagonal(square) - kSame;
  double until = holds_until(leg.outline, [corner](double r) { return r >= corner; });
  for (int quarter = 0; quarter < 4; ++quarter) {
    const auto face = std::find_if(leg.faces.begin(), leg.faces.end(),
                                   [&](const Face& one) { return std::abs(one.phi - quarter * kHalfPi) < 1e-9; });
    if (face == leg.faces.end()) return 0;
    until = std::min(until, holds_until(face->d, [square](double d) { return std::abs(d - square / 2) <= kSame; }));
  }
  // the bevels of a leg of more sides begin where they come nearer than the corners
  for (const Face& face : leg.faces)
    if (std::abs(std::remainder(face.phi, kHalfPi)) > 1e-9) until = std::min(until, holds_until(face.d, [corner](double d) { return d >= corner; }));
  return until;
}

Result<Set> join_table(const Table& table, const Part& leg, const std::vector<double>& mortise_cutters,
                       const LengthFormat& shown) {
  return TableJoiner(table, leg, mortise_cutters, shown).join();
}

}  // namespace pommel::frame
