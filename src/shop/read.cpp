#include "shop/read.h"

#include <algorithm>
#include <numbers>

#include "base/number.h"
#include "base/text.h"
#include "yaml/map_reader.h"

namespace pommel::shop {
namespace {

using yaml::MapReader;
using yaml::Node;
using yaml::required;

constexpr double kPsi = 0.006894757293168361;  // MPa; lbf/in², exact from the pound and the inch

double length(MapReader& map, std::string_view key, const yaml::Need& need = {}) { return map.length(key, std::nullopt, need).value_or(0); }

// `name: {...}` entries of the map under `key` of a whole file.
template <class Read>
void each(std::string_view text, const std::string& file, const std::string& key, const std::string& what, Sink& sink, Read read,
          const std::vector<std::string>& other_keys = {}) {
  const auto root = yaml::read(text, file, sink);
  if (!root) return;
  MapReader document(*root, "file of " + key, sink);
  if (const auto list = document.map(key, required("the list of them"))) {
    for (std::size_t i = 0; i < list->size(); ++i) {
      std::string why;
      const std::string id = list->key(i).text();
      // ids are free but for what cannot stand in a file's or a folder's name, '/' of 12/4 apart
      std::string plain = id;
      std::replace(plain.begin(), plain.end(), '/', '-');
      if (!is_safe_file_name(plain, &why)) {
        sink.add(yaml::at(list->key(i), "shop.name", "'" + id + "' cannot be a name: " + why, "use letters, digits and hyphens"));
        continue;
      }
      MapReader entry(list->value(i), what, sink);
      if (entry.is_map()) read(id, entry);
      entry.finish();
    }
  }
  for (const std::string& other : other_keys) document.find(other);
  document.finish();
}

std::optional<std::pair<double, double>> range(MapReader& map, std::string_view key, Sink& sink) {
  const auto list = map.list(key, required("from and to, as [-10 mm, 900 mm]"));
  if (!list) return std::nullopt;
  if (list->size() != 2) {
    sink.add(yaml::at(*list, "shop.range", "'" + std::string(key) + "' needs two lengths, from and to", "write it as [-10 mm, 900 mm]"));
    return std::nullopt;
  }
  const auto low = yaml::as_length(list->item(0), std::nullopt, sink), high = yaml::as_length(list->item(1), std::nullopt, sink);
  if (!low || !high) return std::nullopt;
  if (*low >= *high) {
    sink.add(yaml::at(*list, "shop.range", "'" + std::string(key) + "' ends before it begins", "write the smaller length first"));
    return std::nullopt;
  }
  return std::pair{*low, *high};
}

void read_words(MapReader& entry, Machine& machine, Sink& sink) {
  const auto words = entry.map("words");
  if (!words) return;
  MapReader map(*words, "machine's words", sink);
  const std::vector<std::string> letters = {"A", "B", "C", "X", "Y", "Z", "U", "V", "W"};
  for (auto [key, into] : {std::pair{"x", &machine.x_word}, std::pair{"z", &machine.z_word}, std::pair{"rotary", &machine.rotary_word}})
    if (const auto letter = map.choice(key, letters)) *into = letters[*letter];
  map.finish();
}

void read_travel(MapReader& entry, Machine& machine, Sink& sink) {
  const auto travel = entry.map("travel", required("how far the machine goes"));
  if (!travel) return;
  MapReader map(*travel, "travel", sink);
  if (const auto x = range(map, "x", sink)) std::tie(machine.x_min, machine.x_max) = *x;
  if (const auto z = range(map, "z", sink)) std::tie(machine.z_min, machine.z_max) = *z;
  map.finish();
}

void read_speeds(MapReader& entry, Machine& machine, Sink& sink) {
  if (const auto rapid = entry.map("rapid", required("speeds of rapid moves, a minute"))) {
    MapReader map(*rapid, "rapid", sink);
    machine.rapid_x = length(map, "x", required("mm a minute").above(0));
    machine.rapid_z = length(map, "z", required("mm a minute").above(0));
    machine.rapid_rotary = map.number("turns", required("turns a minute").above(0)).value_or(1);
    map.finish();
  }
  if (const auto accel = entry.map("acceleration", required("of each axis, a second each second"))) {
    MapReader map(*accel, "acceleration", sink);
    machine.accel_x = length(map, "x", required("mm/s2").above(0));
    machine.accel_z = length(map, "z", required("mm/s2").above(0));
    machine.accel_rotary = map.number("turns", required("turns/s2").above(0)).value_or(1);
    map.finish();
  }
  machine.feed_max = length(entry, "feed_max", required("mm a minute, the fastest cutting feed").above(0));
  machine.max_rpm = entry.number("max_rpm", required("of the spindle").above(0)).value_or(0);
}

void read_room(MapReader& entry, Machine& machine) {
  machine.max_between_centres = length(entry, "between_centres", required("longest blank").above(0));
  machine.max_swing = length(entry, "swing", required("largest diameter that turns freely").above(0));
  machine.jaw_swing = length(entry, "jaw_swing", required("farthest a chuck jaw reaches from the axis").at_least(0));
  machine.tailstock_top = length(entry, "tailstock_top", required("farthest the tailstock reaches above the axis").at_least(0));
  machine.chuck_grip = length(entry, "chuck_grip", required("waste that the chuck needs").at_least(0));
  machine.centre_grip = length(entry, "centre_grip", required("waste that the centre needs").at_least(0));
  machine.keep_out = length(entry, "keep_out", required("distance that the cutter keeps from chuck and centre").at_least(0));
}

void read_tolerance(MapReader& entry, Machine& machine, Sink& sink) {
  const auto blank = entry.map("blank_may_be", required("how far a blank may be off: the programs stay safe under all of it"));
  if (!blank) return;
  MapReader map(*blank, "blank_may_be", sink);
  machine.blank_off_centre = length(map, "off_centre", required("its axis beside the rotary axis").at_least(0).at_most(20));
  machine.blank_bow = length(map, "bow", required("rise at mid-length").at_least(0).at_most(20));
  machine.blank_oversize = length(map, "oversize", required("on each flat").at_least(0).at_most(20));
  map.finish();
}

void read_digits(MapReader& entry, Machine& machine, Sink& sink) {
  const auto decimals = entry.map("decimals");
  if (!decimals) return;
  MapReader map(*decimals, "decimals", sink);
  machine.x_decimals = map.count("linear", yaml::optional().at_least(1).at_most(6)).value_or(machine.x_decimals);
  machine.rotary_decimals = map.count("rotary", yaml::optional().at_least(1).at_most(6)).value_or(machine.rotary_decimals);
  machine.feed_decimals = map.count("feed", yaml::optional().at_least(0).at_most(6)).value_or(machine.feed_decimals);
  map.finish();
}

std::vector<std::string> lines(MapReader& entry, std::string_view key, Sink& sink) {
  std::vector<std::string> out;
  if (const auto list = entry.list(key, required("program lines")))
    for (const Node& item : list->items())
      if (auto text = yaml::as_text(item, sink)) out.push_back(std::move(*text));
  return out;
}

void read_machine(const std::string& id, MapReader& entry, Shop& into, Sink& sink) {
  Machine machine;
  machine.id = id;
  machine.label = entry.text("label", required("what it is, in words")).value_or("");
  machine.confirmed = entry.yes_no("confirmed", required("no, until the figures are your own")).value_or(false);
  machine.rotary = entry.choice("rotary", {"degrees", "unrolled"}, required("what the rotary word counts")).value_or(0) == 0
                       ? Machine::Rotary::degrees : Machine::Rotary::unrolled_mm;
  if (machine.rotary == Machine::Rotary::unrolled_mm)
    machine.unrolled_diameter = length(entry, "unrolled_diameter", required("the diameter whose surface the word counts").above(0));
  read_words(entry, machine, sink);
  machine.rotary_sense = entry.choice("rotary_word", {"grows", "falls"}, required("which way the word runs as the wood under the cutter does")).value_or(0) == 0 ? 1 : -1;
  machine.head_at_chuck = entry.choice("head_at", {"chuck", "centre"}, required("which end of the piece the chuck holds")).value_or(0) == 0;
  machine.x_towards_foot = entry.choice("x_grows_towards", {"foot", "head"}, required("which way X runs along the piece")).value_or(0) == 0;
  machine.feed = entry.choice("feed", {"inverse time", "per minute"}, required("G93 or G94")).value_or(0) == 0 ? Machine::Feed::inverse_time : Machine::Feed::per_minute;
  machine.rotary_limit_turns = entry.number("rotary_limit_turns", yaml::optional().at_least(0)).value_or(0);
  read_travel(entry, machine, sink);
  read_speeds(entry, machine, sink);
  read_room(entry, machine);
  read_tolerance(entry, machine, sink);
  read_digits(entry, machine, sink);
  machine.header = lines(entry, "header", sink);
  machine.footer = lines(entry, "footer", sink);
  into.machines[id] = std::move(machine);
}

void read_cutter(const std::string& id, MapReader& entry, Shop& into, Sink& sink) {
  Cutter cutter;
  cutter.id = id;
  cutter.label = entry.text("label", required("what it is, in words")).value_or("");
  entry.choice("form", {"ball"}, required("of its end"));
  cutter.diameter = length(entry, "diameter", required("of the ball").above(0));
  cutter.flutes = entry.count("flutes", required("cutting edges").at_least(1).at_most(12)).value_or(2);
  cutter.flute_length = length(entry, "flute_length", required("from the tip").above(0));
  if (const auto shank = entry.map("shank", required("its diameter and its length from the tip"))) {
    MapReader map(*shank, "shank", sink);
    cutter.shank_diameter = length(map, "diameter", required("of the shank").above(0));
    cutter.shank_length = length(map, "length", required("from the tip to the collet nut").above(0));
    map.finish();
  }
  if (const auto collet = entry.map("collet", required("diameter and length of nut and spindle nose"))) {
    MapReader map(*collet, "collet", sink);
    cutter.collet_diameter = length(map, "diameter", required("of the nut").above(0));
    cutter.collet_length = length(map, "length", required("of the nut").above(0));
    map.finish();
  }
  cutter.rpm = entry.number("rpm", required("turns a minute").above(0)).value_or(0);
  cutter.chip_load = length(entry, "chip_load", required("a tooth").above(0));
  cutter.max_depth_of_cut = length(entry, "max_depth_of_cut", required("deepest it may enter standing wood in one pass").above(0));
  into.cutters[id] = std::move(cutter);
}

// A strength: "12300 psi" or "85 MPa".
double stress(MapReader& entry, std::string_view key, Sink& sink) {
  const auto node = entry.require(key, "a strength, as 12300 psi or 85 MPa");
  if (!node) return 0;
  const std::string_view text = trimmed(node->text());
  for (const auto& [unit, factor] : {std::pair{std::string_view("psi"), kPsi}, std::pair{std::string_view("MPa"), 1.0}}) {
    if (text.size() <= unit.size() || text.substr(text.size() - unit.size()) != unit) continue;
    const auto number = parse_number(trimmed(text.substr(0, text.size() - unit.size())));
    if (number && *number > 0) return *number * factor;
  }
  sink.add(yaml::at(*node, "shop.strength", "'" + std::string(text) + "' is no strength", "write it as 12300 psi or 85 MPa"));
  return 0;
}

void read_wood(const std::string& id, MapReader& entry, Shop& into, Sink& sink) {
  Wood wood;
  wood.id = id;
  wood.label = entry.text("label", required("its name")).value_or("");
  wood.specific_gravity = entry.number("specific_gravity", required("at 12 % moisture").above(0)).value_or(0);
  if (const auto shrinkage = entry.map("shrinkage", required("percent, green to oven-dry"))) {
    MapReader map(*shrinkage, "shrinkage", sink);
    wood.shrink_radial = map.number("radial", required("percent").above(0)).value_or(0);
    wood.shrink_tangential = map.number("tangential", required("percent").above(0)).value_or(0);
    wood.shrink_volume = map.number("volume", required("percent").above(0)).value_or(0);
    map.finish();
  }
  if (const auto change = entry.map("change", required("coefficients of dimensional change"))) {
    MapReader map(*change, "change", sink);
    wood.c_radial = map.number("radial", required("a percent of moisture").above(0)).value_or(0);
    wood.c_tangential = map.number("tangential", required("a percent of moisture").above(0)).value_or(0);
    map.finish();
  }
  wood.mor_mpa = stress(entry, "mor", sink);
  wood.moe_mpa = stress(entry, "moe", sink);
  wood.source = entry.text("source").value_or("Wood Handbook, FPL-GTR-190");
  into.woods[id] = std::move(wood);
}

void read_board(const std::string& id, MapReader& entry, Shop& into, Sink& sink) {
  Stock board;
  board.id = id;
  board.label = entry.text("label", required("what it is, in words")).value_or("");
  board.wood = entry.text("wood", required("its wood, from the list of woods")).value_or("");
  std::vector<std::string> woods;
  for (const auto& [name, wood] : into.woods) woods.push_back(name);
  if (!board.wood.empty() && !into.woods.contains(board.wood)) {
    const std::string near = nearest_name(board.wood, woods);
    sink.add(yaml::at(*entry.find("wood"), "shop.unknown-wood", "'" + board.wood + "' is no wood of the list",
                      near.empty() ? "known: " + listed(woods) : "did you mean '" + near + "'?"));
  }
  board.nominal = entry.text("nominal", required("the size it is sold by, as 8/4")).value_or("");
  board.surfaced = entry.yes_no("surfaced").value_or(false);
  board.thickness = length(entry, "thickness", required("as measured").above(0));
  board.milling = length(entry, "milling", required("what comes off to get flat and square").at_least(0));
  board.width = length(entry, "width", required("of one board").above(0));
  board.length = length(entry, "length", required("of one board").above(0));
  board.count = entry.count("count", required("boards on hand")).value_or(0);
  board.price_per_board_foot = entry.money("price", {}, required("a board foot")).value_or(Money{});
  into.boards[id] = std::move(board);
}

double fraction(MapReader& map, std::string_view key) {
  return map.number(key, required("a fraction, as 0.25").at_least(0).at_most(10)).value_or(0);
}
double minutes(MapReader& map, std::string_view key) { return map.number(key, required("minutes").at_least(0)).value_or(0); }

}  // namespace

void read_machines(std::string_view text, const std::string& file, Shop& into, Sink& sink) {
  each(text, file, "machines", "machine", sink, [&](const std::string& id, MapReader& entry) { read_machine(id, entry, into, sink); });
}

void read_cutters(std::string_view text, const std::string& file, Shop& into, Sink& sink) {
  each(text, file, "cutters", "cutter", sink, [&](const std::string& id, MapReader& entry) { read_cutter(id, entry, into, sink); }, {"mortises"});
  Sink quiet;  // the file's own problems have been reported
  const auto root = yaml::read(text, file, quiet);
  if (!root || !root->is_map()) return;
  const auto widths = root->find("mortises");
  if (!widths || !widths->is_list()) {
    sink.add(yaml::at(widths ? *widths : *root, "shop.mortises", "widths of chisels and cutters for mortises are needed", "write mortises: [6 mm, 8 mm, 10 mm]"));
    return;
  }
  for (const Node& width : widths->items())
    if (const auto mm = yaml::as_length(width, std::nullopt, sink, yaml::required("a width").above(0))) into.mortise_cutters.push_back(*mm);
  std::sort(into.mortise_cutters.begin(), into.mortise_cutters.end());
}

void read_woods(std::string_view text, const std::string& file, Shop& into, Sink& sink) {
  each(text, file, "woods", "wood", sink, [&](const std::string& id, MapReader& entry) { read_wood(id, entry, into, sink); });
}

void read_boards(std::string_view text, const std::string& file, Shop& into, Sink& sink) {
  each(text, file, "boards", "board", sink, [&](const std::string& id, MapReader& entry) { read_board(id, entry, into, sink); });
}

void read_rates(std::string_view text, const std::string& file, Shop& into, Sink& sink) {
  const auto root = yaml::read(text, file, sink);
  if (!root) return;
  MapReader map(*root, "file of rates", sink);
  Rates& rates = into.rates;
  rates.confirmed = map.yes_no("confirmed", required("no, until the figures are your own")).value_or(false);
  rates.currency = map.text("currency", required("a word or a sign, as USD")).value_or("");
  rates.shop_hour = map.money("shop_hour", {}, required("labour, an hour")).value_or(Money{});
  rates.shop_hour_includes_overhead = map.yes_no("shop_hour_includes_overhead", required("yes or no")).value_or(true);
  rates.overhead = fraction(map, "overhead");
  rates.machine_hour = map.money("machine_hour", {}, required("the machine, an hour")).value_or(Money{});
  rates.setup_minutes = minutes(map, "setup_minutes");
  rates.load_minutes = minutes(map, "load_minutes");
  rates.milling_minutes = minutes(map, "milling_minutes");
  rates.mortise_minutes = minutes(map, "mortise_minutes");
  rates.hand_minutes_each = minutes(map, "hand_minutes_each");
  rates.sanding_minutes_per_m2 = minutes(map, "sanding_minutes_per_m2");
  rates.assembly_minutes_per_joint = minutes(map, "assembly_minutes_per_joint");
  rates.finish_per_m2 = map.money("finish_per_m2", {}, required("the finish, a square metre")).value_or(Money{});
  rates.profit = map.choice("profit", {"markup", "margin"}, required("markup: of the cost; margin: of the price")).value_or(0) == 0
                     ? Rates::Profit::markup : Rates::Profit::margin;
  rates.profit_rate = fraction(map, "profit_rate");
  rates.tax = fraction(map, "tax");
  rates.deposit = fraction(map, "deposit");
  rates.minimum_charge = map.money("minimum_charge", {}, required("the least an order costs")).value_or(Money{});
  rates.waste = fraction(map, "waste");
  const auto rule = map.choice("board_rule", {"exact", "surface measure", "round up"}, required("how boards are measured")).value_or(0);
  rates.board_rule = rule == 0 ? Rates::BoardRule::exact : rule == 1 ? Rates::BoardRule::surface_measure : Rates::BoardRule::round_up;
  rates.kerf = length(map, "kerf", required("of the saw").at_least(0));
  map.finish();
}

Shop read_shop(const FileSystem& files, const std::filesystem::path& folder, Sink& sink,
               const std::function<void(const std::filesystem::path&, const std::string&)>& seen) {
  Shop shop;
  using Reader = void (*)(std::string_view, const std::string&, Shop&, Sink&);
  for (const auto& [name, read] : {std::pair<const char*, Reader>{"machines.yaml", read_machines}, {"cutters.yaml", read_cutters},
                                   {"woods.yaml", read_woods}, {"boards.yaml", read_boards}, {"rates.yaml", read_rates}}) {
    const auto path = folder / name;
    const auto text = files.read(path, yaml::kMaxBytes);
    if (!text.ok()) { sink.add(text.reasons()); continue; }
    seen(path, *text);
    read(*text, path.generic_string(), shop, sink);
  }
  return shop;
}

}  // namespace pommel::shop
