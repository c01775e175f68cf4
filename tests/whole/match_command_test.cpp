// pommel match as a process, the whole way for each kind of turning: a catalog design measured as a maker would, its readings in a file, the design that
// comes of them opened in the sheet, and the original measured a second time and held against that design.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "designs/designs.h"
#include "match/by_hand.h"
#include "shop/read.h"
#include "whole/process.h"

namespace pommel::whole {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using namespace match::testing;

const fs::path kRoot = POMMEL_SOURCE_DIR;

struct Original {
  shape::Part part;
  double square = 0;
};

/// The first piece of a house design.
Original original(const std::string& id) {
  const designs::House house{kRoot / "catalog", kRoot / "templates"};
  Sink sink;
  const auto entry = designs::find_design(*real_files(), house, id, {}, sink);
  const auto shop = shop::read_shop(*real_files(), house.catalog / "shop", sink, [](const auto&, const auto&) {});
  const auto sheet = family::make_sheet(entry->family, entry->design, nullptr, shop, {}, sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  const auto made = family::make(entry->family, entry->design, sheet, family::kCatalogue, shop, {});
  EXPECT_TRUE(made.ok()) << id;
  return {made->pieces.front().part, made->pieces.front().wanted.square};
}

std::string row(double x, double diameter, const std::string& note = {}) { return std::to_string(x) + "; " + std::to_string(diameter) + "; ; " + note + "\n"; }

/// A maker's list: eighty diameters within 0.05 mm, where its squares begin and end, and one reading across the flats.
std::string list_of(const Original& o, std::uint64_t seed) {
  std::string text = "# from head to foot\nx mm; diameter mm; +-; note\n";
  double square_at = -1;
  for (const shape::ElementMark& mark : o.part.elements) {
    if (mark.kind != "square") continue;
    square_at = (mark.x0 + mark.x1) / 2;
    if (mark.x0 > 0) text += std::to_string(mark.x0) + "; ; ; square from here\n";
    if (mark.x1 < o.part.length) text += std::to_string(mark.x1) + "; ; ; square to here\n";
  }
  if (square_at > 0) text += row(square_at, o.square, "square");
  for (const Taken& t : readings_of(o.part, true_runs(o.part, o.square), 80, 0.05, 0, Manner::edges_first, seed)) text += row(t.x, t.diameter);
  return text + "0; ; ; head\n" + std::to_string(o.part.length) + "; ; ; foot\n";
}

struct Kind {
  const char *design, *family, *why;
};

class MatchCommand : public ::testing::TestWithParam<Kind> {};

TEST_P(MatchCommand, GoesFromReadingsToADesignAndBackToTheReadings) {
  const Kind kind = GetParam();
  const Original o = original(kind.design);
  const Scratch scratch;
  ASSERT_TRUE(real_files()->write(scratch / "original.csv", list_of(o, 3)).ok());
  ASSERT_TRUE(real_files()->write(scratch / "again.csv", list_of(o, 4)).ok());
  Surroundings house;
  house.folder = kRoot;
  const std::string design = (scratch / "like-the-old-one.yaml").string();

  const Ended matched = pommel({"match", (scratch / "original.csv").string(), "--as", "like-the-old-one", "--into", scratch.path().string(), "--uncertainty", "0.05 mm"}, house);
  ASSERT_EQ(matched.code, 0) << matched.err << matched.out;
  EXPECT_THAT(matched.out, HasSubstr("written as a " + std::string(kind.family) + ", since " + kind.why));

  const Ended sheet = pommel({"sheet", design, "--catalog", (kRoot / "catalog").string()}, house);
  ASSERT_EQ(sheet.code, 0) << sheet.err;

  const Ended against = pommel({"match", (scratch / "again.csv").string(), "--against", design, "--json", "--uncertainty", "0.05 mm"}, house);
  ASSERT_EQ(against.code, 0) << against.err;
  const auto held = nlohmann::json::parse(against.out);
  EXPECT_GE(held.at("places").get<int>(), 60);
  EXPECT_LT(held.at("rms").get<double>(), 0.1) << against.out;
}

INSTANTIATE_TEST_SUITE_P(Each, MatchCommand,
                         ::testing::Values(Kind{"farmhouse-vase", "table leg", "it has a square block at its head and a turned foot"},
                                           Kind{"ball-and-ring-baluster", "baluster", "it has a square block at its head and a pin at its foot"},
                                           Kind{"cannonball-bed", "bed post", "it is turned above and below a square block"},
                                           Kind{"candlestick-lamp", "lamp column", "it is turned from head to foot"}),
                         [](const auto& one) {
                           std::string name = one.param.family;
                           std::replace(name.begin(), name.end(), ' ', '_');
                           return name;
                         });

TEST(MatchFor, AFamilyThatHasNoUseForThePieceSaysWhatItNeedsAndWritesNothing) {
  const Scratch scratch;
  ASSERT_TRUE(real_files()->write(scratch / "lamp.csv", list_of(original("candlestick-lamp"), 3)).ok());
  Surroundings house;
  house.folder = kRoot;
  const auto as = [&](const std::string& family) { return pommel({"match", (scratch / "lamp.csv").string(), "--as", "other", "--into", scratch.path().string(), "--for", family}, house); };
  const Ended bed = as("bed-post");
  EXPECT_EQ(bed.code, 1);
  EXPECT_THAT(bed.err, HasSubstr("error: the piece cannot be written as a bed post: it has no square block, where the rails come in, between a turned head and a turned foot"));
  const Ended word = as("bannister");
  EXPECT_EQ(word.code, 1);
  EXPECT_THAT(word.err, HasSubstr("choose one of table-leg, baluster, bed-post, lamp-column"));
  EXPECT_FALSE(fs::exists(scratch / "other.yaml"));
}

}  // namespace
}  // namespace pommel::whole
