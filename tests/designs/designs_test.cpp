// Finding designs and their families by name.
#include <gtest/gtest.h>

#include "designs/designs.h"

namespace pommel::designs {
namespace {

const House kHouse{"catalog", "templates"};

MemoryFiles files() {
  MemoryFiles out;
  for (const char* folder : {"catalog/designs", "templates"}) EXPECT_TRUE(out.make_folder(folder).ok());
  EXPECT_TRUE(out.write("catalog/designs/vase.yaml", "design: vase\nfamily: leg\n").ok());
  EXPECT_TRUE(out.write("catalog/designs/column.yaml", "design: column\nfamily: lge\n").ok());
  EXPECT_TRUE(out.write("catalog/designs/lost.yaml", "design: lost\n").ok());
  EXPECT_TRUE(out.write("catalog/designs/notes.txt", "no design").ok());
  EXPECT_TRUE(out.write("templates/leg.yaml", "family: leg\nstands_in: table\n").ok());
  return out;
}

TEST(Designs, AreListedByName) { EXPECT_EQ(design_names(files(), kHouse), (std::vector<std::string>{"column", "lost", "vase"})); }

TEST(Designs, AreFoundWithTheirFamilyAndItsProblems) {
  Sink sink;
  std::vector<std::string> seen;
  const auto found = find_design(files(), kHouse, "vase", {}, sink, [&](const std::filesystem::path& path, const std::string&) { seen.push_back(path.generic_string()); });
  ASSERT_TRUE(found);
  EXPECT_EQ(found->design.name, "vase");
  EXPECT_EQ(found->family.name, "leg");
  EXPECT_EQ(seen, (std::vector<std::string>{"catalog/designs/vase.yaml", "templates/leg.yaml"}));
  EXPECT_TRUE(sink.has_errors()) << "the family lacks its measures, and that is said";
}

int reads_of_a_kept_family(MemoryFiles& house, Templates& kept, bool sound) {
  int reads = 0;
  Sink sink;
  const auto found = find_design(house, kHouse, "vase", {}, sink, [&](const std::filesystem::path& path, const std::string&) { reads += path.filename() == "leg.yaml" ? 1 : 0; }, &kept);
  EXPECT_TRUE(found && found->family.name == "leg");
  EXPECT_EQ(sink.has_errors(), !sound) << "a family with problems is told of every time: " << render(sink.all());
  return reads;
}

TEST(Designs, AFamilyIsReadOnceWhereItIsKeptAndHasNoProblems) {
  MemoryFiles house = files();
  Templates kept;
  for (int i = 0; i < 2; ++i) EXPECT_EQ(reads_of_a_kept_family(house, kept, false), 1);
  EXPECT_EQ(kept.kept("leg"), nullptr);

  Template sound;
  sound.family.name = "leg";
  kept.keep("leg", std::make_shared<const Template>(sound));
  for (int i = 0; i < 2; ++i) EXPECT_EQ(reads_of_a_kept_family(house, kept, true), 0);
}

struct Wrong {
  const char *name, *says;
};

TEST(Designs, WhatIsNotThereIsSaidWithTheNearestName) {
  const Wrong table[] = {
      {"vas", "order.yaml:3:9: error: there is no design 'vas' [designs.unknown-design]\n   do: did you mean 'vase'?\n"},
      {"baluster", "order.yaml:3:9: error: there is no design 'baluster' [designs.unknown-design]\n   do: known: column, lost and vase\n"},
      {"../vase", "order.yaml:3:9: error: there is no design '../vase' [designs.unknown-design]\n   do: known: column, lost and vase\n"},
      {"column", "catalog/designs/column.yaml:2:9: error: there is no family 'lge' [designs.unknown-family]\n   do: did you mean 'leg'?\n"},
  };
  for (const Wrong& wrong : table) {
    Sink sink;
    EXPECT_FALSE(find_design(files(), kHouse, wrong.name, {"order.yaml", 3, 9}, sink)) << wrong.name;
    EXPECT_EQ(render(sink.all()), wrong.says);
  }
  Sink sink;
  EXPECT_FALSE(find_design(files(), kHouse, "lost", {}, sink));
  ASSERT_EQ(sink.all().size(), 1u) << render(sink.all());
  EXPECT_EQ(sink.all().front().id, "yaml.missing-key");
}

}  // namespace
}  // namespace pommel::designs
