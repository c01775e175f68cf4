// pommel catalog as a process: what it answers, and that it writes files back as their maker left them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <regex>

#include "whole/house.h"
#include "whole/process.h"

namespace pommel::whole {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

/// The house of the tests on the disk, with a second design.
class CatalogCommand : public ::testing::Test {
 protected:
  void SetUp() override {
    const House house;
    for (const auto& [name, text] : house.files.files()) write(name, text);
    std::string other = kSmallDesign;
    other.replace(other.find("low table"), 9, "high table\ntags: [tall, plain]");
    other.replace(other.find("380 mm"), 6, "900 mm");
    write("catalog/designs/high-table.yaml", other);
  }
  void write(const std::string& name, const std::string& text) {
    const fs::path path = scratch / name;
    fs::create_directories(path.parent_path());
    ASSERT_TRUE(real_files()->write(path, text).ok());
  }
  Ended ask(std::vector<std::string> arguments) const {
    arguments.insert(arguments.begin(), {"catalog", "--catalog", (scratch / "catalog").string()});
    return pommel(arguments);
  }

  Scratch scratch;
};

TEST_F(CatalogCommand, FindsByWordsOfNameAndTags) {
  const Ended found = ask({"--json", "--find", "TALL plain"});
  EXPECT_EQ(found.code, 0) << found.err;
  const auto list = nlohmann::json::parse(found.out);
  ASSERT_EQ(list.size(), 1u);
  EXPECT_EQ(list[0].at("id").get<std::string>(), "high-table");
  EXPECT_EQ(list[0].at("card").at("tags").size(), 2u);
}

TEST_F(CatalogCommand, AnswersWhatWouldDoAtASizeOutOfAStock) {
  const Ended found = ask({"--with", "table_height=36 in", "--with", "stock=cherry-8/4-rough", "--with", "square=46 mm", "--where", "thinnest_diameter >= 27 mm"});
  EXPECT_EQ(found.code, 0) << found.err;
  EXPECT_THAT(found.out, HasSubstr("Would do\n--------\nhigh-table\n  leg 892.4 mm, square 46 mm"));
  const Ended thick = ask({"--json", "--with", "stock=cherry-4/4-rough"});
  for (const auto& one : nlohmann::json::parse(thick.out)) {
    EXPECT_FALSE(one.at("does").get<bool>());
    EXPECT_THAT(one.at("problems").at(0).get<std::string>(), HasSubstr("does not come out of '4/4 rough cherry'"));
  }
}

TEST_F(CatalogCommand, ComparesTwoDesignsAndOneWithItself) {
  const Ended two = ask({"--compare", "low-table", "high-table"});
  EXPECT_EQ(two.code, 0) << two.err;
  EXPECT_THAT(two.out, HasSubstr("table_height     380 mm      900 mm"));
  const auto differ = nlohmann::json::parse(ask({"--json", "--compare", "low-table", "high-table"}).out).at("differ");
  EXPECT_EQ(differ.at("table_height").at(1).get<std::string>(), "900 mm");
  EXPECT_TRUE(differ.contains("slenderness"));
  EXPECT_THAT(ask({"--compare", "low-table", "--with", "square=50 mm"}).out, HasSubstr("as catalogued"));
  const Ended alone = ask({"--compare", "low-table"});
  EXPECT_EQ(alone.code, 1);
  EXPECT_THAT(alone.err, HasSubstr("is to be compared with what?"));
  EXPECT_THAT(ask({"--compare", "low-table", "hihg-table"}).err, HasSubstr("did you mean 'high-table'?"));
}

TEST_F(CatalogCommand, WritesAnOlderFileBackWithItsComments) {
  write("templates/table-leg.yaml", repository_text("templates/table-leg.yaml") + "\nversion: 2\nrenamed:\n  2: {leg_square: square}\n");
  write("catalog/designs/old.yaml", "# mine\ndesign: old\nfamily: table-leg\nsheet:\n  leg_square: 60 mm   # of the plank\n");
  const Ended done = ask({"--update", (scratch / "catalog/designs/old.yaml").string()});
  EXPECT_EQ(done.code, 0) << done.err;
  EXPECT_EQ(*real_files()->read(scratch / "catalog/designs/old.yaml"), "# mine\ndesign: old\nfamily: table-leg\nwritten_for: 2\nsheet:\n  square: 60 mm   # of the plank\n");
  write("catalog/designs/new.yaml", "design: new\nfamily: table-leg\nwritten_for: 3\n");
  const Ended newer = ask({"--update", (scratch / "catalog/designs/new.yaml").string()});
  EXPECT_EQ(newer.code, 1);
  EXPECT_THAT(newer.err, HasSubstr("this was written for version 3"));
}

#ifdef POMMEL_WITH_PAPER
// Left and right end of each piece drawn in a picture of the gallery: its outline's points, of "M x y", "L x y" and "A rx ry 0 large sweep x y".
std::vector<std::pair<double, double>> spans_of(const std::string& svg) {
  static const std::regex wood(R"re(class="wood" d="([^"]*)")re"), end(R"re((?:[ML]|A\S+ \S+ 0 [01] [01] )(-?[0-9.]+) )re");
  std::vector<std::pair<double, double>> out;
  for (std::sregex_iterator piece(svg.begin(), svg.end(), wood), none; piece != none; ++piece) {
    const std::string outline = (*piece)[1];
    std::pair<double, double> span{1e9, -1e9};
    for (std::sregex_iterator at(outline.begin(), outline.end(), end); at != none; ++at) {
      span.first = std::min(span.first, std::stod((*at)[1]));
      span.second = std::max(span.second, std::stod((*at)[1]));
    }
    out.push_back(span);
  }
  return out;
}

TEST(Gallery, ShowsEveryPieceOfTheHouseBesideTheOthersAndNeedsNothingElse) {
  const Scratch scratch;
  const fs::path page = scratch / "gallery.html";
  const Ended made = pommel({"catalog", "--catalog", (fs::path(POMMEL_SOURCE_DIR) / "catalog").string(), "--pictures", page.string()});
  ASSERT_EQ(made.code, 0) << made.err;
  const std::string html = *real_files()->read(page);
  for (const char* elsewhere : {"http:", "https:", "src=", "href=", "url(", "@import", "<script"}) EXPECT_EQ(html.find(elsewhere), std::string::npos) << elsewhere;
  std::size_t designs = 0, several = 0;
  for (std::size_t at = html.find("<svg "); at != std::string::npos; at = html.find("<svg ", at + 1)) {
    const auto spans = spans_of(html.substr(at, html.find("</svg>", at) - at));
    ASSERT_FALSE(spans.empty());
    ++designs;
    for (std::size_t i = 0; i + 1 < spans.size(); ++i, ++several) EXPECT_LT(spans[i].second + 10, spans[i + 1].first) << "picture " << designs;
  }
  EXPECT_EQ(designs, 24u);
  EXPECT_GT(several, 8u);
}
#endif

}  // namespace
}  // namespace pommel::whole
