// A fault that was: five of these eight small legs were refused though their programs were sound; the check took the steep pommel to be
// lower than it is and found wood "left where the cutter reaches". Each cut of the shoulder must be milled and proved with each ball.
#include <gtest/gtest.h>

#include "whole/house.h"

namespace pommel::whole {
namespace {

struct Pair {
  std::string cut, cutter;
};

class PommelPair : public ::testing::TestWithParam<Pair> {};

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return at == std::string::npos ? text : text.replace(at, from.size(), to);
}

TEST_P(PommelPair, IsProved) {
  House house;
  house.put("catalog/designs/low-table.yaml", replaced(kSmallDesign, "cut: square", "cut: " + GetParam().cut));
  house.put("catalog/orders/low-table.yaml", replaced(kSmallOrder, "cutter: ball-8", "cutter: " + GetParam().cutter));
  const job::Loaded loaded = house.load("catalog/orders/low-table.yaml");
  Sink sink;
  const auto sheet = family::make_sheet(loaded.family, loaded.design, &*loaded.order, loaded.shop, {}, sink);
  ASSERT_FALSE(sink.has_errors()) << render(sink.all());
  const auto column = job::run_column(loaded, sheet, family::kOrder, {});
  ASSERT_TRUE(column.ok()) << render(column.reasons());
  const auto program = job::write_and_prove(column->requests[0], *column->turnings[0], {}, {});
  ASSERT_TRUE(program.ok()) << render(program.reasons());
  EXPECT_TRUE(program->front().proof.passed()) << proof::report(program->front().proof);
  EXPECT_LE(program->front().proof.gouge.amount, 0.02);
}

std::vector<Pair> pairs() {
  std::vector<Pair> all;
  for (const char* cut : {"ogee", "rounded", "sloped", "square"})
    for (const char* cutter : {"ball-8", "ball-10"}) all.push_back({cut, cutter});
  return all;
}

std::string name_of(const ::testing::TestParamInfo<Pair>& info) {
  std::string name = info.param.cut + "_" + info.param.cutter;
  for (char& c : name)
    if (c == '-') c = '_';
  return name;
}

INSTANTIATE_TEST_SUITE_P(Cuts, PommelPair, ::testing::ValuesIn(pairs()), name_of);

}  // namespace
}  // namespace pommel::whole
