// House designs (whole/spared.h) are milled for a machine of the shop and their programs' text is proved; the demo's design for both kinds of machine.
#include <gtest/gtest.h>

#include "job/job.h"
#include "whole/spared.h"

namespace pommel::whole {
namespace {

struct Case {
  std::string design, machine;
};

std::vector<Case> cases() {
  const auto files = real_files();
  const std::filesystem::path root = POMMEL_SOURCE_DIR;
  std::vector<Case> all;
  const designs::House house{root / "catalog", root / "templates"};
  for (const std::string& design : designs_for_long_tests(*files, house)) all.push_back({design, "rotary-degrees"});
  all.push_back({"farmhouse-vase", "rotary-for-y"});
  return all;
}

class ProvedDesign : public ::testing::TestWithParam<Case> {};

TEST_P(ProvedDesign, ItsTextPassesTheCheck) {
  const auto files = real_files();
  const std::filesystem::path root = POMMEL_SOURCE_DIR;
  const designs::House house{root / "catalog", root / "templates"};
  Sink sink;
  auto loaded = job::load(*files, house, house.catalog / "designs" / (GetParam().design + ".yaml"), sink);
  ASSERT_TRUE(loaded && !sink.has_errors()) << render(sink.all());
  loaded->order.emplace();
  loaded->order->machine = GetParam().machine;
  loaded->order->cutter = "ball-8";
  const auto sheet = family::make_sheet(loaded->family, loaded->design, nullptr, loaded->shop, {}, sink);
  ASSERT_FALSE(sink.has_errors()) << render(sink.all());
  const auto column = job::run_column(*loaded, sheet, family::kCatalogue, {});
  ASSERT_TRUE(column.ok()) << render(column.reasons());
  ASSERT_EQ(column->turnings.size(), column->made.pieces.size());
  for (std::size_t i = 0; i < column->turnings.size(); ++i) {
    const auto program = job::write_and_prove(column->requests[i], *column->turnings[i], {}, {});
    ASSERT_TRUE(program.ok()) << render(program.reasons());
    EXPECT_TRUE(program->front().proof.passed()) << proof::report(program->front().proof);
    EXPECT_LE(program->front().proof.gouge.amount, 0.02);
    // what the planner says it cannot reach, the judge finds standing too
    EXPECT_EQ(column->turnings[i]->hand_work.empty(), program->front().proof.hand_work.empty());
    RecordProperty("gouge_um_" + std::to_string(i), static_cast<int>(1000 * program->front().proof.gouge.amount));
    RecordProperty("minutes_" + std::to_string(i), static_cast<int>(column->turnings[i]->minutes));
  }
}

std::string name_of(const ::testing::TestParamInfo<Case>& info) {
  std::string name = info.param.design + "_" + info.param.machine;
  for (char& c : name)
    if (c == '-') c = '_';
  return name;
}

INSTANTIATE_TEST_SUITE_P(Catalog, ProvedDesign, ::testing::ValuesIn(cases()), name_of);

}  // namespace
}  // namespace pommel::whole
