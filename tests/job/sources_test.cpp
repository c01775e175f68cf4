// What a job made from unsaved changes says it was made from: the texts as they stand, not the files as they were when they were opened.
#include "job/sources.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "base/files.h"
#include "job/load.h"

namespace pommel::job {
namespace {

struct House {
  std::unique_ptr<FileSystem> files = real_files();
  std::filesystem::path order = std::filesystem::path(POMMEL_SOURCE_DIR) / "catalog/orders/harvest-table.yaml";
  Loaded loaded;
  Sources sources;

  House() {
    Sink sink;
    auto read = load(*files, *find_house(*files, order, {}, {}), order, sink);
    EXPECT_TRUE(read && !sink.has_errors()) << render(sink.all());
    loaded = std::move(*read);
    auto found = sources_of(*files, loaded, order);
    EXPECT_TRUE(found.ok()) << render(found.reasons());
    sources = std::move(found).value();
  }

  Loaded again() const {
    Sink sink;
    auto out = reloaded(*files, loaded, sources, sink);
    EXPECT_TRUE(out && !sink.has_errors()) << render(sink.all());
    return std::move(*out);
  }
};

std::vector<std::string> listed(const Loaded& of) {
  std::vector<std::string> out;
  for (const InputFile& file : of.inputs) out.push_back(file.name + " " + file.sha256 + " " + std::to_string(file.size));
  return out;
}

std::string named(const Loaded& of, const std::string& name) {
  const auto found = std::find_if(of.inputs.begin(), of.inputs.end(), [&](const InputFile& file) { return file.name == name; });
  return found != of.inputs.end() ? found->sha256 : "none";
}

TEST(Sources, UnchangedTheyAreTheFilesThatWereOpened) {
  const House house;
  EXPECT_EQ(listed(house.again()), listed(house.loaded));
  const auto shop = with_shop_again(*house.files, house.loaded);
  ASSERT_TRUE(shop.ok()) << render(shop.reasons());
  EXPECT_EQ(listed(*shop), listed(house.loaded));
}

TEST(Sources, AnEditedOrderIsListedAsItStands) {
  House house;
  house.sources.order += "\n# a word that is not saved\n";
  const Loaded edited = house.again();
  EXPECT_EQ(named(edited, "catalog/orders/harvest-table.yaml"), sha256(house.sources.order));
  EXPECT_EQ(named(edited, "catalog/designs/farmhouse-vase.yaml"), named(house.loaded, "catalog/designs/farmhouse-vase.yaml"));
  EXPECT_EQ(edited.inputs.size(), house.loaded.inputs.size());
}

TEST(Sources, AnotherDesignIsListedInsteadOfTheOneBefore) {
  House house;
  const auto other = job::design_file(*house.files, house.loaded.house, "barley-twist");
  ASSERT_TRUE(other.ok()) << render(other.reasons());
  house.sources.design = *other;
  const Loaded now = house.again();
  EXPECT_EQ(named(now, "catalog/designs/barley-twist.yaml"), sha256(other->text));
  EXPECT_EQ(named(now, "catalog/designs/farmhouse-vase.yaml"), "none");
}

}  // namespace
}  // namespace pommel::job
