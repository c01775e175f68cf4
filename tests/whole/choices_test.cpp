// Every choice that a family offers for its frame goes the whole way: an order that makes the choice, by the command itself, with checked programs, solids
// and papers, and what the papers then say of it; eight sides go so on a leg, flutes on a column, a twist on balusters. A choice whose every part was tested
// could be refused as a whole: hook plates once were, by the check of their own joints.
#include <gtest/gtest.h>

#include <fstream>

#include "base/text.h"
#include "whole/house.h"
#include "whole/process.h"

namespace pommel::whole {
namespace {

namespace fs = std::filesystem;

struct Said {
  std::string file, text;  ///< line ends and runs of blanks count as one blank
};

struct Choice {
  std::string name, design;
  Extra sheet;
  std::vector<std::string> programs;  ///< that are there, among others
  std::vector<Said> said;
};

// Small pieces, and a ridge that a check is quick with.
const std::map<std::string, std::string>& designs() {
  static const std::map<std::string, std::string> all = {
      {"bed", R"(design: low bed
family: bed-post
sheet:
  mattress: own
  own_length: 1300 mm
  own_width: 700 mm
  mattress_thickness: 120 mm
  rail_height: 260 mm
  headboard_height: 300 mm
  head_post_height: 520 mm
  foot_post_height: 340 mm
  square: 60 mm
  margin: 12 mm
  rail_depth: 120 mm
  rail_set_back: 10 mm
  tenon_length: 26 mm
  bolts_a_joint: 1
  bolt_seat: 20 mm
  seat_depth: 6 mm
  wall_wanted: 4 mm
  headboard_joint: none
  crest_rail: no
outline:
  - taper:  {share: 1, start: 40 mm, end: 46 mm}
  - pommel: {length: 12 mm, start: 50 mm, step: yes, cut: sloped}
  - square: {length: = block_length, name: block}
  - pommel: {length: 12 mm, cut: sloped, end: 50 mm}
  - taper:  {length: = foot_length - 12 mm, end: 40 mm}
)"},
      {"stair", R"(design: short run
family: baluster
sheet:
  treads: 3
  rise: 180 mm
  going: 240 mm
  rail_height: 720 mm
  square: 40 mm
  top_block: 100 mm
  foot_block: 90 mm
outline:
  - pin:    {length: = top_pin, start: = top_pin_thick, when: = top == "pin"}
  - square: {length: = top_block + head_in_rail + longer * top_takes, name: top block, when: = top == "raked"}
  - pommel: {length: 10 mm, cut: square, end: 32 mm, when: = top == "raked"}
  - taper:  {share: 1, start: 28 mm, step: yes, end: 34 mm}
  - pommel: {length: 10 mm, start: 34 mm, cut: square}
  - square: {length: = foot_block + foot_below + longer * foot_takes, name: foot block}
  - pin:    {length: = foot_pin, start: = foot_pin_thick, when: = string == "open" and foot == "pin"}
)"},
      {"lamp", R"(design: low lamp
family: lamp-column
sheet:
  lamp_height: 240 mm
  base_width: 120 mm
  base_thickness: 30 mm
  foot_tenon: 20 mm
  section_tenon: 16 mm
  square: 56 mm
outline:
  - taper: {share: 1, start: 44 mm, end: 40 mm}
  - bead:  {length: 10 mm, start: 46 mm, step: yes, divide: yes}
  - taper: {share: 1, start: 42 mm, step: yes, end: 52 mm}
  - pin:   {length: = foot_tenon, start: = foot_tenon_thick}
)"},
      {"twisted-stair", R"(design: short twist
family: baluster
sheet:
  treads: 2
  string: closed
  rail_height: 700 mm
  square: 40 mm
outline:
  - square:   {length: = top_block + head_in_rail, name: top block}
  - taper:    {share: 1, start: 34 mm, step: yes, end: 34 mm}
  - cylinder: {length: 70 mm, name: twist}
  - taper:    {share: 1, end: 34 mm}
  - square:   {length: = foot_block + foot_below, step: yes, name: foot block}
treatments:
  - twist: {from: twist, until: twist, starts: 2, pitch: 100 mm, depth: 2 mm, fade: 20 mm}
)"},
      {"own-lamp", "design: as the family\nfamily: lamp-column\nsheet:\n  lamp_height: 300 mm\n"},
      {"own-table", "design: as the family\nfamily: table-leg\nsheet:\n  table_height: 420 mm\n  table_length: 800 mm\n  table_width: 500 mm\n"}};
  return all;
}

const std::vector<Choice>& choices() {
  const std::string read_me = "READ-ME-FIRST.txt", cuts = "cut-list.csv", cost = "cost-sheet.txt";
  static const std::vector<Choice> all = {
      {"hook_plates", "bed", {{"side_joint", "hook plates"}, {"headboard_joint", "groove"}, {"headboard_height", "340 mm"}}, {"head-post-piece-1-joints.nc"}, {{cost, "4 at 6.50"}}},
      {"all_bolted", "bed", {{"end_joint", "bolts"}, {"tenon_length", "12 mm"}, {"headboard_joint", "mortises"}, {"headboard_height", "340 mm"}, {"finials", "on a pin"}},
       {"finial-turning.nc", "head-post-piece-1-joints.nc"}, {{read_me, "8 bolts with nuts and covers"}, {cuts, "\"finial, turned\",4"}}},
      {"closed_string", "stair", {{"string", "closed"}, {"handrail", "made here"}}, {"baluster-turning.nc"},
       {{read_me, "foot sawn alike, long point down the stair"}, {cuts, "shoe rail, by the run"}, {cuts, "fillet in the shoe rail's plough,7"}}},
      {"dovetailed_feet", "stair", {{"foot", "dovetail"}, {"difference", "foot block"}}, {"first-baluster-turning.nc", "second-baluster-turning.nc"},
       {{read_me, "foot a dovetail 28 mm long, cut at the bench"}, {read_me, "long point on face D at the end of the piece"}}},
      {"pins_at_both_ends", "stair", {{"top", "pin"}, {"difference", "turning"}}, {"first-baluster-turning.nc"}, {{read_me, "head pinned 25 mm into the handrail, foot pinned 30 mm into the tread"}}},
      {"ploughed", "lamp", {{"way", "ploughed"}, {"stock", "cherry-8/4-rough"}}, {"column-turning.nc"},
       {{read_me, "mill the blank as two halves, run a groove 5.5 mm deep along the middle of each"}, {cuts, "glue up 2 pieces of 28 mm, glue line through the centres"}, {cost, "8 x 7 min"}}},
      {"stacked", "lamp", {{"way", "stacked"}}, {"column-upper-turning.nc", "column-lower-turning.nc"}, {{cuts, "\"upper section, turned\",2"}, {read_me, "bore the sockets after turning"}}},
      {"cord_out_of_the_column", "lamp", {{"cord_exit", "column"}, {"pipe", "none"}}, {"column-turning.nc"}, {{read_me, "face C, for cord: hole 10 mm wide"}}},
      {"metric_pipe", "lamp", {{"pipe", "M10x1"}, {"lamps", "1"}}, {"column-turning.nc"}, {{read_me, "a rod of M10x1 pipe, 10 mm outside"}, {read_me, "plug both ends for the centres"}}},
      {"twisted_pairs", "twisted-stair", {{"mirrored_pairs", "yes"}}, {"baluster-turning-1.nc", "baluster-turning-2.nc"},
       {{read_me, "it winds the other way than"}}},
      {"fluted_column", "own-lamp", {{"shaft_work", "fluted"}, {"channels", "6"}, {"channel_width", "9 mm"}, {"channel_depth", "2 mm"}, {"stop_short", "24 mm"}}, {"column-turning.nc"}, {}},
      {"octagonal_legs", "own-table", {{"shaft_work", "octagonal"}}, {"leg-turning.nc"}, {}}};
  return all;
}

void put(const fs::path& path, const std::string& text) {
  fs::create_directories(path.parent_path());
  std::ofstream(path, std::ios::binary) << text;
}

std::string order_of(const Choice& choice) {
  std::string text = "order: Choice\nnumber: \"1\"\nunits: mm\ndesign: " + choice.design + "\nmachine: rotary-degrees\ncutter: ball-10\ncusp: 0.4 mm\nthin_stubs: yes\nsheet:\n";
  for (const auto& [measure, value] : choice.sheet) text += "  " + measure + ": " + value + "\n";
  return text;
}

// Line ends and runs of blanks as one blank.
std::string flowing(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const bool blank = c == ' ' || c == '\n';
    if (!blank || out.empty() || out.back() != ' ') out += blank ? ' ' : c;
  }
  return out;
}

class WholeChoice : public ::testing::TestWithParam<std::size_t> {};

TEST_P(WholeChoice, IsMadeAndSaid) {
  const Choice& choice = choices()[GetParam()];
  const Scratch scratch;
  const House house;
  for (const auto& [name, text] : house.files.files()) put(scratch / "house" / name, text);
  put(scratch / ("house/catalog/designs/" + choice.design + ".yaml"), designs().at(choice.design));
  const fs::path order = scratch / "house/catalog/orders/choice.yaml";
  put(order, order_of(choice));
  const Ended ended = pommel({"make", order.string(), "--into", (scratch / "job").string()});
  ASSERT_EQ(ended.code, 0) << ended.err;
  const auto files = contents(scratch / "job");
  for (const std::string& program : choice.programs) EXPECT_TRUE(files.contains("programs/" + program)) << program;
  for (const Said& one : choice.said) {
    ASSERT_TRUE(files.contains(one.file)) << one.file;
    EXPECT_NE(flowing(files.at(one.file)).find(one.text), std::string::npos) << one.file << " does not say: " << one.text << "\n" << files.at(one.file);
  }
}

INSTANTIATE_TEST_SUITE_P(Families, WholeChoice, ::testing::Range<std::size_t>(0, choices().size()), [](const auto& of) { return choices()[of.param].name; });

}  // namespace
}  // namespace pommel::whole
