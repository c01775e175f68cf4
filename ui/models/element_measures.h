// Which measures stand behind an element of the outline, and which one makes it thicker.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "job/load.h"
#include "sheet/sheet.h"

namespace pommel::ui {

/// Names of the sheet's measures that the element's formulas are made of, by first appearance: a word that means a measure of the piece comes as
/// that measure. `piece`: as the family names it. Empty where its sizes are fixed, or there is no such element.
std::vector<std::string> measures_of_element(const job::Loaded& loaded, const std::string& piece, std::size_t element, const sheet::Sheet& sheet);

struct NewEntry {
  std::string measure, entry;
  std::string formula;  ///< of the size that the measure stands behind
};

/// The measure, and its entry in `column`, with which the element is `diameter` mm across at the fraction `along` of its length: of its greatest, least,
/// start, end or station, whichever is nearest. The entry is rounded to 0.5 mm or 1/32 in. Fails with
///   "ui.fixed-size"    the size is not made of a measure, or none of its measures moves it;
///   "ui.out-of-reach"  the limits of the measure do not allow it.
Result<NewEntry> entry_for_diameter(const job::Loaded& loaded, const std::string& piece, std::size_t element, double along, double diameter,
                                    const sheet::Sheet& sheet, std::size_t column, const LengthFormat& lengths);

/// The same with which the element is `length` mm long. Fails with "ui.shared-length" where it takes a share of what is left, and as above.
Result<NewEntry> entry_for_length(const job::Loaded& loaded, const std::string& piece, std::size_t element, double length, const sheet::Sheet& sheet,
                                  std::size_t column, const LengthFormat& lengths);

/// The formula that holds a measure in a column which has no entry of its own there: "= square * 0.9"; nothing where no formula does.
std::optional<std::string> holding_formula(const sheet::Sheet& sheet, const std::string& measure, std::size_t column);

}  // namespace pommel::ui
