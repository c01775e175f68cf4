// Families whose frame asks for several pieces: words of one outline that mean each piece its own measure, own outlines, and what is wrong with them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "base/files.h"
#include "family/family.h"
#include "shop/read.h"

namespace pommel::family {
namespace {

const std::filesystem::path kRoot = POMMEL_SOURCE_DIR;

std::string bed_text() {
  auto text = real_files()->read(kRoot / "templates/bed-post.yaml");
  EXPECT_TRUE(text.ok());
  return text.ok() ? *text : std::string();
}

std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  if (at != std::string::npos) text.replace(at, from.size(), to);
  return text;
}

const shop::Shop& house_shop() {
  static const shop::Shop shop = [] {
    Sink sink;
    auto read = shop::read_shop(*real_files(), kRoot / "catalog/shop", sink, [](const auto&, const auto&) {});
    EXPECT_FALSE(sink.has_errors()) << render(sink.all());
    return read;
  }();
  return shop;
}

struct Answer {
  Sink sink;
  std::optional<Result<Made>> made;
};

Answer made_of(const std::string& family_text, const std::string& design_text, const std::vector<std::pair<std::string, sheet::Entry>>& extra = {}) {
  Answer answer;
  const Family family = read_family(family_text, "templates/bed-post.yaml", "bed-post", answer.sink);
  const Design design = read_design(design_text, "designs/plain.yaml", "plain", answer.sink);
  if (answer.sink.has_errors()) return answer;
  const auto sheet = make_sheet(family, design, nullptr, house_shop(), extra, answer.sink);
  if (!answer.sink.has_errors()) answer.made.emplace(make(family, design, sheet, sheet.column_count() - 1, house_shop(), {}));
  return answer;
}

constexpr const char* kPlain = "design: plain\nfamily: bed-post\n";

TEST(Pieces, OneOutlineMeansEachPieceItsOwnMeasures) {
  const Answer answer = made_of(bed_text(), kPlain);
  ASSERT_TRUE(answer.made && answer.made->ok()) << render(answer.sink.all());
  const Made& made = **answer.made;
  ASSERT_EQ(made.pieces.size(), 2u);
  const auto block = [&](std::size_t piece) {
    for (const shape::ElementMark& mark : made.pieces[piece].part.elements)
      if (mark.label == "block") return mark;
    return shape::ElementMark{};
  };
  // head: 800 - 420 + 150 + 2 x 20; foot: 150 + 2 x 20. Both end as far above the floor: 420 - 150 - 20
  EXPECT_NEAR(block(0).x1 - block(0).x0, 570, 1e-9);
  EXPECT_NEAR(block(1).x1 - block(1).x0, 190, 1e-9);
  EXPECT_NEAR(made.pieces[0].part.length - block(0).x1, 250 - 70 * 0.2 + 70 * 0.2, 1e-9);
  EXPECT_NEAR(made.pieces[1].part.length - block(1).x1, 250, 1e-9);
}

TEST(Pieces, ADesignMayTurnOnePieceOtherwise) {
  const Answer answer = made_of(bed_text(), std::string(kPlain) + R"(
outline of the foot post:
  - square: {share: 1, name: block}
)");
  ASSERT_TRUE(answer.made && answer.made->ok()) << render(answer.sink.all()) << (answer.made ? render(answer.made->reasons()) : "");
  EXPECT_EQ((*answer.made)->pieces[1].part.elements.size(), 1u);
  EXPECT_GT((*answer.made)->pieces[0].part.elements.size(), 10u);
}

TEST(Pieces, AFinialHasItsOwnOutlineAndBlankAlone) {
  const sheet::Entry pin{"on a pin", {}, {}};
  const Answer answer = made_of(bed_text(), std::string(kPlain) + "outline:\n  - square: {share: 1}\n", {{"finials", pin}});
  ASSERT_TRUE(answer.made && answer.made->ok()) << render(answer.sink.all()) << (answer.made ? render(answer.made->reasons()) : "");
  const Made& made = **answer.made;
  ASSERT_EQ(made.pieces.size(), 3u);
  EXPECT_EQ(made.pieces[0].part.elements.size(), 1u);  // the design's outline is the posts'
  EXPECT_EQ(made.pieces[2].part.elements.front().label, "knob");
  EXPECT_DOUBLE_EQ(made.pieces[2].blank.square, 56);
  EXPECT_EQ(made.pieces[2].blank.stock, made.pieces[0].blank.stock);
}

TEST(Pieces, APieceThatNoFileTurnsIsMissed) {
  std::string text = bed_text();
  const std::size_t from = text.find("outline of the finial:"), to = text.find("hardware:");
  text.erase(from, to - from);
  const Answer turned_in = made_of(text, kPlain);
  EXPECT_TRUE(turned_in.made && turned_in.made->ok());
  const Answer answer = made_of(text, kPlain, {{"finials", sheet::Entry{"on a pin", {}, {}}}});
  ASSERT_TRUE(answer.made);
  ASSERT_FALSE(answer.made->ok());
  EXPECT_EQ(answer.made->reasons().front().id, "family.no-outline");
  EXPECT_THAT(answer.made->reasons().front().remedy, testing::HasSubstr("outline of the finial:"));
}

TEST(Pieces, WrongWordsAndKeysAreToldWithTheirPlaces) {
  struct Case {
    const char *from, *to, *id, *says;
  };
  const Case cases[] = {
      {"block_length: head_block_length}", "block_length: head_blok_length}", "family.unknown-measure", "head_block_length"},
      {"{post_length: head_post_length,", "{square: head_post_length,", "family.piece-word", "name of its own"},
      {"  head post: {post", "  head pots: {post", "yaml.unknown-key", "head post"},
      {"stands_in: bed", "stands_in: bad", "yaml.unknown-choice", "bed"},
      {"  side_joint: = side_joint", "  side_joint: hook plate", "family.unknown-word", "hook plates"},
      {"    nut_from_end: = nut_from_end", "    nut_form_end: = nut_from_end", "yaml.unknown-key", "nut_from_end"},
      {"  head_post: = head_post_height\n", "", "yaml.missing-key", "head_post"},
      {"outline of the finial:", "outline of the finail:", "yaml.unknown-key", "outline of the finial"},
      {"length: = block_length, name: block", "length: = blok_length, name: block", "sheet.unknown-name", "blok_length"},
      {"pieces:                          # what the words of the outlines mean for each piece\n", "pieces: posts\nposts:\n", "yaml", "pieces"},
  };
  for (const Case& one : cases) {
    const Answer answer = made_of(with(bed_text(), one.from, one.to), kPlain);
    EXPECT_TRUE(answer.sink.has_errors()) << one.from;
    const std::string told = render(answer.sink.all());
    EXPECT_THAT(told, testing::HasSubstr(one.id)) << one.from;
    EXPECT_THAT(told, testing::HasSubstr(one.says)) << one.from;
    for (const Diagnostic& reason : answer.sink.all()) {
      EXPECT_GT(reason.place.line, 0) << render(reason);
      EXPECT_EQ(std::count(answer.sink.all().begin(), answer.sink.all().end(), reason), 1) << "told twice: " << render(reason);
    }
  }
}

}  // namespace
}  // namespace pommel::family
