// Ground truth by construction: catalog designs sampled as a maker would, with errors, recognised, and written as designs of their own.
#include "designs/matched.h"

#include <gtest/gtest.h>

#include "designs/designs.h"
#include "match/by_hand.h"
#include "match/compare.h"
#include "shop/read.h"

namespace pommel::designs {
namespace {

using match::Found;
using namespace match::testing;

const std::filesystem::path kRoot = POMMEL_SOURCE_DIR;
const House kHouse{kRoot / "catalog", kRoot / "templates"};

const shop::Shop& house_shop() {
  static const shop::Shop shop = [] {
    Sink sink;
    return shop::read_shop(*real_files(), kHouse.catalog / "shop", sink, [](const auto&, const auto&) {});
  }();
  return shop;
}

Result<family::Made> made(const Entry& entry) {
  Sink sink;
  const auto sheet = family::make_sheet(entry.family, entry.design, nullptr, house_shop(), {}, sink);
  EXPECT_FALSE(sink.has_errors()) << render(sink.all());
  return family::make(entry.family, entry.design, sheet, family::kCatalogue, house_shop(), {});
}

struct Turning {
  std::string name;
  shape::Part part;
  std::vector<TrueRun> runs;
  double square = 0;
};

std::vector<Turning> turnings(const std::string& family) {
  std::vector<Turning> all;
  for (const std::string& id : design_names(*real_files(), kHouse)) {
    Sink sink;
    const auto entry = find_design(*real_files(), kHouse, id, {}, sink);
    if (!entry || entry->design.family != family) continue;
    const auto whole = made(*entry);
    if (!whole.ok()) ADD_FAILURE() << id;
    for (const family::MadePiece& piece : whole.value().pieces) {
      Turning t{id + " " + piece.wanted.named, piece.part, true_runs(piece.part, piece.wanted.square), piece.wanted.square};
      if (!t.runs.empty()) all.push_back(std::move(t));
    }
  }
  return all;
}

std::vector<match::Measure> measured(const Turning& t, int n, double noise, double wrong, std::uint64_t seed) {
  std::vector<match::Measure> measures;
  for (const Taken& r : readings_of(t.part, t.runs, n, noise, wrong, Manner::edges_first, seed)) measures.push_back({r.x, r.diameter, noise, noise, match::Measure::Of::round, {}, {}});
  return measures;
}

Result<match::Recognition> recognised(const Turning& t, const std::vector<match::Measure>& measures) {
  match::Wishes wishes;
  wishes.head = 0, wishes.foot = t.part.length, wishes.square = t.square;
  for (const shape::ElementMark& mark : t.part.elements) {
    if (mark.kind == "square") wishes.squares.push_back({mark.x0, mark.x1, true, true});
  }
  return match::recognise(measures, wishes, {});
}

int right_elements(const Turning& t, const match::Recognition& found, std::string& missed) {
  int right = 0;
  for (const shape::ElementMark& mark : t.part.elements) {
    if (mark.kind == "square") continue;
    const bool met = std::any_of(found.elements.begin(), found.elements.end(), [&](const Found& f) {
      return one_word(std::string(shape::word_of(f.name.kind))) == one_word(mark.kind) && std::fabs(f.stroke.x0 - mark.x0) <= 1 && std::fabs(f.stroke.x1 - mark.x1) <= 1;
    });
    right += met;
    if (!met) missed += t.name + ": " + mark.kind + " at " + std::to_string(mark.x0) + "\n";
  }
  return right;
}

struct Tally {
  int elements = 0, right = 0;
  double squares = 0;  ///< mean squares of the pieces, mm²
  std::size_t pieces = 0;
  std::string missed;
};

/// Every piece of the families by eighty readings of 0.05 mm, a share of them wrong.
Tally tally(std::initializer_list<const char*> families, double wrong) {
  Tally sum;
  std::uint64_t seed = 7;
  for (const char* family : families) {
    for (const Turning& t : turnings(family)) {
      const auto found = recognised(t, measured(t, 80, 0.05, wrong, seed++));
      EXPECT_TRUE(found.ok()) << t.name << "\n" << render(found.reasons());
      if (!found.ok()) continue;
      for (const TrueRun& run : t.runs) sum.elements += static_cast<int>(run.elements.size());
      sum.right += right_elements(t, *found, sum.missed);
      sum.squares += std::pow(match::compared(t.part.outline, *found).rms, 2);
      ++sum.pieces;
    }
  }
  return sum;
}

void expect_right(const Tally& t, int percent) {
  ASSERT_GT(t.elements, 100);
  EXPECT_GE(100 * t.right, percent * t.elements) << t.right << " of " << t.elements << "; missed:\n" << t.missed;
}

TEST(Matched, EightyReadingsGiveEveryDesignOfTheHouse) {
  const Tally t = tally({"table-leg", "bed-post", "baluster", "lamp-column"}, 0);
  expect_right(t, 95);
  EXPECT_LE(std::sqrt(t.squares / static_cast<double>(t.pieces)), 0.1) << t.missed;
}

// The goal is 95 of a hundred at once; over the whole catalog and several seeds it is about that (bench/match_table), on these pieces a little less.
TEST(Matched, OneReadingInTwentyMayBeWrong) { expect_right(tally({"table-leg", "lamp-column"}, 0.05), 93); }

/// The piece of a set that is as long as the original; of a lamp whose tenon was added, the only one.
const family::MadePiece& piece_like(const family::Made& made, double length) {
  return *std::min_element(made.pieces.begin(), made.pieces.end(), [&](const auto& a, const auto& b) { return std::fabs(a.part.length - length) < std::fabs(b.part.length - length); });
}

class MatchedFamily : public ::testing::TestWithParam<const char*> {};

// From a design's readings to a design again, made by its family and held against what was recognised, and against the readings themselves.
TEST_P(MatchedFamily, BecomesADesignThatIsReadBackAsFound) {
  int made_again = 0;
  for (const Turning& t : turnings(GetParam())) {
    // a foot that tapers on its faces, or is square where the block cannot be told from it, is no outline of these families
    if (t.name.starts_with("spade") || t.name.starts_with("federal-urn")) continue;
    const auto measures = measured(t, 80, 0.05, 0, 11);
    const auto found = recognised(t, measures);
    ASSERT_TRUE(found.ok()) << t.name;
    const auto text = matched_design(*found, {"matched", "readings.csv", {}, "", ""});
    ASSERT_TRUE(text.ok()) << t.name << "\n" << render(text.reasons());
    EXPECT_NE(text->find("\nfamily: " + std::string(GetParam()) + "\n"), std::string::npos) << t.name << "\n" << *text;
    Sink sink;
    const auto entry = read_entry(*real_files(), kHouse, *text, "matched.yaml", sink);
    ASSERT_FALSE(sink.has_errors()) << t.name << "\n" << render(sink.all()) << *text;
    const auto again = made(*entry);
    ASSERT_TRUE(again.ok()) << t.name << "\n" << render(again.reasons()) << *text;
    const shape::Part& piece = piece_like(*again, t.part.length).part;
    const double added = text->find("has no tenon at its foot") != std::string::npos ? 26 : 0;  // mm
    EXPECT_NEAR(piece.length, t.part.length + added, 0.01) << t.name << "\n" << *text;
    const auto as_found = match::compared(piece.outline, *found);
    EXPECT_GT(as_found.readings.size(), 100u) << t.name;  // the eight-sided baluster is turned at its pin alone
    EXPECT_LT(std::fabs(as_found.most), 0.03) << t.name << " at " << as_found.most_at << "\n" << *text;
    const auto as_read = match::compared(piece.outline, measures, 0);
    EXPECT_GT(as_read.readings.size(), 70u) << t.name;
    EXPECT_LT(as_read.rms, 0.1) << t.name << " most " << as_read.most << " at " << as_read.most_at << "\n" << *text;
    ++made_again;
  }
  EXPECT_GE(made_again, 4);
}

INSTANTIATE_TEST_SUITE_P(Each, MatchedFamily, ::testing::Values("table-leg", "baluster", "bed-post", "lamp-column"), [](const auto& one) {
  std::string name = one.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

TEST(Matched, NeedsElements) {
  const auto text = matched_design({}, {"matched", "readings.csv", {}, "", ""});
  ASSERT_FALSE(text.ok());
  EXPECT_EQ(text.reasons()[0].id, "match.no-family");
}

}  // namespace
}  // namespace pommel::designs
