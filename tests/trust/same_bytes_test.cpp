// The same order, the same bytes: whatever the user's locale and clock, wherever the house lies, on one processor or on all.
//
// tr_TR writes a decimal comma and has an i without its dot; ps_AF writes a decimal sign of two bytes (U+066B).
#include <clocale>
#include <fstream>

#include <gtest/gtest.h>
#include <langinfo.h>

#include "base/text.h"
#include "trust/locales.h"
#include "whole/house.h"
#include "whole/process.h"

namespace pommel::trust {
namespace {

namespace fs = std::filesystem;
using namespace whole;

void lay_out(const fs::path& folder) {
  const House house;
  for (const auto& [name, text] : house.files.files()) {
    fs::create_directories((folder / name).parent_path());
    std::ofstream(folder / name, std::ios::binary) << text;
  }
}

using Files = std::map<std::string, std::string>;

Files made(const fs::path& house, const fs::path& into, const Surroundings& around = {}) {
  const Ended ended = pommel({"make", (house / "catalog/orders/low-table.yaml").string(), "--into", into.string()}, around);
  EXPECT_EQ(ended.code, 0) << ended.out << ended.err;
  return contents(into);
}

void expect_same(const Files& files, const Files& others, const std::string& where) {
  EXPECT_GT(files.size(), 20u);
  EXPECT_EQ(files.size(), others.size()) << where;
  for (const auto& [name, bytes] : files) EXPECT_TRUE(others.contains(name) && others.at(name) == bytes) << name << " differs " << where;
}

// What the C library would write between 1 and 5 of 1.5.
std::string decimal_sign(const fs::path& locales, const std::string& locale) {
  ::setenv("LOCPATH", locales.c_str(), 1);
  const locale_t one = ::newlocale(LC_ALL_MASK, locale.c_str(), nullptr);
  const std::string sign = one ? ::nl_langinfo_l(RADIXCHAR, one) : "no such locale";
  if (one) ::freelocale(one);
  ::unsetenv("LOCPATH");
  return sign;
}

// The workbooks came out with "28,7109375" where a number has to stand, and no program opened them: Qt sets the user's locale, and the library that
// writes them prints by it.
TEST(SameBytes, WhateverTheLocaleAndTheTimeZone) {
  const Scratch scratch;
  lay_out(scratch / "house");
  const Files plain = made(scratch / "house", scratch / "plain");
  const fs::path locales = scratch / "locales";
  fs::create_directories(locales);
  struct Case {
    std::string language, decimal_sign, zone;
  };
  for (const Case& one : {Case{"tr_TR", ",", "Pacific/Kiritimati"}, Case{"ps_AF", "\u066B", "America/St_Johns"}}) {
    const std::string locale = one.language + ".UTF-8";
    ASSERT_TRUE(make_locale(locales, one.language));
    ASSERT_EQ(decimal_sign(locales, locale), one.decimal_sign);  // else nothing would be tested
    ASSERT_TRUE(fs::exists("/usr/share/zoneinfo/" + one.zone));
    Surroundings around;
    around.environment = {{"LOCPATH", locales.string()}, {"LC_ALL", locale}, {"LANG", locale}, {"LANGUAGE", one.language}, {"TZ", one.zone}};
    expect_same(plain, made(scratch / "house", scratch / one.language, around), "in " + locale + ", " + one.zone);
  }
}

// Two copies of a house in folders of other names and depths, one made with all processors, one with a single one.
TEST(SameBytes, InTwoCheckoutsOnOneProcessorOrMore) {
  const Scratch scratch;
  const fs::path here = scratch / "a", there = scratch / "another checkout/of \u00E9l\u00E8ve's (2)";
  lay_out(here);
  lay_out(there);
  Surroundings alone;
  alone.one_processor = true;
  alone.environment = {{"HOME", "/nowhere"}, {"USER", "somebody"}, {"TMPDIR", scratch.path().string()}};
  alone.folder = there;
  expect_same(made(here, scratch / "one"), made(there, there / "made", alone), "in " + there.string());
}

}  // namespace
}  // namespace pommel::trust
