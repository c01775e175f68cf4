// The units that a number in an entry may carry, one table for plain entries and formulas.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "sheet/kind.h"
#include "sheet/value.h"

namespace pommel::sheet {

struct Unit {
  double factor = 1;  ///< one of it is factor / divisor internal units (mm, rad, currency units, minutes)
  Dimension dimension;
  double divisor = 1;  ///< multiplied before divided, 90 deg is pi/2 to the bit

  double times(double amount) const { return amount * factor / divisor; }
};

/// `mm`, `in`, `"`, `deg`, `m2`, `bdft`, `h`, `%`, the sheet's currency ...; nothing for other words.
std::optional<Unit> find_unit(std::string_view word, const Settings& settings);

/// The known unit nearest to a slip of the pen, or empty.
std::string nearest_unit(std::string_view word, const Settings& settings);

/// What a maker might put after a number of this dimension: `mm`, `deg`, `EUR per h`; empty for plain numbers.
std::string sample_unit(const Dimension& dimension, const Settings& settings);

/// The units whose factors are 1: `mm`, `rad`, `EUR per min`. Empty for plain numbers; nothing where it needs a product
/// (length^4), which no plain entry can carry.
std::optional<std::string> internal_unit(const Dimension& dimension, const Settings& settings);

}  // namespace pommel::sheet
