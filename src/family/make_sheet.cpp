// A family, a design and an order become one sheet: the design's entries over the family's in the first column, the order's
// in the second.
#include <algorithm>

#include "base/text.h"
#include "family/family.h"
#include "family/names.h"

namespace pommel::family {
namespace {

using Entries = std::vector<std::pair<std::string, sheet::Entry>>;

// The entry's place is its value's; what is wrong is the name before it in the same line.
void point_at_name(Diagnostic& what, const std::string& name, const sheet::Entry& entry) {
  const std::string_view line = entry.source_line;
  for (std::size_t at = line.find(name); at != line.npos; at = line.find(name, at + 1)) {
    std::size_t after = at + name.size();
    while (after < line.size() && (line[after] == ' ' || line[after] == '"' || line[after] == '\'')) ++after;
    const int column = character_count(line.substr(0, at)) + 1;
    if (after >= line.size() || (line[after] != ':' && line[after] != '=') || column >= entry.place.column) continue;
    what.place.column = column;
    what.read = name;
    return;
  }
}

Diagnostic unknown_measure(const std::string& name, const sheet::Entry& entry, const std::vector<std::string>& known) {
  const std::string near = nearest_name(name, known);
  Diagnostic out;
  out.id = "family.unknown-measure";
  out.message = "'" + name + "' is no measure of this family";
  out.remedy = near.empty() ? "the measures are listed by 'pommel sheet'" : "did you mean '" + near + "'?";
  out.place = entry.place;
  out.read = entry.text;
  out.source_line = entry.source_line;
  point_at_name(out, name, entry);
  return out;
}

std::vector<std::string> names_of(const std::vector<sheet::Parameter>& measures) {
  std::vector<std::string> names;
  for (const sheet::Parameter& measure : measures) names.push_back(measure.name);
  return names;
}

// The rows: the family's measures with the design's entries in their place, then the design's own.
std::vector<sheet::Parameter> rows(const Family& family, const Design& design, const shop::Shop& shop, Sink& sink) {
  std::vector<sheet::Parameter> all = family.measures;
  all.insert(all.end(), design.measures.begin(), design.measures.end());
  const std::vector<std::string> known = names_of(all);
  for (const auto& [name, entry] : design.entries) {
    const auto row = std::find_if(all.begin(), all.end(), [&](const sheet::Parameter& p) { return p.name == name; });
    if (row == all.end()) sink.add(unknown_measure(name, entry, known));
    else row->entry = entry;
  }
  for (sheet::Parameter& row : all) {
    if (row.choices != std::vector<std::string>{std::string(kBoardsOnHand)}) continue;
    row.choices.clear();
    for (const auto& [id, board] : shop.boards) row.choices.push_back(id);
  }
  return all;
}

void add_sizes(sheet::Sheet& out, const std::vector<ElementText>& outline) {
  for (std::size_t i = 0; i < outline.size(); ++i) {
    for (const auto& [size, entry] : outline[i].sizes)
      out.add(sheet::Use{element_use(i, size), size == "share" ? sheet::Kind::ratio() : sheet::Kind::length(), entry});
    for (std::size_t station = 0; station < outline[i].through.size(); ++station) {
      out.add(sheet::Use{station_use(i, station, "at"), sheet::Kind::ratio(), outline[i].through[station].first});
      out.add(sheet::Use{station_use(i, station, "diameter"), sheet::Kind::length(), outline[i].through[station].second});
    }
  }
}

void add_uses(sheet::Sheet& out, const Family& family, const Design& design) {
  for (const sheet::Use& use : family.table) out.add(use);
  for (const sheet::Use& use : family.blank) out.add(use);
  add_sizes(out, outline_of(family, design));
  const auto& tapers = tapers_of(family, design);
  for (std::size_t i = 0; i < tapers.size(); ++i) {
    out.add(sheet::Use{taper_use(i, "from"), sheet::Kind::length(), tapers[i].from});
    out.add(sheet::Use{taper_use(i, "to"), sheet::Kind::length(), tapers[i].to});
    out.add(sheet::Use{taper_use(i, "width"), sheet::Kind::length(), tapers[i].width});
  }
  for (std::size_t i = 0; i < family.hardware.size(); ++i)
    out.add(sheet::Use{hardware_use(i), sheet::Kind::count(), family.hardware[i].count});
}

void set_entries(sheet::Sheet& out, std::size_t column, const Entries& entries, Sink& sink) {
  for (const auto& [name, entry] : entries)
    if (!out.parameter(name)) sink.add(unknown_measure(name, entry, out.parameters()));
    else if (const auto set = out.set_entry(name, column, entry); !set.ok()) sink.add(set.reasons());
}

}  // namespace

const std::vector<ElementText>& outline_of(const Family& family, const Design& design) {
  return design.outline.empty() ? family.outline : design.outline;
}

const std::vector<TaperText>& tapers_of(const Family& family, const Design& design) {
  return design.tapers.empty() ? family.tapers : design.tapers;
}

std::vector<sheet::Outcome> outcomes() {
  using sheet::Kind;
  return {
      {"leg_finished_length", Kind::length(), "frame", "the leg, head to foot"},
      {"thinnest_diameter", Kind::length(), "frame", "least turned diameter of the leg"},
      {"least_wall", Kind::length(), "frame", "least wood left around the mortises"},
      {"turned_pieces", Kind::count(), "frame", "legs with spares"},
      {"distinct_turnings", Kind::count(), "frame", "programs to set up for turning"},
      {"distinct_pieces", Kind::count(), "frame", "different pieces once jointed"},
      {"blank_length", Kind::length(), "stock", "of one leg blank, rough"},
      {"board_feet", Kind::ratio(), "stock", "board measure bought, all stock"},
      {"machine_time", Kind::time(), "mill", "of one leg, from its programs"},
      {"hand_places", Kind::count(), "mill", "places of a leg that the cutter cannot reach"},
      {"price", Kind::money(), "quote", "without tax"},
      {"total", Kind::money(), "quote", "with tax"},
  };
}

sheet::Sheet make_sheet(const Family& family, const Design& design, const Order* order, const shop::Shop& shop,
                        const std::vector<std::pair<std::string, sheet::Entry>>& extra, Sink& sink) {
  sheet::Settings settings;
  settings.currency = shop.rates.currency;
  if (order) settings.lengths = order->lengths;
  sheet::Sheet out("catalogue", settings);
  for (sheet::Parameter& row : rows(family, design, shop, sink)) out.add(std::move(row));
  for (sheet::Outcome& outcome : outcomes()) out.add(std::move(outcome));
  add_uses(out, family, design);
  for (const sheet::Check& check : family.checks) out.add(check);
  for (const sheet::Check& check : design.checks) out.add(check);
  const bool second = order != nullptr || !extra.empty();
  const std::size_t column = second ? out.add_column("order") : kCatalogue;
  if (order) set_entries(out, column, order->entries, sink);
  set_entries(out, column, extra, sink);
  out.settle();
  sink.add(out.diagnostics());
  return out;
}

}  // namespace pommel::family
