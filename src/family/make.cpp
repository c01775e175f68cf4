// A column of the sheet, computed into things: sizes become elements, elements an outline, the outline a leg, and the leg
// with the table's measures a jointed set.
#include <algorithm>

#include "base/text.h"
#include "family/fields.h"
#include "family/names.h"
#include "shape/faces.h"

namespace pommel::family {
namespace {

// Reads the uses of one column; what is missing or failed is collected, and its value stays as it was.
class Column {
 public:
  Column(const sheet::Sheet& book, std::size_t column) : book_(book), column_(column) {}

  std::optional<sheet::Value> value(const std::string& use) {
    auto found = book_.need_use(use, column_);
    if (found.ok()) return std::move(found).value();
    // a use that no file gives is an optional one that stays at its default
    for (const Diagnostic& reason : found.reasons())
      if (reason.id != "sheet.unknown-name") failure_.reasons.push_back(reason);
    return std::nullopt;
  }

  std::optional<double> number(const std::string& use) {
    const auto found = value(use);
    return found ? std::optional<double>(found->number()) : std::nullopt;
  }

  void object(Diagnostic reason) { failure_.reasons.push_back(std::move(reason)); }
  const Failure& failure() const { return failure_; }

 private:
  const sheet::Sheet& book_;
  std::size_t column_;
  Failure failure_;
};

template <class Target>
void set(Column& column, const Field<Target>& field, const std::string& use, Target& target) {
  const auto value = column.value(use);
  if (!value || field.set(target, *value)) return;
  const Failure failure = fail("family.unknown-word", "'" + value->words() + "' is no choice for '" + field.key + "'",
                               "one of: " + listed(field.words));
  column.object(failure.reasons.front());
}

frame::Table table_of(Column& column, const Family& family) {
  frame::Table table;
  const auto has = [&](const std::string& key) {
    return std::any_of(family.table.begin(), family.table.end(), [&](const sheet::Use& use) { return use.name.rfind("table/" + key, 0) == 0; });
  };
  if (has("drawer_upper") && has("drawer_lower")) table.drawer.emplace();
  for (const RailField& rail : rails())
    for (const Field<frame::ApronRail>& field : rail_fields())
      if (has(rail.key + "/")) set(column, field, "table/" + rail.key + "/" + field.key, rail.of(table));
  // after the rails: `drawer: no` takes the drawer's rails away again
  for (const Field<frame::Table>& field : table_fields()) set(column, field, "table/" + field.key, table);
  return table;
}

std::vector<shape::ElementSpec> specs_of(Column& column, const std::vector<ElementText>& outline) {
  std::vector<shape::ElementSpec> specs;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const ElementText& text = outline[i];
    shape::ElementSpec spec;
    spec.kind = text.kind;
    spec.label = text.label;
    spec.place = text.place;
    spec.step = text.step;
    spec.cut = text.cut;
    spec.level_start = text.level_start;
    spec.level_end = text.level_end;
    const std::pair<const char*, std::optional<double> shape::ElementSpec::*> sizes[] = {
        {"length", &shape::ElementSpec::length}, {"share", &shape::ElementSpec::share},       {"start", &shape::ElementSpec::start},
        {"end", &shape::ElementSpec::end},       {"greatest", &shape::ElementSpec::greatest}, {"least", &shape::ElementSpec::least}};
    for (const auto& [size, member] : sizes)
      if (text.sizes.contains(size)) spec.*member = column.number(element_use(i, size));
    for (std::size_t station = 0; station < text.through.size(); ++station) {
      const auto at = column.number(station_use(i, station, "at")), diameter = column.number(station_use(i, station, "diameter"));
      if (at && diameter) spec.stations.push_back({*at, *diameter});
    }
    specs.push_back(std::move(spec));
  }
  return specs;
}

// Chosen faces run from the square's flat at `from` to half of `width` at `to`, and straight on to the foot.
void taper_faces(Column& column, const std::vector<TaperText>& tapers, shape::Part& leg) {
  for (std::size_t i = 0; i < tapers.size(); ++i) {
    const auto from = column.number(taper_use(i, "from")), to = column.number(taper_use(i, "to")), width = column.number(taper_use(i, "width"));
    if (!from || !to || !width) continue;
    shape::FaceTaper taper;
    for (char letter : tapers[i].faces) taper.faces.push_back(static_cast<std::size_t>(letter - 'A'));
    taper.x0 = *from;
    taper.x1 = *to;
    taper.d1 = *width / 2;
    auto faces = shape::tapered(leg.faces, taper);
    if (faces.ok()) leg.faces = std::move(faces).value();
    else for (Diagnostic reason : faces.reasons()) { reason.place = tapers[i].place; column.object(std::move(reason)); }
  }
}

std::vector<HardwareItem> hardware_of(Column& column, const Family& family) {
  std::vector<HardwareItem> items;
  for (std::size_t i = 0; i < family.hardware.size(); ++i)
    if (const auto count = column.number(hardware_use(i)))
      items.push_back({family.hardware[i].item, static_cast<int>(*count), family.hardware[i].each});
  return items;
}

}  // namespace

Result<Made> make(const Family& family, const Design& design, const sheet::Sheet& sheet, std::size_t column_index, const shop::Shop& shop,
                  const LengthFormat& shown) {
  Column column(sheet, column_index);
  Made made;
  made.table = table_of(column, family);
  for (const Field<BlankMeasures>& field : blank_fields()) set(column, field, "blank/" + field.key, made.blank);
  made.hardware = hardware_of(column, family);
  const auto specs = specs_of(column, outline_of(family, design));
  if (!column.failure().reasons.empty()) return column.failure();

  const double length = frame::leg_length(made.table);
  auto built = shape::build_outline(specs, length, shape::StockSection::square(made.table.square));
  if (!built.ok()) return built.failure();
  made.leg.name = design.name;
  made.leg.length = length;
  made.leg.outline = std::move(built->outline);
  made.leg.elements = std::move(built->elements);
  made.notes = std::move(built->notes);
  made.leg.faces = shape::square_faces(made.table.square, length);
  taper_faces(column, tapers_of(family, design), made.leg);
  if (!column.failure().reasons.empty()) return column.failure();
  if (auto wrong = shape::problems(made.leg); !wrong.empty()) return Failure(std::move(wrong));

  auto joined = frame::join_table(made.table, made.leg, shop.mortise_cutters, shown);
  if (!joined.ok()) return joined.failure();
  made.set = std::move(joined).value();
  return made;
}

}  // namespace pommel::family
