// Changing a design's outline as text, element by element: each stays in its maker's own lines, with comments and layout.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "base/result.h"

namespace pommel::family {

/// The list of a file in which the outline of a piece stands: "outline", or "outline of the finial" where that piece has its own. Empty where the text has
/// neither: the outline is the family's.
std::string outline_key(std::string_view text, const std::string& file, const std::string& piece);

/// The text with an element, `bead: {length: 8 mm}`, before the one at `index` (or at the end). `key`: from outline_key(). All fail with yaml's reasons.
Result<std::string> with_element(std::string_view text, const std::string& file, const std::string& key, std::size_t index, std::string_view written);
Result<std::string> without_element(std::string_view text, const std::string& file, const std::string& key, std::size_t index);
/// The element and the one below it change places.
Result<std::string> with_elements_swapped(std::string_view text, const std::string& file, const std::string& key, std::size_t index);
/// A size of the element ("length", "start", "name" ...) written as given; empty: taken out. Fails with "family.element-size" where the element does not stand
/// in one line as `- bead: {...}`.
Result<std::string> with_size(std::string_view text, const std::string& file, const std::string& key, std::size_t index, const std::string& size, const std::string& value);

}  // namespace pommel::family
