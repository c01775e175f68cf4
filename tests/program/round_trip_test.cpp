// Writer, reader and replay against each other: the text of a path means that path again within the rounding of its
// words, on every kind of machine; a text harmed in one digit means something else, or nothing.
#include <gtest/gtest.h>

#include <ctime>
#include <string>

#include "base/files.h"
#include "machines.h"
#include "program/reader.h"
#include "program/replay.h"
#include "program/writer.h"
#include "shop/read.h"

namespace pommel::program {
namespace {

Result<Replayed> meaning(const std::string& text, const shop::Machine& machine) {
  Sink sink;
  const Program program = read(text, "p", sink, read_options(machine));
  if (sink.has_errors()) return Failure(sink.all());
  return replay(program, machine, "p");
}

/// What F counts in G94 (NISTIR 6556, 2.1.2.5), in words of the machine.
double counted_length(const motion::Position& from, const motion::Position& to, const shop::Machine& m) {
  const double straight = std::hypot(to.x - from.x, to.y - from.y, to.z - from.z), turn = std::abs(to.a - from.a);
  if (m.feed == shop::Machine::Feed::surface) return std::hypot(straight, turn * m.feed_diameter / 2);
  if (m.rotary == shop::Machine::Rotary::unrolled_mm) return std::hypot(straight, turn * m.unrolled_diameter / 2);
  return straight > 0 ? straight : turn * 180 / std::numbers::pi;
}

void expect_same(const motion::Path& want, const motion::Path& got, const shop::Machine& m) {
  const double unit = m.inches ? 25.4 : 1;
  const double half = 0.5 * std::pow(10.0, -m.x_decimals) * unit + 1e-9;
  const double per_unit = m.rotary == shop::Machine::Rotary::degrees ? std::numbers::pi / 180 : 2 / m.unrolled_diameter;
  const double half_a = (0.5 * std::pow(10.0, -m.rotary_decimals) + 1e-9) * per_unit;
  const auto near = [&](const motion::Position& a, const motion::Position& b) {
    return std::abs(a.x - b.x) <= half && std::abs(a.y - b.y) <= half && std::abs(a.z - b.z) <= half &&
           std::abs(a.a - b.a) <= half_a;
  };
  EXPECT_EQ(want.cutter, got.cutter);
  EXPECT_EQ(want.rpm, got.rpm);
  EXPECT_TRUE(near(want.start, got.start));
  EXPECT_EQ(want.stages, got.stages);
  ASSERT_EQ(want.moves.size(), got.moves.size());
  for (std::size_t i = 0; i < want.moves.size(); ++i) {
    const motion::Move& a = want.moves[i];
    const motion::Move& b = got.moves[i];
    EXPECT_TRUE(near(a.to, b.to)) << "move " << i;
    EXPECT_EQ(a.rapid, b.rapid);
    // the feed word of these moves has at least four figures
    if (a.rapid) continue;
    const motion::Position& from = i == 0 ? got.start : got.moves[i - 1].to;
    const bool degrees_alone = m.rotary == shop::Machine::Rotary::degrees && m.feed == shop::Machine::Feed::per_minute &&
                               from.x == b.to.x && from.y == b.to.y && from.z == b.to.z;
    const double counted = m.feed == shop::Machine::Feed::inverse_time ? 1 : counted_length(from, b.to, m);
    const double feed_unit = m.feed == shop::Machine::Feed::inverse_time || degrees_alone ? 1 : unit;
    EXPECT_NEAR(counted / a.minutes, counted / b.minutes, 0.5001 * std::pow(10.0, -m.feed_decimals) * feed_unit) << "move " << i;
  }
}

std::vector<shop::Machine> every_machine() {
  std::vector<shop::Machine> machines;
  for (int bits = 0; bits < 32; ++bits) {
    shop::Machine m = (bits & 1) != 0 ? unrolled_machine() : degrees_machine();
    m.rotary_sense = (bits & 2) != 0 ? 1 : -1;
    m.head_at_chuck = (bits & 4) == 0;
    m.x_towards_foot = (bits & 8) == 0;
    m.feed = (bits & 16) != 0 ? shop::Machine::Feed::per_minute : shop::Machine::Feed::inverse_time;
    m.feed_decimals = m.feed == shop::Machine::Feed::inverse_time  ? 5
                      : m.rotary == shop::Machine::Rotary::degrees ? 3
                                                                   : 1;
    machines.push_back(m);
  }
  shop::Machine across = degrees_machine();  // a rotary laid along the router's Y
  across.x_word = "Y";
  across.y_word = "X";
  across.rotary_word = "B";
  across.header = {"%", "(for {program})", "G21 G90 G17 G40 G54", "M6 T1", "S{rpm} M3", "G4 P4"};
  across.footer = {"M5", "M30", "%"};
  machines.push_back(across);
  return machines;
}

TEST(RoundTrip, RandomPathsOnEveryMachine) {
  std::mt19937 rng(7);
  int trips = 0;
  for (const shop::Machine& m : every_machine()) {
    for (int round = 0; round < 20; ++round, ++trips) {
      const motion::Path path = random_path(rng, m.rotary == shop::Machine::Rotary::degrees);
      const auto text = write(path, m, {});
      ASSERT_TRUE(text.ok()) << render(text.reasons());
      const auto got = meaning(*text, m);
      ASSERT_TRUE(got.ok()) << render(got.reasons());
      ASSERT_EQ(got->paths.size(), 1u);
      expect_same(path, got->paths[0], m);
      if (HasFailure()) return;
    }
  }
  EXPECT_EQ(trips, 660);
}

// A machine described wrongly reads another path: sense, direction and diameter each matter.
TEST(RoundTrip, AnotherMachineMeansAnotherPath) {
  const shop::Machine m = unrolled_machine();
  const auto text = write(short_path(), m, {});
  ASSERT_TRUE(text.ok());
  shop::Machine turned = m, flipped = m, thicker = m;
  turned.rotary_sense = -m.rotary_sense;
  flipped.x_towards_foot = false;
  flipped.x_min = -1500;
  thicker.unrolled_diameter = 61;
  const auto straight = meaning(*text, m);
  ASSERT_TRUE(straight.ok());
  for (const shop::Machine& other : {turned, flipped, thicker}) {
    const auto got = meaning(*text, other);
    ASSERT_TRUE(got.ok()) << render(got.reasons());
    EXPECT_NE(got->paths, straight->paths);
  }
}

// The machines of the catalog, with their own header and footer lines.
TEST(RoundTrip, TheCatalogsMachines) {
  Sink sink;
  const auto text = real_files()->read(POMMEL_SOURCE_DIR "/catalog/shop/machines.yaml");
  ASSERT_TRUE(text.ok());
  shop::Shop shop;
  shop::read_machines(*text, "machines.yaml", shop, sink);
  ASSERT_FALSE(sink.has_errors()) << render(sink.all());
  ASSERT_GE(shop.machines.size(), 2u);
  for (const auto& [id, machine] : shop.machines) {
    motion::Path path = short_path();
    path.rpm = machine.max_rpm;
    for (motion::Move& move : path.moves) move.minutes *= 2;
    const auto program = write(path, machine, {});
    ASSERT_TRUE(program.ok()) << id << "\n" << render(program.reasons());
    const auto got = meaning(*program, machine);
    ASSERT_TRUE(got.ok()) << id << "\n" << render(got.reasons());
    EXPECT_TRUE(got->warnings.empty()) << render(got->warnings);
    ASSERT_EQ(got->paths.size(), 1u);
    expect_same(path, got->paths[0], machine);
  }
}

/// Every digit outside comments, changed to every other digit; that of M5 left out, since M2 stops the spindle anyway.
TEST(RoundTrip, OneHarmedDigitIsNeverTheSamePath) {
  for (const shop::Machine& m : {degrees_machine(), unrolled_machine()}) {
    const auto written = write(short_path(), m, {});
    ASSERT_TRUE(written.ok());
    const auto whole = meaning(*written, m);
    ASSERT_TRUE(whole.ok()) << render(whole.reasons());
    int harmed = 0;
    bool comment = false;
    for (std::size_t i = 0; i < written->size(); ++i) {
      const char c = (*written)[i];
      if (c == '(') comment = true;
      if (c == ')') comment = false;
      if (comment || c < '0' || c > '9' || written->substr(i - 1, 3) == "M5\n") continue;
      for (char other = '0'; other <= '9'; ++other) {
        if (other == c) continue;
        std::string text = *written;
        text[i] = other;
        const auto got = meaning(text, m);
        ++harmed;
        EXPECT_TRUE(!got.ok() || got->paths != whole->paths) << "byte " << i << " to " << other << "\n" << text;
      }
    }
    EXPECT_GT(harmed, 300);
  }
}

/// A line lost, doubled or cut short is another program.
TEST(RoundTrip, ALostLineIsNeverTheSamePath) {
  const shop::Machine m = degrees_machine();
  const std::string text = write(short_path(), m, {}).value();
  const auto whole = meaning(text, m);
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = text.find('\n', begin) + 1;
    const std::string line = text.substr(begin, end - begin);
    const auto got = meaning(text.substr(0, begin) + text.substr(end), m);
    const bool free =
        (line.starts_with("(") && !line.starts_with("(stage") && !line.starts_with("(cutter:")) || line == "M5\n";
    EXPECT_TRUE(free || !got.ok() || got->paths != whole->paths) << line;
    begin = end;
  }
  EXPECT_FALSE(meaning(text.substr(0, text.size() / 2), m).ok());
}

/// A spiral of `turns` turns towards the foot and back, a move every `step` turns.
motion::Path spiral(int turns, double step) {
  motion::Path path;
  path.cutter = "ball-6";
  path.rpm = 18000;
  path.start = {0, 0, 60, 0};
  const int moves = static_cast<int>(turns / step);
  for (int i = 1; i <= moves; ++i) {
    const double t = static_cast<double>(i) / moves;
    path.moves.push_back({{900 * (1 - std::abs(1 - 2 * t)), 0, 30 + 10 * std::cos(40 * t), 2 * std::numbers::pi * turns * t}, false, step / 6, 0});
  }
  path.moves.push_back({{0, 0, 60, path.moves.back().to.a}, true, 0, 0});
  return path;
}

// A spiral of 1200 turns ends at 432000 degrees: every digit is held, and a count that is limited or begins anew at 360 comes to
// the same places without turning back.
TEST(RoundTrip, ALongSpiralHoldsEveryDigit) {
  const motion::Path path = spiral(1200, 0.3);
  std::vector<shop::Machine> machines(4, degrees_machine());
  machines[1].counting = machines[2].counting = shop::Machine::Counting::limited;
  machines[1].rotary_limit_turns = 100;
  machines[1].reset = {"G92 {rotary}"};
  machines[2] = unrolled_machine();
  machines[2].counting = shop::Machine::Counting::limited;
  machines[2].rotary_limit_turns = 7.5;
  machines[2].reset = {"(the count begins anew)", "G92 {rotary}"};
  machines[3].counting = shop::Machine::Counting::modulo;
  for (const shop::Machine& m : machines) {
    const auto text = write(path, m, {});
    ASSERT_TRUE(text.ok()) << render(text.reasons());
    const auto got = meaning(*text, m);
    ASSERT_TRUE(got.ok()) << render(got.reasons());
    expect_same(path, got->paths[0], m);
    EXPECT_NEAR(got->paths[0].moves.back().to.a, 2 * std::numbers::pi * 1200, 2e-5);
  }
  EXPECT_NE(write(path, machines[0], {})->find("A-432000"), std::string::npos);
  EXPECT_EQ(write(path, machines[1], {})->find("A-432000"), std::string::npos);
}

// Half a turn and more on a count that begins anew at 360: in parts, and the right way round.
TEST(RoundTrip, LargeTurnsOnAModuloCount) {
  shop::Machine m = degrees_machine();
  m.counting = shop::Machine::Counting::modulo;
  motion::Path path = short_path();
  path.moves = {{{-5, 0, 60, 3 * std::numbers::pi}, true, 0, 0}, {{95, 0, 60, -2 * std::numbers::pi}, false, 0.5, 0}};
  path.stages.clear();
  const auto text = write(path, m, {});
  ASSERT_TRUE(text.ok()) << render(text.reasons());
  const auto got = meaning(*text, m);
  ASSERT_TRUE(got.ok()) << render(got.reasons());
  double minutes = 0;
  for (const motion::Move& move : got->paths[0].moves) minutes += move.minutes;
  EXPECT_NEAR(minutes, 0.5, 1e-3);
  EXPECT_NEAR(got->paths[0].moves.back().to.a, -2 * std::numbers::pi, 1e-9);
  EXPECT_EQ(text->find("A-", text->find("G21")), std::string::npos) << *text;
  for (const char* wrong : {"A180", "A-90", "A360"}) {
    const auto refused = meaning(std::string("G21 G90 G94\nG0 Z60\nX0 Y0 A0\n") + wrong + "\nM2\n", m);
    ASSERT_FALSE(refused.ok()) << wrong;
    EXPECT_EQ(refused.reasons().front().id, "program.modulo") << wrong;
  }
}

// Indexed work stands between the brake's words; a text that turns in between is refused.
TEST(RoundTrip, TheBrakeHoldsIndexedWork) {
  shop::Machine m = degrees_machine();
  m.lock = {"M10"};
  m.unlock = {"M11"};
  motion::Path path = short_path();
  const double quarter = std::numbers::pi / 2;
  path.moves = {{{100, 0, 60, quarter}, true, 0, 0}, {{100, 0, 20, quarter}, false, 0.1, 0}, {{120, 2, 20, quarter}, false, 0.1, 0},
                {{120, 2, 60, quarter}, true, 0, 0}, {{120, 2, 60, 0}, true, 0, 0}};
  path.stages = {{"mortise", 0, 5, true}};
  const auto text = write(path, m, {});
  ASSERT_TRUE(text.ok()) << render(text.reasons());
  EXPECT_NE(text->find("X100 A-90\nM10\nG1 Z20 F10\nX120 Y2 F10\nG0 Z60\nM11\nA0\n"), std::string::npos) << *text;
  const auto got = meaning(*text, m);
  ASSERT_TRUE(got.ok()) << render(got.reasons());
  expect_same(path, got->paths[0], m);
  std::string harmed = *text;
  harmed.erase(harmed.find("M11\n"), 4);
  const auto refused = meaning(harmed, m);
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.reasons().front().id, "program.locked");
  shop::Machine none = degrees_machine();
  EXPECT_FALSE(meaning(*text, none).ok()) << "a machine without a brake knows no M10";
}

// Two cutters: one text with the change between, or a file for each.
TEST(RoundTrip, SeveralCutters) {
  shop::Machine m = degrees_machine();
  std::vector<motion::Path> paths{short_path(), short_path()};
  paths[1].cutter = "flat-8";
  paths[1].rpm = 16000;
  EXPECT_EQ(write_all(paths, m, {}).reasons().front().id, "program.tool-change");
  m.tool_change = {"M5", "M6 T{tool}", "S{rpm} M3"};
  const auto one = write_all(paths, m, {});
  ASSERT_TRUE(one.ok()) << render(one.reasons());
  ASSERT_EQ(one->size(), 1u);
  EXPECT_NE(one->front().find("(cutter: flat-8)\nM5\nM6 T2\nS16000 M3\n"), std::string::npos) << one->front();
  const auto got = meaning(one->front(), m);
  ASSERT_TRUE(got.ok()) << render(got.reasons());
  ASSERT_EQ(got->paths.size(), 2u);
  EXPECT_EQ(got->paths[0].cutter, "ball-6");
  EXPECT_EQ(got->paths[1].cutter, "flat-8");
  EXPECT_EQ(got->paths[1].rpm, 16000);
  EXPECT_EQ(got->paths[1].moves.back().to, got->paths[0].moves.back().to);
  m.file_a_cutter = true;
  const auto two = write_all(paths, m, {});
  ASSERT_TRUE(two.ok());
  ASSERT_EQ(two->size(), 2u);
  for (std::size_t i = 0; i < 2; ++i) {
    const auto each = meaning((*two)[i], m);
    ASSERT_TRUE(each.ok()) << render(each.reasons());
    expect_same(paths[i], each->paths[0], m);
  }
  const Figures figures = figures_of(one->front(), paths);
  EXPECT_EQ(figures.bytes, one->front().size());
  EXPECT_NEAR(figures.turns, 0.5, 1e-12);
  EXPECT_NEAR(figures.busiest, 1 / (60 * 0.1), 1e-12);
  m.largest_file = 100;
  EXPECT_EQ(write_all(paths, m, {}).reasons().front().id, "program.too-large");
}

// A million lines are written and read in well under a second each; the limit is generous, for slow and busy machines.
TEST(RoundTrip, AMillionLines) {
  motion::Path path;
  path.cutter = "ball-6";
  path.rpm = 18000;
  path.start = {0, 0, 60, 0};
  path.moves.reserve(1'000'000);
  for (int i = 1; i <= 1'000'000; ++i) {
    const double t = i * 0.001;
    path.moves.push_back({{650 - 650 * std::cos(t), 0, 40 + 20 * std::cos(3 * t), 0.02 * t}, false, 0.0005, 0});
  }
  const shop::Machine m = degrees_machine();
  const auto seconds = [](std::clock_t since) {
    return static_cast<double>(std::clock() - since) / CLOCKS_PER_SEC;
  };  // of work
  std::clock_t from = std::clock();
  const auto text = write(path, m, {});
  const double writing = seconds(from);
  ASSERT_TRUE(text.ok()) << render(text.reasons());
  from = std::clock();
  Sink sink;
  const Program program = read(*text, "p", sink);
  const double reading = seconds(from);
  ASSERT_FALSE(sink.has_errors());
  from = std::clock();
  const auto got = replay(program, m);
  const double replaying = seconds(from);
  ASSERT_TRUE(got.ok()) << render(got.reasons());
  EXPECT_GT(got->paths[0].moves.size(), 990'000u);
  RecordProperty("write_ms", static_cast<int>(writing * 1000));
  RecordProperty("read_ms", static_cast<int>(reading * 1000));
  RecordProperty("replay_ms", static_cast<int>(replaying * 1000));
  EXPECT_LT(reading, 5);
}

}  // namespace
}  // namespace pommel::program
