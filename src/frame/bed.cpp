#include "frame/bed.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/text.h"
#include "frame/choice.h"
#include "frame/hands.h"
#include "frame/kinds.h"
#include "frame/plan.h"
#include "frame/stretch.h"
#include "frame/walls.h"

namespace pommel::frame {
namespace {

using shape::Bore;
using shape::Mortise;
using shape::Part;
using shape::Piece;

constexpr double kSame = 1e-6;  // mm
constexpr double kHalfPi = std::numbers::pi / 2;
constexpr std::size_t kHeadPost = 0, kFootPost = 1, kFinial = 2;

struct Corner {
  const char* place;
  int quarters;
  bool head;
};
constexpr std::array<Corner, 4> kCorners{{{"head left", 3, true}, {"head right", 2, true}, {"foot left", 0, false}, {"foot right", 1, false}}};

std::string dashed(std::string words) {
  std::replace(words.begin(), words.end(), ' ', '-');
  return words;
}

// front: the foot; each further quarter turn puts the next side on face D, and the one before on face C
TableSide side_of_face_d(int quarters) { return static_cast<TableSide>(quarters); }

/// A rail as planned: where it runs, and how its ends are joined.
struct Planned {
  std::string name;   ///< "left", "crest-head"
  std::string id;     ///< "rail-left", "crest-head"
  std::string label;  ///< "left side rail"
  TableSide side = TableSide::front;
  double height = 0;  ///< floor to its upper edge
  bool bolted = false, plated = false;
  Tenoned tenon;      ///< its drop is that of the post it is asked about
};

/// A box in a post, mm: x from the head, u from the outer face B (u = square at face D), v from the outer face A.
struct Box {
  std::string of;    ///< id of the joint it is of
  std::string rail;  ///< label of the rail it is for
  bool bolt = false;
  double x0, x1, u0, u1, v0, v1;
};

double gap(double lo_a, double hi_a, double lo_b, double hi_b) { return std::max(lo_b - hi_a, lo_a - hi_b); }

/// Wood between two boxes; negative where they share some: by how much.
double between(const Box& a, const Box& b) {
  const double x = gap(a.x0, a.x1, b.x0, b.x1), u = gap(a.u0, a.u1, b.u0, b.u1), v = gap(a.v0, a.v1, b.v0, b.v1);
  if (x <= 0 && u <= 0 && v <= 0) return std::max({x, u, v});
  return std::hypot(std::max(0.0, x), std::max(0.0, u), std::max(0.0, v));
}

void check_bed_rail(const std::string& label, const BedRail& rail, bool tenoned, Findings& findings) {
  MeasureCheck check(label + "'s", findings);
  check.positive("height", rail.height);
  ApronRail measures = rail.rail;
  measures.drop = 0;
  check.not_negative("stub tenon's length", rail.rail.tenon_length);
  if (!tenoned && std::abs(rail.rail.tenon_length) <= kSame) measures.tenon_length = 1, measures.tenon_rule = TenonRule::third_of_rail;
  check_rail(label, measures, findings);
}

void check_measures(const Bed& bed, Findings& findings) {
  MeasureCheck check("bed's", findings);
  check.positive("mattress length", bed.mattress_length);
  check.positive("mattress width", bed.mattress_width);
  check.not_negative("mattress thickness", bed.mattress_thickness);
  check.not_negative("allowance in length", bed.allowance_length);
  check.not_negative("allowance in width", bed.allowance_width);
  check.positive("support height", bed.support_height);
  check.not_negative("support depth", bed.support_depth);
  check.positive("post square", bed.square);
  check.positive("head post", bed.head_post);
  check.positive("foot post", bed.foot_post);
  check.not_negative("glide height", bed.glide_height);
  check.not_negative("relief at the bottom of a mortise", bed.relief);
  check.not_negative("least wall", bed.least_wall);
  check_bed_rail("side rail", bed.side_rail, false, findings);
  check_bed_rail("head rail", bed.head_rail, true, findings);
  check_bed_rail("foot rail", bed.foot_rail, true, findings);
  if (bed.head_crest) check_bed_rail("head crest", *bed.head_crest, true, findings);
  if (bed.foot_crest) check_bed_rail("foot crest", *bed.foot_crest, true, findings);
  if (bed.spares < 0 || bed.spares > 100)
    findings.error("frame.measure-out-of-range", "the number of spares is " + std::to_string(bed.spares), "give a number from 0 to 100");
}

void check_fittings(const Bed& bed, Findings& findings) {
  const auto count = [&](const std::string& what, int value, int most) {
    if (value < 1 || value > most)
      findings.error("frame.measure-out-of-range", "the number of " + what + " is " + std::to_string(value), "give a number from 1 to " + std::to_string(most));
  };
  if (bed.side_joint == SideJoint::bolts || bed.end_joint == EndJoint::bolts) {
    MeasureCheck check("bolts'", findings);
    count("bolts in a joint", bed.bolts.count, 4);
    check.positive("hole", bed.bolts.diameter);
    check.not_negative("seat's diameter", bed.bolts.seat_diameter);
    check.not_negative("seat's depth", bed.bolts.seat_depth);
    check.not_negative("distance of the nut from the rail's end", bed.bolts.nut_from_end);
    check.not_negative("stagger", bed.bolts.stagger);
    if (bed.bolts.count > 1) check.positive("spread", bed.bolts.spread);
  }
  if (bed.side_joint == SideJoint::hook_plates) {
    MeasureCheck check("hook plates'", findings);
    count("hooks on a plate", bed.plates.hooks, 6);
    check.positive("length", bed.plates.length);
    check.positive("width", bed.plates.width);
    check.positive("thickness", bed.plates.thickness);
    check.positive("slots' length", bed.plates.slot_length);
    check.positive("slots' width", bed.plates.slot_width);
    check.positive("slots' depth", bed.plates.slot_depth);
  }
  if (bed.headboard_joint != HeadboardJoint::none) {
    MeasureCheck check("headboard's", findings);
    check.not_negative("bottom", bed.headboard.bottom);
    check.positive("top", bed.headboard.top);
    check.positive("thickness", bed.headboard.thickness);
    check.positive("depth in the posts", bed.headboard.depth);
    check.not_negative("set-back", bed.headboard.set_back);
    count("boards in the headboard", bed.headboard.boards, 20);
    if (bed.headboard_joint == HeadboardJoint::mortises) {
      count("tongues of the headboard", bed.headboard.tongues, 20);
      check.positive("tongue's width", bed.headboard.tongue_width);
    }
  }
  if (bed.finial_kind == FinialKind::on_a_pin) {
    MeasureCheck check("finial's", findings);
    check.positive("length", bed.finial.length);
    check.positive("pin's length", bed.finial.pin_length);
    check.positive("pin's diameter", bed.finial.pin_diameter);
    check.positive("square", bed.finial.square);
  }
}

class BedJoiner {
 public:
  BedJoiner(const Bed& bed, const BedPieces& pieces, const std::vector<double>& cutters, const LengthFormat& shown)
      : bed_(bed), pieces_(pieces), cutters_(cutters), findings_(shown, "post") {}

  Result<Set> join() {
    check_measures(bed_, findings_);
    check_fittings(bed_, findings_);
    if (findings_.any_errors()) return Failure(findings_.errors());
    check_post(pieces_.head_post, "head post", bed_.head_post);
    check_post(pieces_.foot_post, "foot post", bed_.foot_post);
    check_room();
    check_finial();
    plan();
    check_rails();
    check_side_joint();
    check_headboard();
    if (!findings_.any_errors())
      for (const Corner& corner : kCorners) add_post(corner);
    ask_second_judge();
    if (findings_.any_errors()) return Failure(findings_.errors());
    for (const Corner& corner : kCorners)
      if (pieces_.finial) add_finial(corner);
    for (int i = 1; i <= bed_.spares; ++i) add_spares(true, "head post", kHeadPost, i), add_spares(false, "foot post", kFootPost, i);
    for (const Planned& rail : rails_) add_rail(rail);
    if (bed_.headboard_joint != HeadboardJoint::none) add_headboard();
    sort_into_kinds(set_, "the side rail and the end rail of a post differ");
    note_the_rest();
    set_.notes = findings_.notes();
    return std::move(set_);
  }

 private:
  // --- what is wrong with the whole

  double post_height(bool head) const { return head ? bed_.head_post : bed_.foot_post; }
  const Part& post_part(bool head) const { return head ? pieces_.head_post : pieces_.foot_post; }
  bool mirrored(bool head) const { return bed_.mirrored_pairs && has_hands(post_part(head)); }
  static bool at_the_right(const Corner& corner) { return corner.quarters == 1 || corner.quarters == 2; }

  void check_post(const Part& post, const std::string& label, double height) {
    if (!post.mortises.empty() || !post.bores.empty() || !post.axial_bores.empty() || !post.end_cuts.empty())
      findings_.error("frame.post-has-joints", "the " + label + " came with joints of its own", "give the post as turned; the bed places its joints");
    Part turned = post;
    turned.mortises.clear(), turned.bores.clear(), turned.axial_bores.clear(), turned.end_cuts.clear();
    for (const Diagnostic& one : shape::problems(turned)) findings_.error(one.id, label + ": " + one.message, one.remedy);
    const double wanted = height - bed_.glide_height;
    if (std::abs(post.length - wanted) > kSame)
      findings_.error("frame.post-length", "the " + label + " is " + findings_.mm(post.length) + " long, and the bed makes it " + findings_.mm(wanted),
                      "make the post's length follow from the bed");
  }

  void check_room() {
    const double across = bed_width(bed_) - 2 * bed_.square, along = bed_length(bed_) - 2 * bed_.square;
    if (across > kSame && along > kSame) return;
    findings_.error("frame.posts-overlap", "between the posts the end rails would be " + findings_.mm(across) + " and the side rails " + findings_.mm(along) + " long",
                    "make the mattress larger, or the posts thinner");
  }

  void check_finial() {
    if (!pieces_.finial) return;
    const Part& finial = *pieces_.finial;
    const PinnedFinial& made = bed_.finial;
    for (const Diagnostic& one : shape::problems(finial)) findings_.error(one.id, "finial: " + one.message, one.remedy);
    const double wanted = made.length + made.pin_length;
    if (std::abs(finial.length - wanted) > kSame)
      findings_.error("frame.post-length", "the finial is " + findings_.mm(finial.length) + " long, and with its pin it shall be " + findings_.mm(wanted), "make its length follow from the bed");
    const double r = made.pin_diameter / 2;
    for (const Piece& piece : finial.outline.pieces) {
      if (piece.x1 <= made.length + kSame) continue;
      if (piece.kind != Piece::Kind::clear && piece.x0 >= made.length - kSame && std::abs(piece.least() - r) <= kSame && std::abs(piece.greatest() - r) <= kSame) continue;
      findings_.error("frame.finial", "the finial's last " + findings_.mm(made.pin_length) + " are not the round pin of " + findings_.mm(made.pin_diameter),
                      "end its outline with a tenon of that length and diameter");
      return;
    }
  }

  // --- rails

  void add_planned(const std::string& name, const std::string& id, const std::string& label, TableSide side, const BedRail& rail, bool side_rail) {
    Planned planned;
    planned.name = name;
    planned.id = id;
    planned.label = label;
    planned.side = side;
    planned.height = rail.height;
    planned.bolted = side_rail ? bed_.side_joint == SideJoint::bolts : bed_.end_joint == EndJoint::bolts && id.starts_with("rail-");
    planned.plated = side_rail && bed_.side_joint == SideJoint::hook_plates;
    planned.tenon.label = side_rail ? "side rail" : label;
    planned.tenon.rail = rail.rail;
    planned.tenon.rail.drop = 0;
    planned.tenon.long_side = !side_rail;
    planned.tenon.length = rail.rail.tenon_length;
    if (planned.tenon.length > kSame) settle_tenon(as_table(), kNever, cutters_, planned.tenon, findings_, !side_rail && !planned.bolted);
    else planned.tenon.length = 0;
    rails_.push_back(std::move(planned));
  }

  void plan() {
    add_planned("left", "rail-left", "left side rail", TableSide::left, bed_.side_rail, true);
    add_planned("right", "rail-right", "right side rail", TableSide::right, bed_.side_rail, true);
    add_planned("head", "rail-head", "head rail", TableSide::back, bed_.head_rail, false);
    add_planned("foot", "rail-foot", "foot rail", TableSide::front, bed_.foot_rail, false);
    if (bed_.head_crest) add_planned("crest-head", "crest-head", "head crest rail", TableSide::back, *bed_.head_crest, false);
    if (bed_.foot_crest) add_planned("crest-foot", "crest-foot", "foot crest rail", TableSide::front, *bed_.foot_crest, false);
  }

  /// What the rules for tenons ask of a table, of this bed.
  Table as_table() const {
    Table table;
    table.square = bed_.square;
    table.relief = bed_.relief;
    table.least_wall = bed_.least_wall;
    return table;
  }

  void check_rails() {
    for (const Planned& rail : rails_) {
      const double bottom = rail.height - rail.tenon.rail.depth, inside = rail.tenon.rail.set_back + rail.tenon.rail.thickness;
      if (inside > bed_.square + kSame)
        findings_.error("frame.rail-past-leg", "the " + rail.label + " is set back " + findings_.mm(rail.tenon.rail.set_back) + " and " + findings_.mm(rail.tenon.rail.thickness) +
                                                   " thick: that carries it past the inner face of a post " + findings_.mm(bed_.square) + " square",
                        "make the rail thinner, or set it back less");
      for (const bool head : {true, false}) {
        const bool meets = rail.side == TableSide::left || rail.side == TableSide::right || (rail.side == TableSide::back) == head;
        if (!meets) continue;
        const std::string post = head ? "head post" : "foot post";
        const double top = post_height(head);
        if (bottom < bed_.glide_height - kSame || rail.height > top + kSame) {
          findings_.error("frame.rail-off-post", "the " + rail.label + " stands from " + findings_.mm(bottom) + " to " + findings_.mm(rail.height) + " above the floor, and the " + post +
                                                     " from " + findings_.mm(bed_.glide_height) + " to " + findings_.mm(top),
                          "set the rail higher or lower, or make it narrower");
        } else if (!is_square(post_part(head), bed_.square, top - rail.height, top - bottom)) {
          findings_.error("frame.post-not-square", "the " + post + " is not square where the " + rail.label + " meets it, " + findings_.mm(bottom) + " to " + findings_.mm(rail.height) +
                                                       " above the floor", "make the square stretch of the " + post + " reach from " + findings_.mm(top - rail.height) + " to " +
                                                       findings_.mm(top - bottom) + " from its head");
        }
      }
    }
    check_support();
    check_crest(bed_.head_crest, bed_.head_rail, "head");
    check_crest(bed_.foot_crest, bed_.foot_rail, "foot");
  }

  void check_support() {
    const double top = bed_.side_rail.height, bottom = top - bed_.side_rail.rail.depth;
    if (bed_.support_height > top + kSame)
      findings_.error("frame.support", "the slats lie " + findings_.mm(bed_.support_height) + " above the floor, above the side rails' upper edge at " + findings_.mm(top), "raise the rails, or lower the slats");
    if (bed_.support_height - bed_.support_depth < bottom - kSame)
      findings_.error("frame.support", "slats and ledger reach down to " + findings_.mm(bed_.support_height - bed_.support_depth) + " above the floor, and the side rails only to " + findings_.mm(bottom),
                      "make the side rails deeper, or sink the mattress less");
  }

  void check_crest(const std::optional<BedRail>& crest, const BedRail& rail, const std::string& which) {
    if (!crest || crest->height - crest->rail.depth > rail.height + kSame) return;
    findings_.error("frame.rail-off-post", "the " + which + " crest rail's lower edge, " + findings_.mm(crest->height - crest->rail.depth) + " above the floor, does not clear the " + which +
                                               " rail's upper edge at " + findings_.mm(rail.height), "set the crest rail higher");
  }

  // --- fittings

  void check_side_joint() {
    for (const Planned& rail : rails_) {
      if (rail.bolted) check_bolts(rail);
      if (rail.plated && rail.name == "left") check_plates(rail);
    }
  }

  void check_bolts(const Planned& rail) {
    const BedBolts& bolts = bed_.bolts;
    const double wide = std::max(bolts.diameter, bolts.seat_diameter);
    if (bolts.seat_diameter > 0 && (bolts.seat_diameter <= bolts.diameter + kSame || bolts.seat_depth <= kSame))
      findings_.error("frame.bolt-seat", "the bolts' seat is " + findings_.mm(bolts.seat_diameter) + " wide and " + findings_.mm(bolts.seat_depth) + " deep, and the hole " + findings_.mm(bolts.diameter), "make the seat wider than the hole, or give it no diameter");
    if (bolts.seat_depth >= bed_.square - kSame)
      findings_.error("frame.bolt-seat", "the bolts' seat is " + findings_.mm(bolts.seat_depth) + " deep, and the post " + findings_.mm(bed_.square), "make the seat shallower");
    const std::vector<double> heights = bolt_heights(rail);
    for (std::size_t i = 0; i < heights.size(); ++i) {
      if (heights[i] + bolts.diameter / 2 > rail.height + kSame || heights[i] - bolts.diameter / 2 < rail.height - rail.tenon.rail.depth - kSame)
        findings_.error("frame.bolt-off-rail", "a bolt of the " + rail.label + " stands " + findings_.mm(heights[i]) + " above the floor, and the rail from " +
                                                   findings_.mm(rail.height - rail.tenon.rail.depth) + " to " + findings_.mm(rail.height), "bring the bolts closer together, or stagger them less");
      if (i > 0 && heights[i - 1] - heights[i] < wide - kSame)
        findings_.error("frame.bolt-off-rail", "two bolts of the " + rail.label + " stand " + findings_.mm(heights[i - 1] - heights[i]) + " apart, and their seats are " + findings_.mm(wide) + " wide", "spread the bolts more, or use fewer");
    }
    const double centre = rail.tenon.centre();
    if (centre - wide / 2 <= kSame || centre + wide / 2 >= bed_.square - kSame)
      findings_.error("frame.bolt-breaks-out", "a bolt of the " + rail.label + " stands " + findings_.mm(centre) + " from the post's outer face, and its seat is " + findings_.mm(wide) + " wide",
                      "set the rail back more, or use a narrower seat");
    if (bolts.diameter >= rail.tenon.rail.thickness - kSame)
      findings_.error("frame.bolt-off-rail", "the bolts' holes are " + findings_.mm(bolts.diameter) + " wide and the " + rail.label + " only " + findings_.mm(rail.tenon.rail.thickness) + " thick", "make the rail thicker, or the bolts thinner");
  }

  void check_plates(const Planned& rail) {
    const HookPlates& plates = bed_.plates;
    const auto wrong = [&](const std::string& what) { findings_.error("frame.plate", what, "choose a plate that fits its rail"); };
    if (rail.tenon.length > 0) wrong("hook plates leave no room for a stub tenon of " + findings_.mm(rail.tenon.length) + " on the side rail");
    if (plates.length >= rail.tenon.rail.depth - kSame) wrong("the hook plates are " + findings_.mm(plates.length) + " long, and the side rail " + findings_.mm(rail.tenon.rail.depth) + " deep");
    if (plates.width >= rail.tenon.rail.thickness - kSame) wrong("the hook plates are " + findings_.mm(plates.width) + " wide, and the side rail " + findings_.mm(rail.tenon.rail.thickness) + " thick");
    if (plates.slot_width > plates.width + kSame) wrong("the slots are " + findings_.mm(plates.slot_width) + " wide, and the plates " + findings_.mm(plates.width));
    if (plates.hooks * plates.slot_length >= plates.length - kSame)
      wrong(std::to_string(plates.hooks) + " slots of " + findings_.mm(plates.slot_length) + " do not stand on a plate of " + findings_.mm(plates.length));
    if (plates.slot_depth <= plates.thickness + kSame) wrong("the slots are " + findings_.mm(plates.slot_depth) + " deep from the post's face, and the plate alone is " + findings_.mm(plates.thickness) + " thick");
  }

  void check_headboard() {
    if (bed_.headboard_joint == HeadboardJoint::none) return;
    const Headboard& board = bed_.headboard;
    const auto wrong = [&](const std::string& what, const std::string& remedy) { findings_.error("frame.headboard", what, remedy); };
    if (board.top <= board.bottom + kSame) return wrong("the headboard's top at " + findings_.mm(board.top) + " is not above its bottom at " + findings_.mm(board.bottom), "give it another height");
    if (board.bottom < bed_.head_rail.height - kSame)
      wrong("the headboard begins at " + findings_.mm(board.bottom) + ", inside the head rail, whose upper edge is at " + findings_.mm(bed_.head_rail.height), "begin the headboard at the head rail's upper edge");
    if (bed_.head_crest && board.top > bed_.head_crest->height - bed_.head_crest->rail.depth + kSame)
      wrong("the headboard ends at " + findings_.mm(board.top) + ", inside the head crest rail, whose lower edge is at " + findings_.mm(bed_.head_crest->height - bed_.head_crest->rail.depth), "end the headboard below the crest rail");
    if (board.top > bed_.head_post + kSame) wrong("the headboard reaches " + findings_.mm(board.top) + " above the floor, and the head post " + findings_.mm(bed_.head_post), "make the post longer, or the headboard lower");
    else if (!is_square(pieces_.head_post, bed_.square, bed_.head_post - board.top, bed_.head_post - board.bottom))
      findings_.error("frame.post-not-square", "the head post is not square where the headboard meets it, " + findings_.mm(board.bottom) + " to " + findings_.mm(board.top) + " above the floor",
                      "make its square stretch reach from " + findings_.mm(bed_.head_post - board.top) + " to " + findings_.mm(bed_.head_post - board.bottom) + " from its head");
    if (board.set_back + board.thickness > bed_.square + kSame)
      wrong("the headboard is set back " + findings_.mm(board.set_back) + " and " + findings_.mm(board.thickness) + " thick: that carries it past a post " + findings_.mm(bed_.square) + " square", "set it back less");
    if (bed_.headboard_joint == HeadboardJoint::mortises && board.tongues * board.tongue_width >= board.top - board.bottom - kSame)
      wrong(std::to_string(board.tongues) + " tongues of " + findings_.mm(board.tongue_width) + " do not stand on a headboard " + findings_.mm(board.top - board.bottom) + " high", "make the tongues narrower, or fewer");
  }

  // --- joints of a post

  /// Above the floor, from above.
  std::vector<double> bolt_heights(const Planned& rail) const {
    const BedBolts& bolts = bed_.bolts;
    const double lower = rail.tenon.long_side ? bolts.stagger : 0;
    const double middle = rail.height - rail.tenon.rail.depth / 2 - lower;
    std::vector<double> heights;
    for (int i = 0; i < bolts.count; ++i) heights.push_back(bolts.count == 1 ? middle : middle + bolts.spread / 2 - bolts.spread * i / (bolts.count - 1));
    return heights;
  }

  // The outer face beside lies towards growing t on face D and towards falling t on face C.
  double t_from_outer(double centre, bool on_face_d) const { return on_face_d ? bed_.square / 2 - centre : centre - bed_.square / 2; }

  Mortise pocket(const std::string& id, const std::string& mate, double x0, double x1, double centre, double width, double depth, bool on_face_d) const {
    Mortise cut;
    cut.id = id;
    cut.mate = mate;
    cut.phi = on_face_d ? 3 * kHalfPi : 2 * kHalfPi;
    cut.x0 = x0;
    cut.x1 = x1;
    const double middle = t_from_outer(centre, on_face_d);
    cut.t0 = middle - width / 2;
    cut.t1 = middle + width / 2;
    cut.depth = depth;
    cut.corner_radius = bed_.mortise_end == MortiseEnd::round ? std::min(width, x1 - x0) / 2 : 0;
    return cut;
  }

  Box box_of(const Mortise& cut, const std::string& rail, double centre) const {
    const double from = cut.x0 - cut.haunch_length, half = (cut.t1 - cut.t0) / 2;
    const bool on_face_d = cut.phi > 2.5 * kHalfPi;
    Box box{cut.id, rail, false, from, cut.x1, 0, 0, 0, 0};
    (on_face_d ? box.u0 : box.v0) = bed_.square - cut.depth;
    (on_face_d ? box.u1 : box.v1) = bed_.square;
    (on_face_d ? box.v0 : box.u0) = centre - half;
    (on_face_d ? box.v1 : box.u1) = centre + half;
    return box;
  }

  void add_tenon(const Planned& rail, double top, bool on_face_d, Part& part, std::vector<Box>& boxes) const {
    if (!(rail.tenon.length > 0)) return;
    Tenoned tenon = rail.tenon;
    tenon.rail.drop = top - rail.height;
    Mortise cut = pocket(rail.name, rail.id, tenon.x0(), tenon.x1(), tenon.centre(), tenon.thickness, tenon.mortise_depth(as_table()), on_face_d);
    cut.haunch_length = tenon.rail.haunch_depth > 0 ? tenon.rail.haunch_length : 0;
    cut.haunch_depth = tenon.rail.haunch_length > 0 ? tenon.rail.haunch_depth : 0;
    boxes.push_back(box_of(cut, rail.label, tenon.centre()));
    part.mortises.push_back(std::move(cut));
  }

  void add_bolts(const Planned& rail, double top, bool on_face_d, Part& part, std::vector<Box>& boxes) const {
    const BedBolts& bolts = bed_.bolts;
    const double centre = rail.tenon.centre();
    int number = 0;
    for (const double height : bolt_heights(rail)) {
      Bore bore;
      bore.id = "bolt-" + rail.name + "-" + std::to_string(++number);
      bore.mate = rail.id;
      bore.phi = on_face_d ? kHalfPi : 0;  // through the outer face opposite
      bore.x = top - height;
      bore.t = -t_from_outer(centre, on_face_d);
      bore.diameter = bolts.diameter;
      bore.depth = bed_.square;
      bore.seat_diameter = bolts.seat_diameter;
      bore.seat_depth = bolts.seat_diameter > 0 ? bolts.seat_depth : 0;
      for (const auto& [wide, deep] : {std::pair{bolts.diameter, bed_.square}, std::pair{bolts.seat_diameter, bore.seat_depth}}) {
        if (!(wide > 0) || !(deep > 0)) continue;
        Box box{bore.id, rail.label, true, bore.x - wide / 2, bore.x + wide / 2, centre - wide / 2, centre + wide / 2, centre - wide / 2, centre + wide / 2};
        (on_face_d ? box.u0 : box.v0) = 0;
        (on_face_d ? box.u1 : box.v1) = deep;
        boxes.push_back(std::move(box));
      }
      part.bores.push_back(std::move(bore));
    }
  }

  void add_plate(const Planned& rail, double top, bool on_face_d, Part& part, std::vector<Box>& boxes) const {
    const HookPlates& plates = bed_.plates;
    const double middle = top - rail.height + rail.tenon.rail.depth / 2, centre = rail.tenon.centre();
    const auto add = [&](const std::string& id, double x, double length, double width, double depth) {
      Mortise cut = pocket(id, rail.id, x - length / 2, x + length / 2, centre, width, depth, on_face_d);
      boxes.push_back(box_of(cut, rail.label, centre));
      part.mortises.push_back(std::move(cut));
    };
    add("plate-" + rail.name, middle, plates.length, plates.width, plates.thickness);
    const double pitch = plates.length / plates.hooks;
    for (int i = 0; i < plates.hooks; ++i)
      add("slot-" + rail.name + "-" + std::to_string(i + 1), middle + pitch * (i - (plates.hooks - 1) / 2.0), plates.slot_length, plates.slot_width, plates.slot_depth);
  }

  void add_headboard_to(double top, bool on_face_d, Part& part, std::vector<Box>& boxes) const {
    const Headboard& board = bed_.headboard;
    const double centre = board.set_back + board.thickness / 2, high = board.top - board.bottom;
    const auto add = [&](const std::string& id, double from, double to) {
      Mortise cut = pocket(id, "headboard", top - to, top - from, centre, board.thickness, board.depth + bed_.relief, on_face_d);
      boxes.push_back(box_of(cut, "headboard", centre));
      part.mortises.push_back(std::move(cut));
    };
    if (bed_.headboard_joint == HeadboardJoint::groove) return add("headboard", board.bottom, board.top);
    // as much of the panel between tongues as beyond the outermost, twice halved
    const double pitch = high / board.tongues;
    for (int i = 0; i < board.tongues; ++i) {
      const double middle = board.top - pitch * (i + 0.5);
      add("headboard-" + std::to_string(i + 1), middle - board.tongue_width / 2, middle + board.tongue_width / 2);
    }
  }

  void add_post(const Corner& corner) {
    Member post;
    post.place = corner.place;
    post.id = "post-" + dashed(post.place);
    post.noun = "post";
    post.label = post.place + " post";
    post.part = mirrored(corner.head) && at_the_right(corner) ? other_hand(post_part(corner.head)) : post_part(corner.head);
    post.piece = corner.head ? kHeadPost : kFootPost;
    post.stand = stand(corner);
    const double top = post_height(corner.head);
    std::vector<Box> boxes;
    for (const bool on_face_d : {true, false}) {
      const TableSide side = side_of_face_d(on_face_d ? corner.quarters : (corner.quarters + 3) % 4);
      for (const Planned& rail : rails_) {
        if (rail.side != side) continue;
        if (rail.plated) add_plate(rail, top, on_face_d, post.part, boxes);
        add_tenon(rail, top, on_face_d, post.part, boxes);
        if (rail.bolted) add_bolts(rail, top, on_face_d, post.part, boxes);
      }
      if (side == TableSide::back && bed_.headboard_joint != HeadboardJoint::none) add_headboard_to(top, on_face_d, post.part, boxes);
    }
    JointReport report = judge(post, boxes);
    if (pieces_.finial) add_socket(post, report);
    report.text = post.label + ": least wall " + findings_.mm(report.least_wall) + ", " + report.text;
    set_.joints.push_back(std::move(report));
    set_.members.push_back(std::move(post));
  }

  void add_socket(Member& post, JointReport& report) {
    const PinnedFinial& finial = bed_.finial;
    const double deep = finial.pin_length + bed_.relief;
    post.part.axial_bores.push_back({"pin", finial.pin_diameter, 0, deep});
    double thin = std::numeric_limits<double>::infinity();
    for (const Piece& piece : post.part.outline.pieces)
      if (piece.x0 < deep && piece.kind != Piece::Kind::clear) thin = std::min(thin, piece.least());
    for (const shape::Face& face : post.part.faces)
      for (const Piece& piece : face.d.pieces)
        if (piece.x0 < deep && piece.kind != Piece::Kind::clear) thin = std::min(thin, piece.least());
    const double wall = std::min(thin - finial.pin_diameter / 2, post.part.length - deep);
    if (wall <= kSame)
      findings_.error("frame.finial", "the pin's bore, " + findings_.mm(finial.pin_diameter) + " wide and " + findings_.mm(deep) + " deep, leaves no wood in the " + post.label, "make the pin thinner or shorter, or the post's head thicker");
    else if (wall < bed_.least_wall - kSame) thin_wall(wall, "round the bore for the finial's pin");
    take(wall, "round the bore for the finial's pin", report);
  }

  // --- walls

  void take(double wall, const std::string& where, JointReport& report) const {
    if (wall >= report.least_wall) return;
    report.least_wall = wall;
    report.text = where;
  }

  void thin_wall(double wall, const std::string& where) {
    findings_.warning("frame.thin-wall", "only " + findings_.mm(wall) + " of wood are left " + where + ", less than the " + findings_.mm(bed_.least_wall) + " asked for",
                      "set the rail back more, make the tenon shorter or thinner, or move the bolts");
  }

  /// Joints of one rail may run together: a bolt through its own stub tenon's mortise, a slot in its plate's recess.
  static bool together(const Box& a, const Box& b) { return a.rail == b.rail && (a.bolt != b.bolt || a.of.starts_with("plate-") || b.of.starts_with("plate-") || a.of == b.of); }

  JointReport judge(const Member& post, const std::vector<Box>& boxes) {
    JointReport report;
    report.member = post.id;
    report.least_wall = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < boxes.size(); ++i)
      for (std::size_t k = i + 1; k < boxes.size(); ++k)
        if (!together(boxes[i], boxes[k])) judge_pair(boxes[i], boxes[k], report);
    for (const Box& box : boxes)
      if (box.bolt && box.u1 - box.u0 < bed_.square && box.v1 - box.v0 < bed_.square + 1) {
        // sideways: the direction that it does not run through
        const bool along_v = box.v0 <= kSame;
        take(along_v ? std::min(box.u0, bed_.square - box.u1) : std::min(box.v0, bed_.square - box.v1), "from the " + box.rail + "'s bolt to the face beside it", report);
      }
    for (const Wall& wall : walls(post.part, [](const auto&, const auto&) { return true; })) {
      const auto box = std::find_if(boxes.begin(), boxes.end(), [&](const Box& one) { return one.of == wall.mortise; });
      check_wall(wall, box->rail, report);
    }
    return report;
  }

  void judge_pair(const Box& a, const Box& b, JointReport& report) {
    const double wall = between(a, b);
    const std::string where = "between the " + a.rail + "'s " + (a.bolt ? "bolt" : "mortise") + " and the " + b.rail + "'s " + (b.bolt ? "bolt" : "mortise");
    if (wall > kSame) {
      if (wall < bed_.least_wall - kSame) thin_wall(wall, where);
      return take(wall, where, report);
    }
    if (a.bolt && b.bolt)
      findings_.error("frame.bolts-cross", where + " no wood is left: they run into one another", "stagger them by at least " + findings_.mm(bed_.bolts.stagger - wall + bed_.least_wall));
    else if (a.bolt || b.bolt)
      findings_.error("frame.bolt-in-joint", where + " no wood is left: the bolt runs into the mortise by " + findings_.mm(-wall), "make the tenon shorter, set the side rail nearer to the outer face, or move the bolts");
    else
      findings_.error("frame.mortises-meet", where + " no wood is left: they run into one another by " + findings_.mm(-wall), "make the tenons shorter, or set the rails apart");
  }

  void check_wall(const Wall& wall, const std::string& rail, JointReport& report) {
    const std::string from = "from the " + rail + "'s mortise to ";
    switch (wall.towards) {
      case Wall::Towards::side_face: return check_side(wall, from + "the face beside it", "frame.mortise-out-of-square", rail, report);
      case Wall::Towards::far_face: return check_side(wall, from + "the face opposite", "frame.mortise-through-leg", rail, report);
      case Wall::Towards::round: return check_side(wall, from + "the round at " + findings_.mm(wall.x) + " from the head", "frame.mortise-in-round", rail, report);
      case Wall::Towards::head: return check_side(wall, from + "the head", "frame.mortise-at-head", rail, report);
      case Wall::Towards::foot: return check_side(wall, from + "the foot", "frame.mortise-in-round", rail, report);
      case Wall::Towards::mortise: return;  // the boxes have said it
    }
  }

  void check_side(const Wall& wall, const std::string& where, const std::string& id, const std::string& rail, JointReport& report) {
    if (wall.thickness <= kSame)
      findings_.error(id, "no wood is left " + where + ": the " + rail + "'s mortise breaks out by " + findings_.mm(-wall.thickness), "set the rail back more, make its tenon shorter or thinner, or the post's square longer");
    else if (wall.thickness < bed_.least_wall - kSame) thin_wall(wall.thickness, where);
    take(wall.thickness, where, report);
  }

  void ask_second_judge() {
    if (findings_.any_errors()) return;
    for (const Member& member : set_.members)
      for (const Diagnostic& one : shape::problems(member.part)) findings_.error(one.id, member.label + ": " + one.message, one.remedy);
  }

  // --- places

  Stand stand(const Corner& corner) const {
    const double x = (bed_width(bed_) - bed_.square) / 2, y = (bed_length(bed_) - bed_.square) / 2;
    const double right = at_the_right(corner) ? 1 : -1;
    return {{right * x, (corner.head ? 1 : -1) * y, post_height(corner.head)}, corner.quarters};
  }

  void add_finial(const Corner& corner) {
    Member finial;
    finial.place = corner.place;
    finial.id = "finial-" + dashed(finial.place);
    finial.noun = "finial";
    finial.label = finial.place + " finial";
    finial.part = *pieces_.finial;
    finial.piece = kFinial;
    finial.stand = stand(corner);
    finial.stand.head.z += bed_.finial.length;
    set_.members.push_back(std::move(finial));
  }

  void add_spares(bool head, const std::string& noun, std::size_t piece, int number) {
    if (!mirrored(head)) return add_spare(post_part(head), noun, piece, number);
    add_spare(post_part(head), "left " + noun, piece, number);
    add_spare(other_hand(post_part(head)), "right " + noun, piece, number);
  }

  void add_spare(const Part& part, const std::string& noun, std::size_t piece, int number) {
    Member spare;
    spare.id = "spare-" + dashed(noun) + "-" + std::to_string(number);
    spare.noun = "post";
    spare.label = "spare " + noun + " " + std::to_string(number);
    spare.place = "spare";
    spare.part = part;
    spare.piece = piece;
    spare.spare = true;
    set_.members.push_back(std::move(spare));
  }

  void add_rail(const Planned& planned) {
    const ApronRail& measures = planned.tenon.rail;
    Rail rail;
    rail.id = planned.id;
    rail.label = planned.label;
    rail.shoulder_length = (planned.tenon.long_side ? bed_width(bed_) : bed_length(bed_)) - 2 * bed_.square;
    rail.overall_length = rail.shoulder_length + 2 * planned.tenon.length;
    if (planned.bolted) rail.bolt_reach = bed_.bolts.nut_from_end;
    rail.depth = measures.depth;
    rail.thickness = measures.thickness;
    rail.tenon_length = planned.tenon.length;
    if (planned.tenon.length > 0) {
      rail.tenon_thickness = planned.tenon.thickness;
      rail.tenon_width = planned.tenon.x1() - planned.tenon.x0();
      rail.haunch_length = measures.haunch_depth > 0 ? measures.haunch_length : 0;
      rail.haunch_depth = measures.haunch_length > 0 ? measures.haunch_depth : 0;
    }
    rail.set_back = measures.set_back;
    rail.top_shoulder = measures.top_shoulder;
    rail.bottom_shoulder = measures.bottom_shoulder;
    place(planned.side, planned.height - measures.depth / 2, measures.set_back + measures.thickness / 2, rail);
    set_.rails.push_back(std::move(rail));
  }

  // from left to right, and from foot to head
  void place(TableSide side, double z, double behind, Rail& rail) const {
    const double half = rail.shoulder_length / 2;
    if (side == TableSide::front || side == TableSide::back) {
      const double y = (side == TableSide::front ? -1 : 1) * (bed_length(bed_) / 2 - behind);
      rail.start = {-half, y, z};
      rail.end = {half, y, z};
      rail.from = side == TableSide::front ? "post-foot-left" : "post-head-left";
      rail.to = side == TableSide::front ? "post-foot-right" : "post-head-right";
    } else {
      const double x = (side == TableSide::left ? -1 : 1) * (bed_width(bed_) / 2 - behind);
      rail.start = {x, -half, z};
      rail.end = {x, half, z};
      rail.from = side == TableSide::left ? "post-foot-left" : "post-foot-right";
      rail.to = side == TableSide::left ? "post-head-left" : "post-head-right";
    }
    rail.drop = post_height(side == TableSide::back) - z - rail.depth / 2;
  }

  // a panel of so many boards: each goes from post to post
  void add_headboard() {
    const Headboard& board = bed_.headboard;
    Rail panel;
    panel.id = "headboard";
    panel.label = "headboard, board";
    panel.quantity = board.boards;
    panel.shoulder_length = bed_width(bed_) - 2 * bed_.square;
    panel.overall_length = panel.shoulder_length + 2 * board.depth;
    panel.depth = (board.top - board.bottom) / board.boards;
    panel.thickness = board.thickness;
    panel.tenon_length = board.depth;
    panel.tenon_thickness = board.thickness;
    panel.tenon_width = bed_.headboard_joint == HeadboardJoint::groove ? board.top - board.bottom : board.tongue_width;
    panel.set_back = board.set_back;
    place(TableSide::back, (board.top + board.bottom) / 2, board.set_back + board.thickness / 2, panel);
    panel.drop = bed_.head_post - board.top;
    set_.rails.push_back(std::move(panel));
  }

  void note_the_rest() {
    if (!bed_.mirrored_pairs) note_alike(findings_, "frame.posts-wind-alike", post_part(true), "all posts", "those at the right");
    findings_.note("frame.mattress-top", "over the posts the bed is " + findings_.mm(bed_length(bed_)) + " long and " + findings_.mm(bed_width(bed_)) + " wide; a mattress " +
                                             findings_.mm(bed_.mattress_thickness) + " thick has its top " + findings_.mm(bed_.support_height + bed_.mattress_thickness) + " above the floor");
    int bolted = 0;
    for (const Planned& rail : rails_) bolted += rail.bolted ? 1 : 0;
    if (bolted == 0) return;
    const BedBolts& bolts = bed_.bolts;
    findings_.note("frame.bolts", std::to_string(2 * bolted * bolts.count) + " bolts with nuts and covers: from the seat to the middle of the nut " +
                                      findings_.mm(bed_.square - bolts.seat_depth + bolts.nut_from_end) + "; the nut's hole stands " + findings_.mm(bolts.nut_from_end) + " from the rail's shoulder");
  }

  static constexpr double kNever = std::numeric_limits<double>::infinity();

  const Bed& bed_;
  const BedPieces& pieces_;
  const std::vector<double>& cutters_;
  Findings findings_;
  std::vector<Planned> rails_;
  Set set_;
};

constexpr std::array<std::string_view, 2> kSideJoints{"bolts", "hook plates"};
constexpr std::array<std::string_view, 2> kEndJoints{"glued", "bolts"};
constexpr std::array<std::string_view, 3> kHeadboardJoints{"none", "groove", "mortises"};
constexpr std::array<std::string_view, 2> kFinialKinds{"turned in", "on a pin"};

}  // namespace

std::vector<std::string> side_joint_words() { return as_list(kSideJoints); }
std::vector<std::string> end_joint_words() { return as_list(kEndJoints); }
std::vector<std::string> headboard_joint_words() { return as_list(kHeadboardJoints); }
std::vector<std::string> finial_kind_words() { return as_list(kFinialKinds); }
std::optional<SideJoint> side_joint(std::string_view word) { return choice_of<SideJoint>(kSideJoints, word); }
std::optional<EndJoint> end_joint(std::string_view word) { return choice_of<EndJoint>(kEndJoints, word); }
std::optional<HeadboardJoint> headboard_joint(std::string_view word) { return choice_of<HeadboardJoint>(kHeadboardJoints, word); }
std::optional<FinialKind> finial_kind(std::string_view word) { return choice_of<FinialKind>(kFinialKinds, word); }

double bed_width(const Bed& bed) {
  const ApronRail& side = bed.side_rail.rail;
  return bed.mattress_width + bed.allowance_width + 2 * (side.set_back + side.thickness);
}

double bed_length(const Bed& bed) {
  const ApronRail &head = bed.head_rail.rail, &foot = bed.foot_rail.rail;
  return bed.mattress_length + bed.allowance_length + head.set_back + head.thickness + foot.set_back + foot.thickness;
}

Result<Done> check_bed(const Bed& bed, const LengthFormat& shown) {
  Findings findings(shown, "post");
  check_measures(bed, findings);
  check_fittings(bed, findings);
  if (findings.any_errors()) return Failure(findings.errors());
  return Done{};
}

Result<Set> join_bed(const Bed& bed, const BedPieces& pieces, const std::vector<double>& mortise_cutters, const LengthFormat& shown) {
  return BedJoiner(bed, pieces, mortise_cutters, shown).join();
}

}  // namespace pommel::frame
