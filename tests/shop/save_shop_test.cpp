// Figures of the shop's files changed in place.
#include "shop/save_shop.h"

#include <gtest/gtest.h>

namespace pommel::shop {
namespace {

const char* const kText = "# mine\nmachines:\n  a:\n    label: router   # the old one\n    confirmed: no\n    travel: {x: [-150 mm, 1500 mm], z: [0 mm, 1 mm]}\n";

TEST(SaveShop, ValuesAreFoundByTheirKeys) {
  EXPECT_EQ(value_at(kText, "m.yaml", {"machines", "a", "label"}), "router");
  EXPECT_EQ(value_at(kText, "m.yaml", {"machines", "a", "travel", "x", "1"}), "1500 mm");
  for (const KeyPath& path : {KeyPath{"machines"}, {"machines", "b"}, {"machines", "a", "travel", "x", "2"}, {"machines", "a", "travel", "x", "x"}, {"machines", "a", "label", "deep"}})
    EXPECT_FALSE(value_at(kText, "m.yaml", path)) << path.back();
}

TEST(SaveShop, OthersStayAsTheyAre) {
  const auto text = with_values(kText, "m.yaml", {{{"machines", "a", "travel", "x", "0"}, "-6 in"}, {{"machines", "a", "confirmed"}, "yes"}});
  ASSERT_TRUE(text.ok()) << render(text.reasons());
  EXPECT_EQ(*text, "# mine\nmachines:\n  a:\n    label: router   # the old one\n    confirmed: yes\n    travel: {x: [-6 in, 1500 mm], z: [0 mm, 1 mm]}\n");
}

TEST(SaveShop, WhatWasNotStatedIsStatedAndTakenOutAgain) {
  const auto text = with_values(kText, "m.yaml", {{{"machines", "a", "swing"}, "1 mm"}, {{"machines", "a", "decimals", "linear"}, "4"}, {{"machines", "a", "decimals", "rotary"}, "2"}});
  ASSERT_TRUE(text.ok()) << render(text.reasons());
  EXPECT_EQ(*text, std::string(kText) + "    swing: 1 mm\n    decimals: {linear: 4, rotary: 2}\n");
  const auto without = with_values(*text, "m.yaml", {{{"machines", "a", "decimals", "linear"}, {}}, {{"machines", "a", "swing"}, {}}, {{"machines", "a", "decimals", "rotary"}, {}}, {{"machines", "a", "files"}, {}}});
  ASSERT_TRUE(without.ok()) << render(without.reasons());
  EXPECT_EQ(*without, kText);
  for (const KeyPath& path : {KeyPath{"machines", "b", "swing"}, {"machines", "a", "travel", "x", "2"}, {"machines", "a", "travel", "y", "0"}, {"machines", "b"}})
    EXPECT_EQ(with_values(kText, "m.yaml", {{path, "1 mm"}}).reasons().front().id, "shop.no-entry") << path.back();
}

TEST(SaveShop, ListsAreStatedChangedAndTakenOut) {
  const auto text = with_lists(kText, "m.yaml", {{{"machines", "a", "lock"}, {"M10", "G4 P1"}}, {{"machines", "a", "travel", "y"}, {"-1 mm", "1 mm"}}, {{"machines", "a", "reset"}, {}}});
  ASSERT_TRUE(text.ok()) << render(text.reasons());
  EXPECT_EQ(*text, "# mine\nmachines:\n  a:\n    label: router   # the old one\n    confirmed: no\n    travel: {y: [-1 mm, 1 mm], x: [-150 mm, 1500 mm], z: [0 mm, 1 mm]}\n    lock: [M10, G4 P1]\n");
  EXPECT_EQ(list_at(*text, "m.yaml", {"machines", "a", "lock"}), (std::vector<std::string>{"M10", "G4 P1"}));
  EXPECT_FALSE(list_at(*text, "m.yaml", {"machines", "a", "label"}));
  EXPECT_FALSE(list_at("l: [{x: 1}]\n", "m.yaml", {"l"}));
  const auto without = with_lists(*text, "m.yaml", {{{"machines", "a", "lock"}, {}}, {{"machines", "a", "travel", "y"}, {}}});
  ASSERT_TRUE(without.ok()) << render(without.reasons());
  EXPECT_EQ(*without, kText);
  EXPECT_EQ(with_lists(kText, "m.yaml", {{{"machines", "b", "lock"}, {"M10"}}}).reasons().front().id, "shop.no-entry");
}

TEST(SaveShop, WhatStandsAtAPlaceIsFoundWithItsKeys) {
  EXPECT_EQ(keys_at(kText, "m.yaml", 4, 12), (KeyPath{"machines", "a", "label"}));
  EXPECT_EQ(keys_at(kText, "m.yaml", 4, 15), (KeyPath{"machines", "a", "label"}));  // within it
  EXPECT_EQ(keys_at(kText, "m.yaml", 6, 13), (KeyPath{"machines", "a", "travel"}));
  EXPECT_EQ(keys_at(kText, "m.yaml", 6, 28), (KeyPath{"machines", "a", "travel", "x", "1"}));
  EXPECT_EQ(keys_at(kText, "m.yaml", 4, 5), (KeyPath{"machines", "a"}));
  EXPECT_TRUE(keys_at(kText, "m.yaml", 1, 1).empty());
  EXPECT_TRUE(keys_at(kText, "m.yaml", 0, 0).empty());
}

TEST(SaveShop, WhatTheReaderRefusesIsNotWritten) {
  MemoryFiles files;
  ASSERT_TRUE(files.make_folder("shop").ok());
  ASSERT_TRUE(files.write("shop/machines.yaml", kText).ok());
  EXPECT_FALSE(save_file(files, "shop/machines.yaml", kText, *with_values(kText, "m.yaml", {{{"machines", "a", "confirmed"}, "perhaps"}})).ok());
  EXPECT_EQ(save_file(files, "shop/machines.yaml", "other", kText).reasons().front().id, "files.changed-on-disk");
  EXPECT_EQ(*files.read("shop/machines.yaml"), kText);
  EXPECT_EQ(sound_file("a: 1\n", "shop/woods.yaml").reasons().front().id, "shop.no-entry");
}

}  // namespace
}  // namespace pommel::shop
