#include "frame/stair.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/number.h"
#include "base/text.h"
#include "frame/choice.h"
#include "frame/hands.h"
#include "frame/kinds.h"
#include "frame/plan.h"
#include "frame/stretch.h"
#include "rules/leg.h"

namespace pommel::frame {
namespace {

using shape::Part;

constexpr double kSame = 1e-6;  // mm
constexpr int kMostBalusters = 2000;
constexpr double kUpStair = 1.5 * std::numbers::pi;   // face D
constexpr double kDownStair = std::numbers::pi / 2;   // face B
constexpr double kLeastRail = 300;                    // mm: shorter pieces are not jointed to a rail
constexpr double kLevelStep = 1;                      // mm between the heights at which neighbours are compared

constexpr std::array<std::string_view, 2> kStrings{"open", "closed"};
constexpr std::array<std::string_view, 2> kHeads{"raked", "pin"};
constexpr std::array<std::string_view, 2> kFeet{"pin", "dovetail"};

/// What the measures come to; all plumb lengths but `run`.
struct Rake {
  explicit Rake(const Stair& stair)
      : tangent(stair.rise / stair.going), cosine(stair.going / std::hypot(stair.rise, stair.going)),
        underside(stair.rail_height - stair.rail_depth / cosine), plough(stair.plough / cosine), half_rake(stair.width / 2 * tangent) {}

  double tangent, cosine;
  double underside;  ///< of the handrail above the nosing line
  double plough;     ///< how far a head goes up into the rail, plumb
  double half_rake;  ///< from the middle of a sawn end to its long point
};

bool closed(const Stair& stair) { return stair.string == StringKind::closed; }

double behind_nosing(const Stair& stair, int on_tread) {
  return stair.nosing + stair.width / 2 + on_tread * spacing(stair);
}

/// Clear length of a baluster's middle line, from tread or shoe rail to the handrail.
double clear_length(const Stair& stair, int on_tread) {
  const Rake rake(stair);
  return closed(stair) ? rake.underside - stair.shoe_height : rake.underside + behind_nosing(stair, on_tread) * rake.tangent;
}

/// What the head has above the clear length, and the foot below it.
double above_clear(const Stair& stair) {
  const Rake rake(stair);
  return stair.head == BalusterHead::pin ? stair.top_pin : rake.plough + rake.half_rake;
}
double below_clear(const Stair& stair) {
  const Rake rake(stair);
  if (closed(stair)) return rake.plough + rake.half_rake;
  return stair.foot == BalusterFoot::pin ? stair.foot_pin : stair.dovetail;
}

void check_numbers(const Stair& stair, Findings& findings) {
  MeasureCheck check("stair's", findings);
  check.positive("rise", stair.rise);
  check.positive("going", stair.going);
  check.not_negative("nosing", stair.nosing);
  check.positive("rail height", stair.rail_height);
  check.positive("handrail's depth", stair.rail_depth);
  check.positive("handrail's width", stair.rail_width);
  check.not_negative("plough", stair.plough);
  check.positive("baluster's width", stair.width);
  check.not_negative("longest piece of rail", stair.longest_rail);
  if (stair.longest_rail > 0 && stair.longest_rail < kLeastRail)
    findings.error("frame.measure-out-of-range", "a rail of pieces " + findings.mm(stair.longest_rail) + " long is no rail",
                   "give " + findings.mm(kLeastRail) + " or more, or 0 for one length");
  if (closed(stair)) {
    check.not_negative("shoe height", stair.shoe_height);
    check.positive("shoe rail's depth", stair.shoe_depth);
    check.positive("shoe rail's width", stair.shoe_width);
  }
  if (stair.head == BalusterHead::pin) {
    check.positive("top pin's length", stair.top_pin);
    check.positive("top pin's diameter", stair.top_pin_diameter);
  }
  if (!closed(stair) && stair.foot == BalusterFoot::pin) {
    check.positive("foot pin's length", stair.foot_pin);
    check.positive("foot pin's diameter", stair.foot_pin_diameter);
  }
  if (!closed(stair) && stair.foot == BalusterFoot::dovetail) check.positive("dovetail's length", stair.dovetail);
}

void check_counts(const Stair& stair, Findings& findings) {
  const auto out_of_range = [&](const std::string& what, const std::string& range) {
    findings.error("frame.measure-out-of-range", what + ", which makes no stair: " + range, "give it another value");
  };
  if (stair.treads < 1) out_of_range(std::to_string(stair.treads) + " treads carry balusters", "at least one must");
  if (stair.a_tread < 1 || stair.a_tread > kMostOnTread) out_of_range(std::to_string(stair.a_tread) + " balusters stand on a tread", "one to four");
  if (stair.spares < 0 || stair.spares > 100) out_of_range(std::to_string(stair.spares) + " spares", "none to a hundred");
  if (stair.treads > kMostBalusters || static_cast<long>(stair.treads) * stair.a_tread > kMostBalusters)
    out_of_range(std::to_string(stair.treads) + " treads with " + std::to_string(stair.a_tread) + " balusters each",
                 "at most " + std::to_string(kMostBalusters) + " balusters in one run");
}

void check_room(const Stair& stair, Findings& findings) {
  if (closed(stair) && stair.head == BalusterHead::pin)
    findings.error("frame.stair-foot", "on a closed string both ends of a baluster are sawn to the pitch, but its head is said to be a pin",
                   "say `raked` for the head, or an open string");
  if (stair.rule != "none" && !rules::guard_rule(stair.rule))
    findings.error("frame.stair-rule", "'" + printable(stair.rule) + "' is no guard rule that is known here", "one of: " + listed(guard_rule_words()));
  if (spacing(stair) <= stair.width + kSame)
    findings.error("frame.stair-crowded",
                   std::to_string(stair.a_tread) + " balusters " + findings.mm(stair.width) + " wide on a going of " + findings.mm(stair.going) +
                       " stand " + findings.mm(spacing(stair)) + " apart, centre to centre: they touch",
                   "put fewer on a tread, or make them thinner");
  const double least = clear_length(stair, 0);
  if (least <= stair.width)
    findings.error("frame.stair-no-room",
                   "between " + std::string(closed(stair) ? "shoe rail" : "tread") + " and handrail stand " + findings.mm(std::max(least, 0.0)) +
                       " of baluster, less than it is wide",
                   "raise the handrail, make it less deep, or lower the shoe rail");
}

const char* ordinal(int number) {
  constexpr std::array<const char*, kMostOnTread> words{"first", "second", "third", "fourth"};
  return words[static_cast<std::size_t>(number)];
}

class StairJoiner {
 public:
  StairJoiner(const Stair& stair, const std::vector<Part>& balusters, const LengthFormat& shown)
      : stair_(stair), balusters_(balusters), findings_(shown), rake_(stair) {}

  Result<Set> join() {
    if (auto sound = check_stair(stair_); !sound.ok()) return sound.failure();
    check_pieces();
    if (findings_.any_errors()) return Failure(findings_.errors());
    joint_pieces();
    if (findings_.any_errors()) return Failure(findings_.errors());
    for (int tread = 0; tread < stair_.treads; ++tread)
      for (int place = 0; place < stair_.a_tread; ++place) add_baluster(tread, place);
    for (std::size_t piece = 0; piece < balusters_.size(); ++piece) add_spares(piece);
    if (stair_.rails_made) add_rails();
    sort_into_kinds(set_, "the two ends are sawn to the pitch");
    if (mirrored())
      for (Member& member : set_.members)
        if (!member.spare) member.hand = winds_right(member.part) ? "right" : "left";
    for (std::size_t i = 0; i < balusters_.size(); ++i) report(i);
    judge_guard();
    if (!stair_.mirrored_pairs) note_alike(findings_, "frame.balusters-wind-alike", balusters_.front(), "all balusters", "every second one");
    set_.notes = findings_.notes();
    return std::move(set_);
  }

 private:
  std::string name_of(std::size_t piece) const {
    return balusters_.size() == 1 ? "the baluster" : std::string("the ") + ordinal(static_cast<int>(piece)) + " baluster of a tread";
  }

  void check_pieces() {
    const std::vector<double> lengths = baluster_lengths(stair_);
    if (lengths.size() != balusters_.size()) {
      findings_.error("frame.baluster-count",
                      "the stair needs " + std::to_string(lengths.size()) + " lengths of baluster, and " + std::to_string(balusters_.size()) + " were made",
                      "give each baluster of a tread its piece");
      return;
    }
    for (std::size_t i = 0; i < lengths.size(); ++i) {
      const Part& part = balusters_[i];
      for (const Diagnostic& one : shape::problems(part)) findings_.error(one.id, name_of(i) + ": " + one.message, one.remedy);
      if (std::abs(part.length - lengths[i]) > kSame) {
        findings_.error("frame.baluster-length",
                        name_of(i) + " is " + findings_.mm(part.length) + " long, and the stair makes it " + findings_.mm(lengths[i]),
                        "let its outline fill the length that the stair leaves");
        continue;
      }
      check_head(i);
      check_foot(i);
    }
  }

  void check_head(std::size_t i) {
    const Part& part = balusters_[i];
    if (stair_.head == BalusterHead::pin) {
      if (!is_pin(part, stair_.top_pin_diameter, 0, stair_.top_pin))
        findings_.error("frame.baluster-head",
                        name_of(i) + " does not begin with a pin " + findings_.mm(stair_.top_pin) + " long and " + findings_.mm(stair_.top_pin_diameter) +
                            " thick",
                        "begin its outline with that pin");
      return;
    }
    const double need = above_clear(stair_) + rake_.half_rake;
    if (!is_square(part, stair_.width, 0, need))
      findings_.error("frame.baluster-head",
                      name_of(i) + "'s head is sawn to the pitch within its first " + findings_.mm(need) + ", and is no whole square of " +
                          findings_.mm(stair_.width) + " there",
                      "begin its outline with a square block at least that long");
  }

  void check_foot(std::size_t i) {
    const Part& part = balusters_[i];
    const double below = below_clear(stair_);
    if (!closed(stair_) && stair_.foot == BalusterFoot::pin) {
      if (!is_pin(part, stair_.foot_pin_diameter, part.length - below, part.length))
        findings_.error("frame.baluster-foot",
                        name_of(i) + " does not end with a pin " + findings_.mm(below) + " long and " + findings_.mm(stair_.foot_pin_diameter) + " thick",
                        "end its outline with that pin");
      return;
    }
    const double need = closed(stair_) ? below + rake_.half_rake : below;
    if (!is_square(part, stair_.width, part.length - need, part.length))
      findings_.error("frame.baluster-foot",
                      name_of(i) + "'s foot is " + (closed(stair_) ? "sawn to the pitch" : "made a dovetail") + " within its last " + findings_.mm(need) +
                          ", and is no whole square of " + findings_.mm(stair_.width) + " there",
                      "end its outline with a square block at least that long");
  }

  bool mirrored() const { return stair_.mirrored_pairs && winds(balusters_.front()); }
  static bool winds_right(const Part& part) { return !part.twists.empty() && part.twists.front().pitch > 0; }

  void joint_pieces() {
    for (std::size_t i = 0; i < balusters_.size(); ++i) {
      jointed_.push_back(sawn(i, balusters_[i]));
      if (mirrored()) other_jointed_.push_back(sawn(i, shape::mirrored(balusters_[i])));
    }
  }

  // The mirror image has its faces B and D changed over, so it is sawn after it is mirrored: the long point stays up the stair.
  Part sawn(std::size_t i, Part part) {
    if (stair_.head == BalusterHead::raked) part.end_cuts.push_back({true, rake_.half_rake, pitch(stair_), kUpStair});
    if (closed(stair_)) part.end_cuts.push_back({false, part.length - rake_.half_rake, pitch(stair_), kDownStair});
    for (const Diagnostic& one : shape::problems(part)) findings_.error(one.id, name_of(i) + ", sawn to the pitch: " + one.message, one.remedy);
    return part;
  }

  std::size_t piece_of(int place) const { return closed(stair_) ? 0 : static_cast<std::size_t>(place); }

  // along the run, so that two that stand side by side are a pair wherever a tread ends
  bool is_second(int tread, int place) const { return mirrored() && (tread * stair_.a_tread + place) % 2 == 1; }

  void add_baluster(int tread, int place) {
    const std::size_t piece = piece_of(place);
    Member member;
    member.id = "baluster-" + std::to_string(tread + 1) + "-" + std::to_string(place + 1);
    member.place = (stair_.a_tread > 1 ? std::string(ordinal(place)) + " of " : "") + "tread " + std::to_string(tread + 1);
    member.label = "baluster, " + member.place;
    member.noun = "baluster";
    member.part = (is_second(tread, place) ? other_jointed_ : jointed_)[piece];
    member.piece = piece;
    const double x = tread * stair_.going + behind_nosing(stair_, place);
    const double foot = closed(stair_) ? x * rake_.tangent + stair_.shoe_height : tread * stair_.rise;
    member.stand = {{x, 0, foot - below_clear(stair_) + member.part.length}, 0};
    set_.members.push_back(std::move(member));
  }

  // of each hand that the length has in the run
  void add_spares(std::size_t piece) {
    const Part& own = balusters_[piece];
    const auto has = [&](bool right) {
      return std::any_of(set_.members.begin(), set_.members.end(), [&](const Member& one) { return !one.spare && one.piece == piece && winds_right(one.part) == right; });
    };
    const bool right = has(true), left = has(false);
    for (int i = 1; i <= stair_.spares; ++i) {
      if (right) add_spare(piece, left ? "right" : "", winds_right(own) ? own : shape::mirrored(own), i);
      if (left) add_spare(piece, right ? "left" : "", winds_right(own) ? shape::mirrored(own) : own, i);
    }
  }

  // `hand`: "right", "left", or "" where the length has one
  void add_spare(std::size_t piece, const std::string& hand, const Part& part, int number) {
    const bool alone = balusters_.size() == 1;
    Member spare;
    spare.id = "spare-" + std::to_string(piece + 1) + (hand.empty() ? "" : "-" + hand) + "-" + std::to_string(number);
    spare.label = "spare " + (alone ? std::string() : std::string(ordinal(static_cast<int>(piece))) + " ") + "baluster " + (hand.empty() ? "" : "(" + hand + " hand) ") + std::to_string(number);
    spare.noun = "baluster";
    spare.place = "spare";
    spare.part = part;
    spare.spare = true;
    spare.piece = piece;
    set_.members.push_back(std::move(spare));
  }

  // a straight piece along the run, from the first nosing; `above`: of its middle over the nosing line, plumb
  Rail along(std::string id, std::string label, double depth, double width, double above) const {
    Rail rail;
    rail.id = std::move(id);
    rail.label = std::move(label);
    rail.noun = "length of rail";
    rail.depth = depth;
    rail.thickness = width;
    const double run = stair_.treads * stair_.going, length = run / rake_.cosine;
    rail.quantity = stair_.longest_rail > 0 ? static_cast<int>(std::ceil(length / stair_.longest_rail - 1e-9)) : 1;
    rail.shoulder_length = rail.overall_length = length / rail.quantity;
    rail.start = {0, 0, above};
    rail.end = {run, 0, above + run * rake_.tangent};
    rail.from = set_.members.front().id;
    rail.to = set_.members[static_cast<std::size_t>(stair_.treads * stair_.a_tread) - 1].id;
    return rail;
  }

  Rail fillet(const std::string& rail_id, const std::string& label) const {
    Rail rail = along("fillet-" + rail_id, label, stair_.plough, stair_.width, 0);
    rail.noun = "fillet";
    rail.quantity = stair_.treads * stair_.a_tread + 1;
    rail.shoulder_length = rail.overall_length = (spacing(stair_) - stair_.width) / rake_.cosine;
    return rail;
  }

  void add_rails() {
    const double half_rail = stair_.rail_depth / 2 / rake_.cosine;
    set_.rails.push_back(along("handrail", "handrail, by the run", stair_.rail_depth, stair_.rail_width, stair_.rail_height - half_rail));
    if (closed(stair_)) {
      const double half_shoe = stair_.shoe_depth / 2 / rake_.cosine;
      set_.rails.push_back(along("shoe-rail", "shoe rail, by the run", stair_.shoe_depth, stair_.shoe_width, stair_.shoe_height - half_shoe));
    }
    if (!(stair_.plough > 0)) return;
    set_.rails.push_back(fillet("handrail", "fillet in the handrail's plough"));
    if (closed(stair_)) set_.rails.push_back(fillet("shoe-rail", "fillet in the shoe rail's plough"));
  }

  void report(std::size_t i) {
    const auto member = std::find_if(set_.members.begin(), set_.members.end(), [&](const Member& one) {
      return !one.spare && std::abs(one.part.length - balusters_[i].length) <= kSame;
    });
    JointReport report;
    report.member = member->id;
    report.least_wall = std::numeric_limits<double>::infinity();
    report.text = name_of(i) + ": " + findings_.mm(balusters_[i].length) + " as turned, " + findings_.mm(clear_length(stair_, static_cast<int>(i))) +
                  " clear on its middle line; head " + head_in_words() + ", foot " + foot_in_words();
    set_.joints.push_back(std::move(report));
  }

  std::string head_in_words() const {
    if (stair_.head == BalusterHead::pin) return "pinned " + findings_.mm(stair_.top_pin) + " into the handrail";
    return "sawn to " + format_angle(pitch(stair_)) + ", long point up the stair, " + findings_.mm(2 * rake_.half_rake) + " from short to long" +
           (stair_.plough > 0 ? ", let " + findings_.mm(stair_.plough) + " into the plough" : "");
  }

  std::string foot_in_words() const {
    if (closed(stair_)) return "sawn alike, long point down the stair";
    if (stair_.foot == BalusterFoot::pin) return "pinned " + findings_.mm(stair_.foot_pin) + " into the tread";
    return "a dovetail " + findings_.mm(stair_.dovetail) + " long, cut at the bench";
  }

  void judge_guard() {
    const rules::GuardRule* rule = rules::guard_rule(stair_.rule);
    if (!rule) return;
    const Openings found = openings(stair_, set_);
    const std::string source(rule->source);
    if (found.at_thin > rule->stair_opening + kSame)
      findings_.warning("frame.opening",
                        "between the balusters' thin parts " + findings_.mm(found.at_thin) + " are open, more than the " +
                            findings_.mm(rule->stair_opening) + " of " + source,
                        "put " + std::to_string(enough_a_tread(*rule, found)) + " on a tread, or make the thin parts thicker");
    if (stair_.rail_height < rule->stair_height - kSame)
      findings_.warning("frame.rail-low",
                        "the handrail stands " + findings_.mm(stair_.rail_height) + " above the nosing line, less than the " +
                            findings_.mm(rule->stair_height) + " of " + source,
                        "raise the handrail");
    findings_.note("frame.guard", source + ": opening at most " + findings_.mm(rule->stair_opening) + " at the side of a stair, rail at least " +
                                      findings_.mm(rule->stair_height) + " high; here " + findings_.mm(found.at_thin) +
                                      " between thin parts (on a raked run thin parts do not face each other: the safe side) and " +
                                      findings_.mm(stair_.rail_height) + "; openings beside newels and on landings are not looked at; local code and a licensed person decide");
  }

  int enough_a_tread(const rules::GuardRule& rule, const Openings& found) const {
    const double thin = found.spacing - found.at_thin;
    return static_cast<int>(std::ceil(stair_.going / (rule.stair_opening + thin) - 1e-9));
  }

  const Stair& stair_;
  const std::vector<Part>& balusters_;
  Findings findings_;
  Rake rake_;
  std::vector<Part> jointed_, other_jointed_;  // of the other hand where pairs are mirrored, else none
  Set set_;
};

// half the width along the run at a height of the room, nothing beside the piece; up the stair or down it
std::optional<double> half_width(const Member& member, double z, double towards) {
  const double x = member.stand.head.z - z;
  if (x < 0 || x > member.part.length) return std::nullopt;
  return shape::radius_at(member.part, x, towards);
}

}  // namespace

std::vector<std::string> string_kind_words() { return as_list(kStrings); }
std::vector<std::string> baluster_head_words() { return as_list(kHeads); }
std::vector<std::string> baluster_foot_words() { return as_list(kFeet); }
std::vector<std::string> guard_rule_words() {
  std::vector<std::string> words;
  for (const rules::GuardRule& one : rules::guard_rules()) words.emplace_back(one.id);
  words.emplace_back("none");
  return words;
}
std::string_view word(StringKind kind) { return word_of(kStrings, kind); }
std::string_view word(BalusterHead head) { return word_of(kHeads, head); }
std::string_view word(BalusterFoot foot) { return word_of(kFeet, foot); }
std::optional<StringKind> string_kind(std::string_view word) { return choice_of<StringKind>(kStrings, word); }
std::optional<BalusterHead> baluster_head(std::string_view word) { return choice_of<BalusterHead>(kHeads, word); }
std::optional<BalusterFoot> baluster_foot(std::string_view word) { return choice_of<BalusterFoot>(kFeet, word); }

std::size_t distinct_balusters(const Stair& stair) { return closed(stair) ? 1 : static_cast<std::size_t>(stair.a_tread); }

double pitch(const Stair& stair) { return std::atan2(stair.rise, stair.going); }
double spacing(const Stair& stair) { return stair.going / stair.a_tread; }

Result<Done> check_stair(const Stair& stair, const LengthFormat& shown) {
  Findings findings(shown);
  check_numbers(stair, findings);
  check_counts(stair, findings);
  if (!findings.any_errors()) check_room(stair, findings);
  if (findings.any_errors()) return Failure(findings.errors());
  return Done{};
}

std::vector<double> baluster_lengths(const Stair& stair) {
  std::vector<double> lengths;
  for (int place = 0; place < static_cast<int>(distinct_balusters(stair)); ++place) lengths.push_back(clear_length(stair, place) + above_clear(stair) + below_clear(stair));
  return lengths;
}

Result<Set> join_stair(const Stair& stair, const std::vector<Part>& balusters, const LengthFormat& shown) {
  return StairJoiner(stair, balusters, shown).join();
}

Openings openings(const Stair& stair, const Set& set) {
  Openings found;
  found.spacing = spacing(stair);
  if (const rules::GuardRule* rule = rules::guard_rule(stair.rule)) found.limit = rule->stair_opening;
  double thin = std::numeric_limits<double>::infinity(), thick = 0;
  const std::size_t distinct = distinct_balusters(stair);
  for (std::size_t i = 0; i < distinct; ++i) {
    const Part& part = set.members[i].part;
    // just inside: at the knot itself the pin would speak
    const double from = above_clear(stair) + Rake(stair).half_rake + kSame, to = part.length - below_clear(stair) - kSame;
    thin = std::min(thin, rules::thinnest(part, from, to).thickness);
    for (double x = from; x <= to; x += kLevelStep) thick = std::max(thick, 2 * shape::radius_at(part, x, kUpStair));
  }
  found.at_thin = rules::clear_opening(found.spacing, thin);
  found.at_thick = rules::clear_opening(found.spacing, thick);
  // neighbours of one tread and across to the next: every pair of the run is like one of these
  const std::size_t pairs = std::min(distinct, set.members.size() - 1);
  for (std::size_t i = 0; i < pairs; ++i) {
    const Member &lower = set.members[i], &upper = set.members[i + 1];
    if (upper.spare) break;
    const double from = upper.stand.head.z - upper.part.length + below_clear(stair), to = lower.stand.head.z - above_clear(stair);
    for (double z = from; z <= to; z += kLevelStep) {
      const auto a = half_width(lower, z, kUpStair), b = half_width(upper, z, kDownStair);
      if (a && b) found.level = std::max(found.level, found.spacing - *a - *b);
    }
  }
  return found;
}

InfillReport infill(const Stair& stair, const Set& set, const shop::Wood& wood, const LengthFormat& shown) {
  InfillReport report;
  for (std::size_t i = 0; i < distinct_balusters(stair); ++i) {
    const Part& part = set.members[i].part;
    const double from = above_clear(stair), to = part.length - below_clear(stair);
    const rules::Stressed worst = rules::worst_under_load(part, from + kSame, to - kSame, rules::kInfillLoad);
    if (worst.stress <= report.stress) continue;
    report.weakest = worst.at;
    report.stress = worst.stress;
    report.baluster = i;
    report.free_length = to - from;
  }
  report.sharing = rules::sharing_infill(spacing(stair));
  report.share_of_mor = report.stress / report.sharing / wood.mor_mpa;
  report.notes = rules::infill_notes(report.weakest, report.free_length, report.stress, report.sharing, wood, shown);
  return report;
}

}  // namespace pommel::frame
