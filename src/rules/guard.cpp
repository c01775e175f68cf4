#include "rules/guard.h"

#include <algorithm>
#include <cmath>

#include "base/quantity.h"
#include "rules/section.h"

namespace pommel::rules {

const std::vector<GuardRule>& guard_rules() {
  static const std::vector<GuardRule> rules = {
      {"IRC 2018", "International Residential Code 2018, R312.1", 4.375 * kInch, 4 * kInch, 34 * kInch},
      {"AD K 2013", "Approved Document K (England), 2013", 100, 100, 900},
  };
  return rules;
}

const GuardRule* guard_rule(std::string_view id) {
  const auto& rules = guard_rules();
  const auto found = std::find_if(rules.begin(), rules.end(), [&](const GuardRule& one) { return one.id == id; });
  return found == rules.end() ? nullptr : &*found;
}

double clear_opening(double spacing, double diameter) { return spacing - diameter; }

int balusters_for(double run, double diameter, double limit) {
  if (run <= limit) return 0;
  // a hair under a whole number is that number: 1000 mm, 45 mm and 101.6 mm must not gain a baluster by rounding
  return static_cast<int>(std::ceil((run - limit) / (limit + diameter) - 1e-9));
}

double opening_of(double run, int balusters, double diameter) { return (run - balusters * diameter) / (balusters + 1); }

double infill_stress(double force, double free_length, double diameter) {
  return bending_stress(moment_at_middle(force, free_length), section_modulus(Section::round, diameter));
}

}  // namespace pommel::rules
