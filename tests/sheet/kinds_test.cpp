// The two routes by which a formula's kind is checked, judging each other: working it out from the parts, and computing
// the formula again with length, angle, money and time scaled by independent factors.
#include <random>
#include <set>

#include "sheet/analysis.h"
#include "sheet/scale.h"
#include "sheet/support.h"

namespace pommel::sheet {
namespace {

const std::vector<std::pair<std::string, Kind>>& rows() {
  static const std::vector<std::pair<std::string, Kind>> all = {
      {"h", Kind::length()},     {"w", Kind::length()},
      {"tilt", Kind::angle()},   {"legs", Kind::count()},
      {"share", Kind::ratio()},  {"top", Kind::area()},
      {"cost", Kind::money()},   {"wage", Kind::per(Kind::money(), Kind::time())},
      {"hours", Kind::time()},   {"turned", Kind::yes_no()},
      {"finish", Kind::choice()}};
  return all;
}

class TestScope : public Scope {
 public:
  Meaning meaning(std::string_view name) const override {
    if (name == "bits") return {Meaning::What::list, 0, Kind::length(), nullptr};
    for (std::size_t i = 0; i < rows().size(); ++i)
      if (rows()[i].first == name)
        return {Meaning::What::parameter, i, rows()[i].second, name == "finish" ? &finishes_ : nullptr};
    return {};
  }
  std::string nearest(std::string_view) const override { return {}; }
  const std::vector<double>& sizes(std::size_t) const override { return sizes_; }
  const std::string& stage_of(std::size_t) const override { return none_; }

 private:
  std::vector<std::string> finishes_{"oil", "wax"};
  std::vector<double> sizes_{6, 8};
  std::string none_;
};

struct Routes {
  Analysis worked_out;
  Scaling scaled = Scaling::no_verdict;
};

Routes both_routes(const std::string& text, const std::optional<Kind>& wanted, const Kind& scaled_as) {
  const TestScope scope;
  const Settings settings;
  const auto parsed = parse_formula(text, 0, settings);
  const auto* formula = std::get_if<Formula>(&parsed);
  EXPECT_NE(formula, nullptr) << text;
  if (!formula) return {};
  Wanted who;
  who.kind = wanted;
  Routes routes;
  routes.worked_out = analyse(*formula, text, scope, who, settings);
  routes.scaled = scales_like(*formula, routes.worked_out.meanings, scope, scaled_as);
  return routes;
}

/// The two that started it: a branch, or an argument, that today's values hide.
TEST(Kinds, BothRoutesRefuseWhatTodaysValuesHide) {
  for (const std::string text :
       {"h + 3", "max(h, 3)", "h > 900 mm ? 40 mm : 40", "h > 900 ? 40 mm : 50 mm",
        "choose(finish, \"oil\", 3 mm, \"wax\", 3)", "round_up(h, 5)", "next_size(h, 900 mm, 1000)",
        "turned and h > 3 ? 1 mm : 2 mm", "sin(h / w) * h", "min(h, w, top)", "next_size(top, bits) / h",
        "floor(h) * 1 mm", "h * 2^w", "atan2(h, 3) / 1 rad * h", "not (h == 3) ? h : w"}) {
    const Routes routes = both_routes(text, Kind::length(), Kind::length());
    EXPECT_FALSE(routes.worked_out.faults.empty()) << text;
    EXPECT_EQ(routes.scaled, Scaling::disagrees) << text;
  }
  for (const std::string text :
       {"h + 3 mm", "max(h, 3 mm)", "max(0, h)", "h > 900 mm ? 40 mm : 40 mm", "h > 0 ? h : 0",
        "choose(finish, \"oil\", 3 mm, \"wax\", w)", "round_up(h, 5 mm)", "next_size(h, bits)", "sin(tilt) * h",
        "sqrt(top)", "floor(h / w) * w", "cost / wage / hours * h", "h * tilt / 1 rad", "(h - h) + 3 mm", "-abs(-h)"}) {
    const Routes routes = both_routes(text, Kind::length(), Kind::length());
    EXPECT_TRUE(routes.worked_out.faults.empty()) << text;
    EXPECT_EQ(routes.scaled, Scaling::agrees) << text;
  }
}

/// Random formulas, two in three of them with some part of a wrong kind.
class Writer {
 public:
  explicit Writer(unsigned seed) : random_(seed) {}

  std::string number(const Kind& kind, int depth) {
    const Kind used = roll(25) == 0 ? any() : kind;
    if (depth <= 0) return leaf(used);
    const auto more = [&] { return number(used, depth - 1); };
    switch (roll(12)) {
      case 0:
        return "(" + more() + " + " + more() + ")";
      case 1: {
        // a thing less itself is nothing, and nothing scales like everything: there the second route is blind
        const std::string left = more(), right = more();
        return "(" + left + (left == right ? " + " : " - ") + right + ")";
      }
      case 2:
        return "min(" + more() + ", " + more() + ")";
      case 3:
        return "max(" + more() + ", " + more() + ", " + more() + ")";
      case 4:
        return "(" + condition(depth - 1) + " ? " + more() + " : " + more() + ")";
      case 5:
        return "choose(finish, \"oil\", " + more() + ", " + more() + ")";
      case 6:
        return "round_to(" + more() + ", " + leaf(used) + ")";
      case 7:
        return more() + " * " + number(Kind::ratio(), depth - 1);
      case 8:
        return more() + " / (" + number(Kind::count(), depth - 1) + ")";
      case 9:
        return more() + " * sin(" + number(Kind::angle(), depth - 1) + ")";
      case 10:
        return "next_size(" + more() + ", " + leaf(used) + ", " + more() + ")";
      default:
        return "abs(" + more() + ")";
    }
  }
  Kind any() { return rows()[static_cast<std::size_t>(roll(9))].second; }

 private:
  int roll(int sides) { return static_cast<int>(random_() % static_cast<unsigned>(sides)); }
  std::string condition(int depth) {
    const Kind kind = any();
    return "(" + number(kind, depth) + (roll(2) == 0 ? " < " : " == ") + number(kind, depth) + ")";
  }
  /// A name or an amount with its unit, neither twice, so that nothing cancels by accident: with h - (h - 1) the route that scales would see a number grow as none.
  std::string leaf(const Kind& kind) {
    if (roll(2) == 0)
      for (std::size_t i = static_cast<std::size_t>(roll(2)); i < rows().size(); ++i)
        if (rows()[i].second.dimension == kind.dimension && rows()[i].second.form == Form::number && named_.insert(i).second)
          return rows()[i].first;
    Settings settings;
    return exact_entry(Value::number(1 + ++amount_ / 64.0, {Form::number, kind.dimension, false}), settings);
  }

  std::mt19937 random_;
  std::set<std::size_t> named_;
  int amount_ = 0;
};

TEST(Kinds, TheRoutesAgreeOnRandomFormulas) {
  int right = 0, wrong = 0, unclear = 0;
  for (unsigned seed = 1; seed <= 4000; ++seed) {
    Writer writer(seed);
    const Kind kind = writer.any();
    const std::string text = writer.number(kind, 3);
    const Routes routes = both_routes(text, kind, kind);
    if (routes.scaled == Scaling::no_verdict) {
      ++unclear;
      continue;
    }
    const bool good = routes.worked_out.faults.empty();
    ASSERT_EQ(good, routes.scaled == Scaling::agrees) << text << "\n"
                                                      << (good ? "" : routes.worked_out.faults[0].message);
    ++(good ? right : wrong);
    if (!good) continue;
    // and it scales as nothing else
    const Kind other = Kind::per(kind, writer.any());
    if (other.dimension == kind.dimension) continue;
    ASSERT_EQ(both_routes(text, kind, other).scaled, Scaling::disagrees) << text;
  }
  EXPECT_GT(right, 1000);
  EXPECT_GT(wrong, 1000);
  EXPECT_LT(unclear, 40);
}

}  // namespace
}  // namespace pommel::sheet
