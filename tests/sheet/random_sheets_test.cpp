// Ten thousand sheets drawn at random, each against the naive evaluator once: two to fifteen rows of any kind in one to four columns, formulas of every
// function, size lists, choices, limits, outcomes, checks, wrong kinds and nonsense. In half of them rows read only rows above them, so that values
// travel far; in the others anything reads anything, so that most have cycles. Every cell is the same value to the bit, or refused by both.
#include <array>
#include <cstdio>

#include "sheet/twins.h"

namespace pommel::sheet {
namespace {

constexpr unsigned kSheets = 10000, kParts = 4;

/// Which formulas the sheets held, so that a kind that is never written is seen.
constexpr std::array kWords = {"choose(", "min(",  "max(",     "next_size(", "round_up(", "round_down(", "round_to(", "abs(", "sqrt(", "sin(", "cos(",  "tan(",
                               "atan2(",  "floor(", "ceil(",   "round(",     " ? ",       " and ",       " or ",      "not ", "^2",    "1/0",  " per ", "nothing_here"};

class Drawn {
 public:
  explicit Drawn(unsigned seed) : random_(seed), writer_(random_, names_), columns_(1 + writer_.roll(4)), twins_(columns_) { draw(); }
  void compare(const std::string& where, Met& met) const { twins_.compare(where, met); }
  void count(std::array<int, kWords.size()>& words) const {
    for (const auto& [name, row] : twins_.table().rows)
      for (const auto& [column, text] : row.entries)
        for (std::size_t i = 0; i < kWords.size(); ++i) words[i] += text.find(kWords[i]) != std::string::npos;
  }

 private:
  Kind kind() { return writer_.roll(3) == 0 ? Kind::length() : writer_.roll(8) == 0 ? Kind::per(Kind::money(), Kind::time()) : writer_.any_kind(); }
  std::string first_entry(const Kind& of) { return writer_.roll(3) == 0 ? writer_.plain(of) : writer_.entry(of); }
  void draw();
  void draw_lists();
  void draw_row(const std::string& name, const Kind& of);
  void draw_checks();

  std::mt19937 random_;
  std::vector<std::pair<std::string, Kind>> names_;
  FormulaWriter writer_;
  int columns_;
  Twins twins_;
};

void Drawn::draw_lists() {
  const std::vector<std::pair<std::string, double>> all = {{"90 cm", 900}, {"10 mm", 10}, {"1 in", 25.4}, {"60 mm", 60}, {"0.2 m", 200}};
  const auto from = static_cast<std::ptrdiff_t>(writer_.roll(3));
  twins_.add_list("sizes", {all.begin() + from, all.end() - writer_.roll(2)});
  twins_.add_choice("finish", writer_.plain(Kind::choice()), {"oil", "wax", "lacquer"});
}

void Drawn::draw_row(const std::string& name, const Kind& of) {
  const std::string text = first_entry(of);
  const bool limited = of.form == Form::number && writer_.roll(4) == 0;
  std::optional<std::string> least, most;
  if (limited) least = "= " + writer_.formula(of, 1);
  if (limited && writer_.roll(2) == 0) most = writer_.plain(of);
  twins_.add_row(name, of, writer_.roll(4) != 0, text, least, most);
}

void Drawn::draw_checks() {
  twins_.add_outcome("price", Kind::money());
  twins_.add_outcome("blank", Kind::length());
  for (int i = writer_.roll(3); i >= 0; --i) twins_.add_check(writer_.formula(Kind::yes_no(), 3));
  twins_.add_check("price < 100 EUR and " + writer_.formula(Kind::yes_no(), 1));
  twins_.add_check("blank > " + writer_.formula(Kind::length(), 2));
}

void Drawn::draw() {
  draw_lists();
  names_.emplace_back("finish", Kind::choice());
  const bool from_above = writer_.roll(2) == 0;
  std::vector<std::pair<std::string, Kind>> rows;
  for (int i = 0, count = 2 + writer_.roll(14); i < count; ++i) rows.emplace_back("p" + std::to_string(i), kind());
  if (!from_above) names_.insert(names_.end(), rows.begin(), rows.end());
  for (const auto& [name, of] : rows) {
    draw_row(name, of);
    if (from_above) names_.emplace_back(name, of);
  }
  draw_checks();
  for (int column = 1; column < columns_; ++column)
    for (const auto& [name, of] : rows)
      if (writer_.roll(4) == 0) twins_.set(name, column, first_entry(of));
  twins_.sheet.settle();
  for (int column = 0; column < columns_; ++column)
    if (writer_.roll(2) == 0) twins_.set_outcomes(column, {{"price", Value::money(writer_.roll(200))}, {"blank", Value::length(writer_.roll(1000))}});
}

class RandomSheets : public ::testing::TestWithParam<unsigned> {};

TEST_P(RandomSheets, AgreeWithTheNaiveEvaluatorOnValueAndRefusal) {
  Met met;
  std::array<int, kWords.size()> words{};
  const unsigned first = GetParam() * (kSheets / kParts);
  for (unsigned seed = first; seed < first + kSheets / kParts && !HasFailure(); ++seed) {
    const Drawn drawn(seed + 1);
    drawn.compare("sheet " + std::to_string(seed + 1), met);
    drawn.count(words);
  }
  EXPECT_GT(met.values, 20000);
  EXPECT_GT(met.refused, 10000);
  EXPECT_GT(met.cycles, 2000);
  EXPECT_GT(met.limits, 1000);
  EXPECT_GT(met.hold, 1000);
  EXPECT_GT(met.fail, 1000);
  EXPECT_GT(met.waiting, 1000);
  EXPECT_GT(met.cannot, 1000);
  for (std::size_t i = 0; i < kWords.size(); ++i) EXPECT_GT(words[i], 20) << kWords[i];
  std::printf("%u sheets: %d values, %d refused (%d of them in cycles), %d limits; checks: %d hold, %d do not, %d wait, %d cannot be made\n", kSheets / kParts, met.values, met.refused,
              met.cycles, met.limits, met.hold, met.fail, met.waiting, met.cannot);
}

INSTANTIATE_TEST_SUITE_P(TenThousand, RandomSheets, ::testing::Range(0u, kParts));

}  // namespace
}  // namespace pommel::sheet
