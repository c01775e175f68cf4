// What a keystroke asks for: the turnings of an order one measure of which has changed, with what the plans before it left at hand. They are the very
// moves of a plan made from nothing.
#include <gtest/gtest.h>

#include "base/files.h"
#include "job/job.h"

namespace pommel::job {
namespace {

Loaded order_of_the_house(const std::string& name) {
  const auto files = real_files();
  const std::filesystem::path path = std::filesystem::path(POMMEL_SOURCE_DIR) / "catalog/orders" / name;
  const auto house = find_house(*files, path, {}, {});
  EXPECT_TRUE(house.ok());
  Sink sink;
  auto loaded = load(*files, *house, path, sink);
  EXPECT_TRUE(loaded && !sink.has_errors()) << render(sink.all());
  return std::move(*loaded);
}

Result<Column> column_with(const Loaded& of, const std::string& measure, const std::string& value, TurningMemo* memo) {
  Sink sink;
  const auto sheet = family::make_sheet(of.family, of.design, &*of.order, of.shop, {{measure, {value, Place{measure, 1, 1}, value}}}, sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  Options options;
  options.memo = memo;
  return run_column(of, sheet, sheet.column_count() - 1, options);
}

struct Case {
  std::string order;
  std::vector<std::pair<std::string, std::string>> changes;
};

class AfterAChange : public ::testing::TestWithParam<Case> {};

TEST_P(AfterAChange, MovesAreThoseOfAPlanFromNothing) {
  const Loaded of = order_of_the_house(GetParam().order);
  TurningMemo memo;
  for (const auto& [measure, value] : GetParam().changes) {
    const auto after = column_with(of, measure, value, &memo), anew = column_with(of, measure, value, nullptr);
    ASSERT_TRUE(after.ok()) << measure << "\n" << render(after.reasons());
    ASSERT_TRUE(anew.ok()) << measure << "\n" << render(anew.reasons());
    ASSERT_EQ(after->turnings.size(), anew->turnings.size());
    for (std::size_t i = 0; i < anew->turnings.size(); ++i) EXPECT_EQ(after->turnings[i]->paths, anew->turnings[i]->paths) << measure << " " << value;
  }
  EXPECT_GT(memo.lines().counts().recalled, 0u);
}

INSTANTIATE_TEST_SUITE_P(Orders, AfterAChange,
                         ::testing::Values(Case{"harvest-table.yaml", {{"thick", "52 mm"}, {"thick", "51.3 mm"}, {"table_height", "760 mm"}, {"thick", "50.9 mm"}, {"square", "58 mm"}}}));

}  // namespace
}  // namespace pommel::job
