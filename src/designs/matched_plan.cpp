#include "designs/matched_plan.h"

#include <algorithm>
#include <cmath>

#include "base/number.h"
#include "base/text.h"
#include "frame/stair.h"

namespace pommel::designs {
namespace {

using match::Found;
using match::Recognition;

constexpr double kTop = 22;           // mm of table top, as templates/table-leg.yaml has it
constexpr double kTurnedFrom = 0.98;  // greatest diameter over the square it is turned from, as the house's own lamps have it
constexpr double kHeadboard = 100;    // mm: a block longer by more than this than its rail needs carries a headboard

// mm: a piece without a block and with pins at both ends is a baluster only where it can reach from a tread to a handrail
constexpr double kLeastPinned = 600;
constexpr double kLeastRailHeight = 700, kMostRailHeight = 1200;  // mm: what templates/baluster.yaml takes

// What templates/bed-post.yaml says of the block: the rail and a margin above and below it.
constexpr double kRail = 150, kMargin = 20, kLeastRail = 70;

// What templates/lamp-column.yaml says of base, tenon, way and drill.
constexpr double kBase = 36, kBaseWidth = 150, kTenon = 26, kBore = 11, kTenonWall = 22, kSeat = 22, kWall = 6, kDrill = 320, kWaste = 140;

bool level(const Found& f) { return !f.square && f.stroke.figure == match::Figure::level; }

bool headed_by_square(const Recognition& found) { return found.elements.front().square; }
bool footed_by_square(const Recognition& found) { return found.elements.back().square; }

/// A level at an end beside a thinner or thicker neighbour: a pin where it is the thinner one and is called so, or stands on a square.
bool is_pin(const Found& end, const Found& beside, double beside_radius) {
  return level(end) && end.stroke.r0 < beside_radius && (beside.square || end.name.kind == shape::ElementKind::pin);
}
bool headed_by_pin(const Recognition& found) {
  const auto& all = found.elements;
  return all.size() > 1 && is_pin(all[0], all[1], all[1].stroke.r0);
}
bool footed_by_pin(const Recognition& found) {
  const auto& all = found.elements;
  return all.size() > 1 && is_pin(all.back(), all[all.size() - 2], all[all.size() - 2].stroke.r1);
}

double thickest(const Found& f) {
  const auto radii = f.square ? std::nullopt : match::radii_of(f.stroke);
  return radii ? 2 * radii->greatest : 0;
}

double thinnest_of(const Recognition& found) {
  double least = 1e30;
  for (const Found& f : found.elements)
    if (const auto radii = f.square ? std::nullopt : match::radii_of(f.stroke)) least = std::min(least, 2 * radii->least);
  return least;
}

Failure no_family(const std::string& family, const std::string& needs, const std::string& remedy) {
  return fail("match.no-family", "the piece cannot be written as a " + family + ": " + needs, remedy);
}

const char* kSquareNotes = "note where its square stretches end ('square to here', 'square from here'), or choose another family: --for of the command, the box beside the name in the window";
const char* kAnotherFamily = "choose another family: --for of the command, the box beside the name in the window";

class Planner {
 public:
  Planner(const Recognition& found, const MatchedNames& names) : found_(found), unit_(names.lengths.unit) {
    plan_.square = matched_square(found);
    plan_.elements.resize(found.elements.size());
    for (std::size_t k = 0; k < plan_.elements.size(); ++k) plan_.elements[k].may_share = !found.elements[k].square;
  }

  Result<MatchedPlan> run(const FamilyChoice& choice, const std::string& stock) {
    plan_.family = choice.family;
    plan_.why = choice.why;
    const Result<Done> done = choice.family == "table-leg" ? table_leg() : choice.family == "baluster" ? baluster() : choice.family == "bed-post" ? bed_post() : lamp_column();
    if (!done.ok()) return done.failure();
    if (!stock.empty()) say("stock", stock, "thick enough for the square; the wood is yours to choose");
    return std::move(plan_);
  }

 private:
  bool inches() const { return unit_ == LengthUnit::inch; }
  std::string size(double mm) const { return written_length(mm, unit_); }
  void say(std::string name, std::string value, std::string note = {}) { plan_.sheet.push_back({std::move(name), std::move(value), std::move(note)}); }
  /// A usual size where the original says nothing: another round number for a maker who works in inches.
  double usual(double mm, double in) const { return inches() ? in * kInch : mm; }
  double first_length() const { return found_.elements.front().stroke.length(); }
  double last_length() const { return found_.elements.back().stroke.length(); }

  Result<Done> table_leg();
  Result<Done> baluster();
  void baluster_head(frame::Stair& stair);
  void baluster_foot(frame::Stair& stair);
  Result<Done> bed_post();
  void bed_heights(bool head, std::size_t block);
  Result<Done> lamp_column();
  void lamp_tenon();
  void lamp_way();

  const Recognition& found_;
  LengthUnit unit_;
  MatchedPlan plan_;
};

Result<Done> Planner::table_leg() {
  if (!headed_by_square(found_)) return no_family("table leg", "it does not begin with a square, where a leg has its joints", kSquareNotes);
  say("top_thickness", size(kTop));
  say("table_height", size(found_.length + kTop), "the leg is as long as the original at this height");
  say("square", size(plan_.square));
  say("head_length", size(first_length()));
  say("long_rail_depth", "= min(100 mm, head_length - 16 mm)");
  say("short_rail_depth", "= min(80 mm, head_length - 16 mm)");
  plan_.elements.front().length = "head_length";
  return Done{};
}

Result<Done> Planner::baluster() {
  if (!headed_by_square(found_) && !headed_by_pin(found_)) return no_family("baluster", "its head is neither a square block nor a pin", kSquareNotes);
  if (!footed_by_square(found_) && !footed_by_pin(found_)) return no_family("baluster", "its foot is neither a square block nor a pin", kSquareNotes);
  frame::Stair stair;
  stair.treads = 13;
  stair.rise = usual(184, 7.25), stair.going = usual(260, 10.25), stair.nosing = usual(25, 1), stair.rail_depth = usual(48, 1.875), stair.plough = usual(8, 0.3125);
  stair.shoe_height = usual(60, 2.375), stair.rail_height = 900, stair.rail_width = 62, stair.shoe_depth = 30, stair.shoe_width = 62;
  stair.width = plan_.square;
  say("square", size(plan_.square));
  baluster_head(stair);
  baluster_foot(stair);
  if (const auto sound = frame::check_stair(stair); !sound.ok()) return sound.failure();
  const double height = stair.rail_height + found_.length - frame::baluster_lengths(stair).front();
  if (height < kLeastRailHeight || height > kMostRailHeight)
    return no_family("baluster", "on a usual stair one as long as this stands under a handrail " + format_number(height, 0) + " mm high, and the family takes " +
                     format_number(kLeastRailHeight, 0) + " to " + format_number(kMostRailHeight, 0) + " mm", kAnotherFamily);
  say("rise", size(stair.rise), "of your stair: a baluster does not say what it stood on");
  say("going", size(stair.going), "the same");
  say("nosing", size(stair.nosing));
  say("rail_depth", size(stair.rail_depth));
  say("plough", size(stair.plough));
  if (stair.string == frame::StringKind::closed) say("shoe_height", size(stair.shoe_height));
  say("rail_height", size(height), "on this stair the first baluster of a tread is as long as the original at this height");
  plan_.remarks.push_back("A stair gives its balusters their lengths: enter rise, going and the height of your handrail first, and all of a run follow.");
  return Done{};
}

void Planner::baluster_head(frame::Stair& stair) {
  PlannedElement& head = plan_.elements.front();
  if (headed_by_square(found_)) {
    stair.head = frame::BalusterHead::raked;
    say("top", "raked");
    say("difference", "top block", "of the lengths on one tread");
    say("top_block", "= " + size(first_length()) + " - head_in_rail", "the whole block of the original, to its long point");
    head.length = "top_block + head_in_rail + longer * top_takes";
    head.name = "top block";
    return;
  }
  stair.head = frame::BalusterHead::pin;
  stair.top_pin = first_length(), stair.top_pin_diameter = 2 * found_.elements.front().stroke.r0;
  say("top", "pin");
  say("difference", "turning", "of the lengths on one tread: the shares of the outline take it up");
  say("top_pin", size(stair.top_pin));
  say("top_pin_thick", size(stair.top_pin_diameter));
  head = {"top_pin", "top_pin_thick", "", false, true};
}

void Planner::baluster_foot(frame::Stair& stair) {
  const bool pinned = footed_by_pin(found_);
  const std::size_t last = found_.elements.size() - 1, block = pinned ? last - 1 : last;
  if (pinned) {
    stair.string = frame::StringKind::open, stair.foot = frame::BalusterFoot::pin;
    stair.foot_pin = last_length(), stair.foot_pin_diameter = 2 * found_.elements.back().stroke.r0;
    say("string", "open");
    say("foot", "pin");
    say("foot_pin", size(stair.foot_pin));
    say("foot_pin_thick", size(stair.foot_pin_diameter));
    plan_.elements[last] = {"foot_pin", "foot_pin_thick", "", false, true};
  } else if (stair.head == frame::BalusterHead::raked) {
    stair.string = frame::StringKind::closed;
    say("string", "closed", "a block without a pin stands on a shoe rail; where it is dovetailed into the tread: open, and foot: dovetail");
  } else {
    stair.string = frame::StringKind::open, stair.foot = frame::BalusterFoot::dovetail, stair.dovetail = usual(28, 1.125);
    say("string", "open");
    say("foot", "dovetail", "sawn on the block at the bench");
    say("dovetail", size(stair.dovetail));
  }
  if (block == 0 || !found_.elements[block].square) return;
  say("foot_block", "= " + size(found_.elements[block].stroke.length()) + " - foot_below", "the whole block of the original");
  plan_.elements[block].length = "foot_block + foot_below + longer * foot_takes";
  plan_.elements[block].name = "foot block";
}

Result<Done> Planner::bed_post() {
  const auto& all = found_.elements;
  std::size_t block = all.size();
  for (std::size_t k = 1; k + 1 < all.size(); ++k) {
    if (all[k].square) block = k;
  }
  if (block == all.size()) return no_family("bed post", "it has no square block, where the rails come in, between a turned head and a turned foot", kSquareNotes);
  const bool turned_above = std::any_of(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(block), [](const Found& f) { return !f.square; });
  if (!turned_above) return no_family("bed post", "nothing is turned above its block", kSquareNotes);
  for (std::size_t k = block; k < all.size(); ++k) plan_.elements[k].may_share = false;
  plan_.elements[block].length = "block_length";
  plan_.elements[block].name = "block";
  const double length = all[block].stroke.length();
  if (length < kLeastRail) return no_family("bed post", "its block is " + format_number(length, 1) + " mm long, and the least rail is " + format_number(kLeastRail, 0) + " mm deep", kSquareNotes);
  say("square", size(plan_.square));
  const bool head = length > kRail + 2 * kMargin + kHeadboard;
  bed_heights(head, block);
  plan_.remarks.push_back(head ? "Its block is long enough for a headboard, so the original is taken for a head post; the foot posts have the same turning over a shorter block."
                               : "Its block takes a rail and no headboard, so the original is taken for a foot post; the head posts have the same turning over a longer block.");
  return Done{};
}

void Planner::bed_heights(bool head, std::size_t block) {
  const auto& all = found_.elements;
  const double length = all[block].stroke.length(), below = found_.length - all[block].stroke.x1;
  const double rail = head ? kRail : std::max(kLeastRail, std::min(kRail, length - 2 * kMargin));
  const double margin = head ? kMargin : (length - rail) / 2;
  say("rail_depth", size(rail));
  say("margin", size(margin), "block beyond the rail");
  say("rail_height", size(below + rail + margin), "its block is as high above the floor as the original's");
  if (head) {
    say("headboard_height", size(below + length - margin), "so is what the block takes");
    say("head_post_height", size(found_.length), "as long as the original");
    say("foot_post_height", "= head_post_height - head_block_length + foot_block_length", "the same turning");
  } else {
    say("foot_post_height", size(found_.length), "as long as the original");
    say("head_post_height", "= foot_post_height - foot_block_length + head_block_length", "the same turning");
  }
}

Result<Done> Planner::lamp_column() {
  say("square", size(plan_.square), found_.square > 0 ? "" : "what the greatest diameter is turned from: the original has no square");
  lamp_tenon();
  lamp_way();
  const double foot = thickest(found_.elements[found_.elements.size() - (footed_by_pin(found_) ? 2 : 1)]);
  const double wide = std::max({kBaseWidth, std::ceil(found_.length / 30) * 10, std::ceil((std::max(foot, footed_by_square(found_) ? found_.square : 0) + 30) / 10) * 10});
  say("base_width", size(wide), "the base is not known from the column");
  return Done{};
}

void Planner::lamp_tenon() {
  const Found& last = found_.elements.back();
  if (footed_by_pin(found_)) {
    const double base = std::max(kBase, std::ceil(last.stroke.length()) + 10);
    say("base_thickness", size(base));
    say("foot_tenon", size(last.stroke.length()));
    say("foot_tenon_thick", size(2 * last.stroke.r0));
    say("lamp_height", size(found_.length + base - last.stroke.length()), "the column is as long as the original at this height");
    plan_.elements.back() = {"foot_tenon", "foot_tenon_thick", "", false, true};
    return;
  }
  const double foot = 2 * last.stroke.r1;
  say("base_thickness", size(kBase));
  say("foot_tenon", size(kTenon));
  if (foot < kBore + kTenonWall + 4) say("foot_tenon_thick", size(std::floor(foot - 4)));
  say("lamp_height", size(found_.length + kBase), "above its tenon the column is as long as the original at this height");
  plan_.added.push_back("pin: {length: = foot_tenon, start: = foot_tenon_thick}   # the original has no tenon: this one goes into the base");
  plan_.remarks.push_back("The original has no tenon at its foot; one is added below it, which goes into the base.");
}

void Planner::lamp_way() {
  const Found& first = found_.elements.front();
  const double head = first.square ? found_.square : 2 * first.stroke.r0;
  if (thinnest_of(found_) < kBore + 2 * kWall) say("pipe", "none", "too thin for threaded pipe: a cord alone, in a narrower bore");
  if (head < kSeat + 2 * kWall) say("seat", "0 mm", "the head is too thin to let a nut in");
  if (found_.length + kTenon + kWaste > 2 * kDrill) say("way", "ploughed", "longer than the drill reaches from both ends; or stacked, with divide: yes where a joint is hidden");
  plan_.remarks.push_back("Whether the original is bored is not known from its outline: see 'the way for the cord' in the sheet.");
}

}  // namespace

std::string written_length(double mm, LengthUnit unit) {
  if (unit == LengthUnit::millimetre) return format_number(mm, 3) + " mm";
  return format_number(mm / kInch, 4) + " in";
}

const std::vector<std::string>& matched_families() {
  static const std::vector<std::string> all = {"table-leg", "baluster", "bed-post", "lamp-column"};
  return all;
}

double matched_square(const Recognition& found) {
  double most = 0;
  for (const Found& f : found.elements) most = std::max(most, thickest(f));
  return found.square > 0 ? found.square : std::ceil(most / kTurnedFrom);
}

Result<FamilyChoice> family_for(const Recognition& found) {
  if (found.elements.empty()) return fail("match.no-family", "nothing was recognised");
  const bool block_above = headed_by_square(found), block_below = footed_by_square(found), pin_above = headed_by_pin(found), pin_below = footed_by_pin(found);
  const auto ends = [](bool block, bool pin) { return block ? "a square block" : pin ? "a pin" : "a turned end"; };
  const bool any = std::any_of(found.elements.begin(), found.elements.end(), [](const Found& f) { return f.square; });
  const bool baluster_ends = (block_above || pin_above) && (block_below || pin_below);
  if (baluster_ends && (any || found.length >= kLeastPinned))
    return FamilyChoice{"baluster", "it has " + std::string(ends(block_above, pin_above)) + " at its head and " + ends(block_below, pin_below) + " at its foot"};
  if (block_above) return FamilyChoice{"table-leg", "it has a square block at its head and a turned foot"};
  if (!any) return FamilyChoice{"lamp-column", "it is turned from head to foot"};
  if (pin_below) return FamilyChoice{"lamp-column", "it has a turned head and a pin at its foot"};
  if (!block_below) return FamilyChoice{"bed-post", "it is turned above and below a square block"};
  return fail("match.no-family", "a piece with a turned head over a square foot could become several things", "say which, with --for or beside the name in the window: " + joined(matched_families(), ", "));
}

Result<MatchedPlan> plan_for(const Recognition& found, const MatchedNames& names) {
  if (found.elements.empty()) return fail("match.no-family", "nothing was recognised");
  FamilyChoice choice{names.family, ""};
  if (choice.family.empty()) {
    const auto chosen = family_for(found);
    if (!chosen.ok()) return chosen.failure();
    choice = *chosen;
  }
  const auto& known = matched_families();
  if (std::find(known.begin(), known.end(), choice.family) == known.end())
    return fail("match.no-family", in_quotes(choice.family) + " is no family that a turning can become", "choose one of " + joined(known, ", "));
  return Planner(found, names).run(choice, names.stock);
}

}  // namespace pommel::designs
