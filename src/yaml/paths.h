// Entries at any depth of a maker's file, by their keys from the top: stated where there was none and taken out again, with everything else left as it is.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace pommel::yaml {

/// The text with `value` as the scalar at `path`, which the document does not have: in a map over several lines as a line below the last of its entries that stand
/// in one, in braces as their last or first entry. Maps on the way that are not there are begun in braces. Fails with the reader's reasons and "yaml.cannot-add":
/// it is there, the way leads through a list or a scalar, or there is no such line. The result has been read again: it differs in this entry alone.
/// REQUIRES: `path` is not empty.
Result<std::string> with_path(std::string_view text, const std::string& file, const std::vector<std::string>& path, std::string_view value);

/// The text without the scalar at `path`: its line with its comment, or its place in the braces; braces that are left empty go with their entry. Fails as above with
/// "yaml.cannot-remove": no such scalar, the last of a map over lines, or one that runs over lines.
Result<std::string> without_path(std::string_view text, const std::string& file, const std::vector<std::string>& path);

/// The text with `items` as the list of scalars at `path`: items that stay keep their lines with their comments, others are changed in place, added or taken out.
/// A list that is not there is begun in brackets as with_path begins an entry; no items: its entry goes, with the comments in it. Fails with the reader's reasons and
/// "yaml.cannot-list": the way leads through a list or a scalar, what is there is no list of scalars, or its lines are not an item each. The result has been read
/// again: it differs in this list alone. REQUIRES: `path` is not empty.
Result<std::string> with_list(std::string_view text, const std::string& file, const std::vector<std::string>& path, const std::vector<std::string>& items);

}  // namespace pommel::yaml
