// Where two tenons meet in a leg, and what is done about it. The section of a front left leg, its outer faces A and B:
//
//         B
//     +---------------------+        the long rail's tenon comes in from D, the short rail's from C; each has its middle
//     |    . . . . c_s      |        at c from the outer face beside it. The long tenon is free for a - c_s - t_s/2, the
//     |    :   ############ C        short one for a - c_l - t_l/2. Beyond both, they share a piece of wood.
//   A |----#---############ |
//     | c_l#                |
//     |    #                |
//     +----#----------------+
//          D
#include <algorithm>
#include <cmath>
#include <limits>

#include "base/number.h"
#include "frame/plan.h"

namespace pommel::frame {
namespace {

constexpr double kSame = 1e-6;

/// A tenon or its haunch: a box in the leg.
struct Slab {
  double x0, x1;
  rules::Pocket pocket;
};

std::vector<Slab> slabs(const Tenoned& kind, double depth) {
  std::vector<Slab> found{{kind.x0(), kind.x1(), {kind.centre(), kind.thickness, depth}}};
  if (kind.rail.haunch_length > 0 && kind.rail.haunch_depth > 0) {
    found.push_back({kind.x0() - kind.rail.haunch_length, kind.x0(),
                     {kind.centre(), kind.thickness, kind.rail.haunch_depth}});
  }
  return found;
}

bool meet(double square, const std::vector<Slab>& a, const std::vector<Slab>& b) {
  for (const Slab& one : a) {
    for (const Slab& other : b) {
      const double common = std::min(one.x1, other.x1) - std::max(one.x0, other.x0);
      if (common > kSame && rules::pockets_meet(square, one.pocket, other.pocket)) return true;
    }
  }
  return false;
}

double free_length(const Table& table, const Tenoned& other) {
  return rules::free_depth(table.square, other.centre(), other.thickness);
}

/// What the remedy asks of each kind, gathered over all pairs before any of it is done, so that the order of pairs does
/// not matter.
struct Asked {
  double longest = std::numeric_limits<double>::infinity();
  double outward = 0;
};

void ask(const Table& table, const Tenoned& mine, const Tenoned& other, Asked& asked) {
  switch (table.remedy) {
    case Remedy::mitred:
      // the mitre starts at the inner corner of the crossing and ends at the far cheek of the other tenon's width
      asked.longest = std::min(asked.longest, free_length(table, other) + mine.thickness);
      return;
    case Remedy::one_long_one_short:
      if (!mine.long_side) asked.longest = std::min(asked.longest, free_length(table, other) - table.least_wall - table.relief);
      return;
    case Remedy::shorter:
      asked.longest = std::min(asked.longest, free_length(table, other) - table.least_wall - table.relief);
      return;
    case Remedy::moved_outward: {
      // moving both by the same keeps legs with equal rails alike; one of the two getting free is enough
      const double room = std::max(free_length(table, other) - mine.mortise_depth(table),
                                   free_length(table, mine) - other.mortise_depth(table));
      asked.outward = std::max(asked.outward, table.least_wall - room);
      return;
    }
  }
}

void apply(const Asked& asked, Tenoned& kind, Findings& findings) {
  if (asked.longest < kind.length - kSame) {
    if (asked.longest <= kSame) {
      findings.error("frame.tenons-still-meet",
                     "the " + kind.label + "'s tenon would have to be " + findings.mm(asked.longest) +
                         " long to keep clear of its neighbour in the leg",
                     "set the rails nearer to the legs' outer faces, make the tenons thinner, or mitre them");
      return;
    }
    kind.length = asked.longest;
  }
  if (asked.outward <= 0) return;
  const double most = (kind.rail.thickness - kind.thickness) / 2;
  if (asked.outward > most + kSame) {
    findings.error("frame.tenons-still-meet",
                   "the " + kind.label + "'s tenon would have to move " + findings.mm(asked.outward) +
                       " towards the leg's outer face, and the rail lets it move " + findings.mm(most) + " only",
                   "shorten the tenons by " + findings.mm(asked.outward - most) + " or more, or mitre them");
    return;
  }
  kind.offset = asked.outward;
}

std::string done_in_words(const Table& table, const Tenoned& a, const Tenoned& b, const Findings& findings) {
  const std::string lengths = findings.mm(a.length) + " (" + a.label + ") and " + findings.mm(b.length) + " (" + b.label + ")";
  switch (table.remedy) {
    case Remedy::mitred: return "their ends are mitred, at most " + lengths + " long";
    case Remedy::one_long_one_short: return "one is long and one short: " + lengths;
    case Remedy::shorter: return "both are shorter: " + lengths;
    case Remedy::moved_outward:
      return "both are moved outward in their rails by " + findings.mm(a.offset) + " and " + findings.mm(b.offset);
  }
  return {};
}

void report(const Table& table, const Tenoned& a, const Tenoned& b, const Tenoned& a_before, const Tenoned& b_before,
            Findings& findings) {
  const std::string both = "the tenons of the " + a.label + " and the " + b.label;
  if (!tenons_meet(table, a_before, b_before) && table.remedy == Remedy::mitred) {
    findings.note("frame.relief-breaks-through", both + " do not meet, but their mortises break into one another at the bottom");
    return;
  }
  const double common = rules::common_volume(
      table.square, {a_before.centre(), a_before.thickness, a_before.length}, {b_before.centre(), b_before.thickness, b_before.length},
      std::min(a.x1(), b.x1()) - std::max(a.x0(), b.x0()));
  findings.note("frame.tenons-meet",
                both + " meet in the leg: they are " + findings.mm(a_before.length) + " and " + findings.mm(b_before.length) +
                    " long and clear of one another to " + findings.mm(free_length(table, b_before)) + " and " +
                    findings.mm(free_length(table, a_before)) + " (" + format_number(common, 0) + " mm³ in common); " +
                    done_in_words(table, a, b, findings));
}

}  // namespace

bool tenons_meet(const Table& table, const Tenoned& a, const Tenoned& b) {
  return meet(table.square, slabs(a, a.length), slabs(b, b.length));
}

bool mortises_meet(const Table& table, const Tenoned& a, const Tenoned& b) {
  // touching leaves no wall either
  return meet(table.square, slabs(a, a.mortise_depth(table) + kSame), slabs(b, b.mortise_depth(table) + kSame));
}

void part_tenons(const Table& table, Plan& plan, Findings& findings) {
  const std::vector<Tenoned> before = plan.kinds;
  std::vector<Asked> asked(before.size());
  std::vector<std::array<std::size_t, 2>> meeting;
  for (const auto& [a, b] : plan.pairs) {
    if (!mortises_meet(table, before[a], before[b])) continue;
    meeting.push_back({a, b});
    if (table.remedy == Remedy::mitred && !tenons_meet(table, before[a], before[b])) continue;
    ask(table, before[a], before[b], asked[a]);
    ask(table, before[b], before[a], asked[b]);
  }
  const bool sound = !findings.any_errors();
  for (std::size_t i = 0; i < plan.kinds.size(); ++i) apply(asked[i], plan.kinds[i], findings);
  for (const auto& [a, b] : meeting) {
    Tenoned &one = plan.kinds[a], &other = plan.kinds[b];
    if (table.remedy == Remedy::mitred) {
      if (tenons_meet(table, one, other)) one.mitred = other.mitred = true;
    } else if (sound && !findings.any_errors() && mortises_meet(table, one, other)) {
      findings.error("frame.tenons-still-meet",
                     "the mortises of the " + one.label + " and the " + other.label + " still meet when the tenons are " +
                         std::string(word(table.remedy)),
                     "ask for more wall between them, choose another remedy, or make a haunch shallower");
    }
    report(table, one, other, before[a], before[b], findings);
  }
}

}  // namespace pommel::frame
