#include "rules/guard.h"

#include <algorithm>
#include <cmath>

#include "base/number.h"
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

int sharing_infill(double spacing) { return std::max(1, static_cast<int>(std::floor(kInfillSide / spacing + 1e-9))); }

std::vector<Diagnostic> infill_notes(const Thin& weakest, double free_length, double stress, int sharing, const shop::Wood& wood, const LengthFormat& shown) {
  const double alone = stress / wood.mor_mpa, shared = alone / sharing;
  const auto percent = [](double share) { return format_fixed(100 * share, 0) + " %"; };
  Diagnostic said;
  // stress goes with the third power of the thickness
  const double thicker = std::cbrt(std::max(alone, shared / kInfillShare));
  said.severity = thicker > 1 ? Severity::warning : Severity::note;
  said.id = "rules.infill";
  said.message = "the load of guards, " + format_number(kInfillLoad, 0) + " N (50 lb on one square foot, International Residential Code 2018, table R301.5), on one baluster " +
                 format_length(free_length, shown) + " free between its ends stresses it most where it is " + described(weakest, shown) + ": " + format_fixed(stress, 1) + " MPa, " +
                 percent(alone) + " of the average bending strength of clear " + wood.label + " (no allowable stress)";
  if (sharing > 1) said.message += "; shared by the " + std::to_string(sharing) + " that a foot spans at least, " + percent(shared);
  said.message += "; handrail, newels and their fixing are not looked at; local code and a licensed person decide";
  if (thicker > 1) said.remedy = "make it " + format_length(std::ceil(10 * weakest.thickness * thicker) / 10, shown) + " thick or more there, or choose a stronger wood";
  return {said};
}

}  // namespace pommel::rules
