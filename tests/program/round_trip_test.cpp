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
  const Program program = read(text, "p", sink);
  if (sink.has_errors()) return Failure(sink.all());
  return replay(program, machine, "p");
}

/// What F counts in G94 (NISTIR 6556, 2.1.2.5), in words of the machine.
double counted_length(const motion::Position& from, const motion::Position& to, const shop::Machine& m) {
  const double straight = std::hypot(to.x - from.x, to.y - from.y, to.z - from.z), turn = std::abs(to.a - from.a);
  if (m.rotary == shop::Machine::Rotary::unrolled_mm) return std::hypot(straight, turn * m.unrolled_diameter / 2);
  return straight > 0 ? straight : turn * 180 / std::numbers::pi;
}

void expect_same(const motion::Path& want, const motion::Path& got, const shop::Machine& m) {
  const double half = 0.5 * std::pow(10.0, -m.x_decimals) + 1e-9;
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
    const double counted = m.feed == shop::Machine::Feed::inverse_time
                               ? 1
                               : counted_length(i == 0 ? got.start : got.moves[i - 1].to, b.to, m);
    EXPECT_NEAR(counted / a.minutes, counted / b.minutes, 0.5001 * std::pow(10.0, -m.feed_decimals)) << "move " << i;
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
