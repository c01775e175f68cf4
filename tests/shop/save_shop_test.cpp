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
  EXPECT_EQ(with_values(kText, "m.yaml", {{{"machines", "a", "swing"}, "1 mm"}}).reasons().front().id, "shop.no-entry");
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
