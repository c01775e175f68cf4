// Treatments and joints of a family file, all the way into the set of parts.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

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
  const std::string taper = "- taper:    {share: 1, end: = square * 0.56, when";
  ASSERT_NE(written.find(taper), written.npos);
  written.replace(written.find(taper), taper.size(), "- taper:    {share: 1, end: = square * 0.56, name: shank, when");
  const std::string own = "treatments:                      # one of them";
  ASSERT_NE(written.find(own), written.npos);
  written.replace(written.find(own), own.size(), "treatments:\n  - flutes: {from: shank, from_plus: 8 mm, until: shank, until_plus: -8 mm, count: 8, width: = thin / 6, depth: 2 mm, run_out: 12 mm}  #");
  written += "\njoints:\n  - axial bore: {name: glide, diameter: 8 mm, from: foot, from_plus: -20 mm, until: foot}\n";
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

// What hangs on what in the family's own shaft: each row says which of the results below change, and no other may.
struct Shaft {
  std::size_t flutes = 0, reeds = 0, strands = 0, kinds = 0, elements = 0;
  double from = 0, until = 0, sunk = 0, width = 0, run = 0, pitch = 0, skin = 0;

  std::vector<std::pair<std::string, double>> results() const {
    return {{"flutes", flutes}, {"reeds", reeds}, {"strands", strands}, {"kinds", kinds}, {"elements", elements}, {"from", from}, {"until", until}, {"sunk", sunk}, {"width", width}, {"run", run}, {"pitch", pitch}};
  }
};

class ShaftWork : public ::testing::Test {
 protected:
  ShaftWork() {
    const auto text = real_files()->read(std::filesystem::path(POMMEL_SOURCE_DIR) / "templates" / "table-leg.yaml");
    Sink sink;
    if (text.ok()) family_ = read_family(*text, "f.yaml", "f", sink);
    shop_ = shop::read_shop(*real_files(), std::filesystem::path(POMMEL_SOURCE_DIR) / "catalog" / "shop", sink, [](const auto&, const auto&) {});
    EXPECT_FALSE(sink.has_errors()) << render(sink.all());
    design_.name = "plain";
  }

  Shaft made(const std::vector<std::pair<std::string, std::string>>& with) const {
    Sink sink;
    std::vector<std::pair<std::string, sheet::Entry>> extra;
    for (const auto& [measure, text] : with) extra.emplace_back(measure, sheet::Entry{text, {}, {}});
    const auto book = make_sheet(family_, design_, nullptr, shop_, extra, sink);
    EXPECT_FALSE(sink.has_errors()) << render(sink.all());
    const auto made = make(family_, design_, book, book.column_count() - 1, shop_, {});
    EXPECT_TRUE(made.ok()) << render(made.reasons());
    return made.ok() ? shaft_of(made->pieces.front().part, made->set) : Shaft{};
  }

  static Shaft shaft_of(const shape::Part& part, const frame::Set& set) {
    Shaft out;
    out.flutes = part.flutes.size(), out.kinds = set.turned_kinds.size(), out.elements = part.elements.size();
    if (!part.reedings.empty()) out.reeds = static_cast<std::size_t>(part.reedings.front().count);
    if (!part.flutes.empty()) out.width = part.flutes.front().radius, measure(part.flutes.front().centre, part, out);
    if (!part.reedings.empty()) out.width = part.reedings.front().radius, measure(part.reedings.front().centre, part, out);
    if (!part.twists.empty()) {
      const shape::Twist& twist = part.twists.front();
      out.strands = static_cast<std::size_t>(twist.starts);
      out.from = twist.x0, out.until = part.length - twist.x1, out.sunk = twist.depth, out.run = twist.fade0, out.pitch = twist.pitch;
    }
    return out;
  }

  // Places counted from the ends of the element, so that a longer leg does not move them.
  static void measure(const shape::Profile& centre, const shape::Part& part, Shaft& out) {
    const auto shaft = std::find_if(part.elements.begin(), part.elements.end(), [](const shape::ElementMark& mark) { return mark.label == "shaft"; });
    std::vector<const shape::Piece*> there;
    for (const shape::Piece& piece : centre.pieces)
      if (piece.kind != shape::Piece::Kind::clear) there.push_back(&piece);
    out.from = there.front()->x0 - shaft->x0, out.until = shaft->x1 - there.back()->x1, out.run = there.front()->x1 - there.front()->x0;
    const double middle = (shaft->x0 + shaft->x1) / 2;
    out.sunk = part.outline.value(middle, shape::Side::after) - shape::radius_at(part, middle, part.flutes.empty() ? std::numbers::pi / part.reedings.front().count : 0);
  }

  Family family_;
  Design design_;
  shop::Shop shop_;
};

struct ShaftRow {
  std::string measure, value, changes;
};

const std::map<std::string, std::vector<ShaftRow>>& shaft_rows() {
  static const std::map<std::string, std::vector<ShaftRow>> rows = {
      {"fluted",
       {{"channels", "8", "flutes"}, {"channel_width", "5 mm", "sunk width"}, {"channel_depth", "1.6 mm", "sunk width"}, {"run_out", "20 mm", "run"}, {"stop_short", "14 mm", "from until"},
        {"reed_depth", "0.4 mm", ""}, {"strands", "3", ""}, {"table_height", "760 mm", ""}, {"foot", "peg", ""}, {"mirrored_pairs", "yes", ""}, {"overhang_long", "50 mm", ""}}},
      {"reeded", {{"channels", "8", "reeds sunk width"}, {"reed_depth", "0.4 mm", "sunk width"}, {"channel_depth", "1.6 mm", ""}, {"stop_short", "14 mm", "from until sunk width"}}},
      {"twisted",
       {{"strands", "3", "strands"}, {"strand_pitch", "120 mm", "pitch"}, {"strand_depth", "5 mm", "sunk"}, {"run_out", "20 mm", "run"}, {"mirrored_pairs", "yes", "kinds"}, {"channels", "8", ""},
        {"channel_width", "5 mm", ""}, {"stop_short", "14 mm", "from until"}}}};
  return rows;
}

TEST_F(ShaftWork, EachMeasureMovesWhatItSaysAndNothingElse) {
  for (const auto& [work, rows] : shaft_rows()) {
    const auto before = made({{"shaft_work", work}}).results();
    for (const ShaftRow& row : rows) {
      const auto after = made({{"shaft_work", work}, {row.measure, row.value}}).results();
      for (std::size_t i = 0; i < before.size(); ++i) {
        const bool changes = (" " + row.changes + " ").find(" " + before[i].first + " ") != std::string::npos;
        EXPECT_EQ(std::fabs(after[i].second - before[i].second) > 1e-6, changes) << work << ", " << row.measure << " = " << row.value << ": " << before[i].first << " " << before[i].second << " and " << after[i].second;
      }
    }
  }
}

// By hand: square 64 mm, so 0.16 of it plain at both ends and a width of 0.2 of 32 mm.
TEST_F(ShaftWork, FlutesStopShortOfTheRingsByTheirFormula) {
  const Shaft shaft = made({{"shaft_work", "fluted"}});
  EXPECT_EQ(shaft.flutes, 10u);
  EXPECT_NEAR(shaft.from, 0.16 * 64, 1e-6);
  EXPECT_NEAR(shaft.until, 0.16 * 64, 1e-6);
  EXPECT_NEAR(shaft.sunk, 0.36 * 0.2 * 32, 1e-6);
  const Shaft plain = made({});
  EXPECT_EQ(plain.flutes + plain.reeds + plain.strands, 0u);
}

TEST_F(ShaftWork, EachFootIsMade) {
  for (const char* foot : {"ball", "bun", "peg"})
    for (const char* work : {"plain", "fluted", "twisted"}) EXPECT_EQ(made({{"foot", foot}, {"shaft_work", work}}).elements, 11u) << foot << ", " << work;
}

}  // namespace
}  // namespace pommel::family
