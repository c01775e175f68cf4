// Designs written back: as new ones, and as next revisions.
#include "designs/save_design.h"

#include <gtest/gtest.h>

namespace pommel::designs {
namespace {

const char* const kDesign =
    "# a vase of ours\ndesign: farmhouse vase\nfamily: leg\nid: vase\nrevision: 1\nrevisions:\n  - {revision: 1, date: 2026-01-12, what: first, why: spring}\n"
    "proven:            # made so\n  height: [1 mm, 2 mm]\nsheet:\n  height: 740 mm   # a table's\n  own: {is: length, value: 3 mm}\n";
const RevisionNote kNote{"2026-04-01", "lower", "for low chairs"};

TEST(SaveDesign, MeasuresGoIntoItsSheet) {
  const auto text = with_measures(kDesign, "d.yaml", {{"height", "700 mm"}, {"own", "= height / 9"}});
  ASSERT_TRUE(text.ok()) << render(text.reasons());
  EXPECT_NE(text->find("  height: 700 mm   # a table's\n  own: {is: length, value: = height / 9}\n"), std::string::npos) << *text;
}

TEST(SaveDesign, ANextRevisionSaysWhatIsDifferentAndWhatIsProvenNoMore) {
  const auto same = as_next_revision(with_measures(kDesign, "d.yaml", {{"height", "700 mm"}}).value(), kDesign, "d.yaml", kNote),
             other = as_next_revision(std::string(kDesign) + "outline:\n  - square: {length: 3 mm}\n", kDesign, "d.yaml", kNote);
  ASSERT_TRUE(same.ok() && other.ok());
  EXPECT_NE(same->find("revision: 2\nrevisions:\n  - {revision: 1, date: 2026-01-12, what: first, why: spring}\n  - {revision: 2, date: 2026-04-01, what: lower, why: for low chairs}\nproven:"), std::string::npos) << *same;
  EXPECT_EQ(other->find("proven"), std::string::npos);
  Sink sink;
  const Card card = read_card(*same, "d.yaml", "vase", sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  EXPECT_EQ(card.revision, 2);
  EXPECT_EQ(card.revisions.size(), 2u);
}

// Whoever goes back and saves again must not write a number that the catalog has, nor lose what was said of it.
TEST(SaveDesign, AnOlderStateBecomesTheRevisionAfterTheCatalogs) {
  const std::string second = *as_next_revision(*with_measures(kDesign, "d.yaml", {{"height", "700 mm"}}), kDesign, "d.yaml", kNote);
  const auto third = as_next_revision(kDesign, second, "d.yaml", {"2026-05-01", "as it was", "for high chairs"});
  ASSERT_TRUE(third.ok()) << render(third.reasons());
  EXPECT_EQ(*third,
            "# a vase of ours\ndesign: farmhouse vase\nfamily: leg\nid: vase\nrevision: 3\nrevisions:\n  - {revision: 1, date: 2026-01-12, what: first, why: spring}\n"
            "  - {revision: 2, date: 2026-04-01, what: lower, why: for low chairs}\n  - {revision: 3, date: 2026-05-01, what: as it was, why: for high chairs}\n"
            "proven:            # made so\n  height: [1 mm, 2 mm]\nsheet:\n  height: 740 mm   # a table's\n  own: {is: length, value: 3 mm}\n");
  // what was proven of the text's own state is not said of it again: the catalog's shape was another, and nobody proved that one
  const std::string reshaped = *as_next_revision(std::string(kDesign) + "outline:\n  - square: {length: 3 mm}\n", kDesign, "d.yaml", kNote);
  EXPECT_EQ(as_next_revision(std::string(kDesign) + "outline:\n  - square: {length: 3 mm}\n", reshaped, "d.yaml", kNote)->find("proven"), std::string::npos);
  EXPECT_EQ(as_next_revision(kDesign, reshaped, "d.yaml", kNote)->find("proven"), std::string::npos);
}

TEST(SaveDesign, AListOfRevisionsInOneLineGrowsToo) {
  const std::string text = "design: vase\nfamily: leg\nrevision: 1\nrevisions: [{revision: 1, date: 2026-01-12, what: first, why: 'spring, at last'}]\nsheet: {}\n";
  const auto next = as_next_revision(text, text, "d.yaml", kNote);
  ASSERT_TRUE(next.ok()) << render(next.reasons());
  EXPECT_NE(next->find("revision: 2\nrevisions:\n  - {revision: 1, date: 2026-01-12, what: first, why: 'spring, at last'}\n  - {revision: 2, date: 2026-04-01, what: lower, why: for low chairs}\nsheet:"), std::string::npos) << *next;
  // what we do not know of is not lost for it
  for (const char* list : {"[{revision: 1, by: somebody}]", "[{revision: 1, date: 2026-01-12, what: first, why: spring}]   # ours", "[{revision: 1, date: 2026-01-12,\n  what: first, why: spring}]"}) {
    const std::string more = "design: vase\nfamily: leg\nrevision: 1\nrevisions: " + std::string(list) + "\nsheet: {}\n";
    EXPECT_EQ(as_next_revision(more, more, "d.yaml", kNote).reasons().front().id, "yaml.cannot-add") << list;
  }
}

TEST(SaveDesign, ANewOneBeginsAtItsFirstRevision) {
  const auto text = as_new_design(kDesign, "d.yaml", "low-vase", "low vase", kNote);
  ASSERT_TRUE(text.ok()) << render(text.reasons());
  EXPECT_TRUE(text->starts_with("# a vase of ours\ndesign: low vase\nfamily: leg\nid: low-vase\nrevision: 1\nrevisions:\n  - {revision: 1, date: 2026-04-01, what: lower, why: for low chairs}\nsheet:")) << *text;
  EXPECT_EQ(id_for("Low vase, of oak!"), "low-vase-of-oak");
  EXPECT_EQ(id_for("…"), "");
}

TEST(SaveDesign, TheFileBeforeIsKeptAndNoOtherIsWrittenOver) {
  MemoryFiles files;
  const House house{"catalog", "templates"};
  for (const char* folder : {"catalog/designs", "templates"}) ASSERT_TRUE(files.make_folder(folder).ok());
  ASSERT_TRUE(files.write("templates/leg.yaml", "family: leg\nstands_in: table\n").ok());
  ASSERT_TRUE(files.write("catalog/designs/vase.yaml", kDesign).ok());
  // the family lacks its measures: such a design is refused, and nothing is written
  const auto refused = save_revision(files, house, "catalog/designs/vase.yaml", kDesign, *as_next_revision(kDesign, kDesign, "d.yaml", kNote));
  ASSERT_FALSE(refused.ok());
  EXPECT_FALSE(files.exists("catalog/designs/earlier/vase.1.yaml"));
  EXPECT_EQ(*files.read("catalog/designs/vase.yaml"), kDesign);
  const auto stale = save_revision(files, house, "catalog/designs/vase.yaml", "design: other\n", kDesign);
  EXPECT_EQ(stale.reasons().front().id, "files.changed-on-disk");
  EXPECT_EQ(save_new_design(files, house, "vase", kDesign).reasons().front().id, "files.exists");
  EXPECT_EQ(save_new_design(files, house, "../vase", kDesign).reasons().front().id, "designs.id");
}

// Where letters have no case, the second would be written over the first; so would one whose letters are put together in another way.
TEST(SaveDesign, RefusesANameThatIsOneFileWithAnotherOnSomeSystems) {
  MemoryFiles files;
  ASSERT_TRUE(files.make_folder("catalog/designs").ok());
  ASSERT_TRUE(files.write("catalog/designs/vase.yaml", kDesign).ok());
  ASSERT_TRUE(files.write("catalog/designs/e\u0301le\u0300ve.yaml", kDesign).ok());
  House house;
  house.catalog = "catalog";
  const auto said = [&](const std::string& id) { return render(save_new_design(files, house, id, kDesign).reasons()); };
  const auto wanted = [](const std::string& has, const std::string& id) {
    return "error: the catalog has '" + has + ".yaml', which is one file with '" + id + ".yaml' on some systems [files.exists]\n   do: choose another name\n";
  };
  EXPECT_EQ(said("Vase"), wanted("vase", "Vase"));
  EXPECT_EQ(said("\u00E9l\u00E8ve"), wanted("e\u0301le\u0300ve", "\u00E9l\u00E8ve"));
  EXPECT_EQ(files.files().size(), 2u);
}

}  // namespace
}  // namespace pommel::designs
