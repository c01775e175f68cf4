// The first program of a machine: what a scrap shows when the entry is right, and that each wrong entry shows something else.
#include "program/first_run.h"

#include <gtest/gtest.h>

#include "base/files.h"
#include "machines.h"
#include "program/replay.h"
#include "program/writer.h"
#include "shop/read.h"

namespace pommel::program {
namespace {

shop::Cutter vee() {
  shop::Cutter cutter;
  cutter.id = "vee-60";
  cutter.rpm = 18000;
  return cutter;
}

Result<Replayed> on(const std::string& text, const shop::Machine& machine) {
  Sink sink;
  const Program program = read(text, "first.nc", sink, read_options(machine));
  if (sink.has_errors()) return Failure(sink.all());
  return replay(program, machine, "first.nc");
}

/// Where the cutter stands below the skin.
std::vector<motion::Position> marks(const motion::Path& path) {
  std::vector<motion::Position> out;
  for (const motion::Move& move : path.moves)
    if (!move.rapid && move.to.z < 25) out.push_back(move.to);
  return out;
}

// All machines of the catalog can run theirs, and read back it is the same marks.
TEST(FirstRun, OnEveryMachineOfTheCatalog) {
  Sink sink;
  shop::Shop shop;
  shop::read_machines(*real_files()->read(POMMEL_SOURCE_DIR "/catalog/shop/machines.yaml"), "machines.yaml", shop, sink);
  ASSERT_GE(shop.machines.size(), 6u);
  for (const auto& [id, machine] : shop.machines) {
    const auto path = first_run(machine, vee());
    ASSERT_TRUE(path.ok()) << id << render(path.reasons());
    const auto text = write(*path, machine, {});
    ASSERT_TRUE(text.ok()) << id << render(text.reasons());
    const std::size_t comment = text->find('(');
    EXPECT_NE(text->substr(comment, text->find(')', comment) - comment).find("example"), std::string::npos) << id << *text;
    const auto got = on(*text, machine);
    ASSERT_TRUE(got.ok()) << id << render(got.reasons());
    const auto want = marks(*path), have = marks(got->paths[0]);
    ASSERT_EQ(want.size(), have.size()) << id;
    const double start = std::round((have[0].a - want[0].a) / (2 * std::numbers::pi)) * 2 * std::numbers::pi;
    for (std::size_t i = 0; i < want.size(); ++i) {
      EXPECT_NEAR(want[i].x, have[i].x, 0.002) << id;
      EXPECT_NEAR(want[i].z, have[i].z, 0.002) << id;
      EXPECT_NEAR(want[i].a + start, have[i].a, 0.0001) << id;
    }
  }
}

// The letter is no mirror image and no half-turned image of itself: every wrong setting is seen.
TEST(FirstRun, EachWrongSettingShowsAnotherPicture) {
  const shop::Machine right = degrees_machine();
  const std::string text = *write(*first_run(right, vee()), right, {});
  const auto seen = marks(on(text, right)->paths[0]);
  shop::Machine sense = right, ends = right, both = right;
  sense.rotary_sense = -right.rotary_sense;
  ends.x_towards_foot = both.x_towards_foot = false;
  ends.x_min = both.x_min = -1500;
  both.rotary_sense = -right.rotary_sense;
  for (const shop::Machine& wrong : {sense, ends, both}) {
    const auto got = on(text, wrong);
    ASSERT_TRUE(got.ok()) << render(got.reasons());
    const auto other = marks(got->paths[0]);
    ASSERT_EQ(other.size(), seen.size());
    for (std::size_t i = 0; i < seen.size(); ++i) {
      EXPECT_NEAR(other[i].a, wrong.rotary_sense == right.rotary_sense ? seen[i].a : -seen[i].a, 1e-12);
      EXPECT_NEAR(other[i].x, wrong.x_towards_foot ? seen[i].x : -seen[i].x, 1e-12);
    }
    // no mark of the letter's short arm falls on a mark of the right letter
    EXPECT_NE(other, seen);
  }
}

TEST(FirstRun, TheQuarterTurnIsAQuarterOfTheGirth) {
  const auto path = first_run(degrees_machine(), vee());
  ASSERT_TRUE(path.ok());
  const motion::Stage& stage = path->stages.back();
  double greatest = 0;
  for (std::size_t i = stage.first; i < stage.first + stage.count; ++i) greatest = std::max(greatest, path->moves[i].to.a);
  EXPECT_DOUBLE_EQ(greatest, std::numbers::pi / 2);
  EXPECT_NE(first_run_text(degrees_machine()).find("39.3 mm"), std::string::npos) << first_run_text(degrees_machine());
}

TEST(FirstRun, RefusesAScrapThatDoesNotFit) {
  for (const Scrap& scrap : {Scrap{20, 150, 0.5, 600}, Scrap{50, 100, 0.5, 600}, Scrap{50, 150, 0, 600}}) {
    shop::Machine m = degrees_machine();
    m.max_swing = 200;
    const auto path = first_run(m, vee(), scrap);
    ASSERT_FALSE(path.ok());
    EXPECT_EQ(path.reasons().front().id, "program.scrap");
  }
}

}  // namespace
}  // namespace pommel::program
