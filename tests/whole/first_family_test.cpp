// The guide "your first family in twenty minutes", followed to the letter: its own blocks are the files.
#include <gtest/gtest.h>

#include "base/text.h"
#include "whole/house.h"

namespace pommel::whole {
namespace {

struct Block {
  std::string file, text;
};

// The guide's YAML blocks, each begun by a comment with the name of its file, in the guide's order.
std::vector<Block> blocks_of(const std::string& guide) {
  std::vector<Block> blocks;
  bool inside = false;
  for (const std::string_view line : split(guide, '\n')) {
    if (line == "```yaml") {
      blocks.emplace_back();
      inside = true;
    } else if (line == "```") {
      inside = false;
    } else if (inside) {
      Block& block = blocks.back();
      if (block.text.empty()) block.file = std::string(line.substr(std::string_view("# my-shop/").size()));
      block.text += std::string(line) + "\n";
    }
  }
  return blocks;
}

TEST(FirstFamily, TheGuideGivesWhatItSays) {
  const std::vector<Block> blocks = blocks_of(repository_text("templates/first-family.md"));
  ASSERT_EQ(blocks.size(), 4u);
  House house;
  // the first is what a reader has after the first step, the second takes its place
  for (const Block& block : {blocks[0], blocks[1]}) {
    EXPECT_EQ(block.file, "templates/desk-lamp.yaml");
    house.put(block.file, block.text);
    Sink sink;
    job::check_family(house.files, {"catalog", "templates"}, block.file, block.text, sink);
    EXPECT_TRUE(sink.all().empty()) << render(sink.all());
  }
  for (const Block& block : {blocks[2], blocks[3]}) house.put(block.file, block.text);
  const job::Loaded loaded = house.load(blocks[3].file);
  Sink sink;
  const auto sheet = family::make_sheet(loaded.family, loaded.design, &*loaded.order, loaded.shop, {}, sink);
  ASSERT_FALSE(sink.has_errors()) << render(sink.all());
  const auto before = job::run_to_stock(loaded, sheet, family::kCatalogue, {}), after = job::run_to_stock(loaded, sheet, family::kOrder, {});
  ASSERT_TRUE(before.ok() && after.ok());
  const shape::Part &was = before->made.pieces.front().part, &is = after->made.pieces.front().part;
  EXPECT_EQ(was.length, 290);
  EXPECT_EQ(is.length, 330);
  ASSERT_EQ(was.elements.size(), is.elements.size());
  for (std::size_t i = 0; i < was.elements.size(); ++i) {
    const double more = (is.elements[i].x1 - is.elements[i].x0) - (was.elements[i].x1 - was.elements[i].x0);
    EXPECT_NEAR(more, was.elements[i].label == "neck" ? 16 : was.elements[i].label == "vase" ? 24 : 0, 1e-6) << was.elements[i].label;
  }
  EXPECT_GE(after->least_wall, 5);
}

// What it tells a reader to type is what there is to type.
TEST(FirstFamily, TheGuideNamesFilesThatAreThere) {
  const std::string guide = repository_text("templates/first-family.md");
  for (const char* name : {"templates/lamp-column.yaml", "templates/table-leg.yaml", "templates/bed-post.yaml", "templates/baluster.yaml", "catalog/designs/pencil-post-bed.yaml"}) {
    EXPECT_NE(guide.find(std::string(name).substr(std::string(name).rfind('/') + 1)), std::string::npos) << name;
    EXPECT_FALSE(repository_text(name).empty()) << name;
  }
  EXPECT_NE(repository_text("README.md").find("templates/first-family.md"), std::string::npos);
}

}  // namespace
}  // namespace pommel::whole
