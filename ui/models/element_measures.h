// Which measures stand behind an element of the outline.
#pragma once

#include <string>
#include <vector>

#include "job/load.h"
#include "sheet/sheet.h"

namespace pommel::ui {

/// Names of the sheet's measures that the element's formulas are made of, by first appearance: a word that means a measure of the piece comes as
/// that measure. `piece`: as the family names it. Empty where its sizes are fixed, or there is no such element.
std::vector<std::string> measures_of_element(const job::Loaded& loaded, const std::string& piece, std::size_t element, const sheet::Sheet& sheet);

}  // namespace pommel::ui
