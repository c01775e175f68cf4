#include "family/fields.h"

#include <map>

namespace pommel::family {
namespace {

using frame::ApronRail;
using frame::Bed;
using frame::BedBolts;
using frame::BedRail;
using frame::Headboard;
using frame::HookPlates;
using frame::Lamp;
using frame::PinnedFinial;
using frame::Stair;
using frame::Table;
using sheet::Kind;
using sheet::Value;

template <auto Member, class Target>
bool number(Target& target, const Value& value) {
  target.*Member = value.number();
  return true;
}

template <auto Member, class Target>
bool yes(Target& target, const Value& value) {
  target.*Member = value.yes();
  return true;
}

template <auto Member, class Target>
bool words(Target& target, const Value& value) {
  target.*Member = value.words();
  return true;
}

// A word of a frame's choice; `Read` is frame's own reader of words.
template <auto Member, auto Read, class Target>
bool choice(Target& target, const Value& value) {
  const auto read = Read(value.words());
  if (read) target.*Member = *read;
  return read.has_value();
}

const std::vector<Field<Table>>& table_fields() {
  static const std::vector<Field<Table>> fields = {
      {"length", Kind::length(), true, number<&Table::length, Table>, {}},
      {"width", Kind::length(), true, number<&Table::width, Table>, {}},
      {"height", Kind::length(), true, number<&Table::height, Table>, {}},
      {"top_thickness", Kind::length(), true, number<&Table::top_thickness, Table>, {}},
      {"overhang_long", Kind::length(), true, number<&Table::overhang_long, Table>, {}},
      {"overhang_short", Kind::length(), true, number<&Table::overhang_short, Table>, {}},
      {"glide_height", Kind::length(), false, number<&Table::glide_height, Table>, {}},
      {"square", Kind::length(), true, number<&Table::square, Table>, {}},
      {"head_length", Kind::length(), false, number<&Table::head_length, Table>, {}},
      {"relief", Kind::length(), false, number<&Table::relief, Table>, {}},
      {"least_wall", Kind::length(), false, number<&Table::least_wall, Table>, {}},
      {"horn", Kind::length(), false, number<&Table::horn, Table>, {}},
      {"mirrored_pairs", Kind::yes_no(), false, yes<&Table::mirrored_pairs, Table>, {}},
      {"spares", Kind::count(), false,
       [](Table& table, const Value& value) { table.spares = static_cast<int>(value.number()); return true; }, {}},
      {"mortise_ends", Kind::choice(), false, choice<&Table::mortise_end, frame::mortise_end, Table>, frame::mortise_end_words()},
      {"if_tenons_meet", Kind::choice(), false, choice<&Table::remedy, frame::remedy, Table>, frame::remedy_words()},
      {"drawer", Kind::yes_no(), false,
       [](Table& table, const Value& value) { if (!value.yes()) table.drawer.reset(); return true; }, {}},
  };
  return fields;
}

const std::vector<Field<ApronRail>>& rail_fields() {
  static const std::vector<Field<ApronRail>> fields = {
      {"depth", Kind::length(), true, number<&ApronRail::depth, ApronRail>, {}},
      {"thickness", Kind::length(), true, number<&ApronRail::thickness, ApronRail>, {}},
      {"set_back", Kind::length(), false, number<&ApronRail::set_back, ApronRail>, {}},
      {"drop", Kind::length(), false, number<&ApronRail::drop, ApronRail>, {}},
      {"tenon_rule", Kind::choice(), false, choice<&ApronRail::tenon_rule, frame::tenon_rule, ApronRail>, frame::tenon_rule_words()},
      {"tenon_thickness", Kind::length(), false, number<&ApronRail::tenon_thickness, ApronRail>, {}},
      {"tenon_length", Kind::length(), true, number<&ApronRail::tenon_length, ApronRail>, {}},
      {"top_shoulder", Kind::length(), false, number<&ApronRail::top_shoulder, ApronRail>, {}},
      {"bottom_shoulder", Kind::length(), false, number<&ApronRail::bottom_shoulder, ApronRail>, {}},
      {"haunch_length", Kind::length(), false, number<&ApronRail::haunch_length, ApronRail>, {}},
      {"haunch_depth", Kind::length(), false, number<&ApronRail::haunch_depth, ApronRail>, {}},
  };
  return fields;
}

// Fields of a frame, or of something inside it, as fields of the variant. `of` finds the thing in the frame.
template <class Frame, class Target, class Of>
std::vector<Field<frame::Frame>> inside(const std::vector<Field<Target>>& fields, Of of) {
  std::vector<Field<frame::Frame>> out;
  for (const Field<Target>& field : fields)
    out.push_back({field.key, field.kind, field.required,
                   [set = field.set, of](frame::Frame& frame, const Value& value) { return set(of(std::get<Frame>(frame)), value); }, field.words});
  return out;
}

frame::DrawerFront& drawer_of(Table& table) { return table.drawer ? *table.drawer : table.drawer.emplace(); }

FrameKeys table_keys() {
  const auto rail = [](const char* key, bool required, ApronRail& (*of)(Table&)) { return FrameBlock{key, required, inside<Table>(rail_fields(), of)}; };
  return {Table{}, inside<Table>(table_fields(), [](Table& table) -> Table& { return table; }),
          {rail("long_rail", true, [](Table& table) -> ApronRail& { return table.long_rail; }),
           rail("short_rail", true, [](Table& table) -> ApronRail& { return table.short_rail; }),
           rail("drawer_upper", false, [](Table& table) -> ApronRail& { return drawer_of(table).upper; }),
           rail("drawer_lower", false, [](Table& table) -> ApronRail& { return drawer_of(table).lower; })}};
}

template <auto Member, class Target>
bool count(Target& target, const Value& value) {
  target.*Member = static_cast<int>(value.number());
  return true;
}

const std::vector<Field<Bed>>& bed_fields() {
  static const std::vector<Field<Bed>> fields = {
      {"mattress_length", Kind::length(), true, number<&Bed::mattress_length, Bed>, {}},
      {"mattress_width", Kind::length(), true, number<&Bed::mattress_width, Bed>, {}},
      {"mattress_thickness", Kind::length(), false, number<&Bed::mattress_thickness, Bed>, {}},
      {"allowance_length", Kind::length(), false, number<&Bed::allowance_length, Bed>, {}},
      {"allowance_width", Kind::length(), false, number<&Bed::allowance_width, Bed>, {}},
      {"support_height", Kind::length(), true, number<&Bed::support_height, Bed>, {}},
      {"support_depth", Kind::length(), false, number<&Bed::support_depth, Bed>, {}},
      {"square", Kind::length(), true, number<&Bed::square, Bed>, {}},
      {"head_post", Kind::length(), true, number<&Bed::head_post, Bed>, {}},
      {"foot_post", Kind::length(), true, number<&Bed::foot_post, Bed>, {}},
      {"glide_height", Kind::length(), false, number<&Bed::glide_height, Bed>, {}},
      {"side_joint", Kind::choice(), false, choice<&Bed::side_joint, frame::side_joint, Bed>, frame::side_joint_words()},
      {"end_joint", Kind::choice(), false, choice<&Bed::end_joint, frame::end_joint, Bed>, frame::end_joint_words()},
      {"headboard_joint", Kind::choice(), false, choice<&Bed::headboard_joint, frame::headboard_joint, Bed>, frame::headboard_joint_words()},
      {"finials", Kind::choice(), false, choice<&Bed::finial_kind, frame::finial_kind, Bed>, frame::finial_kind_words()},
      {"mortise_ends", Kind::choice(), false, choice<&Bed::mortise_end, frame::mortise_end, Bed>, frame::mortise_end_words()},
      {"relief", Kind::length(), false, number<&Bed::relief, Bed>, {}},
      {"least_wall", Kind::length(), false, number<&Bed::least_wall, Bed>, {}},
      {"mirrored_pairs", Kind::yes_no(), false, yes<&Bed::mirrored_pairs, Bed>, {}},
      {"spares", Kind::count(), false, count<&Bed::spares, Bed>, {}},
      {"head_crest", Kind::yes_no(), false, [](Bed& bed, const Value& value) { if (!value.yes()) bed.head_crest.reset(); return true; }, {}},
      {"foot_crest", Kind::yes_no(), false, [](Bed& bed, const Value& value) { if (!value.yes()) bed.foot_crest.reset(); return true; }, {}},
  };
  return fields;
}

const std::vector<Field<BedBolts>>& bolt_fields() {
  static const std::vector<Field<BedBolts>> fields = {
      {"count", Kind::count(), false, count<&BedBolts::count, BedBolts>, {}},
      {"spread", Kind::length(), false, number<&BedBolts::spread, BedBolts>, {}},
      {"diameter", Kind::length(), true, number<&BedBolts::diameter, BedBolts>, {}},
      {"seat_diameter", Kind::length(), false, number<&BedBolts::seat_diameter, BedBolts>, {}},
      {"seat_depth", Kind::length(), false, number<&BedBolts::seat_depth, BedBolts>, {}},
      {"nut_from_end", Kind::length(), false, number<&BedBolts::nut_from_end, BedBolts>, {}},
      {"stagger", Kind::length(), false, number<&BedBolts::stagger, BedBolts>, {}},
  };
  return fields;
}

const std::vector<Field<HookPlates>>& plate_fields() {
  static const std::vector<Field<HookPlates>> fields = {
      {"length", Kind::length(), true, number<&HookPlates::length, HookPlates>, {}},
      {"width", Kind::length(), true, number<&HookPlates::width, HookPlates>, {}},
      {"thickness", Kind::length(), true, number<&HookPlates::thickness, HookPlates>, {}},
      {"hooks", Kind::count(), false, count<&HookPlates::hooks, HookPlates>, {}},
      {"slot_length", Kind::length(), true, number<&HookPlates::slot_length, HookPlates>, {}},
      {"slot_width", Kind::length(), true, number<&HookPlates::slot_width, HookPlates>, {}},
      {"slot_depth", Kind::length(), true, number<&HookPlates::slot_depth, HookPlates>, {}},
  };
  return fields;
}

const std::vector<Field<Headboard>>& headboard_fields() {
  static const std::vector<Field<Headboard>> fields = {
      {"bottom", Kind::length(), true, number<&Headboard::bottom, Headboard>, {}},
      {"top", Kind::length(), true, number<&Headboard::top, Headboard>, {}},
      {"thickness", Kind::length(), true, number<&Headboard::thickness, Headboard>, {}},
      {"depth", Kind::length(), true, number<&Headboard::depth, Headboard>, {}},
      {"set_back", Kind::length(), false, number<&Headboard::set_back, Headboard>, {}},
      {"tongues", Kind::count(), false, count<&Headboard::tongues, Headboard>, {}},
      {"tongue_width", Kind::length(), false, number<&Headboard::tongue_width, Headboard>, {}},
      {"boards", Kind::count(), false, count<&Headboard::boards, Headboard>, {}},
  };
  return fields;
}

const std::vector<Field<PinnedFinial>>& finial_fields() {
  static const std::vector<Field<PinnedFinial>> fields = {
      {"length", Kind::length(), true, number<&PinnedFinial::length, PinnedFinial>, {}},
      {"pin_length", Kind::length(), true, number<&PinnedFinial::pin_length, PinnedFinial>, {}},
      {"pin_diameter", Kind::length(), true, number<&PinnedFinial::pin_diameter, PinnedFinial>, {}},
      {"square", Kind::length(), true, number<&PinnedFinial::square, PinnedFinial>, {}},
  };
  return fields;
}

// A rail by its height: the table's measures but the drop, which follows. A tenon may be left out where the rail is butted.
std::vector<Field<BedRail>> bed_rail_fields(bool tenoned) {
  std::vector<Field<BedRail>> fields{{"height", Kind::length(), true, number<&BedRail::height, BedRail>, {}}};
  for (const Field<ApronRail>& field : rail_fields())
    if (field.key != "drop")
      fields.push_back({field.key, field.kind, field.required && (tenoned || field.key != "tenon_length"),
                        [set = field.set](BedRail& rail, const Value& value) { return set(rail.rail, value); }, field.words});
  return fields;
}

FrameKeys bed_keys() {
  const auto rail = [](const char* key, bool required, BedRail& (*of)(Bed&)) { return FrameBlock{key, required, inside<Bed>(bed_rail_fields(key != std::string("side_rail")), of)}; };
  return {Bed{}, inside<Bed>(bed_fields(), [](Bed& bed) -> Bed& { return bed; }),
          {rail("side_rail", true, [](Bed& bed) -> BedRail& { return bed.side_rail; }),
           rail("head_rail", true, [](Bed& bed) -> BedRail& { return bed.head_rail; }),
           rail("foot_rail", true, [](Bed& bed) -> BedRail& { return bed.foot_rail; }),
           rail("head_crest_rail", false, [](Bed& bed) -> BedRail& { return bed.head_crest ? *bed.head_crest : bed.head_crest.emplace(); }),
           rail("foot_crest_rail", false, [](Bed& bed) -> BedRail& { return bed.foot_crest ? *bed.foot_crest : bed.foot_crest.emplace(); }),
           {"bolts", false, inside<Bed>(bolt_fields(), [](Bed& bed) -> BedBolts& { return bed.bolts; })},
           {"hook_plates", false, inside<Bed>(plate_fields(), [](Bed& bed) -> HookPlates& { return bed.plates; })},
           {"headboard", false, inside<Bed>(headboard_fields(), [](Bed& bed) -> Headboard& { return bed.headboard; })},
           {"finial", false, inside<Bed>(finial_fields(), [](Bed& bed) -> PinnedFinial& { return bed.finial; })}}};
}

const std::vector<Field<Stair>>& stair_fields() {
  static const std::vector<Field<Stair>> fields = {
      {"treads", Kind::count(), true, count<&Stair::treads, Stair>, {}},
      {"a_tread", Kind::count(), true, count<&Stair::a_tread, Stair>, {}},
      {"rise", Kind::length(), true, number<&Stair::rise, Stair>, {}},
      {"going", Kind::length(), true, number<&Stair::going, Stair>, {}},
      {"nosing", Kind::length(), true, number<&Stair::nosing, Stair>, {}},
      {"string", Kind::choice(), true, choice<&Stair::string, frame::string_kind, Stair>, frame::string_kind_words()},
      {"shoe_height", Kind::length(), false, number<&Stair::shoe_height, Stair>, {}},
      {"shoe_depth", Kind::length(), false, number<&Stair::shoe_depth, Stair>, {}},
      {"shoe_width", Kind::length(), false, number<&Stair::shoe_width, Stair>, {}},
      {"rail_height", Kind::length(), true, number<&Stair::rail_height, Stair>, {}},
      {"rail_depth", Kind::length(), true, number<&Stair::rail_depth, Stair>, {}},
      {"rail_width", Kind::length(), true, number<&Stair::rail_width, Stair>, {}},
      {"plough", Kind::length(), false, number<&Stair::plough, Stair>, {}},
      {"width", Kind::length(), true, number<&Stair::width, Stair>, {}},
      {"head", Kind::choice(), true, choice<&Stair::head, frame::baluster_head, Stair>, frame::baluster_head_words()},
      {"foot", Kind::choice(), true, choice<&Stair::foot, frame::baluster_foot, Stair>, frame::baluster_foot_words()},
      {"top_pin", Kind::length(), false, number<&Stair::top_pin, Stair>, {}},
      {"top_pin_diameter", Kind::length(), false, number<&Stair::top_pin_diameter, Stair>, {}},
      {"foot_pin", Kind::length(), false, number<&Stair::foot_pin, Stair>, {}},
      {"foot_pin_diameter", Kind::length(), false, number<&Stair::foot_pin_diameter, Stair>, {}},
      {"dovetail", Kind::length(), false, number<&Stair::dovetail, Stair>, {}},
      {"rule", Kind::choice(), false, words<&Stair::rule, Stair>, frame::guard_rule_words()},
      {"rails_made", Kind::yes_no(), false, yes<&Stair::rails_made, Stair>, {}},
      {"longest_rail", Kind::length(), false, number<&Stair::longest_rail, Stair>, {}},
      {"mirrored_pairs", Kind::yes_no(), false, yes<&Stair::mirrored_pairs, Stair>, {}},
      {"spares", Kind::count(), false, count<&Stair::spares, Stair>, {}},
  };
  return fields;
}

const std::vector<Field<Lamp>>& lamp_fields() {
  static const std::vector<Field<Lamp>> fields = {
      {"lamps", Kind::count(), false, count<&Lamp::lamps, Lamp>, {}},
      {"height", Kind::length(), true, number<&Lamp::height, Lamp>, {}},
      {"square", Kind::length(), true, number<&Lamp::square, Lamp>, {}},
      {"base_width", Kind::length(), true, number<&Lamp::base_width, Lamp>, {}},
      {"base_thickness", Kind::length(), true, number<&Lamp::base_thickness, Lamp>, {}},
      {"foot_tenon", Kind::length(), true, number<&Lamp::foot_tenon, Lamp>, {}},
      {"foot_tenon_diameter", Kind::length(), true, number<&Lamp::foot_tenon_diameter, Lamp>, {}},
      {"way", Kind::choice(), true, choice<&Lamp::way, frame::bore_way, Lamp>, frame::bore_way_words()},
      {"pipe", Kind::choice(), true, words<&Lamp::pipe, Lamp>, frame::lamp_pipe_words()},
      {"bore", Kind::length(), true, number<&Lamp::bore, Lamp>, {}},
      {"pipe_clearance", Kind::length(), false, number<&Lamp::pipe_clearance, Lamp>, {}},
      {"seat_diameter", Kind::length(), false, number<&Lamp::seat_diameter, Lamp>, {}},
      {"seat_depth", Kind::length(), false, number<&Lamp::seat_depth, Lamp>, {}},
      {"drill_reach", Kind::length(), false, number<&Lamp::drill_reach, Lamp>, {}},
      {"from_both_ends", Kind::yes_no(), false, yes<&Lamp::from_both_ends, Lamp>, {}},
      {"waste_head", Kind::length(), false, number<&Lamp::waste_head, Lamp>, {}},
      {"waste_foot", Kind::length(), false, number<&Lamp::waste_foot, Lamp>, {}},
      {"drill_wander", Kind::ratio(), false, number<&Lamp::drill_wander, Lamp>, {}},
      {"section_tenon", Kind::length(), false, number<&Lamp::section_tenon, Lamp>, {}},
      {"section_tenon_diameter", Kind::length(), false, number<&Lamp::section_tenon_diameter, Lamp>, {}},
      {"cord_exit", Kind::choice(), false, choice<&Lamp::cord_exit, frame::cord_exit, Lamp>, frame::cord_exit_words()},
      {"cord_diameter", Kind::length(), false, number<&Lamp::cord_diameter, Lamp>, {}},
      {"cord_height", Kind::length(), false, number<&Lamp::cord_height, Lamp>, {}},
      {"relief", Kind::length(), false, number<&Lamp::relief, Lamp>, {}},
      {"least_wall", Kind::length(), false, number<&Lamp::least_wall, Lamp>, {}},
      {"mirrored_pair", Kind::yes_no(), false, yes<&Lamp::mirrored_pair, Lamp>, {}},
      {"spares", Kind::count(), false, count<&Lamp::spares, Lamp>, {}},
  };
  return fields;
}

FrameKeys lamp_keys() { return {Lamp{}, inside<Lamp>(lamp_fields(), [](Lamp& lamp) -> Lamp& { return lamp; }), {}}; }

FrameKeys stair_keys() { return {Stair{}, inside<Stair>(stair_fields(), [](Stair& stair) -> Stair& { return stair; }), {}}; }

}  // namespace

const FrameKeys& keys_of(std::string_view frame) {
  static const std::map<std::string, FrameKeys, std::less<>> all{{"table", table_keys()}, {"bed", bed_keys()}, {"stair", stair_keys()}, {"lamp", lamp_keys()}};
  return all.find(frame)->second;
}

const std::vector<Field<BlankMeasures>>& blank_fields() {
  static const std::vector<Field<BlankMeasures>> fields = {
      {"stock", Kind::choice(), true, words<&BlankMeasures::stock, BlankMeasures>, {}},
      {"rail_stock", Kind::choice(), true, words<&BlankMeasures::rail_stock, BlankMeasures>, {}},
      {"square", Kind::length(), true, number<&BlankMeasures::square, BlankMeasures>, {}},
      {"horn", Kind::length(), false, number<&BlankMeasures::horn, BlankMeasures>, {}},
      {"form", Kind::choice(), false, words<&BlankMeasures::form, BlankMeasures>, {"milled", "oversize", "round"}},
      {"oversize", Kind::length(), false, number<&BlankMeasures::oversize, BlankMeasures>, {}},
      {"glue_up", Kind::yes_no(), false, yes<&BlankMeasures::glue_up, BlankMeasures>, {}},
      {"centre_glue_line", Kind::yes_no(), false, yes<&BlankMeasures::centre_glue_line, BlankMeasures>, {}},
      {"halves", Kind::yes_no(), false, yes<&BlankMeasures::halves, BlankMeasures>, {}},
      {"rings_corner_to_corner", Kind::yes_no(), false, yes<&BlankMeasures::rings_corner_to_corner, BlankMeasures>, {}},
      {"one_board", Kind::choice(), false, words<&BlankMeasures::one_board, BlankMeasures>, {"no", "wish", "rule"}},
  };
  return fields;
}

}  // namespace pommel::family
