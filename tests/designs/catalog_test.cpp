// The house catalog itself: what every design must say and show, and that a taller or shorter table can be had of it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <set>

#include "base/number.h"
#include "base/text.h"
#include "designs/designs.h"
#include "rules/guard.h"
#include "shop/read.h"

namespace pommel::designs {
namespace {

const std::filesystem::path kRoot = POMMEL_SOURCE_DIR;
const House kHouse{kRoot / "catalog", kRoot / "templates"};

std::vector<Entry> catalog() {
  const auto files = real_files();
  std::vector<Entry> all;
  for (const std::string& id : design_names(*files, kHouse)) {
    Sink sink;
    auto entry = find_design(*files, kHouse, id, {}, sink);
    EXPECT_FALSE(sink.has_errors()) << render(sink.all());
    if (entry) all.push_back(std::move(*entry));
  }
  return all;
}

const shop::Shop& house_shop() {
  static const shop::Shop shop = [] {
    Sink sink;
    auto read = shop::read_shop(*real_files(), kHouse.catalog / "shop", sink, [](const auto&, const auto&) {});
    EXPECT_FALSE(sink.has_errors()) << render(sink.all());
    return read;
  }();
  return shop;
}

sheet::Sheet sheet_of(const Entry& entry, const std::vector<std::pair<std::string, sheet::Entry>>& extra) {
  Sink sink;
  auto sheet = family::make_sheet(entry.family, entry.design, nullptr, house_shop(), extra, sink);
  EXPECT_FALSE(sink.has_errors()) << entry.design.id << "\n" << render(sink.all());
  return sheet;
}

Result<family::Made> made(const Entry& entry, const std::vector<std::pair<std::string, sheet::Entry>>& extra = {}) {
  const auto sheet = sheet_of(entry, extra);
  return family::make(entry.family, entry.design, sheet, sheet.column_count() - 1, house_shop(), {});
}

// Everything that an element's drawing depends on, as written.
std::string as_written(const family::ElementText& element) {
  std::string text = std::string(shape::word_of(element.kind));
  if (element.kind == shape::ElementKind::pommel) text += " " + std::string(shape::word_of(element.cut));
  for (const auto& [size, entry] : element.sizes) text += "; " + size + " " + entry.text;
  for (const auto& [at, diameter] : element.through) text += "; " + at.text + " " + diameter.text;
  return text;
}

// Without the blocks and pins by which a piece stands in its frame: those are the family's.
std::multiset<std::string> all_as_written(const Entry& entry) {
  std::multiset<std::string> out;
  for (const family::ElementText& element : entry.design.outline)
    if (element.kind != shape::ElementKind::square && element.kind != shape::ElementKind::pin) out.insert(as_written(element));
  return out;
}

std::map<std::string, std::vector<Entry>> by_family() {
  std::map<std::string, std::vector<Entry>> all;
  for (Entry& entry : catalog()) all[entry.design.family].push_back(std::move(entry));
  return all;
}

TEST(Catalog, HoldsSixDesignsOfEachFamily) {
  const auto families = by_family();
  EXPECT_TRUE(families.contains("table-leg"));
  EXPECT_TRUE(families.contains("bed-post"));
  EXPECT_TRUE(families.contains("baluster"));
  EXPECT_TRUE(families.contains("lamp-column"));
  for (const auto& [family, designs] : families) EXPECT_EQ(designs.size(), 6u) << family;
}

TEST(Catalog, EveryDesignSaysItsPeriodAndWhereItIsThinnest) {
  for (const Entry& entry : catalog()) {
    EXPECT_GE(entry.design.about.size(), 80u) << entry.design.id;
    EXPECT_GE(entry.design.thinnest.size(), 40u) << entry.design.id;
    EXPECT_FALSE(entry.design.outline.empty()) << entry.design.id << " stands on the family's own outline";
  }
}

TEST(Catalog, EveryDesignHasSixElementsOfFourKindsUnlessItIsPlainByStyle) {
  std::map<std::string, int> plain;
  for (const Entry& entry : catalog()) {
    if (entry.design.about.find("Plain by style") != std::string::npos) {
      ++plain[entry.design.family];
      continue;
    }
    std::set<shape::ElementKind> kinds;
    for (const family::ElementText& element : entry.design.outline) kinds.insert(element.kind);
    EXPECT_GE(entry.design.outline.size(), 6u) << entry.design.id;
    EXPECT_GE(kinds.size(), 4u) << entry.design.id;
  }
  for (const auto& [family, count] : plain) EXPECT_LE(count, 1) << family << ": one plain design is a style, more are a lack of work";
}

TEST(Catalog, NoTwoDesignsShareMoreThanHalfTheirElements) {
  const auto all = catalog();
  for (std::size_t i = 0; i < all.size(); ++i)
    for (std::size_t k = i + 1; k < all.size(); ++k) {
      const auto a = all_as_written(all[i]), b = all_as_written(all[k]);
      std::vector<std::string> shared;
      std::set_intersection(a.begin(), a.end(), b.begin(), b.end(), std::back_inserter(shared));
      EXPECT_LE(2 * shared.size(), std::min(a.size(), b.size())) << all[i].design.id << " and " << all[k].design.id << " share " << listed(shared);
    }
}

// A formula that scales with the square: the family's thick and thin do.
TEST(Catalog, EveryDiameterFollowsTheSquare) {
  const auto follows = [](const std::string& text) {
    return text.starts_with("=") && (text.find("square") != std::string::npos || text.find("thick") != std::string::npos || text.find("thin") != std::string::npos);
  };
  for (const Entry& entry : catalog())
    for (const family::ElementText& element : entry.design.outline) {
      for (const auto& [size, value] : element.sizes) {
        if (size == "length" || size == "share" || size == "when" || size == "divide") continue;
        EXPECT_TRUE(follows(value.text)) << entry.design.id << ": " << as_written(element);
      }
      for (const auto& station : element.through) EXPECT_TRUE(follows(station.second.text)) << entry.design.id << ": " << as_written(element);
    }
}

// The measure that makes the first piece longer, and by how much it is asked to be.
struct Stretch {
  const char* measure;
  double from, by;
};
Stretch stretch_of(const frame::Frame& frame) {
  if (const auto* bed = std::get_if<frame::Bed>(&frame)) return {"head_post_height", bed->head_post, 120};
  if (const auto* lamp = std::get_if<frame::Lamp>(&frame)) return {"lamp_height", lamp->height, 40};
  if (const auto* stair = std::get_if<frame::Stair>(&frame)) return {"rail_height", stair->rail_height, 60};
  return {"table_height", std::get<frame::Table>(frame).height, 200};
}

TEST(Catalog, ALongerOrShorterPieceKeepsFixedElementsAndStretchesTheOthers) {
  for (const Entry& entry : catalog()) {
    const auto as_is = made(entry);
    ASSERT_TRUE(as_is.ok()) << entry.design.id << "\n" << render(as_is.reasons());
    const Stretch stretch = stretch_of(as_is->frame);
    for (const double change : {-stretch.by, stretch.by}) {
      const std::string text = format_exact(stretch.from + change) + " mm";
      const auto other = made(entry, {{stretch.measure, {text, {}, {}}}});
      ASSERT_TRUE(other.ok()) << entry.design.id << " at " << text << "\n" << render(other.reasons());
      const auto &before_marks = as_is->pieces.front().part.elements, &after_marks = other->pieces.front().part.elements;
      ASSERT_EQ(after_marks.size(), before_marks.size());
      for (std::size_t i = 0; i < before_marks.size(); ++i) {
        const shape::ElementMark &was = before_marks[i], &is = after_marks[i];
        const double before = was.x1 - was.x0, after = is.x1 - is.x0;
        if (was.shared) {
          EXPECT_GT((after - before) * change, 0) << entry.design.id << ", " << was.label;
        } else {
          EXPECT_EQ(after, before) << entry.design.id << ", " << was.label;
        }
        EXPECT_NEAR(is.d_greatest, was.d_greatest, 0.02 * was.d_greatest) << entry.design.id << ", " << was.label;
      }
    }
  }
}

// Rise and going make the lengths of a tread, whoever takes up the difference.
TEST(Catalog, BalustersOfATreadDifferByTheirShareOfTheRise) {
  const auto families = by_family();
  for (const Entry& entry : families.at("baluster"))
    for (const char* difference : {"top block", "foot block", "turning"}) {
      const auto as_is = made(entry, {{"difference", {difference, {}, {}}}});
      ASSERT_TRUE(as_is.ok()) << entry.design.id << ", " << difference << "\n" << render(as_is.reasons());
      const auto& stair = std::get<frame::Stair>(as_is->frame);
      EXPECT_EQ(as_is->pieces.size(), stair.string == frame::StringKind::closed ? 1u : static_cast<std::size_t>(stair.a_tread)) << entry.design.id;
      for (std::size_t i = 1; i < as_is->pieces.size(); ++i)
        EXPECT_NEAR(as_is->pieces[i].part.length - as_is->pieces[i - 1].part.length, stair.rise / stair.a_tread, 1e-9) << entry.design.id;
    }
}

// What published figures say of every design as it stands in the catalog.
TEST(Catalog, BalustersOpenAndBearAsTheGuardRuleOfTheirDesignSays) {
  const auto families = by_family();
  for (const Entry& entry : families.at("baluster")) {
    const auto as_is = made(entry);
    ASSERT_TRUE(as_is.ok());
    const auto& stair = std::get<frame::Stair>(as_is->frame);
    EXPECT_LE(frame::openings(stair, as_is->set).at_thin, rules::guard_rule(stair.rule)->stair_opening) << entry.design.id;
    const shop::Wood& wood = house_shop().woods.at(house_shop().boards.at(as_is->pieces.front().blank.stock).wood);
    EXPECT_EQ(frame::infill(stair, as_is->set, wood).notes.front().severity, Severity::note) << entry.design.id;
  }
}

// However the way comes into the wood: bored, ploughed, or in sections where the design says where it may be divided.
TEST(Catalog, EveryLampColumnCanBeBoredPloughedAndMostlyStacked) {
  const auto families = by_family();
  int stacked = 0;
  for (const Entry& entry : families.at("lamp-column"))
    for (const char* way : {"bored", "ploughed", "stacked"}) {
      const auto lamp = made(entry, {{"way", {way, {}, {}}}, {"drill_reach", {"400 mm", {}, {}}}});
      if (std::string(way) == "stacked") {
        stacked += lamp.ok() ? 1 : 0;
        if (!lamp.ok()) { EXPECT_EQ(lamp.reasons().front().id, "frame.divided") << entry.design.id; }
        if (lamp.ok()) { EXPECT_EQ(lamp->pieces.size(), 2u) << entry.design.id; }
        continue;
      }
      ASSERT_TRUE(lamp.ok()) << entry.design.id << ", " << way << "\n" << render(lamp.reasons());
      EXPECT_EQ(lamp->pieces.size(), 1u) << entry.design.id;
      for (const frame::JointReport& joint : lamp->set.joints) EXPECT_GE(joint.least_wall, 5) << entry.design.id << ", " << way;
    }
  EXPECT_EQ(stacked, 5);  // all but the gourd, which is one line
}

// A stool is no table: either its leg can be made, or the reasons say what is too long; nothing in between.
TEST(Catalog, AStoolIsMadeOrRefusedWithReasons) {
  const auto families = by_family();
  for (const Entry& entry : families.at("table-leg")) {
    const auto stool = made(entry, {{"table_height", {"450 mm", {}, {}}}});
    if (stool.ok()) {
      EXPECT_NEAR(stool->pieces.front().part.length, 450 - std::get<frame::Table>(stool->frame).top_thickness, 1e-9) << entry.design.id;
      continue;
    }
    EXPECT_THAT(stool.reasons().front().id, testing::AnyOf("outline.too-short", "outline.overhang", "faces.taper")) << entry.design.id << "\n" << render(stool.reasons());
  }
}

TEST(Catalog, TheStatedLeastThicknessIsNoThinnerThanEighteenMillimetres) {
  for (const Entry& entry : catalog()) {
    const auto as_is = made(entry);
    ASSERT_TRUE(as_is.ok());
    for (const family::MadePiece& piece : as_is->pieces) {
      if (piece.wanted.named == "finial") continue;  // carries nothing, and its tip may be fine
      for (const shape::ElementMark& mark : piece.part.elements) EXPECT_GE(mark.d_least, 18) << entry.design.id << ", " << mark.label;
    }
  }
}

}  // namespace
}  // namespace pommel::designs
