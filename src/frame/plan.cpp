#include "frame/plan.h"

#include <algorithm>
#include <cmath>


namespace pommel::frame {
namespace {

// Measures are typed and computed; below this they are the same. One nanometre is under any rounding of a sheet.
constexpr double kSame = 1e-6;

double wished_thickness(const Table& table, const ApronRail& rail) {
  switch (rail.tenon_rule) {
    case TenonRule::third_of_rail: return rules::third_of_rail(rail.thickness);
    case TenonRule::half_of_rail: return rules::half_of_rail(rail.thickness);
    case TenonRule::third_of_leg: return rules::third_of_leg(table.square);
    case TenonRule::given: return rail.tenon_thickness;
  }
  return 0;
}

std::string rule_in_words(const Table& table, const ApronRail& rail, const Findings& findings) {
  switch (rail.tenon_rule) {
    case TenonRule::third_of_rail: return "a third of the rail's " + findings.mm(rail.thickness);
    case TenonRule::half_of_rail: return "half of the rail's " + findings.mm(rail.thickness);
    case TenonRule::third_of_leg: return "a third of the " + findings.piece() + "'s " + findings.mm(table.square);
    case TenonRule::given: break;
  }
  return "the given thickness";
}

void settle_thickness(const Table& table, const std::vector<double>& cutters, Tenoned& kind, Findings& findings) {
  const double wish = wished_thickness(table, kind.rail);
  const std::string rule = rule_in_words(table, kind.rail, findings);
  const std::optional<double> on_hand = rules::widest_on_hand(wish, cutters);
  if (!on_hand || !(*on_hand > 0)) {
    const auto least = std::min_element(cutters.begin(), cutters.end());
    findings.error("frame.no-cutter",
                   "the " + kind.label + "'s tenon is " + findings.mm(wish) + " thick by " + rule + ", and " +
                       (least == cutters.end() ? "no chisel or cutter for mortises is on hand"
                                               : "the narrowest chisel or cutter on hand is " + findings.mm(*least)),
                   "list a narrower cutter, or make the tenon thicker");
    kind.thickness = wish;
    return;
  }
  kind.thickness = *on_hand;
  if (wish - *on_hand > kSame) {
    findings.note("frame.tenon-rounded", "the " + kind.label + "'s tenon is " + findings.mm(wish) + " thick by " + rule +
                                             "; it is cut " + findings.mm(*on_hand) +
                                             ", the next chisel or cutter on hand below");
  }
}

void check_tenon(const Table& table, double head, const Tenoned& kind, Findings& findings) {
  const ApronRail& rail = kind.rail;
  const std::string the_rail = "the " + kind.label;
  const double cheek = (rail.thickness - kind.thickness) / 2, width = kind.x1() - kind.x0();
  if (cheek <= kSame) {
    findings.error("frame.tenon-too-thick", the_rail + "'s tenon is " + findings.mm(kind.thickness) + " thick and the rail only " +
                                                findings.mm(rail.thickness),
                   "make the rail thicker, or choose a rule that gives a thinner tenon");
  }
  if (width <= kSame) {
    findings.error("frame.shoulders-too-wide",
                   the_rail + "'s shoulders of " + findings.mm(rail.top_shoulder) + " and " +
                       findings.mm(rail.bottom_shoulder) + " leave no tenon on a rail " + findings.mm(rail.depth) + " deep",
                   "make the shoulders narrower or the rail deeper");
  }
  if (rail.haunch_length > rail.top_shoulder + kSame) {
    findings.error("frame.haunch", the_rail + "'s haunch is " + findings.mm(rail.haunch_length) + " long, and the top shoulder " +
                                       findings.mm(rail.top_shoulder),
                   "make the haunch at most as long as the shoulder that it stands in");
  }
  if (rail.set_back + rail.thickness > table.square + kSame) {
    findings.error("frame.rail-past-leg",
                   the_rail + " is set back " + findings.mm(rail.set_back) + " and " + findings.mm(rail.thickness) +
                       " thick: that carries it past the inner face of a " + findings.piece() + " " + findings.mm(table.square) + " square",
                   "make the rail thinner, or set it back less");
  }
  if (rail.drop + rail.depth > head + kSame) {
    findings.error("frame.rail-deeper-than-square",
                   the_rail + "'s lower edge is " + findings.mm(rail.drop + rail.depth) +
                       " below the head, and the leg is square for " + findings.mm(head) + " only",
                   "make the square stretch at least " + findings.mm(rail.drop + rail.depth) + " long, or the rail shallower");
  }
}

void check_haunch_depth(const Tenoned& kind, Findings& findings) {
  if (kind.rail.haunch_length > 0 && kind.rail.haunch_depth >= kind.length - kSame) {
    findings.error("frame.haunch", "the " + kind.label + "'s haunch goes " + findings.mm(kind.rail.haunch_depth) +
                                       " into the " + findings.piece() + ", and its tenon only " + findings.mm(kind.length),
                   "make the haunch shallower than the tenon is long");
  }
}

void note_proportions(const Table& table, const Tenoned& kind, Findings& findings) {
  const rules::Span usual = rules::usual_tenon_length(table.square);
  if (!kind.from_above && (kind.length < usual.least - kSame || kind.length > usual.greatest + kSame)) {
    findings.note("frame.tenon-length", "the " + kind.label + "'s tenon is " + findings.mm(kind.length) +
                                            " long; half to two thirds of the " + findings.piece() + " (common practice) would be " +
                                            findings.mm(usual.least) + " to " + findings.mm(usual.greatest));
  }
  const double width = kind.x1() - kind.x0(), widest = rules::widest_tenon(kind.thickness);
  if (width > widest + kSame) {
    findings.note("frame.tenon-width", "the " + kind.label + "'s tenon is " + findings.mm(width) + " wide, more than five times its " +
                                           findings.mm(kind.thickness) + " of thickness (trade practice: " +
                                           findings.mm(widest) + " at most)",
                  "widen the haunch and top shoulder, or take a thicker tenon");
  }
  const double cheek = std::min(kind.outer_cheek(), kind.rail.thickness - kind.thickness - kind.outer_cheek());
  if (cheek < rules::kLeastCheek - kSame) {
    findings.warning("frame.thin-shoulder",
                     "the " + kind.label + "'s tenon leaves a cheek shoulder of " + findings.mm(std::max(0.0, cheek)) +
                         " (common practice: at least " + findings.mm(rules::kLeastCheek) + ")",
                     "choose a rule or cutter that gives a thinner tenon, or a thicker rail");
  }
}

void check_drawer(const DrawerFront& drawer, Findings& findings) {
  if (drawer.upper.drop > kSame || drawer.upper.top_shoulder > kSame || drawer.upper.haunch_length > 0) {
    findings.error("frame.drawer-rails", "the upper drawer rail is let in from above, and its drop of " +
                                             findings.mm(drawer.upper.drop) + ", top shoulder of " +
                                             findings.mm(drawer.upper.top_shoulder) + " or haunch does not allow it",
                   "set its drop, top shoulder and haunch to 0");
  }
  const double opening = drawer.lower.drop - drawer.upper.drop - drawer.upper.depth;
  if (opening <= kSame) {
    findings.error("frame.drawer-rails", "the lower drawer rail begins " + findings.mm(drawer.lower.drop) +
                                             " below the head, and the upper one ends at " +
                                             findings.mm(drawer.upper.drop + drawer.upper.depth) + ": no drawer goes between",
                   "give the lower rail a greater drop");
  }
}

Tenoned tenoned(std::string label, const ApronRail& rail, bool long_side, bool from_above) {
  Tenoned kind;
  kind.label = std::move(label);
  kind.rail = rail;
  kind.long_side = long_side;
  kind.from_above = from_above;
  kind.length = rail.tenon_length;
  return kind;
}

Plan bare_plan(const Table& table) {
  constexpr std::size_t kLong = 0, kShort = 1, kUpper = 2, kLower = 3;
  Plan plan;
  plan.kinds = {tenoned("long rail", table.long_rail, true, false), tenoned("short rail", table.short_rail, false, false)};
  if (table.drawer) {
    plan.kinds.push_back(tenoned("upper drawer rail", table.drawer->upper, true, true));
    plan.kinds.push_back(tenoned("lower drawer rail", table.drawer->lower, true, false));
    plan.seats = {{TableSide::front, "front-upper", "upper front rail", kUpper},
                  {TableSide::front, "front-lower", "lower front rail", kLower}};
    plan.pairs = {{kLong, kShort}, {kUpper, kShort}, {kLower, kShort}};
  } else {
    plan.seats = {{TableSide::front, "front", "front apron rail", kLong}};
    plan.pairs = {{kLong, kShort}};
  }
  plan.seats.push_back({TableSide::back, "back", "back apron rail", kLong});
  plan.seats.push_back({TableSide::left, "left", "left apron rail", kShort});
  plan.seats.push_back({TableSide::right, "right", "right apron rail", kShort});
  return plan;
}

}  // namespace

void MeasureCheck::check(std::string_view name, double value, bool in_range, std::string_view rule) {
  const std::string what = of_ + " " + std::string(name);
  if (!std::isfinite(value)) {
    findings_.error("frame.not-a-number", "the " + what + " is not a number", "look at the formula that gives it");
  } else if (!in_range) {
    findings_.error("frame.measure-out-of-range", "the " + what + " is " + findings_.mm(value) + " and " + std::string(rule),
                    "give it another value");
  }
}

void check_rail(const std::string& label, const ApronRail& rail, Findings& findings) {
  MeasureCheck check(label + "'s", findings);
  check.positive("depth", rail.depth);
  check.positive("thickness", rail.thickness);
  check.not_negative("set-back", rail.set_back);
  check.not_negative("drop", rail.drop);
  if (rail.tenon_rule == TenonRule::given) check.positive("tenon thickness", rail.tenon_thickness);
  check.positive("tenon length", rail.tenon_length);
  check.not_negative("top shoulder", rail.top_shoulder);
  check.not_negative("bottom shoulder", rail.bottom_shoulder);
  check.not_negative("haunch length", rail.haunch_length);
  check.not_negative("haunch depth", rail.haunch_depth);
}

Findings::Findings(const LengthFormat& shown, std::string piece) : shown_(shown), piece_(std::move(piece)) {
  // a wall of 4.96 mm must not read as the 5.0 that it misses
  if (shown_.unit == LengthUnit::millimetre) shown_.decimals = std::max(shown_.decimals, 2);
}

void Findings::add(std::vector<Diagnostic>& to, Severity severity, std::string id, std::string message, std::string remedy) {
  Diagnostic one;
  one.severity = severity;
  one.id = std::move(id);
  one.message = std::move(message);
  one.remedy = std::move(remedy);
  if (std::find(to.begin(), to.end(), one) == to.end()) to.push_back(std::move(one));
}

void Findings::error(std::string id, std::string message, std::string remedy) {
  add(errors_, Severity::error, std::move(id), std::move(message), std::move(remedy));
}
void Findings::warning(std::string id, std::string message, std::string remedy) {
  add(notes_, Severity::warning, std::move(id), std::move(message), std::move(remedy));
}
void Findings::note(std::string id, std::string message, std::string remedy) {
  add(notes_, Severity::note, std::move(id), std::move(message), std::move(remedy));
}

void check_measures(const Table& table, Findings& findings) {
  MeasureCheck check("table's", findings);
  check.positive("length", table.length);
  check.positive("width", table.width);
  check.positive("height", table.height);
  check.not_negative("top thickness", table.top_thickness);
  check.not_negative("overhang of the long sides", table.overhang_long);
  check.not_negative("overhang of the short sides", table.overhang_short);
  check.not_negative("glide height", table.glide_height);
  check.positive("leg square", table.square);
  if (table.head_length) check.positive("head length", *table.head_length);
  check.not_negative("relief at the bottom of a mortise", table.relief);
  check.not_negative("horn", table.horn);
  check.not_negative("least wall", table.least_wall);
  check_rail("long rail", table.long_rail, findings);
  check_rail("short rail", table.short_rail, findings);
  if (table.drawer) {
    check_rail("upper drawer rail", table.drawer->upper, findings);
    check_rail("lower drawer rail", table.drawer->lower, findings);
  }
  if (table.spares < 0 || table.spares > 100) {
    findings.error("frame.measure-out-of-range", "the number of spares is " + std::to_string(table.spares),
                   "give a number from 0 to 100");
  }
}

void check_leg(const Table& table, const shape::Part& leg, Findings& findings) {
  if (!leg.mortises.empty()) {
    findings.error("frame.leg-has-mortises", "the leg came with " + std::to_string(leg.mortises.size()) +
                                                 " mortises of its own", "give the leg as turned; the rails place its mortises");
  }
  shape::Part turned = leg;
  turned.mortises.clear();
  for (const Diagnostic& one : shape::problems(turned)) findings.error(one.id, one.message, one.remedy);
  const double wanted = leg_length(table);
  if (std::abs(leg.length - wanted) > kSame) {
    findings.error("frame.leg-length",
                   "the leg is " + findings.mm(leg.length) + " long, and a table " + findings.mm(table.height) +
                       " high with a top of " + findings.mm(table.top_thickness) + " and glides of " +
                       findings.mm(table.glide_height) + " leaves it " + findings.mm(wanted),
                   "make the leg's length follow from the table's height");
  }
  const double square = square_stretch(leg, table.square);
  if (square <= kSame) {
    findings.error("frame.leg-not-square", "the leg's head is not a square of " + findings.mm(table.square),
                   "begin the leg with a square stretch of that width, with its faces at quarter turns");
  } else if (table.head_length && square < *table.head_length - kSame) {
    findings.error("frame.head-too-short", "the leg is square for " + findings.mm(square) + " from the head, and " +
                                               findings.mm(*table.head_length) + " are asked for",
                   "make the square stretch longer");
  }
  if (table.length - 2 * table.overhang_short - 2 * table.square <= kSame) {
    findings.error("frame.legs-overlap", "the long rails would have no length: a top " + findings.mm(table.length) +
                                             " long, overhangs of " + findings.mm(table.overhang_short) +
                                             " and two legs of " + findings.mm(table.square) + " leave nothing between",
                   "make the table longer or the overhang less");
  }
  if (table.width - 2 * table.overhang_long - 2 * table.square <= kSame) {
    findings.error("frame.legs-overlap", "the short rails would have no length: a top " + findings.mm(table.width) +
                                             " wide, overhangs of " + findings.mm(table.overhang_long) +
                                             " and two legs of " + findings.mm(table.square) + " leave nothing between",
                   "make the table wider or the overhang less");
  }
}

void settle_tenon(const Table& table, double head, const std::vector<double>& cutters, Tenoned& kind, Findings& findings, bool proportions) {
  settle_thickness(table, cutters, kind, findings);
  check_tenon(table, head, kind, findings);
  check_haunch_depth(kind, findings);
  if (proportions) note_proportions(table, kind, findings);
}

Plan plan_rails(const Table& table, double head, const std::vector<double>& cutters, Findings& findings) {
  Plan plan = bare_plan(table);
  if (table.drawer) check_drawer(*table.drawer, findings);
  for (Tenoned& kind : plan.kinds) {
    settle_thickness(table, cutters, kind, findings);
    check_tenon(table, head, kind, findings);
  }
  part_tenons(table, plan, findings);
  for (const Tenoned& kind : plan.kinds) {
    check_haunch_depth(kind, findings);
    note_proportions(table, kind, findings);
  }
  return plan;
}

}  // namespace pommel::frame
