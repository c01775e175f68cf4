// What a machine says of itself, and what is said of contradictions in it.
#include <gtest/gtest.h>

#include <set>

#include "base/files.h"
#include "shop/read.h"

namespace pommel::shop {
namespace {

std::string catalog_text() { return *real_files()->read(std::filesystem::path(POMMEL_SOURCE_DIR) / "catalog" / "shop" / "machines.yaml"); }

Shop read(const std::string& text, Sink& sink) {
  Shop shop;
  read_machines(text, "machines.yaml", shop, sink);
  return shop;
}

/// The catalog's text with one line's words changed behind the line "  <machine>:".
std::string harmed(const std::string& machine, const std::string& from, const std::string& to) {
  std::string text = catalog_text();
  const std::size_t begin = text.find("\n  " + machine + ":\n"), at = text.find(from, begin);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

// Six machines that need six different things of a program.
TEST(Machines, OfTheCatalogDifferInWhatTheyNeed) {
  Sink sink;
  const Shop shop = read(catalog_text(), sink);
  ASSERT_TRUE(sink.all().empty()) << render(sink.all());
  EXPECT_GE(shop.machines.size(), 6u);
  std::set<Machine::Feed> feeds;
  std::set<Machine::Counting> countings;
  std::set<bool> inches, sideways, locks, senses, ends, files, resets;
  for (const auto& [id, machine] : shop.machines) {
    feeds.insert(machine.feed);
    countings.insert(machine.counting);
    inches.insert(machine.inches);
    sideways.insert(machine.has_free_y());
    locks.insert(!machine.lock.empty());
    senses.insert(machine.rotary_sense > 0);
    ends.insert(machine.head_at_chuck);
    files.insert(machine.file_a_cutter);
    resets.insert(!machine.reset.empty());
    EXPECT_FALSE(machine.confirmed) << id;
    EXPECT_FALSE(machine.setting_surface.empty()) << id << ": an axis cannot be touched off";
    EXPECT_TRUE(machine.file_a_cutter || !machine.tool_change.empty()) << id;
  }
  EXPECT_EQ(feeds.size(), 3u);
  EXPECT_EQ(countings.size(), 3u);
  for (const auto* both : {&inches, &sideways, &locks, &senses, &ends, &files, &resets}) EXPECT_EQ(both->size(), 2u);
}

TEST(Machines, FiguresAreReadInMillimetres) {
  Sink sink;
  const Shop shop = read(catalog_text(), sink);
  const Machine& machine = shop.machines.at("rotary-inches");
  EXPECT_TRUE(machine.inches);
  EXPECT_DOUBLE_EQ(machine.x_max, 1524);
  EXPECT_DOUBLE_EQ(machine.setting_height, -127);
  EXPECT_DOUBLE_EQ(machine.setting_gauge, 25.4);
  EXPECT_DOUBLE_EQ(machine.largest_file, 60e6);
  EXPECT_EQ(machine.rotary_limit_turns, 250);
  EXPECT_EQ(machine.counting, Machine::Counting::limited);
}

TEST(Machines, ContradictionsAreSaid) {
  struct Row { const char *machine, *from, *to, *says; };
  const Row table[] = {
      {"rotary-degrees", "z: Z", "z: X", "two axes of this machine share the word X"},
      {"rotary-degrees", "rotary: A}", "rotary: Y}", "Y"},
      {"rotary-degrees", "counting: unbounded", "counting: limited", "limited to how many turns?"},
      {"rotary-degrees", "counting: unbounded", "counting: unbounded\n    rotary_limit_turns: 5", "this belongs to counting: limited alone"},
      {"rotary-degrees", ", y: [-150 mm, 150 mm]", "", "this travel has no 'y'"},
      {"rotary-degrees", "y: Y, ", "", "'y' is no entry of a travel"},
      {"rotary-for-y", "feed: per minute", "feed: surface\n    feed_diameter: 50 mm", "an unrolled rotary counts on its own surface already"},
      {"rotary-for-y", "rotary_word: falls", "rotary_word: falls\n    counting: modulo 360", "do not begin again at 360"},
      {"rotary-for-y", "files: one a cutter", "files: one a cutter\n    tool_change: [\"M6\"]", "there is no change of cutter inside a file"},
      {"rotary-inches", "G92 {rotary}", "G92 A0", "the reset does not say the new count"},
      {"rotary-inches", "rotary_limit_turns: 250", "rotary_limit_turns: 1", "at least two turns to run in"},
      {"rotary-lock", "    unlock: [\"M11\"]\n", "", "a rotary is held and freed: one of the two is missing"},
      {"rotary-surface-feed", "    feed_diameter: 50 mm\n", "", "no 'feed_diameter'"},
      {"rotary-surface-feed", "[-120 mm, 1250 mm]", "[1250 mm, -120 mm]", "'x' ends before it begins"},
  };
  for (const Row& row : table) {
    Sink sink;
    read(harmed(row.machine, row.from, row.to), sink);
    EXPECT_TRUE(sink.has_errors()) << row.to;
    EXPECT_NE(render(sink.all()).find(row.says), std::string::npos) << row.to << "\n" << render(sink.all());
  }
}

}  // namespace
}  // namespace pommel::shop
