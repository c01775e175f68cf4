// Every order of the house is made as a whole, by the program itself. A judge of joints once refused the bed, whose mortises meet the far ends of
// its bolts' holes, while all tests of its parts passed.
#include <gtest/gtest.h>

#include <algorithm>

#include "whole/process.h"

namespace pommel::whole {
namespace {

namespace fs = std::filesystem;

std::vector<std::string> orders() {
  std::vector<std::string> out;
  for (const auto& file : fs::directory_iterator(fs::path(POMMEL_SOURCE_DIR) / "catalog/orders")) out.push_back(file.path().stem().string());
  std::sort(out.begin(), out.end());
  return out;
}

class HouseOrder : public ::testing::TestWithParam<std::string> {};

TEST_P(HouseOrder, IsMadeWithItsProvedPrograms) {
  const Scratch scratch;
  const fs::path order = fs::path(POMMEL_SOURCE_DIR) / "catalog/orders" / (GetParam() + ".yaml");
  const Ended ended = pommel({"make", order.string(), "--into", (scratch / "job").string()});
  ASSERT_EQ(ended.code, 0) << ended.err;
  std::size_t programs = 0;
  for (const auto& [name, bytes] : contents(scratch / "job")) programs += name.ends_with(".nc") ? 1 : 0;
  EXPECT_GE(programs, 1u);
}

INSTANTIATE_TEST_SUITE_P(Catalog, HouseOrder, ::testing::ValuesIn(orders()), [](const auto& one) {
  std::string name = one.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

}  // namespace
}  // namespace pommel::whole
