// Treatments and joints of a family file, all the way into the set of parts.
#include <gtest/gtest.h>

#include "base/files.h"
#include "family/family.h"
#include "family/names.h"
#include "shop/read.h"

namespace pommel::family {
namespace {

// The same in a whole family: every leg of the set is fluted, bored and still one turning; nothing else of the file changes.
TEST(TreatedFamily, CarriesItsTreatmentsAndJointsIntoEveryPiece) {
  const auto text = real_files()->read(std::filesystem::path(POMMEL_SOURCE_DIR) / "templates" / "table-leg.yaml");
  ASSERT_TRUE(text.ok());
  std::string written = *text;
  const std::string taper = "- taper:    {share: 1, end: = square * 0.56}";
  ASSERT_NE(written.find(taper), written.npos);
  written.replace(written.find(taper), taper.size(), "- taper:    {share: 1, end: = square * 0.56, name: shank}");
  written += "\ntreatments:\n  - flutes: {from: shank, from_plus: 8 mm, until: shank, until_plus: -8 mm, count: 8, width: = thin / 6, depth: 2 mm, run_out: 12 mm}\n"
             "joints:\n  - axial bore: {name: glide, diameter: 8 mm, from: foot, from_plus: -20 mm, until: foot}\n";
  Sink sink;
  const Family family = read_family(written, "f.yaml", "f", sink);
  ASSERT_TRUE(sink.all().empty()) << render(sink.all());
  const auto shop = shop::read_shop(*real_files(), std::filesystem::path(POMMEL_SOURCE_DIR) / "catalog" / "shop", sink, [](const auto&, const auto&) {});
  ASSERT_FALSE(sink.has_errors()) << render(sink.all());
  Design plain;
  plain.name = "plain";
  const auto book = make_sheet(family, plain, nullptr, shop, {}, sink);
  ASSERT_FALSE(sink.has_errors()) << render(sink.all());
  const auto made = make(family, plain, book, kCatalogue, shop, {});
  ASSERT_TRUE(made.ok()) << render(made.reasons());
  for (const frame::Member& member : made->set.members) {
    EXPECT_EQ(member.part.flutes.size(), 8u) << member.id;
    EXPECT_EQ(member.part.axial_bores.size(), 1u) << member.id;
  }
  EXPECT_EQ(made->set.turned_kinds.size(), 1u);
  written.replace(written.find("from: shank"), 11, "from: shenk");
  Sink wrong;
  make_sheet(read_family(written, "f.yaml", "f", wrong), plain, nullptr, shop, {}, wrong);
  ASSERT_EQ(wrong.all().size(), 1u) << render(wrong.all());
  EXPECT_EQ(wrong.all().front().remedy, "did you mean 'shank'?");
  // a design that brings its own outline has none of the family's
  plain.outline = family.outline;
  EXPECT_TRUE(treatments_of(family, plain, "leg").empty());
  EXPECT_EQ(joints_of(family, plain, "leg").size(), 1u);
}

}  // namespace
}  // namespace pommel::family
