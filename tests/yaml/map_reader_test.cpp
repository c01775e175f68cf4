#include "yaml/map_reader.h"

#include <gtest/gtest.h>

#include <functional>
#include <numbers>

#include "base/number.h"

namespace pommel::yaml {
namespace {

constexpr auto kMm = LengthUnit::millimetre;

Node parsed(std::string_view text) {
  Sink sink;
  const auto node = read(text, "f.yaml", sink);
  EXPECT_TRUE(node && sink.all().empty()) << text << "\n" << render(sink.all());
  return *node;
}

TEST(MapReader, ReadsEachKindOfValue) {
  Sink sink;
  MapReader reader(parsed("name: ball 6\nrpm: 18000\nlength: 28 1/4\"\nplain: 12\nangle: 30 deg\nrate: 12.50 "
                          "EUR\nsharp: yes\ndull: false\n"
                          "teeth: 2\nform: flat\nlist: [a, b]\nmap: {x: 1}\n"),
                   "cutter", sink);
  EXPECT_EQ(reader.text("name", required("its name")), "ball 6");
  EXPECT_EQ(reader.number("rpm", required("its speed")), 18000);
  EXPECT_DOUBLE_EQ(*reader.length("length", {}, required("its length")), 717.55);
  EXPECT_EQ(reader.length("plain", kMm), 12);
  EXPECT_DOUBLE_EQ(*reader.angle("angle"), std::numbers::pi / 6);
  EXPECT_EQ(reader.money("rate", "EUR")->cents, 1250);
  EXPECT_EQ(reader.yes_no("sharp"), true);
  EXPECT_EQ(reader.yes_no("dull"), false);
  EXPECT_EQ(reader.count("teeth"), 2);
  EXPECT_EQ(reader.choice("form", {"ball", "flat"}), 1u);
  EXPECT_EQ(reader.list("list")->size(), 2u);
  EXPECT_EQ(reader.map("map")->find("x")->text(), "1");
  EXPECT_EQ(reader.text("absent").value_or("otherwise"), "otherwise");
  EXPECT_FALSE(reader.number("absent"));
  reader.finish();
  EXPECT_EQ(render(sink.all()), "");
}

using Act = std::function<void(MapReader&)>;

TEST(MapReader, ReportsWithTheWholeText) {
  struct Row {
    const char* text;
    Act act;
    const char* told;
  };
  const std::vector<Row> rows = {
      {"a: 1\n", [](MapReader& r) { (void)r.length("diameter", kMm, required("the diameter of the ball")); },
       "f.yaml:1:1: error: this cutter has no 'diameter' [yaml.missing-key]\n    1 | a: 1\n      | ^\n   do: add "
       "'diameter:' the diameter of the ball\n"},
      {"diametre: 6 mm\nzzz: 1\n",
       [](MapReader& r) {
         (void)r.length("diameter", kMm);
         (void)r.text("label");
         (void)r.text("id");
         r.finish();
       },
       "f.yaml:1:1: error: 'diametre' is no entry of a cutter [yaml.unknown-key]\n    1 | diametre: 6 mm\n      | "
       "^~~~~~~~\n   do: did you mean 'diameter'?\n"
       "f.yaml:2:1: error: 'zzz' is no entry of a cutter [yaml.unknown-key]\n    2 | zzz: 1\n      | ^~~\n   do: it "
       "can have diameter, label and id\n"},
      {"d: 6 mn\n", [](MapReader& r) { (void)r.length("d", kMm); },
       "f.yaml:1:6: error: 'mn' is no unit of length [quantity.unknown-unit]\n    1 | d: 6 mn\n      |      ^~\n   do: "
       "did you mean 'mm'?\n"},
      {"d: '\xC3\xBC 6'\ne: \"2' 4\"\n",
       [](MapReader& r) {
         (void)r.length("d", kMm);
         (void)r.length("e", kMm);
       },
       "f.yaml:1:5: error: '\xC3\xBC 6' is no length [quantity.not-a-length]\n    1 | d: '\xC3\xBC 6'\n      |     "
       "^~~\n   do: write a length such as 717.5 mm or 28 1/4 in\n"
       "f.yaml:2:8: error: 4 what? this length has no unit [quantity.no-unit]\n    2 | e: \"2' 4\"\n      |        ^\n "
       "  do: write '4 in' or '4 ft'\n"},
      {"d: 6\n", [](MapReader& r) { (void)r.length("d", {}); },
       "f.yaml:1:4: error: 6 what? this length has no unit [quantity.no-unit]\n    1 | d: 6\n      |    ^\n   do: "
       "write '6 mm' or '6 in'\n"},
      {"d:\n", [](MapReader& r) { (void)r.length("d", kMm); },
       "f.yaml:1:1: error: a length is wanted here, and nothing is written [yaml.nothing-here]\n    1 | d:\n      | "
       "^\n   do: write a length such as 717.5 mm or 28 1/4 in\n"},
      {"d: ''\n", [](MapReader& r) { (void)r.text("d"); },
       "f.yaml:1:4: error: a text is wanted here, and nothing is written [yaml.nothing-here]\n    1 | d: ''\n      |   "
       " ^~\n   do: write a text such as 'oak table'\n"},
      {"d: [1, 2]\n", [](MapReader& r) { (void)r.number("d"); },
       "f.yaml:1:4: error: a number is wanted here, not a list [yaml.not-one-value]\n    1 | d: [1, 2]\n      |    ^\n "
       "  do: write a number such as 1.5\n"},
      {"d: {x: 1}\n", [](MapReader& r) { (void)r.text("d"); },
       "f.yaml:1:4: error: a text is wanted here, not a group of entries [yaml.not-one-value]\n    1 | d: {x: 1}\n     "
       " |    ^\n   do: write a text such as 'oak table'\n"},
      {"d: 6 mm\n", [](MapReader& r) { (void)r.number("d"); },
       "f.yaml:1:4: error: '6 mm' is no number [yaml.not-a-number]\n    1 | d: 6 mm\n      |    ^~~~\n   do: write a "
       "number alone, such as 1.5\n"},
      {"d: 1,5\n", [](MapReader& r) { (void)r.number("d"); },
       "f.yaml:1:4: error: '1,5' is no number [yaml.not-a-number]\n    1 | d: 1,5\n      |    ^~~\n   do: write a "
       "point for the decimals, as in 1.5\n"},
      {"d: .nan\n", [](MapReader& r) { (void)r.number("d"); },
       "f.yaml:1:4: error: '.nan' is no number [yaml.not-a-number]\n    1 | d: .nan\n      |    ^~~~\n   do: write a "
       "number alone, such as 1.5\n"},
      {"d: 30\n", [](MapReader& r) { (void)r.angle("d"); },
       "f.yaml:1:4: error: 30 what? this angle has no unit [quantity.no-unit]\n    1 | d: 30\n      |    ^~\n   do: "
       "write '30 deg' or '30 turn'\n"},
      {"d: 12 USD\n", [](MapReader& r) { (void)r.money("d", "EUR"); },
       "f.yaml:1:7: error: 'USD' does not belong to an amount of money here [quantity.not-money]\n    1 | d: 12 USD\n  "
       "    |       ^~~\n   do: write the amount as in 12.50 EUR\n"},
      {"d: Yes\n", [](MapReader& r) { (void)r.yes_no("d"); },
       "f.yaml:1:4: error: 'Yes' is neither yes nor no [yaml.not-yes-no]\n    1 | d: Yes\n      |    ^~~\n   do: write "
       "yes or no\n"},
      {"d: 2.5\n", [](MapReader& r) { (void)r.count("d"); },
       "f.yaml:1:4: error: '2.5' is no whole number from 0 to 1000000 [yaml.not-a-count]\n    1 | d: 2.5\n      |    "
       "^~~\n   do: write a whole number, such as 4\n"},
      {"d: -1\n", [](MapReader& r) { (void)r.count("d"); },
       "f.yaml:1:4: error: '-1' is no whole number from 0 to 1000000 [yaml.not-a-count]\n    1 | d: -1\n      |    "
       "^~\n   do: write a whole number, such as 4\n"},
      {"d: bal\n",
       [](MapReader& r) {
         (void)r.choice("d", {"ball", "flat", "bull"});
       },
       "f.yaml:1:4: error: 'bal' is not one of ball, flat and bull [yaml.unknown-choice]\n    1 | d: bal\n      |    "
       "^~~\n   do: did you mean 'ball'?\n"},
      {"d: conical\n",
       [](MapReader& r) {
         (void)r.choice("d", {"ball", "flat"});
       },
       "f.yaml:1:4: error: 'conical' is not one of ball and flat [yaml.unknown-choice]\n    1 | d: conical\n      |    "
       "^~~~~~~\n   do: write one of them\n"},
      {"d: 1\n", [](MapReader& r) { (void)r.list("d"); },
       "f.yaml:1:4: error: a list is wanted for 'd' [yaml.not-a-list]\n    1 | d: 1\n      |    ^\n   do: write [one, "
       "two], or each item on a line that begins with '- '\n"},
      {"d: [1]\n", [](MapReader& r) { (void)r.map("d"); },
       "f.yaml:1:4: error: entries are wanted for 'd' [yaml.not-a-map]\n    1 | d: [1]\n      |    ^\n   do: write "
       "{word: value}, or each entry on a line of its own below\n"},
      // bounds, on both sides, open and closed
      {"d: 0 mm\n", [](MapReader& r) { (void)r.length("d", kMm, required("x").above(0)); },
       "f.yaml:1:4: error: '0 mm' will not do: it must be above 0 mm [yaml.out-of-range]\n    1 | d: 0 mm\n      |    "
       "^~~~\n   do: check the figure and its unit\n"},
      {"d: 2 m\n", [](MapReader& r) { (void)r.length("d", kMm, optional().at_least(0).at_most(1100)); },
       "f.yaml:1:4: error: '2 m' will not do: it must be at most 1100 mm [yaml.out-of-range]\n    1 | d: 2 m\n      |  "
       "  ^~~\n   do: check the figure and its unit\n"},
      {"d: -0.5\n", [](MapReader& r) { (void)r.number("d", optional().at_least(0.25)); },
       "f.yaml:1:4: error: '-0.5' will not do: it must be at least 0.25 [yaml.out-of-range]\n    1 | d: -0.5\n      |  "
       "  ^~~~\n   do: check the figure and its unit\n"},
      {"d: 100 deg\n", [](MapReader& r) { (void)r.angle("d", optional().at_most(std::numbers::pi / 2)); },
       "f.yaml:1:4: error: '100 deg' will not do: it must be at most 90 deg [yaml.out-of-range]\n    1 | d: 100 deg\n  "
       "    |    ^~~~~~~\n   do: check the figure and its unit\n"},
      {"d: 0\n", [](MapReader& r) { (void)r.count("d", required("x").at_least(1)); },
       "f.yaml:1:4: error: '0' will not do: it must be at least 1 [yaml.out-of-range]\n    1 | d: 0\n      |    ^\n   "
       "do: check the figure and its unit\n"},
  };
  for (const Row& row : rows) {
    Sink sink;
    MapReader reader(parsed(row.text), "cutter", sink);
    row.act(reader);
    EXPECT_EQ(render(sink.all()), row.told) << row.text;
  }
}

TEST(MapReader, BoundsLetTheirEndsIn) {
  Sink sink;
  MapReader reader(parsed("a: 0\nb: 5\nc: 90 deg\n"), "thing", sink);
  EXPECT_EQ(reader.number("a", optional().at_least(0).at_most(0)), 0);
  EXPECT_EQ(reader.number("b", optional().above(4.999).at_most(5)), 5);
  EXPECT_TRUE(reader.angle("c", optional().at_most(std::numbers::pi / 2)));
  EXPECT_TRUE(sink.all().empty());
}

TEST(MapReader, SaysOnceThatThereAreNoEntries) {
  for (const auto& [text, told] : {std::pair{"[1, 2]\n",
                                             "f.yaml:1:1: error: the entries of this cutter are wanted here "
                                             "[yaml.not-a-map]\n    1 | [1, 2]\n      | ^\n"
                                             "   do: write them as 'word: value', one to a line\n"},
                                   std::pair{"ball\n",
                                             "f.yaml:1:1: error: the entries of this cutter are wanted here "
                                             "[yaml.not-a-map]\n    1 | ball\n      | ^~~~\n"
                                             "   do: write them as 'word: value', one to a line\n"}}) {
    Sink sink;
    MapReader reader(parsed(text), "cutter", sink);
    EXPECT_FALSE(reader.is_map());
    EXPECT_FALSE(reader.text("id", required("its name")));
    EXPECT_FALSE(reader.list("x"));
    reader.finish();
    EXPECT_EQ(render(sink.all()), told);
  }
}

TEST(MapReader, OneRunReportsAllProblems) {
  Sink sink;
  MapReader reader(parsed("idd: x\ndiameter: 6 mn\nteeth: two\nform: bal\n"), "cutter", sink);
  (void)reader.text("id", required("the name by which orders call it"));
  (void)reader.length("diameter", kMm);
  (void)reader.count("teeth");
  (void)reader.choice("form", {"ball"});
  reader.finish();
  std::string ids;
  for (const Diagnostic& one : sink.all()) ids += one.id + " ";
  EXPECT_EQ(ids, "yaml.missing-key quantity.unknown-unit yaml.not-a-count yaml.unknown-choice yaml.unknown-key ");
}

TEST(MapReader, ManyUnknownKeysAreTwentyMessages) {
  std::string text;
  for (int i = 0; i < 500; ++i) text += "key" + std::to_string(i) + ": 1\n";
  Sink sink;
  MapReader reader(parsed(text), "cutter", sink);
  (void)reader.text("id");
  reader.finish();
  EXPECT_EQ(sink.all().size(), 20u);
}

}  // namespace
}  // namespace pommel::yaml
