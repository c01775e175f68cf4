// The sheet against the naive evaluator under ten thousand random edits: plain entries, formulas of many kinds, wrong
// kinds, nonsense, cycles made and unmade, entries of columns set and cleared, outcomes given and taken away. After
// each edit every cell, limit and check must agree to the bit, nothing outside the list of changes may have changed,
// and the sheet must be in order.
#include <algorithm>
#include <bit>
#include <random>

#include "sheet/naive.h"
#include "sheet/support.h"

namespace pommel::sheet {
namespace {

constexpr int kColumns = 3;
constexpr unsigned kSheets = 10;
constexpr int kEdits = 1000;

naive::Kind plain_kind(const Kind& kind) {
  const Dimension& d = kind.dimension;
  const auto form = kind.form == Form::number   ? naive::Form::number
                    : kind.form == Form::yes_no ? naive::Form::yes_no
                                                : naive::Form::word;
  return {form, {d.length, d.angle, d.money, d.time}, kind.whole};
}

/// Writes entries of given kinds from the names of one table.
class Writer {
 public:
  Writer(std::mt19937& random, const std::vector<std::pair<std::string, Kind>>& names)
      : random_(random), names_(names) {}

  std::string entry(const Kind& kind) {
    const int dice = roll(100);
    if (dice < 4) return nonsense();
    if (dice < 10) return "= " + formula(any_kind(), 2);
    if (dice < 40) return plain(kind);
    return "= " + formula(kind, 3);
  }
  std::string plain(const Kind& kind);
  std::string formula(const Kind& kind, int depth);

  int roll(int sides) { return static_cast<int>(random_() % static_cast<unsigned>(sides)); }
  Kind any_kind() {
    return pick<Kind>({Kind::length(), Kind::angle(), Kind::count(), Kind::ratio(), Kind::area(), Kind::money(),
                       Kind::time(), Kind::yes_no()});
  }

 private:
  template <class T>
  T pick(const std::vector<T>& of) {
    return of[static_cast<std::size_t>(roll(static_cast<int>(of.size())))];
  }
  std::string nonsense() {
    return pick<std::string>({"= (", "= 3 mm +", "= nothing_here + 1 mm", "oak", "= 1/0 * 1 mm", "= 3 mm 4",
                              "= price * 1", "= sizes", "3 mm 4 mm", "= yes ? 1 : 2 mm"});
  }
  std::string name_of(const Kind& kind, const std::string& otherwise);
  std::string literal(const Kind& kind);
  std::string number(const Kind& kind, int depth);
  std::string condition(int depth);
  std::string length(int depth);

  std::mt19937& random_;
  const std::vector<std::pair<std::string, Kind>>& names_;
};

std::string Writer::plain(const Kind& kind) {
  if (kind.form == Form::yes_no) return pick<std::string>({"yes", "no"});
  if (kind.form == Form::choice) return pick<std::string>({"oil", "wax", "lacquer", "oli"});
  if (kind == Kind::length())
    return pick<std::string>(
        {"717.5 mm", "28 1/4 in", "28-1/4\"", "2' 4 1/4\"", "3/4 in", "12 cm", "-5 mm", "0 mm", "0"});
  return literal(kind);
}

std::string Writer::literal(const Kind& kind) {
  if (kind == Kind::length())
    return pick<std::string>({"40 mm", "3/4 in", "2 1/2 in", "1 7/16\"", "2' 3 1/2\"", "0.35 m", "9.5 mm"});
  if (kind == Kind::angle()) return pick<std::string>({"30 deg", "0.4 rad", "12.5 deg"});
  if (kind == Kind::count()) return pick<std::string>({"4", "7", "1", "0"});
  if (kind == Kind::area()) return pick<std::string>({"1.25 m2", "0.4 m2"});
  if (kind == Kind::money()) return pick<std::string>({"12.5 EUR", "85 EUR"});
  if (kind == Kind::time()) return pick<std::string>({"45 min", "1.5 h"});
  if (kind == Kind::per(Kind::money(), Kind::time())) return pick<std::string>({"85 EUR per h", "1.5 EUR per min"});
  return pick<std::string>({"0.48", "15 %", "2", "3.25"});
}

std::string Writer::name_of(const Kind& kind, const std::string& otherwise) {
  std::vector<std::string> fitting;
  for (const auto& [name, of] : names_)
    if (of.form == kind.form && of.dimension == kind.dimension) fitting.push_back(name);
  return fitting.empty() ? otherwise : pick(fitting);
}

std::string Writer::condition(int depth) {
  const std::string one = name_of(Kind::yes_no(), "yes");
  if (depth <= 0) return one;
  switch (roll(6)) {
    case 0:
      return "(" + condition(depth - 1) + " and " + condition(depth - 1) + ")";
    case 1:
      return "(" + condition(depth - 1) + " or " + condition(depth - 1) + ")";
    case 2:
      return "not " + one;
    case 3:
      return std::string("finish ") + pick<std::string>({"==", "!="}) + pick<std::string>({" \"oil\"", " \"wax\""});
    default:
      break;
  }
  const Kind kind = pick<Kind>({Kind::length(), Kind::money(), Kind::ratio()});
  return "(" + number(kind, depth - 1) + pick<std::string>({" < ", " <= ", " > ", " >= ", " == ", " != "}) +
         number(kind, depth - 1) + ")";
}

std::string Writer::length(int depth) {
  const auto more = [&] { return number(Kind::length(), depth - 1); };
  switch (roll(7)) {
    case 0:
      return "round_up(" + more() + ", 1/16 in)";
    case 1:
      return "round_to(" + more() + ", " + number(Kind::length(), 0) + ")";
    case 2:
      return "next_size(" + more() + ", sizes)";
    case 3:
      return "sqrt(" + number(Kind::area(), depth - 1) + ")";
    case 4:
      return "sin(" + number(Kind::angle(), depth - 1) + ") * " + more();
    case 5:
      return "(" + number(Kind::area(), depth - 1) + ") / (" + more() + ")";
    default:
      return "next_size(" + more() + ", 10 mm, " + more() + ", 5 m)";
  }
}

std::string Writer::number(const Kind& kind, int depth) {
  if (depth <= 0) return roll(3) == 0 ? literal(kind) : name_of(kind, literal(kind));
  const auto more = [&] { return number(kind, depth - 1); };
  switch (roll(11)) {
    case 0:
      return more() + " + " + more();
    case 1:
      return more() + " - " + more();
    case 2:
      return "(" + more() + " - " + more() + ") * " + number(Kind::ratio(), 0);
    case 3:
      return "min(" + more() + ", " + more() + ", " + more() + ")";
    case 4:
      return "max(0, " + more() + ")";
    case 5:
      return "(" + condition(depth - 1) + " ? " + more() + " : " + more() + ")";
    case 6:
      return "choose(finish, \"oil\", " + more() + ", \"wax\", " + more() +
             pick<std::string>({", \"lacquer\", ", ", "}) + more() + ")";
    case 7:
      return "-abs(" + more() + ")";
    case 8:
      return "(" + more() + ") / " + number(Kind::count(), 0);
    default:
      break;
  }
  if (kind == Kind::length()) return length(depth);
  if (kind == Kind::area())
    return roll(2) == 0 ? "(" + number(Kind::length(), depth - 1) + ")^2"
                        : number(Kind::length(), 0) + " * " + number(Kind::length(), 0);
  if (kind == Kind::angle())
    return "atan2(" + number(Kind::length(), depth - 1) + ", " + number(Kind::length(), 0) + ")";
  if (kind == Kind::money())
    return name_of(Kind::per(Kind::money(), Kind::time()), "85 EUR per h") + " * " + number(Kind::time(), depth - 1);
  if (kind == Kind::count())
    return pick<std::string>({"floor(", "ceil(", "round("}) + number(Kind::length(), depth - 1) + " / (" +
           number(Kind::length(), 0) + "))";
  return more();
}

std::string Writer::formula(const Kind& kind, int depth) {
  if (kind.form == Form::yes_no) return condition(depth);
  if (kind.form == Form::choice)
    return condition(depth) +
           pick<std::string>({" ? \"oil\" : \"wax\"", " ? \"wax\" : \"lacquer\"", " ? finish : \"oil\""});
  return number(kind, depth);
}

/// One sheet and its naive twin.
class Pair {
 public:
  explicit Pair(unsigned seed) : random_(seed), sheet_("family"), writer_(random_, names_) {
    for (int i = 1; i < kColumns; ++i) sheet_.add_column("variant " + std::to_string(i));
    table_.columns = kColumns;
    const std::vector<Kind> kinds = {Kind::length(), Kind::length(), Kind::length(),
                                     Kind::length(), Kind::angle(),  Kind::count(),
                                     Kind::ratio(),  Kind::area(),   Kind::money(),
                                     Kind::time(),   Kind::yes_no(), Kind::per(Kind::money(), Kind::time())};
    for (std::size_t i = 0; i < kinds.size(); ++i) names_.emplace_back("p" + std::to_string(i), kinds[i]);
    add_list();
    add_choice();
    for (const auto& [name, kind] : std::vector(names_.begin(), names_.end() - 1)) add_row(name, kind);
    add_outcomes_and_checks();
    sheet_.settle();
  }

  void edit();
  void compare(const std::string& where);
  int cycles_seen = 0, values_seen = 0, missing_seen = 0;

 private:
  struct Snapshot {
    CellState state;
    std::optional<Value> value;
    bool operator==(const Snapshot&) const = default;
  };

  void add_list() {
    table_.lists["sizes"] = {10, 25.4, 60, 900};
    sheet_.add(SizeList{"sizes", {entry("10 mm"), entry("1 in"), entry("60 mm"), entry("90 cm")}, "", {}});
  }
  void add_choice() {
    names_.emplace_back("finish", Kind::choice());
    sheet_.add(choice("finish", "oil", {"oil", "wax", "lacquer"}));
    naive::Row row;
    row.stated = naive::Kind{naive::Form::word, {}, false};
    row.choices = {"oil", "wax", "lacquer"};
    row.entries[0] = "oil";
    table_.order.push_back("finish");
    table_.rows["finish"] = row;
  }
  void add_row(const std::string& name, const Kind& kind) {
    Parameter made = row(name, writer_.plain(kind));
    naive::Row twin;
    if (writer_.roll(4) != 0) {
      made.kind = kind;
      twin.stated = plain_kind(kind);
    }
    twin.entries[0] = made.entry->text;
    if (kind == Kind::length()) {
      made.least = entry(writer_.roll(2) == 0 ? "-2 m" : "= " + writer_.formula(kind, 1));
      made.most = entry("10 m");
      twin.least = made.least->text;
      twin.most = made.most->text;
    }
    table_.order.push_back(name);
    table_.rows[name] = twin;
    sheet_.add(std::move(made));
  }
  void add_outcomes_and_checks() {
    sheet_.add(Outcome{"price", Kind::money(), "quote", ""});
    sheet_.add(Outcome{"blank", Kind::length(), "stock", ""});
    table_.outcomes["price"].kind = plain_kind(Kind::money());
    table_.outcomes["blank"].kind = plain_kind(Kind::length());
    for (const std::string text :
         {"price < 100 EUR and p0 > p1", "blank - p2 >= 3 mm", "p0 + p1 < 1 m or finish == \"wax\"", "blank > 3"}) {
      table_.checks[text] = text;
      sheet_.add(Check{text, entry(text), "not so", false});
    }
  }

  std::vector<Snapshot> snapshot() const;
  void set(const std::string& name, int column, const std::string& text);

  std::mt19937 random_;
  std::vector<std::pair<std::string, Kind>> names_;
  naive::Table table_;
  Sheet sheet_;
  Writer writer_;
  Changes changes_;
  std::vector<Snapshot> before_;
};

std::vector<Pair::Snapshot> Pair::snapshot() const {
  std::vector<Snapshot> all;
  for (int column = 0; column < kColumns; ++column)
    for (const std::string& name : table_.order) {
      const auto cell = sheet_.cell(name, static_cast<std::size_t>(column));
      all.push_back({cell->state, cell->value});
    }
  return all;
}

void Pair::set(const std::string& name, int column, const std::string& text) {
  table_.rows[name].entries[column] = text;
  const auto changed = sheet_.set_entry(name, static_cast<std::size_t>(column), entry(text));
  ASSERT_TRUE(changed.ok());
  changes_ = *changed;
}

void Pair::edit() {
  before_ = snapshot();
  const int column = writer_.roll(kColumns), dice = writer_.roll(100);
  const auto& [name, kind] = names_[static_cast<std::size_t>(writer_.roll(static_cast<int>(names_.size())))];
  if (dice < 70) {
    set(name, column, writer_.entry(kind));
  } else if (dice < 85) {
    // enough rows hold a plain value again that the sheet does not drown in its problems
    set(name, column, writer_.plain(kind));
  } else if (dice < 93) {
    const auto changed = sheet_.clear_entry(name, static_cast<std::size_t>(column));
    ASSERT_TRUE(changed.ok());
    table_.rows[name].entries.erase(column);
    changes_ = *changed;
  } else if (dice < 98) {
    const double price = writer_.roll(200), blank = writer_.roll(1000);
    const auto changed = sheet_.set_outcomes(static_cast<std::size_t>(column),
                                             {{"price", Value::money(price)}, {"blank", Value::length(blank)}});
    ASSERT_TRUE(changed.ok());
    table_.outcomes["price"].values[column] = price;
    table_.outcomes["blank"].values[column] = blank;
    changes_ = *changed;
  } else {
    changes_ = sheet_.clear_outcomes(static_cast<std::size_t>(column));
    table_.outcomes["price"].values.erase(column);
    table_.outcomes["blank"].values.erase(column);
  }
}

bool same_bits(double a, double b) {
  return std::bit_cast<std::uint64_t>(a) == std::bit_cast<std::uint64_t>(b);
}

bool agrees(const naive::Answer& answer, const std::optional<Value>& value) {
  if (answer.ok != value.has_value()) return false;
  if (!value) return true;
  if (value->kind().form == Form::choice) return value->words() == answer.word;
  return same_bits(value->kind().form == Form::yes_no ? value->yes() : value->number(), answer.number);
}

void Pair::compare(const std::string& where) {
  naive::Evaluator judge(table_);
  const auto now = snapshot();
  std::size_t at = 0;
  for (int c = 0; c < kColumns; ++c) {
    const auto column = static_cast<std::size_t>(c);
    for (const std::string& name : table_.order) {
      const Cell cell = *sheet_.cell(name, column);
      const auto answer = judge.cell(name, c);
      ASSERT_TRUE(agrees(answer, cell.value))
          << where << ": " << name << " in column " << c << ", naive " << answer.ok << " " << answer.number << "\n"
          << sheet_.dump();
      const auto found = ids(cell.problems);
      const bool circular = std::find(found.begin(), found.end(), "sheet.cycle") != found.end();
      ASSERT_EQ(circular, judge.circular(name, c)) << where << ": " << name << " in column " << c << "\n"
                                                   << sheet_.dump();
      if (table_.rows[name].least) {
        ASSERT_TRUE(agrees(judge.limit(name, false, c), cell.least)) << where << ": least " << name << "\n"
                                                                     << sheet_.dump();
        ASSERT_TRUE(agrees(judge.limit(name, true, c), cell.most)) << where << ": most " << name << "\n"
                                                                   << sheet_.dump();
      }
      const bool told =
          std::find(changes_.begin(), changes_.end(), Change{RowType::parameter, name, column}) != changes_.end();
      ASSERT_TRUE(told || now[at] == before_[at]) << where << ": " << name << " changed and was not told";
      cycles_seen += circular;
      values_seen += answer.ok;
      ++at;
    }
    for (const CheckResult& check : sheet_.checks(column)) {
      const auto answer = judge.check(check.name, c);
      const Verdict wanted = answer.missing       ? Verdict::not_yet_known
                             : !answer.ok         ? Verdict::cannot_be_checked
                             : answer.number != 0 ? Verdict::holds
                                                  : Verdict::fails;
      ASSERT_EQ(check.verdict, wanted) << where << ": " << check.name << "\n" << sheet_.dump();
      missing_seen += answer.missing;
    }
  }
  const auto broken = sheet_.broken_invariant();
  ASSERT_FALSE(broken.has_value()) << where << ": " << *broken << "\n" << sheet_.dump();
}

class RandomEdits : public ::testing::TestWithParam<unsigned> {};

TEST_P(RandomEdits, AgreeWithTheNaiveEvaluator) {
  Pair pair(GetParam());
  for (int i = 0; i < kEdits && !HasFatalFailure(); ++i) {
    pair.edit();
    pair.compare("seed " + std::to_string(GetParam()) + ", edit " + std::to_string(i));
  }
  // the edits reach what they are meant to reach
  EXPECT_GT(pair.cycles_seen, 100);
  EXPECT_GT(pair.values_seen, 5000);
  EXPECT_GT(pair.missing_seen, 100);
  RecordProperty("circular_cells", pair.cycles_seen);
  RecordProperty("cells_with_values", pair.values_seen);
  RecordProperty("checks_waiting", pair.missing_seen);
}

INSTANTIATE_TEST_SUITE_P(TenSheets, RandomEdits, ::testing::Range(1u, kSheets + 1u));

}  // namespace
}  // namespace pommel::sheet
