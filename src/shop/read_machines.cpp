// Machines, from YAML.
#include <algorithm>
#include <array>
#include <tuple>

#include "shop/entries.h"
#include "shop/read.h"

namespace pommel::shop {
namespace {

using yaml::MapReader;
using yaml::Node;
using yaml::required;

constexpr double kBytesInMegabyte = 1e6;

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

class MachineReader {
 public:
  MachineReader(const std::string& id, MapReader& entry, Sink& sink) : entry_(entry), sink_(sink) { machine_.id = id; }

  Machine read() {
    machine_.label = entry_.text("label", required("what it is, in words")).value_or("");
    machine_.confirmed = entry_.yes_no("confirmed", required("no, until the figures are your own")).value_or(false);
    rotary();
    words();
    piece();
    feed();
    counting();
    travel();
    rapids();
    accelerations();
    room();
    tolerance();
    control();
    setting();
    texts();
    return std::move(machine_);
  }

 private:
  void complain(std::string_view key, const char* id, std::string message, std::string remedy) {
    const auto node = entry_.find(key);
    sink_.add(yaml::at(node ? *node : entry_.node(), id, std::move(message), std::move(remedy)));
  }

  void rotary() {
    const bool degrees = entry_.choice("rotary", {"degrees", "unrolled"}, required("what the rotary word counts")).value_or(0) == 0;
    machine_.rotary = degrees ? Machine::Rotary::degrees : Machine::Rotary::unrolled_mm;
    if (!degrees) machine_.unrolled_diameter = length(entry_, "unrolled_diameter", required("the diameter whose surface the word counts").above(0));
  }

  void words() {
    const bool degrees = machine_.rotary == Machine::Rotary::degrees;
    if (!degrees) machine_.rotary_word = "Y";
    const auto node = entry_.map("words");
    if (!node) return;
    MapReader map(*node, "machine's words", sink_);
    const std::vector<std::string> linear = {"X", "Y", "Z"}, turning = {"A", "B", "C"};
    for (auto [key, into] : {std::pair{"x", &machine_.x_word}, std::pair{"y", &machine_.y_word}, std::pair{"z", &machine_.z_word}})
      if (const auto letter = map.choice(key, linear)) *into = linear[*letter];
    const auto& letters = degrees ? turning : linear;
    if (const auto letter = map.choice("rotary", letters)) machine_.rotary_word = letters[*letter];
    map.finish();
    const std::array all{machine_.x_word, machine_.y_word, machine_.z_word, machine_.rotary_word};
    for (std::size_t i = 0; i < all.size(); ++i)
      for (std::size_t k = 0; k < i; ++k)
        if (!all[i].empty() && all[i] == all[k]) {
          sink_.add(yaml::at(*node, "shop.words", "two axes of this machine share the word " + all[i], "give each axis a letter of its own"));
          return;
        }
  }

  void piece() {
    machine_.rotary_sense = entry_.choice("rotary_word", {"grows", "falls"}, required("which way the word runs as the wood under the cutter does")).value_or(0) == 0 ? 1 : -1;
    machine_.head_at_chuck = entry_.choice("head_at", {"chuck", "centre"}, required("which end of the piece the chuck holds")).value_or(0) == 0;
    machine_.x_towards_foot = entry_.choice("x_grows_towards", {"foot", "head"}, required("which way X runs along the piece")).value_or(0) == 0;
  }

  void feed() {
    constexpr std::array kinds{Machine::Feed::inverse_time, Machine::Feed::per_minute, Machine::Feed::surface};
    machine_.feed = kinds[entry_.choice("feed", {"inverse time", "per minute", "surface"}, required("G93, G94, or G94 with the rotary counted on a fixed surface")).value_or(0)];
    if (machine_.feed == Machine::Feed::surface) {
      machine_.feed_diameter = length(entry_, "feed_diameter", required("the diameter on whose surface the control counts the rotary").above(0));
      if (machine_.rotary == Machine::Rotary::unrolled_mm)
        complain("feed", "shop.feed", "an unrolled rotary counts on its own surface already", "write feed: per minute");
    }
    machine_.feed_max = length(entry_, "feed_max", required("mm a minute, the fastest cutting feed").above(0));
    machine_.max_rpm = entry_.number("max_rpm", required("of the spindle").above(0)).value_or(0);
  }

  void counting() {
    constexpr std::array kinds{Machine::Counting::unbounded, Machine::Counting::limited, Machine::Counting::modulo};
    const auto turns = entry_.number("rotary_limit_turns", yaml::optional().above(0));
    const auto kind = entry_.choice("counting", {"unbounded", "limited", "modulo 360"});
    machine_.counting = kind ? kinds[*kind] : turns ? Machine::Counting::limited : Machine::Counting::unbounded;
    if (const auto reset = entry_.find("reset")) machine_.reset = lines("reset", false);
    if (machine_.counting == Machine::Counting::limited) {
      machine_.rotary_limit_turns = turns.value_or(0);
      if (!turns) complain("counting", "shop.counting", "limited to how many turns?", "add rotary_limit_turns: the turns from zero, either way");
      if (!machine_.reset.empty() && turns && *turns < 2)
        complain("rotary_limit_turns", "shop.counting", "a count that begins anew needs at least two turns to run in", "leave 'reset' out where a stop forbids more than this");
    } else if (turns || !machine_.reset.empty()) {
      complain(turns ? "rotary_limit_turns" : "reset", "shop.counting", "this belongs to counting: limited alone", "leave it out, or say counting: limited");
    }
    if (machine_.counting == Machine::Counting::modulo && machine_.rotary == Machine::Rotary::unrolled_mm)
      complain("counting", "shop.counting", "millimetres on a linear drive do not begin again at 360", "write counting: unbounded or limited");
    const bool says = machine_.reset.empty() || std::any_of(machine_.reset.begin(), machine_.reset.end(), [](const std::string& line) { return line.find("{rotary}") != line.npos; });
    if (!says) complain("reset", "shop.counting", "the reset does not say the new count", "write {rotary} where the word stands, as G92 {rotary}");
  }

  void travel() {
    const auto node = entry_.map("travel", required("how far the machine goes"));
    if (!node) return;
    MapReader map(*node, "travel", sink_);
    if (const auto x = range(map, "x", sink_)) std::tie(machine_.x_min, machine_.x_max) = *x;
    if (const auto z = range(map, "z", sink_)) std::tie(machine_.z_min, machine_.z_max) = *z;
    if (machine_.has_free_y())
      if (const auto y = range(map, "y", sink_)) std::tie(machine_.y_min, machine_.y_max) = *y;
    map.finish();
  }

  void rapids() {
    const auto node = entry_.map("rapid", required("speeds of rapid moves, a minute"));
    if (!node) return;
    MapReader map(*node, "rapid", sink_);
    machine_.rapid_x = length(map, "x", required("mm a minute").above(0));
    machine_.rapid_z = length(map, "z", required("mm a minute").above(0));
    if (machine_.has_free_y()) machine_.rapid_y = length(map, "y", required("mm a minute").above(0));
    machine_.rapid_rotary = map.number("turns", required("turns a minute").above(0)).value_or(1);
    map.finish();
  }

  void accelerations() {
    const auto node = entry_.map("acceleration", required("of each axis, a second each second"));
    if (!node) return;
    MapReader map(*node, "acceleration", sink_);
    machine_.accel_x = length(map, "x", required("mm/s2").above(0));
    machine_.accel_z = length(map, "z", required("mm/s2").above(0));
    if (machine_.has_free_y()) machine_.accel_y = length(map, "y", required("mm/s2").above(0));
    machine_.accel_rotary = map.number("turns", required("turns/s2").above(0)).value_or(1);
    map.finish();
  }

  void room() {
    machine_.max_between_centres = length(entry_, "between_centres", required("longest blank").above(0));
    machine_.max_swing = length(entry_, "swing", required("largest diameter that turns freely").above(0));
    machine_.jaw_swing = length(entry_, "jaw_swing", required("farthest a chuck jaw reaches from the axis").at_least(0));
    machine_.tailstock_top = length(entry_, "tailstock_top", required("farthest the tailstock reaches above the axis").at_least(0));
    machine_.chuck_grip = length(entry_, "chuck_grip", required("waste that the chuck needs").at_least(0));
    machine_.centre_grip = length(entry_, "centre_grip", required("waste that the centre needs").at_least(0));
    machine_.keep_out = length(entry_, "keep_out", required("distance that the cutter keeps from chuck and centre").at_least(0));
  }

  void tolerance() {
    const auto node = entry_.map("blank_may_be", required("how far a blank may be off: the programs stay safe under all of it"));
    if (!node) return;
    MapReader map(*node, "blank_may_be", sink_);
    machine_.blank_off_centre = length(map, "off_centre", required("its axis beside the rotary axis").at_least(0).at_most(20));
    machine_.blank_bow = length(map, "bow", required("rise at mid-length").at_least(0).at_most(20));
    machine_.blank_oversize = length(map, "oversize", required("on each flat").at_least(0).at_most(20));
    map.finish();
  }

  void control() {
    machine_.inches = entry_.choice("units", {"mm", "inches"}).value_or(0) == 1;
    machine_.blocks_per_second = entry_.number("blocks_per_second", yaml::optional().above(0)).value_or(0);
    machine_.largest_file = entry_.number("largest_file_mb", yaml::optional().above(0)).value_or(0) * kBytesInMegabyte;
    machine_.always_point = entry_.yes_no("always_point").value_or(false);
    machine_.file_a_cutter = entry_.choice("files", {"one", "one a cutter"}).value_or(0) == 1;
    const auto decimals = entry_.map("decimals");
    if (!decimals) return;
    MapReader map(*decimals, "decimals", sink_);
    machine_.x_decimals = map.count("linear", yaml::optional().at_least(1).at_most(6)).value_or(machine_.x_decimals);
    machine_.rotary_decimals = map.count("rotary", yaml::optional().at_least(1).at_most(6)).value_or(machine_.rotary_decimals);
    machine_.feed_decimals = map.count("feed", yaml::optional().at_least(0).at_most(6)).value_or(machine_.feed_decimals);
    map.finish();
  }

  void setting() {
    const auto node = entry_.map("setting");
    if (!node) return;
    MapReader map(*node, "setting of cutters", sink_);
    machine_.setting_surface = map.text("touch", required("the surface that each cutter touches, in words")).value_or("");
    machine_.setting_height = length(map, "height", required("of that surface above the rotary axis; below it with a minus"));
    machine_.setting_gauge = map.length("gauge", std::nullopt, yaml::optional().at_least(0)).value_or(0);
    map.finish();
  }

  std::vector<std::string> lines(std::string_view key, bool needed) {
    std::vector<std::string> out;
    if (const auto list = entry_.list(key, needed ? required("program lines") : yaml::optional()))
      for (const Node& item : list->items())
        if (auto text = yaml::as_text(item, sink_)) see_fields(item, *text), out.push_back(std::move(*text));
    return out;
  }

  // What the writer does not fill would stand in the program as it is.
  void see_fields(const Node& item, const std::string& line) {
    static const std::vector<std::string> known = {"program", "cutter", "tool", "rpm", "date", "rotary"};
    for (std::size_t open = line.find('{'); open != line.npos; open = line.find('{', open + 1)) {
      const std::size_t close = line.find('}', open);
      const std::string name = close == line.npos ? "" : line.substr(open + 1, close - open - 1);
      if (std::find(known.begin(), known.end(), name) != known.end()) continue;
      sink_.add(yaml::at(item, "shop.field", "'" + line.substr(open, close == line.npos ? close : close - open + 1) + "' is no field of a program line",
                         "use {program}, {cutter}, {tool}, {rpm} and {date}, and {rotary} in a reset"));
    }
  }

  void texts() {
    machine_.header = lines("header", true);
    machine_.footer = lines("footer", true);
    machine_.tool_change = lines("tool_change", false);
    machine_.lock = lines("lock", false);
    machine_.unlock = lines("unlock", false);
    if (machine_.lock.empty() != machine_.unlock.empty())
      complain(machine_.lock.empty() ? "unlock" : "lock", "shop.lock", "a rotary is held and freed: one of the two is missing", "give both 'lock' and 'unlock', or neither");
    if (machine_.file_a_cutter && !machine_.tool_change.empty())
      complain("tool_change", "shop.tool-change", "with a file a cutter there is no change of cutter inside a file", "leave it out, or say files: one");
  }

  MapReader& entry_;
  Sink& sink_;
  Machine machine_;
};

}  // namespace

void read_machines(std::string_view text, const std::string& file, Shop& into, Sink& sink) {
  each(text, file, "machines", "machine", sink, [&](const std::string& id, MapReader& entry) { into.machines[id] = MachineReader(id, entry, sink).read(); });
}

}  // namespace pommel::shop
