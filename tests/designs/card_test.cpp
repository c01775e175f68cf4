// What the catalog knows of a design: read, found by words, told apart by id.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "designs/designs.h"

namespace pommel::designs {
namespace {

using testing::HasSubstr;

const char* const kVase = R"(design: farmhouse vase
id: farmhouse-vase
family: table-leg
about: Country kitchen table.
tags: [country, vase]
pictures: [vase.jpg]
revision: 2
revisions:
  - {revision: 1, date: 2026-01-12, what: first, why: the spring catalog}
  - {revision: 2, date: 2026-03-30, what: thicker ankle, why: one chipped}
proven:
  table_height: [700 mm, 31 in]
)";

TEST(Card, IsReadWhole) {
  Sink sink;
  const Card card = read_card(kVase, "vase.yaml", "vase", sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  EXPECT_EQ(card.id, "farmhouse-vase");
  EXPECT_EQ(card.file, "vase");
  EXPECT_EQ(card.tags, (std::vector<std::string>{"country", "vase"}));
  ASSERT_EQ(card.revisions.size(), 2u);
  EXPECT_EQ(card.revisions[1].why, "one chipped");
  ASSERT_EQ(card.proven.size(), 1u);
  EXPECT_EQ(card.proven[0].greatest, "31 in");
}

TEST(Card, OfAFileWithoutAnyOfItIsItsName) {
  Sink sink;
  const Card card = read_card("design: plain\nfamily: table-leg\n", "plain.yaml", "plain", sink);
  EXPECT_FALSE(sink.has_errors());
  EXPECT_EQ(card.id, "plain");
  EXPECT_EQ(card.revision, 1);
}

struct Wrong {
  const char *text, *says;
};

TEST(Card, WhatIsWrongIsSaidAtItsPlace) {
  const Wrong table[] = {
      {"design: a\nid: a/b\n", "d.yaml:2:5: error: 'a/b' cannot be an id"},
      {"design: a\nid: a@2\n", "d.yaml:2:5: error: 'a@2' cannot be an id"},
      {"design: a\nrevision: 3\nrevisions:\n  - {revision: 2, date: 2026-01-01, what: w, why: y}\n", "the newest of them is 2, the file says revision: 3"},
      {"design: a\nrevision: 3\nrevisions:\n  - {revision: 1, date: 2026-01-01, what: w, why: y}\n  - {revision: 3, date: 2026-01-01, what: w, why: y}\n", "revision 3 follows 1"},
      {"design: a\nrevisions:\n  - {revision: 1, date: last week, what: w, why: y}\n", "d.yaml:3:25: error: 'last week' is no date"},
      {"design: a\nrevisions:\n  - {revision: 1, date: 2026-01-01, what: w}\n", "why"},
      {"design: a\nproven:\n  square: 40 mm\n", "d.yaml:3:11: error: 'square' needs the least and the greatest size"},
  };
  for (const Wrong& wrong : table) {
    Sink sink;
    read_card(wrong.text, "d.yaml", "d", sink);
    EXPECT_THAT(render(sink.all()), HasSubstr(wrong.says)) << wrong.text;
  }
}

TEST(Card, IsFoundByEveryWordOfItsNameTagsAndDescription) {
  Sink sink;
  const Card card = read_card(kVase, "vase.yaml", "vase", sink);
  for (const char* words : {"", "country", "VASE kitchen", "table-leg farm", "  country  "}) EXPECT_TRUE(matches(card, words)) << words;
  for (const char* words : {"bed", "country bed", "chipped"}) EXPECT_FALSE(matches(card, words)) << words;
}

TEST(Card, TwoFilesWithOneIdAreTold) {
  Card a, b;
  a.id = b.id = "vase";
  a.file = "vase";
  b.file = "old-vase";
  const auto told = shared_ids({a, b});
  ASSERT_EQ(told.size(), 1u);
  EXPECT_EQ(told.front().message, "the id 'vase' stands in 'vase.yaml' and 'old-vase.yaml'");
  EXPECT_TRUE(shared_ids({a}).empty());
}

MemoryFiles house() {
  MemoryFiles files;
  for (const char* folder : {"catalog/designs/earlier", "templates"}) EXPECT_TRUE(files.make_folder(folder).ok());
  EXPECT_TRUE(files.write("catalog/designs/vase.yaml", "design: vase\nid: farmhouse-vase\nfamily: leg\nrevision: 2\n").ok());
  EXPECT_TRUE(files.write("catalog/designs/earlier/vase.1.yaml", "design: vase, as it was\nfamily: leg\n").ok());
  return files;
}

TEST(DesignFile, IsFoundByItsNameItsIdAndAnEarlierRevision) {
  const House where{"catalog", "templates"};
  const MemoryFiles files = house();
  EXPECT_EQ(design_file(files, where, "vase")->generic_string(), "catalog/designs/vase.yaml");
  EXPECT_EQ(design_file(files, where, "farmhouse-vase")->generic_string(), "catalog/designs/vase.yaml");
  EXPECT_EQ(design_file(files, where, "vase@1")->generic_string(), "catalog/designs/earlier/vase.1.yaml");
  for (const char* none : {"vase@2", "urn", "../vase", "vase@", "@1"}) EXPECT_FALSE(design_file(files, where, none)) << none;
  EXPECT_EQ(design_names(files, where), (std::vector<std::string>{"vase"})) << "earlier revisions are not listed";
}

}  // namespace
}  // namespace pommel::designs
