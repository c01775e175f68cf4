// A stopped program goes on at each of its stages: its text shortened as the set-up sheet says is read and replayed, and cuts what the whole text cuts from there.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "program/reader.h"
#include "program/replay.h"
#include "program/writer.h"
#include "whole/house.h"

namespace pommel::job {
namespace {

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  for (std::size_t from = 0, to; (to = text.find('\n', from)) != text.npos; from = to + 1) out.push_back(text.substr(from, to - from));
  return out;
}

bool begins(const std::string& line, std::string_view with) { return line.starts_with(with); }

// Lines up to the first stage of the text, those from its cutter's name to that cutter's first stage where it is a later one, and all from `stage` on.
std::string shortened(const std::vector<std::string>& lines, std::size_t stage) {
  std::string out;
  std::size_t at = 0;
  for (; !begins(lines[at], "(stage: "); ++at) out += lines[at] + "\n";
  std::size_t cutter = stage;
  while (cutter > at && !begins(lines[cutter], "(cutter: ")) --cutter;
  if (cutter > at)
    for (; !begins(lines[cutter], "(stage: "); ++cutter) out += lines[cutter] + "\n";
  for (; stage < lines.size(); ++stage) out += lines[stage] + "\n";
  return out;
}

std::vector<motion::Move> cuts_of(const std::string& text, const shop::Machine& machine) {
  Sink sink;
  const auto program = program::read(text, "shortened", sink, program::read_options(machine));
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  const auto replayed = program::replay(program, machine);
  EXPECT_TRUE(replayed.ok()) << render(replayed.reasons());
  std::vector<motion::Move> out;
  if (!replayed.ok()) return out;
  for (const motion::Path& path : replayed->paths)
    for (const motion::Move& move : path.moves)
      if (!move.rapid) out.push_back(move);
  return out;
}

// The last cuts of `whole`; angles but for whole turns.
void expect_same_end(const std::vector<motion::Move>& whole, const std::vector<motion::Move>& end, const std::string& where) {
  ASSERT_LE(end.size(), whole.size()) << where;
  const double turns = whole.back().to.a - end.back().to.a;
  EXPECT_NEAR(std::remainder(turns, 2 * std::numbers::pi), 0, 1e-9) << where;
  for (std::size_t i = 1; i <= end.size(); ++i) {
    const motion::Move &p = whole[whole.size() - i], &q = end[end.size() - i];
    ASSERT_TRUE(p.to.x == q.to.x && p.to.y == q.to.y && p.to.z == q.to.z) << where << ", " << i << " before the end";
    ASSERT_NEAR(p.to.a - q.to.a, turns, 1e-9) << where << ", " << i << " before the end";
    ASSERT_NEAR(p.minutes, q.minutes, 1e-9 * p.minutes) << where << ", " << i << " before the end";
  }
}

int goes_on_at_each_stage(const std::string& text, const shop::Machine& machine) {
  const auto lines = lines_of(text);
  const auto whole = cuts_of(text, machine);
  int stages = 0;
  for (std::size_t at = 0; at < lines.size(); ++at) {
    if (!begins(lines[at], "(stage: ")) continue;
    const auto after = static_cast<std::size_t>(std::count_if(whole.begin(), whole.end(), [&](const motion::Move& move) { return move.line > static_cast<int>(at) + 1; }));
    const auto end = cuts_of(shortened(lines, at), machine);
    EXPECT_EQ(end.size(), after) << lines[at];
    if (!end.empty()) expect_same_end(whole, end, machine.id + " " + lines[at]);
    ++stages;
  }
  return stages;
}

int goes_on(const std::vector<motion::Path>& paths, const shop::Machine& machine) {
  program::Header header;
  header.program = "leg";
  int stages = 0;
  for (std::size_t file = 0; file < file_count(paths, machine); ++file) {
    const auto text = write_file(paths, machine, file, header);
    EXPECT_TRUE(text.ok()) << machine.id << render(text.reasons());
    if (text.ok()) stages += goes_on_at_each_stage(*text, machine);
  }
  return stages;
}

TEST(ReEntry, AStoppedProgramGoesOnAtEachOfItsStages) {
  Loaded of = whole::House().load("catalog/designs/low-table.yaml");
  of.order.emplace();
  for (const auto& [id, machine] : of.shop.machines) {
    of.order->machine = id, of.order->cutter = "ball-8", of.order->cusp = 0.2, of.order->rough = "bull-nose-12";
    Sink sink;
    const auto sheet = family::make_sheet(of.family, of.design, &*of.order, of.shop, {}, sink);
    const auto column = run_column(of, sheet, sheet.column_count() - 1, {});
    ASSERT_TRUE(column.ok()) << id << render(column.reasons());
    for (const auto& turning : column->turnings) EXPECT_GE(goes_on(turning->paths, machine), 3) << id;
    // two cutters, in one file or in two, however the machine counts
    const auto programs = write_and_prove(column->requests.front(), *column->turnings.front(), {}, {});
    ASSERT_TRUE(programs.ok()) << id << render(programs.reasons());
    EXPECT_EQ(programs->size(), machine.file_a_cutter ? 2u : 1u) << id;
    for (const Program& program : *programs) EXPECT_TRUE(program.proof.passed()) << id << "\n" << proof::report(program.proof);
    for (const JointWork& work : column->joints) {
      if (!work.on_machine()) continue;
      EXPECT_GE(goes_on(work.plan.paths, machine), 2) << id;
    }
  }
}

// Of a round blank the witness flat is one of the stages.
TEST(ReEntry, ARoundBlanksProgramGoesOnAtItsWitnessFlatAndAfterIt) {
  Loaded of = whole::House().load("catalog/designs/low-table.yaml");
  of.order.emplace();
  for (const char* id : {"rotary-degrees", "rotary-for-y"}) {
    of.order->machine = id, of.order->cutter = "ball-8", of.order->cusp = 0.2;
    Sink sink;
    const auto sheet = family::make_sheet(of.family, of.design, &*of.order, of.shop, whole::entries({{"blank_form", "round"}}), sink);
    const auto column = run_column(of, sheet, sheet.column_count() - 1, {});
    ASSERT_TRUE(column.ok()) << id << render(column.reasons());
    for (const auto& turning : column->turnings) {
      ASSERT_FALSE(turning->stretches.empty()) << id;
      EXPECT_EQ(turning->stretches.front().name, "witness flat") << id;
      EXPECT_GE(goes_on(turning->paths, of.shop.machines.at(id)), 4) << id;
    }
  }
}

}  // namespace
}  // namespace pommel::job
