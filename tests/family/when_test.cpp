// Elements that are there only where their `when` says so, in the family of balusters.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "base/files.h"
#include "family/family.h"
#include "shop/read.h"

namespace pommel::family {
namespace {

const std::filesystem::path kRoot = POMMEL_SOURCE_DIR;

struct Answer {
  Sink sink;
  std::optional<Result<Made>> made;
};

Answer made_of(const std::string& design_text, const std::vector<std::pair<std::string, sheet::Entry>>& extra = {}) {
  Answer answer;
  Sink shop_sink;
  const shop::Shop shop = shop::read_shop(*real_files(), kRoot / "catalog/shop", shop_sink, [](const auto&, const auto&) {});
  const Family family = read_family(*real_files()->read(kRoot / "templates/baluster.yaml"), "templates/baluster.yaml", "baluster", answer.sink);
  const Design design = read_design(design_text, "designs/plain.yaml", "plain", answer.sink);
  if (answer.sink.has_errors()) return answer;
  const auto sheet = make_sheet(family, design, nullptr, shop, extra, answer.sink);
  if (!answer.sink.has_errors()) answer.made.emplace(make(family, design, sheet, sheet.column_count() - 1, shop, {}));
  return answer;
}

std::vector<std::pair<std::string, sheet::Entry>> with(std::initializer_list<std::pair<std::string, std::string>> entries) {
  std::vector<std::pair<std::string, sheet::Entry>> out;
  for (const auto& [name, text] : entries) out.emplace_back(name, sheet::Entry{text, {}, {}});
  return out;
}

std::vector<std::string> kinds_of(const MadePiece& piece) {
  std::vector<std::string> kinds;
  for (const shape::ElementMark& mark : piece.part.elements) kinds.push_back(mark.kind);
  return kinds;
}

constexpr const char* kPlain = "design: plain\nfamily: baluster\n";

TEST(When, AnElementIsLeftOutWhereItSaysNo) {
  const Answer raked = made_of(kPlain), pinned = made_of(kPlain, with({{"top", "pin"}})), closed = made_of(kPlain, with({{"string", "closed"}}));
  for (const Answer* answer : {&raked, &pinned, &closed}) ASSERT_TRUE(answer->made && answer->made->ok()) << render(answer->sink.all());
  EXPECT_EQ(kinds_of((*raked.made)->pieces.front()).front(), "square");
  EXPECT_EQ(kinds_of((*raked.made)->pieces.front()).back(), "pin");
  EXPECT_EQ(kinds_of((*pinned.made)->pieces.front()).front(), "pin");
  EXPECT_EQ(kinds_of((*pinned.made)->pieces.front()).back(), "pin");
  EXPECT_EQ(kinds_of((*closed.made)->pieces.front()).back(), "square");
  EXPECT_EQ((*raked.made)->pieces.size(), 2u);
  EXPECT_EQ((*closed.made)->pieces.size(), 1u);
}

TEST(When, EveryWayToEndABalusterCanBeMadeOfTheFamily) {
  for (const char* top : {"raked", "pin"})
    for (const char* foot : {"pin", "dovetail"})
      for (const char* difference : {"top block", "foot block", "turning"})
        for (const char* a_tread : {"1", "2", "3"}) {
          if (std::string(top) == "pin" && std::string(difference) == "top block") continue;  // has no top block
          const Answer answer = made_of(kPlain, with({{"top", top}, {"foot", foot}, {"difference", difference}, {"balusters_a_tread", a_tread}}));
          ASSERT_TRUE(answer.made) << render(answer.sink.all());
          EXPECT_TRUE(answer.made->ok()) << top << ", " << foot << ", " << difference << "\n" << render(answer.made->reasons());
        }
}

TEST(When, APlaceThatIsLeftOutIsSaid) {
  const std::string design = std::string(kPlain) + "treatments:\n  - polygon: {from: top block, until: top block, across: 30 mm, stop: none}\n";
  const Answer there = made_of(design);
  ASSERT_TRUE(there.made);
  const Answer answer = made_of(design, with({{"top", "pin"}}));
  ASSERT_TRUE(answer.made && !answer.made->ok());
  const Diagnostic& found = answer.made->reasons().front();
  EXPECT_EQ(found.id, "family.absent-place");
  EXPECT_EQ(found.place, (Place{"designs/plain.yaml", 4, 5}));
  EXPECT_EQ(found.message, "the polygon stands at 'top block', which is left out of this outline");
}

TEST(When, ItIsAYesOrNo) {
  const Answer answer = made_of(std::string(kPlain) + "outline:\n  - square: {share: 1, when: = square}\n");
  ASSERT_TRUE(answer.sink.has_errors());
  EXPECT_EQ(answer.sink.all().front().place.line, 4) << render(answer.sink.all());
}

TEST(When, OnlyWhatCanBeDividedIs) {
  const Answer answer = made_of(std::string(kPlain) + "outline:\n  - square: {share: 1, divide: yes}\n  - pin: {length: = foot_pin, start: = foot_pin_thick}\n");
  ASSERT_TRUE(answer.made && !answer.made->ok()) << render(answer.sink.all());
  EXPECT_EQ(answer.made->reasons().front().id, "frame.not-divided");
  EXPECT_EQ(answer.made->reasons().front().place, (Place{"designs/plain.yaml", 4, 5}));
}

}  // namespace
}  // namespace pommel::family
