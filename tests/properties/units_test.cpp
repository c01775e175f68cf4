// The same sizes in inches or in millimetres are the same pieces.
//
// Not bit by bit: 25.4 is no double, so 0.484375 in times it may be another double than what 12.303125 mm reads as, by a unit in the last place (1e-13 mm
// for a length of half a metre). Places along an outline lie on a grid of 2^-32 mm (DEVELOPERS.md, "Lengths of the outline"), to which such a length may
// go on the other side: 2.4e-10 mm. Hence 1e-9 mm.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <regex>
#include <sstream>

#include "base/number.h"
#include "base/quantity.h"
#include "job/column.h"
#include "properties/drawn_parts.h"
#include "whole/sampled_sheets.h"

namespace pommel::properties {
namespace {

constexpr double kSame = 1e-9;  // mm

// "62 mm" as "2.4409448818897639 in", all through a text; comments too.
std::string in_inches(const std::string& text, int& changed) {
  static const std::regex length(R"((\d+(?:\.\d+)?) ?mm\b)");
  std::string out;
  auto from = text.begin();
  for (std::sregex_iterator it(text.begin(), text.end(), length), end; it != end; ++it, ++changed) {
    out.append(from, text.begin() + it->position());
    char inches[64];
    std::snprintf(inches, sizeof inches, "%.17f in", std::stod((*it)[1]) / 25.4);
    out += inches;
    from = text.begin() + it->position() + it->length();
  }
  return out.append(from, text.end());
}

// "" where two dumps say the same, word by word, numbers within kSame; else the first that differs.
std::string difference(const std::string& one, const std::string& other) {
  std::istringstream a(one), b(other);
  for (std::string word, twin; a >> word;) {
    if (!(b >> twin)) return "ends at '" + word + "'";
    if (word == twin) continue;
    char *end = nullptr, *twin_end = nullptr;
    const double x = std::strtod(word.c_str(), &end), y = std::strtod(twin.c_str(), &twin_end);
    if (*end || *twin_end || !(std::fabs(x - y) <= kSame)) return "'" + word + "' and '" + twin + "'";
  }
  return b >> std::ws && !b.eof() ? "goes on" : "";
}

class Units : public ::testing::Test {
 protected:
  whole::House house_;
  int changed_ = 0;

  std::vector<shape::Part> pieces(const std::string& name) const {
    const job::Loaded of = house_.load(name);
    Sink sink;
    const auto sheet = family::make_sheet(of.family, of.design, of.order ? &*of.order : nullptr, of.shop, {}, sink);
    EXPECT_FALSE(sink.has_errors()) << name << "\n" << render(sink.all());
    const auto column = job::run_to_stock(of, sheet, sheet.column_count() - 1, {});
    EXPECT_TRUE(column.ok()) << name << "\n" << render(column.reasons());
    std::vector<shape::Part> out;
    if (column.ok())
      for (const auto& piece : column->made.pieces) out.push_back(piece.part);
    return out;
  }

  void expect_same_in_inches(const std::string& name, const std::string& text) {
    house_.put(name, text);
    const std::vector<shape::Part> metric = pieces(name);
    house_.put(name, in_inches(text, changed_));
    const std::vector<shape::Part> inches = pieces(name);
    ASSERT_EQ(inches.size(), metric.size()) << name;
    ASSERT_FALSE(metric.empty()) << name;
    for (std::size_t i = 0; i < metric.size(); ++i) EXPECT_EQ(difference(shape::dump(metric[i]), shape::dump(inches[i])), "") << name << ", piece " << i;
  }
};

TEST_F(Units, EveryDesignOfTheCatalogIsTheSameInInches) {
  for (const std::string& design : designs::design_names(*real_files(), whole::catalog())) {
    const std::string name = "catalog/designs/" + design + ".yaml";
    expect_same_in_inches(name, whole::repository_text(name));
  }
  EXPECT_GT(changed_, 300);
}

TEST_F(Units, AnOrderIsTheSameInInches) {
  expect_same_in_inches("catalog/orders/low-table.yaml", whole::kSmallOrder);
  EXPECT_EQ(changed_, 1);
}

// Sixty-fourths are exact in both: 1/64 in is 0.396875 mm.
TEST_F(Units, FractionsOfAnInchAreTheirDecimalsInMillimetres) {
  for (int i = 64 * 45 / 64; i <= 64 * 4; ++i) {
    const std::string fraction = std::to_string(i / 64) + " " + std::to_string(i % 64) + "/64 in", decimal = format_fixed(i * 0.396875, 6) + " mm";
    const auto inches = parse_length(fraction, std::nullopt), metric = parse_length(decimal, std::nullopt);
    ASSERT_TRUE(inches.ok() && metric.ok()) << fraction << ", " << decimal;
    EXPECT_NEAR(*inches, *metric, 1e-13) << fraction;
  }
}

}  // namespace
}  // namespace pommel::properties
