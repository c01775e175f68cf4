// The sheet against the naive evaluator under ten thousand random edits: plain entries, formulas of many kinds, wrong
// kinds, nonsense, cycles made and unmade, entries of columns set and cleared, outcomes given and taken away. After
// each edit every cell, limit and check must agree to the bit, nothing outside the list of changes may have changed,
// and the sheet must be in order.
#include <algorithm>

#include "sheet/twins.h"

namespace pommel::sheet {
namespace {

constexpr int kColumns = 3;
constexpr unsigned kSheets = 10;
constexpr int kEdits = 1000;

/// One sheet and its naive twin, with the edits.
class Edited {
 public:
  explicit Edited(unsigned seed);
  void edit();
  void compare(const std::string& where);

  Met met;

 private:
  struct Snapshot {
    CellState state;
    std::optional<Value> value;
    bool operator==(const Snapshot&) const = default;
  };
  void add_row(const std::string& name, const Kind& kind);
  std::vector<Snapshot> snapshot() const;

  std::mt19937 random_;
  std::vector<std::pair<std::string, Kind>> names_;
  Twins twins_{kColumns};
  FormulaWriter writer_;
  Changes changes_;
  std::vector<Snapshot> before_;
};

Edited::Edited(unsigned seed) : random_(seed), writer_(random_, names_) {
  const std::vector<Kind> kinds = {Kind::length(), Kind::length(), Kind::length(),
                                   Kind::length(), Kind::angle(),  Kind::count(),
                                   Kind::ratio(),  Kind::area(),   Kind::money(),
                                   Kind::time(),   Kind::yes_no(), Kind::per(Kind::money(), Kind::time())};
  for (std::size_t i = 0; i < kinds.size(); ++i) names_.emplace_back("p" + std::to_string(i), kinds[i]);
  twins_.add_list("sizes", {{"10 mm", 10}, {"1 in", 25.4}, {"60 mm", 60}, {"90 cm", 900}});
  twins_.add_choice("finish", "oil", {"oil", "wax", "lacquer"});
  names_.emplace_back("finish", Kind::choice());
  for (const auto& [name, kind] : std::vector(names_.begin(), names_.end() - 1)) add_row(name, kind);
  twins_.add_outcome("price", Kind::money());
  twins_.add_outcome("blank", Kind::length());
  for (const std::string text :
       {"price < 100 EUR and p0 > p1", "blank - p2 >= 3 mm", "p0 + p1 < 1 m or finish == \"wax\"", "blank > 3"})
    twins_.add_check(text);
  twins_.sheet.settle();
}

void Edited::add_row(const std::string& name, const Kind& kind) {
  const std::string text = writer_.plain(kind);
  const bool stated = writer_.roll(4) != 0;
  if (kind != Kind::length()) return twins_.add_row(name, kind, stated, text);
  twins_.add_row(name, kind, stated, text, writer_.roll(2) == 0 ? "-2 m" : "= " + writer_.formula(kind, 1), "10 m");
}

std::vector<Edited::Snapshot> Edited::snapshot() const {
  std::vector<Snapshot> all;
  for (int column = 0; column < kColumns; ++column)
    for (const std::string& name : twins_.table().order) {
      const auto cell = twins_.sheet.cell(name, static_cast<std::size_t>(column));
      all.push_back({cell->state, cell->value});
    }
  return all;
}

void Edited::edit() {
  before_ = snapshot();
  const int column = writer_.roll(kColumns), dice = writer_.roll(100);
  const auto& [name, kind] = names_[static_cast<std::size_t>(writer_.roll(static_cast<int>(names_.size())))];
  if (dice < 70) {
    changes_ = twins_.set(name, column, writer_.entry(kind));
  } else if (dice < 85) {
    // enough rows hold a plain value again that the sheet does not drown in its problems
    changes_ = twins_.set(name, column, writer_.plain(kind));
  } else if (dice < 93) {
    changes_ = twins_.clear(name, column);
  } else if (dice < 98) {
    const double price = writer_.roll(200), blank = writer_.roll(1000);
    changes_ = twins_.set_outcomes(column, {{"price", Value::money(price)}, {"blank", Value::length(blank)}});
  } else {
    changes_ = twins_.clear_outcomes(column);
  }
}

void Edited::compare(const std::string& where) {
  twins_.compare(where, met);
  const auto now = snapshot();
  std::size_t at = 0;
  for (std::size_t column = 0; column < kColumns; ++column)
    for (const std::string& name : twins_.table().order) {
      const bool told =
          std::find(changes_.begin(), changes_.end(), Change{RowType::parameter, name, column}) != changes_.end();
      ASSERT_TRUE(told || now[at] == before_[at]) << where << ": " << name << " changed and was not told";
      ++at;
    }
}

class RandomEdits : public ::testing::TestWithParam<unsigned> {};

TEST_P(RandomEdits, AgreeWithTheNaiveEvaluator) {
  Edited edited(GetParam());
  for (int i = 0; i < kEdits && !HasFatalFailure(); ++i) {
    edited.edit();
    edited.compare("seed " + std::to_string(GetParam()) + ", edit " + std::to_string(i));
  }
  // the edits reach what they are meant to reach
  EXPECT_GT(edited.met.cycles, 100);
  EXPECT_GT(edited.met.values, 5000);
  EXPECT_GT(edited.met.waiting, 100);
  RecordProperty("circular_cells", edited.met.cycles);
  RecordProperty("cells_with_values", edited.met.values);
  RecordProperty("checks_waiting", edited.met.waiting);
}

INSTANTIATE_TEST_SUITE_P(TenSheets, RandomEdits, ::testing::Range(1u, kSheets + 1u));

}  // namespace
}  // namespace pommel::sheet
