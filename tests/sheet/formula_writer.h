// Entries and formulas drawn at random: of a wished kind, of a wrong one now and then, and plain nonsense. They read the names of one table, lists
// among them as `sizes` and a choice as `finish`, whatever order its rows stand in, so that cycles come about by themselves.
#pragma once

#include <random>
#include <string>
#include <utility>
#include <vector>

#include "sheet/kind.h"

namespace pommel::sheet {

/// Writes entries of given kinds from the names of one table.
class FormulaWriter {
 public:
  FormulaWriter(std::mt19937& random, const std::vector<std::pair<std::string, Kind>>& names)
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
  std::string nonsense();
  std::string name_of(const Kind& kind, const std::string& otherwise);
  std::string literal(const Kind& kind);
  std::string number(const Kind& kind, int depth);
  std::string condition(int depth);
  std::string length(int depth);

  std::mt19937& random_;
  const std::vector<std::pair<std::string, Kind>>& names_;
};

}  // namespace pommel::sheet
