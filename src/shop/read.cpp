#include "shop/read.h"

#include "base/number.h"
#include "base/text.h"
#include "shop/entries.h"

namespace pommel::shop {
namespace {

using yaml::MapReader;
using yaml::Node;
using yaml::required;

constexpr double kHeaviest = 1.5;  // specific gravity: no wood of the handbooks is above 1.3 (from memory)
constexpr double kPsi = 0.006894757293168361;  // MPa; lbf/in², exact from the pound and the inch

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
  wood.specific_gravity = entry.number("specific_gravity", required("at 12 % moisture").above(0).at_most(kHeaviest)).value_or(0);
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

// `{from: 600 mm, to: 680 mm}` over the whole width, or `across_from`, `across_to` beside it.
Defect read_defect(const Node& node, Sink& sink) {
  MapReader map(node, "defect", sink);
  Defect defect;
  defect.what = map.text("what").value_or("");
  defect.from = length(map, "from", required("from the board's left end").at_least(0));
  defect.to = length(map, "to", required("from the board's left end").above(defect.from));
  defect.across_from = length(map, "across_from", yaml::optional().at_least(0));
  defect.across_to = length(map, "across_to", yaml::optional().above(defect.across_from));
  map.finish();
  return defect;
}

Lot read_lot(const Node& node, const Stock& board, bool for_sale, Sink& sink) {
  MapReader map(node, for_sale ? "boards to buy" : "board", sink);
  Lot lot;
  lot.for_sale = for_sale;
  lot.name = map.text("name").value_or("");
  lot.length = length(map, "length", required("of the board").above(0));
  lot.width = length(map, "width", required("of the board, clear of wane").above(0));
  lot.count = map.count("count", for_sale ? required("how many can be had") : yaml::optional()).value_or(1);
  lot.price_per_board_foot = map.money("price", {}, yaml::optional().at_least(0)).value_or(board.price_per_board_foot);
  if (const auto defects = map.list("defects"))
    for (const Node& one : defects->items()) lot.defects.push_back(read_defect(one, sink));
  map.finish();
  return lot;
}

void read_lots(MapReader& entry, Stock& board, Sink& sink) {
  for (const bool for_sale : {false, true})
    if (const auto list = entry.list(for_sale ? "to_buy" : "single_boards"))
      for (const Node& one : list->items()) board.lots.push_back(read_lot(one, board, for_sale, sink));
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
  board.price_per_board_foot = entry.money("price", {}, required("a board foot").at_least(0)).value_or(Money{});
  board.end_trim = length(entry, "end_trim", yaml::optional().at_least(0));
  read_lots(entry, board, sink);
  into.boards[id] = std::move(board);
}

// `room: {driest: 30, dampest: 65, celsius: 21}`, humidities in percent; may be left out.
void read_room(const Node& node, Room& room, Sink& sink) {
  MapReader map(node, "room", sink);
  const auto percent = [&](std::string_view key) { return map.number(key, required("relative humidity in percent").at_least(0).at_most(95)).value_or(0) / 100; };
  room.driest = percent("driest");
  room.dampest = percent("dampest");
  room.celsius = map.number("celsius", required("the air's warmth").at_least(0).at_most(60)).value_or(room.celsius);
  if (map.is_map() && room.dampest < room.driest)
    sink.add(yaml::at(node, "shop.room", "the dampest air is drier than the driest", "put the larger percentage under dampest"));
  map.finish();
}

// "25 %" or 0.25, both 0.25.
double share(MapReader& map, std::string_view key, double most, Sink& sink) {
  const auto node = map.require(key, "a share, as 0.25 or 25 %");
  if (!node) return 0;
  const bool percent = node->is_scalar() && node->text().ends_with('%');
  const auto figure = percent ? parse_number(trimmed(std::string_view(node->text()).substr(0, node->text().size() - 1))) : std::nullopt;
  if (!figure) return yaml::as_number(*node, sink, yaml::optional().at_least(0).at_most(most)).value_or(0);
  const double part = *figure / 100;
  if (part >= 0 && part <= most) return part;
  sink.add(yaml::at(*node, "yaml.out-of-range", in_quotes(node->text()) + " will not do: it must be from 0 % to " + format_number(most * 100, 0) + " %", "check the figure and its unit"));
  return 0;
}
double minutes(MapReader& map, std::string_view key) { return map.number(key, required("minutes").at_least(0)).value_or(0); }

}  // namespace

void read_woods(std::string_view text, const std::string& file, Shop& into, Sink& sink) {
  each(text, file, "woods", "wood", sink, [&](const std::string& id, MapReader& entry) { read_wood(id, entry, into, sink); }, {"room"});
  Sink quiet;  // the file's own problems have been reported
  const auto root = yaml::read(text, file, quiet);
  if (!root || !root->is_map()) return;
  if (const auto room = root->find("room")) read_room(*room, into.room, sink);
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
  rates.shop_hour = map.money("shop_hour", {}, required("labour, an hour").at_least(0)).value_or(Money{});
  rates.shop_hour_includes_overhead = map.yes_no("shop_hour_includes_overhead", required("yes or no")).value_or(true);
  rates.overhead = share(map, "overhead", 10, sink);
  rates.machine_hour = map.money("machine_hour", {}, required("the machine, an hour").at_least(0)).value_or(Money{});
  rates.setup_minutes = minutes(map, "setup_minutes");
  rates.load_minutes = minutes(map, "load_minutes");
  rates.change_minutes = minutes(map, "change_minutes");
  rates.milling_minutes = minutes(map, "milling_minutes");
  rates.mortise_minutes = minutes(map, "mortise_minutes");
  rates.tenon_minutes = minutes(map, "tenon_minutes");
  rates.chisel_minutes = minutes(map, "chisel_minutes");
  rates.bore_minutes = minutes(map, "bore_minutes");
  rates.hand_minutes_each = minutes(map, "hand_minutes_each");
  rates.sanding_minutes_per_m2 = minutes(map, "sanding_minutes_per_m2");
  rates.assembly_minutes_per_joint = minutes(map, "assembly_minutes_per_joint");
  rates.finish_per_m2 = map.money("finish_per_m2", {}, required("the finish, a square metre").at_least(0)).value_or(Money{});
  rates.profit = map.choice("profit", {"markup", "margin"}, required("markup: of the cost; margin: of the price")).value_or(0) == 0
                     ? Rates::Profit::markup : Rates::Profit::margin;
  rates.profit_rate = share(map, "profit_rate", 10, sink);
  rates.tax = share(map, "tax", 1, sink);
  rates.deposit = share(map, "deposit", 1, sink);
  rates.minimum_charge = map.money("minimum_charge", {}, required("the least an order costs").at_least(0)).value_or(Money{});
  rates.waste = share(map, "waste", 10, sink);
  const auto rule = map.choice("board_rule", {"exact", "surface measure", "round up"}, required("how boards are measured")).value_or(0);
  rates.board_rule = rule == 0 ? Rates::BoardRule::exact : rule == 1 ? Rates::BoardRule::surface_measure : Rates::BoardRule::round_up;
  rates.kerf = length(map, "kerf", required("of the saw").at_least(0));
  const auto charged = map.choice("wood_charged", {"net and waste", "whole boards"}).value_or(0);
  rates.wood_charged = charged == 0 ? Rates::WoodCharged::net_and_waste : Rates::WoodCharged::whole_boards;
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
