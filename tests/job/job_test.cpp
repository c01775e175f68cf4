// The walk itself: what is remembered, what is said before work begins, the keys of the JSON, the lines shown beside a place.
#include <gtest/gtest.h>

#include <algorithm>

#include <nlohmann/json.hpp>

#include "job/job.h"
#include "job/show.h"
#include "whole/house.h"

namespace pommel::job {
namespace {

// The design of a small leg alone.
Loaded small_leg() { return whole::House().load("catalog/designs/low-table.yaml"); }

std::pair<std::string, sheet::Entry> entry(const std::string& name, const std::string& text) {
  std::pair<std::string, sheet::Entry> out;
  out.first = name;
  out.second.text = text;
  return out;
}

sheet::Sheet sheet_of(const Loaded& of, const std::string& name, const std::string& text) {
  Sink sink;
  std::vector<std::pair<std::string, sheet::Entry>> extra;
  if (!name.empty()) extra.push_back(entry(name, text));
  auto out = family::make_sheet(of.family, of.design, nullptr, of.shop, extra, sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  return out;
}

TEST(Memo, AnEqualRequestIsNotWorkedAgainAChangedOneIs) {
  const Loaded of = small_leg();
  TurningMemo memo;
  Options options;
  options.memo = &memo;
  struct Step {
    const char *name, *text;
    std::size_t computed, recalled;
  };
  // spares and rails do not touch the turning; the height does; and what was worked once is kept
  for (const Step& step : {Step{"", "", 1, 0}, Step{"spares", "3", 1, 1}, Step{"short_rail_depth", "52 mm", 1, 2}, Step{"table_height", "381 mm", 2, 2}, Step{"", "", 2, 3}}) {
    const auto sheet = sheet_of(of, step.name, step.text);
    const auto column = run_column(of, sheet, sheet.column_count() - 1, options);
    ASSERT_TRUE(column.ok()) << render(column.reasons());
    EXPECT_EQ(memo.computed(), step.computed) << step.name;
    EXPECT_EQ(memo.recalled(), step.recalled) << step.name;
  }
}

// The order stands over the design, the design over the family; none of them, and they are not asked for.
TEST(Turnings, ThinStubsAreAskedForByWhatStandsNearest) {
  struct Case {
    std::optional<bool> family, design, order;
    bool asked;
  };
  const std::optional<bool> none;
  for (const Case& one : {Case{none, none, none, false}, Case{true, none, none, true}, Case{true, false, none, false}, Case{true, false, true, true}, Case{true, none, false, false}, Case{none, true, none, true}}) {
    Loaded of = small_leg();
    of.family.thin_stubs = one.family;
    of.design.thin_stubs = one.design;
    if (one.order) {
      of.order.emplace();
      of.order->machine = "rotary-degrees", of.order->cutter = "ball-8", of.order->thin_stubs = one.order;
    }
    const auto sheet = sheet_of(of, "", "");
    const auto column = run_column(of, sheet, sheet.column_count() - 1, {});
    ASSERT_TRUE(column.ok()) << render(column.reasons());
    EXPECT_EQ(column->requests.front().thin_stubs, one.asked);
  }
}

// A leg with mortises is turned and jointed in one hold, and the next leg begins with the first cutter again; the spare is turned alone.
TEST(Run, ChangesOfCutterAreThoseOfOneHoldRoundAndRound) {
  struct Case {
    const char* rough;
    family::Joints joints;
    int legs, spare;
  };
  for (const Case& one : {Case{"", family::Joints::bench, 0, 0}, Case{"", family::Joints::machine, 2, 0}, Case{"bull-nose-12", family::Joints::bench, 2, 2},
                          Case{"bull-nose-12", family::Joints::machine, 3, 2}}) {
    Loaded of = small_leg();
    of.order.emplace();
    of.order->machine = "rotary-degrees", of.order->cutter = "ball-8", of.order->rough = one.rough, of.order->joints = one.joints;
    const auto sheet = sheet_of(of, "spares", "1");
    const auto column = run_column(of, sheet, sheet.column_count() - 1, {});
    ASSERT_TRUE(column.ok()) << render(column.reasons());
    EXPECT_EQ(column->cutter_changes, 4 * one.legs + one.spare) << one.rough;
    EXPECT_EQ(column->work.cutter_changes, column->cutter_changes);
  }
}

// Each figure that decides a plan is in its key.
TEST(Memo, TheKeyKnowsEveryFigure) {
  const Loaded of = small_leg();
  const auto sheet = sheet_of(of, "", "");
  const auto column = run_column(of, sheet, 0, {});
  ASSERT_TRUE(column.ok()) << render(column.reasons());
  const TurningRequest request = column->requests.front();
  std::vector<std::string> keys{request.key()};
  EXPECT_EQ(TurningRequest(request).key(), keys.front());
  using Change = void (*)(TurningRequest&);
  const Change changes[] = {
      [](TurningRequest& r) { r.blank.x1 += 1e-9; },          [](TurningRequest& r) { r.blank.size += 1; },
      [](TurningRequest& r) { r.tolerance.bow += 0.1; },      [](TurningRequest& r) { r.cutter.diameter += 1e-9; },
      [](TurningRequest& r) { r.cutter.chip_load *= 2; },     [](TurningRequest& r) { r.machine.feed_max += 1; },
      [](TurningRequest& r) { r.machine.keep_out += 1; },     [](TurningRequest& r) { r.turned.outline.pieces.back().r1 += 0.01; },
      [](TurningRequest& r) { r.machine.rotary_sense *= -1; }, [](TurningRequest& r) { r.blank.flats_finished = !r.blank.flats_finished; }};
  for (const Change change : changes) {
    TurningRequest other = request;
    change(other);
    keys.push_back(other.key());
  }
  std::sort(keys.begin(), keys.end());
  EXPECT_EQ(std::adjacent_find(keys.begin(), keys.end()), keys.end());
}

// The demo's leg has neither reeds nor a twist: their measures change with the square, and nobody is told so.
TEST(Summary, ListsNoMeasureThatNothingReads) {
  const Loaded of = small_leg();
  const auto sheet = sheet_of(of, "square", "60 mm");
  const std::size_t column = sheet.column_count() - 1;
  ASSERT_NE(*sheet.value("reed_depth", family::kCatalogue), *sheet.value("reed_depth", column));
  for (const char* idle : {"reed_depth", "strand_pitch", "channel_width"}) EXPECT_FALSE(is_of_use(sheet, idle, column)) << idle;
  for (const char* used : {"square", "table_height", "tenon_length"}) EXPECT_TRUE(is_of_use(sheet, used, column)) << used;
}

TEST(Run, WhatCannotBeMadeIsSaidBeforeTheMillWorks) {
  TurningMemo memo;
  Options options;
  options.memo = &memo;
  std::vector<std::string> stages;
  options.progress = [&](const std::string& stage, const std::string&) { stages.push_back(stage); };
  const auto job = run(small_leg(), {entry("square", "68 mm"), entry("stock", "cherry-10/4-rough")}, options);
  ASSERT_FALSE(job.ok());
  EXPECT_EQ(job.reasons().front().id, "stock.needs-glue-up");
  EXPECT_EQ(memo.computed(), 0u);
  EXPECT_TRUE(stages.empty());
}

TEST(Run, AStopIsCancelledAndNothingElse) {
  std::stop_source stop;
  stop.request_stop();
  Options options;
  options.stop = stop.get_token();
  const auto job = run(small_leg(), {}, options);
  ASSERT_FALSE(job.ok());
  EXPECT_EQ(render(job.reasons()), "error: stopped before it was done [cancelled]\n");
}

TEST(Json, KeysOfASheetAndOfProblems) {
  const auto sheet = nlohmann::ordered_json::parse(sheet_json(sheet_of(small_leg(), "spares", "2")));
  ASSERT_EQ(sheet.at("columns").size(), 2u);
  const auto& column = sheet.at("columns")[1];
  EXPECT_EQ(column.at("name").get<std::string>(), "order");
  EXPECT_EQ(column.at("measures").at("spares").get<double>(), 2);
  EXPECT_EQ(column.at("measures").at("drawer_front").get<bool>(), false);
  EXPECT_TRUE(column.at("outcomes").at("price").is_null()) << "not known before it was made";

  Diagnostic what = fail("a.b", "bad \"byte\" \xff", "mend it", {"f.yaml", 3, 4}, "x").reasons.front();
  const auto found = nlohmann::ordered_json::parse(diagnostics_json({what}));
  ASSERT_EQ(found.size(), 1u);
  std::vector<std::string> keys;
  for (const auto& [key, value] : found[0].items()) keys.push_back(key);
  EXPECT_EQ(keys, (std::vector<std::string>{"severity", "id", "message", "remedy", "file", "line", "column", "read"}));
}

TEST(Lines, AreShownBesideAPlaceThatHasNone) {
  const std::map<std::string, std::string> texts{{"f.yaml", "one\ntwo\r\nthree"}};
  const auto at = [](const char* file, int line) {
    Diagnostic what;
    what.place = {file, line, 1};
    return what;
  };
  const auto found = with_lines(texts, {at("f.yaml", 2), at("f.yaml", 4), at("g.yaml", 1), at("f.yaml", 0), at("f.yaml", 3)});
  const char* const wanted[] = {"two", "", "", "", "three"};
  for (std::size_t i = 0; i < found.size(); ++i) EXPECT_EQ(found[i].source_line, wanted[i]) << i;
}

TEST(Files, KindsAreToldByTheirKeys) {
  EXPECT_EQ(kind_of_file("# a comment\norder: x\ndesign: y\n"), "order");
  EXPECT_EQ(kind_of_file("ordre: x\ndesign: y\n"), "order");
  EXPECT_EQ(kind_of_file("design: x\nfamily: y\n"), "design");
  EXPECT_EQ(kind_of_file("family: y\n  design: indented\n"), "family");
  EXPECT_EQ(kind_of_file("sheet:\n  order: 3\n"), "");
}

}  // namespace
}  // namespace pommel::job
