#include "base/names.h"

#include <gtest/gtest.h>

namespace pommel {
namespace {

TEST(Names, AreOneFileWhereCaseOrTheFormOfLettersAloneDiffers) {
  struct Pair {
    const char *a, *b;
  };
  for (const Pair& same : {Pair{"leg.nc", "LEG.NC"}, Pair{"\u00E9l\u00E8ve", "e\u0301le\u0300ve"}, Pair{"\u00C9L\u00C8VE", "e\u0301le\u0300ve"}, Pair{"fu\u00DF", "FUSS"}, Pair{"\u0416", "\u0436"},
                           Pair{"\u1E69", "s\u0307\u0323"}, Pair{"\u212B", "\u00E5"}, Pair{"a\xFF", "a\xFF"}}) {
    EXPECT_EQ(name_key(same.a), name_key(same.b)) << same.a;
    EXPECT_EQ(one_file_with({"other", same.a}, same.b), std::string(same.a));
  }
  for (const Pair& other : {Pair{"leg", "leg."}, Pair{"e", "\u00E9"}, Pair{"a\xFF", "A\xFF"}, Pair{"a", ""}, Pair{"2", "\u00B2"}}) EXPECT_NE(name_key(other.a), name_key(other.b)) << other.a;
  EXPECT_EQ(one_file_with({"a", "b"}, "c"), std::nullopt);
}

}  // namespace
}  // namespace pommel
