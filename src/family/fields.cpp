#include "family/fields.h"

namespace pommel::family {
namespace {

using frame::ApronRail;
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

}  // namespace

const FrameKeys& keys_of(std::string_view) {
  static const FrameKeys table = table_keys();
  return table;
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
      {"rings_corner_to_corner", Kind::yes_no(), false, yes<&BlankMeasures::rings_corner_to_corner, BlankMeasures>, {}},
  };
  return fields;
}

}  // namespace pommel::family
