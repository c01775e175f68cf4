// Adding entries to a map of a maker's file and taking them out, line by line, with everything else left as it is.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "yaml/document.h"

namespace pommel::yaml {

/// The text with `key: value` as the last entry of the map at `map_key` of the document, which must be a map in block style, empty (`{}`,
/// nothing) or not there yet; then it is begun at the text's end. `text` is the whole file. Fails with the reader's reasons, with
/// "yaml.cannot-add" where the map is in flow style or the key is there already. The result has been read again: it differs in this entry alone.
Result<std::string> with_entry(std::string_view text, const std::string& file, std::string_view map_key, std::string_view key, std::string_view value);

/// The text without that entry, its line with its comment taken out. The last entry leaves `{}`. Fails as above with "yaml.cannot-remove":
/// no such entry, flow style, or a value that runs over lines.
Result<std::string> without_entry(std::string_view text, const std::string& file, std::string_view map_key, std::string_view key);

}  // namespace pommel::yaml
