// What hangs on what. wiring.txt says for each measure and each result whether the result changes when the measure does, and
// for some of them by how much, worked by hand. A result that "must not change" is held to the bit.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>

#include "base/number.h"
#include "base/text.h"
#include "whole/house.h"

namespace pommel::whole {
namespace {

constexpr double kExact = 1e-9;  // mm: of a difference of two lengths on the outline's grid

using Numbers = std::vector<double>;
using Results = std::map<std::string, Numbers>;

constexpr const char* kDesign = R"(design: wired
family: table-leg
sheet:
  table_length: 1800 mm
  table_width: 900 mm
  table_height: 740 mm
  top_thickness: 22 mm
  overhang_long: 40 mm
  overhang_short: 60 mm
  glide_height: 0 mm
  square: 64 mm
  long_rail_depth: 100 mm
  short_rail_depth: 80 mm
  rail_thickness: 22 mm
  rail_set_back: 6 mm
  rail_drop: 0 mm
  tenon_rule: half of the rail
  tenon_thickness: 10 mm
  top_shoulder: 14 mm
  bottom_shoulder: 8 mm
  haunch_depth: 9 mm
  wall_wanted: 6 mm
  stock: cherry-12/4-rough
  rail_stock: cherry-4/4-rough
  horn: 20 mm
  spares: 1
outline:
  - square: {length: = head_length}
  - pommel: {length: 14 mm, cut: ogee, end: 50 mm}
  - bead:   {length: 9 mm, start: 46 mm, step: yes}
  - cove:   {length: 12 mm, start: 48 mm, step: yes}
  - vase:   {share: 3, start: 44 mm, step: yes, end: = thin, through: [[0.3, 56 mm], [0.75, 38 mm]]}
  - bead:   {length: 8 mm}
  - taper:  {share: 1, end: 40 mm}
)";
constexpr const char* kOrder = R"(order: Wired
number: "2"
units: mm
design: wired
machine: rotary-degrees
cutter: ball-10
)";

const frame::Rail& rail_of(const frame::Set& set, const std::string& id) {
  const auto found = std::find_if(set.rails.begin(), set.rails.end(), [&](const frame::Rail& rail) { return rail.id == id; });
  EXPECT_NE(found, set.rails.end()) << id;
  return *found;
}

Results results_of(const job::Column& column) {
  const frame::Set& set = column.made.set;
  const shape::Part& leg = set.members.front().part;
  Results out;
  out["leg"] = {leg.length};
  out["blank"] = {column.blank.blank.length()};
  out["feet"] = {column.board_feet};
  for (const shape::Mortise& mortise : leg.mortises) {
    // a kind of the joint each: places from the head, offset of its middle from the face's middle line, depth, width
    for (double x : {mortise.x0, mortise.x1}) out["places"].push_back(x);
    out["offset"].push_back(std::abs(mortise.t0 + mortise.t1) / 2);
    out["depth"].push_back(mortise.depth);
    out["width"].push_back(mortise.t1 - mortise.t0);
  }
  for (const frame::Rail& rail : set.rails) out["tenon"].push_back(rail.tenon_thickness);
  out["long"] = {rail_of(set, "rail-back").shoulder_length};
  out["short"] = {rail_of(set, "rail-left").shoulder_length};
  out["cut"] = {rail_of(set, "rail-back").overall_length};
  out["head"] = {leg.elements.front().x1 - leg.elements.front().x0};
  for (std::size_t i = 1; i < leg.elements.size(); ++i)
    out[leg.elements[i].shared ? "shares" : "fixed"].push_back(leg.elements[i].x1 - leg.elements[i].x0);
  out["thinnest"] = {column.thinnest_diameter};
  out["wall"] = {column.least_wall};
  out["turnings"] = {static_cast<double>(set.turned_kinds.size())};
  out["pieces"] = {static_cast<double>(set.jointed_kinds.size())};
  out["legs"] = {static_cast<double>(set.members.size())};
  out["rails"] = {static_cast<double>(set.rails.size())};
  out["hand"] = {static_cast<double>(column.hand_places)};
  out["time"] = {column.minutes_each};
  out["price"] = {static_cast<double>(column.quote.price.cents)};
  return out;
}

// --- the table's file

struct Input {
  std::string name, measure, value;
};
struct Worked {
  std::string input, output;
  Numbers by;
};
struct Wiring {
  std::vector<Input> inputs;
  std::vector<std::string> outputs;
  std::map<std::string, std::vector<std::string>> cells;  // by input, one for each output
  std::vector<Worked> worked;
};

std::vector<std::string> words_of(std::string_view line) {
  std::vector<std::string> out;
  for (std::string_view word : split(line, ' '))
    if (!word.empty()) out.emplace_back(word);
  return out;
}

Wiring read_wiring(const std::string& text) {
  Wiring out;
  std::string section;
  for (std::string_view line : split(text, '\n')) {
    line = trimmed(line.substr(0, line.find('#')));
    if (line.empty()) continue;
    if (line == "INPUTS" || line == "TABLE" || line == "WORKED") {
      section = line;
      continue;
    }
    const std::vector<std::string> words = words_of(line);
    if (section == "INPUTS") {
      const std::size_t equals = line.find('=');
      out.inputs.push_back({words.at(0), words.at(1), std::string(trimmed(line.substr(equals + 1)))});
    } else if (section == "TABLE" && out.outputs.empty()) {
      out.outputs = words;
    } else if (section == "TABLE") {
      out.cells[words.at(0)] = {words.begin() + 1, words.end()};
    } else {
      Worked cell{words.at(0), words.at(1), {}};
      for (std::size_t i = 2; i < words.size(); ++i) {
        const auto number = parse_number(words[i].starts_with('+') ? words[i].substr(1) : words[i]);
        EXPECT_TRUE(number) << line;
        cell.by.push_back(number.value_or(0));
      }
      out.worked.push_back(std::move(cell));
    }
  }
  return out;
}

// '.' must not change, '*' changes, '+' every number that changes rises, '-' every one falls.
std::string verdict(const Numbers& before, const Numbers& after) {
  if (before == after) return ".";
  if (before.size() != after.size()) return "*";
  bool rises = false, falls = false;
  for (std::size_t i = 0; i < before.size(); ++i) {
    rises = rises || after[i] > before[i];
    falls = falls || after[i] < before[i];
  }
  return rises && falls ? "*" : rises ? "+" : "-";
}

class Wires : public ::testing::Test {
 protected:
  static void SetUpTestSuite() {
    wiring = new Wiring(read_wiring(repository_text("tests/whole/wiring.txt")));
    House house;
    house.put("catalog/designs/wired.yaml", kDesign);
    house.put("catalog/orders/wired.yaml", kOrder);
    const job::Loaded loaded = house.load("catalog/orders/wired.yaml");
    job::TurningMemo memo;
    job::Options options;
    options.memo = &memo;
    run(loaded, {"", "", ""}, options);
    for (const Input& input : wiring->inputs) {
      const std::size_t planned = memo.computed();
      run(loaded, input, options);
      worked_again[input.name] = memo.computed() > planned;
    }
  }
  static void TearDownTestSuite() {
    delete wiring;
    wiring = nullptr;
  }

  static void run(const job::Loaded& loaded, const Input& input, const job::Options& options) {
    Sink sink;
    Extra extra;
    if (!input.name.empty()) extra.emplace_back(input.measure, input.value);
    const auto sheet = family::make_sheet(loaded.family, loaded.design, &*loaded.order, loaded.shop, entries(extra), sink);
    ASSERT_FALSE(sink.has_errors()) << input.name << "\n" << render(sink.all());
    const auto column = job::run_column(loaded, sheet, family::kOrder, options);
    ASSERT_TRUE(column.ok()) << input.name << "\n" << render(column.reasons());
    results[input.name] = results_of(*column);
  }

  static inline Wiring* wiring = nullptr;
  static inline std::map<std::string, Results> results;  // by input; "" is the order as it stands
  static inline std::map<std::string, bool> worked_again;
};

TEST_F(Wires, TheTableIsLargeEnoughAndWhole) {
  EXPECT_GE(wiring->inputs.size(), 12u);
  EXPECT_GE(wiring->outputs.size(), 14u);
  EXPECT_GE(wiring->worked.size(), 20u);
  EXPECT_EQ(wiring->cells.size(), wiring->inputs.size());
  for (const Input& input : wiring->inputs) {
    ASSERT_TRUE(wiring->cells.contains(input.name)) << input.name;
    EXPECT_EQ(wiring->cells.at(input.name).size(), wiring->outputs.size()) << input.name;
  }
}

TEST_F(Wires, EachResultChangesOrStaysAsTheTableSays) {
  const Results& before = results.at("");
  std::string whole;
  for (const Input& input : wiring->inputs) {
    ASSERT_TRUE(results.contains(input.name)) << input.name;
    whole += input.name + " ";
    for (std::size_t i = 0; i < wiring->outputs.size(); ++i) {
      const std::string& output = wiring->outputs[i];
      ASSERT_TRUE(before.contains(output)) << output;
      const std::string& wanted = wiring->cells.at(input.name).at(i);
      const std::string found = verdict(before.at(output), results.at(input.name).at(output));
      whole += found + " ";
      const bool alike = wanted == found || (wanted == "*" && found != ".");
      EXPECT_TRUE(alike) << input.name << " -> " << output << ": the table says " << wanted << ", it is " << found;
    }
    whole += "\n";
  }
  if (HasFailure()) std::printf("as it is:\n%s", whole.c_str());
}

TEST_F(Wires, CellsWorkedByHand) {
  const Results& before = results.at("");
  for (const Worked& cell : wiring->worked) {
    ASSERT_TRUE(results.contains(cell.input)) << cell.input;
    ASSERT_TRUE(before.contains(cell.output)) << cell.output;
    const Numbers &a = before.at(cell.output), &b = results.at(cell.input).at(cell.output);
    ASSERT_EQ(a.size(), b.size()) << cell.input << " -> " << cell.output;
    ASSERT_EQ(a.size(), cell.by.size()) << cell.input << " -> " << cell.output;
    for (std::size_t i = 0; i < a.size(); ++i)
      EXPECT_NEAR(b[i] - a[i], cell.by[i], kExact) << cell.input << " -> " << cell.output << ", number " << i + 1;
  }
}

// A leg 50 mm longer is 50 mm longer to the bit, not nearly.
TEST_F(Wires, FiftyMillimetresAreFifty) {
  EXPECT_EQ(results.at("height").at("leg").front() - results.at("").at("leg").front(), 50.0);
  EXPECT_EQ(results.at("height").at("blank").front() - results.at("").at("blank").front(), 50.0);
}

TEST_F(Wires, EqualRailsMakeOnePieceUnequalOnesTwo) {
  EXPECT_EQ(results.at("").at("pieces").front(), 2);
  EXPECT_EQ(results.at("").at("turnings").front(), 1);
  EXPECT_EQ(results.at("equal").at("pieces").front(), 1);
  EXPECT_EQ(results.at("equal").at("turnings").front(), 1);
}

// Unequal rails: the two legs of a diagonal are one piece.
TEST_F(Wires, DiagonalLegsAreAlike) {
  House house;
  house.put("catalog/designs/wired.yaml", kDesign);
  house.put("catalog/orders/wired.yaml", kOrder);
  const job::Loaded loaded = house.load("catalog/orders/wired.yaml");
  Sink sink;
  const auto sheet = family::make_sheet(loaded.family, loaded.design, &*loaded.order, loaded.shop, {}, sink);
  const auto column = job::run_to_stock(loaded, sheet, family::kOrder, {});
  ASSERT_TRUE(column.ok()) << render(column.reasons());
  std::map<std::string, int> kinds;
  for (const frame::Member& member : column->made.set.members)
    if (!member.spare) kinds[member.place] = member.jointed_kind;
  EXPECT_EQ(kinds["front left"], kinds["back right"]);
  EXPECT_EQ(kinds["front right"], kinds["back left"]);
  EXPECT_NE(kinds["front left"], kinds["front right"]);
}

// The mill works again only where the turning or its blank changed.
TEST_F(Wires, NothingIsPlannedAgainForNothing) {
  const std::size_t time = static_cast<std::size_t>(std::find(wiring->outputs.begin(), wiring->outputs.end(), "time") - wiring->outputs.begin());
  int at_hand = 0;
  for (const Input& input : wiring->inputs) {
    const std::vector<std::string>& row = wiring->cells.at(input.name);
    if (row.at(time) != ".") {
      EXPECT_TRUE(worked_again.at(input.name)) << input.name;
    }
    at_hand += worked_again.at(input.name) ? 0 : 1;
  }
  EXPECT_FALSE(worked_again.at("length"));
  EXPECT_FALSE(worked_again.at("stock"));
  EXPECT_FALSE(worked_again.at("spares"));
  EXPECT_FALSE(worked_again.at("thickness"));
  EXPECT_TRUE(worked_again.at("height"));
  EXPECT_GE(at_hand, 10);
}

}  // namespace
}  // namespace pommel::whole
