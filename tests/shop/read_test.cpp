// The readers of the shop: what is read, and what is said about what cannot be.
#include <gtest/gtest.h>

#include <algorithm>

#include "base/files.h"
#include "shop/read.h"

namespace pommel::shop {
namespace {

constexpr const char* kBoard = R"(boards:
  ash-8/4:
    label: 8/4 rough ash
    wood: ash
    nominal: 8/4
    thickness: 2 1/16 in
    milling: 6 mm
    width: 180 mm
    length: 8 ft
    count: 6
    price: 9.25
)";

Shop with_ash() {
  Shop shop;
  shop.woods["ash"].id = "ash";
  return shop;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, text.npos) << from;
  return at == text.npos ? text : text.replace(at, from.size(), to);
}

TEST(Boards, AreReadInMillimetresAndCents) {
  Shop shop = with_ash();
  Sink sink;
  read_boards(kBoard, "boards.yaml", shop, sink);
  ASSERT_TRUE(sink.all().empty()) << render(sink.all());
  const Stock& board = shop.boards.at("ash-8/4");
  EXPECT_EQ(board.id, "ash-8/4");
  EXPECT_DOUBLE_EQ(board.thickness, 2.0625 * 25.4);
  EXPECT_DOUBLE_EQ(board.length, 2438.4);
  EXPECT_EQ(board.count, 6);
  EXPECT_EQ(board.price_per_board_foot, (Money{925}));
}

struct Wrong {
  const char *from, *to, *says;
};

TEST(Boards, WhatCannotBeReadIsSaid) {
  const Wrong table[] = {
      {"wood: ash", "wood: ahs",
       "boards.yaml:4:11: error: 'ahs' is no wood of the list [shop.unknown-wood]\n    4 |     wood: ahs\n      |           ^~~\n   do: did you mean 'ash'?\n"},
      {"180 mm", "180",
       "boards.yaml:8:12: error: 180 what? this length has no unit [quantity.no-unit]\n    8 |     width: 180\n      |            ^~~\n   do: write '180 mm' or '180 in'\n"},
      {"    milling: 6 mm\n", "",
       "boards.yaml:3:5: error: this board has no 'milling' [yaml.missing-key]\n    3 |     label: 8/4 rough ash\n      |     ^\n   do: add 'milling:' what comes off to get flat and square\n"},
      {"count", "cuont",
       "boards.yaml:10:5: error: 'cuont' is no entry of a board [yaml.unknown-key]\n   10 |     cuont: 6\n      |     ^~~~~\n   do: did you mean 'count'?\n"},
  };
  for (const Wrong& wrong : table) {
    Shop shop = with_ash();
    Sink sink;
    read_boards(replaced(kBoard, wrong.from, wrong.to), "boards.yaml", shop, sink);
    EXPECT_TRUE(sink.has_errors());
    EXPECT_NE(render(sink.all()).find(wrong.says), std::string::npos) << render(sink.all());
  }
}

TEST(Boards, AllProblemsOfAFileAtOnce) {
  Shop shop = with_ash();
  Sink sink;
  read_boards(replaced(replaced(replaced(kBoard, "wood: ash", "wood: elm"), "9.25", "9.255"), "6 mm", "-6 mm"), "boards.yaml", shop, sink);
  EXPECT_EQ(sink.all().size(), 3u) << render(sink.all());
}

// Strengths are stored in MPa: 1 psi is 6894.757293168 Pa.
TEST(Woods, StrengthsInPsiAndMegapascals) {
  Shop shop;
  Sink sink;
  const std::string text = R"(woods:
  ash:
    label: white ash
    specific_gravity: 0.60
    shrinkage: {radial: 4.9, tangential: 7.8, volume: 13.3}
    change: {radial: 0.00169, tangential: 0.00274}
    mor: 15000 psi
    moe: 12000 MPa
)";
  read_woods(text, "woods.yaml", shop, sink);
  ASSERT_TRUE(sink.all().empty()) << render(sink.all());
  EXPECT_NEAR(shop.woods.at("ash").mor_mpa, 103.4213594, 1e-6);
  EXPECT_EQ(shop.woods.at("ash").moe_mpa, 12000);
  Sink wrong;
  read_woods(replaced(text, "15000 psi", "15000"), "woods.yaml", shop, wrong);
  ASSERT_EQ(wrong.all().size(), 1u);
  EXPECT_EQ(wrong.all().front().id, "shop.strength");
}

TEST(Rates, SharesAreFractionsOrPercentages) {
  const std::string text = *real_files()->read(std::filesystem::path(POMMEL_SOURCE_DIR) / "catalog/shop/rates.yaml");
  const auto tax_of = [&](const std::string& tax, Sink& sink) {
    Shop shop;
    read_rates(replaced(text, "tax: 0.06", "tax: " + tax), "rates.yaml", shop, sink);
    return shop.rates.tax;
  };
  for (const char* alike : {"0.06", "6 %", "6%", "6.0 %"}) {
    Sink sink;
    EXPECT_EQ(tax_of(alike, sink), 0.06) << alike;
    EXPECT_TRUE(sink.all().empty()) << render(sink.all());
  }
  for (const auto& [wrong, id] : {std::pair{"'%'", "yaml.not-a-number"}, {"6 % off", "yaml.not-a-number"}, {"19,5 %", "yaml.not-a-number"}, {"120 %", "yaml.out-of-range"}, {"-6 %", "yaml.out-of-range"}}) {
    Sink sink;
    tax_of(wrong, sink);
    ASSERT_EQ(sink.all().size(), 1u) << wrong;
    EXPECT_EQ(sink.all().front().id, id) << render(sink.all());
    EXPECT_EQ(sink.all().front().place.column, 6) << wrong;
  }
}

// The shop of this repository is sound, and each of its files is needed.
TEST(Shop, OfTheCatalogIsSoundAndWhole) {
  const std::filesystem::path folder = std::filesystem::path(POMMEL_SOURCE_DIR) / "catalog" / "shop";
  Sink sink;
  std::vector<std::string> seen;
  const Shop shop = read_shop(*real_files(), folder, sink, [&](const std::filesystem::path& path, const std::string&) { seen.push_back(path.filename().string()); });
  EXPECT_TRUE(sink.all().empty()) << render(sink.all());
  EXPECT_EQ(seen.size(), 5u);
  EXPECT_GE(shop.machines.size(), 2u);
  EXPECT_FALSE(shop.rates.confirmed) << "example figures must say so";
  for (const auto& [id, machine] : shop.machines) EXPECT_FALSE(machine.confirmed) << id;
  EXPECT_TRUE(std::is_sorted(shop.mortise_cutters.begin(), shop.mortise_cutters.end()));

  MemoryFiles files;
  ASSERT_TRUE(files.make_folder("shop").ok());
  for (const std::string& name : seen) ASSERT_TRUE(files.write("shop/" + name, *real_files()->read(folder / name)).ok());
  for (const std::string& name : seen) {
    MemoryFiles less = files;
    ASSERT_TRUE(less.remove_all("shop/" + name).ok());
    Sink missing;
    read_shop(less, "shop", missing, [](const auto&, const auto&) {});
    EXPECT_TRUE(missing.has_errors()) << name;
    EXPECT_NE(render(missing.all()).find("shop/" + name), std::string::npos) << name << "\n" << render(missing.all());
  }
}

}  // namespace
}  // namespace pommel::shop
